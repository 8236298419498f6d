"""What the cutters sweep at or below a level, as polygons. Millimetres, program frame.

The region of one stroke is put together from simple pieces with exact corners on the true boundary: a capsule for a
line, a sector and two discs for an arc, a disc for a plunge. Circles are inscribed polygons, so a region is never too
large, and too small by ARC_CHORD_MM at most. (A general buffer of a flattened arc smooths its hollow side by a
hundredth of the radius.)
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.cover import Key
from rabbetry.dryrun.setup import Point2
from rabbetry.dryrun.strokes import Stroke, chords
from rabbetry.dryrun.tolerances import SAME_POINT_MM, TEXT_MM

_KEY_DECIMALS = 4


class Sweeps:
    """The strokes that cut, with their regions by level; pieces are made once."""

    def __init__(self, strokes: Iterable[Stroke], stock_top_z: float) -> None:
        self.strokes = [
            stroke
            for stroke in strokes
            if stroke.cutter is not None and stroke.from_known and stroke.lowest < stock_top_z - TEXT_MM
        ]
        self._pieces: dict[Key, Polygon] = {}
        self._whole: list[tuple[Key, ...] | None] = [None] * len(self.strokes)
        heights = np.array([(stroke.start[2], stroke.to[2]) for stroke in self.strokes]).reshape(-1, 2)
        self.lowest, self._highest = heights.min(axis=1), heights.max(axis=1)
        self.radii = np.array([stroke.cutter.radius_mm if stroke.cutter else 0.0 for stroke in self.strokes])
        self.is_sideways = np.array([not stroke.is_vertical for stroke in self.strokes], dtype=bool)
        bounds = np.array([stroke.bounds() for stroke in self.strokes]).reshape(-1, 4)
        self.tree = shapely.STRtree(
            shapely.box(
                bounds[:, 0] - self.radii,
                bounds[:, 1] - self.radii,
                bounds[:, 2] + self.radii,
                bounds[:, 3] + self.radii,
            )
        )

    @cached_property
    def paths(self) -> np.ndarray:
        """The path of every stroke as a line."""
        ends = np.array([(stroke.start[:2], stroke.to[:2]) for stroke in self.strokes]).reshape(-1, 2, 2)
        paths = np.asarray(shapely.linestrings(ends), dtype=object)
        for index, stroke in enumerate(self.strokes):
            if stroke.centre is not None:
                paths[index] = shapely.LineString(stroke.path())
        return paths

    def near(self, zone: BaseGeometry) -> list[int]:
        """Return the indexes of the strokes whose bounding box meets the zone's, in order of the programs."""
        return sorted(self.tree.query(zone).tolist())

    def pieces(self, strokes: Sequence[int], level: float, *, done: float = -math.inf) -> Iterator[Key]:
        """Yield the pieces that these strokes sweep while the tip is at or below `level`, in order; without strokes
        that are wholly at or below the height `done`."""
        indexes = np.asarray(strokes, dtype=int)
        lowest, highest = self.lowest[indexes], self._highest[indexes]
        for index in indexes[(lowest <= level + TEXT_MM) & (highest > done + TEXT_MM)].tolist():
            yield from self._keys(index, level)

    def union(self, keys: Iterable[Key], base: BaseGeometry) -> BaseGeometry:
        """Return the union of `base` and the pieces."""
        wanted = list(keys)
        missing = [key for key in wanted if key not in self._pieces]
        self._pieces.update(zip(missing, _polygons(missing), strict=True))
        fresh = shapely.union_all([self._pieces[key] for key in wanted])
        return base.union(fresh)

    def _keys(self, index: int, level: float) -> tuple[Key, ...]:
        stroke = self.strokes[index]
        part = stroke.below(level + TEXT_MM)
        if part is None:
            return ()
        if part != (0.0, 1.0):
            return _keys(stroke, *part)
        whole = self._whole[index]
        if whole is None:
            whole = self._whole[index] = _keys(stroke, 0.0, 1.0)
        return whole


