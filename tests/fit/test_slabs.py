"""Space shared by panels with curved or slanted outlines, against sums by hand and against the exact cells."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.fit.assemble import Body, assemble, shared_space
from rabbetry.fit.slabs import shared_by_slabs, slabs_of
from rabbetry.fit.solids import check_interference
from rabbetry.fit.tally import Tally
from rabbetry.geometry.curves import Arc, Contour, Line, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.model import Grain
from rabbetry.panels import places
from rabbetry.panels.model import Box, Feature, Panel, Place, Recess
from rabbetry.tolerances import FIT_MM


def board(name: str, outline: Contour, place: Place, *features: Feature, thickness: float = 18.0) -> Panel:
    _, _, length, width = outline.bounds
    return Panel(
        id=name,
        cabinet="B1",
        role=name,
        stock="carcass",
        thickness_mm=thickness,
        length_mm=length,
        width_mm=width,
        outline=outline,
        features=features,
        grain=Grain.ALONG,
        place=place,
    )


def bodies(*panels: Panel) -> tuple[Body, ...]:
    box = Box(cabinet="B1", panels=panels, joints=(), fronts=(), hardware=())
    return tuple(assemble(box).values())


def shared(a: Panel, b: Panel) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
    first, second = bodies(a, b)
    return shared_by_slabs(slabs_of(first), slabs_of(second))


def quarter_disc(radius: float) -> Contour:
    """A quarter of a disc about the origin, in x and y above 0."""
    origin, right, up = Point(0.0, 0.0), Point(radius, 0.0), Point(0.0, radius)
    return Contour((Line(origin, right), Arc(right, up, origin, 1), Line(up, origin)))


LYING = places.lying(0.0, 0.0, 0.0, 18.0)


@pytest.mark.parametrize(
    ("x", "meets"),
    [
        pytest.param(80.02, False, id="just clear of the arc"),
        pytest.param(79.5, True, id="half a millimetre into it"),
        pytest.param(85.0, False, id="well clear, though within the disc's square"),
    ],
)
def test_a_board_against_a_round_one_in_the_same_plane(x: float, meets: bool) -> None:
    """The disc of radius 100 reaches x = 80 at y = 60: 80, 60 and 100 are a right triangle."""
    disc = board("disc", quarter_disc(100.0), LYING)
    beside = board("beside", rectangle(0.0, 0.0, 50.0, 35.0), places.lying(x, 60.0, 0.0, 18.0))
    assert (shared(disc, beside) is not None) == meets


def test_a_board_across_a_round_one_shares_what_the_circle_says() -> None:
    """A board standing 18 mm thick at y 60 to 78 reaches from x = 70 outwards: it meets the disc up to x = 80."""
    disc = board("disc", quarter_disc(100.0), LYING)
    across = board("across", rectangle(0.0, 0.0, 200.0, 300.0), places.facing_front(70.0, 60.0, -100.0))
    found = shared(disc, across)
    assert found is not None
    (low, high) = found
    assert low == pytest.approx((70.0, 60.0, 0.0), abs=2 * FIT_MM)
    assert high == pytest.approx((80.0, math.sqrt(100.0**2 - 70.0**2), 18.0), abs=2 * FIT_MM)


def test_a_board_across_the_corner_that_the_circle_leaves_free_meets_nothing() -> None:
    disc = board("disc", quarter_disc(100.0), LYING)
    across = board("across", rectangle(0.0, 0.0, 200.0, 300.0), places.facing_front(80.1, 60.0, -100.0))
    assert shared(disc, across) is None


def test_a_slanted_board_fills_no_recess_floor_it_only_touches() -> None:
    """A pocket 6 deep in a triangle takes a board down to 12 mm above the lower face, and no farther."""
    triangle = polygon([(0.0, 0.0), (300.0, 0.0), (0.0, 300.0)])
    pocket = Recess(name="pocket", kind="pocket", outline=rectangle(20.0, 20.0, 60.0, 40.0), depth_mm=6.0)
    lower = board("lower", triangle, LYING, pocket)
    outline = rectangle(0.0, 0.0, 60.0, 40.0)
    assert shared(lower, board("upper", outline, places.lying(20.0, 20.0, 12.0, 18.0))) is None
    found = shared(lower, board("upper", outline, places.lying(20.0, 20.0, 11.5, 18.0)))
    assert found is not None
    assert found[0][2] == pytest.approx(11.5, abs=FIT_MM)
    assert found[1][2] == pytest.approx(12.0, abs=FIT_MM)


_NUMBERS = st.integers(-40, 40).map(lambda value: value / 2)


@settings(max_examples=60, deadline=None)
@given(x=_NUMBERS, y=_NUMBERS, z=_NUMBERS, depth=st.sampled_from((3.0, 6.0)), stands=st.booleans())
def test_slabs_and_cells_agree_where_all_faces_are_square(
    x: float, y: float, z: float, depth: float, stands: bool
) -> None:
    outline = polygon([(0, 0), (40, 0), (40, 15), (20, 15), (20, 40), (0, 40)])
    dado = Recess(name="dado", kind="dado", outline=rectangle(5.0, 0.0, 8.0, 40.0), depth_mm=depth)
    a = board("a", outline, LYING, dado)
    place = places.facing_front(x, y, z) if stands else places.lying(x, y, z, 18.0)
    first, second = bodies(a, board("b", rectangle(0.0, 0.0, 30.0, 30.0), place))
    cells = shared_space(first, second)
    slabs = shared_by_slabs(slabs_of(first), slabs_of(second))
    assert (cells is None) == (slabs is None)
    if cells is not None and slabs is not None:
        for corner, other in zip(cells, slabs, strict=True):
            assert corner == pytest.approx(other, abs=2 * FIT_MM)


def test_a_curved_foot_that_stands_in_a_side_is_named_with_the_measure() -> None:
    foot = board("B1 kick", quarter_disc(100.0), places.facing_front(0.0, 0.0, 0.0))
    side = board("B1 left side", rectangle(0.0, 0.0, 700.0, 500.0), places.left_side(18.0, 500.0))
    tally = Tally(checks=0, findings=[])
    check_interference({body.panel.id: body for body in bodies(foot, side)}, tally)
    assert [item.message for item in tally.findings] == [
        "B1 kick and B1 left side would both fill 18.00 x 18.00 x 100.00 mm at (0.00, 0.00, 0.00) of the box"
    ]
