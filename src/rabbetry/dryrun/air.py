"""Whether an air run is harmless: the spindle off, the cutter over stock and clamps, no hurry. Program frame."""

from collections.abc import Iterator, Sequence

from rabbetry.dryrun.model import ArcMove, Event, Feed, Spindle, Traverse
from rabbetry.dryrun.setup import Setup
from rabbetry.dryrun.tolerances import TEXT_MM
from rabbetry.findings import Finding, finding

MOST_SHARE = 0.5
"""Of the slower axis' fastest rate: more is no reduced speed."""


def check_air_run(events: Sequence[Event], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield findings of a program whose setup calls it an air run, each kind once."""
    if not setup.air_run:
        return
    lowest = max([setup.stock_top_z_mm, *(clamp.top_z_mm for clamp in setup.clamps)])
    most = MOST_SHARE * min(setup.machine.max_rate_mm_per_min[:2])
    offset = setup.work_offset_mm[2] if setup.work_offset_mm else 0.0
    told: set[str] = set()
    for event in events:
        code, message = "", ""
        if isinstance(event, Spindle) and event.direction != "off":
            code, message = "air-run-spindle", "the spindle is started in an air run"
        elif isinstance(event, Traverse | Feed | ArcMove) and event.to[2] - offset < lowest - TEXT_MM:
            message = f"the cutter goes down to z {event.to[2] - offset:.2f}; an air run stays over z {lowest:.2f}"
            code = "air-run-low"
        elif isinstance(event, Feed | ArcMove) and event.feed_mm_per_min > most:
            message = f"feed {event.feed_mm_per_min:.0f} mm/min; an air run goes at {most:.0f} or less"
            code = "air-run-fast"
        if code and code not in told:
            told.add(code)
            yield finding(code, message, file=name, line=event.line)
