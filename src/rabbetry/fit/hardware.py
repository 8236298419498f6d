"""What hardware asks of a drawer box and of sides that are screwed to a neighbour. Cabinet frame, millimetres.

Measured on the assembled panels: notches and hook holes from the inside of the drawer's sides, the marks of side-mount
slides against the slides' holes in the carcass.
"""

from collections.abc import Mapping

from rabbetry.cabinets.model import Cabinet, DrawerBox
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body
from rabbetry.fit.holes import holes_at, same_places
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Vec3
from rabbetry.shop.hardware import SlideMount
from rabbetry.tolerances import FIT_MM


def check_box_screws(cabinet: Cabinet, sides: Mapping[str, Body], tally: Tally) -> None:
    """Check that each side that joins a neighbour, and no other, has the holes for its screws."""
    joined = cabinet.construction.fittings.joined_sides
    for hand, side in sides.items():
        wanted = cabinet.box_screws_yz_mm if hand in joined else ()
        message = f"{side.panel.id}: holes for screws into the next box are not the {len(wanted)} of the cabinet"
        is_right = same_places(holes_at(side, "box screw"), wanted)
        tally.check(is_right, finding("fit-bore", message, panel=side.panel.id))


def check_slide_parts(cabinet: Cabinet, drawer: DrawerBox, bodies: Mapping[str, Body], tally: Tally) -> None:
    """Check what the drawer's slides ask of its box besides its width. Raises KeyError when the box lacks a panel."""
    own = f"{cabinet.name} {drawer.name}"
    left, right, back = (bodies[f"{own} {role}"] for role in ("left side", "right side", "back"))
    if cabinet.construction.fittings.slide_mount is SlideMount.SIDE:
        for side in () if drawer.on_blocking else (left, right):
            _check_marks(cabinet, side, bodies, tally)
        return
    inside = (left.high[0], right.low[0])
    _check_notches(cabinet, back, inside, tally)
    _check_hooks(cabinet, back, inside, tally)


def _check_marks(cabinet: Cabinet, side: Body, bodies: Mapping[str, Body], tally: Tally) -> None:
    """Each mark on the drawer's side is level with holes for that slide in the carcass, as far behind the box's front
    as those are behind the carcass's edge or the inset front's back."""
    hand = "left" if side.panel.role.endswith("left side") else "right"
    holes = holes_at(bodies[f"{cabinet.name} {hand} side"], "slide")
    marks = holes_at(side, "slide mark")
    behind = cabinet.front_back_y_mm - side.low[1]
    is_right = bool(marks) and all(any(_is_level(mark, hole, behind) for hole in holes) for mark in marks)
    message = f"{side.panel.id}: the marks of its slide are not level with the slide's holes in the carcass"
    tally.check(is_right, finding("fit-slide", message, panel=side.panel.id))


def _is_level(mark: Vec3, hole: Vec3, behind: float) -> bool:
    return abs(mark[2] - hole[2]) <= FIT_MM and abs(mark[1] + behind - hole[1]) <= FIT_MM


def _check_notches(cabinet: Cabinet, back: Body, inside: tuple[float, float], tally: Tally) -> None:
    """The back's lower corners are open as far in from the sides, and as far up, as the slides' tails want."""
    c, panel = cabinet.construction, back.panel
    ends = sorted({round(x, 6) for x, y in back.outline if abs(y) <= FIT_MM})
    at = [back.place.point(x, 0.0, 0.0)[0] for x in (ends[0], ends[-1])]
    widths = (at[0] - inside[0], inside[1] - at[1])
    is_wide = all(abs(width - c.drawer_notch_width_mm) <= FIT_MM for width in widths)
    message = f"{panel.id}: notches {widths[0]:.3f} and {widths[1]:.3f} mm wide from the sides; "
    message += f"{c.drawer_notch_width_mm:.3f} is right"
    tally.check(is_wide, finding("fit-slide", message, panel=panel.id))
    heights = [y for x, y in back.outline if abs(x) <= FIT_MM or abs(x - panel.length_mm) <= FIT_MM]
    message = f"{panel.id}: notches {min(heights):.3f} mm high; {c.drawer_notch_height_mm:.3f} is right"
    is_high = abs(min(heights) - c.drawer_notch_height_mm) <= FIT_MM
    tally.check(is_high, finding("fit-slide", message, panel=panel.id))


def _check_hooks(cabinet: Cabinet, back: Body, inside: tuple[float, float], tally: Tally) -> None:
    """Each hook hole, or its guide, is as far in from its side and as far up as the slides' hooks are; there are two,
    or none where they are drilled by hand."""
    c = cabinet.construction
    found = [*holes_at(back, "rear hook"), *holes_at(back, "hook guide")]
    up = back.low[2] + c.drawer_notch_height_mm + c.drawer_hook_up_mm
    gaps = [min(hole[0] - inside[0], inside[1] - hole[0]) for hole in found]
    is_right = all(abs(gap - c.drawer_hook_in_mm) <= FIT_MM for gap in gaps)
    is_right = is_right and all(abs(hole[2] - up) <= FIT_MM for hole in found)
    counts = (0, 2) if c.drawer_hook_depth_mm > 0 else (2,)
    message = (
        f"{back.panel.id}: {len(found)} hook holes, {', '.join(f'{gap:.3f}' for gap in gaps)} mm in from the sides; "
    )
    message += f"{c.drawer_hook_in_mm:.3f} is right, {up - back.low[2]:.3f} mm up"
    tally.check(is_right and len(found) in counts, finding("fit-slide", message, panel=back.panel.id))
