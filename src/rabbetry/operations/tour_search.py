"""The inner loops of the search for a short tour, compiled to machine code by numba.

Integers only (whole square roots of whole numbers), so that the compiled and the plain run give the same tour to the
last place. The compiled code is kept beside this file; the first run on a machine waits some seconds for it.

A tour is closed; a way with a free end is a tour through one place more, `NOWHERE`, that is no distance from any other.
Arrays, n the places, a and b two of them, i a position in the tour:
`at[a]` x, y; `tied[a]` the place that must be its neighbour (-1: none); `group[a]` the stop it belongs to, which is
left only for a gain of `LEAP`; `near[a]` the places offered as neighbours, the nearest of its own group first, then
those of others; `tour[i]` and its inverse `spot[a]`; `undo[k]` the exchanges made since the last tour that was kept.
"""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import numba
import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
F = TypeVar("F", bound=Callable[..., Any])

NOWHERE = -(1 << 40)
"""The x of the place that is no distance from any other; it has to be the last."""
TIE = 1 << 44
"""What a tie is worth: more than any tour is long."""
LEAP = 200_000
"""What going from one group to another costs beside the way."""
LONGEST_SEGMENT = 3
"""Places moved together to another part of the tour."""
_FARTHEST_KICK = 50
"""Places in each of the two stretches that a kick exchanges, most."""


def _compiled(function: F) -> F:
    return cast(F, numba.njit(cache=True)(function))


@_compiled
def _below(chance: Ints, most: int) -> int:
    """Return a number from 0 to most - 1, and move the generator on (Park and Miller's, with multiplier 48271)."""
    chance[0] = chance[0] * 48271 % 2147483647
    return (chance[0] >> 8) % most  # type: ignore[no-any-return]


@_compiled
def distance(at: Ints, tied: Ints, group: Ints, a: int, b: int) -> int:
    """Return the whole distance of two places, with what a tie and a change of group add."""
    if tied[a] == b:
        return -TIE
    if at[a, 0] == NOWHERE or at[b, 0] == NOWHERE:
        return LEAP
    x, y = at[a, 0] - at[b, 0], at[a, 1] - at[b, 1]
    flat = int(np.sqrt(float(x * x + y * y)))
    return flat if group[a] == group[b] else flat + LEAP


