"""Whether the cutting makes sense: chips that are too thick or too thin, quick plunges, holes drilled with end mills,
standing still in the wood. Warnings, each kind once for each cutter of a program, at the first motion, with the worst.

A tooth takes feed / (speed x flutes) (definition of chip load). The chart's ceiling holds where the cutter is buried to
its full width one diameter deep; deeper it falls, to three quarters at two diameters and half at three (a published
router-bit chart). The other figures are common practice without a source. Where the program does not say the speed,
because it is set by hand, no chip load is known and none is judged; drills are not, for the chart does not speak of
them.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.dryrun.cutting import Engagement
from rabbetry.dryrun.evidence import Evidence
from rabbetry.dryrun.model import ArcMove, Dwell, Event, Feed, Spindle, Traverse
from rabbetry.dryrun.setup import Cutter, Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.tolerances import PLUNGE_MM, TEXT_MM
from rabbetry.findings import Finding, finding

OVER_CEILING = 1.25
"""A chart is a starting range: only clearly more than its highest value is told."""
RUBBING_MM = 0.025
"""A tooth that takes less than a thousandth of an inch rubs and burns. Common practice."""
PLUNGE_SHARE = 0.5
"""An end mill goes down at a third to half of the feed sideways: half the ceiling, before `OVER_CEILING`."""
LEVEL_SLOPE = 0.01
"""Steeper than one in a hundred is a ramp, cut slower on purpose."""
MOST_PLUNGES = 8
"""A few holes with an end mill are usual; their heat is not worth a word."""
LONGEST_STAND_S = 1.0
"""Turning on the spot in the wood for longer burns it; a drill's short wait at the bottom is usual."""


@dataclass(slots=True)
class _Case:
    """One kind of fault of one cutter in one program, gathered inside one call."""

    first: Stroke
    worst: float
    limit: float
    count: int = 0


def check_sense(evidence: Evidence, taken: Engagement) -> Iterator[Finding]:
    """Yield warnings of chip loads and plunges, over all programs in running order."""
    cases: dict[tuple[int, int, str], _Case] = {}
    for index, stroke in enumerate(evidence.sweeps.strokes):
        if stroke.cutter is None or taken.deepest[index] <= PLUNGE_MM:
            continue
        for code, worst, limit in _faults(stroke, stroke.cutter, taken.deepest[index], taken.slot[index]):
            key = (stroke.program, stroke.cutter.number, code)
            case = cases.setdefault(key, _Case(first=stroke, worst=worst, limit=limit))
            case.count += 1
            further = worst < case.worst if code == "tooth-rubs" else worst / limit > case.worst / case.limit
            if further:
                case.worst, case.limit = worst, limit
    for (program, number, code), case in cases.items():
        if code != "end-mill-drills" or case.count >= MOST_PLUNGES:
            yield _told(code, number, case, evidence.programs[program])


def _faults(stroke: Stroke, cutter: Cutter, deepest: float, slot: float) -> Iterator[tuple[str, float, float]]:
    """Yield code, value and limit of what is wrong with one stroke that cuts."""
    drills = cutter.kind == "drill"
    down = stroke.is_vertical and stroke.to[2] < stroke.start[2]
    if down and not drills and slot > cutter.diameter_mm + PLUNGE_MM:
        yield "end-mill-drills", slot, cutter.diameter_mm
    chip = _chip_mm(stroke, cutter)
    if chip is None or drills:
        return
    if chip < RUBBING_MM and _is_level(stroke):
        yield "tooth-rubs", chip, RUBBING_MM
    ceiling = cutter.chip_load_high_mm
    if ceiling is None:
        return
    if down and chip > PLUNGE_SHARE * ceiling * OVER_CEILING:
        yield "plunge-fast", chip, PLUNGE_SHARE * ceiling
    allowed = ceiling * depth_share(slot, cutter.diameter_mm)
    if slot > PLUNGE_MM and not stroke.is_vertical and chip > allowed * OVER_CEILING:
        yield "tooth-overloaded", chip, allowed


def depth_share(depth_mm: float, diameter_mm: float) -> float:
    """Return the share of the ceiling that holds at a depth: 1 up to one diameter, 3/4 at two, 1/2 from three on."""
    return max(0.5, min(1.0, 1.25 - 0.25 * depth_mm / diameter_mm))


def _chip_mm(stroke: Stroke, cutter: Cutter) -> float | None:
    """Return what a tooth takes along the path; None when it is not known, or for a traverse."""
    if stroke.rpm <= 0.0 or cutter.flutes <= 0 or stroke.feed_mm_per_min <= 0.0:
        return None
    return stroke.feed_mm_per_min / (stroke.rpm * cutter.flutes)


def _is_level(stroke: Stroke) -> bool:
    across = math.dist(stroke.start[:2], stroke.to[:2])
    length = max(across, abs(stroke.sweep_rad) * stroke.radius_mm)
    return abs(stroke.to[2] - stroke.start[2]) < LEVEL_SLOPE * length


def _told(code: str, number: int, case: _Case, name: str) -> Finding:
    said = {
        "tooth-overloaded": f"takes {case.worst:.3f} mm a tooth in a slot; {case.limit:.3f} is the most so deep",
        "tooth-rubs": f"takes {case.worst:.4f} mm a tooth; under {case.limit:g} it rubs and burns",
        "plunge-fast": f"goes straight down at {case.worst:.3f} mm a tooth; {case.limit:.3f} is usual at most",
        "end-mill-drills": f"drills {case.count} holes up to {case.worst:.2f} mm at one go: heat; lift every diameter",
    }[code]
    motions = f" ({case.count} motions)" if case.count > 1 and code != "end-mill-drills" else ""
    x, y, z = case.first.to
    return finding(code, f"cutter {number} {said}{motions}", file=name, line=case.first.line, x=x, y=y, z=z)


def check_dwells(events: Sequence[Event], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield a warning where a program waits with the spindle turning and the tip in the stock; once, at the first."""
    offset = setup.work_offset_mm[2] if setup.work_offset_mm else 0.0
    top = setup.stock_top_z_mm + offset
    low, turning = False, False
    for event in events:
        if isinstance(event, Spindle):
            turning = event.direction != "off"
        elif isinstance(event, Traverse | Feed | ArcMove):
            low = event.to[2] < top - TEXT_MM
        elif isinstance(event, Dwell) and low and turning and event.seconds > LONGEST_STAND_S:
            message = f"stands in the wood for {event.seconds:g} s with the spindle turning: it burns"
            yield finding("stands-in-wood", message, file=name, line=event.line)
            return
