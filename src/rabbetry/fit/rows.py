"""Rows of holes: level with those of the panel they face, and on their pitch. Cabinet frame, millimetres."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, centre_in_box
from rabbetry.fit.holes import holes_at
from rabbetry.fit.model import Wanted
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Bore, Box, Vec3
from rabbetry.tolerances import FIT_MM

_ROWS = {"shelf pin": "fit-pins", "slide": "fit-slide"}
"""Purposes whose holes must stand opposite each other, and the code when they do not."""


@dataclass(frozen=True, slots=True)
class _Row:
    """The holes of one purpose in one face of a panel, and which way that face looks."""

    body: Body
    axis: int
    sign: float
    face: float
    """Where the face is along the axis."""
    holes: list[Vec3]


def check_facing_rows(bodies: Mapping[str, Body], tally: Tally) -> None:
    """Check that each hole of a row has its opposite in the nearest panel that faces it with holes of that purpose."""
    for purpose, code in _ROWS.items():
        rows = [row for body in bodies.values() for row in _rows(body, purpose) if row.holes]
        for row in rows:
            facing = [other for other in rows if _faces(row, other)]
            if not facing:
                continue
            other = min(facing, key=lambda each: abs(each.face - row.face))
            lacking = [
                hole for hole in row.holes if not any(_is_opposite(hole, each, row.axis) for each in other.holes)
            ]
            places = ", ".join(f"{hole[2]:.2f}" for hole in lacking[:4])
            message = f"{row.body.panel.id}: {purpose} holes at {places} mm from the floor have no opposite in "
            message += f"{other.body.panel.id}"
            tally.check(not lacking, finding(code, message, panel=row.body.panel.id))


def _rows(body: Body, purpose: str) -> Iterator[_Row]:
    """A hole right through serves both faces."""
    axis = _axis(body)
    sign = body.place.normal[axis]
    machined = holes_at(body, purpose)
    through = [
        centre_in_box(body.place, item.centre)
        for item in body.panel.features
        if isinstance(item, Bore) and item.purpose == purpose and item.through
    ]
    face = body.place.origin[axis]
    yield _Row(body, axis, sign, face, machined)
    yield _Row(body, axis, -sign, face - sign * body.panel.thickness_mm, holes_at(body, purpose, rear=True) + through)


def _axis(body: Body) -> int:
    return next(k for k in range(3) if abs(body.place.normal[k]) > _HALF)


_HALF = 0.5
"""Axes are parallel or square to each other: their product is 1 or 0."""


def _faces(row: _Row, other: _Row) -> bool:
    """Tell whether the two faces look at each other, at least in part."""
    if other.axis != row.axis or row.sign * other.sign > 0 or (other.face - row.face) * row.sign <= 0:
        return False
    a, b = row.body, other.body
    return all(min(a.high[k], b.high[k]) - max(a.low[k], b.low[k]) > FIT_MM for k in range(3) if k != row.axis)


def _is_opposite(a: Vec3, b: Vec3, axis: int) -> bool:
    return all(abs(a[k] - b[k]) <= FIT_MM for k in range(3) if k != axis)


def check_pitch(wanted: Wanted, box: Box, bodies: Mapping[str, Body], tally: Tally) -> None:
    """Check that shelf-pin holes one above the other are whole pitches apart, save across a panel that is joined in
    between."""
    if not wanted.pin_pitch_mm:
        return
    joined = {name for joint in box.joints for name in (joint.receiver, joint.entering)}
    fixed = [body for name, body in bodies.items() if name in joined]
    for body in bodies.values():
        holes = sorted(holes_at(body, "shelf pin"), key=lambda hole: (round(hole[0], 3), round(hole[1], 3), hole[2]))
        for low, high in pairwise(holes):
            if not _is_opposite(low, high, 2) or any(_is_between(other, low, high) for other in fixed):
                continue
            steps = (high[2] - low[2]) / wanted.pin_pitch_mm
            message = f"{body.panel.id}: shelf pins at {low[2]:.2f} and {high[2]:.2f} mm are {high[2] - low[2]:.2f} mm "
            message += f"apart, not a whole number of the {wanted.pin_pitch_mm:g} mm pitch"
            is_whole = steps > _HALF and abs(steps - round(steps)) * wanted.pin_pitch_mm <= FIT_MM
            tally.check(is_whole, finding("fit-pins", message, panel=body.panel.id))


def _is_between(body: Body, low: Vec3, high: Vec3) -> bool:
    """Tell whether a lying panel parts the two holes."""
    return _axis(body) == 2 and body.low[2] >= low[2] and body.high[2] <= high[2]
