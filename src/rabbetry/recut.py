"""Some panels of a job once more: which ones, on which blank, and what another thickness means for their joints."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from rabbetry.errors import Fault, InputError, did_you_mean, shown
from rabbetry.findings import Finding, finding, has_error
from rabbetry.geometry.curves import Contour
from rabbetry.job.model import Job, Stock
from rabbetry.panels.model import Box, Feature, Panel, Recess
from rabbetry.pipeline import Compiled, compile_job, lay_out
from rabbetry.runs.model import Faced
from rabbetry.thickness import with_thickness
from rabbetry.tolerances import POINT_MM
from rabbetry.units import LengthError, read_length, write_length

_BETWEEN = re.compile(r"\s*[,x×]\s*")
_THICKEST_MM = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Recut:
    """What to build: the job with the blank and thickness named, the panels, what the user must hear."""

    job: Job
    panels: tuple[Panel, ...]
    notes: tuple[str, ...]
    findings: tuple[Finding, ...]
    """Errors here mean that the panels do not go on the blank: nothing is worth building."""


def plan_recut(job: Job, names: Sequence[str], *, blank: str | None, thickness: str | None) -> Recut:
    """Choose panels of a job by their ids.

    `blank` is the size of the one blank or offcut to cut them from (`600,400`, `600x400`, units allowed), `thickness`
    what its caliper says. Outlines stay as they were, so that recut panels fit those that are cut already; a recess
    follows the new thickness where the panel that enters it is recut as well. Raises InputError for unknown panels,
    sizes that are no lengths, and a blank or thickness for panels of more than one stock.
    """
    compiled = compile_job(job)
    panels = _chosen(compiled.panels, names, job)
    changed = _changed_job(job, panels, blank=blank, thickness=thickness)
    notes: tuple[str, ...] = ()
    found: tuple[Finding, ...] = ()
    if thickness is not None:
        measured = changed.stock(panels[0].stock)
        panels, notes, found = _adapted(panels, compiled, compile_job(changed), measured, str(job.units))
    if not has_error(compiled.findings):
        found = (*found, *_room(changed, panels, one_blank=blank is not None))
    return Recut(job=replace(changed, name=f"{job.name}, recut"), panels=panels, notes=notes, findings=found)


def only(compiled: Compiled, panels: Sequence[Panel]) -> Compiled:
    """Return what was compiled with these panels alone, and nothing to buy or to make elsewhere."""
    own = {panel.cabinet for panel in panels}
    boxes = tuple(replace(box, fronts=(), hardware=()) for box in compiled.boxes if box.cabinet in own)
    cabinets = tuple(cabinet for cabinet in compiled.cabinets if cabinet.name in own)
    return replace(compiled, panels=tuple(panels), boxes=boxes, cabinets=cabinets, faced=Faced())


def _chosen(panels: Sequence[Panel], names: Sequence[str], job: Job) -> tuple[Panel, ...]:
    known = {panel.id: panel for panel in panels}
    faults = [
        Fault(
            file=job.file,
            place=f"panel {shown(name)}",
            problem="the job has no such panel",
            cure=did_you_mean(name, list(known)) or "the cut list names them all",
        )
        for name in dict.fromkeys(names)
        if name not in known
    ]
    if faults:
        raise InputError(*faults)
    return tuple(panel for panel in panels if panel.id in names)


def _changed_job(job: Job, panels: Sequence[Panel], *, blank: str | None, thickness: str | None) -> Job:
    used = sorted({panel.stock for panel in panels})
    faults = []
    for option, value in (("--blank", blank), ("--thickness", thickness)):
        if value is not None and len(used) > 1:
            problem = f"the panels are of {len(used)} stocks: {', '.join(used)}"
            faults.append(Fault(file="command line", place=option, problem=problem, cure="recut one stock at a time"))
    if faults:
        raise InputError(*faults)
    stock = job.stock(used[0])
    if blank is not None:
        x_mm, y_mm = _size(blank, job)
        stock = replace(stock, blank_x_mm=x_mm, blank_y_mm=y_mm)
    if thickness is not None:
        stock = replace(stock, measured_mm=_length(thickness, "--thickness", job, most_mm=_THICKEST_MM))
    return replace(
        job, shelf=(), shelf_file="", stocks=tuple(stock if row.name == stock.name else row for row in job.stocks)
    )


def _size(text: str, job: Job) -> tuple[float, float]:
    parts = _BETWEEN.split(text.strip())
    if len(parts) != 2 or not all(parts):
        cure = 'write its size along X and along Y, such as 600,400 or "24 in x 16 in"'
        raise InputError(
            Fault(file="command line", place="--blank", problem=f"{shown(text)} is not the size of a blank", cure=cure)
        )
    bed = job.shop.machine.bed_mm
    x_mm, y_mm = (_length(part, "--blank", job, most_mm=most) for part, most in zip(parts, bed, strict=True))
    return x_mm, y_mm


def _length(text: str, option: str, job: Job, *, most_mm: float) -> float:
    try:
        return read_length(text, str(job.units), above_mm=0.0, most_mm=most_mm).mm
    except LengthError as error:
        raise InputError(Fault(file="command line", place=option, problem=error.problem, cure=error.cure)) from None


def _adapted(
    panels: Sequence[Panel], before: Compiled, after: Compiled, stock: Stock, units: str
) -> tuple[tuple[Panel, ...], tuple[str, ...], tuple[Finding, ...]]:
    """Return the panels in the new thickness, each with the recesses whose entering panel is recut too."""
    renewed = {panel.id: panel for panel in after.panels}
    ids = {panel.id for panel in panels}
    entering = {
        (joint.receiver, joint.feature): joint.entering for box in before.boxes for joint in box.joints if joint.feature
    }
    notes: list[str] = []

    def feature_of(panel: Panel, feature: Feature) -> Feature:
        if not isinstance(feature, Recess) or entering.get((panel.id, feature.name)) not in ids:
            return feature
        new = next((f for f in renewed[panel.id].features if isinstance(f, Recess) and f.name == feature.name), feature)
        old_mm, new_mm = _width(feature.outline), _width(new.outline)
        if abs(old_mm - new_mm) > POINT_MM:
            notes.append(
                f"{panel.id}: {feature.name} is {write_length(new_mm, units)} wide, was {write_length(old_mm, units)}"
            )
        return new

    adapted = tuple(
        with_thickness(
            replace(panel, features=tuple(feature_of(panel, item) for item in panel.features)), stock.thickness_mm
        )
        for panel in panels
    )
    found = tuple(item for box in before.boxes for item in _seats_kept(box, panels, stock, units))
    return adapted, tuple(notes), found


def _width(outline: Contour) -> float:
    x0, y0, x1, y1 = outline.bounds
    return min(x1 - x0, y1 - y0)


def _seats_kept(box: Box, panels: Sequence[Panel], stock: Stock, units: str) -> Iterator[Finding]:
    """Yield a finding for each recut panel that enters a recess that stays as it was cut."""
    recut = {panel.id: panel for panel in panels}
    for joint in box.joints:
        panel = recut.get(joint.entering)
        if panel is None or joint.receiver in recut or not joint.feature:
            continue
        more = stock.thickness_mm - panel.thickness_mm
        if abs(more) <= POINT_MM:
            continue
        how = "tighter" if more > 0 else "looser"
        message = (
            f"{panel.id} is {write_length(stock.thickness_mm, units)} thick and enters the {joint.feature} of "
            f"{joint.receiver}, which is cut for {write_length(panel.thickness_mm, units)}: "
            f"{write_length(abs(more), units)} {how} than meant"
        )
        yield finding("recut-seat", message, panel=panel.id)


def _room(job: Job, panels: Sequence[Panel], *, one_blank: bool) -> tuple[Finding, ...]:
    """Return errors for panels that do not go on the blank, or not on one of it."""
    nesting = lay_out(job, panels)
    found = tuple(item for item in nesting.findings if item.severity == "error")
    if one_blank and len(nesting.sheets) > 1:
        left = ", ".join(place.panel.id for sheet in nesting.sheets[1:] for place in sheet.placements)
        message = f"one blank of this size does not hold all panels: no room for {left}"
        found = (*found, finding("offcut-too-small", message))
    return found
