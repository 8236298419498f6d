"""Contrast of the page's colours, light and dark: WCAG 2.2, success criterion 1.4.3, 4.5 to 1 for text of any size."""

import re
from itertools import pairwise

import pytest

from rabbetry.page.render import load_text

GROUNDS = ("ground", "card", "stop-ground", "go-ground", "warn-ground", "note-ground")
PAIRS = [
    *((ink, ground) for ink in ("ink", "soft", "link") for ground in GROUNDS),
    *((name, f"{name}-ground") for name in ("stop", "go", "warn", "note")),
]


def luminance(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition of that term)."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(a: str, b: str) -> float:
    dark, light = sorted((luminance(a), luminance(b)))
    return (light + 0.05) / (dark + 0.05)


def full(colour: str) -> str:
    return colour if len(colour) == 7 else "#" + "".join(letter * 2 for letter in colour[1:])


def themes() -> list[dict[str, str]]:
    blocks = re.findall(r":root\{(.*?)\}", load_text("page.css"), re.DOTALL)[:2]
    return [{name: full(value) for name, value in re.findall(r"--([a-z-]+):(#[0-9a-f]+)", block)} for block in blocks]


def rule(text: str, selector: str, name: str) -> str:
    """Return the colour a rule of the sheet's style gives a property, and the dark one when `text` is the dark part."""
    found = re.findall(rf"(?m)^(?:[^{{}}]*,)?{re.escape(selector)}(?:,[^{{}}]*)?\{{[^}}]*?\b{name}:(#[0-9a-f]+)", text)
    return full(found[0])


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize(("ink", "ground"), PAIRS)
def test_text_on_the_page_has_contrast(theme: int, ink: str, ground: str) -> None:
    colours = themes()[theme]
    assert contrast(colours[ink], colours[ground]) >= 4.5


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
@pytest.mark.parametrize("ground", [".part", ".shallow", ".middling", ".deep", ".blank", ".through"])
def test_text_on_the_picture_has_contrast(theme: int, ground: str) -> None:
    css = load_text("sheet.css").split("@media")[theme]
    assert contrast(rule(css, ".sheet text", "fill"), rule(css, f".sheet {ground}", "fill")) >= 4.5


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
def test_depths_differ_in_grey_too(theme: int) -> None:
    css = load_text("sheet.css").split("@media")[theme]
    shades = [luminance(rule(css, f".sheet .{name}", "fill")) for name in ("part", "shallow", "middling", "deep")]
    steps = [(max(a, b) + 0.05) / (min(a, b) + 0.05) for a, b in pairwise(shades)]
    assert min(steps) >= 1.2
    assert shades in (sorted(shades), sorted(shades, reverse=True))


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
def test_depths_of_the_playback_differ_in_grey_too(theme: int) -> None:
    blocks = re.findall(r":root\{(.*?)\}", load_text("playback.css"), re.DOTALL)
    colours = {name: full(value) for name, value in re.findall(r"--([a-z-]+):(#[0-9a-f]+)", blocks[theme])}
    steps = [contrast(colours[a], colours[b]) for a, b in pairwise(("part", "shallow", "deep", "through"))]
    assert min(steps) >= 1.5
    shades = [luminance(colours[name]) for name in ("part", "shallow", "deep", "through")]
    assert shades in (sorted(shades), sorted(shades, reverse=True))
    assert contrast(colours["cutter"], colours["part"]) >= 3, "WCAG 2.2, 1.4.11, what is not text"


@pytest.mark.parametrize("theme", [0, 1], ids=["light", "dark"])
def test_names_on_the_box_have_contrast_on_every_face(theme: int) -> None:
    colours = themes()[theme]
    for face in ("wood-up", "wood-front", "wood-side", "warn-ground"):
        assert contrast(colours["ink"], colours[face]) >= 4.5
