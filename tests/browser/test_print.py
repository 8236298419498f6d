"""What comes out of the printer: pages of the PDF that the browser makes."""

import math
import re
from pathlib import Path

from playwright.sync_api import Page


def pdf_pages(page: Page) -> int:
    data = page.pdf(prefer_css_page_size=True)
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", data))


def test_labels_print_twelve_to_a_page(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "labels.html")
    labels = page.locator(".label").count()
    assert labels == 14
    assert pdf_pages(page) == math.ceil(labels / 12) == 2


def test_one_label_more_than_a_page_holds_begins_another(sample: Path, tmp_path: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    text = (sample / "labels.html").read_text(encoding="utf-8")
    pages = text.split('<section class="page">')
    assert len(pages) == 3
    whole = tmp_path / "labels.html"
    whole.write_text(pages[0] + ('<section class="page">' + pages[1]) * 3 + "</body></html>", encoding="utf-8")
    assert pdf_pages(open_page(whole)) == 3


def test_each_sheet_of_the_job_begins_a_page_and_the_script_leaves_no_empty_one(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / "index.html")
    page.emulate_media(media="print")
    breaks = page.eval_on_selector_all(".sheet-part", "all => all.map(one => getComputedStyle(one).breakBefore)")
    assert breaks == ["page"] * 4
    assert not page.locator("nav").is_visible()
    assert not page.locator(".turning").first.is_visible()
    assert page.locator(".exploded").first.is_visible()
    assert pdf_pages(page) >= 5
