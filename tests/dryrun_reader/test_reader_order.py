"""Order of execution within a line. Source: NISTIR 6556, section 3.8, table 8; modes from section 3.5."""

import pytest
from reader_kit import codes, ends, motions, of_kind, read, read_well

from rabbetry.dryrun.dialects import LENIENT
from rabbetry.dryrun.model import (
    ArcMove,
    Context,
    Coolant,
    Dwell,
    End,
    Event,
    Feed,
    Spindle,
    Stop,
    ToolChange,
    Traverse,
    WorkOffset,
)
from rabbetry.dryrun.trace import trace_lines


def story(*lines: str) -> list[str]:
    """The names of the events of the last line."""
    reading = read_well(*lines)
    return [_said(event) for event in reading.events if event.line == len(lines)]


def _said(event: Event) -> str:
    if isinstance(event, Spindle):
        return f"spindle {event.direction}"
    if isinstance(event, Coolant):
        return event.kind
    return type(event).__name__.lower()


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        pytest.param(["G1 X10 F600 S12000 M3"], ["spindle cw", "feed"], id="spindle before the move"),
        pytest.param(["M3 S9", "G1 X1 F9", "G1 X0 M5"], ["spindle off", "feed"], id="spindle stops before the move"),
        pytest.param(["G1 X1 F9", "G1 X0 M9"], ["mist_off", "flood_off", "feed"], id="coolant off before the move"),
        pytest.param(["G0 Z50 M2"], ["traverse", "end"], id="move first, end last"),
        pytest.param(["G0 Z50 M0"], ["traverse", "stop"], id="move first, stop last"),
        pytest.param(["G4 P2 M3"], ["spindle cw", "dwell"], id="spindle on, then the dwell"),
        pytest.param(["T1 M6 M3 S4000"], ["toolchange", "spindle cw"], id="change, then spindle"),
        pytest.param(["M3 S5", "T2 M6"], ["spindle off", "toolchange"], id="a change stops the spindle"),
        pytest.param(["M3 S5 T1", "M2"], ["spindle off", "end"], id="the end stops the spindle"),
        pytest.param(["M7", "M8", "M2"], ["mist_off", "flood_off", "end"], id="the end closes what is open"),
        pytest.param(["M3 S5", "S6"], ["spindle cw"], id="a turning spindle follows S"),
        pytest.param(["S6"], [], id="S alone turns nothing"),
        pytest.param(["(note) G4 P1 M1"], ["message", "dwell", "stop"], id="comment first, stop last"),
    ],
)
def test_a_line_is_carried_out_in_the_languages_order(lines: list[str], expected: list[str]) -> None:
    assert story(*lines) == expected


def test_word_order_on_a_line_never_matters() -> None:
    """NISTIR 6556, 3.3.6."""
    one = read_well("M8 Y2 F600 X1 S9000 G1 M3 G91", "M2")
    other = read_well("G91 G1 X1 Y2 F600 S9000 M3 M8", "M2")
    assert one.events == other.events


def test_the_feed_is_taken_before_the_unit_changes() -> None:
    """Table 8: F at step 3, G20 at step 12."""
    reading = read_well("G20 G1 X1 F10")
    (feed,) = of_kind(reading, Feed)
    assert isinstance(feed, Feed)
    assert (feed.to[0], feed.feed_mm_per_min) == (25.4, 10.0)
    assert codes(reading.findings) == [("units-and-feed", 1), ("program-end", 1)]


def test_relative_mode_holds_on_its_own_line() -> None:
    assert ends(read_well("G0 X10", "G91 G1 X5 F9", "G90 G1 X5")) == [(10, 0, 0), (15, 0, 0), (5, 0, 0)]


def test_the_motion_word_in_force_is_carried_out_again() -> None:
    """NISTIR 6556, 3.3.7."""
    reading = read_well("G1 X1 F9", "Y2", "G80", "G0 Z3", "X0")
    assert [type(motion) for motion in motions(reading)] == [Feed, Feed, Traverse, Traverse]


