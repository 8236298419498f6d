"""Dados, grooves, rabbets and pockets: the cutter, the kind of cut, and the way past the open edges."""

import dataclasses
import math

import pytest
import shapely
from operations_shop import EIGHTH, HALF, INCH, QUARTER, at, codes, only, panel, plan, recess

from rabbetry.geometry.curves import Arc, Contour, Line, circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.operations.model import CentreLine, Clearing
from rabbetry.operations.run_out import RUN_OUT_MM
from rabbetry.panels.model import CutOut
from rabbetry.shop.model import Cutter, CutterKind

OUT = 6.35 + RUN_OUT_MM
"""How far a region cut by the quarter-inch cutter goes past an open edge."""


NOTCHED = polygon([(32, 0), (368, 0), (368, 13), (400, 13), (400, 200), (0, 200), (0, 13), (32, 13)])


def _closed(width: float, length: float = 200.0) -> Contour:
    return rectangle(50.0, 60.0, length, width)


def test_a_dado_narrower_than_every_cutter_is_refused_by_name() -> None:
    planned = plan(at(panel("B3 left side", 400.0, 300.0, recess(_closed(0.240 * INCH), name="bottom dado"))))
    [told] = planned.findings
    assert (told.code, told.severity) == ("recess-too-narrow", "error")
    assert told.message == (
        'B3 left side: dado "bottom dado" is 6.096 mm wide, too narrow for every loaded cutter (the smallest loaded is '
        'cutter 1 "quarter inch", 6.35 mm); load a smaller one or make it wider'
    )
    assert told.where.panel == "B3 left side"
    assert (told.where.x, told.where.y) == (100.0, 120.0)
    assert [operation.kind for operation in planned.plan.operations] == ["profile"]


def test_a_groove_as_wide_as_the_cutter_is_one_centre_line_cut() -> None:
    operation = only(plan(at(panel("P1", 400.0, 300.0, recess(_closed(0.250 * INCH), kind="groove")))))
    assert operation.kind == "groove"
    assert isinstance(operation.work, CentreLine)
    assert operation.work.depth_mm == 6.0
    [line] = operation.work.path.segments
    assert sorted((line.start.x, line.end.x)) == [pytest.approx(100 + 3.175), pytest.approx(300 - 3.175)]
    assert [line.start.y, line.end.y] == pytest.approx([120 + 3.175] * 2)


def test_a_groove_a_hundredth_of_an_inch_wider_than_the_cutter_is_cleared() -> None:
    operation = only(plan(at(panel("P1", 400.0, 300.0, recess(_closed(0.260 * INCH), kind="groove")))))
    assert operation.kind == "pocket"
    assert isinstance(operation.work, Clearing)
    assert operation.work.region.bounds == pytest.approx((100.0, 120.0, 300.0, 120.0 + 6.604))


@pytest.mark.parametrize(
    ("cutters", "number"),
    [
        pytest.param((QUARTER, EIGHTH), 1, id="the profile cutter, already in the collet"),
        pytest.param((QUARTER, EIGHTH, HALF), 1, id="the profile cutter before a larger one"),
        pytest.param((dataclasses.replace(QUARTER, diameter_mm=5.9), EIGHTH), 1, id="whatever its diameter"),
    ],
)
def test_a_wide_dado_is_cleared_with_the_profile_cutter(cutters: tuple[Cutter, ...], number: int) -> None:
    operation = only(plan(at(panel("P1", 400.0, 300.0, recess(_closed(18.0)))), cutters=cutters))
    assert operation.cutter.number == number


def test_a_groove_too_narrow_for_the_profile_cutter_takes_the_largest_that_fits() -> None:
    third = dataclasses.replace(EIGHTH, number=4, diameter_mm=4.0, name="four")
    operation = only(plan(at(panel("P1", 400.0, 300.0, recess(_closed(6.0)))), cutters=(QUARTER, EIGHTH, third)))
    assert operation.cutter.number == 4


@pytest.mark.parametrize("depth", [17.8, 0.75 * INCH])
def test_a_recess_as_deep_as_the_stock_is_refused(depth: float) -> None:
    planned = plan(at(panel("P1", 400.0, 300.0, recess(_closed(18.0), depth_mm=depth))))
    assert codes(planned) == ["recess-too-deep"]
    assert planned.findings[0].severity == "error"


