"""Builds the content of an output folder: runs the stages, keeps the clock, collects texts. Writes nothing itself."""

import hashlib
import json
import os
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass

from rabbetry import __version__
from rabbetry.feeds.model import FeedChoice
from rabbetry.findings import Finding, has_error
from rabbetry.job.model import Job
from rabbetry.manifest import (
    VERSION,
    BoundRow,
    FitRow,
    JobRow,
    Manifest,
    OffcutRow,
    PanelRow,
    ProgramRow,
    SheetRow,
    ToolRow,
    finding_row,
    manifest_text,
)
from rabbetry.page.dxf import sheet_dxf
from rabbetry.page.html import index_html
from rabbetry.page.labels import labels_html
from rabbetry.page.lists import cut_list_csv, edge_banding_csv, hardware_csv
from rabbetry.page.model import PageView, ProgramView, SheetView
from rabbetry.page.pictures import sheet_svg
from rabbetry.pipeline import (
    Compiled,
    PostText,
    ProvenSheet,
    compile_job,
    feeds_of,
    lay_out,
    plan_sheet,
    prove_sheet,
)
from rabbetry.sheets.model import Nesting, Sheet

try:
    import resource
except ImportError:  # a system without it: peak memory is then not told
    resource = None  # type: ignore[assignment]

Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """An output folder's content, all findings, and the closing summary."""

    content: dict[str, bytes]
    findings: tuple[Finding, ...]
    summary: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """Everything the stages made."""

    job: Job
    post: str
    compiled: Compiled
    nesting: Nesting
    proven: tuple[ProvenSheet, ...]

    @property
    def findings(self) -> tuple[Finding, ...]:
        found = (*self.compiled.findings, *self.nesting.findings, *(f for sheet in self.proven for f in sheet.findings))
        return tuple(dict.fromkeys(found))

    @property
    def sheets(self) -> tuple[tuple[Sheet, ProvenSheet | None], ...]:
        by_id = {item.planned.sheet: item for item in self.proven}
        return tuple((sheet, by_id.get(sheet.id)) for sheet in self.nesting.sheets)


class _Clock:
    """Seconds per stage, in order of the stages."""

    def __init__(self, tell: Tell) -> None:
        self.seconds: dict[str, float] = {}
        self._tell = tell

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        self._tell(name)
        start = time.perf_counter()
        yield
        self.seconds[name] = time.perf_counter() - start


def build_folder(job: Job, post: PostText, *, workers: int | None, tell: Tell) -> Built:
    """Run every stage and return the folder's content. `tell` hears the name of each stage as it begins.

    When the job itself has an error, no program is written at all: a half-right kitchen is not cut.
    """
    clock = _Clock(tell)
    post.read()
    with clock.stage("panels and fit"):
        compiled = compile_job(job)
    with clock.stage("sheets"):
        nesting = lay_out(job, compiled.panels)
    proven: tuple[ProvenSheet, ...] = ()
    if not has_error((*compiled.findings, *nesting.findings)):
        with clock.stage("programs and dry runs"):
            proven, split = _prove_all(nesting.sheets, job, post, workers=workers, tell=tell)
        clock.seconds |= split
    work = _Work(job=job, post=post.name, compiled=compiled, nesting=nesting, proven=proven)
    with clock.stage("page and lists"):
        content = _content(work)
    content["timings.json"] = _timings(clock.seconds)
    return Built(content=content, findings=work.findings, summary=_summary(work))


def _prove_all(
    sheets: Sequence[Sheet], job: Job, post: PostText, *, workers: int | None, tell: Tell
) -> tuple[tuple[ProvenSheet, ...], dict[str, float]]:
    count = min(workers or os.cpu_count() or 1, max(1, len(sheets)))
    proven: list[ProvenSheet] = []
    split = {"planning, all workers together": 0.0, "dry runs, all workers together": 0.0}
    for done, plan_s, prove_s in _results(sheets, job, post, count):
        proven.append(done)
        split["planning, all workers together"] += plan_s
        split["dry runs, all workers together"] += prove_s
        tell(f"programs and dry runs: {len(proven)} of {len(sheets)} sheets")
    return tuple(proven), split


def _results(
    sheets: Sequence[Sheet], job: Job, post: PostText, count: int
) -> Iterator[tuple[ProvenSheet, float, float]]:
    if count == 1:
        yield from (_plan_and_prove(sheet, job, post) for sheet in sheets)
        return
    with ProcessPoolExecutor(max_workers=count) as pool:
        yield from pool.map(_plan_and_prove, sheets, [job] * len(sheets), [post] * len(sheets))


