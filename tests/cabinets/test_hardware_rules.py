"""What the rows of the hardware tables make of a cabinet: pin grids, plates, hinges, drawer boxes, screws."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from box_kit import WORKED_EXAMPLE, cabinet_of, job, order, resolve
from rabbetry.cabinets.hinges import hinge_count
from rabbetry.cabinets.model import Cabinet
from rabbetry.cabinets.pin_rows import grid_row
from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.files import load_tables
from rabbetry.job.hardware import lay_rows
from rabbetry.job.model import CabinetKind, Construction, Faces, Mount, Units
from rabbetry.shop.hardware import PlateFrom
from rabbetry.shop.model import Material
from rabbetry.shop.read import read_tables

HARDWARE = read_tables(load_tables()).hardware
INCH = 25.4
POUND = 0.45359237


def rows(construction: Construction = WORKED_EXAMPLE, **names: str) -> Construction:
    return lay_rows(construction, names, HARDWARE)


def _shelved(**names: str) -> Cabinet:
    return cabinet_of(order(CabinetKind.BASE, adjustable_shelves=1, construction=rows(**names)), carcass=18.0)


@pytest.mark.parametrize("first", [37.0, 38.0, 44.5, 46.5])
def test_a_grid_counts_whole_pitches_from_the_bottom_s_under_side(first: float) -> None:
    """Bottom on a kick of 100; the opening 118 to 858 keeps 100 at both ends: levels between 218 and 758."""
    levels = _shelved(shelf_pins=f"5 mm on 32, first at {first:g}").pin_z_mm
    assert [(z - 100.0 - first) % 32.0 for z in levels] == pytest.approx([0.0] * len(levels), abs=1e-6)
    assert 218.0 <= levels[0] < 250.0
    assert 726.0 < levels[-1] <= 758.0


def test_a_grid_from_half_the_bottom_follows_its_thickness() -> None:
    levels = _shelved(shelf_pins="5 mm on 32, from half the bottom").pin_z_mm
    assert levels[0] == pytest.approx(100.0 + 9.0 + 4 * 32.0)


@given(st.floats(0, 500), st.floats(0, 1500), st.floats(1, 200), st.sampled_from((25.4, 31.75, 32.0, 50.8)))
def test_a_grid_row_has_every_level_of_its_span_and_no_other(low: float, room: float, first: float, p: float) -> None:
    high = low + room
    levels = grid_row(low, high, first, p)
    assert all(low - 1e-4 <= z <= high + 1e-4 for z in levels)
    wanted = [first + p * k for k in range(200) if low <= first + p * k <= high]
    assert set(wanted) <= set(levels)
    assert len(levels) <= len(wanted) + 2


def test_rows_a_multiple_of_32_apart_bring_the_rear_row_forward() -> None:
    """Depth 580: rows at 37 and 543 are 506 apart, 15.8 pitches; 15 pitches are 480."""
    assert _shelved(shelf_pins="5 mm on 32").pin_rows_y_mm == (37.0, 543.0)
    assert _shelved(shelf_pins="5 mm on 32, rows by 32").pin_rows_y_mm == (37.0, 37.0 + 480.0)


def test_two_pitches_that_look_alike_are_told_once_a_job() -> None:
    """31.75 and 32 mm are 0.25 apart: 5.0 over 20 pitches."""
    inch, metric = rows(shelf_pins="5 mm on 1 1/4 in"), rows(shelf_pins="5 mm on 32")
    orders = [
        order(CabinetKind.WALL, name, adjustable_shelves=1, construction=c)
        for name, c in (("W1", inch), ("W2", metric), ("W3", inch))
    ]
    found = [item.message for item in resolve(*orders).findings if item.code == "pin-pitches-alike"]
    assert found == [
        'shelf pins are 31.75 mm apart in cabinet "W1" and 32 mm in "W2": they look alike and are 5.0 mm apart after '
        "20 holes"
    ]
    assert not any(item.code == "pin-pitches-alike" for item in resolve(orders[0], orders[2]).findings)


@pytest.mark.parametrize(
    ("height", "pounds", "count"),
    [
        pytest.param(700.0, 14.9, 2, id="below 15 lb"),
        pytest.param(700.0, 15.0, 3, id="15 lb"),
        pytest.param(700.0, 30.0, 4, id="30 lb"),
        pytest.param(700.0, 45.0, 5, id="45 lb"),
        pytest.param(700.0, 61.0, 6, id="above the chart"),
        pytest.param(2000.0, 20.0, 4, id="80 in high ask for more than 20 lb"),
    ],
)
def test_a_door_gets_the_greater_count_of_height_and_weight(height: float, pounds: float, count: int) -> None:
    assert hinge_count(height, pounds * POUND) == count


def test_a_heavy_door_gets_a_third_hinge_and_says_why() -> None:
    """597 x 873 x 25 mm at 800 kg/m3: 10.42 kg, 22.98 lb."""
    material = Material(name="plywood", cutting_force_n_per_mm2=40.0, density_kg_per_m3=800.0, source="test")
    kitchen = job(order(CabinetKind.WALL, doors=1), front=25.0)
    heavy = replace(kitchen, shop=replace(kitchen.shop, materials=(material,)))
    resolved = resolve_cabinets(heavy)
    assert len(resolved.cabinets[0].fronts[0].hinge_z_mm) == 3
    assert [item.message for item in resolved.findings] == [
        'cabinet "B1": door weighs 10.4 kg and gets 3 hinges; its height alone asks for 2'
    ]
    made_elsewhere = order(CabinetKind.WALL, doors=1, slab_doors=False)
    unknown = resolve_cabinets(replace(heavy, cabinets=(made_elsewhere,)))
    assert len(unknown.cabinets[0].fronts[0].hinge_z_mm) == 2


@given(st.floats(500, 2300), st.integers(1, 2))
def test_hinges_on_a_pitch_are_multiples_apart_and_as_far_from_both_ends(height: float, doors: int) -> None:
    wanted = order(
        CabinetKind.WALL, height_mm=height, doors=doors, construction=replace(WORKED_EXAMPLE, hinge_pitch_mm=32.0)
    )
    for door in cabinet_of(wanted).fronts:
        gaps = [b - a for a, b in zip(door.hinge_z_mm, door.hinge_z_mm[1:], strict=False)]
        assert all(abs(gap / 32.0 - round(gap / 32.0)) < 1e-6 for gap in gaps)
        below, above = door.hinge_z_mm[0] - door.z_mm, door.z_mm + door.height_mm - door.hinge_z_mm[-1]
        assert below == pytest.approx(above)
        assert below >= 100.0 - 1e-6


def test_a_cup_out_of_its_row_s_range_is_told() -> None:
    c = replace(rows(hinge_cups="35 mm, 45/9.5 pressed in"), hinge_cup_edge_mm=9.0)
    found = resolve(order(CabinetKind.WALL, doors=1, construction=c)).findings
    assert [(item.code, item.message) for item in found] == [
        (
            "hinge-edge",
            'cabinet "B1": hinge cups 9 mm from the door\'s edge; hinges of row "35 mm, 45/9.5 pressed in" '
            "take 3 to 8 mm",
        )
    ]


def _plate_y(mount: Mount, faces: Faces, *, frame: float = 19.0, front: float = 18.0, row: str = "") -> float | None:
    c = replace(rows(**({"hinge_plates": row} if row else {})), frame_thickness_mm=frame)
    wanted = order(CabinetKind.WALL, doors=1, mount=mount, faces=faces, construction=c)
    return cabinet_of(wanted, front=front).plate_y_mm


def test_plates_lie_37_behind_the_back_of_the_door() -> None:
    assert _plate_y(Mount.OVERLAY, Faces.FRAMELESS) == 37.0
    assert _plate_y(Mount.INSET, Faces.FRAMELESS) == 37.0 + 18.0
    assert _plate_y(Mount.INSET, Faces.FACE_FRAME) == 37.0 + 18.0 - 19.0
    assert _plate_y(Mount.OVERLAY, Faces.FACE_FRAME) is None
    assert _plate_y(Mount.INSET, Faces.FRAMELESS, row="overlay") == 37.0


def test_a_frame_between_the_sides_moves_the_plates_back_by_what_it_is_thicker() -> None:
    """Frame 0.75 in, then 0.8125 in: 0.0625 in."""
    row = "face frame inset, frame between the sides"
    thin = _plate_y(Mount.INSET, Faces.FACE_FRAME, frame=0.75 * INCH, row=row)
    thick = _plate_y(Mount.INSET, Faces.FACE_FRAME, frame=0.8125 * INCH, row=row)
    assert thin == pytest.approx(37.0 + 0.75 * INCH)
    assert thick is not None
    assert thin is not None
    assert thick - thin == pytest.approx(0.0625 * INCH, abs=1e-9)


def test_every_way_of_measuring_a_plate_is_tried_above() -> None:
    assert {str(way) for way in PlateFrom} == {
        "front edge", "back of the door", "front edge plus the frame", "on the frame"
    }  # fmt: skip


@pytest.mark.parametrize("ply", [0.472, 0.438])
def test_the_inside_of_a_drawer_box_stays_whatever_its_sides_measure(ply: float) -> None:
    """Opening 21 in less 42 mm: 19.346 in inside; the outside is two sides more."""
    width = 21 * INCH + 2 * 18.0
    cabinet = cabinet_of(
        order(CabinetKind.DRAWERS, width_mm=width), carcass=18.0, drawer=ply * INCH, drawer_bottom=0.2 * INCH
    )
    assert cabinet.drawers[0].inside_width_mm / INCH == pytest.approx(19.346, abs=0.001)
    assert cabinet.drawers[0].outside_width_mm / INCH == pytest.approx(19.34646 + 2 * ply, abs=0.001)


@pytest.mark.parametrize(
    ("row", "allowance"),
    [("side-mount, 25.4 mm", 25.4), ("side-mount, 1 in", 25.4), ("side-mount, 1 1/16 in", 26.9875)],
)
def test_a_box_on_side_mount_slides_takes_its_allowance_off_the_outside(row: str, allowance: float) -> None:
    cabinet = cabinet_of(order(CabinetKind.DRAWERS, construction=rows(slides=row)), carcass=18.0)
    for box in cabinet.drawers:
        assert box.outside_width_mm == pytest.approx(564.0 - allowance)
        assert box.inside_width_mm == pytest.approx(564.0 - allowance - 24.0)


def test_a_slide_s_own_lengths_are_taken_whatever_the_job_s_unit() -> None:
    """Depth 580 less a back of 5.8 and 19 or 3/4 in: 550 mm, or 21 in = 533.4 mm."""
    metric = rows(slides="undermount, sides to 16 mm")
    inch = rows(slides="undermount, sides to 5/8 in")
    for c, length in ((metric, 550.0), (inch, 533.4)):
        for units in Units:
            cabinet = cabinet_of(order(CabinetKind.DRAWERS, construction=c), units=units)
            assert cabinet.drawers[0].length_mm == pytest.approx(length)


def test_sides_too_thick_for_the_series_are_refused_with_the_cure() -> None:
    wanted = order(CabinetKind.DRAWERS, construction=rows(slides="undermount, sides to 16 mm"))
    assert resolve(wanted, drawer=16.0).findings == ()
    assert [item.message for item in resolve(wanted, drawer=18.0).findings] == [
        'cabinet "B1": drawer sides of 18 mm; slides of row "undermount, sides to 16 mm" take sides up to 16 mm: take '
        "thinner stock, or another row for `slides`"
    ]
    thick = order(CabinetKind.DRAWERS, construction=rows(slides="undermount, sides to 19 mm"))
    assert resolve(thick, drawer=18.0).findings == ()


def test_a_thick_bottom_leaves_blind_hook_holes_to_the_hand_and_says_where() -> None:
    """Recess 13, bottom 12, half the clearance: groove up to 25.1; guides of 3 mm at 24 would begin at 22.5."""
    wanted = order(CabinetKind.DRAWERS, construction=rows(slides="undermount, sides to 16 mm"))
    assert [(item.severity, item.message) for item in resolve(wanted, drawer_bottom=12.0).findings] == [
        (
            "note",
            'cabinet "B1": a drawer bottom of 12 mm has its groove up to 25.10 mm, into the guide holes, which would '
            "begin at 22.50 mm above the back's lower edge; mark and drill the hook holes, 7 mm in from the sides and "
            "24 mm up, when the box is glued",
        )
    ]


def test_side_mount_marks_in_the_bottom_s_groove_are_refused() -> None:
    """The line lies at 48 - 26/2 = 35; a recess of 25 and a bottom of 12 have their groove up to 37.1."""
    c = replace(rows(slides="side-mount, 25.4 mm"), drawer_bottom_recess_mm=25.0)
    found = resolve(order(CabinetKind.DRAWERS, construction=c), drawer_bottom=12.0).findings
    assert [item.code for item in found] == ["drawer-bottom-thick"]
    assert "goes up to 37.10 mm, into the marks of the slides, which begin at 33.50 mm" in found[0].message


def test_box_screws_stand_in_level_pairs_clear_of_everything_else() -> None:
    """A drawer over a door, a fixed and an adjustable shelf: 5 mm of wood round every screw."""
    c = rows(shelf_pins="1/4 in on 1 in", join_boxes="both")
    cabinet = cabinet_of(
        order(
            CabinetKind.BASE, doors=1, drawer_front_heights_mm=(157.0,), fixed_shelves=1, adjustable_shelves=2,
            height_mm=1400.0, construction=c,
        )
    )  # fmt: skip
    screws = cabinet.box_screws_yz_mm
    assert {y for y, _ in screws} == {68.0, 580.0 - 68.0}
    assert len(screws) >= 6
    others = [(y, z, 6.35) for y in cabinet.pin_rows_y_mm for z in cabinet.pin_z_mm]
    others += [(37.0, z + sign * 16.0, 5.0) for z in cabinet.fronts[-1].hinge_z_mm for sign in (-1, 1)]
    for y, z in screws:
        assert all(((y - a) ** 2 + (z - b) ** 2) ** 0.5 >= 5.0 + 2.5 + d / 2 - 1e-6 for a, b, d in others)
        assert all(not shelf - 7.5 < z < shelf + 17.8 + 7.5 for shelf in cabinet.fixed_shelf_z_mm)
        assert all(abs(z - drawer.slide_hole_z_mm) >= 32.5 for drawer in cabinet.drawers)


def test_a_box_screw_without_a_free_place_is_told() -> None:
    """Pins of 5 mm every 10 mm on the screws' own front line leave no place there; the rear line is free."""
    c = replace(rows(join_boxes="left"), pin_front_mm=68.0, pin_pitch_mm=10.0, pin_end_margin_mm=12.0)
    resolved = resolve(order(CabinetKind.WALL, adjustable_shelves=1, construction=c))
    assert {y for y, _ in resolved.cabinets[0].box_screws_yz_mm} == {580.0 - 68.0}
    assert [(item.code, item.message) for item in resolved.findings] == [
        (
            "box-screws-left-out",
            'cabinet "B1": 3 holes for screws have no free place on the sides and cannot join it to its neighbour',
        )
    ]
