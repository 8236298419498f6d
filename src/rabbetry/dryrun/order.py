"""Whether a program begins and ends as it should, and never cuts with the spindle at rest."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from rabbetry.dryrun.model import (
    ArcMove,
    DistanceMode,
    Dwell,
    End,
    Event,
    Feed,
    FeedMode,
    Motion,
    Plane,
    Spindle,
    Stop,
    ToolChange,
    Traverse,
    Units,
    WorkOffset,
)
from rabbetry.dryrun.setup import Setup
from rabbetry.dryrun.setup_read import OFFSET_WORDS
from rabbetry.dryrun.strokes import start_mm
from rabbetry.dryrun.tolerances import ARRIVE_MM, LONGEST_WAIT_S, SAME_POINT_MM, TEXT_MM
from rabbetry.findings import Finding, finding

_SECOND_SLACK = 0.01


@dataclass(slots=True)
class _Watch:
    """What has happened so far; lives inside one call."""

    stated: set[type[Event]] = field(default_factory=set)
    moved: bool = False
    lifted: bool = False
    changed: bool = False
    spindle: Spindle | None = None
    """The last switch of the spindle."""
    waited_s: float = 0.0
    paused: bool = False
    """The operator was waited for since the last change of cutter."""
    spindle_told: bool = False


def check_order(events: Sequence[Event], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield findings of head, spindle and end of one program, in order of lines."""
    watch = _Watch()
    z = start_mm(setup)[2] - _offset_z(setup)
    for event in events:
        if isinstance(event, Traverse | Feed | ArcMove):
            yield from _check_motion(watch, event, setup, name)
            z = event.to[2] - _offset_z(setup)
            yield from _check_rate(event, setup, name)
        elif isinstance(event, Units | Plane | DistanceMode | FeedMode | WorkOffset):
            watch.stated.add(type(event))
            if isinstance(event, WorkOffset) and OFFSET_WORDS[event.index - 1] != setup.work_offset_word:
                message = f"{OFFSET_WORDS[event.index - 1]} is called; the blank lies at {setup.work_offset_word}"
                yield finding("wrong-work-offset", message, file=name, line=event.line)
        elif isinstance(event, Spindle):
            yield from _check_switch(watch, event, setup, name)
        elif isinstance(event, Dwell):
            watch.waited_s += event.seconds
            if event.seconds > LONGEST_WAIT_S:
                message = f"waits {event.seconds:g} s: this controller counts G4 P in seconds"
                yield finding("long-wait", message, file=name, line=event.line)
        elif isinstance(event, Stop):
            watch.paused = watch.paused or not event.optional
        elif isinstance(event, ToolChange):
            watch.paused, watch.spindle_told, watch.waited_s = False, False, 0.0
            watch.changed = True
            watch.lifted = watch.lifted and not setup.changes_at_stop  # Hands brought the cutter down to touch off.
            if watch.moved and z < setup.stock_top_z_mm + ARRIVE_MM:
                message = f"the cutter is changed at z {z:.2f}, not above the stock's top {setup.stock_top_z_mm:.2f}"
                yield finding("tool-change-low", message, file=name, line=event.line)
        elif isinstance(event, End):
            yield from _check_end(watch, event, setup, name, z)


def _offset_z(setup: Setup) -> float:
    return setup.work_offset_mm[2] if setup.work_offset_mm else 0.0


def _check_motion(watch: _Watch, event: Motion, setup: Setup, name: str) -> Iterator[Finding]:
    if not watch.moved:
        watch.moved = True
        yield from _check_head(watch, event, setup, name)
    sideways = abs(event.to[0] - event.start[0]) > SAME_POINT_MM or abs(event.to[1] - event.start[1]) > SAME_POINT_MM
    low = min(event.start[2], event.to[2]) - _offset_z(setup)
    if not isinstance(event, Traverse) and FeedMode not in watch.stated:
        watch.stated.add(FeedMode)
        message = "the feed mode (G94) is not stated before the first cut: it depends on what ran before"
        yield finding("feed-mode-not-stated", message, file=name, line=event.line)
    if not watch.lifted:
        watch.lifted = True
        safe = max([setup.stock_top_z_mm + ARRIVE_MM, *(clamp.top_z_mm for clamp in setup.clamps)])
        if sideways or event.to[2] - _offset_z(setup) < safe - TEXT_MM:
            message = (
                f"the first motion {'after the change ' if watch.changed else ''}must lift the cutter straight up, to "
                f"z {safe:.2f} or more: over stock and clamps"
            )
            yield finding("first-motion", message, file=name, line=event.line)
    if low < setup.stock_top_z_mm - TEXT_MM and not watch.spindle_told:
        fault = _spindle_fault(watch, setup)
        if fault is not None:
            watch.spindle_told = True
            yield finding(fault[0], fault[1], file=name, line=event.line)


