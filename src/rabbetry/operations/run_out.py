"""Past the open edges: a recess that ends at the panel's edge is cut beyond it, so that no wood stays there.

Panel frame. The recess is walked counter-clockwise. A stretch of a straight segment is open where it borders the
outside of the panel or an opening; a whole segment is open also where it borders a recess at least as deep. (Part of a
segment is not: a rabbet is not to be widened into every dado that crosses it.) Only open stretches move outward, by the
cutter's size; everything else keeps its exact lines and arcs. An arc on the panel's edge cannot move and is told.
"""

from dataclasses import dataclass
from itertools import pairwise

import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from rabbetry.geometry.curves import Arc, Contour, Line, Segment, rectangle
from rabbetry.geometry.points import Point, Vector
from rabbetry.geometry.regions import region_polygon
from rabbetry.tolerances import FIT_MM, POINT_MM

RUN_OUT_MM = 0.2
"""The cutter's centre passes an open edge by its radius and this much more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunOut:
    """A recess extended over its open edges."""

    outline: Contour
    beyond: BaseGeometry
    """What the extension adds to the recess."""
    blocked: Point | None
    """A place at an open edge of the panel where there is no room to run out; None when there is room everywhere."""
    cramped: bool
    """Whether a corner is left at an open stretch that stayed: a round cutter would leave wood in it at the edge."""


@dataclass(frozen=True, slots=True)
class _Piece:
    """A segment or a part of one; `out_mm` > 0 when it moves outward by that much."""

    segment: Segment
    out_mm: float = 0.0

    @property
    def outward(self) -> Vector:
        """Unit normal to the right of the travel; straight pieces only."""
        return -self.segment.heading(0.0).left()


def run_out(
    outline: Contour,
    *,
    off: BaseGeometry,
    lower: BaseGeometry,
    diameter_mm: float,
    islands: tuple[Contour, ...] = (),
    whole_only: bool = False,
) -> RunOut:
    """Return `outline` extended over its open stretches for a cutter of `diameter_mm`.

    `off` is the ground without wood of this panel, `lower` its recesses at least as deep. The centre passes the edge by
    a radius and RUN_OUT_MM; where there is less room, by RUN_OUT_MM alone, which still covers the recess. With
    `whole_only`, segments that are open along a part of their length stay as they are.
    """
    may_enter = off.union(lower)
    steps_mm = (diameter_mm + RUN_OUT_MM, diameter_mm / 2 + RUN_OUT_MM)
    pieces: list[_Piece] = []
    blocked: Point | None = None
    stayed: list[Point] = []
    for segment in outline.segments:
        if isinstance(segment, Arc) and off.intersects(_just_outside(segment)):
            blocked = segment.at(0.5)
        parts = _parts(segment, off, may_enter)
        for part, is_open in parts:
            stays = whole_only and len(parts) > 1
            if stays and is_open:
                stayed += [part.start, part.end]
            out_mm = _room(part, may_enter, steps_mm) if is_open and not stays else 0.0
            pieces.append(_Piece(part, out_mm))
            if is_open and not stays and out_mm == 0.0 and off.intersects(_just_outside(part)):
                blocked = part.at(0.5)
    extended = _joined(pieces)
    recess = region_polygon(outline, islands)
    beyond = region_polygon(extended, islands).difference(recess)
    astray = beyond.difference(may_enter).buffer(-FIT_MM)
    if not astray.is_empty:
        place = astray.representative_point()
        blocked = Point(place.x, place.y)
    corners = [segment.start for segment in extended.segments]
    cramped = any(point.distance(corner) <= FIT_MM for point in stayed for corner in corners)
    return RunOut(outline=extended, beyond=beyond, blocked=blocked, cramped=cramped)


def squared(outline: Contour, off: BaseGeometry) -> Contour:
    """Return the upright rectangle around `outline` when all it adds is ground without wood, else `outline` itself.

    A dado that laps a tenth of a millimetre into a notch is drawn with a step; the cutter may take it as a plain slot.
    """
    low_x, low_y, high_x, high_y = outline.bounds
    added = shapely.box(low_x, low_y, high_x, high_y).difference(region_polygon(outline))
    if not added.difference(off).buffer(-POINT_MM).is_empty:
        return outline
    return rectangle(low_x, low_y, high_x - low_x, high_y - low_y)


def _parts(segment: Segment, off: BaseGeometry, may_enter: BaseGeometry) -> list[tuple[Segment, bool]]:
    """Split a segment into closed and open parts, judged by a line FIT_MM outside it."""
    if isinstance(segment, Arc) or segment.length <= POINT_MM:
        return [(segment, False)]
    step = -segment.heading(0.0).left() * FIT_MM
    a, b = segment.start + step, segment.end + step
    probe = LineString([(a.x, a.y), (b.x, b.y)])
    if probe.difference(may_enter).length <= 2 * FIT_MM:
        return [(segment, True)]
    met = probe.intersection(off)
    spans = [_span(part, a, segment.length) for part in getattr(met, "geoms", [met]) if part.length > FIT_MM]
    marks = sorted({0.0, segment.length, *(mark for span in spans for mark in span)})
    return [
        (
            Line(_on(segment, low), _on(segment, high)),
            any(start <= (low + high) / 2 <= end for start, end in spans),
        )
        for low, high in pairwise(marks)
    ]


def _span(part: BaseGeometry, origin: Point, length: float) -> tuple[float, float]:
    """Return how far along the probe a met part runs; ends nearer than 2 FIT_MM to the segment's ends are its ends."""
    ends = sorted(origin.distance(Point(*xy)) for xy in (part.coords[0], part.coords[-1]))
    low = 0.0 if ends[0] <= 2 * FIT_MM else ends[0]
    high = length if ends[1] >= length - 2 * FIT_MM else ends[1]
    return low, high


