"""How wide a shape is and where a round cutter does not get to. Measures with shapely; nothing made here is cut."""

import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.geometry.curves import Contour
from rabbetry.geometry.regions import grown, region_polygon
from rabbetry.operations.slots import slot_of
from rabbetry.tolerances import CHORD_MM, WIDTH_MM

CORNER = 0.25
"""A piece that a cutter leaves counts as a neck when a circle of this share of the cutter's radius fits in it; what
stays in a square corner holds one of 0.17 only."""


def narrowest_mm(outline: Contour, islands: tuple[Contour, ...] = ()) -> float:
    """Return a slot's width, else the diameter of the largest circle within the region."""
    slot = None if islands else slot_of(outline)
    if slot is not None:
        return slot.width_mm
    line = shapely.maximum_inscribed_circle(region_polygon(outline, islands), CHORD_MM)
    return 2 * float(line.length)


def neck_left_by(
    radius_mm: float, outline: Contour, islands: tuple[Contour, ...] = (), *, wanted: Contour
) -> BaseGeometry | None:
    """Return what of `wanted` a cutter kept within the region cannot reach, corners left out (empty: nothing).

    None when it does not go in at all. A way that is not wider than the cutter by WIDTH_MM counts as closed, because
    rings in it would be hair-thin.
    """
    region = region_polygon(outline, islands)
    radius = radius_mm + WIDTH_MM / 2
    centres = grown(region, -radius)
    if centres.is_empty:
        return None
    left = region_polygon(wanted, islands).difference(grown(centres, radius))
    return _thicker_than_corners(left, radius_mm)


def notch_closed_to(radius_mm: float, outline: Contour) -> BaseGeometry:
    """Return the notches of an outline that a cutter outside it cannot enter (empty: none)."""
    part = region_polygon(outline)
    left = grown(grown(part, radius_mm), -radius_mm).difference(part)
    return _thicker_than_corners(left, radius_mm)


def _thicker_than_corners(left: BaseGeometry, radius_mm: float) -> BaseGeometry:
    pieces = [piece for piece in getattr(left, "geoms", [left]) if not piece.buffer(-CORNER * radius_mm).is_empty]
    return shapely.union_all(pieces) if pieces else shapely.Polygon()
