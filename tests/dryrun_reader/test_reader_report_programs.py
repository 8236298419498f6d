"""Whole programs and the keyboard example of the published report, NISTIR 6556: appendix C.1 and table 10."""

import math

import pytest
from reader_kit import motions, of_kind, read, read_well

from rabbetry.dryrun.arcs import length_mm, sweep_rad
from rabbetry.dryrun.model import ArcMove, Context, End, Feed, Spindle, ToolChange, Traverse
from rabbetry.dryrun.timing import lengths

ENGRAVING = (
    """
g21 g0 x0 y0 z50 | t1 m6 m3 f20 s4000 | g0 x0 y0 z2 | g1 z-0.5 | y10 | g0 z2 | y5 | g1 z-0.5 | x7 | g0 z2 | y0
g1 z-0.5 | y10 | g0 z2 | x11 y2.5 | g1 z-0.5 | x16 | g3 x13.5 y0 i-2.5 | g1 x16 | g0 z2 | x20 y0 | g1 z-0.5 | y9
g0 z2 | x26 | g1 z-0.5 | y0 | g0 z2 | x32.5 | g1 z-0.5 | g2 x32.5 j2.5 | g0 z2 | x45 y5 | g1 z-0.5 | x47 y0
x48.5 y3 | x50 y0 | x52 y5 | g0 z2 | x57.5 y0 | g1 z-0.5 | g2 x57.5 j2.5 | g0 z2 | x64 | g1 z-0.5 | y5 | y4
g2 x69 r4 | g0 z2 | x73 y0 | g1 z-0.5 | y9 | g0 z2 | x81 | g1 z-0.5 | y0 | x79.5 | g2 j2.5 y5 | g1 x81 | g0 z50 | m2
""".strip()
    .replace("\n", " | ")
    .split(" | ")
)
"""Appendix C.1, comments left out."""


def test_the_engraving_program_has_its_moves_and_lengths() -> None:
    reading = read_well(*ENGRAVING)
    assert reading.findings == ()
    all_moves = motions(reading)
    arcs = [move for move in all_moves if isinstance(move, ArcMove)]
    feeds = [move for move in all_moves if isinstance(move, Feed)]
    traverses = [move for move in all_moves if isinstance(move, Traverse)]
    assert (len(traverses), len(feeds), [arc.turns for arc in arcs].count(-1), len(arcs)) == (25, 29, 4, 5)
    plunges = [move for move in feeds if move.to[2] < move.start[2] and move.to[:2] == move.start[:2]]
    assert len(plunges) == 12
    assert lengths(traverses[1:])[1] == pytest.approx(202.052801, abs=1e-6)
    assert lengths(feeds)[0] == pytest.approx(126.978534, abs=1e-6)
    assert sum(length_mm(arc) for arc in arcs if arc.turns < 0) == pytest.approx(44.670960, abs=1e-6)
    assert sum(length_mm(arc) for arc in arcs if arc.turns > 0) == pytest.approx(11.780972, abs=1e-6)
    assert [math.degrees(sweep_rad(arc)) for arc in arcs] == pytest.approx([270, 360, 360, 77.364375, 180], abs=1e-6)


def test_the_engraving_program_takes_its_time_at_its_feed() -> None:
    reading = read_well(*ENGRAVING)
    cut_mm, _ = lengths(reading.events)
    assert cut_mm == pytest.approx(183.430466, abs=1e-6)
    assert cut_mm / 20 == pytest.approx(9.171523, abs=1e-6)
    assert {move.feed_mm_per_min for move in reading.events if isinstance(move, Feed | ArcMove)} == {20.0}


def test_the_engraving_program_keeps_to_its_levels() -> None:
    all_moves = motions(read_well(*ENGRAVING))
    assert {move.to[2] for move in all_moves} == {-0.5, 2.0, 50.0}
    assert (min(move.to[0] for move in all_moves), max(move.to[0] for move in all_moves)) == (0, 81)
    assert all_moves[-1].to == (81.0, 5.0, 50.0)


def test_the_keyboard_example_gives_the_printed_calls() -> None:
    """Table 10; the tool length of slot 2 is 1.0 there."""
    typed = ["g1 x3 y1 f20.0", "g2 x[6-[4*3/2]] r 7.01 z0.5", "t2", "m6 g43 h2 (comment)", "m2"]
    reading = read_well(*typed, context=Context(tool_lengths_mm=((2, 1.0),)))
    feed, arc = motions(reading)
    assert isinstance(feed, Feed)
    assert isinstance(arc, ArcMove)
    assert (feed.to, feed.feed_mm_per_min) == ((3.0, 1.0, 0.0), 20.0)
    assert arc.to == (0.0, 1.0, 0.5)
    assert arc.centre[:2] == pytest.approx((1.5, 7.8476), abs=5e-5)
    assert arc.turns == -1
    assert [event.number for event in reading.events if isinstance(event, ToolChange)] == [2]
    assert [type(event) for event in of_kind(reading, Spindle, End)] == [End]


def test_the_keyboard_example_refuses_the_misspelt_function() -> None:
    reading = read("f9", "g1 x asim[0.5]")
    assert reading.findings[-1].message == "there is no function 'asim'"
    assert motions(read_well("g1 f9 x[60*asin[0.5]/60] y1 z-0.5"))[0].to == pytest.approx((30, 1, -0.5))
