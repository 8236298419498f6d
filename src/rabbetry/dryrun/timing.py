"""How long a program takes and how far it moves, from its events.

Speeds follow trapezoids: a constant acceleration up, the motion's own speed, a constant one down (rest to rest over D
at v and a: D/v + v/a, or 2 root(D/a) when v is not reached; kinematics). Speed carries through a junction that turns by
less than `JUNCTION_DEG`; at a sharper one, and at anything that is not a motion, the machine stands still. Linear in
the number of events.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.dryrun.arcs import PLANE_AXES, length_mm, radius_mm
from rabbetry.dryrun.model import (
    ArcMove,
    DistanceMode,
    Dwell,
    Event,
    Feed,
    Message,
    Motion,
    Plane,
    Point3,
    Traverse,
    Units,
    WorkOffset,
)
from rabbetry.dryrun.tolerances import JUNCTION_DEG, SAME_POINT_MM

_SECONDS_PER_MINUTE = 60.0
_CARRIES_THROUGH = (Message, Plane, Units, WorkOffset, DistanceMode)
"""Statements that do not make the machine wait."""
_COS_JUNCTION = math.cos(math.radians(JUNCTION_DEG))


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """The machine's limits per axis X, Y, Z; all more than zero."""

    max_rate_mm_per_min: Point3
    acceleration_mm_per_s2: Point3

    def __post_init__(self) -> None:
        for name in ("max_rate_mm_per_min", "acceleration_mm_per_s2"):
            if min(getattr(self, name)) <= 0:
                raise ValueError(f"{name} {getattr(self, name)} must be more than zero on every axis")


@dataclass(frozen=True, slots=True)
class _Stretch:
    """One motion as timing sees it. mm, mm/s, mm/s2; unit directions of its beginning and end."""

    index: int
    length: float
    straight_speed: float
    """What feed and rates allow; `speed` is less in a narrow arc."""
    speed: float
    acceleration: float
    first: Point3
    last: Point3


@dataclass(frozen=True, slots=True, kw_only=True)
class Seconds:
    """Seconds of motions and dwells, three ways."""

    each: list[float]
    """The estimate of each event, in the order of the events; 0 for what takes no time."""
    shortest: float
    """All of them together, every motion at its feed or the axes' rates from end to end."""
    longest: float
    """All of them together, the machine at rest between any two motions, also where they go straight on."""


def seconds_of(events: Sequence[Event], rates: Rates) -> Seconds:
    """Return what the events take: the estimate of each, and the shortest and longest sum."""
    shortest: list[float] = []
    longest: list[float] = []
    seconds = [0.0] * len(events)
    run: list[_Stretch] = []
    for index, event in enumerate(events):
        if isinstance(event, (Traverse, Feed, ArcMove)):
            stretch = _stretch(index, event, rates)
            if stretch is None:
                continue
            shortest.append(stretch.length / stretch.straight_speed)
            longest.append(trapezoid_seconds(stretch.length, 0.0, stretch.speed, 0.0, stretch.acceleration))
            if run and _dot(run[-1].last, stretch.first) < _COS_JUNCTION:
                _time_run(run, seconds)
                run = []
            run.append(stretch)
        elif not isinstance(event, _CARRIES_THROUGH):
            _time_run(run, seconds)
            run = []
            if isinstance(event, Dwell):
                seconds[index] = event.seconds
                shortest.append(event.seconds)
                longest.append(event.seconds)
    _time_run(run, seconds)
    return Seconds(each=seconds, shortest=math.fsum(shortest), longest=math.fsum(longest))


def lengths(events: Iterable[Event]) -> tuple[float, float]:
    """Return the millimetres cut (feeds and arcs, exact along arc and helix) and traversed."""
    cut: list[float] = []
    traversed: list[float] = []
    for event in events:
        if isinstance(event, Traverse):
            traversed.append(math.dist(event.start, event.to))
        elif isinstance(event, Feed):
            cut.append(math.dist(event.start, event.to))
        elif isinstance(event, ArcMove):
            cut.append(length_mm(event))
    return math.fsum(cut), math.fsum(traversed)


