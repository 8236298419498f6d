"""The dry run of a sheet: reads the text of its programs, follows the cutters, and judges what they do and what they
leave.

Knows only the texts and their setups. What was removed adds up through the programs in running order; what is left is
judged after the last one.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from rabbetry.dryrun.air import check_air_run
from rabbetry.dryrun.band import time_band
from rabbetry.dryrun.blank import check_cuts, check_parts
from rabbetry.dryrun.changes import check_changes
from rabbetry.dryrun.clamps import check_clamps
from rabbetry.dryrun.cutters import check_cutters, first_cutter
from rabbetry.dryrun.cutting import check_depths, check_passes, engagement
from rabbetry.dryrun.dialects import DIALECTS
from rabbetry.dryrun.envelope import check_envelope
from rabbetry.dryrun.evidence import Evidence, Zone
from rabbetry.dryrun.floor import Floors
from rabbetry.dryrun.freeing import check_freeing
from rabbetry.dryrun.holding import check_holding
from rabbetry.dryrun.in_wood import lengths_in_wood
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import NO_POINT, Context, ProgramText
from rabbetry.dryrun.order import check_order
from rabbetry.dryrun.removal import check_bores, check_gouges, check_recesses
from rabbetry.dryrun.report import DryRun, ProgramReport
from rabbetry.dryrun.sense import check_dwells, check_sense
from rabbetry.dryrun.sequence import check_compression, check_sequence
from rabbetry.dryrun.setup import Setup
from rabbetry.dryrun.setup_read import OFFSET_WORDS, read_setup
from rabbetry.dryrun.side import Run, Side
from rabbetry.dryrun.strokes import start_mm, strokes_of
from rabbetry.dryrun.sweep import Sweeps
from rabbetry.dryrun.target import PanelTarget, panel_target
from rabbetry.dryrun.timing import Rates, lengths
from rabbetry.dryrun.tolerances import MOST_OF_A_CODE
from rabbetry.dryrun.two_faces import check_two_faces
from rabbetry.errors import Fault, InputError
from rabbetry.findings import Finding, finding


def dry_run(programs: Sequence[tuple[ProgramText, str]]) -> DryRun:
    """Return the dry run of all programs of one sheet, in running order, each with the text of its setup file.

    Never raises for any program text. Raises InputError for a setup that is wrong, with all faults of all setups.
    """
    if not programs:
        return DryRun(programs=(), findings=())
    setups, targets = _read_setups(programs)
    sides = [_read_side(programs, setups, side, targets[side]) for side in sorted(targets)]
    runs = [run for side in sides for run in side.runs]
    found = [list(_check_program(run)) for run in runs]
    names = tuple(run.program.name for run in runs)
    for item in (*_check_sheets(sides), *_check_order_of_sides(programs, setups)):
        found[names.index(item.where.file) if item.where.file in names else -1].append(item)
    reports = tuple(_report(run, items) for run, items in zip(runs, found, strict=True))
    return DryRun(
        programs=reports,
        findings=tuple(item for report in reports for item in report.findings),
        height_picture=sides[-1].height_picture,
        first_face_picture=sides[0].height_picture if len(sides) > 1 else "",
    )


def _read_setups(
    programs: Sequence[tuple[ProgramText, str]],
) -> tuple[list[Setup], dict[int, list[PanelTarget]]]:
    """Return the setups, and the target of each side: that of its last one."""
    setups: list[Setup] = []
    faults: list[Fault] = []
    for program, text in programs:
        try:
            setups.append(read_setup(text, file=_setup_file(program)))
        except InputError as error:
            faults.extend(error.faults)
    targets: dict[int, list[PanelTarget]] = {}
    if not faults:
        last = {setup.side: (program, setup) for (program, _), setup in zip(programs, setups, strict=True)}
        for side, (program, setup) in last.items():
            file = _setup_file(program)
            targets[side] = [panel_target(panel, file=file, faults=faults) for panel in setup.panels]
    if faults:
        raise InputError(*faults)
    return setups, targets


def _setup_file(program: ProgramText) -> str:
    stem, dot, _ = program.name.rpartition(".")
    return (stem if dot else program.name) + ".setup.json"


def _read(place: int, program: ProgramText, setup: Setup) -> Run:
    dialect = replace(
        DIALECTS[setup.dialect],
        allowed_words=setup.allowed_words,
        dwell_unit_s=setup.dwell_unit_s,
        changes_at_stop=setup.changes_at_stop,
    )
    if setup.line_limit is not None:
        dialect = replace(dialect, line_length=setup.line_limit - 1)  # The limit counts the line's end.
    offsets = [NO_POINT] * len(OFFSET_WORDS)
    offsets[OFFSET_WORDS.index(setup.work_offset_word or OFFSET_WORDS[0])] = setup.work_offset_mm or NO_POINT
    context = Context(
        work_offsets_mm=tuple(offsets), start_mm=start_mm(setup), home_mm=setup.machine.home_mm or NO_POINT
    )
    reading = read_program(program, dialect, context)
    cutter = first_cutter(program, reading.events, setup)
    strokes = tuple(strokes_of(reading.events, setup, program=place, cutter=cutter))
    return Run(program=program, setup=setup, reading=reading, strokes=strokes)


def _check_program(run: Run) -> Iterator[Finding]:
    """Yield the findings of one program for itself."""
    events, setup, name = run.reading.events, run.setup, run.program.name
    yield from run.reading.findings
    yield from check_cutters(run.program, events, setup)
    yield from check_changes(run.program, events)
    yield from check_order(events, setup, name)
    yield from check_air_run(events, setup, name)
    yield from check_envelope(run.program, events, setup)
    yield from check_depths(run.strokes, setup, name)
    yield from check_dwells(events, setup, name)
    yield from check_cuts(run.strokes, setup, name)
    yield from check_clamps(run.strokes, setup, name)


def _read_side(
    programs: Sequence[tuple[ProgramText, str]], setups: Sequence[Setup], side: int, targets: list[PanelTarget]
) -> Side:
    """Read the programs of one side of a blank, the only one there is where it is not flipped."""
    own = [(program, setup) for (program, _), setup in zip(programs, setups, strict=True) if setup.side == side]
    runs = tuple(_read(place, program, setup) for place, (program, setup) in enumerate(own))
    setup = runs[-1].setup
    sweeps = Sweeps((stroke for run in runs for stroke in run.strokes), setup.stock_top_z_mm)
    evidence = Evidence(
        setup=setup,
        programs=tuple(run.program.name for run in runs),
        sweeps=sweeps,
        floors=Floors(sweeps, setup.stock_top_z_mm),
    )
    return Side(runs=runs, targets=tuple(targets), evidence=evidence)


def _check_sheets(sides: Sequence[Side]) -> Iterator[Finding]:
    """Yield the findings of each side by itself, and of both together."""
    for side in sides:
        yield from _check_sheet(side)
    yield from check_two_faces(sides)


def _check_sheet(side: Side) -> Iterator[Finding]:
    """Yield the findings of a side's programs together: passes, gouges, and what is left after the last program."""
    evidence, targets = side.evidence, side.targets
    setup, names = evidence.setup, evidence.programs
    taken = engagement(evidence)
    depths = taken.deepest
    yield from check_passes(evidence, depths)
    yield from check_sense(evidence, taken)
    yield from check_freeing(evidence, targets)
    yield from check_compression(evidence, depths)
    yield from check_parts(targets, setup, names[-1])
    missing = [name for name in setup.own_programs if name not in names]
    if missing and len(names) < len(setup.own_programs):
        message = f"the sheet is also cut by {', '.join(missing)}: what is left standing was not judged"
        yield finding("sheet-incomplete", message, file=names[-1])
    for target in targets:
        zone = Zone(evidence, target.outline, target.levels(setup))
        yield from check_gouges(zone, target)
        yield from check_sequence(evidence, target, depths)
        if side.is_complete:
            yield from check_recesses(zone, target)
            yield from check_bores(zone, target)
            yield from check_holding(zone, target)


