"""The inner loops of the packing search, compiled by numba: whole numbers in, whole numbers out, no clock.

The same functions run uncompiled (NUMBA_DISABLE_JIT=1) and give the same result. Compiled code is kept on disk beside
this file, or in the user's cache, so that only the first run on a machine pays for it.

Arrays, all int64; i is an item, k a turn, b a bin, c a part of an item's shape:
`size[i, k]` width and height; `turns[i]` how many turns are allowed; `within[i]` x0, y0, x1, y1 the item must stay in;
`parts[i, k, c]` x0, y0, x1, y1 of the rectangles that make up the item, measured from its corner, `counts[i, k]` of
them; `empty` the maximal free rectangles of an empty bin; `spots[i]` bin (-1: none), x, y, turn.
"""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
F = TypeVar("F", bound=Callable[..., Any])

MOST_FREE = 400
"""Free rectangles kept for one bin; any beyond are not offered to later items: that costs room but is never wrong."""
MOST_BINS_AT_ONCE = 3
_HEAVIER_EVERY = 50
"""Rounds after which what is still left over counts for more, so that the search turns to it."""


def _compiled(function: F) -> F:
    return cast(F, numba.njit(cache=True)(function))


@_compiled
def below(chance: Ints, most: int) -> int:
    """Return a number from 0 to most - 1, and move the generator's state, `chance[0]`, on: the minimal standard
    generator (Park and Miller 1988, with the multiplier 48271 they gave in 1993)."""
    chance[0] = chance[0] * 48271 % 2147483647
    return (chance[0] >> 8) % most  # type: ignore[no-any-return]


@_compiled
def best_place(
    free: Ints, count: int, width: int, height: int, within: Ints, rule: int, shift: int, best: Ints
) -> bool:
    """Find the best free rectangle for a width x height: `best` gets two scores, y and x. False: there is none.

    Rules: 0 narrowest strip left, 1 smallest free rectangle, 2 lowest, 3 leftmost. Areas are taken of lengths shifted
    right by `shift` bits, so that they fit.
    """
    found = False
    for k in range(count):
        x0 = max(free[k, 0], within[0])
        y0 = max(free[k, 1], within[1])
        x1 = min(free[k, 2], within[2])
        y1 = min(free[k, 3], within[3])
        across, upward = x1 - x0 - width, y1 - y0 - height
        if across < 0 or upward < 0:
            continue
        if rule == 0:
            first, second = min(across, upward), max(across, upward)
        elif rule == 1:
            first, second = ((x1 - x0) >> shift) * ((y1 - y0) >> shift), min(across, upward)
        elif rule == 2:
            first, second = y0 + height, x0
        else:
            first, second = x0 + width, y0
        if (
            not found
            or first < best[0]
            or (
                first == best[0]
                and (second < best[1] or (second == best[1] and (y0 < best[2] or (y0 == best[2] and x0 < best[3]))))
            )
        ):
            best[0], best[1], best[2], best[3] = first, second, y0, x0
            found = True
    return found


@_compiled
def take(free: Ints, count: int, x0: int, y0: int, x1: int, y1: int, cut: Ints) -> int:
    """Use up a rectangle: split every free one it touches into what is left of it; return how many there are now."""
    kept = 0
    pieces = 0
    for k in range(count):
        a, b, c, d = free[k, 0], free[k, 1], free[k, 2], free[k, 3]
        if a >= x1 or c <= x0 or b >= y1 or d <= y0:
            free[kept, 0], free[kept, 1], free[kept, 2], free[kept, 3] = a, b, c, d
            kept += 1
            continue
        if a < x0:
            cut[pieces, 0], cut[pieces, 1], cut[pieces, 2], cut[pieces, 3] = a, b, x0, d
            pieces += 1
        if x1 < c:
            cut[pieces, 0], cut[pieces, 1], cut[pieces, 2], cut[pieces, 3] = x1, b, c, d
            pieces += 1
        if b < y0:
            cut[pieces, 0], cut[pieces, 1], cut[pieces, 2], cut[pieces, 3] = a, b, c, y0
            pieces += 1
        if y1 < d:
            cut[pieces, 0], cut[pieces, 1], cut[pieces, 2], cut[pieces, 3] = a, y1, c, d
            pieces += 1
    whole = kept
    for p in range(pieces):
        if kept < MOST_FREE and not _is_held(free, whole, cut, pieces, p):
            for j in range(4):
                free[kept, j] = cut[p, j]
            kept += 1
    return kept


