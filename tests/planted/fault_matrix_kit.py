"""Clean programs of a real job, read just far enough to plant a fault at a chosen place, and the ways to plant it."""

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.files import load_post, load_tables
from rabbetry.findings import Finding
from rabbetry.pipeline import PostText, compile_job, lay_out, load_job, plan_sheet

JOB = Path(__file__).parents[2] / "sample_jobs" / "one-base-cabinet.toml"
POSTS = ("metric-plain", "full-metric", "inch-hand-spindle")
Point = tuple[float, float, float]
Setup = dict[str, Any]
WORD = re.compile(r"([A-Z])(-?[0-9.]+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One motion line: its place in the list of lines, its own words, the motion in force, and where it goes (mm)."""

    index: int
    words: dict[str, float]
    motion: str
    start: Point
    to: Point
    feed: float
    """The feed in force before the line, mm/min."""
    operation: int
    """Place in the program's operations; -1 before the first."""

    @property
    def is_level(self) -> bool:
        return self.start[2] == self.to[2] and self.start != self.to and self.motion in ("G1", "G2", "G3")

    @property
    def is_straight_down(self) -> bool:
        return self.motion == "G1" and self.start[:2] == self.to[:2] and self.to[2] < self.start[2]

    def runs_through(self, words: str) -> bool:
        return all(letter in self.words for letter in words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """What the program's own comment calls an operation, with the lines from its comment to the next."""

    name: str
    begin: int
    end: int
    steps: tuple[Step, ...]

    @property
    def lowest(self) -> float:
        return min(step.to[2] for step in self.steps)

    @property
    def lowest_at(self) -> int:
        """Return the index of the last line that goes to the lowest height."""
        return max(step.index for step in self.steps if step.to[2] == self.lowest)

    @property
    def is_outline(self) -> bool:
        return self.name.endswith(": outline")


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One program."""

    name: str
    lines: tuple[str, ...]
    setup: Setup
    steps: tuple[Step, ...] = ()
    operations: tuple[Operation, ...] = ()

    @property
    def inch(self) -> bool:
        return "G20" in self.lines

    @property
    def is_hand(self) -> bool:
        return bool(self.setup["machine"]["spindle_by_hand"])

    @property
    def is_air_run(self) -> bool:
        return bool(self.setup.get("air_run"))

    def where(self, pattern: str) -> list[int]:
        """Return the indexes of the lines that match from their start."""
        return [index for index, line in enumerate(self.lines) if re.match(pattern, line)]

    def length(self, mm: float) -> str:
        return f"{mm / 25.4:.5f}" if self.inch else f"{mm:.4f}"

    def put(self, step: Step, **values_mm: float) -> str:
        """Return a step's line with some of its words at other values."""
        line = self.lines[step.index]
        for letter, value in values_mm.items():
            line = re.sub(rf"{letter}-?[0-9.]+", f"{letter}{self.length(value)}", line)
        return line


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A spoilt program: lines by index with what stands there instead; `at` (an index of the spoilt text) and `span`
    say which lines show the fault; -1: no line of its own."""

    lines: Mapping[int, tuple[str, ...]]
    at: int = -1
    span: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """All programs of one sheet under one post, in running order, its air run with them."""

    post: str
    name: str
    texts: tuple[Text, ...]

    @property
    def cutting(self) -> tuple[Text, ...]:
        """The programs that cut."""
        return tuple(text for text in self.texts if not text.is_air_run)


@dataclass(slots=True, kw_only=True)
class Fault:
    """Programs and setups of a sheet with a fault in them."""

    sheet: Sheet
    texts: dict[str, str] = field(default_factory=dict)
    setups: dict[str, Setup] = field(default_factory=dict)
    order: list[str] = field(default_factory=list)
    file: str = ""
    lines: range = range(0)
    """Lines, counted from 1, of which one must be named; empty: none."""

    def accepting_all_words(self) -> "Fault":
        """Let the controller take every word of its dialect, so that the word itself is not refused."""
        for setup in self.setups.values():
            setup["controller"]["allowed_words"] = None
        return self

    def found(self) -> tuple[Finding, ...]:
        """Return the findings: an air run is judged by itself, as its setup names no other program."""
        air_runs = [name for name in self.order if self.setups[name].get("air_run")]
        cutting = [name for name in self.order if name not in air_runs]
        groups = [*([name] for name in air_runs), cutting]
        return tuple(item for names in groups for item in dry_run([self._pair(name) for name in names]).findings)

    def _pair(self, name: str) -> tuple[ProgramText, str]:
        return ProgramText(name=name, text=self.texts[name]), json.dumps(self.setups[name])


def fault_of(sheet: Sheet) -> Fault:
    """Return the sheet as it is, ready to be spoilt."""
    return Fault(
        sheet=sheet,
        texts={text.name: "\n".join(text.lines) + "\n" for text in sheet.texts},
        setups={text.name: json.loads(json.dumps(text.setup)) for text in sheet.texts},
        order=[text.name for text in sheet.texts],
    )


def spoilt(sheet: Sheet, text: Text, change: Change) -> Fault:
    """Return the sheet with one program changed."""
    fault = fault_of(sheet)
    out: list[str] = []
    for index, line in enumerate(text.lines):
        out.extend(change.lines.get(index, (line,)))
    fault.texts[text.name] = "\n".join(out) + "\n"
    fault.file = text.name
    if change.at >= 0:
        fault.lines = range(change.at + 1, change.at + 1 + change.span)
    return fault


@cache
def clean_sheets() -> tuple[Sheet, ...]:
    """Return every sheet of the job under every post."""
    job = load_job(JOB.read_text(encoding="utf-8"), file=JOB.name, tables=load_tables(), own_tables={})
    nesting = lay_out(job, compile_job(job).panels)
    found = []
    for post in POSTS:
        name, toml, template = load_post(post, beside=Path())
        for sheet in nesting.sheets:
            planned = plan_sheet(sheet, job, PostText(name=name, toml=toml, template=template))
            texts = tuple(_text(item.name, item.text.decode(), json.loads(item.setup)) for item in planned.programs)
            found.append(Sheet(post=post, name=sheet.id, texts=texts))
    return tuple(found)


def _text(name: str, text: str, setup: Setup) -> Text:
    plain = Text(name=name, lines=tuple(text.splitlines()), setup=setup)
    steps = tuple(_steps(plain))
    heads = plain.where(r"\(op ")
    ends = [*heads[1:], len(plain.lines)]
    operations = tuple(
        Operation(
            name=plain.lines[begin].strip("()").split(": ", 1)[1],
            begin=begin,
            end=end,
            steps=tuple(step for step in steps if step.operation == place),
        )
        for place, (begin, end) in enumerate(zip(heads, ends, strict=True))
    )
    return Text(name=name, lines=plain.lines, setup=setup, steps=steps, operations=operations)


def _steps(text: Text) -> Iterator[Step]:
    scale = 25.4 if text.inch else 1.0
    at = {"X": 0.0, "Y": 0.0, "Z": 0.0}
    motion, feed, operation, clear = "G0", 0.0, -1, 0.0
    for index, line in enumerate(text.lines):
        if line.startswith("("):
            operation += line.startswith("(op ")
            continue
        words = {letter: float(value) for letter, value in WORD.findall(line)}
        for word in re.findall(r"G(?:0|1|2|3|8[0123])(?![0-9])", line):
            motion = word
        if set("XYZ") & set(words):
            start = (at["X"], at["Y"], at["Z"])
            at |= {letter: words[letter] * scale for letter in "XYZ" if letter in words}
            to = (at["X"], at["Y"], at["Z"])
            yield Step(index=index, words=words, motion=motion, start=start, to=to, feed=feed, operation=operation)
            if motion in ("G81", "G82", "G83"):
                at["Z"] = clear
            elif motion == "G0" and "Z" in words:
                clear = max(clear, at["Z"])
        feed = words.get("F", feed / scale) * scale
