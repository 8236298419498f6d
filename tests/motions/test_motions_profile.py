"""Outlines: the part that is left, its tabs or skin, and the order of the cut."""

import math
from dataclasses import replace

import pytest
from motions_bench import (
    BLUNT,
    QUARTER,
    SHEET,
    check_rules,
    cut_by,
    motions_of,
    operation,
    plan_path,
    planned,
    strokes,
    swept_below,
    touched,
)
from shapely import unary_union
from shapely.geometry import box

from rabbetry.geometry.curves import circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.motions.model import ArcFeed, Feed
from rabbetry.motions.tabs import most_tabs, stretch_length
from rabbetry.operations.model import Profile
from rabbetry.shop.model import CutterKind
from shapes import SOUND, rounded_rectangle

T = SHEET.thickness_mm
PLAIN = Profile(
    outline=rectangle(100, 100, 254, 254), inside=False, depth_mm=T + 0.3, thickness_mm=T, climb=True,
    tab_count=0, tab_length_mm=8.0, tab_height_mm=3.0, skin_mm=0.0,
)  # fmt: skip
TABBED = replace(PLAIN, tab_count=4)
BOTTOM = -(T + 0.3)


def full_depth_mm(motions, floor: float = BOTTOM) -> float:
    """Return the length of way round that lies at the floor, each stretch counted once."""
    at_floor = {}
    for m, a, b in strokes(motions):
        if isinstance(m, Feed | ArcFeed) and a[2] == b[2] == floor:
            path = plan_path(m, a)
            at_floor[tuple(round(v, 6) for v in (*a, *b))] = path.length
    return sum(at_floor.values())


def tab_areas(motions, cutter, work: Profile) -> list:
    """Return what of the kerf is not cut through, without the slivers that chords leave."""
    return pieces(touched(motions, cutter).difference(swept_below(motions, cutter, -work.thickness_mm)))


def pieces(area) -> list:
    return [piece for piece in getattr(area, "geoms", [area]) if piece.area > 0.5]


def test_a_part_comes_out_at_its_size():
    # Outline 10 x 10 in, cutter centre 0.125 outside.
    motions = cut_by(PLAIN, kind="profile")
    cut = swept_below(motions, QUARTER, BOTTOM)
    left = box(90, 90, 364, 364).difference(cut)
    part = next(piece for piece in left.geoms if piece.contains(region_polygon(PLAIN.outline).centroid))
    assert part.bounds == pytest.approx((100, 100, 354, 354), abs=0.002)
    assert part.area == pytest.approx(254**2, abs=0.002 * 4 * 254)


def test_the_kerf_round_a_part_is_what_steiner_says():
    # Outside 600 x 400 with D 6.35: P D + pi D^2.
    motions = cut_by(replace(PLAIN, outline=rectangle(30, 40, 600, 400)), kind="profile")
    assert swept_below(motions, QUARTER, BOTTOM).area == pytest.approx(12826.676870, rel=1e-4)


@pytest.mark.parametrize(
    ("inside", "climb", "clockwise"),
    [
        # Clockwise spindle, climb: clockwise round an outside profile, counter-clockwise inside.
        pytest.param(False, True, True, id="outside, climb"),
        pytest.param(False, False, False, id="outside, conventional"),
        pytest.param(True, True, False, id="inside, climb"),
        pytest.param(True, False, True, id="inside, conventional"),
    ],
)
def test_the_way_round(inside, climb, clockwise):
    motions = cut_by(replace(PLAIN, inside=inside, climb=climb), kind="profile")
    area = sum(
        a[0] * b[1] - b[0] * a[1] for m, a, b in strokes(motions) if isinstance(m, Feed | ArcFeed) and a[2] == b[2]
    )
    assert (area < 0) is clockwise


