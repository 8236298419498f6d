"""Exact offsets of closed contours: lines stay lines and arcs stay arcs. Millimetres.

How the rings hang together (what is cut away, what splits in two) is asked of one engine, pyclipper, on flattened
contours; its integers live here and nowhere else. Each ring is then rebuilt from the source: beside a line runs a
parallel line, beside an arc a concentric arc, about a corner that sticks out an arc of the offset's radius;
neighbours meet at their exact crossing. A ring that cannot be rebuilt, or that ends up away from the engine's, is an
error, never a chain of chords.
"""

import math
from collections.abc import Iterable
from functools import lru_cache

import numpy as np
import numpy.typing as npt
import pyclipper

from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Arc, Contour, Line, Segment, polygon
from rabbetry.geometry.points import Point
from rabbetry.geometry.rebuild import rebuild
from rabbetry.geometry.regions import farthest_mm, region_polygon
from rabbetry.tolerances import OFFSET_CHORD_MM, OFFSET_PROOF_MM, POINT_MM, SMOOTH_MM

_UNITS_PER_MM = 100_000
"""Engine units in a millimetre: 0.00001 mm, and 10 m still inside the engine's fast range."""

Array = npt.NDArray[np.float64]


def offset_rings(outer: Contour, islands: Iterable[Contour] = (), *, distance_mm: float) -> tuple[Contour, ...]:
    """Return the boundary of the region `outer` less `islands`, grown by `distance_mm`, or shrunk when it is
    negative.

    Contours may run either way. The rings returned have the region on their left: outer rings counter-clockwise,
    holes clockwise; sorted by lower left corner. Empty when nothing is left; an opening wider than twice the
    distance by less than OFFSET_CHORD_MM counts as nothing. Raises GeometryError when a contour is open, crosses or
    touches itself (naming the point) or an island does not lie inside.
    """
    return _offset_rings(outer, tuple(islands), distance_mm)


@lru_cache(maxsize=256)
def _offset_rings(outer: Contour, islands: tuple[Contour, ...], distance_mm: float) -> tuple[Contour, ...]:
    source = (_wound(outer, 1), *(_wound(island, -1) for island in islands))
    region_polygon(source[0], source[1:], chord_mm=OFFSET_CHORD_MM)
    if distance_mm == 0.0:
        return source
    grow = distance_mm > 0
    # From here on the side where the offset lies is to the left of everything.
    beside = tuple(contour.reversed() for contour in source) if grow else source
    trails = [trail for contour in beside for trail in _trails(contour, abs(distance_mm))]
    try:
        rings = _rings(source, trails, distance_mm, OFFSET_CHORD_MM)
    except GeometryError:
        # Where an arc just vanishes in a sharp corner, the chords err by their error over half the angle's sine.
        rings = _rings(source, trails, distance_mm, OFFSET_CHORD_MM / 16)
    return tuple(sorted(rings, key=lambda ring: ring.bounds))


def _rings(source: tuple[Contour, ...], trails: list[Segment], distance: float, chord: float) -> list[Contour]:
    rings = []
    for numeric in _engine(source, distance, chord):
        ring = rebuild(numeric[::-1] if distance > 0 else numeric, trails)
        _prove(ring, numeric)
        rings.append(ring.reversed() if distance > 0 else ring)
    return rings


def _wound(contour: Contour, turn: int) -> Contour:
    tidy = simplified(contour)
    return tidy if tidy.area * turn > 0 else tidy.reversed()


