"""Outlines and openings: what holds the wood, what is warned of, and the checks of the whole sheet.

Figures for tabs, skins and small parts: common practice, no source.
"""

import dataclasses
import math
from typing import Any

import pytest
from operations_shop import (
    EIGHTH,
    HALF,
    INCH,
    MACHINE,
    QUARTER,
    at,
    bore,
    codes,
    only,
    panel,
    plan,
    recess,
    shop_with,
)

from rabbetry.geometry.curves import Contour, circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.model import Cutting, Hold
from rabbetry.operations.choose import choose_profile_cutter
from rabbetry.operations.hold import holding
from rabbetry.operations.model import CentreLine, Clearing, OperationsPlanned, Profile
from rabbetry.panels.model import CutOut
from rabbetry.panels.vents import slot
from rabbetry.shop.model import Clamp, Cutter, CutterKind


def _outline_of(planned: OperationsPlanned, name: str = "P1: outline") -> Profile:
    work = next(operation.work for operation in planned.plan.operations if operation.name == name)
    assert isinstance(work, Profile)
    return work


def _disc(diameter: float) -> Contour:
    return circle(Point(200.0, 150.0), diameter / 2)


def test_an_outline_is_cut_outside_through_the_stock() -> None:
    work = _outline_of(plan(at(panel())))
    assert not work.inside
    assert work.depth_mm == pytest.approx(18.1)
    assert work.thickness_mm == 17.8
    assert work.outline.bounds == pytest.approx((50.0, 60.0, 450.0, 360.0))
    assert work.climb


def test_a_conventional_cut_when_asked() -> None:
    assert not _outline_of(plan(at(panel()), direction="conventional")).climb


@pytest.mark.parametrize(
    ("length", "width", "tabs"),
    [
        pytest.param(876.0, 580.0, 10, id="2912 mm round at one per 300"),
        pytest.param(100.0, 100.0, 3, id="never under three"),
        pytest.param(400.0, 50.0, 3, id="a strip, but long enough for three"),
        pytest.param(200.0, 40.0, 2, id="a short strip: two"),
    ],
)
def test_tabs_are_about_one_per_spacing(length: float, width: float, tabs: int) -> None:
    assert _outline_of(plan(at(panel("P1", length, width)))).tab_count == tabs


@pytest.mark.parametrize(
    ("spacing", "asked", "kept"),
    [
        pytest.param(40.0, 4, 4, id="four tabs leave half the way round"),
        pytest.param(15.0, 11, 6, id="eleven do not: six stay"),
    ],
)
def test_half_the_way_round_a_two_inch_disc_reaches_full_depth(spacing: float, asked: int, kept: int) -> None:
    length = 0.31 * INCH
    cutting = dataclasses.replace(Cutting(), tab_spacing_mm=spacing, tab_length_mm=length)
    held = holding(_disc(2 * INCH), inside=False, cutter=QUARTER, cutting=cutting)
    assert (held.asked, held.tab_count) == (asked, kept)
    assert held.tab_count * (length + 6.35) <= math.pi * (2 * INCH + 6.35) / 2


def test_one_tab_stays_however_small_the_part() -> None:
    planned = plan(at(panel("P1", 6.0, 5.0)))
    assert _outline_of(planned).tab_count == 1
    assert "tabs-fewer" in codes(planned)
    message = next(item.message for item in planned.findings if item.code == "tabs-fewer")
    assert message.startswith("P1: outline has 1 of the 3 tabs asked")


def test_a_skin_holds_without_tabs() -> None:
    work = _outline_of(plan(at(panel()), hold=Hold.SKIN))
    assert (work.skin_mm, work.tab_count) == (0.3, 0)


@pytest.mark.parametrize("cutting", [{"tab_height_mm": 17.8}, {"hold": Hold.SKIN, "skin_mm": 20.0}])
def test_what_holds_must_be_lower_than_the_stock(cutting: dict[str, Any]) -> None:
    assert codes(plan(at(panel()), **cutting)) == ["hold-too-tall"]


