"""Recesses cleared by rings: what is swept, measured with shapely."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from motions_bench import (
    BLUNT,
    EIGHTH,
    QUARTER,
    check_rules,
    cut_by,
    motions_of,
    operation,
    planned,
    strokes,
    swept_below,
    touched,
)
from shapely.geometry import Point as Disc

from rabbetry.geometry.curves import circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import grown, region_polygon
from rabbetry.motions.model import ArcFeed, Feed, Traverse
from rabbetry.operations.model import Clearing
from shapes import SOUND, lens, necked, rounded_rectangle

DEPTH = 9.0


def check_cleared(region, islands, cutter, **settings) -> None:
    """The floor must be all the cutter can reach, and nothing outside the region may be touched."""
    result = planned(operation(Clearing(region=region, islands=islands, depth_mm=DEPTH), cutter, **settings))
    check_rules(result)
    motions = motions_of(result)
    wanted = region_polygon(region, islands)
    reachable = grown(grown(wanted, -cutter.radius_mm), cutter.radius_mm)
    if not motions:
        assert reachable.is_empty
        assert [item.code for item in result.findings] == ["no-room-for-cutter"]
        return
    assert result.findings == ()
    assert grown(reachable.difference(swept_below(motions, cutter, -DEPTH)), -0.005).is_empty
    assert grown(touched(motions, cutter).difference(wanted), -0.003).is_empty


@pytest.mark.parametrize("cutter", [QUARTER, BLUNT, EIGHTH], ids=["quarter", "not centre cutting", "eighth"])
@pytest.mark.parametrize("name", sorted(SOUND))
def test_every_awkward_shape_is_cleared_and_nothing_else_is_touched(name, cutter):
    check_cleared(SOUND[name].outer, SOUND[name].islands, cutter)


@pytest.mark.parametrize(
    "outline",
    [
        pytest.param(circle(Point(100, 100), 65), id="large circle"),
        pytest.param(rounded_rectangle(150, 110, 50), id="large radius"),
        pytest.param(lens(90, 45), id="large lens"),
    ],
)
def test_a_large_round_recess_keeps_no_core(outline):
    check_cleared(outline, (), QUARTER)


@pytest.mark.parametrize("stepover", [0.1, 0.5, 0.75, 0.95, 1.2])
@pytest.mark.parametrize("name", ["rectangle", "triangle with a sharp corner", "square island, off centre", "circle"])
def test_no_stepover_leaves_ribs(name, stepover):
    check_cleared(SOUND[name].outer, SOUND[name].islands, QUARTER, stepover_mm=stepover * 6.35)


@settings(max_examples=25, deadline=None)
@given(
    reaches=st.lists(st.integers(6, 60), min_size=3, max_size=9),
    cutter=st.sampled_from([QUARTER, BLUNT, EIGHTH]),
)
def test_every_star_is_cleared_and_nothing_else_is_touched(reaches, cutter):
    corners = [(r * math.cos(2 * math.pi * k / len(reaches)), r * math.sin(2 * math.pi * k / len(reaches)))
               for k, r in enumerate(reaches)]  # fmt: skip
    check_cleared(polygon(corners), (), cutter)


def test_two_squares_joined_by_a_narrow_neck_are_both_cleared_with_a_lift_between():
    # Two 1.5 in squares, 0.2 in neck.
    motions = cut_by(Clearing(region=necked(38.1, 5.08, 12), islands=(), depth_mm=5.0))
    cut = swept_below(motions, QUARTER, -5.0)
    assert cut.covers(Disc(19, 19).buffer(12))
    assert cut.covers(Disc(69, 19).buffer(12))
    lifts = [motion for motion in motions if isinstance(motion, Traverse) and motion.z == motions[0].z]
    assert len(lifts) >= 4


@pytest.mark.parametrize(
    ("cutter", "move", "overcut"),
    [
        # Move (sqrt 2 - 1) r along the diagonal; overcut (1 - 1/sqrt 2) r into each wall.
        pytest.param(QUARTER, 1.315128, 0.929936, id="r 3.175"),
        pytest.param(EIGHTH, 1.315128 / 2, 0.929936 / 2, id="r 1.5875"),
        pytest.param(replace(QUARTER, diameter_mm=8.0), 1.656854, (1 - math.sqrt(0.5)) * 4, id="r 4"),
    ],
)
def test_a_relieved_corner_is_overcut_by_the_smallest_amount(cutter, move, overcut):
    corner = Point(100.0, 100.0)
    work = Clearing(region=rectangle(100, 100, 60, 40), islands=(), depth_mm=5.0, relieved_corners=(corner,))
    motions = cut_by(work, cutter)
    cut = swept_below(motions, cutter, -5.0)
    assert cut.distance(Disc(100, 100)) < 1e-6
    assert cut.bounds[0] == pytest.approx(100 - overcut, abs=1e-3)
    assert cut.bounds[1] == pytest.approx(100 - overcut, abs=1e-3)
    assert cut.bounds[2:] == pytest.approx((160, 140), abs=1e-6)
    r = cutter.radius_mm
    out = [math.dist(a, b) for m, a, b in strokes(motions) if math.dist(a[:2], (100 + r, 100 + r)) < 1e-6
           and math.dist(b[:2], (100, 100)) < r + 1e-6]  # fmt: skip
    assert out
    assert out[0] == pytest.approx(move, abs=1e-6)


def test_a_stopped_dado_with_four_relieved_corners_takes_a_square_end():
    # 0.713 x 10 in: no wood is left in the rectangle, and nothing outside but the four reliefs is cut.
    dado = rectangle(50, 60, 254, 0.713 * 25.4)
    corners = tuple(segment.start for segment in dado.segments)
    motions = cut_by(Clearing(region=dado, islands=(), depth_mm=6.0, relieved_corners=corners))
    cut = swept_below(motions, QUARTER, -6.0)
    assert region_polygon(dado).difference(cut).area < 0.005
    # Each relief cuts (pi/2 - 1) r^2 outside, and each leaves the rest of the corner clean.
    assert cut.area - dado.area == pytest.approx(4 * 5.753984 / 1.0, rel=0.02)


def test_a_relief_is_cut_in_every_pass():
    corner = Point(100.0, 100.0)
    work = Clearing(region=rectangle(100, 100, 60, 40), islands=(), depth_mm=12.0, relieved_corners=(corner,))
    motions = cut_by(work, pass_mm=4.0)
    floors = {round(b[2], 6) for m, a, b in strokes(motions) if isinstance(m, Feed)
              and math.dist(b[:2], (100, 100)) < 3.175 + 1e-6}  # fmt: skip
    assert {-4.0, -8.0, -12.0} <= floors


def test_a_corner_that_no_ring_comes_near_is_reported():
    work = Clearing(region=rectangle(0, 0, 60, 40), islands=(), depth_mm=5.0, relieved_corners=(Point(30.0, 20.0),))
    (item,) = planned(operation(work)).findings
    assert item.code == "corner-not-relieved"
    assert (
        item.message == "A1 side: work: the corner at (30.000, 20.000) cannot be relieved: the cutter does not reach it"
    )


@pytest.mark.parametrize(
    ("depth", "limit", "passes", "each"),
    [
        # ceil(total / most), total / passes.
        pytest.param(18.3, 6.35, 3, 6.1, id="18 mm plus 0.3"),
        pytest.param(19.35, 6.0, 4, 4.8375, id="19.05 mm plus 0.3"),
        pytest.param(12.7, 6.35, 2, 6.35, id="exactly two passes"),
        pytest.param(3.0, 6.35, 1, 3.0, id="one pass"),
    ],
)
def test_depth_is_divided_evenly(depth, limit, passes, each):
    motions = cut_by(Clearing(region=rectangle(0, 0, 60, 40), islands=(), depth_mm=depth), pass_mm=limit)
    floors = sorted(
        {round(a[2], 9) for m, a, b in strokes(motions) if isinstance(m, Feed) and a[2] == b[2] < 0}, reverse=True
    )
    assert floors == pytest.approx([-each * k for k in range(1, passes + 1)], abs=1e-9)


def test_walls_are_climb_cut():
    # Clockwise spindle: counter-clockwise inside, clockwise about an island; the wall on the right of the travel.
    motions = cut_by(Clearing(region=rectangle(0, 0, 100, 80), islands=(rectangle(40, 30, 20, 20),), depth_mm=5.0))
    wall = [
        (a, b)
        for m, a, b in strokes(motions)
        if isinstance(m, Feed) and a[2] == b[2] == -5.0 and max(abs(a[1] - 3.175), abs(b[1] - 3.175)) < 1e-6
    ]
    assert wall
    assert all(b[0] > a[0] for a, b in wall)
    about = [
        m for m, a, b in strokes(motions) if isinstance(m, ArcFeed) and (m.cx, m.cy) == (40, 30) and b[2] == a[2] == -5
    ]
    assert about
    assert {m.turn for m in about} == {-1}


def test_an_outline_that_crosses_itself_is_an_error_finding_with_the_place():
    bow_tie = polygon([(0, 0), (100, 100), (100, 0), (0, 100)])
    (item,) = planned(operation(Clearing(region=bow_tie, islands=(), depth_mm=5.0))).findings
    assert (item.severity, item.code) == ("error", "path-not-possible")
    assert item.message == "A1 side: work: an outline crosses or touches itself at (50.0000, 50.0000)"


@pytest.mark.parametrize(
    ("diameter", "centre"),
    [pytest.param(6.35, 2.245064, id="quarter inch"), pytest.param(8.0, 2.828427, id="8 mm")],
)
def test_the_relief_of_a_square_corner_is_cut_from_where_it_just_covers_the_corner(diameter, centre):
    # Centre at r / root two from both walls: the nearest place from which a disc of radius r reaches the vertex.
    work = Clearing(
        region=rectangle(100, 100, 60, 40), islands=(), depth_mm=5.0, relieved_corners=(Point(100.0, 100.0),)
    )
    motions = cut_by(work, replace(QUARTER, diameter_mm=diameter))
    ends = [b for m, a, b in strokes(motions) if isinstance(m, Feed) and b[2] == -5.0]
    nearest = min(ends, key=lambda end: math.dist(end[:2], (100, 100)))
    assert nearest[:2] == pytest.approx((100 + centre, 100 + centre), abs=1e-6)
