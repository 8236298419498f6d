"""Whether every motion stays within the machine's travels. Machine coordinates."""

import math
import re
from collections.abc import Iterator, Sequence

from rabbetry.dryrun.arcs import PLANE_AXES, radius_mm, sweep_rad
from rabbetry.dryrun.lex import split_lines
from rabbetry.dryrun.model import ArcMove, Event, Feed, Motion, Point3, ProgramText, Traverse
from rabbetry.dryrun.setup import Setup
from rabbetry.dryrun.strokes import start_mm
from rabbetry.dryrun.tolerances import TEXT_MM
from rabbetry.findings import Finding, finding

_HOME_WORD = re.compile(r"[Gg]\s*0*(?:28|30)(?![0-9.])")
_AXES = "XYZ"


def check_envelope(program: ProgramText, events: Sequence[Event], setup: Setup) -> Iterator[Finding]:
    """Yield a finding for each motion that leaves the travels, or whose place cannot be known."""
    lines = split_lines(program.text)
    begin = start_mm(setup)
    if setup.work_offset_mm is None:
        message = "the work offset is not declared: whether the program stays within the travels cannot be verified"
        yield finding("cannot-verify", message, severity="warning", file=program.name)
    for event in events:
        if not isinstance(event, Traverse | Feed | ArcMove):
            continue
        if event.in_machine_coordinates:
            unknown = _unknown_place(event, lines, setup)
            if unknown:
                yield finding("cannot-verify", f"cannot verify: {unknown}", file=program.name, line=event.line)
                continue
        if setup.work_offset_mm is not None:
            yield from _check_motion(event, setup, program.name, begin)


def _unknown_place(event: Motion, lines: Sequence[str], setup: Setup) -> str:
    text = lines[event.line - 1] if event.line <= len(lines) else ""
    if _HOME_WORD.search(text):
        return "" if setup.machine.home_mm is not None else "where this machine's home is was not declared"
    return "" if setup.work_offset_mm is not None else "a machine coordinate (G53), but the work offset is not declared"


def _check_motion(event: Motion, setup: Setup, name: str, begin: Point3) -> Iterator[Finding]:
    low, high = _extremes(event)
    machine = setup.machine
    for axis, letter in enumerate(_AXES):
        if event.to[axis] == begin[axis]:
            continue
        least, most = machine.travel_min_mm[axis], machine.travel_max_mm[axis]
        value = low[axis] if low[axis] < least - TEXT_MM else high[axis]
        if least - TEXT_MM <= value <= most + TEXT_MM:
            continue
        over = least - value if value < least else value - most
        travel = f"the travel is {least:g} to {most:g}"
        message = f"{letter} reaches {value:.2f} in machine coordinates; {travel}: {over:.2f} mm too far"
        x, y, z = event.program_to
        yield finding("axis-limit", message, file=name, line=event.line, x=x, y=y, z=z)


def _extremes(event: Motion) -> tuple[Point3, Point3]:
    """Return the least and greatest coordinate on each axis, the start left out; exact for arcs."""
    if not isinstance(event, ArcMove):
        return event.to, event.to
    low, high = list(event.to), list(event.to)
    first, second, _ = PLANE_AXES[event.plane]
    radius, sweep = radius_mm(event), sweep_rad(event)
    begin = math.atan2(event.start[second] - event.centre[second], event.start[first] - event.centre[first])
    for quarter in range(4):
        if (event.turns * (quarter * math.pi / 2 - begin)) % (2 * math.pi) < sweep:
            axis, sign = (first, second)[quarter % 2], (1, 1, -1, -1)[quarter]
            reach = event.centre[axis] + sign * radius
            low[axis], high[axis] = min(low[axis], reach), max(high[axis], reach)
    return (low[0], low[1], low[2]), (high[0], high[1], high[2])
