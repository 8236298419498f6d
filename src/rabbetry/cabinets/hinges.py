"""How many hinges a door gets, and at which heights. Millimetres, cabinet frame.

Hinges keep the set distance from both ends of the door and divide the rest evenly, or by a whole number of pitches. A
hinge moves when its plate's holes would meet a dado or rabbet of the side, and the end distance shrinks on a door too
low for it; both are said. Their number follows the door's height, or its weight where that asks for more.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.findings import Finding, finding
from rabbetry.tolerances import FIT_MM, POINT_MM

_HINGES_BY_HEIGHT = ((1016.0, 2), (1524.0, 3), (2032.0, 4), (2540.0, 5))
"""Door height up to, hinges: 40, 60, 80, 100 in (check value 4.2.9, a hinge maker's chart)."""

_POUND_KG = 0.45359237
"""The pound in kilograms, exactly."""

_HINGES_BY_WEIGHT = ((15 * _POUND_KG, 2), (30 * _POUND_KG, 3), (45 * _POUND_KG, 4), (60 * _POUND_KG, 5))
"""Door weight below, hinges: 15, 30, 45, 60 lb (check value 4.2.10, the same chart)."""

_MOST_HINGES = 6
"""One more than the chart, for what is above it."""

_HINGE_WEB_MM = 3.0
"""Least wood between the holes of two hinges, or to the door's end (common practice, no source)."""

_PLATE_WEB_MM = 3.0
"""Least wood between a plate hole and a dado (check value 6.4, taken sideways; common practice)."""


def hinge_count(height_mm: float, weight_kg: float | None = None) -> int:
    """Return the hinges of a door that high and heavy, the greater of the two (check values 4.2.9, 4.2.10); one more
    than the chart above it. A weight of None counts for nothing."""
    by_height = next((count for limit, count in _HINGES_BY_HEIGHT if height_mm <= limit), _MOST_HINGES)
    if weight_kg is None:
        return by_height
    return max(by_height, next((count for limit, count in _HINGES_BY_WEIGHT if weight_kg < limit), _MOST_HINGES))


def door_weight_kg(cabinet: Cabinet, door: Front) -> float | None:
    """Return what a door cut from sheet weighs, or None when what it is made of is not known."""
    if cabinet.front_density_kg_per_m3 is None:
        return None
    volume_mm3 = door.width_mm * door.height_mm * cabinet.front_thickness_mm
    return volume_mm3 * 1e-9 * cabinet.front_density_kg_per_m3


def hang_door(cabinet: Cabinet, door: Front) -> tuple[Front, tuple[Finding, ...]]:
    """Return the door with its hinge heights, or without them and an error when there is no room for its hinges.
    `cabinet` must have its fixed shelves."""
    count = hinge_count(door.height_mm, door_weight_kg(cabinet, door))
    end = _end_mm(cabinet, door, count)
    even = _evenly(cabinet, door, end, count)
    settled = tuple(_clear_of_dados(cabinet, z) for z in even)
    room = _room_mm(cabinet)
    # Half a hinge's room at each end of the door, a whole one between two.
    stops = (door.z_mm - room / 2, *settled, door.z_mm + door.height_mm + room / 2)
    if any(above - below < room for below, above in pairwise(stops)):
        message = f'cabinet "{cabinet.name}": {door.name} is {door.height_mm:.2f} mm high, too low for {count} hinges'
        return door, (finding("door-too-low", message),)
    return replace(door, hinge_z_mm=settled), tuple(_moved(cabinet, door, end, even, settled))


def check_hinges(cabinet: Cabinet) -> Iterator[Finding]:
    """Yield notes on what the trade's rules of thumb say of a cabinet's hinges (check values 4.2.3, 4.2.10).
    `cabinet` must have its fronts."""
    where, c = f'cabinet "{cabinet.name}": ', cabinet.construction
    doors = [front for front in cabinet.fronts if front.kind == "door" and front.hinge_z_mm]
    for door in doors:
        weight, by_height = door_weight_kg(cabinet, door), hinge_count(door.height_mm)
        if weight is not None and len(door.hinge_z_mm) > by_height:
            problem = f"{door.name} weighs {weight:.1f} kg and gets {len(door.hinge_z_mm)} hinges; its height alone "
            yield finding("hinges-by-weight", where + problem + f"asks for {by_height}")
    least, most = c.fittings.cup_edge_least_mm, c.fittings.cup_edge_most_mm
    if doors and cabinet.cut_fronts and most > 0 and not least - FIT_MM <= c.hinge_cup_edge_mm <= most + FIT_MM:
        problem = f"hinge cups {c.hinge_cup_edge_mm:g} mm from the door's edge; hinges of row "
        yield finding("hinge-edge", f'{where}{problem}"{c.fittings.hinge_cups}" take {least:g} to {most:g} mm')


def _evenly(cabinet: Cabinet, door: Front, end: float, count: int) -> list[float]:
    """Return hinge heights evenly spaced, `end` from both ends of the door; where a pitch is set, the largest multiple
    of it apart that leaves at least `end` (check value 4.2.13)."""
    pitch = cabinet.construction.hinge_pitch_mm
    low, high = door.z_mm + end, door.z_mm + door.height_mm - end
    if pitch > 0 and (steps := math.floor((high - low) / (count - 1) / pitch + POINT_MM)) > 0:
        spare = (high - low - steps * pitch * (count - 1)) / 2
        return [low + spare + steps * pitch * k for k in range(count)]
    return [low + (high - low) * k / (count - 1) for k in range(count)]


def _room_mm(cabinet: Cabinet) -> float:
    """Return the least distance between two hinges: their holes and plates must not meet."""
    c = cabinet.construction
    fixings = c.hinge_fixing_spacing_mm + c.hinge_fixing_diameter_mm
    plates = c.plate_spacing_mm + c.plate_diameter_mm
    return max(fixings, c.hinge_cup_diameter_mm, plates) + _HINGE_WEB_MM


def _end_mm(cabinet: Cabinet, door: Front, count: int) -> float:
    """Return the set distance from the door's ends; a quarter of a door too low for that."""
    end = cabinet.construction.hinge_end_mm
    is_room = door.height_mm - 2 * end >= (count - 1) * _room_mm(cabinet)
    return end if is_room else door.height_mm / 4


def _clear_of_dados(cabinet: Cabinet, z: float) -> float:
    """Return the hinge height near `z` whose plate holes stay off every dado and rabbet that runs past the plates."""
    c = cabinet.construction
    thickness = cabinet.stocks.carcass.thickness_mm
    reach = (c.plate_spacing_mm + c.plate_diameter_mm + c.fit_clearance_mm) / 2 + _PLATE_WEB_MM
    within = (*cabinet.fixed_shelf_z_mm, *cabinet.rail_z_mm)
    for panel_z in (cabinet.bottom_z_mm, *within, cabinet.height_mm - thickness):
        low, high = panel_z - reach, panel_z + thickness + reach
        if low < z < high:
            if panel_z == cabinet.bottom_z_mm:
                return high
            is_top = panel_z not in within
            return low if is_top or z < panel_z + thickness / 2 else high
    return z


def _moved(
    cabinet: Cabinet, door: Front, end: float, even: list[float], settled: tuple[float, ...]
) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": '
    if end != cabinet.construction.hinge_end_mm:
        problem = f"{door.name} is {door.height_mm:.2f} mm high: its hinges sit {end:.2f} mm from its ends, not "
        yield finding("hinge-moved", where + problem + f"{cabinet.construction.hinge_end_mm:g} mm")
    for before, after in zip(even, settled, strict=True):
        if before != after:
            problem = f"a hinge of the {door.name} moves from {before:.2f} to {after:.2f} mm above the floor, clear "
            yield finding("hinge-moved", where + problem + "of a dado")
