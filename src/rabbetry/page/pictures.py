"""The picture of a sheet: its panels to scale, features by depth, clamps, offcuts, sizes and a legend, as one SVG.

Stands alone as a file and inside the job's page. Blank frame, millimetres: x and y are zero at the lower left corner.
"""

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from rabbetry.geometry.points import Point
from rabbetry.page.edge_marks import mark_rows, mark_sample
from rabbetry.page.flip import draw_flip, legend_rows
from rabbetry.page.panel_picture import draw_panel, shade
from rabbetry.page.render import load_text
from rabbetry.page.svg import anchor, escaped, line, number, rect, words
from rabbetry.page.text import fit, plain, width_em
from rabbetry.page.wording import describe, short_length, short_size
from rabbetry.panels.model import Bore, Feature, Recess
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Clamp
from rabbetry.units import inches_from_mm, mm_from_inches, show_length

_UNIT_BLANK_MM = 1220.0
"""A blank this long has text unit 1: its names are set up to 27 mm high, readable on a page 700 pixels wide."""
_FIGURE_MM = 61.0
"""Distance of the lines that show which way the grain runs."""
_SCALE_STEPS = (1.0, 2.0, 5.0)


def sheet_svg(
    sheet: Sheet,
    *,
    clamps: Sequence[Clamp] = (),
    order: Mapping[str, int] = {},
    units: str,
    title: str,
    anchors: bool = True,
) -> str:
    """Return the picture of a sheet as SVG text, y up, with a viewBox in millimetres.

    `order` numbers the panels in the order in which their profiles are cut; `units` is the job's ("mm" or "in"). With
    `anchors` each panel's group has the id `panel-` + `anchor(id)` to link to.
    """
    unit = max(sheet.blank_x_mm, sheet.blank_y_mm) / _UNIT_BLANK_MM
    legend, legend_height = _legend(sheet, clamps, bool(order), units, unit)
    left, low, right, high = _extent(sheet, clamps, unit, legend_height)
    hatch = f"hatch-{anchor(sheet.id)}"
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet" role="img" aria-label="{escaped(title)}" '
        f'font-size="{number(10 * unit)}" '
        f'viewBox="{number(left)} {number(-high)} {number(right - left)} {number(high - low)}">',
        f"<title>{escaped(title)}</title>",
        f"<style>{load_text('sheet.css')}</style>",
        _hatch(hatch, unit),
        *_blank(sheet, unit),
        *(
            draw_panel(item, order=order.get(item.panel.id), units=units, unit=unit, anchors=anchors)
            for item in sheet.placements
        ),
        *_offcuts(sheet, units, unit),
        *(_clamp(item, hatch, units, unit) for item in clamps),
        *draw_flip(sheet, units, unit),
        *_heading(sheet, title, left, right, high, units, unit),
        *_sizes(sheet, clamps, units, unit),
        *_origin(sheet, clamps, unit),
        *legend,
        "</svg>\n",
    ]
    return "\n".join(parts)


def _below(clamps: Sequence[Clamp]) -> float:
    """Return the lowest y of blank and clamps, at most 0."""
    return min([0.0, *(item.y_mm for item in clamps)])


def _beside(clamps: Sequence[Clamp]) -> float:
    return min([0.0, *(item.x_mm for item in clamps)])


def _extent(
    sheet: Sheet, clamps: Sequence[Clamp], unit: float, legend_height: float
) -> tuple[float, float, float, float]:
    right = max([sheet.blank_x_mm, *(item.x_mm + item.length_x_mm for item in clamps)])
    top = max([sheet.blank_y_mm, *(item.y_mm + item.length_y_mm for item in clamps)])
    return (
        _beside(clamps) - 75 * unit,
        _below(clamps) - 133 * unit - legend_height,
        right + 25 * unit,
        top + 85 * unit,
    )


def _hatch(name: str, unit: float) -> str:
    step = number(12 * unit)
    return (
        f'<defs><pattern id="{name}" width="{step}" height="{step}" patternUnits="userSpaceOnUse" '
        f'patternTransform="rotate(45)"><rect class="hatch-ground" width="{step}" height="{step}"/>'
        f'<path class="hatch-line" d="M0 0V{step}M0 0H{step}"/></pattern></defs>'
    )


def _blank(sheet: Sheet, unit: float) -> Iterator[str]:
    x, y, trim = sheet.blank_x_mm, sheet.blank_y_mm, sheet.trim_mm
    yield rect("blank", 0, 0, x, y)
    if sheet.has_grain:
        step = _FIGURE_MM * unit
        for k in range(1, math.ceil((y if sheet.grain_along_x else x) / step)):
            a, b = (
                (Point(0, k * step), Point(x, k * step))
                if sheet.grain_along_x
                else (Point(k * step, 0), Point(k * step, y))
            )
            yield line("figure", a, b)
    if 0 < trim < min(x, y) / 2:
        yield rect("trim", trim, trim, x - 2 * trim, y - 2 * trim, title="trim line")


