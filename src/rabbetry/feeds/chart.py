"""Chip load of a cutter from the rows of the chip-load table: between rows straight, beyond them in proportion."""

from collections.abc import Sequence

from rabbetry.errors import Fault, InputError
from rabbetry.shop.model import ChipLoad

Range = tuple[float, float]


def chart_range(chip_loads: Sequence[ChipLoad], material: str, diameter_mm: float) -> tuple[Range, bool]:
    """Return low and high chip load, mm per tooth, for `material` at `diameter_mm`, and whether the table knows it.

    Where it does not, the lowest range of all materials stands in. Raises InputError when the table is empty.
    """
    if not chip_loads:
        raise InputError(Fault(file="chip loads", place="", problem="the table is empty", cure="add at least one row"))
    materials = sorted({row.material for row in chip_loads})
    if material in materials:
        return _range(chip_loads, material, diameter_mm), True
    return min(_range(chip_loads, name, diameter_mm) for name in materials), False


def _range(chip_loads: Sequence[ChipLoad], material: str, diameter_mm: float) -> Range:
    rows = sorted((row for row in chip_loads if row.material == material), key=lambda row: row.diameter_mm)
    first, last = rows[0], rows[-1]
    if diameter_mm <= first.diameter_mm:
        return _scaled(first, diameter_mm / first.diameter_mm)
    if diameter_mm >= last.diameter_mm:
        return _scaled(last, diameter_mm / last.diameter_mm)
    above_index = next(i for i, row in enumerate(rows) if row.diameter_mm > diameter_mm)
    below, above = rows[above_index - 1], rows[above_index]
    share = (diameter_mm - below.diameter_mm) / (above.diameter_mm - below.diameter_mm)
    low = below.low_mm_per_tooth + share * (above.low_mm_per_tooth - below.low_mm_per_tooth)
    high = below.high_mm_per_tooth + share * (above.high_mm_per_tooth - below.high_mm_per_tooth)
    return low, high


def _scaled(row: ChipLoad, share: float) -> Range:
    return row.low_mm_per_tooth * share, row.high_mm_per_tooth * share


def depth_factor(pass_mm: float, diameter_mm: float) -> float:
    """Return the share of the chart's chip load that a pass this deep bears.

    1 up to one diameter, 0.75 at two, 0.5 at three and beyond, straight between: a published router-bit chart, whose
    range holds for one diameter of depth.
    """
    diameters = pass_mm / diameter_mm
    return max(0.5, min(1.0, 1.0 - 0.25 * (diameters - 1.0)))
