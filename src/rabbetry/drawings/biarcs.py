"""A smooth curve as a chain of arcs and lines within a tolerance.

Each stretch of the curve is replaced by two arcs that meet smoothly and take over its end points and end directions;
where they stray too far the stretch is halved. The tolerance is checked at points of the curve.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from rabbetry.geometry.curves import Arc, Line, Segment
from rabbetry.geometry.points import Point, Vector

Curve = Callable[[float], tuple[Point, Vector]]
"""From a parameter to the point and the derivative there."""

_MOST_HALVINGS = 14
_SAMPLES = 8
_MOST_TURN = math.pi / 2
"""A stretch that turns more is halved before it is tried."""
_STEP_IN = 1e-6
"""Directions are taken this share of a stretch inside its ends: a curve may have a corner at the end."""
_STRAIGHT = 1e-3
"""An arc that bows less than this share of the tolerance is drawn as a line."""


def arcs_along(curve: Curve, stops: Sequence[float], tolerance: float) -> tuple[Segment, ...]:
    """Return lines and arcs no farther than `tolerance` (> 0) from the curve between the first and the last stop, and
    through all stops; the curve may have corners at stops alone. Stretches without length are left out."""
    found: list[Segment] = []
    for start, end in pairwise(stops):
        if end > start:
            found.extend(_stretch(curve, start, end, tolerance, 0))
    return tuple(found)


def _stretch(curve: Curve, start: float, end: float, tolerance: float, depth: int) -> Iterator[Segment]:
    first, last = curve(start)[0], curve(end)[0]
    inside = (end - start) * _STEP_IN
    before, after = curve(start + inside)[1], curve(end - inside)[1]
    halves = _MOST_HALVINGS - depth
    if before.length > 0 and after.length > 0:
        a, b = before.unit(), after.unit()
        parts = _two_arcs(first, a, last, b, tolerance * _STRAIGHT)
        turn = abs(math.atan2(a.cross(b), a.dot(b)))
        if turn <= _MOST_TURN and _is_near(curve, start, end, parts, tolerance):
            yield from parts
            return
    if not halves or (first.distance(last) <= tolerance * _STRAIGHT and depth > 2):
        if first != last:
            yield Line(first, last)
        return
    middle = (start + end) / 2
    yield from _stretch(curve, start, middle, tolerance, depth + 1)
    yield from _stretch(curve, middle, end, tolerance, depth + 1)


def _is_near(curve: Curve, start: float, end: float, parts: Sequence[Segment], tolerance: float) -> bool:
    if not parts:
        return False
    for k in range(1, _SAMPLES):
        point = curve(start + (end - start) * k / _SAMPLES)[0]
        if min(_distance(part, point) for part in parts) > tolerance:
            return False
    return True


def _distance(part: Segment, point: Point) -> float:
    if isinstance(part, Arc):
        return abs(point.distance(part.centre) - part.radius)
    along = part.heading(0.0)
    reach = (point - part.start).dot(along)
    if 0.0 <= reach <= part.length:
        return abs(along.cross(point - part.start))
    return min(point.distance(part.start), point.distance(part.end))


def _two_arcs(first: Point, a: Vector, last: Point, b: Vector, straight: float) -> tuple[Segment, ...]:
    """Return the two arcs from `first` in direction `a` to `last` in direction `b`, met half way; nothing where there
    are none. The reach is the root of the square equation that makes both arcs' tangent lengths equal."""
    across = last - first
    if across.length == 0.0:
        return ()
    both = a + b
    lean, bend = across.dot(both), 2 * (1 - a.dot(b))
    if bend > 1e-12:
        reach = (-lean + math.sqrt(lean * lean + bend * across.dot(across))) / bend
    elif across.dot(b) > 0:
        reach = across.dot(across) / (4 * across.dot(b))
    else:
        return ()
    if not 0 < reach < 10 * across.length:
        return ()
    inner = (a - b) * (reach / 2)
    middle = Point((first.x + last.x) / 2 + inner.dx, (first.y + last.y) / 2 + inner.dy)
    return (_arc(first, a, middle, straight), _arc(last, -b, middle, straight).reversed())


def _arc(start: Point, heading: Vector, end: Point, straight: float) -> Segment:
    """Return the arc that leaves `start` in a direction and reaches `end`; a line where it hardly bows."""
    chord = end - start
    cross = heading.cross(chord)
    if chord.length == 0.0 or abs(cross) / 4 <= straight:
        return Line(start, end)
    radius = chord.dot(chord) / (2 * cross)
    return Arc(start, end, start + heading.left() * radius, 1 if radius > 0 else -1)
