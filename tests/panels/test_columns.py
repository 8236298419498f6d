"""Columns with doors, drawers and shelves of their own: sizes worked by hand, and what a divider has in either face.

A base 900 wide of 17.8 mm: (900 - 3 x 17.8) / 2 = 423.3 between the uprights, the divider from 441.1 to 458.9.
"""

from dataclasses import replace

import pytest

from box_kit import WORKED_EXAMPLE, box_of, cabinet_of, order, panel, resolve
from rabbetry.fit.checks import check_fit
from rabbetry.job.choices import FrontOrder
from rabbetry.job.model import CabinetKind, CabinetOrder, Faces, Mount
from rabbetry.job.words import LevelJoint
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Bore, Feature, Recess

DRAWERS = (FrontOrder(fill="drawer"), FrontOrder(fill="drawer"))
DOOR = (FrontOrder(fill="door", hinge="right", fixed_shelves=1),)
PINNED = (FrontOrder(fill="door", adjustable_shelves=1),)
CLEAR = 423.3


def columns(*fronts: tuple[FrontOrder, ...], kind: CabinetKind = CabinetKind.BASE, **changes: object) -> CabinetOrder:
    dividers = (None,) * (len(fronts) - 1)
    return order(kind, **{"width_mm": 900.0, "columns": fronts, "dividers_mm": dividers, **changes})


def _named(features: tuple[Feature, ...], purpose: str) -> list[Bore]:
    return [item for item in features if isinstance(item, Bore) and item.purpose == purpose]


def test_the_sums_of_two_columns() -> None:
    """Drawer box inside 423.3 - 42; fronts from half a gap inside the box to half a gap before the divider's middle,
    450 - 3; fixed shelf 423.3 and twice a dado of 6."""
    box = box_of(columns(DRAWERS, DOOR))
    sides = [panel(box, f"column 1 drawer 1 {hand} side") for hand in ("left", "right")]
    assert sides[0].place is not None
    assert sides[1].place is not None
    inside = sides[1].place.origin[0] - sides[0].place.origin[0]
    assert inside == pytest.approx(CLEAR - 42)
    assert panel(box, "column 1 drawer front 1").width_mm == pytest.approx(447)
    door = panel(box, "column 2 door")
    assert door.width_mm == pytest.approx(447)
    assert door.place is not None
    assert door.place.origin[0] == pytest.approx(450 + 1.5)
    shelf = panel(box, "column 2 fixed shelf 1")
    assert shelf.length_mm == pytest.approx(CLEAR + 12)
    assert shelf.place is not None
    assert shelf.place.origin[0] == pytest.approx(458.9 - 6)


def test_a_divider_is_a_right_side_on_its_left_face_and_a_left_side_on_its_right_one() -> None:
    """The slides of column 1 on the left face, level with those of the left side (whose zero is 111.8 lower); the dado
    for the shelf of column 2 in the right one, as high in the box as in the right side."""
    box = box_of(columns(DRAWERS, DOOR))
    divider, left, right = (panel(box, role) for role in ("divider 1", "left side", "right side"))
    assert divider.face_up == "left face"
    slides = sorted(hole.centre.x for hole in _named(divider.features, "slide"))
    assert slides == pytest.approx(sorted(hole.centre.x - 111.8 for hole in _named(left.features, "slide")))
    assert len(slides) == 4
    (dado,) = [item for item in divider.rear_features if isinstance(item, Recess)]
    (own,) = [item for item in right.features if item.name == "column 2 fixed shelf 1 dado"]
    assert isinstance(own, Recess)
    low, _, high, rear = dado.outline.bounds
    assert (low + 111.8, high + 111.8) == pytest.approx((own.outline.bounds[0], own.outline.bounds[2]))
    assert (high - low, rear, dado.depth_mm) == pytest.approx((18.0, 574.2, 6.0))
    assert not _named(left.features, "hinge plate")
    assert len(_named(right.features, "hinge plate")) == 4


def test_shelf_pins_of_both_columns_go_through_and_of_one_do_not() -> None:
    both = panel(box_of(columns(PINNED, PINNED)), "divider 1")
    assert {hole.through for hole in _named(both.features, "shelf pin")} == {True}
    assert not _named(both.rear_features, "shelf pin")
    one = panel(box_of(columns(DOOR, PINNED)), "divider 1")
    assert not _named(one.features, "shelf pin")
    pins = _named(one.rear_features, "shelf pin")
    # Behind the dado, 6 deep, of the other face 17.8 - 6 - 3 are left.
    assert {(hole.through, round(hole.depth_mm, 3)) for hole in pins} == {(False, 12.0), (False, 8.8)}
    blind = panel(box_of(columns(PINNED, PINNED, divider_pins="blind")), "divider 1")
    assert {round(hole.depth_mm, 3) for hole in _named(blind.rear_features, "shelf pin")} == {7.4}


