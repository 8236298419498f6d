"""What an output folder holds: programs, setups, pictures, drawings, lists, the page and the manifest, from what the
stages made. Texts and bytes; writes nothing itself.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass

from rabbetry import __version__
from rabbetry.drawing import Drawn, drawn_for, panel_file
from rabbetry.dryrun.report import ProgramReport
from rabbetry.errors import Fault, InputError
from rabbetry.feeds.model import FeedChoice, Wear
from rabbetry.feeds.wear import wear, wear_findings
from rabbetry.findings import Finding, has_error
from rabbetry.fit.assemble import assemble
from rabbetry.fit.sequence import assembly_of
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
from rabbetry.page.buying import breakdown_csv, buying_csv
from rabbetry.page.html import index_html
from rabbetry.page.label_sheets import STICKY
from rabbetry.page.labels import labels_html
from rabbetry.page.lists import cut_list_csv, edge_banding_csv, hardware_csv
from rabbetry.page.model import PageView, ProgramView, RunView, SheetView
from rabbetry.page.run_elevation import run_svg
from rabbetry.page.setup_sheets import setup_sheets_html
from rabbetry.page.solid_lists import solid_parts_csv, solid_totals_csv
from rabbetry.page.totals import banding_totals_csv, bands, grouped_cut_list_csv, hardware_totals_csv
from rabbetry.pipeline import Compiled, Program, ProvenSheet, feeds_of
from rabbetry.sheets.model import Nesting, Sheet
from rabbetry.shelf import shelf_after


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """Everything the stages made."""

    job: Job
    post: str
    fingerprint: str
    """Of the job with its tables, and the post."""
    compiled: Compiled
    nesting: Nesting
    proven: tuple[ProvenSheet, ...]
    drawn: tuple[Drawn, ...]
    """One for each sheet of the nesting, in its order."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        found = (*self.compiled.findings, *self.nesting.findings, *(f for sheet in self.proven for f in sheet.findings))
        return tuple(dict.fromkeys((*found, *wear_findings(self.wear))))

    @property
    def wear(self) -> tuple[Wear, ...]:
        """How far each cutter goes in the programs as they are run one after the other."""
        reports = (report for sheet in self.proven for _, report in self.released(sheet))
        return wear([(report.name, report.in_wood_mm) for report in reports], self.job.shop.cutters)

    @property
    def sheets(self) -> tuple[tuple[Sheet, ProvenSheet | None, Drawn], ...]:
        proven = self.proven or (None,) * len(self.nesting.sheets)
        return tuple(zip(self.nesting.sheets, proven, self.drawn, strict=True))

    def released(self, proven: ProvenSheet | None) -> tuple[tuple[Program, ProgramReport], ...]:
        """Return the programs of a sheet that may be handed over, each with its dry run.

        A sheet with any error hands over none of its programs. A job that cannot be planned whole hands over none at
        all: a half-right kitchen is not cut.
        """
        if proven is None or proven.run is None or has_error(proven.findings):
            return ()
        if any(has_error(item.planned.findings) for item in self.proven):
            return ()
        return tuple(zip(proven.planned.programs, proven.run.programs, strict=True))


def folder_content(work: Work) -> dict[str, bytes]:
    """Return every file but the timings: name relative to the folder, and bytes."""
    job, compiled, nesting = work.job, work.compiled, work.nesting
    content: dict[str, bytes] = {}
    views = []
    for _, proven, drawn in work.sheets:
        content |= drawn.files
        for program, _ in work.released(proven):
            if f"programs/{program.name}" in content:
                raise _same_name(program.name, work.post)
            content[f"programs/{program.name}"] = program.text
            stem = program.name.rsplit(".", 1)[0]
            content[f"programs/{stem}.setup.json"] = program.setup
        programs = _program_views(work, proven, drawn)
        for drawn_view in drawn.views:
            own = {f"programs/{name}" for name in drawn_view.programs}
            views.append(
                SheetView(
                    sheet=drawn_view.view,
                    picture=drawn_view.picture,
                    programs=tuple(program for program in programs if program.file in own),
                    playback=drawn_view.playback,
                    program_names=drawn_view.programs,
                    cut_picture=drawn_view.cut_picture,
                    screws=drawn_view.screws,
                )
            )
    joints = tuple(joint for box in compiled.boxes for joint in box.joints)
    content["cut-list.csv"] = cut_list_csv(compiled.panels, nesting.sheets).encode("utf-8")
    content["hardware.csv"] = hardware_csv(compiled.boxes).encode("utf-8")
    content["edge-banding.csv"] = edge_banding_csv(compiled.panels, allowance_mm=job.banding_allowance_mm).encode(
        "utf-8"
    )
    banding = bands(compiled.panels, allowance_mm=job.banding_allowance_mm, waste_percent=job.banding_waste_percent)
    content["cut-list-grouped.csv"] = grouped_cut_list_csv(compiled.panels).encode("utf-8")
    content["hardware-totals.csv"] = hardware_totals_csv(compiled.boxes).encode("utf-8")
    content["edge-banding-totals.csv"] = banding_totals_csv(banding).encode("utf-8")
    faced = compiled.faced
    for file, parts in (("frame-parts.csv", faced.frame_parts), ("front-parts.csv", faced.front_parts)):
        if parts:
            content[file] = solid_parts_csv(parts).encode("utf-8")
            content["solid-totals.csv"] = solid_totals_csv(faced).encode("utf-8")
    for form in (None, *STICKY[job.units]):
        labels = labels_html(compiled.panels, nesting.sheets, joints, job_name=job.name, units=job.units, form=form)
        content[form.file if form else "labels.html"] = labels.encode("utf-8")
    if nesting.breakdowns:
        content["buying.csv"] = buying_csv(nesting.breakdowns).encode("utf-8")
        content["break-down.csv"] = breakdown_csv(nesting.breakdowns).encode("utf-8")
    if job.shelf_file:
        content["offcuts.toml"] = shelf_after(job, nesting).encode("utf-8")
    runs = _run_views(work)
    content |= {view.file: view.picture.encode("utf-8") for view in runs}
    page = _page_view(work, tuple(views), runs)
    content["index.html"] = index_html(page).encode("utf-8")
    content["setup-sheets.html"] = setup_sheets_html(page).encode("utf-8")
    content["manifest.json"] = manifest_text(_manifest(work, content)).encode("utf-8")
    return content


