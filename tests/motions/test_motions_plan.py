"""A whole sheet's motions: runs, order, zero, safe heights."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from motions_bench import DRILL, MACHINE, QUARTER, SHEET, check_rules, motions_of, operation, planned

from rabbetry.geometry.curves import Contour, Line, rectangle
from rabbetry.geometry.points import Point, Transform
from rabbetry.motions.model import ArcFeed, DrillHole, Traverse
from rabbetry.operations.model import CentreLine, Clearing, Drilling, Profile, SpiralBore
from rabbetry.shop.model import ZZero

HOLES = operation(Drilling(centres=(Point(80, 90), Point(112, 90)), depth_mm=12.0), DRILL, name="holes", kind="drill")
DADO = operation(Clearing(region=rectangle(60, 120, 200, 18.2), islands=(), depth_mm=6.0), name="dado")
GROOVE = operation(CentreLine(path=Contour((Line(Point(60, 180), Point(260, 185)),)), depth_mm=6.0), name="groove")
CUP = operation(SpiralBore(centres=(Point(150, 230),), diameter_mm=35.0, depth_mm=12.5), name="cup")
EDGE = operation(
    Profile(
        outline=rectangle(50, 60, 300, 200), inside=False, depth_mm=18.1, thickness_mm=17.8, climb=True, tab_count=4,
        tab_length_mm=8.0, tab_height_mm=3.0, skin_mm=0.0,
    ),
    name="outline",
    kind="profile",
)  # fmt: skip
ALL = (HOLES, DADO, GROOVE, CUP, EDGE)


def test_every_step_keeps_every_rule():
    check_rules(planned(*ALL))


def test_steps_follow_the_given_order_and_each_cutter_is_loaded_once_per_group():
    runs = planned(*ALL).plan.runs
    assert [(run.cutter.number, [step.name for step in run.steps]) for run in runs] == [
        (3, ["holes"]),
        (1, ["dado", "groove", "cup", "outline"]),
    ]
    assert [run.rpm for run in runs] == [18000.0, 18000.0]


def test_a_cutter_that_comes_back_gets_a_second_run():
    assert [run.cutter.number for run in planned(DADO, HOLES, EDGE).plan.runs] == [1, 3, 1]


def test_the_safe_height_clears_the_tallest_clamp_by_its_margin():
    plan = planned(*ALL).plan
    assert plan.safe_z == 17.0
    high = [m for m in motions_of(planned(*ALL)) if isinstance(m, Traverse) and m.z not in (17.0, 1.0)]
    assert high == []


def test_z_from_the_spoilboard_is_z_from_the_top_and_the_thickness():
    top = planned(*ALL)
    board = planned(*ALL, machine=replace(MACHINE, z_zero=ZZero.SPOILBOARD))
    assert (board.plan.z_zero, board.plan.stock_top_z, board.plan.spoilboard_z) == ("spoilboard", 17.8, 0.0)
    assert (top.plan.z_zero, top.plan.stock_top_z, top.plan.spoilboard_z) == ("stock top", 0.0, -17.8)
    assert board.plan.safe_z == pytest.approx(top.plan.safe_z + 17.8)
    check_rules(board)
    for one, other in zip(motions_of(top), motions_of(board), strict=True):
        assert (one.x, one.y) == (other.x, other.y)
        assert other.z - one.z == pytest.approx(17.8, abs=1e-9)
        if isinstance(one, DrillHole):
            assert other.retract_z - one.retract_z == pytest.approx(17.8)
            assert other.clear_z - one.clear_z == pytest.approx(17.8)


def test_the_plan_carries_what_the_post_needs():
    plan = planned(*ALL, machine=replace(MACHINE, park_mm=(5.0, 1200.0), spindle_wait_s=6.5)).plan
    assert (plan.sheet, plan.job, plan.stock) == (SHEET.id, "bench job", SHEET.stock)
    assert (plan.thickness_mm, plan.blank_x_mm, plan.blank_y_mm) == (17.8, 1220.0, 1210.0)
    assert (plan.park, plan.spindle_wait_s, plan.thickness_is_measured) == ((5.0, 1200.0), 6.5, True)


def test_an_operation_without_a_path_has_no_step_and_a_finding():
    narrow = operation(Clearing(region=rectangle(0, 0, 50, 4), islands=(), depth_mm=6.0), name="narrow")
    result = planned(narrow, DADO)
    assert [step.name for run in result.plan.runs for step in run.steps] == ["dado"]
    assert [(item.severity, item.code, item.where.panel) for item in result.findings] == [
        ("error", "no-room-for-cutter", "A1 side")
    ]


def test_an_empty_plan_has_no_runs():
    assert planned().plan.runs == ()


def test_the_same_operations_give_the_same_motions():
    assert planned(*ALL) == planned(*ALL)


@settings(max_examples=25, deadline=None)
@given(dx=st.integers(-40, 800), dy=st.integers(-40, 800))
def test_moving_the_work_moves_every_motion_and_nothing_else(dx, dy):
    move = Transform.shift(dx, dy)
    there = (
        replace(DADO, work=replace(DADO.work, region=DADO.work.region.moved(move))),
        replace(EDGE, work=replace(EDGE.work, outline=EDGE.work.outline.moved(move))),
    )
    for one, other in zip(motions_of(planned(DADO, EDGE)), motions_of(planned(*there)), strict=True):
        assert type(one) is type(other)
        assert (other.x - dx, other.y - dy, other.z) == pytest.approx((one.x, one.y, one.z), abs=1e-6)
        if isinstance(one, ArcFeed):
            assert (other.cx - dx, other.cy - dy, other.turn) == pytest.approx((one.cx, one.cy, one.turn), abs=1e-6)


@pytest.mark.parametrize("measured", [6.25, 6.35, 6.41])
def test_the_measured_width_of_the_cutter_counts(measured):
    cutter = replace(QUARTER, measured_diameter_mm=measured)
    motions = motions_of(planned(replace(EDGE, cutter=cutter)))
    assert min(motion.x for motion in motions) == pytest.approx(50 - measured / 2, abs=1e-9)
