"""Lines, arcs and contours made of them. Millimetres.

A `Contour` is a chain of segments, each starting where the one before ends; it is closed when it ends where it
starts. Arcs are kept as arcs from the panel to the program; flattening happens only where something is measured or
drawn.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.errors import GeometryError
from rabbetry.geometry.points import Point, Transform, Vector
from rabbetry.tolerances import POINT_MM


@dataclass(frozen=True, slots=True)
class Line:
    """A straight segment."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        return self.start.distance(self.end)

    def at(self, fraction: float) -> Point:
        """Return the point `fraction` (0 to 1) of the way along."""
        return self.start + (self.end - self.start) * fraction

    def heading(self, fraction: float) -> Vector:
        """Return the unit direction of travel."""
        del fraction
        return (self.end - self.start).unit()

    def reversed(self) -> "Line":
        return Line(self.end, self.start)

    def moved(self, transform: Transform) -> "Line":
        return Line(transform(self.start), transform(self.end))


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc; `turn` +1 counter-clockwise, -1 clockwise. End equal to start means a full circle."""

    start: Point
    end: Point
    centre: Point
    turn: int

    @property
    def radius(self) -> float:
        return self.centre.distance(self.start)

    @property
    def sweep(self) -> float:
        """Return the angle turned, radians, signed like `turn`; a full circle is +-2 pi."""
        if self.start.distance(self.end) <= POINT_MM:
            return self.turn * 2 * math.pi
        delta = (self.end - self.centre).angle - (self.start - self.centre).angle
        delta = (delta * self.turn) % (2 * math.pi)
        return self.turn * (delta or 2 * math.pi)

    @property
    def length(self) -> float:
        return abs(self.sweep) * self.radius

    def at(self, fraction: float) -> Point:
        """Return the point `fraction` (0 to 1) of the way along; the ends are exact."""
        if fraction <= 0:
            return self.start
        if fraction >= 1:
            return self.end
        angle = (self.start - self.centre).angle + self.sweep * fraction
        return self.centre + Vector(math.cos(angle), math.sin(angle)) * self.radius

    def heading(self, fraction: float) -> Vector:
        """Return the unit direction of travel `fraction` of the way along."""
        angle = (self.start - self.centre).angle + self.sweep * fraction
        return Vector(math.cos(angle), math.sin(angle)).left() * self.turn

    def reversed(self) -> "Arc":
        return Arc(self.end, self.start, self.centre, -self.turn)

    def moved(self, transform: Transform) -> "Arc":
        turn = -self.turn if transform.is_mirror else self.turn
        return Arc(transform(self.start), transform(self.end), transform(self.centre), turn)


Segment = Line | Arc


@dataclass(frozen=True, slots=True)
class Contour:
    """A chain of lines and arcs, open or closed."""

    segments: tuple[Segment, ...]

    @property
    def start(self) -> Point:
        return self.segments[0].start

    @property
    def end(self) -> Point:
        return self.segments[-1].end

    @property
    def is_closed(self) -> bool:
        return self.start.distance(self.end) <= POINT_MM

    @property
    def length(self) -> float:
        return sum(segment.length for segment in self.segments)

    @property
    def area(self) -> float:
        """Return the enclosed area of a closed contour, exact for arcs, positive when counter-clockwise."""
        total = 0.0
        for segment in self.segments:
            total += (segment.start.x * segment.end.y - segment.end.x * segment.start.y) / 2
            if isinstance(segment, Arc):
                sweep = segment.sweep
                chord_turn = 0.0 if abs(abs(sweep) - 2 * math.pi) < 1e-12 else math.sin(sweep)
                total += segment.radius**2 / 2 * (sweep - chord_turn)
        return total

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Return min x, min y, max x, max y, exact for arcs."""
        xs: list[float] = []
        ys: list[float] = []
        for segment in self.segments:
            for point in _extremes(segment):
                xs.append(point.x)
                ys.append(point.y)
        return min(xs), min(ys), max(xs), max(ys)

    def reversed(self) -> "Contour":
        return Contour(tuple(segment.reversed() for segment in reversed(self.segments)))

    def moved(self, transform: Transform) -> "Contour":
        """Return the contour in another frame. A closed contour keeps its winding (counter-clockwise stays so) even
        when the transform mirrors."""
        moved = Contour(tuple(segment.moved(transform) for segment in self.segments))
        return moved.reversed() if transform.is_mirror and self.is_closed else moved

    def flattened(self, chord_mm: float) -> tuple[Point, ...]:
        """Return points on the contour no farther than `chord_mm` (> 0) from it along each chord. A closed contour
        does not repeat its first point at the end."""
        points = [self.start]
        for segment in self.segments:
            points.extend(_flattened(segment, chord_mm))
        if self.is_closed and len(points) > 1:
            points.pop()
        return tuple(points)


