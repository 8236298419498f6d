"""The finishing lap of a profile: what roughing leaves, the full-depth edge, and the ways to it and back."""

import math
from dataclasses import replace

import pytest
from motions_bench import (
    BLUNT,
    QUARTER,
    SHEET,
    check_rules,
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

from rabbetry.geometry.curves import circle, rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.motions.model import ArcFeed, Feed
from rabbetry.operations.model import Profile
from shapes import SOUND, rounded_rectangle

T, R, ALLOWANCE = SHEET.thickness_mm, QUARTER.radius_mm, 0.25
PLAIN = Profile(
    outline=rectangle(100, 100, 200, 150), inside=False, depth_mm=T + 0.3, thickness_mm=T, climb=True, tab_count=0,
    tab_length_mm=8.0, tab_height_mm=3.0, skin_mm=0.0, finish_mm=ALLOWANCE,
)  # fmt: skip
TABBED = replace(PLAIN, tab_count=4)
SHAPES = {
    "rectangle": rectangle(100, 100, 200, 150),
    "rounded": rounded_rectangle(120, 90, 25),
    "disc": circle(Point(200, 200), 40),
    "notched": SOUND["notch"].outer,
    "bite and lobe": SOUND["bite and lobe"].outer,
}
HOW = [
    pytest.param({}, id="last pass"),
    pytest.param({"own_finish": True}, id="own pass"),
    pytest.param({"inside": True}, id="opening"),
    pytest.param({"climb": False}, id="conventional"),
    pytest.param({"skin_mm": 0.4}, id="skin"),
    pytest.param({"tab_count": 4}, id="tabs"),
    pytest.param({"tab_count": 3, "own_finish": True}, id="tabs and own pass"),
]


def cut(work, cutter=QUARTER, **more):
    result = planned(operation(work, cutter, kind="profile", **more))
    check_rules(result)
    return motions_of(result)


def feeds(motions):
    return [(m, a, b) for m, a, b in strokes(motions) if isinstance(m, Feed | ArcFeed) and min(a[2], b[2]) < 0]


def edge_of(work):
    return region_polygon(work.outline).exterior


@pytest.mark.parametrize("how", HOW)
@pytest.mark.parametrize("name", sorted(SHAPES))
def test_the_part_keeps_its_size_and_the_kerf_is_wider_by_the_allowance_at_most(name, how):
    work = replace(PLAIN, outline=SHAPES[name], **how)
    motions = cut(work)
    part = region_polygon(work.outline)
    kept = part if not work.inside else box(-200, -200, 600, 600).difference(part)
    kerf = part.buffer(2 * R + ALLOWANCE, quad_segs=64).difference(part)
    if work.inside:
        kerf = part.difference(part.buffer(-2 * R - ALLOWANCE, quad_segs=64))
    cut_area = touched(motions, QUARTER)
    assert cut_area.intersection(kept).area < 0.003 * part.length
    assert cut_area.difference(kerf).buffer(-0.005).is_empty
    # At the last floor the cutter's centre ran along the edge all the way, tabs left out.
    floor = min(b[2] for _, _, b in feeds(motions))
    ring = part.buffer(R, quad_segs=64).exterior if not work.inside else part.buffer(-R, quad_segs=64).exterior
    way = unary_union([plan_path(m, a).buffer(0.01) for m, a, b in feeds(motions) if a[2] == b[2] == floor])
    missing = ring.difference(way).length
    assert missing < 0.05 if not work.tab_count else missing < work.tab_count * 25


@pytest.mark.parametrize("name", sorted(SHAPES))
def test_every_way_down_and_every_pass_but_the_last_stays_the_allowance_off_the_edge(name):
    work = replace(PLAIN, outline=SHAPES[name])
    motions = cut(work)
    floor = min(b[2] for _, _, b in feeds(motions))
    early = [plan_path(m, a) for m, a, b in feeds(motions) if b[2] > floor or a[2] > b[2] + 1e-9]
    nearest = min(path.distance(edge_of(work)) for path in early)
    assert nearest == pytest.approx(R + ALLOWANCE, abs=0.002)


@pytest.mark.parametrize("name", ["rectangle", "rounded", "disc"])
def test_a_finishing_pass_of_its_own_takes_nothing_but_the_allowance(name):
    work = replace(PLAIN, outline=SHAPES[name], own_finish=True)
    motions = cut(work)
    floor = min(b[2] for _, _, b in feeds(motions))
    along = [
        plan_path(m, a).distance(edge_of(work)) < R + ALLOWANCE / 2
        and a[2] == b[2] == floor
        for m, a, b in feeds(motions)
    ]  # fmt: skip
    first = along.index(True)
    before = [paths for k, paths in enumerate(feeds(motions)) if k < first]
    roughed = unary_union([plan_path(m, a).buffer(R, quad_segs=64) for m, a, b in before if a[2] == b[2] == floor])
    part = region_polygon(work.outline)
    kerf = part.buffer(2 * R, quad_segs=64).difference(part.buffer(ALLOWANCE + 0.005, quad_segs=64))
    assert kerf.difference(roughed).buffer(-0.02).is_empty


def test_the_leads_meet_a_straight_edge_at_under_six_degrees():
    motions = cut(PLAIN)
    slants = []
    for m, a, b in feeds(motions):
        near = [abs(edge_of(PLAIN).distance(plan_path(m, a).interpolate(end, normalized=True)) - R) for end in (0, 1)]
        if isinstance(m, Feed) and a[2] == b[2] and abs(near[0] - near[1]) > ALLOWANCE / 2:
            slants.append(math.degrees(math.asin(ALLOWANCE / math.dist(a[:2], b[:2]))))
    assert len(slants) == 2
    assert max(slants) < 6.0


@pytest.mark.parametrize("cutter", [QUARTER, BLUNT], ids=["centre cutting", "not centre cutting"])
@pytest.mark.parametrize("height", [3.0, 9.0])
@pytest.mark.parametrize("own", [False, True])
def test_tabs_keep_their_length_and_height_beside_both_rings(cutter, height, own):
    work = replace(TABBED, tab_height_mm=height, own_finish=own)
    motions = cut(work, cutter, pass_mm=4.0)
    kerf = edge_of(work).buffer(2 * R, quad_segs=64).difference(region_polygon(work.outline)).buffer(-0.02)
    tabs = _pieces(kerf.difference(touched(motions, cutter, height - T - 1e-6)))
    assert len(tabs) == len(_pieces(kerf.difference(swept_below(motions, cutter, -T)))) == 4
    for tab in tabs:
        ring = part_ring(work)
        assert ring.intersection(tab).length == pytest.approx(8.0, abs=0.05)
        assert tab.difference(swept_below(motions, cutter, height - T + 1e-6)).buffer(-0.02).is_empty


def part_ring(work):
    return region_polygon(work.outline).buffer(R, quad_segs=64).exterior


def _pieces(area):
    return [piece for piece in getattr(area, "geoms", [area]) if piece.area > 0.5]


def test_a_lead_keeps_clear_of_the_tabs():
    # Tabs so close that the first straight is full: leads go where none is.
    work = replace(TABBED, outline=rectangle(100, 100, 60, 40), tab_count=3)
    motions = cut(work)
    floor = min(b[2] for _, _, b in feeds(motions))
    for m, a, b in feeds(motions):
        ends = [edge_of(work).distance(plan_path(m, a).interpolate(end, normalized=True)) for end in (0, 1)]
        if a[2] == b[2] and abs(ends[0] - ends[1]) > ALLOWANCE / 2:
            assert a[2] == floor


def test_an_opening_that_the_wider_ring_does_not_fit_is_cut_along_its_edge_alone():
    # 6.6 wide: the cutter has 0.125 to either side, less than the allowance.
    work = replace(PLAIN, outline=rectangle(100, 100, 60, 6.6), inside=True)
    motions = cut(work)
    assert {round(edge_of(work).distance(plan_path(m, a)), 3) for m, a, b in feeds(motions)} == {R}
