"""A sheet's plan laid out for a template: which programs there are, and their moves with numbers as text.

The pen keeps the position that the controller has, which is the rounded one; a move that rounds to nothing is left out.
"""

import hashlib
from collections import Counter
from dataclasses import dataclass

from rabbetry.motions.model import ArcFeed, CutterRun, DrillHole, Feed, Motion, Plan, Traverse
from rabbetry.post.arcs import Piece, round_arc
from rabbetry.post.capabilities import Post
from rabbetry.post.comments import safe_name
from rabbetry.post.numbers import write_number

LEAST_PECK_MM = 0.25
"""A last peck shallower than this is drilled together with the one before."""

_WHICH = {"cut": "", "air run": "-air", "hold-down": "-hold"}
"""What a file's name says besides the sheet."""
_MARK = 3
"""Letters of the hash in a shortened file name: one in 4096 that two agree, which `output` would tell."""


@dataclass(frozen=True, slots=True)
class Move:
    """One move: its kind, and the numbers that it writes, as text; empty where unchanged."""

    kind: str
    x: str = ""
    y: str = ""
    z: str = ""
    i: str = ""
    j: str = ""
    r: str = ""
    q: str = ""
    f: str = ""
    lifts: bool = True
    says_word: bool = True


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in the plane, as text."""

    x: str
    y: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StepBlock:
    """One operation."""

    number: int
    name: str
    panel: str
    kind: str
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RunBlock:
    """What one cutter does."""

    number: int
    cutter: str
    kind: str
    diameter: str
    rpm: str
    dial: str
    start: Spot
    is_first: bool
    is_last: bool
    steps: tuple[StepBlock, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramBlock:
    """One program: its file name and its runs."""

    file: str
    runs: tuple[RunBlock, ...]


def programs_of(plan: Plan, post: Post) -> tuple[ProgramBlock, ...]:
    """Return the programs of a sheet in running order: one a run where cutters have files of their own, else one."""
    if not plan.runs:
        return ()
    first_numbers = [1]
    for run in plan.runs:
        first_numbers.append(first_numbers[-1] + len(run.steps))
    sheet = safe_name(plan.sheet)
    names = _Names(post)
    if post.tool_change != "file" or plan.kind != "cut":
        blocks = tuple(
            _run_block(run, plan, post, number, is_first=k == 0, is_last=k == len(plan.runs) - 1)
            for k, (run, number) in enumerate(zip(plan.runs, first_numbers, strict=False))
        )
        return (ProgramBlock(file=names.file(sheet, _WHICH[plan.kind]), runs=blocks),)
    seen: Counter[int] = Counter()
    programs = []
    for run, number in zip(plan.runs, first_numbers, strict=False):
        seen[run.cutter.number] += 1
        again = f"-T{run.cutter.number}" + (f"-{seen[run.cutter.number]}" if seen[run.cutter.number] > 1 else "")
        block = _run_block(run, plan, post, number, is_first=True, is_last=True)
        programs.append(ProgramBlock(file=names.file(sheet, again), runs=(block,)))
    return tuple(programs)


class _Names:
    """File names within the post's limit."""

    def __init__(self, post: Post) -> None:
        self._most, self._ending = post.name_length, post.extension

    def file(self, sheet: str, which: str) -> str:
        """Return `sheet` and `which` of its programs as a file name. What must be shortened keeps its beginning, and
        gets letters of the whole name's hash, so that two sheets do not fall together."""
        if self._most is None or len(sheet + which) <= self._most:
            return sheet + which + self._ending
        short = which.replace("-", "")
        mark = hashlib.sha256(sheet.encode("ascii")).hexdigest()[:_MARK]
        return sheet.replace("-", "")[: self._most - len(short) - _MARK] + mark + short + self._ending


def _run_block(run: CutterRun, plan: Plan, post: Post, number: int, *, is_first: bool, is_last: bool) -> RunBlock:
    pen = _Pen(post, plan.safe_z)
    start = _first_place(run, plan)
    pen.stand_at(start.x, start.y)
    steps = []
    for k, step in enumerate(run.steps):
        pen.forget()
        for motion in step.motions:
            pen.draw(motion)
        moves = pen.take()
        steps.append(StepBlock(number=number + k, name=step.name, panel=step.panel, kind=step.kind, moves=moves))
    numbers = post.numbers
    return RunBlock(
        number=run.cutter.number,
        cutter=run.cutter.name,
        kind=str(run.cutter.kind),
        diameter=numbers.shown(run.cutter.cut_diameter_mm),
        rpm=write_number(run.rpm, decimals=0),
        dial=run.dial,
        start=Spot(numbers.length(start.x), numbers.length(start.y)),
        is_first=is_first,
        is_last=is_last,
        steps=tuple(steps),
    )


def _first_place(run: CutterRun, plan: Plan) -> Traverse | DrillHole:
    """Return the run's first motion, which the head carries out: up to the safe height, then over in the plane."""
    for step in run.steps:
        for motion in step.motions:
            if isinstance(motion, Traverse | DrillHole):
                return motion
            raise ValueError(f"{plan.sheet}: {step.name} begins with a cut, not at the safe height")
    raise ValueError(f"{plan.sheet}: cutter {run.cutter.number} has nothing to do")


