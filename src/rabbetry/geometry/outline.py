"""An outline drawn from corner to corner, with rounded corners and arcs. Millimetres.

The closed outline runs through its stations in order and back to the first. A station's `radius` rounds its corner; a
station with `through` is reached by the arc that passes through that point.
"""

import math
from dataclasses import dataclass

from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Arc, Contour, Line, Segment
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.tolerances import POINT_MM


@dataclass(frozen=True, slots=True)
class Station:
    """A corner of an outline: where it is, how round, and by which arc it is reached (None: straight)."""

    at: Point
    radius: float = 0.0
    through: Point | None = None


def outline_through(stations: tuple[Station, ...]) -> Contour:
    """Return the closed contour, counter-clockwise whichever way round the stations run.

    Raises GeometryError, naming the place, for fewer than three stations (two when one is reached by an arc), two
    stations in one place, an arc through three points of a line, a radius that does not fit its corner, and an outline
    that crosses or touches itself.
    """
    if len(stations) < (2 if any(station.through for station in stations) else 3):
        raise GeometryError(f"an outline of {len(stations)} corners encloses nothing")
    edges = [_edge(before.at, station) for before, station in zip((stations[-1], *stations), stations, strict=False)]
    cuts = [
        _cut(edge, after, station) for edge, after, station in zip(edges, edges[1:] + edges[:1], stations, strict=True)
    ]
    for edge, start, end in zip(edges, (cuts[-1], *cuts), cuts, strict=False):
        if isinstance(edge, Line) and start + end > edge.length + POINT_MM:
            raise GeometryError(
                f"the radii at {_place(edge.start)} and {_place(edge.end)} take {start + end:.2f} mm of the "
                f"{edge.length:.2f} mm between them"
            )
    contour = Contour(tuple(_segments(edges, cuts, stations)))
    region_polygon(contour)
    return contour if contour.area > 0 else contour.reversed()


def _edge(start: Point, station: Station) -> Segment:
    end = station.at
    if start.distance(end) <= POINT_MM:
        raise GeometryError(f"two corners stand at {_place(end)}")
    if station.through is None:
        return Line(start, end)
    u, v = station.through - start, end - start
    twice = 2 * u.cross(v)
    if abs(twice) <= POINT_MM * v.length:
        raise GeometryError(f"the arc to {_place(end)} has no bend: its three points are on a line")
    # Centre of the circle through three points, from the first one.
    uu, vv = u.dot(u), v.dot(v)
    centre = Point(start.x + (v.dy * uu - u.dy * vv) / twice, start.y + (u.dx * vv - v.dx * uu) / twice)
    return Arc(start, end, centre, 1 if twice > 0 else -1)


def _cut(edge: Segment, after: Segment, station: Station) -> float:
    """Return how much a station's radius takes off both edges that meet there."""
    if station.radius <= 0:
        return 0.0
    if isinstance(edge, Arc) or isinstance(after, Arc):
        raise GeometryError(f"the corner at {_place(station.at)} cannot be rounded: an arc begins or ends there")
    a, b = edge.heading(1.0), after.heading(0.0)
    angle = abs(math.atan2(a.cross(b), a.dot(b)))
    if math.pi - angle < _NEEDLE_RAD:
        raise GeometryError(f"the outline turns straight back at {_place(station.at)}")
    return station.radius * math.tan(angle / 2)


_NEEDLE_RAD = 1e-3
"""A corner sharper than this, a twentieth of a degree, is no corner."""


def _segments(edges: list[Segment], cuts: list[float], stations: tuple[Station, ...]) -> list[Segment]:
    found: list[Segment] = []
    shortened = [_shortened(edge, start, end) for edge, start, end in zip(edges, (cuts[-1], *cuts), cuts, strict=False)]
    for index, (edge, station) in enumerate(zip(shortened, stations, strict=True)):
        if edge.length > POINT_MM:
            found.append(edge)
        after = shortened[(index + 1) % len(shortened)]
        if cuts[index] > POINT_MM:
            found.append(_fillet(edges[index], edge.end, after.start, station.radius))
    return found


def _shortened(edge: Segment, start: float, end: float) -> Segment:
    if isinstance(edge, Arc):
        return edge
    along = edge.heading(0.0)
    return Line(edge.start + along * start if start else edge.start, edge.end + along * -end if end else edge.end)


def _fillet(edge: Segment, start: Point, end: Point, radius: float) -> Arc:
    along = edge.heading(1.0)
    turn = 1 if along.cross(end - start) > 0 else -1
    return Arc(start, end, start + along.left() * (radius * turn), turn)


def _place(point: Point) -> str:
    return f"({point.x:g}, {point.y:g})"
