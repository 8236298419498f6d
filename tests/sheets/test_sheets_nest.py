"""Nesting: nothing overlaps, leaves the blank, breaks the grain or meets a clamp; what cannot fit is refused."""

import json
import random
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from sheet_cases import IN, job_of, nested, panel_of, stock_of

from rabbetry.job.model import Cutting, Grain, Units
from rabbetry.panels.model import Panel
from rabbetry.sheets.model import Nesting, Placement, Sheet
from rabbetry.sheets.nest import nest
from rabbetry.sheets.spacing import settle_spacing
from rabbetry.shop.model import Clamp

DATA = Path(__file__).parents[1] / "data" / "bin_packing"
SLACK = 2e-6


def area_of(placement: Placement, grown_mm: float = 0.0) -> object:
    dx, dy = placement.extent_mm
    x, y = placement.x_mm, placement.y_mm
    return box(x - grown_mm, y - grown_mm, x + dx + grown_mm, y + dy + grown_mm)


def check_sheet(sheet: Sheet, spacing_mm: float) -> None:
    """Hold one sheet against the rules with a second library, sharing nothing with the packer."""
    room = box(
        sheet.trim_mm - SLACK,
        sheet.trim_mm - SLACK,
        sheet.blank_x_mm - sheet.trim_mm + SLACK,
        sheet.blank_y_mm - sheet.trim_mm + SLACK,
    )
    areas = [area_of(placement) for placement in sheet.placements]
    assert areas
    for k, area in enumerate(areas):
        assert room.contains(area)
        for other in areas[k + 1 :]:
            gaps = (
                max(area.bounds[0], other.bounds[0]) - min(area.bounds[2], other.bounds[2]),
                max(area.bounds[1], other.bounds[1]) - min(area.bounds[3], other.bounds[3]),
            )
            assert max(gaps) >= spacing_mm - SLACK
    for offcut in sheet.offcuts:
        rest = box(offcut.x_mm, offcut.y_mm, offcut.x_mm + offcut.length_x_mm, offcut.y_mm + offcut.length_y_mm).buffer(
            -SLACK
        )
        assert room.contains(rest)
        assert not any(rest.intersects(area) for area in areas)
    for placement in sheet.placements:
        grain = placement.panel.grain
        if grain is not Grain.FREE and sheet.has_grain:
            length_along_x = placement.rotation_deg == 0
            assert (grain is Grain.ALONG) == (length_along_x == sheet.grain_along_x)
        assert placement.rotation_deg in (0, 90)


def check(nesting: Nesting, panels: list[Panel], spacing_mm: float) -> None:
    placed = [placement.panel.id for sheet in nesting.sheets for placement in sheet.placements]
    refused = [item.where.panel for item in nesting.findings if item.code == "part-too-big"]
    assert sorted([*placed, *refused]) == sorted(panel.id for panel in panels)  # type: ignore[type-var]
    assert sum(count.sheets for count in nesting.counts) == len(nesting.sheets)
    for count in nesting.counts:
        assert count.sheets >= count.lower_bound >= 1
    for sheet in nesting.sheets:
        check_sheet(sheet, spacing_mm)


@given(
    st.lists(st.tuples(st.floats(30, 1250), st.floats(30, 900), st.sampled_from(list(Grain))), min_size=1, max_size=25),
    st.sampled_from((0.0, 6.35, 8.35, 20.0)),
    st.booleans(),
    st.booleans(),
    st.floats(0, 25),
)
@settings(max_examples=50, deadline=None)
def test_nothing_overlaps_leaves_the_blank_or_breaks_the_grain(
    sizes: list[tuple[float, float, Grain]], spacing_mm: float, along_x: bool, has_grain: bool, trim_mm: float
) -> None:
    panels = [panel_of(f"P{k}", *size) for k, size in enumerate(sizes)]
    stock = stock_of(grain_along_x=along_x, has_grain=has_grain, trim_mm=trim_mm, blank_y_mm=1100.0)
    check(nested(panels, stock, spacing_mm=spacing_mm), panels, spacing_mm)


