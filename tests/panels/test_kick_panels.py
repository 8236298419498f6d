"""The outlines of toe-kick pieces against closed forms, whatever the floor."""

import math
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from box_kit import stock
from rabbetry.cabinets.model import KickPiece
from rabbetry.geometry.curves import Arc, Line
from rabbetry.geometry.regions import region_polygon
from rabbetry.job.model import Grain, KickStyle
from rabbetry.panels.kick import kick_panel, straightened

INCH = 25.4
EXAMPLE = ((0.0, 4.125 * INCH), (24 * INCH, 3.6875 * INCH))
"""24 in long, 4-1/8 at the left end and 3-11/16 at the right."""


def piece(edge: tuple[tuple[float, float], ...] = EXAMPLE, **changes: Any) -> KickPiece:
    plain = KickPiece(
        name="K",
        cabinets=("B1",),
        stock=stock("ply", 17.8),
        style=KickStyle.BOARD,
        length_mm=edge[-1][0],
        edge=edge,
        face_down=False,
        grain=Grain.ALONG,
        setback_mm=57.2,
    )
    return replace(plain, **changes)


def test_a_board_between_two_heights_has_four_sides_and_the_floor_s_slope() -> None:
    panel = kick_panel(piece(), "in")
    (lower, right, top, left) = panel.outline.segments
    assert all(isinstance(side, Line) for side in panel.outline.segments)
    # atan((4.125 - 3.6875) / 24), worked by hand: 1.0443 degrees
    assert math.degrees(math.asin(lower.heading(0.0).dy)) == pytest.approx(1.0443, abs=1e-4)
    assert (top.start.y, top.end.y) == (4.125 * INCH, 4.125 * INCH)
    assert (right.start.x, right.end.x, left.start.x, left.end.x) == (24 * INCH, 24 * INCH, 0.0, 0.0)
    assert (left.length, right.length) == (pytest.approx(4.125 * INCH), pytest.approx(3.6875 * INCH))


def test_its_label_says_both_heights_and_which_end_is_which() -> None:
    panel = kick_panel(piece(), "in")
    assert panel.ends == ("left end 4 1/8 in", "right end 3 11/16 in")
    assert (panel.face_up, panel.note) == ("show face", "under B1; set back ~2 1/4 in")


def test_cut_face_down_it_is_mirrored_and_says_so() -> None:
    up, down = kick_panel(piece(), "in"), kick_panel(piece(face_down=True), "in")
    assert down.ends == ("right end 3 11/16 in", "left end 4 1/8 in")
    assert down.face_up == "back"
    assert down.note.startswith("cut face down")
    left = [side for side in down.outline.segments if side.start.x == 0.0 == side.end.x]
    assert [side.length for side in left] == [pytest.approx(3.6875 * INCH)]
    assert down.outline.area == pytest.approx(up.outline.area)
    assert down.outline.area > 0


def test_points_on_one_straight_are_left_out() -> None:
    assert straightened(((0, 100), (300, 97), (600, 94), (900, 97))) == ((0, 100), (600, 94), (900, 97))
    assert straightened(((0, 100), (300, 100), (600, 100))) == ((0, 100), (600, 100))


def test_a_corner_as_high_as_the_opening_starts_on_the_floor() -> None:
    edge = ((0.0, 100.0), (600.0, 100.0))
    valance = piece(edge, style=KickStyle.VALANCE, apron_mm=40.0, foot_mm=80.0, radii_mm=(60.0, 60.0))
    kinds = [type(side) for side in kick_panel(valance, "mm").outline.segments]
    assert kinds == [Line, Arc, Line, Arc, Line, Line, Line, Line]


def _board_area(edge: tuple[tuple[float, float], ...]) -> float:
    """Trapezoids."""
    return sum((x1 - x0) * (h0 + h1) / 2 for (x0, h0), (x1, h1) in pairwise(edge))


def _opening_area(of: KickPiece) -> float:
    """Trapezoids between the feet, below the strip, less what each rounded corner leaves: (1 - pi/4) r2."""
    x0, x1 = of.foot_mm, of.length_mm - of.foot_mm
    cut = sorted({x0, x1, *(x for x, _ in of.edge if x0 < x < x1)})
    inner = tuple((x, _height(of.edge, x) - of.apron_mm) for x in cut)
    return _board_area(inner) - (1 - math.pi / 4) * sum(radius**2 for radius in of.radii_mm)


def _height(edge: tuple[tuple[float, float], ...], x: float) -> float:
    (x0, h0), (x1, h1) = next(pair for pair in pairwise(edge) if pair[0][0] <= x <= pair[1][0])
    return h0 + (h1 - h0) * (x - x0) / (x1 - x0)


@st.composite
def pieces(draw: st.DrawFn) -> KickPiece:
    """Boards and valances over uneven floors, face up or down."""
    count = draw(st.integers(2, 6))
    steps = [draw(st.integers(40, 500)) for _ in range(count - 1)]
    xs = [0.0, *(float(sum(steps[: k + 1])) for k in range(count - 1))]
    edge = tuple((x, draw(st.floats(60.0, 160.0))) for x in xs)
    face_down = draw(st.booleans())
    length = xs[-1]
    if length < 200 or not draw(st.booleans()):
        return piece(edge, face_down=face_down)
    apron = draw(st.floats(12.0, 0.9 * min(height for _, height in edge)))
    foot = draw(st.floats(20.0, 0.3 * length))
    share = draw(st.floats(0.05, 1.0))
    radii = [share * (_height(edge, x) - apron) for x in (foot, length - foot)]
    too_wide = max(1.0, sum(radii) / (length - 2 * foot))
    left, right = (radius / too_wide for radius in radii)
    feet: dict[str, Any] = {"apron_mm": apron, "foot_mm": foot, "radii_mm": (left, right)}
    return piece(edge, face_down=face_down, style=KickStyle.VALANCE, **feet)


@settings(max_examples=150, deadline=None)
@given(pieces())
def test_every_outline_is_simple_in_its_rectangle_and_as_large_as_its_closed_form(of: KickPiece) -> None:
    panel = kick_panel(of, "mm")
    outline = panel.outline
    assert outline.is_closed
    region_polygon(outline)  # raises when it crosses or touches itself
    assert outline.bounds == pytest.approx((0.0, 0.0, panel.length_mm, panel.width_mm), abs=1e-6)
    wanted = _board_area(of.edge) - (_opening_area(of) if of.style is KickStyle.VALANCE else 0.0)
    assert outline.area == pytest.approx(wanted, rel=1e-6)
    for arc in (side for side in outline.segments if isinstance(side, Arc)):
        assert arc.centre.distance(arc.end) == pytest.approx(arc.radius, abs=1e-4)
        assert abs(arc.sweep) == pytest.approx(math.pi / 2, abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(pieces())
def test_face_down_is_the_mirror_image_of_face_up(of: KickPiece) -> None:
    up, down = (kick_panel(replace(of, face_down=down), "mm") for down in (False, True))
    assert down.outline.area == pytest.approx(up.outline.area)
    mirrored = sorted((round(up.length_mm - side.start.x, 6), round(side.start.y, 6)) for side in up.outline.segments)
    assert sorted((round(side.start.x, 6), round(side.start.y, 6)) for side in down.outline.segments) == mirrored
