"""Doors and drawer fronts: outside sizes, places and hinge heights. Millimetres, cabinet frame.

Overlay fronts before a frameless box: half a gap to each outer edge, a whole gap between two (check values 5.3.1, W66).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from rabbetry.cabinets.heights import Band
from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.findings import Finding, finding
from rabbetry.job.model import CabinetOrder

_HINGES_BY_HEIGHT = ((1016.0, 2), (1524.0, 3), (2032.0, 4), (2540.0, 5))
"""Door height up to, hinges: 40, 60, 80, 100 in (check value 4.2.9, a hinge maker's chart)."""

WIDE_DOOR_MM = 600.0
"""Two doors are usual when the front is wider (check value 5.3.11, common practice)."""


def make_fronts(
    cabinet: Cabinet, order: CabinetOrder, bands: Sequence[Band]
) -> tuple[tuple[Front, ...], tuple[Finding, ...]]:
    """Return the fronts from the top down, doors left before right. `cabinet` must have its fixed shelves: a hinge
    plate is kept clear of their dados."""
    half = cabinet.construction.front_gap_mm / 2
    fronts: list[Front] = []
    findings: list[Finding] = []
    for number, band in enumerate(bands, start=1):
        if band.fill == "door":
            for front in _doors(cabinet, order, band):
                hinged, said = _hinged(cabinet, front)
                fronts.append(hinged)
                findings.extend(said)
        elif band.fill != "open":
            kind = "drawer front" if band.fill == "drawer" else "false front"
            fronts.append(_front(f"{kind} {number}", kind, band, half, cabinet.width_mm - 2 * half, ""))
    return tuple(fronts), (*findings, *_too_wide(cabinet, fronts))


def hinge_count(height_mm: float) -> int:
    """Return the hinges of a door that high: check value 4.2.9; one more for each further 20 in."""
    for limit, count in _HINGES_BY_HEIGHT:
        if height_mm <= limit:
            return count
    return 6


def door_width(span_mm: float, count: int, gap_mm: float, edge_mm: float) -> float:
    """Return the width of each of `count` equal doors side by side in a span, `gap_mm` between two and `edge_mm` kept
    at both ends: half a gap over a frameless box (W66), a whole one inside a face frame (W65)."""
    return (span_mm - 2 * edge_mm - gap_mm * (count - 1)) / count


def _doors(cabinet: Cabinet, order: CabinetOrder, band: Band) -> Iterator[Front]:
    gap = cabinet.construction.front_gap_mm
    width = door_width(cabinet.width_mm, order.doors, gap, gap / 2)
    if order.doors == 1:
        yield _front("door", "door", band, gap / 2, width, order.hinge)
        return
    yield _front("left door", "door", band, gap / 2, width, "left")
    yield _front("right door", "door", band, gap / 2 + width + gap, width, "right")


def _front(name: str, kind: str, band: Band, x: float, width: float, hinge: str) -> Front:
    height = band.high_z_mm - band.low_z_mm
    return Front(
        name=name, kind=kind, x_mm=x, z_mm=band.low_z_mm, width_mm=width, height_mm=height, hinge=hinge, hinge_z_mm=()
    )


def _hinged(cabinet: Cabinet, door: Front) -> tuple[Front, tuple[Finding, ...]]:
    c = cabinet.construction
    count = hinge_count(door.height_mm)
    end = min(c.hinge_end_mm, door.height_mm / 4)
    low, high = door.z_mm + end, door.z_mm + door.height_mm - end
    even = [low + (high - low) * k / (count - 1) for k in range(count)]
    settled = tuple(_clear_of_shelves(cabinet, z) for z in even)
    least = max(
        c.hinge_fixing_spacing_mm + c.hinge_fixing_diameter_mm,
        c.hinge_cup_diameter_mm,
        c.plate_spacing_mm + c.plate_diameter_mm,
    )
    # Half a hinge's room at each end of the door, a whole one between two.
    stops = (door.z_mm - least / 2, *settled, door.z_mm + door.height_mm + least / 2)
    if any(above - below < least + _HINGE_WEB_MM for below, above in pairwise(stops)):
        message = f'cabinet "{cabinet.name}": {door.name} is {door.height_mm:.2f} mm high, too low for {count} hinges'
        return door, (finding("door-too-low", message),)
    moved = [(a, b) for a, b in zip(even, settled, strict=True) if a != b]
    notes = tuple(
        finding(
            "hinge-moved",
            f'cabinet "{cabinet.name}": a hinge of the {door.name} moves from {a:.2f} to {b:.2f} mm above the floor, '
            "clear of a fixed shelf",
        )
        for a, b in moved
    )
    return replace(door, hinge_z_mm=settled), notes


_HINGE_WEB_MM = 3.0
"""Least wood between the holes of two hinges, or to the door's end (common practice, no source)."""

_PLATE_WEB_MM = 3.0
"""Least wood between a plate hole and a dado (check value 6.4, taken sideways; common practice)."""


def _clear_of_shelves(cabinet: Cabinet, z: float) -> float:
    """Return the hinge height near `z` whose plate holes stay off the dados of fixed shelves and bottom."""
    c = cabinet.construction
    thickness = cabinet.stocks.carcass.thickness_mm
    reach = (c.plate_spacing_mm + c.plate_diameter_mm + c.fit_clearance_mm) / 2 + _PLATE_WEB_MM
    for shelf in (cabinet.bottom_z_mm, *cabinet.fixed_shelf_z_mm):
        low, high = shelf - reach, shelf + thickness + reach
        if low < z < high:
            return high if z >= shelf + thickness / 2 or shelf == cabinet.bottom_z_mm else low
    return z


def _too_wide(cabinet: Cabinet, fronts: Sequence[Front]) -> tuple[Finding, ...]:
    return tuple(
        finding(
            "door-wide",
            f'cabinet "{cabinet.name}": {front.name} is {front.width_mm:.2f} mm wide; two doors are usual over '
            f"{WIDE_DOOR_MM:g} mm (common practice)",
        )
        for front in fronts
        if front.kind == "door" and front.width_mm > WIDE_DOOR_MM
    )
