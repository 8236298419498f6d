"""Rectangles less their notches, rows of holes, and pilot holes that step aside."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.errors import GeometryError
from rabbetry.geometry.points import Point, Transform
from rabbetry.panels.model import Bore
from rabbetry.panels.shapes import Rect, even_row, notched_rectangle, pilots_clear_of

RECT = Rect(10.0, 20.0, 110.0, 70.0)


@pytest.mark.parametrize(
    ("notch", "area", "corners"),
    [
        pytest.param(Rect(0, 0, 30, 30), 5000 - 20 * 10, 6, id="lower left corner"),
        pytest.param(Rect(90, 0, 200, 30), 5000 - 20 * 10, 6, id="lower right corner"),
        pytest.param(Rect(90, 60, 200, 90), 5000 - 20 * 10, 6, id="upper right corner"),
        pytest.param(Rect(0, 60, 30, 90), 5000 - 20 * 10, 6, id="upper left corner"),
        pytest.param(Rect(0, 0, 30, 90), 80 * 50, 4, id="the whole left end"),
        pytest.param(Rect(0, 60, 200, 90), 100 * 40, 4, id="the whole upper side"),
        pytest.param(Rect(0, 0, 10, 30), 5000, 4, id="touches only"),
        pytest.param(Rect(300, 0, 400, 30), 5000, 4, id="far away"),
    ],
)
def test_a_notch_takes_its_corner_or_end(notch: Rect, area: float, corners: int) -> None:
    outline = notched_rectangle(RECT, (notch,))
    assert outline.area == pytest.approx(area)
    assert len(outline.segments) == corners


def test_two_notches_take_two_corners() -> None:
    outline = notched_rectangle(RECT, (Rect(0, 0, 30, 30), Rect(90, 0, 200, 30)))
    assert outline.area == pytest.approx(5000 - 2 * 200)
    assert len(outline.segments) == 8


@pytest.mark.parametrize("notch", [Rect(0, 0, 200, 90), Rect(40, 0, 60, 30), Rect(40, 30, 60, 50)])
def test_a_notch_that_leaves_no_single_shape_is_refused(notch: Rect) -> None:
    with pytest.raises(GeometryError):
        notched_rectangle(RECT, (notch,))


@settings(max_examples=100)
@given(
    low=st.floats(0, 500),
    room=st.floats(20, 2500),
    end=st.floats(5, 100),
    spacing=st.floats(50, 400),
)
def test_a_row_is_even_and_within_its_spacing(low: float, room: float, end: float, spacing: float) -> None:
    row = even_row(low, low + room, end, spacing)
    steps = [b - a for a, b in pairwise(row)]
    assert len(row) >= 2
    assert max(steps) <= spacing * 1.0001
    assert max(steps) - min(steps) < 1e-6
    assert row[0] - low == pytest.approx(low + room - row[-1], abs=1e-6)


@pytest.mark.parametrize(
    ("turn", "taken", "expected"),
    [
        pytest.param(0, Point(100, 50), (108.0, 50.0), id="a row along x steps along x"),
        pytest.param(1, Point(100, 50), (100.0, 58.0), id="a row along y steps along y"),
        pytest.param(0, Point(106, 50), (92.0, 50.0), id="steps the nearer way"),
        pytest.param(0, Point(100, 60), (100.0, 50.0), id="far enough to stay"),
    ],
)
def test_a_pilot_hole_steps_aside_along_its_row(turn: int, taken: Point, expected: tuple[float, float]) -> None:
    pilot = _bore(Point(100, 50), 3.0)
    (moved,) = pilots_clear_of((pilot,), (_bore(taken, 1.0),), Transform.quarter_turns(turn))
    assert (moved.centre.x, moved.centre.y) == pytest.approx(expected)


def test_a_pilot_hole_with_nowhere_to_go_is_left_out() -> None:
    wall = tuple(_bore(Point(x, 50), 5.0) for x in range(60, 150, 5))
    assert pilots_clear_of((_bore(Point(100, 50), 3.0),), wall, Transform.quarter_turns(0)) == ()


def _bore(centre: Point, diameter: float) -> Bore:
    return Bore(name="hole", purpose="pilot", centre=centre, diameter_mm=diameter, depth_mm=10.0)


def test_a_pilot_hole_does_not_step_on_another_of_its_row() -> None:
    """The first would step 8 mm up to 48, 2 mm from the second: 16 mm up is clear of hook and of its neighbour."""
    row = (_bore(Point(5, 40), 3.0), _bore(Point(5, 50), 3.0))
    moved = pilots_clear_of(row, (_bore(Point(5, 36), 6.0),), Transform.quarter_turns(1))
    assert [(round(pilot.centre.x, 6), round(pilot.centre.y, 6)) for pilot in moved] == [(5, 24), (5, 50)]


def test_a_pilot_hole_does_not_step_out_of_its_row_s_room() -> None:
    pilot, hook = _bore(Point(5, 40), 3.0), _bore(Point(5, 36), 6.0)
    # 8 mm up is 48, 5.5 mm from the end at 53.5: 1.5 mm of hole and less than 5 mm of wood.
    (moved,) = pilots_clear_of((pilot,), (hook,), Transform.quarter_turns(1), within=(10.0, 54.5))
    assert moved.centre.y == pytest.approx(48)
    assert pilots_clear_of((pilot,), (hook,), Transform.quarter_turns(1), within=(20.0, 53.5)) == ()
