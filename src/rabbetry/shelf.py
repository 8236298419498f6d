"""Offcuts of the shelf in a job: laid out, the joints cut for their thickness, and the shelf as it is afterwards.

A panel on an offcut of another thickness keeps its sizes; the recesses that it enters follow it. Panels that have
recesses for others, and panels of corners and ladder bases, lie on offcuts of their own stock's thickness only. Where
the fit then finds an error, no offcut of another thickness is used.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace

from rabbetry.findings import Finding, finding, has_error
from rabbetry.fit.checks import check_fit
from rabbetry.job.model import Job, ShelfPiece
from rabbetry.job.shelf_file import shelf_text
from rabbetry.panels.model import Box, Panel, Place, Recess
from rabbetry.pipeline import Compiled, compile_job, lay_out
from rabbetry.sheets.model import Nesting, Sheet
from rabbetry.thickness import with_thickness
from rabbetry.tolerances import DEPTH_MM, POINT_MM, SAME_THICKNESS_MM
from rabbetry.units import show_length


def place(job: Job, compiled: Compiled) -> tuple[Compiled, Nesting]:
    """Lay the panels out on blanks and offcuts. What was compiled comes back with the panels as they lie, and with the
    joints of those that are thicker or thinner than their stock."""
    nesting = lay_out(job, compiled.panels, tied=_tied(compiled))
    if not any(sheet.offcut for sheet in nesting.sheets):
        return compiled, nesting
    settled = _settled(job, compiled, nesting)
    if settled is None:
        return place(replace(job, cutting=replace(job.cutting, offcut_tolerance_mm=SAME_THICKNESS_MM)), compiled)
    return settled


def _tied(compiled: Compiled) -> frozenset[str]:
    receivers = {joint.receiver for box in compiled.boxes for joint in box.joints}
    others = {panel.id for box in compiled.boxes[len(compiled.cabinets) :] for panel in box.panels}
    return frozenset(receivers | others)


def _settled(job: Job, compiled: Compiled, nesting: Nesting) -> tuple[Compiled, Nesting] | None:
    """Return panels, joints and sheets for the thicknesses at hand, or None when a box does not go together then."""
    changed = {
        place.panel.id: sheet.thickness_mm
        for sheet in nesting.sheets
        for place in sheet.placements
        if abs(sheet.thickness_mm - place.panel.thickness_mm) > POINT_MM
    }
    far = {
        panel.id: changed[panel.id]
        for panel in compiled.panels
        if panel.id in changed and abs(changed[panel.id] - panel.thickness_mm) > SAME_THICKNESS_MM
    }
    recesses, seats, told = _renewed(job, compiled, far)
    panels = {panel.id: _adapted(panel, changed, recesses, seats) for panel in compiled.panels}
    boxes = tuple(replace(box, panels=tuple(panels[panel.id] for panel in box.panels)) for box in compiled.boxes)
    again = [
        (cabinet, box)
        for cabinet, box in zip(compiled.cabinets, boxes, strict=False)
        if any(panel.id in far for panel in box.panels)
    ]
    fit_told = tuple(item for cabinet, box in again for item in check_fit(cabinet, box).findings)
    if has_error(fit_told):
        return None
    sheets = tuple(_with_panels(sheet, panels) for sheet in nesting.sheets)
    return (
        replace(
            compiled,
            boxes=boxes,
            panels=tuple(panels[panel.id] for panel in compiled.panels),
            findings=tuple(dict.fromkeys((*compiled.findings, *fit_told))),
        ),
        replace(nesting, sheets=sheets, findings=(*nesting.findings, *told)),
    )


def _with_panels(sheet: Sheet, panels: Mapping[str, Panel]) -> Sheet:
    return replace(sheet, placements=tuple(replace(item, panel=panels[item.panel.id]) for item in sheet.placements))


def _adapted(
    panel: Panel,
    changed: Mapping[str, float],
    recesses: Mapping[tuple[str, str], Recess],
    seats: Mapping[str, Place],
) -> Panel:
    features = tuple(recesses.get((panel.id, item.name), item) for item in panel.features)
    panel = replace(panel, features=features) if features != panel.features else panel
    if panel.id in seats:
        panel = replace(panel, place=seats[panel.id])
    return with_thickness(panel, changed[panel.id]) if panel.id in changed else panel


def _seat(panel: Panel, new: Panel, thickness_mm: float, has_joint: bool) -> Place | None:
    """Return where the panel stands in its box at another thickness: in its joints, or with its lower face where it
    was, as a shelf lies on pins. It moves across its faces only."""
    if panel.place is None or new.place is None:
        return panel.place
    normal, old = panel.place.normal, panel.place.origin
    if has_joint:
        way = sum((there - here) * part for there, here, part in zip(new.place.origin, old, normal, strict=True))
    else:
        way = thickness_mm - panel.thickness_mm if normal[2] > 0.5 else 0.0
    x, y, z = (here + way * part for here, part in zip(old, normal, strict=True))
    return replace(panel.place, origin=(x, y, z))


def _renewed(
    job: Job, compiled: Compiled, far: Mapping[str, float]
) -> tuple[dict[tuple[str, str], Recess], dict[str, Place], tuple[Finding, ...]]:
    """Return by panel and name the recesses that panels of another thickness enter, as that thickness makes them, and
    where those panels then stand."""
    stocks = {panel.id: panel.stock for panel in compiled.panels}
    groups: defaultdict[tuple[str, float], set[str]] = defaultdict(set)
    for panel, thickness in far.items():
        groups[stocks[panel], thickness].add(panel)
    recesses: dict[tuple[str, str], Recess] = {}
    seats: dict[str, Place] = {}
    told: list[Finding] = []
    for (stock, thickness), ids in sorted(groups.items()):
        measured = tuple(replace(row, measured_mm=thickness) if row.name == stock else row for row in job.stocks)
        renewed = compile_job(replace(job, stocks=measured))
        for box, new in zip(compiled.boxes, renewed.boxes, strict=True):
            own = _entered(box, new, ids)
            recesses |= own
            told.extend(_told(own, thickness, job))
            jointed = {joint.entering for joint in box.joints}
            for item, other in zip(box.panels, new.panels, strict=True):
                seat = _seat(item, other, thickness, item.id in jointed) if item.id in ids else None
                seats |= {item.id: seat} if seat else {}
    return recesses, seats, tuple(told)


def _entered(box: Box, renewed: Box, ids: set[str]) -> dict[tuple[str, str], Recess]:
    wanted = {(joint.receiver, joint.feature) for joint in box.joints if joint.feature and joint.entering in ids}
    old = {(panel.id, item.name): item for panel in box.panels for item in panel.features}
    return {
        (panel.id, item.name): replace(item, depth_mm=_depth(old[panel.id, item.name], item))
        for panel in renewed.panels
        for item in panel.features
        if isinstance(item, Recess) and (panel.id, item.name) in wanted
    }


def _depth(old: object, new: Recess) -> float:
    """Return the depth: as it was, so that a panel that keeps its length still reaches the floor. A recess open to the
    receiver's edge, whose depth is the entering panel's thickness, follows it."""
    return new.depth_mm if not isinstance(old, Recess) or new.kind == "rabbet" else old.depth_mm


def _told(recesses: Mapping[tuple[str, str], Recess], thickness: float, job: Job) -> Iterator[Finding]:
    for (panel, name), _ in sorted(recesses.items()):
        text = f"{panel}: {name} is cut for the {show_length(thickness, str(job.units))} of an offcut"
        yield finding("offcut-joint", text, panel=panel)


def shelf_after(job: Job, nesting: Nesting) -> str:
    """Return the shelf's file as it is once the job is cut: pieces that were used are gone, and what is worth keeping
    of every sheet is there, as a rectangle with the thickness of its sheet."""
    used = {sheet.offcut for sheet in nesting.sheets}
    kept = [piece for piece in job.shelf if piece.name not in used]
    names = {piece.name for piece in kept}
    for sheet in nesting.sheets:
        stock = job.stock(sheet.stock)
        for number, rest in enumerate(sheet.offcuts, start=1):
            along, across = rest.length_x_mm, rest.length_y_mm
            if sheet.has_grain and not sheet.grain_along_x:
                along, across = across, along
            kept.append(
                ShelfPiece(
                    name=_unused(f"{sheet.id} rest {number}", names),
                    sheet=stock.sheet,
                    thickness_mm=sheet.thickness_mm,
                    along_mm=_down(along),
                    across_mm=_down(across),
                    note="" if sheet.thickness_is_measured else "thickness not measured: measure it",
                )
            )
            names.add(kept[-1].name)
    return shelf_text(kept, str(job.units))


def _unused(name: str, names: set[str]) -> str:
    again = 2
    wanted = name
    while wanted in names:
        wanted, again = f"{name}, {again}", again + 1
    return wanted


def _down(mm: float) -> float:
    """Return a whole number of tenths of a millimetre: what is left is never called larger than it is."""
    return int((mm + DEPTH_MM) * 10) / 10