def _offcuts(sheet: Sheet, units: str, unit: float) -> Iterator[str]:
    for item in sheet.offcuts:
        size = short_size(item.length_x_mm, item.length_y_mm, units)
        yield rect("offcut", item.x_mm, item.y_mm, item.length_x_mm, item.length_y_mm, title=f"offcut {size}")
        upright = item.length_y_mm > 1.7 * item.length_x_mm
        along, across = sorted((item.length_x_mm, item.length_y_mm), reverse=True)
        if not upright:
            along, across = item.length_x_mm, item.length_y_mm
        fitted = fit(f"offcut {size}", width=0.9 * along, height=0.9 * across, largest=20 * unit, smallest=6 * unit)
        if fitted.whole and fitted.height <= across:
            middle = Point(item.x_mm + item.length_x_mm / 2, item.y_mm + item.length_y_mm / 2)
            yield from _stack(middle, fitted.lines, fitted.size, "ground-halo", upright=upright)


def _stack(middle: Point, lines: Sequence[str], size: float, css: str, *, upright: bool = False) -> Iterator[str]:
    """Yield lines of text about a middle."""
    for k, text in enumerate(lines):
        drop = (k - (len(lines) - 1) / 2) * 1.2 * size + 0.35 * size
        at = Point(middle.x + drop, middle.y) if upright else Point(middle.x, middle.y - drop)
        yield words(css, at, size, text, upright=upright)


def _clamp(clamp: Clamp, hatch: str, units: str, unit: float) -> str:
    x, y, dx, dy = clamp.x_mm, clamp.y_mm, clamp.length_x_mm, clamp.length_y_mm
    height = f"{short_length(clamp.height_mm, units)} {units} high"
    box = (
        f'<rect class="clamp" fill="url(#{hatch})" x="{number(x)}" y="{number(-y - dy)}" width="{number(dx)}" '
        f'height="{number(dy)}"><title>{escaped(f"{clamp.name}, {height}")}</title></rect>'
    )
    upright = dy > 1.5 * dx
    along, across = (dy, dx) if upright else (dx, dy)
    text = f"{plain(clamp.name)} {height}"
    fitted = fit(text, width=0.95 * along, height=0.95 * across, largest=15 * unit, smallest=6 * unit)
    if not fitted.whole:
        fitted = fit(height, width=0.95 * along, height=0.95 * across, largest=15 * unit, smallest=5 * unit)
    return box + "".join(_stack(Point(x + dx / 2, y + dy / 2), fitted.lines, fitted.size, "name halo", upright=upright))


def _heading(
    sheet: Sheet, title: str, left: float, right: float, high: float, units: str, unit: float
) -> Iterator[str]:
    known = "measured" if sheet.thickness_is_measured else "thickness not measured"
    count = len(sheet.placements)
    facts = (
        f"{plain(sheet.stock)}, {show_length(sheet.thickness_mm, units)} thick ({known}), blank "
        f"{short_size(sheet.blank_x_mm, sheet.blank_y_mm, units)}, {count} {'panel' if count == 1 else 'panels'}, "
        f"{sheet.utilisation * 100:.0f} % used"
    )
    at = left + 12 * unit
    room = right - at - 12 * unit
    for text, css, size, drop in (
        (plain(title), "heading", 27 * unit, 32 * unit),
        (facts, "facts", 18 * unit, 60 * unit),
    ):
        fitted = fit(text, width=room, height=1.3 * size, largest=size, smallest=0.5 * size)
        yield words(
            css, Point(at, high - drop), fitted.size, fitted.lines[0] if fitted.lines else "", anchor_at="start"
        )


def _sizes(sheet: Sheet, clamps: Sequence[Clamp], units: str, unit: float) -> Iterator[str]:
    """Yield the blank's two sizes, the scale bar and the grain's direction, below and left of the blank."""
    x, y = sheet.blank_x_mm, sheet.blank_y_mm
    below, beside = _below(clamps) - 30 * unit, _beside(clamps) - 30 * unit
    for a, b in ((Point(0, below), Point(x, below)), (Point(beside, 0), Point(beside, y))):
        yield line("dimension", a, b)
        for end in (a, b):
            slant = 7 * unit
            yield line("dimension", Point(end.x - slant, end.y - slant), Point(end.x + slant, end.y + slant))
    size = 19 * unit
    yield words("size", Point(x / 2, below - 24 * unit), size, show_length(x, units))
    yield words("size", Point(beside - 10 * unit, y / 2), size, show_length(y, units), upright=True)
    yield from _scale_bar(x, below - 66 * unit, units, unit)
    yield from _grain(sheet, below - 66 * unit, unit)


def _scale_bar(blank_x: float, y: float, units: str, unit: float) -> Iterator[str]:
    """Yield a bar of a round length, about a fifth of the blank."""
    room = blank_x / 4 if units == "mm" else inches_from_mm(blank_x / 4)
    decade = 10.0 ** math.floor(math.log10(room))
    length = max(step * decade for step in _SCALE_STEPS if step * decade <= room)
    whole = length if units == "mm" else mm_from_inches(length)
    height = 8 * unit
    yield rect("solid", 0, y, whole / 2, height)
    yield rect("hollow", whole / 2, y, whole / 2, height)
    yield words("size", Point(whole + 8 * unit, y - 3 * unit), 17 * unit, f"{length:g} {units}", anchor_at="start")


