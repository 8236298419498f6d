"""The depths written into the recesses of a sheet's picture, or beside those that are too narrow for letters."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.geometry.points import Point
from rabbetry.page.boxes import Box, box_about
from rabbetry.page.svg import words
from rabbetry.page.text import width_em
from rabbetry.page.wording import fine_length
from rabbetry.panels.model import Recess
from rabbetry.sheets.model import Placement

_LARGEST, _BESIDE, _LEAST = 13.0, 9.0, 7.0
_SLIDES = (0.0, -0.2, 0.2, -0.4, 0.4, -0.6, 0.6, -0.8, 0.8)


@dataclass(frozen=True, slots=True)
class Note:
    """The SVG of a note and the rectangle it takes up."""

    text: str
    box: Box


def depth_note(
    recess: Recess, box: Box, placement: Placement, *, others: Sequence[Box], units: str, unit: float
) -> Note | None:
    """Return a recess's depth in words, along its longer side, off the `others` if it can be; None where letters would
    be too small to read (the legend tells the depth too)."""
    text = fine_length(recess.depth_mm, units) + " deep"
    upright = box.y1 - box.y0 > box.x1 - box.x0
    across, along = sorted((box.x1 - box.x0, box.y1 - box.y0))
    longest = (along - 4 * unit) / width_em(text)
    size = min(_LARGEST * unit, 0.7 * across, longest)
    inside = size >= _LEAST * unit
    if not inside:
        size = min(_BESIDE * unit, longest)
    if size < _LEAST * unit:
        return None
    length = width_em(text) * size
    half = (0.6 * size, length / 2) if upright else (length / 2, 0.6 * size)
    drop = -(across / 2 - 0.8 * size) if recess.islands else 0.0
    if not inside:
        drop = (across / 2 + 0.75 * size) * _towards_the_middle(box, placement, upright=upright)
    places = list(_places(box.middle, drop, (along - length) / 2, upright=upright))
    free = (at for at in places if not any(box_about(at, *half).meets(other) for other in others))
    middle = next(free, places[0])
    base = Point(middle.x + 0.35 * size, middle.y) if upright else Point(middle.x, middle.y - 0.35 * size)
    css = "depth" if inside else "depth halo"
    return Note(words(css, base, size, text, upright=upright), box_about(middle, *half))


def _towards_the_middle(box: Box, placement: Placement, *, upright: bool) -> int:
    wide, high = placement.extent_mm
    if upright:
        return 1 if placement.x_mm + wide / 2 >= box.middle.x else -1
    return 1 if placement.y_mm + high / 2 >= box.middle.y else -1


def _places(middle: Point, drop: float, slack: float, *, upright: bool) -> Iterator[Point]:
    """Yield middles for a note, the recess's own middle first, then to both sides along it."""
    for share in _SLIDES:
        yield (
            Point(middle.x + drop, middle.y + share * slack)
            if upright
            else Point(middle.x + share * slack, middle.y + drop)
        )
