"""The box on the page: turned by pointer and keyboard, taken apart, put together step by step; a missing dado shows."""

import html
import json
import re
from pathlib import Path

from playwright.sync_api import Browser, Page

SHOWN = "document.querySelector('.box-view').shown()"


def shown(page: Page) -> dict[str, dict[str, int]]:
    page.wait_for_timeout(300)
    found: dict[str, dict[str, int]] = page.evaluate(SHOWN)
    return found


def test_a_box_turns_by_keyboard_and_by_pointer_and_comes_apart(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    canvas = page.locator(".turned").first
    canvas.scroll_into_view_if_needed()
    first = shown(page)
    assert len(first["counts"]) == 15, "fourteen panels and the ground"
    canvas.focus()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowUp")
    second = shown(page)
    assert second["turn"] != first["turn"]
    assert second["tilt"] != first["tilt"]
    edge = canvas.bounding_box()
    assert edge is not None
    page.mouse.move(edge["x"] + 200, edge["y"] + 200)
    page.mouse.down()
    page.mouse.move(edge["x"] + 300, edge["y"] + 220, steps=4)
    page.mouse.up()
    assert shown(page)["turn"] != second["turn"]
    page.get_by_role("button", name="Front", exact=True).first.click()
    front = shown(page)
    assert (front["turn"], front["tilt"]) == (0, 0)
    page.locator(".apart").first.fill("0")
    whole = shown(page)["counts"]
    roles = page.eval_on_selector_all(".box-view li.on", "rows => rows.map(row => row.dataset.name)")
    seen = {roles[int(panel)] for panel, count in whole.items() if int(panel) >= 0 and count > 1000}
    assert {"door", "drawer front 1"} <= seen
    assert "back" not in seen, "a closed box hides its back"


def test_steps_show_what_is_together_so_far(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    steps = page.locator(".to-step").first
    steps.fill("2")
    assert set(shown(page)["counts"]) == {"-1", "0", "1"}
    assert page.locator(".pointed").first.inner_text().startswith("2: bottom")
    steps.focus()
    page.keyboard.press("ArrowRight")
    assert set(shown(page)["counts"]) == {"-1", "0", "1", "2"}


def test_pointing_at_a_panel_names_it(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    page.get_by_role("button", name="Front", exact=True).first.click()
    page.locator(".apart").first.fill("0")
    shown(page)
    edge = page.locator(".turned").first.bounding_box()
    assert edge is not None
    page.locator(".turned").first.hover(position={"x": edge["width"] / 2, "y": edge["height"] * 0.6})
    assert ": door:" in page.locator(".pointed").first.inner_text()


def test_a_missing_dado_is_another_picture(sample: Path, tmp_path: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    text = (sample / "index.html").read_text(encoding="utf-8")
    (data,) = re.findall(r'data-solids="(.*?)"', text)
    solids = json.loads(html.unescape(data))
    left = solids[0]
    assert len(left[4]) == 2
    left[4] = [[0, left[4][1][1], *left[4][1][2:]]]
    planted = tmp_path / "index.html"
    planted.write_text(text.replace(data, html.escape(json.dumps(solids))), encoding="utf-8")
    pictures = []
    for path in (sample / "index.html", planted):
        page = open_page(path)
        page.locator(".to-step").first.fill("1")
        pictures.append(shown(page))
    # The floors and walls of the dado and the rabbets that face the eye are planes of their own.
    assert pictures[0]["planes"] >= pictures[1]["planes"] + 3
    assert set(pictures[0]["counts"]) == set(pictures[1]["counts"]) == {"-1", "0"}


def test_without_script_the_exploded_picture_and_the_order_stand_there(sample: Path, browser: Browser) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((sample / "index.html").as_uri())
    assert page.locator(".exploded").first.is_visible()
    assert page.get_by_text("begin with it").first.is_visible()
    assert not page.locator(".turning").first.is_visible()
    context.close()


def test_a_phone_turns_the_box_by_touch(sample: Path, browser: Browser) -> None:
    context = browser.new_context(viewport={"width": 375, "height": 800}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.goto((sample / "index.html").as_uri())
    canvas = page.locator(".turned").first
    canvas.scroll_into_view_if_needed()
    before = shown(page)
    edge = canvas.bounding_box()
    assert edge is not None
    session = context.new_cdp_session(page)
    at = {"x": edge["x"] + 100, "y": edge["y"] + 100}
    session.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [at]})
    moved = {"x": at["x"] + 60, "y": at["y"] + 30}
    session.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [moved]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    after = shown(page)
    assert after["turn"] < before["turn"]
    assert after["tilt"] > before["tilt"]
    context.close()
