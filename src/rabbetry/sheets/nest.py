"""Panels onto blanks: grain, spacing, trim and clamps turned into plain rectangles, packed, and turned back.

Inside, lengths are whole millionths of a millimetre: far below anything physical, yet exact for parts that fill a
blank to the last 1/64 in, which a coarser step would refuse or let through wrongly. Every part carries its gap on its
right and upper sides, and the usable area of the blank is one gap larger, so that no gap is kept towards its edges.
"""

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rabbetry.findings import Finding, finding
from rabbetry.job.model import Grain, Job, Stock
from rabbetry.panels.model import Panel
from rabbetry.sheets.bound import lower_bound
from rabbetry.sheets.keepout import keep_outs
from rabbetry.sheets.model import Nesting, Offcut, Placement, Sheet, StockCount
from rabbetry.sheets.offcuts import worth_keeping
from rabbetry.sheets.pack import Bin, Item, Rect, Spot, clipped, without
from rabbetry.sheets.refuse import Room, refusal
from rabbetry.sheets.search import search

_PER_MM = 1_000_000
_OFFCUT_LONG_MM = 300.0
_OFFCUT_SHORT_MM = 150.0
_SMALL_INSET_MM = 30.0
"""Small parts are kept this far from the blank's edge where that costs no blank: the edge is where a blank lifts, and a
clamp is most in the way (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Blank:
    """A blank as the packer sees it: usable size with one gap more, and its maximal free rectangles."""

    width: int
    height: int
    gap: int
    free: tuple[Rect, ...]


def nest(panels: Sequence[Panel], *, job: Job, spacing_mm: Mapping[str, float]) -> Nesting:
    """Place panels on blanks of their stocks, as few as a fixed amount of search finds.

    `spacing_mm` is the gap between parts for each stock. Panels that fit no blank are errors among the findings, all
    in one go; the others are placed all the same. The order in which panels are listed does not matter. Raises
    KeyError for a panel whose stock has no spacing.
    """
    sheets: list[Sheet] = []
    counts: list[StockCount] = []
    found: list[Finding] = []
    ids = _sheet_names(job)
    for stock in job.stocks:
        own = sorted((panel for panel in panels if panel.stock == stock.name), key=lambda panel: _natural(panel.id))
        if not own:
            continue
        blank = _blank_of(stock, job, spacing_mm[stock.name])
        fitting, refused = _sort_out(own, stock, blank, job)
        found.extend(refused)
        if not fitting:
            continue
        items = _items(fitting, stock, blank)
        bound = _bound(items, blank)
        inset = _with_small_inside(items, fitting, stock, blank, job.cutting.small_part_mm)
        bins = _regrouped(_searched(items, inset, blank, bound))
        cost = _grain_cost(items, fitting, stock, blank, len(bins))
        if cost:
            blanks = "blank" if cost == 1 else "blanks"
            found.append(finding("grain-cost", f'stock "{stock.name}": keeping the grain costs {cost} {blanks}'))
        counts.append(StockCount(stock=stock.name, sheets=len(bins), lower_bound=bound, grain_cost=cost))
        digits = max(2, len(str(len(bins))))
        for number, box in enumerate(bins, start=1):
            sheets.append(_sheet(f"{ids[stock.name]}-{number:0{digits}d}", box, fitting, stock, blank))
    return Nesting(sheets=tuple(sheets), counts=tuple(counts), findings=tuple(found))


def _units(mm: float) -> int:
    return round(mm * _PER_MM)


def _mm(units: int) -> float:
    return units / _PER_MM


def _natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Return a key that puts B2 before B10."""
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part) for part in re.findall(r"\d+|\D+", text))


def _sheet_names(job: Job) -> dict[str, str]:
    """Return a safe start of the sheet ids for each stock; two stocks never share one."""
    names: dict[str, str] = {}
    for stock in job.stocks:
        plain = re.sub(r"[^A-Za-z0-9._-]+", "-", stock.name).strip("-.")[:60] or "stock"
        name, again = plain, 2
        while name.lower() in {taken.lower() for taken in names.values()}:
            name, again = f"{plain}-{again}", again + 1
        names[stock.name] = name
    return names


def _blank_of(stock: Stock, job: Job, spacing_mm: float) -> _Blank:
    gap = _units(spacing_mm)
    width = _units(stock.blank_x_mm - 2 * stock.trim_mm) + gap
    height = _units(stock.blank_y_mm - 2 * stock.trim_mm) + gap
    free: list[Rect] = [(0, 0, width, height)] if width > 0 and height > 0 else []
    for x0, y0, x1, y1 in keep_outs(job.shop, thickness_mm=stock.thickness_mm, spacing_mm=spacing_mm):
        # The part's own gap already reaches out to its right and upper sides.
        taken = (
            _units(x0 - stock.trim_mm) + gap,
            _units(y0 - stock.trim_mm) + gap,
            _units(x1 - stock.trim_mm),
            _units(y1 - stock.trim_mm),
        )
        free = without(free, taken)
    return _Blank(width=width, height=height, gap=gap, free=tuple(sorted(free)))


def _allowed_turns(panel: Panel, stock: Stock) -> tuple[int, ...]:
    """Return the turns that keep the grain right: 0 puts the panel's length along blank x."""
    if panel.grain is Grain.FREE or not stock.has_grain:
        return (0, 90) if panel.length_mm != panel.width_mm else (0,)
    along = panel.grain is Grain.ALONG
    return (0,) if along == stock.grain_along_x else (90,)


