"""Dividers: upright panels that part a box into columns, and what the panels about them carry for them. Millimetres.

A divider stands on the floor of a dado in the bottom, from the front edge to the back, and is held at its top in a dado
of a full top, or under the stretchers with screws. Inset fronts that pass before it make it stand back; fronts of its
columns lie beside it. What is above it is machined on its lower face, so that it needs one face only; its own
shelf-pin holes go through and serve both columns, unless blind ones are ordered or a column has a front of its own
(columns).
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import Grain
from rabbetry.panels.columns import divider_faces, turned_to_the_right
from rabbetry.panels.model import Bore, Feature, Joint, Panel, Place, Recess
from rabbetry.panels.shapes import Rect, even_row, moved, notched_rectangle, pilots_clear_of

_LEAST_SCREWED_MM = 20.0
"""A shorter edge gets no row of screws (common practice, no source)."""

_SCREW_MM = 30.0
"""A hole this near the panel behind may meet a screw through that (common practice, no source)."""

_SWAPPED = {"y0": "y1", "y1": "y0"}


def divider_roles(cabinet: Cabinet) -> tuple[str, ...]:
    """Return the dividers' roles from left to right."""
    return tuple(f"divider {number}" for number, _ in enumerate(cabinet.divider_x_mm, start=1))


def with_dividers(cabinet: Cabinet, panels: tuple[Panel, ...]) -> tuple[Panel, ...]:
    """Return the box's panels with its dividers after the others, and with the dados and pilot holes that hold them."""
    if not cabinet.divider_x_mm:
        return panels
    dividers = tuple(_divider(cabinet, number) for number in range(len(cabinet.divider_x_mm)))
    return (*(_holding(cabinet, panel, dividers) for panel in panels), *dividers)


def divider_joints(cabinet: Cabinet) -> Iterator[Joint]:
    """Yield the joints of every divider: below, above, and against the back."""
    for role in divider_roles(cabinet):
        for holder in _holders(cabinet):
            yield Joint(
                kind="dado" if holder in ("bottom", "top") else "butt",
                receiver=f"{cabinet.name} {holder}",
                feature=f"{role} dado" if holder in ("bottom", "top") else "",
                entering=f"{cabinet.name} {role}",
            )


def _holders(cabinet: Cabinet) -> tuple[str, ...]:
    above = ("top",) if cabinet.has_top_panel else ("front stretcher", "rear stretcher")
    return ("bottom", *above, *(("back",) if cabinet.has_back else ()))


def _divider(cabinet: Cabinet, number: int) -> Panel:
    """The divider of that number, from 0."""
    role, x = divider_roles(cabinet)[number], cabinet.divider_x_mm[number]
    c, stock = cabinet.construction, cabinet.stocks.carcass
    low = cabinet.floor_z_mm - c.dado_depth_mm
    high = cabinet.ceiling_z_mm + (c.dado_depth_mm if cabinet.has_top_panel else 0.0)
    front = cabinet.divider_front_mm
    length, width = high - low, cabinet.inside_depth_mm - front
    features, rear = divider_faces(cabinet, number, low) if cabinet.columns else _pins(cabinet, low)
    panel = Panel(
        id=f"{cabinet.name} {role}",
        cabinet=cabinet.name,
        role=role,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=length,
        width_mm=width,
        outline=notched_rectangle(Rect(0.0, 0.0, length, width), tuple(_nailer_notch(cabinet, low, high))),
        features=features,
        rear_features=rear,
        grain=Grain.ALONG,
        place=Place(origin=(x, front, low), x_axis=(0.0, 0.0, 1.0), y_axis=(0.0, 1.0, 0.0)),
        face_up="left face",
        front_edge="y0",
        banded_edges=("y0",),
    )
    return turned_to_the_right(panel) if rear and not features else panel


def _nailer_notch(cabinet: Cabinet, low: float, high: float) -> Iterator[Rect]:
    """Yield the room for a nailer at the divider's upper rear corner, and at its lower one."""
    c = cabinet.construction
    depth = cabinet.inside_depth_mm - cabinet.divider_front_mm
    before = depth - cabinet.stocks.carcass.thickness_mm - c.fit_clearance_mm
    if cabinet.has_nailer:
        below = cabinet.ceiling_z_mm - c.nailer_width_mm - c.fit_clearance_mm - low
        yield Rect(below, before, high - low, depth)
    if cabinet.has_lower_nailer:
        above = cabinet.floor_z_mm + c.nailer_width_mm + c.fit_clearance_mm - low
        yield Rect(0.0, before, above, depth)


def _pins(cabinet: Cabinet, low: float) -> tuple[tuple[Feature, ...], tuple[Feature, ...]]:
    """Return the shelf-pin holes of the machined and of the rear face, level with those of the sides."""
    c = cabinet.construction
    is_through = cabinet.divider_pins == "through"
    depth = cabinet.stocks.carcass.thickness_mm if is_through else cabinet.blind_pin_depth_mm
    rows = zip(("front", "rear"), cabinet.pin_rows_y_mm, strict=True)
    bores = tuple(
        Bore(
            name=f"{row} pin {number}",
            purpose="shelf pin",
            centre=Point(z - low, y - cabinet.front_intrusion_mm),
            diameter_mm=c.pin_diameter_mm,
            depth_mm=depth,
            through=is_through,
        )
        for row, y in rows
        for number, z in enumerate(cabinet.pin_z_mm, start=1)
    )
    return bores, () if is_through else bores


