"""The one doorway to shapely: contours become polygons to be checked and measured. Millimetres.

Arcs are flattened here, so nothing that comes out of this module is ever cut: paths are made by `offsets` from exact
lines and arcs, and this second library only checks and measures them.
"""

import math
from collections.abc import Iterable

import shapely
from shapely.geometry import LineString, MultiLineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from rabbetry.errors import GeometryError
from rabbetry.geometry import points
from rabbetry.geometry.curves import Arc, Contour, chords_for_arc
from rabbetry.tolerances import CHORD_MM

Region = BaseGeometry
"""Any area or lines of the second library, for those who only pass it on."""


def region_polygon(outer: Contour, islands: Iterable[Contour] = (), *, chord_mm: float = CHORD_MM) -> Polygon:
    """Return the polygon of `outer` less `islands`, either way round, arcs flattened to `chord_mm`.

    Raises GeometryError when a contour is open, crosses or touches itself (naming the point), or an island is not
    inside.
    """
    rings = [_ring(contour, chord_mm) for contour in (outer, *islands)]
    polygon = Polygon(rings[0], rings[1:])
    if not polygon.is_valid:
        raise GeometryError(_complaint(shapely.is_valid_reason(polygon)))
    return polygon


def boundary_lines(contours: Iterable[Contour], *, chord_mm: float = CHORD_MM) -> BaseGeometry:
    """Return the contours, open or closed, as one geometry to measure distances from."""
    return MultiLineString([_coordinates(contour, chord_mm) for contour in contours])


def distance_mm(shape: BaseGeometry, *path: points.Point) -> float:
    """Return the distance between `shape` and the straight path through the points (one point: that point)."""
    coordinates = [(point.x, point.y) for point in path]
    return float(shape.distance(LineString(coordinates) if len(coordinates) > 1 else Point(coordinates[0])))


def swept_by(contours: Iterable[Contour], radius_mm: float, *, chord_mm: float = CHORD_MM) -> BaseGeometry:
    """Return the area a round cutter of `radius_mm` covers when its centre follows the contours."""
    return grown(boundary_lines(contours, chord_mm=chord_mm), radius_mm, chord_mm=chord_mm)


def grown(shape: BaseGeometry, distance: float, *, chord_mm: float = CHORD_MM) -> BaseGeometry:
    """Return `shape` grown (or, when negative, shrunk) by `distance`, its round corners within `chord_mm`.

    The library thins out chains of short chords by up to a hundredth of the distance, and such errors add up: growing
    finely flattened hollow arcs by 20 mm was seen to come out 2 mm too far, by up to 12.7 mm it was sound. For larger
    distances ask `offsets.offset_rings`.
    """
    if distance == 0.0:
        return shape
    quarter = chords_for_arc(abs(distance), math.pi / 2, chord_mm)
    return shape.buffer(distance, quad_segs=quarter)


def farthest_mm(contour: Contour, other: Contour, *, chord_mm: float) -> float:
    """Return the largest distance from a vertex of the flattened `contour` to `other`."""
    vertices = shapely.points(_coordinates(contour, chord_mm))
    return float(shapely.distance(LineString(_coordinates(other, chord_mm)), vertices).max())


def outside_mm(shape: Contour, outline: Contour) -> float:
    """Return about how far `shape` reaches out of `outline`; 0 when it stays in, to within a chord error. Raises
    GeometryError as region_polygon."""
    outer = region_polygon(outline)
    over = region_polygon(shape).difference(outer)
    if over.buffer(-CHORD_MM / 2).is_empty:
        return 0.0
    # Corners may all lie on the rim, where the shape spans a bay: middles of edges count too.
    edges = [shapely.segmentize(part.exterior, part.length / _SAMPLES) for part in shapely.get_parts(over)]
    return max(float(Point(xy).distance(outer)) for edge in edges for xy in edge.coords)


_SAMPLES = 64
"""Places round a piece at which its distance is measured: a message needs no more."""


def touches_rim(shape: Contour, outline: Contour) -> bool:
    """Tell whether no wood stays between `shape` and the rim of `outline`, to within a chord error."""
    return bool(region_polygon(shape).distance(region_polygon(outline).exterior) <= CHORD_MM)


def clipped_rings(shape: Contour, outline: Contour) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Return the rings, counter-clockwise and not closed, of the parts of `shape` within `outline`, both straight-edged
    where they meet; from the left, then from below."""
    met = region_polygon(shape).intersection(region_polygon(outline))
    pieces = [part for part in shapely.get_parts(met) if isinstance(part, Polygon) and part.area > 0]
    rings = [tuple(shapely.geometry.polygon.orient(piece).exterior.coords)[:-1] for piece in pieces]
    return tuple(sorted(rings, key=min))


def touches_arcs(shape: Contour, outline: Contour, *, chord_mm: float = CHORD_MM) -> bool:
    """Tell whether an arc of `outline` reaches into `shape`."""
    region = region_polygon(shape)
    arcs = [Contour((segment,)) for segment in outline.segments if isinstance(segment, Arc)]
    return any(region.intersection(boundary_lines([arc], chord_mm=chord_mm)).length > chord_mm for arc in arcs)


def _ring(contour: Contour, chord_mm: float) -> list[tuple[float, float]]:
    if not contour.is_closed:
        raise GeometryError(
            f"an outline is open: it starts at {_place(contour.start)} and ends at {_place(contour.end)}"
        )
    flat = contour.flattened(chord_mm)
    if len(flat) < 3:
        raise GeometryError(f"the outline at {_place(contour.start)} encloses nothing")
    return [(point.x, point.y) for point in flat]


def _coordinates(contour: Contour, chord_mm: float) -> list[tuple[float, float]]:
    flat = list(contour.flattened(chord_mm))
    if contour.is_closed:
        flat.append(flat[0])
    return [(point.x, point.y) for point in flat]


def _place(point: points.Point) -> str:
    return f"({point.x:.4f}, {point.y:.4f})"


def _complaint(reason: str) -> str:
    """Say shapely's reason, `Self-intersection[5 5]`, in our words."""
    kind, _, rest = reason.partition("[")
    place = "({:.4f}, {:.4f})".format(*(float(part) for part in rest.rstrip("]").split()[:2])) if rest else ""
    if "elf-intersection" in kind:
        return f"an outline crosses or touches itself at {place}"
    return f"an outline is not sound at {place}: {kind.lower()}"