def _keys(stroke: Stroke, begin: float, end: float) -> tuple[Key, ...]:
    """Return the pieces of a stroke between two parts of its way."""
    radius = stroke.cutter.radius_mm if stroke.cutter else 0.0
    a, b = _key_point(stroke.at(begin)), _key_point(stroke.at(end))
    if stroke.centre is None:
        if math.dist(a, b) < SAME_POINT_MM:
            return ((radius, *a),)
        return ((radius, *min(a, b), *max(a, b)),)
    sweep = stroke.sweep_rad * (end - begin)
    angle = math.atan2(stroke.start[1] - stroke.centre[1], stroke.start[0] - stroke.centre[0])
    angle += stroke.sweep_rad * begin
    if sweep < 0:  # One way round for both directions, so that a path cut both ways is one piece.
        angle, sweep = angle + sweep, -sweep
    centre = _key_point(stroke.centre)
    path_radius = round(stroke.radius_mm, _KEY_DECIMALS)
    if sweep >= 2 * math.pi - SAME_POINT_MM:
        return ((radius, *centre, path_radius, 0.0, 2 * math.pi),)
    sector = (radius, *centre, path_radius, round(angle % (2 * math.pi), 6), round(sweep, 6))
    return (sector, (radius, *a), (radius, *b))


def _key_point(point: tuple[float, ...]) -> Point2:
    return (round(point[0], _KEY_DECIMALS) + 0.0, round(point[1], _KEY_DECIMALS) + 0.0)


def _polygons(keys: list[Key]) -> list[Polygon]:
    """Return a polygon for each key; discs and capsules of one radius are made in one go."""
    made: dict[Key, Polygon] = {}
    groups: dict[tuple[int, float], list[Key]] = {}
    for key in keys:
        groups.setdefault((len(key), key[0]), []).append(key)
    for (kind, radius), group in groups.items():
        numbers = np.array(group)
        if kind == 3:
            shapes = _discs(numbers, radius)
        elif kind == 5:
            shapes = _capsules(numbers, radius)
        else:
            shapes = [_sector(*key) for key in group]
        made.update(zip(group, shapes, strict=True))
    return [made[key] for key in keys]


def _discs(numbers: np.ndarray, radius: float) -> list[Polygon]:
    circle = _arc_points((0.0, 0.0), radius, 0.0, 2 * math.pi)[:-1]
    return list(shapely.polygons(numbers[:, None, 1:3] + circle[None, :, :]))


def _capsules(numbers: np.ndarray, radius: float) -> list[Polygon]:
    start, end = numbers[:, 1:3], numbers[:, 3:5]
    ahead = (end - start) / np.linalg.norm(end - start, axis=1, keepdims=True)
    left = np.stack((-ahead[:, 1], ahead[:, 0]), axis=1)
    half = _arc_points((0.0, 0.0), radius, -math.pi / 2, math.pi)
    cap = half[None, :, :1] * ahead[:, None, :] + half[None, :, 1:] * left[:, None, :]
    ring = np.concatenate((end[:, None, :] + cap, start[:, None, :] - cap), axis=1)
    return list(shapely.polygons(ring))


def _sector(radius: float, cx: float, cy: float, path_radius: float, begin: float, sweep: float) -> Polygon:
    """Return what lies between the arc's outer and inner edge; from the centre where the cutter reaches it.

    Together with the discs at both ends that is the whole region: where the cutter is wider than the arc, every place
    of it covers the centre.
    """
    centre = (cx, cy)
    outer, inner = path_radius + radius, path_radius - radius
    if sweep >= 2 * math.pi:
        ring = _arc_points(centre, outer, 0.0, 2 * math.pi)
        return Polygon(ring, [_arc_points(centre, inner, 0.0, 2 * math.pi)] if inner > SAME_POINT_MM else [])
    edge = _arc_points(centre, outer, begin, sweep)
    if inner <= SAME_POINT_MM:
        return Polygon([*edge, centre])
    return Polygon([*edge, *_arc_points(centre, inner, begin + sweep, -sweep)])


def _arc_points(centre: Point2, radius: float, begin: float, sweep: float) -> np.ndarray:
    angles = begin + np.linspace(0.0, sweep, max(chords(radius, sweep), 4) + 1)
    return np.stack((centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles)), axis=1)
