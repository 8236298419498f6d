"""A program gone on with at one of its operations: the head again, up, over to the operation's start, then the rest.

Works on program text and its `(op N: name)` comments. Whether the new text does from there on what the old one did is
read back, motion by motion, before anything is written.
"""

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rabbetry.dryrun.dialects import DIALECTS, Dialect
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.lex import split_lines
from rabbetry.dryrun.model import (
    ArcMove,
    Context,
    Coolant,
    Dwell,
    End,
    Event,
    Feed,
    Message,
    Point3,
    ProgramText,
    Reading,
    Spindle,
    Stop,
    ToolChange,
    Traverse,
    Units,
)
from rabbetry.dryrun.setup_read import read_setup
from rabbetry.errors import Fault, InputError, did_you_mean, shown
from rabbetry.post.comments import CommentForm, comment_text
from rabbetry.post.numbers import write_number
from rabbetry.units import MM_PER_INCH

_OPERATION = re.compile(r"op (\d+): ?(.*)")
_ASKED = re.compile(r"(?:op ?)?(\d+)")
_DECIMALS = re.compile(r"[XYZ]-?\d*\.(\d+)")
_SWITCHES = (Coolant, Dwell, End, Spindle, Stop, ToolChange)
_DEEDS = (Traverse, Feed, ArcMove, *_SWITCHES)
"""Events in which the machine does something; all others only state how the text is to be read."""
_LONG_LINE = 250
_CLOSE_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One operation of a program's text."""

    number: int
    name: str
    line: int
    """Of its comment, counted from 1."""

    @property
    def label(self) -> str:
        return f"op {self.number}: {self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Resumed:
    """The program to go on with, its setup, and the part of the old program that is taken as cut."""

    step: Step
    skipped: int
    """Operations left out."""
    program: ProgramText
    setup: str
    before: ProgramText
    before_setup: str


def resume_program(program: ProgramText, setup_text: str, *, operation: str, name: str) -> Resumed:
    """Return `program` from `operation` on, as the file `name`.

    `operation` is a number (`7`, `op 7`), an operation's name or a panel's: then its first operation. Raises InputError
    for an unknown operation, with the near ones; for text that the reader refuses; and when the rest of the text
    depends on what ran before.
    """
    setup = read_setup(setup_text, file=program.name)
    dialect = replace(DIALECTS[setup.dialect], allowed_words=setup.allowed_words)
    reading = _read(program, dialect)
    steps = _steps(reading)
    step = _asked(operation, steps, program.name)
    text = _text_from(program, reading, step, limit=setup.line_limit)
    resumed = ProgramText(name=name, text=text)
    _prove(resumed, reading, step, dialect, program.name)
    lines = split_lines(program.text)
    before = ProgramText(
        name=f"{program.name} before op {step.number}", text="".join(f"{line}\n" for line in lines[: step.line - 1])
    )
    return Resumed(
        step=step,
        skipped=steps.index(step),
        program=resumed,
        setup=_setup_for(setup_text, name, (before.name, name), program.name),
        before=before,
        before_setup=_setup_for(setup_text, before.name, (before.name, name), program.name),
    )


def _read(program: ProgramText, dialect: Dialect) -> Reading:
    reading = read_program(program, dialect, Context())
    if reading.refused:
        last = reading.findings[-1]
        raise InputError(Fault(file=program.name, place=f"line {last.where.line}", problem=last.message))
    return reading


def _steps(reading: Reading) -> tuple[Step, ...]:
    found = []
    for event in reading.events:
        match = _OPERATION.fullmatch(event.text) if isinstance(event, Message) else None
        if match is not None:
            found.append(Step(number=int(match[1]), name=match[2], line=event.line))
    return tuple(found)


def _asked(operation: str, steps: Sequence[Step], file: str) -> Step:
    if not steps:
        problem = "no operation is named in the text: there is no comment like (op 1: name)"
        raise InputError(Fault(file=file, place="", problem=problem, cure="only programs with such comments go on"))
    wanted = " ".join(operation.split())
    number = _ASKED.fullmatch(wanted)
    if number is not None:
        found = [step for step in steps if step.number == int(number[1])]
    else:
        found = [step for step in steps if wanted in (step.name, step.label)]
        if not found:
            found = [step for step in steps if step.name.startswith(f"{wanted}: ")][:1]
    if len(found) == 1:
        return found[0]
    if found:
        problem = f"{shown(operation)} names {len(found)} operations"
        cure = "name it by its number: " + ", ".join(str(step.number) for step in found)
    else:
        problem = (
            f"there is no operation {shown(operation)}; the operations are {steps[0].number} to {steps[-1].number}"
        )
        names = [step.name for step in steps]
        cure = did_you_mean(wanted, list(dict.fromkeys(names + [item.partition(": ")[0] for item in names])))
    raise InputError(Fault(file=file, place="--from", problem=problem, cure=cure))


