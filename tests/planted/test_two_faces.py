"""A flipped blank: the clean one raises nothing, and each fault planted in its programs or setups is found."""

import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.files import load_post, load_tables
from rabbetry.geometry.curves import Contour, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.model import Grain, Job
from rabbetry.panels.model import Bore, Panel, Recess
from rabbetry.pipeline import PlannedSheet, PostText, compile_job, lay_out, load_job, plan_sheet, prove_sheet

Programs = list[tuple[ProgramText, str]]
JOB = """
name = "Net loft wall"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 5, 6, 8]
[stock.carcass]
sheet = "birch-18"
thickness = 17.8
blank = [1000, 700]
[[cabinet]]
name = "L1"
kind = "open"
width = 700
height = 500
depth = 300
adjustable_shelves = 1
dividers = 1
divider_pins = "blind"
"""


def _post() -> PostText:
    name, toml, template = load_post("metric-plain", beside=Path())
    return PostText(name=name, toml=toml, template=template)


@cache
def _job() -> Job:
    return load_job(JOB, file="loft.toml", tables=load_tables(), own_tables={})


@cache
def _planned() -> PlannedSheet:
    job = _job()
    (sheet,) = [sheet for sheet in lay_out(job, compile_job(job).panels).sheets if sheet.flip is not None]
    return plan_sheet(sheet, job, _post())


def _programs() -> Programs:
    """The programs that cut: an air run is judged by itself."""
    return [
        (ProgramText(name=program.name, text=program.text.decode()), program.setup.decode())
        for program in _planned().programs
        if program.kind == "cut"
    ]


def _codes(programs: Programs) -> set[str]:
    return {item.code for item in dry_run(programs).findings if item.severity == "error"}


def _with_text(part: str, change: Callable[[str], str]) -> Programs:
    """The programs with the text of the one changed whose name holds `part`; it must really change."""
    changed: Programs = []
    for program, setup in _programs():
        text = change(program.text) if part in program.name else program.text
        assert part not in program.name or text != program.text
        changed.append((replace(program, text=text), setup))
    return changed


def _with_setup(programs: Programs, part: str, change: Callable[[dict[str, Any]], None]) -> Programs:
    changed: Programs = []
    for program, setup in programs:
        data = json.loads(setup)
        if part in program.name:
            change(data)
        changed.append((program, json.dumps(data)))
    return changed


def test_a_clean_flipped_blank_raises_nothing() -> None:
    assert prove_sheet(_planned()).findings == ()
    names = [program.name for program in _planned().programs]
    sides = (("side1", ("air", "T5", "T8")), ("side2", ("air", "T5", "T1")))
    assert names == [f"carcass-two-face-01-{side}-{end}.nc" for side, ends in sides for end in ends]
    assert {program.side for program in _planned().programs if program.kind == "air run"} == {1, 2}


def test_the_index_holes_fit_no_other_turn_of_the_blank() -> None:
    setup = json.loads(_programs()[0][1])
    faces = setup["two_faces"]
    holes = {(hole["x_mm"], hole["y_mm"]) for hole in faces["index_holes"]}
    width, height = 1000.0, 700.0
    assert faces["turned_about"] == {"line": "x", "at_mm": 500.0}
    assert {(width - x, y) for x, y in holes} == holes
    assert {(x, height - y) for x, y in holes}.isdisjoint(holes)
    assert {(width - x, height - y) for x, y in holes}.isdisjoint(holes)


def test_both_faces_get_their_rows_and_side_2_mirrors_side_1() -> None:
    first, second = json.loads(_programs()[0][1]), json.loads(_programs()[-1][1])
    (one,), (two,) = first["target"]["panels"], second["target"]["panels"]
    places = {(round(bore["x_mm"], 3), round(bore["y_mm"], 3)) for bore in one["bores"]}
    assert len(places) > 10
    assert {(round(1000.0 - bore["x_mm"], 3), round(bore["y_mm"], 3)) for bore in two["bores"]} == places
    assert one["hold"] == {"kind": "uncut"}
    assert two["hold"]["kind"] == "tabs"


def test_the_wrong_axis_is_found() -> None:
    def about_y(data: dict[str, Any]) -> None:
        data["two_faces"]["turned_about"]["line"] = "y"

    assert "index-hole-wrong" in _codes(_with_setup(_programs(), "", about_y))
    assert "two-faces-differ" in _codes(_with_setup(_programs(), "side2", about_y))


def test_a_line_half_a_millimetre_off_is_found() -> None:
    def off(data: dict[str, Any]) -> None:
        data["two_faces"]["turned_about"]["at_mm"] += 0.5

    assert {"index-hole-wrong", "two-faces-differ"} <= _codes(_with_setup(_programs(), "", off))


def test_an_index_hole_drilled_1_mm_away_is_found() -> None:
    programs = _with_text("side1-T8", lambda text: text.replace("X15 ", "X16 "))
    assert {"index-hole-missing", "cut-through-early"} <= _codes(programs)


def test_an_index_hole_moved_in_setups_and_program_alike_is_found() -> None:
    def move(data: dict[str, Any]) -> None:
        data["two_faces"]["index_holes"][0]["x_mm"] += 1.0

    programs = _with_text("side1-T8", lambda text: text.replace("X15 ", "X16 "))
    assert _codes(_with_setup(programs, "", move)) == {"index-hole-wrong"}


def test_an_index_hole_that_ends_in_the_blank_is_found() -> None:
    programs = _with_text("side1-T8", lambda text: text.replace("Z-23.8", "Z-17.9"))
    assert _codes(programs) == {"index-hole-missing"}


