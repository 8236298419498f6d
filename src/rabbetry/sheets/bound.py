"""The least number of bins that could do, proven. Whole numbers, exact arithmetic.

A dual-feasible function turns sizes into values so that sizes which fit side by side in a bin never have values above
the bin's own. The product of one such function across and one upward bounds the number of bins from below (Fekete and
Schepers 2001; Carlier, Clautiaux and Moukrim 2007). An item that may be turned counts with the smaller of its two
products, which holds whichever way it lies.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Sizes = tuple[tuple[int, int], ...]
"""Width and height of an item in each turn that is allowed."""
_MOST_THRESHOLDS = 24
"""Functions of one family and axis, most: keeps the work small where every part has a size of its own."""


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
    across = _functions({w for sizes, _ in counted for w, _ in sizes}, width)
    upward = _functions({h for sizes, _ in counted for _, h in sizes}, height)
    best = 1
    for first in across:
        for second in upward:
            total = sum(count * min(first.values[w] * second.values[h] for w, h in sizes) for sizes, count in counted)
            best = max(best, -(-total // (first.whole * second.whole)))
    return best


def _functions(sizes: set[int], whole: int) -> list[_Weights]:
    """Return the functions to try on one axis, each dual-feasible for bins of size `whole`."""
    ordered = sorted(sizes)
    made = [_Weights({size: size for size in ordered}, whole)]
    thresholds = _thresholds(ordered, whole)
    made.extend(_rounded_up(ordered, whole, threshold) for threshold in thresholds)
    made.extend(_counted_in(ordered, whole, threshold) for threshold in thresholds)
    made.extend(_stepped(ordered, whole, steps) for steps in range(1, 9))
    unique = {(tuple(sorted(weights.values.items())), weights.whole): weights for weights in made}
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
