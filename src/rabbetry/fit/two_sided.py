"""What a box with a left and a right side must hold besides what any box must: shelf pins, hinges, slides, drawer boxes
and adjustable shelves, each compared with the cabinet's settled sizes. Cabinet frame, millimetres."""

from rabbetry.cabinets.model import Cabinet, DrawerBox
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, banded_bounds, bounds
from rabbetry.fit.columns import check_columns
from rabbetry.fit.dividers import check_divider_holes, column_bodies
from rabbetry.fit.hardware import check_box_screws, check_slide_parts
from rabbetry.fit.holes import distance_to_edge, holes_at, same_places
from rabbetry.fit.tally import Tally
from rabbetry.geometry.points import Point
from rabbetry.job.model import Construction
from rabbetry.panels.model import Vec3
from rabbetry.shop.hardware import SlideMount
from rabbetry.tolerances import FIT_MM

HANDS = ("left", "right")

PLATE_WEB_MM = 2.0
"""Least wood between a shelf pin and what a hinge plate covers between its two holes (common practice, no source)."""


def check_two_sided(cabinet: Cabinet, bodies: dict[str, Body], tally: Tally) -> None:
    """Check rows of holes, drawers and shelves. Raises KeyError when the box lacks a side or an adjustable shelf."""
    sides = {hand: bodies[f"{cabinet.name} {hand} side"] for hand in HANDS}
    _check_sides(cabinet, sides, tally)
    for number, (_, unit) in enumerate(cabinet.units):
        seen = column_bodies(cabinet, number, bodies) if cabinet.columns else bodies
        _check_between(unit, seen, tally)
    for hand, (_, unit) in zip(HANDS, (cabinet.units[0], cabinet.units[-1]), strict=True):
        check_box_screws(unit, {hand: sides[hand]}, tally)
    check_divider_holes(cabinet, bodies, tally)


def _check_between(cabinet: Cabinet, bodies: dict[str, Body], tally: Tally) -> None:
    """Check what two uprights and the parts between them must hold: of a whole box, or of a column in its own frame."""
    sides = {hand: bodies[f"{cabinet.name} {hand} side"] for hand in HANDS}
    _check_pins(cabinet, sides, tally)
    _check_plates(cabinet, sides, tally)
    _check_cups(cabinet, bodies, tally)
    _check_slides(cabinet, sides, tally)
    for drawer in cabinet.drawers:
        _check_drawer(cabinet, drawer, bodies, tally)
    check_columns(cabinet, bodies, tally)


def _check_sides(cabinet: Cabinet, sides: dict[str, Body], tally: Tally) -> None:
    """Check that each side, its front edge banded, runs from the front of the box to its own rear edge."""
    for hand, side in sides.items():
        low, high = banded_bounds(side, cabinet.construction.band_thickness_mm)
        rear = cabinet.side_depth_mm(hand)
        message = f"{side.panel.id} runs from {low[1]:.3f} to {high[1]:.3f} mm behind the box's front; 0 to {rear:.3f} "
        message += "is right"
        is_right = abs(low[1]) <= FIT_MM and abs(high[1] - rear) <= FIT_MM
        tally.check(is_right, finding("fit-outside", message, panel=side.panel.id))


def _check_pins(cabinet: Cabinet, sides: dict[str, Body], tally: Tally) -> None:
    wanted = [(y, z) for y in cabinet.pin_rows_y_mm for z in cabinet.pin_z_mm]
    for hand, side in sides.items():
        found = holes_at(side, "shelf pin")
        heights = ", ".join(f"{z:.2f}" for z in sorted({round(point[2], 2) for point in found})[:4])
        message = f"{cabinet.name} {hand} side: shelf-pin holes ({len(found)}, lowest {heights}) are not the "
        message += f"{len(wanted)} level ones of the box"
        tally.check(same_places(found, wanted), finding("fit-pins", message, panel=side.panel.id))
    left, right = (holes_at(sides[hand], "shelf pin") for hand in HANDS)
    message = f"{cabinet.name}: the shelf-pin rows of the two sides are not at equal heights"
    level = same_places(left, [(point[1], point[2]) for point in right])
    tally.check(level, finding("fit-pins", message, panel=sides["right"].panel.id))


def _check_plates(cabinet: Cabinet, sides: dict[str, Body], tally: Tally) -> None:
    c, plate_y = cabinet.construction, cabinet.plate_y_mm
    for hand, side in sides.items():
        wanted = [
            (plate_y, hinge + sign * c.plate_spacing_mm / 2)
            for front in cabinet.fronts
            if front.hinge == hand and plate_y is not None
            for hinge in front.hinge_z_mm
            for sign in (-1, 1)
        ]
        found = holes_at(side, "hinge plate")
        heights = ", ".join(f"{point[2]:.2f}" for point in found)
        message = f"{side.panel.id}: hinge-plate holes at {heights or 'no'} mm are not level with the door's hinges"
        tally.check(same_places(found, wanted), finding("fit-hinge", message, panel=side.panel.id))
        pins = [(point[1], point[2]) for point in holes_at(side, "shelf pin")]
        under = [z for y, z in pins if _is_under_plate(c, y, z, found)]
        message = f"{side.panel.id}: a hinge plate covers the shelf pins at {', '.join(f'{z:.2f}' for z in under)} mm"
        tally.check(not under, finding("fit-hinge", message, panel=side.panel.id))


