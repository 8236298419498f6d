"""Where each kind of work may be entered, for the tour. Millimetres, blank frame."""

from dataclasses import replace

from rabbetry.geometry.curves import Contour, Line
from rabbetry.geometry.points import Point
from rabbetry.operations.model import CentreLine, Clearing, Drilling, Operation, Profile, SpiralBore, pass_count
from rabbetry.operations.tour import Stop

_APART_MM = 150.0
"""Doors on a straight are at most this far apart: nearer ones save no way worth the search."""


def stop_of(operation: Operation) -> Stop:
    """Return where an operation may be entered, and whether it ends where it begins."""
    work = operation.work
    if isinstance(work, Drilling | SpiralBore):
        return Stop(holes=work.centres)
    if isinstance(work, Profile):
        return Stop(doors=_on_straights(work.outline, operation.cutter.cut_diameter_mm))
    if isinstance(work, Clearing):
        return Stop(doors=_along_middle(work.region))
    ends = work.path.start, work.path.end
    if work.path.is_closed:
        return Stop(doors=ends[:1])
    # Each pass goes back along the one before.
    is_crossed = pass_count(work.depth_mm, operation.pass_mm) % 2 == 1
    return Stop(through=ends) if is_crossed else Stop(doors=ends)


def _on_straights(outline: Contour, clear_mm: float) -> tuple[Point, ...]:
    """Return points on the straights, at least `clear_mm` from their ends, where the way in marks no corner; those on
    the longest straight first. An outline without a straight so long is entered in the middle of any segment."""
    lines = [part for part in outline.segments if isinstance(part, Line) and part.length > 2 * clear_mm]
    if not lines:
        return tuple(part.at(0.5) for part in outline.segments)
    doors: list[Point] = []
    for line in sorted(lines, key=lambda one: (-round(one.length, 6), round(one.start.y, 6), round(one.start.x, 6))):
        doors += _spread(line.at(clear_mm / line.length), line.at(1 - clear_mm / line.length))
    return tuple(doors)


def _along_middle(region: Contour) -> tuple[Point, ...]:
    """Return points along the middle of a region's rectangle, half its width from the ends: where its innermost ring
    lies, if it is a rectangle."""
    low_x, low_y, high_x, high_y = region.bounds
    half = min(high_x - low_x, high_y - low_y) / 2
    return _spread(Point(low_x + half, low_y + half), Point(high_x - half, high_y - half))


def _spread(first: Point, last: Point) -> tuple[Point, ...]:
    """Return the middle of a way, then its ends and the points between, evenly."""
    count = 2 * max(1, round(first.distance(last) / 2 / _APART_MM))
    if first.distance(last) < 1.0:
        return (first,)
    points = [first + (last - first) * (k / count) for k in range(count + 1)]
    return (points.pop(count // 2), *points)


def visited(operation: Operation, points: tuple[Point, ...]) -> Operation:
    """Return an operation as it is to be done when it is entered at the first of `points`; holes: only these, in this
    order."""
    work = operation.work
    if isinstance(work, Drilling | SpiralBore):
        return replace(operation, work=replace(work, centres=points))
    if isinstance(work, CentreLine):
        is_turned = points[0].distance(work.path.start) > points[0].distance(work.path.end)
        return replace(operation, work=replace(work, path=work.path.reversed())) if is_turned else operation
    return replace(operation, entry=points[0])
