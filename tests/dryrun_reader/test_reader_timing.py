"""Time and length of motions. Values: kinematics of the trapezoid (D/v + v/a, or 2 root(D/a)), arithmetic."""

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reader_kit import motion_seconds, read_well

from rabbetry.dryrun.dialects import LENIENT
from rabbetry.dryrun.model import ArcMove, Dwell, Event, Feed, Message, Point3, Spindle, Traverse
from rabbetry.dryrun.timing import Rates, lengths, seconds_of

EXACT = 1e-6
ENDLESS = 1e12
"""An acceleration that leaves length / feed."""


def rates(rate_mm_per_s: float = 1e6, acceleration: float = 500.0) -> Rates:
    return Rates(max_rate_mm_per_min=(rate_mm_per_s * 60,) * 3, acceleration_mm_per_s2=(acceleration,) * 3)


def feed(start: Point3, to: Point3, speed_mm_per_s: float) -> Feed:
    return Feed(line=1, start=start, to=to, program_to=to, feed_mm_per_min=speed_mm_per_s * 60)


def traverse(start: Point3, to: Point3) -> Traverse:
    return Traverse(line=1, start=start, to=to, program_to=to)


def path(*points: Point3, speed_mm_per_s: float = 100.0) -> list[Event]:
    return [feed(start, to, speed_mm_per_s) for start, to in pairwise(points)]


@pytest.mark.parametrize(
    ("length", "speed", "acceleration", "seconds"),
    [
        pytest.param(1000, 100, 500, 10.2, id="long"),
        pytest.param(20, 100, 500, 0.4, id="just reaches its speed"),
        pytest.param(10, 100, 500, 0.282843, id="triangle"),
        pytest.param(0.5, 100, 500, 0.063246, id="short triangle"),
        pytest.param(2440, 250, 400, 10.385, id="along a sheet"),
        pytest.param(10_000, 500, 300, 21.666667, id="ten metres at half a metre a second"),
        pytest.param(10_000, 1e6, 300, 11.547005, id="the same without a limit of speed"),
    ],
)
def test_one_motion_from_rest_to_rest(length: float, speed: float, acceleration: float, seconds: float) -> None:
    events = path((0, 0, 0), (length, 0, 0), speed_mm_per_s=speed)
    assert motion_seconds(events, rates(acceleration=acceleration)) == pytest.approx(seconds, abs=EXACT)


def test_a_pass_around_a_panel_without_acceleration() -> None:
    """Outline of 600 x 400 offset by 3.175 (length 2019.949113 by Steiner's formula) at 3600 mm/min: 33.665819 s."""
    lines = ["F3600", "G3 X-3.175 Y0 J-3.175", "G1 Y-400", "G3 X0 Y-403.175 I3.175", "G1 X600"]
    lines += ["G3 X603.175 Y-400 J3.175", "G1 Y0", "G3 X600 Y3.175 I-3.175", "G1 X0"]
    reading = read_well("G0 Y3.175", *lines)
    cut_mm, traverse_mm = lengths(reading.events)
    assert (cut_mm, traverse_mm) == (pytest.approx(2019.949113, abs=EXACT), 3.175)
    cutting = [event for event in reading.events if not isinstance(event, Traverse)]
    assert motion_seconds(cutting, rates(acceleration=ENDLESS)) == pytest.approx(33.665819, abs=EXACT)
    assert 3 * motion_seconds(cutting, rates(acceleration=ENDLESS)) == pytest.approx(100.997456, abs=3 * EXACT)


def test_speed_carries_through_a_straight_junction() -> None:
    whole = motion_seconds(path((0, 0, 0), (1000, 0, 0)), rates())
    parts = [(float(x), 0.0, 0.0) for x in range(0, 1001, 5)]
    assert motion_seconds(path(*parts), rates()) == pytest.approx(whole, abs=EXACT)


def test_statements_of_mode_do_not_stop_the_machine_but_dwells_and_switches_do() -> None:
    first, second = path((0, 0, 0), (500, 0, 0), (1000, 0, 0))
    whole = motion_seconds([first, Message(line=1, text="x"), second], rates())
    assert whole == pytest.approx(10.2, abs=EXACT)
    assert motion_seconds([first, Dwell(line=1, seconds=2), second], rates()) == pytest.approx(12.4, abs=EXACT)
    switched = [first, Spindle(line=1, direction="cw", rpm=1.0), second]
    assert motion_seconds(switched, rates()) == pytest.approx(10.4, abs=EXACT)


@pytest.mark.parametrize(("turn_deg", "stops"), [(0, False), (1.9, False), (2.1, True), (180, True)])
def test_a_sharp_corner_is_a_full_stop(turn_deg: float, stops: bool) -> None:
    turn = math.radians(turn_deg)
    end = (500 + 500 * math.cos(turn), 500 * math.sin(turn), 0.0)
    seconds = motion_seconds(path((0, 0, 0), (500, 0, 0), end), rates())
    # Both axes together accelerate a little more than one.
    assert seconds == pytest.approx(10.4 if stops else 10.2, abs=0.001)


