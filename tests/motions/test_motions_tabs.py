"""Tabs between neighbouring parts: kerfs overlap there, so one profile must not cut off what the other left."""

from dataclasses import replace

import pytest
from motions_bench import BLUNT, QUARTER, SHEET, check_rules, motions_of, operation, planned, swept_below
from shapely import line_merge, unary_union
from shapely.geometry import box

from rabbetry.geometry.curves import circle, rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.operations.model import Profile

T = SHEET.thickness_mm
GAP = 6.35 + 2.0


def profile(outline, tabs: int = 4, **more) -> Profile:
    plain = Profile(
        outline=outline, inside=False, depth_mm=T + 0.3, thickness_mm=T, climb=True, tab_count=tabs, tab_length_mm=8.0,
        tab_height_mm=3.0, skin_mm=0.0,
    )  # fmt: skip
    return replace(plain, **more)


def pair(gap: float):
    return [rectangle(50, 60, 300, 200), rectangle(50 + 300 + gap, 60, 280, 240)]


def grid():
    """Four parts of unlike sizes, with corners that meet edges."""
    return [
        rectangle(50, 60, 300, 200),
        rectangle(50 + 300 + GAP, 60, 280, 240),
        rectangle(50, 60 + 200 + GAP, 180, 260),
        rectangle(50 + 180 + GAP, 60 + 240 + GAP, 333, 120),
    ]


LAYOUTS = {
    "two side by side": pair(GAP),
    "two sharing one kerf": pair(6.35),
    "two a web apart": pair(2 * 6.35 + 3),
    "grid": grid(),
    "strips": [rectangle(50, 60 + k * (70 + GAP), 500, 70) for k in range(4)],
    "disc beside a board": [rectangle(50, 60, 300, 200), circle(Point(50 + 300 + GAP + 60, 160), 60)],
}


def bridges(outlines, cutter, tabs: int = 7):
    """Return the wood left between the parts after all profiles, and the parts with the frame round them."""
    result = planned(*(operation(profile(outline, tabs), cutter, kind="profile") for outline in outlines))
    assert result.findings == ()
    check_rules(result)
    gone = swept_below(motions_of(result), cutter, -T)
    parts = [region_polygon(outline) for outline in outlines]
    for part in parts:
        assert gone.intersection(part).area < 0.003 * part.length
    left = box(0, 0, 1220, 1210).difference(unary_union([gone, *(part.buffer(0.01) for part in parts)]))
    loose = [piece for piece in getattr(left, "geoms", [left]) if piece.area > 0.5]
    return loose, parts


@pytest.mark.parametrize("cutter", [QUARTER, BLUNT], ids=["centre cutting", "not centre cutting"])
@pytest.mark.parametrize("name", sorted(LAYOUTS))
def test_every_tab_joins_a_part_to_another_part_or_to_the_frame(name, cutter):
    loose, parts = bridges(LAYOUTS[name], cutter)
    for piece in loose:
        at = [part for part in parts if part.distance(piece) < 0.05]
        assert piece.area > 1000 or len(at) == 2 or not at, f"a stub at {piece.centroid}"


@pytest.mark.parametrize("name", sorted(LAYOUTS))
def test_every_part_is_held_by_two_tabs_at_least(name):
    loose, parts = bridges(LAYOUTS[name], QUARTER, tabs=3)
    for part in parts:
        holds = part.boundary.buffer(1.0).difference(part).intersection(unary_union(loose))
        assert len([piece for piece in getattr(holds, "geoms", [holds]) if piece.area > 0.5]) >= 2


def test_a_shared_tab_is_as_long_as_asked_on_both_sides():
    loose, parts = bridges(pair(GAP), QUARTER)
    left, right = parts
    shared = [
        piece for piece in loose if left.distance(piece) < 0.05 and right.distance(piece) < 0.05 and piece.area < 1000
    ]
    assert shared
    for piece in shared:
        for x in (350 + 3.175, 350 + GAP - 3.175):
            narrowest = piece.intersection(box(x - 0.01, 0, x + 0.01, 1000)).bounds
            assert narrowest[3] - narrowest[1] == pytest.approx(8.0, abs=0.02)


def test_a_tab_of_a_small_part_at_a_corner_of_two_neighbours_is_whole():
    # The small ones are cut first, and most of their edges face two neighbours at once.
    outlines = [
        rectangle(359, 325, 29, 52.89),
        rectangle(359, 325 + 52.89 + GAP, 29, 52.89),
        rectangle(50, 60, 350, 265 - GAP),
        rectangle(50, 325, 309 - GAP, 400),
    ]
    result = planned(*(operation(profile(outline, 3), QUARTER, kind="profile") for outline in outlines))
    gone = swept_below(motions_of(result), QUARTER, -T)
    for outline in outlines:
        ring = region_polygon(outline).buffer(QUARTER.radius_mm, quad_segs=64).boundary
        left = [piece.length for piece in line_merge(ring.difference(gone)).geoms if piece.length > 0.05]
        assert left == pytest.approx([8.0] * len(left), abs=0.05)
        assert len(left) >= 3


def test_a_part_with_a_skin_takes_no_tabs_from_its_neighbour():
    first, second = pair(GAP)
    work = (profile(first), profile(second, skin_mm=0.4))
    result = planned(*(operation(one, kind="profile") for one in work))
    second_step = result.plan.runs[0].steps[1]
    floor = min(motion.z for motion in second_step.motions)
    assert floor == pytest.approx(-(T - 0.4))
    assert not [motion for motion in second_step.motions if motion.z == 3.0 - T]


@pytest.mark.parametrize("wide", [6.35, 12.7])
@pytest.mark.parametrize("size", [(21.0, 26.0), (26.0, 21.0), (30.0, 22.0), (18.0, 20.0)])
def test_a_tab_round_the_corner_of_a_small_part_is_as_long_as_asked(size: tuple[float, float], wide: float) -> None:
    part, cutter = rectangle(100, 100, *size), replace(QUARTER, diameter_mm=wide)
    result = planned(operation(profile(part, 3), cutter, kind="profile"))
    ring = region_polygon(part).buffer(wide / 2, quad_segs=64).boundary
    left = ring.difference(swept_below(motions_of(result), cutter, -T + 0.01).buffer(1e-4))
    merged = line_merge(left) if left.geom_type != "LineString" else left
    lengths = [line.length for line in getattr(merged, "geoms", [merged])]
    assert lengths
    assert lengths == [pytest.approx(8.0, abs=0.02)] * len(lengths)
