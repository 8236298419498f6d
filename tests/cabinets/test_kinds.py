"""Kinds that are variants of the two-sided box: their sizes by hand arithmetic, in the comments beside them.

Stocks of `box_kit`: carcass 17.8, back 5.8, front 18; front gap 3, kick 100, stretchers and rails 100 wide. Blanks
1220 x 1220 with 5 trimmed off: the longest part is 1210.
"""

from dataclasses import replace

import pytest

from box_kit import WORKED_EXAMPLE, bores, box_of, cabinet_of, order, panel, recess, resolve, size
from rabbetry.cabinets.model import Cabinet
from rabbetry.job.choices import BlindOrder, CutOutOrder, FrontOrder, OpeningOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetKind, CabinetOrder, Mount, Nailer
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Bore, CutOut


def _messages(wanted: CabinetOrder) -> list[str]:
    return [item.message for item in resolve(wanted).findings if item.severity == "error"]


def _front(cabinet: Cabinet, name: str) -> tuple[float, float, float, float]:
    (front,) = [front for front in cabinet.fronts if front.name == name]
    return front.x_mm, front.z_mm, front.width_mm, front.height_mm


def test_every_kind_has_its_row() -> None:
    assert [row.kind for row in KINDS.values()] == list(CabinetKind)


# A front in any order.

_MIXED = (
    FrontOrder(fill="drawer", height_mm=157.0, below="rail"),
    FrontOrder(fill="open", height_mm=200.0, below="shelf"),
    FrontOrder(fill="door", doors=2, adjustable_shelves=1),
)


def test_a_mixed_front_is_stacked_from_the_top_down() -> None:
    """From 874.5: drawer 157 to 717.5, gap, open 200 to 514.5, gap, doors from 511.5 down to 101.5: 410 high."""
    cabinet = cabinet_of(order(CabinetKind.BASE, fronts=_MIXED))
    assert _front(cabinet, "drawer front 1") == (1.5, 717.5, 597.0, 157.0)
    assert _front(cabinet, "left door") == pytest.approx((1.5, 101.5, 297.0, 410.0))
    # Rail and shelf lie in the middle of the gaps at 716 and 513: 8.9 below to 8.9 above.
    assert cabinet.rail_z_mm == pytest.approx((707.1,))
    assert cabinet.fixed_shelf_z_mm == pytest.approx((504.1,))
    spans = [(item.fill, item.floor_z_mm, item.top_z_mm) for item in cabinet.openings]
    assert spans == [
        ("drawer", pytest.approx(724.9), pytest.approx(858.2)),
        ("open", pytest.approx(521.9), pytest.approx(707.1)),
        ("door", pytest.approx(117.8), pytest.approx(504.1)),
    ]


def test_a_rail_between_fronts_sits_in_a_dado_with_two_relieved_corners() -> None:
    box = box_of(order(CabinetKind.BASE, fronts=_MIXED))
    assert size(panel(box, "middle rail 1")) == pytest.approx((576.4, 100.0))
    dado = recess(panel(box, "right side"), "middle rail 1 dado")
    # 707.1 - 0.1 to 724.9 + 0.1; from the front edge, 100 and a clearance of 0.2 deep.
    assert dado.outline.bounds == pytest.approx((707.0, 0.0, 725.0, 100.2))
    assert [(point.x, point.y) for point in dado.relieved_corners] == [
        pytest.approx((707.0, 100.2)),
        pytest.approx((725.0, 100.2)),
    ]


def test_inset_fronts_leave_the_shelf_between_them_in_sight() -> None:
    """Reveal 2.4: the gap is 17.8 + 2 x 2.4 = 22.6. The upper door ends 2.4 below the stretchers at 858.2."""
    stack = (FrontOrder(fill="door", height_mm=300.0, below="shelf"), FrontOrder(fill="door"))
    cabinet = cabinet_of(order(CabinetKind.BASE, fronts=stack, mount=Mount.INSET))
    upper, lower = cabinet.fronts
    assert upper.z_mm - (lower.z_mm + lower.height_mm) == pytest.approx(22.6)
    assert cabinet.fixed_shelf_z_mm[0] - (lower.z_mm + lower.height_mm) == pytest.approx(2.4)
    assert upper.z_mm == pytest.approx(858.2 - 2.4 - 300.0)


