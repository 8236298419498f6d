"""Holes that matter to more than one panel: what a screw through a pilot hole meets, and what stands before a hole.
Cabinet frame, millimetres."""

from collections.abc import Iterator, Mapping

from rabbetry.findings import Finding, finding
from rabbetry.fit.assemble import Body, box_in_panel, in_panel, is_inside, is_wood
from rabbetry.fit.tally import Tally
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import distance_mm, region_polygon
from rabbetry.panels.model import Bore, Box, CutOut, Feature, Vec3
from rabbetry.tolerances import DEPTH_MM, FIT_MM

SCREW_REACH_MM = 25.0
"""How far a screw goes on beyond the panel it is driven through (common practice, no source)."""

_FREE_MOUTHS = ("shelf pin", "hinge plate", "slide", "box screw")
"""Purposes of holes that no panel joined on may cover."""


def check_pilots(bodies: Mapping[str, Body], tally: Tally) -> None:
    """Check that the screw through each pilot hole enters a panel that lies against its own, stays within that panel's
    thickness, and meets no recess, cut-out or other hole of it."""
    for body in bodies.values():
        pilots = [item for item in body.panel.features if isinstance(item, Bore) and item.purpose == "pilot"]
        against = [other for other in bodies.values() if pilots and other is not body and _touches(body, other)]
        for pilot in pilots:
            if pilot.through:
                _check_pilot(body, pilot, against, tally)


def _touches(a: Body, b: Body) -> bool:
    return all(min(a.high[k], b.high[k]) - max(a.low[k], b.low[k]) >= -FIT_MM for k in range(3))


def _check_pilot(body: Body, pilot: Bore, against: list[Body], tally: Tally) -> None:
    axis = _screw(body, pilot)
    entered = [(other, inside) for other in against if (inside := _inside(other, *axis)) is not None]
    message = f"the screw through {pilot.name} enters no panel"
    tally.check(bool(entered), _fault(body, pilot, message))
    radius = pilot.diameter_mm / 2
    for other, (low, high) in entered:
        is_within = low[2] - radius >= FIT_MM and high[2] + radius <= other.panel.thickness_mm - FIT_MM
        message = f"the screw through {pilot.name} breaks out of {other.panel.id}, {low[2]:.2f} mm below its face"
        tally.check(is_within, _fault(body, pilot, message))
        for feature in other.panel.features:
            message = f"the screw through {pilot.name} meets {feature.name} of {other.panel.id}"
            tally.check(not _meets(low, high, radius, feature), _fault(body, pilot, message))


def _screw(body: Body, pilot: Bore) -> tuple[Vec3, Vec3]:
    """Return both ends of the line that a screw may take, driven from either face."""
    x, y = pilot.centre.x, pilot.centre.y
    return (
        body.place.point(x, y, -SCREW_REACH_MM),
        body.place.point(x, y, body.panel.thickness_mm + SCREW_REACH_MM),
    )


def _inside(other: Body, start: Vec3, end: Vec3) -> tuple[Vec3, Vec3] | None:
    """Return what of the line lies within the panel's box, in the panel's frame, when it runs in along the panel."""
    a, b = in_panel(other.place, start), in_panel(other.place, end)
    if abs(a[2] - b[2]) > DEPTH_MM:
        return None
    low, high = box_in_panel(other.place, other.low, other.high)
    low = (max(low[0], min(a[0], b[0])), max(low[1], min(a[1], b[1])), a[2])
    high = (min(high[0], max(a[0], b[0])), min(high[1], max(a[1], b[1])), a[2])
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    is_in = 0 < a[2] < other.panel.thickness_mm and all(high[k] - low[k] >= -DEPTH_MM for k in range(2))
    is_long = max(high[k] - low[k] for k in range(2)) > FIT_MM
    return (low, high) if is_in and is_long and is_inside(other.outline, *middle) else None


def _meets(low: Vec3, high: Vec3, radius: float, feature: Feature) -> bool:
    """Tell whether a screw of `radius` along the line from `low` to `high`, panel frame, cuts into the feature."""
    if not isinstance(feature, CutOut) and feature.depth_mm <= low[2] - radius:
        return False
    start, end = Point(low[0], low[1]), Point(high[0], high[1])
    if isinstance(feature, Bore):
        near = Point(min(max(feature.centre.x, low[0]), high[0]), min(max(feature.centre.y, low[1]), high[1]))
        return near.distance(feature.centre) < radius + feature.diameter_mm / 2 - FIT_MM
    x0, y0, x1, y1 = feature.outline.bounds
    if low[0] - radius >= x1 or high[0] + radius <= x0 or low[1] - radius >= y1 or high[1] + radius <= y0:
        return False
    return distance_mm(region_polygon(feature.outline), start, end) < radius - FIT_MM


def check_mouths(box: Box, bodies: Mapping[str, Body], tally: Tally) -> None:
    """Check that no panel joined to another covers a hole of it that hardware must enter."""
    for body in bodies.values():
        holes = [item for item in body.panel.features if isinstance(item, Bore) and item.purpose in _FREE_MOUTHS]
        joined = list(_joined(body, box, bodies)) if holes else []
        for hole in holes:
            covers = [other.panel.id for other in joined if _covers(body, hole, other)]
            message = f"{hole.name} is covered by {', '.join(covers)}"
            tally.check(not covers, _fault(body, hole, message))


def _joined(body: Body, box: Box, bodies: Mapping[str, Body]) -> Iterator[Body]:
    own = body.panel.id
    names = {joint.entering if joint.receiver == own else joint.receiver for joint in box.joints if own in
             (joint.receiver, joint.entering)}  # fmt: skip
    return (bodies[name] for name in sorted(names) if name in bodies)


def _covers(body: Body, hole: Bore, other: Body) -> bool:
    """Tell whether wood of the other panel stands right before the hole, its middle or its rim."""
    reach = hole.diameter_mm / 2 - FIT_MM
    x, y = hole.centre.x, hole.centre.y
    places = ((x, y), (x - reach, y), (x + reach, y), (x, y - reach), (x, y + reach))
    return any(is_wood(other, body.place.point(*place, -FIT_MM)) for place in places)


def _fault(body: Body, bore: Bore, what: str) -> Finding:
    message = f"{body.panel.id}: {what}"
    return finding("fit-bore", message, panel=body.panel.id, x=bore.centre.x, y=bore.centre.y)
