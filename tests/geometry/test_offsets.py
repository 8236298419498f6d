"""Offsets against published contours, closed forms, and a second library."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Arc, Contour, Line, chain, circle, polygon, rectangle
from rabbetry.geometry.offsets import offset_rings, simplified
from rabbetry.geometry.points import Point, Transform
from rabbetry.geometry.regions import boundary_lines, distance_mm, grown, region_polygon
from shapes import SOUND, UNSOUND, Shape, lens, necked, rounded_rectangle, slot

R = 3.175

# Contours of the NIST report on the RS274/NGC interpreter, version 3, tables 12 and 13 (appendix B), entry moves
# left out.
TABLE_12 = [
    ((2, 3), (3, 2), (2, 2)), ((3, 2), (3, -1), None), ((3, -1), (2, -2), (2, -1)), ((2, -2), (-2, -2), None),
    ((-2, -2), (-2.6, -0.2), (-2, -1)), ((-2.6, -0.2), (1.4, 2.8), None), ((1.4, 2.8), (2, 3), (2, 2)),
]  # fmt: skip
TABLE_13 = [
    ((2, 3.5), (3.5, 2), (2, 2)), ((3.5, 2), (3.5, -1), None), ((3.5, -1), (2, -2.5), (2, -1)),
    ((2, -2.5), (-2, -2.5), None), ((-2, -2.5), (-2.9, 0.2), (-2, -1)), ((-2.9, 0.2), (1.1, 3.2), None),
    ((1.1, 3.2), (2, 3.5), (2, 2)),
]  # fmt: skip


def clockwise_contour(rows) -> Contour:
    return chain(
        Line(Point(*start), Point(*end)) if centre is None else Arc(Point(*start), Point(*end), Point(*centre), -1)
        for start, end, centre in rows
    )


def same_segments(one: Contour, other: Contour, tolerance: float) -> bool:
    """Tell whether both run through the same segments in the same order, wherever they start."""
    count = len(one.segments)
    return count == len(other.segments) and any(
        all(_same(one.segments[i], other.segments[(i + shift) % count], tolerance) for i in range(count))
        for shift in range(count)
    )


def _same(one, other, tolerance: float) -> bool:
    if type(one) is not type(other) or getattr(one, "turn", 0) != getattr(other, "turn", 0):
        return False
    pairs = [(one.start, other.start), (one.end, other.end)]
    if isinstance(one, Arc):
        pairs.append((one.centre, other.centre))
    return all(a.distance(b) <= tolerance for a, b in pairs)


def test_the_published_pair_of_contours_is_met_arc_by_arc():
    # Tables 12 and 13 of the report; lengths and areas from them by arithmetic.
    part, wanted = clockwise_contour(TABLE_12), clockwise_contour(TABLE_13)
    assert part.length == pytest.approx(18.283185, abs=1e-6)
    (ring,) = offset_rings(part, distance_mm=0.5)
    assert same_segments(ring.reversed(), wanted, 1e-9)
    assert ring.length == pytest.approx(21.424778, abs=1e-6)
    assert ring.area == pytest.approx(31.068583, abs=1e-6)


def test_the_published_pair_is_met_the_other_way_round():
    (ring,) = offset_rings(clockwise_contour(TABLE_13), distance_mm=-0.5)
    assert same_segments(ring.reversed(), clockwise_contour(TABLE_12), 1e-9)


def test_a_rectangle_grows_by_the_formula_of_steiner():
    # A + P r + pi r^2 and P + 2 pi r (Steiner), 600 x 400, 3.175.
    (ring,) = offset_rings(rectangle(0, 0, 600, 400), distance_mm=R)
    assert ring.area == pytest.approx(246381.669217, abs=1e-6)
    assert ring.length == pytest.approx(2019.949113, abs=1e-6)
    assert [type(part) for part in ring.segments].count(Arc) == 4


def test_a_rectangle_shrinks_to_a_rectangle():
    # (a - 2r)(b - 2r).
    (ring,) = offset_rings(rectangle(0, 0, 600, 400), distance_mm=-R)
    assert ring.area == pytest.approx(233690.3225, abs=1e-6)
    assert ring.length == pytest.approx(1974.6, abs=1e-9)
    assert len(ring.segments) == 4


def test_a_kerf_outside_a_rectangle_takes_what_steiner_says():
    outer = rectangle(0, 0, 600, 400)
    (ring,) = offset_rings(outer, distance_mm=6.35)
    assert ring.area - outer.area == pytest.approx(12826.676870, abs=1e-6)


@pytest.mark.parametrize(
    ("radius", "chord", "count", "error", "lost"),
    [
        # N = ceil(pi / acos(1 - e/R)); by arithmetic.
        pytest.param(17.5, 0.01, 93, 0.009984, 0.731761, id="hinge cup"),
        pytest.param(3.175, 0.01, 40, 0.009787, 0.130074, id="quarter inch cutter"),
        pytest.param(100.0, 0.01, 223, 0.009923, 4.156535, id="large circle"),
        pytest.param(17.5, 0.05, 42, 0.048934, 3.584676, id="coarse"),
    ],
)
def test_a_flattened_circle_loses_what_the_sagitta_says(radius, chord, count, error, lost):
    one = Contour((Arc(Point(radius, 0), Point(radius, 0), Point(0, 0), 1),))
    flat = one.flattened(chord)
    assert len(flat) == count
    assert radius * (1 - math.cos(math.pi / count)) == pytest.approx(error, abs=1e-6)
    assert math.pi * radius**2 - polygon(flat).area == pytest.approx(lost, abs=1e-5)


def test_the_sagitta_of_a_chord():
    # R - sqrt(R^2 - c^2/4), chord 10 on R 50.
    half = math.asin(5 / 50)
    rise = 50 * math.cos(half)
    arc = Arc(Point(-5, rise), Point(5, rise), Point(0, 0), -1)
    assert arc.at(0.5).y - arc.start.y == pytest.approx(0.250628, abs=1e-6)


def test_a_circle_stays_a_circle_of_two_arcs():
    (ring,) = offset_rings(circle(Point(3, 4), 17.5), distance_mm=-R)
    assert len(ring.segments) == 2
    assert all(isinstance(part, Arc) and part.centre == Point(3, 4) for part in ring.segments)
    assert ring.length == pytest.approx(2 * math.pi * 14.325, abs=1e-9)


def test_a_neck_narrower_than_the_cutter_splits_the_region_in_two():
    left, right = offset_rings(necked(38.1, 5.08, 12), distance_mm=-R)
    # The cutter noses into the mouth of the neck: up to where it touches both of its corners.
    nose = math.sqrt(R**2 - 2.54**2)
    assert left.bounds == pytest.approx((R, R, 38.1 - nose, 38.1 - R), abs=1e-9)
    assert right.bounds == pytest.approx((50.1 + nose, R, 88.2 - R, 38.1 - R), abs=1e-9)


def test_an_island_leaves_a_clockwise_ring_round_it():
    outside, inside = sorted(
        offset_rings(rectangle(0, 0, 100, 70), [rectangle(15, 20, 25, 25)], distance_mm=-R), key=lambda ring: -ring.area
    )
    assert outside.area == pytest.approx((100 - 6.35) * (70 - 6.35), abs=1e-6)
    assert inside.area == pytest.approx(-(25**2 + 100 * R + math.pi * R**2), abs=1e-6)


def test_a_slot_of_exactly_the_cutters_width_leaves_no_ring():
    assert offset_rings(slot(50, 6.35), distance_mm=-R) == ()
    assert offset_rings(rectangle(0, 0, 80, 6.35), distance_mm=-R) == ()


def test_a_slot_a_hair_wider_leaves_one_hair_thin_exact_ring():
    (ring,) = offset_rings(slot(50, 6.36), distance_mm=-R)
    assert ring.length == pytest.approx(100 + 2 * math.pi * 0.005, abs=1e-6)


def test_a_corner_of_the_cutters_own_radius_becomes_a_point():
    (ring,) = offset_rings(rounded_rectangle(80, 50, R), distance_mm=-R)
    assert len(ring.segments) == 4
    assert ring.area == pytest.approx((80 - 2 * R) * (50 - 2 * R), abs=1e-3)


def test_two_arcs_that_meet_at_a_point_shrink_to_two_arcs():
    (ring,) = offset_rings(lens(60, 12), distance_mm=-R)
    assert sorted(round(part.radius, 9) for part in ring.segments) == [60 - R, 60 - R]
    assert same_segments(ring, lens(60 - R, 12 - R), 1e-9)


@pytest.mark.parametrize("name", sorted(UNSOUND))
def test_an_outline_that_is_not_sound_is_refused_with_its_place(name):
    shape, place = UNSOUND[name]
    with pytest.raises(GeometryError) as caught:
        offset_rings(shape.outer, shape.islands, distance_mm=-1.0)
    assert place in str(caught.value)


def test_a_bow_tie_is_refused_naming_the_crossing():
    with pytest.raises(GeometryError, match=r"crosses or touches itself at \(5\.0000, 5\.0000\)"):
        offset_rings(polygon([(0, 0), (10, 10), (10, 0), (0, 10)]), distance_mm=1.0)


DISTANCES = [R, -R, 0.5, -0.5, 8.0, -6.0325, -8.89, -11.7475]


@pytest.mark.parametrize("distance", DISTANCES)
@pytest.mark.parametrize("name", sorted(SOUND))
def test_every_awkward_shape_has_the_area_the_second_library_measures(name, distance):
    shape = SOUND[name]
    rings = offset_rings(shape.outer, shape.islands, distance_mm=distance)
    measured = grown(region_polygon(shape.outer, shape.islands, chord_mm=0.0005), distance, chord_mm=0.0005)
    length = sum(ring.length for ring in rings)
    assert sum(ring.area for ring in rings) == pytest.approx(measured.area, abs=0.002 * length + 1e-3)


@pytest.mark.parametrize("distance", DISTANCES)
@pytest.mark.parametrize("name", sorted(SOUND))
def test_every_awkward_shape_keeps_its_distance(name, distance):
    shape = SOUND[name]
    check_distance(shape, distance)


def check_distance(shape: Shape, distance: float) -> None:
    boundary = boundary_lines((shape.outer, *shape.islands), chord_mm=1e-5)
    for ring in offset_rings(shape.outer, shape.islands, distance_mm=distance):
        assert ring.is_closed
        for before, after in zip(ring.segments, (*ring.segments[1:], ring.segments[0]), strict=True):
            assert before.end.distance(after.start) < 1e-9
            if isinstance(before, Arc):
                assert before.centre.distance(before.end) == pytest.approx(before.radius, abs=1e-4)
        away = [distance_mm(boundary, part.at(k / 8)) for part in ring.segments for k in range(8)]
        assert min(away) >= abs(distance) - 1e-4
        assert max(away) <= abs(distance) + 1e-4


@pytest.mark.parametrize("name", sorted(SOUND))
def test_arcs_stay_arcs(name):
    shape = SOUND[name]
    elements = sum(len(contour.segments) for contour in (shape.outer, *shape.islands))
    for distance in DISTANCES:
        rings = offset_rings(shape.outer, shape.islands, distance_mm=distance)
        assert sum(len(ring.segments) for ring in rings) <= 2 * elements + 2


@pytest.mark.parametrize("name", sorted(SOUND))
def test_closing_never_removes_and_opening_never_adds(name):
    # Out then in never removes from the set; in then out never adds (mathematical morphology).
    shape = SOUND[name]
    area = region_polygon(shape.outer, shape.islands, chord_mm=1e-5).area
    if not shape.islands:
        closed = [back for ring in offset_rings(shape.outer, distance_mm=R) if ring.area > 0
                  for back in offset_rings(ring, distance_mm=-R)]  # fmt: skip
        assert sum(ring.area for ring in closed) >= area - 0.05
        shrunk = offset_rings(shape.outer, distance_mm=-R)
        opened = [back for ring in shrunk for back in offset_rings(ring, distance_mm=R)]
        assert sum(ring.area for ring in opened) <= area + 0.05


def test_an_opened_convex_corner_has_the_offsets_radius():
    # a b - (4 - pi) r^2 for a rounded rectangle.
    (small,) = offset_rings(rectangle(0, 0, 60, 40), distance_mm=-R)
    (opened,) = offset_rings(small, distance_mm=R)
    assert same_segments(opened, rounded_rectangle(60, 40, R), 1e-9)
    assert opened.area == pytest.approx(60 * 40 - (4 - math.pi) * R**2, abs=1e-9)


def test_a_convex_region_is_returned_by_closing_it():
    (large,) = offset_rings(rectangle(0, 0, 60, 40), distance_mm=R)
    (closed,) = offset_rings(large, distance_mm=-R)
    assert same_segments(closed, rectangle(0, 0, 60, 40), 1e-4)


@st.composite
def star_polygons(draw) -> Contour:
    """A polygon about the origin, never crossing itself, with corners of every kind."""
    count = draw(st.integers(3, 12))
    reaches = draw(st.lists(st.integers(8, 80), min_size=count, max_size=count))
    angles = [2 * math.pi * k / count for k in range(count)]
    return polygon([(reach * math.cos(a), reach * math.sin(a)) for reach, a in zip(reaches, angles, strict=True)])


@settings(max_examples=80, deadline=None)
@given(outline=star_polygons(), distance=st.sampled_from([R, -R, 1.5, -1.5, -6.0, 12.0]))
def test_every_offset_of_a_star_keeps_its_distance_and_area(outline, distance):
    check_distance(Shape(outline), distance)
    rings = offset_rings(outline, distance_mm=distance)
    measured = grown(region_polygon(outline), distance, chord_mm=0.0005)
    assert sum(ring.area for ring in rings) == pytest.approx(
        measured.area, abs=0.002 * sum(ring.length for ring in rings) + 1e-3
    )


@settings(max_examples=50, deadline=None)
@given(outline=star_polygons(), turns=st.integers(0, 3), dx=st.integers(-1000, 1000))
def test_a_moved_outline_has_moved_rings(outline, turns, dx):
    move = Transform.shift(dx, 7.25) @ Transform.quarter_turns(turns)
    here = offset_rings(outline, distance_mm=-R)
    there = offset_rings(outline.moved(move), distance_mm=-R)
    assert sum(r.area for r in there) == pytest.approx(sum(r.area for r in here), abs=1e-6)
    assert sum(r.length for r in there) == pytest.approx(sum(r.length for r in here), abs=1e-4)


@settings(max_examples=50, deadline=None)
@given(outline=star_polygons(), first=st.floats(0.5, 6), second=st.floats(0.5, 6))
def test_two_offsets_inward_are_one_of_their_sum(outline, first, second):
    once = offset_rings(outline, distance_mm=-(first + second))
    assume(once)
    halfway = offset_rings(outline, distance_mm=-first)
    twice = [ring for half in halfway for ring in offset_rings(half, distance_mm=-second)]
    assert sum(r.area for r in twice) == pytest.approx(sum(r.area for r in once), abs=1e-2)


def test_simplifying_joins_lines_and_drops_repeated_points():
    assert len(simplified(SOUND["collinear run"].outer).segments) == 4
    assert len(simplified(SOUND["repeated point"].outer).segments) == 4