def test_doors_and_fronts_of_one_sort_are_counted_from_the_top() -> None:
    stack = tuple(FrontOrder(fill=fill) for fill in ("door", "drawer", "false front", "drawer", "door"))
    names = [front.name for front in cabinet_of(order(CabinetKind.BASE, height_mm=1100.0, fronts=stack)).fronts]
    assert names == ["door 1", "drawer front 1", "false front 1", "drawer front 2", "door 2"]


@pytest.mark.parametrize(
    ("fills", "expected"),
    [
        pytest.param(("false front", "door"), [("door", 117.8, 858.2)], id="the door below takes its room"),
        pytest.param(("door", "false front"), [("door", 117.8, 858.2)], id="the door above does when it is lowest"),
        pytest.param(("false front", "drawer"), [("drawer", 117.8, 488.0)], id="a drawer keeps its own room"),
    ],
)
def test_what_is_behind_a_false_front(fills: tuple[str, ...], expected: list[tuple[str, float, float]]) -> None:
    """Two equal bands meet at (101.5 + 874.5)/2 = 488."""
    cabinet = cabinet_of(order(CabinetKind.BASE, fronts=tuple(FrontOrder(fill=fill) for fill in fills)))
    spans = [(item.fill, round(item.floor_z_mm, 6), round(item.top_z_mm, 6)) for item in cabinet.openings]
    assert spans == expected


def test_a_shelf_in_the_nailers_room_is_refused() -> None:
    stack = (FrontOrder(fill="open", height_mm=80.0, below="shelf"), FrontOrder(fill="door"))
    # Gap in the middle at 874.5 - 80 - 1.5 = 793; the nailer reaches down to 858.2 - 100 = 758.2.
    assert _messages(order(CabinetKind.BASE, fronts=stack, nailer=Nailer.TOP)) == [
        'cabinet "B1": the shelf between two fronts would lie from 784.10 to 801.90 mm above the floor; '
        "117.80 to 758.20 mm is free"
    ]


# Tall, in stacked boxes.


def test_a_tall_cabinet_within_the_blank_is_one_box() -> None:
    resolved = resolve(order(CabinetKind.TALL, height_mm=1210.0, doors=1))
    assert [box.name for box in resolved.cabinets] == ["B1"]


def test_a_tall_cabinet_longer_than_the_blank_is_split_in_two_and_says_so() -> None:
    resolved = resolve(order(CabinetKind.TALL, height_mm=2100.0, doors=1, qty=2, adjustable_shelves=3))
    lower, upper = resolved.cabinets[:2]
    assert [box.name for box in resolved.cabinets] == ["B1 lower", "B1 upper", "B1-2 lower", "B1-2 upper"]
    assert (lower.height_mm, upper.height_mm, upper.base_z_mm) == (1050.0, 1050.0, 1050.0)
    assert (lower.has_kick, upper.has_kick, upper.bottom_z_mm) == (True, False, 0.0)
    # One door from 101.5 to 2098.5 is parted: 101.5 to 1048.5, and 1.5 to 1048.5 in the upper box.
    assert _front(lower, "door") == pytest.approx((1.5, 101.5, 597.0, 947.0))
    assert _front(upper, "door") == pytest.approx((1.5, 1.5, 597.0, 1047.0))
    assert lower.adjustable_shelves + upper.adjustable_shelves == 3
    note = next(item for item in resolved.findings if item.code == "cabinet-split")
    assert note.severity == "note"
    assert note.message.startswith(
        'cabinet "B1": its sides, 2100 mm long, are longer than the 1210 mm that a blank of "carcass" gives; it is '
        "made of 2 stacked boxes 1050.00, 1050.00 mm high, parted 1050.00 mm above the floor."
    )