def _is_under_plate(c: Construction, y: float, z: float, plates: list[Vec3]) -> bool:
    """Tell whether a shelf-pin hole lies between the two holes of a plate, or too near one."""
    reach = (c.pin_diameter_mm + c.plate_diameter_mm) / 2 + PLATE_WEB_MM - FIT_MM
    return any(
        distance_to_edge(Point(y, z), Point(a[1], a[2]), Point(b[1], b[2])) < reach
        for a, b in zip(plates[::2], plates[1::2], strict=False)
    )


def _check_cups(cabinet: Cabinet, bodies: dict[str, Body], tally: Tally) -> None:
    c = cabinet.construction
    for front in cabinet.fronts:
        door = bodies.get(f"{cabinet.name} {front.name}")
        if door is None or front.kind != "door":
            continue
        found = [point[2] for point in holes_at(door, "hinge cup")]
        is_level = len(found) == len(front.hinge_z_mm) and all(
            abs(a - b) <= FIT_MM for a, b in zip(found, sorted(front.hinge_z_mm), strict=True)
        )
        message = (
            f"{door.panel.id}: hinge cups at {', '.join(f'{z:.2f}' for z in found) or 'no'} mm are not level with "
        )
        message += "the plates in the side"
        tally.check(is_level, finding("fit-hinge", message, panel=door.panel.id))
        edge = front.x_mm if front.hinge == "left" else front.x_mm + front.width_mm
        inward = c.hinge_cup_edge_mm + c.hinge_cup_diameter_mm / 2
        is_in = all(abs(abs(point[0] - edge) - inward) <= FIT_MM for point in holes_at(door, "hinge cup"))
        message = f"{door.panel.id}: a hinge cup's centre is not {inward:.2f} mm from the {front.hinge} edge"
        tally.check(is_in, finding("fit-hinge", message, panel=door.panel.id))


def _check_slides(cabinet: Cabinet, sides: dict[str, Body], tally: Tally) -> None:
    bored = [drawer for drawer in cabinet.drawers if not drawer.on_blocking]
    wanted = [(y, drawer.slide_hole_z_mm) for drawer in bored for y in drawer.slide_hole_y_mm]
    for side in sides.values():
        message = f"{side.panel.id}: slide holes are not level with the drawers"
        is_level = same_places(holes_at(side, "slide"), wanted)
        tally.check(is_level, finding("fit-slide", message, panel=side.panel.id))
    left, right = (holes_at(sides[hand], "slide") for hand in HANDS)
    message = f"{cabinet.name}: the slide holes of the two sides are not at equal places"
    level = same_places(left, [(point[1], point[2]) for point in right])
    tally.check(level, finding("fit-slide", message, panel=sides["right"].panel.id))


def _check_drawer(cabinet: Cabinet, drawer: DrawerBox, bodies: dict[str, Body], tally: Tally) -> None:
    own = f"{cabinet.name} {drawer.name}"
    parts = {name: body for name, body in bodies.items() if name.startswith(f"{own} ")}
    low, high = bounds([corner for body in parts.values() for corner in (body.low, body.high)])
    opening = next(item for item in cabinet.openings if item.fill == "drawer" and item.floor_z_mm == drawer.floor_z_mm)
    left = bodies[f"{cabinet.name} left side"].high[0] + cabinet.blocking_mm[0]
    right = bodies[f"{cabinet.name} right side"].low[0] - cabinet.blocking_mm[1]
    rear = cabinet.inside_depth_mm - cabinet.construction.drawer_rear_clearance_mm
    room = (left, cabinet.front_back_y_mm, opening.floor_z_mm), (right, rear, opening.top_z_mm)
    is_in = all(room[0][k] - FIT_MM <= low[k] and high[k] <= room[1][k] + FIT_MM for k in range(3))
    sizes = " x ".join(f"{high[k] - low[k]:.2f}" for k in range(3))
    rooms = " x ".join(f"{room[1][k] - room[0][k]:.2f}" for k in range(3))
    message = f"{own} ({sizes} mm) does not stand within its opening ({rooms} mm)"
    tally.check(is_in, finding("fit-drawer", message))
    inside = parts[f"{own} right side"].low[0] - parts[f"{own} left side"].high[0]
    c, width, face = cabinet.construction, inside, "inside"
    wanted = right - left - c.drawer_width_allowance_mm
    if c.fittings.slide_mount is SlideMount.SIDE:
        wanted, width, face = right - left - c.drawer_side_allowance_mm, high[0] - low[0], "outside"
    message = (
        f"{own} is {width:.3f} mm wide {face}; its slides want {wanted:.3f} mm in an opening of {right - left:.3f}"
    )
    tally.check(abs(width - wanted) <= FIT_MM, finding("fit-drawer", message))
    check_slide_parts(cabinet, drawer, bodies, tally)
