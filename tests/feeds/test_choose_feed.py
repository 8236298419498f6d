"""Speed and feed of a cutter in a stock, and the limit that decided.

Chip loads: a published chart of solid-carbide router bits, inches per tooth at a depth of one diameter. Shares of it,
rubbing threshold and plunge share: common practice, no source.
"""

import dataclasses
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.errors import InputError
from rabbetry.feeds.chart import chart_range, depth_factor
from rabbetry.feeds.choose import choose_feed
from rabbetry.feeds.model import FeedAdvice, FeedChoice
from rabbetry.shop.model import ChipLoad, Cutter, CutterKind, Machine, Material
from rabbetry.shop.tuning import Sign, Tuning

INCH = 25.4
CHART = tuple(
    ChipLoad(
        material=material,
        diameter_mm=size * INCH,
        low_mm_per_tooth=low * INCH,
        high_mm_per_tooth=high * INCH,
        source="published chart",
    )
    for material, size, low, high in [
        ("plywood", 0.125, 0.003, 0.005),
        ("plywood", 0.25, 0.006, 0.009),
        ("plywood", 0.375, 0.015, 0.018),
        ("plywood", 0.5, 0.018, 0.021),
        ("MDF", 0.125, 0.004, 0.007),
        ("MDF", 0.25, 0.012, 0.015),
    ]
)
PLYWOOD = Material(name="plywood", cutting_force_n_per_mm2=40.0, density_kg_per_m3=680.0, source="test")
MACHINE = Machine(
    name="test",
    title="Test router",
    travel_min_mm=(0.0, 0.0, -100.0),
    travel_max_mm=(1300.0, 1300.0, 0.0),
    blank_origin_mm=(30.0, 30.0),
    spoilboard_z_mm=-90.0,
    bed_mm=(1230.0, 1240.0),
    max_rate_mm_per_min=(10_000.0, 9_000.0, 1_500.0),
    acceleration_mm_per_s2=(500.0, 500.0, 300.0),
    spindle_min_rpm=8_000.0,
    spindle_max_rpm=24_000.0,
    spindle_power_kw=2.2,
    spindle_rated_rpm=18_000.0,
    spindle_by_hand=False,
)
QUARTER = Cutter(
    number=1, name="quarter inch", kind=CutterKind.END_MILL, diameter_mm=6.35, flutes=2, flute_length_mm=25.4
)


def _advise(cutter: Cutter = QUARTER, *, thickness_mm: float = 18.0, **machine: object) -> FeedAdvice:
    return choose_feed(
        cutter,
        stock_name="birch 18",
        material=PLYWOOD,
        chip_loads=CHART,
        machine=dataclasses.replace(MACHINE, **machine),  # type: ignore[arg-type]
        thickness_mm=thickness_mm,
    )


def _codes(advice: FeedAdvice) -> list[str]:
    return [item.code for item in advice.findings]


@pytest.mark.parametrize(
    ("diameter_in", "low", "high"),
    [
        pytest.param(0.25, 0.006, 0.009, id="a row of the chart"),
        pytest.param(0.1875, 0.0045, 0.007, id="half way between two rows"),
        pytest.param(0.0625, 0.0015, 0.0025, id="smaller than the chart: in proportion"),
        pytest.param(0.75, 0.027, 0.0315, id="larger than the chart: in proportion"),
    ],
)
def test_the_chart_is_read_between_and_beyond_its_rows(diameter_in: float, low: float, high: float) -> None:
    (found_low, found_high), known = chart_range(CHART, "plywood", diameter_in * INCH)
    assert known
    assert found_low == pytest.approx(low * INCH, rel=1e-9)
    assert found_high == pytest.approx(high * INCH, rel=1e-9)


def test_a_material_without_a_row_takes_the_most_careful_one_and_says_so() -> None:
    advice = choose_feed(
        QUARTER,
        stock_name="x",
        material=dataclasses.replace(PLYWOOD, name="bamboo"),
        chip_loads=CHART,
        machine=MACHINE,
        thickness_mm=18.0,
    )
    assert advice.choice.chart_low_mm_per_tooth == pytest.approx(0.006 * INCH)
    assert "chip-load-unknown" in _codes(advice)


