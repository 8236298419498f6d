"""Slots followed on their centre line."""

import math

import pytest
from motions_bench import BLUNT, QUARTER, check_rules, cut_by, operation, planned, strokes, swept_below, touched

from rabbetry.geometry.curves import Arc, Contour, Line
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.motions.model import ArcFeed, Feed
from rabbetry.operations.model import CentreLine, Clearing
from shapes import slot

LONG = Contour((Line(Point(-4, 30), Point(404, 30)),))
CURVED = Contour((Line(Point(50, 50), Point(80, 50)), Arc(Point(80, 50), Point(100, 70), Point(80, 70), 1),
                  Line(Point(100, 70), Point(100, 90))))  # fmt: skip


@pytest.mark.parametrize("cutter", [QUARTER, BLUNT], ids=["centre cutting", "not centre cutting"])
@pytest.mark.parametrize("depth", [6.0, 12.7, 17.0])
def test_a_groove_of_the_cutters_width_is_cut_at_full_length_and_depth(cutter, depth):
    # 0.250 in groove, 0.250 in cutter: capsule L 408, D 6.35, area D L + pi D^2/4.
    motions = cut_by(CentreLine(path=LONG, depth_mm=depth), cutter, kind="groove")
    capsule = 6.35 * 408 + math.pi * 6.35**2 / 4
    assert swept_below(motions, cutter, -depth).area == pytest.approx(capsule, rel=1e-4)
    assert touched(motions, cutter).area == pytest.approx(capsule, rel=1e-4)


def test_every_pass_of_a_groove_covers_its_whole_length():
    motions = cut_by(CentreLine(path=LONG, depth_mm=17.0), kind="groove")
    for floor in (-17.0 / 3, -17.0 * 2 / 3, -17.0):
        xs = [x for m, a, b in strokes(motions) if isinstance(m, Feed) and a[2] == b[2] == floor for x in (a[0], b[0])]
        assert (min(xs), max(xs)) == (-4, 404)


@pytest.mark.parametrize(
    ("length", "diameter", "area"),
    [
        # Capsule: pi D^2/4 + D L.
        pytest.param(100.0, 6.35, 666.669217, id="100 long"),
        pytest.param(42.0, 6.35, math.pi * 6.35**2 / 4 + 42 * 6.35, id="shorter than its ramp"),
        pytest.param(3.0, 6.35, math.pi * 6.35**2 / 4 + 3 * 6.35, id="shorter than the cutter"),
    ],
)
def test_a_slot_sweeps_the_area_of_a_capsule(length, diameter, area):
    path = Contour((Line(Point(70, 50), Point(70 + length, 50)),))
    motions = cut_by(CentreLine(path=path, depth_mm=6.0), BLUNT, kind="groove")
    assert swept_below(motions, BLUNT, -6.0).area == pytest.approx(area, rel=1e-4)


def test_a_slot_wider_than_the_cutter_is_cleared_to_its_capsule():
    # 50 long overall, 8 wide: capsule L 42, D 8.
    outline = slot(42, 8, 100, 100)
    motions = cut_by(Clearing(region=outline, islands=(), depth_mm=5.0))
    assert swept_below(motions, QUARTER, -5.0).area == pytest.approx(386.265482, rel=1e-4)
    assert outline.length == pytest.approx(109.132741, abs=1e-6)


def test_a_curved_groove_keeps_its_arc():
    motions = cut_by(CentreLine(path=CURVED, depth_mm=6.0), kind="groove")
    arcs = [motion for motion in motions if isinstance(motion, ArcFeed)]
    assert arcs
    assert {(motion.cx, motion.cy) for motion in arcs} == {(80, 70)}


def test_a_groove_a_hair_wider_than_the_cutter_is_finished_to_width_without_hair_thin_loops():
    # 0.260 in groove, 0.250 in cutter.
    width = 0.26 * 25.4
    region = slot(300, width, 60, 80)
    motions = cut_by(Clearing(region=region, islands=(), depth_mm=6.0))
    cut = swept_below(motions, QUARTER, -6.0)
    x0, y0, x1, y1 = cut.bounds
    assert y1 - y0 == pytest.approx(width, abs=0.002)
    assert x1 - x0 == pytest.approx(300 + width, abs=0.002)
    assert cut.symmetric_difference(region_polygon(region)).area < 0.002 * region.length
    assert all(math.dist(a, b) > 0.005 for m, a, b in strokes(motions) if isinstance(m, Feed | ArcFeed))


def test_a_pass_ramps_down_at_the_ramp_angle():
    # 6 mm at 3 degrees: d / tan(angle) = 114.486820.
    result = planned(operation(CentreLine(path=LONG, depth_mm=6.0), kind="groove"))
    check_rules(result)
    (run,) = result.plan.runs
    ramps = [
        (a, b) for m, a, b in strokes(run.steps[0].motions) if isinstance(m, Feed) and a[2] > b[2] and a[0] != b[0]
    ]
    assert sum(math.dist(a[:2], b[:2]) for a, b in ramps) == pytest.approx(114.486820, abs=1e-6)
