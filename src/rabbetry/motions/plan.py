"""Operations of one sheet become motions of the cutter's tip.

Each operation is planned with z = 0 at the stock's top; the machine's own zero is applied to all motions at the end.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby

from rabbetry.errors import GeometryError
from rabbetry.findings import Finding, finding
from rabbetry.motions.bore import plan_drilling, plan_spiral_bore
from rabbetry.motions.groove import plan_groove
from rabbetry.motions.holding import Way, place_tabs, ways_of
from rabbetry.motions.model import CutterRun, DrillHole, Motion, Plan, Planned, Step
from rabbetry.motions.pocket import plan_pocket
from rabbetry.motions.profile import plan_profile
from rabbetry.motions.tip import Tip
from rabbetry.operations.model import CentreLine, Clearing, Drilling, Operation, Profile, SheetPlan, SpiralBore
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Machine, ZZero

_BELOW_TOP_MM = 2.0
"""How far from the end of its travel the cutter is parked: off the switch. Common practice, no source."""


def plan_motions(plan: SheetPlan, *, sheet: Sheet, machine: Machine, job_name: str) -> Planned:
    """Return the motions of every operation in the given order, program frame, and the findings.

    Neighbouring operations of one cutter at one speed form a run. Every step starts and ends at the safe height,
    which clears all clamps. An operation for which no path can be made is an error finding and has no step.
    """
    runs: list[CutterRun] = []
    findings: list[Finding] = []
    # Before any profile is cut: neighbours share the tabs between them.
    profiles = _profiles(plan.operations)
    place_tabs([way for ways in profiles.values() if not isinstance(ways, str) for way in ways])
    for _, group in groupby(enumerate(plan.operations), key=lambda one: _load(one[1])):
        operations = tuple(group)
        steps: list[Step] = []
        for index, operation in operations:
            tip = Tip(operation, machine.lift_mm)
            findings += _planned(tip, operation, profiles.get(index, ()))
            if tip.motions:
                steps.append(_step(operation, tip.motions))
        if steps:
            first = operations[0][1]
            runs.append(CutterRun(cutter=first.cutter, rpm=first.feed.rpm, dial=first.feed.dial, steps=tuple(steps)))
    top = Plan(
        sheet=sheet.id,
        job=job_name,
        stock=sheet.stock,
        thickness_mm=sheet.thickness_mm,
        thickness_is_measured=sheet.thickness_is_measured,
        blank_x_mm=sheet.blank_x_mm,
        blank_y_mm=sheet.blank_y_mm,
        z_zero=ZZero.STOCK_TOP.value,
        safe_z=machine.lift_mm,
        stock_top_z=0.0,
        spoilboard_z=-sheet.thickness_mm,
        spindle_wait_s=machine.spindle_wait_s,
        park=machine.park_mm,
        machine_safe_z=machine.travel_max_mm[2] - _BELOW_TOP_MM,
        runs=tuple(runs),
        side=sheet.side,
        flip_at_mm=sheet.flip.at_mm if sheet.flip is not None else 0.0,
    )
    return Planned(plan=_from_machine_zero(top, machine.z_zero), findings=tuple(findings))


def _load(operation: Operation) -> tuple[int, float, str]:
    """Return what must be set on the spindle: neighbouring operations with the same make one run."""
    return operation.cutter.number, operation.feed.rpm, operation.feed.dial


def _profiles(operations: Sequence[Operation]) -> dict[int, tuple[Way, ...] | str]:
    """Return the ways of every profile by its operation's index, or what is wrong with its outline."""
    ways: dict[int, tuple[Way, ...] | str] = {}
    for index, operation in enumerate(operations):
        if isinstance(operation.work, Profile):
            try:
                ways[index] = ways_of(operation)
            except GeometryError as error:
                ways[index] = str(error)
    return ways


def _planned(tip: Tip, operation: Operation, ways: tuple[Way, ...] | str) -> Iterable[Finding]:
    work = operation.work
    if isinstance(ways, str):
        return (_no_path(operation, ways),)
    try:
        if isinstance(work, Drilling):
            return plan_drilling(tip, work)
        if isinstance(work, SpiralBore):
            return plan_spiral_bore(tip, work)
        if isinstance(work, Clearing):
            return plan_pocket(tip, work)
        if isinstance(work, CentreLine):
            return plan_groove(tip, work)
        return plan_profile(tip, work, ways)
    except GeometryError as error:
        tip.motions.clear()
        return (_no_path(operation, str(error)),)


def _no_path(operation: Operation, why: str) -> Finding:
    return finding("path-not-possible", f"{operation.name}: {why}", panel=operation.panel)


def _step(operation: Operation, motions: Iterable[Motion]) -> Step:
    return Step(name=operation.name, panel=operation.panel, kind=operation.kind, motions=tuple(motions))


def _from_machine_zero(plan: Plan, zero: ZZero) -> Plan:
    """Count z from the machine's chosen zero: nothing to do for the stock's top, all up by the thickness for the
    spoilboard. The one place where it matters, after everything else."""
    if zero is ZZero.STOCK_TOP:
        return plan
    up = plan.thickness_mm
    runs = tuple(
        replace(run, steps=tuple(replace(s, motions=tuple(_raised(m, up) for m in s.motions)) for s in run.steps))
        for run in plan.runs
    )
    return replace(
        plan, z_zero=zero.value, safe_z=plan.safe_z + up, stock_top_z=up, spoilboard_z=plan.spoilboard_z + up, runs=runs
    )


def _raised(motion: Motion, up: float) -> Motion:
    if isinstance(motion, DrillHole):
        return replace(motion, z=motion.z + up, retract_z=motion.retract_z + up, clear_z=motion.clear_z + up)
    return replace(motion, z=motion.z + up)