def _plan_and_prove(sheet: Sheet, job: Job, post: PostText) -> tuple[ProvenSheet, float, float]:
    start = time.perf_counter()
    planned = plan_sheet(sheet, job, post)
    middle = time.perf_counter()
    return prove_sheet(planned), middle - start, time.perf_counter() - middle


def _content(work: _Work) -> dict[str, bytes]:
    job, compiled, nesting = work.job, work.compiled, work.nesting
    content: dict[str, bytes] = {}
    views = []
    for sheet, proven in work.sheets:
        order = _order_of_cuts(proven)
        picture = sheet_svg(
            sheet, clamps=job.shop.machine.clamps, order=order, units=job.units, title=f"{job.name}: {sheet.id}"
        )
        content[f"sheets/{sheet.id}.svg"] = picture.encode("utf-8")
        content[f"sheets/{sheet.id}.dxf"] = sheet_dxf(sheet).encode("utf-8")
        if proven is not None and proven.is_released:
            for program in proven.planned.programs:
                content[f"programs/{program.name}"] = program.text
                stem = program.name.rsplit(".", 1)[0]
                content[f"programs/{stem}.setup.json"] = program.setup
        views.append(SheetView(sheet=sheet, picture=picture, programs=_program_views(proven)))
    joints = tuple(joint for box in compiled.boxes for joint in box.joints)
    content["cut-list.csv"] = cut_list_csv(compiled.panels, nesting.sheets).encode("utf-8")
    content["hardware.csv"] = hardware_csv(compiled.boxes).encode("utf-8")
    content["edge-banding.csv"] = edge_banding_csv(compiled.panels).encode("utf-8")
    labels = labels_html(compiled.panels, nesting.sheets, joints, job_name=job.name, units=job.units)
    content["labels.html"] = labels.encode("utf-8")
    content["index.html"] = index_html(_page_view(work, tuple(views))).encode("utf-8")
    content["manifest.json"] = manifest_text(_manifest(work)).encode("utf-8")
    return content


def _order_of_cuts(proven: ProvenSheet | None) -> dict[str, int]:
    """Number the panels in the order in which their outlines are cut."""
    if proven is None:
        return {}
    profiles = [step.panel for step in proven.planned.operations if step.kind == "profile"]
    return {panel: number for number, panel in enumerate(dict.fromkeys(profiles), 1)}


def _program_views(proven: ProvenSheet | None) -> tuple[ProgramView, ...]:
    if proven is None or proven.run is None or not proven.is_released:
        return ()
    return tuple(
        ProgramView(
            file=f"programs/{program.name}",
            cutters=program.cutters,
            lines=report.lines,
            time_s=report.time_s,
            cut_mm=report.cut_mm,
            traverse_mm=report.traverse_mm,
            findings=report.findings,
        )
        for program, report in zip(proven.planned.programs, proven.run.programs, strict=True)
    )


def _page_view(work: _Work, views: tuple[SheetView, ...]) -> PageView:
    job = work.job
    used = {number for view in views for program in view.programs for number in program.cutters}
    return PageView(
        job_name=job.name,
        units=job.units,
        version=__version__,
        post=work.post,
        machine=job.shop.machine,
        ready=not has_error(work.findings),
        findings=work.findings,
        checks=work.compiled.checks,
        counts=work.nesting.counts,
        sheets=views,
        cutters=tuple(cutter for cutter in job.shop.cutters if cutter.number in used),
        feeds=_feeds_used(work, used),
        cabinets=work.compiled.cabinets,
        boxes=work.compiled.boxes,
        panels=work.compiled.panels,
        echoes=job.echoes,
    )


def _feeds_used(work: _Work, used: set[int]) -> tuple[FeedChoice, ...]:
    stocks = {sheet.stock for sheet in work.nesting.sheets}
    return tuple(
        row.choice
        for stock in work.job.stocks
        if stock.name in stocks
        for row in feeds_of(work.job, stock)
        if row.choice.cutter in used
    )


def _manifest(work: _Work) -> Manifest:
    job = work.job
    of_programs = {f for sheet in work.proven if sheet.run is not None for f in sheet.run.findings}
    general = [item for item in work.findings if item not in of_programs or not _is_shipped(work, item)]
    fit = [item for item in work.compiled.findings if item.code.startswith("fit-")]
    return Manifest(
        job=JobRow(
            name=job.name,
            file=job.file,
            units=job.units.value,
            machine=job.shop.machine.name,
            post=work.post,
            ready=not has_error(work.findings),
            findings=tuple(finding_row(item) for item in general if item not in fit),
        ),
        tool=ToolRow(name="rabbetry", version=__version__, manifest_version=VERSION),
        panels=_panel_rows(work),
        sheets=tuple(_sheet_row(sheet) for sheet in work.nesting.sheets),
        bounds={
            count.stock: BoundRow(sheets=count.sheets, lower_bound=count.lower_bound, grain_cost=count.grain_cost)
            for count in work.nesting.counts
        },
        programs=_program_rows(work),
        fit=FitRow(checks=work.compiled.checks, findings=tuple(finding_row(item) for item in fit)),
    )


