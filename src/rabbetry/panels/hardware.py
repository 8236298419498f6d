"""What must be bought for a box: counted from what its panels carry."""

from collections.abc import Iterable, Iterator

from rabbetry.cabinets.model import Cabinet
from rabbetry.panels.model import Bore, HardwareLine, Panel

_PINS_A_SHELF = 4


def hardware_lines(cabinet: Cabinet, panels: Iterable[Panel]) -> tuple[HardwareLine, ...]:
    """Return the lines whose count is not nought: hinges, plates, slide pairs by length, shelf pins, screws."""
    return tuple(line for line in _lines(cabinet, panels) if line.count)


def _lines(cabinet: Cabinet, panels: Iterable[Panel]) -> Iterator[HardwareLine]:
    c = cabinet.construction
    hinges = sum(len(front.hinge_z_mm) for front in cabinet.fronts)
    yield _line(cabinet, "cup hinge", hinges, f"{c.hinge_cup_diameter_mm:g} mm cup")
    yield _line(cabinet, "hinge mounting plate", hinges, f"two holes {c.plate_spacing_mm:g} mm apart")
    for length in sorted({drawer.length_mm for drawer in cabinet.drawers}):
        count = sum(drawer.length_mm == length for drawer in cabinet.drawers)
        yield _line(cabinet, "undermount slide, pair", count, f"{length:g} mm")
    pins = _PINS_A_SHELF * cabinet.adjustable_shelves * len(cabinet.columns_mm)
    yield _line(cabinet, "shelf pin", pins, f"{c.pin_diameter_mm:g} mm")
    pilots = [
        feature
        for panel in panels
        for feature in panel.features
        if isinstance(feature, Bore) and feature.purpose == "pilot"
    ]
    yield _line(cabinet, "assembly screw", len(pilots), f"through {c.pilot_diameter_mm:g} mm pilot holes")


def _line(cabinet: Cabinet, item: str, count: int, detail: str) -> HardwareLine:
    return HardwareLine(cabinet=cabinet.name, item=item, count=count, detail=detail)
