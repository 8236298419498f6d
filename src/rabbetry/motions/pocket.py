"""Recesses wider than the cutter, cleared by rings from the middle out. Millimetres, z = 0 at the stock's top."""

import math
from dataclasses import dataclass, replace

from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Contour, circle
from rabbetry.geometry.points import Point, Transform
from rabbetry.geometry.regions import Region, boundary_lines, distance_mm, region_polygon
from rabbetry.motions.passes import cut_ring, pass_floors, ramp_length
from rabbetry.motions.rings import Level, clearing_levels, relieved
from rabbetry.motions.tip import Tip
from rabbetry.motions.track import Track
from rabbetry.operations.model import Clearing
from rabbetry.tolerances import OFFSET_PROOF_MM

_SHARE_FOR_HELIX = 0.9
"""A helix for the way down has at most this share of the cutter's radius, so that it leaves no core."""

_MOST_LAPS = 60
"""A ring so small that its ramp needs more laps is no way down."""


@dataclass(frozen=True, slots=True)
class _Ring:
    """One ring to follow, and how much farther than the cutter's radius it is from the boundary."""

    track: Track
    slack_mm: float


def plan_pocket(tip: Tip, work: Clearing) -> tuple[Finding, ...]:
    """Clear each connected part of the region in turn, all its passes, each pass from the innermost ring outward."""
    operation = tip.operation
    radius = operation.cutter.radius_mm
    levels = clearing_levels(work, radius_mm=radius, stepover_mm=operation.stepover_mm)
    if not levels:
        return (_no_room(tip, work.region.start),)
    wall, missed = relieved(levels[0].rings, work.relieved_corners, radius)
    levels = (replace(levels[0], rings=wall), *levels[1:])
    boundary = boundary_lines((work.region, *work.islands))
    findings = [_not_relieved(tip, corner) for corner in missed]
    parts = _connected(levels, radius, climb=work.climb)
    for rings in sorted(parts, key=lambda part: _away(part[0], operation.entry)):
        findings += _clear(tip, rings, boundary, work)
    tip.lift()
    return tuple(findings)


def _connected(levels: tuple[Level, ...], radius: float, *, climb: bool) -> list[list[_Ring]]:
    """Group the rings by the connected part of the region that the cutter's centre can reach, innermost first, each in
    the direction asked for: as the levels have them, the wall is on the right."""
    outers = [ring for ring in levels[0].rings if ring.area > 0]
    parts: list[list[_Ring]] = [[] for _ in outers]
    areas = [region_polygon(_without_excursions(outer)) for outer in outers]
    for level in reversed(levels):
        for ring in level.rings:
            inside = min(range(len(outers)), key=lambda i: distance_mm(areas[i], ring.segments[0].at(0.5)))
            track = Track(ring if climb else ring.reversed())
            parts[inside].append(_Ring(track, level.from_boundary_mm - radius))
    return parts


def _without_excursions(ring: Contour) -> Contour:
    """Leave out the there-and-back moves of relieved corners, which enclose nothing."""
    parts = ring.segments
    skip = {j % len(parts) for i, part in enumerate(parts) if parts[i - 1] == part.reversed() for j in (i - 1, i)}
    return Contour(tuple(part for i, part in enumerate(parts) if i not in {s % len(parts) for s in skip}))


def _clear(tip: Tip, rings: list[_Ring], boundary: Region, work: Clearing) -> list[Finding]:
    reached = 0.0
    for floor in pass_floors(work.depth_mm, tip.operation):
        left = list(rings)
        while left:
            before = tip.place or tip.operation.entry
            ring = _next(left, before)
            left.remove(ring)
            start = ring.track.nearest(before) if before else 0.0
            place = ring.track.at(start)
            if tip.z < 0 and _is_clear(tip, place, boundary):
                tip.feed_to(place)
            else:
                tip.enter(place, reached)
            if tip.z > floor and not _way_down(tip, ring, (start, floor), climb=work.climb):
                return [_no_room(tip, place)]
            start = ring.track.nearest(tip.place) if tip.place else start
            cut_ring(tip, ring.track, start, floor)
        reached = floor
    tip.lift()
    return []


def _next(rings: list[_Ring], place: Point | None) -> _Ring:
    """Return the nearest of the innermost rings that are left."""
    innermost = [ring for ring in rings if ring.slack_mm == rings[0].slack_mm]
    if place is None:
        return innermost[0]
    return min(innermost, key=lambda ring: _away(ring, place))


def _away(ring: _Ring, place: Point | None) -> float:
    """Return a ring's distance from a place, for comparing; 0 from nowhere."""
    return round(ring.track.at(ring.track.nearest(place)).distance(place), 6) if place is not None else 0.0


def _is_clear(tip: Tip, place: Point, boundary: Region) -> bool:
    """Tell whether the cutter can go straight to a place at its depth without touching what must remain."""
    assert tip.place is not None
    return distance_mm(boundary, tip.place, place) >= tip.operation.cutter.radius_mm - OFFSET_PROOF_MM


def _way_down(tip: Tip, ring: _Ring, to: tuple[float, float], *, climb: bool) -> bool:
    """Prepare the way down to the floor: nothing to do where the ring itself will serve as a ramp, else a helix
    beside it, else straight down. False when the cutter can do none of these."""
    start, floor = to
    laps = ramp_length(tip.z - floor, tip.operation) / ring.track.length_mm
    if laps <= _MOST_LAPS and ring.track.length_mm >= tip.operation.cutter.radius_mm:
        return True
    room = min(_SHARE_FOR_HELIX * tip.operation.cutter.radius_mm, ring.slack_mm / 2)
    place = ring.track.at(start)
    if room > 0 and ramp_length(tip.z - floor, tip.operation) <= _MOST_LAPS * 2 * math.pi * room:
        helix = circle(Point(0.0, 0.0), room, 1 if climb else -1).moved(Transform.shift(place.x - room, place.y))
        end = cut_ring(tip, Track(helix), 0.0, floor)
        tip.follow(Track(helix).pieces(end, 2 * math.pi * room))
        return True
    if tip.operation.cutter.centre_cutting:
        tip.plunge(floor)
        return True
    return laps <= _MOST_LAPS


def _no_room(tip: Tip, place: Point) -> Finding:
    operation = tip.operation
    return finding(
        "no-room-for-cutter",
        f"{operation.name}: cutter {operation.cutter.number} ({operation.cutter.cut_diameter_mm:g} mm) has no room "
        f"at ({place.x:.3f}, {place.y:.3f}), or no room to ramp down",
        panel=operation.panel,
        x=place.x,
        y=place.y,
    )


def _not_relieved(tip: Tip, corner: Point) -> Finding:
    return finding(
        "corner-not-relieved",
        f"{tip.operation.name}: the corner at ({corner.x:.3f}, {corner.y:.3f}) cannot be relieved: the cutter does not "
        f"reach it",
        panel=tip.operation.panel,
        x=corner.x,
        y=corner.y,
    )
