"""What is left of a blank and worth keeping."""

from collections.abc import Sequence

from rabbetry.sheets.pack import Rect, without

_MOST_OFFCUTS = 6


def worth_keeping(free: Sequence[Rect], *, gap: int, long_side: int, short_side: int) -> tuple[Rect, ...]:
    """Return free rectangles that do not overlap, the largest first, each at least `long_side` by `short_side`.

    `free` are the maximal free rectangles of a bin whose items carry `gap` on their right and upper sides; those
    returned keep that gap to the items beyond them.
    """
    rest = list(free)
    kept: list[Rect] = []
    while len(kept) < _MOST_OFFCUTS:
        useful = [rect for rect in rest if _is_useful(rect, gap, long_side, short_side)]
        if not useful:
            break
        largest = max(useful, key=lambda rect: ((rect[2] - rect[0] - gap) * (rect[3] - rect[1] - gap), rect))
        rest = without(rest, largest)
        kept.append((largest[0], largest[1], largest[2] - gap, largest[3] - gap))
    return tuple(kept)


def _is_useful(rect: Rect, gap: int, long_side: int, short_side: int) -> bool:
    sides = sorted((rect[2] - rect[0] - gap, rect[3] - rect[1] - gap))
    return sides[0] >= short_side and sides[1] >= long_side
