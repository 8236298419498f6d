"""Labels to print, cut and stick on panels: what it is, how big, from which sheet, which way up, where it goes.

A label is 95 x 43 mm, twelve on a page of A4 or Letter, or as large as a self-adhesive one. Every text is fitted to its
box, so that nothing runs over.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import segno
from markupsafe import Markup

from rabbetry.geometry.curves import polygon
from rabbetry.geometry.points import Point
from rabbetry.page.label_sheets import CUT, STICKY, LabelSheet
from rabbetry.page.lists import panel_order
from rabbetry.page.orientation import edges_told, goes, hand_of, top_edge
from rabbetry.page.render import render
from rabbetry.page.svg import line, number, path_data
from rabbetry.page.text import Fitted, fit, plain
from rabbetry.page.wording import bands_in_words, short_length, short_size
from rabbetry.panels.model import Joint, Panel
from rabbetry.sheets.model import Sheet

_TEXT_HEIGHT_MM = 38.5
"""The texts' boxes are made for this height; on a lower label all shrink alike."""
_PADDING_MM, _GAP_MM, _SLACK_MM = 2.0, 1.4, 2.6
_QR_LETTERS = 500
"""A QR code of 2953 bytes holds five hundred letters of any script with room to spare (ISO/IEC 18004, version 40-L)."""
_SKETCH_MM = (24.0, 11.0)
_STRIP_MM = 4.6
_CODE_MM, _MARKS_MM = 26.0, 24.0
_SKETCH_CHORD_MM = 0.05
"""Arcs are drawn as chords this near to them, on the label: finer than the pen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """Lines of one text at one size, millimetres."""

    css: str
    size_mm: str
    lines: tuple[str, ...]
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Form:
    """Sizes within a label."""

    text_wide: float
    text_high: float
    shrink: float
    """1, or less on a label lower than plain paper's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Label:
    panel: str
    blocks: tuple[_Block, ...]
    hand: str
    """'left', 'right' or ''."""
    strip: Markup
    code: Markup
    sketch: Markup


def labels_html(
    panels: Iterable[Panel],
    sheets: Sequence[Sheet],
    joints: Iterable[Joint],
    *,
    job_name: str,
    units: str,
    form: LabelSheet | None = None,
) -> str:
    """Return the labels as HTML, on plain paper unless `form` says otherwise (A4 for a millimetre job, Letter for an
    inch job). They come in the order of the sheets and, on a sheet, of its panels; those on no sheet come last.
    """
    paper = CUT["A4" if units == "mm" else "letter"]
    form = form or paper
    others = [other for other in (paper, *STICKY[units]) if other.file != form.file]
    sizes = _form(form)
    place = {item.panel.id: (k, n) for k, sheet in enumerate(sheets) for n, item in enumerate(sheet.placements)}
    last = (len(sheets), 0)
    ordered = sorted(panels, key=lambda panel: (place.get(panel.id, last), panel_order(panel)))
    names = {item.panel.id: sheet.id for sheet in sheets for item in sheet.placements}
    mates = _mates(joints, {panel.id: panel.cabinet for panel in ordered})
    labels = [_label(panel, names.get(panel.id, ""), mates.get(panel.id, ()), units, sizes) for panel in ordered]
    pages = [labels[k : k + form.per_page] for k in range(0, len(labels), form.per_page)]
    return render(
        "labels.html.j2",
        job_name=plain(job_name),
        form=form,
        others=others,
        pages=pages,
        count=len(labels),
        code_mm=number(_CODE_MM * sizes.shrink),
        marks_mm=number(_MARKS_MM * sizes.shrink),
        sketch_mm=number(_SKETCH_MM[1] * sizes.shrink),
        strip_mm=number(sizes.text_high),
    )


def _form(form: LabelSheet) -> _Form:
    high = form.high - 2 * _PADDING_MM - 0.5
    shrink = min(1.0, high / _TEXT_HEIGHT_MM)
    wide = form.wide - 2 * _PADDING_MM - _GAP_MM - _MARKS_MM * shrink - _SLACK_MM
    return _Form(text_wide=wide, text_high=high, shrink=shrink)


