"""What the cutters sweep, held against a plain reckoning: the cutter stepped along its path, point by point."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.dryrun.floor import Floors
from rabbetry.dryrun.setup import Cutter
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.sweep import Sweeps

STEPS = 4000


def _cutter(radius: float) -> Cutter:
    return Cutter(
        number=1,
        name="mill",
        kind="end mill",
        diameter_mm=2 * radius,
        flute_length_mm=30,
        centre_cutting=True,
        pass_limit_mm=10,
        stick_out_mm=50,
    )


def _line(radius: float, start: tuple[float, float, float], to: tuple[float, float, float]) -> Stroke:
    return Stroke(program=0, line=1, cutter=_cutter(radius), is_traverse=False, start=start, to=to)


def _arc(radius: float, path_radius: float, begin: float, sweep: float, z0: float, z1: float) -> Stroke:
    end = begin + sweep
    return Stroke(
        program=0,
        line=1,
        cutter=_cutter(radius),
        is_traverse=False,
        start=(path_radius * math.cos(begin), path_radius * math.sin(begin), z0),
        to=(path_radius * math.cos(end), path_radius * math.sin(end), z1),
        centre=(0.0, 0.0),
        sweep_rad=sweep,
    )


_NUMBER = st.floats(-8, 8).map(lambda value: round(value, 2))
_DEPTH = st.floats(-9, 1).map(lambda value: round(value, 2))
_RADIUS = st.sampled_from([1.5, 3.0, 3.175, 6.0])
LINES = st.builds(_line, _RADIUS, st.tuples(_NUMBER, _NUMBER, _DEPTH), st.tuples(_NUMBER, _NUMBER, _DEPTH))
ARCS = st.builds(
    _arc,
    _RADIUS,
    st.floats(0.3, 9),
    st.floats(0, 6.2),
    st.floats(0.05, 2 * math.pi) | st.floats(-2 * math.pi, -0.05),
    _DEPTH,
    _DEPTH,
)


def _plain_height(stroke: Stroke, x: float, y: float) -> tuple[float, float]:
    """Return the lowest z of the tip while the cutter covers (x, y) (0 at most: the stock's top), and how near the
    axis came to being just a radius away."""
    path = np.array([stroke.at(k / STEPS) for k in range(STEPS + 1)])
    gap = np.hypot(path[:, 0] - x, path[:, 1] - y) - (stroke.cutter.radius_mm if stroke.cutter else 0.0)
    covered = path[gap <= 0.0, 2]
    return min(0.0, float(covered.min(initial=0.0))), float(np.abs(gap).min())


@settings(max_examples=80, deadline=None)
@given(LINES | ARCS, st.floats(-14, 14), st.floats(-14, 14))
def test_the_height_left_at_a_point_is_that_of_the_stepped_cutter(stroke: Stroke, x: float, y: float) -> None:
    sweeps = Sweeps([stroke], 0.0)
    heights, makers = Floors(sweeps, 0.0).at(np.array([[x, y]]))
    plain, near = _plain_height(stroke, x, y)
    steepness = abs(stroke.to[2] - stroke.start[2]) / STEPS
    if near > 0.01 and sweeps.strokes:
        # Half a step either way, and where the path grazes the point the covered part begins a little late.
        assert heights[0] == pytest.approx(plain, abs=2 * steepness + 0.02)
        assert (makers[0] == 0) == (heights[0] < 0.0)


@settings(max_examples=80, deadline=None)
@given(LINES | ARCS, _DEPTH, st.floats(-14, 14), st.floats(-14, 14))
def test_a_point_is_removed_at_a_level_when_the_stepped_cutter_covers_it_there(
    stroke: Stroke, level: float, x: float, y: float
) -> None:
    sweeps = Sweeps([stroke], 2.0)
    region = sweeps.union(sweeps.pieces(range(len(sweeps.strokes)), level), shapely.Polygon())
    path = np.array([stroke.at(k / STEPS) for k in range(STEPS + 1)])
    path = path[path[:, 2] <= level]
    radius = stroke.cutter.radius_mm if stroke.cutter else 0.0
    gap = float(np.hypot(path[:, 0] - x, path[:, 1] - y).min(initial=math.inf)) - radius
    # 0.03: the chord error, one step of the path, and the level's slack of 0.002 on the shallowest ramp.
    place = shapely.Point(x, y)
    shallow = abs(stroke.to[2] - stroke.start[2]) < 0.5
    if abs(gap) > (0.3 if shallow else 0.1) and not shallow:
        assert region.covers(place) == (gap < 0.0)


@pytest.mark.parametrize(
    ("stroke", "area"),
    [
        pytest.param(_line(3, (0, 0, -1), (0, 0, -2)), 9 * math.pi, id="plunge"),
        pytest.param(_line(3, (0, 0, -1), (10, 0, -1)), 9 * math.pi + 60, id="slot"),
        pytest.param(_arc(3, 10, 0, math.pi, -1, -1), 9 * math.pi + math.pi / 2 * (13**2 - 7**2), id="half ring"),
        pytest.param(_arc(3, 10, 1, 2 * math.pi, -1, -1), math.pi * (13**2 - 7**2), id="ring"),
        pytest.param(_arc(3, 2, 1, -2 * math.pi, -1, -1), math.pi * 25, id="bore"),
    ],
)
def test_swept_areas_are_those_of_closed_forms(stroke: Stroke, area: float) -> None:
    sweeps = Sweeps([stroke], 0.0)
    region = sweeps.union(sweeps.pieces([0], -0.5), shapely.Polygon())
    # Circles are inscribed: never too large, and too small by two thirds of the chord error along the edge.
    assert area - 0.004 * region.length <= region.area <= area


def test_a_ramp_is_cut_at_the_level() -> None:
    stroke = _line(3, (0, 0, 0), (10, 0, -10))
    sweeps = Sweeps([stroke], 0.5)
    region = sweeps.union(sweeps.pieces([0], -4.0), shapely.Polygon())
    assert region.bounds == pytest.approx((1.0, -3, 13, 3), abs=0.004)


def test_a_stroke_above_the_stock_removes_nothing() -> None:
    assert Sweeps([_line(3, (0, 0, 1), (10, 0, 1))], 0.0).strokes == []
