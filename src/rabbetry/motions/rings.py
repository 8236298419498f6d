"""Which rings a cutter must follow to clear a region completely. Millimetres, blank frame.

Level 0 runs along the boundary, the next ones each a stepover farther in; every level is offset from the boundary
itself.
"""

import math
from dataclasses import dataclass

from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Contour, Line, Segment
from rabbetry.geometry.offsets import offset_rings
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import Region, grown, region_polygon, swept_by
from rabbetry.operations.model import Clearing
from rabbetry.tolerances import OFFSET_CHORD_MM, OFFSET_PROOF_MM

_OVERLAP_MM = 0.1
"""Neighbouring cuts overlap at least this much (common practice)."""

_NARROWER = 0.75
"""Where ribs are left in sharp corners, the stepover shrinks by this factor, so often at most:"""
_ATTEMPTS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """Rings at one distance from the boundary: the outer ones counter-clockwise, those about islands clockwise."""

    from_boundary_mm: float
    rings: tuple[Contour, ...]


def clearing_levels(work: Clearing, *, radius_mm: float, stepover_mm: float) -> tuple[Level, ...]:
    """Return the levels, outermost first, whose cuts leave no rib and no core; empty when the cutter has no room.

    A point between two levels is within a stepover of the outer one, so a stepover of no more than the cutter's
    radius leaves nothing. A wider one may leave ribs in corners: it is measured, and narrowed until none is left.
    Raises GeometryError when the region is not sound or ribs stay whatever the stepover.
    """
    region = region_polygon(work.region, work.islands)
    stepover = min(stepover_mm, 2 * radius_mm - _OVERLAP_MM)
    for _ in range(_ATTEMPTS):
        levels = _levels(work, radius_mm, stepover)
        if stepover <= radius_mm or not levels or not _has_ribs(region, levels, radius_mm):
            return levels
        stepover *= _NARROWER
    raise GeometryError("ribs are left however close the rings run")


def _has_ribs(region: Region, levels: tuple[Level, ...], radius: float) -> bool:
    swept = swept_by((ring for level in levels for ring in level.rings), radius)
    reachable = grown(grown(region, -radius), radius)
    return not grown(reachable.difference(swept), -OFFSET_PROOF_MM).is_empty


def _levels(work: Clearing, radius: float, stepover: float) -> tuple[Level, ...]:
    levels: list[Level] = []
    distance = radius
    rings = offset_rings(work.region, work.islands, distance_mm=-distance)
    while rings:
        levels.append(Level(from_boundary_mm=distance, rings=rings))
        reached = distance + radius - _OVERLAP_MM
        distance += stepover
        rings = offset_rings(work.region, work.islands, distance_mm=-distance)
        # A last, narrow ring is left out where the cut along the one before it reaches the middle.
        if _mean_width(rings) < radius and not offset_rings(work.region, work.islands, distance_mm=-reached):
            break
    return tuple(levels)


def _mean_width(rings: tuple[Contour, ...]) -> float:
    return 2 * sum(ring.area for ring in rings) / sum(ring.length for ring in rings) if rings else math.inf


def relieved(
    rings: tuple[Contour, ...], corners: tuple[Point, ...], radius: float
) -> tuple[tuple[Contour, ...], list[Point]]:
    """Return the level-0 rings with an excursion at each corner to be relieved, and the corners no ring comes near.

    The cutter's centre leaves the ring where the ring turns at the corner, moves towards the corner until it is one
    radius from it, so that the cutter just touches it, and comes back: the smallest overcut, r / sin(half the angle)
    - r long.
    """
    missed: list[Point] = []
    for corner in corners:
        found = [
            (round(segment.end.distance(corner), 9), i, k)
            for i, ring in enumerate(rings)
            for k, segment in enumerate(ring.segments)
            if _turns(segment, ring.segments[(k + 1) % len(ring.segments)])
        ]
        away, i, k = min(found, default=(4 * radius, 0, 0))
        if away > 3 * radius:
            missed.append(corner)
        elif away > radius + OFFSET_CHORD_MM:
            rings = (*rings[:i], _with_excursion(rings[i], k, corner, radius), *rings[i + 1 :])
    return rings, missed


def _turns(segment: Segment, following: Segment) -> bool:
    return segment.heading(1.0).cross(following.heading(0.0)) > OFFSET_CHORD_MM


def _with_excursion(ring: Contour, index: int, corner: Point, radius: float) -> Contour:
    turn = ring.segments[index].end
    tip = corner + (turn - corner).unit() * radius
    segments = ring.segments
    return Contour((*segments[: index + 1], Line(turn, tip), Line(tip, turn), *segments[index + 1 :]))
