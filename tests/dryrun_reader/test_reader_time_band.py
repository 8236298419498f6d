"""The band about the estimate: no shorter than feed and rate allow, no longer than a stop everywhere and the operator's
allowances. Values by hand from kinematics (D/v; D/v + v/a)."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reader_kit import motion_seconds, read_well

from rabbetry.dryrun.band import CHANGE_S, PAUSE_S, operator_seconds, time_band
from rabbetry.dryrun.dialects import LENIENT
from rabbetry.dryrun.model import Dwell, Event, Feed, Point3, Spindle, Stop, ToolChange, Traverse
from rabbetry.dryrun.report import ProgramReport
from rabbetry.dryrun.timing import Rates

SLACK = 1e-6
RATES = Rates(max_rate_mm_per_min=(6000, 6000, 3000), acceleration_mm_per_s2=(500, 500, 250))


def _feeds(*points: Point3, speed_mm_per_s: float = 100.0) -> list[Event]:
    rate = speed_mm_per_s * 60
    return [Feed(line=1, start=start, to=to, program_to=to, feed_mm_per_min=rate) for start, to in pairwise(points)]


def test_two_motions_in_one_line_by_hand() -> None:
    """1000 mm at 100 mm/s, a = 500: 10 s; 10.2 s as one motion; 10.4 s with a stop in the middle."""
    band = time_band(_feeds((0, 0, 0), (500, 0, 0), (1000, 0, 0)), RATES)
    assert (band.low_s, band.estimate_s, band.high_s) == pytest.approx((10.0, 10.2, 10.4), abs=SLACK)


def test_the_low_end_does_not_slow_down_in_a_narrow_arc() -> None:
    """A circle of radius 3.175 at 6000 mm/min is 0.199491 s long; root(a R) makes it slower in the estimate."""
    band = time_band(read_well("F6000", "G2 X0 Y0 I3.175").events, RATES)
    assert band.low_s == pytest.approx(2 * math.pi * 3.175 / 100, abs=SLACK)
    assert band.estimate_s > 2 * band.low_s


@pytest.mark.parametrize(
    ("events", "seconds"),
    [
        pytest.param([], 0.0, id="nothing"),
        pytest.param([ToolChange(line=1, number=1)], CHANGE_S, id="a change"),
        pytest.param([Stop(line=1, optional=False)], PAUSE_S, id="a pause"),
        pytest.param([Stop(line=1, optional=True)], 0.0, id="a pause that a switch must ask for"),
        pytest.param(
            [Stop(line=1, optional=False), Spindle(line=2, direction="off", rpm=None), ToolChange(line=3, number=1)],
            CHANGE_S,
            id="a pause and a change in one stay",
        ),
        pytest.param(
            [ToolChange(line=1, number=1), *_feeds((0, 0, 0), (0, 0, 0)), Stop(line=3, optional=False)],
            CHANGE_S + PAUSE_S,
            id="a pause after a motion",
        ),
    ],
)
def test_what_the_operator_is_allowed(events: list[Event], seconds: float) -> None:
    assert operator_seconds(events) == seconds
    assert time_band(events, RATES).low_s == 0.0


def test_pauses_and_changes_are_counted() -> None:
    band = time_band(read_well("M0", "T1 M6", "M1", "M0", dialect=LENIENT).events, RATES)
    assert (band.pauses, band.changes) == (2, 1)


def test_the_band_in_words() -> None:
    band = {"time_s": 90.0, "time_low_s": 60.0, "time_high_s": 240.0}
    quiet = ProgramReport(name="a.nc", findings=(), lines=1, cut_mm=0.0, traverse_mm=0.0, events=(), pauses=0, **band)
    assert quiet.time_text == "1.5 min (1.0 to 4.0)"
    assert replace(quiet, pauses=1).time_text.endswith(", 1 pause")
    assert replace(quiet, pauses=3).time_text.endswith(", 3 pauses")


_coordinate = st.floats(min_value=-500, max_value=500, allow_nan=False).map(lambda value: round(value, 3))
_points = st.tuples(_coordinate, _coordinate, _coordinate)
_rate = st.floats(min_value=10, max_value=50_000)
_acceleration = st.floats(min_value=1, max_value=10_000)


@st.composite
def _program(draw: st.DrawFn) -> list[Event]:
    """Lines, traverses, arcs, dwells, pauses and changes in any order."""
    events: list[Event] = []
    at = draw(_points)
    for _ in range(draw(st.integers(min_value=0, max_value=10))):
        to, rate = draw(_points), draw(_rate)
        match draw(st.integers(min_value=0, max_value=5)):
            case 0:
                events.append(Traverse(line=1, start=at, to=to, program_to=to))
            case 1:
                events.append(Feed(line=1, start=at, to=to, program_to=to, feed_mm_per_min=rate))
            case 2:
                events.extend(read_well(f"F{rate:.3f}", "G3 X3 Y4 I1.5 J2", "G2 X9 Y4 Z-2 R5", "G18 G2 X5 R4").events)
                continue
            case 3:
                events.append(Dwell(line=1, seconds=draw(st.floats(min_value=0, max_value=9))))
                continue
            case 4:
                events.append(Stop(line=1, optional=draw(st.booleans())))
                continue
            case _:
                events.append(ToolChange(line=1, number=1))
                continue
        at = to
    return events


@settings(max_examples=100, deadline=None)
@given(_program(), st.tuples(_rate, _rate, _rate), st.tuples(_acceleration, _acceleration, _acceleration))
def test_the_estimate_lies_within_its_band(events: list[Event], rates: Point3, accelerations: Point3) -> None:
    limits = Rates(max_rate_mm_per_min=rates, acceleration_mm_per_s2=accelerations)
    band = time_band(events, limits)
    assert band.estimate_s == motion_seconds(events, limits)
    slack = SLACK + 1e-9 * band.high_s
    assert band.low_s <= band.estimate_s + slack
    assert band.estimate_s <= band.high_s + slack
