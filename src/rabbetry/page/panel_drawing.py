"""A panel by itself for the bench: each machined face to scale, its sizes, and a table of what is cut into it.

Drawn like the sheets' pictures and with their style; text in both units, the job's first. A panel with cuts in both
faces has two views, the second as the panel lies when it is turned over left to right.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rabbetry.geometry.points import Point, Transform
from rabbetry.page.boxes import Box, box_about
from rabbetry.page.panel_picture import shade
from rabbetry.page.panel_rows import FeatureRow, both, corner_rows, feature_rows
from rabbetry.page.render import load_text
from rabbetry.page.svg import escaped, line, number, path_data, words
from rabbetry.page.text import fit, plain
from rabbetry.page.wording import EDGES, describe, edge_in_words, full_size
from rabbetry.panels.model import Bore, CutOut, Panel, Recess, moved_feature

_WIDE = 520.0
"""The panel's longer side, in text units."""
_LEFT, _RIGHT = 178.0, 20.0
_TABLE = (0.0, 20.0, 254.0, 362.0, 470.0, 690.0)
"""Left sides of the table's columns: number, what, from the left end, from the lower edge, size or pitch; its right
side."""
_TEXT, _ROW = 8.0, 13.0
_LIGHT = 1.12
"""Widths are estimated for bold letters; plain ones are so much narrower (measured with the widest common font)."""
_ORDINATE = 11.0
"""Sizes along an edge stand at least so far apart."""
_ORDINATE_ROOM = 120.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """A panel's face as it is seen: its own frame with that face up."""

    panel: Panel
    title: str


def panel_svg(panel: Panel, names: Sequence[str], *, units: str) -> str:
    """Return the drawing as SVG text. `names` are the ids of all panels that are made after it."""
    unit = max(panel.length_mm, panel.width_mm) / _WIDE
    views = _views(panel)
    width = max(panel.length_mm / unit, _TABLE[-1] - _LEFT)
    parts, y = _heading(panel, names, units, width)
    for view in views:
        drawn, y = _draw(view, units, unit, y)
        parts.extend(drawn)
    size = f"0 0 {number(_LEFT + width + _RIGHT)} {number(y + 10.0)}"
    title = escaped(f"{names[0]}: {full_size(panel.length_mm, panel.width_mm, units)}")
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet" role="img" aria-label="{title}" '
            f'font-size="{number(_TEXT)}" viewBox="{size}">',
            f"<title>{title}</title>",
            f"<style>{load_text('sheet.css')}</style>",
            *parts,
            "</svg>\n",
        ]
    )


def _views(panel: Panel) -> tuple[_View, ...]:
    if not panel.rear_features:
        return (_View(panel=panel, title=""),)
    mirror = Transform.mirror_x(panel.length_mm)
    through = [item for item in panel.features if isinstance(item, CutOut) or (isinstance(item, Bore) and item.through)]
    swapped = {"x0": "x1", "x1": "x0"}
    rear = replace(
        panel,
        outline=panel.outline.moved(mirror),
        features=tuple(moved_feature(item, mirror) for item in (*panel.rear_features, *through)),
        rear_features=(),
        front_edge=swapped.get(panel.front_edge, panel.front_edge),
        banded_edges=tuple(swapped.get(edge, edge) for edge in panel.banded_edges),
    )
    return (
        _View(panel=panel, title=f"One face: {panel.face_up} up"),
        _View(panel=rear, title=f"Other face, turned over left to right: {panel.rear_face} up"),
    )


def _heading(panel: Panel, names: Sequence[str], units: str, width: float) -> tuple[list[str], float]:
    """Return the drawing's head and the height it takes, from the top down."""
    room = _LEFT + width
    face = "cut from both faces" if panel.rear_features else f"face up: {panel.face_up}"
    front = f"front is the {EDGES[panel.front_edge]}" if panel.front_edge in EDGES else ""
    banded = ", ".join(edge_in_words(panel, edge) for edge in sorted(panel.banded_edges))
    facts = (
        f"{full_size(panel.length_mm, panel.width_mm, units)}, {both(panel.thickness_mm, units)} thick",
        f"{panel.stock}; grain {_GRAIN[panel.grain.value]}; {face}"
        + (f"; {front}" if front else "")
        + (f"; band {banded}" if banded else ""),
    )
    parts: list[str] = []
    y = 4.0
    alike = f"{len(names)} panels: {', '.join(names)}" if len(names) > 1 else names[0]
    rows = ((alike, "heading", 18.0, 7.0, 60.0), (facts[0], "facts", 11.0, 7.0, 14.0), (facts[1], "", 10.0, 6.0, 26.0))
    for text, css, largest, smallest, height in rows:
        fitted = fit(plain(text), width=room, height=height, largest=largest, smallest=smallest)
        for words_of in fitted.lines:
            y += fitted.size * 1.2
            parts.append(words(css, Point(10.0, -y), fitted.size, words_of, anchor_at="start"))
    return parts, y


