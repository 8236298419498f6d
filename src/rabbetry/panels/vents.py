"""Slotted grilles: round-ended slots right through a panel, evenly spaced about a middle. Panel frame, millimetres."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.errors import did_you_mean
from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Arc, Contour, Line, circle
from rabbetry.geometry.points import Point, Transform
from rabbetry.geometry.regions import region_polygon
from rabbetry.job.model import LEAST_VENT_WEB_MM, VentOrder
from rabbetry.panels.model import Bore, Box, CutOut, Feature, Panel
from rabbetry.tolerances import FIT_MM
from rabbetry.units import show_area, show_length


def with_vents(
    boxes: Sequence[Box],
    loose: Sequence[Panel],
    vents: Sequence[VentOrder],
    units: str,
    *,
    refused: Sequence[str] = (),
) -> tuple[tuple[Box, ...], tuple[Panel, ...], tuple[Finding, ...]]:
    """Return boxes and loose panels with the slots of the vents that name a panel of theirs, and what was found. A vent
    that has no room is left out with an error; two vents may share a panel. Nothing is said of a vent in a panel of
    what was `refused`, by the beginning of its name: why it is not there has been told."""
    if not vents:
        return tuple(boxes), tuple(loose), ()
    made = {panel.id: panel for panel in (*(panel for box in boxes for panel in box.panels), *loose)}
    found: list[Finding] = []
    for number, vent in enumerate(vents, start=1):
        panel = made.get(vent.panel)
        if panel is None and vent.panel.startswith(tuple(refused)):
            continue
        if panel is None:
            cure = did_you_mean(vent.panel, list(made)) or "the cut list names them all"
            found.append(finding("vent-panel", f'vent "{vent.panel}": the job makes no such panel; {cure}'))
            continue
        is_second = any(isinstance(item, CutOut) and item.name == "vent slot 1" for item in panel.features)
        slots = vent_cut_outs(panel, vent, name=f"vent {number} slot" if is_second else "vent slot")
        fault = _no_room(panel, slots, units)
        if fault is None:
            made[panel.id] = replace(panel, features=(*panel.features, *slots))
            found.append(_area_told(panel, vent, len(slots), units))
        else:
            found.append(fault)
    changed = tuple(replace(box, panels=tuple(made[panel.id] for panel in box.panels)) for box in boxes)
    return changed, tuple(made[panel.id] for panel in loose), tuple(found)


def slot_area_mm2(length_mm: float, width_mm: float) -> float:
    """Return the area of a slot of that length over its round ends: a rectangle and two half circles."""
    return (length_mm - width_mm) * width_mm + math.pi * width_mm**2 / 4


def vent_cut_outs(panel: Panel, vent: VentOrder, *, name: str = "vent slot") -> tuple[CutOut, ...]:
    """Return the slots of a vent in a panel, named `name` 1, 2... Does not ask whether they have room there.

    As many as the order says, or as its free area needs; about its middle, or the middle of the wood there is half-way
    along the panel.
    """
    count = vent.slots
    if count is None:
        assert vent.free_area_mm2 is not None
        count = math.ceil(vent.free_area_mm2 / slot_area_mm2(vent.length_mm, vent.width_mm) - 1e-9)
    middle = Point(*vent.at_mm) if vent.at_mm is not None else _middle_of_wood(panel)
    offsets = [(k - (count - 1) / 2) * vent.spacing_mm for k in range(count)]
    centres = [Point(middle.x + off, middle.y) if vent.up else Point(middle.x, middle.y - off) for off in offsets]
    return tuple(
        CutOut(name=f"{name} {number}", outline=slot(centre, vent.length_mm, vent.width_mm, up=vent.up))
        for number, centre in enumerate(centres, start=1)
    )


def slot(centre: Point, length_mm: float, width_mm: float, *, up: bool) -> Contour:
    """Return a slot's outline, counter-clockwise: two straights and two half circles. `length_mm` > `width_mm`."""
    half, r = (length_mm - width_mm) / 2, width_mm / 2
    right, left = Point(half, 0.0), Point(-half, 0.0)
    lying = Contour(
        (
            Line(Point(-half, -r), Point(half, -r)),
            Arc(Point(half, -r), Point(half, r), right, 1),
            Line(Point(half, r), Point(-half, r)),
            Arc(Point(-half, r), Point(-half, -r), left, 1),
        )
    )
    turned = lying.moved(Transform.quarter_turns(1)) if up else lying
    return turned.moved(Transform.shift(centre.x, centre.y))


def _middle_of_wood(panel: Panel) -> Point:
    """Return the middle of the longest stretch of the panel on the line across it half-way along."""
    x = panel.length_mm / 2
    across = shapely.LineString([(x, -1.0), (x, panel.width_mm + 1.0)])
    stretches = shapely.get_parts(region_polygon(panel.outline).intersection(across))
    longest = max(stretches, key=lambda part: round(float(part.length), 6))
    return Point(x, float(longest.centroid.y))


def _no_room(panel: Panel, slots: Sequence[CutOut], units: str) -> Finding | None:
    """Return an error for the first slot that comes too near to an edge or to what else is cut into the panel."""
    wood = region_polygon(panel.outline)
    others = [(f'"{feature.name}"', _ground(feature)) for feature in panel.features]
    for item in slots:
        shape = region_polygon(item.outline)
        for what, web in _webs(shape, wood, others):
            if web < LEAST_VENT_WEB_MM - FIT_MM:
                least = show_length(LEAST_VENT_WEB_MM, units)
                text = f"would cut into {what}; {least} of wood or more is expected"
                if web > 0:
                    text = f"leaves {show_length(web, units)} of wood to {what}; {least} or more is expected"
                cure = "fewer, shorter or closer slots, or another place"
                return finding("vent-no-room", f"{panel.id}: {item.name} {text}: {cure}", panel=panel.id)
    return None


def _webs(
    shape: BaseGeometry, wood: BaseGeometry, others: Sequence[tuple[str, BaseGeometry]]
) -> Iterator[tuple[str, float]]:
    """Yield what a slot is near to, and how much wood is left there: 0 when it runs into it."""
    inside = wood.contains(shape)
    yield "the panel's edge", float(wood.boundary.distance(shape)) if inside else 0.0
    for name, ground in others:
        yield name, float(ground.distance(shape))


def _ground(feature: Feature) -> BaseGeometry:
    outline = circle(feature.centre, feature.diameter_mm / 2) if isinstance(feature, Bore) else feature.outline
    return region_polygon(outline)


def _area_told(panel: Panel, vent: VentOrder, count: int, units: str) -> Finding:
    area = count * slot_area_mm2(vent.length_mm, vent.width_mm)
    slots = f"{count} {'slot' if count == 1 else 'slots'} of {show_length(vent.length_mm, units)} by "
    slots += show_length(vent.width_mm, units)
    needed = f", {show_area(vent.free_area_mm2, units)} needed" if vent.free_area_mm2 is not None else ""
    other = "in" if units == "mm" else "mm"
    leave = "leaves" if count == 1 else "leave"
    text = f"{panel.id}: {slots} {leave} {show_area(area, units)} ({show_area(area, other)}) free{needed}"
    return finding("vent-area", text, panel=panel.id)
