"""The built pages, opened in a real browser: nothing fails and nothing is fetched from elsewhere."""

import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

CHROMIUM = shutil.which("chromium")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no chromium on the path to open the pages with")
JOB = Path(__file__).parents[2] / "sample_jobs" / "one-base-cabinet.toml"


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("browser") / "out"
    command = [sys.executable, "-m", "rabbetry", "build", str(JOB), "--out", str(out), "--workers", "1"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return out


@pytest.fixture(scope="module")
def browser() -> Iterator[object]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        opened = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield opened
        opened.close()


def test_every_page_loads_alone_and_without_an_error(built: Path, browser) -> None:  # type: ignore[no-untyped-def]
    pages = sorted(built.rglob("*.html"))
    assert built / "index.html" in pages
    for path in pages:
        page = browser.new_page()
        wrong: list[str] = []
        asked: list[str] = []
        page.on("console", lambda m, wrong=wrong: wrong.append(m.text) if m.type == "error" else None)
        page.on("pageerror", lambda e, wrong=wrong: wrong.append(str(e)))
        page.on("request", lambda r, asked=asked: asked.append(r.url))
        page.goto(path.as_uri())
        page.close()
        assert wrong == [], path.name
        assert path.as_uri() in asked
        assert [url for url in asked if not url.startswith((built.as_uri() + "/", "data:", "blob:"))] == [], path.name


def test_a_planted_error_and_request_are_seen(tmp_path: Path, browser) -> None:  # type: ignore[no-untyped-def]
    bad = tmp_path / "bad.html"
    bad.write_text('<img src="http://127.0.0.1:9/x.png"><script>nowhere()</script>', encoding="utf-8")
    page = browser.new_page()
    wrong: list[str] = []
    asked: list[str] = []
    page.on("pageerror", lambda e: wrong.append(str(e)))
    page.on("request", lambda r: asked.append(r.url))
    page.goto(bad.as_uri())
    page.close()
    assert any("nowhere" in text for text in wrong)
    assert "http://127.0.0.1:9/x.png" in asked