def test_a_split_goes_between_two_fronts_where_it_can() -> None:
    """Drawers 200 each to 101.5 + 3 x 200 + 2 x 3 = 707.5; the gap above them, 709, leaves 1391 above: more than 1210.
    Between the upper doors at 2098.5 - 1000 - 1.5 = 1097 both boxes fit."""
    stack = (
        FrontOrder(fill="door", height_mm=1000.0),
        FrontOrder(fill="door"),
        *(FrontOrder(fill="drawer", height_mm=200.0) for _ in range(3)),
    )
    boxes = resolve(order(CabinetKind.TALL, height_mm=2100.0, fronts=stack)).cabinets
    assert [box.height_mm for box in boxes] == pytest.approx([1097.0, 1003.0])
    assert [[front.name for front in box.fronts] for box in boxes] == [
        ["door", "drawer front 1", "drawer front 2", "drawer front 3"],
        ["door"],
    ]


def test_a_split_as_ordered_parts_a_cabinet_that_would_fit() -> None:
    boxes = resolve(order(CabinetKind.TALL, height_mm=1200.0, doors=1, split_mm=(700.0,))).cabinets
    assert [box.height_mm for box in boxes] == [700.0, 500.0]


@pytest.mark.parametrize(
    ("split", "message"),
    [
        pytest.param(
            (800.0,),
            'cabinet "B1": a box from 800 to 2100 mm has sides 1300.00 mm long; a blank of "carcass" gives 1210 mm',
            id="a box too high for the blank",
        ),
        pytest.param(
            (1000.0, 1200.0),
            'cabinet "B1": split at 1000 and 1200 mm leaves a box 200.00 mm high; at least 250 mm is expected',
            id="a box too low",
        ),
    ],
)
def test_a_split_that_cannot_be_is_refused(split: tuple[float, ...], message: str) -> None:
    assert message in _messages(order(CabinetKind.TALL, height_mm=2100.0, doors=0, split_mm=split))


def test_a_split_does_not_go_through_a_drawer() -> None:
    stack = (
        FrontOrder(fill="door", height_mm=900.0),
        FrontOrder(fill="drawer", height_mm=300.0),
        FrontOrder(fill="door"),
    )
    # From the top: 2098.5 - 900 = 1198.5; gap to 1195.5; the drawer to 895.5.
    assert _messages(order(CabinetKind.TALL, height_mm=2100.0, fronts=stack, split_mm=(1000.0,))) == [
        'cabinet "B1": the split at 1000.00 mm runs through the drawer from 895.50 to 1195.50 mm; write split = [...] '
        "with heights between two fronts, or give the fronts other heights"
    ]


def test_stacked_boxes_are_screwed_together_hole_above_hole() -> None:
    """Two rows 60 behind the front edge and before the back (574.2); 60 in from the sides and no farther apart
    than 400: 564.4 - 120 = 444.4 takes two gaps of 222.2."""
    lower, upper = resolve(order(CabinetKind.TALL, height_mm=2100.0, doors=1)).cabinets
    top, bottom = panel(compile_cabinet(lower), "top"), panel(compile_cabinet(upper), "bottom")
    pilots, screws = bores(top, "box pilot"), bores(bottom, "box screw")
    assert [_at(top, hole) for hole in pilots] == [_at(bottom, hole) for hole in screws]
    assert [_at(bottom, hole) for hole in screws] == [
        pytest.approx((x, y)) for y in (60.0, 514.2) for x in (77.8, 300.0, 522.2)
    ]
    assert all(hole.through and hole.diameter_mm == 5.0 for hole in screws)
    assert all(not hole.through and hole.depth_mm == pytest.approx(13.8) for hole in pilots)
    assert not bores(panel(compile_cabinet(lower), "bottom"), "box screw")
    assert not bores(panel(compile_cabinet(upper), "top"), "box pilot")


def _at(of: object, hole: Bore) -> tuple[float, float]:
    place = of.place  # type: ignore[attr-defined]
    x, y, _ = place.point(hole.centre.x, hole.centre.y, 0.0)
    return round(x, 6), round(y, 6)


# A blind corner.

_BLIND = BlindOrder(hand="left", neighbour_depth_mm=580.0, pull_clearance_mm=60.0, pulled_out_mm=0.0)