@pytest.mark.parametrize("name", ["rectangle", "notch", "bite and lobe", "rounded rectangle", "circle", "comb", "lens"])
def test_nothing_of_an_awkward_part_is_touched_and_its_outline_is_cut_free(name):
    outline = SOUND[name].outer
    motions = cut_by(replace(PLAIN, outline=outline), kind="profile")
    part = region_polygon(outline)
    cut = swept_below(motions, QUARTER, BOTTOM)
    assert touched(motions, QUARTER).intersection(part).area < 0.003 * outline.length
    reachable = part.buffer(QUARTER.radius_mm, quad_segs=64).exterior
    assert cut.buffer(0.01).covers(reachable)


@pytest.mark.parametrize("cutter", [QUARTER, BLUNT], ids=["centre cutting", "not centre cutting"])
def test_a_tab_has_the_length_and_height_asked_for(cutter):
    # Tab 0.375 in long, 0.12 high, cutter 0.250: raised for 0.625 on the centre line.
    work = replace(TABBED, tab_length_mm=0.375 * 25.4, tab_height_mm=0.12 * 25.4)
    motions = cut_by(work, cutter, kind="profile")
    tabs = tab_areas(motions, cutter, work)
    assert len(tabs) == 4
    for tab in tabs:
        x0, y0, x1, y1 = tab.bounds
        middle = tab.intersection(box(x0, (y0 + y1) / 2 - 0.05, x1, (y0 + y1) / 2 + 0.05)) if x1 - x0 > y1 - y0 else (
            tab.intersection(box((x0 + x1) / 2 - 0.05, y0, (x0 + x1) / 2 + 0.05, y1)))  # fmt: skip
        bounds = middle.bounds
        assert max(bounds[2] - bounds[0], bounds[3] - bounds[1]) == pytest.approx(9.525, abs=0.02)
    raised = [(a, b) for m, a, b in strokes(motions) if a[2] == b[2] == pytest.approx(0.12 * 25.4 - T)]
    lengths = sorted({round(math.dist(a, b), 6) for a, b in raised})
    assert lengths[-1] == pytest.approx(0.625 * 25.4, abs=1e-5)


def test_a_raised_stretch_is_the_tab_and_a_diameter():
    assert stretch_length(9.525, 6.35) == 15.875


def test_tabs_stand_at_the_same_place_in_every_pass():
    work = replace(TABBED, tab_height_mm=9.0)
    motions = cut_by(work, pass_mm=3.0, kind="profile")
    top = 9.0 - T
    deepest = [swept_below(motions, QUARTER, z) for z in (top - 0.5, -T)]
    kerf = touched(motions, QUARTER)
    tabs_high, tabs_low = (pieces(kerf.difference(cut)) for cut in deepest)
    assert len(tabs_low) == len(tabs_high) == 4
    assert unary_union(tabs_low).symmetric_difference(unary_union(tabs_high)).area < 1.0


def test_nothing_lower_than_its_top_is_cut_over_a_tab():
    motions = cut_by(TABBED, kind="profile")
    tabs = tab_areas(motions, QUARTER, TABBED)
    for m, a, b in strokes(motions):
        if isinstance(m, Feed | ArcFeed) and min(a[2], b[2]) < 3.0 - T - 1e-6:
            swept = plan_path(m, a).buffer(QUARTER.radius_mm, quad_segs=64)
            assert all(swept.intersection(tab).area < 0.01 for tab in tabs)


def test_tabs_are_spread_round_the_part_and_kept_off_its_corners():
    tabs = tab_areas(cut_by(TABBED, kind="profile"), QUARTER, TABBED)
    centres = sorted((round(tab.centroid.x), round(tab.centroid.y)) for tab in tabs)
    for x, y in centres:
        near = [math.dist((x, y), corner) for corner in ((100, 100), (354, 100), (354, 354), (100, 354))]
        assert min(near) > 10
    apart = [math.dist(a, b) for a in centres for b in centres if a != b]
    assert min(apart) > 60


