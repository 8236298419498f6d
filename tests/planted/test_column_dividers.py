"""A divider with slides on its left face and a shelf's dado and hinge plates on its right one, cut in two set-ups."""

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.files import load_post, load_tables
from rabbetry.panels.model import Feature, Panel
from rabbetry.pipeline import PlannedSheet, PostText, compile_job, lay_out, load_job, plan_sheet, prove_sheet
from rabbetry.sheets.model import Sheet

JOB = """
name = "Net loft columns"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 2, 5, 6, 8]
[stock.carcass]
sheet = "birch-18"
thickness = 17.8
blank = [1220, 1220]
[[cabinet]]
name = "L1"
kind = "base"
width = 900
dividers = [400]
columns = [
  { fronts = [{ fill = "drawer" }, { fill = "drawer" }] },
  { fronts = [{ fill = "door", fixed_shelves = 1, hinge = "left" }] },
]
[stock.thin]
sheet = "birch-6"
thickness = 5.8
blank = [1220, 1220]
[stock.drawer]
sheet = "birch-12"
thickness = 12
blank = [1220, 1220]
[use]
carcass = "carcass"
back = "thin"
drawer = "drawer"
"""


@cache
def _post() -> PostText:
    name, toml, template = load_post("metric-plain", beside=Path())
    return PostText(name=name, toml=toml, template=template)


@cache
def _flipped() -> Sheet:
    job = load_job(JOB, file="loft.toml", tables=load_tables(), own_tables={})
    compiled = compile_job(job)
    assert [item for item in compiled.findings if item.severity in ("error", "warning")] == []
    (sheet,) = [sheet for sheet in lay_out(job, compiled.panels).sheets if sheet.flip is not None]
    return sheet


@cache
def _planned() -> PlannedSheet:
    return _plan(_flipped())


def _plan(sheet: Sheet) -> PlannedSheet:
    job = load_job(JOB, file="loft.toml", tables=load_tables(), own_tables={})
    return plan_sheet(sheet, job, _post())


def _divider(sheet: Sheet) -> Panel:
    (panel,) = [item.panel for item in sheet.placements if item.panel.role == "divider 1"]
    return panel


def test_the_divider_is_clean_in_both_set_ups() -> None:
    divider = _divider(_flipped())
    assert {item.name.split(" slide")[0] for item in divider.features} == {"column 1 drawer 1", "column 1 drawer 2"}
    names = {item.name.rstrip(" 0123456789") for item in divider.rear_features}
    assert names == {"column 2 fixed shelf 1 dado", "plate"}
    assert prove_sheet(_planned()).findings == ()
    assert {program.side for program in _planned().programs} == {1, 2}


def test_the_second_set_up_is_told_what_the_first_left() -> None:
    """Seen from side 2 a hole of side 1 lies mirrored about the blank's middle, 610."""
    setups = [json.loads(program.setup) for program in _planned().programs if program.kind == "cut"]
    first = next(data for data in setups if data["two_faces"]["side"] == 1)
    second = next(data for data in setups if data["two_faces"]["side"] == 2)
    assert first["two_faces"]["turned_about"] == second["two_faces"]["turned_about"] == {"line": "x", "at_mm": 610.0}
    assert second["two_faces"]["first_side_programs"]


def _changed(sheet: Sheet, change: Mapping[str, Any]) -> Sheet:
    return replace(
        sheet,
        placements=tuple(
            replace(item, panel=replace(item.panel, **change)) if item.panel.role == "divider 1" else item
            for item in sheet.placements
        ),
    )


def _codes(planned: PlannedSheet) -> set[str]:
    """Errors of the programs that cut of another plan against the setups of the right one."""
    right = {program.name: program.setup.decode() for program in _planned().programs if program.kind == "cut"}
    programs = [
        (ProgramText(name=program.name, text=program.text.decode()), right[program.name])
        for program in planned.programs
        if program.name in right
    ]
    assert len(programs) == len(right)
    return {item.code for item in dry_run(programs).findings if item.severity == "error"}


def _without(features: tuple[Feature, ...], starts: str) -> tuple[Feature, ...]:
    kept = tuple(item for item in features if not item.name.startswith(starts))
    assert len(kept) < len(features)
    return kept


def test_a_slide_hole_forgotten_on_the_left_face_is_found() -> None:
    features = _without(_divider(_flipped()).features, "column 1 drawer 2 slide 2")
    assert _codes(_plan(_changed(_flipped(), {"features": features}))) == {"bore-missing"}


def test_a_plate_forgotten_on_the_right_face_is_found() -> None:
    rear = _without(_divider(_flipped()).rear_features, "plate 1")
    assert _codes(_plan(_changed(_flipped(), {"rear_features": rear}))) == {"bore-missing"}


def test_plates_drilled_deeper_than_the_other_face_allows_are_found() -> None:
    rear = tuple(
        replace(item, depth_mm=16.5) if item.name.startswith("plate") else item  # type: ignore[call-arg]
        for item in _divider(_flipped()).rear_features
    )
    assert _codes(_plan(_changed(_flipped(), {"rear_features": rear}))) == {"bore-too-deep"}
