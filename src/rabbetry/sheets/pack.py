"""Rectangles into equal bins by maximal free rectangles. Whole numbers, no unit; knows nothing of panels.

A free rectangle is maximal: it cannot grow in any direction. Placing a rectangle splits every free one it touches into
the up to four maximal ones that are left.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

Rect = tuple[int, int, int, int]
"""x0, y0, x1, y1 with x0 < x1 and y0 < y1."""
Score = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Item:
    """A shape to place: its index, its sizes in each allowed turn as (turn, width, height), and the part of the bin it
    must stay in, if not the whole. `made_of` lists, for each turn, rectangles that cover the shape, measured from its
    lower left corner; empty: the whole rectangle. `core` is, for each turn, the width and height of a rectangle within
    the shape, for the bound; empty: the whole."""

    index: int
    turns: tuple[tuple[int, int, int], ...]
    within: Rect | None = None
    made_of: tuple[tuple[Rect, ...], ...] = ()
    core: tuple[tuple[int, int], ...] = ()

    @property
    def area(self) -> int:
        """What the item takes of a bin; the gaps that its rectangles carry may be counted twice."""
        _, width, height = self.turns[0]
        return min(width * height, sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in self.shapes[0]))

    @property
    def shapes(self) -> tuple[tuple[Rect, ...], ...]:
        """For each turn, the rectangles that the item takes up, measured from its lower left corner."""
        return self.made_of or tuple(((0, 0, width, height),) for _, width, height in self.turns)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where an item lies: its lower left corner and its turn (0 or 90)."""

    item: Item
    x: int
    y: int
    turn: int


@dataclass(slots=True)
class Bin:
    """One bin while it is being filled."""

    free: list[Rect]
    spots: list[Spot] = field(default_factory=list)
    area: int = 0


Rule = Callable[[Rect, int, int], Score]


def short_side(rect: Rect, width: int, height: int) -> Score:
    """Prefer the free rectangle that leaves the narrowest strip."""
    a, b = rect[2] - rect[0] - width, rect[3] - rect[1] - height
    return (a, b) if a < b else (b, a)


def least_area(rect: Rect, width: int, height: int) -> Score:
    """Prefer the smallest free rectangle."""
    a, b = rect[2] - rect[0], rect[3] - rect[1]
    return a * b, min(a - width, b - height)


def lowest(rect: Rect, width: int, height: int) -> Score:
    """Prefer the place nearest the lower edge, then the left one."""
    return rect[1] + height, rect[0]


def leftmost(rect: Rect, width: int, height: int) -> Score:
    """Prefer the place nearest the left edge, then the lower one."""
    return rect[0] + width, rect[1]


RULES: tuple[Rule, ...] = (short_side, least_area, lowest, leftmost)


def pack(items: Sequence[Item], *, free: Sequence[Rect], rule: Rule, most: int | None = None) -> list[Bin] | None:
    """Place the items in the given order, each in the first bin that has room, at the best place by `rule`.

    `free` are the maximal free rectangles of an empty bin. Returns None when more than `most` bins would be needed.
    Raises ValueError for an item that does not fit an empty bin.
    """
    bins: list[Bin] = []
    room = max((rect[2] for rect in free), default=0) * max((rect[3] for rect in free), default=0)
    for item in items:
        most_used = room - item.area
        for box in bins:
            if box.area <= most_used and put(box, item, rule):
                break
        else:
            if most is not None and len(bins) >= most:
                return None
            box = Bin(list(free))
            if not put(box, item, rule):
                raise ValueError(f"item {item.index} does not fit an empty bin")
            bins.append(box)
    return bins


def put(box: Bin, item: Item, rule: Rule) -> bool:
    """Place the item in the bin at the best place by `rule`; return False when there is no room."""
    best: tuple[Score, int, int, int, int, int] | None = None
    free = box.free if item.within is None else clipped(box.free, item.within)
    for turn, width, height in item.turns:
        for rect in free:
            if rect[2] - rect[0] >= width and rect[3] - rect[1] >= height:
                found = (rule(rect, width, height), rect[1], rect[0], turn, width, height)
                if best is None or found < best:
                    best = found
    if best is None:
        return False
    _, y, x, turn, width, height = best
    for x0, y0, x1, y1 in item.shapes[item.turns.index((turn, width, height))]:
        box.free = without(box.free, (x + x0, y + y0, x + x1, y + y1))
    box.spots.append(Spot(item, x, y, turn))
    box.area += item.area
    return True


def clipped(free: Sequence[Rect], within: Rect) -> list[Rect]:
    """Return what of the free rectangles lies within another."""
    x0, y0, x1, y1 = within
    parts = ((max(a, x0), max(b, y0), min(c, x1), min(d, y1)) for a, b, c, d in free)
    return [part for part in parts if part[0] < part[2] and part[1] < part[3]]


def without(free: Sequence[Rect], taken: Rect) -> list[Rect]:
    """Return the maximal free rectangles left when `taken` is used up."""
    kept: list[Rect] = []
    cut: list[Rect] = []
    x0, y0, x1, y1 = taken
    for rect in free:
        a, b, c, d = rect
        if a >= x1 or c <= x0 or b >= y1 or d <= y0:
            kept.append(rect)
            continue
        if a < x0:
            cut.append((a, b, x0, d))
        if x1 < c:
            cut.append((x1, b, c, d))
        if b < y0:
            cut.append((a, b, c, y0))
        if y1 < d:
            cut.append((a, y1, c, d))
    for k, (a, b, c, d) in enumerate(cut):
        if any(p <= a and q <= b and r >= c and s >= d for p, q, r, s in kept):
            continue
        # Of two equal pieces only the first stays.
        if any(
            p <= a and q <= b and r >= c and s >= d and (other < k or (p, q, r, s) != (a, b, c, d))
            for other, (p, q, r, s) in enumerate(cut)
            if other != k
        ):
            continue
        kept.append((a, b, c, d))
    return kept
