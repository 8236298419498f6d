"""Panels as solids standing in the box. Cabinet frame, millimetres.

A panel stands square to the axes of the cabinet. A point belongs to its body when it lies within the panel's thickness
and outline and outside its recesses and cut-outs. Round holes are not taken out: nothing enters them. Where all faces
of two bodies are parallel to the axes, `shared_space` is exact; slanted and curved ones are settled by `slabs`."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point, Transform
from rabbetry.panels.model import Box, CutOut, Panel, Place, Recess, Vec3, moved_feature
from rabbetry.tolerances import CHORD_MM, FIT_MM, POINT_MM

Corners = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """Wood taken out between two depths below the machined face: a recess of that face from 0 to its own depth, one of
    the rear face from its floor to the panel's thickness, a cut-out through."""

    outline: Corners
    islands: tuple[Corners, ...]
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Body:
    """A placed panel: its upright box in the cabinet frame, and its flattened contours in the panel frame."""

    panel: Panel
    place: Place
    low: Vec3
    high: Vec3
    outline: Corners
    cuts: tuple[Cut, ...]
    is_square: bool
    """Whether every face is parallel to an axis."""


def assemble(box: Box) -> dict[str, Body]:
    """Return the body of every placed panel by the panel's id."""
    return {panel.id: body_of(panel, panel.place) for panel in box.panels if panel.place is not None}


def in_panel(place: Place, point: Vec3) -> tuple[float, float, float]:
    """Return panel x, panel y and depth below the machined face of a point of the cabinet frame."""
    step = (point[0] - place.origin[0], point[1] - place.origin[1], point[2] - place.origin[2])
    return _dot(step, place.x_axis), _dot(step, place.y_axis), -_dot(step, place.normal)


def box_in_panel(place: Place, low: Vec3, high: Vec3) -> tuple[Vec3, Vec3]:
    """Return an upright box of the cabinet frame as low and high panel x, panel y and depth."""
    a, b = in_panel(place, low), in_panel(place, high)
    return (min(a[0], b[0]), min(a[1], b[1]), min(a[2], b[2])), (max(a[0], b[0]), max(a[1], b[1]), max(a[2], b[2]))


def is_wood(body: Body, point: Vec3) -> bool:
    """Tell whether the point lies in the panel's body."""
    x, y, depth = in_panel(body.place, point)
    if not 0 < depth < body.panel.thickness_mm or not is_inside(body.outline, x, y):
        return False
    return not any(
        cut.start < depth < cut.end
        and is_inside(cut.outline, x, y)
        and not any(is_inside(island, x, y) for island in cut.islands)
        for cut in body.cuts
    )


def shared_space(a: Body, b: Body) -> tuple[Vec3, Vec3] | None:
    """Return the upright box round the space that both panels' wood would fill, or None.

    The two boxes' common part is split at every face of either panel; within a cell nothing changes, so its centre
    decides. Cells thinner than the fit tolerance are rounding.
    """
    low = (max(a.low[0], b.low[0]), max(a.low[1], b.low[1]), max(a.low[2], b.low[2]))
    high = (min(a.high[0], b.high[0]), min(a.high[1], b.high[1]), min(a.high[2], b.high[2]))
    if any(top - bottom <= FIT_MM for bottom, top in zip(low, high, strict=True)):
        return None
    faces = [*_faces(a), *_faces(b)]
    xs, ys, zs = (_cells(low[k], high[k], [face[k] for face in faces]) for k in range(3))
    found = [
        ((x0, y0, z0), (x1, y1, z1))
        for x0, x1 in xs
        for y0, y1 in ys
        for z0, z1 in zs
        if _both_wood(a, b, ((x0 + x1) / 2, (y0 + y1) / 2, (z0 + z1) / 2))
    ]
    if not found:
        return None
    lows, highs = zip(*found, strict=True)
    return bounds((*lows, *highs))


def bounds(points: Sequence[Vec3]) -> tuple[Vec3, Vec3]:
    """Return the least and greatest x, y and z of the points."""
    xs, ys, zs = zip(*points, strict=True)
    return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))


def body_of(panel: Panel, place: Place) -> Body:
    """Return the panel's body. Raises GeometryError when the place is not square to the cabinet's axes."""
    if any(abs(part) > POINT_MM and abs(abs(part) - 1) > POINT_MM for part in (*place.x_axis, *place.y_axis)):
        raise GeometryError(f"{panel.id} does not stand square to the axes of its box")
    corners = [
        place.point(x, y, depth)
        for x in (0.0, panel.length_mm)
        for y in (0.0, panel.width_mm)
        for depth in (0.0, panel.thickness_mm)
    ]
    low, high = bounds(corners)
    outline, cuts = ring_of(panel.outline), tuple(_cuts(panel))
    rings = (outline, *(ring for cut in cuts for ring in (cut.outline, *cut.islands)))
    return Body(panel, place, low, high, outline, cuts, all(_is_square(ring) for ring in rings))


