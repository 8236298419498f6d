"""A setup for a program that has none: made from a row of the machine table, the blank's size and what else the user
tells. It knows no target, so what the program leaves standing is not judged; each thing not known is said.
"""

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ArcMove, Feed, ProgramText
from rabbetry.dryrun.report import DryRun
from rabbetry.errors import Fault, InputError, did_you_mean
from rabbetry.files import load_program
from rabbetry.findings import Finding, finding
from rabbetry.setup.write import FORMAT, clamp_entry, levels_of, machine_entry
from rabbetry.shop.model import Clamp, Machine, ZZero
from rabbetry.shop.read import read_tables
from rabbetry.units import LengthError, read_length

_COMMENT = re.compile(r"\([^)]*\)?|;.*")
_TOOL = re.compile(r"(?<![A-Za-z])[Tt]\s*([0-9]{1,4})(?![0-9.])")
_OFFSET = re.compile(r"(?<![A-Za-z])[Gg]\s*0*(5[4-9](?:\.[123])?)(?![0-9.])")
_THREAD_MM = 0.01
"""Stands for a cutter of unknown width: only its axis is looked at."""
_UNKNOWN_MM = 10_000.0
"""Stands for a length that is not known and must not be judged."""
_NEARLY_MM = 1.0
"""A deepest cut that stops less than this above the spoilboard was perhaps meant to go through."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bare:
    """What the user tells of machine and blank on the command line. Millimetres."""

    machine: Machine
    """The table's row with the clamps and the z zero told."""
    blank_mm: tuple[float, float, float]
    """x, y and thickness."""
    blank_at_mm: tuple[float, float] | None
    """Machine coordinates of the blank's lower left corner; None: not known."""
    cutter_mm: float | None
    dialect: str

    @property
    def levels_mm(self) -> tuple[float, float]:
        """Return the program z of the stock's top and of the spoilboard."""
        return levels_of(self.machine, self.blank_mm[2])


def run_bare(
    programs: Sequence[Path], setup: Path | None, tables: Mapping[str, str], **options: Any
) -> Iterator[tuple[DryRun, tuple[Finding, ...], tuple[str, ...]]]:
    """Yield for each program, taken by itself, its dry run, its findings, and what could not be judged.

    `options` are those of `read_bare`. Raises InputError when they, or the files, are wrong.
    """
    missing = [f"--{name}" for name in ("machine", "blank") if not options[name]]
    if missing or setup is not None:
        problem = f"{missing[0]} is missing" if missing else "a setup file and a bare machine and blank were given"
        raise InputError(
            Fault(file="command line", place="", problem=problem, cure="give --machine and --blank, or --setup alone")
        )
    bare = read_bare(tables, **options)
    for path in programs:
        program = ProgramText(name=path.name, text=load_program(path))
        run = dry_run([(program, bare_setup(program, bare))])
        yield run, bare_findings(run, program, bare), not_checked(bare, program)


def read_bare(
    tables: Mapping[str, str],
    *,
    machine: str,
    blank: str,
    blank_at: str | None,
    cutter: str | None,
    clamps: Sequence[str],
    z_zero: str | None,
    dialect: str,
) -> Bare:
    """Read the options. Lengths are millimetres unless a unit follows; the last one's unit holds for all of a size.

    Raises InputError with every fault.
    """
    faults: list[Fault] = []
    rows = {row.name: row for row in read_tables(tables).machines}
    if machine not in rows:
        cure = did_you_mean(machine, tuple(rows)) or f"the machines are {', '.join(rows)}"
        faults.append(Fault(file="--machine", place="", problem=f'there is no machine "{machine}"', cure=cure))
    size = _sizes(blank, "--blank", 3, "1220x1220x17.8 or 48x48x0.703in", faults, above_mm=0.0)
    at = _sizes(blank_at, "--blank-at", 2, "25x25", faults) if blank_at is not None else None
    wide = _sizes(cutter, "--cutter", 1, "6.35 or 0.25in", faults, above_mm=0.0) if cutter is not None else None
    boxes = [_sizes(clamp, "--clamp", 5, "500x0x75x40x25", faults) for clamp in clamps]
    if faults:
        raise InputError(*faults)
    row = rows[machine]
    return Bare(
        machine=replace(
            row,
            z_zero=ZZero(z_zero) if z_zero else row.z_zero,
            clamps=(*row.clamps, *(_clamp(number, box) for number, box in enumerate(boxes, start=1))),
        ),
        blank_mm=(size[0], size[1], size[2]),
        blank_at_mm=(at[0], at[1]) if at else None,
        cutter_mm=wide[0] if wide else None,
        dialect=dialect,
    )


