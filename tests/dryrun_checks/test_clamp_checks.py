"""Clamps against cutter, collet and shoe: arcs, heights, and traverses of machines that drive each axis by itself."""

import math
from itertools import pairwise
from typing import Any

import pytest
from checks_kit import Json, bench, cut
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.dryrun.box_distance import Box, bent, distance_to_box
from rabbetry.dryrun.strokes import Stroke
from rabbetry.findings import Finding


def _clamped(top_z: float = 20.0, **machine: Any) -> Json:
    """The bench with one clamp, x 100 to 120, y 80 to 100; its margin is 5, the cutter's radius 3."""
    clamp = {"name": "C", "x_mm": 100, "y_mm": 80, "length_x_mm": 20, "length_y_mm": 20, "top_z_mm": top_z}
    setup = bench(clamps=[clamp])
    setup["machine"].update({"collet_diameter_mm": 6, **machine})
    return setup


def _clamp_findings(body: str, setup: Json) -> list[Finding]:
    return [item for item in cut(body, setup).findings if "clamp" in item.code]


def _half_circle(radius: float, word: str = "G2") -> str:
    """Cut half a circle about (60, 90): G2 bulges towards the clamp, to x 60 + radius; G3 away from it."""
    down = f"G0 X60 Y{90 + radius:g}\nG0 Z2\nG1 Z-1 F1000\n"
    return f"{down}{word} X60 Y{90 - radius:g} I0 J{-radius:g}\n"


@pytest.mark.parametrize(
    ("radius", "expected"),
    [
        pytest.param(31.9, None, id="5.1 mm between"),
        pytest.param(32.1, "near-clamp", id="4.9 mm between"),
        pytest.param(36.9, "near-clamp", id="0.1 mm between"),
        pytest.param(37.1, "cut-into-clamp", id="0.1 mm into it"),
        pytest.param(50, "cut-into-clamp", id="through it"),
    ],
)
def test_t36_a_cut_along_an_arc_is_judged_where_it_bulges(radius: float, expected: str | None) -> None:
    found = _clamp_findings(_half_circle(radius), _clamped())
    assert [item.code for item in found] == ([expected] if expected else [])
    assert all(item.where.line == 9 and '"C"' in item.message for item in found)
    assert not _clamp_findings(_half_circle(radius, "G3"), _clamped())


def test_t36_an_arc_round_a_clamp_is_clean_though_its_chord_crosses_it() -> None:
    body = "G0 X86 Y90\nG0 Z2\nG1 Z-1 F1000\nG2 X134 Y90 I24 J0\n"
    assert not _clamp_findings(body, _clamped())
    assert {item.code for item in _clamp_findings(body.replace("G2 X134 Y90 I24 J0", "G1 X134"), _clamped())} == {
        "cut-into-clamp"
    }


def test_a_helix_hits_only_where_it_is_low_enough() -> None:
    """The helix goes down a full turn from z 32 to z 8; it passes the clamp's side after half of it, at z 20."""
    body = "G0 X20 Y90\nG0 Z32\nG2 X20 Y90 Z8 I40 J0 F1000\n"
    assert not _clamp_findings(body, _clamped(top_z=13.0))
    assert [item.code for item in _clamp_findings(body, _clamped(top_z=21.0))] == ["cut-into-clamp"]


@pytest.mark.parametrize(("stick_out", "hits"), [(18.9, True), (21.1, False)])
def test_the_collet_hits_what_is_higher_than_the_cutter_sticks_out(stick_out: float, hits: bool) -> None:
    """The tip at z -1, the clamp's top at z 19: a collet 20 mm above the tip grazes it; 12 mm beside the axis."""
    setup = _clamped(top_z=19.0, collet_diameter_mm=30)
    setup["cutters"][0]["stick_out_mm"] = stick_out
    found = _clamp_findings("G0 X88 Y60\nG0 Z2\nG1 Z-1 F1000\nG1 Y120\n", setup)
    assert [item.code for item in found] == (["holder-hits-clamp"] if hits else [])


@pytest.mark.parametrize(("height", "x", "meets"), [(10, 75, True), (10, 69, False), (25, 75, False)])
def test_the_dust_shoe_meets_a_clamp_by_width_and_height(height: float, x: float, meets: bool) -> None:
    setup = _clamped(dust_shoe_mm=[60, 10], dust_shoe_height_mm=height)
    found = _clamp_findings(f"G0 X{x:g} Y60\nG0 Z2\nG1 Z-1 F1000\nG1 Y120\n", setup)
    assert {(item.code, item.severity) for item in found} == ({("holder-hits-clamp", "warning")} if meets else set())