def test_the_recess_below_the_refused_one_is_still_planned() -> None:
    deep = recess(_closed(18.0), name="deep", depth_mm=18.0)
    good = recess(rectangle(50.0, 150.0, 100.0, 18.0), name="good")
    planned = plan(at(panel("P1", 400.0, 300.0, deep, good)))
    assert only(planned).name == "P1: good"


@pytest.mark.parametrize(
    ("outline", "expected"),
    [
        pytest.param(
            rectangle(100.0, 0.0, 18.0, 300.0), (100.0, -OUT, 118.0, 300.0 + OUT), id="dado across, open at both ends"
        ),
        pytest.param(rectangle(100.0, 0.0, 18.0, 200.0), (100.0, -OUT, 118.0, 200.0), id="stopped dado, open in front"),
        pytest.param(
            rectangle(0.0, 294.0, 400.0, 6.0),
            (-OUT, 294.0, 400.0 + OUT, 300.0 + OUT),
            id="rabbet along an edge, narrower than the cutter",
        ),
        pytest.param(
            rectangle(382.0, 0.0, 18.0, 100.0), (382.0, -OUT, 400.0 + OUT, 100.0), id="rabbet in a corner, open twice"
        ),
        pytest.param(rectangle(100.0, 100.0, 50.0, 40.0), (100.0, 100.0, 150.0, 140.0), id="closed pocket"),
    ],
)
@pytest.mark.parametrize("rotation", [0, 90])
def test_a_recess_runs_out_over_its_open_edges_only(
    outline: Contour, expected: tuple[float, float, float, float], rotation: int
) -> None:
    placement = at(panel("P1", 400.0, 300.0, recess(outline)), rotation_deg=rotation)
    work = only(plan(placement)).work
    assert isinstance(work, Clearing)
    wanted = rectangle(expected[0], expected[1], expected[2] - expected[0], expected[3] - expected[1])
    assert work.region.bounds == pytest.approx(wanted.moved(placement.blank_from_panel).bounds, abs=1e-9)
    assert len(work.region.segments) == 4
    assert work.region.area > 0


def test_the_path_of_an_open_groove_goes_a_radius_past_the_edge() -> None:
    work = only(plan(at(panel("P1", 400.0, 300.0, recess(rectangle(0.0, 100.0, 400.0, 6.35), kind="groove"))))).work
    assert isinstance(work, CentreLine)
    low_x, _, high_x, _ = work.path.bounds
    assert low_x <= 50.0 - 3.175
    assert high_x >= 450.0 + 3.175
    assert high_x - low_x == pytest.approx(400.0 + 2 * (3.175 + RUN_OUT_MM))


def test_a_dado_that_laps_into_a_toe_kick_notch_is_a_plain_slot() -> None:
    side = polygon([(100, 0), (876, 0), (876, 580), (0, 580), (0, 75), (100, 75)])
    dado = polygon([(100, 0), (117.9, 0), (117.9, 580), (99.9, 580), (99.9, 75), (100, 75)])
    part = panel("B1 right side", 876.0, 580.0, recess(dado), outline=side)
    planned = plan(at(part, 0.0, 0.0))
    assert codes(planned) == []
    work = only(planned).work
    assert isinstance(work, Clearing)
    wood, region, wanted = (region_polygon(shape) for shape in (side, work.region, dado))
    assert region.covers(wanted)
    assert region.intersection(wood).difference(wanted).area < 1e-6
    assert region.bounds == pytest.approx((99.9, -OUT, 117.9, 580.0 + OUT))
    assert len(work.region.segments) == 4


def test_a_groove_that_laps_into_two_notches_is_one_centre_line_cut() -> None:
    lapped = polygon(
        [(0, 13), (32, 13), (32, 12.9), (368, 12.9), (368, 13), (400, 13), (400, 19.25), (0, 19.25)],
    )
    planned = plan(at(panel("P1", 400.0, 200.0, recess(lapped, kind="groove"), outline=NOTCHED), 0.0, 0.0))
    assert codes(planned) == []
    assert only(planned).kind == "groove"


