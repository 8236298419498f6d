"""Panels onto blanks: turned into plain rectangles, packed, and turned back into placements."""

import re
from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from rabbetry.findings import Finding, finding
from rabbetry.job.model import Grain, Job, Stock
from rabbetry.panels.model import Panel
from rabbetry.sheets.bound import lower_bound
from rabbetry.sheets.faces import find_flip, flipped_name, is_two_face, no_index_holes
from rabbetry.sheets.model import Flip, Nesting, Offcut, Placement, Sheet, StockCount
from rabbetry.sheets.offcuts import worth_keeping
from rabbetry.sheets.pack import Bin, Item, Spot
from rabbetry.sheets.rectangles import (
    Blank,
    allowed_turns,
    blank_of,
    item_of,
    items_of,
    mm_of,
    turns_that_fit,
    units,
    with_small_inside,
)
from rabbetry.sheets.refuse import Room, refusal
from rabbetry.sheets.search import pack_one, search
from rabbetry.sheets.shelf_pieces import Piece, shelf_findings, suitable, use_pieces

_OFFCUT_LONG_MM = 300.0
_OFFCUT_SHORT_MM = 150.0
_ROOMY = 2
"""Where a sheet has room, parts lie this many gaps apart: then the cuts round two neighbours do not meet, and a tab
between them still holds on to wood."""


def nest(
    panels: Sequence[Panel], *, job: Job, spacing_mm: Mapping[str, float], tied: Collection[str] = frozenset()
) -> Nesting:
    """Place panels on blanks of their stocks, as few as a fixed amount of search finds.

    `spacing_mm` is the gap between parts for each stock. Panels that fit no blank are errors among the findings, all
    in one go; the others are placed all the same. The order in which panels are listed does not matter. Panels whose
    ids are `tied` lie on no offcut that is thicker or thinner than their stock. Raises KeyError for a panel whose stock
    has no spacing.
    """
    names = _sheet_names(job)
    parts: list[Nesting] = []
    for stock in job.stocks:
        own = [panel for panel in panels if panel.stock == stock.name]
        if own:
            taken = {sheet.offcut for part in parts for sheet in part.sheets}
            pieces = suitable(job, stock, spacing_mm[stock.name], taken)
            parts.append(_nest_faces(own, stock, job, spacing_mm[stock.name], names, _Shelf(pieces, tied)))
    return Nesting(
        sheets=tuple(sheet for part in parts for sheet in part.sheets),
        counts=tuple(count for part in parts for count in part.counts),
        findings=tuple(item for part in parts for item in part.findings),
    )


@dataclass(frozen=True, slots=True)
class _Shelf:
    """Pieces that suit a stock, and the panels that lie on none of another thickness."""

    pieces: tuple[Piece, ...] = ()
    tied: Collection[str] = frozenset()


def _nest_faces(
    panels: Sequence[Panel], stock: Stock, job: Job, spacing_mm: float, names: Mapping[str, str], shelf: _Shelf
) -> Nesting:
    """Place the parts of one stock: those with cuts in both faces on sheets of their own, which are flipped."""
    one = [panel for panel in panels if not is_two_face(panel)]
    two = [panel for panel in panels if is_two_face(panel)]
    nestings = [_nest_stock(one, stock, job, spacing_mm, names[stock.name], shelf=shelf)] if one else []
    if two:
        flip = find_flip(stock, job, spacing_mm)
        if flip is None:
            nestings.append(Nesting(sheets=(), counts=(), findings=(no_index_holes(stock),)))
            return _together(nestings)
        nestings.append(_nest_stock(two, stock, job, spacing_mm, flipped_name(names, stock.name), flip))
    return _together(nestings)


def _together(nestings: Sequence[Nesting]) -> Nesting:
    """Return the nestings of one stock as one: a part of one sort never lies on a sheet of the other, so that the
    least numbers add up too."""
    counts = [count for nesting in nestings for count in nesting.counts]
    if len(counts) > 1:
        first = counts[0]
        counts = [
            replace(
                first,
                sheets=sum(count.sheets for count in counts),
                lower_bound=sum(count.lower_bound for count in counts),
                grain_cost=sum(count.grain_cost for count in counts),
                offcuts=sum(count.offcuts for count in counts),
            )
        ]
    return Nesting(
        sheets=tuple(sheet for nesting in nestings for sheet in nesting.sheets),
        counts=tuple(counts),
        findings=tuple(item for nesting in nestings for item in nesting.findings),
    )


