"""An order in which a box can be put together, found by taking it apart. Cabinet frame, millimetres.

A panel may be taken off when it can go straight along an axis, right out, without running into what is still there. A
panel in a dado or groove leaves it the way it was seated, square out of the receiver's face: sliding it out along its
own slot would be geometry, not joinery. Panels that nothing enters go first, later ones of the box's list before
earlier ones, and what was taken off last is where the assembly begins. Panels that no joint ties to the carcass, such
as drawer boxes, doors and loose shelves, are put together by themselves and go in as wholes.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from rabbetry.fit.assemble import Body, bounds
from rabbetry.fit.model import Assembly, Step
from rabbetry.fit.shape import shape_of
from rabbetry.fit.slabs import Slab, shared_by_slabs, slabs_of
from rabbetry.geometry.slices import swept
from rabbetry.panels.model import Box, Joint, Vec3
from rabbetry.tolerances import FIT_MM

_AWAY_MM = 10_000.0
"""Farther than any box is long: what has moved by this is out."""
_SPREAD = 0.6
"""The exploded view moves each panel this share of its distance from the middle."""
_GAP = 0.12
"""What still overlaps then is drawn apart by this share of the box's longest side."""
_OUT = 0.8
"""A drawer box, shelf or door is drawn before the carcass by this share of the depth of all."""
_SLOTS = ("dado", "groove", "tongue")
_AXES = tuple(
    (sign if k == 0 else 0.0, sign if k == 1 else 0.0, sign if k == 2 else 0.0)
    for k in (1, 2, 0)
    for sign in (1.0, -1.0)
)


@dataclass
class _Ways:
    """Which panel stands in which one's way, found when asked for and then kept."""

    bodies: Mapping[str, Body]
    slabs: dict[str, tuple[Slab, ...]] = field(default_factory=dict)
    known: dict[tuple[str, str, Vec3], bool] = field(default_factory=dict)

    def is_blocked(self, mover: str, other: str, way: Vec3) -> bool:
        key = (mover, other, way)
        if key not in self.known:
            self.known[key] = self._runs_into(mover, other, way)
        return self.known[key]

    def _runs_into(self, mover: str, other: str, way: Vec3) -> bool:
        a, b = self.bodies[mover], self.bodies[other]
        if not _boxes_meet(a, b, way):
            return False
        moved = tuple(_swept(slab, way) for slab in self._slabs(mover))
        return shared_by_slabs(moved, self._slabs(other)) is not None

    def _slabs(self, panel: str) -> tuple[Slab, ...]:
        if panel not in self.slabs:
            self.slabs[panel] = slabs_of(self.bodies[panel])
        return self.slabs[panel]


def _boxes_meet(a: Body, b: Body, way: Vec3) -> bool:
    """Tell whether the upright box about a, going straight out, runs into the one about b."""
    reach = _times(way, _AWAY_MM)
    return all(
        min(a.high[k] + max(0.0, reach[k]), b.high[k]) - max(a.low[k] + min(0.0, reach[k]), b.low[k]) > FIT_MM
        for k in range(3)
    )


def _swept(slab: Slab, way: Vec3) -> Slab:
    axis = next(k for k in range(3) if way[k])
    reach = way[axis] * _AWAY_MM
    if axis == slab.axis:
        low, high = slab.span
        return Slab(slab.axis, slab.plane, (min(low, low + reach), max(high, high + reach)), slab.region)
    return Slab(slab.axis, slab.plane, slab.span, swept(slab.region, slab.plane.index(axis), reach))


