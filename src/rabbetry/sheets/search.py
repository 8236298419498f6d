"""A good packing in a fixed amount of work: several orders and rules, then fewer bins one at a time.

To save a bin, the emptiest is given up and its items are squeezed into the others: a few bins are packed anew together
with whatever is left over, again and again, keeping what leaves less over. What is left over at last goes into a bin of
its own, so that the bins are full and the rest of the last one is whole. Deterministic: random numbers come from a
generator of its own with a fixed seed, work is counted, not timed, and more work goes on where less had stopped. Items
are sorted by size first, so that the order in which they are listed does not matter.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from rabbetry.sheets import compiled
from rabbetry.sheets.compiled import Ints
from rabbetry.sheets.pack import RULES, Bin, Item, Rect, Spot, pack, without

_SEED = 20
_WORK = 100_000
"""Items packed by one search at effort 1, most; each step of effort is three times as much."""
_CONCENTRATING = 30_000
"""Items packed, most, to fill the other bins where no bin can be saved."""
_AREA_BITS = 30
"""Lengths are shifted to this many bits before they are multiplied."""
_GRADES = 1000
"""Sizes are put in this many grades of the bin's own for ordering."""

_START_KEYS = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class _Task:
    """The items as arrays; see `compiled`."""

    size: Ints
    turns: Ints
    within: Ints
    parts: Ints
    counts: Ints
    empty: Ints
    scaled: Ints
    shift: int


def search(items: Sequence[Item], *, free: Sequence[Rect], bound: int, effort: int = 1) -> list[Bin]:
    """Return a packing of all items; no bin is tried to be saved when there are no more than `bound`.

    Every item must fit an empty bin (whose maximal free rectangles are `free`). Fuller bins come first. More `effort`
    (from 1) never gives more bins.
    """
    if not items:
        return []
    ordered = sorted(items, key=lambda item: (-item.area, item.turns, item.shapes, item.index))
    task = _task(ordered, free)
    spots, bins = _start(task)
    work = _WORK * 3 ** (effort - 1)
    chance = np.array([_SEED], np.int64)
    while bins > 1 and work > 0:
        tried = _without_emptiest(task, spots, bins)
        most = work if bins > bound else min(work, _CONCENTRATING)
        left, done = compiled.squeeze(
            task.size, task.turns, task.within, task.parts, task.counts, task.empty, task.scaled, tried, bins - 1, most,
            chance, task.shift,
        )  # fmt: skip
        work -= done
        if left == 0:
            spots, bins = tried, bins - 1
            continue
        if _with_last(task, tried, bins - 1):
            spots = tried
        break
    return _bins(ordered, spots, bins, free)


def pack_one(items: Sequence[Item], *, free: Sequence[Rect]) -> Bin | None:
    """Return one bin with all the items, or None when no order and rule gets them into one."""
    if any(not item.turns for item in items):
        return None
    for order in range(_START_KEYS):
        keyed = sorted(items, key=lambda item: (tuple(-key for key in _keys(item)[order]), item.index))
        for rule in RULES:
            packed = pack(keyed, free=free, rule=rule, most=1)
            if packed:
                return packed[0]
    return None


def _keys(item: Item) -> tuple[tuple[int, int], ...]:
    """Return the six pairs of sizes by which a packing may begin, the greater first."""
    _, width, height = item.turns[0]
    long, short = max(width, height), min(width, height)
    return (
        (item.area, long),
        (long, short),
        (short, long),
        (width + height, item.area),
        (width, height),
        (height, width),
    )