def banded_bounds(body: Body, band_mm: float) -> tuple[Vec3, Vec3]:
    """Return the least and greatest x, y and z of the panel with bands of that thickness on its banded edges."""
    panel, bands = body.panel, dict.fromkeys(body.panel.banded_edges, band_mm)
    return bounds(
        [
            body.place.point(x, y, depth)
            for x in (-bands.get("x0", 0.0), panel.length_mm + bands.get("x1", 0.0))
            for y in (-bands.get("y0", 0.0), panel.width_mm + bands.get("y1", 0.0))
            for depth in (0.0, panel.thickness_mm)
        ]
    )


def _is_square(ring: Corners) -> bool:
    """Tell whether each edge runs along x or y. A flattened arc's do not."""
    return all(
        min(abs(a[0] - b[0]), abs(a[1] - b[1])) <= POINT_MM for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
    )


def _cuts(panel: Panel) -> Iterator[Cut]:
    thickness = panel.thickness_mm
    for feature in panel.features:
        if isinstance(feature, Recess):
            yield _cut(feature, 0.0, feature.depth_mm)
        elif isinstance(feature, CutOut):
            yield Cut(ring_of(feature.outline), (), 0.0, thickness)
    for feature in panel.rear_features:
        if isinstance(feature, Recess):
            yield _cut(feature, thickness - feature.depth_mm, thickness)


def _cut(recess: Recess, start: float, end: float) -> Cut:
    return Cut(ring_of(recess.outline), tuple(ring_of(island) for island in recess.islands), start, end)


def turned_over(body: Body) -> Body:
    """Return the same body in the same place, seen on its rear face: that is the machined one of the panel returned,
    and its y runs the other way."""
    panel, place = body.panel, body.place
    mirror = Transform.mirror_y(panel.width_mm)
    turned = replace(
        panel,
        outline=panel.outline.moved(mirror),
        features=tuple(moved_feature(item, mirror) for item in panel.rear_features),
        rear_features=tuple(moved_feature(item, mirror) for item in panel.features),
        front_edge=_SWAPPED.get(panel.front_edge, panel.front_edge),
        banded_edges=tuple(_SWAPPED.get(edge, edge) for edge in panel.banded_edges),
    )
    x, y, z = place.y_axis
    origin = place.point(0.0, panel.width_mm, panel.thickness_mm)
    return body_of(turned, Place(origin=origin, x_axis=place.x_axis, y_axis=(0.0 - x, 0.0 - y, 0.0 - z)))


_SWAPPED = {"y0": "y1", "y1": "y0"}


def ring_of(contour: Contour) -> Corners:
    """Return the contour's corners, arcs flattened to within CHORD_MM."""
    return tuple((point.x, point.y) for point in contour.flattened(CHORD_MM))


def _faces(body: Body) -> Iterator[Vec3]:
    """Yield points that between them lie on every face of the body."""
    yield body.low
    yield body.high
    for x, y in body.outline:
        yield body.place.point(x, y, 0.0)
    for cut in body.cuts:
        for x, y in (*cut.outline, *(corner for island in cut.islands for corner in island)):
            yield body.place.point(x, y, cut.start)
            yield body.place.point(x, y, cut.end)


def _cells(low: float, high: float, faces: Sequence[float]) -> list[tuple[float, float]]:
    cuts = sorted({low, high, *(face for face in faces if low < face < high)})
    return [(a, b) for a, b in pairwise(cuts) if b - a > FIT_MM]


def _both_wood(a: Body, b: Body, point: Vec3) -> bool:
    return is_wood(a, point) and is_wood(b, point)


def is_inside(corners: Corners, x: float, y: float) -> bool:
    """Tell whether the point lies in the closed chain of corners: crossings of a ray towards +x, odd or even."""
    inside = False
    for k, (x1, y1) in enumerate(corners):
        x0, y0 = corners[k - 1]
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) / (y1 - y0) * (x1 - x0):
            inside = not inside
    return inside


def _dot(a: Vec3, b: Vec3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def centre_in_box(place: Place, centre: Point) -> Vec3:
    """Return the cabinet-frame position of a point on the machined face."""
    return place.point(centre.x, centre.y, 0.0)
