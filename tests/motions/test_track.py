"""A contour measured along its length."""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.geometry.curves import Arc, Contour, Line, rectangle
from rabbetry.geometry.points import Point
from rabbetry.motions.track import Track
from rabbetry.tolerances import MOVE_MM
from shapes import rounded_rectangle

RING = Track(rounded_rectangle(80, 50, 8))
OPEN = Track(Contour((Line(Point(0, 0), Point(30, 0)), Arc(Point(30, 0), Point(40, 10), Point(30, 10), 1))))


@settings(max_examples=100, deadline=None)
@given(start=st.floats(0, 500), travel=st.floats(0.01, 900))
def test_pieces_are_connected_and_as_long_as_the_way(start, travel):
    pieces = RING.pieces(start, start + travel)
    assert sum(piece.length for piece in pieces) == pytest.approx(travel, abs=3 * MOVE_MM)
    assert pieces[0].start.distance(RING.at(start)) <= 1.5 * MOVE_MM
    assert pieces[-1].end.distance(RING.at(start + travel)) <= 1.5 * MOVE_MM
    for before, after in pairwise(pieces):
        assert before.end.distance(after.start) < 1e-9
    assert all(piece.length >= MOVE_MM / 2 for piece in pieces)


@settings(max_examples=50, deadline=None)
@given(start=st.floats(0, 45), end=st.floats(0, 45))
def test_pieces_backwards_are_pieces_forwards_reversed(start, end):
    back = OPEN.pieces(max(start, end), min(start, end))
    forth = OPEN.pieces(min(start, end), max(start, end))
    if start != end:
        assert [piece.reversed() for piece in reversed(back)] == list(forth)


def test_a_cut_close_to_a_corner_is_moved_to_the_corner():
    square = Track(rectangle(0, 0, 10, 10))
    pieces = square.pieces(9.9995, 20.0004)
    assert pieces == (Line(Point(10, 0), Point(10, 10)),)


def test_several_laps_pass_every_segment_as_often():
    square = Track(rectangle(0, 0, 10, 10))
    assert len(square.pieces(0.0, 120.0)) == 12
    assert square.at(95.0) == square.at(15.0) == Point(10, 5)


@pytest.mark.parametrize(
    ("point", "position"),
    [
        pytest.param(Point(12, -5), 12.0, id="beside a line"),
        pytest.param(Point(-5, -5), 0.0, id="before the start"),
        pytest.param(Point(60, 60), 30 + 10 * math.pi / 2, id="beyond the end"),
        pytest.param(Point(30 + 20 * math.sin(0.5), 10 - 20 * math.cos(0.5)), 35.0, id="outside the arc"),
    ],
)
def test_the_nearest_position(point, position):
    assert OPEN.nearest(point) == pytest.approx(position, abs=1e-9)


def test_straights_are_the_lines_by_their_ends():
    assert list(OPEN.straights()) == [(0.0, 30.0)]
