"""Drilled and bored holes. Numbers by arithmetic from the hole, the cutter and the pitch."""

import math
from itertools import pairwise

import pytest
from motions_bench import (
    BLUNT,
    DRILL,
    EIGHTH,
    QUARTER,
    cut_by,
    motions_of,
    operation,
    plan_path,
    planned,
    strokes,
    swept_below,
    touched,
)
from shapely.geometry import Point as Disc

from rabbetry.geometry.points import Point
from rabbetry.motions.bore import spiral_pitch, spiral_radii
from rabbetry.motions.model import ArcFeed, DrillHole, Feed
from rabbetry.operations.model import Drilling, SpiralBore

HERE, THERE = Point(60.0, 45.0), Point(260.0, 145.5)
CUP = SpiralBore(centres=(HERE,), diameter_mm=35.0, depth_mm=12.5)


def helices(motions, centre: Point) -> dict[float, float]:
    """Return the length in space of all descending arcs about the centre, by radius."""
    lengths: dict[float, float] = {}
    for motion, start, end in strokes(motions):
        if isinstance(motion, ArcFeed) and end[2] < start[2] - 1e-9 and (motion.cx, motion.cy) == (centre.x, centre.y):
            radius = round(math.dist(start[:2], (motion.cx, motion.cy)), 6)
            lengths[radius] = lengths.get(radius, 0.0) + math.hypot(plan_path(motion, start).length, end[2] - start[2])
    return lengths


def test_a_cup_is_bored_by_a_helix_of_the_right_radius_and_length():
    # (35 - 6.35)/2; 12.5 deep at pitch 2: 6.25 turns, sqrt((2 pi r n)^2 + 12.5^2); floor circle 2 pi r.
    motions = cut_by(CUP, pass_mm=2.0)
    lengths = helices(motions, HERE)
    assert max(lengths) == 14.325
    assert lengths[14.325] == pytest.approx(562.680296, abs=0.01)
    floor = [
        plan_path(motion, start).length
        for motion, start, end in strokes(motions)
        if isinstance(motion, ArcFeed) and start[2] == end[2] == -12.5
        and round(math.dist(start[:2], (motion.cx, motion.cy)), 6) == 14.325
    ]  # fmt: skip
    assert sum(floor) == pytest.approx(90.006630, abs=0.01)


def test_a_cup_is_flat_and_without_ribs():
    motions = cut_by(CUP)
    # 12.5 deep everywhere: pi r^2 of 35 mm.
    assert swept_below(motions, QUARTER, -12.5).area == pytest.approx(962.112750, rel=1e-4)
    assert touched(motions, QUARTER).area == pytest.approx(962.112750, rel=1e-4)


@pytest.mark.parametrize(
    ("diameter", "cutter"),
    [
        pytest.param(5.0, EIGHTH, id="shelf pin"),
        pytest.param(6.4, QUARTER, id="slightly wider than the cutter"),
        pytest.param(6.36, QUARTER, id="a hair wider than the cutter, centre cutting"),
        pytest.param(8.0, BLUNT, id="not centre cutting"),
        pytest.param(12.7, QUARTER, id="twice the cutter"),
        pytest.param(12.8, QUARTER, id="just over twice the cutter"),
        pytest.param(76.2, QUARTER, id="three inches"),
    ],
)
def test_a_bored_hole_is_its_disc_and_nothing_else(diameter, cutter):
    motions = cut_by(SpiralBore(centres=(HERE, THERE), diameter_mm=diameter, depth_mm=12.0), cutter)
    discs = (
        Disc(HERE.x, HERE.y)
        .buffer(diameter / 2, quad_segs=200)
        .union(Disc(THERE.x, THERE.y).buffer(diameter / 2, quad_segs=200))
    )
    assert swept_below(motions, cutter, -12.0).symmetric_difference(discs).area < 0.006 * discs.length
    assert touched(motions, cutter).difference(discs).area < 1e-3 * discs.area


def test_a_shelf_pin_hole_is_bored_at_the_radius_left_by_the_cutter():
    # (5 - 3.175)/2.
    motions = cut_by(SpiralBore(centres=(HERE,), diameter_mm=5.0, depth_mm=12.0), EIGHTH)
    assert list(helices(motions, HERE)) == [0.9125]
    assert min(motion.z for motion in motions) == -12.0


def test_a_helix_descends_no_faster_than_a_pass_and_the_ramp_allow():
    one = operation(CUP, pass_mm=2.0)
    assert spiral_pitch(14.325, one) == 2.0
    assert spiral_pitch(2.0, one) == pytest.approx(2 * math.pi * 2.0 * math.tan(math.radians(3)))


@pytest.mark.parametrize("radius", [0.5, 3.0, 3.2, 9.0, 14.325, 40.0])
def test_neighbouring_spirals_leave_no_core_and_no_rib(radius):
    one = operation(CUP)
    radii = spiral_radii(radius, one)
    assert radii[-1] == radius
    assert radii[0] < QUARTER.radius_mm
    assert all(b - a <= one.stepover_mm + 1e-9 for a, b in pairwise(radii))


def test_a_hole_of_the_cutters_own_diameter_is_plunged_in_bites():
    motions = cut_by(SpiralBore(centres=(HERE, THERE), diameter_mm=6.35, depth_mm=18.1), QUARTER, pass_mm=4.0)
    assert [type(motion) for motion in motions] == [DrillHole, DrillHole]
    assert {motion.peck_mm for motion in motions} == {4.0}


def test_drilled_holes_keep_their_order_and_go_to_depth():
    motions = cut_by(Drilling(centres=(THERE, HERE), depth_mm=12.0), DRILL, kind="drill")
    assert [(motion.x, motion.y, motion.z, motion.peck_mm) for motion in motions] == [
        (260.0, 145.5, -12.0, 0.0),
        (60.0, 45.0, -12.0, 0.0),
    ]
    assert all(motion.feed_mm_per_min == 700.0 and 0 < motion.retract_z < motion.clear_z for motion in motions)


def test_a_hole_deeper_than_three_diameters_is_drilled_in_pecks():
    (deep,) = cut_by(Drilling(centres=(HERE,), depth_mm=18.1), DRILL, kind="drill")
    assert deep.peck_mm == 5.0


def test_an_end_mill_used_as_a_drill_takes_a_limited_bite():
    result = planned(operation(Drilling(centres=(HERE,), depth_mm=18.1), QUARTER, kind="drill", pass_mm=3.0))
    (hole,) = motions_of(result)
    assert hole.peck_mm == 3.0


def test_a_bored_hole_is_left_through_its_middle():
    motions = cut_by(CUP)
    feeds = [motion for motion in motions if isinstance(motion, Feed)]
    assert (feeds[-1].x, feeds[-1].y) == (HERE.x, HERE.y)


@pytest.mark.parametrize(
    "work", [Drilling(centres=(HERE,), depth_mm=12.0), SpiralBore(centres=(HERE,), diameter_mm=6.35, depth_mm=12.0)]
)
def test_a_cutter_that_may_not_go_straight_down_drills_nothing(work):
    result = planned(operation(work, BLUNT))
    assert result.plan.runs == ()
    (item,) = result.findings
    assert (item.severity, item.code) == ("error", "no-room-for-cutter")
