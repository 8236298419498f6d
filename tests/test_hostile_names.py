"""Names that a user, or somebody else's file, may hold: the folder stays sound whatever they are."""

import csv
import io
import xml.etree.ElementTree as ET
from html.parser import HTMLParser
from pathlib import Path, PurePosixPath

import ezdxf
import pytest

from rabbetry.build import Built, build_folder
from rabbetry.errors import InputError
from rabbetry.files import load_post, load_tables
from rabbetry.findings import has_error
from rabbetry.pipeline import PostText, load_job

NAMES = [
    "../../etc",
    "<script>alert(1)</script>",
    "</title></style><b>",
    "Küche-Ost №2",
    "x" * 60,
    "quote \" and ' both",
    "([{brackets}])",
    "semi;colon % per cent",
    "emoji 😀 here",
    "{{ 7 * 7 }}",
    "=1+1",
    "a, b, c",
    "con",
    "&amp; & ]]> -->",
]
VOID = {"meta", "link", "br", "img", "input", "hr", "col", "wbr", "source", "path", "rect"}


def _built(name: str, post: str = "metric-plain", stock: str = "ply") -> Built:
    quoted = "'''" + name + "'''"
    text = f"""
name = {quoted}
units = "mm"
machine = "bench-4x4"
post = "{post}"
cutters = [1, 2, 5, 6, 7, 8]
[stock."{stock}"]
sheet = "birch-18"
thickness = 17.8
blank = [1220, 1220]
[[clamp]]
name = {quoted}
x = 1190
y = 1190
length_x = 20
length_y = 20
height = 10
[[cabinet]]
name = {quoted}
kind = "wall"
width = 300
height = 400
depth = 200
back = false
adjustable_shelves = 0
[[part]]
name = {"'''" + name[:50] + " part'''"}
stock = "{stock}"
length = 300
width = 100
note = {quoted}
[[run]]
name = {quoted}
length = 700
items = [{{ appliance = {quoted}, width = 300 }}, {{ filler = 40 }}, {{ gap = "fill" }}]
upper = [{{ cabinet = {quoted} }}, {{ gap = "fill" }}]
"""
    job = load_job(text, file="job.toml", tables=load_tables(), own_tables={})
    shipped, toml, template = load_post(post, beside=Path())
    return build_folder(job, PostText(name=shipped, toml=toml, template=template), workers=1, tell=lambda stage: None)


class _Balanced(HTMLParser):
    """Raises AssertionError where an end tag does not close the last open one."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.add(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open, f"</{tag}> closes nothing"
            assert self.open.pop() == tag


@pytest.mark.parametrize("name", NAMES, ids=range(len(NAMES)))
def test_every_file_is_well_formed_whatever_the_names_hold(name: str) -> None:
    built = _built(name)
    assert not has_error(built.findings), built.findings
    assert "runs/run-1.svg" in built.content
    assert "frame-parts.csv" in built.content
    scripts: set[int] = set()
    for file, data in built.content.items():
        path = PurePosixPath(file)
        assert not path.is_absolute()
        assert ".." not in path.parts
        assert file.isascii()
        if path.suffix == ".svg":
            ET.fromstring(data)
        elif path.suffix == ".html":
            parser = _Balanced()
            parser.feed(data.decode("utf-8"))
            parser.close()
            assert parser.open == [], file
            assert b"<script>alert" not in data
            scripts.add(data.count(b"<script"))
        elif path.suffix == ".dxf":
            assert not ezdxf.read(io.StringIO(data.decode("utf-8"))).audit().errors
        elif path.suffix == ".csv":
            rows = list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))
            assert not any(cell.startswith(("=", "+", "-", "@")) for row in rows for cell in row), file
            assert len({len(row) for row in rows}) == 1, file
        elif path.suffix == ".nc":
            lines = data.decode("ascii").split("\n")
            assert max(map(len, lines)) < 70


@pytest.mark.parametrize("post", ["full-metric", "inch-hand-spindle", "inch-plain"])
@pytest.mark.parametrize("name", [NAMES[1], NAMES[6], NAMES[7], NAMES[8]], ids=["tag", "brackets", "signs", "emoji"])
def test_programs_of_every_post_pass_their_dry_run_whatever_the_names_hold(name: str, post: str) -> None:
    built = _built(name, post=post)
    assert not has_error(built.findings), built.findings
    programs = [data for file, data in built.content.items() if file.startswith("programs/") and "setup" not in file]
    assert programs
    assert all(data.isascii() for data in programs)


@pytest.mark.parametrize("stock", ["con", "birch 18 mm", "NUL", "aux.txt", "a.b", "Com1", "Küche", "x" * 30])
def test_a_stock_named_like_a_device_or_with_blanks_gives_file_names_that_every_system_takes(stock: str) -> None:
    built = _built("Plain", stock=stock)
    for file in built.content:
        for part in PurePosixPath(file).parts:
            assert part.isascii()
            assert " " not in part
            assert part.split(".")[0].casefold() not in {"con", "nul", "aux", "prn", "com1", "lpt1"}


@pytest.mark.parametrize("stock", ["../x", "a/b", "", "..", "<b>", "a:b", "x" * 200])
def test_a_stock_named_like_a_path_or_markup_is_refused(stock: str) -> None:
    with pytest.raises(InputError, match="stock"):
        _built("Plain", stock=stock)
