"""Sizes and recesses of the carcass, held against the worked example of the default construction (by arithmetic)."""

from dataclasses import replace

import pytest

from box_kit import WORKED_EXAMPLE, bores, box_of, order, panel, recess, size
from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point
from rabbetry.job.model import CabinetKind, Grain, Nailer
from rabbetry.panels.model import Box, Panel, Recess

_INCH = 25.4


def near(*values: float) -> object:
    return pytest.approx(values, abs=1e-9)


@pytest.fixture(scope="module")
def example() -> Box:
    """W 600, D 580, H 876, t 17.8, tb 5.8, d 6, r 6, c 0.2, Kh 100, Ws 100."""
    return box_of(order(CabinetKind.BASE))


def test_worked_example_panel_sizes(example: Box) -> None:
    assert size(panel(example, "bottom")) == near(576.4, 574.2)
    assert size(panel(example, "front stretcher")) == near(576.4, 100.0)
    assert size(panel(example, "rear stretcher")) == near(576.4, 100.0)
    assert size(panel(example, "back")) == near(576.2, 776.0)
    assert size(panel(example, "left side")) == near(876.0, 580.0)
    assert size(panel(example, "right side")) == near(876.0, 580.0)


def test_worked_example_inside_width(example: Box) -> None:
    left, right = panel(example, "left side").place, panel(example, "right side").place
    assert left is not None
    assert right is not None
    assert right.origin[0] - left.origin[0] == pytest.approx(564.4)


def test_worked_example_bottom_dado(example: Box) -> None:
    for hand in ("left", "right"):
        dado = recess(panel(example, f"{hand} side"), "bottom dado")
        assert dado.outline.bounds == near(99.9, 0.0, 117.9, 580.0)
        assert dado.depth_mm == 6.0


def test_worked_example_rabbets(example: Box) -> None:
    side = panel(example, "right side")
    assert recess(side, "front stretcher rabbet").outline.bounds == near(858.1, 0.0, 876.0, 100.2)
    assert recess(side, "rear stretcher rabbet").outline.bounds == near(858.1, 474.0, 876.0, 580.0)
    assert recess(side, "back rabbet").outline.bounds == near(0.0, 574.0, 876.0, 580.0)


def test_a_stretcher_rabbet_is_relieved_at_its_one_closed_corner(example: Box) -> None:
    side = panel(example, "right side")
    (front,) = recess(side, "front stretcher rabbet").relieved_corners
    (rear,) = recess(side, "rear stretcher rabbet").relieved_corners
    assert (front.x, front.y) == near(858.1, 100.2)
    assert (rear.x, rear.y) == near(858.1, 474.0)
    assert recess(side, "bottom dado").relieved_corners == ()


def test_the_toe_kick_is_notched_at_the_lower_front_corner_of_both_sides(example: Box) -> None:
    assert _corners(panel(example, "right side").outline) == {
        (0, 75), (100, 75), (100, 0), (876, 0), (876, 580), (0, 580)
    }  # fmt: skip
    assert _corners(panel(example, "left side").outline) == {
        (0, 505), (100, 505), (100, 580), (876, 580), (876, 0), (0, 0)
    }  # fmt: skip


def test_the_bottom_dado_follows_the_outline_over_the_kick(example: Box) -> None:
    dado = recess(panel(example, "right side"), "bottom dado").outline
    assert _corners(dado) == {(99.9, 75), (100, 75), (100, 0), (117.9, 0), (117.9, 580), (99.9, 580)}
    assert dado.area > 0


@pytest.mark.parametrize(
    "kind", [CabinetKind.BASE, CabinetKind.SINK, CabinetKind.DRAWERS, CabinetKind.WALL, CabinetKind.OPEN]
)
def test_every_contour_runs_counter_clockwise_and_stays_on_its_panel(kind: CabinetKind) -> None:
    for each in box_of(order(kind, nailer=Nailer.TOP)).panels:
        assert each.outline.bounds == near(0.0, 0.0, each.length_mm, each.width_mm)
        contours = [each.outline, *(item.outline for item in each.features if isinstance(item, Recess))]
        for contour in contours:
            assert contour.area > 0
            x0, y0, x1, y1 = contour.bounds
            assert min(x0, y0) >= 0
            assert (x1 <= each.length_mm, y1 <= each.width_mm) == (True, True)