def trapezoid_seconds(length: float, enter: float, speed: float, leave: float, acceleration: float) -> float:
    """Return the time over `length` mm from `enter` to `leave` mm/s, at most `speed`, at one acceleration up and down.

    The two end speeds must be within reach of each other; `speed` is not below either.
    """
    peak = math.sqrt((enter * enter + leave * leave) / 2 + acceleration * length)
    if peak <= speed:
        return (2 * peak - enter - leave) / acceleration
    ramps = (2 * speed * speed - enter * enter - leave * leave) / (2 * acceleration)
    return (2 * speed - enter - leave) / acceleration + (length - ramps) / speed


def _time_run(run: list[_Stretch], seconds: list[float]) -> None:
    """Time the motions between two stops: each junction's speed backwards, then forwards, then the trapezoids."""
    if not run:
        return
    ends = [min(before.speed, after.speed) for before, after in pairwise(run)]
    speeds = [0.0, *ends, 0.0]
    for at in range(len(run) - 1, 0, -1):
        reach = math.sqrt(speeds[at + 1] ** 2 + 2 * run[at].acceleration * run[at].length)
        speeds[at] = min(speeds[at], reach)
    for at, stretch in enumerate(run):
        reach = math.sqrt(speeds[at] ** 2 + 2 * stretch.acceleration * stretch.length)
        speeds[at + 1] = min(speeds[at + 1], reach)
        seconds[stretch.index] = trapezoid_seconds(
            stretch.length, speeds[at], stretch.speed, speeds[at + 1], stretch.acceleration
        )


def _stretch(index: int, motion: Motion, rates: Rates) -> _Stretch | None:
    """Return a motion's stretch; None when it goes nowhere."""
    if isinstance(motion, ArcMove):
        return _arc_stretch(index, motion, rates)
    length = math.dist(motion.start, motion.to)
    if length < SAME_POINT_MM:
        return None
    start, to = motion.start, motion.to
    way = ((to[0] - start[0]) / length, (to[1] - start[1]) / length, (to[2] - start[2]) / length)
    speed = _along(way, rates.max_rate_mm_per_min)
    if isinstance(motion, Feed):
        speed = min(speed, motion.feed_mm_per_min)
    acceleration = _along(way, rates.acceleration_mm_per_s2)
    speed /= _SECONDS_PER_MINUTE
    return _Stretch(index, length, speed, speed, acceleration, way, way)


def _arc_stretch(index: int, arc: ArcMove, rates: Rates) -> _Stretch | None:
    """An arc is limited by the slower axis of its plane, by root(a R), and for a helix's rise by the third axis."""
    length = length_mm(arc)
    if length < SAME_POINT_MM:
        return None
    first, second, normal = PLANE_AXES[arc.plane]
    rise = (arc.to[normal] - arc.start[normal]) / length
    level = math.sqrt(max(0.0, 1 - rise * rise))
    radial = min(rates.acceleration_mm_per_s2[first], rates.acceleration_mm_per_s2[second])
    speed = min(rates.max_rate_mm_per_min[first], rates.max_rate_mm_per_min[second], arc.feed_mm_per_min)
    speed /= _SECONDS_PER_MINUTE
    acceleration = radial
    if abs(rise) > 0:
        speed = min(speed, rates.max_rate_mm_per_min[normal] / abs(rise) / _SECONDS_PER_MINUTE)
        acceleration = min(acceleration, rates.acceleration_mm_per_s2[normal] / abs(rise))
    bent = min(speed, math.sqrt(radial * radius_mm(arc)) / level) if level > 0 else speed
    first_way, last_way = _tangent(arc, arc.start, level, rise), _tangent(arc, arc.to, level, rise)
    return _Stretch(index, length, speed, bent, acceleration, first_way, last_way)


def _tangent(arc: ArcMove, at: Point3, level: float, rise: float) -> Point3:
    first, second, normal = PLANE_AXES[arc.plane]
    across, along = at[first] - arc.centre[first], at[second] - arc.centre[second]
    radius = math.hypot(across, along)
    way = [0.0, 0.0, 0.0]
    if radius > 0:
        way[first] = -arc.turns * along / radius * level
        way[second] = arc.turns * across / radius * level
    way[normal] = rise
    return (way[0], way[1], way[2])


def _along(way: Point3, limits: Point3) -> float:
    """Return the largest value along a unit direction that keeps each axis within its limit."""
    return min(limit / abs(part) for part, limit in zip(way, limits, strict=True) if part)


def _dot(one: Point3, other: Point3) -> float:
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]
