"""Short ways to read a few lines and to look at what came out."""

import math
from collections.abc import Iterable, Sequence

from rabbetry.dryrun.dialects import STRICT, Dialect
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import ArcMove, Context, Event, Feed, Motion, Point3, ProgramText, Reading, Traverse
from rabbetry.dryrun.timing import Rates, seconds_of
from rabbetry.findings import Finding

NOWHERE = Context()


def read(*lines: str, dialect: Dialect = STRICT, context: Context = NOWHERE) -> Reading:
    """Read lines as one program."""
    return read_program(ProgramText(name="p.nc", text="\n".join(lines) + "\n"), dialect, context)


def motion_seconds(events: Sequence[Event], rates: Rates) -> float:
    """Return the estimated seconds of all motions and dwells."""
    return math.fsum(seconds_of(events, rates).each)


def read_well(*lines: str, dialect: Dialect = STRICT, context: Context = NOWHERE) -> Reading:
    """Read lines that must not be refused."""
    reading = read(*lines, dialect=dialect, context=context)
    assert not reading.refused, reading.findings
    return reading


def motions(reading: Reading) -> list[Motion]:
    """The motions alone."""
    return [event for event in reading.events if isinstance(event, Traverse | Feed | ArcMove)]


def ends(reading: Reading) -> list[Point3]:
    """Where each motion ends, machine coordinates, to a millionth."""
    return [tuple(round(value, 6) + 0.0 for value in motion.to) for motion in motions(reading)]  # type: ignore[misc]


def moves(reading: Reading) -> list[tuple[str, float, float, float]]:
    """Each straight motion as R (traverse) or F (feed) and its end."""
    return [
        ("R" if isinstance(m, Traverse) else "F", *end) for m, end in zip(motions(reading), ends(reading), strict=True)
    ]


def of_kind(reading: Reading, *kinds: type[Event]) -> list[Event]:
    """The events of some kinds."""
    return [event for event in reading.events if isinstance(event, kinds)]


def codes(findings: Iterable[Finding]) -> list[tuple[str, int | None]]:
    """Code and line of each finding."""
    return [(item.code, item.where.line) for item in findings]


def refusal(reading: Reading) -> Finding:
    """The finding that says why the program was refused."""
    assert reading.refused
    last = reading.findings[-1]
    assert last.severity == "error"
    return last
