"""Contrast of every text as the browser computes it, light and dark: WCAG 2.2, criterion 1.4.3, 4.5 to 1 for all sizes.

Texts inside pictures stand on drawn shapes, which `tests/page/test_page_colours.py` compares; here they are left out.
"""

from pathlib import Path

import pytest

_FAINT = """() => {
  const parse = text => { const n = text.match(/[\\d.]+/g).map(Number); return n.length < 4 ? [...n, 1] : n; };
  const part = v => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
  const light = c => 0.2126 * part(c[0]) + 0.7152 * part(c[1]) + 0.0722 * part(c[2]);
  const over = (a, b) => [0, 1, 2].map(k => a[k] * a[3] + b[k] * (1 - a[3])).concat(1);
  const ground = element => {
    const layers = [];
    for (let at = element; at; at = at.parentElement) { layers.push(parse(getComputedStyle(at).backgroundColor)); }
    let colour = parse(getComputedStyle(document.body).backgroundColor);
    for (const layer of layers.reverse()) { colour = over(layer, colour); }
    return colour;
  };
  const found = [];
  let texts = 0;
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const element = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !element.checkVisibility()) { continue; }
    if (element.closest('svg, script, style, noscript, option')) { continue; }
    texts += 1;
    const behind = ground(element), ink = over(parse(getComputedStyle(element).color), behind);
    const pair = [light(ink), light(behind)].sort((a, b) => a - b), ratio = (pair[1] + 0.05) / (pair[0] + 0.05);
    if (ratio < 4.5) { found.push(walk.currentNode.data.trim().slice(0, 40) + ' ' + ratio.toFixed(2)); }
  }
  return [texts, found];
}"""


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("file", ["index.html", "labels.html", "setup-sheets.html", "sheets/carcass-01-playback.html"])
def test_every_text_stands_out(sample: Path, file: str, dark: bool, open_page) -> None:  # type: ignore[no-untyped-def]
    page = open_page(sample / file, dark=dark)
    page.evaluate("document.querySelectorAll('details').forEach(block => { block.open = true; })")
    if file == "index.html":
        # States that come by use: a step not yet taken, a panel pointed at, a panel done.
        page.locator(".to-step").first.fill("3")
        page.locator(".tick").first.check()
    texts, faint = page.evaluate(_FAINT)
    assert texts > 20
    assert faint == []


def test_a_faint_text_is_found(tmp_path: Path, open_page) -> None:  # type: ignore[no-untyped-def]
    """#777777 on white is 4.48 to 1, #767676 is 4.54 (the best-known pair of neighbours)."""
    path = tmp_path / "faint.html"
    path.write_text(
        '<!DOCTYPE html><body style="background:#fff"><p style="color:#777777">faint</p>'
        '<p style="color:#767676">clear</p>',
        encoding="utf-8",
    )
    assert open_page(path).evaluate(_FAINT) == [2, ["faint 4.48"]]
