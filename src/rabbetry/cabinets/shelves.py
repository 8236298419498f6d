"""Fixed shelves, and rows of shelf-pin holes for the adjustable ones. Millimetres, cabinet frame."""

from collections.abc import Sequence
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet, Front, Opening
from rabbetry.cabinets.pin_rows import grid_row, pin_levels
from rabbetry.findings import Finding, finding
from rabbetry.job.model import CabinetOrder
from rabbetry.tolerances import FIT_MM

PIN_WEB_MM = 2.0
"""Least wood between two holes (common practice, no source)."""


def assign_shelves(
    cabinet: Cabinet, order: CabinetOrder, openings: Sequence[Opening]
) -> tuple[tuple[Opening, ...], tuple[Finding, ...]]:
    """Return the openings with the order's shelves in the lowest that takes any, besides those of their own."""
    fixed, adjustable = order.fixed_shelves, order.adjustable_shelves
    takes = shelf_opening(openings)
    if takes is None:
        counts = (("fixed", fixed), ("adjustable", adjustable))
        return tuple(openings), tuple(_no_opening(cabinet, count, sort) for sort, count in counts if count)
    more = replace(
        takes,
        fixed_shelves=takes.fixed_shelves + fixed,
        adjustable_shelves=takes.adjustable_shelves + adjustable,
    )
    return tuple(more if opening is takes else opening for opening in openings), ()


