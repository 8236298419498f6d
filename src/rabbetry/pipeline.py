"""The whole road in one place: job -> cabinets -> panels -> fit -> sheets -> operations -> motions -> text -> dry run.

Values in, values out; the clock and the files belong to `build` and `files`. A worker process runs `plan_sheet` and
`prove_sheet`.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from rabbetry.cabinets.model import Cabinet
from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.drawings.take import with_drawings
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.dryrun.report import DryRun
from rabbetry.errors import Fault, InputError
from rabbetry.feeds.choose import choose_feed
from rabbetry.feeds.model import FeedChoice
from rabbetry.findings import Finding, finding, has_error
from rabbetry.fit.checks import check_corner_fit, check_fit, check_ladder_fit, check_part
from rabbetry.fit.sag import check_sag, sag_not_judged
from rabbetry.hold_downs import plan_hold_down, with_heads
from rabbetry.job.findings import job_findings
from rabbetry.job.model import Job, Stock
from rabbetry.job.read import read_job, read_overrides
from rabbetry.motions.air import plan_air_run
from rabbetry.motions.model import PlanKind
from rabbetry.motions.plan import plan_motions
from rabbetry.operations.choose import choose_profile_cutter
from rabbetry.operations.model import Operation
from rabbetry.operations.plan import plan_operations
from rabbetry.panels.compile import compile_cabinet, compile_corner, compile_ladder, compile_part
from rabbetry.panels.kick import kick_panel
from rabbetry.panels.model import Box, Panel
from rabbetry.panels.vents import with_vents
from rabbetry.post.capabilities import Post, read_post
from rabbetry.post.render import ProgramFile, render_programs
from rabbetry.runs.face import face_job
from rabbetry.runs.model import Faced
from rabbetry.setup.write import Controller, write_setup
from rabbetry.sheets.breakdown import break_down
from rabbetry.sheets.faces import check_faces, side_views
from rabbetry.sheets.model import Nesting, Sheet
from rabbetry.sheets.nest import nest
from rabbetry.sheets.spacing import settle_spacing
from rabbetry.shop.model import Clamp
from rabbetry.shop.read import read_tables


@dataclass(frozen=True, slots=True, kw_only=True)
class PostText:
    """A post as read from disk, so that it can travel to a worker process."""

    name: str
    toml: str
    template: str

    def read(self) -> Post:
        return _read_post(self)


@lru_cache(maxsize=4)
def _read_post(text: PostText) -> Post:
    """Read a post once a process: a job's sheets all take the same."""
    return read_post(text.name, text.toml, text.template)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compiled:
    """The job's boxes put together and checked, before any sheet is touched."""

    cabinets: tuple[Cabinet, ...]
    boxes: tuple[Box, ...]
    panels: tuple[Panel, ...]
    checks: int
    findings: tuple[Finding, ...]
    faced: Faced = field(default_factory=Faced)


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedRow:
    """Speed and feed of one cutter in one stock, with what was found."""

    choice: FeedChoice
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Program:
    """A program's bytes and those of its setup file."""

    name: str
    text: bytes
    setup: bytes
    cutters: tuple[int, ...]
    fingerprint: str
    side: int = 0
    """1 or 2 on a blank that is flipped, else 0."""
    kind: PlanKind = "cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedSheet:
    """One sheet's programs before anybody has read them; none when planning found an error."""

    sheet: str
    operations: tuple[Operation, ...]
    programs: tuple[Program, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProvenSheet:
    """A planned sheet and what the dry run of its programs says."""

    planned: PlannedSheet
    run: DryRun | None
    findings: tuple[Finding, ...]
    """Findings of planning and of the dry run, together."""


def load_job(
    text: str,
    *,
    file: str,
    tables: Mapping[str, str],
    own_tables: Mapping[str, str],
    floors: Mapping[str, str] | None = None,
    drawings: Mapping[str, bytes] | None = None,
) -> Job:
    """Read the job over the shop's tables and the job's own, with the measurement files (`floors`) and the drawings
    that it names. Raises InputError with the faults of all at once."""
    faults: list[Fault] = []
    overrides = read_overrides(text, file=file)
    try:
        rows = read_tables(tables, own=own_tables, overrides=overrides, file=file)
    except InputError as error:
        # Read the job all the same, over the package's own tables, so that its faults are told in the same run.
        faults.extend(error.faults)
        rows = read_tables(tables)
    try:
        job = read_job(text, file=file, tables=rows, floors=floors)
    except InputError as error:
        faults.extend(fault for fault in error.faults if fault not in faults)
        raise InputError(*faults) from None
    if faults:
        raise InputError(*faults)
    return with_drawings(job, drawings or {})


def compile_job(job: Job) -> Compiled:
    """Settle the cabinets, compile their panels and prove the fit."""
    resolved = resolve_cabinets(job)
    faced, run_told = face_job(job, resolved)
    boxes = tuple(compile_cabinet(cabinet) for cabinet in resolved.cabinets)
    boxes += tuple(compile_corner(corner) for corner in resolved.corners)
    boxes += tuple(compile_ladder(ladder) for ladder in resolved.ladders)
    loose = tuple(compile_part(part) for part in resolved.parts)
    loose += tuple(kick_panel(piece, str(job.units)) for piece in resolved.kicks)
    # Vents before the fit is proven: what they cut away is part of the box.
    refused = _refused(job, (*(panel for box in boxes for panel in box.panels), *loose), resolved.findings)
    boxes, loose, vents_told = with_vents(boxes, loose, job.vents, str(job.units), refused=refused)
    cased = tuple(zip(resolved.cabinets, boxes, strict=False))
    reports = [check_fit(cabinet, box) for cabinet, box in cased]
    first_ladder = len(boxes) - len(resolved.ladders)
    cornered = tuple(zip(resolved.corners, boxes[len(resolved.cabinets) : first_ladder], strict=True))
    reports += [check_corner_fit(corner, box) for corner, box in cornered]
    ladders = zip(resolved.ladders, boxes[first_ladder:], strict=True)
    reports += [check_ladder_fit(ladder, box) for ladder, box in ladders]
    reports += [check_part(panel) for panel in loose]
    panels = (*(panel for box in boxes for panel in box.panels), *loose)
    fit_told = tuple(item for report in reports for item in report.findings)
    sagging = (f for cabinet, box in cased for f in check_sag(cabinet, box, job))
    not_judged = (f for corner, box in cornered for f in sag_not_judged(corner, box))
    found = (*job_findings(job), *resolved.findings, *run_told, *vents_told, *fit_told, *sagging, *not_judged)
    return Compiled(
        cabinets=resolved.cabinets,
        boxes=boxes,
        panels=panels,
        checks=sum(report.checks for report in reports),
        findings=found,
        faced=faced,
    )


def _refused(job: Job, made: Sequence[Panel], found: Sequence[Finding]) -> tuple[str, ...]:
    """Return the names of what was ordered and has no panel because of an error."""
    names = [order.name for order in job.cabinets] + [order.name for order in job.corners]
    names += [order.name for order in job.ladders] + [order.name for order in job.kicks]
    if not has_error(found):
        return ()
    return tuple(name for name in names if not any(panel.id.startswith(name) for panel in made))


def feeds_of(job: Job, stock: Stock) -> tuple[FeedRow, ...]:
    """Choose speed and feed of every cutter in one stock, in order of cutter number."""
    rows = []
    for cutter in job.shop.cutters:
        advice = choose_feed(
            cutter,
            stock_name=stock.name,
            material=job.shop.material(stock.material),
            chip_loads=job.shop.chip_loads,
            machine=job.shop.machine,
            thickness_mm=stock.thickness_mm,
            tunings=job.shop.tunings,
        )
        rows.append(FeedRow(choice=advice.choice, findings=advice.findings))
    return tuple(rows)


def lay_out(job: Job, panels: Sequence[Panel], *, tied: Collection[str] = frozenset()) -> Nesting:
    """Place the panels on blanks, each stock with the spacing that its profile cutter needs."""
    spacing: dict[str, float] = {}
    found: list[Finding] = []
    used = {panel.stock for panel in panels}
    for stock in job.stocks:
        if stock.name not in used:
            continue
        cutter = choose_profile_cutter(job.shop, job.cutting, stock.thickness_mm)
        if cutter is None:
            found.append(
                finding(
                    "no-profile-cutter",
                    f'stock "{stock.name}", {stock.thickness_mm:g} mm thick: no loaded end mill can cut right '
                    "through it; load one with longer flutes",
                )
            )
            continue
        spacing[stock.name], told = settle_spacing(job.cutting, cutter.cut_diameter_mm)
        found.extend(told)
    found.extend(check_faces(panels, job.cutting))
    placeable = tuple(panel for panel in panels if panel.stock in spacing)
    nesting = nest(placeable, job=job, spacing_mm=spacing, tied=tied)
    return Nesting(sheets=nesting.sheets, counts=nesting.counts, findings=(*dict.fromkeys(found), *nesting.findings))


def with_breakdown(nesting: Nesting, job: Job) -> Nesting:
    """Add how the blanks come from full sheets, and what the saw takes from them."""
    breakdowns, found = break_down(nesting, job)
    return replace(nesting, breakdowns=breakdowns, findings=(*nesting.findings, *found))


def plan_sheet(sheet: Sheet, job: Job, post_text: PostText) -> PlannedSheet:
    """Plan one sheet's operations and motions and write its programs and setup files: for both set-ups of a sheet that
    is flipped, one after the other."""
    post = post_text.read()
    sides = tuple(_plan_side(view, job, post) for view in side_views(sheet))
    operations = tuple(operation for side in sides for operation in side.operations)
    found = tuple(dict.fromkeys(item for side in sides for item in side.findings))
    if has_error(found):
        return PlannedSheet(sheet=sheet.id, operations=operations, programs=(), findings=found)
    names = tuple(file.name for side in sides for file in side.files if file.kind != "air run")
    first = tuple(file.name for file in sides[0].files if file.name in names) if len(sides) > 1 else ()
    programs = tuple(
        Program(
            name=file.name,
            text=file.text.encode("ascii"),
            setup=setup.encode("utf-8"),
            cutters=file.cutters,
            fingerprint=file.fingerprint,
            side=side.view.side,
            kind=file.kind,
        )
        for side in sides
        for file, setup in zip(side.files, _setups(side, job, post, names, first), strict=True)
    )
    return PlannedSheet(sheet=sheet.id, operations=operations, programs=programs, findings=found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _PlannedSide:
    """One set-up of a sheet: its view, operations and program texts; no texts when planning found an error."""

    view: Sheet
    operations: tuple[Operation, ...]
    files: tuple[ProgramFile, ...]
    findings: tuple[Finding, ...]
    heads: tuple[Clamp, ...]


def _plan_side(view: Sheet, job: Job, post: Post) -> _PlannedSide:
    rows = feeds_of(job, job.stock(view.stock))
    feeds = {row.choice.cutter: row.choice for row in rows}
    held = plan_hold_down(view, job, feeds)
    job = with_heads(job, held.heads)
    planned = plan_operations(view, shop=job.shop, cutting=job.cutting, feeds=feeds)
    operations = planned.plan.operations
    used = {operation.cutter.number for operation in operations}
    found = [*held.findings, *planned.findings]
    found += [item for row in rows if row.choice.cutter in used for item in row.findings]
    files: tuple[ProgramFile, ...] = ()
    if not has_error(found):
        motions = plan_motions(planned.plan, sheet=view, machine=job.shop.machine, job_name=job.name)
        found.extend(motions.findings)
        if not has_error(motions.findings):
            plans = [plan for plan in (held.plan, motions.plan) if plan is not None]
            if post.knows_air_runs:
                air = plan_air_run(motions.plan, sheet=view, machine=job.shop.machine, before=held.plan)
                plans = [air, *plans] if air is not None else plans
            files = tuple(file for plan in plans for file in render_programs(plan, post))
    return _PlannedSide(view=view, operations=operations, files=files, findings=tuple(found), heads=held.heads)


def prove_sheet(planned: PlannedSheet) -> ProvenSheet:
    """Dry-run the very text of a sheet's programs against their setup files, and nothing else: the air runs each by
    itself, all others together."""
    if not planned.programs:
        return ProvenSheet(planned=planned, run=None, findings=planned.findings)
    run = dry_run([_read_back(program) for program in planned.programs if program.kind != "air run"])
    apart = [dry_run([_read_back(program)]) for program in planned.programs if program.kind == "air run"]
    reports = {report.name: report for item in (run, *apart) for report in item.programs}
    in_order = tuple(reports[program.name] for program in planned.programs)
    told = tuple(item for report in in_order for item in report.findings)
    run = replace(run, programs=in_order, findings=told)
    return ProvenSheet(planned=planned, run=run, findings=(*planned.findings, *told))


def _read_back(program: Program) -> tuple[ProgramText, str]:
    return ProgramText(name=program.name, text=program.text.decode("ascii")), program.setup.decode("utf-8")


def _setups(
    side: _PlannedSide, job: Job, post: Post, programs: tuple[str, ...], first_side: tuple[str, ...]
) -> tuple[str, ...]:
    controller = Controller(
        post=post.name,
        dialect=post.dialect,
        allowed_words=post.allowed_words,
        line_limit=post.line_limit,
        work_offset=post.work_offset,
        dwell_unit_s=post.dwell_unit_s,
        spindle_by_hand=post.spindle == "hand",
        spindle_reversed=post.spindle == "reversed",
        changes_at_stop=post.tool_change == "pause",
    )
    return tuple(
        write_setup(
            side.view,
            job=job if file.kind == "hold-down" else with_heads(job, side.heads),
            program=file.name,
            programs=programs if file.kind != "air run" else (file.name,),
            air_run=file.kind == "air run",
            controller=controller,
            loaded=file.cutters,
            first_side=first_side,
        )
        for file in side.files
    )
