"""The least number of bins that could do, proven. Whole numbers, exact arithmetic.

A dual-feasible function turns sizes into values so that sizes which fit side by side in a bin never have values above
the bin's own. The product of one such function across and one upward bounds the number of bins from below (Fekete and
Schepers 2001; Carlier, Clautiaux and Moukrim 2007). An item that may be turned counts with the smaller of its two
products, which holds whichever way it lies.
"""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

Sizes = tuple[tuple[int, int], ...]
"""Width and height of an item in each turn that is allowed."""
_MOST_THRESHOLDS = 60
"""Functions of one family and axis, most: keeps the work small where every part has a size of its own."""

_MOST_STEPS = 13
"""Functions of the stepped families, one less."""

_ESTIMATE_SLACK = 1e-6
"""Bins by which the floating-point estimate of a bound may be too low: far above its rounding, which only sorts."""


@dataclass(frozen=True, slots=True)
class _Weights:
    """A dual-feasible function worked out for the sizes at hand; `whole` is the value of the bin's own size."""

    values: dict[int, int]
    whole: int


def lower_bound(items: Iterable[Sizes], width: int, height: int) -> int:
    """Return a number of `width` x `height` bins that no packing of the items can do with fewer; 0 for no items.

    Each item must fit a bin in one of its turns. The sizes must already include whatever gap is kept between items, and
    the bin one gap more.
    """
    fitting = (tuple((w, h) for w, h in sizes if w <= width and h <= height) for sizes in items)
    counted = sorted(Counter(fitting).items())
    if not counted:
        return 0
    across = _functions([(tuple(w for w, _ in sizes), count) for sizes, count in counted], width)
    upward = _functions([(tuple(h for _, h in sizes), count) for sizes, count in counted], height)
    best = 1
    for estimate, first, second in _estimates(counted, across, upward):
        if math.ceil(estimate + _ESTIMATE_SLACK) <= best:
            break
        total = sum(count * min(first.values[w] * second.values[h] for w, h in sizes) for sizes, count in counted)
        best = max(best, -(-total // (first.whole * second.whole)))
    return best


def _estimates(
    counted: Sequence[tuple[Sizes, int]], across: Sequence[_Weights], upward: Sequence[_Weights]
) -> list[tuple[float, _Weights, _Weights]]:
    """Return every pair of functions with its bound in floating point, the greatest first: few need the exact sum."""
    counts = np.array([count for _, count in counted], dtype=float)
    # Both turns of every item; an item with one turn has it twice.
    turns = [(sizes[0], sizes[-1]) for sizes, _ in counted]
    wide = [np.array([[row.values[turn[k][0]] / row.whole for turn in turns] for row in across]) for k in (0, 1)]
    high = [np.array([[row.values[turn[k][1]] / row.whole for turn in turns] for row in upward]) for k in (0, 1)]
    rows: list[tuple[float, _Weights, _Weights]] = []
    for k, first in enumerate(across):
        totals = np.minimum(wide[0][k] * high[0], wide[1][k] * high[1]) @ counts
        rows.extend((float(total), first, second) for total, second in zip(totals, upward, strict=True))
    return sorted(rows, key=lambda row: -row[0])


def _functions(items: Sequence[tuple[tuple[int, ...], int]], whole: int) -> list[_Weights]:
    """Return the functions to try on one axis, each dual-feasible for bins of size `whole`. `items` are the sizes that
    an item may have on this axis, and how many there are of it."""
    ordered = sorted({size for sizes, _ in items for size in sizes})
    made = [_Weights({size: size for size in ordered}, whole)]
    thresholds = _thresholds(ordered, whole)
    made.extend(_rounded_up(ordered, whole, threshold) for threshold in thresholds)
    made.extend(_counted_in(ordered, whole, threshold) for threshold in thresholds)
    made.extend(_stepped(ordered, whole, steps) for steps in range(1, _MOST_STEPS))
    made.extend(_halved(ordered, whole, steps) for steps in range(2, _MOST_STEPS))
    made.extend(_in_units(ordered, whole, unit) for unit in thresholds)
    made.extend(_in_rows(ordered, whole, items, threshold) for threshold in thresholds)
    unique = {(tuple(sorted(weights.values.items())), weights.whole): weights for weights in made if weights.whole}
    return list(unique.values())


def _thresholds(sizes: Sequence[int], whole: int) -> list[int]:
    halves = sorted({size for size in sizes if 2 * size <= whole} | {whole - s for s in sizes if 2 * s > whole > s})
    if len(halves) <= _MOST_THRESHOLDS:
        return halves
    return [halves[k * (len(halves) - 1) // (_MOST_THRESHOLDS - 1)] for k in range(_MOST_THRESHOLDS)]


def _rounded_up(sizes: Sequence[int], whole: int, least: int) -> _Weights:
    """Sizes under `least` count nothing, sizes that leave less than `least` count as the whole bin."""

    def value(size: int) -> int:
        if size > whole - least:
            return whole
        return size if size >= least else 0

    return _Weights({size: value(size) for size in sizes}, whole)


def _counted_in(sizes: Sequence[int], whole: int, unit: int) -> _Weights:
    """Sizes count by how many times `unit` (at most half the bin) they hold, or, above half, deny to others."""
    most = whole // unit

    def value(size: int) -> int:
        if 2 * size > whole:
            return 2 * (most - (whole - size) // unit)
        return most if 2 * size == whole else 2 * (size // unit)

    return _Weights({size: value(size) for size in sizes}, 2 * most)


def _stepped(sizes: Sequence[int], whole: int, steps: int) -> _Weights:
    """Sizes just above k/(steps + 1) of the bin count as k/steps; exact multiples count as themselves."""
    scale = steps * (steps + 1)

    def value(size: int) -> int:
        part, rest = divmod((steps + 1) * size, whole)
        return part * steps if rest == 0 else part * (steps + 1)

    return _Weights({size: value(size) for size in sizes}, scale)


def _halved(sizes: Sequence[int], whole: int, steps: int) -> _Weights:
    """Sizes just above k/steps of the bin count as k/(steps - 1), and so from above down (Vanderbeck 2000)."""

    def below_half(size: int) -> int:
        return 2 * max(0, -(-steps * size // whole) - 1)

    def value(size: int) -> int:
        if 2 * size == whole:
            return steps - 1
        return below_half(size) if 2 * size < whole else 2 * (steps - 1) - below_half(whole - size)

    return _Weights({size: value(size) for size in sizes}, 2 * (steps - 1))


def _in_units(sizes: Sequence[int], whole: int, unit: int) -> _Weights:
    """Whole units count, and of what is left only what is more than the bin itself has left (Burdett and Johnson
    1977)."""
    rest = whole % unit

    def value(size: int) -> int:
        return size // unit * (unit - rest) + max(0, size % unit - rest)

    return _Weights({size: value(size) for size in sizes}, whole // unit * (unit - rest))


def _in_rows(sizes: Sequence[int], whole: int, items: Sequence[tuple[tuple[int, ...], int]], least: int) -> _Weights:
    """Each size from `least` to half the bin counts one; a larger one counts by how many of the others it leaves no
    room for, when the smallest there are go beside it (Carlier, Clautiaux and Moukrim 2007)."""
    small = sorted(
        (min(fitting), count)
        for own, count in items
        if (fitting := [size for size in own if least <= size and 2 * size <= whole])
    )

    def most_in(room: int) -> int:
        packed = 0
        for size, count in small:
            more = min(count, room // size)
            packed, room = packed + more, room - more * size
            if more < count:
                break
        return packed

    most = most_in(whole)

    def value(size: int) -> int:
        if 2 * size > whole:
            return most - most_in(whole - size)
        return 1 if size >= least else 0

    return _Weights({size: value(size) for size in sizes}, most)
