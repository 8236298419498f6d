"""The box put together from its panels' places, and everything about it that could be wrong compared with what is
right.

Knows only the panels and the settled sizes; nothing of how the panels were made. `check_box` holds for any box, of
whatever kind: a set of panels with places, their joints, and the size wanted. A kind adds its own checks in `_OWN`.
Cabinet frame, millimetres.
"""

from collections.abc import Callable, Iterator

from rabbetry.cabinets.model import Cabinet, CornerCabinet, LadderBase
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, assemble, banded_bounds, body_of, bounds
from rabbetry.fit.corner import check_corner, corner_wanted
from rabbetry.fit.holes import check_bores
from rabbetry.fit.joints import check_joints
from rabbetry.fit.ladder import check_ladder, ladder_wanted
from rabbetry.fit.model import FitReport, Wanted
from rabbetry.fit.rows import check_facing_rows, check_pitch
from rabbetry.fit.screws import check_mouths, check_pilots
from rabbetry.fit.solids import check_interference, check_recesses_used
from rabbetry.fit.tally import Tally
from rabbetry.fit.two_sided import check_two_sided
from rabbetry.panels.model import Box, Panel, Place, Vec3
from rabbetry.tolerances import FIT_MM

Own = Callable[[Cabinet, dict[str, Body], Tally], None]
_OWN: dict[str, Own] = {}
"""What a kind of cabinet must hold besides; a kind not named here has a left and a right side."""


def check_fit(cabinet: Cabinet, box: Box) -> FitReport:
    """Return every fault of the assembled cabinet, and how many comparisons were made.

    Compared, besides what `check_box` says: shelf-pin, hinge and slide holes; drawer boxes in their openings;
    adjustable shelves. Raises KeyError when `box` lacks a side.
    """
    wanted = Wanted(
        name=cabinet.name,
        size_mm=(cabinet.width_mm, cabinet.outside_depth_mm, cabinet.height_mm),
        clearance_mm=cabinet.construction.fit_clearance_mm,
        behind_mm={
            f"{cabinet.name} {hand} side": cabinet.side_depth_mm(hand) - cabinet.back_rear_mm
            for hand in ("left", "right")
        },
        front_intrusion_mm=cabinet.front_intrusion_mm,
        depth_clearance_mm=cabinet.construction.depth_clearance_mm,
        band_mm=cabinet.construction.band_thickness_mm,
        outside=frozenset(_before_the_box(cabinet, box)),
        pin_pitch_mm=cabinet.construction.pin_pitch_mm,
    )
    tally = Tally(checks=0, findings=[])
    bodies = assemble(box)
    _check_any(wanted, box, bodies, tally)
    _OWN.get(cabinet.kind, check_two_sided)(cabinet, bodies, tally)
    return FitReport(checks=tally.checks, findings=tuple(tally.findings))


def _before_the_box(cabinet: Cabinet, box: Box) -> Iterator[str]:
    """Yield the panels that may stand before the case: fronts, and drawer boxes that reach through a face frame."""
    yield from (f"{cabinet.name} {front.name}" for front in cabinet.fronts)
    for drawer in cabinet.drawers:
        if drawer.front_y_mm < 0:
            own = f"{cabinet.name} {drawer.name} "
            yield from (panel.id for panel in box.panels if panel.id.startswith(own))


def check_corner_fit(corner: CornerCabinet, box: Box) -> FitReport:
    """Return every fault of an assembled corner cabinet, and how many comparisons were made."""
    tally = Tally(checks=0, findings=[])
    bodies = assemble(box)
    _check_any(corner_wanted(corner), box, bodies, tally)
    check_corner(corner, bodies, tally)
    return FitReport(checks=tally.checks, findings=tuple(tally.findings))


def check_ladder_fit(ladder: LadderBase, box: Box) -> FitReport:
    """Return every fault of an assembled ladder base, and how many comparisons were made."""
    tally = Tally(checks=0, findings=[])
    bodies = assemble(box)
    _check_any(ladder_wanted(ladder), box, bodies, tally)
    check_ladder(ladder, bodies, tally)
    return FitReport(checks=tally.checks, findings=tuple(tally.findings))


def check_box(wanted: Wanted, box: Box) -> FitReport:
    """Return every fault that a box of any kind may have, and how many comparisons were made.

    Compared: each joint's width and seat; each pair of panels for space both would fill; recesses that nothing enters;
    outside sizes; each panel within them; each hole within its panel, its screw within the panel behind, its mouth
    free; rows of holes that face each other, and their pitch.
    """
    tally = Tally(checks=0, findings=[])
    _check_any(wanted, box, assemble(box), tally)
    return FitReport(checks=tally.checks, findings=tuple(tally.findings))


def check_part(panel: Panel) -> FitReport:
    """Return every fault of a panel by itself, in no box: holes that leave it, go through or meet other cuts."""
    tally = Tally(checks=0, findings=[])
    check_bores(body_of(panel, _LOOSE), tally)
    return FitReport(checks=tally.checks, findings=tuple(tally.findings))


_LOOSE = Place(origin=(0.0, 0.0, 0.0), x_axis=(1.0, 0.0, 0.0), y_axis=(0.0, 1.0, 0.0))


def _check_any(wanted: Wanted, box: Box, bodies: dict[str, Body], tally: Tally) -> None:
    check_joints(wanted, box, bodies, tally)
    check_interference(bodies, tally)
    check_recesses_used(box, bodies, tally)
    _check_outside(wanted, bodies, tally)
    for body in bodies.values():
        check_bores(body, tally)
    check_pilots(bodies, tally)
    check_mouths(box, bodies, tally)
    if wanted.has_opposites:
        check_facing_rows(bodies, tally)
    check_pitch(wanted, box, bodies, tally)


def _check_outside(wanted: Wanted, bodies: dict[str, Body], tally: Tally) -> None:
    inner = [body for name, body in bodies.items() if name not in wanted.outside]
    boxes = {body.panel.id: banded_bounds(body, wanted.band_mm) for body in inner}
    low, high = bounds([corner for box in boxes.values() for corner in box])
    for axis, name in enumerate(("wide", "deep", "high")):
        size, ordered = high[axis] - low[axis], wanted.size_mm[axis]
        message = f"{wanted.name} would be {size:.3f} mm {name} outside; {ordered:.3f} mm is ordered"
        tally.check(abs(size - ordered) <= FIT_MM, finding("fit-outside", message))
    for body in inner:
        message = f"{body.panel.id} stands out of the box"
        fault = finding("fit-outside", message, panel=body.panel.id)
        tally.check(_within(boxes[body.panel.id], (0.0, 0.0, 0.0), wanted.size_mm), fault)


def _within(box: tuple[Vec3, Vec3], low: Vec3, high: Vec3) -> bool:
    return all(low[k] - FIT_MM <= box[0][k] and box[1][k] <= high[k] + FIT_MM for k in range(3))
