"""Setup sheets printed to PDF: a page for each program on A4 and on Letter, nothing cut off, whatever they hold."""

import re
from pathlib import Path

import pytest
from browser_kit import built_from, written
from playwright.sync_api import Page

LONG = "W" * 58 + " №"
CROWDED = """
name = "{name}"
units = "in"
machine = "dial-4x4"
post = "inch-hand-spindle"
cutters = [1, 5, 6, 8]
[stock.carcass]
sheet = "birch-18"
thickness = "17.8 mm"
blank = ["1200 mm", "600 mm"]
[[part]]
name = "Sail shelf"
stock = "carcass"
length = "300 mm"
width = "200 mm"
holes = [{{x = "50 mm", y = "50 mm", diameter = "5 mm", depth = "10 mm"}}]
"""
CLAMP = """
[[clamp]]
name = "{name} {k}"
x = "{x} mm"
y = "{y} mm"
length_x = "40 mm"
length_y = "40 mm"
height = "22 mm"
"""


def pages_of(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


def hidden(page: Page) -> list[float]:
    """How many pixels of each setup sheet lie beyond its page, downwards or sideways."""
    return page.evaluate(
        """() => [...document.querySelectorAll('.setup')].flatMap(sheet => {
            const own = sheet.getBoundingClientRect();
            return [...sheet.querySelectorAll('h2,h3,p,svg')].map(item => {
                const box = item.getBoundingClientRect();
                return Math.max(box.right - own.right, box.bottom - own.bottom, own.left - box.left);
            });
        })"""
    )


@pytest.fixture(scope="session")
def crowded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    clamps = "".join(
        CLAMP.format(name=LONG[:50], k=k, x=-30 if k % 2 else 1190, y=10 + 45 * (k // 2)) for k in range(24)
    )
    return written(built_from(CROWDED.format(name=LONG) + clamps), tmp_path_factory.mktemp("crowded"))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("folder", ["sample", "crowded"])
def test_each_program_prints_on_one_page(folder: str, paper: str, open_page, request) -> None:  # type: ignore[no-untyped-def]
    page = open_page(request.getfixturevalue(folder) / "setup-sheets.html")
    page.emulate_media(media="print")
    programs = page.locator(".setup").count()
    assert programs > 0
    assert (
        pages_of(page.pdf(format=paper, margin=dict.fromkeys(("top", "right", "bottom", "left"), "10mm"))) == programs
    )
    assert max(hidden(page)) <= 1
    assert min(page.evaluate("[...document.querySelectorAll('.setup .picture')].map(item => item.clientHeight)")) > 150


def test_a_setup_sheet_can_be_read_on_a_telephone(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "setup-sheets.html", width=375, height=800, dark=True)
    assert page.evaluate("document.documentElement.scrollWidth") <= 375
    sizes = page.evaluate(
        "[...document.querySelectorAll('.row p')].map(item => parseFloat(getComputedStyle(item).fontSize))"
    )
    assert min(sizes) >= 14