def _sizes(
    text: str, option: str, count: int, example: str, faults: list[Fault], *, above_mm: float | None = None
) -> list[float]:
    parts = [part.strip() for part in text.lower().replace("×", "x").split("x")]
    units = "in" if re.search(r"(in|\")\.?$", parts[-1]) else "mm"
    found: list[float] = []
    if len(parts) != count:
        problem = f'"{text}" has {len(parts)} of {count} lengths'
        faults.append(Fault(file=option, place="", problem=problem, cure=f"write it as {example}"))
        return [0.0] * count
    for part in parts:
        try:
            found.append(read_length(part, units, above_mm=above_mm).mm)
        except LengthError as error:
            faults.append(Fault(file=option, place="", problem=error.problem, cure=error.cure))
            found.append(0.0)
    return found


def _clamp(number: int, box: Sequence[float]) -> Clamp:
    x, y, length_x, length_y, height = box
    return Clamp(name=f"clamp {number}", x_mm=x, y_mm=y, length_x_mm=length_x, length_y_mm=length_y, height_mm=height)


def bare_setup(program: ProgramText, bare: Bare) -> str:
    """Return the setup of one program as JSON text."""
    top, spoilboard = bare.levels_mm
    x, y, thickness = bare.blank_mm
    origin = None
    if bare.blank_at_mm is not None:
        origin = [*bare.blank_at_mm, bare.machine.spoilboard_z_mm - spoilboard]
    words = _words(program)
    offsets = _OFFSET.findall(words)
    tools = sorted({int(number) for number in _TOOL.findall(words)} - {0}) or [1]
    setup = {
        "format": FORMAT,
        "program": program.name,
        "sheet": program.name,
        "programs": [program.name],
        "loaded": [],
        "machine": machine_entry(bare.machine, spindle_by_hand=bare.machine.spindle_by_hand),
        "controller": {"post": "", "dialect": bare.dialect, "allowed_words": None, "line_limit": None},
        "work_offset": {"word": f"G{offsets[0]}" if offsets else "G54", "machine_mm": origin},
        "z_zero": str(bare.machine.z_zero),
        "stock_top_z_mm": top,
        "spoilboard_z_mm": spoilboard,
        "blank": {"stock": "", "x_mm": x, "y_mm": y, "thickness_mm": thickness, "thickness_is_measured": False},
        "clamps": [clamp_entry(clamp, top) for clamp in bare.machine.clamps],
        "cutters": [_cutter(number, bare.cutter_mm or _THREAD_MM) for number in tools],
        "target": {"panels": []},
    }
    return json.dumps(setup)


def _cutter(number: int, diameter_mm: float) -> dict[str, object]:
    return {
        "number": number,
        "name": f"cutter {number}",
        "kind": "end mill",
        "diameter_mm": diameter_mm,
        "flutes": 0,
        "flute_length_mm": _UNKNOWN_MM,
        "up_cut_length_mm": 0.0,
        "centre_cutting": True,
        "pass_limit_mm": _UNKNOWN_MM,
        "stick_out_mm": _UNKNOWN_MM,
    }


def _words(program: ProgramText) -> str:
    return "\n".join(_COMMENT.sub("", line) for line in program.text.splitlines())


def not_checked(bare: Bare, program: ProgramText) -> tuple[str, ...]:
    """Return what could not be judged, as short sentences."""
    told = ["what must remain is not known: gouges, holes, left-over wood, tabs and skins"]
    tools = sorted(set(_TOOL.findall(_words(program))), key=int)
    if bare.cutter_mm is None:
        told.append("the cutter's width is not known: only its axis was looked at (--cutter)")
    elif len(tools) > 1:
        told.append(f"all of T{', T'.join(tools)} were taken to be {bare.cutter_mm:g} mm wide")
    told.append("the cutter's flutes, reach and pass limit are not known: depth of passes, shank and collet in stock")
    if bare.blank_at_mm is None:
        told.append("where the blank lies on the machine is not known: travels (--blank-at)")
    if not bare.machine.clamps:
        told.append("no clamps were named (--clamp)")
    return tuple(told)


def bare_findings(run: DryRun, program: ProgramText, bare: Bare) -> tuple[Finding, ...]:
    """Return the dry run's findings, what the cuts' depth suggests, and a note for each thing not checked."""
    found = list(run.findings)
    top, spoilboard = bare.levels_mm
    cuts = [event for report in run.programs for event in report.events if isinstance(event, Feed | ArcMove)]
    deepest = min(cuts, key=lambda event: event.program_to[2], default=None)
    if deepest is not None and spoilboard < deepest.program_to[2] < min(spoilboard + _NEARLY_MM, top):
        left = deepest.program_to[2] - spoilboard
        message = f"the deepest cut leaves {left:.2f} mm of the stock: no part is cut free"
        found.append(finding("nearly-through", message, file=program.name, line=deepest.line))
    found += [finding("not-checked", message, file=program.name) for message in not_checked(bare, program)]
    return tuple(found)
