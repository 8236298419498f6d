"""Screws on request: holes in the waste, clear of every cut, run first, and their heads fixtures to the dry run."""

import json
import re
from collections.abc import Sequence
from functools import cache
from itertools import combinations
from math import dist, hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.build import Built, build_folder
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ArcMove, Feed, ProgramText
from rabbetry.files import load_post, load_tables
from rabbetry.findings import has_error
from rabbetry.pipeline import PostText, load_job

JOB = """
name = "Boat-yard canteen"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 6]

[stock.birch]
sheet = "birch-18"
thickness = 17.8
blank = [900, 610]

[cutting]
hold_down = "screws"

[[part]]
name = "counter end"
qty = 2
stock = "birch"
length = LENGTH
width = 200
"""
FLIPPED = """
[stock.thin]
sheet = "birch-6"
thickness = 5.8
blank = [900, 610]

[use]
carcass = "birch"
back = "thin"

[[cabinet]]
name = "W1"
kind = "wall"
width = 500
height = 600
depth = 300
doors = 0
dividers = 1
divider_pins = "blind"
adjustable_shelves = 1
"""
MARGIN, HEAD, CUTTER = 5.0, 9.0, 6.35


@cache
def _built(text: str) -> Built:
    job = load_job(text, file="job.toml", tables=load_tables(), own_tables={})
    name, toml, template = load_post(job.post, beside=None)  # type: ignore[arg-type]
    return build_folder(job, PostText(name=name, toml=toml, template=template), workers=1, tell=lambda _: None)


def _job(length: int = 500) -> str:
    return JOB.replace("LENGTH", str(length))


def _program(built: Built, ending: str) -> tuple[ProgramText, dict]:  # type: ignore[type-arg]
    (name,) = [name for name in built.content if name.endswith(ending)]
    setup = json.loads(built.content[name.rsplit(".", 1)[0] + ".setup.json"])
    return ProgramText(name=name.rpartition("/")[2], text=built.content[name].decode()), setup


def _holes(built: Built) -> list[tuple[float, float]]:
    program, setup = _program(built, "-hold.nc")
    (report,) = dry_run([(program, json.dumps(setup))]).programs
    down = [event.program_to for event in report.events if isinstance(event, Feed) and event.program_to[2] < -17.8]
    return list(dict.fromkeys((x, y) for x, y, _ in down))


@pytest.mark.parametrize("length", [300, 500, 620])
def test_the_holes_are_spread_in_the_waste_clear_of_every_cut(length: int) -> None:
    built = _built(_job(length))
    assert not has_error(built.findings), built.findings
    holes = _holes(built)
    assert len(holes) >= 2
    assert all(dist(a, b) >= 250 for a, b in combinations(holes, 2))
    assert all(15 <= x <= 885 and 15 <= y <= 595 for x, y in holes)
    program, setup = _program(built, "-01-T1.nc")
    (report,) = [r for r in dry_run([(program, json.dumps(setup))]).programs if r.name == program.name]
    low = [e for e in report.events if isinstance(e, Feed | ArcMove) and min(e.start[2], e.to[2]) < e.to[2] + 50]
    cuts = [e.program_to for e in low if e.program_to[2] < 0]
    for x, y in holes:
        for panel in setup["target"]["panels"]:
            corners = [panel["outline"]["start"], *(segment["to"] for segment in panel["outline"]["segments"])]
            x0, x1 = min(c[0] for c in corners), max(c[0] for c in corners)
            y0, y1 = min(c[1] for c in corners), max(c[1] for c in corners)
            away = hypot(max(x0 - x, 0, x - x1), max(y0 - y, 0, y - y1))
            assert away >= HEAD / 2 + MARGIN + CUTTER, "half a head, the clamps' margin, and the cut round the part"
        assert min(hypot(cx - x, cy - y) for cx, cy, _ in cuts) >= HEAD / 2 + MARGIN + CUTTER / 2


def test_it_runs_first_and_the_heads_are_fixtures_from_then_on() -> None:
    built = _built(_job())
    rows = json.loads(built.content["manifest.json"])["programs"]
    assert [row["kind"] for row in rows] == ["air run", "hold-down", "cut"]
    hold, hold_setup = _program(built, "-hold.nc")
    cut, setup = _program(built, "-01-T1.nc")
    assert setup["programs"] == [hold.name, cut.name]
    assert hold_setup["clamps"] == []
    middles = {(c["x_mm"] + c["length_x_mm"] / 2, c["y_mm"] + c["length_y_mm"] / 2) for c in setup["clamps"]}
    assert middles == set(_holes(built))
    assert {c["top_z_mm"] for c in setup["clamps"]} == {4.0}
    page = built.content["index.html"].decode()
    assert f"Screw the blank down through these {len(middles)} holes: x " in page
    assert "screw 1" in built.content["sheets/birch-01.svg"].decode()