def _check_head(watch: _Watch, event: Motion, setup: Setup, name: str) -> Iterator[Finding]:
    if not setup.work_offset_word:
        watch.stated.add(WorkOffset)
    for kind, code, words in (
        (Units, "units-not-stated", "the unit (G20 or G21)"),
        (DistanceMode, "distance-not-stated", "the distance mode (G90)"),
        (Plane, "plane-not-stated", "the plane (G17)"),
        (WorkOffset, "offset-not-stated", "the work offset"),
    ):
        if kind not in watch.stated:
            message = f"{words} is not stated before the first motion: it depends on what ran before"
            yield finding(code, message, file=name, line=event.line)


def _spindle_fault(watch: _Watch, setup: Setup) -> tuple[str, str] | None:
    """Return the code and sentence for a cut that begins now with the spindle not ready; None when it is."""
    spindle, machine = watch.spindle, setup.machine
    if machine.spindle_by_hand and watch.paused:
        return None
    if spindle is None or spindle.direction == "off":
        if machine.spindle_by_hand:
            return "spindle-off", "the program cuts without a pause (M0) in which the router is switched on by hand"
        return "spindle-off", "the cutter goes below the stock's top with the spindle off"
    if not spindle.rpm:
        return "spindle-no-speed", "the cutter goes below the stock's top and no spindle speed (S) was given"
    if not watch.paused and watch.waited_s <= 0.0 < machine.spindle_wait_s:
        return "spindle-not-waited", "the cutter goes below the stock's top without waiting for the spindle"
    if not watch.paused and watch.waited_s < machine.spindle_wait_s - _SECOND_SLACK:
        waited = f"{watch.waited_s:g} s of {machine.spindle_wait_s:g} s"
        return "spindle-not-waited", f"the cutter goes below the stock's top after {waited} for the spindle"
    return None


def _check_switch(watch: _Watch, event: Spindle, setup: Setup, name: str) -> Iterator[Finding]:
    machine = setup.machine
    was_off = watch.spindle is None or watch.spindle.direction == "off"
    watch.spindle = event
    watch.spindle_told = False
    if event.direction == "off" or was_off:
        watch.waited_s = 0.0
    if event.direction == "off":
        watch.paused = False
    if event.direction == ("cw" if setup.spindle_reversed else "ccw"):
        message = f"{'M3' if setup.spindle_reversed else 'M4'} turns the cutter backwards"
        yield finding("spindle-backwards", message, file=name, line=event.line)
    if event.rpm and not machine.spindle_min_rpm <= event.rpm <= machine.spindle_max_rpm:
        message = f"S{event.rpm:g} is outside the spindle's {machine.spindle_min_rpm:g} to {machine.spindle_max_rpm:g}"
        yield finding("spindle-range", message, file=name, line=event.line)


def _check_end(watch: _Watch, event: End, setup: Setup, name: str, z: float) -> Iterator[Finding]:
    if watch.moved and z < setup.stock_top_z_mm + ARRIVE_MM:
        message = f"the program ends with the cutter at z {z:.2f}, not above the stock's top {setup.stock_top_z_mm:.2f}"
        yield finding("ends-low", message, file=name, line=event.line)
    spindle = watch.spindle
    if spindle is not None and (spindle.direction != "off" or (spindle.implied and spindle.line == event.line)):
        message = "the program ends without switching the spindle off (M5)"
        yield finding("spindle-left-on", message, file=name, line=event.line)


def _check_rate(event: Motion, setup: Setup, name: str) -> Iterator[Finding]:
    # On the way up a controller slows to what its axis can do and nothing is spoilt.
    if isinstance(event, Traverse) or event.to[2] > event.start[2]:
        return
    rates = setup.machine.max_rate_mm_per_min
    if isinstance(event, ArcMove):
        limit = min(rate for rate, plane in zip(rates, "XYZ", strict=True) if plane in event.plane)
    else:
        way = [abs(to - start) for to, start in zip(event.to, event.start, strict=True)]
        length = sum(part * part for part in way) ** 0.5
        limit = min(
            (rate * length / part for rate, part in zip(rates, way, strict=True) if part > SAME_POINT_MM), default=0.0
        )
    if 0.0 < limit * 1.001 < event.feed_mm_per_min:
        message = f"feed {event.feed_mm_per_min:.0f} mm/min is more than the {limit:.0f} that the axes can do"
        yield finding("feed-over-limit", message, file=name, line=event.line)
