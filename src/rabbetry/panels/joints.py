"""What enters a carcass side, and the recess and pilot holes the side carries for it. Millimetres.

One definition serves both hands. Its frame: x up from the floor, y from the front edge to the back. A recess is as wide
as the *entering* panel's measured thickness plus clearance (design section 5, check value 6.5): all of the clearance in
a dado, half of it in a rabbet that is open on its other side. Dados run the full depth, also across the back rabbet,
and the back rabbet runs the full height: where two recesses cross, the deeper wins, and neither leaves a round corner
where a square one must enter. Only the stretchers' rabbets end inside the panel; their one inner corner is relieved.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.points import Point
from rabbetry.panels.model import Bore, Recess
from rabbetry.panels.shapes import Rect, even_row, notched_rectangle
from rabbetry.tolerances import POINT_MM


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


def seats(cabinet: Cabinet) -> tuple[Seat, ...]:
    """Return what the sides carry, in the order bottom, top or stretchers, fixed shelves, back, nailer."""
    return (
        *_bottom(cabinet),
        *_top(cabinet),
        *_fixed_shelves(cabinet),
        *_rails_between(cabinet),
        *_back(cabinet),
        *_nailer(cabinet),
    )


def _bottom(cabinet: Cabinet) -> Iterator[Seat]:
    yield _level_seat(cabinet, "bottom", cabinet.bottom_z_mm)


def _fixed_shelves(cabinet: Cabinet) -> Iterator[Seat]:
    for number, z in enumerate(cabinet.fixed_shelf_z_mm, start=1):
        yield _level_seat(cabinet, f"fixed shelf {number}", z)


def _rails_between(cabinet: Cabinet) -> Iterator[Seat]:
    """Dados of the flat rails between two fronts: open at the front edge, their two inner corners relieved."""
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    half, rear = c.fit_clearance_mm / 2, c.stretcher_width_mm + c.fit_clearance_mm
    for number, z in enumerate(cabinet.rail_z_mm, start=1):
        role, low, high = f"middle rail {number}", z - half, z + thickness + half
        recess = Recess(
            name=f"{role} dado",
            kind="dado",
            outline=notched_rectangle(Rect(low, 0.0, high, rear)),
            depth_mm=c.dado_depth_mm,
            relieved_corners=(Point(low, rear), Point(high, rear)),
        )
        ys = even_row(0.0, c.stretcher_width_mm, c.pilot_end_mm, c.pilot_spacing_mm)
        pilots = tuple(_pilot(cabinet, role, k, z + thickness / 2, y) for k, y in enumerate(ys, start=1))
        yield Seat(role=role, kind="dado", recess=recess, pilots=pilots)


def _level_seat(cabinet: Cabinet, role: str, z: float) -> Seat:
    """Seat of a panel that lies at `z` from the front edge to the back: a dado, a rabbet at the panel's very end."""
    thickness, half = cabinet.stocks.carcass.thickness_mm, cabinet.construction.fit_clearance_mm / 2
    low, high = max(0.0, z - half), min(cabinet.height_mm, z + thickness + half)
    is_at_end = z <= POINT_MM or z + thickness >= cabinet.height_mm - POINT_MM
    kind = "rabbet" if is_at_end else "dado"
    recess = Recess(
        name=f"{role} {kind}",
        kind=kind,
        outline=notched_rectangle(Rect(low, 0.0, high, cabinet.depth_mm), kick_notch(cabinet)),
        depth_mm=cabinet.construction.dado_depth_mm,
    )
    return Seat(role=role, kind=kind, recess=recess, pilots=_row_along_y(cabinet, role, z + thickness / 2))


def _top(cabinet: Cabinet) -> Iterator[Seat]:
    if cabinet.has_top_panel:
        yield _level_seat(cabinet, "top", cabinet.ceiling_z_mm)
        return
    for role, corner_x, corner_y in strip_corners(cabinet):
        is_front = role.startswith("front")
        low, high = (0.0, corner_y) if is_front else (corner_y, cabinet.depth_mm)
        recess = Recess(
            name=f"{role} rabbet",
            kind="rabbet",
            outline=notched_rectangle(Rect(corner_x, low, cabinet.height_mm, high)),
            depth_mm=cabinet.construction.dado_depth_mm,
            relieved_corners=(Point(corner_x, corner_y),),
        )
        yield Seat(role=role, kind="rabbet", recess=recess, pilots=_strip_pilots(cabinet, role))


def strip_corners(cabinet: Cabinet) -> tuple[tuple[str, float, float], ...]:
    """Return role, height and distance from the front of each stretcher rabbet's one closed corner.

    A flat stretcher is t high and Ws deep, a rail on edge Ws high and t deep. Half the clearance under either; behind a
    flat stretcher a whole one, since nothing holds it that way; behind a rail, whose thickness that is, half.
    """
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    half = c.fit_clearance_mm / 2
    if cabinet.has_rails_on_edge:
        word, high, deep = "rail", c.stretcher_width_mm + half, thickness + half
    else:
        word, high, deep = "stretcher", thickness + half, c.stretcher_width_mm + c.fit_clearance_mm
    x = cabinet.height_mm - high
    return ((f"front {word}", x, deep), (f"rear {word}", x, cabinet.inside_depth_mm - deep))


def _strip_pilots(cabinet: Cabinet, role: str) -> tuple[Bore, ...]:
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    is_front = role.startswith("front")
    if cabinet.has_rails_on_edge:
        y = thickness / 2 if is_front else cabinet.inside_depth_mm - thickness / 2
        return _row_along_x(cabinet, role, y, cabinet.height_mm - c.stretcher_width_mm, cabinet.height_mm)
    low = 0.0 if is_front else cabinet.inside_depth_mm - c.stretcher_width_mm
    ys = even_row(low, low + c.stretcher_width_mm, c.pilot_end_mm, c.pilot_spacing_mm)
    return tuple(_pilot(cabinet, role, k, cabinet.height_mm - thickness / 2, y) for k, y in enumerate(ys, start=1))


def _back(cabinet: Cabinet) -> Iterator[Seat]:
    if not cabinet.has_back:
        return
    c = cabinet.construction
    shoulder = cabinet.inside_depth_mm - c.fit_clearance_mm
    recess = Recess(
        name="back rabbet",
        kind="rabbet",
        outline=notched_rectangle(Rect(0.0, shoulder, cabinet.height_mm, cabinet.depth_mm)),
        depth_mm=c.back_rabbet_depth_mm,
    )
    yield Seat(role="back", kind="back rabbet", recess=recess, pilots=())


def _nailer(cabinet: Cabinet) -> Iterator[Seat]:
    if not cabinet.has_nailer:
        return
    y = cabinet.inside_depth_mm - cabinet.stocks.carcass.thickness_mm / 2
    low = cabinet.ceiling_z_mm - cabinet.construction.nailer_width_mm
    pilots = _row_along_x(cabinet, "nailer", y, low, cabinet.ceiling_z_mm)
    yield Seat(role="nailer", kind="butt", recess=None, pilots=pilots)


def _row_along_y(cabinet: Cabinet, role: str, x: float) -> tuple[Bore, ...]:
    c = cabinet.construction
    ys = even_row(0.0, cabinet.inside_depth_mm, c.pilot_end_mm, c.pilot_spacing_mm)
    return tuple(_pilot(cabinet, role, k, x, y) for k, y in enumerate(ys, start=1))


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
