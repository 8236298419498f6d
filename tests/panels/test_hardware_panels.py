"""What the chosen hardware makes of panels, and the list of what must be bought."""

from dataclasses import replace

import pytest

from box_kit import WORKED_EXAMPLE, bores, box_of, order, panel, recess
from rabbetry.files import load_tables
from rabbetry.job.hardware import lay_rows
from rabbetry.job.model import CabinetKind, Construction, Faces, Mount
from rabbetry.panels.model import Box, Recess
from rabbetry.shop.read import read_tables

HARDWARE = read_tables(load_tables()).hardware
INCH = 25.4


def rows(**names: str) -> Construction:
    return lay_rows(WORKED_EXAMPLE, names, HARDWARE)


def _drawers(c: Construction, **thicknesses: float) -> Box:
    return box_of(order(CabinetKind.DRAWERS, construction=c), **{"carcass": 18.0, **thicknesses})


def _list(box: Box) -> dict[str, tuple[int, str]]:
    return {line.item: (line.count, line.detail) for line in box.hardware}


def test_marks_of_a_side_mount_slide_go_through_at_the_slide_s_line() -> None:
    """The line 48 above the opening's floor, the box 26/2 above it: 35 up; first mark 37 behind the box's front."""
    box = _drawers(rows(slides="side-mount, 25.4 mm"))
    left, right = panel(box, "drawer 1 left side"), panel(box, "drawer 1 right side")
    marks = bores(left, "slide mark")
    assert [(mark.centre.x, mark.centre.y) for mark in marks] == [
        pytest.approx((37.0, 35.0)), pytest.approx((261.0, 35.0))
    ]  # fmt: skip
    assert all(mark.through and mark.diameter_mm == 3.0 for mark in marks)
    assert [550.0 - mark.centre.x for mark in bores(right, "slide mark")] == pytest.approx([37.0, 261.0])


def test_the_back_of_a_side_mount_drawer_is_a_plain_rectangle_with_its_groove() -> None:
    back = panel(_drawers(rows(slides="side-mount, 25.4 mm")), "drawer 1 back")
    assert len(back.outline.segments) == 4
    assert [feature.name for feature in back.features] == ["bottom groove"]


def test_blind_hook_holes_are_marked_by_guides_where_they_will_be_drilled() -> None:
    """7 in from the side's inside, 13 + 11 up; 6 of the back sit in the rabbet."""
    back = panel(_drawers(rows(slides="undermount, sides to 16 mm")), "drawer 1 back")
    guides = bores(back, "hook guide")
    assert [(hole.centre.x, hole.centre.y) for hole in guides] == [
        pytest.approx((13.0, 24.0)), pytest.approx((521.0, 24.0))
    ]  # fmt: skip
    assert {hole.diameter_mm for hole in guides} == {3.0}
    assert bores(back, "rear hook") == ()
    assert back.note == "hook holes 6 mm, 10 mm deep, from the outside, on the guide holes"


def test_a_thick_bottom_leaves_no_guides_and_the_note_says_where_to_drill() -> None:
    back = panel(_drawers(rows(slides="undermount, sides to 16 mm"), drawer_bottom=12.0), "drawer 1 back")
    assert bores(back, "hook guide") == ()
    assert back.note == (
        "hook holes 6 mm, 10 mm deep, from the outside: 7 mm in from the sides, 24 mm above their lower edge"
    )


@pytest.mark.parametrize("ply", [0.472, 0.438])
def test_notches_keep_size_and_place_from_the_inside_whatever_the_sides_measure(ply: float) -> None:
    """Opening 21 in less 42 mm; the notch is 32 x 13 from the inside of each side."""
    wanted = order(CabinetKind.DRAWERS, width_mm=21 * INCH + 36.0)
    box = box_of(wanted, carcass=18.0, drawer=ply * INCH)
    back = panel(box, "drawer 1 back")
    corners = {(round(s.start.x, 3), round(s.start.y, 3)) for s in back.outline.segments}
    assert {(38.0, 13.0), (round(back.length_mm - 38.0, 3), 13.0)} <= corners
    assert back.length_mm - 2 * 6.0 == pytest.approx(19.346 * INCH, abs=0.02)


