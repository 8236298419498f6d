"""A sheet's picture on the page: enlarged, moved, and pointed at."""

from pathlib import Path

from playwright.sync_api import Locator

from browser.conftest import wait_until

VIEW = "svg => svg.getAttribute('viewBox').split(' ').map(Number)"


def box(of: Locator) -> dict[str, float]:
    found = of.bounding_box()
    assert found is not None
    return {**found}


def test_the_picture_is_enlarged_moved_and_fitted_again(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    svg = page.locator(".picture svg").first
    whole = svg.evaluate(VIEW)
    page.get_by_role("button", name="Larger").first.click()
    near = svg.evaluate(VIEW)
    assert abs(near[2] - whole[2] / 1.5) < 0.1
    assert abs((near[0] + near[2] / 2) - (whole[0] + whole[2] / 2)) < 0.1, "about the middle"
    svg.scroll_into_view_if_needed()
    edge = box(svg)
    page.mouse.move(edge["x"] + 200, edge["y"] + 200)
    page.mouse.down()
    page.mouse.move(edge["x"] + 140, edge["y"] + 200, steps=3)
    page.mouse.up()
    dragged = svg.evaluate(VIEW)
    assert abs((dragged[0] - near[0]) - 60 / edge["width"] * near[2]) < 1, "what the pointer holds follows it"
    page.locator(".picture").first.focus()
    page.keyboard.press("ArrowLeft")
    assert svg.evaluate(VIEW)[0] < dragged[0]
    page.keyboard.press("+")
    assert svg.evaluate(VIEW)[2] < near[2]
    page.keyboard.press("0")
    assert svg.evaluate(VIEW) == whole


def test_the_wheel_with_ctrl_enlarges_about_the_pointer(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    panel = page.locator(".picture .panel").first
    panel.scroll_into_view_if_needed()
    before = box(panel)
    page.mouse.move(before["x"] + 30, before["y"] + 30)
    page.keyboard.down("Control")
    page.mouse.wheel(0, -100)
    page.keyboard.up("Control")
    wait_until(page, "document.querySelector('.picture').classList.contains('near')")
    after = box(panel)
    assert after["width"] > 1.15 * before["width"]
    share = 30 / before["width"]
    assert abs(after["x"] + share * after["width"] - before["x"] - 30) < 6


def test_pointing_at_a_panel_tells_its_size_and_where_it_belongs(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    part = page.locator("[id='panel-B1_right_side'] .part")
    part.hover()
    told = page.locator(".told-panel").first
    assert told.inner_text().startswith("B1 right side: 876 × 580 mm")
    assert "cabinet B1" in told.inner_text()
    told.get_by_role("link").click()
    assert page.locator("tr:target").inner_text().startswith("B1 right side")


def test_the_keys_go_through_the_panels(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    page.locator(".picture").first.focus()
    told = page.locator(".told-panel").first
    seen = set()
    for _ in range(page.locator(".picture").first.locator(".panel").count()):
        page.keyboard.press("n")
        seen.add(told.inner_text())
    assert len(seen) == page.locator(".picture").first.locator(".panel").count() > 2
    page.keyboard.press("p")
    assert told.inner_text() in seen
