"""Which pieces of the shelf suit a stock, each as a small blank of its own thickness. Millimetres."""

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace

from rabbetry.findings import Finding, finding
from rabbetry.job.model import Job, ShelfPiece, Stock
from rabbetry.panels.model import Panel
from rabbetry.sheets.pack import Bin, Item
from rabbetry.sheets.rectangles import Blank, blank_of
from rabbetry.sheets.shelf import Place, onto_places
from rabbetry.tolerances import POINT_MM, SAME_THICKNESS_MM
from rabbetry.units import show_length, write_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece that suits a stock: as a stock of one blank, and as the packer sees it."""

    shelf: ShelfPiece
    stock: Stock
    blank: Blank


def suitable(job: Job, stock: Stock, spacing_mm: float, taken: Collection[str]) -> tuple[Piece, ...]:
    """Return the pieces of the stock's sheet good, near enough in thickness, no larger than its blank, not taken."""
    found = []
    for piece in job.shelf:
        if piece.name in taken or piece.sheet != stock.sheet or _off(piece, stock) > _allowed(job):
            continue
        x_mm, y_mm = piece.on_blank_mm(stock.grain_along_x)
        if x_mm > stock.blank_x_mm + POINT_MM or y_mm > stock.blank_y_mm + POINT_MM:
            continue
        own = replace(stock, blank_x_mm=x_mm, blank_y_mm=y_mm, measured_mm=piece.thickness_mm)
        found.append(Piece(shelf=piece, stock=own, blank=blank_of(own, job, spacing_mm)))
    return tuple(found)


def _off(piece: ShelfPiece, stock: Stock) -> float:
    return abs(piece.thickness_mm - stock.thickness_mm)


def _allowed(job: Job) -> float:
    return job.cutting.offcut_tolerance_mm + POINT_MM


def use_pieces(
    items: Sequence[Item],
    bins: list[Bin],
    pieces: Sequence[Piece],
    stock: Stock,
    panels: Sequence[Panel],
    *,
    tied: Collection[str],
    again: Callable[[list[Item]], list[Bin]],
) -> tuple[list[Bin], tuple[tuple[Piece, Bin], ...]]:
    """Return the bins that are still needed and the pieces used instead, filled. A panel in `tied` has joints that
    hang on its thickness, so it lies only on a piece as thick as the stock."""
    everything = frozenset(item.index for item in items)
    free = frozenset(item.index for item in items if panels[item.index].id not in tied)
    places = [
        Place(
            free=piece.blank.free,
            takes=everything if abs(piece.shelf.thickness_mm - stock.thickness_mm) <= SAME_THICKNESS_MM else free,
        )
        for piece in pieces
    ]
    left, used = onto_places(items, bins, places, again)
    return left, tuple((pieces[index], box) for index, box in sorted(used.items()))


def shelf_findings(
    job: Job, stock: Stock, used: Sequence[tuple[Piece, Bin]], names: Sequence[str]
) -> Iterator[Finding]:
    """Say which pieces are used, and which of the right sheet good are not for their thickness."""
    units = str(job.units)
    clamps = job.shop.machine.clamps
    for (piece, box), name in zip(used, names, strict=True):
        own = piece.shelf
        size = f"{show_length(own.along_mm, units)} by {show_length(own.across_mm, units)}"
        noun = "panel" if len(box.spots) == 1 else "panels"
        text = f'sheet {name} is cut from offcut "{own.name}", {size}, with {len(box.spots)} {noun}'
        x_mm, y_mm = piece.stock.blank_x_mm, piece.stock.blank_y_mm
        beyond = [clamp.name for clamp in clamps if clamp.x_mm > x_mm or clamp.y_mm > y_mm]
        if beyond:
            text += f"; it does not reach to clamp {', '.join(beyond)}: hold it there by screws outside the parts"
        yield finding("offcut-used", text)
    for other in job.shelf:
        off = _off(other, stock)
        if other.sheet == stock.sheet and off > _allowed(job):
            text = (
                f'offcut "{other.name}" is {write_length(other.thickness_mm, units)} thick, {write_length(off, units)} '
                f'off the {write_length(stock.thickness_mm, units)} of stock "{stock.name}": left on the shelf '
                f"(offcut_tolerance is {write_length(job.cutting.offcut_tolerance_mm, units)})"
            )
            yield finding("offcut-thickness", text)