def test_a_dado_is_cut_to_the_measured_thickness_of_the_panel_that_enters_it() -> None:
    """Back 5.55 mm, carcass 18.3: the back's rabbet follows the back, the bottom's dado the bottom."""
    side = panel(box_of(order(CabinetKind.BASE), carcass=18.3, back=5.55), "right side")
    assert _wide(recess(side, "bottom dado"), 0) == near(18.3 + 0.2)
    assert _wide(recess(side, "back rabbet"), 1) == near(5.55 + 0.2)


def test_the_dado_follows_the_bottom_where_the_sides_are_of_another_sheet() -> None:
    """Bottom of 0.703 in, sides of 0.731, clearance 0.010: the dado in the sides is 0.713 wide, not 0.741."""
    construction = replace(WORKED_EXAMPLE, fit_clearance_mm=0.010 * _INCH)
    wanted = order(CabinetKind.BASE, side_stock="side", construction=construction)
    box = box_of(wanted, carcass=0.703 * _INCH, side=0.731 * _INCH)
    side = panel(box, "left side")
    assert (side.stock, side.thickness_mm) == ("side", 0.731 * _INCH)
    assert _wide(recess(side, "bottom dado"), 0) == near(0.713 * _INCH)
    assert panel(box, "bottom").length_mm == pytest.approx(600.0 - 2 * 0.731 * _INCH + 12.0)
    assert {bore.depth_mm for bore in bores(side, "pilot")} == {0.731 * _INCH}


@pytest.mark.parametrize(("side_in", "length_in"), [(0.703, 23.094), (0.731, 23.038)])
def test_the_outside_stays_and_the_bottom_follows_the_sides(side_in: float, length_in: float) -> None:
    """Outside 24 in, dado 1/4 in deep: 24 - 2 x 0.703 + 2 x 0.25 = 23.094, then 23.038 (check value 6.15)."""
    construction = replace(WORKED_EXAMPLE, dado_depth_mm=0.25 * _INCH)
    wanted = order(CabinetKind.BASE, width_mm=24 * _INCH, construction=construction)
    box = box_of(wanted, carcass=side_in * _INCH)
    assert panel(box, "bottom").length_mm == pytest.approx(length_in * _INCH, abs=1e-9)
    right = panel(box, "right side").place
    assert right is not None
    assert right.origin[0] + side_in * _INCH == pytest.approx(24 * _INCH)


def test_w64_bottom_of_a_600_cabinet_with_18_mm_sides_is_576() -> None:
    """W64: W - 2t + 2d."""
    assert panel(box_of(order(CabinetKind.BASE), carcass=18.0), "bottom").length_mm == 576.0


def test_the_left_side_is_the_right_side_mirrored_across_its_height() -> None:
    """Pin rows 2 in from the front and 1-1/2 in from the back, so that a half turn would show."""
    construction = replace(WORKED_EXAMPLE, pin_front_mm=2 * _INCH, pin_rear_mm=1.5 * _INCH)
    box = box_of(order(CabinetKind.OPEN, adjustable_shelves=2, construction=construction))
    left, right = panel(box, "left side"), panel(box, "right side")
    rows_left = [(bore.centre.x, 580.0 - bore.centre.y) for bore in bores(left, "shelf pin")]
    rows_right = [(bore.centre.x, bore.centre.y) for bore in bores(right, "shelf pin")]
    assert rows_left == [near(x, y) for x, y in rows_right]
    assert {round(y, 6) for _, y in rows_right} == {50.8, 541.9}
    assert recess(right, "back rabbet").outline.bounds == near(0.0, 574.0, 876.0, 580.0)
    assert recess(left, "back rabbet").outline.bounds == near(0.0, 0.0, 876.0, 6.0)
    assert (left.face_up, right.face_up) == ("inside", "inside")
    assert (left.front_edge, right.front_edge) == ("y1", "y0")


