"""How short and how long a program may take: the band about the estimate. Seconds.

The estimate (`timing.seconds_of`) slows down at sharp corners and leaves the operator out. Two bounds stand beside
it. The short one knows no acceleration: every motion runs at its feed or at the axes' rates from end to end, and
nobody is waited for. The long one stops the machine at every junction of two motions and gives the operator the
allowances below. A controller's real look-ahead, and a person's real pace, lie between; docs/time-model.md explains.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rabbetry.dryrun.model import ArcMove, Dwell, Event, Feed, Stop, ToolChange, Traverse
from rabbetry.dryrun.timing import Rates, seconds_of

CHANGE_S = 180.0
"""A cutter changed by hand, spanner and depth stop included: three minutes. Common practice, no source."""
PAUSE_S = 60.0
"""A pause without a change of cutter: the router switched on or off, a clamp looked at. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeBand:
    """A program's running time with its bounds, and what the operator is called for."""

    estimate_s: float
    """Stops at sharp corners, no wait for the operator."""
    low_s: float
    """At feed and rate from end to end, no wait for the operator."""
    high_s: float
    """A full stop between all motions, and the allowances for changes and pauses."""
    pauses: int
    """Pauses (M0, M60) that always wait for the operator."""
    changes: int
    """Changes of cutter (M6)."""


def time_band(events: Sequence[Event], rates: Rates) -> TimeBand:
    """Return the estimate and its band; `low_s` <= `estimate_s` <= `high_s` for any events and rates."""
    seconds = seconds_of(events, rates)
    return TimeBand(
        estimate_s=math.fsum(seconds.each),
        low_s=seconds.shortest,
        high_s=seconds.longest + operator_seconds(events),
        pauses=sum(isinstance(event, Stop) and not event.optional for event in events),
        changes=sum(isinstance(event, ToolChange) for event in events),
    )


def operator_seconds(events: Iterable[Event]) -> float:
    """Return the allowances for all changes of cutter and pauses.

    Changes and pauses between which nothing moves are one stay at the machine: the longest allowance counts once.
    """
    total, stay = 0.0, 0.0
    for event in events:
        if isinstance(event, ToolChange):
            stay = max(stay, CHANGE_S)
        elif isinstance(event, Stop) and not event.optional:
            stay = max(stay, PAUSE_S)
        elif isinstance(event, Traverse | Feed | ArcMove | Dwell) and stay:
            total, stay = total + stay, 0.0
    return total + stay
