"""A contour measured along its length, so that a cutter can start anywhere on it and go round as often as it must.

Positions are millimetres of travel from the contour's start; on a closed track they may exceed one lap.
"""

import math
from bisect import bisect_right
from collections.abc import Iterator
from functools import cached_property
from itertools import accumulate

from rabbetry.geometry.crossings import foot
from rabbetry.geometry.curves import Arc, Contour, Line, Segment
from rabbetry.geometry.points import Point
from rabbetry.tolerances import MOVE_MM


class Track:
    """The contour with its running lengths."""

    def __init__(self, contour: Contour) -> None:
        self.contour = contour
        self.is_closed = contour.is_closed
        self._ends = tuple(accumulate(segment.length for segment in contour.segments))
        self.length_mm = self._ends[-1]

    def at(self, position: float) -> Point:
        """Return the point at `position`; an open track's ends are its limits."""
        inside = position % self.length_mm if self.is_closed else position
        index = min(bisect_right(self._ends, inside), len(self._ends) - 1)
        segment = self.contour.segments[index]
        return segment.at((inside - self._starts_at(index)) / segment.length)

    def pieces(self, start: float, end: float) -> tuple[Segment, ...]:
        """Return the segments from `start` to `end`, backwards when `end` is less.

        A cut closer than MOVE_MM to a segment's end is moved to that end, so that no hair-thin piece arises.
        """
        if end < start:
            return tuple(piece.reversed() for piece in reversed(self.pieces(end, start)))
        return tuple(self._forward(start, end))

    def nearest(self, point: Point) -> float:
        """Return the position of the track's point nearest to `point`; the first of several."""
        best = (math.inf, 0.0)
        boxes = sorted((_away(box, point), index) for index, box in enumerate(self._boxes))
        for least, index in boxes:
            if least > best[0] + MOVE_MM:
                break
            segment = self.contour.segments[index]
            length = segment.length
            for fraction in (0.0, _fraction_of(segment, point), 1.0):
                away = round(segment.at(fraction).distance(point), 9)
                best = min(best, (away, self._starts_at(index) + fraction * length))
        return best[1]

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Return min x, min y, max x, max y of the contour."""
        return self.contour.bounds

    @cached_property
    def _boxes(self) -> tuple[tuple[float, float, float, float], ...]:
        return tuple(Contour((segment,)).bounds for segment in self.contour.segments)

    def straights(self) -> Iterator[tuple[float, float]]:
        """Yield start and end position of every straight segment."""
        for index, segment in enumerate(self.contour.segments):
            if isinstance(segment, Line):
                yield self._starts_at(index), self._ends[index]

    def _starts_at(self, index: int) -> float:
        return self._ends[index - 1] if index else 0.0

    def _forward(self, start: float, end: float) -> Iterator[Segment]:
        lap = math.floor((start + MOVE_MM) / self.length_mm) if self.is_closed else 0
        while True:
            base = lap * self.length_mm
            for index, segment in enumerate(self.contour.segments):
                low, high = base + self._starts_at(index), base + self._ends[index]
                piece = _part(segment, (start - low), (end - low))
                if piece is not None:
                    yield piece
                if high >= end - MOVE_MM:
                    return
            if not self.is_closed:
                return
            lap += 1


def _away(box: tuple[float, float, float, float], point: Point) -> float:
    """Return how far a point is from a rectangle; 0 within it."""
    return math.hypot(max(box[0] - point.x, 0.0, point.x - box[2]), max(box[1] - point.y, 0.0, point.y - box[3]))


def _part(segment: Segment, start: float, end: float) -> Segment | None:
    """Return the part of the segment between two distances from its start, or None when it is too short to matter."""
    length = segment.length
    first = 0.0 if start <= MOVE_MM else start / length
    last = 1.0 if end >= length - MOVE_MM else end / length
    if first >= 1.0 - MOVE_MM / length or last <= MOVE_MM / length or first >= last:
        return segment if first == 0.0 and last == 1.0 else None
    if first == 0.0 and last == 1.0:
        return segment
    if isinstance(segment, Line):
        return Line(segment.at(first), segment.at(last))
    return Arc(segment.at(first), segment.at(last), segment.centre, segment.turn)


def _fraction_of(segment: Segment, point: Point) -> float:
    near = foot(segment, point)
    if isinstance(segment, Line):
        return min(1.0, max(0.0, segment.start.distance(near) / segment.length
                            * math.copysign(1.0, (near - segment.start).dot(segment.heading(0.0)))))  # fmt: skip
    turned = ((near - segment.centre).angle - (segment.start - segment.centre).angle) * segment.turn % (2 * math.pi)
    return turned / abs(segment.sweep) if turned <= abs(segment.sweep) else 0.0
