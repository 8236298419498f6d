"""Slotted grilles: slots, their free area, and the wood that must be left about them."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from box_kit import box_of, order
from rabbetry.geometry.curves import Arc, rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.job.model import CabinetKind, Grain, VentOrder
from rabbetry.panels.model import CutOut, Panel
from rabbetry.panels.shapes import Rect, notched_rectangle
from rabbetry.panels.vents import slot, slot_area_mm2, vent_cut_outs, with_vents


def part(length: float = 500.0, width: float = 300.0) -> Panel:
    return Panel(
        id="P",
        cabinet="",
        role="P",
        stock="ply",
        thickness_mm=17.8,
        length_mm=length,
        width_mm=width,
        outline=rectangle(0.0, 0.0, length, width),
        features=(),
        grain=Grain.ALONG,
        place=None,
    )


VENT = VentOrder(
    panel="P",
    slots=5,
    free_area_mm2=None,
    length_mm=60.0,
    width_mm=10.0,
    spacing_mm=20.0,
    up=True,
    at_mm=None,
)


def _middles(slots: tuple[CutOut, ...]) -> list[tuple[float, float]]:
    boxes = [item.outline.bounds for item in slots]
    return [((x0 + x1) / 2, (y0 + y1) / 2) for x0, y0, x1, y1 in boxes]


def test_slots_stand_side_by_side_about_the_middle() -> None:
    assert _middles(vent_cut_outs(part(), VENT)) == [
        pytest.approx(place) for place in ((210, 150), (230, 150), (250, 150), (270, 150), (290, 150))
    ]


def test_slots_along_the_panel_stand_one_above_the_other() -> None:
    slots = vent_cut_outs(part(), replace(VENT, slots=2, up=False, at_mm=(100.0, 80.0)))
    assert _middles(slots) == [pytest.approx((100, 90)), pytest.approx((100, 70))]
    assert slots[0].outline.bounds == pytest.approx((70.0, 85.0, 130.0, 95.0))


def test_as_many_slots_as_the_free_area_needs() -> None:
    # One slot: 50 x 10 + pi 5^2 = 578.54 mm2, worked by hand
    assert slot_area_mm2(60.0, 10.0) == pytest.approx(578.54, abs=0.01)
    for area, count in ((578.5, 1), (578.6, 2), (2892.0, 5), (20_000.0, 35)):
        assert len(vent_cut_outs(part(), replace(VENT, slots=None, free_area_mm2=area))) == count


def test_where_the_middle_is_cut_away_the_grille_goes_to_the_wood() -> None:
    panel = replace(part(), outline=notched_rectangle(Rect(0, 0, 500, 300), (Rect(200, 0, 500, 120),)))
    assert _middles(vent_cut_outs(panel, replace(VENT, slots=1))) == [pytest.approx((250, 210))]


def test_the_panels_named_get_their_slots_and_the_area_is_told_in_both_units() -> None:
    _, (panel,), found = with_vents((), [part()], [VENT], "mm")
    assert [feature.name for feature in panel.features] == [f"vent slot {k}" for k in range(1, 6)]
    assert [item.message for item in found] == ["P: 5 slots of 60 mm by 10 mm leave 2893 mm2 (4.48 in2) free"]


def test_two_vents_may_share_a_panel_and_keep_their_names_apart() -> None:
    second = replace(VENT, slots=1, at_mm=(100.0, 150.0))
    _, (panel,), _ = with_vents((), [part()], [VENT, second], "mm")
    assert [feature.name for feature in panel.features][-2:] == ["vent slot 5", "vent 2 slot 1"]


def test_a_panel_of_a_cabinet_gets_its_slots_in_the_box() -> None:
    box = box_of(order(CabinetKind.BASE))
    (changed,), _, found = with_vents([box], (), [replace(VENT, panel="B1 back")], "mm")
    assert [item.code for item in found] == ["vent-area"]
    counts = {panel.role: len(panel.features) for panel in changed.panels if panel.role in ("back", "bottom")}
    assert counts == {"back": 5, "bottom": 0}


NO_ROOM = [
    pytest.param(replace(VENT, slots=25), "P: vent slot 1 leaves 5 mm of wood to the panel's edge; 6 mm or more is "
                 "expected: fewer, shorter or closer slots, or another place", id="a row too long"),
    pytest.param(replace(VENT, slots=26), "P: vent slot 1 would cut into the panel's edge; 6 mm of wood or more is "
                 "expected: fewer, shorter or closer slots, or another place", id="over the edge"),
    pytest.param(replace(VENT, at_mm=(450.0, 150.0)), "P: vent slot 5 leaves 5 mm of wood to the panel's edge; 6 mm or "
                 "more is expected: fewer, shorter or closer slots, or another place", id="a place too far out"),
]  # fmt: skip


@pytest.mark.parametrize(("vent", "words"), NO_ROOM)
def test_slots_too_near_to_the_edge_are_refused(vent: VentOrder, words: str) -> None:
    _, (panel,), found = with_vents((), [part()], [vent], "mm")
    assert [(item.severity, item.message) for item in found] == [("error", words)]
    assert panel.features == ()


def test_slots_keep_off_what_else_is_cut_into_the_panel() -> None:
    box = box_of(order(CabinetKind.BASE))
    on_the_dado = replace(VENT, panel="B1 right side", slots=1, at_mm=(140.0, 250.0), up=False)
    (_,), _, found = with_vents([box], (), [on_the_dado], "mm")
    assert [item.message for item in found] == [
        'B1 right side: vent slot 1 would cut into "bottom dado"; 6 mm of wood or more is expected: fewer, shorter or '
        "closer slots, or another place"
    ]


def test_a_panel_that_is_not_there_is_told_with_near_names() -> None:
    _, _, found = with_vents((), [replace(part(), id="End panel")], [replace(VENT, panel="End pannel")], "mm")
    assert [(item.severity, item.message) for item in found] == [
        ("error", 'vent "End pannel": the job makes no such panel; did you mean End panel?')
    ]


@settings(max_examples=80, deadline=None)
@given(
    width=st.floats(3.0, 40.0),
    longer=st.floats(0.5, 200.0),
    web=st.floats(6.0, 40.0),
    count=st.integers(1, 8),
    up=st.booleans(),
)
def test_slots_are_as_large_as_said_and_a_web_apart(
    width: float, longer: float, web: float, count: int, up: bool
) -> None:
    length = width + longer
    vent = replace(VENT, slots=count, length_mm=length, width_mm=width, spacing_mm=width + web, up=up)
    slots = vent_cut_outs(part(2000.0, 2000.0), vent)
    shapes = [region_polygon(item.outline) for item in slots]
    for item in slots:
        assert item.outline.area == pytest.approx(width * longer + math.pi * width**2 / 4)
        assert [type(side) is Arc for side in item.outline.segments] == [False, True, False, True]
    for before, after in pairwise(shapes):
        assert before.distance(after) == pytest.approx(web, abs=0.01)
    xs, ys = zip(*_middles(slots), strict=True)
    assert (sum(xs) / count, sum(ys) / count) == pytest.approx((1000.0, 1000.0))


def test_a_slot_is_counter_clockwise_either_way() -> None:
    for up in (False, True):
        outline = slot(Point(7.0, 5.0), 60.0, 10.0, up=up)
        assert outline.is_closed
        assert outline.area > 0