def _check_order_of_sides(programs: Sequence[tuple[ProgramText, str]], setups: Sequence[Setup]) -> Iterator[Finding]:
    """Yield an error when a program of side 1 is to be run after one of side 2."""
    second = ""
    for (program, _), setup in zip(programs, setups, strict=True):
        if setup.side == 2:
            second = second or program.name
        elif setup.side == 1 and second:
            message = f"{second} of side 2 would run before {program.name} of side 1: the pins' holes are not there yet"
            yield finding("two-faces-order", message, file=program.name)


def _report(run: Run, found: Iterable[Finding]) -> ProgramReport:
    machine, events = run.setup.machine, run.reading.events
    rates = Rates(
        max_rate_mm_per_min=machine.max_rate_mm_per_min, acceleration_mm_per_s2=machine.acceleration_mm_per_s2
    )
    cut_mm, traverse_mm = lengths(events)
    band = time_band(events, rates)
    return ProgramReport(
        name=run.program.name,
        findings=tuple(_capped(found, run.program.name)),
        lines=run.reading.lines,
        time_s=band.estimate_s,
        time_low_s=band.low_s,
        time_high_s=band.high_s,
        pauses=band.pauses,
        cut_mm=cut_mm,
        traverse_mm=traverse_mm,
        events=events,
        in_wood_mm=lengths_in_wood(run.strokes, run.setup.stock_top_z_mm),
    )


def _capped(found: Iterable[Finding], name: str) -> Iterator[Finding]:
    """Yield the findings, the same one once, and of each code no more than can be read."""
    counts: dict[str, int] = {}
    for item in dict.fromkeys(found):
        counts[item.code] = counts.get(item.code, 0) + 1
        if counts[item.code] <= MOST_OF_A_CODE:
            yield item
    for code, count in counts.items():
        if count > MOST_OF_A_CODE:
            yield finding("more-findings", f"{count - MOST_OF_A_CODE} more of {code}", file=name)
