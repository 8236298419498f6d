"""The space two panels share where an outline or a recess is slanted or curved. Cabinet frame, millimetres.

Where every face is parallel to the axes, `assemble.shared_space` decides exactly, cell by cell. A curved foot or a
polygon part has no such cells. There each panel is taken apart into slabs, one between each two neighbouring depths of
its recesses: within a slab the panel is one plane region times an interval. Two slabs that lie in parallel planes share
the common part of their regions. Two that stand square to each other share space exactly where the shadows that both
regions cast on the axis common to their planes overlap, each region first cut to the other slab's thickness. So plane
areas and intervals settle it, without a mesh; only arcs are chords, `CHORD_MM` from the true curve.

A panel is always a plane region times a thickness with flat-bottomed recesses, so a library of general solids would
bring a mesh, its own tolerances and one more thing to install, and could say no more.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.fit.assemble import Body, Corners, bounds
from rabbetry.geometry.slices import Slice, Span, common, extent, shadow, slice_of, strip
from rabbetry.panels.model import Vec3
from rabbetry.tolerances import FIT_MM


@dataclass(frozen=True, slots=True)
class Slab:
    """A plane region times an interval: `axis` is the interval's axis, `plane` the region's two, rising."""

    axis: int
    plane: tuple[int, int]
    span: Span
    region: Slice


def slabs_of(body: Body) -> tuple[Slab, ...]:
    """Return the body's slabs, each drawn in by half the fit tolerance on every side: what only touches stays apart."""
    levels = sorted({0.0, body.panel.thickness_mm, *(depth for cut in body.cuts for depth in (cut.start, cut.end))})
    return tuple(_slab(body, high, low) for high, low in pairwise(levels) if low - high > FIT_MM)


def _slab(body: Body, high: float, low: float) -> Slab:
    axis = next(k for k in range(3) if abs(body.place.normal[k]) > _HALF)
    plane = (0 if axis != 0 else 1, 2 if axis != 2 else 1)
    ends = body.place.point(0.0, 0.0, high)[axis], body.place.point(0.0, 0.0, low)[axis]
    middle = (high + low) / 2
    cuts = [
        (_in_plane(body, cut.outline, plane), [_in_plane(body, island, plane) for island in cut.islands])
        for cut in body.cuts
        if cut.start < middle < cut.end
    ]
    region = slice_of(_in_plane(body, body.outline, plane), cuts, FIT_MM / 2)
    return Slab(axis, plane, (min(ends) + FIT_MM / 2, max(ends) - FIT_MM / 2), region)


_HALF = 0.5
"""Axes are parallel or square to each other: their product is 1 or 0."""


def _in_plane(body: Body, corners: Corners, plane: tuple[int, int]) -> Corners:
    points = (body.place.point(x, y, 0.0) for x, y in corners)
    return tuple((point[plane[0]], point[plane[1]]) for point in points)


def shared_by_slabs(a: tuple[Slab, ...], b: tuple[Slab, ...]) -> tuple[Vec3, Vec3] | None:
    """Return the upright box round the space that both panels would fill, or None."""
    found = [corner for first in a for second in b for pair in _shared(first, second) for corner in pair]
    return bounds(found) if found else None


def _shared(a: Slab, b: Slab) -> Iterator[tuple[Vec3, Vec3]]:
    if a.axis == b.axis:
        span = _overlap(a.span, b.span)
        region = extent(common(a.region, b.region)) if span else None
        if span and region:
            yield _box({a.axis: span, a.plane[0]: region[0], a.plane[1]: region[1]})
        return
    along = next(k for k in range(3) if k not in (a.axis, b.axis))
    of_a = strip(a.region, a.plane.index(b.axis), b.span)
    of_b = strip(b.region, b.plane.index(a.axis), a.span)
    for span in _overlaps(shadow(of_a, a.plane.index(along)), shadow(of_b, b.plane.index(along))):
        part_a, part_b = (strip(of_a, a.plane.index(along), span), strip(of_b, b.plane.index(along), span))
        at_a, at_b = extent(part_a), extent(part_b)
        if at_a and at_b:
            yield _box({along: span, b.axis: at_a[a.plane.index(b.axis)], a.axis: at_b[b.plane.index(a.axis)]})


def _overlap(a: Span, b: Span) -> Span | None:
    low, high = max(a[0], b[0]), min(a[1], b[1])
    return (low, high) if low < high else None


def _overlaps(a: tuple[Span, ...], b: tuple[Span, ...]) -> Iterator[Span]:
    for first in a:
        for second in b:
            if span := _overlap(first, second):
                yield span


def _box(spans: dict[int, Span]) -> tuple[Vec3, Vec3]:
    """Undo the drawing in, and set the axes in order."""
    (x0, x1), (y0, y1), (z0, z1) = ((low - FIT_MM / 2, high + FIT_MM / 2) for _, (low, high) in sorted(spans.items()))
    return (x0, y0, z0), (x1, y1, z1)