def _mates(joints: Iterable[Joint], cabinets: Mapping[str, str]) -> dict[str, tuple[str, ...]]:
    """Return for each panel what it joins, in words, in the order of the joints. A mate of the same cabinet goes by its
    name within it, since the label's first line names the cabinet."""

    def called(name: str, on: str) -> str:
        own = cabinets.get(on, "")
        return name.removeprefix(f"{own} ") if own and own == cabinets.get(name, own) else name

    found: dict[str, list[str]] = {}
    for joint in joints:
        receiver, entering = called(joint.receiver, joint.entering), called(joint.entering, joint.receiver)
        into = f"{receiver}, {joint.feature}" if joint.feature else receiver
        takes = f"{joint.feature} takes {entering}" if joint.feature else f"{entering} butts on it"
        found.setdefault(joint.entering, []).append(f"sits in {into}" if joint.feature else f"butts on {into}")
        found.setdefault(joint.receiver, []).append(takes)
    return {panel: tuple(dict.fromkeys(texts)) for panel, texts in found.items()}


def _label(panel: Panel, sheet: str, mates: Sequence[str], units: str, form: _Form) -> _Label:
    other = "in" if units == "mm" else "mm"
    hand = hand_of(panel)
    width = form.text_wide - (_STRIP_MM + _GAP_MM if hand else 0.0)
    facts = [_face(panel), edges_told(panel), panel.note]
    banded = bands_in_words(panel)
    rows = (
        ("name", panel.id, 8.6, 6.0, 1.4),
        ("size", short_size(panel.length_mm, panel.width_mm, units), 5.2, 4.3, 2.0),
        ("other", f"{short_size(panel.length_mm, panel.width_mm, other)}, {_thickness(panel, units)}", 3.4, 2.8, 1.6),
        ("goes", f"goes: {goes(panel, units)}", 3.2, 2.6, 1.3),
        ("sheet", f"sheet {sheet}" if sheet else "on no sheet", 3.4, 2.8, 1.3),
        ("facts", "; ".join(filter(None, facts)), 5.6, 2.6, 1.1),
        ("ends", f"← {panel.ends[0]} | {panel.ends[1]} →" if any(panel.ends) else "", 3.0, 2.5, 1.1),
        ("band", f"band {banded}" if banded else "no edge to band", 3.2, 2.6, 1.1),
    )
    k = form.shrink
    blocks = [
        _block(css, text, height * k, largest * k, smallest * k, width)
        for css, text, height, largest, smallest in rows
        if plain(text)
    ]
    joins = "; ".join(mates)
    if plain(joins):
        left = form.text_high - sum(block.height_mm for block in blocks)
        blocks.append(_block("joins", f"joins: {joins}", left, 2.8 * k, 0.9 * k, width))
    return _Label(
        panel=plain(panel.id),
        blocks=tuple(blocks),
        hand=hand,
        strip=_strip(hand, form.text_high),
        code=_code(panel.id),
        sketch=_sketch(panel),
    )


def _thickness(panel: Panel, units: str) -> str:
    return f"{short_length(panel.thickness_mm, units)} {units} thick"


def _face(panel: Panel) -> str:
    if panel.rear_features:
        first, then = panel.faces_in_order
        return f"cut from both faces: {first} up first, then {then}"
    return f"{panel.face_up.removesuffix(' face')} face up" if panel.face_up else ""


