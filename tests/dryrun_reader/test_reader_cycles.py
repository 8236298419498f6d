"""Canned cycles made into motions. Source: NISTIR 6556, section 3.5.16 (examples there by number), and its sources."""

from dataclasses import replace

import pytest
from reader_kit import motions, moves, of_kind, read, read_well, refusal

from rabbetry.dryrun.dialects import LENIENT, STRICT, Dialect
from rabbetry.dryrun.model import Context, Dwell, Feed, Spindle, Traverse

Move = tuple[str, float, float, float]


def cycle_moves(start: tuple[float, float, float], *lines: str, dialect: Dialect = STRICT) -> list[Move]:
    return moves(read_well("F100", *lines, dialect=dialect, context=Context(start_mm=start)))


def levels(start: tuple[float, float, float], *lines: str, dialect: Dialect = STRICT) -> list[tuple[str, float]]:
    return [(kind, z) for kind, _, _, z in cycle_moves(start, *lines, dialect=dialect)]


def test_example_1_of_the_report_absolute() -> None:
    assert cycle_moves((1, 2, 3), "G90 G81 G98 X4 Y5 Z1.5 R2.8") == [
        ("R", 4, 5, 3),
        ("R", 4, 5, 2.8),
        ("F", 4, 5, 1.5),
        ("R", 4, 5, 3),
    ]


def test_example_2_of_the_report_three_times_relative() -> None:
    assert cycle_moves((1, 2, 3), "G91 G81 G98 X4 Y5 Z-0.6 R1.8 L3") == [
        ("R", 1, 2, 4.8),
        ("R", 5, 7, 4.8),
        ("F", 5, 7, 4.2),
        ("R", 5, 7, 4.8),
        ("R", 9, 12, 4.8),
        ("F", 9, 12, 4.2),
        ("R", 9, 12, 4.8),
        ("R", 13, 17, 4.8),
        ("F", 13, 17, 4.2),
        ("R", 13, 17, 4.8),
    ]


def test_table_10_of_the_report() -> None:
    assert cycle_moves((30, 1, -0.5), "G91 G81 X3 Y2 Z-0.8 R1.5 L2") == [
        ("R", 30, 1, 1),
        ("R", 33, 3, 1),
        ("F", 33, 3, 0.2),
        ("R", 33, 3, 1),
        ("R", 36, 5, 1),
        ("F", 36, 5, 0.2),
        ("R", 36, 5, 1),
    ]


PECKS_TO_R = [
    ("R", 5),
    ("R", 2),
    ("F", -3),
    ("R", 2),
    ("R", -2.746),
    ("F", -8),
    ("R", 2),
    ("R", -7.746),
    ("F", -12),
    ("R", 2),
]


def test_pecks_under_g99_retract_to_r() -> None:
    """Section 3.5.16.4; 0.254 mm back in from the report's sources."""
    assert levels((0, 0, 5), "G90 G99 G83 X10 Y20 Z-12 R2 Q5") == PECKS_TO_R


def test_pecks_under_g98_retract_to_the_clear_level_in_the_report() -> None:
    expected = [("R", 5 if z == 2 and place > 1 else z) for place, (_, z) in enumerate(PECKS_TO_R)]
    got = levels((0, 0, 5), "G90 G98 G83 X10 Y20 Z-12 R2 Q5")
    assert [z for _, z in got] == [z for _, z in expected]


def test_pecks_under_g98_retract_to_r_elsewhere() -> None:
    got = levels((0, 0, 5), "G90 G98 G83 X10 Y20 Z-12 R2 Q5", dialect=LENIENT)
    assert got == [*PECKS_TO_R[:-1], ("R", 5)]


def test_the_back_in_distance_is_a_setting() -> None:
    dialect = replace(STRICT, peck_back_in_mm=0.5)
    got = levels((0, 0, 5), "G99 G83 X10 Z-12 R2 Q5", dialect=dialect)
    assert [z for _, z in got if z in {-2.5, -7.5}] == [-2.5, -7.5]


def test_a_peck_that_divides_the_depth_leaves_no_empty_peck() -> None:
    got = levels((0, 0, 1), "G99 G83 X1 Z-0.3 R0.3 Q0.1")
    assert [z for kind, z in got if kind == "F"] == pytest.approx([0.2, 0.1, 0, -0.1, -0.2, -0.3])


def test_pecks_that_back_in_never_rise_above_the_retract() -> None:
    got = levels((0, 0, 1), "G99 G83 X1 Z-0.3 R0 Q0.1")
    assert max(z for _, z in got[2:]) == 0


