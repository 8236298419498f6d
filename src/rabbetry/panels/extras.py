"""What some cabinets have besides the plain box: cut-outs, screw holes between stacked boxes, loose parts. Millimetres.

Stacked boxes are screwed from above: through holes in the upper box's bottom, pilot holes at the same places in the
upper face of the lower box's top. Nothing of it shows from the front when the doors are shut.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.curves import circle, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.choices import CutOutOrder
from rabbetry.job.model import Grain
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Place, Vec3
from rabbetry.panels.shapes import Rect, even_row, notched_rectangle

BOX_SCREW = "box screw"
BOX_PILOT = "box pilot"

_SCREW_HOLE_MM = 5.0
"""A screw of 4 to 4.5 mm turns freely in it and draws the boxes together (common practice, no source)."""

_LEFT_BELOW_MM = 4.0
"""Wood left under a pilot hole in a top (common practice, no source)."""

_FROM_EDGE_MM = 60.0
"""Screw holes behind the front edge and before the back (common practice, no source)."""

_SPACING_MM = 400.0
"""Largest distance of two screws of a row (common practice, no source)."""


def with_holes(cabinet: Cabinet, panels: Iterable[Panel]) -> Iterator[Panel]:
    """Yield the carcass panels with the cabinet's cut-outs and the screw holes between its boxes."""
    for panel in panels:
        more = (*_cut_outs(cabinet, panel), *_screw_holes(cabinet, panel))
        yield replace(panel, features=(*panel.features, *more)) if more else panel


def loose_panels(cabinet: Cabinet) -> Iterator[Panel]:
    """Yield the parts fitted on site: rectangles that have no place in the box."""
    for part in cabinet.loose:
        yield Panel(
            id=f"{cabinet.name} {part.role}",
            cabinet=cabinet.name,
            role=part.role,
            stock=part.stock.name,
            thickness_mm=part.stock.thickness_mm,
            length_mm=part.length_mm,
            width_mm=part.width_mm,
            outline=notched_rectangle(Rect(0.0, 0.0, part.length_mm, part.width_mm)),
            features=(),
            grain=Grain.ALONG,
            place=None,
            face_up="either",
            note=part.note,
        )


def screw_places(cabinet: Cabinet) -> tuple[tuple[float, float], ...]:
    """Return where stacked boxes are screwed together: x and y of the cabinet frame, two rows from side to side."""
    thickness = cabinet.stocks.carcass.thickness_mm
    inside = cabinet.stocks.side.thickness_mm, cabinet.width_mm - cabinet.stocks.side.thickness_mm
    across = even_row(*inside, _FROM_EDGE_MM, _SPACING_MM)
    back = cabinet.inside_depth_mm - min(_FROM_EDGE_MM, cabinet.inside_depth_mm / 4)
    return tuple(
        (x, y)
        for y in (min(_FROM_EDGE_MM, cabinet.inside_depth_mm / 4), back)
        for x in across
        if all(not left - thickness < x < left + 2 * thickness for left in cabinet.divider_x_mm)
    )


def _screw_holes(cabinet: Cabinet, panel: Panel) -> Iterator[Feature]:
    is_above, is_below = cabinet.joined_above and panel.role == "top", cabinet.joined_below and panel.role == "bottom"
    if panel.place is None or not (is_above or is_below):
        return
    # A top machined on its under side, for a divider's dado, is bored through: the holes serve from above all the same.
    is_through = is_below or panel.place.normal[2] < 0
    for number, (x, y) in enumerate(screw_places(cabinet), start=1):
        yield Bore(
            name=f"{BOX_SCREW if is_below else BOX_PILOT} {number}",
            purpose=BOX_SCREW if is_below else BOX_PILOT,
            centre=_in_panel(panel.place, (x, y, panel.place.origin[2])),
            diameter_mm=_SCREW_HOLE_MM if is_below else cabinet.construction.pilot_diameter_mm,
            depth_mm=panel.thickness_mm if is_through else panel.thickness_mm - _LEFT_BELOW_MM,
            through=is_through,
        )


def _cut_outs(cabinet: Cabinet, panel: Panel) -> Iterator[Feature]:
    if panel.place is None:
        return
    holes = [hole for hole in cabinet.cut_outs if hole.panel == panel.role]
    for number, hole in enumerate(holes, start=1):
        yield _cut_out(panel.place, hole, f"cut-out {number}")


def _cut_out(place: Place, hole: CutOutOrder, name: str) -> CutOut:
    x, at = hole.x_mm or 0.0, hole.at_mm or 0.0
    centre = _in_panel(place, (x, place.origin[1], at) if hole.panel == "back" else (x, at, place.origin[2]))
    if hole.round:
        return CutOut(name=name, outline=circle(centre, hole.width_mm / 2))
    # A panel whose x axis runs along the cabinet's width keeps the hole as it is; one turned a quarter swaps it.
    is_level = abs(place.x_axis[0]) > abs(place.y_axis[0])
    dx, dy = (hole.width_mm, hole.height_mm) if is_level else (hole.height_mm, hole.width_mm)
    return CutOut(name=name, outline=rectangle(centre.x - dx / 2, centre.y - dy / 2, dx, dy))


def _in_panel(place: Place, point: Vec3) -> Point:
    """Return a point of the cabinet frame in the panel frame, its depth left out."""
    step = [a - b for a, b in zip(point, place.origin, strict=True)]
    return Point(
        sum(a * b for a, b in zip(step, place.x_axis, strict=True)),
        sum(a * b for a, b in zip(step, place.y_axis, strict=True)),
    )
