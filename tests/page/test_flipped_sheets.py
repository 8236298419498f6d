"""A flipped sheet in what is handed over: both sides pictured, the line named, the hands told, the faces listed."""

import io
import json
from functools import cache
from pathlib import Path

import ezdxf

from rabbetry.build import build_folder
from rabbetry.files import load_post, load_tables
from rabbetry.pipeline import PostText, load_job

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


@cache
def _content() -> dict[str, bytes]:
    job = load_job(JOB, file="loft.toml", tables=load_tables(), own_tables={})
    name, toml, template = load_post("metric-plain", beside=Path())
    post = PostText(name=name, toml=toml, template=template)
    return build_folder(job, post, workers=1, tell=lambda stage: None).content


def test_each_side_has_a_picture_that_names_the_line_and_shows_both_holes() -> None:
    first, second = (_content()[f"sheets/carcass-two-face-01-side{side}.svg"].decode() for side in (1, 2))
    assert "flip left to right about x 500 mm" in first
    assert "flipped left to right about x 500 mm" in second
    for picture in (first, second):
        assert picture.count('<circle class="index" cx="15"') == 1
        assert picture.count('<circle class="index" cx="985"') == 1
    assert "x0 y0: as on side 1" in second


def test_the_drawing_has_the_line_and_the_index_holes_on_layers_of_their_own() -> None:
    text = _content()["sheets/carcass-two-face-01.dxf"].decode()
    space = ezdxf.read(io.StringIO(text)).modelspace()  # type: ignore[attr-defined]
    (line,) = space.query('LINE[layer=="flip line"]')
    assert (tuple(line.dxf.start)[:2], tuple(line.dxf.end)[:2]) == ((500.0, 0.0), (500.0, 700.0))
    holes = space.query('CIRCLE[layer=="index hole 6.00"]')
    assert sorted((hole.dxf.center.x, hole.dxf.center.y) for hole in holes) == [(15.0, 15.0), (985.0, 15.0)]


def test_the_page_says_to_flip_like_a_page_and_to_keep_x_and_y() -> None:
    page = _content()["index.html"].decode()
    assert "Flip the blank left to right, like turning a page" in page
    assert "Leave x and y zero where side 1 had them" in page
    assert page.index("carcass-two-face-01-side1-T8.nc") < page.index("carcass-two-face-01-side2-T5.nc")
    assert page.count('value="L1 divider 1"') == 1


def test_manifest_and_label_name_both_faces_in_the_order_they_are_cut() -> None:
    manifest = json.loads(_content()["manifest.json"])
    (divider,) = [panel for panel in manifest["panels"] if panel["role"] == "divider 1"]
    assert divider["faces_machined"] == ["left face", "right face"]
    assert divider["sheet"] == "carcass-two-face-01"
    labels = " ".join(_content()["labels.html"].decode().split())
    assert "cut from both faces: left face up first" in labels
