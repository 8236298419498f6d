"""Every sample job builds clean: no error, every sheet released, the folder as the contract says."""

import csv
import hashlib
import io
import json
import os
import subprocess
import sys
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import ezdxf
import pytest

from outside_kit import complaints, sheets_of
from rabbetry.build import Built, build_folder
from rabbetry.files import load_post, load_tables, post_names
from rabbetry.findings import has_error
from rabbetry.job.model import CabinetKind, Job
from rabbetry.manifest import Manifest
from rabbetry.pipeline import Compiled, PostText, compile_job, lay_out, load_job

SAMPLES = Path(__file__).parent.parent / "sample_jobs"
LOFT = "net-loft-kitchen.toml"
"""Its build takes over 20 s of processor time: here it is compiled, proven to fit and laid out only."""
NAMES = sorted(path.name for path in SAMPLES.glob("*.toml") if path.name != LOFT)
SMALL = "one-base-cabinet.toml"


def _job(name: str) -> Job:
    text = (SAMPLES / name).read_text(encoding="utf-8")
    return load_job(text, file=name, tables=load_tables(), own_tables={})


@cache
def _built(name: str, post: str = "") -> Built:
    job = _job(name)
    shipped, toml, template = load_post(post or job.post, beside=SAMPLES)
    return build_folder(
        job, PostText(name=shipped, toml=toml, template=template), workers=None, tell=lambda stage: None
    )


@cache
def _compiled_loft() -> Compiled:
    return compile_job(_job(LOFT))


def _manifest(built: Built) -> Manifest:
    return Manifest.model_validate_json(built.content["manifest.json"])


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_job_has_no_error_and_releases_every_sheet(name: str) -> None:
    built = _built(name)
    assert not has_error(built.findings), [item for item in built.findings if item.severity == "error"][:5]
    manifest = _manifest(built)
    assert {program.sheet for program in manifest.programs} == {sheet.id for sheet in manifest.sheets}


@pytest.mark.parametrize("name", NAMES)
def test_a_sample_job_raises_no_warning_of_the_dry_run(name: str) -> None:
    alarms = [item for program in _manifest(_built(name)).programs for item in program.findings]
    assert not [item for item in alarms if item.severity != "note"], alarms[:5]


@pytest.mark.parametrize("name", NAMES)
def test_seen_from_outside_the_cutter_takes_all_it_can_reach_and_nothing_else(name: str) -> None:
    built = _built(name, "metric-plain")
    sheets = sheets_of(built.content)
    assert len(sheets) == len(_manifest(built).sheets)
    wrong = [f"{sheet}: {said}" for sheet, seen in sheets.items() for said in complaints(seen, "climb")]
    assert not wrong, wrong[:5]


@pytest.mark.parametrize("name", NAMES)
def test_every_panel_is_placed_once_and_listed_once(name: str) -> None:
    built = _built(name)
    manifest = _manifest(built)
    ids = [panel.id for panel in manifest.panels]
    assert len(ids) == len(set(ids))
    assert all(panel.sheet for panel in manifest.panels)
    rows = list(csv.reader(io.StringIO(built.content["cut-list.csv"].decode("utf-8"))))
    assert len(rows) == len(ids) + 1
    assert len({len(row) for row in rows}) == 1


@pytest.mark.parametrize("name", NAMES)
def test_the_folder_holds_what_the_contract_names(name: str) -> None:
    content = _built(name).content
    manifest = _manifest(_built(name))
    for file in ("index.html", "timings.json", "hardware.csv", "edge-banding.csv", "labels.html"):
        assert content[file], file
    for sheet in manifest.sheets:
        assert content[f"sheets/{sheet.id}.svg"].startswith(b"<")
        assert f"sheets/{sheet.id}.dxf" in content
    for program in manifest.programs:
        assert hashlib.sha256(content[program.file]).hexdigest() == program.sha256
        setup = json.loads(content[program.file.rsplit(".", 1)[0] + ".setup.json"])
        assert setup["sheet"] == program.sheet
    listed = {program.file for program in manifest.programs}
    assert {file for file in content if file.startswith("programs/") and not file.endswith(".json")} == listed
    for count in manifest.bounds.values():
        assert count.sheets >= count.lower_bound >= 1


def test_the_loft_has_every_kind_and_raises_nothing_but_notes() -> None:
    job, compiled = _job(LOFT), _compiled_loft()
    assert [item for item in compiled.findings if item.severity != "note"] == []
    kinds = {cabinet.kind for cabinet in compiled.cabinets}
    assert kinds == set(CabinetKind) - {CabinetKind.WALL_BLIND_CORNER, CabinetKind.LIDDED_SEAT}
    assert len(compiled.boxes) <= 12
    assert {box.kind for box in compiled.boxes if box.kind} == {"corner", "ladder base"}
    assert sum(cabinet.name.startswith("N6 stores") for cabinet in compiled.cabinets) == 2
    (frame,) = compiled.faced.frames
    assert frame.cabinets == ("N9 floats", "N10 twine")
    assert sorted(member.name for member in frame.members if member.kind == "stile") == [
        "left stile",
        "middle stile 1",
        "right stile",
    ]
    roles = {panel.role for panel in compiled.panels}
    assert {"kick board", "valance", "Net board", "N3 end panel", "divider 1"} <= roles
    nesting = lay_out(job, compiled.panels)
    assert sum(len(sheet.placements) for sheet in nesting.sheets) == len(compiled.panels)
    assert not has_error(nesting.findings)


