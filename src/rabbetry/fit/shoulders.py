"""What of a rabbeted panel enters a recess, and whether its shoulder seats on the face beside it."""

from itertools import pairwise

from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, box_in_panel, in_panel, is_inside, is_wood, ring_of, turned_over
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Joint, Recess, Vec3
from rabbetry.tolerances import FIT_MM


def section(receiver: Body, entering: Body, recess: Recess) -> tuple[float, float]:
    """Return where the wood that enters the recess lies along its width, receiver's panel frame; nothing, in the middle
    of the panel, when no wood enters."""
    x, y = _inside(receiver, entering, recess)
    depths = sorted(
        {0.0, entering.panel.thickness_mm, *(depth for cut in entering.cuts for depth in (cut.start, cut.end))}
    )
    wood = [
        depth
        for low, high in pairwise(depths)
        if is_wood(entering, entering.place.point(x, y, (low + high) / 2))
        for depth in (low, high)
    ]
    ends = (min(wood), max(wood)) if wood else (entering.panel.thickness_mm / 2,) * 2
    axis = _across(receiver, entering)
    places = [in_panel(receiver.place, entering.place.point(x, y, depth))[axis] for depth in ends]
    return min(places), max(places)


def check_shoulder(joint: Joint, receiver: Body, entering: Body, recess: Recess, tally: Tally) -> None:
    """Check that the entering panel is rabbeted there, and that the rabbet ends at the receiver's face."""
    cuts = [
        (body, item)
        for body in (entering, turned_over(entering))
        for item in body.panel.features
        if isinstance(item, Recess) and is_inside(ring_of(item.outline), *_inside(receiver, body, recess))
    ]
    message = f"{joint.entering} has no shoulder against {joint.receiver}"
    tally.check(bool(cuts), finding("fit-seat", message, panel=joint.entering))
    for body, cut in cuts:
        x0, y0, x1, y1 = cut.outline.bounds
        a, b = body.place.point(x0, y0, 0.0), body.place.point(x1, y1, cut.depth_mm)
        off = -box_in_panel(receiver.place, a, b)[0][2]
        message = f"{joint.entering}: the shoulder of {cut.name} stands {off:.3f} mm off {joint.receiver}'s face"
        tally.check(abs(off) <= FIT_MM, finding("fit-seat", message, panel=joint.entering))


def _inside(receiver: Body, entering: Body, recess: Recess) -> tuple[float, float]:
    """Return a place of the entering panel, its own frame, in the middle of what lies within the recess."""
    low, high = box_in_panel(receiver.place, entering.low, entering.high)
    bounds = recess.outline.bounds
    middle: Vec3 = (
        (max(low[0], bounds[0]) + min(high[0], bounds[2])) / 2,
        (max(low[1], bounds[1]) + min(high[1], bounds[3])) / 2,
        min(high[2], recess.depth_mm) / 2,
    )
    x, y, _ = in_panel(entering.place, receiver.place.point(*middle))
    return x, y


def _across(receiver: Body, entering: Body) -> int:
    """Return which of the receiver's panel axes the entering panel's thickness lies along."""
    normal, axis = entering.place.normal, receiver.place.x_axis
    return 0 if abs(sum(a * b for a, b in zip(normal, axis, strict=True))) > 1 / 2 else 1
