"""One order as the boxes it is made of: stacked where a side is longer than the blank, side by side where a bottom is.

Each piece is an order of its own with its share of the front, its own bottom and its own full top. Millimetres; heights
above the floor.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from rabbetry.cabinets.appliance import divide, meeting_levels
from rabbetry.cabinets.faces import face_rules
from rabbetry.cabinets.heights import Band
from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.choices import CutOutOrder, FrontOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetOrder, Stock
from rabbetry.job.words import TopWord
from rabbetry.tolerances import FIT_MM

_LEAST_PIECE_MM = 250.0
"""A lower box is not worth its two boards (common practice, no source)."""

_LEAST_FRONT_MM = 150.0
"""A front is not cut nearer to its ends: no hinges fit on what is left (common practice, no source)."""

_CUTTABLE = ("door", "open", "false front")
_WORDS = {2: ("lower", "upper"), 3: ("lower", "middle", "upper")}
_WORDS_ACROSS = {2: ("left", "right"), 3: ("left", "middle", "right")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One box of an order. `suffix` follows the cabinet's name; empty when the order is one box."""

    suffix: str
    order: CabinetOrder
    base_z_mm: float = 0.0
    joined_above: bool = False
    joined_below: bool = False


def longest_mm(stock: Stock) -> float:
    """Return the longest part that fits the blank inside its trim, along the grain where there is one."""
    sizes = (stock.blank_x_mm, stock.blank_y_mm)
    size = max(sizes) if not stock.has_grain else sizes[0 if stock.grain_along_x else 1]
    return size - 2 * stock.trim_mm


def must_stack(cabinet: Cabinet, order: CabinetOrder) -> bool:
    """Tell whether the cabinet is to be made of stacked boxes."""
    if not KINDS[order.kind].stacks:
        return False
    return bool(order.split_mm) or order.height_mm > longest_mm(cabinet.stocks.side) + FIT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class _Parting:
    """One way to part a cabinet: its front as it would be then, the heights, and what is wrong with it."""

    bands: tuple[Band, ...]
    splits: tuple[float, ...]
    faults: tuple[Finding, ...]


def stack_pieces(cabinet: Cabinet, order: CabinetOrder) -> tuple[tuple[Piece, ...], tuple[Finding, ...]]:
    """Return the stacked boxes from the floor up with a note, or the errors that say why the order cannot be split.

    `cabinet` is the carcass as if it were one box.
    """
    longest = longest_mm(cabinet.stocks.side)
    ways = [_way(cabinet, order, longest, doubled) for doubled in _doublings(cabinet, order)]
    sound = [way for way in ways if not has_error(way.faults)]
    if not sound:
        return (), ways[0].faults
    best = min(sound, key=lambda way: (len(way.splits), _cuts(way)))
    levels = (0.0, *best.splits, order.height_mm)
    shared = _with_counted_shelves(order, best.bands)
    pieces = []
    for number, (low, high) in enumerate(pairwise(levels)):
        suffix = _suffix(number, len(levels) - 1, _WORDS)
        own = _piece_order(cabinet, order, shared, suffix, (low, high))
        pieces.append(
            Piece(suffix=suffix, order=own, base_z_mm=low, joined_above=high < order.height_mm, joined_below=low > 0)
        )
    return tuple(pieces), (*best.faults, _stacked(cabinet, best.splits, longest))


def _cuts(way: _Parting) -> int:
    """Return how many fronts the splits would part."""
    return sum(band.low_z_mm < z < band.high_z_mm for z in way.splits for band in way.bands)


def _doublings(cabinet: Cabinet, order: CabinetOrder) -> tuple[tuple[bool, bool], ...]:
    """Return the ways in which boxes may meet below and above an appliance, the plainest first."""
    if order.opening is None:
        return ((False, False),)
    levels = meeting_levels(cabinet, order.opening)
    return tuple(
        (below, above)
        for below, above in ((False, False), (True, False), (False, True), (True, True))
        if not (below and levels[0] is None) and not (above and levels[1] is None)
    )


def _way(cabinet: Cabinet, order: CabinetOrder, longest: float, doubled: tuple[bool, bool]) -> _Parting:
    bands, said = divide(cabinet, order, doubled)
    if has_error(said):
        return _Parting(bands=(), splits=(), faults=said)
    forced: tuple[float, ...] = ()
    if order.opening is not None:
        levels = meeting_levels(cabinet, order.opening)
        forced = tuple(level for level, wanted in zip(levels, doubled, strict=True) if wanted and level is not None)
    splits = _as_ordered(cabinet, order, forced) if order.split_mm else _chosen(cabinet, bands, longest, forced)
    return _Parting(bands=bands, splits=splits, faults=(*said, *_wrong(cabinet, bands, splits, longest)))


