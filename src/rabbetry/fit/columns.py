"""The columns of a box: shelf-pin rows of neighbouring uprights level with each other, and shelves on their pins."""

from itertools import pairwise

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body
from rabbetry.fit.holes import holes_at
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Bore, Vec3
from rabbetry.tolerances import FIT_MM


def check_columns(cabinet: Cabinet, bodies: dict[str, Body], tally: Tally) -> None:
    """Check each divider's holes against the left side's, and every adjustable shelf between its uprights."""
    left, right = bodies[f"{cabinet.name} left side"], bodies[f"{cabinet.name} right side"]
    dividers = [bodies[f"{cabinet.name} divider {number}"] for number in range(1, len(cabinet.divider_x_mm) + 1)]
    for divider in dividers:
        _check_divider(cabinet, left, divider, tally)
    for column, (a, b) in enumerate(pairwise((left, *dividers, right)), start=1):
        for number in range(1, cabinet.adjustable_shelves + 1):
            role = f"{cabinet.prefix}shelf {number}"
            role = f"column {column} {role}" if dividers else role
            _check_shelf(cabinet, bodies[f"{cabinet.name} {role}"], (a, b), tally)


def _check_divider(cabinet: Cabinet, side: Body, divider: Body, tally: Tally) -> None:
    """Both faces must offer the side's rows: as many holes, as far from the front, as high above the box's floor."""
    wanted = holes_at(side, "shelf pin")
    for face, through_only in (("machined", False), ("rear", True)):
        found = holes_at(divider, "shelf pin")
        if through_only and not all(_is_through(divider)):
            found = holes_at(divider, "shelf pin", rear=True)
        is_level = len(found) == len(wanted) and all(
            abs(a[1] - b[1]) <= FIT_MM and abs(a[2] - b[2]) <= FIT_MM for a, b in zip(found, wanted, strict=True)
        )
        message = f"{divider.panel.id}: the shelf-pin holes of its {face} face ({len(found)}) are not level with the "
        message += f"{len(wanted)} of {side.panel.id}"
        tally.check(is_level, finding("fit-pins", message, panel=divider.panel.id))


def _is_through(body: Body) -> list[bool]:
    return [
        feature.through
        for feature in body.panel.features
        if isinstance(feature, Bore) and feature.purpose == "shelf pin"
    ]


def _check_shelf(cabinet: Cabinet, shelf: Body, uprights: tuple[Body, Body], tally: Tally) -> None:
    left, right = uprights
    room, length = right.low[0] - left.high[0], shelf.high[0] - shelf.low[0]
    is_free = abs(room - length - cabinet.construction.shelf_side_gap_mm) <= FIT_MM
    is_between = min(shelf.low[0] - left.high[0], right.low[0] - shelf.high[0]) >= -FIT_MM
    message = f"{shelf.panel.id} is {length:.2f} mm long between uprights {room:.2f} mm apart"
    tally.check(is_free and is_between, finding("fit-shelf", message, panel=shelf.panel.id))
    for upright in uprights:
        below = [pin for pin in holes_at(upright, "shelf pin") if _is_under(cabinet, shelf, pin)]
        is_carried = len(below) == 2 and all(_carries(shelf, pin) for pin in below)
        message = f"{shelf.panel.id} does not lie on a front and a rear pin in {upright.panel.id}"
        tally.check(is_carried, finding("fit-shelf", message, panel=shelf.panel.id))


def _is_under(cabinet: Cabinet, shelf: Body, pin: Vec3) -> bool:
    return abs(pin[2] + cabinet.construction.pin_diameter_mm / 2 - shelf.low[2]) <= FIT_MM


def _carries(shelf: Body, pin: Vec3) -> bool:
    return shelf.low[1] < pin[1] < shelf.high[1]
