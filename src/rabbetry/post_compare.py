"""Holds what a program does against the plan it was made from: every cut in its place, turn, feed and order.

Works on the dry run's events, so that a template's mistake shows in what the machine would do. Millimetres.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.dryrun.model import ArcMove, Dwell, Event, Feed, Point3, Spindle, ToolChange
from rabbetry.findings import Finding, finding
from rabbetry.motions.model import ArcFeed, CutterRun, DrillHole, Plan
from rabbetry.motions.model import Feed as PlannedFeed
from rabbetry.post.capabilities import Post
from rabbetry.tolerances import CHORD_MM

_ARC_MM = 0.01
"""An arc's middle may leave the planned circle by this much, besides rounding: a third of what a joint's fit shows."""
_NEVER = (math.inf, math.inf, math.inf)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """One planned cut: line, arc (with centre and turn) or hole."""

    run: CutterRun
    step: str
    start: Point3
    end: Point3
    feed: float
    centre: tuple[float, float] | None = None
    turn: int = 0
    is_hole: bool = False


@dataclass(slots=True)
class _State:
    """What the program has switched so far."""

    rpm: float = 0.0
    cutter: int | None = None


def compare(
    plan: Plan, programs: Sequence[tuple[str, Sequence[Event]]], post: Post, *, whole: bool
) -> Iterator[Finding]:
    """Yield, for each program (name and events, in running order), the first cut that is not the plan's, and wrong
    waits, speeds and cutters. After a cut that differs the rest of that program is not compared. `whole` is false when
    the reader gave up in a program: then nothing is said of cuts that are missing at its end."""
    groups = [(run,) for run in plan.runs] if post.tool_change == "file" else [plan.runs]
    if len(programs) != len(groups):
        return
    for (name, events), runs in zip(programs, groups, strict=True):
        yield from _compare_cuts(list(_cuts(runs)), events, plan, post, name, whole=whole)
        yield from _compare_waits(plan, events, post, name)


def _cuts(runs: Sequence[CutterRun]) -> Iterator[_Cut]:
    for run in runs:
        at = _NEVER
        for step in run.steps:
            for motion in step.motions:
                end = (motion.x, motion.y, motion.z)
                if isinstance(motion, PlannedFeed):
                    yield _Cut(run=run, step=step.name, start=at, end=end, feed=motion.feed_mm_per_min)
                elif isinstance(motion, ArcFeed):
                    yield _Cut(
                        run=run,
                        step=step.name,
                        start=at,
                        end=end,
                        feed=motion.feed_mm_per_min,
                        centre=(motion.cx, motion.cy),
                        turn=motion.turn,
                    )
                elif isinstance(motion, DrillHole):
                    start = (motion.x, motion.y, motion.retract_z)
                    yield _Cut(run=run, step=step.name, start=start, end=end, feed=motion.feed_mm_per_min, is_hole=True)
                    end = (motion.x, motion.y, motion.clear_z)
                at = end


def _compare_cuts(
    cuts: Sequence[_Cut], events: Sequence[Event], plan: Plan, post: Post, name: str, *, whole: bool
) -> Iterator[Finding]:
    digit = post.numbers.last_digit_mm
    state = _State()
    told = False
    at = 0
    for event in events:
        if isinstance(event, Spindle):
            state.rpm = event.rpm or 0.0
        elif isinstance(event, ToolChange):
            state.cutter = event.number
        if not isinstance(event, Feed | ArcMove):
            continue
        while at < len(cuts) and _vanishes(cuts[at], digit) and not _explains(cuts[at], event, digit):
            at += 1
        if at == len(cuts):
            if _goes_over(None, event, plan, post):
                continue
            message = f"cuts to {_place(event.program_to)} after the plan's last cut"
            yield finding("post-cut-differs", message, file=name, line=event.line)
            return
        cut = cuts[at]
        if _goes_over(cut, event, plan, post):
            continue
        if not _explains(cut, event, digit):
            yield finding("post-cut-differs", _difference(cut, event), file=name, line=event.line)
            return
        if not told and (wrong := _switched_wrongly(cut, event, state, post)):
            told = True
            yield finding(*wrong, file=name, line=event.line)
        at += math.dist(event.program_to, cut.end) <= digit
    left = [cut for cut in cuts[at:] if not _vanishes(cut, digit)]
    if left and whole:
        message = f'the cut to {_place(left[0].end)} of "{left[0].step[:60]}" is not made, nor what follows it'
        yield finding("post-cut-differs", message, file=name)


def _goes_over(cut: _Cut | None, event: Feed | ArcMove, plan: Plan, post: Post) -> bool:
    """Tell whether an event is a traverse without the word for one, at the fast feed of such a controller or the slow
    one of an air run, above the stock or straight up."""
    digit = post.numbers.last_digit_mm
    quick = [feed for feed in (plan.air_feed_mm_per_min, post.rapid_feed_mm_per_min) if feed]
    if not isinstance(event, Feed) or all(abs(event.feed_mm_per_min - f) > 0.51 * _feed_digit(post) for f in quick):
        return False
    start, end = _program_start(event), event.program_to
    above = min(start[2], end[2]) >= plan.stock_top_z - digit
    lifts = math.dist(start[:2], end[:2]) <= digit and end[2] > start[2]
    cuts = cut is not None and _explains(cut, event, digit)
    return (above and (not cuts or (cut is not None and cut.is_hole))) or (lifts and not cuts)


def _feed_digit(post: Post) -> float:
    return float(10.0**-post.feed_decimals) * post.numbers.mm_per_unit


def _vanishes(cut: _Cut, digit: float) -> bool:
    """Tell whether a cut is so short that its ends may be written alike."""
    return math.dist(cut.start, cut.end) <= 2 * digit


def _explains(cut: _Cut, event: Feed | ArcMove, digit: float) -> bool:
    """Tell whether an event makes the cut or a part of it."""
    start = _program_start(event)
    end = event.program_to
    if cut.is_hole:
        over = max(math.dist(point[:2], cut.end[:2]) for point in (start, end)) <= digit
        return isinstance(event, Feed) and over and cut.end[2] - digit <= end[2] <= start[2]
    if cut.centre is None:
        return isinstance(event, Feed) and math.dist(start, cut.start) <= digit and math.dist(end, cut.end) <= digit
    low, high = sorted((cut.start[2], cut.end[2]))
    if not all(low - digit <= point[2] <= high + digit for point in (start, end)):
        return False
    if isinstance(event, Feed):
        return all(abs(_off_circle(cut, point)) <= digit + CHORD_MM for point in (start, end))
    if event.plane != "XY" or event.turns != cut.turn or event.full_circles:
        return False
    slack = digit + _ARC_MM
    return all(abs(_off_circle(cut, point)) <= slack for point in (start, end, _middle(event)))


def _program_start(event: Feed | ArcMove) -> Point3:
    x, y, z = (s + p - t for s, p, t in zip(event.start, event.program_to, event.to, strict=True))
    return (x, y, z)


def _off_circle(cut: _Cut, point: Point3) -> float:
    assert cut.centre is not None
    return math.dist(point[:2], cut.centre) - math.dist(cut.end[:2], cut.centre)


def _middle(arc: ArcMove) -> Point3:
    """Return the point half way round, program frame."""
    first = math.atan2(arc.start[1] - arc.centre[1], arc.start[0] - arc.centre[0])
    last = math.atan2(arc.to[1] - arc.centre[1], arc.to[0] - arc.centre[0])
    half = first + arc.turns * ((last - first) * arc.turns % (2 * math.pi)) / 2
    radius = math.dist(arc.start[:2], arc.centre[:2])
    shift = [p - t for p, t in zip(arc.program_to, arc.to, strict=True)]
    x = arc.centre[0] + radius * math.cos(half) + shift[0]
    return (x, arc.centre[1] + radius * math.sin(half) + shift[1], arc.program_to[2])


def _difference(cut: _Cut, event: Feed | ArcMove) -> str:
    start = _program_start(event)
    what = "an arc" if isinstance(event, ArcMove) else "a cut"
    planned = "an arc" if cut.centre is not None else "a hole" if cut.is_hole else "a cut"
    if cut.turn:
        planned += " counter-clockwise" if cut.turn > 0 else " clockwise"
    return (
        f'in "{cut.step[:60]}" {what} goes from {_place(start)} to {_place(event.program_to)}; planned is {planned} '
        f"from {_place(cut.start)} to {_place(cut.end)}"
    )


def _switched_wrongly(cut: _Cut, event: Feed | ArcMove, state: _State, post: Post) -> tuple[str, str] | None:
    slack = 0.51 * _feed_digit(post) + 1e-9 * cut.feed
    if abs(event.feed_mm_per_min - cut.feed) > slack:
        return "post-cut-differs", f"cuts at {event.feed_mm_per_min:.3f} mm/min; planned are {cut.feed:.3f} mm/min"
    if post.spindle != "hand" and abs(state.rpm - cut.run.rpm) > 0.51:
        return "post-cutter-differs", f"cuts at {state.rpm:.0f} rpm; planned are {cut.run.rpm:.0f} rpm"
    if post.tool_change != "file" and state.cutter != cut.run.cutter.number:
        loaded = "no cutter called" if state.cutter is None else f"cutter {state.cutter}"
        return "post-cutter-differs", f"cuts with {loaded}; planned is cutter {cut.run.cutter.number}"
    return None


def _compare_waits(plan: Plan, events: Sequence[Event], post: Post, name: str) -> Iterator[Finding]:
    wanted = plan.spindle_wait_s
    for event in events:
        if isinstance(event, Dwell) and abs(event.seconds - wanted) > 0.06:
            unit = "milliseconds" if post.dwell == "ms" else "seconds"
            message = f"waits {event.seconds:g} s (P counts {unit} here); {wanted:g} s are planned"
            yield finding("post-wait", message, file=name, line=event.line)


def _place(point: Point3) -> str:
    return f"({point[0]:.4f}, {point[1]:.4f}, {point[2]:.4f})"
