"""The parts of columns with fronts of their own, placed in their cabinet; and what a divider carries for them on either
face. Millimetres.

A divider is machined like a side: its left face as the right side of the column before it, its right face as the left
side of the column behind it. Both frames run up from the floor and from the front to the back, so that what is cut from
the right face needs no mirror: rear features are told as seen through the panel.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rabbetry.cabinets.model import LEAST_BETWEEN_HOLES_MM, Cabinet
from rabbetry.geometry.points import Transform
from rabbetry.panels import levels
from rabbetry.panels.carcass import inner_panels
from rabbetry.panels.drawer import drawer_joints, drawer_panels
from rabbetry.panels.fronts import front_panels
from rabbetry.panels.holes import side_holes
from rabbetry.panels.joints import seats
from rabbetry.panels.model import Bore, Feature, Joint, Panel, Place, Recess
from rabbetry.panels.shapes import moved
from rabbetry.panels.sides import side_panel
from rabbetry.tolerances import POINT_MM


def side_of(cabinet: Cabinet, hand: str) -> Panel:
    """Return the side of that hand, with what it carries for the column beside it."""
    x, unit = cabinet.units[0 if hand == "left" else -1]
    return _moved(side_panel(unit, hand), x)


def column_panels(cabinet: Cabinet) -> tuple[Panel, ...]:
    """Return shelves, rails, drawer boxes and fronts of every column, from the left; nothing without columns of their
    own."""
    if not cabinet.columns:
        return ()
    return tuple(
        _moved(panel, x)
        for x, unit in cabinet.units
        for panel in (
            *inner_panels(unit),
            *(panel for drawer in unit.drawers for panel in drawer_panels(unit, drawer)),
            *front_panels(unit),
        )
    )


def column_joints(cabinet: Cabinet) -> Iterator[Joint]:
    """Yield the joints of every column's shelves and rails with its uprights, and those of its drawer boxes."""
    last = len(cabinet.columns) - 1
    for number, unit in enumerate(cabinet.columns):
        uprights = {
            "left": "left side" if number == 0 else f"divider {number}",
            "right": "right side" if number == last else f"divider {number + 1}",
        }
        for hand, upright in uprights.items():
            for seat in seats(unit, hand):
                if seat.role.startswith(unit.prefix):
                    feature = seat.recess.name if seat.recess is not None else ""
                    own = cabinet.name
                    yield Joint(
                        kind=seat.kind, receiver=f"{own} {upright}", feature=feature, entering=f"{own} {seat.role}"
                    )
        for drawer in unit.drawers:
            yield from drawer_joints(unit, drawer)


def divider_faces(cabinet: Cabinet, number: int, low_z_mm: float) -> tuple[tuple[Feature, ...], tuple[Feature, ...]]:
    """Return what the divider of that number, from 0, carries on its left face and on its right one, in the frame of
    the left face: x up from `low_z_mm`, y to the back from its own front edge. Shelf pins that stand opposite go right
    through where the cabinet asks for that."""
    shift = Transform.shift(-low_z_mm, -cabinet.divider_front_mm)
    left, right = (
        tuple(moved(item, shift) for item in _carried(cabinet, unit, hand))
        for unit, hand in ((cabinet.columns[number], "right"), (cabinet.columns[number + 1], "left"))
    )
    thickness = cabinet.stocks.carcass.thickness_mm
    through: tuple[Bore, ...] = ()
    if cabinet.divider_pins == "through":
        both = [a for a in left if _is_pin(a) and any(_is_pin(b) and _same_place(a, b) for b in right)]
        through = tuple(replace(a, depth_mm=thickness, through=True) for a in both if isinstance(a, Bore))
        left, right = (
            tuple(item for item in face if not (_is_pin(item) and any(_same_place(item, b) for b in through)))
            for face in (left, right)
        )
    first = tuple(_shallow(item, right, thickness) for item in left)
    return (*first, *through), tuple(_shallow(item, left, thickness) for item in right)


def turned_to_the_right(panel: Panel) -> Panel:
    """Return a divider that is machined on its right face alone, with that face up."""
    assert panel.place is not None
    mirror = Transform.mirror_y(panel.width_mm)
    x, y, z = panel.place.y_axis
    return replace(
        panel,
        outline=panel.outline.moved(mirror),
        features=tuple(moved(item, mirror) for item in panel.rear_features),
        rear_features=(),
        place=Place(
            origin=panel.place.point(0.0, panel.width_mm, panel.thickness_mm),
            x_axis=panel.place.x_axis,
            y_axis=(0.0 - x, 0.0 - y, 0.0 - z),
        ),
        face_up="right face",
        front_edge="y1",
        banded_edges=("y1",),
    )


def _moved(panel: Panel, x: float) -> Panel:
    if panel.place is None:
        return panel
    at = panel.place.origin
    return replace(panel, place=replace(panel.place, origin=(at[0] + x, at[1], at[2])))


def _carried(cabinet: Cabinet, unit: Cabinet, hand: str) -> Iterator[Feature]:
    """Yield recesses and holes as a side of that hand would have them, frame of the side's definition: no pilot holes,
    since a screw would show in the next column."""
    for level in (*levels.shelf_levels(unit), *levels.middle_rail_levels(unit)):
        recess = levels.side_recess(unit, level, cabinet.inside_depth_mm, ())
        if recess is not None:
            yield recess
    yield from (hole for hole in side_holes(unit, hand) if hole.purpose != "box screw")


def _is_pin(item: Feature) -> bool:
    return isinstance(item, Bore) and item.purpose == "shelf pin"


def _same_place(a: Feature, b: Feature) -> bool:
    return isinstance(a, Bore) and isinstance(b, Bore) and a.centre.distance(b.centre) <= POINT_MM


def _shallow(item: Feature, others: Sequence[Feature], thickness: float) -> Feature:
    """Return a hole no deeper than leaves wood before what is cut from the other face there."""
    if not isinstance(item, Bore) or item.through:
        return item
    depth = item.depth_mm
    for other in others:
        if isinstance(other, Bore) and _meet(item, other):
            depth = min(depth, (thickness - LEAST_BETWEEN_HOLES_MM) / 2)
        elif isinstance(other, Recess) and _over(item, other):
            depth = min(depth, thickness - other.depth_mm - LEAST_BETWEEN_HOLES_MM)
    return replace(item, depth_mm=depth)


def _meet(a: Bore, b: Bore) -> bool:
    return a.centre.distance(b.centre) < (a.diameter_mm + b.diameter_mm) / 2 + LEAST_BETWEEN_HOLES_MM


def _over(bore: Bore, recess: Recess) -> bool:
    x0, y0, x1, y1 = recess.outline.bounds
    reach = bore.diameter_mm / 2
    return x0 - reach < bore.centre.x < x1 + reach and y0 - reach < bore.centre.y < y1 + reach
