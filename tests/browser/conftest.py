"""A small job built once, and one browser, for all tests that look at the pages.

Chromium is `chromium` on the path (Debian's), else playwright's own. Without either the tests are skipped, unless
RABBETRY_NEEDS_BROWSER is set, as `.ci/run` does.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browser_kit import built_from, written
from playwright.sync_api import Browser, Error, Page, Playwright, sync_playwright

SAMPLES = Path(__file__).parents[2] / "sample_jobs"
Open = Callable[..., Page]


def wait_until(page: Page, true: str) -> None:
    """Ask the page until an expression is true. Playwright's own way to wait is text that a page's policy forbids."""
    for _ in range(1200):
        if page.evaluate(true):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never true: {true}")


@pytest.fixture(scope="session")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the one-cabinet sample job."""
    text = (SAMPLES / "one-base-cabinet.toml").read_text(encoding="utf-8")
    return written(built_from(text), tmp_path_factory.mktemp("sample"))


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as play:
        opened = _launched(play)
        yield opened
        opened.close()


def _launched(play: Playwright) -> Browser:
    try:
        return play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
    except Error as error:
        first = error.message.splitlines()[0]
        told = f"no chromium on the path and none of playwright's own to open the pages with: {first}"
        if os.environ.get("RABBETRY_NEEDS_BROWSER"):
            pytest.fail(told)
        pytest.skip(told)


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Open]:
    """Open a file: `open_page(path, width=375, dark=True)`. When the test is over, nothing may have gone wrong on any
    page it opened, and nothing may have been asked for but files beside the page."""
    contexts, wrong, asked = [], [], []

    def opened(path: Path, *, width: int = 1280, height: int = 900, dark: bool = False, hash: str = "") -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": height}, color_scheme="dark" if dark else "light", offline=True
        )
        contexts.append(context)
        page = context.new_page()
        page.on("console", lambda told: wrong.append(told.text) if told.type in ("error", "warning") else None)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("dialog", lambda dialog: wrong.append(f"dialog {dialog.message}"))
        page.on("request", lambda request: asked.append(request.url))
        page.goto(path.as_uri() + hash)
        return page

    yield opened
    for context in contexts:
        context.close()
    assert wrong == []
    assert asked
    assert [url for url in asked if not url.startswith(("file://", "data:", "blob:"))] == []
