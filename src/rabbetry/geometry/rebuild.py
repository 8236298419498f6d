"""A ring of chords made exact again: each chord belongs to a known curve, and neighbouring curves meet where they
cross.

A *trail* is a line or arc that some part of the ring follows, in the ring's direction of travel. Millimetres.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from rabbetry.errors import GeometryError
from rabbetry.geometry.crossings import foot, supporting_crossings
from rabbetry.geometry.curves import Arc, Contour, Line, Segment
from rabbetry.geometry.points import Point
from rabbetry.tolerances import OFFSET_CHORD_MM, OFFSET_PROOF_MM, POINT_MM, SMOOTH_MM

Array = npt.NDArray[np.float64]

_SHORTEST_CHORD_MM = OFFSET_CHORD_MM / 10
"""Shorter chords, a few steps of the engine's grid, have no direction worth trusting."""

_SAME_WAY = 0.5
"""Least cosine between a chord and the trail it follows: keeps the two sides of a hair-thin ring apart."""


@dataclass(frozen=True, slots=True)
class _Run:
    """Chords in a row that follow one trail, and where the first of them starts."""

    trail: Segment
    near: Point


def rebuild(ring: Array, trails: Sequence[Segment]) -> Contour:
    """Return the exact closed contour that the chords of `ring` (n points, x and y) stand for.

    Raises GeometryError when a chord follows none of the trails, or neighbouring trails do not meet.
    """
    runs = _runs(ring, trails)
    while len(runs) > 1:
        meets = [_meeting(runs[i - 1].trail, run.trail, run.near) for i, run in enumerate(runs)]
        segments = [_between(run.trail, meets[i], meets[(i + 1) % len(runs)]) for i, run in enumerate(runs)]
        lost = next((i for i, segment in enumerate(segments) if segment is None), None)
        if lost is None:
            return Contour(tuple(segment for segment in segments if segment is not None))
        # A sliver of a run between two curves that meet in its place.
        after = (lost + 1) % len(runs)
        middle = runs[lost].near + (runs[after].near - runs[lost].near) * 0.5
        runs[after] = _Run(runs[after].trail, middle)
        del runs[lost]
        runs = _merged(runs)
    raise GeometryError(f"the offset ring near ({ring[0][0]:.4f}, {ring[0][1]:.4f}) cannot be made of lines and arcs")


def _runs(ring: Array, trails: Sequence[Segment]) -> list[_Run]:
    chords = np.roll(ring, -1, axis=0) - ring
    lengths = np.hypot(chords[:, 0], chords[:, 1])
    kept = lengths > _SHORTEST_CHORD_MM
    starts, chords = ring[kept], chords[kept] / lengths[kept][:, None]
    middles = (starts + np.roll(ring, -1, axis=0)[kept]) / 2
    away = np.array([_deviations(trail, middles, chords) for trail in trails])
    nearest = away.argmin(axis=0)
    worst = away[nearest, np.arange(len(middles))]
    if len(worst) == 0 or worst.max() > OFFSET_PROOF_MM:
        x, y = ring[0] if len(worst) == 0 else middles[int(worst.argmax())]
        raise GeometryError(f"the offset at ({x:.4f}, {y:.4f}) belongs to no part of the outline")
    runs = [
        _Run(trails[label], Point(float(x), float(y))) for label, (x, y) in zip(nearest, starts.tolist(), strict=True)
    ]
    return _merged(runs)


def _merged(runs: list[_Run]) -> list[_Run]:
    """Join neighbours, also last and first, that follow the same trail."""
    return [run for i, run in enumerate(runs) if run.trail is not runs[i - 1].trail] or runs[:1]


def _deviations(trail: Segment, points: Array, directions: Array) -> Array:
    """Return how far each point is from the trail; infinite where the trail runs another way."""
    if isinstance(trail, Line):
        start, along = np.array([trail.start.x, trail.start.y]), trail.heading(0.0)
        t = np.clip((points - start) @ np.array([along.dx, along.dy]), 0.0, trail.length)
        feet = start + t[:, None] * np.array([along.dx, along.dy])
        away = np.hypot(*(points - feet).T)
        headings = np.broadcast_to([along.dx, along.dy], points.shape)
    else:
        out = points - np.array([trail.centre.x, trail.centre.y])
        distance = np.maximum(np.hypot(*out.T), POINT_MM)
        first = (trail.start - trail.centre).angle
        turned = ((np.arctan2(out[:, 1], out[:, 0]) - first) * trail.turn) % (2 * math.pi)
        ends = np.array([(end.x, end.y) for end in (trail.start, trail.end)])
        to_ends = np.hypot(*(points[:, None, :] - ends[None, :, :]).transpose(2, 0, 1)).min(axis=1)
        away = np.where(turned <= abs(trail.sweep), np.abs(distance - trail.radius), to_ends)
        headings = np.stack([-out[:, 1], out[:, 0]], axis=1) / distance[:, None] * trail.turn
    return np.where((headings * directions).sum(axis=1) >= _SAME_WAY, away, np.inf)


def _meeting(first: Segment, second: Segment, near: Point) -> Point:
    """Return where the ring passes from one trail to the next: their common end, or their crossing nearest to
    `near`."""
    radii = [trail.radius for trail in (first, second) if isinstance(trail, Arc)]
    # Curves that touch run beside each other for a while: the chord error moves the change along by sqrt(2 R e).
    reach = 4 * math.sqrt(OFFSET_CHORD_MM * max(radii, default=0.0)) + 10 * OFFSET_PROOF_MM
    common = first.end + (second.start - first.end) * 0.5
    if first.end.distance(second.start) <= 2 * SMOOTH_MM and near.distance(common) <= reach:
        return common
    crossings = supporting_crossings(first, second)
    if crossings:
        best = min(crossings, key=near.distance)
        if best.distance(near) <= reach or not radii:
            return best
    one = foot(first, near)
    other = foot(second, one)
    if one.distance(other) <= OFFSET_PROOF_MM:
        return one + (other - one) * 0.5
    raise GeometryError(f"neighbouring parts of an offset do not meet near ({near.x:.4f}, {near.y:.4f})")


def _between(trail: Segment, start: Point, end: Point) -> Segment | None:
    """Return the piece of the trail's curve from `start` to `end`; None when there is none or it would run
    backwards."""
    if isinstance(trail, Line):
        return Line(start, end) if (end - start).dot(trail.heading(0.0)) > SMOOTH_MM else None
    arc = Arc(start, end, trail.centre, trail.turn)
    if start.distance(end) <= SMOOTH_MM:
        return None
    slack = 0.5 * math.pi
    return arc if abs(arc.sweep) <= abs(trail.sweep) + slack else None