def kitchen() -> list[Panel]:
    parts = json.loads((DATA / "kitchen-like.json").read_text("utf-8"))["parts"]
    return [
        panel_of(
            part["id"],
            float(part["h"]),
            float(part["w"]),
            Grain.FREE if part["rotate"] else Grain.ALONG,
            f"birch-{part['thickness']}",
        )
        for part in parts
    ]


STOCKS = tuple(stock_of(f"birch-{thickness}", nominal_mm=float(thickness)) for thickness in (18, 12, 6))


def test_a_kitchen_takes_no_more_sheets_than_a_good_packing() -> None:
    panels = kitchen()
    nesting = nested(panels, *STOCKS)
    check(nesting, panels, 8.35)
    assert [(count.stock, count.lower_bound) for count in nesting.counts] == [
        ("birch-18", 30),
        ("birch-12", 4),
        ("birch-6", 13),
    ]
    assert [count.sheets for count in nesting.counts] == [31, 4, 14]


def test_the_order_in_which_parts_are_listed_does_not_matter() -> None:
    panels = [panel for panel in kitchen() if panel.stock != "birch-6"]
    shuffled = panels.copy()
    random.Random(5).shuffle(shuffled)
    assert nested(panels, *STOCKS) == nested(shuffled, *STOCKS)


def test_sheets_are_numbered_by_stock_with_safe_names() -> None:
    stocks = (stock_of("Birke 18 mm/№1"), stock_of("Birke 18 mm/№2"))
    panels = [panel_of(f"P{k}", 1100, 700, stock=stocks[k % 2].name) for k in range(4)]
    assert [sheet.id for sheet in nested(panels, *stocks).sheets] == [
        "Birke-18-mm-1-01",
        "Birke-18-mm-1-02",
        "Birke-18-mm-2-01",
        "Birke-18-mm-2-02",
    ]


def test_two_stocks_never_share_a_sheet_name() -> None:
    stocks = (stock_of("birch (a)"), stock_of("birch [a]"))
    panels = [panel_of("P1", 500, 500, stock="birch (a)"), panel_of("P2", 500, 500, stock="birch [a]")]
    assert [sheet.id for sheet in nested(panels, *stocks).sheets] == ["birch-a-01", "birch-a-2-01"]


def test_parts_that_do_not_fit_are_all_refused_by_how_much() -> None:
    stock = stock_of(blank_x_mm=48 * IN, blank_y_mm=48 * IN, trim_mm=0.0)
    panels = [
        panel_of("P1", 48.5 * IN, 20 * IN),
        panel_of("P2", 49 * IN, 50 * IN),
        panel_of("P3", 48 * IN, 48 * IN),
    ]
    nesting = nested(panels, stock, units=Units.INCH)
    assert [item.message for item in nesting.findings] == [
        'P1: 48.5 x 20 in does not fit the 48 x 48 in that a blank of "birch" offers: 0.5 in too long',
        'P2: 49 x 50 in does not fit the 48 x 48 in that a blank of "birch" offers: 1 in too long and 2 in too wide',
    ]
    assert all(item.severity == "error" for item in nesting.findings)
    assert [placement.panel.id for sheet in nesting.sheets for placement in sheet.placements] == ["P3"]


def test_a_part_a_hair_too_long_is_refused_not_rounded() -> None:
    stock = stock_of(blank_x_mm=48 * IN, blank_y_mm=47.9375 * IN, trim_mm=0.0, grain_along_x=False)
    panels = [
        panel_of("P1", 47.95 * IN, 10 * IN, Grain.ALONG),
        panel_of("P2", 47.9375 * IN, 10 * IN, Grain.ALONG),
    ]
    nesting = nested(panels, stock, units=Units.INCH)
    assert [item.message for item in nesting.findings] == [
        'P1: 47.95 x 10 in does not fit the 48 x 47.9375 in that a blank of "birch" offers: '
        "0.0125 in too long with its length along Y, as the grain asks; turned it would fit"
    ]
    assert [placement.panel.id for sheet in nesting.sheets for placement in sheet.placements] == ["P2"]


@pytest.mark.parametrize("size", [1199.0, 48 * IN - 20, 47 + 15 / 16, (96 - 1 / 8) / 2 * IN - 20])
def test_a_part_that_fills_the_blank_exactly_fits(size: float) -> None:
    stock = stock_of(blank_x_mm=size + 20, blank_y_mm=size + 20)
    nesting = nested([panel_of("P1", size, size)], stock)
    assert not nesting.findings
    assert nesting.sheets[0].placements[0].x_mm == 10.0


