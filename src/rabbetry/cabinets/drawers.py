"""Drawer boxes on undermount or side-mount slides, and the holes of their slides. Millimetres, cabinet frame.

Undermount: inside width = opening width - allowance (42 by default), whatever the thickness of the drawer's sides
(check values 4.3.4, W63). Side-mount: outside width = opening width - allowance (25.4 by default, check value 4.3.15).
"""

import math
from collections.abc import Iterator, Sequence

from rabbetry.cabinets.model import Cabinet, DrawerBox, Opening
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.model import CabinetOrder, Units
from rabbetry.shop.hardware import SlideMount
from rabbetry.tolerances import FIT_MM

USUAL_LENGTHS_MM: dict[Units, tuple[float, ...]] = {
    Units.MM: (250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 550.0, 600.0),
    Units.INCH: (228.6, 304.8, 381.0, 457.2, 533.4, 609.6, 685.8, 762.0),
}
"""Lengths slides are sold in: 250 to 600 in steps of 50 mm, 9 to 30 in steps of 3 in (check values 4.3.11, 4.3.12)."""

_SLIDE_PITCH_MM = 32.0
"""Slide holes keep the 32 mm system's pitch (check value 4.1.5)."""

_SLIDE_TAIL_MM = 20.0
"""The rear hole stays this far before the slide's end (common practice, no source)."""

_SIDE_OVER_BOTTOM_MM = 25.0
"""Least height of a drawer's sides above its bottom (common practice, no source)."""

_BACK_BETWEEN_NOTCHES_MM = 20.0
"""Least width of the back left between its notches (common practice, no source)."""

_SIDE_SLIDE_HALF_MM = 23.0
"""Half the height of a side-mount slide, which must lie wholly on the drawer's side (common practice, no source)."""


def make_drawers(
    cabinet: Cabinet, order: CabinetOrder, openings: Sequence[Opening], units: Units
) -> tuple[tuple[DrawerBox, ...], tuple[Finding, ...]]:
    """Return the drawer boxes from the top down, or the findings that say why they cannot be made."""
    own = [opening for opening in openings if opening.fill == "drawer"]
    if not own:
        return (), ()
    length, findings = _box_length(cabinet, order, units)
    findings += (*_too_narrow(cabinet), *_side_too_thick(cabinet))
    findings += tuple(_line_in_groove(cabinet) if is_side_mount(cabinet) else _hooks_in_groove(cabinet))
    boxes = []
    for number, opening in enumerate(own, start=1):
        box = _box(cabinet, f"{cabinet.prefix}drawer {number}", opening, length)
        findings += _too_low(cabinet, box)
        boxes.append(box)
    if has_error(findings):
        return (), findings
    return tuple(boxes), (*findings, *_blocked(cabinet))


def room_for_box_mm(cabinet: Cabinet) -> float:
    """Return the longest box that fits: inside depth less the nailer and the room behind the box."""
    nailer = cabinet.stocks.carcass.thickness_mm if cabinet.has_nailer or cabinet.has_lower_nailer else 0.0
    return cabinet.inside_depth_mm - nailer - cabinet.construction.drawer_rear_clearance_mm - cabinet.front_back_y_mm


def _box_length(cabinet: Cabinet, order: CabinetOrder, units: Units) -> tuple[float, tuple[Finding, ...]]:
    room = room_for_box_mm(cabinet)
    sold = cabinet.construction.fittings.slide_lengths_mm or USUAL_LENGTHS_MM[units]
    fitting = [length for length in sold if length <= room + FIT_MM]
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


def is_side_mount(cabinet: Cabinet) -> bool:
    """Tell whether the slides sit beside the box."""
    return cabinet.construction.fittings.slide_mount is SlideMount.SIDE


def _widths(cabinet: Cabinet) -> tuple[float, float]:
    """Return the box's inside and outside width."""
    c, sides = cabinet.construction, 2 * cabinet.stocks.drawer.thickness_mm
    if is_side_mount(cabinet):
        outside = cabinet.opening_width_mm - c.drawer_side_allowance_mm
        return outside - sides, outside
    inside = cabinet.opening_width_mm - c.drawer_width_allowance_mm
    return inside, inside + sides


def _too_narrow(cabinet: Cabinet) -> tuple[Finding, ...]:
    c, inside = cabinet.construction, _widths(cabinet)[0]
    if is_side_mount(cabinet):
        least = _BACK_BETWEEN_NOTCHES_MM
        taken = f"{c.drawer_side_allowance_mm:g} and two sides of {cabinet.stocks.drawer.thickness_mm:g}"
        needs = f"at least {least:g} mm is expected"
    else:
        least = 2 * c.drawer_notch_width_mm + _BACK_BETWEEN_NOTCHES_MM
        taken, needs = f"{c.drawer_width_allowance_mm:g}", f"its back needs {least:g} mm for two notches"
    if inside >= least:
        return ()
    message = (
        f'cabinet "{cabinet.name}": the drawer box would be {inside:.2f} mm wide inside (opening '
        f"{cabinet.opening_width_mm:.2f} less {taken}); {needs}"
    )
    return (finding("drawer-too-narrow", message),)


