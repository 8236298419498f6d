"""An applied back: a panel on the rear of the box, screwed to the rear edges behind it. Millimetres.

Its pilot holes stand over the middle of what is left of each edge: of a side beyond its dados, of bottom and top over
their whole thickness. Panel frame of the back: x to the right, y up from the bottom's under side.
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.words import BackPlace
from rabbetry.panels import levels
from rabbetry.panels.holes import side_holes
from rabbetry.panels.joints import nailer_heights, rail_corners, seats
from rabbetry.panels.levels import Level
from rabbetry.panels.model import Bore, Joint
from rabbetry.panels.shapes import even_row, pilots_clear_of

_SCREW_MM = 30.0
"""A hole in the side this near its rear edge may meet a screw (common practice, no source)."""


def applied_joints(cabinet: Cabinet) -> Iterator[Joint]:
    """Yield the butt joints of the box's rear edges against an applied back; nothing for other backs."""
    if not cabinet.has_back_in(BackPlace.APPLIED):
        return
    levelled = [level.role for level in _reaching(cabinet)]
    nailers = [role for role, _ in nailer_heights(cabinet)]
    rails = ["rear rail"] if rail_corners(cabinet) else []
    for role in ("left side", "right side", *levelled, *rails, *nailers):
        entering = f"{cabinet.name} {role}"
        yield Joint(kind="butt", receiver=f"{cabinet.name} back", feature="", entering=entering)


def _reaching(cabinet: Cabinet) -> tuple[Level, ...]:
    """Return the bottom and what closes the top at the rear."""
    tops = levels.top_levels(cabinet)[-1:]
    return (levels.bottom_level(cabinet), *tops)


def applied_pilots(cabinet: Cabinet) -> tuple[Bore, ...]:
    """Return the pilot holes of an applied back."""
    return (*_along_sides(cabinet), *_along_levels(cabinet))


def _along_sides(cabinet: Cabinet) -> Iterator[Bore]:
    c, thickness = cabinet.construction, cabinet.stocks.side.thickness_mm
    units = {"left": cabinet.units[0][1], "right": cabinet.units[-1][1]}
    recesses = [seat.recess for unit in units.values() for seat in seats(unit)]
    deepest = max((recess.depth_mm for recess in recesses if recess is not None), default=0.0)
    room, up = (0.0, cabinet.height_mm - cabinet.bottom_z_mm), Transform.quarter_turns(1)
    heights = even_row(*room, c.pilot_end_mm, c.pilot_spacing_mm)
    out = (thickness - deepest) / 2
    for hand, x in (("left", out), ("right", cabinet.width_mm - out)):
        row = tuple(_pilot(cabinet, f"{hand} pilot {k}", x, y) for k, y in enumerate(heights, start=1))
        yield from pilots_clear_of(row, tuple(_in_the_way(units[hand], x)), up, within=room)


def _in_the_way(cabinet: Cabinet, x: float) -> Iterator[Bore]:
    """Yield the side's holes near its rear edge as they stand behind the back's row at `x`."""
    own = [*side_holes(cabinet, "left"), *side_holes(cabinet, "right")]
    own += [pilot for seat in seats(cabinet) for pilot in seat.pilots]
    for hole in own:
        if hole.centre.y + hole.diameter_mm / 2 > cabinet.inside_depth_mm - _SCREW_MM:
            yield replace(hole, centre=Point(x, hole.centre.x - cabinet.bottom_z_mm))


def _along_levels(cabinet: Cabinet) -> Iterator[Bore]:
    c, side = cabinet.construction, cabinet.stocks.side.thickness_mm
    room = (side, cabinet.width_mm - side)
    places = even_row(*room, c.pilot_end_mm, c.pilot_spacing_mm)
    for level in _reaching(cabinet):
        y = level.z_mm + cabinet.stocks.carcass.thickness_mm / 2 - cabinet.bottom_z_mm
        row = tuple(_pilot(cabinet, f"{level.role} pilot {k}", x, y) for k, x in enumerate(places, start=1))
        yield from pilots_clear_of(row, tuple(_dividers(cabinet, y)), Transform.shift(0.0, 0.0), within=room)


def _dividers(cabinet: Cabinet, y: float) -> Iterator[Bore]:
    """Yield the dados for dividers, each as a hole as wide as it is, as they stand behind the back's row at `y`."""
    wide = cabinet.stocks.carcass.thickness_mm + cabinet.construction.fit_clearance_mm
    for x in cabinet.divider_x_mm:
        centre = Point(x + cabinet.stocks.carcass.thickness_mm / 2, y)
        yield replace(_pilot(cabinet, "divider", centre.x, y), diameter_mm=wide)


def _pilot(cabinet: Cabinet, name: str, x: float, y: float) -> Bore:
    return Bore(
        name=name,
        purpose="pilot",
        centre=Point(x, y),
        diameter_mm=cabinet.construction.pilot_diameter_mm,
        depth_mm=cabinet.stocks.back.thickness_mm,
        through=True,
    )
