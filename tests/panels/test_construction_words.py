"""What each word of the construction makes of the worked example (W 600, D 580, H 876, t 17.8, tb 5.8, d 6, r 6, c 0.2,
Kh 100, Kd 75, Ws 100), every expected size worked out by hand from the definitions in docs/construction.md."""

import math
from dataclasses import replace
from typing import Any

import pytest

from box_kit import WORKED_EXAMPLE, bores, box_of, order, panel, recess, resolve, size
from rabbetry.job.model import CabinetKind, CabinetOrder, Construction, Nailer
from rabbetry.job.words import BackPlace, BottomWord, FinishedEnd, LevelJoint, TopWord
from rabbetry.panels.model import Box, Recess

_INCH = 25.4


def near(*values: float) -> object:
    return pytest.approx(values, abs=1e-9)


def wanted(kind: CabinetKind = CabinetKind.BASE, **changes: Any) -> CabinetOrder:
    """An order of the worked example; changes of the construction by name, of the order in `of_order`."""
    of_order = changes.pop("of_order", {})
    return order(kind, **of_order, construction=replace(WORKED_EXAMPLE, **changes))


def roles(box: Box) -> list[str]:
    return [each.role for each in box.panels]


def _inches(**sizes: float) -> Construction:
    return replace(WORKED_EXAMPLE, **{f"{key}_mm": value * _INCH for key, value in sizes.items()})


@pytest.mark.parametrize("joint", [LevelJoint.DADO, LevelJoint.STOPPED_DADO, LevelJoint.TONGUE])
@pytest.mark.parametrize(("thickness", "length"), [(0.703, 23.094), (0.731, 23.038)])
def test_the_outside_width_holds_whatever_the_sheet_measures(
    joint: LevelJoint, thickness: float, length: float
) -> None:
    """24 in outside, dados 1/4 in: 24 - 2 x 0.703 + 2 x 0.25, with a tongue too: its depth clearance is in the dado."""
    construction = replace(
        _inches(dado_depth=0.25, depth_clearance=0.015, tongue_thickness=0.375, kick_height=4, kick_depth=3),
        bottom_joint=joint,
    )
    ordered = order(CabinetKind.BASE, width_mm=24 * _INCH, depth_mm=23.25 * _INCH, construction=construction)
    box = box_of(ordered, carcass=thickness * _INCH)
    assert panel(box, "bottom").length_mm == pytest.approx(length * _INCH, abs=1e-9)
    depth = recess(panel(box, "left side"), "bottom dado").depth_mm
    assert depth == pytest.approx((0.265 if joint is LevelJoint.TONGUE else 0.25) * _INCH, abs=1e-9)


def test_a_dado_follows_the_mate_that_enters_it_not_the_side_it_is_cut_in() -> None:
    """Bottom 0.703 in, sides 0.731 in, clearance 0.010 in: the dado is 0.713 in wide."""
    ordered = order(CabinetKind.BASE, width_mm=24 * _INCH, side_stock="side", construction=_inches(fit_clearance=0.010))
    box = box_of(ordered, carcass=0.703 * _INCH, side=0.731 * _INCH)
    x0, _, x1, _ = recess(panel(box, "left side"), "bottom dado").outline.bounds
    assert x1 - x0 == pytest.approx(0.713 * _INCH, abs=1e-9)
    assert panel(box, "left side").thickness_mm == pytest.approx(0.731 * _INCH)


def test_a_stopped_dado_ends_round_and_its_shelf_is_notched_past_the_round() -> None:
    """18 wide, so its half circle has a radius of 9 and it is whole from 10 + 9 behind the front edge; the notch goes
    6.5 farther, for the round in its own corner."""
    box = box_of(wanted(shelf_joint=LevelJoint.STOPPED_DADO, of_order={"fixed_shelves": 1}))
    dado = recess(panel(box, "right side"), "fixed shelf 1 dado")
    assert dado.outline.bounds[1::2] == near(10.0, 580.0)
    assert dado.outline.area == pytest.approx(18 * (580 - 19) + math.pi * 81 / 2, abs=1e-6)
    shelf = panel(box, "fixed shelf 1")
    assert size(shelf) == near(576.4, 574.2)
    corners = {(round(item.start.x, 6), round(item.start.y, 6)) for item in shelf.outline.segments}
    assert corners == {
        (0.0, 25.5), (6.0, 25.5), (6.0, 0.0), (570.4, 0.0), (570.4, 25.5), (576.4, 25.5), (576.4, 574.2), (0.0, 574.2)
    }  # fmt: skip