@pytest.mark.parametrize(
    ("gap", "told"),
    [
        pytest.param(6.35 + 2.0, [], id="cutter and web"),
        pytest.param(6.35, [], id="one cut frees both"),
        pytest.param(0.2 * INCH, ["cut-in-part"], id="less than the cutter"),
    ],
)
def test_a_part_too_near_to_the_next_is_told(gap: float, told: list[str]) -> None:
    planned = plan(at(panel("P1"), 20.0, 20.0), at(panel("P2"), 420.0 + gap, 20.0))
    assert codes(planned) == told


def test_a_small_part_is_warned_of() -> None:
    planned = plan(at(panel("Tray", 3 * INCH, 1.5 * INCH)))
    [told] = [item for item in planned.findings if item.code == "small-part"]
    assert told.severity == "warning"
    assert told.message == ("Tray is only 38.1 mm wide (under 90 mm): hold it well; it is cut before the larger parts")


def test_the_waste_of_a_three_inch_opening_is_held_by_tabs() -> None:
    part = panel("P1", 400.0, 300.0, CutOut(name="opening", outline=_disc(3 * INCH)))
    operation = only(plan(at(part)))
    assert operation.kind == "cut-out"
    assert isinstance(operation.work, Profile)
    assert operation.work.inside
    assert operation.work.tab_count == 3


def test_the_waste_of_a_small_opening_is_cut_to_dust() -> None:
    part = panel("P1", 400.0, 300.0, CutOut(name="cable hole", outline=_disc(20.0)))
    work = only(plan(at(part))).work
    assert isinstance(work, Clearing)
    assert work.depth_mm == pytest.approx(18.1)


def test_an_opening_narrower_than_every_cutter_is_refused() -> None:
    part = panel("P1", 400.0, 300.0, CutOut(name="slit", outline=rectangle(100, 100, 50, 5)))
    assert codes(plan(at(part))) == ["cut-out-too-narrow"]


def test_a_notch_narrower_than_the_profile_cutter_is_refused() -> None:
    outline = polygon([(0, 0), (400, 0), (400, 300), (205, 300), (205, 200), (200, 200), (200, 300), (0, 300)])
    planned = plan(at(panel("P1", 400.0, 300.0, outline=outline)))
    assert codes(planned) == ["notch-too-narrow"]


def test_a_toe_kick_notch_is_no_trouble() -> None:
    outline = polygon([(100, 0), (400, 0), (400, 300), (0, 300), (0, 75), (100, 75)])
    assert codes(plan(at(panel("P1", 400.0, 300.0, outline=outline)))) == []


@pytest.mark.parametrize(
    ("bite_in", "told"),
    [pytest.param(0.02, [], id="within the allowance"), pytest.param(0.09, ["through-too-deep"], id="over it")],
)
def test_a_through_cut_bites_no_deeper_than_the_spoilboard_allows(bite_in: float, told: list[str]) -> None:
    machine = dataclasses.replace(MACHINE, through_mm=bite_in * INCH, spoilboard_allowance_mm=0.06 * INCH)
    planned = plan(at(panel()), machine=machine)
    assert codes(planned) == told
    assert _outline_of(planned).depth_mm == pytest.approx(17.8 + bite_in * INCH)


CORNER_CLAMPS = tuple(
    Clamp(name=name, x_mm=x, y_mm=y, length_x_mm=76.2, length_y_mm=38.1, height_mm=25.4)
    for name, x, y in [
        ("lower left", 0.0, 0.0),
        ("lower right", 1220 - 76.2, 0.0),
        ("upper left", 0.0, 1220 - 38.1),
        ("upper right", 1220 - 76.2, 1220 - 38.1),
    ]
)
CLAMPED = dataclasses.replace(MACHINE, clamps=CORNER_CLAMPS, clamp_margin_mm=6.35)


@pytest.mark.parametrize(
    ("y_mm", "told"),
    [
        pytest.param(38.1 + 6.35 + 6.35 + 0.1, [], id="just clear by cutter and margin"),
        pytest.param(38.1 + 6.35 + 6.35 - 0.1, ["cut-in-clamp"], id="a tenth too near"),
        pytest.param(20.0, ["cut-in-clamp"], id="under the clamp"),
    ],
)
def test_no_profile_comes_near_a_clamp(y_mm: float, told: list[str]) -> None:
    assert codes(plan(at(panel(), 20.0, y_mm), machine=CLAMPED)) == told


