"""Where the supporting curves (endless line, full circle) of two segments meet, and feet of perpendiculars.
Millimetres."""

import math

from rabbetry.geometry.curves import Arc, Line, Segment
from rabbetry.geometry.points import Point, Vector


def supporting_crossings(first: Segment, second: Segment) -> tuple[Point, ...]:
    """Return the points common to both supporting curves: none, one (lines) or two, the two equal when they touch.

    Parallel lines and concentric circles give none, also when they coincide.
    """
    if isinstance(first, Line):
        if isinstance(second, Line):
            return _line_line(first, second)
        return _line_circle(first, second)
    if isinstance(second, Line):
        return _line_circle(second, first)
    return _circle_circle(first, second)


def foot(segment: Segment, point: Point) -> Point:
    """Return the point of the segment's supporting curve nearest to `point`; at a circle's centre, the segment's
    start."""
    if isinstance(segment, Line):
        along = segment.heading(0.0)
        return segment.start + along * (point - segment.start).dot(along)
    out = point - segment.centre
    if out.length == 0.0:
        return segment.start
    return segment.centre + out.unit() * segment.radius


def _line_line(first: Line, second: Line) -> tuple[Point, ...]:
    u, v = first.heading(0.0), second.heading(0.0)
    sine = u.cross(v)
    if sine == 0.0:
        return ()
    return (first.start + u * ((second.start - first.start).cross(v) / sine),)


def _line_circle(line: Line, arc: Arc) -> tuple[Point, ...]:
    near = foot(line, arc.centre)
    square = arc.radius**2 - arc.centre.distance(near) ** 2
    if square < 0:
        return ()
    step = line.heading(0.0) * math.sqrt(square)
    return near + step, near + -step


def _circle_circle(first: Arc, second: Arc) -> tuple[Point, ...]:
    between = second.centre - first.centre
    apart = between.length
    if apart == 0.0:
        return ()
    along = (apart**2 + first.radius**2 - second.radius**2) / (2 * apart)
    square = first.radius**2 - along**2
    if square < 0:
        return ()
    axis = between.unit()
    middle = first.centre + axis * along
    step: Vector = axis.left() * math.sqrt(square)
    return middle + step, middle + -step
