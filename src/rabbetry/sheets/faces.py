"""Sheets whose parts are cut from both faces: index holes, the flip, and how each set-up sees the sheet.

A blank is always flipped left to right, like a page, about its upright middle line. Two index holes near the left and
right edge mirror into each other in that flip, and stand so far from the blank's middle height that no other turn of
the blank fits the pins. The blank's true size does not matter: the pins hold it where the holes were drilled.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from rabbetry.findings import Finding, finding
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import Cutting, Job, Stock
from rabbetry.panels.model import Bore, CutOut, Panel, Place, Recess, moved_feature
from rabbetry.sheets.keepout import Box, keep_outs
from rabbetry.sheets.model import Flip, Placement, Sheet

_HOLE_TO_EDGE_MM = 12.0
"""Wood between an index hole and the blank's edge (common practice, no source)."""
_OFF_MIDDLE_MM = 60.0
"""The holes stand at least this far from the blank's middle height: turned another way, a pin meets wood."""
_STEP_MM = 10.0


def is_two_face(panel: Panel) -> bool:
    """Tell whether a panel has cuts in both faces."""
    return bool(panel.rear_features)


def check_faces(panels: Sequence[Panel], cutting: Cutting) -> Iterator[Finding]:
    """Yield an error for each panel with cuts in both faces in a job that refuses two-face work."""
    for panel in panels:
        if is_two_face(panel) and cutting.two_faces == "refuse":
            message = (
                f"{panel.id} needs cuts in both faces ({len(panel.rear_features)} in the rear one), and the job says "
                'two_faces = "refuse" under [cutting]; set it to "flip", or order the part so that one face does'
            )
            yield finding("two-faces-off", message, panel=panel.id)


def find_flip(stock: Stock, job: Job, spacing_mm: float) -> Flip | None:
    """Return where a blank of the stock gets its index holes, clear of all clamps, or None when there is no place."""
    radius = job.cutting.index_hole_mm / 2
    edge = radius + _HOLE_TO_EDGE_MM
    blocked = keep_outs(job.shop, thickness_mm=stock.thickness_mm, spacing_mm=spacing_mm)
    y = edge
    while y <= stock.blank_y_mm - edge:
        holes = (Point(edge, y), Point(stock.blank_x_mm - edge, y))
        is_off_middle = abs(y - stock.blank_y_mm / 2) >= _OFF_MIDDLE_MM
        if is_off_middle and not any(_meet(_round(hole, radius), box) for hole in holes for box in blocked):
            return Flip(
                at_mm=stock.blank_x_mm / 2,
                index_holes=holes,
                hole_diameter_mm=job.cutting.index_hole_mm,
                hole_depth_mm=stock.thickness_mm + job.cutting.index_depth_mm,
            )
        y += _STEP_MM
    return None


def no_index_holes(stock: Stock) -> Finding:
    """Return the error that a blank has no place for index holes."""
    message = (
        f'stock "{stock.name}": parts need cuts in both faces, but the clamps leave no place for two index holes at '
        "one height near the blank's left and right edges; move a clamp"
    )
    return finding("no-place-for-index-holes", message)


def flipped_name(names: Mapping[str, str], stock: str) -> str:
    """Return a start for the ids of a stock's flipped sheets that no stock has."""
    name, again = f"{names[stock]}-two-face", 2
    while name in names.values():
        name, again = f"{names[stock]}-two-face-{again}", again + 1
    return name


def flip_keep_outs(flip: Flip, stock: Stock, job: Job, spacing_mm: float) -> tuple[Box, ...]:
    """Return where no part may lie for the flip's sake: about the pins, and where clamps stand in the other set-up."""
    reach = flip.hole_diameter_mm / 2 + spacing_mm
    clamps = keep_outs(job.shop, thickness_mm=stock.thickness_mm, spacing_mm=spacing_mm)
    mirrored = tuple((2 * flip.at_mm - x1, y0, 2 * flip.at_mm - x0, y1) for x0, y0, x1, y1 in clamps)
    return (*(_round(hole, reach) for hole in flip.index_holes), *mirrored)


def side_views(sheet: Sheet) -> tuple[Sheet, ...]:
    """Return the sheet as each set-up sees it, in order: itself, or its first and its second side.

    The first side shows the faces cut first, without openings; the second, mirrored by the flip, the other faces with
    the openings, and there the parts are cut out. Ids end in `-side1` and `-side2`.
    """
    if sheet.flip is None:
        return (sheet,)
    placements = tuple(replace(item, panel=item.panel.first_up) for item in sheet.placements)
    first = tuple(replace(item, panel=_first_face(item.panel)) for item in placements)
    second = tuple(_flipped(item, sheet.flip) for item in placements)
    offcuts = tuple(replace(item, x_mm=2 * sheet.flip.at_mm - item.x_mm - item.length_x_mm) for item in sheet.offcuts)
    return (
        replace(sheet, id=f"{sheet.id}-side1", side=1, placements=first, offcuts=()),
        replace(sheet, id=f"{sheet.id}-side2", side=2, placements=second, offcuts=offcuts),
    )


def _first_face(panel: Panel) -> Panel:
    inner = tuple(feature for feature in panel.features if isinstance(feature, Bore | Recess))
    return replace(panel, features=inner, rear_features=())


def _flipped(placement: Placement, flip: Flip) -> Placement:
    """Return a panel's rear face where it lies after the flip. Its own frame is mirrored too, across the direction that
    the blank's x has on it."""
    panel = placement.panel
    is_turned = placement.rotation_deg == 90
    mirror = Transform.mirror_y(panel.width_mm) if is_turned else Transform.mirror_x(panel.length_mm)
    swapped = {"y0": "y1", "y1": "y0"} if is_turned else {"x0": "x1", "x1": "x0"}
    openings = tuple(feature for feature in panel.features if isinstance(feature, CutOut))
    rear = replace(
        panel,
        outline=panel.outline.moved(mirror),
        features=tuple(moved_feature(feature, mirror) for feature in (*panel.rear_features, *openings)),
        rear_features=(),
        place=_from_behind(panel, is_turned),
        face_up=panel.rear_face,
        front_edge=swapped.get(panel.front_edge, panel.front_edge),
        banded_edges=tuple(swapped.get(edge, edge) for edge in panel.banded_edges),
    )
    x = 2 * flip.at_mm - placement.x_mm - placement.extent_mm[0]
    return replace(placement, panel=rear, x_mm=x)


def _from_behind(panel: Panel, is_turned: bool) -> Place | None:
    """Return the place of the mirrored frame: its origin on the rear face, at the other end of the mirrored axis."""
    place = panel.place
    if place is None:
        return None
    (a, b, c), (d, e, f) = place.x_axis, place.y_axis
    if is_turned:
        origin = place.point(0.0, panel.width_mm, panel.thickness_mm)
        return Place(origin=origin, x_axis=place.x_axis, y_axis=(-d, -e, -f))
    origin = place.point(panel.length_mm, 0.0, panel.thickness_mm)
    return Place(origin=origin, x_axis=(-a, -b, -c), y_axis=place.y_axis)


def _round(centre: Point, reach: float) -> Box:
    return centre.x - reach, centre.y - reach, centre.x + reach, centre.y + reach


def _meet(a: Box, b: Box) -> bool:
    return min(a[2], b[2]) > max(a[0], b[0]) and min(a[3], b[3]) > max(a[1], b[1])
