"""Where the finishing lap of a profile leaves the rough ring for the edge and goes back to it. Millimetres.

Both leads lie between the two rings, in the kerf that roughing has cut already, so they touch nothing else: no other
part, no clamp, no tab.
"""

from dataclasses import dataclass

from rabbetry.motions.holding import Way
from rabbetry.motions.track import Track
from rabbetry.tolerances import MOVE_MM

_SLOPE = 10.0
"""A lead is this many times as long as the allowance it crosses: it meets the edge at under six degrees (common
practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lead:
    """Positions on both rings, millimetres of travel: the rough ring is left at `leave`, the edge's ring is followed
    for one lap from `meet`, and the rough ring is met again at `back`. They may exceed a lap."""

    leave: float
    meet: float
    back: float


def lead_for(way: Way, rough: Track, position: float) -> Lead:
    """Return the first lead at or after `position` of the rough ring: slanted along a straight clear of tabs, else,
    on a ring without such a straight, square across the allowance where the cutter is."""
    track = way.track
    here = track.nearest(rough.at(position))
    length = _SLOPE * way.work.finish_mm
    start = min(_places(way, here, 2 * length), default=None)
    if start is None:
        return Lead(leave=position, meet=here, back=position)
    leave, back = (rough.nearest(track.at(place)) for place in (start, start + 2 * length))
    return Lead(leave=_after(rough, leave, position), meet=start + length, back=_after(rough, back, position))


def _after(track: Track, place: float, position: float) -> float:
    """Return the place as the first at or after a position of the same track."""
    ahead = (place - position) % track.length_mm
    return position + (0.0 if track.length_mm - ahead <= MOVE_MM else ahead)


def _places(way: Way, here: float, length: float) -> list[float]:
    """Return starts, at or after `here`, of stretches so long that lie on one straight clear of tabs; the first on each
    straight."""
    lap = way.track.length_mm
    raised = [(low + k * lap, high + k * lap) for low, high in way.stretches for k in (-1, 0, 1, 2)]
    found = []
    for low, high in way.track.straights():
        for k in (0, 1):
            start = max(low + k * lap, here)
            while start + length <= high + k * lap:
                over = [to for at, to in raised if at < start + length and to > start]
                if not over:
                    found.append(start)
                    break
                start = max(over)
    return found
