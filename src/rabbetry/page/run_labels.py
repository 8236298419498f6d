"""Sizes and levels beside the elevation of a run, placed so that none meets another. Millimetres, y up.

A size that fits its own stretch stands in the middle of it. The others hang on leaders, the leftmost deepest: each
stands right of its own leader and beyond whatever stands farther right, so that no leader runs through a text.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.geometry.points import Point
from rabbetry.page.boxes import Box
from rabbetry.page.svg import line, words
from rabbetry.page.text import fit, plain, width_em
from rabbetry.page.wording import shop_fraction, short_length

TEXT_MM = 60.0
"""Size of the text on the wall: 3 mm on paper at 1:20."""
PITCH_MM = 1.25 * TEXT_MM
"""From one line of text to the next."""
_GAP_MM = 0.4 * TEXT_MM
_TICK_MM = 0.35 * TEXT_MM
_DEEP_EM = 0.3
"""Room below a base line, ems."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Lines of text under each other; `at` is the left or middle of their upper edge."""

    lines: tuple[str, ...]
    at: Point
    anchor_at: str
    """'start' or 'middle'."""
    size_mm: float = TEXT_MM
    css: str = "size"

    @property
    def box(self) -> Box:
        """The room it takes, by estimate on the generous side."""
        wide = max((width_em(text) for text in self.lines), default=0.0) * self.size_mm
        left = self.at.x if self.anchor_at == "start" else self.at.x - wide / 2
        return Box(left, self.at.y - len(self.lines) * 1.25 * self.size_mm, left + wide, self.at.y)

    def svg(self) -> Iterator[str]:
        """Yield its lines."""
        for number, text in enumerate(self.lines, start=1):
            y = self.at.y - number * 1.25 * self.size_mm + _DEEP_EM * self.size_mm
            yield words(self.css, Point(self.at.x, y), self.size_mm, text, anchor_at=self.anchor_at)


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettered:
    """Lines and labels, and how far they reach."""

    marks: tuple[str, ...]
    labels: tuple[Label, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """What a size is given of; without length, a place."""

    low: float
    high: float
    name: str
    lines: tuple[str, ...]


def both(mm: float, units: str) -> tuple[str, str]:
    """Return a length in both units, the job's first: `600 mm`, `23 5/8 in`."""
    metric, inches = f"{short_length(mm, 'mm')} mm", f"{shop_fraction(mm)} in"
    return (metric, inches) if units == "mm" else (inches, metric)


def clipped(text: str, ems: float) -> str:
    """Return a text of the job on one line, at most so wide, with an ellipsis where it was longer."""
    fitted = fit(plain(text), width=ems, height=1.3, largest=1.0, smallest=1.0)
    return fitted.lines[0] if fitted.lines else ""


def chain(stretches: Sequence[Stretch], y: float, *, up: bool = False) -> Lettered:
    """Return a line of dimensions at height y, its sizes below it (`up`: above)."""
    marks, labels = [], []
    for item in stretches:
        if item.high > item.low:
            marks.append(line("dimension", Point(item.low, y), Point(item.high, y)))
        marks += [_slash(Point(x, y)) for x in dict.fromkeys((item.low, item.high))]
    hanging = []
    for item in stretches:
        label = _labelled(item.lines, Point((item.low + item.high) / 2, y), "middle", up=up)
        if label.box.x1 - label.box.x0 + _GAP_MM <= item.high - item.low:
            labels.append(label)
        else:
            hanging.append(item)
    taken = [label.box for label in labels]
    for item in reversed(hanging):
        label, leader = _hung(item, y, taken, up=up)
        labels.append(label)
        taken += [label.box, leader]
        middle = (leader.x0 + leader.x1) / 2
        marks.append(line("leader", Point(middle, leader.y0), Point(middle, leader.y1)))
    return Lettered(marks=tuple(marks), labels=tuple(labels))


def _hung(item: Stretch, y: float, taken: Sequence[Box], *, up: bool) -> tuple[Label, Box]:
    """Return a label and its leader, as near the line as what is taken lets them."""
    x = (item.low + item.high) / 2
    first = f"{clipped(item.name, 14.0)} {item.lines[0]}" if item.name else item.lines[0]
    level, step = y, -PITCH_MM if not up else PITCH_MM
    while True:
        label = _labelled((first, *item.lines[1:]), Point(x + _GAP_MM, level), "start", up=up)
        box = label.box
        own = Box(box.x0 - 1.2 * _GAP_MM, box.y0, box.x1 + _GAP_MM / 2, box.y1)
        if not any(own.meets(other) for other in taken):
            return label, Box(x - 1.0, min(y, box.y0), x + 1.0, max(y, box.y1) if up else y)
        level += step


def _labelled(lines: tuple[str, ...], at: Point, anchor_at: str, *, up: bool) -> Label:
    """Return a label just beyond a dimension line."""
    top = at.y + _GAP_MM + len(lines) * PITCH_MM if up else at.y - _GAP_MM
    return Label(lines=lines, at=Point(at.x, top), anchor_at=anchor_at)


def levels(named: Sequence[tuple[float, str]], x: float, units: str) -> Lettered:
    """Return marks of heights right of x, the lowest first, each with its name and both sizes; pushed up where two
    would meet."""
    marks, labels = [], []
    free = float("-inf")
    for z, name in sorted(named):
        middle = max(z, free)
        free = middle + PITCH_MM
        first, second = both(z, units)
        text = f"{clipped(name, 24.0)} {first} ({second})"
        near, far = x + 2 * TEXT_MM, x + 3 * TEXT_MM
        marks += [
            line("level", Point(x, z), Point(near, z)),
            line("leader", Point(near, z), Point(far, middle)),
        ]
        labels.append(Label(lines=(text,), at=Point(far + _GAP_MM / 2, middle + PITCH_MM / 2), anchor_at="start"))
    return Lettered(marks=tuple(marks), labels=tuple(labels))


def _slash(at: Point) -> str:
    return line("dimension", Point(at.x - _TICK_MM, at.y - _TICK_MM), Point(at.x + _TICK_MM, at.y + _TICK_MM))
