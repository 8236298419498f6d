"""How high the wood still stands at given points: exact for flat-ended cutters on lines, arcs and helices.

A stroke lowers the wood at a point to the lowest height its tip has while the cutter covers the point.
"""

import numpy as np
import shapely

from rabbetry.dryrun.sweep import Sweeps
from rabbetry.dryrun.tolerances import SAME_POINT_MM

Floats = np.ndarray

_AT_ONCE = 4096
"""Points looked at in one go: bounds the memory for programs with many passes over one place."""


class Floors:
    """The strokes of `sweeps` as columns of numbers."""

    def __init__(self, sweeps: Sweeps, stock_top_z: float) -> None:
        self._tree = sweeps.tree
        self._top = stock_top_z
        strokes = sweeps.strokes
        self._start = np.array([stroke.start for stroke in strokes]).reshape(-1, 3)
        self._to = np.array([stroke.to for stroke in strokes]).reshape(-1, 3)
        self._radius = np.array([stroke.cutter.radius_mm if stroke.cutter else 0.0 for stroke in strokes])
        self._is_arc = np.array([stroke.centre is not None for stroke in strokes], dtype=bool)
        self._centre = np.array([stroke.centre or (0.0, 0.0) for stroke in strokes]).reshape(-1, 2)
        self._path_radius = np.array([stroke.radius_mm for stroke in strokes])
        self._sweep = np.array([stroke.sweep_rad for stroke in strokes])

    def at(self, points: Floats, before: Floats | None = None) -> tuple[Floats, Floats]:
        """Return for each point (rows of x, y) the height left and the index of the stroke that left it (-1: none).

        With `before`, only strokes of a smaller index than the point's entry count.
        """
        heights = np.full(len(points), self._top)
        makers = np.full(len(points), -1)
        if len(self._radius):
            for begin in range(0, len(points), _AT_ONCE):
                part = slice(begin, begin + _AT_ONCE)
                limit = None if before is None else before[part]
                self._lower(points[part], limit, heights[part], makers[part])
        return heights, makers

    def _lower(self, points: Floats, before: Floats | None, heights: Floats, makers: Floats) -> None:
        """Put heights and makers of some points into the two arrays."""
        of_point, of_stroke = self._tree.query(shapely.points(points))
        if before is not None:
            wanted = of_stroke < before[of_point]
            of_point, of_stroke = of_point[wanted], of_stroke[wanted]
        lowest = np.full(len(of_point), np.inf)
        arcs = self._is_arc[of_stroke]
        lowest[~arcs] = self._line_heights(points[of_point[~arcs]], of_stroke[~arcs])
        lowest[arcs] = self._arc_heights(points[of_point[arcs]], of_stroke[arcs])
        order = np.lexsort((-of_stroke, -lowest, of_point))  # The last entry of a point wins: lowest, then first.
        order = order[lowest[order] < self._top]
        heights[of_point[order]] = lowest[order]
        makers[of_point[order]] = of_stroke[order]

    def _line_heights(self, points: Floats, index: Floats) -> Floats:
        """Lowest tip height while covering each point; infinity where the stroke never does."""
        start, to, radius = self._start[index], self._to[index], self._radius[index]
        way = to[:, :2] - start[:, :2]
        length = np.hypot(way[:, 0], way[:, 1])
        unit = way / np.maximum(length, SAME_POINT_MM)[:, None]
        away = points - start[:, :2]
        along = (away * unit).sum(axis=1)
        across = np.abs(away[:, 0] * unit[:, 1] - away[:, 1] * unit[:, 0])
        still = length < SAME_POINT_MM
        across = np.where(still, np.hypot(away[:, 0], away[:, 1]), across)
        reach = np.sqrt(np.maximum(radius**2 - across**2, 0.0))
        low, high = np.clip(along - reach, 0.0, length), np.clip(along + reach, 0.0, length)
        covers = (across <= radius) & (still | ((along + reach >= 0.0) & (along - reach <= length)))
        rise = (to[:, 2] - start[:, 2]) / np.maximum(length, SAME_POINT_MM)
        z = np.minimum(start[:, 2] + rise * low, start[:, 2] + rise * high)
        z = np.where(still, np.minimum(start[:, 2], to[:, 2]), z)
        return np.where(covers, z, np.inf)

    def _arc_heights(self, points: Floats, index: Floats) -> Floats:
        """The same for arcs and helices."""
        start, to, radius = self._start[index], self._to[index], self._radius[index]
        centre, path_radius, sweep = self._centre[index], self._path_radius[index], self._sweep[index]
        away, begin = points - centre, start[:, :2] - centre
        distance = np.hypot(away[:, 0], away[:, 1])
        angle = np.arctan2(away[:, 1], away[:, 0]) - np.arctan2(begin[:, 1], begin[:, 0])
        angle = np.mod(angle * np.sign(sweep), 2 * np.pi)
        total = np.abs(sweep)
        span = 2 * distance * path_radius
        cosine = (distance**2 + path_radius**2 - radius**2) / np.maximum(span, SAME_POINT_MM**2)
        half = np.arccos(np.clip(cosine, -1.0, 1.0))
        rise = (to[:, 2] - start[:, 2]) / np.maximum(total, SAME_POINT_MM)
        best = np.full(len(points), np.inf)
        for turn in (-2 * np.pi, 0.0, 2 * np.pi):
            low, high = np.maximum(angle - half + turn, 0.0), np.minimum(angle + half + turn, total)
            z = np.minimum(start[:, 2] + rise * low, start[:, 2] + rise * high)
            best = np.where((cosine <= 1.0) & (low <= high), np.minimum(best, z), best)
        return best