def simplified(contour: Contour) -> Contour:
    """Return the closed contour without repeated points and with collinear lines joined; a full circle becomes two
    halves.

    Raises GeometryError when nothing is left of it or it is open.
    """
    if not contour.is_closed:
        raise GeometryError(f"an outline is open: it ends at ({contour.end.x:.4f}, {contour.end.y:.4f})")
    parts: list[Segment] = []
    for segment in contour.segments:
        if isinstance(segment, Arc) and abs(segment.sweep) > 1.5 * math.pi:
            middle = segment.at(0.5)
            parts += [Arc(segment.start, middle, segment.centre, segment.turn),
                      Arc(middle, segment.end, segment.centre, segment.turn)]  # fmt: skip
        elif segment.length > POINT_MM:
            parts.append(segment)
    joined: list[Segment] = []
    for segment in parts:
        if joined and _is_straight_on(joined[-1], segment):
            joined[-1] = Line(joined[-1].start, segment.end)
        else:
            joined.append(segment)
    if len(joined) > 2 and _is_straight_on(joined[-1], joined[0]):
        joined = [Line(joined[-1].start, joined[0].end), *joined[1:-1]]
    if len(joined) < 2:
        raise GeometryError(f"the outline at ({contour.start.x:.4f}, {contour.start.y:.4f}) encloses nothing")
    return Contour(tuple(joined))


def _is_straight_on(first: Segment, second: Segment) -> bool:
    if not (isinstance(first, Line) and isinstance(second, Line)):
        return False
    bend = first.heading(1.0).cross(second.heading(0.0))
    return abs(bend) * min(first.length, second.length) < POINT_MM and first.heading(1.0).dot(second.heading(0.0)) > 0


def _trails(contour: Contour, radius: float) -> list[Segment]:
    """Return the curves that run `radius` to the left of each element, and about each corner that turns right."""
    trails: list[Segment] = []
    for segment, following in zip(contour.segments, (*contour.segments[1:], contour.segments[0]), strict=True):
        start_left, end_left = segment.heading(0.0).left() * radius, segment.heading(1.0).left() * radius
        if isinstance(segment, Line):
            trails.append(Line(segment.start + start_left, segment.end + end_left))
        elif segment.turn < 0 or segment.radius > radius + POINT_MM:
            trails.append(Arc(segment.start + start_left, segment.end + end_left, segment.centre, segment.turn))
        ahead, after = segment.heading(1.0), following.heading(0.0)
        bend = math.atan2(ahead.cross(after), ahead.dot(after))
        # A cusp bends by half a turn, and which way is then a matter of rounding; an arc too many does no harm.
        if bend * radius < -SMOOTH_MM or bend > math.pi - SMOOTH_MM:
            corner = segment.end
            trails.append(Arc(corner + end_left, corner + after.left() * radius, corner, -1))
    return trails


def _engine(source: tuple[Contour, ...], distance: float, chord: float) -> list[Array]:
    """Return the rings of the flattened, offset region, the region on their left."""
    left, bottom, _, _ = source[0].bounds
    origin = np.array([left, bottom])
    engine = pyclipper.PyclipperOffset(2.0, chord * _UNITS_PER_MM)
    for contour in source:
        flat = np.array([(point.x, point.y) for point in contour.flattened(chord)])
        whole = np.rint((flat - origin) * _UNITS_PER_MM).astype(np.int64)
        engine.AddPath(whole.tolist(), pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    rings = [np.array(path, dtype=np.float64) / _UNITS_PER_MM for path in engine.Execute(distance * _UNITS_PER_MM)]
    return [ring + origin for ring in rings if _mean_width(ring) > OFFSET_CHORD_MM]


def _mean_width(ring: Array) -> float:
    after = np.roll(ring, -1, axis=0)
    area = abs(float(np.sum(ring[:, 0] * after[:, 1] - after[:, 0] * ring[:, 1]))) / 2
    return 2 * area / float(np.sum(np.hypot(*(after - ring).T)))


def _prove(ring: Contour, numeric: Array) -> None:
    """Compare with the engine's ring: no vertex of it far from ours, and no excursion of ours that it knows nothing
    of.

    A corner of ours may stick out farther than the engine's, which the chords of vanishing arcs blunt; hence the
    area.
    """
    check = polygon([Point(float(x), float(y)) for x, y in numeric])
    apart = max(farthest_mm(check, ring, chord_mm=OFFSET_CHORD_MM), abs(abs(check.area) - abs(ring.area)) / ring.length)
    if apart > OFFSET_PROOF_MM or not ring.is_closed:
        raise GeometryError(
            f"an offset near ({ring.start.x:.4f}, {ring.start.y:.4f}) does not agree with its check by {apart:.4f} mm"
        )
