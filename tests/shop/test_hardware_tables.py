"""The hardware tables: figures from the sources that their rows name, own rows, and rows that are refused."""

import pytest

from rabbetry.errors import InputError
from rabbetry.files import load_tables
from rabbetry.shop.hardware import Hardware, PlateFrom, SlideMount
from rabbetry.shop.read import read_tables

INCH = 25.4


@pytest.fixture(scope="module")
def hardware() -> Hardware:
    return read_tables(load_tables()).hardware


def _faults(overrides: dict[str, object]) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_tables(load_tables(), overrides={"units": "mm", **overrides}, file="j")
    return [str(fault) for fault in caught.value.faults]


def test_every_hardware_row_names_its_source(hardware: Hardware) -> None:
    tables = (
        hardware.pin_systems, hardware.hinge_cups, hardware.hinge_plates, hardware.slides, hardware.box_screws
    )  # fmt: skip
    assert [len(rows) > 1 for rows in tables] == [True] * 5
    assert all(len(row.source) > 20 for rows in tables for row in rows)


@pytest.mark.parametrize(
    ("name", "diameter", "pitch"),
    [
        pytest.param("5 mm on 32", 5.0, 32.0, id="32 mm system: 5 mm holes, 32 apart"),
        pytest.param("1/4 in on 1 in", 6.35, 25.4, id="inch pins: 1 in"),
        pytest.param("1/4 in on 1 1/4 in", 6.35, 31.75, id="inch pins: 1 1/4 in"),
        pytest.param("1/4 in on 2 in", 6.35, 50.8, id="inch pins: 2 in"),
        pytest.param("5 mm on 1 1/4 in", 5.0, 31.75, id="5 mm pins on inches"),
    ],
)
def test_shelf_pins_have_the_trade_s_diameters_and_pitches(
    hardware: Hardware, name: str, diameter: float, pitch: float
) -> None:
    row = next(row for row in hardware.pin_systems if row.name == name)
    assert (row.diameter_mm, row.pitch_mm) == pytest.approx((diameter, pitch))
    assert 10 <= row.depth_mm <= 13


def test_the_first_hole_rules_are_those_in_use(hardware: Hardware) -> None:
    """37, 38, 44.5, 46.5 above the panel's bottom, or half the bottom and whole pitches."""
    assert sorted({row.first_mm for row in hardware.pin_systems}) == [0.0, 37.0, 38.0, 44.5, 46.5]
    assert sum(row.half_bottom for row in hardware.pin_systems) == 1


def test_cups_have_the_three_patterns_and_three_diameters(hardware: Hardware) -> None:
    patterns = {(row.fixing_spacing_mm, row.fixing_offset_mm) for row in hardware.hinge_cups}
    assert patterns == {(45.0, 9.5), (48.0, 6.0), (52.0, 5.5), (0.0, 0.0)}
    assert {row.diameter_mm for row in hardware.hinge_cups} == {26.0, 35.0, 40.0}
    assert {row.depth_mm for row in hardware.hinge_cups} == {10.5, 12.5, 13.0}


def test_plates_are_two_holes_of_5_mm_32_apart_37_behind(hardware: Hardware) -> None:
    facts = {(row.diameter_mm, row.spacing_mm, row.front_mm) for row in hardware.hinge_plates}
    assert facts == {(5.0, 32.0, 37.0)}
    assert {row.measured_from for row in hardware.hinge_plates} == set(PlateFrom)


def test_the_inch_undermount_rule_gives_the_two_outside_widths_that_makers_print(hardware: Hardware) -> None:
    """Opening - 5/8 in with 1/2 in sides, - 3/8 in with 5/8 in sides: both 1 5/8 in less inside."""
    row = next(row for row in hardware.slides if row.name == "undermount, sides to 5/8 in")
    assert row.width_allowance_mm == pytest.approx(1.625 * INCH)
    for side, allowance in ((0.5, 0.625), (0.625, 0.375)):
        assert row.width_allowance_mm - 2 * side * INCH == pytest.approx(allowance * INCH)
    assert row.lengths_mm == pytest.approx([inches * INCH for inches in range(9, 31, 3)])


def test_the_metric_undermount_rule_is_42_mm_in_lengths_of_50(hardware: Hardware) -> None:
    row = next(row for row in hardware.slides if row.name == "undermount, sides to 16 mm")
    assert (row.width_allowance_mm, row.side_most_mm, row.notch_width_mm) == (42.0, 16.0, 32.0)
    assert row.lengths_mm == tuple(range(250, 601, 50))


def test_side_mount_slides_take_1_in_or_1_and_1_16_off_the_opening(hardware: Hardware) -> None:
    sides = {row.width_allowance_mm for row in hardware.slides if row.mount is SlideMount.SIDE}
    assert sides == {25.4, 26.9875}


def test_a_job_changes_a_row_and_adds_one() -> None:
    overrides = {
        "units": "in",
        "pin_system": [
            {"name": "5 mm on 32", "front": 1.5},
            {"name": "loft", "diameter": "7 mm", "depth": 0.5, "pitch": 2, "front": 2, "rear": 2, "first_hole": 3},
        ],
    }
    rows = {row.name: row for row in read_tables(load_tables(), overrides=overrides).hardware.pin_systems}
    assert rows["5 mm on 32"].front_mm == pytest.approx(38.1)
    assert rows["5 mm on 32"].rear_mm == 37.0
    assert (rows["loft"].diameter_mm, rows["loft"].first_mm) == pytest.approx((7.0, 76.2))


REFUSED = [
    pytest.param({"pin_system": [{"name": "5 mm on 32", "pitch": 4}]},
                 'j: pin system "5 mm on 32": pitch 4 is not more than the diameter 5', id="holes run together"),
    pytest.param({"pin_system": [{"name": "5 mm on 32", "first_hole": "half"}]},
                 'j: pin system "5 mm on 32", first_hole: "half" is no rule for the first hole; write "balanced", '
                 '"half the bottom", or a length above the bottom\'s under side', id="no such rule"),
    pytest.param({"hinge_cup": [{"name": "35 mm, 45/9.5 screwed", "edge": 9}]},
                 'j: hinge cup "35 mm, 45/9.5 screwed": edge 9 is not between edge_least 3 and edge_most 8',
                 id="B out of its range"),
    pytest.param({"hinge_plate": [{"name": "inset", "measured_from": "front egde"}]},
                 'j: hinge plate "inset", measured_from: "front egde" is not one of the choices; '
                 "did you mean front edge?", id="a word misspelt"),
    pytest.param({"slide": [{"name": "side-mount, 1 in", "lengths": [500, 400]}]},
                 'j: slide "side-mount, 1 in": lengths do not rise; write them from the shortest to the longest, each '
                 "once", id="lengths in disorder"),
    pytest.param({"slide": [{"name": "side-mount, 1 in", "mount": "under"}]},
                 'j: slide "side-mount, 1 in": an undermount slide has no notch; give notch_width and notch_height',
                 id="an undermount slide without notches"),
    pytest.param({"slide": [{"name": "undermount, sides to 16 mm", "hook_in": 0}]},
                 'j: slide "undermount, sides to 16 mm": an undermount slide has no hooks; give hook_diameter, hook_in '
                 "and hook_up", id="an undermount slide without hooks"),
]  # fmt: skip


@pytest.mark.parametrize(("overrides", "words"), REFUSED)
def test_a_hardware_row_that_cannot_be_is_refused(overrides: dict[str, object], words: str) -> None:
    assert _faults(overrides) == [words]