def test_an_empty_chart_is_a_wrong_input() -> None:
    with pytest.raises(InputError, match="chip loads: the table is empty; add at least one row"):
        chart_range((), "plywood", 6.35)


@pytest.mark.parametrize(
    ("chart_in", "diameter_in", "depth_in", "expected_in"),
    [
        pytest.param(0.020, 0.5, 1.0, 0.015, id="two diameters deep, the chart's own example"),
        pytest.param(0.018, 0.375, 1.125, 0.009, id="three diameters deep, the chart's own example"),
        pytest.param(0.010, 0.25, 0.25, 0.010, id="one diameter deep"),
        pytest.param(0.010, 0.25, 0.10, 0.010, id="shallower"),
        pytest.param(0.010, 0.25, 1.25, 0.005, id="deeper than the chart goes"),
    ],
)
def test_deep_passes_take_less_per_tooth(
    chart_in: float, diameter_in: float, depth_in: float, expected_in: float
) -> None:
    assert chart_in * depth_factor(depth_in, diameter_in) == pytest.approx(expected_in, rel=1e-12)


def test_the_chart_decides_on_a_machine_that_can() -> None:
    choice = _advise().choice
    assert choice.decided_by == "chart"
    assert choice.chip_load_mm_per_tooth == pytest.approx(0.0075 * INCH / 2)
    assert choice.feed_mm_per_min == pytest.approx(0.0075 * INCH / 2 * 2 * 18_000)
    assert choice.plunge_mm_per_min == pytest.approx(choice.feed_mm_per_min / 3)
    assert choice.pass_mm == pytest.approx(6.35)
    assert choice.surface_m_per_min == pytest.approx(359.084040)
    assert choice.power_kw == pytest.approx(40 * 6.35 * 6.35 * choice.feed_mm_per_min / 60e6)


def test_thirty_inches_a_minute_rubs() -> None:
    advice = _advise(max_rate_mm_per_min=(762.0, 762.0, 500.0), spindle_min_rpm=18_000.0)
    assert advice.choice.chip_load_mm_per_tooth / INCH == pytest.approx(0.0008, abs=5e-5)
    assert advice.choice.decided_by == "machine"
    assert "chip-load-rubbing" in _codes(advice)


def test_four_hundred_inches_a_minute_are_cut_to_two_hundred_and_the_chip_load_follows() -> None:
    factor = 400 / (18_000 * 2) / 0.0075
    uncapped = _advise(chip_load_factor=factor, max_rate_mm_per_min=(20_000.0, 20_000.0, 500.0)).choice
    assert uncapped.feed_mm_per_min == pytest.approx(400 * INCH)
    capped = _advise(chip_load_factor=factor, max_rate_mm_per_min=(9_000.0, 200 * INCH, 500.0)).choice
    assert capped.feed_mm_per_min == pytest.approx(200 * INCH)
    assert capped.chip_load_mm_per_tooth / INCH == pytest.approx(0.0056, abs=5e-5)
    assert capped.decided_by == "machine"
    assert capped.rpm == 18_000.0


def test_a_slow_machine_slows_its_spindle_rather_than_rub() -> None:
    advice = _advise(max_rate_mm_per_min=(800.0, 800.0, 500.0))
    assert advice.choice.rpm == 8_000.0
    assert advice.choice.chip_load_mm_per_tooth == pytest.approx(0.05)
    assert _codes(advice) == []


@pytest.mark.parametrize(
    ("dial", "mark", "rpm"),
    [
        pytest.param((("1", 10_000.0), ("2", 17_000.0), ("3", 22_000.0)), "2", 17_000.0, id="nearest mark"),
        pytest.param((("1", 10_000.0), ("2", 16_000.0), ("3", 20_000.0)), "2", 16_000.0, id="between: the slower"),
    ],
)
def test_a_dial_is_set_to_a_mark_it_has(dial: tuple[tuple[str, float], ...], mark: str, rpm: float) -> None:
    choice = _advise(spindle_by_hand=True, dial=dial).choice
    assert (choice.dial, choice.rpm) == (mark, rpm)
    assert choice.feed_mm_per_min == pytest.approx(choice.chip_load_mm_per_tooth * 2 * rpm)


