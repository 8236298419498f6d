"""A finding's links land on its place in the picture and on its line in the playback; ticks stay."""

from dataclasses import replace
from pathlib import Path

import pytest

from browser.conftest import wait_until
from browser.long_program import long_playback
from page.page_samples import page as page_view
from rabbetry.findings import finding
from rabbetry.page.html import index_html


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A page with one finding at (600, 600) of line 200 of a program of 400 lines, and that program's playback."""
    folder = tmp_path_factory.mktemp("findings")
    view = page_view()
    told = finding("axis-limit", "halfway", file="long.nc", line=200, x=600.0, y=600.0)
    item = replace(view.sheets[0], playback="sheets/long.html", program_names=("long.nc",))
    (folder / "sheets").mkdir()
    (folder / "sheets" / "long.html").write_text(long_playback(400), encoding="utf-8")
    (folder / "index.html").write_text(
        index_html(replace(view, sheets=(item,), findings=(told, *view.findings))), encoding="utf-8"
    )
    return folder


def test_the_links_of_a_finding_land_on_its_place_and_its_line(folder: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(folder / "index.html")
    page.get_by_role("link", name="long.nc, x 600.000, y 600.000").click()
    mark = page.locator("#finding-1")
    where = "document.querySelector('.finding-mark:target')?.getBoundingClientRect().top"
    wait_until(page, f"0 <= {where} && {where} <= innerHeight")
    box = mark.bounding_box()
    assert box is not None
    # The mark's middle lies where the blank's rectangle says that (600, 600) of 1220 x 1220 mm lies.
    blank = page.locator("svg.sheet .blank").bounding_box()
    assert blank is not None
    assert box["x"] + box["width"] / 2 == pytest.approx(blank["x"] + blank["width"] * 600 / 1220, abs=2)
    page.get_by_role("link", name="line 200 in the playback").click()
    wait_until(page, "document.getElementById('view').shown().line === 200")
    assert page.evaluate("document.getElementById('view').shown().target") == {"x": 600, "y": 600}


def test_a_panels_finding_opens_on_the_panel(folder: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(folder / "index.html")
    link = page.locator("#findings a[href^='#panel-']").first
    link.click()
    target = page.locator(".panel:target").bounding_box()
    assert target is not None
    assert -target["height"] < target["y"] < 900


def test_ticks_stay_when_the_page_is_opened_again(folder: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(folder / "index.html")
    page.locator(".tick").first.check()
    page.reload()
    assert page.locator(".tick").first.is_checked()
    assert page.locator(".tally").first.inner_text().startswith("1 of ")
    assert page.locator(".panel.done").count() == 1