@_compiled
def _is_held(free: Ints, whole: int, cut: Ints, pieces: int, p: int) -> bool:
    """Tell whether piece `p` lies in a free rectangle or in another piece; of two equal pieces the first stays."""
    a, b, c, d = cut[p, 0], cut[p, 1], cut[p, 2], cut[p, 3]
    for k in range(whole):
        if free[k, 0] <= a and free[k, 1] <= b and free[k, 2] >= c and free[k, 3] >= d:
            return True
    for q in range(pieces):
        if q == p or cut[q, 0] > a or cut[q, 1] > b or cut[q, 2] < c or cut[q, 3] < d:
            continue
        if q < p or cut[q, 0] != a or cut[q, 1] != b or cut[q, 2] != c or cut[q, 3] != d:
            return True
    return False


@_compiled
def fill(
    order: Ints,
    count: int,
    size: Ints,
    turns: Ints,
    within: Ints,
    parts: Ints,
    counts: Ints,
    empty: Ints,
    bins: int,
    rule: int,
    is_best_fit: bool,
    shift: int,
    free: Ints,
    frees: Ints,
    cut: Ints,
    found: Ints,
) -> int:
    """Pack the first `count` items of `order` into `bins` empty bins; return how many bins were begun.

    `found[i]` gets bin (-1: no room), x, y, turn. First fit, or the best of all bins where `is_best_fit`. `free`,
    `frees` and `cut` are room to work in.
    """
    begun = 0
    best = np.zeros(4, np.int64)
    for n in range(count):
        i = order[n]
        chosen, first, second, x, y, turn = -1, 0, 0, 0, 0, 0
        for b in range(bins):
            if b == begun:
                if chosen >= 0:
                    break
                for k in range(empty.shape[0]):
                    for j in range(4):
                        free[b, k, j] = empty[k, j]
                frees[b] = empty.shape[0]
            for k in range(turns[i]):
                if best_place(free[b], frees[b], size[i, k, 0], size[i, k, 1], within[i], rule, shift, best) and (
                    chosen < 0 or best[0] < first or (best[0] == first and best[1] < second)
                ):
                    chosen, first, second, y, x, turn = b, best[0], best[1], best[2], best[3], k
            if b == begun or (chosen >= 0 and not is_best_fit):
                break
        found[i, 0], found[i, 1], found[i, 2], found[i, 3] = chosen, x, y, turn
        if chosen < 0:
            continue
        begun = max(begun, chosen + 1)
        for c in range(counts[i, turn]):
            part = parts[i, turn, c]
            frees[chosen] = take(free[chosen], frees[chosen], x + part[0], y + part[1], x + part[2], y + part[3], cut)
    return begun


@_compiled
def sort_down(order: Ints, key: Ints, count: int) -> None:
    """Sort the first `count` items of `order` by falling key, then rising index (Shell's method)."""
    gap = 1
    while gap < count:
        gap = gap * 3 + 1
    while gap > 0:
        for n in range(gap, count):
            item = order[n]
            at = n
            while at >= gap and (
                key[order[at - gap]] < key[item] or (key[order[at - gap]] == key[item] and order[at - gap] > item)
            ):
                order[at] = order[at - gap]
                at -= gap
            order[at] = item
        gap //= 3


