"""Rows of holes across the box: shelf pins, hinge plates against cups, slides; and each hole within its own panel."""

from collections.abc import Sequence
from itertools import combinations

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding
from rabbetry.fit.assemble import Body, centre_in_box, is_inside
from rabbetry.fit.tally import Tally
from rabbetry.fit.two_faces import check_two_faces
from rabbetry.geometry.points import Point
from rabbetry.panels.model import Bore, Feature, Panel, Recess, Vec3
from rabbetry.tolerances import DEPTH_MM, FIT_MM

HANDS = ("left", "right")


def check_holes(cabinet: Cabinet, bodies: dict[str, Body], tally: Tally) -> None:
    """Check every row of holes of the box against its partner and against the cabinet."""
    sides = {hand: bodies[f"{cabinet.name} {hand} side"] for hand in HANDS}
    _check_pins(cabinet, sides, tally)
    _check_plates(cabinet, sides, tally)
    _check_cups(cabinet, bodies, tally)
    _check_slides(cabinet, sides, tally)
    for body in bodies.values():
        _check_bores(body, tally)


def holes_at(body: Body, purpose: str, *, rear: bool = False) -> list[Vec3]:
    """Return where the panel's holes of that purpose stand in the box, sorted by height, then from front to back: those
    of its machined face, or of its rear face."""
    found = [
        centre_in_box(body.place, feature.centre)
        for feature in (body.panel.rear_features if rear else body.panel.features)
        if isinstance(feature, Bore) and feature.purpose == purpose
    ]
    return sorted(found, key=lambda point: (round(point[2], 3), round(point[1], 3)))


def _same(found: Sequence[Vec3], wanted: Sequence[tuple[float, float]]) -> bool:
    """Tell whether holes stand at those (from front, height) places, both sorted by height."""
    wanted = sorted(wanted, key=lambda place: (round(place[1], 3), round(place[0], 3)))
    return len(found) == len(wanted) and all(
        abs(point[1] - y) <= FIT_MM and abs(point[2] - z) <= FIT_MM for point, (y, z) in zip(found, wanted, strict=True)
    )


def _check_pins(cabinet: Cabinet, sides: dict[str, Body], tally: Tally) -> None:
    c = cabinet.construction
    rows = (c.pin_front_mm, cabinet.depth_mm - c.pin_rear_mm)
    wanted = [(y, z) for y in rows for z in cabinet.pin_z_mm]
    for hand, side in sides.items():
        found = holes_at(side, "shelf pin")
        heights = ", ".join(f"{z:.2f}" for z in sorted({round(point[2], 2) for point in found})[:4])
        message = f"{cabinet.name} {hand} side: shelf-pin holes ({len(found)}, lowest {heights}) are not the "
        message += f"{len(wanted)} level ones of the box"
        tally.check(_same(found, wanted), finding("fit-pins", message, panel=side.panel.id))
    left, right = (holes_at(sides[hand], "shelf pin") for hand in HANDS)
    message = f"{cabinet.name}: the shelf-pin rows of the two sides are not at equal heights"
    level = _same(left, [(point[1], point[2]) for point in right])
    tally.check(level, finding("fit-pins", message, panel=sides["right"].panel.id))


def _check_plates(cabinet: Cabinet, sides: dict[str, Body], tally: Tally) -> None:
    c = cabinet.construction
    for hand, side in sides.items():
        wanted = [
            (c.plate_front_mm, hinge + sign * c.plate_spacing_mm / 2)
            for front in cabinet.fronts
            if front.hinge == hand
            for hinge in front.hinge_z_mm
            for sign in (-1, 1)
        ]
        found = holes_at(side, "hinge plate")
        heights = ", ".join(f"{point[2]:.2f}" for point in found)
        message = f"{side.panel.id}: hinge-plate holes at {heights or 'no'} mm are not level with the door's hinges"
        tally.check(_same(found, wanted), finding("fit-hinge", message, panel=side.panel.id))


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
    wanted = [(y, drawer.slide_hole_z_mm) for drawer in cabinet.drawers for y in drawer.slide_hole_y_mm]
    for side in sides.values():
        message = f"{side.panel.id}: slide holes are not level with the drawers"
        is_level = _same(holes_at(side, "slide"), wanted)
        tally.check(is_level, finding("fit-slide", message, panel=side.panel.id))
    left, right = (holes_at(sides[hand], "slide") for hand in HANDS)
    message = f"{cabinet.name}: the slide holes of the two sides are not at equal places"
    level = _same(left, [(point[1], point[2]) for point in right])
    tally.check(level, finding("fit-slide", message, panel=sides["right"].panel.id))


def _check_bores(body: Body, tally: Tally) -> None:
    """No hole may leave its panel, go through unasked, cut into another hole, or lie half in a recess."""
    panel = body.panel
    check_two_faces(body, tally)
    _check_face(body, panel.features, tally)
    _check_face(body, panel.rear_features, tally)


def _check_face(body: Body, features: Sequence[Feature], tally: Tally) -> None:
    panel = body.panel
    bores = [feature for feature in features if isinstance(feature, Bore)]
    for bore in bores:
        tally.check(_stays_in(body, bore), _bore_fault(panel, bore, "leaves the panel"))
        is_blind = bore.through or bore.depth_mm < panel.thickness_mm - DEPTH_MM
        tally.check(is_blind, _bore_fault(panel, bore, f"is {bore.depth_mm:g} mm deep and goes through"))
        for recess in features:
            if isinstance(recess, Recess):
                message = f"meets the edge of {recess.name}"
                tally.check(not _straddles(bore, recess), _bore_fault(panel, bore, message))
    for a, b in combinations(bores, 2):
        is_apart = a.centre.distance(b.centre) >= (a.diameter_mm + b.diameter_mm) / 2
        tally.check(is_apart, _bore_fault(panel, a, f"cuts into {b.name}"))


def _stays_in(body: Body, bore: Bore) -> bool:
    """Tell whether the whole hole lies within the panel's outline, notches respected."""
    x, y = bore.centre.x, bore.centre.y
    if not is_inside(body.outline, x, y):
        return False
    edges = zip(body.outline, (*body.outline[1:], body.outline[0]), strict=True)
    return all(_distance(bore.centre, Point(*a), Point(*b)) >= bore.diameter_mm / 2 - DEPTH_MM for a, b in edges)


def _distance(point: Point, start: Point, end: Point) -> float:
    """Return the distance from the point to the straight edge."""
    along = end - start
    share = (point - start).dot(along) / along.dot(along)
    return point.distance(start + along * min(1.0, max(0.0, share)))


def _straddles(bore: Bore, recess: Recess) -> bool:
    """Tell whether a hole lies across a side of the recess, or, unless it is a pilot hole, in it at all."""
    x0, y0, x1, y1 = recess.outline.bounds
    x, y, radius = bore.centre.x, bore.centre.y, bore.diameter_mm / 2
    is_apart = x + radius <= x0 or x - radius >= x1 or y + radius <= y0 or y - radius >= y1
    is_within = x - radius >= x0 and x + radius <= x1 and y - radius >= y0 and y + radius <= y1
    return not is_apart and not (is_within and bore.purpose == "pilot")


def _bore_fault(panel: Panel, bore: Bore, what: str) -> Finding:
    return finding("fit-bore", f"{panel.id}: {bore.name} {what}", panel=panel.id, x=bore.centre.x, y=bore.centre.y)
