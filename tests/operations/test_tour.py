"""The way through stops is short, whole, and the same on every machine."""

import itertools
import json
import math
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.geometry.points import Point
from rabbetry.operations.tour import START, Stop, Visit, closed_tour, short_tour, way_length

DATA = Path(__file__).parents[1] / "data" / "tsplib"


def _holes(name: str) -> list[Point]:
    text = (DATA / f"{name}.tsp").read_text(encoding="utf-8")
    rows = text.split("NODE_COORD_SECTION")[1].split("EOF")[0].split("\n")
    return [Point(*map(float, row.split()[1:3])) for row in rows if row.strip()]


@pytest.mark.parametrize("name", ["u159", "d198"])
def test_a_drilling_tour_is_within_four_per_cent_of_the_known_optimum(name: str) -> None:
    holes = _holes(name)
    tour = closed_tour(holes)
    assert sorted(tour) == list(range(len(holes)))
    legs = zip(tour, (*tour[1:], tour[0]), strict=True)
    length = sum(int(math.hypot(holes[a].x - holes[b].x, holes[a].y - holes[b].y) + 0.5) for a, b in legs)
    optimum = json.loads((DATA / "optimal.json").read_text(encoding="utf-8"))[name]
    assert optimum <= length <= 1.04 * optimum


def test_a_tour_uncrosses_itself() -> None:
    places = [Point(0, 0), Point(10, 10), Point(10, 0), Point(0, 10), Point(20, 0), Point(20, 10)]
    stops = [Stop(doors=(place,)) for place in places]
    assert way_length(short_tour(stops), stops, START) == pytest.approx(50.0)


def test_a_door_is_chosen_with_the_tour() -> None:
    """From (0, 0) past a ring 100 wide to a hole at (300, 0): the near side is as good as any on the way."""
    ring = Stop(doors=(Point(150, 90), Point(150, 10), Point(100, 50), Point(200, 50)))
    visits = short_tour([Stop(holes=(Point(300, 0),)), ring])
    assert visits == (Visit(1, (Point(150, 10),)), Visit(0, (Point(300, 0),)))


def test_a_groove_is_entered_at_the_end_that_saves_the_way_back() -> None:
    grooves = [Stop(through=(Point(x, 0.0), Point(x, 500.0))) for x in (100.0, 200.0, 300.0)]
    visits = short_tour(grooves)
    assert [visit.points[0].y for visit in visits] == [0.0, 500.0, 0.0]
    assert way_length(visits, grooves, START) == pytest.approx(300.0)


def test_holes_of_a_stop_stay_together_until_two_goes_save_much_way() -> None:
    near = [Stop(holes=(Point(0, 0), Point(0, 100))), Stop(holes=(Point(50, 0), Point(50, 100)))]
    assert [visit.stop for visit in short_tour(near)] in ([0, 1], [1, 0])
    far = [Stop(holes=(Point(0, 0), Point(1000, 0))), Stop(holes=(Point(100, 0), Point(900, 0)))]
    assert [visit.stop for visit in short_tour(far)] == [0, 1, 0]


_POINTS = st.builds(Point, st.integers(0, 60).map(float), st.integers(0, 60).map(float))


@st.composite
def _stops(draw: st.DrawFn) -> list[Stop]:
    doors = st.lists(_POINTS, min_size=1, max_size=3, unique=True).map(lambda found: Stop(doors=tuple(found)))
    through = st.tuples(_POINTS, _POINTS).map(lambda ends: Stop(through=ends))
    holes = st.lists(_POINTS, min_size=1, max_size=3, unique=True).map(lambda found: Stop(holes=tuple(found)))
    return draw(st.lists(st.one_of(doors, through, holes), min_size=1, max_size=5))


def _shortest(stops: list[Stop]) -> float:
    """The shortest way that does each stop in one go, by trying all."""
    ways: list[list[tuple[Point, ...]]] = []
    for stop in stops:
        if stop.through:
            ways.append([stop.through, stop.through[::-1]])
        else:
            ways.append([(door,) for door in stop.doors] or list(itertools.permutations(stop.holes)))
    best = math.inf
    for order in itertools.permutations(range(len(stops))):
        for chosen in itertools.product(*(ways[k] for k in order)):
            visits = [Visit(stop, points) for stop, points in zip(order, chosen, strict=True)]
            best = min(best, way_length(visits, stops, START))
    return best


@settings(max_examples=60, deadline=None)
@given(_stops())
def test_every_stop_is_visited_whole_and_hardly_any_way_is_shorter(stops: list[Stop]) -> None:
    visits = short_tour(stops)
    for index, stop in enumerate(stops):
        points = [point for visit in visits if visit.stop == index for point in visit.points]
        if stop.doors:
            assert len(points) == 1
            assert points[0] in stop.doors
        else:
            assert sorted(points, key=repr) == sorted(stop.through or stop.holes, key=repr)
    assert way_length(visits, stops, START) <= 1.25 * _shortest(stops) + 1e-6


def test_the_compiled_and_the_plain_search_give_the_same_way() -> None:
    code = (
        "from rabbetry.geometry.points import Point\n"
        "from rabbetry.operations.tour import Stop, short_tour\n"
        "at = [Point(k * 7919 % 1201, k * 104729 % 907) for k in range(40)]\n"
        "stops = [Stop(holes=tuple(at[k : k + 4])) for k in range(0, 24, 4)]\n"
        "stops += [Stop(through=(at[k], at[k + 1])) for k in range(24, 32, 2)]\n"
        "stops += [Stop(doors=(at[k], at[k + 1])) for k in range(32, 40, 2)]\n"
        "print(short_tour(stops))\n"
    )
    told = []
    for plain in ("0", "1"):
        env = {**os.environ, "NUMBA_DISABLE_JIT": plain, "PYTHONPATH": os.pathsep.join(sys.path)}
        done = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
        told.append(done.stdout)
    assert told[0] == told[1]
    assert told[0].count("Visit(") >= 14


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 1000), st.integers(0, 1000)), max_size=25))
def test_no_two_swapped_stretches_would_shorten_the_way(places: list[tuple[int, int]]) -> None:
    stops = [Stop(doors=(Point(float(x), float(y)),)) for x, y in places]
    visits = short_tour(stops)
    assert sorted(visit.stop for visit in visits) == list(range(len(stops)))
    # A thousandth of a millimetre a leg is what counting in whole steps may cost.
    shortest = way_length(visits, stops, START) - 0.001 * len(stops)
    for i in range(len(visits)):
        for k in range(i + 1, len(visits)):
            turned = [*visits[:i], *reversed(visits[i : k + 1]), *visits[k + 1 :]]
            assert way_length(turned, stops, START) >= shortest
