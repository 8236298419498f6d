"""The job's page by keyboard alone: what a pointer works can be reached with Tab, shows where it is, and acts."""

from pathlib import Path

from playwright.sync_api import Page

from browser.conftest import wait_until

_WHERE = """() => {
  const at = document.activeElement, style = getComputedStyle(at);
  return [at.className || at.id || at.tagName.toLowerCase(), style.outlineStyle, parseFloat(style.outlineWidth)];
}"""


def tab_to(page: Page, wanted: str) -> list[object]:
    for _ in range(400):
        page.keyboard.press("Tab")
        where: list[object] = page.evaluate(_WHERE)
        if wanted in str(where[0]).split():
            return where
    raise AssertionError(f"Tab never reaches {wanted}")


def test_tab_reaches_everything_and_shows_where_it_is(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    for wanted in ("picture", "tick", "find", "turned", "apart", "to-step"):
        where = tab_to(page, wanted)
        assert where[1] != "none", wanted
        assert float(str(where[2])) >= 1, wanted


def test_the_skip_link_comes_first_and_leads_to_the_job(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#main"


def test_a_closed_block_opens_with_a_key_and_a_box_is_then_turned(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    page.evaluate("document.querySelector('#cabinets details').open = false")
    page.locator("#cabinets summary").first.focus()
    page.keyboard.press("Enter")
    wait_until(page, "document.querySelector('#cabinets details').open")
    tab_to(page, "turned")
    before = page.evaluate("document.querySelector('.box-view').shown().turn")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.querySelector('.box-view').shown().turn") != before


def test_a_panel_is_ticked_off_with_a_key(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    tab_to(page, "tick")
    page.keyboard.press("Space")
    assert page.locator(".tally").first.inner_text().startswith("1 of ")
