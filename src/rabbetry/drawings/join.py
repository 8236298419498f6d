"""Loose lines and arcs to closed chains: doubles taken out, ends joined that meet within a tolerance.

All lengths in one unit. What stays open, and where more than two ends meet, is told by its place.
"""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from rabbetry.geometry.curves import Arc, Contour, Segment
from rabbetry.geometry.points import Point
from rabbetry.tolerances import POINT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Joined:
    """Closed chains of segments, and what was done."""

    chains: tuple[tuple[Segment, ...], ...]
    """Ends of neighbours may still differ by the tolerance."""
    doubles: int
    crumbs: int
    """Pieces shorter than the tolerance, left out."""
    gaps: tuple[float, ...]
    """Distances that were bridged."""
    loose: tuple[tuple[Point, Point, float], ...]
    """Open ends, each with the next one and how far it is."""
    knots: tuple[tuple[Point, int], ...]
    """Places where more than two ends meet, and how many."""


def join(entities: Sequence[tuple[Segment, ...]], tolerance: float) -> Joined:
    """Return the closed chains of entities, each a chain by itself. `tolerance` > 0.

    An entity that is closed stays as it is, so that two recesses may share an edge; the others are taken apart and
    joined. What lies wholly on something else is a double.
    """
    whole = [chain for chain in entities if _is_closed(chain, tolerance)]
    closed = _without_double_loops(whole, tolerance)
    rest = [segment for chain in entities if not _is_closed(chain, tolerance) for segment in chain]
    long_enough = [segment for segment in rest if segment.length > tolerance]
    single = _without_doubles(long_enough, tolerance)
    nodes = _nodes([end for segment in single for end in (segment.start, segment.end)], tolerance)
    over = _lying_on(single, nodes, closed, tolerance)
    meeting: defaultdict[int, list[int]] = defaultdict(list)
    for number, node in enumerate(nodes):
        if number // 2 not in over:
            meeting[node].append(number)
    ends = [end for segment in single for end in (segment.start, segment.end)]
    loose = [ends[numbers[0]] for numbers in meeting.values() if len(numbers) == 1]
    knots = tuple((ends[numbers[0]], len(numbers)) for numbers in meeting.values() if len(numbers) > 2)
    pairs = [(ends[a], ends[b]) for numbers in meeting.values() if len(numbers) == 2 for a, b in (numbers,)]
    gaps = [*(a.distance(b) for a, b in pairs), *map(_gap, closed)]
    return Joined(
        chains=(*closed, *(() if loose or knots else _walk(single, nodes, meeting, over))),
        doubles=len(long_enough) - len(single) + len(over) + sum(map(len, whole)) - sum(map(len, closed)),
        crumbs=len(rest) - len(long_enough),
        gaps=tuple(gap for gap in gaps if gap > POINT_MM),
        loose=_nearest(loose),
        knots=knots,
    )


def _is_closed(chain: Sequence[Segment], tolerance: float) -> bool:
    return len(chain) > 1 and _gap(chain) <= tolerance


def _gap(chain: Sequence[Segment]) -> float:
    return chain[-1].end.distance(chain[0].start)


def _without_double_loops(loops: Sequence[tuple[Segment, ...]], tolerance: float) -> list[tuple[Segment, ...]]:
    """Return the closed entities less those that run where one before them runs."""
    kept: list[tuple[tuple[Segment, ...], _Box]] = []
    for loop in loops:
        box = Contour(loop).bounds
        is_double = any(
            all(abs(a - b) <= tolerance for a, b in zip(box, frame, strict=True))
            and all(any(_lies_on(long, segment, tolerance) for long in other) for segment in loop)
            and all(any(_lies_on(long, segment, tolerance) for long in loop) for segment in other)
            for other, frame in kept
        )
        if not is_double:
            kept.append((loop, box))
    return [loop for loop, _ in kept]


