"""A picture of the finished blank, seen from above, as the dry run knows it: the deeper, the darker. SVG.

No region is computed: every way of a cutter is drawn as a line as wide as the cutter, with round ends, from the
shallowest to the deepest, so that what was cut deep covers what was cut above it. That is just what a flat-ended
cutter leaves. A ramp is drawn at the height of its upper end; depths are told apart to 0.1 mm.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from html import escape

from rabbetry.dryrun.setup import Contour, Point2, Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.target import flattened
from rabbetry.dryrun.tolerances import SAME_POINT_MM, TEXT_MM

MOST_WAYS = 200_000
"""A program of more ways than this is not drawn: no browser would show it."""
_SHALLOW = (233, 213, 175)
_DEEP = (74, 48, 28)
_TITLE = "what the dry run says is left"
_LEGEND_ROW = 6
"""Depths in one row of the legend."""

_Ways = dict[tuple[float, float], list[Stroke]]
"""Strokes by depth (0.1 mm; infinite for through) and width of the cutter, in order of the programs."""
_Key = tuple[float, Point2, Point2, Point2 | None, float]
"""Width, ends, centre and sweep of a way, whichever way round it was cut."""


def height_svg(strokes: Iterable[Stroke], setup: Setup) -> str:
    """Return the picture of a blank after these strokes, program frame with y up, as SVG text; "" when there are more
    than `MOST_WAYS`. Through cuts are hatched; thin lines are the outlines of the parts that were asked for."""
    ways = _ways(strokes, setup)
    if sum(len(group) for group in ways.values()) > MOST_WAYS:
        return ""
    wide, high = max(setup.blank_x_mm, 1.0), max(setup.blank_y_mm, 1.0)
    unit = max(wide, high) / 60
    depths = sorted({depth for depth, _ in ways})
    rows = math.ceil(len(depths) / _LEGEND_ROW)
    box = f"{_n(-unit)} {_n(-3 * unit)} {_n(wide + 2 * unit)} {_n(high + (4.5 + 2 * rows) * unit)}"
    title = f"{_plain(setup.sheet)}: {_TITLE}"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" font-family="sans-serif" role="img">',
        f"<title>{title}</title>",
        f'<defs><pattern id="through" patternUnits="userSpaceOnUse" width="{_n(unit / 3)}" height="{_n(unit / 3)}" '
        f'patternTransform="rotate(45)"><rect width="{_n(unit / 3)}" height="{_n(unit / 3)}" fill="#fff"/>'
        f'<rect width="{_n(unit / 8)}" height="{_n(unit / 3)}" fill="#555"/></pattern>'
        f'<clipPath id="blank"><rect width="{_n(wide)}" height="{_n(high)}"/></clipPath></defs>',
        f'<text x="0" y="{_n(-unit)}" font-size="{_n(1.2 * unit)}">{title}</text>',
        f'<g transform="translate(0 {_n(high)}) scale(1 -1)">',
        f'<rect width="{_n(wide)}" height="{_n(high)}" fill="#f7ecd6" stroke="#333" stroke-width="{_n(unit / 12)}"/>',
        '<g clip-path="url(#blank)" fill="none" stroke-linecap="round" stroke-linejoin="round">',
    ]
    for depth, width in sorted(ways):
        colour = _colour(depth, setup.thickness_mm)
        lines.append(f'<path stroke="{colour}" stroke-width="{_n(width)}" d="{"".join(_path(ways[depth, width]))}"/>')
    lines.append(f'</g><g fill="none" stroke="#06c" stroke-width="{_n(unit / 20)}">')
    lines += [_outline(panel.outline) for panel in setup.panels]
    lines.append("</g></g>")
    lines += _legend(depths, setup.thickness_mm, high, unit)
    lines.append("</svg>\n")
    return "\n".join(lines)


def _ways(strokes: Iterable[Stroke], setup: Setup) -> _Ways:
    """Return the strokes that leave something to see: those in the stock, the deepest of those along one way."""
    top = setup.stock_top_z_mm
    deepest: dict[_Key, tuple[float, Stroke]] = {}
    for stroke in strokes:
        if stroke.cutter is None or not stroke.from_known or stroke.lowest >= top - TEXT_MM:
            continue
        z = stroke.lowest if stroke.is_vertical else max(stroke.start[2], stroke.to[2])
        depth = round(top - z, 1)
        if z <= setup.spoilboard_z_mm + TEXT_MM:
            depth = math.inf
        one, other = _spot(stroke.start), _spot(stroke.to)
        if stroke.sweep_rad < 0.0 or (stroke.centre is None and other < one):
            one, other = other, one
        key = (stroke.cutter.diameter_mm, one, other, stroke.centre, round(abs(stroke.sweep_rad), 3))
        if depth > 0.0 and (key not in deepest or deepest[key][0] < depth):
            deepest[key] = (depth, stroke)
    ways: _Ways = {}
    for (width, _, _, _, _), (depth, stroke) in deepest.items():
        ways.setdefault((depth, width), []).append(stroke)
    return ways


def _spot(point: Sequence[float]) -> Point2:
    return round(point[0], 3), round(point[1], 3)


def _path(strokes: Iterable[Stroke]) -> Iterator[str]:
    """Yield the words of an SVG path; a way that goes on where the one before ended needs no new start."""
    at: Point2 | None = None
    for stroke in strokes:
        start, to = _spot(stroke.start), _spot(stroke.to)
        if start != at:
            yield f"M{_pair(start)}"
        at = to
        if stroke.is_vertical:
            yield "h.01"
            at = None
        elif stroke.centre is None or stroke.radius_mm < SAME_POINT_MM:
            yield f"L{_pair(to)}"
        else:
            radius = _n(stroke.radius_mm)
            for part in (0.5, 1.0):  # Two halves: one word cannot say a full circle.
                yield f"A{radius} {radius} 0 0 {int(stroke.sweep_rad > 0)} {_pair(_spot(stroke.at(part)))}"


def _outline(contour: Contour) -> str:
    return f'<path d="M{"L".join(_pair(_spot(point)) for point in flattened(contour))}Z"/>'


def _legend(depths: Sequence[float], thickness_mm: float, high: float, unit: float) -> Iterator[str]:
    for place, depth in enumerate(depths):
        x, y = (place % _LEGEND_ROW) * 10 * unit, high + (1 + 2 * (place // _LEGEND_ROW)) * unit
        said = "through" if math.isinf(depth) else f"{depth:.1f} mm deep"
        yield (
            f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(1.5 * unit)}" height="{_n(unit)}" '
            f'fill="{_colour(depth, thickness_mm)}" stroke="#333" stroke-width="{_n(unit / 20)}"/>'
            f'<text x="{_n(x + 2 * unit)}" y="{_n(y + 0.85 * unit)}" font-size="{_n(unit)}">{said}</text>'
        )


def _colour(depth: float, thickness_mm: float) -> str:
    if math.isinf(depth):
        return "url(#through)"
    share = min(1.0, depth / thickness_mm)
    red, green, blue = (round(light + (dark - light) * share) for light, dark in zip(_SHALLOW, _DEEP, strict=True))
    return f"#{red:02x}{green:02x}{blue:02x}"


def _plain(text: str) -> str:
    return escape("".join(letter for letter in text if letter.isprintable()))


def _pair(point: Sequence[float]) -> str:
    return f"{_n(point[0])} {_n(point[1])}"


def _n(value: float) -> str:
    """Return a number with at most three decimals, without trailing zeros."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
