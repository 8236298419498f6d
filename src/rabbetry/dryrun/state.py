"""The controller as the program sees it while it is read: modes, offsets, position, and the events so far.

The one thing of the dry run that changes; it lives inside one call of `interpret.read_program`. Positions are
kept twice, in machine coordinates (`at`) and from the program zero in force (`program`): their difference is `offset`.
"""

from typing import Literal

from rabbetry.dryrun.dialects import Dialect
from rabbetry.dryrun.model import (
    Context,
    Event,
    Feed,
    PlaneName,
    Point3,
    Spindle,
    Traverse,
)
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.tolerances import MM_PER_INCH, MOST_EVENTS
from rabbetry.findings import Finding, finding

Direction = Literal["cw", "ccw", "off"]


class State:
    """Start-up values: millimetres, XY plane, absolute, units per minute, G54, no motion mode, feed 0, spindle off
    (NISTIR 6556 interpreter; the retract level begins at the old Z, G98)."""

    __slots__ = (
        "arc_notes",
        "at",
        "context",
        "cycle_words",
        "dialect",
        "ended",
        "events",
        "feed",
        "findings",
        "first_cut_seen",
        "flood",
        "g92",
        "g92_kept",
        "has_moved",
        "inch",
        "inverse_time",
        "loaded",
        "mist",
        "motion",
        "name",
        "offset",
        "parameters",
        "plane",
        "program",
        "relative",
        "retract_to_r",
        "rpm",
        "scale",
        "selected",
        "spindle",
        "tool_length",
        "tool_named",
        "work",
        "work_offsets",
    )

    def __init__(self, name: str, dialect: Dialect, context: Context) -> None:
        self.name = name
        self.dialect = dialect
        self.context = context
        self.events: list[Event] = []
        self.findings: list[Finding] = []
        self.motion: str | None = None
        """Motion word in force; None is G80."""
        self.plane: PlaneName = "XY"
        self.relative = False
        self.inch = False
        self.scale = 1.0
        """Millimetres of one unit of the program."""
        self.inverse_time = False
        self.feed: float | None = None
        """mm/min, or 1/min under inverse time; None: not given, or given as zero."""
        self.rpm: float | None = None
        self.spindle: Direction = "off"
        self.mist = False
        self.flood = False
        self.selected = 0
        self.loaded = 0
        self.tool_named = False
        self.retract_to_r = False
        self.cycle_words: dict[str, float] = {}
        self.parameters: dict[int, float] = {}
        self.work = 1
        self.work_offsets = list(context.work_offsets_mm)
        self.g92: Point3 = (0.0, 0.0, 0.0)
        self.g92_kept: Point3 = (0.0, 0.0, 0.0)
        self.tool_length = 0.0
        self.at: Point3 = context.start_mm
        self.offset: Point3 = (0.0, 0.0, 0.0)
        self.program: Point3 = context.start_mm
        self.has_moved = False
        self.first_cut_seen = False
        self.arc_notes = 0
        self.ended = False
        self.take_offsets()

    def take_offsets(self) -> None:
        """Work out `offset` and `program` anew after an offset changed; the machine stands still."""
        work = self.work_offsets[self.work - 1]
        self.offset = (
            work[0] + self.g92[0],
            work[1] + self.g92[1],
            work[2] + self.g92[2] + self.tool_length,
        )
        self.program = _difference(self.at, self.offset)

    def add(self, event: Event) -> None:
        """Append an event. Raises Refusal when the program makes more than can be held."""
        if len(self.events) >= MOST_EVENTS:
            raise Refusal("program-size", f"the program makes more than {MOST_EVENTS} motions and switches")
        self.events.append(event)

    def note(self, code: str, message: str, line: int) -> None:
        """Append a finding of the reader at a line."""
        self.findings.append(finding(code, message, file=self.name, line=line))

    def machine(self, program: Point3) -> Point3:
        """Return the machine coordinates of a point given from the program zero."""
        offset = self.offset
        return (program[0] + offset[0], program[1] + offset[1], program[2] + offset[2])

    def arrive(self, program: Point3, machine: Point3) -> None:
        """Stand at a new place."""
        self.program = program
        self.at = machine
        self.has_moved = True

    def traverse(self, line: int, to: Point3, *, cycle: str | None = None) -> None:
        """Move to a program point at the fastest rate."""
        machine = self.machine(to)
        self.add(Traverse(line=line, start=self.at, to=machine, program_to=to, cycle=cycle))
        self.arrive(to, machine)

    def traverse_machine(self, line: int, to: Point3) -> None:
        """Move to a machine point at the fastest rate."""
        program = _difference(to, self.offset)
        self.add(Traverse(line=line, start=self.at, to=to, program_to=program, in_machine_coordinates=True))
        self.arrive(program, to)

    def cut(
        self, line: int, to: Point3, feed_mm_per_min: float, *, cycle: str | None = None, machine: bool = False
    ) -> None:
        """Move straight to a program point at a feed; `machine`: the program named it in machine coordinates."""
        self.see_cut(line)
        spot = self.machine(to)
        self.add(
            Feed(
                line=line,
                start=self.at,
                to=spot,
                program_to=to,
                feed_mm_per_min=feed_mm_per_min,
                cycle=cycle,
                in_machine_coordinates=machine,
                uses_inverse_time=self.inverse_time,
            )
        )
        self.arrive(to, spot)

    def see_cut(self, line: int) -> None:
        """Warn once if the program's first cut is made in relative mode."""
        if not self.first_cut_seen:
            self.first_cut_seen = True
            if self.relative:
                self.note(
                    "relative-at-cut",
                    "relative mode (G91) is still on at the first cut: every coordinate counts from the last point",
                    line,
                )

    def turn_spindle(self, line: int, direction: Direction, *, implied: bool = False) -> None:
        """Start or stop the spindle."""
        self.spindle = direction
        rpm = None if direction == "off" else self.rpm
        self.add(Spindle(line=line, direction=direction, rpm=rpm, implied=implied))

    def parameter(self, number: int) -> float:
        """Return the value of #number: 0 when never set; offsets and homes (from 5161 up) in the unit in force."""
        if number < 5161:
            return self.parameters.get(number, 0.0)
        if number == 5220:
            return float(self.work)
        points = {5161: self.context.home_mm, 5181: self.context.second_home_mm, 5211: self.g92_kept}
        points.update({5221 + 20 * index: point for index, point in enumerate(self.work_offsets)})
        for first, point in points.items():
            if first <= number <= first + 2:
                return point[number - first] / self.scale
        return 0.0

    def set_unit(self, *, inch: bool) -> None:
        """Count in inches or millimetres from now on; positions and the feed in force stay what they are."""
        self.inch = inch
        self.scale = MM_PER_INCH if inch else 1.0


def _difference(point: Point3, offset: Point3) -> Point3:
    return (point[0] - offset[0], point[1] - offset[1], point[2] - offset[2])