def test_the_blind_part_is_neighbour_fronts_and_pulls() -> None:
    """580 + 18 + 60 = 658 of 1000; the panel keeps 1.5 at either end, the door 1.5 beside it and at its far edge."""
    wanted = order(CabinetKind.BLIND_CORNER, width_mm=1000.0, doors=1, hinge="right", blind=_BLIND)
    cabinet = cabinet_of(wanted)
    assert _front(cabinet, "blind panel") == pytest.approx((1.5, 101.5, 655.0, 773.0))
    assert _front(cabinet, "door") == pytest.approx((659.5, 101.5, 339.0, 773.0))
    filler = panel(compile_cabinet(cabinet), "corner filler")
    assert (size(filler), filler.place) == ((pytest.approx(776.0), 60.0), None)


def test_a_right_hand_corner_is_the_mirror_image() -> None:
    blind = replace(_BLIND, hand="right")
    cabinet = cabinet_of(order(CabinetKind.BLIND_CORNER, width_mm=1000.0, doors=1, hinge="left", blind=blind))
    assert _front(cabinet, "blind panel") == pytest.approx((343.5, 101.5, 655.0, 773.0))
    assert _front(cabinet, "door") == pytest.approx((1.5, 101.5, 339.0, 773.0))


def test_a_box_pulled_out_of_the_corner_has_less_blind() -> None:
    blind = replace(_BLIND, pulled_out_mm=150.0)
    cabinet = cabinet_of(order(CabinetKind.BLIND_CORNER, width_mm=1000.0, doors=1, hinge="right", blind=blind))
    assert cabinet.blind_mm == 508.0


def test_a_blind_panel_is_cut_from_sheet_though_doors_are_made_elsewhere() -> None:
    wanted = order(CabinetKind.BLIND_CORNER, width_mm=1000.0, doors=1, hinge="right", blind=_BLIND, slab_doors=False)
    box = box_of(wanted)
    # Fronts made elsewhere are 19 thick as set: 580 + 19 + 60 = 659 blind.
    assert size(panel(box, "blind panel")) == pytest.approx((773.0, 656.0))
    assert [front.name for front in box.fronts] == ["B1 door"]


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        pytest.param(
            {"width_mm": 750.0},
            'cabinet "B1": neighbour 580 + fronts 18 + pulls 60 - pulled out 0 = 658.00 mm blind, which leaves 92.00 '
            "mm of width 750 for the door; at least 150 mm: make it wider, or pull it out",
            id="too narrow",
        ),
        pytest.param(
            {"hinge": "left"},
            'cabinet "B1": a door hinged left has no side to hang on at the blind end; hinge it right',
            id="hinged at the blind end",
        ),
        pytest.param(
            {"doors": 2},
            'cabinet "B1": beside a blind part there is one door: the other has no side',
            id="two doors",
        ),
        pytest.param(
            {"drawer_front_heights_mm": (150.0,)},
            'cabinet "B1": a drawer or appliance behind a blind panel could not come out',
            id="a drawer",
        ),
    ],
)
def test_a_blind_corner_that_cannot_be_is_refused(changes: dict[str, object], message: str) -> None:
    wanted = order(CabinetKind.BLIND_CORNER, width_mm=1000.0, doors=1, hinge="right", blind=_BLIND)
    assert _messages(replace(wanted, **changes)) == [message]  # type: ignore[arg-type]


# An appliance.

_OVEN = OpeningOrder(width_mm=560.0, height_mm=400.0, depth_mm=550.0, up_mm=300.0, vent=True)


def _oven(**changes: object) -> CabinetOrder:
    return order(CabinetKind.APPLIANCE, height_mm=1200.0, doors=1, opening=replace(_OVEN, **changes))  # type: ignore[arg-type]


def test_an_opening_stands_on_a_platform_at_its_height() -> None:
    """Platform 282.2 to 300; the shelf above at 700. Bands meet at the boards' middles, 291.1 and 708.9."""
    cabinet = cabinet_of(_oven())
    assert cabinet.fixed_shelf_z_mm == pytest.approx((282.2, 700.0))
    spans = [(item.fill, item.floor_z_mm, item.top_z_mm) for item in cabinet.openings]
    assert spans == [
        ("door", pytest.approx(717.8), pytest.approx(1182.2)),
        ("appliance", pytest.approx(300.0), pytest.approx(700.0)),
        ("door", pytest.approx(117.8), pytest.approx(282.2)),
    ]
    assert _front(cabinet, "door 1") == pytest.approx((1.5, 710.4, 597.0, 488.1))
    assert _front(cabinet, "door 2") == pytest.approx((1.5, 101.5, 597.0, 188.1))


