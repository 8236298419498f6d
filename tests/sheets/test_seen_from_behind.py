"""A panel turned over keeps its place in the box: every point of its mirrored frame stands where it stood."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sheet_cases import panel_of

from rabbetry.page.orientation import top_edge
from rabbetry.panels.model import Panel, Place
from rabbetry.sheets.faces import _flipped  # the one place that turns a panel over
from rabbetry.sheets.model import Flip, Placement

UPRIGHT = Place(origin=(300.0, 20.0, 100.0), x_axis=(0.0, 0.0, 1.0), y_axis=(0.0, 1.0, 0.0))
"""A divider: panel x up, panel y to the back."""


def divider() -> Panel:
    return replace(panel_of("B1 divider", 700.0, 500.0), place=UPRIGHT, face_up="left face")


def turned_over(rotation: int) -> Panel:
    placed = Placement(panel=divider(), x_mm=50.0, y_mm=60.0, rotation_deg=rotation)
    return _flipped(placed, Flip(at_mm=600.0, index_holes=(), hole_diameter_mm=6.0, hole_depth_mm=25.0)).panel


@pytest.mark.parametrize("rotation", [0, 90])
@given(st.floats(0, 700), st.floats(0, 500), st.floats(0, 17.8))
def test_every_point_stands_where_it_stood(rotation: int, x: float, y: float, depth: float) -> None:
    before, after = divider(), turned_over(rotation)
    assert before.place is not None
    assert after.place is not None
    mirrored = (x, 500 - y) if rotation == 90 else (700 - x, y)
    assert after.place.point(*mirrored, 17.8 - depth) == pytest.approx(before.place.point(x, y, depth), abs=1e-9)


@pytest.mark.parametrize(("rotation", "edge"), [(0, "x0"), (90, "x1")])
def test_the_top_edge_goes_with_the_mirror(rotation: int, edge: str) -> None:
    assert top_edge(divider()) == "x1"
    assert top_edge(turned_over(rotation)) == edge
