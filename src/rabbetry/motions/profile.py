"""Cutting along an outline, with tabs or a skin that hold the part. Millimetres, z = 0 at the stock's top."""

from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Contour, Line
from rabbetry.geometry.offsets import offset_rings
from rabbetry.geometry.points import Point
from rabbetry.motions.passes import pass_floors, ramp_length
from rabbetry.motions.tabs import Tabs, cut_over, most_tabs, place_tabs, stretch_length
from rabbetry.motions.tip import Tip
from rabbetry.motions.track import Track
from rabbetry.operations.model import Profile


def plan_profile(tip: Tip, work: Profile) -> tuple[Finding, ...]:
    """Follow the outline a cutter's radius beside it, every ring of it through all passes.

    Climb cutting keeps the part on the right of the travel (clockwise spindle): clockwise outside, counter-clockwise
    inside.
    """
    radius = tip.operation.cutter.radius_mm
    rings = offset_rings(work.outline, distance_mm=-radius if work.inside else radius)
    if not rings:
        return (_no_room(tip, work),)
    total = sum(ring.length for ring in rings)
    findings: tuple[Finding, ...] = ()
    for ring in rings:
        # offset_rings keeps the grown region on the left: outside, the part then lies on the left too.
        path = ring if work.inside == work.climb else ring.reversed()
        asked = max(1, round(work.tab_count * ring.length / total)) if work.tab_count and work.skin_mm <= 0 else 0
        findings += _cut(tip, Track(_from_a_straight(path)), work, asked)
    return findings


def _cut(tip: Tip, track: Track, work: Profile, asked: int) -> tuple[Finding, ...]:
    stretch = stretch_length(work.tab_length_mm, tip.operation.cutter.cut_diameter_mm)
    count = most_tabs(asked, track.length_mm, stretch)
    tabs: Tabs | None = None
    if count:
        tabs = place_tabs(track, count, work, tip.operation.cutter.cut_diameter_mm)
    depth = work.thickness_mm - work.skin_mm if work.skin_mm > 0 else work.depth_mm
    tip.enter(track.at(0.0))
    position = 0.0
    for floor in pass_floors(depth, tip.operation.pass_mm):
        deep = position + ramp_length(tip.z - floor, tip.operation)
        cut_over(tip, track, (position, deep), (tip.z, floor), tabs)
        # One lap at the floor, which also takes what the ramp left.
        position = deep % track.length_mm
        cut_over(tip, track, (position, position + track.length_mm), (floor, floor), tabs)
    tip.lift()
    return (_fewer(tip, asked, count),) if count < asked else ()


def _from_a_straight(ring: Contour) -> Contour:
    """Start the ring in the middle of its longest straight (the lowest, then leftmost of several), so that the way in
    marks no corner; a ring without one starts where it does."""
    lines = [(-round(part.length, 6), round(part.start.y, 6), round(part.start.x, 6), i)
             for i, part in enumerate(ring.segments) if isinstance(part, Line)]  # fmt: skip
    if not lines:
        return ring
    index = min(lines)[3]
    longest = ring.segments[index]
    middle: Point = longest.at(0.5)
    around = (*ring.segments[index + 1 :], *ring.segments[:index])
    return Contour((Line(middle, longest.end), *around, Line(longest.start, middle)))


def _no_room(tip: Tip, work: Profile) -> Finding:
    operation, place = tip.operation, work.outline.start
    return finding(
        "no-room-for-cutter",
        f"{operation.name}: the opening at ({place.x:.3f}, {place.y:.3f}) is narrower than cutter "
        f"{operation.cutter.number} ({operation.cutter.cut_diameter_mm:g} mm)",
        panel=operation.panel,
        x=place.x,
        y=place.y,
    )


def _fewer(tip: Tip, asked: int, count: int) -> Finding:
    name = tip.operation.name
    return finding(
        "tabs-fewer",
        f"{name}: {count} tabs instead of {asked}, so that the last pass still cuts half the way round",
        panel=tip.operation.panel,
    )
