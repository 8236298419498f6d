"""Sizes settled, and every impossible size said. Check values: the check-value tables, row numbers beside each."""

from dataclasses import replace

import pytest

from box_kit import WORKED_EXAMPLE, cabinet_of, order, resolve
from rabbetry.cabinets.pin_rows import balanced_row
from rabbetry.findings import Finding
from rabbetry.job.model import CabinetKind, CabinetOrder, Faces, Grain, Mount, Nailer, PartOrder, Units

_INCH = 25.4
_WIDE_NAILER = replace(WORKED_EXAMPLE, nailer_width_mm=120.0)


@pytest.mark.parametrize(
    ("height", "margin", "count", "first", "last"),
    [
        pytest.param(720.0, 37.0, 21, 40.0, 680.0, id="W57"),
        pytest.param(704.0, 32.0, 21, 32.0, 672.0, id="W58"),
        pytest.param(762.0, 37.0, 22, 45.0, 717.0, id="W59"),
        pytest.param(64.0, 32.0, 1, 32.0, 32.0, id="room for exactly one hole"),
    ],
)
def test_a_balanced_row_has_equal_ends(height: float, margin: float, count: int, first: float, last: float) -> None:
    """Derived from the 32 mm system's balanced panel (dalrun.com/32mm); W57 to W59."""
    row = balanced_row(height, margin, 32.0)
    assert (len(row), row[0], row[-1]) == (count, first, last)


def test_no_hole_fits_where_the_margins_meet() -> None:
    assert balanced_row(199.0, 100.0, 32.0) == ()


@pytest.mark.parametrize(("pitches", "height"), [(5, 157.0), (8, 253.0), (10, 317.0)])
def test_w60_faces_of_whole_pitches_stack_on_the_grid(pitches: int, height: float) -> None:
    """W60 (assemblefurniture.blogspot.com, 32 mm system): a face of 32 m - 3 mm with its gap takes m pitches."""
    drawers = order(CabinetKind.DRAWERS, height_mm=2 * 32.0 * pitches, drawer_front_heights_mm=(height, height))
    fronts = cabinet_of(_without_kick(drawers)).fronts
    assert [front.height_mm for front in fronts] == [height, height]
    assert fronts[0].z_mm - fronts[1].z_mm == 32.0 * pitches


def test_w66_two_overlay_doors_of_a_frameless_600_are_297_wide() -> None:
    """W66, by arithmetic: (600 - 3 - 3)/2, 1.5 mm each side and 3 between."""
    left, right = cabinet_of(order(CabinetKind.BASE, doors=2)).fronts
    assert (left.width_mm, right.width_mm) == (297.0, 297.0)
    assert (left.x_mm, right.x_mm, right.x_mm + right.width_mm) == (1.5, 301.5, 598.5)


def test_w65_two_inset_doors_share_the_opening_of_a_face_frame() -> None:
    """W65, by arithmetic: frame 36 in, stiles 1-1/2, gaps 3/32 all round."""
    settings = {"frame_stile_width_mm": 1.5, "inset_reveal_mm": 3 / 32, "frame_overhang_mm": 0.125}
    construction = replace(WORKED_EXAMPLE, **{key: value * _INCH for key, value in settings.items()})
    wanted = order(CabinetKind.BASE, width_mm=36 * _INCH, doors=2, construction=construction)
    cabinet = cabinet_of(replace(wanted, faces=Faces.FACE_FRAME, mount=Mount.INSET))
    left, right = cabinet.fronts
    assert (left.width_mm, right.width_mm) == pytest.approx((16.359375 * _INCH,) * 2, abs=1e-9)
    assert cabinet.width_mm == pytest.approx(35.75 * _INCH)
    assert right.x_mm - (left.x_mm + left.width_mm) == pytest.approx(3 / 32 * _INCH)


def test_w67_three_equal_drawer_fronts_share_717_mm() -> None:
    """W67, by arithmetic: (717 - 6)/3; a box 720 high keeps 1.5 mm above and below."""
    cabinet = cabinet_of(_without_kick(order(CabinetKind.DRAWERS, height_mm=720.0)))
    assert [front.height_mm for front in cabinet.fronts] == [237.0, 237.0, 237.0]
    assert [front.z_mm for front in cabinet.fronts] == [481.5, 241.5, 1.5]


