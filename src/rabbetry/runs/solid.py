"""Parts of solid wood that are made on other machines: face frames, blocking, fillers, doors and drawer fronts.
Millimetres.

Rails and middle stiles are as long as the space they fill, whether they are held by pocket screws, pilot holes or
dowels; tenons make them longer at both ends by the setting. Members of a door meet in a groove: its rails are longer at
both ends by the groove's depth, and its panel lies in grooves all round with the set play.
"""

from collections.abc import Iterator, Sequence

from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.job.choices import RunItem
from rabbetry.job.model import DoorStyle, Job
from rabbetry.runs.model import Frame, SolidPart
from rabbetry.units import show_length

TALL_DOOR_MM = 1524.0
"""60 in: a higher door of stiles and rails needs a middle rail (check value 5.3.7)."""


def frame_parts(frames: Sequence[Frame], cabinets: Sequence[Cabinet], job: Job) -> tuple[SolidPart, ...]:
    """Return the members of each frame, then the blocking behind frames, then the solid fillers of runs."""
    parts = [part for frame in frames for part in _members(frame, job.units.value)]
    parts += [part for cabinet in cabinets for part in _blocking(cabinet)]
    parts += [part for run in job.runs for part in _fillers(run.name, (*run.items, *run.upper), job)]
    return tuple(parts)


def front_parts(cabinets: Sequence[Cabinet], units: str) -> tuple[SolidPart, ...]:
    """Return the parts of every front that is made elsewhere: all but those cut from sheet, as blind panels always
    are."""
    return tuple(
        part
        for cabinet in cabinets
        if not cabinet.cut_fronts
        for front in cabinet.fronts
        if front.kind != "blind panel"
        for part in _front(cabinet, front, units)
    )


def _members(frame: Frame, units: str) -> Iterator[SolidPart]:
    for member in frame.members:
        is_stile = member.kind == "stile"
        is_end = is_stile and member.name in ("left stile", "right stile")
        length, width = (member.height_mm, member.width_mm) if is_stile else (member.width_mm, member.height_mm)
        ends = 2 if is_stile else frame.rail_tenons
        tenons = 0.0 if is_end else ends * frame.tenon_mm
        many = "two tenons" if ends > 1 else "one tenon, at the stile,"
        between, tenon = show_length(length, units), show_length(frame.tenon_mm, units)
        note = f"{between} between, {many} of {tenon}" if tenons else ""
        yield SolidPart(
            of=frame.name,
            name=member.name,
            count=1,
            length_mm=length + tenons,
            width_mm=width,
            thickness_mm=frame.thickness_mm,
            note=note,
        )


_BLOCKING_MM = 100.0
"""Width of the strip that carries a slide behind a face frame (common practice, no source)."""


def _blocking(cabinet: Cabinet) -> Iterator[SolidPart]:
    for drawer in cabinet.drawers:
        if not drawer.on_blocking:
            continue
        for hand, thickness in zip(("left", "right"), cabinet.blocking_mm, strict=True):
            if thickness > 0:
                yield SolidPart(
                    of=f"{cabinet.name} {drawer.name}",
                    name=f"{hand} blocking",
                    count=1,
                    length_mm=drawer.length_mm,
                    width_mm=_BLOCKING_MM,
                    thickness_mm=thickness,
                    note="on the side, behind the stile, to carry the slide",
                )


def _fillers(run: str, items: Sequence[RunItem], job: Job) -> Iterator[SolidPart]:
    orders = {order.name: order for order in job.cabinets}
    for number, item in enumerate((item for item in items if item.sort == "filler"), start=1):
        if item.stock or item.width_mm <= 0:
            continue
        beside = orders.get(item.beside)
        thickness = beside.construction.frame_thickness_mm if beside is not None else None
        scribed = show_length(item.scribe_mm, job.units.value)
        scribe = f"; {scribed} of its width to scribe to the wall" if item.scribe_mm else ""
        yield SolidPart(
            of=run,
            name=f"filler {number}",
            count=1,
            length_mm=item.height_mm,
            width_mm=item.width_mm + item.scribe_mm,
            thickness_mm=thickness,
            note=(f"beside {item.beside}" if item.beside else "stands alone") + scribe,
        )


def _front(cabinet: Cabinet, front: Front, units: str) -> Iterator[SolidPart]:
    of, thickness = f"{cabinet.name} {front.name}", cabinet.front_thickness_mm
    if front.kind == "door" and cabinet.door_style is DoorStyle.FRAME_AND_PANEL:
        yield from _framed_door(cabinet, front, of, units)
        return
    upright = front.kind == "door"
    length, width = (front.height_mm, front.width_mm) if upright else (front.width_mm, front.height_mm)
    yield SolidPart(of=of, name=front.kind, count=1, length_mm=length, width_mm=width, thickness_mm=thickness)


def _framed_door(cabinet: Cabinet, front: Front, of: str, units: str) -> Iterator[SolidPart]:
    """A door over 60 in has a middle rail in the middle of its height, and two panels."""
    c, thickness = cabinet.construction, cabinet.front_thickness_mm
    groove = c.door_groove_depth_mm
    between = front.width_mm - 2 * c.door_stile_width_mm
    panels = 2 if front.height_mm > TALL_DOOR_MM else 1
    inside = (front.height_mm - (panels + 1) * c.door_rail_width_mm) / panels
    deep, play = show_length(groove, units), show_length(c.door_panel_play_mm, units)
    rail_note = f"{show_length(between, units)} between the stiles, {deep} in the groove at each end"
    yield SolidPart(
        of=of,
        name="stile",
        count=2,
        length_mm=front.height_mm,
        width_mm=c.door_stile_width_mm,
        thickness_mm=thickness,
        note=f"groove {deep} deep in the inner edge",
    )
    yield SolidPart(
        of=of,
        name="rail",
        count=panels + 1,
        length_mm=between + 2 * groove,
        width_mm=c.door_rail_width_mm,
        thickness_mm=thickness,
        note=rail_note,
    )
    yield SolidPart(
        of=of,
        name="panel",
        count=panels,
        length_mm=inside + 2 * groove - c.door_panel_play_mm,
        width_mm=between + 2 * groove - c.door_panel_play_mm,
        thickness_mm=None,
        note=f"as thick as its groove; play {play} each way",
    )