def test_the_trim_is_named_when_it_matters() -> None:
    message = nested([panel_of("P1", 1210, 300)]).findings[0].message
    assert message == (
        'P1: 1210 x 300 mm does not fit the 1199 x 1199 mm that a blank of "birch" offers inside its trim of 10 mm: '
        "11 mm too long"
    )


def test_sides_are_not_turned_against_the_grain_and_the_cost_is_told() -> None:
    # Two sides 34.5 x 23.25 in, grain along 34.5, on a blank 35 x 48 in with its grain along Y (48): side by side they
    # would need 46.5 across; turned, both would fit one blank.
    stock = stock_of(blank_x_mm=35 * IN, blank_y_mm=48 * IN, trim_mm=0.0, grain_along_x=False)
    panels = [panel_of(f"B1 {hand} side", 34.5 * IN, 23.25 * IN, Grain.ALONG) for hand in ("left", "right")]
    nesting = nested(panels, stock, units=Units.INCH)
    assert [placement.rotation_deg for sheet in nesting.sheets for placement in sheet.placements] == [90, 90]
    assert (nesting.counts[0].sheets, nesting.counts[0].grain_cost) == (2, 1)
    assert [item.message for item in nesting.findings] == ['stock "birch": keeping the grain costs 1 blank']
    free = nested([replace(panel, grain=Grain.FREE) for panel in panels], stock, units=Units.INCH)
    assert (free.counts[0].sheets, free.counts[0].grain_cost) == (1, 0)


def corner_clamps(height_mm: float = 25.4) -> tuple[Clamp, ...]:
    # Four corner clamps of 3 x 1.5 in on a 48 in blank.
    corners = ((0.0, 0.0), (45 * IN, 0.0), (0.0, 46.5 * IN), (45 * IN, 46.5 * IN))
    return tuple(
        Clamp(name=f"c{k}", x_mm=x, y_mm=y, length_x_mm=3 * IN, length_y_mm=1.5 * IN, height_mm=height_mm)
        for k, (x, y) in enumerate(corners)
    )


def test_no_part_or_cut_comes_near_a_clamp() -> None:
    stock = stock_of(blank_x_mm=48 * IN, blank_y_mm=48 * IN, trim_mm=0.0)
    panels = [panel_of(f"P{k}", 150 + 13 * (k % 7), 90 + 17 * (k % 5)) for k in range(60)]
    nesting = nested(panels, stock, clamps=corner_clamps(), clamp_margin_mm=6.35)
    check(nesting, panels, 8.35)
    for sheet in nesting.sheets:
        for clamp in corner_clamps():
            held = box(clamp.x_mm, clamp.y_mm, clamp.x_mm + clamp.length_x_mm, clamp.y_mm + clamp.length_y_mm)
            for placement in sheet.placements:
                assert held.distance(area_of(placement)) >= 6.35 + 8.35 - SLACK


def test_a_wide_collet_keeps_farther_from_tall_clamps() -> None:
    stock = stock_of(blank_x_mm=48 * IN, blank_y_mm=48 * IN, trim_mm=0.0)
    panels = [panel_of(f"P{k}", 200, 100) for k in range(40)]
    # The nut is 60 - 18.1 = 41.9 mm above the blank at full depth; clamps of 50 mm reach it.
    nesting = nested(panels, stock, clamps=corner_clamps(50.0), collet_diameter_mm=40.0, clamp_margin_mm=5.0)
    nearest = min(
        box(c.x_mm, c.y_mm, c.x_mm + c.length_x_mm, c.y_mm + c.length_y_mm).distance(area_of(placement))
        for sheet in nesting.sheets
        for placement in sheet.placements
        for c in corner_clamps(50.0)
    )
    # Part to axis is one cutter radius, axis to clamp half the collet and the margin.
    assert nearest >= 6.35 / 2 + 20.0 + 5.0 - SLACK