def test_slides_at_one_height_leave_three_millimetres_between_them_and_say_so() -> None:
    """(17.8 - 3) / 2 = 7.4 deep from either face instead of 12."""
    cabinet = cabinet_of(columns(DRAWERS, DRAWERS))
    box = compile_cabinet(cabinet)
    divider = panel(box, "divider 1")
    holes = (*_named(divider.features, "slide"), *_named(divider.rear_features, "slide"))
    assert [hole.depth_mm for hole in holes] == pytest.approx([7.4] * 8)
    assert {hole.depth_mm for hole in _named(panel(box, "left side").features, "slide")} == {12.0}
    (told,) = check_fit(cabinet, box).findings
    assert (told.severity, told.code) == ("note", "divider-holes-shallow")
    assert told.message == (
        "B1 divider 1: 8 slide holes are 7.40 mm deep, not 12: both faces of 17.8 mm are cut there, and 3 mm stay "
        "between"
    )


def test_a_divider_cut_on_its_right_face_alone_is_turned_and_needs_one_set_up() -> None:
    divider = panel(box_of(columns((FrontOrder(fill="open"),), DOOR)), "divider 1")
    assert (divider.face_up, divider.front_edge, divider.rear_features) == ("right face", "y1", ())
    assert divider.place is not None
    assert divider.place.normal == (1.0, 0.0, 0.0)
    assert [item.name for item in divider.features] == ["column 2 fixed shelf 1 dado"]


def test_inset_fronts_lie_between_the_uprights_and_the_divider_comes_to_the_front() -> None:
    """A reveal of 2.4 on each side of a door; shelves stand back by the door's 18, the divider does not."""
    box = box_of(columns(PINNED, DOOR, mount=Mount.INSET))
    assert panel(box, "column 1 door").width_mm == pytest.approx(CLEAR - 4.8)
    assert panel(box, "divider 1").width_mm == pytest.approx(574.2)
    assert panel(box, "column 2 fixed shelf 1").width_mm == pytest.approx(574.2 - 18)


def test_three_columns_where_they_are_ordered() -> None:
    """The middle fronts from the first divider's middle, 17.8 + 250 + 8.9, to the second's, 17.8 + 550 + 8.9."""
    box = box_of(columns(DOOR, DRAWERS, DOOR, dividers_mm=(250.0, 550.0)))
    front = panel(box, "column 2 drawer front 1")
    assert front.place is not None
    assert (front.place.origin[0], front.width_mm) == pytest.approx((276.7 + 1.5, 300 - 3))


def test_the_hardware_of_all_columns_is_counted() -> None:
    lines = {line.item: line.count for line in box_of(columns(DRAWERS, PINNED)).hardware}
    assert (lines["undermount slide, pair"], lines["cup hinge"], lines["shelf pin"]) == (2, 2, 4)
    details = {line.item: line.detail for line in box_of(columns(PINNED, PINNED)).hardware}
    assert "column 2 door: on a divider that the next door shares, for half overlay" in details["cup hinge"]


def test_shelves_in_columns_without_fronts_of_their_own_have_four_pins_each() -> None:
    box = box_of(order(CabinetKind.BASE, width_mm=900.0, adjustable_shelves=2, dividers_mm=(None,)))
    assert {line.item: line.count for line in box.hardware}["shelf pin"] == 16


THICK = replace(WORKED_EXAMPLE, dado_depth_mm=8.0)


@pytest.mark.parametrize(
    ("wanted", "code", "words"),
    [
        pytest.param(columns(DOOR, DOOR, construction=THICK), "divider-not-possible",
                     "columns 1 and 2 at one height would leave 1.80 mm of the divider between two dados 8 mm deep",
                     id="two deep dados back to back"),
        pytest.param(columns(DOOR, DOOR, faces=Faces.FACE_FRAME), "divider-not-possible", "a face frame has no stile",
                     id="a face frame"),
        pytest.param(columns(DRAWERS, DOOR, dividers_mm=(120.0,)), "drawer-too-narrow",
                     'cabinet "B1", column 1: the drawer box would be', id="a column too narrow for its drawers"),
        pytest.param(columns(DOOR, DOOR, kind=CabinetKind.SINK), "divider-not-possible", "rails on edge", id="a sink"),
        pytest.param(columns(DOOR, DOOR, kind=CabinetKind.TALL, height_mm=2100.0), "divider-not-possible",
                     "columns with fronts of their own stand in one box, and it would be made of 2", id="two boxes"),
    ],
)  # fmt: skip
def test_columns_that_cannot_be_made_are_refused(wanted: CabinetOrder, code: str, words: str) -> None:
    errors = [item for item in resolve(wanted).findings if item.severity == "error"]
    assert code in {item.code for item in errors}
    assert any(words in item.message for item in errors)


def test_a_butt_joint_at_a_divider_is_told() -> None:
    construction = replace(WORKED_EXAMPLE, shelf_joint=LevelJoint.BUTT)
    told = [item.message for item in resolve(columns(DRAWERS, DOOR, construction=construction)).findings]
    assert any("a butt joint without screws at the dividers" in message for message in told)