def test_a_second_side_without_its_holes_is_found() -> None:
    programs = _with_text("side2-T5", lambda text: text.replace("Z-7.4", "Z1"))
    assert _codes(programs) == {"bore-missing"}


def test_a_second_side_that_was_not_mirrored_is_found() -> None:
    rear = next(program.text for program, _ in _programs() if "side1-T5" in program.name)
    assert "bore-missing" in _codes(_with_text("side2-T5", lambda text: rear))
    plain = json.loads(_programs()[0][1])["target"]["panels"]

    def not_mirrored(data: dict[str, Any]) -> None:
        data["target"]["panels"][0]["outline"] = plain[0]["outline"]

    assert "two-faces-differ" in _codes(_with_setup(_programs(), "side2", not_mirrored))


def test_a_second_side_2_mm_deeper_breaks_through_and_is_found() -> None:
    programs = _with_text("side2-T5", lambda text: text.replace("Z-7.4", "Z-9.4"))
    assert {"bore-too-deep", "faces-meet"} <= _codes(programs)


def test_depths_right_for_each_side_but_too_deep_together_are_found() -> None:
    def deeper(data: dict[str, Any]) -> None:
        for bore in data["target"]["panels"][0]["bores"]:
            bore["depth_mm"] = 9.0

    deep = [(replace(program, text=program.text.replace("Z-7.4", "Z-9")), setup) for program, setup in _programs()]
    assert _codes(_with_setup(deep, "", deeper)) == {"faces-meet"}


def test_sides_in_the_wrong_order_are_found() -> None:
    programs = _programs()
    assert _codes([*programs[2:], *programs[:2]]) == {"two-faces-order"}


def test_side_2_alone_says_that_it_needs_side_1() -> None:
    run = dry_run(_programs()[2:])
    (alone,) = [item for item in run.findings if item.code == "two-faces-alone"]
    assert "carcass-two-face-01-side1-T5.nc, carcass-two-face-01-side1-T8.nc" in alone.message


def test_side_1_alone_is_judged_as_far_as_it_goes() -> None:
    assert dry_run(_programs()[:2]).findings == ()


def test_a_part_cut_free_before_the_flip_is_found() -> None:
    outline = next(program.text for program, _ in _programs() if "side2-T1" in program.name)
    assert "cut-through-early" in _codes(_with_text("side1-T5", lambda text: outline))


def test_a_cut_through_a_pin_is_found() -> None:
    cut = "G0 Z15\nG0 X15 Y15\nG1 Z-2 F300\nG0 Z15\nM5"
    programs = _with_text("side2-T1", lambda text: text.replace("M5", cut))
    assert "pin-cut" in _codes(programs)


def _two_face_panel(features: tuple[Recess | Bore, ...], rear: tuple[Recess | Bore, ...]) -> Panel:
    return Panel(
        id="L2 upright",
        cabinet="L2",
        role="upright",
        stock="carcass",
        thickness_mm=17.8,
        length_mm=420.0,
        width_mm=260.0,
        outline=rectangle(0.0, 0.0, 420.0, 260.0),
        features=features,
        rear_features=rear,
        grain=Grain.ALONG,
        place=None,
        face_up="left face",
    )


def _proof(panel: Panel) -> Mapping[str, int]:
    job = _job()
    (sheet,) = lay_out(job, (panel,)).sheets
    found = prove_sheet(plan_sheet(sheet, job, _post())).findings
    return {item.code: 1 for item in found if item.severity == "error"}


_HOLE = Bore(name="pin", purpose="shelf pin", centre=Point(100.0, 60.0), diameter_mm=5.0, depth_mm=6.0)


def _box(x0: float, y0: float, x1: float, y1: float) -> Contour:
    return rectangle(x0, y0, x1 - x0, y1 - y0)


def _rabbet(depth_mm: float) -> tuple[Recess, ...]:
    """Rabbets 10 mm wide along all four edges."""
    sides = ((0, 0, 420, 10), (0, 250, 420, 260), (0, 0, 10, 260), (410, 0, 420, 260))
    return tuple(
        Recess(name=f"rabbet {n}", kind="rabbet", outline=_box(*box), depth_mm=depth_mm) for n, box in enumerate(sides)
    )


def test_a_face_with_rabbets_comes_last_so_that_tabs_stand_in_wood() -> None:
    assert _proof(_two_face_panel(_rabbet(6.0), (_HOLE,))) == {}
    assert _proof(_two_face_panel((_HOLE,), _rabbet(6.0))) == {}


def test_tabs_over_rabbets_cut_from_below_are_found() -> None:
    groove = Recess(name="groove", kind="dado", outline=_box(0.0, 100.0, 420.0, 118.0), depth_mm=6.0)
    assert "tabs-missing" in _proof(_two_face_panel(_rabbet(6.0), (groove,)))


@pytest.mark.parametrize(("depth_mm", "is_found"), [(6.0, False), (12.5, True)])
def test_a_dado_over_a_dado_must_leave_wood(depth_mm: float, is_found: bool) -> None:
    low = Recess(name="low", kind="dado", outline=_box(0.0, 100.0, 420.0, 118.0), depth_mm=4.0)
    high = Recess(name="high", kind="dado", outline=_box(200.0, 0.0, 218.0, 260.0), depth_mm=depth_mm)
    assert ("faces-meet" in _proof(_two_face_panel((low,), (high,)))) == is_found
