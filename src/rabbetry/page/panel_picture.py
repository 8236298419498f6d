"""One panel of a sheet's picture: outline, features by depth, and a name that fits in and keeps off the features.

Blank frame, millimetres. `unit` is the picture's text unit: 1 for a blank of about 1.2 m, smaller for smaller blanks.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.geometry.curves import Contour, Line
from rabbetry.geometry.points import Point
from rabbetry.page.boxes import Box, box_about, box_of
from rabbetry.page.depth_notes import depth_note
from rabbetry.page.edge_marks import HAND_ROOM, front_lines, hand_mark, top_mark
from rabbetry.page.orientation import hand_of
from rabbetry.page.svg import anchor, escaped, line, number, path_data, words
from rabbetry.page.text import Fitted, breaks_a_word, fit, plain, width_em, wrap
from rabbetry.page.wording import depth_of, describe, full_size, short_size
from rabbetry.panels.model import Bore, CutOut, Feature, Recess
from rabbetry.sheets.model import Placement
from rabbetry.tolerances import POINT_MM

_NAME_SIZES = (27.0, 23.0, 19.5, 16.5, 14.0, 12.0, 10.0)
_LEAST_NAME = 7.0
_LEADING = 1.2
_CHORD_MM = 0.5
"""Outlines are flattened this coarsely to see whether a name lies inside: a name keeps farther away than that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Name:
    """Where a panel's name goes: the middle of its block, its size and lines, the panel's size below it ('' where that
    has no room), and whether it stands upright."""

    middle: Point
    size: float
    lines: tuple[str, ...]
    size_text: str
    upright: bool


@dataclass(frozen=True, slots=True)
class _Beside:
    """What stands beside a name, on its line: the number of the cut in a disc and a left hand's triangle before it, a
    right hand's triangle after it."""

    order: int | None
    hand: str

    def badge(self, size: float) -> float:
        return 0.0 if self.order is None else size * (0.75 * len(str(self.order)) + 1.1)

    def before(self, size: float) -> float:
        return self.badge(size) + (HAND_ROOM * size if self.hand == "left" else 0.0)

    def after(self, size: float) -> float:
        return HAND_ROOM * size if self.hand == "right" else 0.0

    def width(self, size: float) -> float:
        return self.before(size) + self.after(size)


def draw_panel(placement: Placement, *, order: int | None, units: str, unit: float, anchors: bool) -> str:
    """Return the panel's group. `order` is its place among the profile cuts; `anchors` gives the group an id."""
    panel = placement.panel
    move = placement.blank_from_panel
    outline = panel.outline.moved(move)
    features = sorted(panel.features, key=lambda item: (isinstance(item, Bore), depth_of(item, panel)))
    boxes = [box_of(item, placement) for item in features]
    notes = [
        note
        for item, box in zip(features, boxes, strict=True)
        if isinstance(item, Recess)
        and (
            note := depth_note(item, box, placement, others=[b for b in boxes if b is not box], units=units, unit=unit)
        )
    ]
    top = top_mark(placement, unit)
    taken = [*(box.grown(2.5 * unit) for box in boxes), *(note.box for note in notes), *([top[1]] if top else [])]
    size = short_size(panel.length_mm, panel.width_mm, units)
    name = _find_name_place(placement, outline, plain(panel.id), size, _Beside(order, hand_of(panel)), taken, unit)
    identity = f' id="panel-{anchor(panel.id)}"' if anchors else ""
    title = f"{panel.id}: {full_size(panel.length_mm, panel.width_mm, units)}"
    title += f", cabinet {panel.cabinet}" if panel.cabinet else ""
    return "\n".join(
        [
            f'<g class="panel"{identity}>',
            f"<title>{escaped(title)}</title>",
            f'<path class="part" d="{path_data(outline)}"/>',
            *(_draw_feature(item, placement, units, unit) for item in features),
            *front_lines(placement),
            *([top[0]] if top else []),
            *(note.text for note in notes),
            *_draw_name(name, _Beside(order, hand_of(panel))),
            "</g>",
        ]
    )