def _lying_on(
    single: Sequence[Segment], nodes: Sequence[int], closed: Sequence[tuple[Segment, ...]], tolerance: float
) -> frozenset[int]:
    """Return the numbers of the segments that lie on closed entities together with all that they are joined to."""
    places: defaultdict[int, list[int]] = defaultdict(list)
    for number, node in enumerate(nodes):
        places[node].append(number // 2)
    found: set[int] = set()
    seen: set[int] = set()
    for first in range(len(single)):
        if first in seen:
            continue
        group, todo = set(), [first]
        while todo:
            k = todo.pop()
            if k not in group:
                group.add(k)
                todo.extend(other for node in nodes[2 * k : 2 * k + 2] for other in places[node])
        seen |= group
        if closed and all(any(_lies_on(long, single[k], tolerance) for loop in closed for long in loop) for k in group):
            found |= group
    return frozenset(found)


def _without_doubles(segments: Sequence[Segment], tolerance: float) -> list[Segment]:
    """Return the segments less those that lie wholly on another one; the first of two equal ones stays."""
    boxes = [_box(segment) for segment in segments]
    order = sorted(range(len(segments)), key=lambda k: (boxes[k][0], -segments[k].length, k))
    kept: list[int] = []
    alive: list[int] = []
    for k in order:
        alive = [other for other in alive if boxes[other][2] >= boxes[k][0] - tolerance]
        if any(_covers(segments[other], boxes[other], segments[k], boxes[k], tolerance) for other in alive):
            continue
        for other in [o for o in alive if _covers(segments[k], boxes[k], segments[o], boxes[o], tolerance)]:
            alive.remove(other)
            kept.remove(other)
        alive.append(k)
        kept.append(k)
    return [segments[k] for k in sorted(kept)]


_Box = tuple[float, float, float, float]


def _box(segment: Segment) -> _Box:
    ends = [segment.start, segment.end]
    if isinstance(segment, Arc):
        reach = segment.radius
        far = [
            (segment.centre.x - reach, segment.centre.y - reach),
            (segment.centre.x + reach, segment.centre.y + reach),
        ]
        return (*far[0], *far[1])
    return (
        *(min(end.x for end in ends), min(end.y for end in ends)),
        *(max(end.x for end in ends), max(end.y for end in ends)),
    )


def _covers(long: Segment, outer: _Box, short: Segment, inner: _Box, tolerance: float) -> bool:
    """Tell whether `short` lies on `long`, from end to end, within the tolerance."""
    if isinstance(long, Arc) is not isinstance(short, Arc) or short.length > long.length + tolerance:
        return False
    if any(inner[k] < outer[k] - tolerance for k in (0, 1)) or any(inner[k] > outer[k] + tolerance for k in (2, 3)):
        return isinstance(long, Arc) and _lies_on(long, short, tolerance)
    return _lies_on(long, short, tolerance)


def _lies_on(long: Segment, short: Segment, tolerance: float) -> bool:
    return all(_is_on(long, short.at(part), tolerance) for part in (0.0, 0.25, 0.5, 0.75, 1.0))


def _is_on(segment: Segment, point: Point, tolerance: float) -> bool:
    if min(point.distance(segment.start), point.distance(segment.end)) <= tolerance:
        return True
    if isinstance(segment, Arc):
        if abs(point.distance(segment.centre) - segment.radius) > tolerance:
            return False
        turned = ((point - segment.centre).angle - (segment.start - segment.centre).angle) * segment.turn
        return turned % (2 * math.pi) <= abs(segment.sweep)
    along = segment.heading(0.0)
    reach = (point - segment.start).dot(along)
    return 0 <= reach <= segment.length and abs(along.cross(point - segment.start)) <= tolerance


def _nodes(ends: Sequence[Point], tolerance: float) -> list[int]:
    """Return for each end the number of the place it is at: ends within the tolerance share one."""
    parent = list(range(len(ends)))

    def root(k: int) -> int:
        while parent[k] != k:
            parent[k] = parent[parent[k]]
            k = parent[k]
        return k

    cells: defaultdict[tuple[int, int], list[int]] = defaultdict(list)
    for k, end in enumerate(ends):
        x, y = math.floor(end.x / tolerance), math.floor(end.y / tolerance)
        for i in (-1, 0, 1):
            for j in (-1, 0, 1):
                for other in cells.get((x + i, y + j), ()):
                    if end.distance(ends[other]) <= tolerance:
                        parent[root(k)] = root(other)
        cells[x, y].append(k)
    return [root(k) for k in range(len(ends))]


def _walk(
    segments: Sequence[Segment], nodes: Sequence[int], meeting: dict[int, list[int]], over: frozenset[int]
) -> tuple[tuple[Segment, ...], ...]:
    """Return the loops. End 2k is the start of segment k, end 2k + 1 its end."""
    chains = []
    seen = set(over)
    for first in range(len(segments)):
        if first in seen:
            continue
        chain: list[Segment] = []
        end = 2 * first
        while end // 2 not in seen:
            seen.add(end // 2)
            segment = segments[end // 2]
            chain.append(segment if end % 2 == 0 else segment.reversed())
            out = end ^ 1
            a, b = meeting[nodes[out]]
            end = b if a == out else a
        chains.append(tuple(chain))
    return tuple(chains)


def _nearest(loose: Sequence[Point]) -> tuple[tuple[Point, Point, float], ...]:
    """Return each open end with the nearest other one, the pair once; the narrowest gaps first."""
    found: dict[frozenset[int], tuple[Point, Point, float]] = {}
    for k, end in enumerate(loose[:_MOST_LOOSE]):
        others = [(end.distance(other), n) for n, other in enumerate(loose) if n != k]
        if others:
            gap, n = min(others)
            found.setdefault(frozenset((k, n)), (end, loose[n], gap))
    return tuple(sorted(found.values(), key=lambda row: row[2]))


_MOST_LOOSE = 200
"""So many open ends are looked at: a message names a few."""