def test_chip_breaking_lifts_a_little_between_pecks() -> None:
    assert levels((0, 0, 5), "G99 G73 X1 Z-4 R1 Q2", dialect=LENIENT) == [
        ("R", 5),
        ("R", 1),
        ("F", -1),
        ("R", -0.746),
        ("F", -3),
        ("R", -2.746),
        ("F", -4),
        ("R", 1),
    ]
    assert read("F9", "G73 X1 Z-4 R1 Q2").refused


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        pytest.param("G81 X1 Z-1 R2", "RRFR", id="drill"),
        pytest.param("G82 X1 Z-1 R2 P0.5", "RRFdR", id="drill and dwell"),
        pytest.param("G85 X1 Z-1 R2", "RRFF", id="bore, feed out"),
        pytest.param("G86 X1 Z-1 R2 P0.5", "RRFdsRs", id="bore, stop the spindle, out fast"),
        pytest.param("G89 X1 Z-1 R2 P0.5", "RRFdF", id="bore, dwell, feed out"),
    ],
)
def test_each_cycle_has_its_own_steps(line: str, expected: str) -> None:
    """Sections 3.5.16.2 to 3.5.16.10."""
    letters = {Traverse: "R", Feed: "F", Dwell: "d", Spindle: "s"}
    reading = read_well("S1 M3 F100", line, context=Context(start_mm=(0, 0, 5)))
    events = [event for event in of_kind(reading, *letters) if event.line == 2]
    assert "".join(letters[type(event)] for event in events) == expected
    assert {motion.cycle for motion in motions(reading)} == {line[:3]}


def test_g86_without_a_turning_spindle_is_refused() -> None:
    assert refusal(read("F1", "G86 X1 Z-1 R2 P0.5")).code == "program-cycle"


def test_sticky_numbers_stay_until_the_cycle_changes() -> None:
    """Section 3.5.16: R always, Z in the XY plane, Q in G83, P in G82; L never."""
    got = cycle_moves((0, 0, 5), "G99 G82 X1 Z-1 R2 P0.5 L2", "X2", "Y3 Z-2", "G81 X4 Y4 Z-3 R1")
    assert [move for move in got if move[0] == "F"] == [
        ("F", 1, 0, -1),
        ("F", 1, 0, -1),
        ("F", 2, 0, -1),
        ("F", 2, 3, -2),
        ("F", 4, 4, -3),
    ]
    assert refusal(read("F1", "G81 X1 Z-1 R2", "G82 X1 P1")).message == "G82 needs R on its first line"
    assert refusal(read("F1", "G81 X1 Z-1 R2", "G80", "G81 X1 Z-1")).code == "program-cycle"


def test_sticky_numbers_keep_their_size_when_the_unit_changes() -> None:
    got = cycle_moves((0, 0, 50), "G20", "G99 G81 X1 Z-1 R1", "G21", "X2")
    assert got[-2] == ("F", 2, 0, -25.4)


def test_the_clear_level_is_r_when_the_old_z_is_lower() -> None:
    """Section 3.5.20."""
    assert levels((0, 0, -1), "G98 G81 X1 Z-2 R3") == [("R", 3), ("R", 3), ("F", -2), ("R", 3)]


def test_a_cycle_bores_along_the_axis_normal_to_the_plane() -> None:
    assert cycle_moves((0, 9, 0), "G18 G99 G81 X1 Y-4 Z3 R2") == [
        ("R", 1, 9, 3),
        ("R", 1, 2, 3),
        ("F", 1, -4, 3),
        ("R", 1, 2, 3),
    ]
    assert cycle_moves((9, 0, 0), "G19 G98 G81 X-4 Y1 Z3 R2")[-2:] == [("F", -4, 1, 3), ("R", 9, 1, 3)]


def test_a_cycle_without_any_axis_word_is_refused() -> None:
    assert refusal(read("F1", "G81 R1")).message == "G81 needs an X, Y or Z word"


def test_a_cycle_without_a_feed_is_refused() -> None:
    assert refusal(read("G81 X1 Z-1 R1")).code == "program-feed"


@pytest.mark.parametrize(
    "line",
    [
        pytest.param("G91 G81 X1 Z-1 R1 L999999999", id="repeats without end"),
        pytest.param("G83 X1 Z-1 R1 Q0.0000001", id="pecks without end"),
        pytest.param("G91 G83 X1 Z-1 R1 Q0.01 L1000", id="many repeats of many pecks"),
    ],
)
def test_a_line_of_endless_motions_is_refused(line: str) -> None:
    assert refusal(read("F1", line)).code == "program-size"


def test_a_new_plane_forgets_the_sticky_numbers() -> None:
    assert refusal(read("F1", "G81 X1 Z-1 R1", "G18 X2 Y-1")).message == "G81 needs R on its first line"
