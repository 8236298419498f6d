"""The canonical motions as lines of JSON: what two independent readers of the same program must agree on."""

import json
from collections.abc import Iterator

from rabbetry.dryrun.arcs import PLANE_AXES
from rabbetry.dryrun.model import (
    ArcMove,
    Coolant,
    Dwell,
    End,
    Event,
    Feed,
    Point3,
    Reading,
    Spindle,
    Stop,
    ToolChange,
    Traverse,
)

_DECIMALS = 4


def trace_lines(reading: Reading) -> Iterator[str]:
    """Yield one JSON object a line, without line end: line, op and what belongs to it.

    Millimetres, mm/min and seconds rounded to four decimals, machine coordinates; never "-0.0". Statements of mode and
    comments are left out. A refused reading gives what happened before the refused line.
    """
    for event in reading.events:
        fields = _fields(event)
        if fields is not None:
            yield json.dumps({"line": event.line, **fields})


def _fields(event: Event) -> dict[str, object] | None:
    match event:
        case Traverse():
            return {"op": "traverse", "to": _point(event.to)}
        case Feed():
            return {"op": "feed", "to": _point(event.to), "f": _rounded(event.feed_mm_per_min)}
        case ArcMove():
            centre: list[float | None] = [*_point(event.centre)]
            centre[PLANE_AXES[event.plane][2]] = None
            return {
                "op": "arc",
                "plane": event.plane,
                "to": _point(event.to),
                "center": centre,
                "turns": event.turns,
                "f": _rounded(event.feed_mm_per_min),
            }
        case Dwell():
            return {"op": "dwell", "s": _rounded(event.seconds)}
        case Spindle():
            return {"op": "spindle", "dir": event.direction, "rpm": None if event.rpm is None else _rounded(event.rpm)}
        case ToolChange():
            return {"op": "tool", "n": event.number}
        case Coolant():
            return {"op": event.kind}
        case Stop():
            return {"op": "optional_stop" if event.optional else "stop"}
        case End():
            return {"op": "end"}
        case _:
            return None


def _rounded(value: float) -> float:
    # Adding zero turns -0.0 into 0.0 and leaves all else alone.
    return round(value, _DECIMALS) + 0.0


def _point(point: Point3) -> list[float]:
    return [_rounded(value) for value in point]
