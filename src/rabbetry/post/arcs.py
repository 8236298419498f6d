"""Arcs after rounding: the centre follows from the rounded ends, and what a controller would refuse is never written.

Millimetres. An arc comes out as arcs (each with its centre word or radius) or, where rounding spoils it, as chords.
"""

import math
from dataclasses import dataclass

from rabbetry.motions.model import ArcFeed
from rabbetry.post.numbers import Numbers
from rabbetry.tolerances import ARC_MISMATCH_IN, ARC_MISMATCH_MM, CHORD_MM

_SWEEP_SLACK = 0.1
"""Radians by which rounding may change an arc's sweep; more means that the ends have swapped sides."""
_RADIUS_PIECE = 2 * math.pi / 3
"""Longest arc written by its radius, radians: well below the half turn, where a radius says least."""

XY = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Piece:
    """One arc to write: its end (exact), and either centre offsets or a radius, as text."""

    x: float
    y: float
    z: float
    i: str
    j: str
    r: str


@dataclass(frozen=True, slots=True)
class Chord:
    """One straight step that replaces part of an arc."""

    x: float
    y: float
    z: float


def round_arc(
    arc: ArcFeed, *, start: tuple[float, float, float], numbers: Numbers, form: str
) -> tuple[Piece | Chord, ...]:
    """Return what to write for `arc`, which begins at `start` (as the controller has it).

    `form` is 'centre', 'radius' or 'none'. Chords come out where the form is 'none' and where the written arc would
    miss its own end by more than a strict reader allows (ARC_MISMATCH), vanish, or turn the other way about.
    """
    if form == "centre":
        piece = _by_centre(arc, start, numbers)
        if piece is not None:
            return (piece,)
    elif form == "radius":
        pieces = _by_radius(arc, start, numbers)
        if pieces:
            return pieces
    return _chords(arc, start)


def _by_centre(arc: ArcFeed, start: tuple[float, float, float], numbers: Numbers) -> Piece | None:
    end = _written(numbers, arc.x), _written(numbers, arc.y)
    if end == start[:2]:
        return None
    step = numbers.last_digit_mm
    # The nearest centre first; its neighbours only where that one misses.
    near = sorted(
        ((a, b) for a in (-1, 0, 1) for b in (-1, 0, 1)), key=lambda shift: (abs(shift[0]) + abs(shift[1]), shift)
    )
    for a, b in near:
        i = numbers.length(arc.cx - start[0] + a * step)
        j = numbers.length(arc.cy - start[1] + b * step)
        centre = start[0] + numbers.read_back(i), start[1] + numbers.read_back(j)
        if _is_sound(arc, start, end, centre, numbers):
            return Piece(arc.x, arc.y, arc.z, i, j, "")
    return None


def _is_sound(arc: ArcFeed, start: tuple[float, float, float], end: XY, centre: XY, numbers: Numbers) -> bool:
    first = math.dist(start[:2], centre)
    last = math.dist(end, centre)
    limit = ARC_MISMATCH_IN * numbers.mm_per_unit if numbers.inch else ARC_MISMATCH_MM
    # A tenth below the limit: a reader that computes in single precision must pass it too.
    if first == 0 or last == 0 or abs(first - last) > 0.9 * limit:
        return False
    wanted = sweep_of(start[:2], (arc.x, arc.y), (arc.cx, arc.cy), arc.turn)
    return abs(sweep_of(start[:2], end, centre, arc.turn) - wanted) <= _SWEEP_SLACK


def _by_radius(arc: ArcFeed, start: tuple[float, float, float], numbers: Numbers) -> tuple[Piece, ...]:
    sweep = sweep_of(start[:2], (arc.x, arc.y), (arc.cx, arc.cy), arc.turn)
    radius = math.dist((arc.x, arc.y), (arc.cx, arc.cy))
    text = numbers.length(radius)
    pieces = []
    before = start[:2]
    for x, y, z in _along(arc, start, max(1, math.ceil(abs(sweep) / _RADIUS_PIECE))):
        end = _written(numbers, x), _written(numbers, y)
        chord = math.dist(before, end)
        if chord < 2 * numbers.last_digit_mm or chord > 1.9 * numbers.read_back(text):
            return ()
        pieces.append(Piece(x, y, z, "", "", text))
        before = end
    return tuple(pieces)


def _chords(arc: ArcFeed, start: tuple[float, float, float]) -> tuple[Chord, ...]:
    sweep = sweep_of(start[:2], (arc.x, arc.y), (arc.cx, arc.cy), arc.turn)
    radius = math.dist((arc.x, arc.y), (arc.cx, arc.cy))
    step = math.pi / 2 if radius <= CHORD_MM else 2 * math.acos(1 - CHORD_MM / radius)
    return tuple(Chord(*point) for point in _along(arc, start, max(1, math.ceil(abs(sweep) / step))))


def _along(arc: ArcFeed, start: tuple[float, float, float], count: int) -> list[tuple[float, float, float]]:
    """Return the ends of `count` equal parts of the arc; the last is the arc's own end."""
    sweep = sweep_of(start[:2], (arc.x, arc.y), (arc.cx, arc.cy), arc.turn)
    angle = math.atan2(start[1] - arc.cy, start[0] - arc.cx)
    radius = math.dist((arc.x, arc.y), (arc.cx, arc.cy))
    points = []
    for k in range(1, count):
        turned = angle + sweep * k / count
        z = start[2] + (arc.z - start[2]) * k / count
        points.append((arc.cx + radius * math.cos(turned), arc.cy + radius * math.sin(turned), z))
    return [*points, (arc.x, arc.y, arc.z)]


def sweep_of(start: XY, end: XY, centre: XY, turn: int) -> float:
    """Return the angle turned from `start` to `end` about `centre`, radians, 0 to a full turn, signed like `turn`."""
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    last = math.atan2(end[1] - centre[1], end[0] - centre[0])
    return turn * ((last - first) * turn % (2 * math.pi))


def _written(numbers: Numbers, value_mm: float) -> float:
    return numbers.read_back(numbers.length(value_mm))
