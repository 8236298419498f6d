"""What the heights measured for a toe kick say about the floor, about the boxes, and about the measuring itself."""

from collections.abc import Iterator, Sequence

from rabbetry.findings import Finding, finding
from rabbetry.job.model import KickOrder, KickSpan
from rabbetry.tolerances import POINT_MM
from rabbetry.units import show_length

LEVEL_MM = 0.5
"""A floor that falls less than this over a run is level: finer than a tape is read."""
NOISE_MM = 1.0
"""Two readings of one spot differ by this much (common practice, no source)."""
STEP_MM = 3.0
"""Readings on both sides of a joint that differ by more are not of one floor (common practice, no source)."""


def check_measurements(order: KickOrder, units: str) -> tuple[Finding, ...]:
    """Return where the floor is highest and lowest, boxes whose sides or shims do not suit it, and readings that look
    swapped or do not meet at a joint."""
    found = [*_highest(order, units), *_boxes(order, units)]
    if len(order.spans) > 1 and all(span.left_mm is not None for span in order.spans):
        suspects = swapped(order.spans)
        found += [*_swapped_told(order, suspects), *_steps(order, suspects, units)]
    return tuple(found)


def _place(order: KickOrder, x: float, units: str) -> str:
    """Say where a place along the run is: under which cabinet, and how far from the left end."""
    start = 0.0
    where = f"{show_length(x, units)} from the left end"
    for span in order.spans:
        if span.cabinet and start - POINT_MM <= x <= start + span.width_mm + POINT_MM:
            return f"under {span.cabinet}, {where}"
        start += span.width_mm
    return where


def _highest(order: KickOrder, units: str) -> Iterator[Finding]:
    high, low = min(order.floor, key=lambda point: point[1]), max(order.floor, key=lambda point: point[1])
    fall = low[1] - high[1]
    if fall < LEVEL_MM:
        return
    highest = f"the floor is highest {_place(order, high[0], units)} ({show_length(high[1], units)} below the boxes)"
    lowest = f"{show_length(fall, units)} lower {_place(order, low[0], units)}"
    yield finding("kick-floor", f'kick "{order.name}": {highest} and {lowest}; set the boxes level on the highest spot')


def _boxes(order: KickOrder, units: str) -> Iterator[Finding]:
    """Compare the floor under each cabinet that stands on its own sides with the height of its toe kick."""
    start = 0.0
    for span in order.spans:
        end = start + span.width_mm
        heights = [height for x, height in order.floor if start - POINT_MM <= x <= end + POINT_MM]
        heights = [span.left_mm or heights[0], span.right_mm or heights[-1], *heights[1:-1]] if heights else []
        start = end
        if span.kick_height_mm <= 0 or not heights:
            continue
        kick = show_length(span.kick_height_mm, units)
        if min(heights) < span.kick_height_mm - NOISE_MM:
            room = show_length(min(heights), units)
            text = f"the floor is only {room} below {span.cabinet}, which stands {kick} high below its box"
            cure = "measure again, or make it that or less"
            yield finding("kick-height", f'kick "{order.name}": {text}; {cure}')
        over = max(heights) - span.kick_height_mm
        if over > order.shims_mm + POINT_MM:
            text = f"{span.cabinet} with its toe kick of {kick} needs {show_length(over, units)} of packing"
            most = f"more than the {show_length(order.shims_mm, units)} that shims take up"
            yield finding("kick-shims", f'kick "{order.name}": {text}, {most}')


def swapped(spans: Sequence[KickSpan]) -> tuple[int, ...]:
    """Return the spans that meet their neighbours better, at every joint they have, with left and right swapped.

    A span at an end has one joint only: it is named when that joint is a step and swapping closes it, and only where
    its neighbour is not the better suspect.
    """
    if len(spans) < 2:
        return ()
    inner = [k for k in range(1, len(spans) - 1) if all(after < now - NOISE_MM for now, after in _joints(spans, k))]
    ends = [
        k
        for k in (0, len(spans) - 1)
        if all(now > STEP_MM and after <= NOISE_MM for now, after in _joints(spans, k))
        and not {k - 1, k + 1} & set(inner)
    ]
    return tuple(sorted({*inner, *ends}))


def _joints(spans: Sequence[KickSpan], k: int) -> Iterator[tuple[float, float]]:
    """Yield for each joint of a span how far the two readings there differ, as they are and with its own swapped."""
    left, right = _heights(spans[k])
    if k > 0:
        beside = _heights(spans[k - 1])[1]
        yield abs(beside - left), abs(beside - right)
    if k < len(spans) - 1:
        beside = _heights(spans[k + 1])[0]
        yield abs(beside - right), abs(beside - left)


def _heights(span: KickSpan) -> tuple[float, float]:
    assert span.left_mm is not None
    assert span.right_mm is not None
    return span.left_mm, span.right_mm


def _swapped_told(order: KickOrder, suspects: Sequence[int]) -> Iterator[Finding]:
    names = [order.spans[k].cabinet for k in suspects]
    if not names:
        return
    either = len(suspects) == 2 and len(order.spans) == 2
    if either:
        text = f"left and right of {names[0]} or of {names[1]} look swapped: the joint between them fits better so"
        yield finding("kick-swapped", f'kick "{order.name}": {text}; measure again')
        return
    for name in names:
        text = f"left and right of {name} look swapped: it meets its neighbours better so"
        yield finding("kick-swapped", f'kick "{order.name}": {text}; measure again')


def _steps(order: KickOrder, suspects: Sequence[int], units: str) -> Iterator[Finding]:
    for k in range(1, len(order.spans)):
        before, after = order.spans[k - 1], order.spans[k]
        step = abs(_heights(before)[1] - _heights(after)[0])
        if step > STEP_MM and not {k - 1, k} & set(suspects):
            text = (
                f"{show_length(_heights(before)[1], units)} right of {before.cabinet} and "
                f"{show_length(_heights(after)[0], units)} left of {after.cabinet} should be one height, but differ by "
                f"{show_length(step, units)}"
            )
            yield finding("kick-step", f'kick "{order.name}": {text}; the mean is taken: measure again')
