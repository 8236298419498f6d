"""Labels, read back as HTML."""

import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest
from page_samples import HOSTILE, box, panel, sheet, side

from rabbetry.console import job_of
from rabbetry.page.label_sheets import CUT, STICKY, LabelSheet
from rabbetry.page.labels import labels_html
from rabbetry.page.text import plain, width_em
from rabbetry.pipeline import compile_job

LONG = "North wall cabinet 12, left side, lower"


class Labels(HTMLParser):
    """Collects each label's lines as (class, size in mm, text), and every tag met."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.labels: list[list[tuple[str, float, str]]] = []
        self.tags: set[str] = set()
        self.codes = 0
        self.hands: list[str] = []
        """Hand of each label's bar, '' for none, and the words on the bars."""
        self.bar_words: list[str] = []
        self._block: tuple[str, float] | None = None
        self._line: str | None = None
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.tags.add(tag)
        self.codes += given.get("class") == "code"
        if tag == "article":
            self.labels.append([])
            self.hands.append("")
        if tag == "svg" and given.get("class", "").startswith("strip "):
            self.hands[-1] = given["class"].removeprefix("strip ")
        self._in_bar = tag == "text"
        if tag == "div" and (size := re.match(r"font-size:([\d.]+)mm", given.get("style", ""))):
            self._block = (given["class"], float(size[1]))
        if tag == "span":
            self._line = ""

    def handle_data(self, data: str) -> None:
        if self._line is not None:
            self._line += data
        elif getattr(self, "_in_bar", False) and data.strip():
            self.bar_words.append(data.strip())

    def handle_endtag(self, tag: str) -> None:
        if tag == "span" and self._block and self._line is not None:
            self.labels[-1].append((*self._block, self._line))
            self._line = None

    def text(self, label: int, css: str) -> str:
        return " ".join(line for name, _, line in self.labels[label] if name == css)


def labels(*extra: object, units: str = "mm") -> Labels:
    laid = sheet()
    panels = [item.panel for item in laid.placements] + list(extra)
    return Labels(labels_html(panels, [laid], box().joints, job_name=HOSTILE[0], units=units))  # type: ignore[arg-type]


def test_a_label_says_what_the_panel_is_and_where_it_goes() -> None:
    found = labels()
    assert found.text(0, "name") == "B3 left side"
    assert found.text(0, "size") == "876 × 580 mm"
    assert found.text(0, "other") == "~34 31/64 × ~22 53/64 in, 17.8 mm thick"
    assert found.text(0, "goes") == "goes: cabinet B3"
    assert found.text(0, "sheet") == "sheet birch-18-01"
    assert found.text(0, "facts") == "inside face up; front is the lower edge"
    assert found.text(0, "band") == "band lower edge (front)"
    assert found.text(0, "joins") == "joins: bottom dado takes bottom; back rabbet takes back; nailer butts on it"
    assert found.codes == len(found.labels) == 8


def test_the_entering_panel_is_told_where_it_sits() -> None:
    found = labels(panel("B3 bottom", 576, 574))
    assert found.text(8, "joins") == "joins: sits in left side, bottom dado"
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
    assert found.text(0, "joins").count("takes bottom") == 1


@pytest.mark.parametrize(("units", "expected"), [("mm", "A4"), ("in", "letter")])
def test_the_paper_follows_the_units(units: str, expected: str) -> None:
    text = labels_html([side()], [], (), job_name="x", units=units)
    assert f"@page{{size:{expected} portrait" in text
    for form in STICKY[units]:
        assert f'href="{form.file}"' in text


@pytest.mark.parametrize("form", [*CUT.values(), *STICKY["mm"], *STICKY["in"]], ids=lambda form: form.title)
def test_labels_lie_within_their_page_and_off_each_other(form: LabelSheet) -> None:
    wide, high = form.page_mm
    assert form.step_x >= form.wide
    assert form.step_y >= form.high
    assert form.left + (form.columns - 1) * form.step_x + form.wide <= wide
    assert form.top + (form.rows - 1) * form.step_y + form.high <= high
    if not form.is_cut:
        right = wide - form.left - (form.columns - 1) * form.step_x - form.wide
        assert right == pytest.approx(form.left, abs=0.11), "in the middle of the page"
        low = high - form.top - (form.rows - 1) * form.step_y - form.high
        assert low == pytest.approx(form.top, abs=0.11)


