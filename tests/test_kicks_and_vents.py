"""Toe kicks and vents from the job file to proven programs: the net loft's wall, and one piece by itself."""

import csv
import io
import json
import math
import re
from functools import cache
from pathlib import Path

import pytest

from rabbetry.build import Built, build_folder
from rabbetry.files import load_post, load_tables
from rabbetry.pipeline import PostText, compile_job, load_job

ONE_PIECE = """
name = "Kick by itself"
units = "in"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 2]
[stock.ply34]
sheet = "ply-3/4"
thickness = 0.703
blank = [48, 24]
[[kick]]
name = "Show face up"
length = 24
heights = ["4-1/8", "3-11/16"]
[[kick]]
name = "Show face down"
length = 24
heights = ["4-1/8", "3-11/16"]
face = "down"
"""

NET_LOFT = """
name = "Net loft"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 2]
[stock.ply]
sheet = "birch-18"
thickness = 17.8
blank = [1220, 1220]
[[part]]
name = "Bench end"
stock = "ply"
length = 500
width = 300
[[kick]]
name = "Bench kick"
length = 1000
points = [[0, 112], [400, 104], [1000, 101]]
drop = 2
[[kick]]
name = "Chest valance"
style = "valance"
length = 900
measurements = "floor.csv"
rise = 45
radius_share = 1.0
face = "down"
[[vent]]
panel = "Bench kick"
free_area = "60 cm2"
length = 60
width = 10
[[vent]]
panel = "Bench end"
slots = 6
length = "4 in"
width = "1/4 in"
spacing = 14
run = "along"
at = [150, 150]
[[vent]]
panel = "Bench end"
slots = 2
length = 160
width = 32
spacing = 44
at = [350, 150]
"""
FLOOR = "x,height\n0,118\n450,109\n900,106\n"


@cache
def _built(text: str, post: str) -> Built:
    job = load_job(text, file="job.toml", tables=load_tables(), own_tables={}, floors={"floor.csv": FLOOR})
    shipped, toml, template = load_post(post, beside=Path())
    return build_folder(job, PostText(name=shipped, toml=toml, template=template), workers=1, tell=lambda stage: None)


def _words(html: bytes) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html.decode("utf-8")))


@pytest.mark.parametrize("post", ["metric-plain", "inch-plain"])
@pytest.mark.parametrize("text", [ONE_PIECE, NET_LOFT], ids=["one piece", "net loft"])
def test_every_sheet_is_released_without_error_or_warning(text: str, post: str) -> None:
    built = _built(text, post)
    assert [item.message for item in built.findings if item.severity != "note"] == []
    manifest = json.loads(built.content["manifest.json"])
    assert {program["sheet"] for program in manifest["programs"]} == {sheet["id"] for sheet in manifest["sheets"]}
    assert manifest["programs"]


def _outline_in_setup(built: Built, panel: str) -> list[list[float]]:
    """The corners of a panel's outline in the setup file, less the lower left corner of its rectangle."""
    setups = (json.loads(data) for name, data in built.content.items() if name.endswith(".setup.json"))
    target = next(item for setup in setups for item in setup["target"]["panels"] if item["id"] == panel)
    corners = [segment["to"] for segment in target["outline"]["segments"]]
    low_x, low_y = min(x for x, _ in corners), min(y for _, y in corners)
    return [[x - low_x, y - low_y] for x, y in corners]


def test_one_piece_is_cut_four_sided_with_the_slope_of_its_two_heights() -> None:
    corners = _outline_in_setup(_built(ONE_PIECE, "metric-plain"), "Show face up")
    # 24 in = 609.6 mm; 4-1/8 in = 104.775 mm and 3-11/16 in = 93.6625 mm, so that the floor rises 11.1125 mm
    wanted = [(0.0, 0.0), (0.0, 104.775), (609.6, 11.1125), (609.6, 104.775)]
    assert sorted(corners) == [pytest.approx(corner, abs=2e-4) for corner in wanted]
    assert math.degrees(math.atan2(11.1125, 609.6)) == pytest.approx(1.044, abs=5e-4)


def test_face_down_the_same_piece_is_mirrored() -> None:
    corners = _outline_in_setup(_built(ONE_PIECE, "metric-plain"), "Show face down")
    wanted = [(0.0, 11.1125), (0.0, 104.775), (609.6, 0.0), (609.6, 104.775)]
    assert sorted(corners) == [pytest.approx(corner, abs=2e-4) for corner in wanted]


def test_labels_say_both_heights_which_end_is_which_and_cut_face_down() -> None:
    labels = _words(_built(ONE_PIECE, "metric-plain").content["labels.html"])
    assert "← left end 4 1/8 in | right end 3 11/16 in →" in labels
    assert "← right end 3 11/16 in | left end 4 1/8 in →" in labels
    assert labels.count("cut face down") == 1


def test_the_cut_list_has_the_heights_too() -> None:
    rows = csv.DictReader(io.StringIO(_built(NET_LOFT, "metric-plain").content["cut-list.csv"].decode("utf-8")))
    notes = {row["panel"]: row["note"] for row in rows}
    assert notes["Bench kick"] == "left end 110 mm; right end 99 mm"
    assert notes["Chest valance"] == "cut face down; right end 106 mm; left end 118 mm"


def test_the_free_area_of_every_vent_is_told() -> None:
    found = [item.message for item in _built(NET_LOFT, "metric-plain").findings if item.code == "vent-area"]
    # 11 x 578.54; 6 x (95.25 x 6.35 + pi 3.175^2); 2 x (128 x 32 + pi 16^2), worked by hand
    assert found == [
        "Bench kick: 11 slots of 60 mm by 10 mm leave 6364 mm2 (9.86 in2) free, 6000 mm2 needed",
        "Bench end: 6 slots of 101.6 mm by 6.35 mm leave 3819 mm2 (5.92 in2) free",
        "Bench end: 2 slots of 160 mm by 32 mm leave 9800 mm2 (15.19 in2) free",
    ]


def test_a_slot_narrower_than_the_smallest_cutter_holds_the_job_back() -> None:
    narrow = NET_LOFT.replace('width = "1/4 in"', "width = 3")
    built = _built(narrow, "metric-plain")
    assert {item.code for item in built.findings if item.severity == "error"} == {"cut-out-too-narrow"}
    assert not [name for name in built.content if name.startswith("programs/")]


def test_a_vent_in_a_panel_of_a_refused_cabinet_adds_no_message() -> None:
    vents = "".join(
        f'[[vent]]\npanel = "{name}"\nslots = 4\nlength = 3\nwidth = "3/8"\n' for name in ("B1 bottom", "B2 bottom")
    )
    cabinet = '[[cabinet]]\nname = "B1"\nkind = "base"\nwidth = 1.25\n'
    job = load_job(ONE_PIECE + cabinet + vents, file="job.toml", tables=load_tables(), own_tables={})
    told = [item.message for item in compile_job(job).findings if item.severity == "error"]
    assert len(told) == 2
    assert 'cabinet "B1"' in told[0]
    assert told[1].startswith('vent "B2 bottom": the job makes no such panel')
