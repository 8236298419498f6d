"""Faults that people meet in programs: units, blanks, forgotten modes, lines that readers like to skip."""

import pytest
from reader_kit import codes, ends, motions, of_kind, read, read_well, refusal

from rabbetry.dryrun.arcs import point_on
from rabbetry.dryrun.dialects import DIALECTS, LENIENT, SMALL_FIRMWARE, STRICT, Dialect
from rabbetry.dryrun.model import ArcMove, Context, DistanceMode, Feed, Plane, Units


def test_blanks_and_small_letters_are_read_and_a_blank_in_a_number_is_told() -> None:
    reading = read_well("n10g0z1.25", "N20 g1 x 1 0 . 5 f60", "G1Y.5", "M2")
    assert ends(reading) == [(0, 0, 1.25), (10.5, 0, 1.25), (10.5, 0.5, 1.25)]
    feed = motions(reading)[1]
    assert isinstance(feed, Feed)
    assert feed.feed_mm_per_min == 60
    assert codes(reading.findings) == [("blank-in-number", 2)]


def test_a_blank_between_letter_and_number_is_no_matter() -> None:
    assert codes(read_well("G 0 X 1 Y -2", "(a 1 2)", "#1=[1 - 2]", "M2").findings) == []


def test_a_slashed_line_is_carried_out_unless_the_switch_is_on() -> None:
    line = "/G1 Z-0.5 F20"
    assert ends(read_well(line)) == [(0, 0, -0.5)]
    assert ends(read_well(line, context=Context(block_delete=True))) == []
    assert read_well(line).findings[0].code == "block-delete"


@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
def test_a_feed_never_given_is_an_error_and_no_traverse(dialect: Dialect) -> None:
    reading = read("G0 Z0.2", "G1 X5", dialect=dialect)
    assert (refusal(reading).code, refusal(reading).where.line) == ("program-feed", 2)
    assert len(motions(reading)) == 1


def test_a_change_of_unit_in_mid_file_goes_nowhere_and_is_told() -> None:
    reading = read_well("G20", "F60", "G1 X4", "G21 X101.6", "M2")
    first, second = motions(reading)
    assert first.to == second.start == second.to == (101.6, 0.0, 0.0)
    assert codes(reading.findings) == [("units-change", 4)]
    assert reading.findings[0].message == (
        "the unit changes in mid-file, from inches to millimetres; the feed in force stays 1524 mm/min (60 in/min)"
    )
    assert isinstance(second, Feed)
    assert second.feed_mm_per_min == 1524


def test_a_unit_and_a_feed_on_one_line_are_told() -> None:
    reading = read_well("G20 G1 X4 F60", "G21 X101.6", "M2")
    assert codes(reading.findings) == [("units-and-feed", 1), ("units-change", 2)]
    assert reading.findings[0].message == (
        "F60 stands on the line that changes the unit and is taken in millimetres per minute; put it on a later line"
    )
    assert ends(reading) == [(101.6, 0, 0), (101.6, 0, 0)]


def test_the_unit_at_the_head_of_a_program_is_no_change() -> None:
    assert codes(read_well("G20 G17 G90", "G0 X1", "G20", "M2").findings) == []


def test_relative_mode_at_the_first_cut_is_told() -> None:
    reading = read_well("G91 G0 Z1", "X2", "G1 Z-1.5 F20", "G1 X1", "M2")
    assert ends(reading) == [(0, 0, 1), (2, 0, 1), (2, 0, -0.5), (3, 0, -0.5)]
    assert codes(reading.findings) == [("relative-at-cut", 3)]


def test_relative_mode_between_absolute_cuts_is_not_told() -> None:
    assert codes(read_well("G1 X1 F9", "G91", "G1 X1", "G90", "M2").findings) == []


MISSED = ["G0 X10.104 Y4.078", "G1 Z-.1 F20", "G3 X9.938 Y4.108 I-.1 J-.075 F40", "M2"]


@pytest.mark.parametrize("dialect", [STRICT, LENIENT, SMALL_FIRMWARE], ids=lambda dialect: dialect.name)
def test_an_inch_arc_that_misses_its_end_is_refused_with_both_radii(dialect: Dialect) -> None:
    last = refusal(read("G20", *MISSED, dialect=dialect))
    assert (last.code, last.where.line) == ("program-arc", 4)
    assert "the start lies 3.17500 mm from the centre, the end 3.15011 mm" in last.message


@pytest.mark.parametrize("dialect", [STRICT, LENIENT, SMALL_FIRMWARE], ids=lambda dialect: dialect.name)
def test_a_millimetre_arc_that_barely_misses_is_told_with_both_radii(dialect: Dialect) -> None:
    reading = read_well(*MISSED, dialect=dialect)
    assert codes(reading.findings) == [("arc-mismatch", 3)]
    assert "the start lies 0.12500 mm from the centre, the end 0.12402 mm" in reading.findings[0].message


def test_an_arc_back_to_its_start_is_a_circle_by_centre_and_an_error_by_radius() -> None:
    reading = read("F9", "G2 X0 Y0 I1 J0", "G2 X0 Y0 R1")
    (arc,) = of_kind(reading, ArcMove)
    assert isinstance(arc, ArcMove)
    xs = [point_on(arc, step / 8)[0] for step in range(9)]
    assert (min(xs), max(xs)) == pytest.approx((0, 2))
    assert refusal(reading).where.line == 3


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("G37.9", "program-word"),
        ("(bottom panel", "program-syntax"),
        ("G1 X1 X2", "program-word"),
        ("G1 G2 X1", "program-group"),
    ],
)
def test_no_line_is_skipped_without_a_word(line: str, code: str) -> None:
    for dialect in DIALECTS.values():
        last = refusal(read("G21", "G0 Z5", line, "M2", dialect=dialect))
        assert (last.code, last.where.line) == (code, 3)


def test_text_after_the_closing_per_cent_sign_is_told() -> None:
    reading = read_well("%", "G0 Z5", "%", "", "G1 X1 F9", "G1 X2")
    assert codes(reading.findings) == [("text-after-end", 5)]
    assert reading.findings[0].message == ("the program ended at line 3; this line and 1 more are not carried out")


def test_a_per_cent_sign_after_the_end_word_is_no_text() -> None:
    assert codes(read_well("%", "G0 Z5", "M30", "%", "").findings) == []


def test_the_message_for_a_comma_says_what_to_write() -> None:
    assert refusal(read("G0 X1,5")).message == "',5' is no word; write decimals with a point"


def test_statements_of_mode_are_kept_for_the_checks() -> None:
    reading = read_well("G20", "G91", "G18", "G21", "G90")
    stated = of_kind(reading, Units, DistanceMode, Plane)
    assert stated == [
        Units(line=1, inch=True),
        DistanceMode(line=2, relative=True),
        Plane(line=3, plane="XZ"),
        Units(line=4, inch=False),
        DistanceMode(line=5, relative=False),
    ]
