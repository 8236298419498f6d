"""Slots: recesses with two long parallel walls, which a cutter as wide as they are cuts on their centre line."""

import math
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.geometry.curves import Arc, Contour, Line, Segment
from rabbetry.geometry.points import Point, Vector
from rabbetry.tolerances import FIT_MM, POINT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A slot from `start` to `end`, each the middle of a square end or the centre of a round one's half circle."""

    start: Point
    end: Point
    width_mm: float
    round_start: bool = False
    round_end: bool = False

    @property
    def round_ends(self) -> bool:
        """Whether both ends are round."""
        return self.round_start and self.round_end

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

    A slot is a rectangle that is longer than wide, or one whose ends, or one of them, are half circles.
    """
    segments = outline.segments
    if len(segments) != 4:
        return None
    lines = [segment for segment in segments if isinstance(segment, Line)]
    if len(lines) == 4:
        return _rectangle(lines)
    if len(lines) == 2:
        return _capsule(segments)
    if len(lines) == 3:
        return _one_round_end(segments)
    return None


def _one_round_end(segments: tuple[Segment, ...]) -> Slot | None:
    """Return the slot whose one end is a half circle: the arc, a wall, the square end, the other wall."""
    first = next(k for k, segment in enumerate(segments) if isinstance(segment, Arc))
    arc, wall, end, back = segments[first:] + segments[:first]
    assert isinstance(arc, Arc)
    is_half = abs(arc.sweep - math.pi) * arc.radius <= FIT_MM
    out, across = wall.heading(0.0), end.heading(0.0)
    is_square = abs(out.dot(across)) * end.length <= POINT_MM and abs(wall.length - back.length) <= POINT_MM
    runs_on = abs(arc.heading(1.0).cross(out)) * arc.radius <= FIT_MM
    if not (is_half and is_square and runs_on):
        return None
    return Slot(start=arc.centre, end=end.at(0.5), width_mm=2 * arc.radius, round_start=True)


def _rectangle(sides: list[Line]) -> Slot | None:
    for side, after in zip(sides, [*sides[1:], sides[0]], strict=True):
        if abs(side.heading(0).dot(after.heading(0))) * after.length > POINT_MM:
            return None
    first = 1 if sides[0].length >= sides[1].length else 0
    ends = sides[first], sides[first + 2]
    if sides[0].length - sides[1].length == 0.0:
        return None
    return Slot(start=ends[0].at(0.5), end=ends[1].at(0.5), width_mm=ends[0].length)


def _capsule(segments: tuple[Segment, ...]) -> Slot | None:
    arcs = [segment for segment in segments if isinstance(segment, Arc)]
    lines = [segment for segment in segments if isinstance(segment, Line)]
    half = all(abs(arc.sweep - math.pi) * arc.radius <= FIT_MM for arc in arcs)
    opposite = isinstance(segments[0], Arc) == isinstance(segments[2], Arc)
    if not (half and opposite) or abs(lines[0].length - lines[1].length) > FIT_MM:
        return None
    return Slot(start=arcs[0].centre, end=arcs[1].centre, width_mm=2 * arcs[0].radius, round_start=True, round_end=True)


def centre_path(slot: Slot, radius_mm: float, relieved: tuple[Point, ...]) -> Contour | None:
    """Return the open path of a cutter as wide as the slot, or None when the slot is no longer than the cutter is wide.

    At a relieved corner of a square end the path steps to the corner's smallest relief, centre at r/sqrt(2) from both
    walls, and back: the cutter then just covers the corner point.
    """
    start = slot.start + slot.along * (0.0 if slot.round_start else radius_mm)
    end = slot.end + slot.along * (0.0 if slot.round_end else -radius_mm)
    if (end - start).dot(slot.along) <= FIT_MM:
        return None
    points = [start, *(() if slot.round_start else _steps(slot, slot.start, start, radius_mm, relieved)), end]
    points += () if slot.round_end else _steps(slot, slot.end, end, radius_mm, relieved)
    return Contour(tuple(Line(a, b) for a, b in pairwise(points)))


def _steps(slot: Slot, end: Point, centre: Point, radius_mm: float, relieved: tuple[Point, ...]) -> list[Point]:
    steps: list[Point] = []
    for corner in slot.corners(end):
        if any(corner.distance(point) <= 2 * FIT_MM for point in relieved):
            steps += [corner + (centre - corner) * (radius_mm / centre.distance(corner)), centre]
    return steps
