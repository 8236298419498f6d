"""Doors and drawer fronts: outside sizes, places and hinge heights. Millimetres, cabinet frame.

Overlay fronts before a frameless box: half a gap to each outer edge, a whole gap between two (check values 5.3.1, W66).
"""

from collections.abc import Iterator, Sequence

from rabbetry.cabinets.blind import blind_panel
from rabbetry.cabinets.heights import Band
from rabbetry.cabinets.hinges import hang_door
from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.findings import Finding, finding

WIDE_DOOR_MM = 600.0
"""Two doors are usual when the front is wider (check value 5.3.11, common practice)."""


def make_fronts(cabinet: Cabinet, bands: Sequence[Band]) -> tuple[tuple[Front, ...], tuple[Finding, ...]]:
    """Return the fronts from the top down, doors left before right. `cabinet` must have its fixed shelves: a hinge
    plate is kept clear of their dados."""
    half = cabinet.construction.front_gap_mm / 2
    start, span = _span(cabinet)
    fronts: list[Front] = [blind_panel(cabinet)] if cabinet.blind_mm else []
    findings: list[Finding] = []
    doors = [band for band in bands if band.fill == "door"]
    counts: dict[str, int] = {}
    for band in bands:
        if band.fill == "door":
            # A single band's doors need no number; several are counted from the top down.
            number = f" {doors.index(band) + 1}" if len(doors) > 1 else ""
            for front in _doors(cabinet, band, number):
                hinged, said = hang_door(cabinet, front)
                fronts.append(hinged)
                findings.extend(said)
        elif band.fill in _NAMES:
            kind = _NAMES[band.fill]
            counts[kind] = counts.get(kind, 0) + 1
            fronts.append(_front(f"{kind} {counts[kind]}", kind, band, start + half, span - 2 * half, ""))
    return tuple(fronts), (*findings, *_too_wide(cabinet, fronts))


def door_width(span_mm: float, count: int, gap_mm: float, edge_mm: float) -> float:
    """Return the width of each of `count` equal doors side by side in a span, `gap_mm` between two and `edge_mm` kept
    at both ends: half a gap over a frameless box (W66), a whole one inside a face frame (W65)."""
    return (span_mm - 2 * edge_mm - gap_mm * (count - 1)) / count


def _span(cabinet: Cabinet) -> tuple[float, float]:
    """Return the left edge and the width of what is not blind."""
    return cabinet.blind_mm if cabinet.blind_hand == "left" else 0.0, cabinet.width_mm - cabinet.blind_mm


_NAMES = {"drawer": "drawer front", "false front": "false front"}


def _doors(cabinet: Cabinet, band: Band, number: str) -> Iterator[Front]:
    gap = cabinet.construction.front_gap_mm
    start, span = _span(cabinet)
    width = door_width(span, band.order.doors, gap, gap / 2)
    if band.order.doors == 1:
        yield _front(f"door{number}", "door", band, start + gap / 2, width, band.order.hinge)
        return
    yield _front(f"left door{number}", "door", band, start + gap / 2, width, "left")
    yield _front(f"right door{number}", "door", band, start + gap / 2 + width + gap, width, "right")


def _front(name: str, kind: str, band: Band, x: float, width: float, hinge: str) -> Front:
    height = band.high_z_mm - band.low_z_mm
    return Front(
        name=name, kind=kind, x_mm=x, z_mm=band.low_z_mm, width_mm=width, height_mm=height, hinge=hinge, hinge_z_mm=()
    )


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