def _is_shipped(work: _Work, item: Finding) -> bool:
    """Whether a dry run's finding stands beside a released program; those of others are told with the job."""
    return any(
        proven.is_released and proven.run is not None and any(item in report.findings for report in proven.run.programs)
        for proven in work.proven
    )


def _panel_rows(work: _Work) -> tuple[PanelRow, ...]:
    placed = {place.panel.id: (sheet.id, place) for sheet in work.nesting.sheets for place in sheet.placements}
    rows = []
    for panel in work.compiled.panels:
        sheet, place = placed.get(panel.id, ("", None))
        rows.append(
            PanelRow(
                id=panel.id,
                cabinet=panel.cabinet,
                role=panel.role,
                stock=panel.stock,
                thickness_mm=_mm(panel.thickness_mm),
                length_mm=_mm(panel.length_mm),
                width_mm=_mm(panel.width_mm),
                grain=panel.grain.value,
                sheet=sheet,
                x_mm=_mm(place.x_mm) if place else 0.0,
                y_mm=_mm(place.y_mm) if place else 0.0,
                rotation_deg=place.rotation_deg if place else 0,
                faces_machined=(panel.face_up,),
            )
        )
    return tuple(rows)


def _sheet_row(sheet: Sheet) -> SheetRow:
    return SheetRow(
        id=sheet.id,
        stock=sheet.stock,
        thickness_mm=_mm(sheet.thickness_mm),
        blank_mm=(_mm(sheet.blank_x_mm), _mm(sheet.blank_y_mm)),
        utilisation=round(sheet.utilisation, 4),
        offcuts=tuple(
            OffcutRow(
                x_mm=_mm(offcut.x_mm),
                y_mm=_mm(offcut.y_mm),
                length_x_mm=_mm(offcut.length_x_mm),
                length_y_mm=_mm(offcut.length_y_mm),
            )
            for offcut in sheet.offcuts
        ),
    )


def _program_rows(work: _Work) -> tuple[ProgramRow, ...]:
    rows = []
    for sheet, proven in work.sheets:
        if proven is None or proven.run is None or not proven.is_released:
            continue
        for program, report in zip(proven.planned.programs, proven.run.programs, strict=True):
            rows.append(
                ProgramRow(
                    file=f"programs/{program.name}",
                    sheet=sheet.id,
                    cutters=program.cutters,
                    post=work.post,
                    sha256=hashlib.sha256(program.text).hexdigest(),
                    lines=report.lines,
                    time_s=round(report.time_s, 1),
                    cut_mm=_mm(report.cut_mm),
                    traverse_mm=_mm(report.traverse_mm),
                    findings=tuple(finding_row(item) for item in report.findings),
                )
            )
    return tuple(rows)


def _mm(value: float) -> float:
    return round(value, 3) + 0.0


def _timings(seconds: dict[str, float]) -> bytes:
    told: dict[str, object] = {"seconds": {name: round(value, 3) for name, value in seconds.items()}}
    if resource is not None:
        scale = 1 if sys.platform == "darwin" else 1024
        told["peak_memory_bytes"] = {
            "main process": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * scale,
            "largest worker": resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * scale,
        }
    return (json.dumps(told, indent=1) + "\n").encode("utf-8")


def _summary(work: _Work) -> tuple[str, ...]:
    job, rows = work.job, _program_rows(work)
    lines = [f"{job.name}: {len(work.compiled.boxes)} boxes, {len(work.compiled.panels)} panels"]
    for count in work.nesting.counts:
        proof = "proven least" if count.sheets == count.lower_bound else f"proven at least {count.lower_bound}"
        lines.append(f"  {count.stock}: {count.sheets} blanks ({proof})")
    total_s = sum(row.time_s for row in rows)
    lines.append(
        f"  {len(rows)} programs, {sum(row.lines for row in rows)} lines, machine time "
        f"{total_s // 3600:.0f} h {total_s % 3600 / 60:.0f} min"
    )
    tally = {s: sum(item.severity == s for item in work.findings) for s in ("error", "warning", "note")}
    lines.append(f"  {tally['error']} errors, {tally['warning']} warnings, {tally['note']} notes")
    held = [item.planned.sheet for item in work.proven if not item.is_released]
    if held:
        lines.append(f"  NOT RELEASED: {', '.join(held)}")
    elif has_error(work.findings):
        lines.append("  NOT READY: the job has errors, so no program was written")
    return tuple(lines)