def _nest_stock(
    panels: Sequence[Panel],
    stock: Stock,
    job: Job,
    spacing_mm: float,
    name: str,
    flip: Flip | None = None,
    shelf: _Shelf | None = None,
) -> Nesting:
    blank = blank_of(stock, job, spacing_mm, flip)
    own = sorted(panels, key=lambda panel: (_natural(panel.id), panel.id))
    fitting, found = _sort_out(own, stock, blank, job)
    if not fitting:
        return Nesting(sheets=(), counts=(), findings=found)
    items = items_of(fitting, stock, blank)
    bound = _bound(items, blank)
    inset = with_small_inside(items, fitting, stock, blank, job.cutting.small_part_mm)
    effort = job.cutting.layout_effort
    bins = _searched(items, inset, blank, bound, effort)
    cost = _grain_cost(items, fitting, stock, blank, len(bins), effort)
    used: tuple[tuple[Piece, Bin], ...] = ()
    if shelf is not None and shelf.pieces:
        bins, used = use_pieces(
            items,
            bins,
            shelf.pieces,
            stock,
            fitting,
            tied=shelf.tied,
            again=lambda left: search(left, free=blank.free, bound=_bound(left, blank), effort=effort),
        )
    bins = _regrouped(bins)
    if cost:
        message = f'stock "{stock.name}": keeping the grain costs {cost} blank{"s" if cost > 1 else ""}'
        found = (*found, finding("grain-cost", message))
    roomy = blank_of(stock, job, _ROOMY * spacing_mm, flip)
    apart = with_small_inside(items_of(fitting, stock, roomy), fitting, stock, roomy, job.cutting.small_part_mm)
    digits = max(2, len(str(len(bins))))
    sheets = []
    for number, box in enumerate(bins, start=1):
        wide = pack_one([apart[spot.item.index] for spot in box.spots], free=roomy.free)
        laid, on = (box, blank) if wide is None else (wide, roomy)
        sheets.append(_sheet(f"{name}-{number:0{digits}d}", laid, fitting, stock, on, flip))
    offcuts = [f"{name}-offcut-{number:02d}" for number in range(1, len(used) + 1)]
    for (piece, box), offcut in zip(used, offcuts, strict=True):
        sheet = _sheet(offcut, box, fitting, piece.stock, piece.blank, None)
        sheets.append(replace(sheet, offcut=piece.shelf.name))
    if shelf is not None:
        found = (*found, *shelf_findings(job, stock, used, offcuts))
    count = StockCount(stock=stock.name, sheets=len(sheets), lower_bound=bound, grain_cost=cost, offcuts=len(offcuts))
    return Nesting(sheets=tuple(sheets), counts=(count,), findings=found)


def _natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Return a key that puts B2 before B10."""
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part) for part in re.findall(r"\d+|\D+", text))


def _sheet_names(job: Job) -> dict[str, str]:
    """Return a safe start of the sheet ids for each stock; two stocks never share one."""
    names: dict[str, str] = {}
    for stock in job.stocks:
        plain = re.sub(r"[^A-Za-z0-9_-]+", "-", stock.name).strip("-")[:60] or "stock"
        name, again = plain, 2
        while name.lower() in {taken.lower() for taken in names.values()}:
            name, again = f"{plain}-{again}", again + 1
        names[stock.name] = name
    return names


def _sort_out(
    panels: Sequence[Panel], stock: Stock, blank: Blank, job: Job
) -> tuple[tuple[Panel, ...], tuple[Finding, ...]]:
    room = Room(
        x_mm=mm_of(blank.width - blank.gap),
        y_mm=mm_of(blank.height - blank.gap),
        units=str(job.units),
    )
    fitting, refused = [], []
    for panel in panels:
        turns = allowed_turns(panel, stock)
        if turns_that_fit(panel, turns, blank):
            fitting.append(panel)
        else:
            turned = bool(turns_that_fit(panel, (0, 90), blank))
            refused.append(refusal(panel, stock=stock, turns=turns, room=room, fits_turned=turned))
    return tuple(fitting), tuple(refused)


def _searched(items: list[Item], inset: list[Item], blank: Blank, bound: int, effort: int) -> list[Bin]:
    """Return the packing with small parts kept from the edge, unless that takes a blank more than without."""
    kept = search(inset, free=blank.free, bound=bound, effort=effort)
    if inset == items or len(kept) <= bound:
        return kept
    plain = search(items, free=blank.free, bound=bound, effort=effort)
    return plain if len(plain) < len(kept) else kept


def _bound(items: Sequence[Item], blank: Blank) -> int:
    sizes = (item.core or tuple((w, h) for _, w, h in item.turns) for item in items)
    return lower_bound(sizes, blank.width, blank.height)


def _grain_cost(
    items: Sequence[Item], panels: Sequence[Panel], stock: Stock, blank: Blank, count: int, effort: int
) -> int:
    """Return how many blanks fewer the same search needs with every part free to turn; 0 when it finds no fewer."""
    if count == 1 or all(panel.grain is Grain.FREE for panel in panels) or not stock.has_grain:
        return 0
    free = [
        item_of(item.index, panel, turns_that_fit(panel, (0, 90), blank), blank)
        for item in items
        for panel in (panels[item.index],)
    ]
    bound = _bound(free, blank)
    return max(0, count - len(search(free, free=blank.free, bound=bound, effort=effort))) if bound < count else 0


def _regrouped(bins: list[Bin]) -> list[Bin]:
    """Give places of equal size to the panels in their own order, so that a cabinet's parts lie near each other."""
    waiting: defaultdict[tuple[object, ...], list[Item]] = defaultdict(list)
    for box in bins:
        for spot in box.spots:
            waiting[_form(spot.item)].append(spot.item)
    for items in waiting.values():
        items.sort(key=lambda item: -item.index)
    for box in bins:
        box.spots.sort(key=lambda spot: (spot.y, spot.x))
        box.spots = [Spot(waiting[_form(spot.item)].pop(), spot.x, spot.y, spot.turn) for spot in box.spots]
    return bins


def _form(item: Item) -> tuple[object, ...]:
    """What two items must share to change places."""
    return item.turns, item.within, item.made_of


def _sheet(name: str, box: Bin, panels: Sequence[Panel], stock: Stock, blank: Blank, flip: Flip | None) -> Sheet:
    def at(whole: int) -> float:
        return round(stock.trim_mm + mm_of(whole), 6)

    rests = worth_keeping(box.free, gap=blank.gap, long_side=units(_OFFCUT_LONG_MM), short_side=units(_OFFCUT_SHORT_MM))
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
            Offcut(x_mm=at(x0), y_mm=at(y0), length_x_mm=mm_of(x1 - x0), length_y_mm=mm_of(y1 - y0))
            for x0, y0, x1, y1 in rests
        ),
        flip=flip,
    )
