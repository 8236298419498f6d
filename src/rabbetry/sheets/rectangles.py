"""Panels and blanks as rectangles in whole numbers: grain, spacing, trim and clamps are all in here.

Lengths are whole millionths of a millimetre: far below anything physical, yet exact for parts that fill a blank to the
last 1/64 in, which a coarser step would refuse or let through wrongly. Every part carries its gap on its right and
upper sides, and the usable area of the blank is one gap larger, so that no gap is kept towards its edges.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rabbetry.job.model import Grain, Job, Stock
from rabbetry.panels.model import Panel
from rabbetry.sheets.faces import flip_keep_outs
from rabbetry.sheets.keepout import keep_outs
from rabbetry.sheets.model import Flip
from rabbetry.sheets.pack import Item, Rect, clipped, without
from rabbetry.sheets.shapes import Column, columns

_PER_MM = 1_000_000
_SMALL_INSET_MM = 30.0
"""Small parts are kept this far from the blank's edge where that costs no blank: the edge is where a blank lifts, and a
clamp is most in the way (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """A blank as the packer sees it: usable size with one gap more, and its maximal free rectangles."""

    width: int
    height: int
    gap: int
    free: tuple[Rect, ...]


def units(mm: float) -> int:
    """Return a length in whole units."""
    return round(mm * _PER_MM)


def mm_of(whole: int) -> float:
    """Return whole units in millimetres."""
    return whole / _PER_MM


def blank_of(stock: Stock, job: Job, spacing_mm: float, flip: Flip | None = None) -> Blank:
    """Return an empty blank of the stock, its clamps' keep-outs taken off, and what a flip keeps free."""
    gap = units(spacing_mm)
    width = units(stock.blank_x_mm - 2 * stock.trim_mm) + gap
    height = units(stock.blank_y_mm - 2 * stock.trim_mm) + gap
    free: list[Rect] = [(0, 0, width, height)] if width > 0 and height > 0 else []
    blocked = keep_outs(job.shop, thickness_mm=stock.thickness_mm, spacing_mm=spacing_mm)
    if flip is not None:
        blocked += flip_keep_outs(flip, stock, job, spacing_mm)
    for x0, y0, x1, y1 in blocked:
        # The part's own gap already reaches out to its right and upper sides.
        taken = (
            units(x0 - stock.trim_mm) + gap,
            units(y0 - stock.trim_mm) + gap,
            units(x1 - stock.trim_mm),
            units(y1 - stock.trim_mm),
        )
        free = without(free, taken)
    return Blank(width=width, height=height, gap=gap, free=tuple(sorted(free)))


def allowed_turns(panel: Panel, stock: Stock) -> tuple[int, ...]:
    """Return the turns that keep the grain right: 0 puts the panel's length along blank x."""
    if panel.grain is Grain.FREE or not stock.has_grain:
        return (0, 90) if panel.length_mm != panel.width_mm else (0,)
    along = panel.grain is Grain.ALONG
    return (0,) if along == stock.grain_along_x else (90,)


def _sizes(panel: Panel, turn: int) -> tuple[int, int]:
    length, width = units(panel.length_mm), units(panel.width_mm)
    return (width, length) if turn == 90 else (length, width)


def _fits(width: int, height: int, free: Sequence[Rect]) -> bool:
    return any(rect[2] - rect[0] >= width and rect[3] - rect[1] >= height for rect in free)


def turns_that_fit(panel: Panel, turns: Sequence[int], blank: Blank) -> tuple[tuple[int, int, int], ...]:
    """Return those turns in which the panel fits an empty blank, each with its size and gap."""
    sized = ((turn, *(side + blank.gap for side in _sizes(panel, turn))) for turn in turns)
    return tuple((turn, w, h) for turn, w, h in sized if _fits(w, h, blank.free))


def items_of(panels: Sequence[Panel], stock: Stock, blank: Blank) -> list[Item]:
    """Return the panels as items, indexed as listed; an item has no turns when the panel does not fit."""
    return [
        item_of(index, panel, turns_that_fit(panel, allowed_turns(panel, stock), blank), blank)
        for index, panel in enumerate(panels)
    ]


def item_of(index: int, panel: Panel, turns: tuple[tuple[int, int, int], ...], blank: Blank) -> Item:
    """Return the panel as an item in those turns. A notch big enough for another part is left free."""
    strips = columns(panel.outline)
    if len(strips) < 2:
        return Item(index, turns)
    core = max((column.core for column in strips), key=lambda size: max(0.0, size[0]) * max(0.0, size[1]))
    length, width = units(core[0]) + blank.gap, units(core[1]) + blank.gap
    return Item(
        index,
        turns,
        made_of=tuple(tuple(_strip(column, panel, turn, blank.gap) for column in strips) for turn, _, _ in turns),
        core=tuple((width, length) if turn == 90 else (length, width) for turn, _, _ in turns),
    )


def _strip(column: Column, panel: Panel, turn: int, gap: int) -> Rect:
    """Return a strip of the panel, its gap on its right and upper sides, measured from the turned panel's corner."""
    x0, y0, x1, y1 = column.x0, column.low, column.x1, column.high
    if turn == 90:
        x0, y0, x1, y1 = panel.width_mm - y1, x0, panel.width_mm - y0, x1
    return units(x0), units(y0), units(x1) + gap, units(y1) + gap


def with_small_inside(
    items: list[Item], panels: Sequence[Panel], stock: Stock, blank: Blank, small_mm: float
) -> list[Item]:
    """Return the items with small ones bound to stay away from the blank's edge, where there is room for them."""
    inset = max(0, units(_SMALL_INSET_MM - stock.trim_mm))
    # A part's own gap lies on its right and upper sides and may reach into the inset.
    within = (inset, inset, blank.width - inset, blank.height - inset)
    free = clipped(blank.free, within)
    bound = []
    for item in items:
        panel = panels[item.index]
        small = min(panel.length_mm, panel.width_mm) < small_mm
        turns = tuple((turn, w, h) for turn, w, h in item.turns if _fits(w, h, free)) if small else ()
        bound.append(replace(item_of(item.index, panel, turns, blank), within=within) if turns else item)
    return bound