def _text_from(program: ProgramText, reading: Reading, step: Step, *, limit: int | None) -> str:
    """Return head, the preamble of the operation's cutter, the way to the operation's start, and the rest."""
    lines = split_lines(program.text)
    head, preamble = _head(lines, reading, step)
    end = "\r\n" if "\r\n" in program.text else "\n"
    form: CommentForm = "semicolon" if lines[step.line - 1].lstrip().startswith(";") else "brackets"
    longest = (limit or _LONG_LINE) - len(end)
    told = comment_text((f"goes on from {step.label}",), form=form, forbidden="%!~?$;", longest=longest)
    at = 1 if head and head[0].strip() == "%" else 0
    way = _way_over(lines, reading, step)
    rest = lines[step.line - 1 :]
    made = [*head[:at], told, *head[at:], *preamble, *way, *rest]
    return "".join(f"{line}{end}" for line in made)


def _head(lines: Sequence[str], reading: Reading, step: Step) -> tuple[list[str], list[str]]:
    """Return the lines that state units, plane and so on, and those that bring the operation's cutter up to speed."""
    first = next(event.line for event in reading.events if _is_operation(event))
    cuts = [event.line for event in reading.events if isinstance(event, Feed | ArcMove) and event.line < step.line]
    switches = [event.line for event in reading.events if isinstance(event, _SWITCHES)]
    last_switch = max((line for line in switches if line < step.line), default=0)
    earlier = [line for line in cuts if line < last_switch]
    if not earlier:
        return list(lines[: first - 1]), []
    begin = max(earlier)
    changes = [e.line for e in reading.events if isinstance(e, ToolChange) and begin < e.line < step.line]
    if changes:
        # Nothing between the last cut and the change: it belongs to the cutter before.
        begin = changes[0] - 1
        while begin > 0 and _is_comment(lines[begin - 1]):
            begin -= 1
    following = next(e.line for e in reading.events if _is_operation(e) and e.line > max(earlier))
    does = min(event.line for event in reading.events if isinstance(event, _DEEDS))
    while does > 1 and _is_comment(lines[does - 2]):
        does -= 1
    return list(lines[: does - 1]), list(lines[begin : following - 1])


def _is_operation(event: Event) -> bool:
    return isinstance(event, Message) and _OPERATION.fullmatch(event.text) is not None


def _is_comment(line: str) -> bool:
    text = line.strip()
    return text.startswith(";") or (text.startswith("(") and text.endswith(")"))


def _way_over(lines: Sequence[str], reading: Reading, step: Step) -> list[str]:
    """Return the traverse from the cutter's first place to where the operation starts, and the feed in force."""
    motions = [e for e in reading.events if isinstance(e, Traverse | Feed | ArcMove)]
    ahead = [e for e in motions if e.line > step.line]
    if not ahead:
        return []
    spot = ahead[0].program_to if isinstance(ahead[0], Traverse) else _program_start(ahead[0])
    inch = any(isinstance(e, Units) and e.inch for e in reading.events)
    decimals = max((len(part) for part in _DECIMALS.findall("\n".join(lines))), default=0)
    scale = MM_PER_INCH if inch else 1.0
    x, y = (write_number(value / scale, decimals=decimals) for value in spot[:2])
    way = [f"G0 X{x} Y{y}"]
    cuts = [e for e in motions if not isinstance(e, Traverse)]
    first = next((e for e in cuts if e.line > step.line), None)
    if first is not None and "F" not in lines[first.line - 1].upper():
        way.append(f"F{write_number(first.feed_mm_per_min / scale, decimals=4)}")
    return way


def _program_start(event: Feed | ArcMove) -> Point3:
    x, y, z = (s + p - t for s, p, t in zip(event.start, event.program_to, event.to, strict=True))
    return (x, y, z)


def _prove(resumed: ProgramText, old: Reading, step: Step, dialect: Dialect, file: str) -> None:
    """Raise InputError unless the new text does from the operation on just what the old one did."""
    new = _read(resumed, dialect)
    line = next(item.line for item in _steps(new) if item.label == step.label)
    wanted = [e for e in old.events if e.line > step.line]
    made = [e for e in new.events if e.line > line]
    shift = line - step.line
    same = len(wanted) == len(made) and all(_is_same(a, b, shift) for a, b in zip(wanted, made, strict=True))
    if not same:
        problem = f'from "{step.label}" on the text depends on what ran before it'
        cure = "go on from another operation, or make the program again"
        raise InputError(Fault(file=file, place=f"line {step.line}", problem=problem, cure=cure))


def _is_same(old: Event, new: Event, shift: int) -> bool:
    """Tell whether two events do the same; where the first traverse comes from does not count."""
    moved = replace(new, line=new.line - shift)
    if isinstance(old, Traverse) and isinstance(moved, Traverse):
        near = all(abs(a - b) <= _CLOSE_MM for a, b in zip(old.to, moved.to, strict=True))
        return near and replace(moved, start=old.start, to=old.to, program_to=old.program_to) == old
    return moved == old


def _setup_for(text: str, name: str, pair: tuple[str, str], old: str) -> str:
    """Return a setup text for the file `name`; the old program's place in the running order goes to the pair."""
    data = json.loads(text)
    data["program"] = name
    order: list[str] = []
    for item in data["programs"]:
        order.extend(pair if item == old else (item,))
    data["programs"] = order if pair[1] in order else list(pair)
    return json.dumps(data, indent=1, ensure_ascii=True) + "\n"