_GRAIN = {"along": "along the length", "across": "across the length", "free": "either way"}


def _draw(view: _View, units: str, unit: float, top: float) -> tuple[list[str], float]:
    """Return a view with its sizes and its table, and how far down they reach."""
    panel = view.panel
    parts = []
    if view.title:
        top += 24.0
        parts.append(words("name", Point(10.0, -top), 12.0, view.title, anchor_at="start"))
    wide, high = panel.length_mm / unit, panel.width_mm / unit
    top += 30.0
    rows = feature_rows(panel.features, units)
    picture = _shapes(panel, units)
    parts.append(
        f'<g transform="translate({number(_LEFT)} {number(top + high)}) scale({1 / unit:.6f})" '
        f'font-size="{number(_TEXT * unit)}">{"".join(picture)}</g>'
    )
    base = Point(_LEFT, -(top + high))
    parts.extend(_badges(rows, base, unit, (wide, high)))
    sizes, deep = _sizes(panel, units, unit, base)
    parts.extend(sizes)
    table, y = _table(panel, rows, units, top + high + deep + 26.0)
    return [*parts, *table], y


def _shapes(panel: Panel, units: str) -> Iterator[str]:
    yield f'<path class="part" d="{path_data(panel.outline)}"/>'
    for item in sorted(panel.features, key=lambda item: isinstance(item, Bore)):
        title = f"<title>{escaped(f'{item.name}: {describe(item, units)}')}</title>"
        if isinstance(item, Bore):
            x, y = number(item.centre.x), number(-item.centre.y)
            css = "hole" if item.through else "bore"
            yield f'<circle class="{css}" cx="{x}" cy="{y}" r="{number(item.diameter_mm / 2)}">{title}</circle>'
        elif isinstance(item, Recess):
            rings = path_data(item.outline) + "".join(map(path_data, item.islands))
            css = f"recess {shade(item.depth_mm, panel.thickness_mm)}"
            yield f'<path class="{css}" fill-rule="evenodd" d="{rings}">{title}</path>'
        else:
            yield f'<path class="through" d="{path_data(item.outline)}">{title}</path>'


def _badges(rows: Sequence[FeatureRow], base: Point, unit: float, size: tuple[float, float]) -> Iterator[str]:
    """Yield the number of each row beside its feature, off the numbers before it."""
    taken: list[Box] = []
    for count, row in enumerate(rows, start=1):
        middle = Point(base.x + row.marked.x / unit, base.y + row.marked.y / unit)
        places = [
            Point(
                min(max(middle.x + dx, base.x + 6), base.x + size[0] - 6),
                min(max(middle.y + dy, base.y + 6), base.y + size[1] - 6),
            )
            for dx, dy in _AROUND
        ]
        place = next((at for at in places if not any(box_about(at, 6.5, 6.5).meets(box) for box in taken)), places[0])
        taken.append(box_about(place, 6.5, 6.5))
        yield f'<circle class="order" cx="{number(place.x)}" cy="{number(-place.y)}" r="6"/>'
        yield words("count", Point(place.x, place.y - 2.8), 8.0, str(count))


_AROUND = (
    *((12.0, 8.0), (-12.0, 8.0), (12.0, -8.0), (-12.0, -8.0), (0.0, 14.0), (0.0, -14.0)),
    *((26.0, 8.0), (-26.0, 8.0), (26.0, -8.0), (-26.0, -8.0), (40.0, 0.0), (-40.0, 0.0), (0.0, 28.0), (0.0, -28.0)),
)
"""Where a number stands from its feature's middle: near enough to see, off the feature itself."""


