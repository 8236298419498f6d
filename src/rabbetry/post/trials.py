"""Awkward plans to try a post on: hostile and long names, extreme numbers, arcs of all sizes, changes of cutter."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from rabbetry.motions.model import ArcFeed, CutterRun, DrillHole, Feed, Motion, Plan, Step, Traverse
from rabbetry.post.sample import sample_plan

_HOSTILE = "Küche (left) №2 [a] {b} ; M30 % ! ~ ? $ <G0 Z-50> \t\r\n\u2028 é \\ / * #5 \x07"
_LONG = "left side of the very tall cabinet beside the window " * 6
_SAFE = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """A plan and what it tries."""

    title: str
    plan: Plan


def trial_plans() -> tuple[Trial, ...]:
    """Return the plans that `rabbetry post check` renders: every motion kind, and what trips controllers up."""
    plan = sample_plan()
    drilling, milling = plan.runs
    return (
        Trial(title="every kind of motion", plan=plan),
        Trial(title="names with brackets, accents and commands in them", plan=_named(plan, _HOSTILE)),
        Trial(title="names of 300 letters", plan=_named(plan, _LONG[:300])),
        Trial(title="empty names", plan=_named(plan, "")),
        Trial(title="the largest and smallest numbers", plan=_stepped(plan, _extremes())),
        Trial(title="arcs from 0.3 mm to 900 mm", plan=_stepped(plan, _arcs())),
        Trial(title="z zero on the spoilboard", plan=_raised(plan)),
        Trial(title="nowhere to park, no wait, no dial", plan=_bare(plan)),
        Trial(title="a wait of 2.5 s, thickness not measured", plan=_waiting(plan)),
        Trial(title="a cutter that comes back after another", plan=replace(plan, runs=(milling, drilling, milling))),
        Trial(title="one cutter only", plan=replace(plan, runs=(milling,))),
        Trial(title="an air run", plan=_air_run(plan)),
    )


def _named(plan: Plan, name: str) -> Plan:
    return replace(
        plan,
        job=name,
        sheet=name,
        stock=name,
        runs=tuple(
            replace(
                run,
                cutter=replace(run.cutter, name=name),
                steps=tuple(replace(step, name=f"{name}: {step.kind}", panel=name) for step in run.steps),
            )
            for run in plan.runs
        ),
    )


def _stepped(plan: Plan, motions: tuple[Motion, ...]) -> Plan:
    step = Step(name="T1 part: outline", panel="T1 part", kind="profile", motions=motions)
    run = replace(plan.runs[1], steps=(step,))
    return replace(plan, blank_x_mm=3660.0, blank_y_mm=1830.0, runs=(run,))


def _extremes() -> tuple[Motion, ...]:
    """Return motions near nothing and near the far end of a long table; feeds from a crawl to a rush."""
    tiny, less = 0.0000002, -0.00004
    return (
        Traverse(tiny, less, _SAFE),
        Traverse(tiny, less, 1.0),
        Feed(tiny, less, tiny, 0.04),
        Feed(3657.6001, less, -0.00004, 25399.99),
        Feed(3657.6001, 1828.8 - 1 / 3, -17.99996, 12000.0),
        Feed(-0.0499999, 1828.8 - 1 / 3, -9.99999, 0.3),
        Feed(-0.0499999, 1828.4, -9.99999, 333.333333),
        Traverse(-0.0499999, 1828.4, _SAFE),
    )


def _arcs() -> tuple[Motion, ...]:
    """Return spirals about one centre after another: both ways round, quarter and half turns and slivers."""
    x, y, z = 1100.0 + 1 / 3, 950.0 + 1 / 7, -1.0
    motions: list[Motion] = [Traverse(x, y, _SAFE), Traverse(x, y, 1.0), Feed(x, y, z, 600.0)]
    for k, radius in enumerate((0.15, 0.4, 1.2703, 4.9999, 17.462, 150.0, 450.0)):
        at = (x + radius, y)
        motions.append(Feed(*at, z, 1500.0))
        for turn, sweep in ((1, 0.5 * math.pi), (1, math.pi), (-1, 0.02 + 0.3 * k), (1, 0.97 * math.pi)):
            angle = math.atan2(at[1] - y, at[0] - x) + turn * sweep
            at = (x + radius * math.cos(angle), y + radius * math.sin(angle))
            z -= 0.05
            motions.append(ArcFeed(*at, z, x, y, turn, 1500.0))
    return (*motions, Traverse(*at, _SAFE))


def _raised(plan: Plan) -> Plan:
    up = plan.thickness_mm

    def raised(motion: Motion) -> Motion:
        if isinstance(motion, DrillHole):
            return replace(motion, z=motion.z + up, retract_z=motion.retract_z + up, clear_z=motion.clear_z + up)
        return replace(motion, z=motion.z + up)

    return replace(
        plan,
        z_zero="spoilboard",
        safe_z=plan.safe_z + up,
        stock_top_z=up,
        spoilboard_z=0.0,
        runs=_each_motion(plan, raised),
    )


def _each_motion(plan: Plan, change: Callable[[Motion], Motion]) -> tuple[CutterRun, ...]:
    return tuple(
        replace(run, steps=tuple(replace(s, motions=tuple(change(m) for m in s.motions)) for s in run.steps))
        for run in plan.runs
    )


def _bare(plan: Plan) -> Plan:
    runs = tuple(replace(run, dial="") for run in plan.runs)
    return replace(plan, park=None, spindle_wait_s=0.0, runs=runs)


def _waiting(plan: Plan) -> Plan:
    return replace(plan, spindle_wait_s=2.5, thickness_is_measured=False)


def _air_run(plan: Plan) -> Plan:
    x, y, z, feed = plan.blank_x_mm, plan.blank_y_mm, plan.safe_z, 1111.0
    around = tuple(Feed(a, b, z, feed) for a, b in ((x, 0.0), (x, y), (0.0, y), (0.0, 0.0)))
    step = Step(name="air run round the blank", panel="", kind="air run", motions=(Traverse(0.0, 0.0, z), *around))
    run = replace(plan.runs[0], rpm=0.0, dial="", steps=(step,))
    return replace(plan, kind="air run", air_feed_mm_per_min=feed, spindle_wait_s=0.0, runs=(run,))
