"""Columns with fronts of their own as boxes by themselves, and the holes that a divider has in both faces.

A column is looked at in its own frame, with the faces of its two uprights in the place of a box's two sides, so that
all that a box must hold is asked of it too. Millimetres.
"""

from collections.abc import Mapping
from dataclasses import replace

from rabbetry.cabinets.model import LEAST_BETWEEN_HOLES_MM, Cabinet
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, body_of, turned_over
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Bore
from rabbetry.tolerances import DEPTH_MM

_LEAST_HOLD_MM = 5.0
"""A shallower hole holds neither pin nor screw (common practice, no source)."""


def column_bodies(cabinet: Cabinet, number: int, bodies: Mapping[str, Body]) -> dict[str, Body]:
    """Return the column of that number, from 0, in its own frame: its parts, and its uprights as left and right side.
    Raises KeyError when a divider is missing."""
    x, unit = cabinet.units[number]
    own = f"{cabinet.name} {unit.prefix}"
    found = {name: _shifted(body, x) for name, body in bodies.items() if name.startswith(own)}
    last = len(cabinet.columns) - 1
    left = "left side" if number == 0 else f"divider {number}"
    right = "right side" if number == last else f"divider {number + 1}"
    for hand, upright, looks in (("left", left, 1.0), ("right", right, -1.0)):
        body = bodies[f"{cabinet.name} {upright}"]
        found[f"{cabinet.name} {hand} side"] = _shifted(_facing(body, looks), x)
    return found


def _shifted(body: Body, x: float) -> Body:
    at = body.place.origin
    return body_of(body.panel, replace(body.place, origin=(at[0] - x, at[1], at[2])))


def _facing(body: Body, looks: float) -> Body:
    """Return an upright seen on the face that looks along x (1) or against it (-1), holes right through included."""
    if body.place.normal[0] * looks > 0:
        return body
    if not body.panel.rear_features and not body.panel.role.startswith("divider"):
        return body
    turned = turned_over(body)
    through = [item for item in turned.panel.rear_features if isinstance(item, Bore) and item.through]
    return body_of(replace(turned.panel, features=(*turned.panel.features, *through), rear_features=()), turned.place)


def check_divider_holes(cabinet: Cabinet, bodies: Mapping[str, Body], tally: Tally) -> None:
    """Note holes that are less deep than set, because the other face is cut there too; too shallow ones are wrong."""
    if not cabinet.columns:
        return
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    depths = {"shelf pin": c.pin_depth_mm, "hinge plate": c.plate_depth_mm, "slide": c.slide_hole_depth_mm}
    for number in range(1, len(cabinet.divider_x_mm) + 1):
        panel = bodies[f"{cabinet.name} divider {number}"].panel
        bores = [item for item in (*panel.features, *panel.rear_features) if isinstance(item, Bore)]
        for purpose, wanted in depths.items():
            shallow = [hole.depth_mm for hole in bores if hole.purpose == purpose and not hole.through]
            shallow = [depth for depth in shallow if depth < wanted - DEPTH_MM]
            least = min(shallow, default=wanted)
            message = (
                f"{panel.id}: {len(shallow)} {purpose} holes are {least:.2f} mm deep, not {wanted:g}: both faces of "
                f"{thickness:g} mm are cut there, and {LEAST_BETWEEN_HOLES_MM:g} mm stay between"
            )
            tally.check(not shallow, finding("divider-holes-shallow", message, panel=panel.id))
            message = f"{panel.id}: a {purpose} hole {least:.2f} mm deep holds nothing; {_LEAST_HOLD_MM:g} mm is the "
            message += "least: move a shelf, or take a thicker divider"
            tally.check(least >= _LEAST_HOLD_MM - DEPTH_MM, finding("fit-two-faces", message, panel=panel.id))