@pytest.mark.parametrize(("side", "outside"), [(12.0, 546.0), (16.0, 554.0)])
def test_w63_a_drawer_box_keeps_its_inside_width_whatever_its_sides(side: float, outside: float) -> None:
    """W63, on the 42 mm rule (common practice, no source): opening 564 gives 522 inside."""
    cabinet = cabinet_of(order(CabinetKind.DRAWERS), carcass=18.0, drawer=side)
    assert {(box.outside_width_mm, box.inside_width_mm) for box in cabinet.drawers} == {(outside, 522.0)}


@pytest.mark.parametrize(
    ("side_in", "outside_in"), [(0.5, 21.875), (0.625, 22.125)], ids=["half inch sides", "five eighths sides"]
)
def test_w62_the_inch_rule_keeps_the_inside_width(side_in: float, outside_in: float) -> None:
    """W62 (two drawer-box makers' pages): opening 22-1/2 in, less 1-5/8 in, is 20-7/8 in inside."""
    construction = replace(WORKED_EXAMPLE, drawer_width_allowance_mm=1.625 * _INCH)
    wanted = order(CabinetKind.DRAWERS, width_mm=24 * _INCH, construction=construction)
    cabinet = cabinet_of(wanted, carcass=0.75 * _INCH, drawer=side_in * _INCH)
    assert cabinet.drawers[0].outside_width_mm == pytest.approx(outside_in * _INCH, abs=1e-9)
    assert cabinet.drawers[0].inside_width_mm == pytest.approx(20.875 * _INCH, abs=1e-9)


@pytest.mark.parametrize(
    ("height", "count"), [(1000.0, 2), (1016.0, 2), (1017.0, 3), (1524.0, 3), (2000.0, 4), (2500.0, 5)]
)
def test_hinges_follow_the_height_of_the_door(height: float, count: int) -> None:
    """Check value 4.2.9, a hinge maker's chart: 40, 60, 80, 100 in."""
    wall = order(CabinetKind.WALL, height_mm=height + 3, doors=1)
    (door,) = cabinet_of(wall).fronts
    assert door.height_mm == height
    assert len(door.hinge_z_mm) == count
    assert door.hinge_z_mm[0] - door.z_mm == pytest.approx(100.0)
    assert door.z_mm + height - door.hinge_z_mm[-1] == pytest.approx(100.0)


def test_a_hinge_keeps_clear_of_a_fixed_shelf() -> None:
    wall = order(CabinetKind.WALL, height_mm=1300.0, doors=1, fixed_shelves=1)
    resolved = resolve(wall)
    cabinet = resolved.cabinets[0]
    shelf, middle = cabinet.fixed_shelf_z_mm[0], cabinet.fronts[0].hinge_z_mm[1]
    assert middle - 16 - 2.5 > shelf + 17.8 + 0.1 or middle + 16 + 2.5 < shelf - 0.1
    assert [item.code for item in resolved.findings] == ["hinge-moved"]


@pytest.mark.parametrize(("height", "first"), [(259.0, 101.5), (258.0, 1.5 + 255.0 / 4)])
def test_a_low_door_has_its_hinges_nearer_its_ends_and_says_so(height: float, first: float) -> None:
    """Two hinges need 45 + 8 + 3 = 56 mm between them; 100 from each end leaves that in a door of 256 mm."""
    resolved = resolve(order(CabinetKind.WALL, height_mm=height, depth_mm=300.0, doors=1))
    (door,) = resolved.cabinets[0].fronts
    assert door.hinge_z_mm[0] == pytest.approx(first)
    assert [item.code for item in resolved.findings] == ["hinge-moved"] * (first != 101.5)


@pytest.mark.parametrize("end", [25.0, 30.0, 45.0])
def test_a_hinge_keeps_clear_of_top_and_bottom(end: float) -> None:
    construction = replace(WORKED_EXAMPLE, hinge_end_mm=end)
    (door,) = cabinet_of(order(CabinetKind.WALL, depth_mm=300.0, doors=1, construction=construction)).fronts
    assert door.hinge_z_mm[0] - 18.5 >= 35.9 + 3 - 1e-9
    assert door.hinge_z_mm[1] + 18.5 <= 858.1 - 3 + 1e-9


