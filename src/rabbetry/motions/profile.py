"""Cutting along an outline, with tabs or a skin that hold the part. Millimetres, z = 0 at the stock's top."""

from collections.abc import Sequence

from rabbetry.findings import Finding, finding
from rabbetry.motions.finish import lead_for
from rabbetry.motions.holding import Way
from rabbetry.motions.passes import pass_floors, ramp_length
from rabbetry.motions.tabs import Tabs, cut_over
from rabbetry.motions.tip import Tip
from rabbetry.motions.track import Track
from rabbetry.operations.model import Profile


def plan_profile(tip: Tip, work: Profile, ways: Sequence[Way]) -> tuple[Finding, ...]:
    """Follow the outline a cutter's radius beside it, every ring of it through all passes."""
    if not ways:
        return (_no_room(tip, work),)
    for way in ways:
        _cut(tip, way)
    return tuple(_fewer(tip, way.asked, way.count) for way in ways if way.count < way.asked)


def _cut(tip: Tip, way: Way) -> None:
    work, rough = way.work, way.rough
    depth = work.thickness_mm - work.skin_mm if work.skin_mm > 0 else work.depth_mm
    floors = pass_floors(depth, tip.operation)
    if rough is None:
        tip.enter(way.track.at(0.0))
        _rough_out(tip, way.track, 0.0, floors, way.tabs)
    else:
        start = rough.nearest(way.track.at(0.0))
        tip.enter(rough.at(start))
        first = len(floors) if work.own_finish else _finished_from(floors, way)
        position = _rough_out(tip, rough, start, floors[:first], way.rough_tabs)
        for floor in floors[first:] or floors[-1:]:
            position = _finish(tip, way, rough, position, floor)
    tip.lift()


def _rough_out(tip: Tip, track: Track, position: float, floors: Sequence[float], tabs: Tabs | None) -> float:
    """Ramp down along the ring to each floor and cut a lap there; return the position where the last one ends."""
    for floor in floors:
        position = _ramp(tip, track, position, floor, tabs)
        # One lap at the floor, which also takes what the ramp left.
        cut_over(tip, track, (position, position + track.length_mm), (floor, floor), tabs)
    return position


def _ramp(tip: Tip, track: Track, position: float, floor: float, tabs: Tabs | None) -> float:
    deep = position + ramp_length(max(tip.z - floor, 0.0), tip.operation)
    if deep > position:
        cut_over(tip, track, (position, deep), (tip.z, floor), tabs)
    return deep % track.length_mm


def _finished_from(floors: Sequence[float], way: Way) -> int:
    """Return which pass is the first along the edge: the first that goes below the tabs' tops, or the last. It takes
    the allowance over its whole depth, so those below it need no second lap."""
    if way.tabs is None:
        return len(floors) - 1
    return min(len(floors) - 1, sum(floor >= way.tabs.top_z for floor in floors))


def _finish(tip: Tip, way: Way, rough: Track, position: float, floor: float) -> float:
    """Go down to the floor on the rough ring, on to the edge by a lead, once round, and back; return the position on
    the rough ring."""
    position = _ramp(tip, rough, position, floor, way.rough_tabs)
    lead = lead_for(way, rough, position)
    if lead.leave > position:
        cut_over(tip, rough, (position, lead.leave), (floor, floor), way.rough_tabs)
    tip.feed_to(way.track.at(lead.meet))
    cut_over(tip, way.track, (lead.meet, lead.meet + way.track.length_mm), (floor, floor), way.tabs)
    tip.feed_to(rough.at(lead.back))
    return lead.back % rough.length_mm


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
