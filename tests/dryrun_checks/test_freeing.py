"""Pieces that come loose and are cut again. The bench's cutter is 6 mm wide, the blank 18 thick, 300 x 220."""

import json

import pytest
from checks_kit import HEAD, TAIL, Json, bench, cut, loop, panel, rectangle

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.findings import Finding

HOLE = "G0 X100 Y100\nG0 Z1\nG1 Z-5 F1000\nG0 Z40\n"
PROFILE = loop(47, 47, 153, 153, -18.2)
TABBED = (
    "G0 X47 Y47\nG0 Z1\nG1 Z-18.2 F1000\nG1 X93\nG1 Z-15\nG1 X107\nG1 Z-18.2\nG1 X153\nG1 Y153\n"
    "G1 X107\nG1 Z-15\nG1 X93\nG1 Z-18.2\nG1 X47\nG1 Y47\nG0 Z40\n"
)
"""The profile with two tabs, 8 mm long and 3 high."""


def _setup(**more: object) -> Json:
    return bench(panel("P", rectangle(50, 50, 150, 150), bores=[(100, 100, 6, 5)]), **more)


def _loose(body: str, setup: Json) -> list[Finding]:
    return [item for item in cut(body, setup).findings if item.code == "loose-part-cut"]


def test_t41_a_hole_in_a_part_that_is_cut_loose_is_an_error_at_its_line() -> None:
    (found,) = _loose(PROFILE + HOLE, _setup())
    assert (found.severity, found.where.panel) == ("error", "P")
    assert found.where.line == (HEAD + PROFILE).count("\n") + 3
    freed = (HEAD + PROFILE).count("\n") - 1
    told = f"is cut again after line {freed} cut it loose: no tab, skin, clamp or vacuum holds it"
    assert found.message == f'panel "P" {told}'


@pytest.mark.parametrize(
    "body",
    [
        pytest.param(HOLE + PROFILE, id="the hole first"),
        pytest.param(TABBED + HOLE, id="tabs hold it"),
        pytest.param(PROFILE.replace("-18.2", "-17.6") + HOLE, id="a skin holds it"),
        pytest.param(PROFILE + PROFILE + loop(46, 46, 154, 154, -18.2), id="the profile again, and beside it"),
        pytest.param(PROFILE + HOLE.replace("Z-5", "Z0.5"), id="over it, through air"),
        pytest.param(PROFILE + HOLE.replace("X100", "X200"), id="a hole beside it"),
        pytest.param(HOLE + PROFILE + HOLE, id="down into a hole that is there"),
    ],
)
def test_what_is_held_or_not_touched_is_no_loose_part_that_is_cut(body: str) -> None:
    assert not _loose(body, _setup())


def test_a_clamp_on_the_part_holds_it() -> None:
    clamp = {"name": "C", "x_mm": 120, "y_mm": 120, "length_x_mm": 20, "length_y_mm": 20, "top_z_mm": 20}
    assert not _loose(PROFILE + HOLE, _setup(clamps=[clamp]))
    assert _loose(PROFILE + HOLE, _setup(clamps=[{**clamp, "x_mm": 200}]))


def test_a_vacuum_bed_holds_a_part_that_is_large_enough() -> None:
    """The part is 100 x 100 mm: 10,000 square millimetres."""
    machine = _setup()["machine"]
    assert isinstance(machine, dict)
    assert not _loose(PROFILE + HOLE, _setup(machine={**machine, "vacuum_holds_mm2": 9000}))
    assert _loose(PROFILE + HOLE, _setup(machine={**machine, "vacuum_holds_mm2": 11000}))


def test_tabs_that_a_later_cut_takes_hold_no_more() -> None:
    assert _loose(TABBED + PROFILE + HOLE, _setup())
    assert not _loose(TABBED + HOLE + PROFILE, _setup())


def test_two_cuts_that_meet_free_the_part_together() -> None:
    """One descent cuts two sides and another the other two."""
    first = "G0 X47 Y47\nG0 Z1\nG1 Z-18.2 F1000\nG1 X153\nG1 Y153\nG0 Z40\n"
    second = "G0 X47 Y47\nG0 Z1\nG1 Z-18.2 F1000\nG1 Y153\nG1 X153\nG0 Z40\n"
    (found,) = _loose(first + second + HOLE, _setup())
    assert f"line {(HEAD + first + second).count(chr(10)) - 1} " in found.message
    assert not _loose(first + HOLE + second, _setup())


def test_t53_the_free_waste_of_an_opening_is_not_to_be_cut_again() -> None:
    opening = {"name": "sink", "outline": rectangle(70, 70, 130, 130), "hold": {"kind": "skin", "thickness_mm": 0}}
    setup = bench(panel("P", rectangle(50, 50, 150, 150), cutouts=[opening]))
    waste = loop(73, 73, 127, 127, -18.2)
    (found,) = _loose(waste + loop(85, 85, 115, 115, -6), setup)
    assert found.message.startswith('panel "P": the waste of opening "sink" is cut again')
    assert not _loose(loop(85, 85, 115, 115, -6) + waste, setup)


def test_t53_an_opening_turned_into_chips_from_the_middle_is_clean() -> None:
    opening = {"name": "sink", "outline": rectangle(70, 70, 130, 130), "hold": {"kind": "skin", "thickness_mm": 0}}
    setup = bench(panel("P", rectangle(50, 50, 150, 150), cutouts=[opening]))
    rings = "".join(loop(100 - k, 100 - k, 100 + k, 100 + k, -18.2) for k in (2, 6, 10, 14, 18, 22, 26, 27))
    assert not _loose(rings, setup)


def test_waste_between_parts_that_comes_loose_is_a_note() -> None:
    result = cut(loop(200, 50, 240, 70, -18.2), bench())
    assert [(item.severity, item.code) for item in result.findings] == [("note", "loose-waste")]
    assert "34 x 14 mm" in result.findings[0].message


def test_the_order_counts_through_all_programs_of_a_sheet() -> None:
    setup = _setup(programs=["one.nc", "two.nc"])
    texts = {"profile": HEAD + PROFILE + TAIL, "hole": HEAD + HOLE + TAIL}

    def found(first: str, second: str) -> list[Finding]:
        pair = [(ProgramText(name="one.nc", text=texts[first]), json.dumps(setup))]
        pair.append((ProgramText(name="two.nc", text=texts[second]), json.dumps(setup)))
        return [item for item in dry_run(pair).findings if item.code == "loose-part-cut"]

    (late,) = found("profile", "hole")
    assert (late.where.file, late.where.line) == ("two.nc", 8)
    assert "of one.nc" in late.message
    assert not found("hole", "profile")
