"""Drawer boxes and slab fronts, from the undermount rules (common practice; check values 4.3) and the hinge sheet
(4.2)."""

from dataclasses import replace

import pytest

from box_kit import WORKED_EXAMPLE, bores, box_of, order, panel, recess, size
from rabbetry.job.model import CabinetKind
from rabbetry.panels.model import Box, HardwareLine

_INCH = 25.4


def near(*values: float) -> object:
    return pytest.approx(values, abs=1e-9)


@pytest.fixture(scope="module")
def stack() -> Box:
    """Three drawers in 600 x 580 x 876, sides 18: openings 564 wide; boxes 522 inside, 550 long, of 12 mm sheet."""
    return box_of(order(CabinetKind.DRAWERS), carcass=18.0)


def test_box_front_and_back_reach_the_floors_of_both_rabbets(stack: Box) -> None:
    assert panel(stack, "drawer 1 box front").length_mm == 522.0 + 12.0
    assert panel(stack, "drawer 1 back").length_mm == 522.0 + 12.0


def test_the_sides_carry_end_rabbets_as_wide_as_the_ends_are_thick(stack: Box) -> None:
    side = panel(stack, "drawer 2 left side")
    height = side.width_mm
    assert side.length_mm == 550.0
    assert recess(side, "front rabbet").outline.bounds == near(0.0, 0.0, 12.1, height)
    assert recess(side, "back rabbet").outline.bounds == near(537.9, 0.0, 550.0, height)
    assert recess(side, "bottom groove").outline.bounds == near(0.0, 12.9, 550.0, 19.1)


def test_the_bottom_floats_in_four_grooves(stack: Box) -> None:
    """Inside 522 by 550 - 24 = 526, 6 mm of groove each way, less the clearance of 0.2."""
    assert size(panel(stack, "drawer 1 bottom")) == near(533.8, 537.8)
    for role in ("left side", "right side", "box front", "back"):
        assert recess(panel(stack, f"drawer 1 {role}"), "bottom groove").depth_mm == 6.0


def test_the_back_is_notched_from_the_inside_of_each_side(stack: Box) -> None:
    """32 x 13 from the inside of the side; the 6 mm in the side's rabbet goes with it."""
    back = panel(stack, "drawer 1 back")
    corners = [(round(s.start.x, 6), round(s.start.y, 6)) for s in back.outline.segments]
    assert (38.0, 13.0) in corners
    assert (534.0 - 38.0, 13.0) in corners
    groove = recess(back, "bottom groove").outline
    assert {(round(s.start.x, 6), round(s.start.y, 6)) for s in groove.segments} >= {(0, 13), (38, 13), (38, 12.9)}


def test_the_hook_holes_are_measured_from_the_notch_and_go_through(stack: Box) -> None:
    """7 mm from the inside of the side, 11 mm above the back's lower edge there (common practice, not verified)."""
    hooks = bores(panel(stack, "drawer 1 back"), "rear hook")
    assert [(bore.centre.x, bore.centre.y) for bore in hooks] == [near(13.0, 24.0), near(521.0, 24.0)]
    assert {(bore.through, bore.depth_mm, bore.diameter_mm) for bore in hooks} == {(True, 12.0, 6.0)}
    assert "right through" in panel(stack, "drawer 1 back").note


def test_thinner_drawer_sheet_moves_the_outside_and_nothing_else() -> None:
    """Opening 21 in, inside = opening - 42 mm; sheet 0.472 in, then 0.438: outside changes by 0.068 in."""
    wanted = order(CabinetKind.DRAWERS, width_mm=22.5 * _INCH)
    thick = box_of(wanted, carcass=0.75 * _INCH, drawer=0.472 * _INCH)
    thin = box_of(wanted, carcass=0.75 * _INCH, drawer=0.438 * _INCH)
    inside = 19.346 * _INCH
    for box in (thick, thin):
        back = panel(box, "drawer 1 back")
        assert back.length_mm - 12.0 == pytest.approx(inside, abs=0.0005 * _INCH)
        assert back.outline.segments[2].start.x in (pytest.approx(38.0), pytest.approx(back.length_mm - 38.0))
    change = _outside(thick, 0.472 * _INCH) - _outside(thin, 0.438 * _INCH)
    assert change == pytest.approx(0.068 * _INCH, abs=1e-9)


