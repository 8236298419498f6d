"""Marks on a panel's picture that tell which way round it goes: its front edge, its top edge, its hand.

Blank frame, millimetres; `unit` is the picture's text unit. Shapes differ, so that nothing hangs on colour: the front
edge is a thick line, the top edge a triangle in its middle that points out, a left-hand panel has a solid triangle
before its name, a right-hand one an open triangle after it.
"""

from collections.abc import Iterator

from rabbetry.geometry.curves import Line
from rabbetry.geometry.points import Point
from rabbetry.page.boxes import Box
from rabbetry.page.orientation import hand_of, top_edge
from rabbetry.page.svg import line, number
from rabbetry.panels.model import Panel
from rabbetry.sheets.model import Placement, Sheet
from rabbetry.tolerances import POINT_MM

_TOP_DEEP, _TOP_HALF = 13.0, 9.0
_CLEAR = 3.0


def front_lines(placement: Placement) -> Iterator[str]:
    """Yield a thick line on each straight piece of the panel's front edge; a notch has none."""
    panel = placement.panel
    at = _edge_at(panel, panel.front_edge)
    if at is None:
        return
    axis = panel.front_edge[0]
    for piece in panel.outline.segments:
        ends = (piece.start, piece.end)
        if isinstance(piece, Line) and all(abs(getattr(point, axis) - at) <= POINT_MM for point in ends):
            yield line("front-edge", placement.blank_from_panel(piece.start), placement.blank_from_panel(piece.end))


def top_mark(placement: Placement, unit: float) -> tuple[str, Box] | None:
    """Return the triangle at the top edge and the box it takes up, or None for a panel without a top edge or with no
    room for it."""
    panel = placement.panel
    edge = top_edge(panel)
    deep, half = _TOP_DEEP * unit, _TOP_HALF * unit
    if not edge or min(panel.length_mm, panel.width_mm) < 3 * deep:
        return None
    out = {"x0": (-1, 0), "x1": (1, 0), "y0": (0, -1), "y1": (0, 1)}[edge]
    middle = Point(
        panel.length_mm / 2 * (1 + out[0]),
        panel.width_mm / 2 * (1 + out[1]),
    )
    gap = _CLEAR * unit
    corners = [
        Point(middle.x - gap * out[0], middle.y - gap * out[1]),
        Point(middle.x - (gap + deep) * out[0] + half * out[1], middle.y - (gap + deep) * out[1] + half * out[0]),
        Point(middle.x - (gap + deep) * out[0] - half * out[1], middle.y - (gap + deep) * out[1] - half * out[0]),
    ]
    placed = [placement.blank_from_panel(corner) for corner in corners]
    xs, ys = [point.x for point in placed], [point.y for point in placed]
    shape = f'<polygon class="top-edge" points="{_points(placed)}"/>'
    return shape, Box(min(xs), min(ys), max(xs), max(ys)).grown(2 * unit)


def hand_mark(hand: str, tip: Point, size: float, *, upright: bool) -> str:
    """Return the triangle of a hand, its tip at a point: solid and pointing against the reading direction for left,
    open and pointing along it for right."""
    ahead = -1.0 if hand == "left" else 1.0
    deep, half = 0.62 * size, 0.4 * size
    steps = ((0.0, 0.0), (-ahead * deep, half), (-ahead * deep, -half))
    corners = [Point(tip.x - b, tip.y + a) if upright else Point(tip.x + a, tip.y + b) for a, b in steps]
    return f'<polygon class="{hand}-hand" points="{_points(corners)}"/>'


HAND_ROOM = 0.95
"""What a hand's triangle takes beside a name, in sizes of the name."""


def mark_rows(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """Yield class and meaning of the marks that occur on a sheet, for its legend."""
    panels = [placement.panel for placement in sheet.placements]
    if any(_edge_at(panel, panel.front_edge) is not None for panel in panels):
        yield "front-edge", "front edge"
    if any(top_edge(panel) for panel in panels):
        yield "top-edge", "top edge"
    for hand in ("left", "right"):
        if any(hand_of(panel) == hand for panel in panels):
            yield f"{hand}-hand", f"{hand}-hand panel"


def mark_sample(css: str, x: float, y: float, unit: float) -> str:
    """Return a mark for the legend, its lower left corner at (x, y)."""
    middle = y + 7 * unit
    if css == "front-edge":
        return line(css, Point(x, middle), Point(x + 28 * unit, middle))
    if css == "top-edge":
        corners = [Point(x + 14 * unit, y + 14 * unit), Point(x + 5 * unit, y), Point(x + 23 * unit, y)]
        return f'<polygon class="{css}" points="{_points(corners)}"/>'
    hand = css.removesuffix("-hand")
    tip = Point(x + (7 if hand == "left" else 21) * unit, middle)
    return hand_mark(hand, tip, 20 * unit, upright=False)


def _edge_at(panel: Panel, edge: str) -> float | None:
    return {"x0": 0.0, "y0": 0.0, "x1": panel.length_mm, "y1": panel.width_mm}.get(edge)


def _points(corners: list[Point]) -> str:
    return " ".join(f"{number(at.x)},{number(-at.y)}" for at in corners)