def assembly_of(box: Box, bodies: Mapping[str, Body]) -> Assembly:
    """Return the box's solids, steps and exploded places. Every placed panel has one step."""
    if not bodies:
        return Assembly(cabinet=box.cabinet, solids=(), steps=(), apart={})
    ways = _Ways(bodies)
    order = _order_of_wholes(_wholes(box, bodies), ways)
    steps: list[Step] = []
    for whole, way in order:
        own = _steps_of(whole, box.joints, ways)
        if whole is not order[0][0]:
            going_in = Step(panel="" if len(whole) > 1 else whole[0], group=whole[1:] and whole, from_side=way)
            own = [*(own if len(whole) > 1 else []), replace(going_in, is_stuck=way is None)]
        steps.extend(own)
    solids = tuple(shape_of(bodies[step.panel]) for step in steps if step.panel)
    return Assembly(cabinet=box.cabinet, solids=solids, steps=tuple(steps), apart=_apart(order, steps, bodies))


def _order_of_wholes(
    wholes: tuple[tuple[str, ...], ...], ways: _Ways
) -> tuple[tuple[tuple[str, ...], Vec3 | None], ...]:
    """Return the wholes, the carcass first, each with the side from which it comes: that is None for the carcass, and
    for a whole that cannot go in straight along an axis without meeting what is there."""
    left, taken = list(wholes), []
    while len(left) > 1:
        found = ((whole, _way_out(whole, left, ways)) for whole in reversed(left[1:]))
        whole, way = next(((whole, way) for whole, way in found if way), (left[-1], None))
        left.remove(whole)
        taken.append((whole, way))
    return (*((whole, None) for whole in left), *reversed(taken))


def _way_out(whole: tuple[str, ...], left: Sequence[tuple[str, ...]], ways: _Ways) -> Vec3 | None:
    rest = [name for other in left if other is not whole for name in other]
    front_first = sorted(_AXES, key=lambda way: way != (0.0, -1.0, 0.0))
    free = (way for way in front_first if not any(ways.is_blocked(a, b, way) for a in whole for b in rest))
    return next(free, None)


def _wholes(box: Box, bodies: Mapping[str, Body]) -> tuple[tuple[str, ...], ...]:
    """Return the panels that joints tie together, the largest such whole first, each in the order of the box's list."""
    tied = {name: {name} for name in bodies}
    for joint in box.joints:
        if joint.receiver in bodies and joint.entering in bodies:
            both = tied[joint.receiver] | tied[joint.entering]
            for name in both:
                tied[name] = both
    found = dict.fromkeys(tuple(name for name in bodies if name in tied[first]) for first in bodies)
    return tuple(sorted(found, key=lambda whole: -len(whole)))


def _steps_of(whole: tuple[str, ...], joints: Sequence[Joint], ways: _Ways) -> list[Step]:
    left = list(whole)
    taken: list[Step] = []
    while len(left) > 1:
        name, way, is_stuck = _next_off(left, joints, ways)
        left.remove(name)
        taken.append(Step(panel=name, from_side=way, is_stuck=is_stuck, joins=tuple(_joins(name, set(left), joints))))
    return [Step(panel=left[0]), *reversed(taken)]


def _next_off(left: Sequence[str], joints: Sequence[Joint], ways: _Ways) -> tuple[str, Vec3 | None, bool]:
    entered = {joint.receiver for joint in joints if joint.entering in left}
    for name in sorted(left, key=lambda each: (each in entered, -left.index(each))):
        others = [other for other in left if other != name]
        for way in _ways_out(name, set(others), joints, ways.bodies):
            if not any(ways.is_blocked(name, other, way) for other in others):
                return name, way, False
    return left[-1], None, True


def _ways_out(name: str, others: set[str], joints: Sequence[Joint], bodies: Mapping[str, Body]) -> tuple[Vec3, ...]:
    """Return the directions its slots let a panel go, those square to its own face first."""
    allowed = set(_AXES)
    for joint in joints:
        if joint.kind not in _SLOTS:
            continue
        if joint.entering == name and joint.receiver in others:
            allowed &= {_facing(bodies[joint.receiver], joint)}
        elif joint.receiver == name and joint.entering in others:
            x, y, z = _facing(bodies[name], joint)
            allowed &= {(0.0 - x, 0.0 - y, 0.0 - z)}
    normal = bodies[name].place.normal
    return tuple(sorted((way for way in _AXES if way in allowed), key=lambda way: not any(map(_product, way, normal))))