def _draw_feature(feature: Feature, placement: Placement, units: str, unit: float) -> str:
    move = placement.blank_from_panel
    title = f"<title>{escaped(f'{feature.name}: {describe(feature, units)}')}</title>"
    if isinstance(feature, Bore):
        return _draw_bore(feature, move(feature.centre), title, unit)
    outline = feature.outline.moved(move)
    if isinstance(feature, CutOut):
        x0, y0, x1, y1 = outline.bounds
        cross = line("cross", Point(x0, y0), Point(x1, y1)) + line("cross", Point(x0, y1), Point(x1, y0))
        straight = all(isinstance(item, Line) for item in outline.segments) and len(outline.segments) == 4
        return f'<path class="through" d="{path_data(outline)}">{title}</path>' + (cross if straight else "")
    rings = path_data(outline) + "".join(path_data(island.moved(move)) for island in feature.islands)
    css = f"recess {shade(feature.depth_mm, placement.panel.thickness_mm)}"
    corners = "".join(
        f'<circle class="relief" cx="{number(at.x)}" cy="{number(-at.y)}" r="{number(3 * unit)}"/>'
        for at in map(move, feature.relieved_corners)
    )
    return f'<path class="{css}" fill-rule="evenodd" d="{rings}">{title}</path>{corners}'


def shade(depth_mm: float, thickness_mm: float) -> str:
    """Return the class of a recess: shallow up to a third of the thickness, middling up to two thirds, else deep."""
    share = depth_mm / thickness_mm
    return "shallow" if share <= 0.34 else "middling" if share <= 0.67 else "deep"


def _draw_bore(bore: Bore, centre: Point, title: str, unit: float) -> str:
    r = bore.diameter_mm / 2
    x, y = number(centre.x), number(-centre.y)
    css = "hole" if bore.through else "bore"
    mark = ""
    if bore.through:
        arm = r + 3 * unit
        mark = line("cross", Point(centre.x - arm, centre.y), Point(centre.x + arm, centre.y))
        mark += line("cross", Point(centre.x, centre.y - arm), Point(centre.x, centre.y + arm))
    return f'<circle class="{css}" cx="{x}" cy="{y}" r="{number(r)}">{title}</circle>{mark}'


def _find_name_place(
    placement: Placement,
    outline: Contour,
    name: str,
    size_text: str,
    beside: _Beside,
    taken: Sequence[Box],
    unit: float,
) -> _Name:
    """Return the largest name, nearest to the middle, that lies inside the outline and off the features. Where no place
    is free the name stands in the middle, over the features, on a halo."""
    wide, high = placement.extent_mm
    ring = () if _is_rectangle(outline) else outline.flattened(_CHORD_MM)
    uprights = (True, False) if high > 1.7 * wide else (False, True)
    for size in (step * unit for step in _NAME_SIZES):
        for upright in uprights:
            along = (high if upright else wide) - 10 * unit - beside.width(size)
            lines = wrap(name, along / size) if along > 2 * size else ()
            if not lines or len(lines) > 3 or breaks_a_word(name, lines):
                continue
            if width_em(size_text) * 0.8 * size > along:
                continue
            half = _half_block(lines, size_text, size, beside, upright)
            for middle in _places(placement, half, unit):
                box = box_about(middle, *half)
                if not any(box.meets(other) for other in taken) and _holds(ring, box):
                    return _Name(middle=middle, size=size, lines=lines, size_text=size_text, upright=upright)
    upright = uprights[0]
    fitted = _squeezed(name, (high, wide) if upright else (wide, high), beside, unit)
    half = _half_block(fitted.lines, size_text, fitted.size, beside, upright)
    return _Name(
        middle=Point(placement.x_mm + wide / 2, placement.y_mm + high / 2),
        size=fitted.size,
        lines=fitted.lines,
        size_text=size_text if half[0] <= wide / 2 and half[1] <= high / 2 else "",
        upright=upright,
    )


def _squeezed(name: str, room: tuple[float, float], beside: _Beside, unit: float) -> Fitted:
    along, across = room[0] - 6 * unit, room[1] - 4 * unit
    size = _NAME_SIZES[-1] * unit
    least = min(_LEAST_NAME * unit, max(0.5 * across, 1.0))
    return fit(
        name,
        width=max(along - beside.width(size), size),
        height=max(across - size, least * _LEADING),
        largest=max(size, least),
        smallest=least,
    )