@pytest.mark.parametrize("count", [1, 2, 3, 4, 7])
def test_as_many_tabs_are_left_as_were_asked_for(count):
    work = replace(TABBED, tab_count=count)
    tabs = tab_areas(cut_by(work, kind="profile"), QUARTER, work)
    assert len(tabs) == count


@pytest.mark.parametrize("cutter", [QUARTER, BLUNT], ids=["centre cutting", "not centre cutting"])
def test_a_small_disc_with_four_tabs_is_cut_through_at_least_half_way_round(cutter):
    # 2 in disc, four tabs of 0.31 in: (50.8 + 6.35) pi = 179.5 mm round, 4 (7.9 + 6.35) = 57 mm raised.
    work = replace(TABBED, outline=circle(Point(200, 200), 25.4), tab_length_mm=0.31 * 25.4)
    motions = cut_by(work, cutter, kind="profile")
    round_mm = math.pi * 57.15
    assert full_depth_mm(motions) >= round_mm / 2
    tabs = tab_areas(motions, cutter, work)
    assert len(tabs) == 4
    chords = [tab.intersection(circle_line(200, 200, 28.575)).length for tab in tabs]
    assert chords == pytest.approx([0.31 * 25.4] * 4, abs=0.02)


def circle_line(x, y, r):
    return region_polygon(circle(Point(x, y), r), chord_mm=1e-5).exterior


def test_a_tiny_disc_gets_fewer_tabs_and_says_so():
    work = replace(TABBED, outline=circle(Point(200, 200), 8.0))
    result = planned(operation(work, kind="profile"))
    check_rules(result)
    (item,) = result.findings
    assert item.code == "tabs-fewer"
    assert item.message == "A1 side: work: 2 tabs instead of 4, so that the last pass still cuts half the way round"
    assert full_depth_mm(motions_of(result)) >= math.pi * (16 + 6.35) / 2


@pytest.mark.parametrize(
    ("asked", "ring", "stretch", "left"),
    [(4, 180.0, 14.0, 4), (4, 100.0, 14.0, 3), (4, 20.0, 14.0, 1), (0, 180.0, 14.0, 0), (1, 1.0, 14.0, 1)],
)
def test_never_fewer_than_one_tab(asked, ring, stretch, left):
    assert most_tabs(asked, ring, stretch) == left


def test_a_skin_is_left_everywhere_instead_of_tabs():
    work = replace(TABBED, skin_mm=0.4)
    motions = cut_by(work, kind="profile")
    assert min(m.z for m in motions) == pytest.approx(-(T - 0.4), abs=1e-9)
    assert full_depth_mm(motions, min(m.z for m in motions)) >= 4 * 254 + 6.35 * math.pi - 0.01


def test_the_last_pass_goes_the_allowance_below_the_stock():
    # Allowance 0.02 in.
    work = replace(PLAIN, depth_mm=T + 0.508)
    assert min(m.z for m in cut_by(work, kind="profile")) == -(T + 0.508)


def test_a_tab_on_a_rounded_corner_follows_the_outline():
    work = replace(TABBED, outline=rounded_rectangle(60, 60, 29), tab_count=3)
    motions = cut_by(work, kind="profile")
    assert touched(motions, QUARTER).intersection(region_polygon(work.outline)).area < 0.1
    raised = [m for m, a, b in strokes(motions) if isinstance(m, ArcFeed) and a[2] == b[2] == 3.0 - T]
    assert raised


def test_a_cut_out_narrower_than_the_cutter_is_an_error():
    work = replace(PLAIN, outline=rectangle(100, 100, 60, 6.0), inside=True)
    (item,) = planned(operation(work, kind="cut-out")).findings
    assert item.message == "A1 side: work: the opening at (100.000, 100.000) is narrower than cutter 1 (6.35 mm)"


def test_a_cut_out_with_a_narrow_waist_is_cut_in_two_rings_with_a_lift():
    waist = polygon([(0, 0), (60, 0), (60, 27), (80, 27), (80, 0), (140, 0), (140, 60), (80, 60), (80, 33), (60, 33),
                     (60, 60), (0, 60)])  # fmt: skip
    motions = cut_by(replace(PLAIN, outline=waist, inside=True), kind="cut-out")
    assert touched(motions, QUARTER).difference(region_polygon(waist)).area < 0.5