def _sizes(panel: Panel, units: str, unit: float, base: Point) -> tuple[list[str], float]:
    """Return sizes along the lower edge and the left end: where outline and recesses begin and end, and over all; and
    how far below the panel they reach."""
    wide, high = panel.length_mm / unit, panel.width_mm / unit
    along, up = _ordinates(panel, 0, unit), _ordinates(panel, 1, unit)
    parts = []
    for mm in along:
        x = base.x + mm / unit
        parts.append(line("dimension", Point(x, base.y - 2), Point(x, base.y - 9)))
        parts.append(words("size", Point(x + 3, base.y - 11), 8.0, both(mm, units), anchor_at="end", upright=True))
    for mm in up:
        y = base.y + mm / unit
        parts.append(line("dimension", Point(base.x - 2, y), Point(base.x - 9, y)))
        parts.append(words("size", Point(base.x - 11, y - 3), 8.0, both(mm, units), anchor_at="end"))
    below = base.y - (_ORDINATE_ROOM if along else 14.0)
    beside = base.x - (_ORDINATE_ROOM if up else 14.0)
    ends = ((Point(base.x, below), Point(base.x + wide, below)), (Point(beside, base.y), Point(beside, base.y + high)))
    for a, b in ends:
        parts.append(line("dimension", a, b))
        for end in (a, b):
            parts.append(line("dimension", Point(end.x - 4, end.y - 4), Point(end.x + 4, end.y + 4)))
    parts.append(words("size", Point(base.x + wide / 2, below - 12), 10.0, both(panel.length_mm, units)))
    upright = high > _ORDINATE_ROOM
    at = Point(beside - 6, base.y + high / 2 - (0 if upright else 3))
    if upright:
        parts.append(words("size", at, 10.0, both(panel.width_mm, units), upright=True))
    else:
        for k, text in enumerate(both(panel.width_mm, units).split(" (")):
            text = f"({text}" if k else text
            fitted = fit(text, width=(at.x - 4) * _LIGHT, height=12.0, largest=9.0, smallest=4.0)
            parts.append(words("size", Point(at.x, at.y + 5 - 10 * k), fitted.size, text, anchor_at="end"))
    return parts, base.y - below + 16.0


def _ordinates(panel: Panel, axis: int, unit: float) -> tuple[float, ...]:
    """Return places along an axis where the outline turns and recesses and openings end, those of the outline first,
    none so near to another that their texts would meet, and not the panel's own ends."""
    most = (panel.length_mm, panel.width_mm)[axis]
    turns = [(segment.start.x, segment.start.y)[axis] for segment in panel.outline.segments]
    areas = [item.outline.bounds for item in panel.features if not isinstance(item, Bore)]
    found: list[float] = []
    for place in (*sorted(turns), *sorted(box[axis] for box in areas), *sorted(box[axis + 2] for box in areas)):
        least = _ORDINATE * unit
        if 0.05 < place < most - 0.05 and all(abs(place - other) >= least for other in found):
            found.append(place)
    return tuple(found)


def _table(panel: Panel, rows: Sequence[FeatureRow], units: str, y: float) -> tuple[list[str], float]:
    parts: list[str] = []

    def write(y: float, texts: Sequence[str], css: str) -> None:
        for k, text in enumerate(texts):
            if text:
                room = (_TABLE[k + 1] - _TABLE[k] - 6.0) * (1.0 if css else _LIGHT)
                fitted = fit(plain(text), width=room, height=1.3 * _TEXT, largest=_TEXT, smallest=5.0)
                at = Point(10.0 + _TABLE[k], -y)
                parts.append(words(css, at, fitted.size, fitted.lines[0], anchor_at="start"))

    if rows:
        write(
            y,
            ("", "Cut into this face", "from the left end", "from the lower edge", "length × width, or pitch"),
            "name",
        )
        for count, row in enumerate(rows, start=1):
            y += _ROW
            write(y, (str(count), row.what, both(row.at.x, units), both(row.at.y, units), row.detail), "")
        y += _ROW
        write(y, ("", "Holes to centres, all else to its lower left corner."), "")
    corners = corner_rows(panel.outline, units)
    if corners:
        y += 1.7 * _ROW
        parts.append(
            words(
                "name",
                Point(10.0, -y),
                _TEXT,
                "Corners of the outline, from its left end and lower edge",
                anchor_at="start",
            )
        )
        half = -(-len(corners) // 2)
        for k in range(half):
            y += _ROW
            for column, text in enumerate(corners[k::half]):
                fitted = fit(text, width=320.0, height=1.3 * _TEXT, largest=_TEXT, smallest=5.0)
                parts.append(
                    words("", Point(32.0 + 340.0 * column, -y), fitted.size, fitted.lines[0], anchor_at="start")
                )
    return parts, y
