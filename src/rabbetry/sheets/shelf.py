"""Pieces of the shelf in place of blanks: used where they save one. Whole numbers; knows rectangles, not panels."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from rabbetry.sheets.pack import RULES, Bin, Item, Rect, put

Search = Callable[[list[Item]], list[Bin]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A piece to fill: its maximal free rectangles, and which items may lie on it (their indexes)."""

    free: tuple[Rect, ...]
    takes: frozenset[int]

    @property
    def area(self) -> int:
        return max(((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in self.free), default=0)


def onto_places(
    items: Sequence[Item], bins: list[Bin], places: Sequence[Place], again: Search
) -> tuple[list[Bin], dict[int, Bin]]:
    """Return bins and filled places (index to bin) with as few bins as found; places are filled only where a bin is
    saved by it.

    Two ways are tried: to empty the bins one after another, the lightest first; and to fill the places with what is
    largest and to pack the rest `again`. The first wins when both save the same.
    """
    emptied = _emptied(bins, places)
    refilled = _refilled(items, bins, places, again)
    return refilled if len(refilled[0]) < len(emptied[0]) else emptied


def _emptied(bins: list[Bin], places: Sequence[Place]) -> tuple[list[Bin], dict[int, Bin]]:
    left, used = list(bins), dict[int, Bin]()
    while left:
        lightest = min(range(len(left)), key=lambda index: (left[index].area, index))
        tried = _with_all([spot.item for spot in left[lightest].spots], places, used)
        if tried is None:
            break
        used = tried
        del left[lightest]
    return left, used


def _with_all(items: Sequence[Item], places: Sequence[Place], used: dict[int, Bin]) -> dict[int, Bin] | None:
    """Return the places with all the items put on besides, or None when one finds no room."""
    for rule in RULES:
        boxes = {index: _copy(box) for index, box in used.items()}
        if all(_put(item, places, boxes, rule) for item in sorted(items, key=lambda item: (-item.area, item.index))):
            return boxes
    return None


def _put(item: Item, places: Sequence[Place], boxes: dict[int, Bin], rule: Callable[..., tuple[int, int]]) -> bool:
    # Pieces in use first, then the smallest that takes it: a large piece stays whole.
    order = sorted(range(len(places)), key=lambda index: (index not in boxes, places[index].area, index))
    for index in order:
        if item.index not in places[index].takes:
            continue
        box = boxes.get(index) or Bin(list(places[index].free))
        if put(box, item, rule):
            boxes[index] = box
            return True
    return False


def _refilled(
    items: Sequence[Item], bins: list[Bin], places: Sequence[Place], again: Search
) -> tuple[list[Bin], dict[int, Bin]]:
    used: dict[int, Bin] = {}
    left = sorted(items, key=lambda item: (-item.area, item.index))
    for index in sorted(range(len(places)), key=lambda index: (-places[index].area, index)):
        own = [item for item in left if item.index in places[index].takes]
        tries = [_filled(own, places[index], rule) for rule in RULES]
        best = max(tries, key=lambda box: box.area)
        if best.spots:
            used[index] = best
            taken = {spot.item.index for spot in best.spots}
            left = [item for item in left if item.index not in taken]
    rest = again(sorted(left, key=lambda item: item.index)) if left else []
    return (rest, used) if len(rest) < len(bins) else (bins, {})


def _filled(items: Sequence[Item], place: Place, rule: Callable[..., tuple[int, int]]) -> Bin:
    box = Bin(list(place.free))
    for item in items:
        put(box, item, rule)
    return box


def _copy(box: Bin) -> Bin:
    return Bin(list(box.free), list(box.spots), box.area)