def test_a_spindle_that_cannot_turn_as_fast_decides() -> None:
    choice = _advise(spindle_max_rpm=12_000.0).choice
    assert (choice.rpm, choice.decided_by) == (12_000.0, "spindle")


def test_a_weak_spindle_feeds_slower() -> None:
    choice = _advise(spindle_power_kw=0.1).choice
    assert choice.decided_by == "power"
    assert choice.power_kw == pytest.approx(0.075)
    assert choice.pass_mm == pytest.approx(6.35)


def test_a_very_weak_spindle_takes_thinner_passes_rather_than_rub() -> None:
    choice = _advise(spindle_power_kw=0.02).choice
    assert choice.decided_by == "power"
    assert choice.chip_load_mm_per_tooth == pytest.approx(0.025)
    assert choice.pass_mm < 6.35
    assert choice.power_kw == pytest.approx(0.015)


def test_more_than_the_chart_is_an_overload() -> None:
    assert _codes(_advise(chip_load_factor=1.3)) == ["chip-load-high"]


def test_a_drill_goes_down_at_its_chip_load_within_the_z_rate() -> None:
    drill = Cutter(number=4, name="drill", kind=CutterKind.DRILL, diameter_mm=5.0, flutes=2, flute_length_mm=30.0)
    free = _advise(drill, max_rate_mm_per_min=(9_000.0, 9_000.0, 3_000.0)).choice
    assert free.plunge_mm_per_min == pytest.approx(free.chip_load_mm_per_tooth * 2 * 8_000)
    held = _advise(drill, max_rate_mm_per_min=(9_000.0, 9_000.0, 600.0)).choice
    assert held.plunge_mm_per_min == 600.0
    assert held.decided_by == "machine"


def test_flutes_shorter_than_the_stock_are_told() -> None:
    short = dataclasses.replace(QUARTER, flute_length_mm=0.75 * INCH)
    assert _codes(_advise(short, thickness_mm=INCH)) == ["flute-shorter-than-stock"]


COMPRESSION = dataclasses.replace(QUARTER, kind=CutterKind.COMPRESSION, up_cut_length_mm=0.2 * INCH)


@pytest.mark.parametrize(
    ("cutter", "thickness_mm", "codes", "pass_mm"),
    [
        pytest.param(COMPRESSION, 17.8562, [], 6.35, id="one diameter gets past the tip"),
        pytest.param(
            dataclasses.replace(COMPRESSION, max_pass_mm=0.125 * INCH),
            17.8562,
            ["compression-pass-raised"],
            18.1562 / 3,
            id="an eighth of an inch is raised over the tip",
        ),
        pytest.param(
            dataclasses.replace(COMPRESSION, up_cut_length_mm=7.0, max_pass_mm=3.175),
            17.8562,
            ["compression-pass-shallow"],
            3.175,
            id="one diameter is not enough",
        ),
        pytest.param(
            # Two equal passes of 6.08 would stay within 6.1; one of 6.3 goes past it, and 5.86 are left.
            dataclasses.replace(COMPRESSION, up_cut_length_mm=6.1),
            11.8562,
            [],
            6.35,
            id="the first of two is made deeper",
        ),
        pytest.param(
            # 3.175 asked: four passes of 3.04. Neither one of 12.16 nor two of 6.08 will do, one of 6.3 first will.
            dataclasses.replace(COMPRESSION, up_cut_length_mm=6.1, max_pass_mm=3.175),
            11.8562,
            ["compression-pass-raised"],
            6.3,
            id="only the first is raised over the tip",
        ),
    ],
)
def test_a_compression_cutter_gets_past_its_up_cut_tip(
    cutter: Cutter, thickness_mm: float, codes: list[str], pass_mm: float
) -> None:
    advice = _advise(cutter, thickness_mm=thickness_mm)
    assert _codes(advice) == codes
    assert advice.choice.pass_mm == pytest.approx(pass_mm)