BEND = "G0 X60 Y40\nG0 Z2\nG0 X200 Y110\nG0 Z40\n"
"""From (60, 40) to (200, 110) at one rate for both axes: first to (130, 110) at 45 degrees, past (110, 90)."""


def test_t75_a_traverse_that_bends_into_a_clamp_is_a_warning() -> None:
    """The straight line passes (110, 65), 15 mm under the clamp; the bent path goes through its middle."""
    (found,) = _clamp_findings(BEND, _clamped())
    assert (found.code, found.severity, found.where.line) == ("traverse-through-clamp", "warning", 8)
    assert found.message.startswith("on a machine that drives each axis at its own rate, this traverse runs into")


def test_t75_axes_whose_rates_fit_the_line_drive_it_straight() -> None:
    assert not _clamp_findings(BEND, _clamped(max_rate_mm_per_min=[6000, 3000, 3000]))


def test_t75_a_bent_traverse_above_the_clamp_is_clean() -> None:
    assert not _clamp_findings(BEND.replace("G0 Z2", "G0 Z25.1"), _clamped())
    assert [item.code for item in _clamp_findings(BEND.replace("G0 Z2", "G0 Z24.9"), _clamped())] == ["near-clamp"]


def test_a_cut_is_never_bent() -> None:
    assert not _clamp_findings(BEND.replace("G0 X200 Y110", "G1 X200 Y110 F1000"), _clamped())


_place = st.floats(min_value=-60, max_value=60).map(lambda value: round(value, 2))
_BOX: Box = (-10.0, -5.0, 15.0, 20.0)


@st.composite
def _stroke(draw: st.DrawFn) -> Stroke:
    """A line, or an arc of any sweep up to a full circle."""
    x, y = draw(_place), draw(_place)
    if draw(st.booleans()):
        return _of((x, y), (draw(_place), draw(_place)))
    centre = (draw(_place), draw(_place))
    sweep = draw(st.floats(min_value=-2 * math.pi, max_value=2 * math.pi))
    begin = math.atan2(y - centre[1], x - centre[0])
    radius = math.dist((x, y), centre)
    to = (centre[0] + radius * math.cos(begin + sweep), centre[1] + radius * math.sin(begin + sweep))
    return _of((x, y), to, centre=centre, sweep=sweep)


def _of(
    start: tuple[float, float],
    to: tuple[float, float],
    *,
    centre: tuple[float, float] | None = None,
    sweep: float = 0.0,
) -> Stroke:
    return Stroke(
        program=0,
        line=1,
        cutter=None,
        is_traverse=True,
        start=(*start, 30.0),
        to=(*to, 3.0),
        centre=centre,
        sweep_rad=sweep,
    )


@settings(max_examples=100, deadline=None)
@given(_stroke(), st.floats(min_value=0, max_value=0.5), st.floats(min_value=0.5, max_value=1))
def test_the_distance_to_a_box_is_that_of_many_points(stroke: Stroke, begin: float, end: float) -> None:
    """Points a step apart cannot be further from the nearest place of the path than half a step."""
    count = 2000
    points = [stroke.at(begin + (end - begin) * k / count) for k in range(count + 1)]
    sampled = min(
        math.hypot(max(_BOX[0] - x, x - _BOX[2], 0.0), max(_BOX[1] - y, y - _BOX[3], 0.0)) for x, y, _ in points
    )
    step = max(math.dist(one[:2], other[:2]) for one, other in pairwise(points))
    exact = distance_to_box(stroke, _BOX, begin, end)
    assert exact - 1e-6 <= sampled <= exact + step / 2 + 1e-6


@settings(max_examples=60, deadline=None)
@given(_place, _place, st.tuples(*[st.floats(min_value=1, max_value=1e4)] * 3))
def test_a_bent_traverse_keeps_its_ends_and_each_axis_its_rate(
    x: float, y: float, rates: tuple[float, float, float]
) -> None:
    stroke = _of((0.0, 0.0), (x, y))
    pieces = bent(stroke, rates)
    assert (pieces[0].start, pieces[-1].to) == (stroke.start, stroke.to)
    seconds = [
        max(abs(to - start) / rate for start, to, rate in zip(piece.start, piece.to, rates, strict=True))
        for piece in pieces
    ]
    whole = max(abs(to - start) / rate for start, to, rate in zip(stroke.start, stroke.to, rates, strict=True))
    assert sum(seconds) == pytest.approx(whole)
