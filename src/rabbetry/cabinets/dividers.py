"""Where the dividers of a box stand, and whether its kind can have them. Millimetres, cabinet frame."""

from collections.abc import Iterator, Sequence

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.model import CabinetOrder
from rabbetry.tolerances import FIT_MM

_LEAST_COLUMN_MM = 100.0
"""A narrower column is of no use (common practice, no source)."""


def place_dividers(cabinet: Cabinet, order: CabinetOrder) -> tuple[tuple[float, ...], tuple[Finding, ...]]:
    """Return the left face of each divider, rising, or none and the errors that say why they cannot stand."""
    if not order.dividers_mm:
        return (), ()
    findings = tuple(_not_with(cabinet, order))
    places = _places(cabinet, order.dividers_mm)
    findings += (*_narrow(cabinet, places), *_shallow(cabinet, order))
    return (() if has_error(findings) else places), findings


def _places(cabinet: Cabinet, wanted: Sequence[float | None]) -> tuple[float, ...]:
    left, thickness = cabinet.stocks.side.thickness_mm, cabinet.stocks.carcass.thickness_mm
    clear = (cabinet.inside_width_mm - len(wanted) * thickness) / (len(wanted) + 1)
    return tuple(left + (clear + k * (clear + thickness) if place is None else place) for k, place in enumerate(wanted))


def _not_with(cabinet: Cabinet, order: CabinetOrder) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": '
    lacks = ""
    if cabinet.has_rails_on_edge:
        lacks = "a box with rails on edge has nothing to hold a divider at its top"
    elif any(opening.fill == "drawer" for opening in cabinet.openings):
        lacks = "drawers run across the whole width, where a divider would stand"
    elif order.fixed_shelves or cabinet.fixed_shelf_z_mm or any(item.fixed_shelves for item in cabinet.openings):
        lacks = "fixed shelves run across the whole width; order adjustable ones"
    elif cabinet.rail_z_mm:
        lacks = "rails run across the whole width between two fronts"
    elif any(opening.fill == "appliance" for opening in cabinet.openings):
        lacks = "an appliance takes the whole width"
    if lacks:
        yield finding("divider-not-possible", f"{where}dividers are ordered, but {lacks}")


def _shallow(cabinet: Cabinet, order: CabinetOrder) -> Iterator[Finding]:
    """Blind holes of both faces stand opposite each other: they may not meet."""
    depth, wanted = cabinet.blind_pin_depth_mm, cabinet.construction.pin_depth_mm
    if order.divider_pins != "blind" or not order.adjustable_shelves or depth == wanted:
        return
    thickness = cabinet.stocks.carcass.thickness_mm
    where = f'cabinet "{cabinet.name}": shelf-pin holes {wanted:g} mm deep in both faces of a divider {thickness:g} mm '
    if depth < _LEAST_PIN_MM:
        cure = f'under {_LEAST_PIN_MM:g} mm a pin has no hold; order divider_pins = "through"'
        yield finding("divider-not-possible", f"{where}thick would be {depth:.2f} mm deep at most; {cure}")
    else:
        left = thickness - 2 * depth
        yield finding(
            "divider-pins-shallow", f"{where}thick are made {depth:.2f} mm deep, to leave {left:g} mm between"
        )


_LEAST_PIN_MM = 5.0
"""A shallower hole does not hold a shelf pin (common practice, no source)."""


def _narrow(cabinet: Cabinet, places: Sequence[float]) -> Iterator[Finding]:
    left, right = cabinet.stocks.side.thickness_mm, cabinet.width_mm - cabinet.stocks.side.thickness_mm
    lefts = (left, *(place + cabinet.stocks.carcass.thickness_mm for place in places))
    for number, (low, high) in enumerate(zip(lefts, (*places, right), strict=True), start=1):
        if high - low < _LEAST_COLUMN_MM - FIT_MM:
            message = (
                f'cabinet "{cabinet.name}": column {number} would be {high - low:.2f} mm wide between '
                f"{low - left:.2f} and {high - left:.2f} mm from the left side; "
                f"dividers are {cabinet.stocks.carcass.thickness_mm:g} mm thick, "
                f"and at least {_LEAST_COLUMN_MM:g} mm is expected"
            )
            yield finding("divider-not-possible", message)