def test_start_up_is_millimetres_xy_absolute_per_minute() -> None:
    """NISTIR 6556, start-up of the stand-alone interpreter."""
    reading = read_well("G1 X1 F60", "X3", "G2 X5 I1")
    first, second, arc = motions(reading)
    assert (first.to, second.to) == ((1.0, 0.0, 0.0), (3.0, 0.0, 0.0))
    assert isinstance(arc, ArcMove)
    assert (arc.plane, arc.feed_mm_per_min) == ("XY", 60.0)


def test_inverse_time_wants_a_feed_on_every_line() -> None:
    """NISTIR 6556, 3.5.19: F2 takes half a minute; 100 mm at F15 is 1500 mm/min."""
    reading = read_well("G93 G1 X100 F15", "X0 F2", "G0 X100")
    first, second, third = motions(reading)
    assert isinstance(first, Feed)
    assert isinstance(second, Feed)
    assert (first.feed_mm_per_min, second.feed_mm_per_min) == (1500.0, 200.0)
    assert (first.uses_inverse_time, third.uses_inverse_time) == (True, False)
    assert read("G93 G1 X100 F15", "X0").refused
    assert read("G93 G1 X100 F15", "G94", "G1 X0").findings[-1].code == "program-feed"


def test_inverse_time_counts_along_an_arc() -> None:
    (arc,) = motions(read_well("G93 G2 X0 Y0 I5 F2"))
    assert isinstance(arc, ArcMove)
    assert arc.feed_mm_per_min == pytest.approx(2 * 31.415927, abs=1e-5)


def test_inverse_time_refuses_cycles() -> None:
    assert read("G93 F1", "G81 X1 Z-1 R1 F1").findings[-1].code == "program-cycle"


def test_g92_makes_the_place_have_the_named_coordinates() -> None:
    """NISTIR 6556, 3.5.18: at X4, G92 X7 gives offset -3, then G92 X9 gives -5."""
    reading = read_well("G0 X4", "G92 X7", "G0 X7 Y1", "G92 X9", "G0 X0 Y0")
    places = [(motion.to[0], motion.program_to[0]) for motion in motions(reading)]
    assert places == [(4, 4), (4, 7), (-5, 0)]


def test_g92_can_be_cancelled_kept_and_restored() -> None:
    lines = ["G0 X4", "G92 X7", "G92.2", "G0 X1", "G92.3", "G0 X1", "G92.1", "G0 X1", "G92.3", "G0 X1"]
    assert [end[0] for end in ends(read_well(*lines))] == [4, 1, -2, 1, 1]


def test_work_offsets_come_from_the_context_and_from_g10() -> None:
    offsets = ((10.0, 20.0, 30.0), (100.0, 0.0, 0.0), *[(0.0, 0.0, 0.0)] * 7)
    lines = ["G0 X1 Y1 Z1", "G55 G0 X1", "G10 L2 P2 X200", "X1", "G59.3", "X1", "G54", "X1"]
    reading = read_well(*lines, context=Context(work_offsets_mm=offsets))
    assert [end[0] for end in ends(reading)] == [11, 101, 201, 1, 11]
    assert motions(reading)[0].program_to == (1.0, 1.0, 1.0)
    assert [event.index for event in reading.events if isinstance(event, WorkOffset)] == [2, 9, 1]


def test_g10_counts_in_the_unit_in_force() -> None:
    assert ends(read_well("G20", "G10 L2 P1 X1 Y2 Z3", "G0 X0 Y0 Z0"))[0] == (25.4, 50.8, 76.2)


def test_g53_goes_by_machine_coordinates_once() -> None:
    offsets = ((10.0, 20.0, 30.0), *[(0.0, 0.0, 0.0)] * 8)
    reading = read_well("G0 X1 Y1 Z1", "G53 G0 Z5", "Z5", "G53 G1 X2 F9", context=Context(work_offsets_mm=offsets))
    assert ends(reading) == [(11, 21, 31), (11, 21, 5), (11, 21, 35), (2, 21, 35)]
    assert [motion.in_machine_coordinates for motion in motions(reading)] == [False, True, False, True]


