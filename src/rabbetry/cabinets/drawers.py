"""Drawer boxes on undermount slides, and the holes of their slides. Millimetres, cabinet frame.

Rule: inside width = opening width - allowance (42 by default), whatever the thickness of the drawer's sides (check
values 4.3.4, W63).
"""

import math
from collections.abc import Sequence

from rabbetry.cabinets.model import Cabinet, DrawerBox, Opening
from rabbetry.findings import Finding, finding
from rabbetry.job.model import CabinetOrder, Units
from rabbetry.tolerances import FIT_MM

USUAL_LENGTHS_MM: dict[Units, tuple[float, ...]] = {
    Units.MM: (250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 550.0, 600.0),
    Units.INCH: (228.6, 304.8, 381.0, 457.2, 533.4, 609.6),
}
"""Lengths slides are sold in: 250 to 600 in steps of 50 mm, 9 to 24 in steps of 3 in (check values 4.3.11, 4.3.12)."""

_SLIDE_PITCH_MM = 32.0
"""Slide holes keep the 32 mm system's pitch (check value 4.1.5)."""

_SLIDE_TAIL_MM = 20.0
"""The rear hole stays this far before the slide's end (common practice, no source)."""

_SIDE_OVER_BOTTOM_MM = 25.0
"""Least height of a drawer's sides above its bottom (common practice, no source)."""

_BACK_BETWEEN_NOTCHES_MM = 20.0
"""Least width of the back left between its notches (common practice, no source)."""


def make_drawers(
    cabinet: Cabinet, order: CabinetOrder, openings: Sequence[Opening], units: Units
) -> tuple[tuple[DrawerBox, ...], tuple[Finding, ...]]:
    """Return the drawer boxes from the top down, or the findings that say why they cannot be made."""
    own = [opening for opening in openings if opening.fill == "drawer"]
    if not own:
        return (), ()
    length, findings = _box_length(cabinet, order, units)
    findings += (*_too_narrow(cabinet), *_bottom_too_thick(cabinet))
    boxes = []
    for number, opening in enumerate(own, start=1):
        box = _box(cabinet, f"drawer {number}", opening, length)
        findings += _too_low(cabinet, box)
        boxes.append(box)
    return (() if findings else tuple(boxes)), findings


def room_for_box_mm(cabinet: Cabinet) -> float:
    """Return the longest box that fits: inside depth less the nailer and the room behind the box."""
    nailer = cabinet.stocks.carcass.thickness_mm if cabinet.has_nailer else 0.0
    return cabinet.inside_depth_mm - nailer - cabinet.construction.drawer_rear_clearance_mm


def _box_length(cabinet: Cabinet, order: CabinetOrder, units: Units) -> tuple[float, tuple[Finding, ...]]:
    room = room_for_box_mm(cabinet)
    fitting = [length for length in USUAL_LENGTHS_MM[units] if length <= room + FIT_MM]
    longest = f"the longest usual length that fits is {fitting[-1]:g} mm" if fitting else "no usual length fits"
    wanted = order.drawer_length_mm
    if wanted is None and fitting:
        return fitting[-1], ()
    if wanted is not None and 2 * _SLIDE_TAIL_MM < wanted <= room + FIT_MM:
        return wanted, ()
    clearance = cabinet.construction.drawer_rear_clearance_mm
    box = f"a drawer box {wanted:g} mm long" if wanted is not None else "a drawer box"
    message = (
        f'cabinet "{cabinet.name}": {box} does not fit in {room:.2f} mm (inside depth '
        f"{cabinet.inside_depth_mm:.2f} mm with {clearance:g} mm kept behind it); {longest}"
    )
    return 0.0, (finding("drawer-too-deep", message),)


def _too_narrow(cabinet: Cabinet) -> tuple[Finding, ...]:
    c = cabinet.construction
    inside = cabinet.inside_width_mm - c.drawer_width_allowance_mm
    least = 2 * c.drawer_notch_width_mm + _BACK_BETWEEN_NOTCHES_MM
    if inside >= least:
        return ()
    message = (
        f'cabinet "{cabinet.name}": the drawer box would be {inside:.2f} mm wide inside (opening '
        f"{cabinet.inside_width_mm:.2f} less {c.drawer_width_allowance_mm:g}); "
        f"its back needs {least:g} mm for two notches"
    )
    return (finding("drawer-too-narrow", message),)


def _bottom_too_thick(cabinet: Cabinet) -> tuple[Finding, ...]:
    """The bottom's groove must end below the slides' hook holes in the back."""
    c, thickness = cabinet.construction, cabinet.stocks.drawer_bottom.thickness_mm
    groove_top = c.drawer_bottom_recess_mm + thickness + c.fit_clearance_mm / 2
    hook_low = c.drawer_notch_height_mm + c.drawer_hook_up_mm - c.drawer_hook_diameter_mm / 2
    if groove_top <= hook_low:
        return ()
    message = (
        f'cabinet "{cabinet.name}": a drawer bottom of {thickness:g} mm has its groove up to {groove_top:.2f} mm, '
        f"into the hook holes, which begin at {hook_low:.2f} mm above the back's lower edge"
    )
    return (finding("drawer-bottom-thick", message),)


def _too_low(cabinet: Cabinet, box: DrawerBox) -> tuple[Finding, ...]:
    c = cabinet.construction
    least = c.drawer_bottom_recess_mm + cabinet.stocks.drawer_bottom.thickness_mm + _SIDE_OVER_BOTTOM_MM
    if box.height_mm >= least:
        return ()
    message = (
        f'cabinet "{cabinet.name}": {box.name} would be {box.height_mm:.2f} mm high (opening less '
        f"{c.drawer_height_allowance_mm:g}); at least {least:.2f} mm is needed above its recessed bottom"
    )
    return (finding("drawer-too-low", message),)


def _box(cabinet: Cabinet, name: str, opening: Opening, length: float) -> DrawerBox:
    c = cabinet.construction
    inside = cabinet.inside_width_mm - c.drawer_width_allowance_mm
    return DrawerBox(
        name=name,
        outside_width_mm=inside + 2 * cabinet.stocks.drawer.thickness_mm,
        inside_width_mm=inside,
        height_mm=opening.top_z_mm - opening.floor_z_mm - c.drawer_height_allowance_mm,
        length_mm=length,
        floor_z_mm=opening.floor_z_mm,
        slide_hole_z_mm=opening.floor_z_mm + c.slide_height_mm,
        slide_hole_y_mm=_slide_holes(cabinet, length),
    )


def _slide_holes(cabinet: Cabinet, length: float) -> tuple[float, ...]:
    """Front hole, and a rear one at the set spacing, brought forward by whole pitches for a slide too short for it."""
    c = cabinet.construction
    room = length - _SLIDE_TAIL_MM - c.slide_front_mm
    over = max(0, math.ceil((c.slide_spacing_mm - room) / _SLIDE_PITCH_MM))
    spacing = c.slide_spacing_mm - over * _SLIDE_PITCH_MM
    return (c.slide_front_mm, c.slide_front_mm + spacing) if spacing > 0 else (c.slide_front_mm,)
