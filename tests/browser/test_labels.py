"""Labels in the browser: no text leaves its label, however long the names; the QR code reads back as the panel's id."""

import re
import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from browser.conftest import built_from, written

zxingcpp = pytest.importorskip("zxingcpp", reason="the QR reader of the dev extra is not installed")

NAMES = (
    "North wall over the long bench, number 12",
    "W" * 40,
    "Küchenhängeschrank über der Spüle, Süden",
    "iiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiiii",
)
"""Of forty letters and one more: with spaces, the widest, with umlauts, the narrowest."""
FORMS = {"mm": ("labels.html", "labels-14.html", "labels-single.html"), "in": ("labels-10.html", "labels-single.html")}


def job(units: str) -> str:
    cabinets = "".join(
        f'[[cabinet]]\nname = "{name}"\nkind = "base"\nwidth = "400 mm"\nheight = "700 mm"\ndepth = "400 mm"\n'
        "adjustable_shelves = 1\n"
        for name in NAMES
    )
    post = "metric-plain" if units == "mm" else "inch-plain"
    return (
        f'name = "Net loft"\nunits = "{units}"\nmachine = "bench-4x4"\npost = "{post}"\ncutters = [1, 4, 5, 6, 7, 8]\n'
        f'[stock.ply]\nsheet = "birch-18"\nthickness = "17.8 mm"\nblank = ["1220 mm", "1220 mm"]\n{cabinets}'
    )


@pytest.fixture(scope="module", params=["mm", "in"])
def long_names(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    return request.param, written(built_from(job(request.param)), tmp_path_factory.mktemp(f"labels-{request.param}"))


@pytest.mark.parametrize("width", [375, 1280])
def test_no_text_leaves_its_label(long_names: tuple[str, Path], width: int, open_page) -> None:  # type: ignore[no-untyped-def]
    units, folder = long_names
    for name in FORMS[units]:
        page = open_page(folder / name, width=width)
        over = page.evaluate(
            """() => [...document.querySelectorAll('.label')].flatMap(label => {
                const text = label.querySelector('.text').getBoundingClientRect();
                return [...label.querySelectorAll('.text span')].map(line => {
                    const box = line.getBoundingClientRect();
                    const low = label.getBoundingClientRect().bottom;
                    return [Math.max(box.right - text.right, box.bottom - low), line.textContent];
                });
            })"""
        )
        assert len(over) > 100
        assert max(over)[0] <= 0.6, (name, max(over))
        shown = re.sub(r"\s+", "", page.locator("body").inner_text())
        for cabinet in NAMES:
            assert re.sub(r"\s+", "", f"{cabinet} left side") in shown
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_every_code_reads_back_as_the_name_of_its_panel(long_names: tuple[str, Path], open_page) -> None:  # type: ignore[no-untyped-def]
    units, folder = long_names
    page = open_page(folder / FORMS[units][0], dark=True)
    labels = page.locator(".label")
    assert labels.count() > 20
    for k in range(0, labels.count(), 3):
        (code,) = zxingcpp.read_barcodes(pixels(labels.nth(k).screenshot()))
        named = " ".join(labels.nth(k).locator(".name span").all_inner_texts())
        assert re.sub(r"\s+", "", code.text) == re.sub(r"\s+", "", named)
        assert any(code.text.startswith(f"{cabinet} ") for cabinet in NAMES)


def test_one_label_a_page_and_a_full_sheet_print_as_many_pages(long_names: tuple[str, Path], open_page) -> None:  # type: ignore[no-untyped-def]
    units, folder = long_names
    for name in FORMS[units]:
        page = open_page(folder / name)
        count = page.locator(".label").count()
        each = {"labels.html": 12, "labels-14.html": 14, "labels-10.html": 10, "labels-single.html": 1}[name]
        data = page.pdf(prefer_css_page_size=True)
        assert len(re.findall(rb"/Type\s*/Page\b(?!s)", data)) == -(-count // each)


def pixels(png: bytes) -> NDArray[np.uint8]:
    """Return the grey values of an eight-bit PNG (W3C PNG specification, section 9: filters)."""
    wide, high, depth, colour = struct.unpack(">IIBB", png[16:26])
    assert depth == 8
    samples = {2: 3, 6: 4}[colour]
    data, at = b"", 8
    while at < len(png):
        (size,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"IDAT":
            data += png[at + 8 : at + 8 + size]
        at += size + 12
    raw = np.frombuffer(zlib.decompress(data), np.uint8).reshape(high, 1 + wide * samples)
    rows = np.zeros((high, wide * samples), np.uint8)
    for y in range(high):
        kind, line = raw[y, 0], raw[y, 1:].astype(int)
        up = rows[y - 1].astype(int) if y else np.zeros(wide * samples, int)
        if kind == 2:
            line = line + up
        elif kind in (1, 3, 4):
            for x in range(len(line)):
                left, corner = (line[x - samples], up[x - samples]) if x >= samples else (0, 0)
                line[x] = (line[x] + _guess(kind, left, int(up[x]), int(corner))) & 255
        rows[y] = line & 255
    return rows.reshape(high, wide, samples)[:, :, :3].mean(axis=2).astype(np.uint8)


def _guess(kind: int, left: int, up: int, corner: int) -> int:
    if kind == 1:
        return left
    if kind == 3:
        return (left + up) // 2
    about = left + up - corner
    return min((left, up, corner), key=lambda value: abs(about - value))