def test_over_a_toe_kick_a_stopped_dado_is_open_below_and_ends_in_a_quarter_round() -> None:
    """From the kick's edge at 100 to 117.9: a radius of 17.9, whole from 27.9 behind the front edge. Behind the kick,
    75 deep, the lower wall is at 99.9."""
    box = box_of(wanted(bottom_joint=LevelJoint.STOPPED_DADO))
    dado = recess(panel(box, "right side"), "bottom dado")
    assert dado.outline.bounds == near(99.9, 10.0, 117.9, 580.0)
    quarter, above, behind = math.pi * 17.9**2 / 4, 17.9 * (75 - 27.9), 18 * (580 - 75)
    assert dado.outline.area == pytest.approx(quarter + above + behind, abs=1e-6)
    assert panel(box, "bottom").outline.area == pytest.approx(576.4 * 574.2 - 2 * 6 * (27.9 + 6.5), abs=1e-6)


def test_a_stopped_dado_whose_round_would_stand_half_over_the_kick_ends_behind_it() -> None:
    """A kick 20 deep: 10 + 17.9 is past it, so the dado ends at 20, with a half circle of radius 9."""
    dado = recess(panel(box_of(wanted(bottom_joint=LevelJoint.STOPPED_DADO, kick_depth_mm=20.0)), "left side"),
                  "bottom dado")  # fmt: skip
    assert dado.outline.area == pytest.approx(18 * (580 - 29) + math.pi * 81 / 2, abs=1e-6)


def test_a_tongue_is_left_by_rabbets_in_the_upper_face_and_its_dado_is_deeper() -> None:
    box = box_of(wanted(bottom_joint=LevelJoint.TONGUE, tongue_thickness_mm=9.0, depth_clearance_mm=0.4))
    bottom, side = panel(box, "bottom"), panel(box, "right side")
    dado = recess(side, "bottom dado")
    # 99.9 to 100 + 9 + 0.1, 6 + 0.4 deep, round from 10 on: open below over the kick, so a radius of 9.1.
    assert dado.outline.bounds == near(99.9, 10.0, 109.1, 580.0)
    assert dado.depth_mm == pytest.approx(6.4)
    left, right = (recess(bottom, f"{hand} tongue rabbet") for hand in ("left", "right"))
    assert [item.depth_mm for item in (left, right)] == pytest.approx([8.8, 8.8])
    notch = 10 + 9.1 + 6.5
    assert left.outline.bounds == near(0.0, notch, 6.0, 574.2)
    assert right.outline.bounds == near(570.4, notch, 576.4, 574.2)
    assert (size(bottom), bottom.face_up) == ((pytest.approx(576.4), pytest.approx(574.2)), "upper face")
    assert bottom.note == "the shoulders seat: tongues 6 mm long in dados 6.4 mm deep"
    assert {bore.centre.x for bore in bores(side, "pilot") if bore.name.startswith("bottom")} == {104.5}


def test_a_finding_says_what_seats_and_where_the_depth_clearance_is() -> None:
    found = resolve(wanted(bottom_joint=LevelJoint.TONGUE)).findings
    assert [(item.code, item.severity, item.message) for item in found if item.code == "shoulder-seats"] == [
        (
            "shoulder-seats",
            "note",
            'cabinet "B1": the bottom: the shoulders seat on the sides\' faces; the dados are 0.4 mm deeper than the '
            "tongues are long, and no length of a panel holds that clearance; with zero on the stock's top a tongue is "
            "as much off its thickness as the sheet is off its own",
        )
    ]


def test_a_butted_panel_is_as_long_as_the_inside_is_wide() -> None:
    box = box_of(wanted(bottom_joint=LevelJoint.BUTT, top_joint=LevelJoint.BUTT))
    assert size(panel(box, "bottom")) == near(564.4, 574.2)
    assert size(panel(box, "front stretcher")) == near(564.4, 100.0)
    side = panel(box, "left side")
    assert [item.name for item in side.features if isinstance(item, Recess)] == ["back rabbet"]
    assert len([bore for bore in bores(side, "pilot") if bore.name.startswith("bottom")]) == 4
    assert {joint.kind for joint in box.joints if joint.entering == "B1 bottom"} == {"butt"}


def test_the_sides_own_stock_sets_the_length_between_them() -> None:
    box = box_of(wanted(bottom_joint=LevelJoint.BUTT, of_order={"side_stock": "side"}), side=18.3)
    assert panel(box, "bottom").length_mm == pytest.approx(600 - 2 * 18.3)
    (row,) = {bore.depth_mm for bore in bores(panel(box, "left side"), "pilot")}
    assert row == 18.3


def test_a_back_in_a_groove_leaves_wood_behind_it_and_less_for_the_bottom() -> None:
    box = box_of(wanted(back=BackPlace.GROOVE, back_inset_mm=12.0))
    groove = recess(panel(box, "right side"), "back groove")
    assert (groove.outline.bounds, groove.depth_mm) == (near(0.0, 562.1, 876.0, 568.1), 6.0)
    assert size(panel(box, "bottom")) == near(576.4, 562.2)
    back = panel(box, "back")
    assert size(back) == near(576.2, 776.0)
    assert back.place is not None
    assert back.place.origin == near(11.9, 562.2, 100.0)


