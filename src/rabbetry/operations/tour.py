"""A short way through places on the blank, some of which stay together or follow each other."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np

from rabbetry.geometry.points import Point
from rabbetry.operations import tour_search
from rabbetry.operations.tour_search import Ints

START = Point(0.0, 0.0)
"""Tours begin near the blank's lower left corner."""

_STEPS_PER_MM = 1000
"""Distances are counted in thousandths of a millimetre: finer than any machine moves. A stop's holes are done in more
than one go where that saves 200 mm of way a time (`tour_search.LEAP`)."""
_NEAR = 16
"""Places offered as neighbours to each."""
_KICKS_PER_PLACE = 20
"""The effort; on the drilling tours of tests/bench/tours.py it ends within 3 % of the optimum."""
_MOST_KICKS = 100_000
_SEED = 7
_ROUNDS = 4
"""Times, most, that order and places are settled in turn."""


@dataclass(frozen=True, slots=True)
class Stop:
    """Work to be done: at any one of `doors`, entered and left there; or from one end of `through` to the other; or,
    where both are empty, at all of `holes`, in one go or in several."""

    doors: tuple[Point, ...] = ()
    through: tuple[Point, Point] | None = None
    holes: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Visit:
    """A stop (index) and the points at which it is visited, in order: the door, both ends, or holes."""

    stop: int
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class _Way:
    """The shortest way found to one door, its length and its end."""

    length: float
    end: Point
    visits: tuple[Visit, ...]

    def then(self, stop: int, points: tuple[Point, ...]) -> "_Way":
        return _Way(self.length + self.end.distance(points[0]), points[-1], (*self.visits, Visit(stop, points)))


def short_tour(stops: Sequence[Stop], *, start: Point = START) -> tuple[Visit, ...]:
    """Return the stops in the order of a short open way that begins at `start`.

    Deterministic: a fixed number of trials. The order of `stops` decides between ways alike.
    """
    if not stops:
        return ()
    doors = [stop.doors[:1] for stop in stops]
    order: Ints | None = None
    best: tuple[float, tuple[Visit, ...]] | None = None
    for _ in range(_ROUNDS):
        places, owners = _places(stops, doors)
        tied = tuple(stop.through is not None for stop in stops)
        order = _order(places, owners, tied, start, order)
        visits = _at_doors(_visits(order, places, owners), stops, start)
        length = way_length(visits, stops, start)
        if best is not None and length >= best[0] - 1 / _STEPS_PER_MM:
            break
        best = length, visits
        for visit in visits:
            doors[visit.stop] = visit.points[:1] if stops[visit.stop].doors else ()
        if all(len(stop.doors) < 2 for stop in stops):
            break
    assert best is not None
    return best[1]


def way_length(visits: Sequence[Visit], stops: Sequence[Stop], start: Point) -> float:
    """Return the length of the legs from `start` to the first visit, and between visits and holes; the way through a
    stop is no leg."""
    total, here = 0.0, start
    for visit in visits:
        total += here.distance(visit.points[0])
        here = visit.points[-1]
        if stops[visit.stop].through is None:
            total += sum(a.distance(b) for a, b in pairwise(visit.points))
    return total


def closed_tour(places: Sequence[Point]) -> tuple[int, ...]:
    """Return the indexes of `places` in the order of a short closed way through all of them."""
    return tuple(
        int(i) for i in _search(_steps(places), np.full(len(places), -1), np.zeros(len(places), np.int64), None)
    )


def _places(stops: Sequence[Stop], doors: Sequence[tuple[Point, ...]]) -> tuple[list[Point], list[int]]:
    """Return all places and the stop of each; the two ends of a way through are neighbours."""
    places: list[Point] = []
    owners: list[int] = []
    for index, (stop, door) in enumerate(zip(stops, doors, strict=True)):
        own = door or stop.through or stop.holes
        places += own
        owners += [index] * len(own)
    return places, owners


def _order(
    places: Sequence[Point], owners: Sequence[int], tied: Sequence[bool], start: Point, order: Ints | None
) -> Ints:
    """Return the indexes of the places in a short order, improving the given one: a closed tour from the start
    through all of them to a place that is nowhere, which is tied to the start."""
    count = len(places)
    at = np.vstack((_steps([start, *places]), [[tour_search.NOWHERE, 0]]))
    ties = np.full(count + 2, -1)
    ties[0], ties[-1] = count + 1, 0
    for k in range(count - 1):
        if owners[k] == owners[k + 1] and tied[owners[k]]:
            ties[k + 1], ties[k + 2] = k + 2, k + 1
    groups = np.array([len(set(owners)), *owners, len(set(owners)) + 1])
    tour = _search(at, ties, groups, None if order is None else np.array([0, *(order + 1), count + 1]))
    first = int(np.flatnonzero(tour == 0)[0])
    turned = np.roll(tour, -first)
    inner = turned[1:-1] if turned[-1] == count + 1 else turned[:1:-1]
    return inner - 1


def _search(at: Ints, ties: Ints, groups: Ints, tour: Ints | None) -> Ints:
    count = len(at)
    tied, group = ties.astype(np.int64), groups.astype(np.int64)
    near = np.zeros((count, min(_NEAR, count - 1)), np.int64)
    tour_search.neighbours(at, tied, group, near)
    if tour is None:
        tour = np.zeros(count, np.int64)
        tour_search.nearest_first(at, tied, group, tour)
    tour = tour.astype(np.int64)
    if count > 3:
        tour_search.shorten(at, tied, group, near, tour, min(_KICKS_PER_PLACE * count, _MOST_KICKS), _SEED)
    return tour


def _steps(places: Sequence[Point]) -> Ints:
    return np.array([(round(p.x * _STEPS_PER_MM), round(p.y * _STEPS_PER_MM)) for p in places], np.int64).reshape(-1, 2)


def _visits(order: Ints, places: Sequence[Point], owners: Sequence[int]) -> tuple[Visit, ...]:
    """Join places of one stop that follow each other."""
    runs = groupby(order.tolist(), key=lambda k: owners[k])
    return tuple(Visit(stop, tuple(places[k] for k in run)) for stop, run in runs)


def _at_doors(visits: Sequence[Visit], stops: Sequence[Stop], start: Point) -> tuple[Visit, ...]:
    """Choose the door of every stop so that the way in this order is shortest: step by step, the shortest way to each
    door."""
    ways = [_Way(0.0, start, ())]
    for visit in visits:
        doors = stops[visit.stop].doors
        choices = [(door,) for door in doors] if doors else [visit.points]
        ways = [_nearest(ways, points[0]).then(visit.stop, points) for points in choices]
    return min(ways, key=lambda way: way.length).visits


def _nearest(ways: Sequence[_Way], place: Point) -> _Way:
    """Return the way from which a place is reached by the shortest in all; the first of several."""
    return min(ways, key=lambda way: way.length + way.end.distance(place))
