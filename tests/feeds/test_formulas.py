"""The cutting formulas against worked figures.

Sources: chip load and feed, a machine-supply page with an example; chip thinning, two public calculator pages; specific
cutting force 37.6 N/mm2, Palubicki, Materials 2021, 14, 2208 (abstract); the rest is arithmetic in double precision.
"""

import math

import pytest

from rabbetry.feeds import formulas

INCH = 25.4
TIGHT = 1e-6


def test_eighteen_thousand_turns_two_flutes_a_tenth_per_tooth_feed_3600() -> None:
    assert formulas.feed_mm_per_min(0.1, 18_000, 2) == pytest.approx(3600, rel=1e-12)
    assert formulas.chip_load_mm(3600, 18_000, 2) == pytest.approx(0.1, rel=1e-12)


def test_seven_thousandths_per_tooth_feed_252_inches() -> None:
    assert formulas.feed_mm_per_min(0.007 * INCH, 18_000, 2) == pytest.approx(6400.8, rel=1e-12)


@pytest.mark.parametrize(
    ("diameter", "rpm", "speed"),
    [
        pytest.param(6.35, 18_000, 359.084040, id="quarter inch"),
        pytest.param(12.7, 18_000, 718.168081, id="half inch"),
        pytest.param(3.175, 24_000, 239.389360, id="eighth of an inch"),
    ],
)
def test_surface_speed_in_metres(diameter: float, rpm: float, speed: float) -> None:
    assert formulas.surface_speed_m_per_min(diameter, rpm) == pytest.approx(speed, abs=TIGHT)


def test_surface_speed_in_feet() -> None:
    assert formulas.surface_speed_ft_per_min(0.25, 18_000) == pytest.approx(1178.097245, abs=TIGHT)


@pytest.mark.parametrize(
    ("share", "factor"),
    [
        (0.05, 0.435890),
        (0.10, 0.6),
        (0.20, 0.8),
        (0.25, 0.866025),
        (0.30, 0.916515),
        (0.40, 0.979796),
        (0.50, 1.0),
        pytest.param(0.75, 1.0, id="more than half engaged: no thinning"),
    ],
)
def test_chips_thin_where_the_cut_is_narrow(share: float, factor: float) -> None:
    assert formulas.chip_thinning_factor(share * 8, 8) == pytest.approx(factor, abs=TIGHT)
    thick = formulas.chip_thickness_mm(0.12, share * 8, 8)
    assert thick == pytest.approx(0.12 * factor, abs=TIGHT)
    assert formulas.chip_load_for_thickness_mm(thick, share * 8, 8) == pytest.approx(0.12, rel=1e-12)


def test_a_tenth_engaged_needs_a_third_more_per_tooth_in_the_published_example() -> None:
    chip_in = formulas.chip_load_for_thickness_mm(0.002, 0.1, 1.0)
    assert chip_in == pytest.approx(0.003333, abs=TIGHT)
    assert formulas.feed_mm_per_min(chip_in, 16_000, 2) == pytest.approx(106.666667, abs=TIGHT)


def test_engagement_angle_of_a_tenth_and_of_a_slot() -> None:
    assert math.degrees(formulas.engagement_rad(0.8, 8)) == pytest.approx(36.8699, abs=1e-4)
    assert formulas.engagement_rad(8, 8) == pytest.approx(math.pi, rel=1e-12)


@pytest.mark.parametrize(
    ("slot", "feed", "removed_cm3", "watts"),
    [
        pytest.param(6.35, 3600, 145.161, 90.967560, id="quarter inch slot"),
        pytest.param(12.7, 7200, 1161.288, 727.740480, id="half inch slot"),
    ],
)
def test_removal_and_power_of_a_square_slot(slot: float, feed: float, removed_cm3: float, watts: float) -> None:
    removal = formulas.removal_mm3_per_min(slot, slot, feed)
    assert removal / 1000 == pytest.approx(removed_cm3, abs=TIGHT)
    assert formulas.power_w(37.6, removal) == pytest.approx(watts, abs=TIGHT)


def test_mean_force_at_the_edge() -> None:
    assert formulas.tangential_force_n(90.967560, 359.084040) == pytest.approx(15.199934, abs=TIGHT)


@pytest.mark.parametrize(
    ("total", "deepest", "count", "each"),
    [
        pytest.param(18.3, 6.35, 3, 6.1, id="18 mm and 0.3 over"),
        pytest.param(19.35, 6.0, 4, 4.8375, id="three quarters of an inch"),
        pytest.param(12.0, 6.0, 2, 6.0, id="exactly two passes"),
        pytest.param(12.0 + 1e-9, 6.0, 2, 6.0, id="two passes and dust"),
        pytest.param(2.0, 6.0, 1, 2.0, id="shallower than one pass"),
    ],
)
def test_passes_share_the_depth_evenly(total: float, deepest: float, count: int, each: float) -> None:
    number, depth = formulas.passes(total, deepest)
    assert number == count
    assert depth == pytest.approx(each, abs=1e-8)


def test_a_ramp_of_three_degrees_to_six_millimetres() -> None:
    assert formulas.ramp_length_mm(6, math.radians(3)) == pytest.approx(114.486820, abs=TIGHT)


def test_helix_lengths() -> None:
    assert formulas.helix_length_mm(4, 3, 1) == pytest.approx(25.311157, abs=TIGHT)
    assert formulas.helix_length_mm(14.325, 2, 6.25) == pytest.approx(562.680296, abs=TIGHT)


@pytest.mark.parametrize(("share", "bend"), [(1.0, 0.002281), (0.8, 0.005570)])
def test_a_carbide_bar_bends_by_micrometres(share: float, bend: float) -> None:
    assert formulas.cantilever_deflection_mm(20, 25.4, 6.35 * share, 600_000) == pytest.approx(bend, abs=TIGHT)