def test_the_opening_of_a_drawer_over_a_door_is_split_in_the_middle_of_the_gap() -> None:
    cabinet = cabinet_of(order(CabinetKind.BASE, doors=1, drawer_front_heights_mm=(150.0,)))
    drawer, door = cabinet.openings
    assert (drawer.fill, drawer.floor_z_mm, drawer.top_z_mm) == ("drawer", 723.0, pytest.approx(858.2))
    assert (door.fill, door.floor_z_mm, door.top_z_mm) == ("door", pytest.approx(117.8), 723.0)


def test_pin_levels_under_a_hinge_plate_are_left_out_and_said() -> None:
    with_door = resolve(order(CabinetKind.BASE, doors=1, drawer_front_heights_mm=(150.0,), adjustable_shelves=1))
    bare = resolve(order(CabinetKind.BASE, drawer_front_heights_mm=(150.0,), adjustable_shelves=1))
    lost = set(bare.cabinets[0].pin_z_mm) - set(with_door.cabinets[0].pin_z_mm)
    hinges = with_door.cabinets[0].fronts[1].hinge_z_mm
    assert len(lost) == 1
    assert all(min(abs(z - hinge) for hinge in hinges) < 16 + 5 + 2 for z in lost)
    assert [item.message for item in with_door.findings] == [
        'cabinet "B1": 1 shelf-pin level is left out where a hinge plate covers the row'
    ]


@pytest.mark.parametrize(
    ("depth", "units", "nailer", "length"),
    [
        pytest.param(580.0, Units.MM, Nailer.NONE, 550.0, id="574.2 inside less 19 takes 550"),
        pytest.param(574.8, Units.MM, Nailer.NONE, 550.0, id="exactly enough"),
        pytest.param(574.7, Units.MM, Nailer.NONE, 500.0, id="a tenth too little"),
        pytest.param(580.0, Units.MM, Nailer.TOP, 500.0, id="the nailer takes its thickness"),
        pytest.param(609.6, Units.INCH, Nailer.NONE, 21 * _INCH, id="a 21 in slide in a 24 in base (4.3.13)"),
    ],
)
def test_the_longest_usual_slide_that_fits_is_taken(depth: float, units: Units, nailer: Nailer, length: float) -> None:
    cabinet = cabinet_of(order(CabinetKind.DRAWERS, depth_mm=depth, nailer=nailer), units=units)
    assert [box.length_mm for box in cabinet.drawers] == pytest.approx([length] * 3)


def test_a_short_slide_gets_its_rear_hole_on_an_earlier_pitch() -> None:
    cabinet = cabinet_of(order(CabinetKind.DRAWERS, drawer_length_mm=250.0))
    assert cabinet.drawers[0].slide_hole_y_mm == (37.0, 37.0 + 6 * 32.0)
    long = cabinet_of(order(CabinetKind.DRAWERS, drawer_length_mm=500.0))
    assert long.drawers[0].slide_hole_y_mm == (37.0, 261.0)


def test_a_sink_gets_a_false_front_no_drawer_box_and_no_shelves() -> None:
    resolved = resolve(
        order(CabinetKind.SINK, doors=2, drawer_front_heights_mm=(150.0,), adjustable_shelves=1, fixed_shelves=1)
    )
    sink = resolved.cabinets[0]
    assert [front.name for front in sink.fronts] == ["false front 1", "left door", "right door"]
    assert (sink.drawers, sink.pin_z_mm, sink.fixed_shelf_z_mm) == ((), (), ())
    assert [(opening.fill, opening.top_z_mm) for opening in sink.openings] == [("door", 876.0)]
    assert [item.code for item in resolved.findings] == ["shelves-left-out"]


def test_copies_get_names_that_nothing_else_has() -> None:
    resolved = resolve(
        order(CabinetKind.BASE, qty=3),
        order(CabinetKind.BASE, name="B1-2"),
        parts=(PartOrder(name="filler", qty=2, stock="front", length_mm=800.0, width_mm=60.0, grain=Grain.ALONG),),
    )
    assert [cabinet.name for cabinet in resolved.cabinets] == ["B1", "B1-3", "B1-4", "B1-2"]
    assert [part.name for part in resolved.parts] == ["filler", "filler-2"]


