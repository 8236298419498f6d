"""Chip loads, plunges and standing still. The bench's cutter 1 has two edges and is 6 mm wide: S16000 and F3200 give
0.1 mm a tooth (feed / (speed x edges), definition)."""

import math

import pytest
from checks_kit import HEAD, Json, bench, cut
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.dryrun.sense import depth_share
from rabbetry.findings import Finding


def _setup(ceiling: float | None = 0.2, **more: object) -> Json:
    setup = bench(**more)
    for cutter in setup["cutters"]:
        cutter["chip_load_high_mm"] = ceiling
    return setup


def _told(body: str, setup: Json) -> list[Finding]:
    kinds = {"tooth-overloaded", "tooth-rubs", "plunge-fast", "end-mill-drills", "stands-in-wood"}
    return [item for item in cut(body, setup).findings if item.code in kinds]


def _codes(body: str, setup: Json) -> list[str]:
    return [item.code for item in _told(body, setup)]


def _slot(feed: float, depth: float = 6.0, x: float = 50.0) -> str:
    """Cut a slot from y 50 to y 150; down at a slow feed."""
    return f"G0 X{x:g} Y50\nG0 Z1\nG1 Z-{depth:g} F1600\nG1 Y150 F{feed:g}\nG0 Z40\n"


def _chip(mm_per_tooth: float) -> float:
    """Return the feed that gives a chip load at 16000 rpm with two edges."""
    return mm_per_tooth * 32000


@pytest.mark.parametrize(
    ("chip", "depth", "expected"),
    [
        pytest.param(0.2, 6, [], id="the chart's highest"),
        pytest.param(0.249, 6, [], id="a little more"),
        pytest.param(0.251, 6, ["tooth-overloaded"], id="clearly more"),
        pytest.param(0.186, 12, [], id="two diameters deep: three quarters"),
        pytest.param(0.189, 12, ["tooth-overloaded"], id="two diameters deep, clearly more"),
        pytest.param(0.124, 18, [], id="three diameters deep: half"),
        pytest.param(0.126, 18, ["tooth-overloaded"], id="three diameters deep, clearly more"),
    ],
)
def test_a_slot_is_held_against_the_charts_highest_chip_load(chip: float, depth: float, expected: list[str]) -> None:
    setup = _setup()
    setup["machine"]["max_rate_mm_per_min"] = [20000, 20000, 20000]
    assert _codes(_slot(_chip(chip), depth), setup) == expected


def test_the_warning_names_the_first_line_the_worst_and_how_many() -> None:
    body = _slot(_chip(0.26)) + _slot(_chip(0.3), x=70) + _slot(_chip(0.28), x=90)
    (found,) = _told(body, _setup())
    assert (found.severity, found.where.line) == ("warning", HEAD.count("\n") + 4)
    assert found.message == "cutter 1 takes 0.300 mm a tooth in a slot; 0.200 is the most so deep (3 motions)"


def test_a_cut_at_the_side_of_a_slot_may_be_quicker() -> None:
    """Half the width is air: the chips are thinner, and the chart does not speak of it."""
    body = _slot(_chip(0.1)) + "G0 X53 Y40\nG0 Z-6\nG1 Y150 F16000\nG0 Z40\n"
    assert "tooth-overloaded" not in _codes(body.replace("G0 Z-6", "G1 Z-6 F900"), _setup())


@pytest.mark.parametrize(
    "setup",
    [
        pytest.param(_setup(ceiling=None), id="no chart"),
        pytest.param(_setup(cutters=[{**_setup()["cutters"][0], "flutes": 0}]), id="edges not known"),
    ],
)
def test_without_chart_or_edges_nothing_is_overloaded(setup: Json) -> None:
    assert _codes(_slot(30000), setup) == []


def test_a_speed_set_by_hand_is_not_known() -> None:
    setup = _setup()
    setup["machine"]["spindle_by_hand"] = True
    body = "M5\nM0\n" + _slot(30000)
    assert _codes(body, setup) == []


@pytest.mark.parametrize(("chip", "expected"), [(0.024, ["tooth-rubs"]), (0.026, [])])
def test_a_tooth_that_takes_less_than_a_thousandth_of_an_inch_rubs(chip: float, expected: list[str]) -> None:
    assert _codes(_slot(_chip(chip)), _setup()) == expected
    assert _codes(_slot(_chip(chip), depth=0.04), _setup()) == []


