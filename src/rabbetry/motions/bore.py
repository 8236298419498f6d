"""Holes: drilled straight down, or bored with a narrower cutter by spirals. Millimetres, z = 0 at the stock's top."""

import math

from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Arc, circle
from rabbetry.geometry.points import Point, Vector
from rabbetry.motions.passes import pass_floors
from rabbetry.motions.tip import Tip
from rabbetry.motions.track import Track
from rabbetry.operations.model import Drilling, Operation, SpiralBore
from rabbetry.shop.model import Cutter
from rabbetry.tolerances import WIDTH_MM

_PECK_FROM_DIAMETERS = 3.0
"""A drill clears its chips when the hole is deeper than this many diameters (common practice)."""

_CORE_SHARE = 0.9
"""The innermost spiral runs at this share of the cutter's radius, so that no core is left standing."""

_TIGHT_SHARE = 0.1
"""Below this share of the cutter's diameter a spiral is little more than a plunge: hundreds of turns for nothing."""


def plan_drilling(tip: Tip, work: Drilling) -> tuple[Finding, ...]:
    """Drill each hole in the given order, in pecks where it is deep or the cutter is no drill."""
    cutter = tip.operation.cutter
    if not _may_go_straight_down(cutter):
        return (_cannot(tip, work.centres[0]),)
    if not cutter.is_drill:
        peck = min(tip.operation.pass_mm, cutter.diameter_mm)
    else:
        peck = cutter.diameter_mm if work.depth_mm > _PECK_FROM_DIAMETERS * cutter.diameter_mm else 0.0
    for centre in work.centres:
        tip.drill(centre, -work.depth_mm, peck if peck < work.depth_mm else 0.0)
    return ()


def plan_spiral_bore(tip: Tip, work: SpiralBore) -> tuple[Finding, ...]:
    """Bore each hole from its middle outward, so that nothing but dust is left of it and its floor is flat."""
    operation = tip.operation
    radius = (work.diameter_mm - operation.cutter.cut_diameter_mm) / 2
    if radius <= WIDTH_MM / 2 and not _may_go_straight_down(operation.cutter):
        return (_cannot(tip, work.centres[0]),)
    for centre in work.centres:
        if radius <= WIDTH_MM / 2:
            tip.drill(centre, -work.depth_mm, min(operation.pass_mm, operation.cutter.diameter_mm))
        elif operation.cutter.centre_cutting and radius < _TIGHT_SHARE * operation.cutter.cut_diameter_mm:
            _bore_by_plunges(tip, centre, radius, work)
        else:
            _bore_by_spirals(tip, centre, radius, work)
        tip.lift()
    return ()


def spiral_radii(radius: float, operation: Operation) -> tuple[float, ...]:
    """Return the radii of the spirals, innermost first: `radius` alone where it leaves no core, else a stepover
    apart."""
    core = _CORE_SHARE * operation.cutter.radius_mm
    if radius <= core:
        return (radius,)
    count = math.ceil((radius - core) / operation.stepover_mm)
    return (*(core + (radius - core) * k / count for k in range(count)), radius)


def spiral_pitch(radius: float, operation: Operation) -> float:
    """Return the descent of one turn: no more than a pass, and no steeper than the ramp angle."""
    return min(operation.pass_mm, 2 * math.pi * radius * math.tan(math.radians(operation.ramp_deg)))


def _bore_by_spirals(tip: Tip, centre: Point, radius: float, work: SpiralBore) -> None:
    depth = work.depth_mm
    for index, one in enumerate(spiral_radii(radius, tip.operation)):
        start = centre + Vector(one, 0.0)
        if index == 0:
            tip.enter(start)
        else:
            tip.shift(start)
            tip.plunge(0.0)
        track = Track(circle(centre, one, _turn(work)))
        travel = depth / spiral_pitch(one, tip.operation) * track.length_mm
        tip.follow(track.pieces(0.0, travel), -depth)
        tip.follow(track.pieces(travel, travel + track.length_mm))
        tip.feed_to(centre)


def _bore_by_plunges(tip: Tip, centre: Point, radius: float, work: SpiralBore) -> None:
    turn = _turn(work)
    start, far = centre + Vector(radius, 0.0), centre + Vector(-radius, 0.0)
    tip.enter(centre)
    for floor in pass_floors(work.depth_mm, tip.operation):
        tip.plunge(floor)
        tip.feed_to(start)
        tip.follow((Arc(start, far, centre, turn), Arc(far, start, centre, turn)))
        tip.feed_to(centre)


def _turn(work: SpiralBore) -> int:
    """Counter-clockwise within a hole is climb cutting: the wall is on the right."""
    return 1 if work.climb else -1


def _may_go_straight_down(cutter: Cutter) -> bool:
    return cutter.is_drill or cutter.centre_cutting


def _cannot(tip: Tip, centre: Point) -> Finding:
    operation = tip.operation
    return finding(
        "no-room-for-cutter",
        f"{operation.name}: cutter {operation.cutter.number} ({operation.cutter.cut_diameter_mm:g} mm) cannot go "
        f"straight down and the hole leaves no room to ramp",
        panel=operation.panel,
        x=centre.x,
        y=centre.y,
    )
