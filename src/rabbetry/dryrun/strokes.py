"""Strokes: a program's motions as the wood sees them, in the program frame, each with the cutter that makes it.

A stroke is a straight line, or an arc or helix in the XY plane; arcs in other planes become lines. Only the tip's
path is kept; the cutter is a flat-ended cylinder about it.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.dryrun.arcs import point_on, radius_mm, sweep_rad
from rabbetry.dryrun.model import ArcMove, Event, Feed, Motion, Point3, Spindle, ToolChange, Traverse
from rabbetry.dryrun.setup import Cutter, Point2, Setup
from rabbetry.dryrun.tolerances import ARC_CHORD_MM, SAME_POINT_MM

_MOST_CHORDS = 720


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """One motion in the program frame. `centre` and `sweep_rad` (signed, counter-clockwise positive) only for arcs."""

    program: int
    """Place of its program in the running order."""
    line: int
    cutter: Cutter | None
    is_traverse: bool
    start: Point3
    to: Point3
    centre: Point2 | None = None
    sweep_rad: float = 0.0
    from_known: bool = True
    """False while the program has not yet said where the cutter comes from."""
    in_cycle: bool = False
    feed_mm_per_min: float = 0.0
    """0 for a traverse."""
    rpm: float = 0.0
    """Speed of the spindle; 0: at rest, or set by hand and not known."""

    @property
    def lowest(self) -> float:
        return min(self.start[2], self.to[2])

    @property
    def is_vertical(self) -> bool:
        return self.centre is None and math.dist(self.start[:2], self.to[:2]) < SAME_POINT_MM

    @property
    def radius_mm(self) -> float:
        """Return the arc's radius; 0 for a line."""
        return 0.0 if self.centre is None else math.dist(self.start[:2], self.centre)

    def at(self, part: float) -> Point3:
        """Return the tip's place after `part` (0 to 1) of the way."""
        if part == 0.0 or part == 1.0:
            return self.to if part else self.start
        (x0, y0, z0), (x1, y1, z1) = self.start, self.to
        z = z0 + (z1 - z0) * part
        if self.centre is None:
            return (x0 + (x1 - x0) * part, y0 + (y1 - y0) * part, z)
        radius = self.radius_mm
        angle = math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0]) + self.sweep_rad * part
        return (self.centre[0] + radius * math.cos(angle), self.centre[1] + radius * math.sin(angle), z)

    def heading(self, part: float) -> Point2:
        """Return the unit direction of travel in the plane; (1, 0) for a vertical stroke."""
        if self.centre is not None:
            x, y, _ = self.at(part)
            dx, dy = x - self.centre[0], y - self.centre[1]
            dx, dy = (-dy, dx) if self.sweep_rad > 0 else (dy, -dx)
        else:
            dx, dy = self.to[0] - self.start[0], self.to[1] - self.start[1]
        length = math.hypot(dx, dy)
        return (dx / length, dy / length) if length > SAME_POINT_MM else (1.0, 0.0)

    def bounds(self) -> tuple[float, float, float, float]:
        """Return min x, min y, max x, max y of the tip's path, exact for arcs."""
        xs, ys = [self.start[0], self.to[0]], [self.start[1], self.to[1]]
        if self.centre is not None:
            radius = self.radius_mm
            begin = math.atan2(self.start[1] - self.centre[1], self.start[0] - self.centre[0])
            turn = 1 if self.sweep_rad > 0 else -1
            for quarter in range(4):
                if ((quarter * math.pi / 2 - begin) * turn) % (2 * math.pi) < abs(self.sweep_rad):
                    xs.append(self.centre[0] + radius * (1, 0, -1, 0)[quarter])
                    ys.append(self.centre[1] + radius * (0, 1, 0, -1)[quarter])
        return min(xs), min(ys), max(xs), max(ys)

    def below(self, level_z: float) -> tuple[float, float] | None:
        """Return the parts of the way (begin and end, 0 to 1) between which the tip is at or below a height; None if
        never."""
        z0, z1 = self.start[2], self.to[2]
        if z0 <= level_z and z1 <= level_z:
            return (0.0, 1.0)
        if z0 > level_z and z1 > level_z:
            return None
        crossing = (level_z - z0) / (z1 - z0)
        return (crossing, 1.0) if z1 < z0 else (0.0, crossing)

    def path(self, begin: float = 0.0, end: float = 1.0) -> list[Point2]:
        """Return points of the path in the plane between two parts of the way: within the chord error for arcs, two
        for a line."""
        if self.centre is None:
            return [self.at(begin)[:2], self.at(end)[:2]]
        x, y = self.centre
        radius, sweep = self.radius_mm, self.sweep_rad * (end - begin)
        angle = math.atan2(self.start[1] - y, self.start[0] - x) + self.sweep_rad * begin
        count = chords(radius, sweep)
        steps = [angle + sweep * k / count for k in range(1, count)]
        between = [(x + radius * math.cos(step), y + radius * math.sin(step)) for step in steps]
        return [self.at(begin)[:2], *between, self.at(end)[:2]]