def _blocked(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Slides that must pass a face frame stand off the sides; their screws then go into blocking."""
    if not is_blocked(cabinet):
        return ()
    left, right = cabinet.blocking_mm
    message = (
        f'cabinet "{cabinet.name}": the face frame stands {left:.2f} mm inside the left side and {right:.2f} mm inside '
        "the right one: block the drawer slides out by that much; the sides get no slide holes"
    )
    return (finding("face-frame-blocking", message),)


def _side_too_thick(cabinet: Cabinet) -> tuple[Finding, ...]:
    fittings, thickness = cabinet.construction.fittings, cabinet.stocks.drawer.thickness_mm
    most = fittings.drawer_side_most_mm
    if most is None or thickness <= most + FIT_MM:
        return ()
    message = (
        f'cabinet "{cabinet.name}": drawer sides of {thickness:g} mm; slides of row "{fittings.slides}" take sides up '
        f"to {most:g} mm: take thinner stock, or another row for `slides`"
    )
    return (finding("drawer-side-thick", message),)


def _groove_top(cabinet: Cabinet) -> float:
    c = cabinet.construction
    return c.drawer_bottom_recess_mm + cabinet.stocks.drawer_bottom.thickness_mm + c.fit_clearance_mm / 2


def _hooks_in_groove(cabinet: Cabinet) -> Iterator[Finding]:
    """The bottom's groove must end below the slides' hook holes in the back; holes that are drilled by hand from
    outside go into the bottom's edge where it does not, and only lack their guide holes."""
    c, thickness = cabinet.construction, cabinet.stocks.drawer_bottom.thickness_mm
    groove_top = _groove_top(cabinet)
    by_hand = c.drawer_hook_depth_mm > 0
    diameter = c.pilot_diameter_mm if by_hand else c.drawer_hook_diameter_mm
    hook_low = c.drawer_notch_height_mm + c.drawer_hook_up_mm - diameter / 2
    if groove_top <= hook_low:
        return
    where = f'cabinet "{cabinet.name}": a drawer bottom of {thickness:g} mm has its groove up to {groove_top:.2f} mm, '
    above = f"begin at {hook_low:.2f} mm above the back's lower edge"
    if by_hand:
        holes = f"hook holes, {c.drawer_hook_in_mm:g} mm in from the sides and {hook_low + diameter / 2:g} mm up, "
        what = f"into the guide holes, which would {above}; mark and drill the {holes}when the box is glued"
        yield finding("hooks-by-hand", where + what)
        return
    cure = f"a bottom of at most {thickness - (groove_top - hook_low):.2f} mm clears them, or "
    cure += "drawer_hook_depth = 10 leaves them to be drilled by hand"
    yield finding("drawer-bottom-thick", f"{where}into the hook holes, which {above}; {cure}")


def _line_in_groove(cabinet: Cabinet) -> Iterator[Finding]:
    """The marks of a side-mount slide on the drawer's sides must lie above the bottom's groove."""
    c, groove_top = cabinet.construction, _groove_top(cabinet)
    low = slide_line_mm(cabinet) - c.pilot_diameter_mm / 2
    if groove_top > low:
        message = (
            f'cabinet "{cabinet.name}": the drawer bottom\'s groove goes up to {groove_top:.2f} mm, into the marks of '
            f"the slides, which begin at {low:.2f} mm above the sides' lower edge: raise slide_height, or take a "
            "thinner bottom"
        )
        yield finding("drawer-bottom-thick", message)


def slide_line_mm(cabinet: Cabinet) -> float:
    """Return the height of the slide's holes above the lower edge of the drawer's sides."""
    return cabinet.construction.slide_height_mm - cabinet.construction.drawer_height_allowance_mm / 2


def _too_low(cabinet: Cabinet, box: DrawerBox) -> tuple[Finding, ...]:
    c = cabinet.construction
    least, why = c.drawer_bottom_recess_mm + cabinet.stocks.drawer_bottom.thickness_mm + _SIDE_OVER_BOTTOM_MM, ""
    if is_side_mount(cabinet) and (over := slide_line_mm(cabinet) + _SIDE_SLIDE_HALF_MM) > least:
        least, why = over, " and for the slide on its side"
    if box.height_mm >= least:
        return ()
    message = (
        f'cabinet "{cabinet.name}": {box.name} would be {box.height_mm:.2f} mm high (opening less '
        f"{c.drawer_height_allowance_mm:g}); at least {least:.2f} mm is needed above its recessed bottom{why}"
    )
    return (finding("drawer-too-low", message),)


def _box(cabinet: Cabinet, name: str, opening: Opening, length: float) -> DrawerBox:
    c = cabinet.construction
    inside, outside = _widths(cabinet)
    return DrawerBox(
        name=name,
        outside_width_mm=outside,
        inside_width_mm=inside,
        height_mm=opening.top_z_mm - opening.floor_z_mm - c.drawer_height_allowance_mm,
        length_mm=length,
        floor_z_mm=opening.floor_z_mm,
        slide_hole_z_mm=opening.floor_z_mm + c.slide_height_mm,
        slide_hole_y_mm=_slide_holes(cabinet, length),
        on_blocking=is_blocked(cabinet),
        front_y_mm=cabinet.front_back_y_mm,
        shift_x_mm=(cabinet.blocking_mm[0] - cabinet.blocking_mm[1]) / 2,
    )


def is_blocked(cabinet: Cabinet) -> bool:
    """Tell whether a face frame's stile stands so far inside a side that slides need blocking there."""
    return max(cabinet.blocking_mm) > FIT_MM


def _slide_holes(cabinet: Cabinet, length: float) -> tuple[float, ...]:
    """Front hole, and a rear one at the set spacing, brought forward by whole pitches for a slide too short for it.
    Both are measured from the drawer's front, which an inset front pushes back (check value 4.1.4)."""
    c = cabinet.construction
    front = c.slide_front_mm + cabinet.front_back_y_mm
    room = length - _SLIDE_TAIL_MM - c.slide_front_mm
    over = max(0, math.ceil((c.slide_spacing_mm - room) / _SLIDE_PITCH_MM))
    spacing = c.slide_spacing_mm - over * _SLIDE_PITCH_MM
    return (front, front + spacing) if spacing > 0 else (front,)