@_compiled
def neighbours(at: Ints, tied: Ints, group: Ints, near: Ints) -> None:
    """Fill `near` with the nearest of each place, half of them of its own group and half of others as far as there
    are so many, each half by insertion; of two alike the first."""
    count, most = near.shape
    away = np.zeros(most, np.int64)
    size = np.zeros(count, np.int64)
    for a in range(count):
        size[group[a]] += 1
    for a in range(count):
        own, others = size[group[a]] - 1, count - size[group[a]]
        half = min(own, max(most // 2, most - others))
        for part in range(2):
            first, last = (0, half) if part == 0 else (half, most)
            held = first
            for b in range(count):
                if b == a or first == last or (group[a] == group[b]) != (part == 0):
                    continue
                far = distance(at, tied, group, a, b)
                if held == last and far >= away[held - 1]:
                    continue
                k = held if held < last else last - 1
                while k > first and away[k - 1] > far:
                    away[k], near[a, k] = away[k - 1], near[a, k - 1]
                    k -= 1
                away[k], near[a, k] = far, b
                held = min(held + 1, last)


@_compiled
def nearest_first(at: Ints, tied: Ints, group: Ints, tour: Ints) -> None:
    """Fill `tour` from place 0 on, always with the nearest place that is left; of two alike the first."""
    count = len(tour)
    left = np.arange(count)
    here = 0
    left[0] = left[count - 1]
    tour[0] = 0
    for i in range(1, count):
        best, far = 0, distance(at, tied, group, here, left[0])
        for k in range(1, count - i):
            this = distance(at, tied, group, here, left[k])
            if this < far or (this == far and left[k] < left[best]):
                best, far = k, this
        here = left[best]
        left[best] = left[count - i - 1]
        tour[i] = here


@_compiled
def _after(tour: Ints, spot: Ints, a: int) -> int:
    i = spot[a] + 1
    return tour[i] if i < len(tour) else tour[0]  # type: ignore[no-any-return]


@_compiled
def _before(tour: Ints, spot: Ints, a: int) -> int:
    i = spot[a]
    return tour[i - 1] if i > 0 else tour[len(tour) - 1]  # type: ignore[no-any-return]


@_compiled
def _turn_round(tour: Ints, spot: Ints, first: int, last: int) -> None:
    """Turn round the stretch from place `first` on to `last`, or all the rest of the tour, whichever is shorter."""
    count = len(tour)
    i, k = spot[first], spot[last]
    length = k - i + 1 if k >= i else k - i + 1 + count
    if 2 * length > count:
        i, k = k + 1, i - 1
        i = i if i < count else 0
        k = k if k >= 0 else count - 1
        length = count - length
    for _ in range(length // 2):
        a, b = tour[i], tour[k]
        tour[i], tour[k] = b, a
        spot[b], spot[a] = i, k
        i = i + 1 if i + 1 < count else 0
        k = k - 1 if k > 0 else count - 1


@_compiled
def _exchange(tour: Ints, spot: Ints, a: int, b: int, c: int, d: int) -> None:
    """Replace the legs a-b and c-d by a-c and b-d, where b comes next to a on the side on which d comes next to c."""
    if _after(tour, spot, a) == b:
        _turn_round(tour, spot, b, c)
    else:
        _turn_round(tour, spot, a, d)


@_compiled
def _do(tour: Ints, spot: Ints, undo: Ints, done: int, a: int, b: int, c: int, d: int) -> int:
    _exchange(tour, spot, a, b, c, d)
    if done < len(undo):
        undo[done, 0], undo[done, 1], undo[done, 2], undo[done, 3] = a, b, c, d
    return done + 1


@_compiled
def _move(
    tour: Ints, spot: Ints, undo: Ints, done: int, p: int, a: int, z: int, n: int, u: int, v: int, turned: bool
) -> int:
    """Take the stretch a..z out from between p and n and put it between u and v, which come in the order
    p a..z n..u v: as p n..u z..a v, `turned`, or as p n..u a..z v."""
    done = _do(tour, spot, undo, done, p, a, u, v)
    if n != v:
        done = _do(tour, spot, undo, done, p, u, n, z)
    if not turned:
        done = _do(tour, spot, undo, done, u, z, a, v)
    return done


@_compiled
def _push(queue: Ints, is_queued: Ints, ends: Ints, a: int) -> None:
    """Put a place at the end of the queue, `ends` being its first place and its length, unless it is in it."""
    if not is_queued[a]:
        is_queued[a] = 1
        i = ends[0] + ends[1]
        queue[i if i < len(queue) else i - len(queue)] = a
        ends[1] += 1


@_compiled
def _cross(
    at: Ints, tied: Ints, group: Ints, near: Ints, tour: Ints, spot: Ints, undo: Ints, done: int, a: int, touched: Ints
) -> int:
    """Make the first exchange of two legs, one of them beside `a`, that shortens the tour; return how many exchanges
    were made in all; `touched` gets the places whose legs changed, `touched[8]` what was gained."""
    for side in range(2):
        b = _after(tour, spot, a) if side == 0 else _before(tour, spot, a)
        old = distance(at, tied, group, a, b)
        for k in range(near.shape[1]):
            c = near[a, k]
            new = distance(at, tied, group, a, c)
            if new >= old:
                break
            d = _after(tour, spot, c) if side == 0 else _before(tour, spot, c)
            gain = old - new + distance(at, tied, group, c, d) - distance(at, tied, group, b, d)
            if gain > 0 and c != b and d != a:
                touched[0], touched[1], touched[2], touched[3] = a, b, c, d
                touched[4], touched[5], touched[8] = a, b, gain
                return _do(tour, spot, undo, done, a, b, c, d)
    return done


@_compiled
def _shift(
    at: Ints, tied: Ints, group: Ints, near: Ints, tour: Ints, spot: Ints, undo: Ints, done: int, a: int, touched: Ints
) -> int:
    """Move the first short stretch that begins with `a` to where it shortens the tour; as `_cross`."""
    count = len(tour)
    for side in range(2):
        p = _before(tour, spot, a) if side == 0 else _after(tour, spot, a)
        z = a
        for length in range(1, min(LONGEST_SEGMENT, count - 3) + 1):
            if length > 1:
                z = _after(tour, spot, z) if side == 0 else _before(tour, spot, z)
            n = _after(tour, spot, z) if side == 0 else _before(tour, spot, z)
            saved = distance(at, tied, group, p, a) + distance(at, tied, group, z, n) - distance(at, tied, group, p, n)
            if saved <= 0:
                continue
            for k in range(near.shape[1]):
                c = near[a, k]
                new = distance(at, tied, group, a, c)
                if new >= saved:
                    break
                off = spot[c] - spot[a] if side == 0 else spot[a] - spot[c]
                off = off if off >= 0 else off + count
                if off < length:
                    continue
                for way in range(2):
                    # `e` is beyond `c` as seen along p a..z n (way 0), or before it (way 1).
                    e = _after(tour, spot, c) if way == side else _before(tour, spot, c)
                    if (way == 0 and c == p) or (way == 1 and c == n):
                        continue
                    gain = saved - new - distance(at, tied, group, z, e) + distance(at, tied, group, c, e)
                    if gain <= 0:
                        continue
                    touched[0], touched[1], touched[2], touched[3] = p, a, z, n
                    touched[4], touched[5], touched[8] = c, e, gain
                    if way == 0:
                        return _move(tour, spot, undo, done, p, a, z, n, c, e, False)
                    return _move(tour, spot, undo, done, p, a, z, n, e, c, True)
    return done


@_compiled
def _settle(
    at: Ints,
    tied: Ints,
    group: Ints,
    near: Ints,
    tour: Ints,
    spot: Ints,
    undo: Ints,
    done: int,
    queue: Ints,
    is_queued: Ints,
    ends: Ints,
    touched: Ints,
) -> int:
    """Shorten the tour about the queued places until nothing more is gained; return the exchanges made in all.
    `touched[9]` gets all that was gained."""
    touched[9] = 0
    while ends[1] > 0:
        a = queue[ends[0]]
        ends[0] = ends[0] + 1 if ends[0] + 1 < len(queue) else 0
        ends[1] -= 1
        is_queued[a] = 0
        while True:
            before = done
            done = _cross(at, tied, group, near, tour, spot, undo, done, a, touched)
            if done == before:
                done = _shift(at, tied, group, near, tour, spot, undo, done, a, touched)
            if done == before:
                break
            touched[9] += touched[8]
            for k in range(6):
                _push(queue, is_queued, ends, touched[k])
    return done


@_compiled
def shorten(at: Ints, tied: Ints, group: Ints, near: Ints, tour: Ints, kicks: int, seed: int) -> int:
    """Shorten `tour` by exchanges of two legs and moves of short stretches; then, `kicks` times, exchange two short
    stretches that follow each other, mend what that spoilt, and take it back where the tour is longer than before.

    Returns what was gained.
    """
    count = len(tour)
    spot = np.zeros(count, np.int64)
    for i in range(count):
        spot[tour[i]] = i
    undo = np.zeros((4 * count + 1000, 4), np.int64)
    queue, is_queued = np.zeros(count, np.int64), np.zeros(count, np.int64)
    ends, touched = np.zeros(2, np.int64), np.zeros(10, np.int64)
    chance = np.array([seed], np.int64)
    for i in range(count):
        _push(queue, is_queued, ends, tour[i])
    _settle(at, tied, group, near, tour, spot, undo, 0, queue, is_queued, ends, touched)
    gained = touched[9]
    longest = min(_FARTHEST_KICK, (count - 2) // 3)
    for _ in range(kicks if longest > 0 else 0):
        i = _below(chance, count)
        first, second = 1 + _below(chance, longest), 1 + _below(chance, longest)
        p, a = tour[i], tour[(i + 1) % count]
        z, n = tour[(i + first) % count], tour[(i + first + 1) % count]
        u, v = tour[(i + first + second) % count], tour[(i + first + second + 1) % count]
        lost = (
            distance(at, tied, group, p, n) + distance(at, tied, group, u, a) + distance(at, tied, group, z, v)
            - distance(at, tied, group, p, a) - distance(at, tied, group, z, n) - distance(at, tied, group, u, v)
        )  # fmt: skip
        done = _move(tour, spot, undo, 0, p, a, z, n, u, v, False)
        _push(queue, is_queued, ends, p)
        _push(queue, is_queued, ends, a)
        _push(queue, is_queued, ends, z)
        _push(queue, is_queued, ends, n)
        _push(queue, is_queued, ends, u)
        _push(queue, is_queued, ends, v)
        done = _settle(at, tied, group, near, tour, spot, undo, done, queue, is_queued, ends, touched)
        if touched[9] < lost and done <= len(undo):
            for k in range(done - 1, -1, -1):
                _exchange(tour, spot, undo[k, 0], undo[k, 2], undo[k, 1], undo[k, 3])
        else:
            gained += touched[9] - lost
    return gained  # type: ignore[no-any-return]
