"""What enters a carcass side, and the recess and pilot holes the side carries for it. Millimetres.

One definition serves both hands. Its frame: x up from the floor, y from the front edge to the back. A recess is as wide
as what enters it, measured, plus clearance (design section 5, check value 6.5): all of the clearance in a dado, half of
it in a rabbet that is open on its other side. Panels that lie level are in `levels`; here are the rails on edge, the
back and the nailers. Dados run to the rear edge, also across the back's rabbet or groove, and that runs the full
height: where two recesses cross, the deeper wins, and neither leaves a round corner where a square one must enter. Only
the stretchers' rabbets end inside the panel; their inner corners are relieved.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.points import Point
from rabbetry.job.words import BackPlace, LevelJoint
from rabbetry.panels import levels
from rabbetry.panels.levels import Level
from rabbetry.panels.model import Bore, Recess
from rabbetry.panels.shapes import Rect, even_row, notched_rectangle


@dataclass(frozen=True, slots=True, kw_only=True)
class Seat:
    """A panel that enters the side: its role, the kind of joint, the recess (None: a butt joint), the pilot holes."""

    role: str
    kind: str
    recess: Recess | None
    pilots: tuple[Bore, ...]


def kick_notch(cabinet: Cabinet) -> tuple[Rect, ...]:
    """Return the toe-kick notch at the lower front corner, or nothing."""
    if not cabinet.has_kick:
        return ()
    c = cabinet.construction
    return (Rect(0.0, 0.0, c.kick_height_mm, c.kick_depth_mm),)


def seats(cabinet: Cabinet, hand: str = "right") -> tuple[Seat, ...]:
    """Return what the side of that hand carries, in the order bottom, top or stretchers, fixed shelves, back, nailers.
    The hands differ only in how far the recesses run to the rear, behind a finished end's scribe."""
    rear = cabinet.side_depth_mm(hand)
    return (
        _level_seat(cabinet, levels.bottom_level(cabinet), rear),
        *(_level_seat(cabinet, level, rear) for level in levels.top_levels(cabinet)),
        *_rails(cabinet, rear),
        *(_level_seat(cabinet, level, rear) for level in levels.shelf_levels(cabinet)),
        *(_level_seat(cabinet, level, rear) for level in levels.middle_rail_levels(cabinet)),
        *_back(cabinet, rear),
        *_nailers(cabinet),
    )


def _level_seat(cabinet: Cabinet, level: Level, rear: float) -> Seat:
    recess = levels.side_recess(cabinet, level, rear, kick_notch(cabinet))
    kind = recess.kind if recess is not None else "butt"
    if level.joint is LevelJoint.TONGUE:
        kind = "tongue"
    return Seat(role=level.role, kind=kind, recess=recess, pilots=_level_pilots(cabinet, level))


def _level_pilots(cabinet: Cabinet, level: Level) -> tuple[Bore, ...]:
    """A row in the middle of what enters the side, behind the notched front."""
    c = cabinet.construction
    x = level.z_mm + levels.entering_thickness_mm(cabinet, level) / 2
    low = level.front_mm + levels.front_notch_mm(cabinet, level)
    ys = even_row(low, level.rear_mm, c.pilot_end_mm, c.pilot_spacing_mm)
    return tuple(_pilot(cabinet, level.role, k, x, y) for k, y in enumerate(ys, start=1))


def rail_corners(cabinet: Cabinet) -> tuple[tuple[str, float, float], ...]:
    """Return role, height and distance from the front of each rail's rabbet's one closed corner; nothing without rails
    on edge.

    Half the clearance under a rail, Ws high, and half behind it, t deep.
    """
    if not cabinet.has_rails_on_edge:
        return ()
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    half = c.fit_clearance_mm / 2
    x, deep = cabinet.height_mm - c.stretcher_width_mm - half, thickness + half
    return (("front rail", x, deep), ("rear rail", x, cabinet.inside_depth_mm - deep))


def _rails(cabinet: Cabinet, rear: float) -> Iterator[Seat]:
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    for role, corner_x, corner_y in rail_corners(cabinet):
        is_front = role.startswith("front")
        low, high = (0.0, corner_y) if is_front else (corner_y, rear)
        recess = Recess(
            name=f"{role} rabbet",
            kind="rabbet",
            outline=notched_rectangle(Rect(corner_x, low, cabinet.height_mm, high)),
            depth_mm=c.dado_depth_mm,
            relieved_corners=(Point(corner_x, corner_y),),
        )
        y = thickness / 2 if is_front else cabinet.inside_depth_mm - thickness / 2
        pilots = _row_along_x(cabinet, role, y, cabinet.height_mm - c.stretcher_width_mm, cabinet.height_mm)
        is_butt = c.top_joint is LevelJoint.BUTT
        yield Seat(
            role=role,
            kind="butt" if is_butt else "rabbet",
            recess=None if is_butt else recess,
            pilots=pilots,
        )


def _back(cabinet: Cabinet, rear: float) -> Iterator[Seat]:
    """The back in its rabbet, the whole clearance before it, or in its groove, half of it on either face."""
    if not cabinet.has_back or cabinet.has_back_in(BackPlace.APPLIED):
        return
    c, front = cabinet.construction, cabinet.inside_depth_mm
    word, kind, low, high = "rabbet", "back rabbet", front - c.fit_clearance_mm, rear
    if cabinet.has_back_in(BackPlace.GROOVE):
        half = c.fit_clearance_mm / 2
        word, kind, low, high = "groove", "groove", front - half, front + cabinet.stocks.back.thickness_mm + half
    recess = Recess(
        name=f"back {word}",
        kind=word,
        outline=notched_rectangle(Rect(0.0, low, cabinet.height_mm, high)),
        depth_mm=c.back_rabbet_depth_mm,
    )
    yield Seat(role="back", kind=kind, recess=recess, pilots=())


def nailer_heights(cabinet: Cabinet) -> tuple[tuple[str, float], ...]:
    """Return role and lower edge of each nailer."""
    found: list[tuple[str, float]] = []
    if cabinet.has_nailer:
        found.append(("nailer", cabinet.ceiling_z_mm - cabinet.construction.nailer_width_mm))
    if cabinet.has_lower_nailer:
        found.append(("lower nailer", cabinet.floor_z_mm))
    return tuple(found)


def _nailers(cabinet: Cabinet) -> Iterator[Seat]:
    y = cabinet.inside_depth_mm - cabinet.stocks.carcass.thickness_mm / 2
    for role, low in nailer_heights(cabinet):
        pilots = _row_along_x(cabinet, role, y, low, low + cabinet.construction.nailer_width_mm)
        yield Seat(role=role, kind="butt", recess=None, pilots=pilots)


def _row_along_x(cabinet: Cabinet, role: str, y: float, low: float, high: float) -> tuple[Bore, ...]:
    c = cabinet.construction
    xs = even_row(low, high, c.pilot_end_mm, c.pilot_spacing_mm)
    return tuple(_pilot(cabinet, role, k, x, y) for k, x in enumerate(xs, start=1))


def _pilot(cabinet: Cabinet, role: str, number: int, x: float, y: float) -> Bore:
    return Bore(
        name=f"{role} pilot {number}",
        purpose="pilot",
        centre=Point(x, y),
        diameter_mm=cabinet.construction.pilot_diameter_mm,
        depth_mm=cabinet.stocks.side.thickness_mm,
        through=True,
    )
