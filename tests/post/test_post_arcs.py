"""Arcs after rounding (T64): a strict reader never sees radii that differ by more than it allows."""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from post_cases import changed, plan_of, shipped

from rabbetry.motions.model import ArcFeed, Feed, Traverse
from rabbetry.post.arcs import Chord, Piece, round_arc, sweep_of
from rabbetry.post.numbers import Numbers
from rabbetry.post.render import render_programs

COARSE_INCH = Numbers(inch=True, length_decimals=3, feed_decimals=1, trim_zeros=True)
FINE_INCH = Numbers(inch=True, length_decimals=5, feed_decimals=1, trim_zeros=True)
METRIC = Numbers(inch=False, length_decimals=4, feed_decimals=1, trim_zeros=True)
COARSE_METRIC = Numbers(inch=False, length_decimals=2, feed_decimals=1, trim_zeros=True)
INCH = 25.4


def written(numbers: Numbers, x: float, y: float, z: float = 0.0) -> tuple[float, float, float]:
    x, y, z = (numbers.read_back(numbers.length(value)) for value in (x, y, z))
    return x, y, z


def mismatch(piece: Piece, start: tuple[float, float, float], numbers: Numbers) -> float:
    centre = start[0] + numbers.read_back(piece.i), start[1] + numbers.read_back(piece.j)
    return abs(math.dist(start[:2], centre) - math.dist(written(numbers, piece.x, piece.y)[:2], centre))


@given(
    radius=st.floats(0.05, 400),
    angle=st.floats(0, 6.28),
    sweep=st.floats(0.01, 6.2),
    turn=st.sampled_from((1, -1)),
    numbers=st.sampled_from((COARSE_INCH, FINE_INCH, METRIC, COARSE_METRIC)),
)
@settings(max_examples=100)
def test_no_arc_is_written_that_misses_its_own_end(
    radius: float, angle: float, sweep: float, turn: int, numbers: Numbers
) -> None:
    cx, cy = 300.123456, 200.654321
    start = written(numbers, cx + radius * math.cos(angle), cy + radius * math.sin(angle))
    end = angle + sweep * turn
    arc = ArcFeed(cx + radius * math.cos(end), cy + radius * math.sin(end), -3.0, cx, cy, turn, 900.0)
    limit = 0.0002 * INCH if numbers.inch else 0.002
    parts = round_arc(arc, start=start, numbers=numbers, form="centre")
    assert (parts[-1].x, parts[-1].y, parts[-1].z) == (arc.x, arc.y, arc.z)
    for part in parts:
        if isinstance(part, Piece):
            assert mismatch(part, start, numbers) <= limit
        else:
            assert abs(math.dist((part.x, part.y), (cx, cy)) - radius) < 2 * numbers.last_digit_mm


@pytest.mark.parametrize("numbers", [METRIC, FINE_INCH], ids=["four places in mm", "five places in inches"])
def test_enough_decimals_keep_every_arc_an_arc(numbers: Numbers) -> None:
    # Check value 1.6: four decimals in mm and five in inches never exceed the limit of 0.002 mm and 0.0002 in.
    for k in range(500):
        radius, angle = 1 + k * 0.197, k * 0.6180339
        start = written(numbers, 50 + radius * math.cos(angle), 70 + radius * math.sin(angle))
        end = angle + 1.3
        arc = ArcFeed(50 + radius * math.cos(end), 70 + radius * math.sin(end), 0.0, 50, 70, 1, 900.0)
        (piece,) = round_arc(arc, start=start, numbers=numbers, form="centre")
        assert isinstance(piece, Piece)


def test_a_fillet_that_three_inch_decimals_spoil_is_never_sent_as_it_is() -> None:
    # Ends 10.104, 4.078 and 9.938, 4.108 with I-0.1 J-0.075: radii 0.1250 and 0.1240, a step of 0.025 mm.
    centre = (10.104 - 0.1) * INCH, (4.078 - 0.075) * INCH
    arc = ArcFeed(9.938 * INCH, 4.108 * INCH, 0.0, *centre, 1, 900.0)
    start = written(COARSE_INCH, 10.104 * INCH, 4.078 * INCH)
    parts = round_arc(arc, start=start, numbers=COARSE_INCH, form="centre")
    for part in parts:
        assert isinstance(part, Chord) or mismatch(part, start, COARSE_INCH) <= 0.0002 * INCH


def test_an_arc_whose_ends_round_to_one_point_is_not_a_full_circle() -> None:
    arc = ArcFeed(10.00003, 20.0, 0.0, 5.0, 20.0, -1, 900.0)
    parts = round_arc(arc, start=(10.0, 20.0, 0.0), numbers=METRIC, form="centre")
    assert all(isinstance(part, Chord) for part in parts)


def test_an_arc_whose_ends_swap_sides_is_not_sent_round_the_circle() -> None:
    # Three microns of arc, two decimals: the rounded end lies on the other side of the rounded start.
    start = (10.0, 0.01, 0.0)
    arc = ArcFeed(9.99999, 0.0149, 0.0, 0.0, 0.0, -1, 900.0)
    wanted = abs(sweep_of(start[:2], (arc.x, arc.y), (0.0, 0.0), -1))
    assert wanted > 6
    arc = ArcFeed(10.0, 0.0149, 0.0, 0.0, 0.0, 1, 900.0)
    assert all(isinstance(part, Chord) for part in round_arc(arc, start=start, numbers=COARSE_METRIC, form="centre"))


def test_a_controller_without_arcs_gets_chords_close_to_the_arc() -> None:
    post = changed("metric-plain", toml=(('arcs = "centre"', 'arcs = "none"'),))
    arc = ArcFeed(-10.0, 0.0, -2.0, 0.0, 0.0, 1, 900.0)
    text = render_programs(plan_of(Traverse(10, 0, 15), Feed(10, 0, -1, 500), arc), post)[0].text
    assert "G3" not in text
    parts = round_arc(arc, start=(10.0, 0.0, -1.0), numbers=METRIC, form="none")
    middles = pairwise(parts)
    assert all(math.hypot((a.x + b.x) / 2, (a.y + b.y) / 2) >= 10.0 - 0.0021 for a, b in middles)
    assert parts[-1] == Chord(-10.0, 0.0, -2.0)


def test_a_radius_post_splits_long_arcs() -> None:
    post = changed(
        "metric-plain", toml=(('arcs = "centre"', 'arcs = "radius"'), ("F I J", "F R")), template=(("I J", "R"),)
    )
    plan = plan_of(Traverse(10, 0, 15), Feed(10, 0, -1, 500), ArcFeed(0, -10, -1, 0, 0, 1, 900.0))
    text = render_programs(plan, post)[0].text
    assert "G3 X0 Y10 R10 F900\nG3 X-10 Y0 R10\nG3 X0 Y-10 R10\n" in text


def test_a_full_turn_of_a_spiral_is_two_written_arcs() -> None:
    text = render_programs(
        plan_of(
            Traverse(20, 10, 15),
            Feed(20, 10, 0, 500),
            ArcFeed(0, 10, -1, 10, 10, 1, 900.0),
            ArcFeed(20, 10, -2, 10, 10, 1, 900.0),
        ),
        shipped("metric-plain"),
    )[0].text
    assert "G3 X0 Y10 Z-1 I-10 J0 F900\nG3 X20 Y10 Z-2 I10 J0\n" in text
