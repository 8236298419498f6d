"""From settled cabinets to runs, face frames and the parts made elsewhere, and what should be said of them."""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Resolved
from rabbetry.findings import Finding, finding
from rabbetry.job.choices import RunItem
from rabbetry.job.model import Job
from rabbetry.runs.clearances import check_clearances, check_heights
from rabbetry.runs.frames import corner_frames, frames_of
from rabbetry.runs.layout import lay_out_runs
from rabbetry.runs.model import Faced
from rabbetry.runs.solid import frame_parts, front_parts
from rabbetry.tolerances import FIT_MM
from rabbetry.units import show_length

_MOST_SCRIBE_MM = 38.1
"""1-1/2 in (check value 5.3.8)."""
_FILLER_MM = (25.4, 76.2)
"""1 to 3 in (check value 5.3.10)."""


def face_job(job: Job, resolved: Resolved) -> tuple[Faced, tuple[Finding, ...]]:
    """Return the runs laid out, the frames and the solid parts; and the findings, each with the job's file."""
    units = job.units.value
    runs, told = lay_out_runs(job, resolved)
    findings = list(told)
    for run in runs:
        findings += [*check_clearances(run, units), *check_heights(run, units)]
    for order in job.runs:
        for item in (*order.items, *order.upper):
            findings += _filler(order.name, item, units)
    frames = (*frames_of(resolved.cabinets, runs), *corner_frames(resolved.corners))
    legs = tuple(leg for corner in resolved.corners for leg in (corner.left, corner.right))
    faced = Faced(
        runs=runs,
        frames=frames,
        frame_parts=frame_parts(frames, resolved.cabinets, job),
        front_parts=front_parts((*resolved.cabinets, *legs), units),
    )
    return faced, tuple(replace(item, where=replace(item.where, file=job.file)) for item in findings)


def _filler(run: str, item: RunItem, units: str) -> Iterator[Finding]:
    if item.sort != "filler" or item.width_mm <= 0:
        return
    low, high = _FILLER_MM
    where = f'run "{run}": a filler'
    if not low - FIT_MM <= item.width_mm <= high + FIT_MM:
        usual = f"{show_length(low, units)} to {show_length(high, units)} is usual (common practice)"
        yield finding("scribe-unusual", f"{where} is {show_length(item.width_mm, units)} wide; {usual}")
    if item.scribe_mm > _MOST_SCRIBE_MM + FIT_MM:
        most = show_length(_MOST_SCRIBE_MM, units)
        scribe = show_length(item.scribe_mm, units)
        yield finding("scribe-unusual", f"{where} has {scribe} to scribe; {most} at most is a standard's limit")