def test_a_run_out_is_shorter_before_a_clamp_and_told_where_even_that_has_no_room() -> None:
    part = panel("P1", 400.0, 300.0, recess(rectangle(10.0, 0.0, 18.0, 200.0), name="bottom dado"))
    # The clamp's margin ends at 38.1 + 6.35 = 44.45; half a quarter inch and 0.2 are 3.375.
    near = plan(at(part, 20.0, 44.45 + 6.4), machine=CLAMPED)
    assert codes(near) == []
    (dado,) = [item.work for item in near.plan.operations if "bottom dado" in item.name]
    assert isinstance(dado, Clearing)
    assert dado.region.bounds[1] == pytest.approx(44.45 + 6.4 - 3.375)
    (told,) = [
        item.message
        for item in plan(at(part, 20.0, 44.45 + 3.3), machine=CLAMPED).findings
        if item.code == "run-out-in-part"
    ]
    assert told == (
        'P1: dado "bottom dado" is open at the panel\'s edge, but cutter 1 cannot run out there; put more space '
        "between the parts, or to the clamp, or load a narrower cutter"
    )


def test_a_hole_under_a_clamp_is_told() -> None:
    planned = plan(at(panel("P1", 400.0, 300.0, bore(5.0, 5.0, 8.0)), 60.0, 30.0), machine=CLAMPED)
    assert sorted(item.message.split(" clamp")[0] for item in planned.findings) == [
        "P1: outline enters",
        "P1: pin 5/5 enters",
    ]


@pytest.mark.parametrize(
    ("cutter", "severity"),
    [
        pytest.param(QUARTER, "warning", id="shank as thin as the cutter: rubs"),
        pytest.param(dataclasses.replace(QUARTER, shank_diameter_mm=8.0), "error", id="thicker shank: hits"),
        pytest.param(dataclasses.replace(QUARTER, stick_out_mm=24.0), "error", id="collet hits"),
    ],
)
def test_flutes_shorter_than_the_cut_are_told(cutter: Cutter, severity: str) -> None:
    short = dataclasses.replace(cutter, flute_length_mm=0.75 * INCH)
    planned = plan(at(panel()), cutters=(short,), thickness_mm=INCH, profile_cutter=1)
    assert [(item.code, item.severity) for item in planned.findings] == [("flute-too-short", severity)]


def test_no_cutter_long_enough_is_refused_unless_one_is_named() -> None:
    short = dataclasses.replace(QUARTER, flute_length_mm=0.75 * INCH)
    assert codes(plan(at(panel()), cutters=(short,), thickness_mm=INCH)) == ["cutter-missing"]


COMPRESSION = dataclasses.replace(
    QUARTER, number=8, kind=CutterKind.COMPRESSION, up_cut_length_mm=0.2 * INCH, diameter_mm=8.0
)


def test_a_compression_cutter_whose_passes_stay_within_its_tip_is_warned_of() -> None:
    shallow = dataclasses.replace(COMPRESSION, max_pass_mm=0.125 * INCH)
    planned = plan(at(panel()), cutters=(shallow,))
    assert codes(planned) == ["compression-shallow"]
    assert codes(plan(at(panel()), cutters=(COMPRESSION,))) == []


@pytest.mark.parametrize(
    ("cutters", "asked", "number"),
    [
        pytest.param((EIGHTH, QUARTER, HALF), None, 1, id="nearest to a quarter inch with flutes long enough"),
        pytest.param((QUARTER, COMPRESSION), None, 8, id="compression before plain"),
        pytest.param((QUARTER, EIGHTH), 2, 2, id="as asked"),
        pytest.param((QUARTER,), 9, None, id="asked but not loaded"),
        pytest.param((EIGHTH,), None, None, id="flutes too short"),
    ],
)
def test_the_profile_cutter(cutters: tuple[Cutter, ...], asked: int | None, number: int | None) -> None:
    cutting = dataclasses.replace(Cutting(), profile_cutter=asked)
    chosen = choose_profile_cutter(shop_with(*cutters), cutting, 17.8)
    assert (chosen.number if chosen else None) == number


def _grille_slot(width: float, length: float = 60.0) -> CutOut:
    return CutOut(name="slot", outline=slot(Point(200.0, 150.0), length, width, up=True))