def test_a_pocket_with_a_step_runs_out_into_a_notch_but_not_into_the_wood_beside_it() -> None:
    side = polygon([(100, 0), (876, 0), (876, 580), (0, 580), (0, 75), (100, 75)])
    pocket = polygon([(100, 20), (150, 20), (150, 200), (80, 200), (80, 75), (100, 75)])
    part = panel("P1", 876.0, 580.0, recess(pocket, kind="pocket"), outline=side)
    planned = plan(at(part, 0.0, 0.0))
    assert codes(planned) == []
    work = only(planned).work
    assert isinstance(work, Clearing)
    wood, region, wanted = (region_polygon(shape) for shape in (side, work.region, pocket))
    assert region.covers(wanted)
    assert region.intersection(wood).difference(wanted).area < 1e-6
    assert region.bounds == pytest.approx((80.0, 20.0, 150.0, 200.0))
    assert region.covers(shapely.box(100 - OUT, 20, 100, 75 - OUT))


def test_a_dado_that_ends_in_a_rabbet_as_deep_runs_on_into_it() -> None:
    rabbet = recess(rectangle(0.0, 294.0, 400.0, 6.0), name="back rabbet", kind="rabbet")
    dado = recess(rectangle(100.0, 0.0, 18.0, 294.2))
    planned = plan(at(panel("P1", 400.0, 300.0, rabbet, dado), 0.0, 0.0))
    regions = {operation.name: operation.work for operation in planned.plan.operations}
    dado_work, rabbet_work = regions["P1: dado"], regions["P1: back rabbet"]
    assert isinstance(dado_work, Clearing)
    assert isinstance(rabbet_work, Clearing)
    assert dado_work.region.bounds == pytest.approx((100.0, -OUT, 118.0, 294.2 + OUT))
    assert rabbet_work.region.bounds == pytest.approx((-OUT, 294.0, 400.0 + OUT, 300.0 + OUT))
    assert len(rabbet_work.region.segments) == 4


def test_a_dado_that_ends_in_a_shallower_rabbet_stops_there() -> None:
    rabbet = recess(rectangle(0.0, 294.0, 400.0, 6.0), name="back rabbet", kind="rabbet", depth_mm=4.0)
    dado = recess(rectangle(100.0, 0.0, 18.0, 294.0))
    planned = plan(at(panel("P1", 400.0, 300.0, rabbet, dado), 0.0, 0.0))
    work = next(operation.work for operation in planned.plan.operations if operation.name == "P1: dado")
    assert isinstance(work, Clearing)
    assert work.region.bounds == pytest.approx((100.0, -OUT, 118.0, 294.0))


def test_a_groove_that_passes_notches_stays_a_plain_slot() -> None:
    groove = recess(rectangle(0.0, 13.0, 400.0, 6.35), kind="groove")
    planned = plan(at(panel("P1", 400.0, 200.0, groove, outline=NOTCHED), 0.0, 0.0))
    assert codes(planned) == []
    work = only(planned).work
    assert isinstance(work, CentreLine)
    end = 3.175 + RUN_OUT_MM
    assert work.path.bounds == pytest.approx((-end, 16.175, 400.0 + end, 16.175))


def test_a_stopped_groove_that_ends_over_a_notch_is_widened_there_so_that_no_corner_stays() -> None:
    groove = recess(rectangle(10.0, 13.0, 300.0, 8.0), kind="groove")
    work = only(plan(at(panel("P1", 400.0, 200.0, groove, outline=NOTCHED), 0.0, 0.0))).work
    assert isinstance(work, Clearing)
    assert work.region.bounds == pytest.approx((10.0, 13.0 - OUT, 310.0, 21.0))
    assert region_polygon(work.region).intersection(region_polygon(NOTCHED)).area == pytest.approx(300.0 * 8.0)


def test_a_run_out_that_enters_the_next_part_is_an_error() -> None:
    dado = recess(rectangle(100.0, 0.0, 18.0, 300.0))
    first, second = panel("P1", 400.0, 300.0, dado), panel("P2", 400.0, 300.0)
    assert codes(plan(at(first, 0.0, 0.0), at(second, 0.0, 300.0 + 8.35))) == []
    assert codes(plan(at(first, 0.0, 0.0), at(second, 0.0, 300.0 + 6.4))) == []
    planned = plan(at(first, 0.0, 0.0), at(second, 0.0, 300.0 + 3.2), cutters=(QUARTER,))
    assert "run-out-in-part" in codes(planned)
    told = next(item.message for item in planned.findings if item.code == "run-out-in-part")
    assert "P1: dado" in told
    assert "put more space between the parts" in told


