"""How near a stroke's path comes to an upright box, seen from above: exact for lines and for arcs. Millimetres.

The least distance between an arc and a rectangle lies at an end of the arc, at a corner of the rectangle, or where the
arc runs along an axis beside an edge; they touch where the circle crosses an edge, or where an end lies inside.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

import shapely

from rabbetry.dryrun.setup import Point2
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.tolerances import SAME_POINT_MM

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""

_TURN = 2 * math.pi


def distance_to_box(stroke: Stroke, box: Box, begin: float = 0.0, end: float = 1.0) -> float:
    """Return the least distance in the plane between a filled box and the path from `begin` to `end` (parts of the way,
    0 to 1); 0 when they meet."""
    if stroke.centre is None or stroke.radius_mm < SAME_POINT_MM:
        ends = stroke.at(begin)[:2], stroke.at(end)[:2]
        return float(shapely.LineString(ends).distance(shapely.box(*box)))
    start, to = stroke.at(begin)[:2], stroke.at(end)[:2]
    nearest = min(_from_point(start, box), _from_point(to, box))
    arc = _Arc(stroke, begin, end)
    if nearest == 0.0 or any(_inside(point, box) for point in arc.crossings(box)):
        return 0.0
    for corner in _corners(box):
        if arc.covers(corner):
            nearest = min(nearest, abs(math.dist(corner, arc.centre) - arc.radius))
    for quarter in range(4):
        point = (
            arc.centre[0] + arc.radius * (1, 0, -1, 0)[quarter],
            arc.centre[1] + arc.radius * (0, 1, 0, -1)[quarter],
        )
        if arc.covers(point):
            nearest = min(nearest, _from_point(point, box))
    return nearest


class _Arc:
    """A part of a stroke's arc, turned through counter-clockwise."""

    def __init__(self, stroke: Stroke, begin: float, end: float) -> None:
        self.centre = stroke.centre or (0.0, 0.0)
        self.radius = stroke.radius_mm
        angle = math.atan2(stroke.start[1] - self.centre[1], stroke.start[0] - self.centre[0])
        low, high = sorted((angle + stroke.sweep_rad * begin, angle + stroke.sweep_rad * end))
        self._low, self._sweep = low, high - low

    def covers(self, point: Point2) -> bool:
        """Tell whether the arc passes the direction in which a point lies from its centre."""
        angle = math.atan2(point[1] - self.centre[1], point[0] - self.centre[0])
        return (angle - self._low) % _TURN <= self._sweep

    def crossings(self, box: Box) -> Iterator[Point2]:
        """Yield where the arc crosses the four lines along the box's edges."""
        for axis in (0, 1):
            for line in (box[axis], box[axis + 2]):
                across = line - self.centre[axis]
                if abs(across) > self.radius:
                    continue
                along = math.sqrt((self.radius - across) * (self.radius + across))
                for value in (self.centre[1 - axis] - along, self.centre[1 - axis] + along):
                    point = (line, value) if axis == 0 else (value, line)
                    if self.covers(point):
                        yield point


def _corners(box: Box) -> list[Point2]:
    return [(x, y) for x in (box[0], box[2]) for y in (box[1], box[3])]


def _from_point(point: Point2, box: Box) -> float:
    x, y = point
    return math.hypot(max(box[0] - x, x - box[2], 0.0), max(box[1] - y, y - box[3], 0.0))


def _inside(point: Point2, box: Box) -> bool:
    return _from_point(point, box) < SAME_POINT_MM


def bent(stroke: Stroke, rates: tuple[float, float, float]) -> list[Stroke]:
    """Return a traverse as a machine drives it that lets each axis run at its own rate: all together until the first
    arrives, then the rest. One stroke when the path is the straight line anyway."""
    way = [to - start for start, to in zip(stroke.start, stroke.to, strict=True)]
    seconds = [abs(part) / rate for part, rate in zip(way, rates, strict=True)]
    times = sorted({round(value, 9) for value in seconds if value > 0.0})
    if len(times) < 2:
        return [stroke]
    points = [stroke.start]
    for time in times[:-1]:
        done = [1.0 if time >= value else time / value for value in seconds]
        x, y, z = (start + part * share for start, part, share in zip(stroke.start, way, done, strict=True))
        points.append((x, y, z))
    points.append(stroke.to)
    return [_piece(stroke, start, to) for start, to in pairwise(points)]


def _piece(stroke: Stroke, start: tuple[float, float, float], to: tuple[float, float, float]) -> Stroke:
    return Stroke(program=stroke.program, line=stroke.line, cutter=stroke.cutter, is_traverse=True, start=start, to=to)
