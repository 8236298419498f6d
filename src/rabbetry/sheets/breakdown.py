"""Full sheets sawn down to blanks: how many to buy, which cuts, which blank is which. Millimetres, frame of the full
sheet: origin at its lower left corner, x along its grain (along its length where it has none).

Cuts run right through a piece from edge to edge, as on any table or track saw, and each takes the saw's kerf. All
blanks of a stock are of one size, so a sheet is one or two blocks of equal pieces, the first as many strips wide or
high as gives most: the best there is for a grain that must run one way, and near it for sheets without grain.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.findings import Finding, finding
from rabbetry.job.model import Job, Stock
from rabbetry.sheets.model import Breakdown, FullSheet, Nesting, SawCut, SawnBlank
from rabbetry.shop.model import SheetGood
from rabbetry.tolerances import POINT_MM
from rabbetry.units import write_length

EDGES = ("left end", "right end", "lower edge", "upper edge")
"""Edges of the full sheet as drawn, in the order of `SawnBlank.factory_edges`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Equal pieces side by side: `columns` along x, `rows` along y, each `along` by `across`."""

    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float
    columns: int
    rows: int

    @property
    def count(self) -> int:
        return self.columns * self.rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A piece of sheet to fill."""

    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float


def break_down(nesting: Nesting, job: Job) -> tuple[tuple[Breakdown, ...], tuple[Finding, ...]]:
    """Return for each stock used how its blanks come from full sheets, and what the kerf takes from them.

    A blank that no full sheet yields gets a break-down without sheets; `job_findings` says so.
    """
    done: list[Breakdown] = []
    found: list[Finding] = []
    for stock in job.stocks:
        ids = [sheet.id for sheet in nesting.sheets if sheet.stock == stock.name and not sheet.offcut]
        if not ids:
            continue
        good = next(good for good in job.shop.sheet_goods if good.name == stock.sheet)
        done.append(_break_down(stock, good, ids))
        found.extend(_losses(stock, good, len(ids), str(job.units)))
    return tuple(done), tuple(found)


def full_size_mm(stock: Stock, good: SheetGood) -> tuple[float, float]:
    """Return the full sheet's size along and across its grain: the stock's own word, else the sheet table's."""
    return stock.full_sheet_mm or (good.sheet_along_mm, good.sheet_across_mm)


def _sizes(stock: Stock, good: SheetGood) -> tuple[tuple[float, float], ...]:
    """Return the blank's size along and across the full sheet, in each way it may lie in it."""
    size = (stock.blank_x_mm, stock.blank_y_mm)
    turned = (size[1], size[0])
    if good.has_grain:
        return (size,) if stock.grain_along_x else (turned,)
    return (size,) if size == turned else (size, turned)


def _break_down(stock: Stock, good: SheetGood, ids: Sequence[str]) -> Breakdown:
    along, across = full_size_mm(stock, good)
    blocks = best_blocks(along, across, _sizes(stock, good), stock.saw_kerf_mm)
    spots = [
        spot for spot in _spots(blocks, along, across, stock.saw_kerf_mm) if spot[4] or not stock.keep_factory_edge
    ]
    each = len(spots)
    sheets = []
    for number, first in enumerate(range(0, len(ids) if each else 0, each or 1), start=1):
        blanks = tuple(
            SawnBlank(id=name, x_mm=x, y_mm=y, along_mm=a, across_mm=b, factory_edges=edges)
            for name, (x, y, a, b, edges) in zip(ids[first : first + each], spots, strict=False)
        )
        sheets.append(FullSheet(number=number, blanks=blanks))
    return Breakdown(
        stock=stock.name,
        title=good.title,
        along_mm=along,
        across_mm=across,
        kerf_mm=stock.saw_kerf_mm,
        has_grain=good.has_grain,
        blanks_each=each,
        needed=len(ids),
        sheets=tuple(sheets),
        cuts=tuple(_cuts(blocks, along, across, stock.saw_kerf_mm)),
        price_each=stock.price,
    )


def best_blocks(
    along_mm: float, across_mm: float, sizes: Sequence[tuple[float, float]], kerf_mm: float
) -> tuple[Block, ...]:
    """Return the one or two blocks of pieces that give most pieces; none when not even one fits."""
    room = Room(x_mm=0.0, y_mm=0.0, along_mm=along_mm, across_mm=across_mm)
    ways = [blocks for size in sizes for blocks in _ways(room, size, sizes, kerf_mm)]
    return max(ways, key=lambda blocks: (sum(block.count for block in blocks), -len(blocks)), default=())


def _ways(
    room: Room, size: tuple[float, float], sizes: Sequence[tuple[float, float]], kerf: float
) -> Iterator[tuple[Block, ...]]:
    whole = _grid(room, size, kerf)
    if not whole.count:
        return
    yield (whole,)
    others = [other for other in sizes if other != size]
    for columns in range(1, whole.columns + 1):
        used = columns * (size[0] + kerf)
        rest = Room(x_mm=room.x_mm + used, y_mm=room.y_mm, along_mm=room.along_mm - used, across_mm=room.across_mm)
        yield from _with_rest(_grid(room, size, kerf, columns=columns), rest, others, kerf)
    for rows in range(1, whole.rows + 1):
        used = rows * (size[1] + kerf)
        rest = Room(x_mm=room.x_mm, y_mm=room.y_mm + used, along_mm=room.along_mm, across_mm=room.across_mm - used)
        yield from _with_rest(_grid(room, size, kerf, rows=rows), rest, others, kerf)