def _product(a: float, b: float) -> bool:
    return abs(a * b) > 0.5


def _facing(receiver: Body, joint: Joint) -> Vec3:
    """Return the outward direction of the receiver's face that the recess opens in."""
    is_rear = any(item.name == joint.feature for item in receiver.panel.rear_features)
    sign = -1.0 if is_rear else 1.0
    x, y, z = receiver.place.normal
    return (round(sign * x) + 0.0, round(sign * y) + 0.0, round(sign * z) + 0.0)


def _joins(name: str, others: set[str], joints: Sequence[Joint]) -> list[tuple[str, str, str]]:
    return [
        (joint.receiver, joint.feature, joint.entering)
        for joint in joints
        if (joint.receiver == name and joint.entering in others)
        or (joint.entering == name and joint.receiver in others)
    ]


def _apart(
    order: Sequence[tuple[tuple[str, ...], Vec3 | None]], steps: Sequence[Step], bodies: Mapping[str, Body]
) -> dict[str, Vec3]:
    """Return how far each panel moves: away from the middle of its whole, each whole away from the middle of the box
    and out the way it came, and then out of what it would still overlap."""
    outer = bounds([corner for body in bodies.values() for corner in (body.low, body.high)])
    gap = _GAP * max(b - a for a, b in zip(*outer, strict=True))
    ways = {step.panel: step.from_side for step in steps if step.panel}
    apart: dict[str, Vec3] = {}
    for whole, way in order:
        own = bounds([corner for name in whole for corner in (bodies[name].low, bodies[name].high)])
        placed: list[str] = []
        before = list(apart)
        for name in (each for each in ways if each in whole):
            inside = _from_middle((bodies[name].low, bodies[name].high), own)
            apart[name] = _sum(_from_middle(own, outer), inside)
            _clear([name], ways[name] if len(whole) > 1 else None, placed, bodies, apart, gap)
            placed.append(name)
        if way is not None:
            out = _OUT * (outer[1][1] - outer[0][1]) if way[1] else gap
            apart |= {name: _sum(apart[name], _times(way, out)) for name in placed}
        _clear(placed, way, before, bodies, apart, gap, margin=1.5 * gap)
    return apart


def _clear(
    movers: Sequence[str],
    way: Vec3 | None,
    placed: Sequence[str],
    bodies: Mapping[str, Body],
    apart: dict[str, Vec3],
    gap: float,
    margin: float = 0.0,
) -> None:
    """Move some panels together along `way`, a gap at a time, until they are clear of those placed, by `margin` along
    that way."""
    while way is not None and any(_still_meet(a, b, bodies, apart, way, margin) for a in movers for b in placed):
        for name in movers:
            apart[name] = _sum(apart[name], _times(way, gap))


def _still_meet(
    a: str, b: str, bodies: Mapping[str, Body], apart: Mapping[str, Vec3], way: Vec3, margin: float
) -> bool:
    return all(
        min(bodies[a].high[k] + apart[a][k], bodies[b].high[k] + apart[b][k]) + margin * abs(way[k])
        > max(bodies[a].low[k] + apart[a][k], bodies[b].low[k] + apart[b][k])
        for k in range(3)
    )


def _from_middle(inner: tuple[Vec3, Vec3], outer: tuple[Vec3, Vec3]) -> Vec3:
    parts = [_SPREAD * (inner[0][k] + inner[1][k] - outer[0][k] - outer[1][k]) / 2 for k in range(3)]
    return (parts[0], parts[1], parts[2])


def _sum(a: Vec3, b: Vec3) -> Vec3:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def _times(a: Vec3, by: float) -> Vec3:
    return (a[0] * by, a[1] * by, a[2] * by)