def _holding(cabinet: Cabinet, panel: Panel, dividers: tuple[Panel, ...]) -> Panel:
    """Return the panel with what it carries for the dividers; above them it is first turned face down."""
    if panel.role not in _holders(cabinet):
        return panel
    if panel.role not in ("bottom", "back"):
        panel = _turned_over(panel)
    carried: list[Feature] = []
    for divider in dividers:
        if panel.role in ("bottom", "top"):
            carried.append(_dado(cabinet, panel, divider))
        carried.extend(_pilots(cabinet, panel, divider))
    return replace(panel, features=(*panel.features, *carried))


def _turned_over(panel: Panel) -> Panel:
    """Return a panel that lies in the box with its lower face machined; what it carried moves to its rear face."""
    assert panel.place is not None
    x, y, z = panel.place.point(0.0, panel.width_mm, panel.thickness_mm)
    mirror = Transform.mirror_y(panel.width_mm)
    return replace(
        panel,
        outline=panel.outline.moved(mirror),
        features=(),
        rear_features=tuple(moved(feature, mirror) for feature in panel.features),
        place=Place(origin=(x, y, z), x_axis=panel.place.x_axis, y_axis=_reversed(panel.place.y_axis)),
        face_up="lower face",
        front_edge=_SWAPPED.get(panel.front_edge, panel.front_edge),
        banded_edges=tuple(_SWAPPED.get(edge, edge) for edge in panel.banded_edges),
    )


def _reversed(axis: tuple[float, float, float]) -> tuple[float, float, float]:
    return 0.0 - axis[0], 0.0 - axis[1], 0.0 - axis[2]


def _across(panel: Panel, divider: Panel) -> float:
    """Return where the divider's left face meets the panel, along panel x; both x axes run to the right."""
    assert panel.place is not None
    assert divider.place is not None
    left = min(divider.place.point(0.0, 0.0, depth)[0] for depth in (0.0, divider.thickness_mm))
    return left - panel.place.origin[0]


def _dado(cabinet: Cabinet, panel: Panel, divider: Panel) -> Recess:
    c = cabinet.construction
    x, half = _across(panel, divider), c.fit_clearance_mm / 2
    return Recess(
        name=f"{divider.role} dado",
        kind="dado",
        outline=notched_rectangle(Rect(x - half, 0.0, x + divider.thickness_mm + half, panel.width_mm)),
        depth_mm=c.dado_depth_mm,
    )


def _pilots(cabinet: Cabinet, panel: Panel, divider: Panel) -> Iterator[Bore]:
    c = cabinet.construction
    low, high = _before_nailer(cabinet, panel)
    if panel.role == "back":
        assert panel.place is not None
        nailer = c.nailer_width_mm if cabinet.has_nailer else 0.0
        bottom = panel.place.origin[2]
        below = c.nailer_width_mm if cabinet.has_lower_nailer else 0.0
        low, high = cabinet.floor_z_mm + below - bottom, cabinet.ceiling_z_mm - nailer - bottom
    if high - low < _LEAST_SCREWED_MM:
        return
    x = _across(panel, divider) + divider.thickness_mm / 2
    row = tuple(
        Bore(
            name=f"{divider.role} pilot {number}",
            purpose="pilot",
            centre=Point(x, y),
            diameter_mm=c.pilot_diameter_mm,
            depth_mm=panel.thickness_mm,
            through=True,
        )
        for number, y in enumerate(even_row(low, high, c.pilot_end_mm, c.pilot_spacing_mm), start=1)
    )
    taken, up = tuple(_in_the_way(panel, divider, x)), Transform.quarter_turns(1)
    yield from pilots_clear_of(row, taken, up, within=(low, high))


def _before_nailer(cabinet: Cabinet, panel: Panel) -> tuple[float, float]:
    """Return the stretch of the panel's width under or over which the divider stands: not where a nailer does. What
    lies above a divider is turned over, its rear edge at 0."""
    room = cabinet.stocks.carcass.thickness_mm + cabinet.construction.fit_clearance_mm
    low = room if cabinet.has_nailer and panel.role in ("top", "rear stretcher") else 0.0
    high = room if cabinet.has_lower_nailer and panel.role == "bottom" else 0.0
    return low, panel.width_mm - high


def _in_the_way(panel: Panel, divider: Panel, x: float) -> Iterator[Bore]:
    """Yield what of the divider a screw through the panel would meet, as holes that stand on the row at `x`: holes and
    recesses no farther from the panel than a screw goes."""
    assert panel.place is not None
    assert divider.place is not None
    for item in (*divider.features, *divider.rear_features):
        low, high = _ends(item)
        corners = [divider.place.point(at.x, at.y, 0.0) for at in (low, high)]
        steps = [tuple(a - b for a, b in zip(corner, panel.place.origin, strict=True)) for corner in corners]
        if min(abs(_along(step, panel.place.normal)) for step in steps) > panel.thickness_mm + _SCREW_MM:
            continue
        ys = sorted(_along(step, panel.place.y_axis) for step in steps)
        middle, size = (ys[0] + ys[1]) / 2, ys[1] - ys[0]
        yield Bore(name=item.name, purpose="", centre=Point(x, middle), diameter_mm=size, depth_mm=0.0)


def _ends(item: Feature) -> tuple[Point, Point]:
    if isinstance(item, Bore):
        radius = item.diameter_mm / 2
        return Point(item.centre.x - radius, item.centre.y - radius), Point(
            item.centre.x + radius, item.centre.y + radius
        )
    x0, y0, x1, y1 = item.outline.bounds
    return Point(x0, y0), Point(x1, y1)


def _along(step: tuple[float, ...], axis: tuple[float, float, float]) -> float:
    return sum(a * b for a, b in zip(step, axis, strict=True))