def test_the_back_is_cut_out_behind_the_appliance() -> None:
    """30 left all round: 564.4 - 60 wide, 400 - 60 high, in the middle of the box; none without vent."""
    back = panel(box_of(_oven()), "back")
    (hole,) = [feature for feature in back.features if isinstance(feature, CutOut)]
    x0, y0, x1, y1 = hole.outline.bounds
    assert (x1 - x0, y1 - y0) == pytest.approx((504.4, 340.0))
    low = back.place.point(x0, y0, 0.0)  # type: ignore[union-attr]
    assert (low[0], low[2]) == pytest.approx((47.8, 330.0))
    assert not panel(box_of(_oven(vent=False)), "back").features


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        pytest.param(
            {"width_mm": 570.0},
            'cabinet "B1": an opening 570 mm wide needs 5.60 mm more: width 600 less two sides of 17.8 leaves 564.40 '
            "mm",
            id="too wide",
        ),
        pytest.param(
            {"depth_mm": 578.0, "vent": False},
            'cabinet "B1": an opening 578 mm deep needs 3.80 mm more: depth 580 less a back of 5.8',
            id="too deep",
        ),
        pytest.param(
            {"height_mm": 900.0},
            'cabinet "B1": an opening 900 mm high from 300 to 1200 mm above the floor ends 17.80 mm above the top\'s '
            "under side at 1182.2",
            id="too high",
        ),
        pytest.param(
            {"height_mm": 870.0},
            # 1170 + 8.9 is the middle of the shelf, 1.5 above it the front begins: 1198.5 - 1180.4 = 18.1.
            'cabinet "B1": an opening 870 mm high from 300 to 1170 mm above the floor leaves 18.10 mm for a front '
            "above it; at least 40 mm, or none: move the opening, or change its height",
            id="no room for a front above",
        ),
        pytest.param(
            {"up_mm": 110.0},
            'cabinet "B1": an opening 400 mm high from 110 to 510 mm above the floor begins below the bottom\'s upper '
            "side at 117.8",
            id="below the bottom",
        ),
    ],
)
def test_an_appliance_without_room_is_refused_with_the_sum(changes: dict[str, object], message: str) -> None:
    assert _messages(_oven(**changes)) == [message]


def test_a_high_appliance_cabinet_parts_at_the_platform() -> None:
    """Sides of 2000 on blanks of 1210. The opening from 850 to 1450 leaves no front to part between 790 and 1210, so
    boxes meet below the platform, at 850 - 17.8, and the upper one, 1167.8 high, is not too high."""
    opening = OpeningOrder(width_mm=560.0, height_mm=600.0, depth_mm=0.0, up_mm=850.0, vent=False)
    boxes = resolve(order(CabinetKind.APPLIANCE, height_mm=2000.0, doors=1, opening=opening)).cabinets
    assert [(box.name, box.height_mm) for box in boxes] == [
        ("B1 lower", pytest.approx(832.2)),
        ("B1 upper", pytest.approx(1167.8)),
    ]
    place = next(item for item in boxes[1].openings if item.fill == "appliance")
    assert boxes[1].base_z_mm + place.floor_z_mm == pytest.approx(850.0)
    assert place.top_z_mm - place.floor_z_mm == pytest.approx(600.0)
    # The doors below now end half a gap under the upper box: 832.2 - 1.5.
    door = boxes[0].fronts[0]
    assert door.z_mm + door.height_mm == pytest.approx(830.7)


# Over a hood or a refrigerator.