def _grain(sheet: Sheet, y: float, unit: float) -> Iterator[str]:
    right = sheet.blank_x_mm
    if not sheet.has_grain:
        yield words("size", Point(right, y - 3 * unit), 17 * unit, "no grain", anchor_at="end")
        return
    text = "grain runs left to right" if sheet.grain_along_x else "grain runs up the sheet"
    middle = Point(right - 32 * unit, y + 4 * unit)
    reach = (30 * unit, 0.0) if sheet.grain_along_x else (0.0, 24 * unit)
    yield words("size", Point(right - 74 * unit, y - 3 * unit), 17 * unit, text, anchor_at="end")
    yield line(
        "dimension", Point(middle.x - reach[0], middle.y - reach[1]), Point(middle.x + reach[0], middle.y + reach[1])
    )
    for sign in (-1, 1):
        tip = Point(middle.x + sign * reach[0], middle.y + sign * reach[1])
        back, side = 10 * unit * sign, 5 * unit
        wings = (
            [(tip.x - back, tip.y + side), (tip.x - back, tip.y - side)]
            if sheet.grain_along_x
            else [(tip.x + side, tip.y - back), (tip.x - side, tip.y - back)]
        )
        corners = " ".join(f"{number(px)},{number(-py)}" for px, py in [(tip.x, tip.y), *wings])
        yield f'<polygon class="solid" points="{corners}"/>'


def _origin(sheet: Sheet, clamps: Sequence[Clamp], unit: float) -> Iterator[str]:
    """Yield the mark of x and y zero, at the lower left corner of the blank."""
    r = 11 * unit
    yield f'<circle class="hollow" cx="0" cy="0" r="{number(r)}"/>'
    q = number(r)
    yield f'<path class="solid" d="M0 0H{q}A{q} {q} 0 0 0 0 -{q}ZM0 0H-{q}A{q} {q} 0 0 0 0 {q}Z"/>'
    at = Point(_beside(clamps) - 6 * unit, _below(clamps) - 56 * unit)
    where = "x0 y0: as on side 1" if sheet.side == 2 else "x0 y0: lower left corner"
    yield words("name", at, 17 * unit, where, anchor_at="start")


def _legend(sheet: Sheet, clamps: Sequence[Clamp], numbered: bool, units: str, unit: float) -> tuple[list[str], float]:
    """Return the legend's elements and its height: each kind of feature with its depth and how often it occurs."""
    counted: Counter[tuple[str, str]] = Counter()
    for placement in sheet.placements:
        for feature in placement.panel.features:
            counted[_swatch(feature, placement.panel.thickness_mm), describe(feature, units)] += 1
    rows = [(css, f"{text}: {count}") for (css, text), count in sorted(counted.items(), key=lambda item: item[0][::-1])]
    rows.extend(legend_rows(sheet, units))
    rows.extend(mark_rows(sheet))
    if sheet.offcuts:
        rows.append(("offcut", "offcut worth keeping"))
    if clamps:
        rows.append(("clamp", "clamp, with its height"))
    if numbered:
        rows.append(("order", "order of the profile cuts"))
    size = 16 * unit
    widest = max((width_em(text) * size for _, text in rows), default=1.0) + 50 * unit
    columns = max(1, min(len(rows) or 1, int(sheet.blank_x_mm / widest)))
    step = 28 * unit
    top = _below(clamps) - 133 * unit
    parts: list[str] = []
    for k, (css, text) in enumerate(rows):
        x = (k % columns) * sheet.blank_x_mm / columns
        y = top - (k // columns) * step
        parts.append(_sample(css, x, y, unit, f"hatch-{anchor(sheet.id)}"))
        parts.append(words("legend", Point(x + 36 * unit, y + 2 * unit), size, text, anchor_at="start"))
    return parts, math.ceil(len(rows) / columns) * step


def _swatch(feature: Feature, thickness_mm: float) -> str:
    if isinstance(feature, Bore):
        return "hole" if feature.through else "bore"
    return f"recess {shade(feature.depth_mm, thickness_mm)}" if isinstance(feature, Recess) else "through"


def _sample(css: str, x: float, y: float, unit: float, hatch: str) -> str:
    if css.endswith(("-edge", "-hand")):
        return mark_sample(css, x, y, unit)
    if css == "flip-line":
        return line(css, Point(x, y + 7 * unit), Point(x + 28 * unit, y + 7 * unit))
    if css in ("hole", "bore", "order", "index"):
        return (
            f'<circle class="{css}" cx="{number(x + 14 * unit)}" cy="{number(-y - 7 * unit)}" r="{number(7 * unit)}"/>'
        )
    swatch = rect(css, x, y, 28 * unit, 15 * unit)
    return swatch.replace('class="clamp"', f'class="clamp" fill="url(#{hatch})"')