def test_an_order_of_none_is_left_out() -> None:
    assert resolve(order(CabinetKind.BASE, qty=0)).cabinets == ()


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        pytest.param(
            order(CabinetKind.BASE, width_mm=33.02),
            'cabinet "B1": no inside width left (-2.58 mm): width 33.02 less two sides of 17.8',
            id="narrower than its two sides",
        ),
        pytest.param(
            order(CabinetKind.BASE, depth_mm=180.0),
            'cabinet "B1": no inside depth left (-26.20 mm): depth 180 less a back of 5.8 less 200.4 for the '
            "stretchers and nailer",
            id="shallower than two stretchers",
        ),
        pytest.param(
            order(CabinetKind.BASE, height_mm=130.0),
            'cabinet "B1": no inside height left (-5.60 mm): height 130 less 117.8 up to the bottom\'s upper side and '
            "17.8 above",
            id="lower than kick, bottom and stretcher",
        ),
        pytest.param(
            order(CabinetKind.WALL, height_mm=150.0, depth_mm=300.0, nailer=Nailer.TOP),
            'cabinet "B1": a nailer 100 mm wide does not fit in the 96.40 mm between bottom and top',
            id="lower than its nailer",
        ),
        pytest.param(
            order(CabinetKind.DRAWERS, drawer_front_heights_mm=(300.0, 300.0, 300.0)),
            'cabinet "B1": front heights 300 + 300 + 300 with 2 gaps of 3 mm are 133.00 mm more than the 773.00 mm '
            "from the lowest front's edge to the highest's",
            id="a stack higher than the front",
        ),
        pytest.param(
            order(CabinetKind.DRAWERS, drawer_front_heights_mm=(697.0, 0.0, 0.0)),
            'cabinet "B1": front heights 697 with 2 gaps of 3 mm leave 70.00 mm of 773.00 mm for 2 more; at least 40 '
            "mm each is needed",
            id="nothing left for the others",
        ),
        pytest.param(
            order(CabinetKind.DRAWERS, drawer_length_mm=600.0),
            'cabinet "B1": a drawer box 600 mm long does not fit in 555.20 mm (inside depth 574.20 mm with 19 mm kept '
            "behind it); the longest usual length that fits is 550 mm",
            id="a drawer deeper than the box",
        ),
        pytest.param(
            order(CabinetKind.DRAWERS, width_mm=160.0),
            'cabinet "B1": the drawer box would be 82.40 mm wide inside (opening 124.40 less 42); its back needs 84 '
            "mm for two notches",
            id="a drawer too narrow for its notches",
        ),
        pytest.param(
            order(CabinetKind.DRAWERS, drawer_front_heights_mm=(70.0, 0.0)),
            'cabinet "B1": drawer 1 would be 25.20 mm high (opening less 30); at least 44.00 mm is needed above its '
            "recessed bottom",
            id="a drawer too low",
        ),
        pytest.param(
            order(CabinetKind.DRAWERS, adjustable_shelves=1),
            'cabinet "B1": 1 adjustable shelf is ordered, but drawers fill the whole front',
            id="shelves among drawers",
        ),
        pytest.param(
            order(CabinetKind.OPEN, height_mm=320.0, adjustable_shelves=2),
            'cabinet "B1": shelf-pin levels: 0, adjustable shelves: 2, in an opening of 184.40 mm with 100 mm kept '
            "free at each end",
            id="no room for pins",
        ),
        pytest.param(
            order(CabinetKind.OPEN, fixed_shelves=9),
            'cabinet "B1": 9 fixed shelves of 17.8 mm leave 58.02 mm of room in an opening of 740.40 mm; at '
            "least 60 mm is expected",
            id="shelves on top of each other",
        ),
        pytest.param(
            order(CabinetKind.WALL, height_mm=300.0, fixed_shelves=1, nailer=Nailer.TOP, construction=_WIDE_NAILER),
            'cabinet "B1": 1 fixed shelf of 17.8 mm leave 114.30 mm of room in an opening of 246.40 mm; the '
            "nailer above needs 120 mm",
            id="a shelf that meets the nailer",
        ),
        pytest.param(
            order(CabinetKind.WALL, height_mm=110.0, depth_mm=300.0, doors=1),
            'cabinet "B1": door is 107.00 mm high, too low for 2 hinges',
            id="a door too low for two hinges",
        ),
        pytest.param(
            order(CabinetKind.BASE, construction=replace(WORKED_EXAMPLE, dado_depth_mm=17.8)),
            'cabinet "B1": dado depth 17.8 mm goes through a panel of 17.8 mm',
            id="a dado as deep as its panel",
        ),
    ],
)
def test_an_impossible_size_is_refused_with_its_sum(wanted: CabinetOrder, message: str) -> None:
    resolved = resolve(wanted)
    assert resolved.cabinets == ()
    assert [(item.severity, item.message) for item in resolved.findings] == [("error", message)]