def _sizes(panel: Panel, turn: int) -> tuple[int, int]:
    length, width = _units(panel.length_mm), _units(panel.width_mm)
    return (width, length) if turn == 90 else (length, width)


def _fits(width: int, height: int, free: Sequence[Rect]) -> bool:
    return any(rect[2] - rect[0] >= width and rect[3] - rect[1] >= height for rect in free)


def _turns_that_fit(panel: Panel, turns: Sequence[int], blank: _Blank) -> tuple[tuple[int, int, int], ...]:
    sized = ((turn, *(side + blank.gap for side in _sizes(panel, turn))) for turn in turns)
    return tuple((turn, w, h) for turn, w, h in sized if _fits(w, h, blank.free))


def _sort_out(
    panels: Sequence[Panel], stock: Stock, blank: _Blank, job: Job
) -> tuple[tuple[Panel, ...], tuple[Finding, ...]]:
    room = Room(
        x_mm=_mm(blank.width - blank.gap),
        y_mm=_mm(blank.height - blank.gap),
        units=str(job.units),
    )
    fitting, refused = [], []
    for panel in panels:
        turns = _allowed_turns(panel, stock)
        if _turns_that_fit(panel, turns, blank):
            fitting.append(panel)
        else:
            turned = bool(_turns_that_fit(panel, (0, 90), blank))
            refused.append(refusal(panel, stock=stock, turns=turns, room=room, fits_turned=turned))
    return tuple(fitting), tuple(refused)


def _items(panels: Sequence[Panel], stock: Stock, blank: _Blank) -> list[Item]:
    return [
        Item(index, _turns_that_fit(panel, _allowed_turns(panel, stock), blank)) for index, panel in enumerate(panels)
    ]


def _with_small_inside(
    items: list[Item], panels: Sequence[Panel], stock: Stock, blank: _Blank, small_mm: float
) -> list[Item]:
    """Return the items with small ones bound to stay away from the blank's edge, where there is room for them."""
    inset = max(0, _units(_SMALL_INSET_MM - stock.trim_mm))
    # A part's own gap lies on its right and upper sides and may reach into the inset.
    within = (inset, inset, blank.width - inset, blank.height - inset)
    free = clipped(blank.free, within)
    bound = []
    for item in items:
        panel = panels[item.index]
        small = min(panel.length_mm, panel.width_mm) < small_mm
        turns = tuple((turn, w, h) for turn, w, h in item.turns if _fits(w, h, free)) if small else ()
        bound.append(Item(item.index, turns, within) if turns else item)
    return bound


def _searched(items: list[Item], inset: list[Item], blank: _Blank, bound: int) -> list[Bin]:
    """Return the packing with small parts kept from the edge, unless that takes a blank more than without."""
    kept = search(inset, free=blank.free, bound=bound)
    if inset == items or len(kept) <= bound:
        return kept
    plain = search(items, free=blank.free, bound=bound)
    return plain if len(plain) < len(kept) else kept


def _bound(items: Sequence[Item], blank: _Blank) -> int:
    return lower_bound((tuple((w, h) for _, w, h in item.turns) for item in items), blank.width, blank.height)


def _grain_cost(items: Sequence[Item], panels: Sequence[Panel], stock: Stock, blank: _Blank, count: int) -> int:
    """Return how many blanks fewer the same search needs with every part free to turn; 0 when it finds no fewer."""
    if count == 1 or all(panel.grain is Grain.FREE for panel in panels) or not stock.has_grain:
        return 0
    free = [Item(item.index, _turns_that_fit(panels[item.index], (0, 90), blank)) for item in items]
    bound = _bound(free, blank)
    return max(0, count - len(search(free, free=blank.free, bound=bound))) if bound < count else 0


def _regrouped(bins: list[Bin]) -> list[Bin]:
    """Give places of equal size to the panels in their own order, so that a cabinet's parts lie near each other."""
    waiting: defaultdict[tuple[object, ...], list[Item]] = defaultdict(list)
    for box in bins:
        for spot in box.spots:
            waiting[spot.item.turns, spot.item.within].append(spot.item)
    for items in waiting.values():
        items.sort(key=lambda item: -item.index)
    for box in bins:
        box.spots.sort(key=lambda spot: (spot.y, spot.x))
        box.spots = [
            Spot(waiting[spot.item.turns, spot.item.within].pop(), spot.x, spot.y, spot.turn) for spot in box.spots
        ]
    return bins


def _sheet(name: str, box: Bin, panels: Sequence[Panel], stock: Stock, blank: _Blank) -> Sheet:
    def at(units: int) -> float:
        return round(stock.trim_mm + _mm(units), 6)

    rests = worth_keeping(
        box.free, gap=blank.gap, long_side=_units(_OFFCUT_LONG_MM), short_side=_units(_OFFCUT_SHORT_MM)
    )
    return Sheet(
        id=name,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        thickness_is_measured=stock.measured_mm is not None,
        blank_x_mm=stock.blank_x_mm,
        blank_y_mm=stock.blank_y_mm,
        grain_along_x=stock.grain_along_x,
        has_grain=stock.has_grain,
        trim_mm=stock.trim_mm,
        placements=tuple(
            Placement(panel=panels[spot.item.index], x_mm=at(spot.x), y_mm=at(spot.y), rotation_deg=spot.turn)
            for spot in sorted(box.spots, key=lambda spot: (spot.y, spot.x))
        ),
        offcuts=tuple(
            Offcut(x_mm=at(x0), y_mm=at(y0), length_x_mm=_mm(x1 - x0), length_y_mm=_mm(y1 - y0))
            for x0, y0, x1, y1 in rests
        ),
    )