def _on(line: Line, distance: float) -> Point:
    """Return the point `distance` along; the ends are the line's own."""
    if distance <= 0.0:
        return line.start
    return line.end if distance >= line.length else line.at(distance / line.length)


def _room(part: Segment, may_enter: BaseGeometry, steps_mm: tuple[float, ...]) -> float:
    """Return the first of the steps for which the strip beyond the stretch is free, or 0."""
    outward = -part.heading(0.0).left()
    for step_mm in steps_mm:
        a, b = part.start, part.end
        corners = (a, a + outward * step_mm, b + outward * step_mm, b)
        strip = Polygon([(point.x, point.y) for point in corners])
        if strip.difference(may_enter).buffer(-FIT_MM).is_empty:
            return step_mm
    return 0.0


def _just_outside(part: Segment) -> BaseGeometry:
    middle = part.at(0.5) + -part.heading(0.5).left() * FIT_MM
    return shapely.Point(middle.x, middle.y)


def _joined(pieces: list[_Piece]) -> Contour:
    """Return the contour of the pieces with the open ones moved outward; neighbours that both move meet in a corner."""
    segments: list[Segment] = []
    for before, piece, after in zip([pieces[-1], *pieces[:-1]], pieces, [*pieces[1:], pieces[0]], strict=True):
        if piece.out_mm == 0.0:
            segments.append(piece.segment)
            continue
        start, end = piece.segment.start, piece.segment.end
        first, last = _corner(start, piece, (before, piece)), _corner(end, piece, (piece, after))
        if not _turns(before, piece):
            # From the recess's own corner, or from the neighbour's step, out to the line the stretch moves to.
            segments.append(Line(start + before.outward * before.out_mm if before.out_mm else start, first))
        segments.append(Line(first, last))
        if after.out_mm == 0.0:
            segments.append(Line(last, end))
    return Contour(_without_joints(segments))


def _turns(before: _Piece, after: _Piece) -> bool:
    """Tell whether both pieces move and meet at an angle."""
    return bool(before.out_mm and after.out_mm) and abs(before.outward.cross(after.outward)) > POINT_MM


def _corner(vertex: Point, piece: _Piece, pair: tuple[_Piece, _Piece]) -> Point:
    """Return where the moved `piece` ends: where the pair's moved lines meet, else straight out from `vertex`."""
    before, after = pair
    if _turns(before, after):
        n, m = before.outward, after.outward
        det = n.cross(m)
        step = Vector(before.out_mm * m.dy - after.out_mm * n.dy, after.out_mm * n.dx - before.out_mm * m.dx)
        return vertex + step * (1.0 / det)
    return vertex + piece.outward * piece.out_mm


def _without_joints(segments: list[Segment]) -> tuple[Segment, ...]:
    """Drop lines of no length and join lines that run on straight, round the whole ring."""
    kept: list[Segment] = []
    for segment in segments:
        if segment.length <= POINT_MM and isinstance(segment, Line):
            continue
        if kept and _runs_on(kept[-1], segment):
            kept[-1] = Line(kept[-1].start, segment.end)
        else:
            kept.append(segment)
    if len(kept) > 1 and _runs_on(kept[-1], kept[0]):
        kept[0] = Line(kept.pop().start, kept[0].end)
    return tuple(kept)


def _runs_on(first: Segment, second: Segment) -> bool:
    if not (isinstance(first, Line) and isinstance(second, Line)):
        return False
    a, b = first.heading(0.0), second.heading(0.0)
    return a.dot(b) > 0 and abs(a.cross(b)) * min(first.length, second.length) <= POINT_MM
