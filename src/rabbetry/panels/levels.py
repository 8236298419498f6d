"""Panels that lie level between the sides, and how they join them: both mates of a joint from one definition.

Millimetres. The side's frame is that of `joints`: x up from the floor, y from the front edge to the back. With d the
dado depth, c the fit clearance, t the lying panel's thickness and tt a tongue's, a level panel at height z has in
each side

- dado: a recess from z - c/2 to z + t + c/2, d deep, from the front edge to the rear; the panel's end seats on its
  floor. At the side's very end it is a rabbet, open there.
- stopped dado: the same, but it ends behind the front edge in the round end that any cutter narrower than the dado
  leaves (a half circle, or a quarter where one wall is open). The panel's front corners are notched past that end, so
  that its front reaches the front edge between the sides' faces and covers it; nothing needs a relief.
- tongue: a stopped dado from z - c/2 to z + tt + c/2, deeper than the tongue by the depth clearance. The panel is
  rabbeted from its upper face, t - tt deep; the shoulder seats on the side's face.
- rabbet: as the dado at the side's very end.
- butt: nothing; the panel's end seats on the side's face.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.curves import Arc, Contour, Line, Segment
from rabbetry.geometry.points import Point
from rabbetry.job.words import LevelJoint
from rabbetry.panels.model import Recess
from rabbetry.panels.shapes import Rect, notched_rectangle
from rabbetry.tolerances import POINT_MM

NOTCH_CORNER_MM = 6.5
"""How much farther a panel's front corner is notched than its dado's round end reaches: in the notch's inside corner
the profile cutter leaves a round, of 6.35 mm with the widest usual one (1/2 in; common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A panel that lies level: its under side at `z_mm`, from `front_mm` to `rear_mm` behind the front edge."""

    role: str
    joint: LevelJoint
    z_mm: float
    front_mm: float
    rear_mm: float
    is_front: bool = True
    """Whether its front edge shows; its dados then begin at the sides' front edges, however far behind them it begins
    for the sake of inset fronts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """Where a level panel enters a side: the recess's walls, None where it is open at the side's end, and its ends."""

    low_mm: float
    high_mm: float
    is_open_below: bool
    is_open_above: bool
    stop_mm: float | None
    """Where the recess ends behind the front edge; None when it does not."""

    @property
    def full_from_mm(self) -> float:
        """How far behind the front edge the recess has its whole width."""
        if self.stop_mm is None:
            return 0.0
        wide = self.high_mm - self.low_mm
        return self.stop_mm + (wide if self.is_open_below or self.is_open_above else wide / 2)


def bottom_level(cabinet: Cabinet) -> Level:
    """Return the bottom."""
    return _whole(cabinet, "bottom", cabinet.construction.bottom_joint, cabinet.bottom_z_mm)


def shelf_levels(cabinet: Cabinet) -> tuple[Level, ...]:
    """Return the fixed shelves, rising."""
    joint = cabinet.construction.shelf_joint
    front, rear = cabinet.front_intrusion_mm, cabinet.inside_depth_mm
    return tuple(
        Level(role=f"{cabinet.prefix}fixed shelf {number}", joint=joint, z_mm=z, front_mm=front, rear_mm=rear)
        for number, z in enumerate(cabinet.fixed_shelf_z_mm, start=1)
    )


def top_levels(cabinet: Cabinet) -> tuple[Level, ...]:
    """Return the top, or the two flat stretchers; nothing when rails stand on edge."""
    joint, z = cabinet.construction.top_joint, cabinet.ceiling_z_mm
    if cabinet.has_top_panel:
        return (_whole(cabinet, "top", joint, z),)
    if cabinet.has_rails_on_edge:
        return ()
    width, depth = cabinet.construction.stretcher_width_mm, cabinet.inside_depth_mm
    return (
        Level(role="front stretcher", joint=joint, z_mm=z, front_mm=0.0, rear_mm=width),
        Level(role="rear stretcher", joint=joint, z_mm=z, front_mm=depth - width, rear_mm=depth, is_front=False),
    )


def middle_rail_levels(cabinet: Cabinet) -> tuple[Level, ...]:
    """Return the flat rails behind the gaps between two fronts, flush with the sides' front edges."""
    joint, width = cabinet.construction.shelf_joint, cabinet.construction.stretcher_width_mm
    return tuple(
        Level(role=f"{cabinet.prefix}middle rail {number}", joint=joint, z_mm=z, front_mm=0.0, rear_mm=width)
        for number, z in enumerate(cabinet.rail_z_mm, start=1)
    )


def _whole(cabinet: Cabinet, role: str, joint: LevelJoint, z: float) -> Level:
    return Level(role=role, joint=joint, z_mm=z, front_mm=0.0, rear_mm=cabinet.inside_depth_mm)


def reach_mm(cabinet: Cabinet, level: Level) -> float:
    """Return how far each end of the panel enters its side."""
    return 0.0 if level.joint is LevelJoint.BUTT else cabinet.construction.dado_depth_mm


def entering_thickness_mm(cabinet: Cabinet, level: Level) -> float:
    """Return the thickness of what enters the sides: the panel's, or its tongue's."""
    if level.joint is LevelJoint.TONGUE:
        return cabinet.construction.tongue_thickness_mm
    return cabinet.stocks.carcass.thickness_mm


def slot_of(cabinet: Cabinet, level: Level) -> Slot | None:
    """Return where the panel enters the sides, or None for a butt joint."""
    if level.joint is LevelJoint.BUTT:
        return None
    half = cabinet.construction.fit_clearance_mm / 2
    low, high = level.z_mm - half, level.z_mm + entering_thickness_mm(cabinet, level) + half
    is_open_below = level.z_mm <= POINT_MM
    is_open_above = high - half >= cabinet.height_mm - POINT_MM
    stops = level.joint in (LevelJoint.STOPPED_DADO, LevelJoint.TONGUE) and level.is_front
    slot = Slot(
        low_mm=0.0 if is_open_below else low,
        high_mm=cabinet.height_mm if is_open_above else high,
        is_open_below=is_open_below,
        is_open_above=is_open_above,
        stop_mm=level.front_mm + cabinet.construction.dado_stop_mm if stops else None,
    )
    return _over_kick(cabinet, slot)


def _over_kick(cabinet: Cabinet, slot: Slot) -> Slot:
    """Return the slot as it is over a toe kick that cuts into it: open below at its front end; where its round end
    would stand half over the kick it ends behind the kick instead."""
    kick, stop = cabinet.construction.kick_depth_mm, slot.stop_mm
    if not cabinet.has_kick or stop is None or slot.low_mm >= cabinet.kick_z_mm or stop >= kick:
        return slot
    opened = Slot(
        low_mm=cabinet.kick_z_mm,
        high_mm=slot.high_mm,
        is_open_below=True,
        is_open_above=slot.is_open_above,
        stop_mm=stop,
    )
    if opened.full_from_mm <= kick:
        return opened
    return Slot(
        low_mm=slot.low_mm,
        high_mm=slot.high_mm,
        is_open_below=slot.is_open_below,
        is_open_above=slot.is_open_above,
        stop_mm=kick,
    )


def side_recess(cabinet: Cabinet, level: Level, rear_mm: float, notches: tuple[Rect, ...]) -> Recess | None:
    """Return what a side `rear_mm` deep carries for the panel; `notches` are the side's own. None for a butt joint."""
    slot, c = slot_of(cabinet, level), cabinet.construction
    if slot is None:
        return None
    low = max(0.0, level.z_mm - c.fit_clearance_mm / 2)
    walls = Rect(low, _start(cabinet, level, slot), slot.high_mm, _end(cabinet, level, rear_mm))
    is_rabbet = level.z_mm <= POINT_MM or slot.is_open_above
    outline = notched_rectangle(walls, notches) if slot.stop_mm is None else _stopped(walls, slot, notches)
    return Recess(
        name=f"{level.role} {'rabbet' if is_rabbet else 'dado'}",
        kind="rabbet" if is_rabbet else "dado",
        outline=outline,
        depth_mm=c.dado_depth_mm + (c.depth_clearance_mm if level.joint is LevelJoint.TONGUE else 0.0),
        relieved_corners=tuple(_square_corners(cabinet, level, slot, walls)),
    )


def _start(cabinet: Cabinet, level: Level, slot: Slot) -> float:
    if slot.stop_mm is not None:
        return slot.stop_mm
    return 0.0 if level.is_front else level.front_mm - cabinet.construction.fit_clearance_mm


def _end(cabinet: Cabinet, level: Level, rear_mm: float) -> float:
    """A panel that reaches the back has its recess run on to the side's rear edge."""
    is_rear = level.rear_mm >= cabinet.inside_depth_mm - POINT_MM
    return rear_mm if is_rear else level.rear_mm + cabinet.construction.fit_clearance_mm


def _square_corners(cabinet: Cabinet, level: Level, slot: Slot, walls: Rect) -> Iterator[Point]:
    """Yield the corners within the side that a stretcher's square corner must enter."""
    for is_closed, y in (
        (not level.is_front, walls.y0),
        (level.rear_mm < cabinet.inside_depth_mm - POINT_MM, walls.y1),
    ):
        if is_closed:
            if not slot.is_open_below:
                yield Point(walls.x0, y)
            if not slot.is_open_above:
                yield Point(walls.x1, y)


def _stopped(walls: Rect, slot: Slot, notches: tuple[Rect, ...]) -> Contour:
    """Return the recess with its round front end; over a toe kick its lower wall begins behind the kick."""
    low, high, stop, full = slot.low_mm, slot.high_mm, slot.stop_mm or 0.0, slot.full_from_mm
    if slot.is_open_below:
        start, end = Point(low, stop), Point(high, full)
    elif slot.is_open_above:
        start, end = Point(low, full), Point(high, stop)
    else:
        start, end = Point(low, full), Point(high, full)
    centre = Point(low if slot.is_open_below else high if slot.is_open_above else (low + high) / 2, full)
    corners = [end, Point(high, walls.y1), Point(walls.x0, walls.y1)]
    if low - walls.x0 > POINT_MM:
        corners += [Point(walls.x0, notches[0].y1), Point(low, notches[0].y1)]
    corners.append(start)
    lines = [Line(a, b) for a, b in pairwise(corners) if a.distance(b) > POINT_MM]
    segments: tuple[Segment, ...] = (Arc(start, end, centre, 1), *lines)
    return Contour(segments)


def front_notch_mm(cabinet: Cabinet, level: Level) -> float:
    """Return how far behind its front edge the panel's ends are notched away; 0 when they are not."""
    slot = slot_of(cabinet, level)
    if slot is None or slot.stop_mm is None:
        return 0.0
    return slot.full_from_mm - level.front_mm + NOTCH_CORNER_MM


def panel_outline(cabinet: Cabinet, level: Level) -> Contour:
    """Return the panel's outline, panel frame: x to the right, y to the back."""
    length, width = panel_size(cabinet, level)
    reach, notch = reach_mm(cabinet, level), front_notch_mm(cabinet, level)
    notches = (Rect(0.0, 0.0, reach, notch), Rect(length - reach, 0.0, length, notch)) if notch else ()
    return notched_rectangle(Rect(0.0, 0.0, length, width), notches)


def panel_size(cabinet: Cabinet, level: Level) -> tuple[float, float]:
    """Return the panel's length, W - 2t and what enters both sides, and its width."""
    return cabinet.inside_width_mm + 2 * reach_mm(cabinet, level), level.rear_mm - level.front_mm


def tongue_rabbets(cabinet: Cabinet, level: Level) -> tuple[Recess, ...]:
    """Return the rabbets in the panel's upper face that leave its tongues; empty for other joints."""
    if level.joint is not LevelJoint.TONGUE:
        return ()
    length, width = panel_size(cabinet, level)
    reach, notch = reach_mm(cabinet, level), front_notch_mm(cabinet, level)
    depth = cabinet.stocks.carcass.thickness_mm - entering_thickness_mm(cabinet, level)
    ends = (("left", 0.0, reach), ("right", length - reach, length))
    return tuple(
        Recess(
            name=f"{hand} tongue rabbet",
            kind="rabbet",
            outline=notched_rectangle(Rect(low, notch, high, width)),
            depth_mm=depth,
        )
        for hand, low, high in ends
    )