def test_butted_drawers_have_no_rabbets_and_ends_as_long_as_the_box_is_wide_inside() -> None:
    box = _drawers(replace(WORKED_EXAMPLE, drawer_rabbet_depth_mm=0.0))
    side = panel(box, "drawer 1 left side")
    assert [feature.name for feature in side.features if isinstance(feature, Recess)] == ["bottom groove"]
    assert panel(box, "drawer 1 box front").length_mm == 522.0
    assert len(bores(side, "pilot")) == 4
    kinds = {joint.kind for joint in box.joints if joint.entering.endswith(("box front", "drawer 1 back"))}
    assert kinds == {"butt"}


def test_the_cup_of_a_hinge_screwed_on_by_hand_has_no_holes_beside_it() -> None:
    c = rows(hinge_cups="26 mm, screwed on by hand")
    door = panel(box_of(order(CabinetKind.WALL, doors=1, construction=c)), "door")
    assert {(cup.diameter_mm, cup.depth_mm) for cup in bores(door, "hinge cup")} == {(26.0, 10.5)}
    assert bores(door, "cup fixing") == ()
    assert bores(door, "hinge cup")[0].centre.y == pytest.approx(4.0 + 13.0)


def test_box_screws_go_through_the_joined_side_alone() -> None:
    box = box_of(order(CabinetKind.WALL, construction=rows(join_boxes="left")))
    left = bores(panel(box, "left side"), "box screw")
    assert len(left) == 6
    assert all(hole.through and hole.depth_mm == 17.8 for hole in left)
    assert bores(panel(box, "right side"), "box screw") == ()
    assert _list(box)["box screw"] == (6, "into the next box, of equal sides: up to 33 mm long")


def test_a_thicker_frame_between_the_sides_moves_the_plates_and_nothing_else_in_the_side() -> None:
    """Frame 0.75 in, then 0.8125 in, inset door: the plates' holes move back by 0.0625 in."""
    c = rows(hinge_plates="face frame inset, frame between the sides")
    wanted = order(CabinetKind.WALL, doors=1, adjustable_shelves=1, mount=Mount.INSET, faces=Faces.FACE_FRAME)
    sides = [
        panel(
            box_of(replace(wanted, construction=replace(c, frame_thickness_mm=frame * INCH)), front=0.75 * INCH),
            "left side",
        )
        for frame in (0.75, 0.8125)
    ]
    before, after = (bores(side, "hinge plate") for side in sides)
    assert len(before) == len(after) == 4
    for old, new in zip(before, after, strict=True):
        assert old.centre.x == new.centre.x
        # The left side's panel y runs to the front, so further back is less.
        assert old.centre.y - new.centre.y == pytest.approx(0.0625 * INCH, abs=1e-9)
    rest = [tuple(f for f in side.features if getattr(f, "purpose", "") != "hinge plate") for side in sides]
    assert rest[0] == rest[1]
    assert sides[0].outline == sides[1].outline


def test_plates_on_a_face_frame_leave_the_side_without_holes() -> None:
    box = box_of(order(CabinetKind.WALL, doors=1, faces=Faces.FACE_FRAME))
    assert bores(panel(box, "left side"), "hinge plate") == ()
    count, detail = _list(box)["hinge mounting plate"]
    assert (count, detail) == (2, "on the face frame, no holes in the side; check the maker's sheet")


def test_the_plate_s_height_follows_from_the_hinge_s_own_overlay() -> None:
    """Side 17.8, half a gap of 1.5: overlay 16.3; 13 + 5 - 16.3 = 1.7 (check value 4.2.5)."""
    box = box_of(order(CabinetKind.WALL, doors=1, construction=rows(hinge_plates="overlay")))
    assert _list(box)["hinge mounting plate"][1] == (
        "two holes 32 mm apart; 1.70 mm high (13 + 5 - overlay 16.30); check the maker's sheet"
    )


def test_slides_are_listed_by_kind_with_a_word_on_the_maker_s_sheet() -> None:
    assert _list(_drawers(rows(slides="side-mount, 1 in")))["side-mount slide, pair"] == (
        3, "533.4 mm; check the maker's sheet"
    )  # fmt: skip


def test_the_groove_of_a_side_mount_drawer_lies_at_the_row_s_recess() -> None:
    side = panel(_drawers(rows(slides="side-mount, 25.4 mm")), "drawer 1 left side")
    assert recess(side, "bottom groove").outline.bounds[1] == pytest.approx(10.0 - 0.1)