def test_one_pass_round_takes_the_length_of_the_ring():
    # 2 (600 + 400) + pi 6.35 at 3600 mm/min is 33.665819 s: the length alone here.
    motions = cut_by(replace(PLAIN, outline=rectangle(30, 40, 600, 400)), kind="profile", pass_mm=6.1)
    floors = sorted({m.z for m in motions if m.z < 0})
    lap = sum(plan_path(m, a).length for m, a, b in strokes(motions) if a[2] == b[2] == floors[0])
    assert lap == pytest.approx(33.665819 * 60, abs=0.01)


def test_a_compression_cutters_first_pass_goes_past_its_up_cut_tip():
    # 12.1 in passes of 6.35 at most: two of 6.05 would stay within 6.1; 6.3 (0.2 past it) and 5.8 do not.
    cutter = replace(QUARTER, kind=CutterKind.COMPRESSION, up_cut_length_mm=6.1)
    motions = cut_by(replace(PLAIN, depth_mm=12.1, thickness_mm=11.8), cutter, kind="profile")
    floors = sorted({round(b[2], 6) for m, a, b in strokes(motions) if a[2] == b[2] < 0}, reverse=True)
    assert floors == pytest.approx([-6.3, -12.1])


RABBETED = region_polygon(rectangle(100, 340, 254, 14)).union(region_polygon(rectangle(170, 100, 18, 254)))
"""A rabbet along the upper edge of the plain part, and a dado from edge to edge."""


@pytest.mark.parametrize("count", [4, 5, 6])
def test_tabs_stand_clear_of_rabbets_and_of_the_ends_of_dados(count):
    work = replace(PLAIN, tab_count=count, weak=RABBETED, tab_length_mm=6.0)
    tabs = tab_areas(cut_by(work, kind="profile"), QUARTER, work)
    assert len(tabs) == count
    # The wood that a tab hangs on, 6 mm and no cutter's round, is 5 mm away from any recess.
    assert min(tab.buffer(-1.0).distance(RABBETED) for tab in tabs) >= 5.0
    middles = [tab.centroid for tab in tabs]
    assert min(a.distance(b) for a in middles for b in middles if a is not b) > 6.0 + 6.35
    corners = [(100, 100), (354, 100), (354, 354), (100, 354)]
    assert min(math.dist((m.x, m.y), corner) for m in middles for corner in corners) > 6.35


def test_a_strip_with_a_rabbet_along_both_long_edges_keeps_its_tabs_there():
    # Nowhere else within a tab's share of the way: thin wood holds better than nothing.
    strip = replace(PLAIN, outline=rectangle(100, 100, 600, 60), tab_count=4)
    weak = region_polygon(rectangle(100, 100, 600, 10)).union(region_polygon(rectangle(100, 150, 600, 10)))
    work = replace(strip, weak=weak)
    tabs = tab_areas(cut_by(work, kind="profile"), QUARTER, work)
    assert len(tabs) == 4
    assert sum(150 < tab.centroid.x < 650 for tab in tabs) >= 2


def test_no_tab_holds_on_to_waste_that_is_chips_already():
    # All along the lower edge but its ends, where a tab would stand otherwise.
    void = region_polygon(rectangle(125, 60, 204, 40 - 6.35))
    plain = tab_areas(cut_by(replace(PLAIN, tab_count=5), kind="profile"), QUARTER, PLAIN)
    assert any(tab.distance(void) < 1.0 for tab in plain)
    work = replace(PLAIN, tab_count=5, void=void)
    tabs = tab_areas(cut_by(work, kind="profile"), QUARTER, work)
    assert len(tabs) == 5
    assert all(tab.distance(void) > 1.0 for tab in tabs)