def test_an_applied_back_is_as_wide_as_the_box_and_the_sides_end_at_it() -> None:
    box = box_of(wanted(back=BackPlace.APPLIED))
    assert size(panel(box, "left side")) == near(876.0, 574.2)
    assert size(panel(box, "back")) == near(600.0, 776.0)
    names = [bore.name for bore in bores(panel(box, "back"), "pilot")]
    # 776 less two ends of 40 takes 4 gaps of at most 200; 600 less two sides and two ends takes 3.
    counts = {word: sum(name.startswith(word) for name in names) for word in ("left", "right", "bottom", "rear")}
    assert counts == {"left": 5, "right": 5, "bottom": 4, "rear": 4}
    # In the middle of what the dados leave of a side: (17.8 - 6) / 2.
    assert {round(bore.centre.x, 6) for bore in bores(panel(box, "back"), "pilot")[:10]} == {5.9, 594.1}
    assert {joint.entering for joint in box.joints if joint.receiver == "B1 back"} == {
        "B1 left side", "B1 right side", "B1 bottom", "B1 rear stretcher"
    }  # fmt: skip
    assert not [item.name for item in panel(box, "left side").features if item.name.startswith("back")]


def test_nailers_stand_under_the_top_and_on_the_bottom() -> None:
    box = box_of(wanted(CabinetKind.WALL, of_order={"nailer": Nailer.BOTH, "back": False}))
    upper, lower = panel(box, "nailer").place, panel(box, "lower nailer").place
    assert upper is not None
    assert lower is not None
    # 876 - 17.8 - 100 under the top; on the bottom, raised 18 and 17.8 thick; the rear edge is 580 behind the front.
    assert upper.origin == near(17.8, 562.2, 758.2)
    assert lower.origin == near(17.8, 562.2, 35.8)
    assert size(panel(box, "lower nailer")) == near(564.4, 100.0)


@pytest.mark.parametrize(
    ("kind", "top", "expected"),
    [
        (CabinetKind.BASE, TopWord.BY_KIND, ["front stretcher", "rear stretcher"]),
        (CabinetKind.BASE, TopWord.FULL, ["top"]),
        (CabinetKind.BASE, TopWord.ON_EDGE, ["front rail", "rear rail"]),
        (CabinetKind.SINK, TopWord.BY_KIND, ["front rail", "rear rail"]),
        (CabinetKind.SINK, TopWord.STRETCHERS, ["front stretcher", "rear stretcher"]),
        (CabinetKind.WALL, TopWord.BY_KIND, ["top"]),
        (CabinetKind.WALL, TopWord.STRETCHERS, ["front stretcher", "rear stretcher"]),
    ],
)
def test_the_top_is_as_the_word_says_else_as_the_kind_does(
    kind: CabinetKind, top: TopWord, expected: list[str]
) -> None:
    tops = {"top", "front stretcher", "rear stretcher", "front rail", "rear rail"}
    assert [role for role in roles(box_of(wanted(kind, top=top))) if role in tops] == expected


def test_a_drawer_stays_below_rails_on_edge() -> None:
    ordered = wanted(CabinetKind.DRAWERS, top=TopWord.ON_EDGE, of_order={"drawer_front_heights_mm": (250.0, 0.0, 0.0)})
    (cabinet,) = resolve(ordered).cabinets
    assert cabinet.openings[0].top_z_mm == 776.0


@pytest.mark.parametrize(
    ("kind", "word", "height"),
    [
        (CabinetKind.BASE, BottomWord.BY_KIND, 100.0),
        (CabinetKind.BASE, BottomWord.FLUSH, 100.0),
        (CabinetKind.BASE, BottomWord.RAISED, 118.0),
        (CabinetKind.WALL, BottomWord.BY_KIND, 18.0),
        (CabinetKind.WALL, BottomWord.FLUSH, 0.0),
        (CabinetKind.WALL, BottomWord.RAISED, 18.0),
    ],
)
def test_the_bottom_is_flush_or_raised(kind: CabinetKind, word: BottomWord, height: float) -> None:
    (cabinet,) = resolve(wanted(kind, bottom=word, of_order={"doors": 1})).cabinets
    assert cabinet.bottom_z_mm == height
    # The door hangs from the box's lower edge, or from the kick, wherever the bottom lies.
    assert cabinet.fronts[0].z_mm == (101.5 if kind is CabinetKind.BASE else 1.5)