def test_a_round_ended_slot_as_wide_as_the_cutter_is_cut_on_its_middle_line() -> None:
    planned = plan(at(panel("P1", 400.0, 300.0, _grille_slot(6.35))), cutters=(QUARTER, EIGHTH))
    operation = only(planned)
    assert isinstance(operation.work, CentreLine)
    assert operation.cutter is QUARTER
    assert operation.work.depth_mm == pytest.approx(18.1)
    # From the middle of one round end to that of the other: 60 - 6.35; the panel lies at (50, 60).
    assert operation.work.path.length == pytest.approx(53.65)
    assert [operation.work.path.start.x, operation.work.path.end.x] == pytest.approx([250.0, 250.0])
    assert codes(planned) == []


def test_a_slot_wider_than_the_cutter_is_cleared_and_one_wider_than_four_is_held() -> None:
    cleared = only(plan(at(panel("P1", 400.0, 300.0, _grille_slot(10.0)))))
    assert isinstance(cleared.work, Clearing)
    held = only(plan(at(panel("P1", 400.0, 300.0, _grille_slot(30.0, 160.0)))))
    assert isinstance(held.work, Profile)
    assert held.work.inside
    assert held.work.tab_count >= 1


def test_a_slot_narrower_than_every_cutter_is_refused() -> None:
    planned = plan(at(panel("P1", 400.0, 300.0, _grille_slot(5.0))))
    assert codes(planned) == ["cut-out-too-narrow"]
    assert planned.findings[0].message == (
        'P1: opening "slot", 5 mm at its widest, is narrower than every loaded cutter or has a neck that is (the '
        'smallest loaded is cutter 1 "quarter inch", 6.35 mm)'
    )


@pytest.mark.parametrize(
    ("gap_mm", "left_mm"),
    [
        # The kerf may grow only into what two parts leave over a cutter's width: 6.35.
        pytest.param(8.35, 0.25, id="room for all of it"),
        pytest.param(6.47, 0.12, id="room for half of it"),
        pytest.param(6.37, 0.0, id="too little to be worth a lap"),
    ],
)
def test_the_finishing_allowance_never_brings_the_kerf_into_the_next_part(gap_mm: float, left_mm: float) -> None:
    planned = plan(at(panel()), at(panel("P2"), 450.0 + gap_mm, 60.0))
    assert _outline_of(planned).finish_mm == pytest.approx(left_mm, abs=1e-6)


def test_the_finishing_allowance_keeps_off_clamps_and_the_ends_of_the_axes() -> None:
    near_clamp = plan(at(panel(), 20.0, 38.1 + 6.35 + 6.35 + 0.1), machine=CLAMPED)
    assert _outline_of(near_clamp).finish_mm == pytest.approx(0.1, abs=1e-6)
    # The axis ends at home: with the blank's corner 3.35 from it, a part at the blank's edge leaves 0.175 beside 3.175.
    at_home = dataclasses.replace(MACHINE, blank_origin_mm=(3.35, 20.0), travel_min_mm=(0.0, 0.0, -200.0))
    assert _outline_of(plan(at(panel(), 0.0, 60.0), machine=at_home)).finish_mm == pytest.approx(0.175, abs=1e-6)


def test_the_finishing_lap_as_the_job_says_it() -> None:
    assert _outline_of(plan(at(panel()), finish="none")).finish_mm == 0.0
    assert _outline_of(plan(at(panel()), finish="own pass")).own_finish
    assert not _outline_of(plan(at(panel()))).own_finish
    assert _outline_of(plan(at(panel()), finish_mm=0.1)).finish_mm == 0.1
    # Never more than a twelfth of the radius: 3.175 / 12.
    assert _outline_of(plan(at(panel()), finish_mm=0.5)).finish_mm == pytest.approx(0.264583, abs=1e-6)


def test_no_finishing_lap_where_the_flutes_do_not_reach() -> None:
    short = dataclasses.replace(QUARTER, flute_length_mm=18.0)
    planned = plan(at(panel()), cutters=(short,))
    assert _outline_of(planned).depth_mm > 18.0
    assert _outline_of(planned).finish_mm == 0.0
