"""What an L-shaped corner cabinet must hold besides what any box must: pins level in both sides and the post, shelves
on five of them, hinge plates level with cups. Corner frame, millimetres."""

from rabbetry.cabinets.model import Cabinet, CornerCabinet
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, banded_bounds, in_panel, is_inside
from rabbetry.fit.holes import holes_at, same_places
from rabbetry.fit.model import Wanted
from rabbetry.fit.tally import Tally
from rabbetry.job.model import Faces, Mount
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
        behind_mm={
            f"{corner.name} {hand} side": leg.side_depth_mm(hand) - leg.back_rear_mm
            for hand, leg in (("left", corner.left), ("right", corner.right))
        },
        front_intrusion_mm=corner.right.front_intrusion_mm,
        depth_clearance_mm=c.depth_clearance_mm,
        band_mm=c.band_thickness_mm,
        outside=frozenset(f"{corner.name} {front.name}" for front in fronts),
        pin_pitch_mm=c.pin_pitch_mm,
        has_opposites=False,
    )


def check_corner(corner: CornerCabinet, bodies: dict[str, Body], tally: Tally) -> None:
    """Check pins, shelves and hinges. Raises KeyError when the box lacks a side, the post or a shelf."""
    deep = corner.size_mm[1]
    name = corner.name
    rows: dict[str, tuple[int, tuple[float, ...]]] = {
        # x of both rows in the left side, y of both in the right side, y of the post's one.
        "left side": (0, tuple(corner.left.depth_mm - y for y in corner.left.pin_rows_y_mm)),
        "right side": (1, tuple(deep - corner.right.depth_mm + y for y in corner.right.pin_rows_y_mm)),
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
    front_edge = leg.depth_mm if hand == "left" else side.low[1] - _band(side, c.band_thickness_mm)
    for front in leg.fronts:
        heights = [] if leg.plate_y_mm is None else front.hinge_z_mm
        wanted = sorted(z + sign * c.plate_spacing_mm / 2 for z in heights for sign in (-1, 1))
        holes = holes_at(side, "hinge plate")
        found = [hole[2] for hole in holes]
        message = f"{side.panel.id}: hinge-plate holes at {', '.join(f'{z:.2f}' for z in found) or 'no'} mm are not "
        message += f"level with the hinges of {front.name}"
        tally.check(_equal(found, wanted), finding("fit-hinge", message, panel=side.panel.id))
        behind = [front_edge - hole[0] if hand == "left" else hole[1] - front_edge for hole in holes]
        message = f"{side.panel.id}: hinge-plate holes are not {leg.plate_y_mm or 0.0:.2f} mm behind its front edge"
        is_right = all(abs(y - (leg.plate_y_mm or 0.0)) <= FIT_MM for y in behind)
        tally.check(is_right, finding("fit-hinge", message, panel=side.panel.id))
        door = bodies.get(f"{leg.name} {front.name}")
        if door is not None:
            cups = sorted(hole[2] for hole in holes_at(door, "hinge cup"))
            message = f"{door.panel.id}: hinge cups are not level with the plates in the side"
            is_level = _equal(cups, sorted(front.hinge_z_mm))
            tally.check(is_level, finding("fit-hinge", message, panel=door.panel.id))


def _band(side: Body, band_mm: float) -> float:
    return band_mm if side.panel.banded_edges else 0.0


def _equal(a: list[float], b: list[float]) -> bool:
    return len(a) == len(b) and all(abs(x - y) <= FIT_MM for x, y in zip(a, b, strict=True))


def _check_doors(corner: CornerCabinet, leg: Cabinet, bodies: dict[str, Body], hand: str, tally: Tally) -> None:
    """A leaf runs from its place at the outer end to a gap before the face of the other leaf."""
    wide, deep, _ = corner.size_mm
    for front in leg.fronts:
        door = bodies.get(f"{leg.name} {front.name}")
        if door is None:
            continue
        low, high = banded_bounds(door, leg.construction.band_thickness_mm)
        outer, inner, face = _door_rules(leg)
        if hand == "left":
            found, wanted = (low[1], high[1]), (outer, deep - corner.right.depth_mm - inner)
            stands, plane = high[0], corner.left.depth_mm + face
        else:
            found, wanted = (low[0], high[0]), (corner.left.depth_mm + inner, wide - outer)
            stands, plane = low[1], deep - corner.right.depth_mm - face
        message = f"{door.panel.id} runs from {found[0]:.2f} to {found[1]:.2f} mm; "
        message += f"{wanted[0]:.2f} to {wanted[1]:.2f} mm clears the other leg and the outside"
        is_right = all(abs(a - b) <= FIT_MM for a, b in zip(found, wanted, strict=True))
        tally.check(is_right, finding("fit-outside", message, panel=door.panel.id))
        message = f"{door.panel.id} has its face at {stands:.2f} mm; {plane:.2f} mm is where its mount puts it"
        tally.check(abs(stands - plane) <= FIT_MM, finding("fit-outside", message, panel=door.panel.id))


def _door_rules(leg: Cabinet) -> tuple[float, float, float]:
    """Return what a leaf keeps from the case's outer end, what it keeps from the inner corner of the cases, and how far
    its face stands before the case."""
    c, side = leg.construction, leg.stocks.side.thickness_mm
    is_inset, framed = leg.mount is Mount.INSET, leg.faces is Faces.FACE_FRAME
    frame = c.frame_thickness_mm if framed else 0.0
    face = frame + (0.0 if is_inset else leg.front_thickness_mm)
    if framed:
        outer = c.frame_stile_width_mm - c.frame_overhang_mm
        outer += c.inset_reveal_mm if is_inset else -c.frame_overlay_mm
    else:
        outer = side + c.inset_reveal_mm if is_inset else c.front_gap_mm / 2
    return outer, face + (c.inset_reveal_mm if is_inset else c.front_gap_mm), face
