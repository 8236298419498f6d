"""The playback: it reaches the last line, steps, jumps to a finding and back, and takes away what was cut."""

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page

from browser.conftest import wait_until
from browser.long_program import long_playback

SHOWN = "document.getElementById('view').shown()"


def shown(page: Page) -> dict[str, float]:
    found: dict[str, float] = page.evaluate(SHOWN)
    return found


@pytest.fixture(scope="module")
def long_page(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """1500 lines, enough for states kept on the way."""
    path = tmp_path_factory.mktemp("long") / "long.html"
    path.write_text(long_playback(1500), encoding="utf-8")
    return path


@pytest.fixture
def programs(sample: Path) -> list[list[str]]:
    text = (sample / "sheets" / "carcass-01-playback.html").read_text(encoding="utf-8")
    (data,) = re.findall(r'id="texts">(.*?)</script>', text)
    return [program.strip("\n").split("\n") for program in json.loads(data)]


def test_the_text_is_the_programs_own(sample: Path, programs: list[list[str]], open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "sheets" / "carcass-01-playback.html")
    names = page.eval_on_selector_all("#program option", "all => all.map(one => one.textContent)")
    for name, text in zip(names, programs, strict=True):
        assert text == (sample / "programs" / name).read_text(encoding="ascii").strip("\n").split("\n")
        page.select_option("#program", label=name)
        assert page.locator("#lines > div").first.text_content() == text[0]


def test_played_through_it_stands_on_the_last_line(sample: Path, programs: list[list[str]], open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "sheets" / "carcass-01-playback.html")
    page.select_option("#speed", "400")
    page.click("#play")
    wait_until(page, f"(shown => !shown.playing && shown.now === shown.total)({SHOWN})")
    last = max(k for k, line in enumerate(programs[0], 1) if "M30" in line or "M2" in line)
    assert shown(page)["line"] == last
    assert page.locator(".here").inner_text() == programs[0][last - 1]
    assert shown(page)["frames"] > 1


def test_steps_by_line_go_through_every_line_that_moves(sample: Path, programs: list[list[str]], open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "sheets" / "carcass-01-playback.html")
    page.locator("#text").focus()
    seen = []
    for _ in range(40):
        page.keyboard.press("ArrowDown")
        seen.append(int(shown(page)["line"]))
    assert seen == sorted(set(seen))
    moving = [k for k, line in enumerate(programs[0], 1) if re.search(r"[XYZ]-?[0-9]", line) and k <= seen[-1]]
    assert set(moving) <= set(seen)
    page.keyboard.press("ArrowUp")
    assert shown(page)["line"] == seen[-2]
    page.get_by_role("button", name="One line on").click()
    assert shown(page)["line"] == seen[-1]
    place = page.locator("#told-place").inner_text()
    axes = dict(re.findall(r"([XYZ])(-?[0-9.]+)", programs[0][seen[-1] - 1]))
    for axis, value in axes.items():
        assert f"{float(value):.2f}" in place, axis


def test_wood_goes_as_the_cutter_passes_and_comes_back_when_scrubbed_back(long_page: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(long_page)
    assert shown(page)["gone"] == 0
    gone = []
    for share in (2500, 5000, 10000, 5000, 2500, 0):
        page.fill("#time", str(share))
        gone.append(shown(page)["gone"])
    assert gone[0] < gone[1] < gone[2]
    assert gone[3:] == [gone[1], gone[0], 0], "the same wood again, whichever way it was reached"
    # A spiral of 1492 moves of 0.05 rad whose turns lie 16 mm apart, so a cutter of 6.31 mm leaves wood between them.
    length = 1492 * 0.05 * (20 + 1491 * 0.13 / 2)
    assert gone[2] == pytest.approx(length * 6.31, rel=0.05)


def test_a_findings_link_jumps_to_its_line_and_place(long_page: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(long_page)
    page.get_by_role("link", name="long.nc, line 750").click()
    wait_until(page, f"{SHOWN}.line === 750")
    assert shown(page)["target"] == {"x": 600, "y": 600}
    assert "flagged" in (page.locator(".here").get_attribute("class") or "")
    page = open_page(long_page, hash="#p0-l1200")
    assert shown(page)["line"] == 1200


def test_the_told_figures_are_the_programs(long_page: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(long_page, hash="#p0-l100")
    assert page.locator("#told-feed").inner_text() == "2400 mm/min"
    assert page.locator("#told-depth").inner_text() == "2.00 mm"
    assert page.locator("#told-doing").inner_text() == "cutting"


def test_a_later_program_begins_with_what_earlier_ones_cut(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "sheets" / "carcass-01-playback.html")
    page.fill("#time", "10000")
    whole = shown(page)["gone"]
    page.select_option("#program", "1")
    assert shown(page)["now"] == 0
    assert shown(page)["gone"] == whole > 0


def test_the_keyboard_alone_is_enough(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "sheets" / "carcass-01-playback.html")
    reached = []
    for _ in range(12):
        page.keyboard.press("Tab")
        reached.append(page.evaluate("document.activeElement.id || document.activeElement.tagName"))
    for name in ("program", "play", "line-back", "line-on", "speed", "time", "text"):
        assert name in reached
    page.locator("#play").focus()
    page.keyboard.press("Space")
    wait_until(page, f"{SHOWN}.now > 0")
    page.keyboard.press("Space")
    assert not shown(page)["playing"]
    page.locator("#time").focus()
    page.keyboard.press("End")
    assert shown(page)["now"] == shown(page)["total"]