@pytest.mark.parametrize("form", [*STICKY["mm"], *STICKY["in"]], ids=lambda form: form.title)
def test_on_self_adhesive_labels_the_texts_fit_too(form: LabelSheet) -> None:
    parts = [panel("W" * 40, 300, 200, cabinet="W" * 20, note="W" * 80, banded=("x0", "y1"))]
    found = Labels(labels_html([side(), *parts], [], box().joints, job_name="x", units="mm", form=form))
    for lines in found.labels:
        assert sum(size * 1.2 for _, size, _ in lines) <= form.high - 4
        assert all(width_em(line) * size <= form.wide - 30 for _, size, line in lines)


def test_no_panels_make_an_empty_sheet() -> None:
    assert "0 labels" in labels_html([], [], (), job_name="x", units="mm")


SAMPLE = Path(__file__).parents[2] / "sample_jobs" / "clubhouse-kitchen.toml"


def sample_labels() -> tuple[dict[str, int], Labels]:
    """The labels of a whole kitchen, and the number of each by its panel's name."""
    job = job_of(SAMPLE)
    compiled = compile_job(job)
    joints = [joint for box in compiled.boxes for joint in box.joints]
    found = Labels(labels_html(compiled.panels, [], joints, job_name=job.name, units="mm"))
    return {found.text(k, "name"): k for k in range(len(found.labels))}, found


def test_no_two_labels_of_a_kitchen_are_alike_and_each_says_how_its_panel_goes() -> None:
    numbers, found = sample_labels()
    assert len(numbers) == len(found.labels) == 265
    for name, k in numbers.items():
        assert found.text(k, "goes").startswith("goes: "), name
        assert re.match(r"(inside|upper face|back|either) (face )?up", found.text(k, "facts")), name
        assert sum(size * 1.2 for _, size, _ in found.labels[k]) <= 39
        assert not found.hands[k] or all(width_em(line) * size <= 57.001 for _, size, line in found.labels[k])
    # Shelves lie loose on their pins, fronts hang on hinges or screws; everything else joins something.
    loose = {name for name, k in numbers.items() if not found.text(k, "joins")}
    assert found.text(numbers["End panel island"], "goes") == "goes: in no cabinet"
    loose -= {name for name, k in numbers.items() if found.text(k, "goes") == "goes: in no cabinet"}
    assert all(re.search(r" (shelf \d+|(left |right )?door|drawer front \d+)$", name) for name in loose), loose


@pytest.mark.parametrize(
    ("name", "goes", "facts"),
    [
        # Sides lie inside face up with their heads to the right: the front is the upper edge of a left one.
        (
            "S1 dry store left side",
            "upright, inside to the right, at the foot",
            "front is the upper edge; top is the right end",
        ),
        (
            "S1 dry store right side",
            "upright, inside to the left, at the foot",
            "front is the lower edge; top is the right end",
        ),
        ("S1 dry store bottom", "flat, upper face up, 100 mm up", "front is the lower edge"),
        ("S1 dry store back", "upright, inside to the front, 100 mm up", "top is the upper edge"),
        ("K2 cutlery drawer 1 box front", "upright, inside to the back, 731 mm up", "top is the upper edge"),
    ],
)
def test_a_label_tells_front_top_and_place(name: str, goes: str, facts: str) -> None:
    numbers, found = sample_labels()
    assert found.text(numbers[name], "goes") == f"goes: {goes}"
    assert found.text(numbers[name], "facts").split("; ", 1)[1] == facts


def test_handed_panels_carry_a_bar_with_their_hand_and_no_others_do() -> None:
    numbers, found = sample_labels()
    for name, k in numbers.items():
        words = [hand for hand in ("left", "right") if f" {hand} " in name]
        assert found.hands[k] == "".join(words), name
    hands = [hand for hand in found.hands if hand]
    assert found.bar_words == [hand.upper() for hand in hands]
    assert hands.count("left") == hands.count("right") > 40


def test_the_two_hands_differ_in_shape_not_in_colour_alone() -> None:
    left, right = (replace(side(), id=f"B3 {hand} side", role=f"{hand} side") for hand in ("left", "right"))
    drawn = re.findall(r'<polygon points="([^"]+)"/>', labels_html([left, right], [], (), job_name="x", units="mm"))
    tips = [[float(pair.split(",")[0]) for pair in shape.split()] for shape in drawn]
    assert tips[0][0] < min(tips[0][1:])
    assert tips[1][0] > max(tips[1][1:])


def test_nothing_is_engraved_and_the_label_sheet_says_so() -> None:
    text = labels_html([side()], [], (), job_name="x", units="mm")
    assert "nothing is engraved, so nothing can be cut mirrored" in text