def test_a_wall_box_has_its_bottom_in_a_dado_and_its_top_in_a_rabbet() -> None:
    box = box_of(order(CabinetKind.WALL, height_mm=720.0, depth_mm=330.0, nailer=Nailer.TOP))
    side = panel(box, "right side")
    assert recess(side, "bottom dado").outline.bounds == near(17.9, 0.0, 35.9, 330.0)
    assert recess(side, "top rabbet").outline.bounds == near(702.1, 0.0, 720.0, 330.0)
    assert size(panel(box, "top")) == near(576.4, 324.2)
    assert size(panel(box, "back")) == near(576.2, 702.0)
    assert size(panel(box, "nailer")) == near(564.4, 100.0)
    assert len(_corners(side.outline)) == 4


def test_a_sink_box_has_its_rails_on_edge_so_that_the_sink_hangs_between_them() -> None:
    box = box_of(order(CabinetKind.SINK, doors=2, back=False))
    side = panel(box, "right side")
    assert recess(side, "front rail rabbet").outline.bounds == near(775.9, 0.0, 876.0, 17.9)
    assert recess(side, "rear rail rabbet").outline.bounds == near(775.9, 562.1, 876.0, 580.0)
    assert [each.role for each in box.panels if each.role == "back"] == []
    front = panel(box, "front rail").place
    assert front is not None
    assert front.point(0.0, 0.0, 0.0) == near(588.2, 17.8, 776.0)


def test_fixed_and_adjustable_shelves_have_their_sizes() -> None:
    box = box_of(order(CabinetKind.OPEN, fixed_shelves=1, adjustable_shelves=2))
    assert size(panel(box, "fixed shelf 1")) == near(576.4, 574.2)
    assert size(panel(box, "shelf 1")) == near(562.4, 564.2)
    place = panel(box, "fixed shelf 1").place
    assert place is not None
    under = place.origin[2] - 17.8
    assert recess(panel(box, "left side"), "fixed shelf 1 dado").outline.bounds == near(
        under - 0.1, 0.0, under + 17.9, 580.0
    )


def test_without_a_back_the_bottom_reaches_the_rear_edge() -> None:
    box = box_of(order(CabinetKind.BASE, back=False))
    assert size(panel(box, "bottom")) == near(576.4, 580.0)
    assert [item.name for item in panel(box, "left side").features if item.name == "back rabbet"] == []


def test_pilot_holes_lie_in_the_middle_of_their_dado_and_go_through() -> None:
    side = panel(box_of(order(CabinetKind.BASE)), "right side")
    row = [bore for bore in bores(side, "pilot") if bore.name.startswith("bottom")]
    assert [bore.centre.x for bore in row] == near(*[108.9] * len(row))
    assert [bore.centre.y for bore in row] == near(40.0, 40.0 + 494.2 / 3, 40.0 + 2 * 494.2 / 3, 534.2)
    assert {(bore.through, bore.depth_mm) for bore in row} == {(True, 17.8)}


@pytest.mark.parametrize(
    ("role", "grain", "banded"),
    [
        ("left side", Grain.ALONG, ("y1",)),
        ("right side", Grain.ALONG, ("y0",)),
        ("bottom", Grain.FREE, ("y0",)),
        ("front stretcher", Grain.ALONG, ("y0",)),
        ("rear stretcher", Grain.ALONG, ()),
        ("back", Grain.FREE, ()),
        ("door", Grain.ALONG, ("x0", "x1", "y0", "y1")),
    ],
)
def test_grain_and_banding_by_role(role: str, grain: Grain, banded: tuple[str, ...]) -> None:
    each: Panel = panel(box_of(order(CabinetKind.BASE, doors=1)), role)
    assert (each.grain, each.banded_edges) == (grain, banded)


def _corners(contour: Contour) -> set[tuple[float, float]]:
    return {(round(segment.start.x, 6), round(segment.start.y, 6)) for segment in contour.segments}


def _wide(of: Recess, axis: int) -> object:
    bounds = of.outline.bounds
    return (bounds[axis + 2] - bounds[axis],)


def test_a_point_of_a_panel_is_found_in_the_box() -> None:
    """The same corner, named from the left side and from the right: mirror images about the middle of the box."""
    box = box_of(order(CabinetKind.BASE))
    left, right = panel(box, "left side").place, panel(box, "right side").place
    assert left is not None
    assert right is not None
    corner = Point(300.0, 30.0)
    a, b = left.point(corner.x, 580.0 - corner.y, 2.0), right.point(corner.x, corner.y, 2.0)
    assert a == near(15.8, 30.0, 300.0)
    assert b == near(584.2, 30.0, 300.0)
