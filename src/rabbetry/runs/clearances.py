"""Clearances and heights usual in kitchens, said as notes where a run keeps less. Inches of the guidelines, exact.

Guidelines, not rules: licensed practice and local codes win. Only what stands in one run is seen; a landing round a
corner is not.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from rabbetry.findings import Finding, finding
from rabbetry.runs.model import PlacedItem, Run
from rabbetry.tolerances import FIT_MM
from rabbetry.units import MM_PER_INCH, show_length

_LANDINGS = {
    "sink": (24, 18, "5.2.7"),
    "hob": (15, 12, "5.2.10"),
    "refrigerator": (15, 0, "5.2.9"),
}
"""Counter beside: on the one side, on the other, check value (kitchen-planning guidelines)."""
_HOB_TO_WALL_IN = 3
"""Check value 5.2.11."""
_SINK_TO_DISHWASHER_IN = 36
"""Check value 5.2.12."""
_PREPARATION_IN = 36
"""Check value 5.2.8."""
_AISLE_IN = {1: 42, 2: 48}
"""One cook; more (check value 5.2.2)."""
_TAIL = "a kitchen-planning guideline; licensed practice and local codes win"


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A stretch of counter without a break, from x to x."""

    low: float
    high: float


def check_clearances(run: Run, units: str) -> tuple[Finding, ...]:
    """Return a note for each guideline that the run does not keep. Nothing is asked of a run without a sink, hob,
    refrigerator or dishwasher but its aisle."""
    uses = {item.use for item in run.lower}
    free = _free_counter(run)
    notes = [*_aisle(run, units), *_beside(run, free, units), *_hob_at_wall(run, units), *_dishwasher(run, units)]
    if "sink" in uses:
        notes += _preparation(run, free, units)
    return tuple(
        finding("kitchen-guideline", f'run "{run.name}": {said}; {show_length(inches * MM_PER_INCH, units)} is {_TAIL}')
        for said, inches in notes
    )


def check_heights(run: Run, units: str) -> tuple[Finding, ...]:
    """Return a note for each height that is unusual, or does not carry the counter."""
    return tuple(
        finding("run-heights", f'run "{run.name}": {said}') for said in (*_counter(run, units), *_above(run, units))
    )


_Said = Iterator[tuple[str, float]]


def _carries(item: PlacedItem, run: Run) -> bool:
    """Whether counter lies over it: as high as the counter's under side, and neither a sink nor a hob."""
    if run.counter_z_mm is None or item.sort == "gap" or item.use in ("sink", "hob"):
        return False
    return abs(item.top_mm - (run.counter_z_mm - run.counter_thickness_mm)) <= FIT_MM


def _free_counter(run: Run) -> list[_Stretch]:
    found: list[_Stretch] = []
    for item in run.lower:
        if not _carries(item, run):
            continue
        if found and abs(found[-1].high - item.x_mm) <= FIT_MM:
            found[-1] = _Stretch(found[-1].low, item.right_mm)
        else:
            found.append(_Stretch(item.x_mm, item.right_mm))
    return found


def _beside(run: Run, free: list[_Stretch], units: str) -> _Said:
    for item in run.lower:
        if item.use not in _LANDINGS:
            continue
        more, less, _ = _LANDINGS[item.use]
        at_left = sum(s.high - s.low for s in free if abs(s.high - item.x_mm) <= FIT_MM)
        at_right = sum(s.high - s.low for s in free if abs(s.low - item.right_mm) <= FIT_MM)
        wide, narrow = max(at_left, at_right), min(at_left, at_right)
        sides = f"{show_length(at_left, units)} at its left, {show_length(at_right, units)} at its right"
        if wide < more * MM_PER_INCH - FIT_MM:
            yield f"counter beside the {item.use} {item.name}: {sides}, so the wider side is short", more
        if narrow < less * MM_PER_INCH - FIT_MM:
            yield f"counter beside the {item.use} {item.name}: {sides}, so the narrower side is short", less


def _hob_at_wall(run: Run, units: str) -> _Said:
    for item in run.lower:
        for word, distance in ((run.left, item.x_mm), (run.right, run.length_mm - item.right_mm)):
            if item.use == "hob" and word == "wall" and distance < _HOB_TO_WALL_IN * MM_PER_INCH - FIT_MM:
                yield f"the hob {item.name} is {show_length(distance, units)} from an end wall", _HOB_TO_WALL_IN


def _dishwasher(run: Run, units: str) -> _Said:
    """The nearest sink counts; a run without one says nothing."""
    sinks = [item for item in run.lower if item.use == "sink"]
    for item in run.lower:
        if item.use != "dishwasher" or not sinks:
            continue
        nearest = min(max(sink.x_mm - item.right_mm, item.x_mm - sink.right_mm) for sink in sinks)
        if nearest > _SINK_TO_DISHWASHER_IN * MM_PER_INCH + FIT_MM:
            words = f"{show_length(nearest, units)} from the edge of the dishwasher {item.name} to the sink's; at most"
            yield words, _SINK_TO_DISHWASHER_IN


def _preparation(run: Run, free: list[_Stretch], units: str) -> _Said:
    longest = max((stretch.high - stretch.low for stretch in free), default=0.0)
    if longest < _PREPARATION_IN * MM_PER_INCH - FIT_MM:
        yield f"the longest counter without a break is {show_length(longest, units)}, for preparation", _PREPARATION_IN


def _aisle(run: Run, units: str) -> _Said:
    least = _AISLE_IN[min(run.cooks, 2)]
    if run.aisle_mm is not None and run.aisle_mm < least * MM_PER_INCH - FIT_MM:
        cooks = "one cook" if run.cooks == 1 else f"{run.cooks} cooks"
        yield f"the aisle is {show_length(run.aisle_mm, units)} wide for {cooks}", least


_COUNTER_MM, _COUNTER_PLAY_MM = 914.4, 12.7
"""36 in, half an inch either way (check value 5.1.2)."""
_ABOVE_MM = (381.0, 457.2)
"""15 to 18 in from the counter to the wall cabinets (check value 5.1.8)."""


def _counter(run: Run, units: str) -> Iterator[str]:
    if run.counter_z_mm is None:
        return
    if abs(run.counter_z_mm - _COUNTER_MM) > _COUNTER_PLAY_MM + FIT_MM:
        usual = show_length(_COUNTER_MM, units)
        yield f"the counter is {show_length(run.counter_z_mm, units)} above the floor; about {usual} is usual"
    under = run.counter_z_mm - run.counter_thickness_mm
    for item in run.lower:
        is_base = any(box.cabinet.kind.value in ("base", "sink", "drawers", "blind corner") for box in item.boxes)
        if is_base and abs(item.top_mm - under) > FIT_MM:
            counter = f"the counter's under side is at {show_length(under, units)}"
            yield f"{item.name} is {show_length(item.top_mm, units)} high; {counter}"


def _above(run: Run, units: str) -> Iterator[str]:
    low, high = _ABOVE_MM
    if run.counter_z_mm is None:
        return
    for item in run.items:
        is_over_counter = any(
            min(item.right_mm, below.right_mm) - max(item.x_mm, below.x_mm) > FIT_MM
            for below in run.lower
            if _carries(below, run)
        )
        distance = item.z_mm - run.counter_z_mm
        if not item.is_upper or item.sort != "cabinet" or not is_over_counter:
            continue
        if not low - 1.0 <= distance <= high + 1.0:
            usual = f"{show_length(low, units)} to {show_length(high, units)} is usual"
            yield f"{item.name} hangs {show_length(distance, units)} above the counter; {usual}"