def test_a_part_that_only_the_clamps_keep_out_is_told_so() -> None:
    stock = stock_of(blank_x_mm=48 * IN, blank_y_mm=48 * IN, trim_mm=0.0)
    nesting = nested([panel_of("P1", 1200, 1200)], stock, clamps=corner_clamps())
    assert nesting.findings[0].message == (
        'P1: 1200 x 1200 mm does not fit the 1219.2 x 1219.2 mm that a blank of "birch" offers: '
        "the clamps leave no room for it; move them or the part to another blank"
    )


def test_offcuts_worth_keeping_are_told() -> None:
    (sheet,) = nested([panel_of("P1", 700, 900)]).sheets
    sizes = [(offcut.length_x_mm, offcut.length_y_mm) for offcut in sheet.offcuts]
    assert len(sizes) == 2
    assert all(min(size) >= 150 and max(size) >= 300 for size in sizes)
    assert sum(x * y for x, y in sizes) > 0.95 * (1199 * 1199 - 708.35 * 908.35)
    (full,) = nested([panel_of("P1", 1199, 1100)]).sheets
    assert full.offcuts == ()


@pytest.mark.parametrize(
    ("asked", "spacing", "warned"),
    [
        pytest.param(None, 8.35, False, id="cutter and web when the job says nothing"),
        pytest.param(12.0, 12.0, False, id="more than the cutter"),
        pytest.param(6.35, 6.35, False, id="exactly the cutter"),
        pytest.param(0.2 * IN, 8.35, True, id="less than the cutter: raised"),
    ],
)
def test_the_gap_is_never_less_than_the_cutter(asked: float | None, spacing: float, warned: bool) -> None:
    settled, findings = settle_spacing(Cutting(spacing_mm=asked), 6.35)
    assert settled == pytest.approx(spacing)
    assert [item.severity for item in findings] == (["warning"] if warned else [])
    if warned:
        assert findings[0].message == (
            "spacing 5.08 mm (0.2 in) is less than the 6.35 mm (0.25 in) that the profile cutter cuts: "
            "raised to 8.35 mm (0.32874 in), the cutter and a web of 2 mm (0.07874 in)"
        )


def test_small_parts_lie_away_from_the_edge_of_the_blank() -> None:
    # Four pieces of 3 x 1.5 in with a few big parts: the pieces find room inside, at no cost.
    panels = [panel_of(f"B{k} side", 870, 560) for k in range(2)]
    panels += [panel_of(f"S{k}", 3 * IN, 1.5 * IN, Grain.ALONG) for k in range(4)]
    (sheet,) = nested(panels).sheets
    check_sheet(sheet, 8.35)
    for placement in sheet.placements:
        if placement.panel.id.startswith("S"):
            x0, y0, x1, y1 = area_of(placement).bounds
            assert min(x0, y0, sheet.blank_x_mm - x1, sheet.blank_y_mm - y1) >= 30 - SLACK


def test_small_parts_go_to_the_edge_rather_than_to_another_blank() -> None:
    panels = [panel_of("P1", 1199, 1130), panel_of("S1", 300, 60, Grain.ALONG)]
    assert len(nested(panels).sheets) == 1


def test_where_a_sheet_has_room_the_cuts_round_two_parts_do_not_meet() -> None:
    loose = nested([panel_of(f"P{k}", 500, 400) for k in range(3)]).sheets[0]
    check_sheet(loose, 2 * 8.35)
    tight = nested([panel_of(f"P{k}", 595, 595) for k in range(4)])
    assert len(tight.sheets) == 1
    check_sheet(tight.sheets[0], 8.35)


def test_no_panels_give_no_sheets() -> None:
    assert nest([], job=job_of(), spacing_mm={}) == Nesting(sheets=(), counts=(), findings=())


def test_three_hundred_panels_are_all_placed() -> None:
    chance = random.Random(3)
    panels = [
        panel_of(f"P{k}", chance.uniform(100, 900), chance.uniform(80, 600), chance.choice(list(Grain)))
        for k in range(300)
    ]
    check(nested(panels), panels, 8.35)


def test_panels_of_one_size_are_dealt_out_in_their_order() -> None:
    panels = [panel_of(f"B{k} side", 1000, 550) for k in (10, 2, 1, 3)]
    placed = [placement.panel.id for sheet in nested(panels).sheets for placement in sheet.placements]
    assert placed == ["B1 side", "B2 side", "B3 side", "B10 side"]