def check_dividing(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Return an error for each shelf or rail between two fronts that meets what is above or below it: the bottom, a
    nailer, the top or a rail on edge."""
    thickness, c = cabinet.stocks.carcass.thickness_mm, cabinet.construction
    nailer_above = c.nailer_width_mm if cabinet.has_nailer else 0.0
    nailer_below = c.nailer_width_mm if cabinet.has_lower_nailer else 0.0
    ceiling = cabinet.height_mm - c.stretcher_width_mm if cabinet.has_rails_on_edge else cabinet.ceiling_z_mm
    found = []
    for word, levels, low, high in (
        ("shelf", cabinet.fixed_shelf_z_mm, cabinet.floor_z_mm + nailer_below, ceiling - nailer_above),
        ("rail", cabinet.rail_z_mm, cabinet.floor_z_mm, ceiling),
    ):
        for z in levels:
            if z < low - FIT_MM or z + thickness > high + FIT_MM:
                message = (
                    f'cabinet "{cabinet.name}": the {word} between two fronts would lie from {z:.2f} to '
                    f"{z + thickness:.2f} mm above the floor; {low:.2f} to {high:.2f} mm is free"
                )
                found.append(finding("shelves-too-many", message))
    return tuple(found)


def place_fixed_shelves(cabinet: Cabinet) -> tuple[tuple[float, ...], tuple[Finding, ...]]:
    """Return the height of each fixed shelf's under side: those of an opening are spread evenly in it."""
    found = [_spread(cabinet, opening) for opening in cabinet.openings if opening.fixed_shelves]
    return tuple(z for levels, _ in found for z in levels), tuple(item for _, said in found for item in said)


def _spread(cabinet: Cabinet, opening: Opening) -> tuple[tuple[float, ...], tuple[Finding, ...]]:
    count = opening.fixed_shelves
    thickness = cabinet.stocks.carcass.thickness_mm
    clear = (opening.top_z_mm - opening.floor_z_mm - count * thickness) / (count + 1)
    above, below = _strip_above_mm(cabinet, opening), _strip_below_mm(cabinet, opening)
    strip, what = max((above, "rail above" if cabinet.has_rails_on_edge else "nailer above"), (below, "nailer below"))
    if clear < max(_LEAST_CLEAR_MM, strip):
        over = f"the {what} needs {strip:g} mm" if strip else f"at least {_LEAST_CLEAR_MM:g} mm is expected"
        shelves = "1 fixed shelf" if count == 1 else f"{count} fixed shelves"
        message = (
            f'cabinet "{cabinet.name}": {shelves} of {thickness:g} mm leave {clear:.2f} mm of room in '
            f"an opening of {opening.top_z_mm - opening.floor_z_mm:.2f} mm; {over}"
        )
        return (), (finding("shelves-too-many", message),)
    return tuple(opening.floor_z_mm + clear + k * (clear + thickness) for k in range(count)), ()


def place_pins(
    cabinet: Cabinet, fronts: Sequence[Front]
) -> tuple[tuple[float, ...], tuple[float, ...], tuple[Finding, ...]]:
    """Return the heights of the pin holes, rising: a row in each compartment between the fixed shelves; and
    the levels on which the adjustable shelves stand as drawn, spread evenly over the rows of their opening.

    A level that a hinge plate would cover is left out of every row, with a note, so that all rows stay level.
    `cabinet` must have its fixed shelves.
    """
    pins: list[float] = []
    levels: list[float] = []
    findings: list[Finding] = []
    left_out = 0
    for opening in reversed(cabinet.openings):
        if opening.adjustable_shelves:
            free, lost, said = _pins_of(cabinet, opening, fronts, pins)
            count = opening.adjustable_shelves
            levels.extend(free[(k + 1) * len(free) // (count + 1)] for k in range(count) if free)
            pins.extend(free)
            findings.extend(said)
            left_out += lost
    return tuple(pins), tuple(levels), (*findings, *(() if findings else _left_out(cabinet, left_out)))


def _pins_of(
    cabinet: Cabinet, opening: Opening, fronts: Sequence[Front], below: Sequence[float]
) -> tuple[tuple[float, ...], int, tuple[Finding, ...]]:
    """Return the pin heights of one opening, how many levels were left out, and an error when too few are left. Pins
    go on with the pitch of those `below` them unless a fixed shelf lies between."""
    count = opening.adjustable_shelves
    c = cabinet.construction
    levels = [z for span in _compartments(cabinet, opening) for z in _levels(cabinet, span, below)]
    free = [z for z in levels if not _is_under_plate(cabinet, fronts, z)]
    if len(free) < count:
        height = opening.top_z_mm - opening.floor_z_mm
        message = (
            f'cabinet "{cabinet.name}": shelf-pin levels: {len(free)}, adjustable shelves: {count}, in an opening of '
            f"{height:.2f} mm with {c.pin_end_margin_mm:g} mm kept free at each end"
        )
        return (), 0, (finding("no-room-for-pins", message),)
    return tuple(free), len(levels) - len(free), ()


def _levels(cabinet: Cabinet, span: tuple[float, float], below: Sequence[float]) -> tuple[float, ...]:
    floor, top = span
    c = cabinet.construction
    if not below or any(below[-1] < z < floor for z in cabinet.fixed_shelf_z_mm):
        return pin_levels(cabinet, floor, top)
    return grid_row(floor + c.pin_end_margin_mm, top - c.pin_end_margin_mm, below[-1], c.pin_pitch_mm)


def shelf_opening(openings: Sequence[Opening]) -> Opening | None:
    """Return the opening that takes shelves: the lowest that is neither a drawer's nor an appliance's, or None."""
    return next((opening for opening in reversed(openings) if opening.fill in ("door", "open")), None)


_LEAST_CLEAR_MM = 60.0
"""Less room between two shelves is of no use (common practice, no source)."""


def _compartments(cabinet: Cabinet, opening: Opening) -> list[tuple[float, float]]:
    within = [z for z in cabinet.fixed_shelf_z_mm if opening.floor_z_mm < z < opening.top_z_mm]
    floors = [
        opening.floor_z_mm + _strip_below_mm(cabinet, opening),
        *(z + cabinet.stocks.carcass.thickness_mm for z in within),
    ]
    strip = _strip_above_mm(cabinet, opening)
    return list(zip(floors, [*within, opening.top_z_mm - strip], strict=True))


def _strip_above_mm(cabinet: Cabinet, opening: Opening) -> float:
    """Return how far a nailer, or rails on edge, reach down into the opening."""
    if opening.top_z_mm != cabinet.ceiling_z_mm:
        return 0.0
    if cabinet.has_rails_on_edge:
        return cabinet.construction.stretcher_width_mm
    return cabinet.construction.nailer_width_mm if cabinet.has_nailer else 0.0


def _strip_below_mm(cabinet: Cabinet, opening: Opening) -> float:
    """Return how far a nailer on the bottom reaches up into the opening."""
    is_lowest = opening.floor_z_mm == cabinet.floor_z_mm
    return cabinet.construction.nailer_width_mm if cabinet.has_lower_nailer and is_lowest else 0.0


def _is_under_plate(cabinet: Cabinet, fronts: Sequence[Front], z: float) -> bool:
    c, plate_y = cabinet.construction, cabinet.plate_y_mm
    reach = (c.pin_diameter_mm + c.plate_diameter_mm) / 2 + PIN_WEB_MM
    if plate_y is None or min(abs(row - plate_y) for row in cabinet.pin_rows_y_mm) >= reach:
        return False
    return any(abs(z - hinge) < c.plate_spacing_mm / 2 + reach for front in fronts for hinge in front.hinge_z_mm)


def _left_out(cabinet: Cabinet, count: int) -> tuple[Finding, ...]:
    if not count:
        return ()
    levels = "level is" if count == 1 else "levels are"
    message = f'cabinet "{cabinet.name}": {count} shelf-pin {levels} left out where a hinge plate covers the row'
    return (finding("pins-under-plates", message),)


def _no_opening(cabinet: Cabinet, count: int, sort: str) -> Finding:
    what = f"{count} {sort} {'shelf is' if count == 1 else 'shelves are'} ordered"
    return finding("no-shelf-opening", f'cabinet "{cabinet.name}": {what}, but drawers fill the whole front')