@settings(max_examples=100, deadline=None)
@given(
    diameter=st.floats(1.0, 20.0),
    flutes=st.integers(1, 4),
    drill=st.booleans(),
    thickness=st.floats(3.0, 30.0),
    rates=st.tuples(st.floats(200.0, 20_000.0), st.floats(200.0, 20_000.0), st.floats(100.0, 3_000.0)),
    power=st.floats(0.05, 3.0),
    factor=st.floats(0.1, 1.0),
    slowest=st.floats(3_000.0, 18_000.0),
    marks=st.lists(st.floats(3_000.0, 30_000.0), max_size=6, unique=True),
)
def test_every_choice_keeps_to_the_machine(
    diameter: float,
    flutes: int,
    drill: bool,
    thickness: float,
    rates: tuple[float, float, float],
    power: float,
    factor: float,
    slowest: float,
    marks: list[float],
) -> None:
    kind = CutterKind.DRILL if drill else CutterKind.END_MILL
    cutter = dataclasses.replace(QUARTER, kind=kind, diameter_mm=diameter, flutes=flutes)
    dial = tuple((str(number), rpm) for number, rpm in enumerate(sorted(marks), start=1))
    choice = _advise(
        cutter,
        thickness_mm=thickness,
        max_rate_mm_per_min=rates,
        spindle_power_kw=power,
        chip_load_factor=factor,
        spindle_min_rpm=slowest,
        spindle_by_hand=bool(marks),
        dial=dial,
    ).choice
    assert slowest <= choice.rpm <= 24_000.0
    if choice.dial:
        assert dict(dial)[choice.dial] == choice.rpm
    assert choice.feed_mm_per_min <= (rates[2] if drill else min(rates[:2])) * (1 + 1e-9)
    assert choice.plunge_mm_per_min <= rates[2] * (1 + 1e-9)
    assert choice.feed_mm_per_min == pytest.approx(choice.chip_load_mm_per_tooth * flutes * choice.rpm)
    assert 0 < choice.pass_mm <= min(cutter.pass_limit_mm, thickness + MACHINE.through_mm) + 1e-9
    if not drill:
        assert choice.power_kw <= 0.75 * power * (1 + 1e-9) or choice.pass_mm == pytest.approx(0.5)


def test_a_spindle_below_its_rated_speed_has_less_power() -> None:
    # 0.1 kW rated at 24 000: at 18 000 three quarters of it, of which three quarters are planned with.
    choice = _advise(spindle_power_kw=0.1, spindle_rated_rpm=24_000.0).choice
    assert choice.power_kw == pytest.approx(0.1 * 0.75 * 0.75)
    assert choice.torque_nm == pytest.approx(0.1e3 * 0.75 * 0.75 / (2 * math.pi * 300))
    at_rated = _advise(spindle_power_kw=0.1, spindle_rated_rpm=12_000.0).choice
    assert at_rated.power_kw == pytest.approx(0.1 * 0.75)


def test_a_long_thin_cutter_gives_way_by_the_stepped_bar() -> None:
    thin = dataclasses.replace(
        QUARTER, diameter_mm=2.0, flute_length_mm=20.0, shank_diameter_mm=4.0, stick_out_mm=30.0, max_pass_mm=2.0
    )
    choice = _advise(thin).choice
    # kc x pass x chip load, one edge in the wood; E = 600 kN/mm2; 0.8 of the diameter over the flutes.
    force = 40.0 * 2.0 * choice.chip_load_mm_per_tooth
    thin_i, thick_i = math.pi * 1.6**4 / 64, math.pi * 4.0**4 / 64
    expected = force / (3 * 600_000.0) * (20.0**3 / thin_i + (30.0**3 - 20.0**3) / thick_i)
    assert choice.deflection_mm == pytest.approx(expected, rel=1e-9)
    assert "cutter-bends" not in _codes(_advise())
    weak = dataclasses.replace(thin, diameter_mm=1.5, flute_length_mm=28.0, stick_out_mm=30.0, max_pass_mm=1.5)
    assert "cutter-bends" in _codes(_advise(weak, chip_load_factor=1.0))


