"""The air run of a sheet: with the spindle off and at reduced speed the cutter goes round the blank, every clamp and
the extent of the cuts, all at the height that clears the clamps.

It shows, before any chip, whether the zero is where it should be and the clamps stand where the setup sheet says.
"""

from collections.abc import Iterator

from rabbetry.motions.model import CutterRun, Feed, Motion, Plan, Step, Traverse
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Machine

_SHARE = 0.25
"""Of the slower axis' fastest rate ..."""
_MOST_MM_PER_MIN = 1500.0
"""... and no faster than this: 25 mm a second leaves time to reach the stop. Common practice, no source."""

Rectangle = tuple[float, float, float, float]
"""Least x and y, greatest x and y."""


def plan_air_run(plan: Plan, *, sheet: Sheet, machine: Machine, before: Plan | None = None) -> Plan | None:
    """Return the air run for a sheet's plan, with the cutter that is used first, by it or by `before`; None where
    nothing is cut. What lies beyond the machine's travels is traced along their edge."""
    if not plan.runs:
        return None
    feed = min(_MOST_MM_PER_MIN, _SHARE * min(machine.max_rate_mm_per_min[:2]))
    reach = _travels(machine)
    steps: list[Step] = []
    for name, rectangle in _outlines(plan, sheet, machine):
        around = tuple(_around(_within(rectangle, reach), plan.safe_z, feed))
        # The head has gone to the first corner; from there on nothing moves faster than the feed.
        first = Traverse(around[0].x, around[0].y, plan.safe_z)
        motions: tuple[Motion, ...] = (first, *around[1:]) if not steps else around
        steps.append(Step(name=name, panel="", kind="air run", motions=motions))
    first_run = (before or plan).runs[0]
    run = CutterRun(cutter=first_run.cutter, rpm=0.0, dial="", steps=tuple(steps))
    return Plan(
        sheet=plan.sheet,
        job=plan.job,
        stock=plan.stock,
        thickness_mm=plan.thickness_mm,
        thickness_is_measured=plan.thickness_is_measured,
        blank_x_mm=plan.blank_x_mm,
        blank_y_mm=plan.blank_y_mm,
        z_zero=plan.z_zero,
        safe_z=plan.safe_z,
        stock_top_z=plan.stock_top_z,
        spoilboard_z=plan.spoilboard_z,
        spindle_wait_s=0.0,
        park=plan.park,
        machine_safe_z=plan.machine_safe_z,
        runs=(run,),
        side=plan.side,
        flip_at_mm=plan.flip_at_mm,
        kind="air run",
        air_feed_mm_per_min=feed,
    )


def _outlines(plan: Plan, sheet: Sheet, machine: Machine) -> Iterator[tuple[str, Rectangle]]:
    yield "air run round the blank", (0.0, 0.0, sheet.blank_x_mm, sheet.blank_y_mm)
    for clamp in machine.clamps:
        corner = (clamp.x_mm + clamp.length_x_mm, clamp.y_mm + clamp.length_y_mm)
        yield f"air run round clamp {clamp.name}", (clamp.x_mm, clamp.y_mm, *corner)
    places = [(m.x, m.y) for run in plan.runs for step in run.steps for m in step.motions]
    xs, ys = [x for x, _ in places], [y for _, y in places]
    yield "air run round all cuts", (min(xs), min(ys), max(xs), max(ys))


def _travels(machine: Machine) -> Rectangle:
    """Return how far the cutter reaches, blank frame."""
    x, y = machine.blank_origin_mm
    low, high = machine.travel_min_mm, machine.travel_max_mm
    return low[0] - x, low[1] - y, high[0] - x, high[1] - y


def _within(rectangle: Rectangle, reach: Rectangle) -> Rectangle:
    x0, y0, x1, y1 = (min(max(value, reach[k % 2]), reach[2 + k % 2]) for k, value in enumerate(rectangle))
    return x0, y0, x1, y1


def _around(rectangle: Rectangle, z: float, feed: float) -> Iterator[Feed]:
    x0, y0, x1, y1 = rectangle
    for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)):
        yield Feed(x, y, z, feed)
