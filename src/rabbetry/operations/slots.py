"""Slots: recesses with two long parallel walls, which a cutter as wide as they are cuts on their centre line."""

import math
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.geometry.curves import Arc, Contour, Line, Segment
from rabbetry.geometry.points import Point, Vector
from rabbetry.tolerances import FIT_MM, POINT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A slot from `start` to `end`, the middles of its ends (square) or the centres of its end arcs (round)."""

    start: Point
    end: Point
    width_mm: float
    round_ends: bool

    @property
    def along(self) -> Vector:
        """Unit direction from start to end."""
        return (self.end - self.start).unit()

    def corners(self, end: Point) -> tuple[Point, Point]:
        """Return the two corners of a square end."""
        half = self.along.left() * (self.width_mm / 2)
        return end + half, end + -half


def slot_of(outline: Contour) -> Slot | None:
    """Return the slot that a counter-clockwise outline is, or None.

    A slot is a rectangle that is longer than wide, or two parallel lines and two half circles.
    """
    segments = outline.segments
    if len(segments) != 4:
        return None
    lines = [segment for segment in segments if isinstance(segment, Line)]
    if len(lines) == 4:
        return _rectangle(lines)
    if len(lines) == 2:
        return _capsule(segments)
    return None


def _rectangle(sides: list[Line]) -> Slot | None:
    for side, after in zip(sides, [*sides[1:], sides[0]], strict=True):
        if abs(side.heading(0).dot(after.heading(0))) * after.length > POINT_MM:
            return None
    first = 1 if sides[0].length >= sides[1].length else 0
    ends = sides[first], sides[first + 2]
    if sides[0].length - sides[1].length == 0.0:
        return None
    return Slot(start=ends[0].at(0.5), end=ends[1].at(0.5), width_mm=ends[0].length, round_ends=False)


def _capsule(segments: tuple[Segment, ...]) -> Slot | None:
    arcs = [segment for segment in segments if isinstance(segment, Arc)]
    lines = [segment for segment in segments if isinstance(segment, Line)]
    half = all(abs(arc.sweep - math.pi) * arc.radius <= FIT_MM for arc in arcs)
    opposite = isinstance(segments[0], Arc) == isinstance(segments[2], Arc)
    if not (half and opposite) or abs(lines[0].length - lines[1].length) > FIT_MM:
        return None
    return Slot(start=arcs[0].centre, end=arcs[1].centre, width_mm=2 * arcs[0].radius, round_ends=True)


def centre_path(slot: Slot, radius_mm: float, relieved: tuple[Point, ...]) -> Contour | None:
    """Return the open path of a cutter as wide as the slot, or None when the slot is no longer than the cutter is wide.

    At a relieved corner of a square end the path steps to the corner's smallest relief, centre at r/sqrt(2) from both
    walls, and back: the cutter then just covers the corner point.
    """
    inset = 0.0 if slot.round_ends else radius_mm
    start, end = slot.start + slot.along * inset, slot.end + slot.along * -inset
    if (end - start).dot(slot.along) <= FIT_MM:
        return None
    points = [start, *_steps(slot, slot.start, start, radius_mm, relieved), end]
    points += _steps(slot, slot.end, end, radius_mm, relieved)
    return Contour(tuple(Line(a, b) for a, b in pairwise(points)))


def _steps(slot: Slot, end: Point, centre: Point, radius_mm: float, relieved: tuple[Point, ...]) -> list[Point]:
    if slot.round_ends:
        return []
    steps: list[Point] = []
    for corner in slot.corners(end):
        if any(corner.distance(point) <= 2 * FIT_MM for point in relieved):
            steps += [corner + (centre - corner) * (radius_mm / centre.distance(corner)), centre]
    return steps
