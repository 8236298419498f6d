"""Flat slices of solids, cut out, shrunk and compared: the second library's part in the proof of fit. Millimetres.

Like `regions`, a doorway to shapely: what comes out of here is measured, never cut. Regions are given by corners, arcs
already flattened.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import TypeAlias

import shapely
import shapely.affinity
from shapely.geometry import Polygon, box
from shapely.geometry.base import BaseGeometry

Corners = Sequence[tuple[float, float]]
Slice: TypeAlias = BaseGeometry
"""An area, possibly of several pieces, possibly empty."""
Span = tuple[float, float]


def slice_of(outline: Corners, cuts: Iterable[tuple[Corners, Sequence[Corners]]], shrink_mm: float) -> Slice:
    """Return the area within `outline` less each cut (its outline less its islands), drawn in by `shrink_mm` on every
    side, so that areas which only touch no longer do. Corners either way round."""
    area: BaseGeometry = Polygon(outline).buffer(0)
    for cut, islands in cuts:
        area = area.difference(Polygon(cut, list(islands)).buffer(0))
    return area.buffer(-shrink_mm, join_style="mitre")


def common(a: Slice, b: Slice) -> Slice:
    """Return the area in both slices."""
    return a.intersection(b)


def strip(area: Slice, axis: int, span: Span) -> Slice:
    """Return the part of the area whose coordinate along `axis` (0 or 1) lies within the span."""
    if area.is_empty:
        return area
    low_x, low_y, high_x, high_y = area.bounds
    if axis == 0:
        return area.intersection(box(span[0], low_y, span[1], high_y))
    return area.intersection(box(low_x, span[0], high_x, span[1]))


def shadow(area: Slice, axis: int) -> tuple[Span, ...]:
    """Return the spans that the area's pieces take up along `axis` (0 or 1), rising, overlapping ones made one."""
    pieces = [piece for piece in shapely.get_parts(area) if piece.area > 0]
    merged: list[Span] = []
    for low, high in sorted((piece.bounds[axis], piece.bounds[axis + 2]) for piece in pieces):
        if merged and low <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        else:
            merged.append((low, high))
    return tuple(merged)


def extent(area: Slice) -> tuple[Span, Span] | None:
    """Return the spans of an area along both axes, or None when it is nothing."""
    if area.area <= 0:
        return None
    low_x, low_y, high_x, high_y = area.bounds
    return (low_x, high_x), (low_y, high_y)


def rings_of(area: Slice, within_mm: float) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return the boundaries of an area, outsides and holes, each without its first corner repeated; corners that lie
    within `within_mm` of the line without them are left out. Sorted, so that the same area gives the same rings."""
    pieces = (piece for piece in shapely.get_parts(area.simplify(within_mm)) if isinstance(piece, Polygon))
    rings = [ring for piece in pieces if piece.area > 0 for ring in (piece.exterior, *piece.interiors)]
    return tuple(sorted(_from_least(tuple((x, y) for x, y, *_ in ring.coords[:-1])) for ring in rings))


def _from_least(ring: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    start = ring.index(min(ring))
    return ring[start:] + ring[:start]


def swept(area: Slice, axis: int, reach: float) -> Slice:
    """Return what an area covers while it moves by `reach` (either sign) along `axis` (0 or 1)."""
    if area.is_empty:
        return area
    step = (reach, 0.0) if axis == 0 else (0.0, reach)
    moved = shapely.affinity.translate(area, *step)
    strips: list[BaseGeometry] = [area, moved]
    for piece in shapely.get_parts(area):
        for ring in (piece.exterior, *piece.interiors):
            for (ax, ay), (bx, by) in pairwise(ring.coords):
                if (ay, ax)[axis] != (by, bx)[axis]:
                    corners = [(ax, ay), (bx, by), (bx + step[0], by + step[1]), (ax + step[0], ay + step[1])]
                    strips.append(Polygon(corners))
    return shapely.union_all(strips)