def test_what_the_loft_has_made_elsewhere_is_the_same_in_both_lists() -> None:
    compiled = _compiled_loft()
    bought = {front.name for box in compiled.boxes for front in box.fronts}
    assert {part.of for part in compiled.faced.front_parts} == bought
    assert len(bought) == 18


def test_the_walls_of_the_loft_add_up_by_hand() -> None:
    """Sea wall 900 + 600 + 700 + 500 and the end panel's 17.8; stair wall 1000 + 600 + 450 + 600 + 900; bench wall 76 +
    830 + 500 + 600 and 580 + 19 + 60 for the blind corner round the corner, its fronts and pulls."""
    runs = {run.name: run for run in _compiled_loft().faced.runs}
    assert runs["Sea wall"].length_mm == pytest.approx(900 + 600 + 700 + 500 + 17.8)
    assert runs["Sea wall"].lower[-1].width_mm == pytest.approx(17.8)
    assert runs["Stair wall"].length_mm == 1000 + 600 + 450 + 600 + 900
    assert runs["Bench wall"].lower[-1].width_mm == pytest.approx(580 + 19 + 60)
    (panel,) = runs["Sea wall"].covers
    assert panel.right_mm == pytest.approx(runs["Sea wall"].length_mm)


def test_the_kitchen_has_at_least_24_boxes() -> None:
    manifest = _manifest(_built("clubhouse-kitchen.toml"))
    assert len({panel.cabinet for panel in manifest.panels if panel.cabinet}) >= 24


@pytest.mark.parametrize("name", NAMES)
def test_sheet_drawings_pass_the_audit_of_another_library(name: str) -> None:
    content = _built(name).content
    for file in sorted(content):
        if file.endswith(".dxf"):
            document = ezdxf.read(io.StringIO(content[file].decode("utf-8")))
            assert not document.audit().errors, file
            assert document.units == ezdxf.units.MM, file


SHORT = [name for name in post_names() if name != "metric-lines-only"]
"""Arcs as lines make ten thousand of them: the sample's golden programs show that post as well."""


@pytest.mark.parametrize("post", SHORT)
def test_the_small_job_gives_the_golden_programs_under_every_post(post: str, request: pytest.FixtureRequest) -> None:
    built = _built(SMALL, post)
    assert not has_error(built.findings)
    programs = {file: text for file, text in built.content.items() if _is_program(file)}
    folder = Path(__file__).parent / "golden" / "one-base-cabinet" / post
    if request.config.getoption("--rewrite-golden"):
        _rewrite(folder, programs)
    golden = {f"programs/{path.name}": path.read_bytes() for path in folder.iterdir()}
    assert sorted(programs) == sorted(golden)
    for file, text in programs.items():
        assert text == golden[file], f"{file} differs from the golden program under {post}"


def test_two_processes_give_the_same_bytes(tmp_path: Path) -> None:
    """Each with another order of its sets: nothing of it may show in a file."""
    made = []
    for seed in ("1", "7"):
        out = tmp_path / seed
        command = [sys.executable, "-m", "rabbetry", "build", str(SAMPLES / SMALL), "--out", str(out), "--workers", "1"]
        subprocess.run(command, env=os.environ | {"PYTHONHASHSEED": seed}, check=True, capture_output=True)
        files = sorted(path for path in out.rglob("*") if path.is_file() and path.name != "timings.json")
        made.append({str(path.relative_to(out)): path.read_bytes() for path in files})
    assert len(made[0]) > 50
    assert made[0] == made[1]


def test_one_worker_and_two_give_the_same_bytes() -> None:
    job = _job(SMALL)
    name, toml, template = load_post(job.post, beside=SAMPLES)
    post = PostText(name=name, toml=toml, template=template)
    one = build_folder(job, post, workers=1, tell=lambda stage: None).content
    two = build_folder(job, post, workers=2, tell=lambda stage: None).content
    assert {file: text for file, text in one.items() if file != "timings.json"} == {
        file: text for file, text in two.items() if file != "timings.json"
    }


def _is_program(file: str) -> bool:
    return file.startswith("programs/") and not file.endswith(".json")


def _rewrite(folder: Path, programs: Mapping[str, bytes]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.iterdir():
        old.unlink()
    for file, text in programs.items():
        (folder / Path(file).name).write_bytes(text)


@pytest.mark.parametrize("name", NAMES)
def test_every_panel_has_a_drawing_and_a_picture(name: str) -> None:
    content = _built(name).content
    drawings = [panel.drawing for panel in _manifest(_built(name)).panels]
    assert all(drawings)
    pictures = {drawing.removesuffix(".dxf") + ".svg" for drawing in drawings}
    assert {file for file in content if file.startswith("panels/")} == {*drawings, *pictures}


def test_the_page_links_the_drawings_of_its_cut_list() -> None:
    content = _built(SMALL).content
    page = content["index.html"].decode("utf-8")
    for file in content:
        if file.startswith("panels/"):
            assert f'href="{file}"' in page