def test_no_screw_goes_through_a_finished_end_and_the_hardware_counts_fewer() -> None:
    plain, finished = box_of(wanted()), box_of(wanted(finished=FinishedEnd.LEFT))
    holes = len(bores(panel(plain, "left side"), "pilot"))
    assert holes > 0
    assert bores(panel(finished, "left side"), "pilot") == ()
    assert panel(finished, "right side") == panel(plain, "right side")
    screws = [next(line.count for line in box.hardware if line.item == "assembly screw") for box in (plain, finished)]
    assert screws == [2 * holes, holes]
    assert panel(finished, "left side").note == "finished end: its outside shows; no screws through it"


def test_a_scribe_makes_the_finished_end_deeper_and_its_back_rabbet_as_much_wider() -> None:
    box = box_of(wanted(finished=FinishedEnd.RIGHT, scribe_mm=25.0))
    assert [size(panel(box, f"{hand} side"))[1] for hand in ("left", "right")] == [580.0, 605.0]
    assert recess(panel(box, "right side"), "back rabbet").outline.bounds == near(0.0, 574.0, 876.0, 605.0)
    assert panel(box, "right side").note.endswith("; 25 mm of its rear edge are for scribing")
    assert size(panel(box, "bottom")) == near(576.4, 574.2)


def test_a_banded_panel_is_cut_smaller_by_the_band_on_each_banded_edge() -> None:
    ordered = wanted(band_thickness_mm=2.0, of_order={"doors": 1, "fixed_shelves": 1})
    box, whole = box_of(ordered), box_of(replace(ordered, construction=WORKED_EXAMPLE))
    assert size(panel(box, "left side")) == near(876.0, 578.0)
    assert size(panel(box, "bottom")) == near(576.4, 572.2)
    assert size(panel(box, "back")) == size(panel(whole, "back"))
    door, before = panel(box, "door"), panel(whole, "door")
    assert size(door) == near(before.length_mm - 4, before.width_mm - 4)
    # Nothing moves in the box: the bottom's dado begins at the new front edge, a hinge cup stays where it was.
    assert recess(panel(box, "right side"), "bottom dado").outline.bounds == near(99.9, 0.0, 117.9, 578.0)
    cups = [bores(each, "hinge cup")[0].centre for each in (door, before)]
    assert (cups[0].x, cups[0].y) == near(cups[1].x - 2, cups[1].y - 2)
    assert panel(box, "bottom").note == "cut 2 mm smaller on each banded edge"


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        pytest.param(
            {"bottom_joint": LevelJoint.RABBET},
            "a rabbet takes a panel at the sides' very ends only; the bottom lies 100 mm above them: write "
            'bottom_joint = "dado"',
            id="a rabbet over a toe kick",
        ),
        pytest.param(
            {"shelf_joint": LevelJoint.RABBET, "of_order": {"fixed_shelves": 1}},
            'a rabbet takes a panel at the sides\' very ends only; write shelf_joint = "dado"',
            id="a rabbet in mid-side",
        ),
        pytest.param(
            {"bottom_joint": LevelJoint.TONGUE, "tongue_thickness_mm": 16.0},
            "the bottom, 17.8 mm thick, has no shoulder over a tongue of 16 mm; at least 2 mm are needed",
            id="a tongue as thick as its panel",
        ),
        pytest.param(
            {"top_joint": LevelJoint.STOPPED_DADO, "dado_stop_mm": 60.0},
            "the front stretcher, 100.00 mm from front to back, keeps 15.50 mm in a dado that ends 60 mm behind the "
            "front edge; at least 20 mm are needed",
            id="a stretcher that would hang by nothing",
        ),
        pytest.param(
            {"finished": FinishedEnd.LEFT, "scribe_mm": 20.0, "back": BackPlace.APPLIED},
            'a finished end with a scribe cannot stand behind an applied back: write back = "rabbet" or scribe = 0',
            id="a scribe behind an applied back",
        ),
    ],
)
def test_what_the_words_cannot_make_is_refused_with_its_reason(changes: dict[str, Any], message: str) -> None:
    resolved = resolve(wanted(**changes))
    assert resolved.cabinets == ()
    assert [(item.code, item.message) for item in resolved.findings if item.severity == "error"] == [
        ("joint-impossible", f'cabinet "B1": {message}')
    ]


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"bottom_joint": LevelJoint.BUTT, "finished": FinishedEnd.LEFT}, "end-unheld"),
        ({"top": TopWord.ON_EDGE, "top_joint": LevelJoint.TONGUE}, "joint-other"),
        ({"back": BackPlace.APPLIED, "finished": FinishedEnd.BOTH}, "back-shows"),
        ({"back": BackPlace.GROOVE, "back_inset_mm": 4.0}, "recess-deep"),
    ],
)
def test_what_the_words_bring_with_them_is_said(changes: dict[str, Any], code: str) -> None:
    assert code in {item.code for item in resolve(wanted(**changes)).findings}
    assert code not in {item.code for item in resolve(wanted()).findings}
