"""Doors and drawer fronts: outside sizes, places and hinge heights. Millimetres, cabinet frame.

Where a front's edges lie on its kind of face, and the gaps between two, are the face's rules (`faces`).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rabbetry.cabinets.blind import blind_panel
from rabbetry.cabinets.faces import FaceRules, face_rules
from rabbetry.cabinets.heights import Band
from rabbetry.cabinets.hinges import hang_door
from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.findings import Finding, finding

WIDE_DOOR_MM = 600.0
"""Two doors are usual when the front is wider (check value 5.3.11, common practice)."""


def make_fronts(cabinet: Cabinet, bands: Sequence[Band]) -> tuple[tuple[Front, ...], tuple[Finding, ...]]:
    """Return the fronts from the top down, doors left before right. `cabinet` must have its fixed shelves: a hinge
    plate is kept clear of their dados."""
    rules = face_rules(cabinet)
    left, width = rules.edges_x_mm[0], door_width(rules, 1)
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
            fronts.append(_front(f"{kind} {counts[kind]}", kind, band, rules.span_x_mm[0] + left, width, ""))
    named = [replace(front, name=f"{cabinet.prefix}{front.name}") for front in fronts]
    return tuple(named), (*findings, *_too_wide(cabinet, fronts), *_too_tall(cabinet, fronts))


def door_width(rules: FaceRules, count: int) -> float:
    """Return the width of each of `count` equal doors side by side: half a gap is left at either end of a frameless
    box (W66), a whole one inside a face frame (W65)."""
    (low, high), (left, right) = rules.span_x_mm, rules.edges_x_mm
    return (high - low - (left + right) - rules.between_mm * (count - 1)) / count


_NAMES = {"drawer": "drawer front", "false front": "false front"}


def _doors(cabinet: Cabinet, band: Band, number: str) -> Iterator[Front]:
    rules = face_rules(cabinet)
    x, width = rules.span_x_mm[0] + rules.edges_x_mm[0], door_width(rules, band.order.doors)
    if band.order.doors == 1:
        yield _front(f"door{number}", "door", band, x, width, band.order.hinge)
        return
    yield _front(f"left door{number}", "door", band, x, width, "left")
    yield _front(f"right door{number}", "door", band, x + width + rules.between_mm, width, "right")


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


TALL_DOOR_MM = 1524.0
"""60 in: a stile-and-rail door that is higher needs a middle rail (check value 5.3.7)."""


def _too_tall(cabinet: Cabinet, fronts: Sequence[Front]) -> tuple[Finding, ...]:
    """Say so of doors made elsewhere; a slab has no rails."""
    return tuple(
        finding(
            "door-tall",
            f'cabinet "{cabinet.name}": {front.name} is {front.height_mm:.2f} mm high; over {TALL_DOOR_MM:g} mm a door '
            "of stiles and rails needs a middle rail (listed where door_style says frame and panel)",
        )
        for front in fronts
        if front.kind == "door" and front.height_mm > TALL_DOOR_MM and not cabinet.cut_fronts
    )
