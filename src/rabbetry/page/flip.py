"""A flipped blank in pictures and words: the line it is turned about, its index holes, and what the hands do."""

from collections.abc import Iterator

from rabbetry.geometry.points import Point
from rabbetry.page.svg import line, number, words
from rabbetry.page.wording import fine_length, short_length
from rabbetry.sheets.model import Flip, Sheet

_ABOVE = 7.0
"""The line's name stands this many text units above the blank."""


def draw_flip(sheet: Sheet, units: str, unit: float) -> Iterator[str]:
    """Yield the line a blank is turned about, named, and its index holes; nothing for one cut from one face."""
    flip = sheet.flip
    if flip is None:
        return
    top = sheet.blank_y_mm
    yield line("flip-line", Point(flip.at_mm, 0), Point(flip.at_mm, top))
    at = Point(flip.at_mm, top + _ABOVE * unit)
    verb = "flip" if sheet.side != 2 else "flipped"
    yield words("name", at, 15 * unit, f"{verb} left to right about x {short_length(flip.at_mm, units)} {units}")
    for hole in flip.index_holes:
        x, y, r = number(hole.x), number(-hole.y), number(max(flip.hole_diameter_mm / 2, 4 * unit))
        yield f'<circle class="index" cx="{x}" cy="{y}" r="{r}"><title>{_what(sheet)}</title></circle>'
        arm = flip.hole_diameter_mm / 2 + 7 * unit
        yield line("cross", Point(hole.x - arm, hole.y), Point(hole.x + arm, hole.y))
        yield line("cross", Point(hole.x, hole.y - arm), Point(hole.x, hole.y + arm))


def legend_rows(sheet: Sheet, units: str) -> list[tuple[str, str]]:
    """Return the legend's rows for the marks of `draw_flip`."""
    if sheet.flip is None:
        return []
    size = f"{fine_length(sheet.flip.hole_diameter_mm, units)}"
    what = f"{_what(sheet)}, {size}: {len(sheet.flip.index_holes)}"
    return [("index", what), ("flip-line", "line the blank is flipped about")]


def _what(sheet: Sheet) -> str:
    return "pin in an index hole" if sheet.side == 2 else "index hole"


def turn_over(flip: Flip, thickness_mm: float, units: str) -> str:
    """Return what to do between the two set-ups of a blank."""
    pin = fine_length(flip.hole_diameter_mm, units)
    deep = short_length(flip.hole_depth_mm - thickness_mm, units)
    above = short_length(flip.hole_depth_mm, units)
    return (
        f"Lift the blank off, clear the chips from the holes, and set a {pin} pin into each of the "
        f"{len(flip.index_holes)} holes in the spoilboard, {deep} {units} deep; a pin is shorter than {above} {units}, "
        "so that it ends below the blank's top. Flip the blank left to right, like turning a page: its left edge comes "
        f"to the right, about the line x = {short_length(flip.at_mm, units)} {units}, and the edge towards you stays "
        "there. It must drop onto the pins by itself; if it does not, it is turned the wrong way. Clamp it as before."
    )


def keep_zero() -> str:
    """Return what becomes of the zeros in the second set-up."""
    return (
        "Leave x and y zero where side 1 had them, whatever the blank's edges do now: the pins are what counts. If "
        "they were lost, find them again from the pins, which stand where the picture shows them."
    )
