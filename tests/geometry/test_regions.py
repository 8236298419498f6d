"""The doorway to shapely, crossings, and feet of perpendiculars."""

import math

import pytest

from rabbetry.errors import GeometryError
from rabbetry.geometry.crossings import foot, supporting_crossings
from rabbetry.geometry.curves import Arc, Contour, Line, circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import boundary_lines, distance_mm, farthest_mm, grown, region_polygon, swept_by

DISC = circle(Point(5, 7), 10)


def test_a_region_is_its_outer_less_its_islands():
    # area = outer - sum of holes.
    area = region_polygon(
        rectangle(0, 0, 60, 40), [rectangle(10, 10, 8, 5), circle(Point(40, 20), 6)], chord_mm=1e-4
    ).area
    assert area == pytest.approx(2400 - 40 - math.pi * 36, abs=0.01)


def test_winding_does_not_matter_to_a_region():
    one = region_polygon(rectangle(0, 0, 60, 40).reversed(), [rectangle(10, 10, 8, 5).reversed()])
    assert one.area == pytest.approx(2360)


@pytest.mark.parametrize(
    ("outer", "islands", "words"),
    [
        pytest.param(
            polygon([(0, 0), (10, 10), (10, 0), (0, 10)]), (), r"itself at \(5\.0000, 5\.0000\)", id="bow tie"
        ),
        pytest.param(Contour((Line(Point(0, 0), Point(9, 0)),)), (), r"starts at \(0\.0000, 0\.0000\)", id="open"),
        pytest.param(rectangle(0, 0, 9, 9), (rectangle(20, 0, 2, 2),), "hole lies outside shell", id="island outside"),
        pytest.param(
            rectangle(0, 0, 9, 9), (rectangle(1, 1, 5, 5), rectangle(4, 4, 4, 4)), r"itself at", id="islands that cross"
        ),
    ],
)
def test_what_is_no_region_is_refused_with_its_place(outer, islands, words):
    with pytest.raises(GeometryError, match=words):
        region_polygon(outer, islands)


def test_a_cutter_along_a_line_sweeps_a_capsule():
    # pi D^2/4 + D L.
    path = Contour((Line(Point(0, 0), Point(100, 0)),))
    assert swept_by([path], 3.175, chord_mm=1e-4).area == pytest.approx(666.669217, abs=0.02)


def test_a_cutter_round_a_circle_sweeps_a_ring():
    # 2 pi R D.
    assert swept_by([DISC], 2.0, chord_mm=1e-3).area == pytest.approx(2 * math.pi * 10 * 4, abs=0.1)


def test_growing_by_nothing_changes_nothing():
    shape = region_polygon(rectangle(0, 0, 6, 4))
    assert grown(shape, 0.0) is shape
    assert grown(shape, -2.5).is_empty


def test_distances_to_a_boundary_are_measured_from_points_and_paths():
    lines = boundary_lines([rectangle(0, 0, 10, 10)])
    assert distance_mm(lines, Point(5, 4)) == 4.0
    assert distance_mm(lines, Point(5, 4), Point(5, 2)) == 2.0


def test_the_farthest_vertex_counts():
    assert farthest_mm(polygon([(0, 0), (10, 0), (10, 3)]), rectangle(0, 0, 10, 1), chord_mm=0.01) == 2.0


def test_lines_cross_beyond_their_ends():
    (point,) = supporting_crossings(Line(Point(0, 0), Point(1, 1)), Line(Point(10, 0), Point(10, 3)))
    assert (point.x, point.y) == pytest.approx((10, 10))


def test_parallel_lines_and_concentric_circles_do_not_cross():
    assert supporting_crossings(Line(Point(0, 0), Point(5, 0)), Line(Point(0, 1), Point(5, 1))) == ()
    assert supporting_crossings(DISC.segments[0], circle(Point(5, 7), 4).segments[0]) == ()
    assert supporting_crossings(DISC.segments[0], circle(Point(50, 7), 4).segments[0]) == ()
    assert supporting_crossings(DISC.segments[0], Line(Point(50, 0), Point(50, 1))) == ()


def test_two_circles_cross_twice():
    # 3-4-5: circles of 5 about (0, 0) and (6, 0).
    points = supporting_crossings(circle(Point(0, 0), 5).segments[0], circle(Point(6, 0), 5).segments[0])
    assert sorted((p.x, p.y) for p in points) == [pytest.approx((3, -4)), pytest.approx((3, 4))]


def test_a_foot_lies_square_to_a_line_and_on_the_ray_to_a_circle():
    assert foot(Line(Point(0, 0), Point(10, 0)), Point(3, 8)) == Point(3, 0)
    near = foot(Arc(Point(5, 0), Point(0, 5), Point(0, 0), 1), Point(9, 12))
    assert (near.x, near.y) == pytest.approx((3, 4))