def test_a_head_in_the_way_of_a_cut_is_found() -> None:
    """The same programs, and one screw somewhere else than its hole: beside the first panel's corner."""
    built = _built(_job())
    pairs = [_program(built, "-hold.nc"), _program(built, "-01-T1.nc")]
    x, y = pairs[1][1]["target"]["panels"][0]["outline"]["start"]
    pairs[1][1]["clamps"][0] |= {"x_mm": x - 10, "y_mm": y - 2}
    found = dry_run([(program, json.dumps(setup)) for program, setup in pairs]).findings
    assert "cut-into-clamp" in {item.code for item in found}


def test_tall_heads_raise_the_traverses() -> None:
    low, tall = _built(_job()), _built(_job().replace('"screws"', '"screws"\nscrew_head_height = 14'))
    assert "G0 Z10\n" in _program(low, "-01-T1.nc")[0].text
    assert "G0 Z19\n" in _program(tall, "-01-T1.nc")[0].text, "14 and the 5 mm of margin"
    assert not has_error(tall.findings)
    # Nothing stands on the blank yet when the holes are drilled.
    assert "G0 Z10\n" in _program(tall, "-hold.nc")[0].text


def test_without_the_word_nothing_changes() -> None:
    built = _built(_job().replace('hold_down = "screws"\n', ""))
    assert not [name for name in built.content if "hold" in name]


def test_a_blank_without_waste_is_an_error_and_says_what_to_do() -> None:
    built = _built(_job(880).replace("width = 200", "width = 290"))
    (told,) = [item for item in built.findings if item.code == "hold-down-no-place"]
    assert told.message == (
        "birch-01: no place for a screw is clear of every cut; clamp this blank, or raise the stock's trim"
    )
    assert not [name for name in built.content if name.startswith("programs/")]


def test_no_cutter_for_the_holes_is_an_error() -> None:
    built = _built(_job().replace("cutters = [1, 6]", "cutters = [1]"))
    assert any(item.severity == "error" and "screw" in item.message for item in built.findings)


def test_a_flipped_blank_is_held_by_the_same_holes_on_both_sides() -> None:
    text = _job(250).replace("blank = [900, 610]", "blank = [1220, 1220]").replace("[1, 6]", "[1, 5, 6]") + FLIPPED
    built = _built(text.replace('"screws"', '"screws"\nindex_hole = 5'))
    assert not has_error(built.findings), [item for item in built.findings if item.severity == "error"]
    rows = json.loads(built.content["manifest.json"])["programs"]
    assert [row["kind"] for row in rows].count("hold-down") == len({row["sheet"] for row in rows})
    first = _program(built, "-side1-T5.nc")[1]
    second = _program(built, "-side2-T1.nc")[1]
    about = 2 * second["two_faces"]["turned_about"]["at_mm"]

    def middles(clamps: Sequence[dict[str, float]]) -> list[tuple[float, float]]:
        return [(c["x_mm"] + c["length_x_mm"] / 2, c["y_mm"] + c["length_y_mm"] / 2) for c in clamps]

    turned = [(about - x, y) for x, y in middles(first["clamps"])]
    assert len(turned) >= 4
    assert max(dist(a, b) for a, b in zip(turned, middles(second["clamps"]), strict=True)) < 0.001
    assert "Through the holes of side 1:" in built.content["index.html"].decode()


@given(st.integers(60, 860), st.integers(60, 280), st.integers(1, 2))
@settings(max_examples=8, deadline=None)
def test_whatever_the_parts_the_dry_run_is_clean_or_the_place_is_missing(length: int, width: int, count: int) -> None:
    text = _job(length).replace("width = 200", f"width = {width}").replace("qty = 2", f"qty = {count}")
    built = _built(text)
    errors = {item.code for item in built.findings if item.severity == "error"}
    assert errors <= {"hold-down-no-place"}
    if not errors:
        assert re.search(r"screw holes: \d+ of 3 mm", _program(built, "01-hold.nc")[0].text)
