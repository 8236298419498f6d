"""Setup sheets held against the programs' own text and setup files: nothing that a program relies on is missing."""

import html
import json
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from rabbetry.build import build_folder
from rabbetry.dryrun.model import End, Feed, Message, Spindle, Stop, ToolChange, Traverse, WorkOffset
from rabbetry.files import load_post, load_tables
from rabbetry.page.setup_sheets import setup_sheets_html
from rabbetry.page.watch import watch_of
from rabbetry.pipeline import PostText, load_job

HEAD = """
name = "Net loft wall"
units = "{units}"
machine = "{machine}"
post = "{post}"
cutters = [1, 5, 6, 8]
[stock.carcass]
sheet = "birch-18"
thickness = "17.8 mm"
blank = ["1000 mm", "700 mm"]
[[clamp]]
name = "left clamp"
x = "-40 mm"
y = "300 mm"
length_x = "45 mm"
length_y = "60 mm"
height = "22 mm"
"""
WALL = """
[[cabinet]]
name = "L1"
kind = "open"
width = "700 mm"
height = "500 mm"
depth = "300 mm"
adjustable_shelves = 1
dividers = 1
divider_pins = "blind"
"""
SHELF = """
[[part]]
name = "Sail shelf"
stock = "carcass"
length = "400 mm"
width = "200 mm"
holes = [{x = "50 mm", y = "50 mm", diameter = "5 mm", depth = "10 mm"}]
"""
JOBS = {
    "two faces": HEAD.format(units="mm", machine="bench-4x4", post="metric-plain") + WALL,
    "by hand": HEAD.format(units="in", machine="dial-4x4", post="inch-hand-spindle") + SHELF,
    "one program": HEAD.format(units="mm", machine="bench-4x4", post="full-metric") + SHELF,
}


@cache
def content(name: str) -> dict[str, bytes]:
    job = load_job(JOBS[name], file="loft.toml", tables=load_tables(), own_tables={})
    shipped, toml, template = load_post(job.post, beside=Path())
    post = PostText(name=shipped, toml=toml, template=template)
    return build_folder(job, post, workers=1, tell=lambda stage: None).content


