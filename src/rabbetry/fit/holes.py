"""Each hole within its own panel; and where holes stand in the box. Millimetres."""

from collections.abc import Sequence
from itertools import combinations

from rabbetry.findings import Finding, finding
from rabbetry.fit.assemble import Body, Corners, centre_in_box, is_inside, ring_of
from rabbetry.fit.tally import Tally
from rabbetry.fit.two_faces import check_two_faces
from rabbetry.geometry.points import Point
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Recess, Vec3
from rabbetry.tolerances import DEPTH_MM, FIT_MM


def holes_at(body: Body, purpose: str, *, rear: bool = False) -> list[Vec3]:
    """Return where the panel's holes of that purpose stand in the box, sorted by height, then from front to back: those
    of its machined face, or of its rear face."""
    found = [
        centre_in_box(body.place, feature.centre)
        for feature in (body.panel.rear_features if rear else body.panel.features)
        if isinstance(feature, Bore) and feature.purpose == purpose
    ]
    return sorted(found, key=lambda point: (round(point[2], 3), round(point[1], 3)))


def same_places(found: Sequence[Vec3], wanted: Sequence[tuple[float, float]]) -> bool:
    """Tell whether holes stand at those (from front, height) places, both sorted by height."""
    wanted = sorted(wanted, key=lambda place: (round(place[1], 3), round(place[0], 3)))
    return len(found) == len(wanted) and all(
        abs(point[1] - y) <= FIT_MM and abs(point[2] - z) <= FIT_MM for point, (y, z) in zip(found, wanted, strict=True)
    )


def check_bores(body: Body, tally: Tally) -> None:
    """No hole may leave its panel, go through unasked, cut into another hole, or lie half in a recess."""
    check_two_faces(body, tally)
    _check_face(body, body.panel.features, tally)
    _check_face(body, body.panel.rear_features, tally)


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
            elif isinstance(recess, CutOut):
                tally.check(_apart(bore, ring_of(recess.outline)), _bore_fault(panel, bore, f"meets {recess.name}"))
    for a, b in combinations(bores, 2):
        is_apart = a.centre.distance(b.centre) >= (a.diameter_mm + b.diameter_mm) / 2
        tally.check(is_apart, _bore_fault(panel, a, f"cuts into {b.name}"))


def _stays_in(body: Body, bore: Bore) -> bool:
    """Tell whether the whole hole lies within the panel's outline, notches respected."""
    return _within(bore, body.outline, DEPTH_MM)


def _within(bore: Bore, corners: Corners, slack_mm: float = 0.0) -> bool:
    """Tell whether the whole hole lies within the ring."""
    is_in = is_inside(corners, bore.centre.x, bore.centre.y)
    return is_in and _rim_distance(bore.centre, corners) >= bore.diameter_mm / 2 - slack_mm


def _apart(bore: Bore, corners: Corners) -> bool:
    """Tell whether the whole hole lies outside the ring."""
    is_in = is_inside(corners, bore.centre.x, bore.centre.y)
    return not is_in and _rim_distance(bore.centre, corners) >= bore.diameter_mm / 2 - DEPTH_MM


def _rim_distance(centre: Point, corners: Corners) -> float:
    edges = zip(corners, (*corners[1:], corners[0]), strict=True)
    return min(distance_to_edge(centre, Point(*a), Point(*b)) for a, b in edges)


def distance_to_edge(point: Point, start: Point, end: Point) -> float:
    """Return the distance from the point to the straight edge."""
    along = end - start
    if along.length == 0.0:
        return point.distance(start)
    share = (point - start).dot(along) / along.dot(along)
    return point.distance(start + along * min(1.0, max(0.0, share)))


def _straddles(bore: Bore, recess: Recess) -> bool:
    """Tell whether a hole lies across a side of the recess; or in it at all, save a pilot hole or a plain part's."""
    x0, y0, x1, y1 = recess.outline.bounds
    x, y, radius = bore.centre.x, bore.centre.y, bore.diameter_mm / 2
    if x + radius <= x0 or x - radius >= x1 or y + radius <= y0 or y - radius >= y1:
        return False
    ring = ring_of(recess.outline)
    if _apart(bore, ring) or any(_within(bore, ring_of(island)) for island in recess.islands):
        return False
    is_clear = _within(bore, ring) and all(_apart(bore, ring_of(island)) for island in recess.islands)
    return not (is_clear and bore.purpose in ("pilot", "hole"))


def _bore_fault(panel: Panel, bore: Bore, what: str) -> Finding:
    return finding("fit-bore", f"{panel.id}: {bore.name} {what}", panel=panel.id, x=bore.centre.x, y=bore.centre.y)