def _task(items: Sequence[Item], free: Sequence[Rect]) -> _Task:
    most_parts = max(len(shape) for item in items for shape in item.shapes)
    count = len(items)
    right, top = max(rect[2] for rect in free), max(rect[3] for rect in free)
    size = np.zeros((count, 2, 2), np.int64)
    within = np.zeros((count, 4), np.int64)
    parts = np.zeros((count, 2, most_parts, 4), np.int64)
    counts = np.zeros((count, 2), np.int64)
    scaled = np.zeros((count, 3), np.int64)
    for i, item in enumerate(items):
        within[i] = item.within or (0, 0, right, top)
        for k, (_, width, height) in enumerate(item.turns):
            size[i, k] = width, height
            counts[i, k] = len(item.shapes[k])
            parts[i, k, : counts[i, k]] = item.shapes[k]
        _, width, height = item.turns[0]
        across, upward = width * _GRADES // right, height * _GRADES // top
        long = max(across, upward)
        scaled[i] = across * upward + 1, long * long + 1, (across + upward) ** 2 // 4 + 1
    return _Task(
        size=size,
        turns=np.array([len(item.turns) for item in items], np.int64),
        within=within,
        parts=parts,
        counts=counts,
        empty=np.array(sorted(free), np.int64).reshape(-1, 4),
        scaled=scaled,
        shift=max(0, max(right, top).bit_length() - _AREA_BITS),
    )


def _start(task: _Task) -> tuple[Ints, int]:
    """Return the best of all orders and rules, first fit: the fewest bins, then the fullest."""
    count = len(task.turns)
    free = np.zeros((count, compiled.MOST_FREE, 4), np.int64)
    frees, cut = np.zeros(count, np.int64), np.zeros((4 * compiled.MOST_FREE, 4), np.int64)
    best: tuple[tuple[int, int], Ints] | None = None
    width, height = task.size[:, 0, 0], task.size[:, 0, 1]
    area = (width >> task.shift) * (height >> task.shift)
    long, short = np.maximum(width, height), np.minimum(width, height)
    keys = ((area, long), (long, short), (short, long), (width + height, area), (width, height), (height, width))
    for first, second in keys:
        order = np.lexsort((np.arange(count), -second, -first)).astype(np.int64)
        for rule in range(len(RULES)):
            found = np.zeros((count, 4), np.int64)
            begun = compiled.fill(
                order, count, task.size, task.turns, task.within, task.parts, task.counts, task.empty, count, rule,
                False, task.shift, free, frees, cut, found,
            )  # fmt: skip
            filled = np.bincount(found[:, 0], weights=task.scaled[:, 0], minlength=begun)
            score = int(begun), -int((filled**2).sum())
            if best is None or score < best[0]:
                best = score, found
    assert best is not None
    return best[1], best[0][0]


def _without_emptiest(task: _Task, spots: Ints, bins: int) -> Ints:
    """Return the packing with the emptiest bin given up, the last bin in its place."""
    tried = spots.copy()
    emptiest = int(np.argmin(np.bincount(tried[:, 0], weights=task.scaled[:, 0], minlength=bins)))
    given_up, last = tried[:, 0] == emptiest, tried[:, 0] == bins - 1
    tried[last, 0] = emptiest
    tried[given_up, 0] = -1
    return tried


def _with_last(task: _Task, spots: Ints, last: int) -> bool:
    """Put everything left over into bin `last`; return False, changing nothing, when no order and rule does it."""
    left = np.flatnonzero(spots[:, 0] < 0).astype(np.int64)
    free = np.zeros((1, compiled.MOST_FREE, 4), np.int64)
    frees, cut = np.zeros(1, np.int64), np.zeros((4 * compiled.MOST_FREE, 4), np.int64)
    found = np.zeros_like(spots)
    for by in range(3):
        order = left[np.lexsort((left, -task.scaled[left, by]))]
        for rule in range(len(RULES)):
            compiled.fill(
                order, len(order), task.size, task.turns, task.within, task.parts, task.counts, task.empty, 1, rule,
                False, task.shift, free, frees, cut, found,
            )  # fmt: skip
            if (found[left, 0] == 0).all():
                spots[left] = found[left]
                spots[left, 0] = last
                return True
    return False


def _bins(items: Sequence[Item], spots: Ints, bins: int, free: Sequence[Rect]) -> list[Bin]:
    made = [Bin(list(free)) for _ in range(bins)]
    for item, (number, x, y, turn) in zip(items, spots.tolist(), strict=True):
        box = made[number]
        for x0, y0, x1, y1 in item.shapes[turn]:
            box.free = without(box.free, (x + x0, y + y0, x + x1, y + y1))
        box.spots.append(Spot(item, x, y, item.turns[turn][0]))
        box.area += item.area
    return sorted(made, key=lambda box: (-box.area, min(spot.item.index for spot in box.spots)))