@cache
def pages(name: str) -> dict[str, str]:
    """The plain text of each page, by program."""
    text = content(name)["setup-sheets.html"].decode()
    found = {}
    for section in text.split('<section class="setup">')[1:]:
        section = re.sub(r"<svg.*?</svg>", " ", section, flags=re.S)
        words = html.unescape(re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", section)))
        found[re.search(r"<h2>(.*?)</h2>", section)[1]] = words  # type: ignore[index]
    return found


def programs(name: str) -> dict[str, tuple[str, dict[str, Any]]]:
    """Text and setup of each program, without the air runs."""
    manifest = json.loads(content(name)["manifest.json"])
    return {
        row["file"].rpartition("/")[2]: (
            content(name)[row["file"]].decode("ascii"),
            json.loads(content(name)[row["file"].rpartition(".")[0] + ".setup.json"]),
        )
        for row in manifest["programs"]
        if row.get("kind", "cut") != "air run"
    }


def mm_and_inches(mm: float) -> tuple[str, str]:
    return f"{mm:.2f}".rstrip("0").rstrip("."), f"{mm / 25.4:.4f}"


@pytest.mark.parametrize("name", JOBS)
def test_every_program_has_a_page(name: str) -> None:
    assert list(pages(name)) == list(programs(name))
    assert len(pages(name)) >= 1


@pytest.mark.parametrize("name", JOBS)
def test_blank_clamps_cutters_and_zero_of_the_setup_file_stand_on_the_page(name: str) -> None:
    for program, (text, setup) in programs(name).items():
        page = pages(name)[program]
        is_mm = "G21" in text
        assert setup["blank"]["stock"] in page
        thick, thick_in = mm_and_inches(setup["blank"]["thickness_mm"])
        assert f"{thick} mm" in page if is_mm else thick_in in page
        for clamp in setup["clamps"]:
            assert clamp["name"] in page
        assert len(setup["clamps"]) == 1
        assert "22 mm high" in page if is_mm else "~55/64 in high" in page
        zero = {"stock top": "z zero on the blank's top", "spoilboard": "z zero on the spoilboard"}[setup["z_zero"]]
        assert zero in page
        assert f"(in {setup['work_offset']['word']})" in page
        used = {int(number) for number in re.findall(r"\bT(\d+)", text)} or set(setup["loaded"] or [])
        used = used or {setup["cutters"][0]["number"]}
        for cutter in setup["cutters"]:
            if cutter["number"] in used:
                assert f"utter {cutter['number']} ({cutter['name']}" in page
                assert f"sticking out {mm_and_inches(cutter['stick_out_mm'])[0]} mm" in page or not is_mm


@pytest.mark.parametrize("name", JOBS)
def test_speeds_pauses_and_moves_of_the_text_stand_on_the_page(name: str) -> None:
    for program, (text, _) in programs(name).items():
        page = pages(name)[program]
        for speed in re.findall(r"\bS(\d+)", text):
            assert f"{speed} rpm" in page, (program, speed)
        lines = text.splitlines()
        for number, line in enumerate(lines, start=1):
            if re.search(r"\bM0*0\b", line):
                assert re.search(rf"line {number}(, a stop)?: ", page)
                comment = re.search(r"\((.*)\)|;\s*(.*)", lines[number - 2])
                assert comment
                assert (comment[1] or comment[2]) in page
        heights = [float(found) for line in lines for found in re.findall(r"^[^(;]*\bZ(-?[\d.]+)", line)]
        assert f"Deepest: z {min(heights):.{2 if 'G21' in text else 3}f}" in page
        last = re.findall(r"^(?:N\d+ *)?G0*0 X(-?[\d.]+) Y(-?[\d.]+)", text, re.M)
        if last:
            x, y = (f"{float(value):.{2 if 'G21' in text else 3}f}" for value in last[-1])
            assert f"it ends at x {x}, y {y}" in page


@pytest.mark.parametrize("name", JOBS)
def test_time_fingerprint_and_place_in_the_order_stand_on_the_page(name: str) -> None:
    manifest = json.loads(content(name)["manifest.json"])
    for row in manifest["programs"]:
        program = row["file"].rpartition("/")[2]
        if program not in pages(name):
            assert program in " ".join(pages(name).values()), "an air run stands on the page of the program after it"
            continue
        assert row["fingerprint"] in pages(name)[program]
        whole = -(-round(row["time_s"], 3) // 1)
        assert f"{whole // 60:.0f} min" in pages(name)[program] or f"{whole:.0f} s" in pages(name)[program]
        assert re.search(r"program \d+ of \d+ for this set-up", pages(name)[program])
        assert row["sheet"] in pages(name)[program]


def test_the_second_side_tells_how_to_turn_the_blank_and_keeps_the_zero() -> None:
    second = [page for name, page in pages("two faces").items() if "side2" in name]
    first = [page for name, page in pages("two faces").items() if "side1" in name]
    assert "Flip the blank left to right" in second[0]
    assert all("zero stay as they are" in page for page in second)
    assert all("go on with side 2" in page for page in first)


@pytest.mark.parametrize("name", JOBS)
def test_an_air_run_comes_first_on_each_set_up(name: str) -> None:
    for page in pages(name).values():
        assert ("Air run first" in page) is ("program 1 of" in page)


def test_what_is_watched_for_is_read_from_the_motions() -> None:
    zero = (0.0, 0.0, 0.0)

    def feed(line: int, *to: float) -> Feed:
        return Feed(line=line, start=zero, to=zero, program_to=(to[0], to[1], to[2]), feed_mm_per_min=900)

    def traverse(line: int, *to: float) -> Traverse:
        return Traverse(line=line, start=zero, to=zero, program_to=(to[0], to[1], to[2]))

    watch = watch_of(
        (
            Message(line=1, text="job: loft"),
            WorkOffset(line=2, index=2),
            Message(line=3, text="stop: fit cutter 5"),
            Message(line=4, text="press start"),
            Stop(line=5, optional=False),
            ToolChange(line=6, number=5),
            Spindle(line=7, direction="cw", rpm=9000),
            traverse(8, 0, 0, 15),
            traverse(9, 30, 40, 15),
            traverse(10, 30, 40, 2),
            feed(11, 30, 40, -6.5),
            Spindle(line=12, direction="cw", rpm=12000),
            traverse(13, 5, 6, 20),
            Spindle(line=14, direction="off", rpm=None),
            Stop(line=15, optional=True),
            End(line=16),
        )
    )
    assert watch is not None
    assert (watch.lifts_to_mm, watch.first_mm, watch.last_mm) == (15, (30, 40, 2), (5, 6, 20))
    assert (watch.lowest_mm, watch.work_offset, watch.speeds_rpm) == (-6.5, "G55", (9000, 12000))
    assert [(ask.line, ask.text, ask.cutter, ask.is_optional) for ask in watch.asks] == [
        (5, "stop: fit cutter 5; press start", 0, False),
        (6, "", 5, False),
        (15, "", 0, True),
    ]
    assert watch_of((Message(line=1, text="nothing"), End(line=2))) is None


def test_only_the_two_papers_are_known() -> None:
    with pytest.raises(ValueError, match='"A4" or "letter"'):
        setup_sheets_html(None, paper="A5")  # type: ignore[arg-type]
