"""Pages in headless Chromium, by hand: `python tests/bench/pages.py [OUT]`.

Frames a second of the playback of a 20,000-line program, and how soon the page of a built folder OUT can be used.
"""

import os
import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1]))
from browser.long_program import long_playback

LINES = 20_000
WIDTHS = (1280, 375)


def processor_s() -> float:
    """Return the processor seconds that this process's children, the browser's processes, have used so far."""
    ticks = 0
    family = {os.getpid()}
    rows = {}
    for entry in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = entry.read_text(encoding="ascii", errors="replace").rpartition(")")[2].split()
        except OSError:
            continue
        rows[int(entry.parent.name)] = (int(fields[1]), int(fields[11]) + int(fields[12]))
    grown = True
    while grown:
        children = {pid for pid, (parent, _) in rows.items() if parent in family} - family
        family |= children
        grown = bool(children)
    ticks = sum(used for pid, (_, used) in rows.items() if pid in family)
    return ticks / os.sysconf("SC_CLK_TCK")


def frames_a_second(page: Page, speed: str, seconds: float) -> tuple[float, float]:
    """Return frames a second, and the processor milliseconds a frame of the whole browser."""
    page.select_option("#speed", speed)
    page.fill("#time", "3000")
    page.click("#play")
    before, used = page.evaluate("[document.getElementById('view').shown().frames, performance.now()]"), processor_s()
    page.wait_for_timeout(1000 * seconds)
    after, used = (
        page.evaluate("[document.getElementById('view').shown().frames, performance.now()]"),
        processor_s() - used,
    )
    page.evaluate("document.getElementById('play').textContent === 'Pause' && document.getElementById('play').click()")
    frames = max(1, after[0] - before[0])
    return float(1000 * frames / (after[1] - before[1])), 1000 * used / frames


def scrub_ms(page: Page) -> tuple[float, float]:
    """Return the mean and the worst milliseconds of a jump to and fro over the whole program."""
    times = page.evaluate(
        """() => { const slider = document.getElementById('time'), taken = [];
        for (let k = 0; k < 60; k += 1) {
          slider.value = (k * 3701) % 10000; const from = performance.now();
          slider.dispatchEvent(new Event('input')); taken.push(performance.now() - from); }
        return taken; }"""
    )
    return sum(times) / len(times), max(times)


def playback(browser: Browser) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "long.html"
        path.write_text(long_playback(LINES), encoding="utf-8")
        for width in WIDTHS:
            page = browser.new_page(viewport={"width": width, "height": 900})
            page.goto(path.as_uri())
            for speed in ("1", "30", "400"):
                rate, each = frames_a_second(page, speed, 3)
                print(f"{width} px, {speed} x: {rate:.0f} frames a second, {each:.1f} processor ms a frame")
            mean, worst = scrub_ms(page)
            print(f"{width} px, jumps: {mean:.1f} ms on average, {worst:.1f} ms at worst")


def opening(browser: Browser, index: Path) -> None:
    """Print the page's size, when it first shows something, and when its script has run and it answers."""
    print(f"{index}: {index.stat().st_size / 1e6:.2f} MB")
    for width in WIDTHS:
        page = browser.new_page(viewport={"width": width, "height": 900})
        page.goto(index.as_uri(), timeout=120_000)
        first, usable = page.evaluate(
            """() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done([
              performance.getEntriesByName('first-contentful-paint')[0].startTime, performance.now()]))))"""
        )
        print(f"{width} px: first seen after {first:.0f} ms, usable after {usable:.0f} ms")


def main() -> None:
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        playback(browser)
        for folder in sys.argv[1:]:
            opening(browser, Path(folder) / "index.html")
        browser.close()


if __name__ == "__main__":
    main()