@pytest.mark.parametrize("turn", [0, 90])
def test_a_run_out_is_shorter_where_the_next_part_is_nearer_than_the_cutter_is_wide(turn: int) -> None:
    dado = recess(rectangle(100.0, 0.0, 12.7, 300.0))
    first, second = panel("P1", 400.0, 300.0, dado), panel("P2", 400.0, 300.0)
    # The profile's quarter inch leaves 8.35 mm; the half inch that cuts the dado is 12.7 mm wide.
    step = 300.0 + 8.35
    places = [(0.0, 0.0), (step, 0.0)] if turn else [(0.0, 0.0), (0.0, step)]
    planned = plan(*(at(part, *place, turn) for part, place in zip((first, second), places, strict=True)),
                   cutters=(QUARTER, HALF))  # fmt: skip
    assert codes(planned) == []


def test_a_rabbet_on_a_slot_too_narrow_to_run_out_into_is_an_error() -> None:
    outline = polygon([(0, 0), (400, 0), (400, 300), (203, 300), (203, 200), (200, 200), (200, 300), (0, 300)])
    rabbet = recess(rectangle(150.0, 220.0, 50.0, 60.0), kind="rabbet")
    planned = plan(at(panel("P1", 400.0, 300.0, rabbet, outline=outline)))
    assert "run-out-in-part" in codes(planned)


def test_a_pocket_whose_corner_lies_in_an_opening_too_small_to_run_out_in_is_cut_as_it_is() -> None:
    pocket = recess(rectangle(30.0, 185.0, 28.0, 18.0), name="pocket 1", kind="pocket")
    hole = CutOut(name="cut-out 1", outline=circle(Point(30.0, 185.0), 9.0))
    planned = plan(at(panel("P1", 123.0, 285.0, pocket, hole), 0.0, 0.0))
    assert codes(planned) == []
    (work,) = [item.work for item in planned.plan.operations if "pocket" in item.name]
    assert isinstance(work, Clearing)
    assert work.region.bounds == pytest.approx((30.0, 185.0, 58.0, 203.0))


def test_a_recess_open_at_a_round_edge_is_told() -> None:
    side = Contour(
        (
            Line(Point(0, 0), Point(400, 0)),
            Line(Point(400, 0), Point(400, 250)),
            Arc(Point(400, 250), Point(350, 300), Point(350, 250), 1),
            Line(Point(350, 300), Point(0, 300)),
            Line(Point(0, 300), Point(0, 0)),
        )
    )
    corner = Contour(
        (
            Line(Point(350, 250), Point(400, 250)),
            Arc(Point(400, 250), Point(350, 300), Point(350, 250), 1),
            Line(Point(350, 300), Point(350, 250)),
        )
    )
    planned = plan(at(panel("P1", 400.0, 300.0, recess(corner, name="corner", kind="rabbet"), outline=side)))
    assert [item.message for item in planned.findings if item.code == "run-out-in-part"] == [
        'P1: rabbet "corner" is open at the panel\'s edge, but cutter 1 cannot run out there'
    ]


def test_only_corners_that_stay_corners_are_relieved() -> None:
    corner, gone = Point(382.0, 100.0), Point(382.0, 0.0)
    rabbet = recess(rectangle(382.0, 0.0, 18.0, 100.0), relieved_corners=(corner, gone))
    work = only(plan(at(panel("P1", 400.0, 300.0, rabbet), 10.0, 20.0))).work
    assert isinstance(work, Clearing)
    assert work.relieved_corners == (Point(392.0, 120.0),)


def test_a_stopped_groove_as_wide_as_the_cutter_steps_into_its_relieved_corners() -> None:
    corners = (Point(250.0, 60.0), Point(250.0, 66.35))
    work = only(plan(at(panel("P1", 400.0, 300.0, recess(_closed(6.35), relieved_corners=corners)), 0.0, 0.0))).work
    assert isinstance(work, CentreLine)
    points = [segment.start for segment in work.path.segments] + [work.path.end]
    for corner in corners:
        near = min(point.distance(corner) for point in points)
        assert near == pytest.approx(3.175, abs=1e-9)
    bites = [point for point in points if min(abs(point.x - 250.0), 9.0) < 3.0]
    assert [point.x for point in bites] == [pytest.approx(250.0 - 3.175 / math.sqrt(2))] * 2


