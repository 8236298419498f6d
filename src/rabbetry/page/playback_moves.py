"""The dry run's events as numbers for the playback. Program frame: x and y from the blank's lower left corner."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rabbetry.dryrun.model import ArcMove, Dwell, End, Event, Feed, Point3, ToolChange, Traverse
from rabbetry.geometry.curves import chords_for_arc
from rabbetry.shop.model import Machine

_CHORD_MM = 0.1
"""Arcs are played as chords this near: less than a screen's dot at any usual size."""
_STEPS_PER_MM = 100
_AXES = {"XY": (0, 1), "XZ": (0, 2), "YZ": (1, 2)}
_TRAVERSE, _CUT, _REST = 0, 1, 2


@dataclass(frozen=True, slots=True, kw_only=True)
class _Move:
    """A straight step, or a rest: what it is, where it ends, how long it takes, from which line, with which cutter, at
    which feed (0 where none counts)."""

    kind: int
    to: Point3
    seconds: float
    line: int
    diameter_mm: float
    feed_mm_per_min: float = 0.0

    def as_numbers(self) -> tuple[int, ...]:
        least = 0 if self.kind == _REST else 1
        return (
            self.kind,
            *(round(value * _STEPS_PER_MM) for value in self.to),
            max(least, round(self.seconds * 1000)),
            self.line,
            round(self.diameter_mm * _STEPS_PER_MM),
            round(self.feed_mm_per_min),
        )


def move_numbers(
    events: Sequence[Event], cutters: Sequence[int], machine: Machine, diameters_mm: Mapping[int, float]
) -> list[int]:
    """Return eight whole numbers a move, one after the other: 0 traverse, 1 cut, 2 rest; x, y, z in hundredths of a
    millimetre; milliseconds; line; the cutter's diameter in hundredths; feed in mm/min.

    Every line that does anything has at least a rest, so that stepping shows it. Times count feeds and the axes'
    fastest rates only, not acceleration. Empty for a program without a motion."""
    return [number for move in _moves(events, cutters, machine, diameters_mm) for number in move.as_numbers()]


def _moves(
    events: Sequence[Event], cutters: Sequence[int], machine: Machine, diameters_mm: Mapping[int, float]
) -> Iterator[_Move]:
    cutter = cutters[0] if cutters else 0
    first = next((event for event in events if isinstance(event, Traverse | Feed | ArcMove)), None)
    if first is None:
        return
    at = _minus(first.start, _minus(first.to, first.program_to))
    line = 0
    for event in events:
        if isinstance(event, ToolChange):
            cutter = event.number
        diameter = diameters_mm.get(cutter, 0.0)
        if isinstance(event, Traverse | Feed | ArcMove):
            yield from _steps(event, machine, diameter)
            at = event.program_to
        elif event.line != line or isinstance(event, Dwell | End):
            seconds = event.seconds if isinstance(event, Dwell) else 0.0
            yield _Move(kind=_REST, to=at, seconds=seconds, line=event.line, diameter_mm=diameter)
        line = event.line


def _steps(move: Traverse | Feed | ArcMove, machine: Machine, diameter_mm: float) -> Iterator[_Move]:
    offset = _minus(move.to, move.program_to)
    points = _arc_points(move) if isinstance(move, ArcMove) else (move.to,)
    before = move.start
    for point in points:
        yield _Move(
            kind=_TRAVERSE if isinstance(move, Traverse) else _CUT,
            to=_minus(point, offset),
            seconds=_seconds(move, before, point, machine),
            line=move.line,
            diameter_mm=diameter_mm,
            feed_mm_per_min=0.0 if isinstance(move, Traverse) else move.feed_mm_per_min,
        )
        before = point


def _minus(a: Point3, b: Point3) -> Point3:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _seconds(move: Traverse | Feed | ArcMove, before: Point3, after: Point3, machine: Machine) -> float:
    if not isinstance(move, Traverse):
        return math.dist(before, after) / move.feed_mm_per_min * 60
    axes = zip(before, after, machine.max_rate_mm_per_min, strict=True)
    return max(abs(b - a) / rate for a, b, rate in axes) * 60


def _arc_points(move: ArcMove) -> Iterator[Point3]:
    """Yield points along an arc or helix, its exact end last. In every plane the angle runs from the first axis of the
    plane's name to the second, and XZ is turned the other way about because Y points away (RS-274: G18 is ZX)."""
    first, second = _AXES[move.plane]
    third = 3 - first - second
    turn = -move.turns if move.plane == "XZ" else move.turns
    begin = math.atan2(move.start[second] - move.centre[second], move.start[first] - move.centre[first])
    end = math.atan2(move.to[second] - move.centre[second], move.to[first] - move.centre[first])
    sweep = ((end - begin) * turn) % (2 * math.pi)
    if move.full_circles:
        sweep = 2 * math.pi
    radius = math.hypot(move.start[first] - move.centre[first], move.start[second] - move.centre[second])
    count = chords_for_arc(radius, sweep, _CHORD_MM)
    for k in range(1, count):
        angle = begin + turn * sweep * k / count
        point = [0.0, 0.0, 0.0]
        point[first] = move.centre[first] + radius * math.cos(angle)
        point[second] = move.centre[second] + radius * math.sin(angle)
        point[third] = move.start[third] + (move.to[third] - move.start[third]) * k / count
        yield (point[0], point[1], point[2])
    yield move.to