def test_a_length_offset_lifts_the_axis() -> None:
    context = Context(tool_lengths_mm=((2, 1.0),))
    reading = read_well("G43 H2", "G0 Z5", "G49", "Z5", context=context)
    assert ends(reading) == [(0, 0, 6), (0, 0, 5)]
    assert motions(reading)[0].program_to == (0.0, 0.0, 5.0)


def test_the_way_home_passes_the_named_point() -> None:
    """NISTIR 6556, 3.5.8: the report takes every axis home; other controllers take the named ones."""
    context = Context(home_mm=(1.0, 2.0, 3.0), second_home_mm=(7.0, 8.0, 9.0))
    assert ends(read_well("G0 X50", "G28 Z20", context=context)) == [(50, 0, 0), (50, 0, 20), (1, 2, 3)]
    assert ends(read_well("G0 X50", "G28 Z20", context=context, dialect=LENIENT))[-1] == (50, 0, 3)
    assert ends(read_well("G91 G30 Z2", context=context, dialect=LENIENT)) == [(0, 0, 2), (0, 0, 9)]
    assert ends(read_well("G30", context=context)) == [(7, 8, 9)]


def test_slashed_lines_go_by_the_switch() -> None:
    on = read_well("/G0 X1", "/G0 X2", "G0 Y1", context=Context(block_delete=True))
    off = read_well("/G0 X1", "/G0 X2", "G0 Y1")
    assert (len(motions(on)), len(motions(off))) == (1, 3)
    assert on.findings[0].message == "lines that begin with a slash are skipped (block delete is on)"
    assert off.findings[0].message == "lines that begin with a slash are carried out (block delete is off)"
    assert len(on.findings) == len(off.findings) == 2


def test_stops_and_dwells_are_told() -> None:
    reading = read_well("M0", "M1", "M60", "G4 P1.5", "M2")
    assert [event.optional for event in reading.events if isinstance(event, Stop)] == [False, True, False]
    assert [event.seconds for event in reading.events if isinstance(event, Dwell)] == [1.5]
    assert isinstance(reading.events[-1], End)


def test_a_change_without_a_named_tool_is_warned_of() -> None:
    reading = read_well("M6", "T3 M6", "M6", "M2")
    assert [event.number for event in reading.events if isinstance(event, ToolChange)] == [0, 3, 3]
    assert [(item.code, item.severity, item.where.line) for item in reading.findings] == [
        ("program-tool", "warning", 1)
    ]


def test_nothing_after_the_end_is_carried_out() -> None:
    reading = read_well("G0 X1", "M30", "G0 X2", "", "nonsense")
    assert len(motions(reading)) == 1
    assert codes(reading.findings) == [("text-after-end", 3)]


def test_the_trace_is_one_json_object_a_line() -> None:
    lines = ["T2 M6", "S100 M3", "G0 X-0.00001 Y1", "G1 Z-1 F60", "G18 G2 X2 I1", "G4 P1", "M8", "M1", "M0", "M2"]
    assert list(trace_lines(read_well(*lines))) == [
        '{"line": 1, "op": "tool", "n": 2}',
        '{"line": 2, "op": "spindle", "dir": "cw", "rpm": 100.0}',
        '{"line": 3, "op": "traverse", "to": [0.0, 1.0, 0.0]}',
        '{"line": 4, "op": "feed", "to": [0.0, 1.0, -1.0], "f": 60.0}',
        '{"line": 5, "op": "arc", "plane": "XZ", "to": [2.0, 1.0, -1.0], "center": [1.0, null, -1.0],'
        ' "turns": -1, "f": 60.0}',
        '{"line": 6, "op": "dwell", "s": 1.0}',
        '{"line": 7, "op": "flood_on"}',
        '{"line": 8, "op": "optional_stop"}',
        '{"line": 9, "op": "stop"}',
        '{"line": 10, "op": "spindle", "dir": "off", "rpm": null}',
        '{"line": 10, "op": "flood_off"}',
        '{"line": 10, "op": "end"}',
    ]


def test_a_context_has_nine_work_offsets() -> None:
    with pytest.raises(ValueError, match="1 work offsets; the language has nine"):
        Context(work_offsets_mm=((0.0, 0.0, 0.0),))