@pytest.mark.parametrize(
    ("sign", "speed", "chip", "depth"),
    [
        pytest.param(Sign.BURNED, 0.85, 1.1, 1.0, id="burned: slower, larger chips"),
        pytest.param(Sign.DUST, 1.0, 1.2, 1.0, id="dust: larger chips"),
        pytest.param(Sign.CHATTER, 1.0, 1.0, 0.75, id="chatter: shallower"),
        pytest.param(Sign.TORN, 1.0, 0.85, 1.0, id="torn: smaller chips"),
        pytest.param(Sign.BROKE, 1.0, 0.7, 0.7, id="broke: smaller chips, shallower"),
    ],
)
@pytest.mark.parametrize("times", [1, 2])
def test_what_was_heard_and_seen_changes_the_figures(
    sign: Sign, speed: float, chip: float, depth: float, times: int
) -> None:
    plain = _advise().choice
    tuned = _tuned(Tuning(name="last time", sign=sign, cutter=1, material="plywood", times=times))
    assert tuned.rpm == pytest.approx(plain.rpm * speed**times)
    assert tuned.chip_load_mm_per_tooth == pytest.approx(plain.chip_load_mm_per_tooth * chip**times)
    assert tuned.pass_mm == pytest.approx(plain.pass_mm * depth**times)
    assert tuned.feed_mm_per_min == pytest.approx(plain.feed_mm_per_min * (speed * chip) ** times)
    assert tuned.decided_by == "chart, tuned"
    assert any('tuning "last time"' in reason for reason in tuned.reasons)


@pytest.mark.parametrize(
    "remark",
    [
        Tuning(name="x", sign=Sign.BROKE, cutter=2),
        Tuning(name="x", sign=Sign.BROKE, material="MDF"),
    ],
)
def test_a_remark_about_another_cutter_or_material_changes_nothing(remark: Tuning) -> None:
    assert _tuned(remark) == _advise().choice


def test_a_dial_turned_down_for_burning_goes_to_a_lower_mark() -> None:
    dial = (("1", 10_000.0), ("2", 16_000.0), ("3", 18_000.0))
    remark = Tuning(name="x", sign=Sign.BURNED)
    assert _tuned(remark, spindle_by_hand=True, dial=dial).dial == "1"


def test_a_remark_never_lifts_the_machines_limits() -> None:
    remark = Tuning(name="x", sign=Sign.EASY, times=5)
    choice = _tuned(remark, max_rate_mm_per_min=(3_000.0, 3_000.0, 500.0))
    assert choice.feed_mm_per_min == 3_000.0


@pytest.mark.parametrize(
    ("machine", "words"),
    [
        ({}, "chip load 0.0953 mm: 0.1905 (middle of the chart) x 0.5 (this machine)"),
        ({}, "speed 18000: wanted 18000"),
        ({"spindle_max_rpm": 12_000.0}, "but the spindle turns 8000 to 12000"),
        ({"max_rate_mm_per_min": (3_000.0, 2_500.0, 500.0)}, "feed 2500 mm/min: 0.0694 x 2 flutes x 18000; x and y"),
        ({"spindle_power_kw": 0.02}, "lowered from 6.35 mm by the spindle's power"),
        ({}, "of 1.65 kW usable at this speed"),
    ],
)
def test_each_figure_has_its_reason(machine: dict[str, object], words: str) -> None:
    assert words in "\n".join(_advise(**machine).choice.reasons)  # type: ignore[arg-type]


def _tuned(remark: Tuning, **machine: object) -> FeedChoice:
    return choose_feed(
        QUARTER,
        stock_name="birch 18",
        material=PLYWOOD,
        chip_loads=CHART,
        machine=dataclasses.replace(MACHINE, **machine),  # type: ignore[arg-type]
        thickness_mm=18.0,
        tunings=(remark,),
    ).choice