def test_ducts_go_through_bottom_and_back_of_a_wall_cabinet() -> None:
    """In the middle of 600 x 314.2 (320 less the back); the back's hole where it is asked, its panel from 18 up."""
    holes = (
        CutOutOrder(panel="bottom", x_mm=None, at_mm=None, width_mm=150.0, height_mm=150.0, round=True),
        CutOutOrder(panel="back", x_mm=200.0, at_mm=180.0, width_mm=220.0, height_mm=90.0, round=False),
    )
    box = box_of(order(CabinetKind.WALL, height_mm=400.0, depth_mm=320.0, cut_outs=holes))
    bottom, back = panel(box, "bottom"), panel(box, "back")
    (duct,) = [feature for feature in bottom.features if isinstance(feature, CutOut)]
    (slot,) = [feature for feature in back.features if isinstance(feature, CutOut)]
    assert _middle_and_size(duct, bottom) == pytest.approx((300.0, 157.1, 150.0, 150.0))
    x, z, wide, high = _middle_and_size(slot, back)
    assert (x, z, wide, high) == pytest.approx((200.0, 180.0, 220.0, 90.0))


def _middle_and_size(hole: CutOut, of: object) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = hole.outline.bounds
    place, role = of.place, of.role  # type: ignore[attr-defined]
    at = place.point((x0 + x1) / 2, (y0 + y1) / 2, 0.0)
    return at[0], at[2] if role == "back" else at[1], x1 - x0, y1 - y0


@pytest.mark.parametrize(
    ("hole", "message"),
    [
        pytest.param(
            CutOutOrder(panel="bottom", x_mm=100.0, at_mm=None, width_mm=150.0, height_mm=150.0, round=True),
            'cabinet "B1": cut-out 1 of the bottom runs from 25.00 to 175.00 mm from the left; with 20 mm of wood '
            "kept, 37.80 to 562.20 mm is free",
            id="too near to the side",
        ),
        pytest.param(
            CutOutOrder(panel="top", x_mm=None, at_mm=None, width_mm=90.0, height_mm=90.0, round=False),
            'cabinet "B1": cut-out 1: the cabinet has no top to cut',
            id="a base has no top",
        ),
    ],
)
def test_a_cut_out_needs_wood_round_it(hole: CutOutOrder, message: str) -> None:
    assert _messages(order(CabinetKind.BASE, cut_outs=(hole,))) == [message]


# Seats.


def test_a_long_window_seat_is_made_of_boxes_side_by_side() -> None:
    """1800 on blanks of 1210: two of 900; a seat of 864.4 between the sides is over 45 x 17.8 = 801."""
    resolved = resolve(order(CabinetKind.WINDOW_SEAT, width_mm=1800.0, height_mm=450.0, depth_mm=450.0))
    assert [(box.name, box.width_mm) for box in resolved.cabinets] == [("B1 left", 900.0), ("B1 right", 900.0)]
    assert [item.code for item in resolved.findings] == ["cabinet-split", "seat-span", "seat-span"]
    assert size(panel(compile_cabinet(resolved.cabinets[0]), "top")) == pytest.approx((876.4, 444.2))


def test_dividers_carry_a_seat() -> None:
    wanted = order(CabinetKind.WINDOW_SEAT, width_mm=1000.0, height_mm=450.0, depth_mm=450.0, dividers_mm=(None,))
    assert [item.code for item in resolve(wanted).findings] == []


def test_a_lid_counts_in_the_height_of_its_seat() -> None:
    """Box 450 - 18; lid 900 wide, 450 + 18 (front) + 20 over it deep; one false front 101.5 to 430.5."""
    cabinet = cabinet_of(order(CabinetKind.LIDDED_SEAT, width_mm=900.0, height_mm=450.0, depth_mm=450.0))
    box = compile_cabinet(cabinet)
    assert cabinet.height_mm == 432.0
    assert size(panel(box, "lid")) == (900.0, 488.0)
    assert _front(cabinet, "false front 1") == pytest.approx((1.5, 101.5, 897.0, 329.0))
    assert {"front rail", "rear rail"} <= {item.role for item in box.panels}


def test_a_box_above_a_kick_keeps_its_settings_when_it_is_parted() -> None:
    construction = replace(WORKED_EXAMPLE, dado_depth_mm=7.0)
    boxes = resolve(order(CabinetKind.TALL, height_mm=2100.0, construction=construction)).cabinets
    assert {box.construction.dado_depth_mm for box in boxes} == {7.0}