@_compiled
def squeeze(
    size: Ints,
    turns: Ints,
    within: Ints,
    parts: Ints,
    counts: Ints,
    empty: Ints,
    scaled: Ints,
    spots: Ints,
    bins: int,
    work: int,
    chance: Ints,
    shift: int,
) -> tuple[int, int]:
    """Get every item into `bins` bins: take out a few bins' items, pack them anew with those that are left over, and
    keep what leaves no more over than before, by weighted area.

    `scaled[i]` holds area, longer side and half the circumference, in about thousandths of a bin squared, as keys to
    order by. `spots` is changed to the best found: nothing left over, or the least area. Returns how many are left
    over, and the work done (items packed).
    """
    items = size.shape[0]
    free = np.zeros((MOST_BINS_AT_ONCE, MOST_FREE, 4), np.int64)
    frees = np.zeros(MOST_BINS_AT_ONCE, np.int64)
    cut = np.zeros((4 * MOST_FREE, 4), np.int64)
    found = np.zeros((items, 4), np.int64)
    order, key = np.zeros(items, np.int64), np.zeros(items, np.int64)
    weight = np.full(items, 100, np.int64)
    own, owned = np.zeros((bins + 1, items), np.int64), np.zeros(bins + 1, np.int64)
    now = spots.copy()
    least = 0
    for i in range(items):
        b = now[i, 0] if now[i, 0] >= 0 else bins
        own[b, owned[b]] = i
        owned[b] += 1
        if b == bins:
            least += scaled[i, 0]
    taken = np.zeros(MOST_BINS_AT_ONCE + 1, np.int64)
    done = rounds = 0
    while owned[bins] > 0 and done < work:
        rounds += 1
        few = _draw(taken, bins, chance)
        count = _gather(own, owned, taken, few, scaled, weight, order, key, chance)
        before = 0
        for m in range(owned[bins]):
            before += scaled[own[bins, m], 0] * weight[own[bins, m]]
        done += count
        sort_down(order, key, count)
        rule = below(chance, 4)
        is_best_fit = below(chance, 2) == 0
        fill(
            order, count, size, turns, within, parts, counts, empty, few, rule, is_best_fit, shift, free, frees, cut,
            found,
        )  # fmt: skip
        after = left = 0
        for n in range(count):
            if found[order[n], 0] < 0:
                after += scaled[order[n], 0] * weight[order[n]]
                left += scaled[order[n], 0]
        if after <= before:
            _adopt(own, owned, taken, few, order, count, found, now)
            if left < least:
                least = left
                spots[:] = now
        if rounds % _HEAVIER_EVERY == 0:
            for m in range(owned[bins]):
                weight[own[bins, m]] += 10
    return owned[bins], done


@_compiled
def _draw(taken: Ints, bins: int, chance: Ints) -> int:
    """Choose a few different bins, and after them `bins`, which stands for what is left over; return how many."""
    few = min(1 + below(chance, MOST_BINS_AT_ONCE), bins)
    for n in range(few):
        is_new = False
        while not is_new:
            taken[n] = below(chance, bins)
            is_new = True
            for m in range(n):
                is_new = is_new and taken[m] != taken[n]
    taken[few] = bins
    return few


@_compiled
def _gather(
    own: Ints, owned: Ints, taken: Ints, few: int, scaled: Ints, weight: Ints, order: Ints, key: Ints, chance: Ints
) -> int:
    """List the items of the chosen bins and those left over, with keys roughly by size; return how many."""
    kind = below(chance, 4)
    jitter = 1 + below(chance, 300)
    count = 0
    for n in range(few + 1):
        for m in range(owned[taken[n]]):
            i = own[taken[n], m]
            by = scaled[i, kind] if kind < 3 else scaled[i, 0] * weight[i] // 100
            key[i] = by * (1000 - jitter + below(chance, 2 * jitter + 1))
            order[count] = i
            count += 1
    return count


@_compiled
def _adopt(own: Ints, owned: Ints, taken: Ints, few: int, order: Ints, count: int, found: Ints, now: Ints) -> None:
    """Make what was found the present packing."""
    for n in range(few + 1):
        owned[taken[n]] = 0
    for n in range(count):
        i = order[n]
        b = taken[found[i, 0]] if found[i, 0] >= 0 else taken[few]
        own[b, owned[b]] = i
        owned[b] += 1
        now[i, 0] = b if found[i, 0] >= 0 else -1
        now[i, 1], now[i, 2], now[i, 3] = found[i, 1], found[i, 2], found[i, 3]