def _as_ordered(cabinet: Cabinet, order: CabinetOrder, forced: Sequence[float]) -> tuple[float, ...]:
    """Return the heights ordered; one within a board's thickness of where boxes meet at an appliance means that."""
    board = cabinet.stocks.carcass.thickness_mm
    near = {z: level for z in order.split_mm for level in forced if abs(z - level) <= board + FIT_MM}
    return tuple(near.get(z, z) for z in order.split_mm)


def row_pieces(cabinet: Cabinet, order: CabinetOrder) -> tuple[tuple[Piece, ...], tuple[Finding, ...]]:
    """Return the boxes of a long low cabinet side by side, each as wide as the others, with a note; one if it fits."""
    longest = longest_mm(cabinet.stocks.carcass)
    if KINDS[order.kind].has_lid:
        longest = min(longest, longest_mm(cabinet.stocks.front))
    count = math.ceil((order.width_mm - FIT_MM) / longest) if KINDS[order.kind].rows_up and longest > 0 else 1
    if count == 1:
        return (Piece(suffix="", order=order),), ()
    width = order.width_mm / count
    pieces = tuple(
        Piece(suffix=suffix, order=replace(order, name=f"{order.name} {suffix}", width_mm=width))
        for suffix in (_suffix(number, count, _WORDS_ACROSS) for number in range(count))
    )
    message = (
        f'cabinet "{order.name}": {order.width_mm:g} mm is longer than the {longest:g} mm that a blank of '
        f'"{cabinet.stocks.carcass.name}" gives; it is made of {count} boxes {width:.2f} mm wide, screwed together '
        "through their sides"
    )
    return pieces, (finding("cabinet-split", message),)


def _suffix(number: int, count: int, words: dict[int, tuple[str, ...]]) -> str:
    return words[count][number] if count in words else f"box {number + 1}"


def _chosen(cabinet: Cabinet, bands: Sequence[Band], longest: float, forced: Sequence[float]) -> tuple[float, ...]:
    """Return the heights that part the cabinet into the fewest boxes, those at an appliance given: each at the boundary
    of two fronts nearest to equal shares, else through a front that can be cut, there or as near as it can be."""
    splits: list[float] = []
    for bottom, top in pairwise((0.0, *forced, cabinet.height_mm)):
        count = max(1, math.ceil((top - bottom - FIT_MM) / longest)) if longest > 0 else 1
        if not forced and cabinet.height_mm == top - bottom:
            count = max(count, 2)
        for k in range(1, count):
            below = splits[-1] if splits else 0.0
            low = max(top - (count - k) * longest, below + _LEAST_PIECE_MM)
            high = min(below + longest, top - (count - k) * _LEAST_PIECE_MM)
            splits.append(_nearest(cabinet, bands, (low, high), bottom + (top - bottom) * k / count))
        if top in forced:
            splits.append(top)
    return tuple(splits)


def _nearest(cabinet: Cabinet, bands: Sequence[Band], room: tuple[float, float], target: float) -> float:
    """Return the place within `room` that is best for a split: nearest to `target`, which is returned when none is."""
    low, high = room
    half = face_rules(cabinet).gap_mm / 2
    edges = [upper.low_z_mm - half for upper, lower in pairwise(bands) if "appliance" not in (upper.fill, lower.fill)]
    within = [
        min(max(target, band.low_z_mm + _LEAST_FRONT_MM, low), band.high_z_mm - _LEAST_FRONT_MM, high)
        for band in bands
        if band.fill in _CUTTABLE and band.high_z_mm - band.low_z_mm >= 2 * _LEAST_FRONT_MM
    ]
    for places in (edges, within):
        fitting = [z for z in places if low - FIT_MM <= z <= high + FIT_MM]
        if fitting:
            return min(fitting, key=lambda z: abs(z - target))
    return target


def _wrong(cabinet: Cabinet, bands: Sequence[Band], splits: Sequence[float], longest: float) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": '
    levels = (0.0, *splits, cabinet.height_mm)
    for low, high in pairwise(levels):
        if high - low < _LEAST_PIECE_MM:
            message = f"{where}split at {low:g} and {high:g} mm leaves a box {high - low:.2f} mm high; at least "
            yield finding("split-not-possible", f"{message}{_LEAST_PIECE_MM:g} mm is expected")
        elif high - low > longest + FIT_MM:
            message = f"{where}a box from {low:g} to {high:g} mm has sides {high - low:.2f} mm long; a blank of "
            yield finding("split-not-possible", f'{message}"{cabinet.stocks.side.name}" gives {longest:g} mm')
    for z in splits:
        for band in bands:
            near = min(z - band.low_z_mm, band.high_z_mm - z)
            if near <= FIT_MM:
                continue
            if band.fill not in _CUTTABLE or near < _LEAST_FRONT_MM:
                message = f"{where}the split at {z:.2f} mm runs through the {band.fill} from {band.low_z_mm:.2f} to "
                cure = "write split = [...] with heights between two fronts, or give the fronts other heights"
                yield finding("split-not-possible", f"{message}{band.high_z_mm:.2f} mm; {cure}")


