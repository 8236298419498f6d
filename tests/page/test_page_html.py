"""The job's page, read back as HTML."""

import base64
import hashlib
import html
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from page_samples import HOSTILE, cabinet, machine, page, panel

from rabbetry.findings import finding
from rabbetry.page.finding_rows import finding_groups
from rabbetry.page.html import duration, index_html
from rabbetry.page.model import PageView
from rabbetry.page.rows import cut_rows
from rabbetry.page.setup_steps import setup_steps
from rabbetry.page.text import plain
from rabbetry.sheets.model import Placement, StockCount
from rabbetry.shop.model import ZZero

VOID = {"meta", "input", "br", "path", "line", "rect", "circle", "polygon"}


class Page(HTMLParser):
    """Collects ids, links, text and tags; `depth` must end at 0."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.sources: list[str] = []
        self.tags: list[str] = []
        self.text = ""
        self.depth = 0
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.depth += tag not in VOID
        for name, value in attrs:
            assert not name.startswith("on"), (tag, name)
            if name == "id":
                self.ids.append(value or "")
            if name == "href":
                self.links.append(value or "")
            if name in ("src", "action", "srcset", "data", "poster", "xlink:href"):
                self.sources.append(value or "")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)

    def handle_endtag(self, tag: str) -> None:
        self.depth -= tag not in VOID

    def handle_data(self, data: str) -> None:
        if self.tags[-1:] != ["style"] and self.tags[-1:] != ["script"]:
            self.text += data


def read(view: PageView) -> Page:
    found = Page(index_html(view))
    assert found.depth == 0
    return found


def test_a_ready_page_says_so_first() -> None:
    text = read(page()).text
    assert "East kitchen: ready to cut" in text
    assert text.index("Ready to cut") < text.index("hold it") < text.index("proven best") < text.index("At the machine")
    assert "2 programs passed the dry run; 84 fit checks found no error." in text


def test_a_page_with_an_error_is_not_ready_and_offers_no_program() -> None:
    found = read(page(ready=False))
    assert "Not ready" in found.text
    assert "1 error below must be mended first" in found.text
    assert not [link for link in found.links if link.startswith("programs/")]


def test_errors_come_before_warnings_and_notes() -> None:
    assert [group.severity for group in finding_groups(page(ready=False))] == ["error", "warning", "note"]


def test_a_finding_is_shown_once_however_often_it_is_given() -> None:
    view = page()
    (group,) = [g for g in finding_groups(replace(view, findings=view.findings * 3)) if g.code == "small-part"]
    assert len(group.rows) == 1


def test_findings_link_to_the_panel_or_the_program() -> None:
    links = {row.message: row.link for group in finding_groups(page()) for row in group.rows}
    assert links == {
        "it is 60 mm wide: hold it": "#panel-B3_rear_stretcher_with_a_name_that_goes_on",
        "line 90 stands after M30": "#program-programs.2f.birch-18-01-1.2e.nc",
    }


def test_a_finding_of_a_panel_on_no_sheet_links_to_its_row() -> None:
    view = page()
    lost = panel("B3 lost", 100, 90)
    found = finding("small-part", "lost", panel="B3 lost")
    (group,) = finding_groups(replace(view, panels=(*view.panels, lost), findings=(found,)))
    assert group.rows[0].link == "#row-B3_lost"


def test_a_finding_about_a_cabinet_links_to_it() -> None:
    view = page()
    name = view.cabinets[0].name
    told = (finding("pins-under-plates", f'cabinet "{n}": left out', file="job.toml") for n in (name, "nowhere"))
    (group,) = finding_groups(replace(view, findings=tuple(told)))
    assert [(row.link, row.place) for row in group.rows] == [
        (f"#cabinet-{name}", f"job.toml, {name}"),
        ("", "job.toml"),
    ]


def test_a_finding_with_a_place_is_marked_there_and_linked_to_its_line() -> None:
    view = page()
    told = finding("loose-waste", "take it out", file="birch-18-01-4.nc", line=90, x=100.0, y=200.0)
    beside = finding("axis-limit", "far beside it", file="birch-18-01-4.nc", line=91, x=5000.0, y=0.0)
    item = replace(view.sheets[0], playback="sheets/p.html", program_names=("birch-18-01-1.nc", "birch-18-01-4.nc"))
    view = replace(view, sheets=(item,), findings=(told, beside))
    rows = {row.message: row for group in finding_groups(view) for row in group.rows}
    assert rows["take it out"].link == "#finding-1"
    assert rows["take it out"].line_link == "sheets/p.html#p1-l90"
    assert rows["far beside it"].link == "#program-programs.2f.birch-18-01-4.2e.nc"
    assert rows["far beside it"].line_link == "sheets/p.html#p1-l91"
    text = index_html(view)
    marks = re.findall(
        r'<g class="finding-mark (\w+)" id="(.*?)"><title>(.*?)</title><circle cx="(.*?)" cy="(.*?)"', text
    )
    assert marks == [("note", "finding-1", "take it out", "100", "-200")]
    assert "finding-2" not in text


@pytest.mark.parametrize("ready", [True, False])
def test_every_link_inside_the_page_leads_somewhere_and_no_id_stands_twice(ready: bool) -> None:
    found = read(page(ready=ready))
    targets = {link.removeprefix("#") for link in found.links if link.startswith("#")}
    assert targets <= set(found.ids)
    assert len(found.ids) == len(set(found.ids))


def test_the_page_asks_nothing_of_the_network() -> None:
    text = index_html(page())
    found = Page(text)
    assert not found.sources
    assert all("//" not in link and not link.startswith("javascript") for link in found.links)
    assert not {"link", "img", "iframe", "object"} & set(found.tags)
    assert "@import" not in text
    assert not re.search(r"url\((?!#)", text)
    assert not {"fetch(", "XMLHttpRequest", "import("} & set(re.findall(r"fetch\(|XMLHttpRequest|import\(", text))


def test_the_script_is_the_only_one_its_policy_lets_run() -> None:
    text = index_html(page())
    (script,) = re.findall(r"<script>(.*?)</script>", text, re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'" in html.unescape(text)


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_text(name: str) -> None:
    plain_page = read(page())
    place = Placement(panel=panel(name, 100, 80, cabinet=name), x_mm=1000, y_mm=700, rotation_deg=0)
    view = page(extra=(place,))
    view = replace(
        view,
        job_name=name,
        post=name,
        machine=replace(machine(), title=name),
        cabinets=(*view.cabinets, cabinet(name)),
        echoes=(name,),
        findings=(finding("small-part", name, panel=name, file=name),),
    )
    found = read(view)
    assert found.tags.count("script") == plain_page.tags.count("script") == 1
    assert found.tags.count("b") - len(view.cabinets) == plain_page.tags.count("b") - 1
    assert plain(name) in found.text


def test_sheets_stand_beside_the_proven_bound() -> None:
    view = replace(page(), counts=(StockCount(stock="birch 18", sheets=7, lower_bound=5, grain_cost=1),))
    text = read(view).text
    assert "at most 2 more than any layout needs; keeping the grain costs 1" in text
    assert "proven best: no layout needs fewer" in read(page()).text


def test_the_usual_cautions_are_there() -> None:
    text = read(page()).text.lower()
    for words in (
        *("eye and ear protection", "dust", "clamp", "cut air first", "never leave a running machine", "local codes"),
        *("to the structure of the building", "structural changes, electrical and gas work", "licensed"),
    ):
        assert words in text


@pytest.mark.parametrize(
    ("seconds", "expected"),
    [
        (0.0, "0 s"),
        (8.2, "9 s"),
        (59.01, "1 min 00 s"),
        (725.0, "12 min 05 s"),
        (3599.5, "1 h 00 min"),
        (7261.0, "2 h 02 min"),
    ],
)
def test_times_are_rounded_up(seconds: float, expected: str) -> None:
    assert duration(seconds) == expected


def test_equal_sizes_are_counted_together() -> None:
    view = page()
    twins = tuple(panel(f"B{k} shelf", 500, 300) for k in (1, 2))
    rows = cut_rows(replace(view, panels=twins))
    assert [(row.count, row.panels) for row in rows] == [(2, "B1 shelf, B2 shelf")]


def test_setup_steps_say_what_to_do_with_the_hands() -> None:
    view = page()
    steps = setup_steps(view.sheets[0], view)
    assert steps[0] == (
        "Lay a blank of birch 18, 1220 × 1220 mm, grain left to right, on a clean spoilboard. The programs are made "
        "for the measured 17.8 mm: check it with the caliper."
    )
    assert "left clamp from x -40, y 560, 50 × 80 mm, at most 25 mm high" in steps[1]
    assert steps[2].endswith("z zero on the blank's top.")
    assert "touch off z again" not in steps[3].lower()
    assert "Touch off z again with this cutter" in steps[4]
    assert "6.31 mm compression" in steps[3]
    assert "the dial at 3, about 18000 rpm" in steps[3]


def test_setup_steps_warn_of_an_unmeasured_sheet_and_name_the_zero() -> None:
    view = page()
    item = replace(view.sheets[0], sheet=replace(view.sheets[0].sheet, thickness_is_measured=False))
    view = replace(view, machine=replace(machine(), z_zero=ZZero.SPOILBOARD, clamps=(), spindle_by_hand=False))
    steps = setup_steps(item, view)
    assert "Thickness not measured" in steps[0]
    assert "No clamp is set" in steps[1]
    assert "z zero on the spoilboard" in steps[2]
    assert "18000 rpm set by the program" in steps[3]


def test_the_same_view_gives_the_same_bytes() -> None:
    assert index_html(page()) == index_html(page())


def test_an_empty_job_still_makes_a_page() -> None:
    view = page(ready=False)
    empty = replace(view, sheets=(), counts=(), cabinets=(), boxes=(), panels=(), findings=(), feeds=(), cutters=())
    assert "Not ready" in read(empty).text
