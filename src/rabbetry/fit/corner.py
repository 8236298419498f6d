"""What an L-shaped corner cabinet must hold besides what any box must: pins level in both sides and the post, shelves
on five of them, hinge plates level with cups. Corner frame, millimetres."""

from rabbetry.cabinets.model import Cabinet, CornerCabinet
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, in_panel, is_inside
from rabbetry.fit.holes import holes_at, same_places
from rabbetry.fit.model import Wanted
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Vec3
from rabbetry.tolerances import FIT_MM

_PIN_PROJECTS_MM = 6.0
"""A shelf pin carries at least this far before the face it is in (common practice, no source)."""


def corner_wanted(corner: CornerCabinet) -> Wanted:
    """Return what the corner must come to as any box must."""
    c = corner.right.construction
    fronts = (*corner.left.fronts, *corner.right.fronts)
    return Wanted(
        name=corner.name,
        size_mm=corner.size_mm,
        clearance_mm=c.fit_clearance_mm,
        outside=frozenset(f"{corner.name} {front.name}" for front in fronts),
        pin_pitch_mm=c.pin_pitch_mm,
        has_opposites=False,
    )


def check_corner(corner: CornerCabinet, bodies: dict[str, Body], tally: Tally) -> None:
    """Check pins, shelves and hinges. Raises KeyError when the box lacks a side, the post or a shelf."""
    deep = corner.size_mm[1]
    c, name = corner.right.construction, corner.name
    rows = {
        # x of both rows in the left side, y of both in the right side, y of the post's one.
        "left side": (0, (corner.left.depth_mm - c.pin_front_mm, c.pin_rear_mm)),
        "right side": (1, (deep - corner.right.depth_mm + c.pin_front_mm, deep - c.pin_rear_mm)),
        "corner post": (1, _post_row(bodies[f"{name} corner post"])),
    }
    pins: list[tuple[Body, Vec3]] = []
    for role, (axis, places) in rows.items():
        body = bodies[f"{name} {role}"]
        found = holes_at(body, "shelf pin")
        wanted = [(place, z) for place in places for z in corner.right.pin_z_mm]
        message = f"{body.panel.id}: shelf-pin holes ({len(found)}) are not the {len(wanted)} level ones of the box"
        across = sorted(((0.0, hole[axis], hole[2]) for hole in found), key=lambda at: (round(at[2], 3), at[1]))
        is_level = same_places(across, wanted)
        tally.check(is_level, finding("fit-pins", message, panel=body.panel.id))
        pins.extend((body, hole) for hole in found)
    for number in range(1, len(corner.right.shelf_pin_z_mm) + 1):
        _check_shelf(corner, bodies[f"{name} shelf {number}"], pins, tally)
    for hand, leg in (("left", corner.left), ("right", corner.right)):
        _check_hinges(leg, bodies, hand, tally)
        _check_doors(corner, leg, bodies, hand, tally)


def _post_row(post: Body) -> tuple[float, ...]:
    return ((post.low[1] + post.high[1]) / 2,)


def _check_shelf(corner: CornerCabinet, shelf: Body, pins: list[tuple[Body, Vec3]], tally: Tally) -> None:
    c = corner.right.construction
    side, (wide, _, _) = corner.right.stocks.side.thickness_mm, corner.size_mm
    for hand, gap in (("left", shelf.low[1] - side), ("right", wide - side - shelf.high[0])):
        message = f"{shelf.panel.id} ends {gap:.2f} mm from the {hand} side; {c.shelf_side_gap_mm / 2:.2f} mm is right"
        is_right = abs(gap - c.shelf_side_gap_mm / 2) <= FIT_MM
        tally.check(is_right, finding("fit-shelf", message, panel=shelf.panel.id))
    under = [pair for pair in pins if abs(pair[1][2] + c.pin_diameter_mm / 2 - shelf.low[2]) <= FIT_MM]
    carrying = [body.panel.id for body, pin in under if _carries(shelf, body, pin)]
    message = f"{shelf.panel.id} lies on {len(carrying)} pins; two in each side and one in the post are right"
    tally.check(len(carrying) == _PINS, finding("fit-shelf", message, panel=shelf.panel.id))


_PINS = 5


def _carries(shelf: Body, body: Body, pin: Vec3) -> bool:
    """Tell whether the end of a pin lies under the shelf."""
    n = body.place.normal
    tip = (pin[0] + n[0] * _PIN_PROJECTS_MM, pin[1] + n[1] * _PIN_PROJECTS_MM, pin[2])
    x, y, _ = in_panel(shelf.place, tip)
    return is_inside(shelf.outline, x, y)


def _check_hinges(leg: Cabinet, bodies: dict[str, Body], hand: str, tally: Tally) -> None:
    c, side = leg.construction, bodies[f"{leg.name} {hand} side"]
    for front in leg.fronts:
        wanted = sorted(z + sign * c.plate_spacing_mm / 2 for z in front.hinge_z_mm for sign in (-1, 1))
        found = sorted(hole[2] for hole in holes_at(side, "hinge plate"))
        message = f"{side.panel.id}: hinge-plate holes at {', '.join(f'{z:.2f}' for z in found) or 'no'} mm are not "
        message += f"level with the hinges of {front.name}"
        tally.check(_equal(found, wanted), finding("fit-hinge", message, panel=side.panel.id))
        door = bodies.get(f"{leg.name} {front.name}")
        if door is not None:
            cups = sorted(hole[2] for hole in holes_at(door, "hinge cup"))
            message = f"{door.panel.id}: hinge cups are not level with the plates in the side"
            is_level = _equal(cups, sorted(front.hinge_z_mm))
            tally.check(is_level, finding("fit-hinge", message, panel=door.panel.id))


def _equal(a: list[float], b: list[float]) -> bool:
    return len(a) == len(b) and all(abs(x - y) <= FIT_MM for x, y in zip(a, b, strict=True))


def _check_doors(corner: CornerCabinet, leg: Cabinet, bodies: dict[str, Body], hand: str, tally: Tally) -> None:
    """A leaf runs from half a gap within the outside to a whole gap before the face of the other leaf."""
    wide, deep, _ = corner.size_mm
    gap = leg.construction.front_gap_mm
    for front in leg.fronts:
        door = bodies.get(f"{leg.name} {front.name}")
        if door is None:
            continue
        cleared = door.panel.thickness_mm + gap
        if hand == "left":
            found, wanted = (door.low[1], door.high[1]), (gap / 2, deep - corner.right.depth_mm - cleared)
        else:
            found, wanted = (door.low[0], door.high[0]), (corner.left.depth_mm + cleared, wide - gap / 2)
        message = f"{door.panel.id} runs from {found[0]:.2f} to {found[1]:.2f} mm; "
        message += f"{wanted[0]:.2f} to {wanted[1]:.2f} mm clears the other leg and the outside"
        is_right = all(abs(a - b) <= FIT_MM for a, b in zip(found, wanted, strict=True))
        tally.check(is_right, finding("fit-outside", message, panel=door.panel.id))
