"""Where screws may hold a blank down: in its waste, clear of every cut, spread over it. Millimetres, blank frame.

A head is a fixture like any clamp, so that what keeps parts clear of clamps keeps screws clear of parts: the same box
about it that no part may enter.
"""

import math
from collections.abc import Sequence

from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import Region, distance_mm, region_polygon
from rabbetry.job.model import Cutting
from rabbetry.sheets.keepout import Box, keep_out
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Clamp, Machine, Shop
from rabbetry.tolerances import POINT_MM

EDGE_MM = 15.0
"""A screw nearer to the blank's edge splits it, or holds nothing. Common practice, no source."""
MOST = 8
APART_MM = 250.0
"""Nearer to each other two screws hold little more than one. Common practice, no source."""
_STEP_MM = 10.0
"""Places are looked for on a grid this wide."""


def screw_heads(sheet: Sheet, *, shop: Shop, cutting: Cutting, spacing_mm: float) -> tuple[Clamp, ...]:
    """Return the heads of the screws as fixtures, in the order in which their holes are drilled: the first nearest to
    the lower left corner, then each as far from the others as can be. Empty where no place is free.

    `spacing_mm` is what is kept between parts. On a flipped blank the places are free on both sides, and those of
    side 2 are those of side 1 mirrored.
    """
    parts = [region_polygon(item.panel.outline.moved(item.blank_from_panel)) for item in sheet.placements]
    # All in the frame of side 1, so that both sides choose among the same places in the same order.
    free = [
        point
        for point in _grid(sheet)
        if all(_is_reached(spot, shop.machine, cutting) for spot in _both(point, sheet))
        and _is_waste(_here(point, sheet), sheet, parts, shop, cutting, spacing_mm)
    ]
    chosen = [_here(point, sheet) for point in _spread(free)]
    return tuple(_head(point, cutting, number) for number, point in enumerate(chosen, start=1))


def _grid(sheet: Sheet) -> list[Point]:
    columns = int((sheet.blank_x_mm - 2 * EDGE_MM) // _STEP_MM)
    rows = int((sheet.blank_y_mm - 2 * EDGE_MM) // _STEP_MM)
    return [
        Point(EDGE_MM + column * _STEP_MM, EDGE_MM + row * _STEP_MM)
        for row in range(rows + 1)
        for column in range(columns + 1)
    ]


def _here(point: Point, sheet: Sheet) -> Point:
    """Return where a place, given as side 1 has it, lies on this side."""
    return sheet.flip.mirror(point) if sheet.flip is not None and sheet.side == 2 else point


def _both(point: Point, sheet: Sheet) -> tuple[Point, ...]:
    """Return a place as each side of the blank has it."""
    return (point,) if sheet.flip is None else (point, sheet.flip.mirror(point))


def _is_reached(point: Point, machine: Machine, cutting: Cutting) -> bool:
    """Tell whether drill, collet and dust shoe can come down there, and a head has room, beside the clamps."""
    reach = max(machine.collet_diameter_mm, *machine.dust_shoe_mm) / 2 + machine.clamp_margin_mm
    near = max(reach, cutting.screw_head_mm)
    return _within_travels(point, machine) and all(_box_distance(point, clamp) >= near for clamp in machine.clamps)


def _is_waste(
    point: Point, sheet: Sheet, parts: Sequence[Region], shop: Shop, cutting: Cutting, spacing_mm: float
) -> bool:
    """Tell whether a head there is clear of every part's cuts and of the index holes."""
    head = _head(point, cutting, 0)
    if sheet.flip is not None:
        away = sheet.flip.hole_diameter_mm + spacing_mm + cutting.screw_head_mm + shop.machine.clamp_margin_mm
        if any(point.distance(hole) < away for hole in sheet.flip.index_holes):
            return False
    box = keep_out(head, shop, thickness_mm=sheet.thickness_mm, spacing_mm=spacing_mm)
    return all(distance_mm(part, *_corners(box)) > POINT_MM for part in parts)


def _within_travels(point: Point, machine: Machine) -> bool:
    x, y = point.x + machine.blank_origin_mm[0], point.y + machine.blank_origin_mm[1]
    low, high = machine.travel_min_mm, machine.travel_max_mm
    return low[0] <= x <= high[0] and low[1] <= y <= high[1]


def _box_distance(point: Point, clamp: Clamp) -> float:
    away_x = max(clamp.x_mm - point.x, 0.0, point.x - clamp.x_mm - clamp.length_x_mm)
    away_y = max(clamp.y_mm - point.y, 0.0, point.y - clamp.y_mm - clamp.length_y_mm)
    return math.hypot(away_x, away_y)


def _corners(box: Box) -> tuple[Point, ...]:
    x0, y0, x1, y1 = box
    return Point(x0, y0), Point(x1, y0), Point(x1, y1), Point(x0, y1), Point(x0, y0)


def _spread(free: Sequence[Point]) -> list[Point]:
    """Return places far from each other, the first nearest to the corner; ties go to the earlier one."""
    if not free:
        return []
    first = min(free, key=lambda point: math.hypot(point.x, point.y))
    chosen = [first]
    away = [point.distance(first) for point in free]
    while len(chosen) < MOST:
        best = max(range(len(free)), key=lambda k: away[k])
        if away[best] < APART_MM:
            break
        chosen.append(free[best])
        away = [min(old, point.distance(free[best])) for old, point in zip(away, free, strict=True)]
    return chosen


def _head(point: Point, cutting: Cutting, number: int) -> Clamp:
    size = cutting.screw_head_mm
    return Clamp(
        name=f"screw {number}",
        x_mm=point.x - size / 2,
        y_mm=point.y - size / 2,
        length_x_mm=size,
        length_y_mm=size,
        height_mm=cutting.screw_head_height_mm,
    )