def _strip(hand: str, high: float) -> Markup:
    """Return the mark of a handed panel: a solid bar with a triangle pointing left for a left one, an open bar with a
    triangle pointing right for a right one. It tells the two apart without colour, and at arm's length."""
    if not hand:
        return Markup("")
    wide = _STRIP_MM
    tip, back = (0.7, wide - 0.9) if hand == "left" else (wide - 0.7, 0.9)
    corners = " ".join(f"{number(x)},{number(y)}" for x, y in ((tip, 4.0), (back, 1.4), (back, 6.6)))
    middle = number(wide / 2 + 1.1)
    return Markup(
        f'<svg class="strip {hand}" viewBox="0 0 {number(wide)} {number(high)}" role="img" aria-label="{hand} hand">'
        f'<rect x="0.3" y="0.3" width="{number(wide - 0.6)}" height="{number(high - 0.6)}"/>'
        f'<polygon points="{corners}"/>'
        f'<text transform="translate({middle} {number(high - 2.5)}) rotate(-90)">{hand.upper()}</text></svg>'
    )


def _block(css: str, text: str, height: float, largest: float, smallest: float, width: float) -> _Block:
    fitted: Fitted = fit(plain(text), width=width, height=height, largest=largest, smallest=smallest)
    return _Block(css=css, size_mm=number(fitted.size), lines=fitted.lines, height_mm=fitted.height)


@lru_cache(maxsize=2000)
def _code(text: str) -> Markup:
    """Return the QR code of a panel's id, dark on white with the quiet zone the standard asks for."""
    code = segno.make(plain(text)[:_QR_LETTERS] or "?", micro=False, error="l", boost_error=True)
    drawing = code.svg_inline(border=4, dark="#000", light="#fff", svgclass="code", lineclass=None, omitsize=True)
    return Markup(drawing)


def _sketch(panel: Panel) -> Markup:
    """Return a small drawing of the panel's outline: front edge thick, banded edges dashed beside it."""
    room_x, room_y = _SKETCH_MM[0] - 4, _SKETCH_MM[1] - 4
    scale = min(room_x / panel.length_mm, room_y / panel.width_mm)
    dx, dy = panel.length_mm * scale, panel.width_mm * scale
    x, y = (_SKETCH_MM[0] - dx) / 2, (_SKETCH_MM[1] - dy) / 2
    ends = {"x0": ((0, 0), (0, 1)), "x1": ((1, 0), (1, 1)), "y0": ((0, 0), (1, 0)), "y1": ((0, 1), (1, 1))}
    out = {"x0": (-1, 0), "x1": (1, 0), "y0": (0, -1), "y1": (0, 1)}
    corners = [Point(x + at.x * scale, y + at.y * scale) for at in panel.outline.flattened(_SKETCH_CHORD_MM / scale)]
    parts = [f'<path class="board" d="{path_data(polygon(corners))}"/>']
    for edge, (a, b) in ends.items():
        start, end = Point(x + a[0] * dx, y + a[1] * dy), Point(x + b[0] * dx, y + b[1] * dy)
        if edge == panel.front_edge:
            parts.append(line("front", start, end))
        if edge == top_edge(panel):
            parts.append(_top_mark(start, end, out[edge]))
        if edge in panel.banded_edges:
            step = (1.2 * out[edge][0], 1.2 * out[edge][1])
            moved = (Point(start.x + step[0], start.y + step[1]), Point(end.x + step[0], end.y + step[1]))
            parts.append(line("banded", *moved))
    box = f"0 -{number(_SKETCH_MM[1])} {number(_SKETCH_MM[0])} {number(_SKETCH_MM[1])}"
    return Markup(f'<svg class="sketch" viewBox="{box}" aria-hidden="true">{"".join(parts)}</svg>')


def _top_mark(start: Point, end: Point, out: tuple[int, int]) -> str:
    """Return a solid triangle in the middle of the top edge, inside the board and pointing out."""
    x, y = (start.x + end.x) / 2, (start.y + end.y) / 2
    deep, half = 1.7, 1.1
    corners = [
        (x - 0.3 * out[0], y - 0.3 * out[1]),
        (x - deep * out[0] + half * out[1], y - deep * out[1] + half * out[0]),
        (x - deep * out[0] - half * out[1], y - deep * out[1] - half * out[0]),
    ]
    return f'<polygon class="top" points="{" ".join(f"{number(px)},{number(-py)}" for px, py in corners)}"/>'
