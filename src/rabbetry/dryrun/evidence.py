"""What the programs of a sheet did to the blank, ready to be asked: regions by level and heights by point."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.cover import Cover
from rabbetry.dryrun.floor import Floors
from rabbetry.dryrun.setup import Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.sweep import Sweeps
from rabbetry.dryrun.tolerances import BOUNDARY_MM, OPENING_SLACK_MM, TEXT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Evidence:
    """All strokes of a sheet's programs, in running order."""

    setup: Setup
    programs: tuple[str, ...]
    sweeps: Sweeps
    floors: Floors

    def floor_at(self, x: float, y: float) -> tuple[float, Stroke | None]:
        """Return the height of the wood left at a point, and the stroke that left it."""
        heights, makers = self.floors.at(np.array([[x, y]]))
        maker = int(makers[0])
        return float(heights[0]), self.sweeps.strokes[maker] if maker >= 0 else None


class Zone:
    """The strokes near one panel, with the regions they removed.

    `levels` are the heights that will be asked for. They are worked out from the lowest up, each from the one below it:
    what was cut deep was cut above too, so that a profile's many laps are put together once.
    """

    def __init__(self, evidence: Evidence, shape: BaseGeometry, levels: Iterable[float]) -> None:
        self.evidence = evidence
        # The kerf belongs to the panel's zone too: a neighbour's cut may run in it and take the tabs.
        kerf = max((cutter.diameter_mm for cutter in evidence.setup.cutters), default=0.0)
        near = evidence.sweeps.near(shapely.box(*shape.bounds).buffer(kerf, join_style="mitre"))
        indexes = np.array(near, dtype=int)
        self._sideways_ones = indexes[evidence.sweeps.is_sideways[indexes]]
        self._removed: dict[float, BaseGeometry] = {}
        cover, done = Cover(), -math.inf
        shape = shapely.Polygon()
        for level in sorted(set(levels)):
            fresh = cover.add(evidence.sweeps.pieces(near, level, done=done))
            if fresh:
                shape = evidence.sweeps.union(fresh, shape)
                shapely.prepare(shape)
            self._removed[level], done = shape, level

    def removed(self, level_z: float) -> BaseGeometry:
        """Return what was removed at or below one of the zone's heights."""
        return self._removed[level_z]

    def widest_beside(self, edge: BaseGeometry, level_z: float, slack_mm: float) -> float:
        """Return the radius of the widest cutter whose side ran along an edge (a line) at or below a height; 0 when
        none did."""
        beside = (radius for radius, gap in self._sideways(edge, level_z) if abs(gap - radius) <= slack_mm)
        return max(beside, default=0.0)

    def widest_within(self, region: BaseGeometry, level_z: float) -> float:
        """Return the radius of the widest cutter that moved sideways within a region at or below a height; 0 when
        none did."""
        return max((radius for radius, gap in self._sideways(region, level_z) if gap <= 0.0), default=0.0)

    def _sideways(self, shape: BaseGeometry, level_z: float) -> list[tuple[float, float]]:
        """Return radius and distance to a shape of every stroke near it that cuts sideways."""
        sweeps = self.evidence.sweeps
        low = self._sideways_ones[sweeps.lowest[self._sideways_ones] <= level_z + TEXT_MM]
        gaps = shapely.distance(sweeps.paths[low], shape)
        return list(zip(sweeps.radii[low].tolist(), gaps.tolist(), strict=True))


def without_slivers(shape: BaseGeometry, slack_mm: float = BOUNDARY_MM) -> list[BaseGeometry]:
    """Return the polygons of a region that are wider than a tolerance, largest first.

    A narrow strip is ignored for its width alone, however long; a small round hole is not.
    """
    parts = shapely.get_parts(shape.buffer(-slack_mm / 2, quad_segs=2))
    kept = [part for part in parts if part.area > 0.0]
    return sorted(kept, key=lambda part: (-part.area, part.bounds))


def reachable(free: BaseGeometry, radius_mm: float) -> BaseGeometry:
    """Return what a round cutter can cover inside a free region: the region opened by the cutter."""
    radius = max(radius_mm - OPENING_SLACK_MM, 0.001)
    return free.buffer(-radius).buffer(radius)


def somewhere_in(shape: BaseGeometry) -> tuple[float, float]:
    """Return a point of a region."""
    point = shape.representative_point()
    return point.x, point.y