def _extremes(segment: Segment) -> Iterator[Point]:
    yield segment.start
    yield segment.end
    if isinstance(segment, Arc):
        start = (segment.start - segment.centre).angle
        for quarter in range(4):
            angle = quarter * math.pi / 2
            if ((angle - start) * segment.turn) % (2 * math.pi) < abs(segment.sweep):
                yield segment.centre + Vector(math.cos(angle), math.sin(angle)) * segment.radius


def _flattened(segment: Segment, chord_mm: float) -> Iterator[Point]:
    if isinstance(segment, Arc):
        centre, radius, sweep = segment.centre, segment.radius, segment.sweep
        begin = (segment.start - centre).angle
        count = chords_for_arc(radius, sweep, chord_mm)
        for k in range(1, count):
            angle = begin + sweep * (k / count)
            yield Point(centre.x + math.cos(angle) * radius, centre.y + math.sin(angle) * radius)
    yield segment.end


def chords_for_arc(radius: float, sweep: float, chord_mm: float) -> int:
    """Return how many equal chords keep an arc within `chord_mm`: the step is 2 acos(1 - e/R) (sagitta formula)."""
    if chord_mm >= radius:
        return max(1, math.ceil(abs(sweep) / (math.pi / 2)))
    step = 2 * math.acos(1 - chord_mm / radius)
    return max(1, math.ceil(abs(sweep) / step))


def polygon(points: Sequence[Point] | Sequence[tuple[float, float]]) -> Contour:
    """Return the closed contour through `points` (first not repeated). Raises GeometryError for fewer than three."""
    corners = [point if isinstance(point, Point) else Point(*point) for point in points]
    if len(corners) < 3:
        raise GeometryError(f"a polygon needs three points, not {len(corners)}")
    return Contour(tuple(Line(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)))


def rectangle(x: float, y: float, dx: float, dy: float) -> Contour:
    """Return the counter-clockwise rectangle with its lower left corner at (x, y), `dx` by `dy`, both > 0."""
    return polygon([(x, y), (x + dx, y), (x + dx, y + dy), (x, y + dy)])


def circle(centre: Point, radius: float, turn: int = 1) -> Contour:
    """Return the full circle as two half arcs starting at +x, counter-clockwise unless `turn` is -1."""
    right, left = centre + Vector(radius, 0.0), centre + Vector(-radius, 0.0)
    return Contour((Arc(right, left, centre, turn), Arc(left, right, centre, turn)))


def chain(segments: Iterable[Segment]) -> Contour:
    """Return the contour of `segments`, checked: each must start within POINT_MM of where the one before ends."""
    parts = tuple(segments)
    if not parts:
        raise GeometryError("a contour needs at least one segment")
    for before, after in pairwise(parts):
        if before.end.distance(after.start) > POINT_MM:
            raise GeometryError(f"a contour breaks at ({before.end.x:.4f}, {before.end.y:.4f})")
    return Contour(parts)