def _half_block(
    lines: tuple[str, ...], size_text: str, size: float, beside: _Beside, upright: bool
) -> tuple[float, float]:
    along = max(max(map(width_em, lines)) * size, width_em(size_text) * 0.8 * size) + beside.width(size)
    across = (len(lines) + 0.85) * size * _LEADING
    return (across / 2, along / 2) if upright else (along / 2, across / 2)


def _places(placement: Placement, half: tuple[float, float], unit: float) -> Iterator[Point]:
    """Yield middles for a block within the panel's rectangle, the panel's own middle first, then outwards."""
    wide, high = placement.extent_mm
    slack_x, slack_y = wide / 2 - half[0] - 4 * unit, high / 2 - half[1] - 3 * unit
    if slack_x < 0 or slack_y < 0:
        return
    steps = (0.0, -0.25, 0.25, -0.5, 0.5, -0.75, 0.75, -1.0, 1.0)
    moves = sorted(
        {(slack_x * i, slack_y * j) for i in steps for j in steps},
        key=lambda move: (round(math.hypot(*move), 3), move),
    )
    for dx, dy in moves:
        yield Point(placement.x_mm + wide / 2 + dx, placement.y_mm + high / 2 + dy)


def _is_rectangle(outline: Contour) -> bool:
    x0, y0, x1, y1 = outline.bounds
    return abs(outline.area - (x1 - x0) * (y1 - y0)) <= POINT_MM * (x1 - x0 + y1 - y0)


def _holds(ring: Sequence[Point], box: Box) -> bool:
    """Tell whether the box's corners and edge middles lie inside the ring; an empty ring holds everything."""
    if not ring:
        return True
    xs, ys = (box.x0, (box.x0 + box.x1) / 2, box.x1), (box.y0, (box.y0 + box.y1) / 2, box.y1)
    return all(_is_inside(ring, x, y) for x in xs for y in ys)


def _is_inside(ring: Sequence[Point], x: float, y: float) -> bool:
    inside = False
    before = ring[-1]
    for after in ring:
        if (before.y > y) != (after.y > y) and x < before.x + (y - before.y) / (after.y - before.y) * (
            after.x - before.x
        ):
            inside = not inside
        before = after
    return inside


def _draw_name(name: _Name, beside: _Beside) -> Iterator[str]:
    """Yield the lines of the block, its size below, the number of the cut in a disc before it, and its hand."""
    size, small = name.size, 0.8 * name.size
    rows = len(name.lines) + (0.85 if name.size_text else 0.0)
    first = rows * size * _LEADING / 2 - 0.85 * size
    shift = (beside.before(size) - beside.after(size)) / 2
    for k, text in enumerate(name.lines):
        yield words("name halo", _at(name, shift, first - k * size * _LEADING), size, text, upright=name.upright)
    if name.size_text:
        drop = first - len(name.lines) * size * _LEADING + 0.1 * size
        yield words("size halo", _at(name, shift, drop), small, name.size_text, upright=name.upright)
    widths = [width_em(text) * size for text in name.lines] + [width_em(name.size_text) * small]
    left, right = shift - max(widths) / 2, shift + max(widths) / 2
    if beside.hand:
        tip = left - 0.85 * size if beside.hand == "left" else right + 0.85 * size
        yield hand_mark(beside.hand, _at(name, tip, 0.0), size, upright=name.upright)
    if beside.order is not None:
        badge = beside.badge(size)
        centre = _at(name, left - (beside.before(size) - badge) - badge / 2, 0.0)
        radius = badge / 2 - 0.15 * size
        yield (
            f'<circle class="order" cx="{number(centre.x)}" cy="{number(-centre.y)}" r="{number(radius)}"/>'
            + words("count", Point(centre.x, centre.y - 0.33 * size), 0.95 * size, str(beside.order))
        )


def _at(name: _Name, along: float, across: float) -> Point:
    """Return the blank point `along` the reading direction and `across` (up from the reader) of the block's middle."""
    if name.upright:
        return Point(name.middle.x - across, name.middle.y + along)
    return Point(name.middle.x + along, name.middle.y + across)
