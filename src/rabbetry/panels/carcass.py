"""The carcass between its sides: bottom, top or stretchers, shelves, back, nailer. Millimetres, cabinet frame.

Sizes are those of design section 5. Outside sizes stay whatever the sheets measure: lengths follow the sides'
thickness. Panels seated in dados or rabbets are W - 2t + 2d long and seat on the floor of the recess.
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet
from rabbetry.job.model import Grain, Stock
from rabbetry.job.words import BackPlace, LevelJoint
from rabbetry.panels import levels, places
from rabbetry.panels.applied import applied_pilots
from rabbetry.panels.joints import nailer_heights
from rabbetry.panels.levels import Level
from rabbetry.panels.model import Panel, Place
from rabbetry.panels.shapes import Rect, notched_rectangle


def carcass_panels(cabinet: Cabinet) -> tuple[Panel, ...]:
    """Return every carcass panel but the sides, placed."""
    return (
        _level(cabinet, levels.bottom_level(cabinet), Grain.FREE),
        *(_level(cabinet, level, Grain.ALONG) for level in levels.top_levels(cabinet)),
        *_rails(cabinet),
        *inner_panels(cabinet),
        *_back(cabinet),
        *_nailers(cabinet),
    )


def inner_panels(cabinet: Cabinet) -> tuple[Panel, ...]:
    """Return what stands between the uprights alone: fixed shelves, middle rails, adjustable shelves, placed."""
    return (
        *(_level(cabinet, level, Grain.ALONG) for level in levels.shelf_levels(cabinet)),
        *(_level(cabinet, level, Grain.ALONG) for level in levels.middle_rail_levels(cabinet)),
        *_adjustable_shelves(cabinet),
    )


def shelf_levels(cabinet: Cabinet) -> tuple[float, ...]:
    """Return the pin heights on which the adjustable shelves stand as drawn, rising."""
    return cabinet.shelf_pin_z_mm


def _level(cabinet: Cabinet, level: Level, grain: Grain) -> Panel:
    """A panel that lies level between the sides, machined, if at all, on its upper face."""
    stock = cabinet.stocks.carcass
    x = cabinet.stocks.side.thickness_mm - levels.reach_mm(cabinet, level)
    panel = _panel(
        cabinet,
        level.role,
        stock,
        levels.panel_size(cabinet, level),
        places.lying(x, level.front_mm, level.z_mm, stock.thickness_mm),
        grain=grain,
        face_up="upper face",
        front="y0",
        banded=("y0",) if level.is_front else (),
    )
    return replace(
        panel,
        outline=levels.panel_outline(cabinet, level),
        features=levels.tongue_rabbets(cabinet, level),
        note=_seat_note(cabinet, level),
    )


def _seat_note(cabinet: Cabinet, level: Level) -> str:
    if level.joint is not LevelJoint.TONGUE:
        return ""
    reach, depth = levels.reach_mm(cabinet, level), cabinet.construction.depth_clearance_mm
    return f"the shoulders seat: tongues {reach:g} mm long in dados {reach + depth:g} mm deep"


def _rails(cabinet: Cabinet) -> Iterator[Panel]:
    if not cabinet.has_rails_on_edge:
        return
    stock, width = cabinet.stocks.carcass, cabinet.construction.stretcher_width_mm
    reach = 0.0 if cabinet.construction.top_joint is LevelJoint.BUTT else cabinet.construction.dado_depth_mm
    length, z = cabinet.inside_width_mm + 2 * reach, cabinet.height_mm - width
    x = cabinet.stocks.side.thickness_mm - reach
    front = places.facing_back(x, 0.0, z, length, stock.thickness_mm)
    rear = places.facing_front(x, cabinet.inside_depth_mm - stock.thickness_mm, z)
    yield _panel(cabinet, "front rail", stock, (length, width), front, banded=("y0",))
    yield _panel(cabinet, "rear rail", stock, (length, width), rear)


def _adjustable_shelves(cabinet: Cabinet) -> Iterator[Panel]:
    c, stock = cabinet.construction, cabinet.stocks.carcass
    front = c.shelf_setback_mm + cabinet.front_intrusion_mm
    for column, (left, right) in enumerate(cabinet.columns_mm, start=1):
        size = (right - left - c.shelf_side_gap_mm, cabinet.inside_depth_mm - front)
        x = left + c.shelf_side_gap_mm / 2
        for number, pin_z in enumerate(shelf_levels(cabinet), start=1):
            role = f"{cabinet.prefix}shelf {number}"
            role = f"column {column} {role}" if cabinet.divider_x_mm else role
            place = places.lying(x, front, pin_z + c.pin_diameter_mm / 2, stock.thickness_mm)
            yield _panel(cabinet, role, stock, size, place, face_up="upper face", front="y0", banded=("y0",))


def _back(cabinet: Cabinet) -> Iterator[Panel]:
    """The back from the bottom's under side to the top: between the floors of both sides' recesses, half the clearance
    short at either; or as wide as the box and screwed on."""
    if not cabinet.has_back:
        return
    c, stock = cabinet.construction, cabinet.stocks.back
    is_applied = cabinet.has_back_in(BackPlace.APPLIED)
    width = cabinet.inside_width_mm + 2 * c.back_rabbet_depth_mm - c.fit_clearance_mm
    width = cabinet.width_mm if is_applied else width
    x = (cabinet.width_mm - width) / 2
    place = places.facing_front(x, cabinet.inside_depth_mm, cabinet.bottom_z_mm)
    size = (width, cabinet.height_mm - cabinet.bottom_z_mm)
    panel = _panel(cabinet, "back", stock, size, place, grain=Grain.FREE)
    yield replace(panel, features=applied_pilots(cabinet)) if is_applied else panel


def _nailers(cabinet: Cabinet) -> Iterator[Panel]:
    stock, width = cabinet.stocks.carcass, cabinet.construction.nailer_width_mm
    y = cabinet.inside_depth_mm - stock.thickness_mm
    for role, z in nailer_heights(cabinet):
        place = places.facing_front(cabinet.stocks.side.thickness_mm, y, z)
        yield _panel(cabinet, role, stock, (cabinet.inside_width_mm, width), place)


def _panel(
    cabinet: Cabinet,
    role: str,
    stock: Stock,
    size: tuple[float, float],
    place: Place,
    *,
    grain: Grain = Grain.ALONG,
    face_up: str = "inside",
    front: str = "",
    banded: tuple[str, ...] = (),
) -> Panel:
    """A plain rectangle, length by width."""
    return Panel(
        id=f"{cabinet.name} {role}",
        cabinet=cabinet.name,
        role=role,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=size[0],
        width_mm=size[1],
        outline=notched_rectangle(Rect(0.0, 0.0, *size)),
        features=(),
        grain=grain,
        place=place,
        face_up=face_up,
        front_edge=front,
        banded_edges=banded,
    )
