"""Labels, read back as HTML."""

import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from page_samples import HOSTILE, box, panel, sheet, side

from rabbetry.page.labels import labels_html
from rabbetry.page.text import plain, width_em

LONG = "North wall cabinet 12, left side, lower"


class Labels(HTMLParser):
    """Collects each label's lines as (class, size in mm, text), and every tag met."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.labels: list[list[tuple[str, float, str]]] = []
        self.tags: set[str] = set()
        self.codes = 0
        self._block: tuple[str, float] | None = None
        self._line: str | None = None
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.tags.add(tag)
        self.codes += given.get("class") == "code"
        if tag == "article":
            self.labels.append([])
        if tag == "div" and (size := re.match(r"font-size:([\d.]+)mm", given.get("style", ""))):
            self._block = (given["class"], float(size[1]))
        if tag == "span":
            self._line = ""

    def handle_data(self, data: str) -> None:
        if self._line is not None:
            self._line += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "span" and self._block and self._line is not None:
            self.labels[-1].append((*self._block, self._line))
            self._line = None

    def text(self, label: int, css: str) -> str:
        return " ".join(line for name, _, line in self.labels[label] if name == css)


def labels(*extra: object, units: str = "mm", paper: str | None = None) -> Labels:
    laid = sheet()
    panels = [item.panel for item in laid.placements] + list(extra)
    return Labels(labels_html(panels, [laid], box().joints, job_name=HOSTILE[0], units=units, paper=paper))  # type: ignore[arg-type]


def test_a_label_says_what_the_panel_is_and_where_it_goes() -> None:
    found = labels()
    assert found.text(0, "name") == "B3 left side"
    assert found.text(0, "size") == "876 × 580 mm"
    assert found.text(0, "other") == "~34 31/64 × ~22 53/64 in, 17.8 mm thick"
    assert found.text(0, "whose") == "cabinet B3, left side"
    assert found.text(0, "sheet") == "sheet birch-18-01"
    assert found.text(0, "facts") == "inside face up; front is the lower edge"
    assert found.text(0, "band") == "band lower edge (front)"
    assert found.text(0, "joins") == ("bottom dado takes B3 bottom; back rabbet takes B3 back; B3 nailer butts on it")
    assert found.codes == len(found.labels) == 8


def test_the_entering_panel_is_told_where_it_sits() -> None:
    found = labels(panel("B3 bottom", 576, 574))
    assert found.text(8, "joins") == "sits in B3 left side, bottom dado"
    assert found.text(8, "sheet") == "on no sheet"


def test_a_face_is_called_a_face_once() -> None:
    found = labels(replace(panel("B3 shelf", 576, 574), face_up="upper face"))
    assert found.text(8, "facts") == "upper face up"


def test_labels_come_in_the_order_of_the_sheet() -> None:
    names = [labels().text(k, "name") for k in range(8)]
    assert names == [item.panel.id for item in sheet().placements]


@pytest.mark.parametrize("name", [LONG, *HOSTILE], ids=range(1 + len(HOSTILE)))
def test_no_line_runs_over_and_no_name_is_cut(name: str) -> None:
    found = labels(panel(name, 300, 200, cabinet=name, role=name, note=name, banded=("x0", "y1")))
    assert found.text(8, "name").replace(" ", "") == plain(name).replace(" ", "")
    height = sum(size * 1.2 for _, size, _ in found.labels[8])
    assert height <= 39
    assert all(width_em(line) * size <= 63.001 for _, size, line in found.labels[8])
    assert "script" not in found.tags
    assert "b" not in found.tags


def test_many_joints_fit_in_what_room_is_left() -> None:
    joints = [box().joints[0]] * 3 + [
        type(box().joints[0])(kind="dado", receiver="B3 left side", feature=f"shelf {k} dado", entering=f"B3 shelf {k}")
        for k in range(40)
    ]
    found = Labels(labels_html([side()], [], joints, job_name="x", units="mm"))
    assert sum(size * 1.2 for _, size, _ in found.labels[0]) <= 39
    assert found.text(0, "joins").count("takes B3 bottom") == 1


@pytest.mark.parametrize(
    ("units", "paper", "expected"), [("mm", None, "A4"), ("in", None, "letter"), ("mm", "letter", "letter")]
)
def test_the_paper_follows_the_units(units: str, paper: str | None, expected: str) -> None:
    text = labels_html([side()], [], (), job_name="x", units=units, paper=paper)
    assert f"@page{{size:{expected} portrait" in text


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(ValueError, match="'A5'"):
        labels_html([side()], [], (), job_name="x", units="mm", paper="A5")


def test_no_panels_make_an_empty_sheet() -> None:
    assert "0 labels" in labels_html([], [], (), job_name="x", units="mm")