def start_mm(setup: Setup) -> Point3:
    """Return where the reader lets a program begin, machine coordinates: a place that no program names, so that an
    axis counts as known as soon as it is anywhere else."""
    offset = setup.work_offset_mm or (0.0, 0.0, 0.0)
    return (offset[0] - 0.1234567, offset[1] - 0.2345671, offset[2] + setup.stock_top_z_mm + 0.3456789)


def chords(radius: float, sweep: float) -> int:
    """Return how many chords keep an arc within ARC_CHORD_MM (sagitta formula), at least one a quarter turn."""
    step = math.pi / 2 if radius <= ARC_CHORD_MM * 4 else 2 * math.acos(1 - ARC_CHORD_MM / radius)
    return min(_MOST_CHORDS, max(1, math.ceil(abs(sweep) / step)))


def strokes_of(events: Sequence[Event], setup: Setup, *, program: int, cutter: Cutter | None) -> Iterator[Stroke]:
    """Yield the strokes of a program's motions in order; `cutter` is in the spindle until the first tool change."""
    offset = setup.work_offset_mm or (0.0, 0.0, 0.0)
    begin = start_mm(setup)
    known = [False, False, False]
    rpm = 0.0
    for event in events:
        if isinstance(event, ToolChange):
            cutter = setup.cutter(event.number)
        if isinstance(event, Spindle):
            rpm = 0.0 if event.direction == "off" else event.rpm or 0.0
        if not isinstance(event, Traverse | Feed | ArcMove):
            continue
        from_known = all(known)
        known = [was or event.to[axis] != begin[axis] for axis, was in enumerate(known)]
        for start, to, centre, sweep in _pieces(event):
            yield Stroke(
                program=program,
                line=event.line,
                cutter=cutter,
                is_traverse=isinstance(event, Traverse),
                start=_moved(start, offset),
                to=_moved(to, offset),
                centre=None if centre is None else (centre[0] - offset[0], centre[1] - offset[1]),
                sweep_rad=sweep,
                from_known=from_known,
                in_cycle=event.cycle is not None,
                feed_mm_per_min=0.0 if isinstance(event, Traverse) else event.feed_mm_per_min,
                rpm=rpm,
            )


def _pieces(event: Motion) -> Iterator[tuple[Point3, Point3, Point2 | None, float]]:
    if not isinstance(event, ArcMove):
        yield event.start, event.to, None, 0.0
    elif event.plane == "XY":
        yield event.start, event.to, (event.centre[0], event.centre[1]), event.turns * sweep_rad(event)
    else:
        count = chords(radius_mm(event), sweep_rad(event))
        points = [event.start, *(point_on(event, k / count) for k in range(1, count)), event.to]
        for start, to in pairwise(points):
            yield start, to, None, 0.0


def _moved(point: Point3, offset: Point3) -> Point3:
    return (point[0] - offset[0], point[1] - offset[1], point[2] - offset[2])
