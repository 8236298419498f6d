"""Cutting along an outline, with tabs or a skin that hold the part. Millimetres, z = 0 at the stock's top."""

from collections.abc import Sequence

from rabbetry.findings import Finding, finding
from rabbetry.motions.holding import Way
from rabbetry.motions.passes import pass_floors, ramp_length
from rabbetry.motions.tabs import cut_over
from rabbetry.motions.tip import Tip
from rabbetry.operations.model import Profile


def plan_profile(tip: Tip, work: Profile, ways: Sequence[Way]) -> tuple[Finding, ...]:
    """Follow the outline a cutter's radius beside it, every ring of it through all passes."""
    if not ways:
        return (_no_room(tip, work),)
    for way in ways:
        _cut(tip, way)
    return tuple(_fewer(tip, way.asked, way.count) for way in ways if way.count < way.asked)


def _cut(tip: Tip, way: Way) -> None:
    work, track, tabs = way.work, way.track, way.tabs
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
