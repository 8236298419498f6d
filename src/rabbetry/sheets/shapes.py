"""A panel's outline as a few upright rectangles, so that others may lie in its notches. Panel frame, millimetres."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point
from rabbetry.tolerances import CHORD_MM, POINT_MM

_MOST_COLUMNS = 5
_LEAST_GAIN_MM2 = 60.0 * 60.0
"""Waste smaller than this takes no part that is worth the trouble (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Column:
    """An upright strip of the outline: all of it lies between `low` and `high`, and the strip is wood all through from
    `inner_low` to `inner_high`."""

    x0: float
    x1: float
    low: float
    high: float
    inner_low: float
    inner_high: float

    @property
    def core(self) -> tuple[float, float]:
        """Width and height of the rectangle that is wood all through; a height of 0 or less: none."""
        return self.x1 - self.x0, self.inner_high - self.inner_low


def columns(outline: Contour) -> tuple[Column, ...]:
    """Return at most five columns from left to right that cover the outline, as close as they can.

    Neighbours are joined where that wastes least, until what would be won by keeping them apart is worth it.
    """
    corners = outline.flattened(CHORD_MM)
    xs = sorted({round(point.x, 6) for point in corners})
    made = [column for x0, x1 in pairwise(xs) if x1 - x0 > POINT_MM for column in _column(corners, x0, x1)]
    while len(made) > 1:
        losses = [_loss(a, b) for a, b in pairwise(made)]
        k = min(range(len(losses)), key=lambda n: (losses[n], n))
        if losses[k] >= _LEAST_GAIN_MM2 and len(made) <= _MOST_COLUMNS:
            break
        made[k : k + 2] = [_joined(made[k], made[k + 1])]
    return tuple(made)


def _column(corners: Sequence[Point], x0: float, x1: float) -> list[Column]:
    """Return the strip between two neighbouring corners' x; none where the outline has no wood."""
    spans = []
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        if min(a.x, b.x) <= x0 + POINT_MM and max(a.x, b.x) >= x1 - POINT_MM and abs(a.x - b.x) > POINT_MM:
            slope = (b.y - a.y) / (b.x - a.x)
            at0, at1 = a.y + slope * (x0 - a.x), a.y + slope * (x1 - a.x)
            spans.append((min(at0, at1), max(at0, at1)))
    spans.sort()
    if len(spans) < 2:
        return []
    # More than one edge pair: wood, a gap, wood; what is sure to be wood is the first pair.
    inner_high = spans[1][0]
    return [Column(x0, x1, spans[0][0], spans[-1][1], spans[0][1], inner_high)]


def _joined(a: Column, b: Column) -> Column:
    return Column(
        a.x0,
        b.x1,
        min(a.low, b.low),
        max(a.high, b.high),
        max(a.inner_low, b.inner_low),
        min(a.inner_high, b.inner_high),
    )


def _loss(a: Column, b: Column) -> float:
    """Area that two neighbours cover more when they are joined."""
    both = _joined(a, b)
    return (both.high - both.low) * (both.x1 - both.x0) - sum((c.high - c.low) * (c.x1 - c.x0) for c in (a, b))