def test_t51_thirty_inches_a_minute_at_18000_rubs() -> None:
    """Two edges: 30 / (18000 * 2) = 0.00083 in = 0.0212 mm."""
    (found,) = _told("S18000\n" + _slot(30 * 25.4), _setup())
    assert found.code == "tooth-rubs"
    assert "0.0212 mm a tooth" in found.message


def test_a_ramp_may_be_slow() -> None:
    ramp = "G0 X50 Y50\nG0 Z0\nG1 Y150 Z-3 F700\nG1 Y50 F3200\nG0 Z40\n"
    assert _codes(ramp, _setup()) == []


@pytest.mark.parametrize(("chip", "expected"), [(0.124, []), (0.126, ["plunge-fast"])])
def test_an_end_mill_goes_down_at_half_the_feed_at_most(chip: float, expected: list[str]) -> None:
    body = f"G0 X50 Y50\nG0 Z1\nG1 Z-3 F{_chip(chip):g}\nG1 Y150 F3200\nG0 Z40\n"
    setup = _setup()
    setup["machine"]["max_rate_mm_per_min"] = [20000, 20000, 20000]
    assert _codes(body, setup) == expected
    assert _codes(body.replace("Z-3", "Z0.2"), setup) == []


def test_down_again_after_a_tab_is_a_plunge_too() -> None:
    """The second lap lifts over a tab and goes down into three millimetres of wood at the feed sideways."""
    lap = "G1 Y90 F3200\nG1 Z-15\nG1 Y110\nG1 Z-18 F{down:g}\nG1 Y150 F3200\nG0 Z40\n"
    body = _slot(3200, 12) + _slot(3200, 15).replace("G0 Z40\n", "") + "G1 Y50\nG1 Z-18 F1600\n" + lap
    setup = _setup()
    setup["machine"]["max_rate_mm_per_min"] = [20000, 20000, 20000]
    assert _codes(body.format(down=1600), setup) == []
    assert _codes(body.format(down=6400), setup) == ["plunge-fast"]


def _holes(count: int, bites: tuple[float, ...], tool: str = "") -> str:
    holes = ""
    for k in range(count):
        downs = "".join(f"G1 Z-{depth:g} F1600\nG0 Z1\n" for depth in bites)
        holes += f"G0 X{20 + 20 * (k % 8)} Y{20 + 20 * (k // 8)}\nG0 Z1\n{downs}"
    return f"{tool}{holes}"


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        pytest.param(_holes(40, (12.0,)), ["end-mill-drills"], id="T52 forty at one go"),
        pytest.param(_holes(40, (6.0, 12.0)), [], id="T52 forty, lifted every diameter"),
        pytest.param(_holes(7, (12.0,)), [], id="a few"),
        pytest.param("G0 Z40\nM5\nT2 M6\nS16000 M3\nG4 P5\n" + _holes(40, (12.0,)), [], id="with a drill"),
    ],
)
def test_t52_many_holes_with_an_end_mill_are_hot(body: str, expected: list[str]) -> None:
    assert _codes(body, _setup()) == expected


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        pytest.param("G0 X50 Y50\nG0 Z1\nG1 Z-3 F1600\nG4 P2\nG0 Z40\n", ["stands-in-wood"], id="two seconds"),
        pytest.param("G0 X50 Y50\nG0 Z1\nG1 Z-3 F1600\nG4 P0.5\nG0 Z40\n", [], id="half a second"),
        pytest.param("G0 X50 Y50\nG0 Z1\nG1 Z-3 F1600\nG0 Z2\nG4 P2\nG0 Z40\n", [], id="above the wood"),
        pytest.param("G98 G82 X50 Y50 Z-3 R1 P2 F1600\nG80\n", ["stands-in-wood"], id="in a cycle"),
    ],
)
def test_turning_on_the_spot_in_the_wood_is_told(body: str, expected: list[str]) -> None:
    assert _codes(body, _setup()) == expected


@settings(max_examples=50, deadline=None)
@given(st.floats(min_value=0, max_value=100), st.floats(min_value=0.5, max_value=30))
def test_the_share_of_the_ceiling_falls_with_depth(depth: float, diameter: float) -> None:
    share = depth_share(depth, diameter)
    assert 0.5 <= share <= 1.0
    assert depth_share(depth + diameter, diameter) <= share
    for times, expected in ((1, 1.0), (2, 0.75), (3, 0.5)):
        assert math.isclose(depth_share(times * diameter, diameter), expected)