def test_a_slot_with_round_ends_is_cut_from_centre_to_centre() -> None:
    a, b, c, d = Point(50, 50), Point(92, 50), Point(92, 56.35), Point(50, 56.35)
    left, right = Point(50, 53.175), Point(92, 53.175)
    capsule = Contour((Line(a, b), Arc(b, c, right, 1), Line(c, d), Arc(d, a, left, 1)))
    work = only(plan(at(panel("P1", 400.0, 300.0, recess(capsule, kind="groove")), 0.0, 0.0))).work
    assert isinstance(work, CentreLine)
    assert work.path.length == pytest.approx(42.0)
    assert work.path.bounds == pytest.approx((50.0, 53.175, 92.0, 53.175))


def test_a_stopped_dado_with_a_round_end_as_wide_as_the_cutter_is_one_centre_line_cut() -> None:
    # 1/4 in wide, open at the panel's rear edge x = 0, its half circle about (200, 100): the cutter's centre goes from
    # a radius past the edge to that centre.
    r = 3.175
    outline = Contour(
        (
            Arc(Point(200, 100 - r), Point(200, 100 + r), Point(200, 100), 1),
            Line(Point(200, 100 + r), Point(0, 100 + r)),
            Line(Point(0, 100 + r), Point(0, 100 - r)),
            Line(Point(0, 100 - r), Point(200, 100 - r)),
        )
    )
    work = only(plan(at(panel("P1", 400.0, 300.0, recess(outline)), 0.0, 0.0))).work
    assert isinstance(work, CentreLine)
    [line] = work.path.segments
    assert sorted((line.start.x, line.end.x)) == [pytest.approx(-r - RUN_OUT_MM), pytest.approx(200.0)]
    assert [line.start.y, line.end.y] == pytest.approx([100.0, 100.0])


def test_a_neck_narrower_than_the_cutter_is_told_and_the_rest_is_cut() -> None:
    a, neck = 1.5 * INCH, 0.2 * INCH
    low, high = 50 + (a - neck) / 2, 50 + (a + neck) / 2
    x1, x2, x3, x4 = 50, 50 + a, 90 + a, 90 + 2 * a
    shape = polygon(
        [
            *((x1, 50), (x2, 50), (x2, low), (x3, low), (x3, 50), (x4, 50)),
            *((x4, 50 + a), (x3, 50 + a), (x3, high), (x2, high), (x2, 50 + a), (x1, 50 + a)),
        ]
    )
    part = panel("P1", 400.0, 300.0, recess(shape, kind="pocket"))
    planned = plan(at(part))
    assert codes(planned) == ["recess-neck"]
    assert isinstance(only(planned).work, Clearing)
    assert codes(plan(at(part), cutters=(QUARTER, EIGHTH))) == []


def test_a_pocket_keeps_its_islands() -> None:
    island = rectangle(80.0, 80.0, 30.0, 30.0)
    pocket = recess(rectangle(50.0, 50.0, 100.0, 100.0), kind="pocket", islands=(island,))
    work = only(plan(at(panel("P1", 400.0, 300.0, pocket), 1.0, 2.0))).work
    assert isinstance(work, Clearing)
    assert [shape.bounds for shape in work.islands] == [(81.0, 82.0, 111.0, 112.0)]


def test_a_round_pocket_as_wide_as_the_cutter_is_not_called_cut() -> None:
    pocket = recess(circle(Point(100.0, 100.0), 3.175), kind="pocket")
    assert codes(plan(at(panel("P1", 400.0, 300.0, pocket)))) == ["recess-too-narrow"]


def test_a_shallow_dado_prefers_a_plain_cutter_to_a_compression_cutter() -> None:
    compression = dataclasses.replace(QUARTER, kind=CutterKind.COMPRESSION, up_cut_length_mm=7.0, number=7)
    part = at(panel("P1", 400.0, 300.0, recess(_closed(18.0))))
    assert only(plan(part, cutters=(compression, EIGHTH))).cutter.number == 2
    alone = plan(part, cutters=(compression,))
    assert only(alone).cutter.number == 7
    assert "compression-shallow" in codes(alone)
