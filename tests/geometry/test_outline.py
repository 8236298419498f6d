"""Outlines drawn from corner to corner, against lengths and areas by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rabbetry.errors import GeometryError
from rabbetry.geometry.outline import Station, outline_through
from rabbetry.geometry.points import Point


def stations(*corners: tuple[float, ...]) -> tuple[Station, ...]:
    return tuple(Station(Point(x, y), *rest) for x, y, *rest in corners)


def test_a_rounded_corner_takes_the_corner_off_and_no_more() -> None:
    """A square of 100 with one corner of radius 20 lacks (4 - pi) / 4 of the radius squared."""
    contour = outline_through(stations((0, 0), (100, 0, 20), (100, 100), (0, 100)))
    assert contour.area == pytest.approx(100**2 - (4 - math.pi) / 4 * 20**2, abs=1e-9)
    assert contour.bounds == (0, 0, 100, 100)


def test_an_arc_passes_through_its_point() -> None:
    """From (0, 0) along the top of a half circle of radius 50 to (100, 0), and straight back."""
    contour = outline_through((Station(Point(0, 0)), Station(Point(100, 0), 0.0, Point(50, 50))))
    assert contour.area == pytest.approx(math.pi * 50**2 / 2, abs=1e-9)
    assert contour.bounds == pytest.approx((0, 0, 100, 50))


@given(turned=st.booleans(), first=st.integers(0, 4), hollow=st.booleans())
def test_the_way_round_and_the_first_corner_do_not_matter(turned: bool, first: int, hollow: bool) -> None:
    corners = [(0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (150.0, 40.0 if hollow else 160.0), (0.0, 100.0)]
    wanted = outline_through(stations(*corners)).area
    corners = corners[first:] + corners[:first]
    contour = outline_through(stations(*(reversed(corners) if turned else corners)))
    assert contour.area == pytest.approx(wanted)
    assert contour.area > 0


@pytest.mark.parametrize(
    ("corners", "message"),
    [
        pytest.param(
            [(0, 0), (100, 100), (100, 0), (0, 100)],
            "an outline crosses or touches itself at (50.0000, 50.0000)",
            id="a bow tie",
        ),
        pytest.param([(0, 0), (100, 0)], "an outline of 2 corners encloses nothing", id="two corners"),
        pytest.param([(0, 0), (100, 0), (100, 0), (0, 50)], "two corners stand at (100, 0)", id="a corner twice"),
        pytest.param(
            [(0, 0), (100, 0, 60), (100, 100, 60), (0, 100)],
            "the radii at (100, 0) and (100, 100) take 120.00 mm of the 100.00 mm between them",
            id="radii that meet",
        ),
    ],
)
def test_an_outline_that_cannot_be_is_refused_with_the_place(corners: list[tuple[float, ...]], message: str) -> None:
    with pytest.raises(GeometryError) as refused:
        outline_through(stations(*corners))
    assert str(refused.value) == message


def test_an_arc_through_a_line_is_refused() -> None:
    with pytest.raises(GeometryError, match="no bend"):
        outline_through((Station(Point(0, 0)), Station(Point(100, 0), 0.0, Point(50, 0)), Station(Point(50, 80))))
