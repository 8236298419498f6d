"""What the hands and eyes have to do with a program while it runs, taken from its dry run: first and last move, what it
stops for, how fast the spindle is told to turn. Program frame."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.dryrun.model import (
    ArcMove,
    End,
    Event,
    Feed,
    Message,
    Point3,
    Spindle,
    Stop,
    ToolChange,
    Traverse,
    WorkOffset,
)

_MOST_COMMENTS = 4
"""So many lines of comment before a stop belong to it."""


_OFFSETS = ("G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3")
"""Coordinate systems 1 to 9 (RS-274)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """The program waits for the hands: in which line, why (as its comment says), which cutter it wants (0: none)."""

    line: int
    text: str
    cutter: int = 0
    is_optional: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Watch:
    """What to watch for. Millimetres."""

    lifts_to_mm: float
    """Height at which it goes to where it begins."""
    first_mm: Point3
    """Where it stands when it first feeds."""
    last_mm: Point3
    """Where it ends."""
    lowest_mm: float
    """How far down it goes."""
    work_offset: str
    """The coordinate system it states, such as G54; '' when it states none."""
    asks: tuple[Ask, ...]
    speeds_rpm: tuple[float, ...]
    """Speeds the program itself asks for, in order, each once."""


def watch_of(events: Sequence[Event]) -> Watch | None:
    """Return what to watch for, or None for a program that moves nothing."""
    moves = [event for event in events if isinstance(event, Traverse | Feed | ArcMove)]
    if not moves:
        return None
    before: list[Traverse] = []
    for move in moves:
        if not isinstance(move, Traverse):
            break
        before.append(move)
    speeds = [event.rpm for event in events if isinstance(event, Spindle) and event.direction != "off" and event.rpm]
    first = before[-1].program_to if before else moves[0].program_to
    return Watch(
        lifts_to_mm=max((move.program_to[2] for move in before), default=first[2]),
        first_mm=first,
        last_mm=moves[-1].program_to,
        lowest_mm=min(move.program_to[2] for move in moves),
        work_offset=next((_OFFSETS[event.index - 1] for event in events if isinstance(event, WorkOffset)), ""),
        asks=tuple(_asks(events)),
        speeds_rpm=tuple(dict.fromkeys(speeds)),
    )


def _asks(events: Sequence[Event]) -> Iterator[Ask]:
    """Yield stops and changes of cutter; a stop right beside a change is one with it."""
    texts = {event.line: event.text for event in events if isinstance(event, Message)}
    for event in events:
        if isinstance(event, End):
            return
        if isinstance(event, ToolChange) and event.number:
            yield Ask(line=event.line, text=_said(texts, event.line), cutter=event.number)
        elif isinstance(event, Stop):
            yield Ask(line=event.line, text=_said(texts, event.line), is_optional=event.optional)


def _said(texts: dict[int, str], line: int) -> str:
    """Return the comments of a line and of those right before it."""
    found = [texts[line]] if line in texts else []
    for above in range(line - 1, max(0, line - 1 - _MOST_COMMENTS), -1):
        if above not in texts:
            break
        found.insert(0, texts[above])
    return "; ".join(found)
