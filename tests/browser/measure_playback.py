"""Frames a second of the playback of a 20,000-line program, by hand: `python tests/browser/measure_playback.py`."""

import shutil
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

sys.path.insert(0, str(Path(__file__).parents[1]))
from browser.long_program import long_playback

LINES = 20_000


def frames_a_second(page: Page, speed: str, seconds: float) -> float:
    page.select_option("#speed", speed)
    page.fill("#time", "3000")
    page.click("#play")
    before = page.evaluate("[document.getElementById('view').shown().frames, performance.now()]")
    page.wait_for_timeout(1000 * seconds)
    after = page.evaluate("[document.getElementById('view').shown().frames, performance.now()]")
    page.evaluate("document.getElementById('play').textContent === 'Pause' && document.getElementById('play').click()")
    return float(1000 * (after[0] - before[0]) / (after[1] - before[1]))


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


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        path = Path(folder) / "long.html"
        path.write_text(long_playback(LINES), encoding="utf-8")
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        for width in (1280, 375):
            page = browser.new_page(viewport={"width": width, "height": 900})
            page.goto(path.as_uri())
            for speed in ("1", "30", "400"):
                print(f"{width} px, {speed} x: {frames_a_second(page, speed, 3):.0f} frames a second")
            mean, worst = scrub_ms(page)
            print(f"{width} px, jumps: {mean:.1f} ms on average, {worst:.1f} ms at worst")
        browser.close()


if __name__ == "__main__":
    main()
