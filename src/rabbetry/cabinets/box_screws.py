"""Screws that hold a box to its neighbour: where a side has room for their holes. Millimetres, cabinet frame.

Each line of holes is spread evenly from floor to ceiling; a hole that would meet shelf pins, hinge plates, drawer
slides or a fixed shelf steps up or down to the nearest free place, or is left out and said to be. The places are the
same on both sides, so that one rule serves a run of boxes.
"""

from collections.abc import Iterator, Sequence

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding
from rabbetry.shop.hardware import BoxScrews
from rabbetry.tolerances import POINT_MM

_WEB_MM = 5.0
"""Least wood between a screw's hole and another hole or a dado (common practice, no source)."""

_SLIDE_HALF_MM = 30.0
"""Kept free above and below the line of a slide: half its height and the screw's head (common practice, no source)."""

_STEP_MM = 8.0
_MOST_STEPS = 10
"""A hole steps by a quarter of the 32 mm pitch, 80 mm at most."""


def place_box_screws(cabinet: Cabinet) -> tuple[tuple[tuple[float, float], ...], tuple[Finding, ...]]:
    """Return the places of the holes, (behind the sides' front edge, above the floor), front line first, and a note on
    those left out. `cabinet` must have its fronts, shelf pins, shelves and drawers."""
    screws = cabinet.construction.fittings.box_screws
    if screws is None or not cabinet.construction.fittings.joined_sides:
        return (), ()
    low, high = cabinet.floor_z_mm, cabinet.ceiling_z_mm
    wanted = tuple((y, z) for y in _lines(cabinet, screws) for z in _spread(low, high, screws))
    holes = tuple(_holes(cabinet))
    found = [_nearest(cabinet, place, screws.diameter_mm, holes) for place in wanted]
    places = tuple(dict.fromkeys(place for place in found if place is not None))
    lost = len(wanted) - len(places)
    if not lost:
        return places, ()
    are = "hole for a screw has" if lost == 1 else "holes for screws have"
    message = f'cabinet "{cabinet.name}": {lost} {are} no free place on the sides and cannot join it to its neighbour'
    return places, (finding("box-screws-left-out", message),)


def _lines(cabinet: Cabinet, screws: BoxScrews) -> Iterator[float]:
    yield screws.front_mm
    if screws.rear_mm > 0:
        yield cabinet.depth_mm - screws.rear_mm


def _spread(low: float, high: float, screws: BoxScrews) -> tuple[float, ...]:
    """Return at least two heights, evenly spread, no farther apart than the row says."""
    end = min(screws.end_mm, (high - low) / 4)
    gaps = 1
    while (high - low - 2 * end) / gaps > screws.spacing_mm + POINT_MM:
        gaps += 1
    return tuple(low + end + (high - low - 2 * end) * k / gaps for k in range(gaps + 1))


def _nearest(
    cabinet: Cabinet, place: tuple[float, float], diameter: float, holes: Sequence[tuple[float, float, float]]
) -> tuple[float, float] | None:
    y, z = place
    for step in range(_MOST_STEPS + 1):
        for height in dict.fromkeys((z + step * _STEP_MM, z - step * _STEP_MM)):
            if _is_free(cabinet, y, height, diameter / 2, holes):
                return (y, height)
    return None


def _is_free(cabinet: Cabinet, y: float, z: float, radius: float, holes: Sequence[tuple[float, float, float]]) -> bool:
    reach = radius + _WEB_MM
    strip = cabinet.construction.nailer_width_mm if cabinet.has_nailer else 0.0
    if not cabinet.floor_z_mm + reach <= z <= cabinet.ceiling_z_mm - reach - strip:
        return False
    thickness = cabinet.stocks.carcass.thickness_mm
    if any(shelf - reach < z < shelf + thickness + reach for shelf in cabinet.fixed_shelf_z_mm):
        return False
    if any(abs(drawer.slide_hole_z_mm - z) < radius + _SLIDE_HALF_MM for drawer in cabinet.drawers):
        return False
    return all(((y - a) ** 2 + (z - b) ** 2) ** 0.5 >= reach + half for a, b, half in holes)


def _holes(cabinet: Cabinet) -> Iterator[tuple[float, float, float]]:
    """Yield place and radius of every other hole of either side."""
    c = cabinet.construction
    for y in cabinet.pin_rows_y_mm:
        yield from ((y, z, c.pin_diameter_mm / 2) for z in cabinet.pin_z_mm)
    if cabinet.plate_y_mm is not None:
        for front in cabinet.fronts:
            for z in front.hinge_z_mm:
                for sign in (-1, 1):
                    yield cabinet.plate_y_mm, z + sign * c.plate_spacing_mm / 2, c.plate_diameter_mm / 2
