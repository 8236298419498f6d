"""How far each cutter goes through wood, from the strokes of a program. Millimetres."""

import math
from collections import defaultdict
from collections.abc import Iterable

from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.tolerances import SAME_POINT_MM


def lengths_in_wood(strokes: Iterable[Stroke], top_z_mm: float) -> tuple[tuple[int, float], ...]:
    """Return number and length of each cutter, rising: what its feeds go below the stock's top, arcs and helices exact.

    Straight lifts do not count. What an earlier pass already took away counts all the same: an edge that rubs wears
    too.
    """
    gone: defaultdict[int, list[float]] = defaultdict(list)
    for stroke in strokes:
        lifts = stroke.is_vertical and stroke.to[2] > stroke.start[2]
        if stroke.is_traverse or stroke.cutter is None or lifts or not stroke.from_known:
            continue
        part = stroke.below(top_z_mm - SAME_POINT_MM)
        if part is not None:
            gone[stroke.cutter.number].append((part[1] - part[0]) * _length_mm(stroke))
    return tuple((number, math.fsum(each)) for number, each in sorted(gone.items()))


def _length_mm(stroke: Stroke) -> float:
    rise = stroke.to[2] - stroke.start[2]
    if stroke.centre is None:
        return math.hypot(stroke.to[0] - stroke.start[0], stroke.to[1] - stroke.start[1], rise)
    return math.hypot(stroke.radius_mm * stroke.sweep_rad, rise)
