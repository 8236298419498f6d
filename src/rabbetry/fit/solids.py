"""No two panels may fill the same space, and no recess may wait in vain for what should enter it."""

from collections.abc import Mapping
from itertools import combinations

from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, is_wood, shared_space, turned_over
from rabbetry.fit.slabs import Slab, shared_by_slabs, slabs_of
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Box, Recess, Vec3
from rabbetry.tolerances import FIT_MM

_SEATS = ("dado", "rabbet", "groove")
"""Kinds of recess that something enters; a pocket may stay empty."""


def check_interference(bodies: Mapping[str, Body], tally: Tally) -> None:
    """Check every pair of placed panels for space both would fill."""
    slabs: dict[str, tuple[Slab, ...]] = {}
    for a, b in combinations(bodies.values(), 2):
        shared = _shared(a, b, slabs)
        if shared is None:
            tally.checks += 1
            continue
        low, high = shared
        sizes = " x ".join(f"{top - bottom:.2f}" for bottom, top in zip(low, high, strict=True))
        at = ", ".join(f"{value:.2f}" for value in low)
        message = f"{a.panel.id} and {b.panel.id} would both fill {sizes} mm at ({at}) of the box"
        tally.check(False, finding("fit-interference", message, panel=b.panel.id))


def _shared(a: Body, b: Body, slabs: dict[str, tuple[Slab, ...]]) -> tuple[Vec3, Vec3] | None:
    """Return what both fill: exactly where all faces are square, else from slabs, made once a panel."""
    if any(min(a.high[k], b.high[k]) - max(a.low[k], b.low[k]) <= FIT_MM for k in range(3)):
        return None
    if a.is_square and b.is_square:
        return shared_space(a, b)
    for body in (a, b):
        if body.panel.id not in slabs:
            slabs[body.panel.id] = slabs_of(body)
    return shared_by_slabs(slabs[a.panel.id], slabs[b.panel.id])


def check_recesses_used(box: Box, bodies: Mapping[str, Body], tally: Tally) -> None:
    """Check that each dado, rabbet and groove is a joint's, or at least filled by another panel."""
    named = {(joint.receiver, joint.feature) for joint in box.joints}
    for body in (face for each in bodies.values() for face in _faces(each)):
        for feature in body.panel.features:
            if not isinstance(feature, Recess) or feature.kind not in _SEATS:
                continue
            is_used = (body.panel.id, feature.name) in named or _is_filled(body, feature, bodies)
            message = f"{body.panel.id} has a {feature.name} that nothing enters"
            tally.check(is_used, finding("fit-joint", message, panel=body.panel.id))


def _faces(body: Body) -> tuple[Body, ...]:
    return (body, turned_over(body)) if body.panel.rear_features else (body,)


def _is_filled(body: Body, recess: Recess, bodies: Mapping[str, Body]) -> bool:
    """Tell whether wood of another panel stands in the middle of the recess, as beside a tongue it does."""
    x0, y0, x1, y1 = recess.outline.bounds
    middle = body.place.point((x0 + x1) / 2, (y0 + y1) / 2, recess.depth_mm / 2)
    return any(is_wood(other, middle) for other in bodies.values() if other.panel.id != body.panel.id)