def test_a_drawer_bottom_that_reaches_the_hook_holes_is_refused() -> None:
    """Recess 13, bottom 8, half the clearance: 21.1; hook holes from 13 + 11 - 3 = 21 (common practice, no source)."""
    assert resolve(order(CabinetKind.DRAWERS), drawer_bottom=7.9).findings == ()
    assert _messages(resolve(order(CabinetKind.DRAWERS), drawer_bottom=8.0).findings) == [
        'cabinet "B1": a drawer bottom of 8 mm has its groove up to 21.10 mm, into the hook holes, which begin at '
        "21.00 mm above the back's lower edge; a bottom of at most 7.90 mm clears them, or drawer_hook_depth = 10 "
        "leaves them to be drilled by hand"
    ]


def test_inch_sizes_without_inside_width_show_the_sum() -> None:
    """Width 1.3 in with two sides of 0.703 in: -0.106 in is left."""
    resolved = resolve(order(CabinetKind.BASE, width_mm=1.3 * _INCH), carcass=0.703 * _INCH)
    assert [item.code for item in resolved.findings] == ["no-inside-width"]
    assert "no inside width left (-2.69 mm)" in resolved.findings[0].message


def test_the_faults_of_all_cabinets_come_back_together() -> None:
    resolved = resolve(
        order(CabinetKind.BASE, name="narrow", width_mm=30.0),
        order(CabinetKind.BASE, name="sound"),
        order(CabinetKind.DRAWERS, name="deep", drawer_length_mm=600.0, adjustable_shelves=2),
    )
    assert [cabinet.name for cabinet in resolved.cabinets] == ["sound"]
    assert [item.code for item in resolved.findings] == ["no-inside-width", "no-shelf-opening", "drawer-too-deep"]
    assert {item.where.file for item in resolved.findings} == {"kitchen.toml"}


@pytest.mark.parametrize(
    ("wanted", "expected"),
    [
        pytest.param(
            order(CabinetKind.BASE, construction=replace(WORKED_EXAMPLE, back_rabbet_depth_mm=12.5)),
            ("warning", "recess-deep"),
            id="a rabbet over two thirds of the panel (6.3)",
        ),
        pytest.param(
            order(CabinetKind.BASE, width_mm=700.0, doors=1), ("note", "door-wide"), id="a door over 600 (5.3.11)"
        ),
        pytest.param(
            order(CabinetKind.DRAWERS, drawer_front_heights_mm=(200.0, 200.0)),
            ("warning", "front-left-open"),
            id="drawer fronts that leave room",
        ),
    ],
)
def test_what_is_possible_but_unusual_is_said(wanted: CabinetOrder, expected: tuple[str, str]) -> None:
    resolved = resolve(wanted)
    assert [(item.severity, item.code) for item in resolved.findings] == [expected]
    assert len(resolved.cabinets) == 1


def test_a_plate_hole_that_leaves_little_wood_is_a_warning() -> None:
    resolved = resolve(order(CabinetKind.BASE, doors=1), carcass=14.5)
    messages = _messages(resolved.findings)
    assert messages == [
        'cabinet "B1": hinge-plate hole depth 12 mm leaves 2.50 mm of a panel of 14.5 mm; at least 3 mm is sound '
        "(common practice)"
    ]


def _messages(findings: tuple[Finding, ...]) -> list[str]:
    return [item.message for item in findings]


def _without_kick(wanted: CabinetOrder) -> CabinetOrder:
    return replace(wanted, construction=replace(wanted.construction, kick_height_mm=0.0))
