"""Arcs of the dry run: centres from I J K or R, sweeps and lengths. Millimetres; angles in radians.

Axis order in each plane, so that counter-clockwise is seen from the positive end of the third axis: XY (X, Y),
XZ (Z, X), YZ (Y, Z) (NISTIR 6556, sections 3.5.3 and 4.3).
"""

import math
from typing import Literal

from rabbetry.dryrun.dialects import Dialect
from rabbetry.dryrun.model import ArcMove, PlaneName, Point3
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.tolerances import (
    ARC_NOTE_MM,
    ARC_NOTE_RELATIVE,
    HALF_CHORD_SLACK,
    MM_PER_INCH,
    SAME_POINT_MM,
)

PLANE_AXES: dict[PlaneName, tuple[int, int, int]] = {"XY": (0, 1, 2), "XZ": (2, 0, 1), "YZ": (1, 2, 0)}
"""First, second and normal axis of each plane, as indexes into a point."""

Turns = Literal[1, -1]
Plane2 = tuple[float, float]


def centre_by_offsets(
    start: Plane2, end: Plane2, offsets: Plane2, dialect: Dialect, *, inch: bool
) -> tuple[Plane2, str]:
    """Return the centre `start + offsets`, and a remark ("" if none) when the end lies barely off the circle.

    Raises Refusal for a circle without radius, or when the two radii differ by more than the dialect allows.
    """
    centre = (start[0] + offsets[0], start[1] + offsets[1])
    radius = math.hypot(*offsets)
    if radius < SAME_POINT_MM:
        raise Refusal("program-arc", "the arc has no radius: its centre is its start")
    end_radius = math.hypot(end[0] - centre[0], end[1] - centre[1])
    mismatch = abs(end_radius - radius)
    said = f"the start lies {radius:.5f} mm from the centre, the end {end_radius:.5f} mm"
    allowed = dialect.arc_mismatch_in * MM_PER_INCH if inch else dialect.arc_mismatch_mm
    allowed = min(max(allowed, dialect.arc_mismatch_relative * radius), dialect.arc_mismatch_most_mm)
    if mismatch > allowed:
        raise Refusal("program-arc", f"the arc does not meet its end: {said}; {allowed:.5f} mm apart is allowed")
    if mismatch > ARC_NOTE_MM and mismatch > ARC_NOTE_RELATIVE * radius:
        return centre, f"the arc barely misses its end: {said}"
    return centre, ""


def centre_by_radius(start: Plane2, end: Plane2, radius: float, turns: Turns) -> Plane2:
    """Return the centre of the arc of at most half a turn (`radius` > 0) or at least half a turn (`radius` < 0).

    Raises Refusal when end and start are one point or the radius cannot reach.
    """
    across = (end[0] - start[0], end[1] - start[1])
    chord = math.hypot(*across)
    if abs(radius) < SAME_POINT_MM:
        raise Refusal("program-arc", "the arc's radius R is zero")
    if chord < SAME_POINT_MM:
        raise Refusal("program-arc", "an arc by radius must end elsewhere than it starts; give a circle its centre")
    ratio = chord / 2 / abs(radius)
    if ratio > 1 + HALF_CHORD_SLACK:
        raise Refusal("program-arc", f"radius {abs(radius):.5f} mm cannot reach: the end is {chord:.5f} mm away")
    away = 0.0 if ratio > 1 - HALF_CHORD_SLACK else abs(radius) * math.sqrt((1 - ratio) * (1 + ratio))
    side = turns if radius > 0 else -turns
    left = (-across[1] / chord, across[0] / chord)
    return (
        start[0] + across[0] / 2 + side * away * left[0],
        start[1] + across[1] / 2 + side * away * left[1],
    )


def is_full_circle(start: Plane2, end: Plane2) -> bool:
    """Tell whether a centre arc between these points goes round once rather than nowhere."""
    return math.hypot(end[0] - start[0], end[1] - start[1]) < SAME_POINT_MM


def sweep_rad(arc: ArcMove) -> float:
    """Return the angle an arc turns through, positive, radians; a full circle gives 2 pi."""
    if arc.full_circles:
        return 2 * math.pi * arc.full_circles
    first, second, _ = PLANE_AXES[arc.plane]
    begin = math.atan2(arc.start[second] - arc.centre[second], arc.start[first] - arc.centre[first])
    end = math.atan2(arc.to[second] - arc.centre[second], arc.to[first] - arc.centre[first])
    return (arc.turns * (end - begin)) % (2 * math.pi)


def radius_mm(arc: ArcMove) -> float:
    """Return the radius at the arc's start."""
    first, second, _ = PLANE_AXES[arc.plane]
    return math.hypot(arc.start[first] - arc.centre[first], arc.start[second] - arc.centre[second])


def length_mm(arc: ArcMove) -> float:
    """Return the exact length of an arc or helix: root of (radius times sweep) squared plus rise squared."""
    normal = PLANE_AXES[arc.plane][2]
    return math.hypot(radius_mm(arc) * sweep_rad(arc), arc.to[normal] - arc.start[normal])


def point_on(arc: ArcMove, part: float) -> Point3:
    """Return the point after `part` (0 to 1) of an arc; a helix rises evenly, and a radius changes evenly."""
    first, second, normal = PLANE_AXES[arc.plane]
    begin = math.atan2(arc.start[second] - arc.centre[second], arc.start[first] - arc.centre[first])
    end_radius = math.hypot(arc.to[first] - arc.centre[first], arc.to[second] - arc.centre[second])
    radius = radius_mm(arc) * (1 - part) + end_radius * part
    angle = begin + arc.turns * sweep_rad(arc) * part
    point = [0.0, 0.0, 0.0]
    point[first] = arc.centre[first] + radius * math.cos(angle)
    point[second] = arc.centre[second] + radius * math.sin(angle)
    point[normal] = arc.start[normal] + (arc.to[normal] - arc.start[normal]) * part
    return (point[0], point[1], point[2])