def _same_name(name: str, post: str) -> InputError:
    problem = f"two programs would both be called {name}"
    return InputError(Fault(file=f"post {post}", place="name_length", problem=problem, cure="rename one of the stocks"))


def _program_views(work: Work, proven: ProvenSheet | None, drawn: Drawn) -> tuple[ProgramView, ...]:
    return tuple(
        ProgramView(
            file=f"programs/{program.name}",
            kind=program.kind,
            fingerprint=program.fingerprint,
            cutters=program.cutters,
            lines=report.lines,
            time_s=report.time_s,
            cut_mm=report.cut_mm,
            traverse_mm=report.traverse_mm,
            findings=report.findings,
            watch=drawn.watches.get(program.name),
        )
        for program, report in work.released(proven)
    )


def _run_views(work: Work) -> tuple[RunView, ...]:
    faced = work.compiled.faced
    kicks = [panel for panel in work.compiled.panels if panel.role in ("kick board", "valance")]
    return tuple(
        RunView(run=run, picture=run_svg(run, faced.frames, kicks, units=work.job.units), file=f"runs/run-{number}.svg")
        for number, run in enumerate(faced.runs, start=1)
    )


def _drawings(work: Work, ending: str) -> dict[str, str]:
    """Return where each panel's drawing lies."""
    drawn = drawn_for(work.nesting.sheets)
    return {name: panel_file(first, ending=ending) for first, names in drawn.items() for name in names}


def _page_view(work: Work, views: tuple[SheetView, ...], runs: tuple[RunView, ...]) -> PageView:
    job = work.job
    used = {number for view in views for program in view.programs for number in program.cutters}
    return PageView(
        job_name=job.name,
        units=job.units,
        version=__version__,
        post=work.post,
        fingerprint=work.fingerprint,
        machine=job.shop.machine,
        ready=not has_error(work.findings),
        findings=work.findings,
        checks=work.compiled.checks,
        counts=work.nesting.counts,
        sheets=views,
        cutters=tuple(cutter for cutter in job.shop.cutters if cutter.number in used),
        feeds=_feeds_used(work, used),
        wear=work.wear,
        cabinets=work.compiled.cabinets,
        boxes=work.compiled.boxes,
        panels=work.compiled.panels,
        banding_allowance_mm=job.banding_allowance_mm,
        banding_waste_percent=job.banding_waste_percent,
        assemblies=tuple(assembly_of(box, assemble(box)) for box in work.compiled.boxes),
        breakdowns=work.nesting.breakdowns,
        runs=runs,
        faced=work.compiled.faced,
        echoes=job.echoes,
        drawings={
            name: panel_file(first, ending="svg")
            for first, names in drawn_for(work.nesting.sheets).items()
            for name in names
        },
    )


def _feeds_used(work: Work, used: set[int]) -> tuple[FeedChoice, ...]:
    stocks = {sheet.stock for sheet in work.nesting.sheets}
    return tuple(
        row.choice
        for stock in work.job.stocks
        if stock.name in stocks
        for row in feeds_of(work.job, stock)
        if row.choice.cutter in used
    )


def _manifest(work: Work, content: Mapping[str, bytes]) -> Manifest:
    job = work.job
    beside_programs = {f for proven in work.proven for _, report in work.released(proven) for f in report.findings}
    general = [item for item in work.findings if item not in beside_programs]
    fit = [item for item in work.compiled.findings if item.code.startswith("fit-")]
    return Manifest(
        job=JobRow(
            name=job.name,
            file=job.file,
            units=job.units.value,
            machine=job.shop.machine.name,
            post=work.post,
            fingerprint=work.fingerprint,
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
        programs=program_rows(work),
        fit=FitRow(checks=work.compiled.checks, findings=tuple(finding_row(item) for item in fit)),
        files={name: hashlib.sha256(content[name]).hexdigest() for name in sorted(content)},
    )


def _panel_rows(work: Work) -> tuple[PanelRow, ...]:
    placed = {place.panel.id: (sheet.id, place) for sheet in work.nesting.sheets for place in sheet.placements}
    drawings = _drawings(work, "dxf")
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
                faces_machined=panel.faces_in_order,
                drawing=drawings.get(panel.id, ""),
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
        offcut=sheet.offcut,
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


def program_rows(work: Work) -> tuple[ProgramRow, ...]:
    """Return the manifest's rows of the released programs, in order of sheets and running."""
    rows = []
    for sheet, proven, _ in work.sheets:
        for program, report in work.released(proven):
            rows.append(
                ProgramRow(
                    file=f"programs/{program.name}",
                    kind=program.kind,
                    sheet=sheet.id,
                    cutters=program.cutters,
                    post=work.post,
                    fingerprint=program.fingerprint,
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