def test_the_two_sides_of_a_drawer_are_mirror_images(stack: Box) -> None:
    left, right = panel(stack, "drawer 1 left side"), panel(stack, "drawer 1 right side")
    holes_left = sorted((550.0 - bore.centre.x, bore.centre.y) for bore in bores(left, "pilot"))
    holes_right = sorted((bore.centre.x, bore.centre.y) for bore in bores(right, "pilot"))
    assert holes_left == [near(x, y) for x, y in holes_right]
    assert recess(right, "front rabbet").outline.bounds[2] == 550.0
    assert (left.front_edge, right.front_edge) == ("x0", "x1")


def test_w61_the_cup_lies_22_5_from_the_edge_and_leaves_5_5_of_an_18_mm_door() -> None:
    """W61 (two hinge makers' sheets): B 5 + 17.5; 18 - 12.5."""
    door = panel(box_of(order(CabinetKind.BASE, doors=1)), "door")
    lower, upper = bores(door, "hinge cup")
    assert (lower.centre.x, lower.centre.y) == near(100.0, 22.5)
    assert (upper.centre.x, upper.centre.y) == near(door.length_mm - 100.0, 22.5)
    assert door.thickness_mm - lower.depth_mm == 5.5


def test_cup_fixings_are_45_apart_and_9_5_behind_the_cup_on_either_hand() -> None:
    """Check value 4.2.6; a right-hung door is the mirror image."""
    box = box_of(order(CabinetKind.BASE, doors=2))
    left, right = panel(box, "left door"), panel(box, "right door")
    fixings = bores(left, "cup fixing")[:2]
    assert [(bore.centre.x, bore.centre.y) for bore in fixings] == [near(77.5, 32.0), near(122.5, 32.0)]
    assert bores(right, "cup fixing")[0].centre.y == pytest.approx(297.0 - 32.0)
    assert {(bore.diameter_mm, bore.depth_mm) for bore in fixings} == {(8.0, 10.0)}


def test_plate_holes_stand_16_above_and_below_the_hinge_on_its_own_side_only() -> None:
    box = box_of(order(CabinetKind.BASE, doors=1, hinge="right"))
    plates = bores(panel(box, "right side"), "hinge plate")
    assert [(bore.centre.x, bore.centre.y) for bore in plates] == [
        near(101.5 + 100.0 - 16.0, 37.0),
        near(101.5 + 100.0 + 16.0, 37.0),
        near(874.5 - 100.0 - 16.0, 37.0),
        near(874.5 - 100.0 + 16.0, 37.0),
    ]
    assert bores(panel(box, "left side"), "hinge plate") == ()


def test_fronts_made_elsewhere_are_only_listed() -> None:
    box = box_of(order(CabinetKind.BASE, doors=1, drawer_front_heights_mm=(150.0,), slab_doors=False))
    assert [(front.name, front.width_mm, front.height_mm) for front in box.fronts] == [
        ("B1 drawer front 1", 597.0, 150.0),
        ("B1 door", 597.0, 620.0),
    ]
    assert [each.role for each in box.panels if each.stock == "front"] == []
    assert len(bores(panel(box, "left side"), "hinge plate")) == 4


def test_hardware_is_counted_from_the_box() -> None:
    wanted = order(CabinetKind.BASE, doors=2, drawer_front_heights_mm=(150.0,), adjustable_shelves=2)
    lines = {line.item: line.count for line in box_of(wanted).hardware}
    assert lines == {
        "cup hinge": 4,
        "hinge mounting plate": 4,
        "undermount slide, pair": 1,
        "shelf pin": 8,
        "assembly screw": 24,
    }
    assert box_of(order(CabinetKind.OPEN)).hardware == (
        HardwareLine(cabinet="B1", item="assembly screw", count=16, detail="through 3 mm pilot holes"),
    )


def test_a_notch_higher_than_the_groove_stops_the_groove_at_it() -> None:
    construction = replace(WORKED_EXAMPLE, drawer_notch_height_mm=25.0)
    back = panel(box_of(order(CabinetKind.DRAWERS, construction=construction), carcass=18.0), "drawer 1 back")
    assert recess(back, "bottom groove").outline.bounds == near(38.0, 12.9, 496.0, 19.1)


def _outside(box: Box, side: float) -> float:
    left, right = panel(box, "drawer 1 left side").place, panel(box, "drawer 1 right side").place
    assert left is not None
    assert right is not None
    return right.origin[0] - left.origin[0] + 2 * side
