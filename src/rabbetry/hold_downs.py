"""The screws of a job that asks for them: where they go on a set-up, what is drilled for them, and the job as it is
once their heads stand on the blank."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from rabbetry.feeds.model import FeedChoice
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.model import Job
from rabbetry.motions.model import Plan
from rabbetry.motions.plan import plan_motions
from rabbetry.operations.choose import choose_profile_cutter
from rabbetry.operations.screw_holes import plan_screw_holes
from rabbetry.sheets.hold_down import screw_heads
from rabbetry.sheets.model import Sheet
from rabbetry.sheets.spacing import settle_spacing
from rabbetry.shop.model import Clamp

FEW = 4
"""Fewer screws hold a blank at one end only. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldDown:
    """The screws of one set-up of a sheet; without any where the job asks for none."""

    heads: tuple[Clamp, ...] = ()
    plan: Plan | None = None
    """What drills their holes; None on side 2 of a flipped blank, where those of side 1 serve."""
    findings: tuple[Finding, ...] = ()


def heads_of(view: Sheet, job: Job) -> tuple[Clamp, ...]:
    """Return the heads of the screws on one set-up of a sheet, as fixtures."""
    cutter = choose_profile_cutter(job.shop, job.cutting, view.thickness_mm)
    if job.cutting.hold_down != "screws" or cutter is None:
        return ()
    spacing, _ = settle_spacing(job.cutting, cutter.cut_diameter_mm)
    return screw_heads(view, shop=job.shop, cutting=job.cutting, spacing_mm=spacing)


def plan_hold_down(view: Sheet, job: Job, feeds: Mapping[int, FeedChoice]) -> HoldDown:
    """Return the screws of a set-up and the plan that drills for them, with what was found."""
    if job.cutting.hold_down != "screws":
        return HoldDown()
    heads = heads_of(view, job)
    found = list(_count_told(view, len(heads)))
    plan: Plan | None = None
    if heads and view.side != 2:
        holes = plan_screw_holes(view, heads, shop=job.shop, cutting=job.cutting, feeds=feeds)
        found.extend(holes.findings)
        if not has_error(holes.findings):
            motions = plan_motions(holes.plan, sheet=view, machine=job.shop.machine, job_name=job.name)
            found.extend(motions.findings)
            plan = replace(motions.plan, kind="hold-down")
    return HoldDown(heads=heads, plan=plan, findings=tuple(found))


def _count_told(view: Sheet, count: int) -> tuple[Finding, ...]:
    if count == 0:
        message = f"{view.id}: no place for a screw is clear of every cut; clamp this blank, or raise the stock's trim"
        return (finding("hold-down-no-place", message),)
    if count < FEW:
        places = f"only {count} place{'s are' if count > 1 else ' is'} clear of every cut"
        return (finding("hold-down-few", f"{view.id}: {places}; clamp this blank too, or raise the stock's trim"),)
    return ()


def with_heads(job: Job, heads: tuple[Clamp, ...]) -> Job:
    """Return the job with the heads among the machine's clamps: so high are the traverses then, so wide the berths."""
    if not heads:
        return job
    machine = replace(job.shop.machine, clamps=(*job.shop.machine.clamps, *heads))
    return replace(job, shop=replace(job.shop, machine=machine))