def _with_counted_shelves(order: CabinetOrder, bands: Sequence[Band]) -> tuple[Band, ...]:
    """Return the bands with the shelves that the order counts in the lowest band that takes any."""
    takes = next((band for band in reversed(bands) if band.fill in ("door", "open")), None)
    if takes is None:
        return tuple(bands)
    more = replace(
        takes.order,
        adjustable_shelves=takes.order.adjustable_shelves + order.adjustable_shelves,
        fixed_shelves=takes.order.fixed_shelves + order.fixed_shelves,
    )
    return tuple(replace(band, order=more) if band is takes else band for band in bands)


def _piece_order(
    cabinet: Cabinet, order: CabinetOrder, bands: Sequence[Band], suffix: str, levels: tuple[float, float]
) -> CabinetOrder:
    low, high = levels
    fronts = tuple(_within(cabinet, bands, levels))
    construction = order.construction
    if high < order.height_mm:
        construction = replace(construction, top=TopWord.FULL)
    if low > 0:
        construction = replace(construction, kick_height_mm=0.0, bottom_lift_mm=0.0)
    return replace(
        order,
        name=f"{order.name} {suffix}",
        height_mm=high - low,
        fronts=fronts,
        opening=None,
        split_mm=(),
        adjustable_shelves=0,
        fixed_shelves=0,
        drawer_front_heights_mm=(),
        construction=construction,
        cut_outs=tuple(_cut_outs(order, levels)),
    )


def _within(cabinet: Cabinet, bands: Sequence[Band], levels: tuple[float, float]) -> Iterator[FrontOrder]:
    """Yield the fronts of one box from the top down; one that the split parts loses a gap, and shares its shelves."""
    first, last = _margins(cabinet)
    low, high = levels[0] + first, levels[1] - last
    if levels[0] == 0:
        low = face_rules(cabinet).low_z_mm
    inside = [band for band in bands if band.low_z_mm < high - FIT_MM and band.high_z_mm > low + FIT_MM]
    for band in inside:
        bottom, top = max(band.low_z_mm, low), min(band.high_z_mm, high)
        whole = band.high_z_mm - band.low_z_mm
        share, below = (top - band.low_z_mm) / whole, (bottom - band.low_z_mm) / whole
        yield replace(
            band.order,
            height_mm=top - bottom,
            below=band.order.below if band is not inside[-1] else "",
            adjustable_shelves=_share(band.order.adjustable_shelves, below, share),
            fixed_shelves=_share(band.order.fixed_shelves, below, share),
        )


def _margins(cabinet: Cabinet) -> tuple[float, float]:
    """Return how far the fronts of a box without a kick stay from its lower end and from its top."""
    construction = replace(cabinet.construction, bottom_lift_mm=0.0)
    upper = replace(cabinet, has_kick=False, construction=construction)
    return face_rules(upper).low_z_mm, cabinet.height_mm - face_rules(cabinet).high_z_mm


def _share(count: int, low: float, high: float) -> int:
    """Return how many of `count` evenly spread shelves lie between two shares of the height."""
    return round(count * high) - round(count * low)


def _cut_outs(order: CabinetOrder, levels: tuple[float, float]) -> Iterator[CutOutOrder]:
    """Yield the holes of one box: a back's in the box that its centre is in, a bottom's in the lowest, a top's in the
    highest."""
    low, high = levels
    for hole in order.cut_outs:
        at = order.height_mm / 2 if hole.at_mm is None else hole.at_mm
        if hole.panel == "back" and low <= at < high:
            yield replace(hole, at_mm=at - low)
        elif (hole.panel == "bottom" and low == 0) or (hole.panel == "top" and high == order.height_mm):
            yield hole


def _stacked(cabinet: Cabinet, splits: Sequence[float], longest: float) -> Finding:
    at = ", ".join(f"{z:.2f}" for z in splits)
    levels = (0.0, *splits, cabinet.height_mm)
    heights = ", ".join(f"{high - low:.2f}" for low, high in pairwise(levels))
    why = (
        f"its sides, {cabinet.height_mm:g} mm long, are longer than the {longest:g} mm that a blank of "
        f'"{cabinet.stocks.side.name}" gives'
        if cabinet.height_mm > longest
        else "as ordered"
    )
    message = (
        f'cabinet "{cabinet.name}": {why}; it is made of {len(splits) + 1} stacked boxes {heights} mm high, parted '
        f"{at} mm above the floor. Screw each down into the one below through the holes in its bottom, and fasten "
        "every box to the structure"
    )
    return finding("cabinet-split", message)