def test_a_slower_motion_is_entered_at_its_own_speed() -> None:
    """100 mm/s over 500, then 50 mm/s over 500, a = 500: ramps 0.2, 0.1 and 0.1 s, by hand."""
    events = [feed((0, 0, 0), (500, 0, 0), 100), feed((500, 0, 0), (1000, 0, 0), 50)]
    first = 100 / 500 + (100 - 50) / 500 + (500 - 100**2 / 1000 - (100**2 - 50**2) / 1000) / 100
    second = 50 / 500 + (500 - 50**2 / 1000) / 50
    assert seconds_of(events, rates()).each == pytest.approx([first, second], abs=EXACT)


def test_short_pieces_after_one_another_brake_in_time() -> None:
    """Ten pieces of 0.1 mm make one motion of 1 mm: a triangle."""
    points = [(place / 10, 0.0, 0.0) for place in range(11)]
    assert motion_seconds(path(*points), rates()) == pytest.approx(2 * math.sqrt(1 / 500), abs=EXACT)


def test_a_small_arc_is_slowed_by_its_radius() -> None:
    """root(a R): R 3.175 at 500 mm/s2 gives 39.843444 mm/s."""
    circle = ArcMove(
        line=1,
        start=(0, 0, 0),
        to=(0, 0, 0),
        program_to=(0, 0, 0),
        plane="XY",
        centre=(3.175, 0, 0),
        turns=1,
        feed_mm_per_min=6000,
        full_circles=1,
    )
    speed = 39.843444
    expected = 2 * math.pi * 3.175 / speed + speed / 500
    assert motion_seconds([circle], rates()) == pytest.approx(expected, abs=1e-5)


def test_an_arc_joins_a_line_at_its_tangent() -> None:
    tangent = read_well("F6000", "G1 X500", "G3 X600 Y100 J100", "G1 Y600").events
    corner = read_well("F6000", "G1 X500", "G2 X600 Y100 I100", "G1 Y600").events
    slow = rates(acceleration=500)
    assert motion_seconds(tangent, slow) == pytest.approx((1000 + 50 * math.pi) / 100 + 0.2, abs=EXACT)
    assert motion_seconds(corner, slow) > motion_seconds(tangent, slow) + 0.3


def test_each_axis_keeps_to_its_own_limits() -> None:
    limits = Rates(max_rate_mm_per_min=(6000, 3000, 600), acceleration_mm_per_s2=(ENDLESS, ENDLESS, ENDLESS))
    assert motion_seconds([traverse((0, 0, 0), (100, 0, 0))], limits) == pytest.approx(1)
    assert motion_seconds([traverse((0, 0, 0), (100, 100, 0))], limits) == pytest.approx(2)
    assert motion_seconds([feed((0, 0, 0), (0, 0, -10), 100)], limits) == pytest.approx(1)
    slow_z = Rates(max_rate_mm_per_min=(6e6,) * 3, acceleration_mm_per_s2=(500, 500, 50))
    assert motion_seconds([traverse((0, 0, 0), (0, 0, 10))], slow_z) == pytest.approx(2 * math.sqrt(10 / 50))


def test_a_helix_keeps_to_the_limit_of_its_rise() -> None:
    limits = Rates(max_rate_mm_per_min=(6000, 6000, 60), acceleration_mm_per_s2=(ENDLESS, ENDLESS, ENDLESS))
    events = read_well("F6000", "G3 Z-10 I5", dialect=LENIENT).events
    assert motion_seconds(events, limits) == pytest.approx(10)


def test_a_motion_to_nowhere_takes_no_time() -> None:
    assert motion_seconds(path((1, 1, 1), (1, 1, 1)), rates()) == 0
    assert lengths([]) == (0, 0)


def test_limits_of_nothing_are_refused() -> None:
    with pytest.raises(ValueError, match="max_rate_mm_per_min"):
        Rates(max_rate_mm_per_min=(1, 0, 1), acceleration_mm_per_s2=(1, 1, 1))


coordinate = st.floats(min_value=-1000, max_value=1000, allow_nan=False).map(lambda value: round(value, 3))
points = st.tuples(coordinate, coordinate, coordinate)


@settings(max_examples=80, deadline=None)
@given(st.lists(points, min_size=2, max_size=12), st.floats(min_value=1, max_value=500))
def test_no_program_is_faster_than_length_by_feed_nor_slower_than_stopping_everywhere(
    places: list[Point3], speed: float
) -> None:
    events = path(*places, speed_mm_per_s=speed)
    limits = rates()
    cut_mm, _ = lengths(events)
    stopping = math.fsum(motion_seconds([event], limits) for event in events)
    assert cut_mm / speed - EXACT <= motion_seconds(events, limits) <= stopping + EXACT


@settings(max_examples=60, deadline=None)
@given(st.lists(points, min_size=2, max_size=12))
def test_turning_a_program_round_changes_no_time(places: list[Point3]) -> None:
    forth = motion_seconds(path(*places), rates())
    back = motion_seconds(path(*reversed(places)), rates())
    assert forth == pytest.approx(back, abs=EXACT)
