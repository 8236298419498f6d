"""Holes: drill, spiral, pocket or plunge, and what is refused."""

import dataclasses

import pytest
from operations_shop import DRILL, EIGHTH, INCH, QUARTER, at, bore, codes, inner, only, panel, plan

from rabbetry.geometry.points import Point
from rabbetry.operations.model import Clearing, Drilling, SpiralBore
from rabbetry.shop.model import Cutter


def test_five_millimetre_holes_are_refused_with_a_quarter_inch_cutter_alone() -> None:
    planned = plan(at(panel("B3 left side", 400.0, 300.0, bore(50, 40), bore(82, 40))))
    [told] = planned.findings
    assert (told.code, told.severity) == ("hole-too-small", "error")
    assert told.message == (
        'B3 left side: hole "pin 50/40" and 1 like it, 5 mm, cannot be bored: '
        'the smallest loaded is cutter 1 "quarter inch", 6.35 mm'
    )
    assert inner(planned) == []


def test_they_are_bored_by_spiral_once_an_eighth_inch_cutter_is_loaded() -> None:
    operation = only(plan(at(panel("P1", 400.0, 300.0, bore(50, 40), bore(82, 40))), cutters=(QUARTER, EIGHTH)))
    assert operation.kind == "spiral bore"
    assert operation.cutter.number == 2
    assert isinstance(operation.work, SpiralBore)
    assert (operation.work.diameter_mm - operation.cutter.cut_diameter_mm) / 2 == pytest.approx(0.9125)
    assert operation.work.depth_mm == 12.0
    assert set(operation.work.centres) == {Point(100.0, 100.0), Point(132.0, 100.0)}


def test_a_drill_of_the_holes_diameter_wins() -> None:
    operation = only(plan(at(panel("P1", 400.0, 300.0, bore(50, 40))), cutters=(QUARTER, EIGHTH, DRILL)))
    assert (operation.kind, operation.cutter.number) == ("drill", 5)
    assert operation.name == "P1: pin 50/40"


@pytest.mark.parametrize(
    ("diameter", "cutters", "number", "work"),
    [
        pytest.param(8.0, (QUARTER, EIGHTH), 1, SpiralBore, id="the largest smaller cutter spirals"),
        pytest.param(6.4, (QUARTER, EIGHTH), 2, Clearing, id="but not one that would only plunge"),
        pytest.param(12.7, (QUARTER,), 1, SpiralBore, id="two cutters wide: the spiral leaves nothing"),
        pytest.param(35.0, (QUARTER, EIGHTH), 1, Clearing, id="a cup is pocketed, for a spiral would leave a core"),
    ],
)
def test_the_hole_decides_cutter_and_way(
    diameter: float, cutters: tuple[Cutter, ...], number: int, work: type[object]
) -> None:
    operation = only(plan(at(panel("P1", 400.0, 300.0, bore(100, 90, diameter))), cutters=cutters))
    assert operation.cutter.number == number
    assert isinstance(operation.work, work)


def test_a_pocketed_hole_is_the_hole() -> None:
    work = only(plan(at(panel("P1", 400.0, 300.0, bore(100, 90, 35.0, 12.5)), 0.0, 0.0))).work
    assert isinstance(work, Clearing)
    assert work.region.bounds == pytest.approx((82.5, 72.5, 117.5, 107.5))
    assert work.depth_mm == 12.5


def test_a_through_hole_goes_past_the_stock() -> None:
    operation = only(plan(at(panel("P1", 400.0, 300.0, bore(50, 40, 8.0, 17.8, through=True)))))
    assert operation.work.depth_mm == pytest.approx(17.8 + 0.3)


def test_forty_holes_of_the_end_mills_own_diameter_are_plunged_with_a_warning_of_heat() -> None:
    holes = [bore(20 + 30 * (k % 10), 30 + 60 * (k // 10), 0.25 * INCH, 17.8, through=True) for k in range(40)]
    planned = plan(at(panel("P1", 400.0, 300.0, *holes)))
    operation = only(planned)
    assert isinstance(operation.work, Drilling)
    assert len(operation.work.centres) == 40
    assert operation.pass_mm == pytest.approx(6.35)
    assert codes(planned) == ["plunged-end-mill"]
    assert operation.name == "P1: 40 shelf pin holes 6.35 mm, through"


def test_an_end_mill_that_may_not_go_straight_down_is_not_plunged() -> None:
    blunt = dataclasses.replace(QUARTER, centre_cutting=False)
    assert codes(plan(at(panel("P1", 400.0, 300.0, bore(50, 40, 6.35))), cutters=(blunt,))) == ["hole-too-small"]


def test_a_blind_hole_as_deep_as_the_stock_is_refused() -> None:
    planned = plan(at(panel("P1", 400.0, 300.0, bore(50, 40, 8.0, 17.8))))
    assert codes(planned) == ["hole-too-deep"]


def test_holes_are_grouped_by_diameter_and_depth() -> None:
    alike = (bore(50, 40), bore(82, 40))
    other = (bore(50, 80, 5.0, 10.0), bore(50, 120, 5.0, 17.8, through=True), bore(90, 99, 8.0))
    planned = plan(at(panel("P1", 400.0, 300.0, *alike, *other)), cutters=(QUARTER, EIGHTH, DRILL))
    assert sorted(operation.name for operation in inner(planned)) == [
        "P1: 2 shelf pin holes 5 mm, 12 deep",
        "P1: pin 50/120",
        "P1: pin 50/80",
        "P1: pin 90/99",
    ]


def test_a_row_of_holes_is_bored_along_the_row() -> None:
    xs = [96, 32, 160, 64, 128]
    work = only(plan(at(panel("P1", 400.0, 300.0, *(bore(x, 40) for x in xs))), cutters=(QUARTER, DRILL))).work
    assert isinstance(work, Drilling)
    assert [point.x for point in work.centres] == sorted(50.0 + x for x in xs)


def test_a_through_hole_is_bored_by_the_mill_of_its_own_diameter_where_a_smaller_ones_flutes_end_too_soon() -> None:
    """17.8 mm of stock and 0.3 below it are more than the eighth-inch cutter's 15 mm of flutes, less than 25.4."""
    hole = bore(50, 40, 0.25 * INCH, 17.8, through=True)
    planned = plan(at(panel("P1", 400.0, 300.0, hole)), cutters=(QUARTER, EIGHTH))
    operation = only(planned)
    assert isinstance(operation.work, Drilling)
    assert operation.cutter.number == QUARTER.number
    assert codes(planned) == ["plunged-end-mill"]


def test_a_shallow_hole_of_the_same_diameter_is_still_a_spiral() -> None:
    planned = plan(at(panel("P1", 400.0, 300.0, bore(50, 40, 0.25 * INCH, 12.0))), cutters=(QUARTER, EIGHTH))
    operation = only(planned)
    assert operation.cutter.number == EIGHTH.number
    assert isinstance(operation.work, SpiralBore)
    assert codes(planned) == []


def test_a_mill_that_may_not_go_straight_down_leaves_the_hole_to_the_smaller_one_and_its_flutes_are_told() -> None:
    blunt = dataclasses.replace(QUARTER, centre_cutting=False)
    hole = bore(50, 40, 0.25 * INCH, 17.8, through=True)
    planned = plan(at(panel("P1", 400.0, 300.0, hole)), cutters=(blunt, EIGHTH))
    assert codes(planned) == ["flute-too-short"]