class _Pen:
    """Writes motions as moves. Knows where the controller believes it is."""

    def __init__(self, post: Post, safe_z: float) -> None:
        self._post = post
        self._numbers = post.numbers
        self._moves: list[Move] = []
        self._word = ""
        self._feed = ""
        self._x = self._y = ""
        self._z = self._numbers.length(safe_z)

    def stand_at(self, x: float, y: float) -> None:
        self._x, self._y = self._numbers.length(x), self._numbers.length(y)

    def forget(self) -> None:
        """Forget motion word and feed, so that the next operation states them again and can be started alone."""
        self._word = self._feed = ""

    def take(self) -> tuple[Move, ...]:
        """Return the moves since the last call. Leaves a drilling cycle first."""
        self._leave_cycle()
        moves = tuple(self._moves)
        self._moves = []
        return moves

    def draw(self, motion: Motion) -> None:
        if isinstance(motion, Feed):
            self._leave_cycle()
            self._go("feed", motion.x, motion.y, motion.z, feed=motion.feed_mm_per_min)
        elif isinstance(motion, ArcFeed):
            self._leave_cycle()
            self._arc(motion)
        elif isinstance(motion, Traverse):
            self._leave_cycle()
            self._traverse(motion.x, motion.y, motion.z)
        else:
            self._drill(motion)

    def _at(self) -> tuple[float, float, float]:
        read = self._numbers.read_back
        return read(self._x), read(self._y), read(self._z)

    def _traverse(self, x: float, y: float, z: float) -> None:
        """Go up before going over, and over before going down: a traverse in all axes at once need not be straight."""
        if z > self._numbers.read_back(self._z):
            self._go("traverse", None, None, z)
            self._go("traverse", x, y, None)
        else:
            self._go("traverse", x, y, None)
            self._go("traverse", None, None, z)

    def _go(self, kind: str, x: float | None, y: float | None, z: float | None, *, feed: float | None = None) -> None:
        if kind == "traverse":
            feed = self._post.rapid_feed_mm_per_min
        new_x = self._x if x is None else self._numbers.length(x)
        new_y = self._y if y is None else self._numbers.length(y)
        new_z = self._z if z is None else self._numbers.length(z)
        if (new_x, new_y, new_z) == (self._x, self._y, self._z):
            return
        self._moves.append(
            Move(
                kind,
                "" if new_x == self._x else new_x,
                "" if new_y == self._y else new_y,
                "" if new_z == self._z else new_z,
                f="" if feed is None else self._changed_feed(feed),
                says_word=self._says(kind),
            )
        )
        self._x, self._y, self._z = new_x, new_y, new_z

    def _arc(self, arc: ArcFeed) -> None:
        kind = "arc ccw" if arc.turn > 0 else "arc cw"
        for part in round_arc(arc, start=self._at(), numbers=self._numbers, form=self._post.arcs):
            if not isinstance(part, Piece):
                self._go("feed", part.x, part.y, part.z, feed=arc.feed_mm_per_min)
                continue
            x, y, z = (self._numbers.length(value) for value in (part.x, part.y, part.z))
            feed = self._changed_feed(arc.feed_mm_per_min)
            new_z = "" if z == self._z else z
            says = self._says(kind)
            self._moves.append(Move(kind, x, y, new_z, part.i, part.j, part.r, f=feed, says_word=says))
            self._x, self._y, self._z = x, y, z

    def _drill(self, hole: DrillHole) -> None:
        cycle = "G83" if hole.peck_mm > 0 else "G81"
        if cycle in self._post.cycles:
            self._drill_by_cycle(hole)
            return
        self._traverse(hole.x, hole.y, hole.clear_z)
        self._go("traverse", None, None, hole.retract_z)
        # Back down at the drill's own feed: a traverse never goes below the stock's top, not even in a hole.
        for target in _pecks(hole):
            self._go("feed", None, None, target, feed=hole.feed_mm_per_min)
            if target != hole.z:
                self._go("traverse", None, None, hole.retract_z)
        self._go("traverse", None, None, hole.clear_z)

    def _drill_by_cycle(self, hole: DrillHole) -> None:
        kind = "peck" if hole.peck_mm > 0 else "drill"
        length = self._numbers.length
        clear, low = length(hole.clear_z), length(hole.retract_z)
        lifts = clear != low
        if self._z != clear or not (self._x and self._y):
            self._leave_cycle()
            self._traverse(hole.x, hole.y, hole.clear_z)
        says = self._says(f"{kind} {lifts}")
        x, y, z = length(hole.x), length(hole.y), length(hole.z)
        peck = length(hole.peck_mm) if hole.peck_mm > 0 else ""
        feed = self._changed_feed(hole.feed_mm_per_min)
        self._moves.append(Move(kind, x, y, z, r=low, q=peck, f=feed, lifts=lifts, says_word=says))
        self._x, self._y, self._z = x, y, clear

    def _leave_cycle(self) -> None:
        if self._word.startswith(("drill", "peck")):
            self._moves.append(Move("drill end"))
            self._word = ""

    def _says(self, word: str) -> bool:
        new = word != self._word
        self._word = word
        return new or self._post.repeat_words

    def _changed_feed(self, feed: float) -> str:
        text = self._numbers.feed(feed)
        if text == self._feed:
            return ""
        self._feed = text
        return text


def _pecks(hole: DrillHole) -> list[float]:
    """Return the depths of a hole's pecks from the retract level down; the last is the hole's bottom."""
    depths = []
    if hole.peck_mm > 0:
        depth = hole.retract_z - hole.peck_mm
        while depth > hole.z + LEAST_PECK_MM:
            depths.append(depth)
            depth -= hole.peck_mm
    return [*depths, hole.z]
