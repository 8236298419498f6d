"""Toe-kick pieces as panels. Millimetres.

Seen from the front with its show face up: x from the left end to the right, y up to the straight top edge. Cut face
down it is the mirror image, left and right changed over. A valance stands on a foot at either end; between them its
lower edge is level, and an arc tangent to both runs from it into each foot.
"""

import math
from itertools import pairwise

from rabbetry.cabinets.model import KickPiece
from rabbetry.geometry.curves import Arc, Contour, Line, Segment
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import KickStyle
from rabbetry.panels.model import Panel
from rabbetry.tolerances import POINT_MM
from rabbetry.units import show_inches_fraction, show_length


def kick_panel(piece: KickPiece, units: str) -> Panel:
    """Return the panel of a piece that `resolve_kicks` settled. `units` is the job's, for the words of its label."""
    outline = _outline(piece)
    # A valance may have the lowest spot of its floor between the feet, where there is no wood.
    high = -outline.bounds[1]
    outline = outline.moved(Transform.shift(0.0, high))
    ends = [f"{end} end {_length(piece.edge[k][1], units)}" for end, k in (("left", 0), ("right", -1))]
    if piece.face_down:
        outline = outline.moved(Transform(-1.0, 0.0, 0.0, 1.0, piece.length_mm, 0.0))
        ends.reverse()
    return Panel(
        id=piece.name,
        cabinet=piece.cabinets[0] if len(piece.cabinets) == 1 else "",
        role="kick board" if piece.style is KickStyle.BOARD else "valance",
        stock=piece.stock.name,
        thickness_mm=piece.stock.thickness_mm,
        length_mm=piece.length_mm,
        width_mm=high,
        outline=outline,
        features=(),
        grain=piece.grain,
        place=None,
        face_up="back" if piece.face_down else "show face",
        ends=(ends[0], ends[1]),
        note=_note(piece, units),
    )


def _length(mm: float, units: str) -> str:
    return show_length(mm, units) if units == "mm" else show_inches_fraction(mm)


def _note(piece: KickPiece, units: str) -> str:
    """Say what the label must: how it was cut, where it goes."""
    words = ["cut face down"] if piece.face_down else []
    words += [f"under {', '.join(piece.cabinets)}"] if piece.cabinets else []
    words += [f"set back {_length(piece.setback_mm, units)}"] if piece.setback_mm > 0 else []
    return "; ".join(words)


def _outline(piece: KickPiece) -> Contour:
    """Return the outline counter-clockwise, from the lower end of the left edge; its top edge at y = 0."""
    edge = [Point(x, -height) for x, height in straightened(piece.edge)]
    top_right, top_left = Point(piece.length_mm, 0.0), Point(0.0, 0.0)
    lower = _through(edge) if piece.style is KickStyle.BOARD else _on_feet(piece, edge)
    return Contour((*lower, Line(edge[-1], top_right), Line(top_right, top_left), Line(top_left, edge[0])))


def _through(points: list[Point]) -> list[Segment]:
    return [Line(a, b) for a, b in pairwise(points) if a.distance(b) > POINT_MM]


def _on_feet(piece: KickPiece, edge: list[Point]) -> list[Segment]:
    """Return the lower edge with the opening between the feet cut out of it."""
    x0, x1, y = piece.foot_mm, piece.length_mm - piece.foot_mm, -piece.apron_mm
    left, right = piece.radii_mm
    foot_left, foot_right = Point(x0, _y_at(edge, x0)), Point(x1, _y_at(edge, x1))
    # A corner as high as the opening starts on the floor itself, without a straight below it.
    arc_left = Point(x0, y - left) if y - left - foot_left.y > POINT_MM else foot_left
    arc_right = Point(x1, y - right) if y - right - foot_right.y > POINT_MM else foot_right
    start, end = Point(x0 + left, y), Point(x1 - right, y)
    return [
        *_through([*(point for point in edge if point.x < x0 - POINT_MM), foot_left, arc_left]),
        Arc(arc_left, start, Point(x0 + left, arc_left.y), -1),
        *_through([start, end]),
        Arc(end, arc_right, Point(x1 - right, arc_right.y), -1),
        *_through([arc_right, foot_right, *(point for point in edge if point.x > x1 + POINT_MM)]),
    ]


def _y_at(edge: list[Point], x: float) -> float:
    before, after = next((a, b) for a, b in pairwise(edge) if b.x >= x - POINT_MM)
    return before.y + (after.y - before.y) * (x - before.x) / (after.x - before.x)


def straightened(edge: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    """Return the edge without the points that lie on the straight between those kept on either side."""
    kept = [0]
    for number in range(1, len(edge) - 1):
        passed = edge[kept[-1] + 1 : number + 1]
        if any(_off(edge[kept[-1]], edge[number + 1], point) > POINT_MM for point in passed):
            kept.append(number)
    return (*(edge[number] for number in kept), edge[-1])


def _off(a: tuple[float, float], b: tuple[float, float], point: tuple[float, float]) -> float:
    """Return how far a point lies off the line through two others."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return abs((point[0] - a[0]) * dy - (point[1] - a[1]) * dx) / math.hypot(dx, dy)
