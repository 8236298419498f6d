"""Heights of shelf-pin holes in a row, and pitches that are easily taken for each other. Millimetres, cabinet frame."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding
from rabbetry.tolerances import POINT_MM

CONFUSABLE_MM = 0.5
"""Two pitches nearer than this are taken for each other: 1 1/4 in and 32 mm differ by 0.25 (check value 4.1.14)."""

_PITCHES = 20
"""How many pitches the difference is told over: about the height of a base cabinet's side (check value 4.1.14)."""


def balanced_row(height_mm: float, end_margin_mm: float, pitch_mm: float) -> tuple[float, ...]:
    """Return hole heights above the lower end of a panel `height_mm` high: as many as fit at `pitch_mm`, with the same
    distance at both ends, at least `end_margin_mm`. Empty when not even one fits.

    Check values 4.1 (symmetric row): n = floor((H - 2m)/p) + 1, first at (H - p(n - 1))/2.
    """
    room = height_mm - 2 * end_margin_mm
    if room < 0:
        return ()
    count = math.floor(room / pitch_mm + POINT_MM) + 1
    first = (height_mm - pitch_mm * (count - 1)) / 2
    return tuple(first + pitch_mm * k for k in range(count))


def grid_row(low_mm: float, high_mm: float, first_mm: float, pitch_mm: float) -> tuple[float, ...]:
    """Return the heights first, first + pitch, first + 2 pitches ... that lie between `low_mm` and `high_mm`."""
    start = max(0, math.ceil((low_mm - POINT_MM - first_mm) / pitch_mm))
    end = math.floor((high_mm + POINT_MM - first_mm) / pitch_mm)
    return tuple(first_mm + pitch_mm * k for k in range(start, end + 1))


def pin_levels(cabinet: Cabinet, floor_mm: float, top_mm: float) -> tuple[float, ...]:
    """Return the heights of the pin holes of a compartment: a balanced row, or those of the cabinet's grid, which
    begins at a set height above the under side of its bottom, or at half the bottom's thickness (check value 4.1.8)."""
    c, margin = cabinet.construction, cabinet.construction.pin_end_margin_mm
    if c.fittings.pins_from_half_bottom:
        first = cabinet.bottom_z_mm + cabinet.stocks.carcass.thickness_mm / 2
    elif c.pin_first_mm > 0:
        first = cabinet.bottom_z_mm + c.pin_first_mm
    else:
        return tuple(floor_mm + height for height in balanced_row(top_mm - floor_mm, margin, c.pin_pitch_mm))
    return grid_row(floor_mm + margin, top_mm - margin, first, c.pin_pitch_mm)


def confusable_pitches(cabinets: Sequence[Cabinet]) -> Iterator[Finding]:
    """Yield a note for each two pitches of a job's shelf pins that look alike and are not."""
    first: dict[float, str] = {}
    for cabinet in cabinets:
        if cabinet.pin_z_mm:
            first.setdefault(cabinet.construction.pin_pitch_mm, cabinet.name)
    pitches = sorted(first)
    for low, high in pairwise(pitches):
        if POINT_MM < high - low < CONFUSABLE_MM:
            message = (
                f'shelf pins are {low:g} mm apart in cabinet "{first[low]}" and {high:g} mm in "{first[high]}": they '
                f"look alike and are {(high - low) * _PITCHES:.1f} mm apart after {_PITCHES} holes"
            )
            yield finding("pin-pitches-alike", message)
