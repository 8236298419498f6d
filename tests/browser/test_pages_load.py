"""The built pages, opened in a real browser: nothing fails and nothing is fetched from elsewhere."""

from pathlib import Path

from playwright.sync_api import Browser


def test_every_page_loads_alone_and_without_an_error(sample: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    pages = sorted(sample.rglob("*.html"))
    assert sample / "index.html" in pages
    assert any(path.name.endswith("-playback.html") for path in pages)
    for path in pages:
        page = open_page(path)
        assert page.title()
        loaded = page.evaluate("performance.getEntriesByType('resource').map(entry => entry.name)")
        assert loaded == [], path.name


def test_a_planted_error_and_request_are_seen(tmp_path: Path, browser: Browser) -> None:
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
