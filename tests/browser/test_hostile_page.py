"""Names that hold markup, quotes, formulas, line breaks and endless letters: shown as typed, run nowhere."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from browser_kit import built_from, written
from playwright.sync_api import Browser

from page.page_samples import cabinet
from page.page_samples import page as page_view
from rabbetry.errors import InputError
from rabbetry.findings import finding
from rabbetry.page.html import index_html

NAMES = {
    "tag": "<b>bold</b><script>alert(1)</script>",
    "quotes": 'O\'Neil "the" `desk`',
    "formula": "=2+3",
    "far": "Küche 漢字 №7 😀",
    "entity": "&lt;i&gt; &amp; </style></title>",
    "template": "{{ 7*7 }} {% raw %} ${7*7}",
}
UNTYPED = ("two\nlines", "l" * 300)
"""What a job file's names may not hold, so that only another program's records could bring them."""


def quoted(name: str) -> str:
    return '"' + name.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """One small wall cabinet a name."""
    cabinets = "\n".join(
        f"[[cabinet]]\nname = {quoted(name)}\nkind = 'wall'\nwidth = 300\nheight = 400\ndepth = 200\n"
        "back = false\nadjustable_shelves = 0\n"
        for name in NAMES.values()
    )
    clamp = f"[[clamp]]\nname = {quoted(NAMES['tag'])}\nx = 1190\ny = 1190\nlength_x = 20\nlength_y = 20\nheight = 10\n"
    text = (
        f"name = {quoted(NAMES['tag'])}\nunits = 'mm'\nmachine = 'bench-4x4'\n"
        "post = 'metric-plain'\ncutters = [1, 2, 5, 6, 7, 8]\n[stock.ply]\nsheet = 'birch-18'\nthickness = 17.8\n"
        f"blank = [1220, 1220]\n{clamp}{cabinets}"
    )
    return written(built_from(text), tmp_path_factory.mktemp("hostile"))


def test_names_are_shown_as_typed_on_every_page(hostile: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(hostile / "index.html", width=375)
    assert page.locator("h1").inner_text() == NAMES["tag"]
    names = page.eval_on_selector_all("#cabinets .cabinet summary b", "all => all.map(one => one.textContent)")
    assert set(names) == set(NAMES.values())
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), "nothing sticks out of a phone's width"
    for summary in page.locator("#cabinets .cabinet summary").all():
        summary.click()
    page.wait_for_timeout(400)
    titles = page.eval_on_selector_all(".panel title", "all => all.map(one => one.textContent)")
    for name in NAMES.values():
        assert any(title.startswith(f"{name} left side:") for title in titles)
    labels = open_page(hostile / "labels.html")
    shown = re.sub(r"\s+", "", labels.locator("body").inner_text())
    for name in NAMES.values():
        assert re.sub(r"\s+", "", name) in shown


def test_the_box_and_the_playback_show_them_too(hostile: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(hostile / "index.html")
    told = page.locator("li.on").first
    assert told.evaluate("row => row.dataset.name") == "left side"
    play = open_page(sorted(hostile.glob("sheets/*-playback.html"))[0])
    assert NAMES["tag"] in play.locator("h1").inner_text()
    names = play.eval_on_selector_all(".panel-outline", "all => all.map(one => one.dataset.name)")
    assert any(name.startswith(NAMES["tag"]) for name in names)


def test_nothing_of_a_name_becomes_an_element(hostile: Path, browser: Browser) -> None:
    """Without the pages' own policy a script in a name would run: it is taken out here, and still none does."""
    for path in sorted(hostile.rglob("*.html")):
        text = re.sub(r"<meta http-equiv=\"Content-Security-Policy\".*?>", "", path.read_text(encoding="utf-8"))
        bare = path.with_name(f"bare-{path.name}")
        bare.write_text(text, encoding="utf-8")
        page = browser.new_page()
        dialogs: list[str] = []
        page.on("dialog", lambda dialog, dialogs=dialogs: (dialogs.append(dialog.message), dialog.dismiss()))
        page.goto(bare.as_uri())
        assert dialogs == [], path.name
        bold = page.eval_on_selector_all("b, i", "all => all.map(one => one.textContent)")
        assert "bold" not in bold
        page.close()
        bare.unlink()


@pytest.mark.parametrize("name", UNTYPED, ids=["line break", "300 letters"])
@pytest.mark.parametrize("width", [375, 1280])
def test_names_that_no_job_may_hold_break_no_page(name: str, width: int, tmp_path: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError, match="name"):
        built_from(f"name = {quoted(name)}\nunits = 'mm'\nmachine = 'bench-4x4'\n")
    view = page_view()
    told = finding("small-part", name, panel=name, file=name)
    view = replace(view, job_name=name, cabinets=(*view.cabinets, cabinet(name)), findings=(told,), echoes=(name,))
    (tmp_path / "index.html").write_text(index_html(view), encoding="utf-8")
    page = open_page(tmp_path / "index.html", width=width)
    assert page.locator("h1").inner_text() == " ".join(name.split())
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