def _with_rest(
    block: Block, rest: Room, sizes: Sequence[tuple[float, float]], kerf: float
) -> Iterator[tuple[Block, ...]]:
    for other in sizes:
        second = _grid(rest, other, kerf)
        if second.count:
            yield (block, second)


def _grid(room: Room, size: tuple[float, float], kerf: float, columns: int = 0, rows: int = 0) -> Block:
    return Block(
        x_mm=room.x_mm,
        y_mm=room.y_mm,
        along_mm=size[0],
        across_mm=size[1],
        columns=columns or pieces(room.along_mm, size[0], kerf),
        rows=rows or pieces(room.across_mm, size[1], kerf),
    )


def pieces(room_mm: float, piece_mm: float, kerf_mm: float) -> int:
    """Return how many pieces come from a length: n pieces take n - 1 kerfs, and a last cut where anything is left."""
    return max(0, int((room_mm + kerf_mm + POINT_MM) / (piece_mm + kerf_mm)))


def _spots(
    blocks: Sequence[Block], along: float, across: float, kerf: float
) -> Iterator[tuple[float, float, float, float, tuple[str, ...]]]:
    for block in blocks:
        for column in range(block.columns):
            for row in range(block.rows):
                x = block.x_mm + column * (block.along_mm + kerf)
                y = block.y_mm + row * (block.across_mm + kerf)
                touches = (x, along - x - block.along_mm, y, across - y - block.across_mm)
                edges = tuple(name for name, gap in zip(EDGES, touches, strict=True) if gap <= POINT_MM)
                yield x, y, block.along_mm, block.across_mm, edges


def _cuts(blocks: Sequence[Block], along: float, across: float, kerf: float) -> Iterator[SawCut]:
    """Yield the cuts in order: two blocks are parted first, then each is cut into columns, then the columns into rows.

    A cut is given by the line on which the saw begins to take wood; beyond it lies the kerf.
    """
    for number, block in enumerate(blocks):
        last = number == len(blocks) - 1
        beside = not last and blocks[1].x_mm > block.x_mm
        right = blocks[1].x_mm - kerf if beside else along
        top = blocks[1].y_mm - kerf if not last and not beside else across
        if not last:
            part = (right, 0.0, across) if beside else (top, 0.0, along)
            yield SawCut(across=beside, at_mm=part[0], from_mm=part[1], to_mm=part[2])
        ends = [block.x_mm + k * (block.along_mm + kerf) + block.along_mm for k in range(block.columns)]
        yield from (SawCut(across=True, at_mm=x, from_mm=block.y_mm, to_mm=top) for x in ends if right - x > POINT_MM)
        tops = [block.y_mm + k * (block.across_mm + kerf) + block.across_mm for k in range(block.rows)]
        for x in ends:
            yield from (
                SawCut(across=False, at_mm=y, from_mm=x - block.along_mm, to_mm=x) for y in tops if top - y > POINT_MM
            )


def _losses(stock: Stock, good: SheetGood, needed: int, units: str) -> Iterator[Finding]:
    """Say where the saw's kerf alone costs a blank of each sheet, with the sum; a warning where the job itself gives
    the sheet's size, else a note, since sheets are often sold a little over their nominal size."""
    along, across = full_size_mm(stock, good)
    sizes = _sizes(stock, good)
    count, without = (
        sum(block.count for block in best_blocks(along, across, sizes, kerf)) for kerf in (stock.saw_kerf_mm, 0.0)
    )
    if not count or count >= without or -(-needed // count) == -(-needed // without):
        return
    size = sizes[0]
    for room, piece, way in ((along, size[0], "along"), (across, size[1], "across")):
        many = pieces(room, piece, 0.0)
        if many <= pieces(room, piece, stock.saw_kerf_mm):
            continue
        total = many * piece + (many - 1) * stock.saw_kerf_mm
        best = (room - (many - 1) * stock.saw_kerf_mm) / many
        kerfs = "a kerf" if many == 2 else f"{many - 1} kerfs"
        message = (
            f'stock "{stock.name}": {many} blanks of {write_length(piece, units)} and {kerfs} of '
            f"{write_length(stock.saw_kerf_mm, units)} make {write_length(total, units)}, "
            f"{write_length(total - room, units)} more than the {write_length(room, units)} of a full sheet {way} "
            f"{'the grain' if good.has_grain else 'its length'}: it gives {_blanks(count)}, not {without}; blanks of "
            f"{write_length(best, units)} would do"
        )
        yield finding("blank-loses-to-kerf", message, severity="warning" if stock.full_sheet_mm else "note")


def _blanks(count: int) -> str:
    return "1 blank" if count == 1 else f"{count} blanks"
