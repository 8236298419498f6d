"""Each joint by itself: is the recess as wide as what enters it plus the clearance, and does that reach its floor?"""

from dataclasses import dataclass

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, box_in_panel
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Box, Joint, Recess
from rabbetry.tolerances import DEPTH_MM, FIT_MM


@dataclass(frozen=True, slots=True)
class JointRule:
    """Shares of the fit clearance that a kind of joint leaves: beside the entering panel on its closed sides together,
    and before the recess's floor."""

    beside: float
    below: float


RULES = {
    "dado": JointRule(beside=1.0, below=0.0),
    "rabbet": JointRule(beside=0.5, below=0.0),
    "back rabbet": JointRule(beside=1.0, below=0.5),
    "groove": JointRule(beside=1.0, below=0.5),
    "butt": JointRule(beside=0.0, below=0.0),
}
"""Seats reach the floor and hold the outside size; a back and a drawer bottom float by half the clearance each end."""


def check_joints(cabinet: Cabinet, box: Box, bodies: dict[str, Body], tally: Tally) -> None:
    """Check every joint of the box."""
    for joint in box.joints:
        receiver, entering = bodies.get(joint.receiver), bodies.get(joint.entering)
        missing = joint.receiver if receiver is None else joint.entering
        fault = finding("fit-joint", f"{joint.receiver}: {missing} is not in the box", panel=joint.receiver)
        tally.check(receiver is not None and entering is not None, fault)
        if receiver is not None and entering is not None:
            _check_joint(cabinet, joint, receiver, entering, tally)


def _check_joint(cabinet: Cabinet, joint: Joint, receiver: Body, entering: Body, tally: Tally) -> None:
    clearance, rule = cabinet.construction.fit_clearance_mm, RULES[joint.kind]
    reach = box_in_panel(receiver.place, entering.low, entering.high)[1][2]
    recess = _recess(receiver, joint.feature)
    floor = recess.depth_mm if recess is not None else 0.0
    short = floor - reach
    wanted = rule.below * clearance
    message = (
        f"{joint.entering} ends {short:.3f} mm before the floor of {joint.receiver}'s {joint.feature or 'face'} "
        f"({floor:.3f} mm deep); {wanted:.3f} mm is right"
    )
    tally.check(abs(short - wanted) <= FIT_MM, finding("fit-seat", message, panel=joint.receiver))
    if joint.kind == "butt":
        return
    if recess is None:
        message = f"{joint.receiver} has no {joint.feature} for {joint.entering}"
        tally.check(False, finding("fit-joint", message, panel=joint.receiver))
        return
    _check_width(cabinet, joint, receiver, entering, recess, tally)


def _check_width(cabinet: Cabinet, joint: Joint, receiver: Body, entering: Body, recess: Recess, tally: Tally) -> None:
    """Compare the room beside the entering panel's thickness on each side of the recess: with the clearance where wood
    stands, with none where the recess is open at the receiver's edge, since the entering panel is flush there."""
    axis = _thickness_axis(receiver, entering)
    low, high = box_in_panel(receiver.place, entering.low, entering.high)
    closed, opened = _gaps(receiver, recess, low[axis], high[axis], axis)
    gap, wanted = sum(closed), RULES[joint.kind].beside * cabinet.construction.fit_clearance_mm
    is_right = abs(gap - wanted) <= FIT_MM and all(side >= -FIT_MM for side in closed)
    message = (
        f"{joint.receiver}: {joint.feature} leaves {gap:.3f} mm beside {joint.entering} "
        f"({entering.panel.thickness_mm:.3f} mm thick) where {wanted:.3f} mm is right; "
        f"its sides are {', '.join(f'{side:.3f}' for side in closed)} mm away"
    )
    tally.check(is_right, finding("fit-joint", message, panel=joint.receiver))
    flush = cabinet.stocks.back.thickness_mm if _is_before_back(cabinet, entering) else 0.0
    for side in opened:
        message = f"{joint.entering} ends {side:.3f} mm from the edge of {joint.receiver}; {flush:.3f} mm is right"
        tally.check(abs(side - flush) <= FIT_MM, finding("fit-joint", message, panel=joint.receiver))


def _is_before_back(cabinet: Cabinet, entering: Body) -> bool:
    """Tell whether the back covers the panel: a rear rail on edge is flush with the back's face, not with the side."""
    return cabinet.has_back and entering.panel.role == "rear rail"


def _recess(receiver: Body, name: str) -> Recess | None:
    for feature in receiver.panel.features:
        if isinstance(feature, Recess) and feature.name == name:
            return feature
    return None


def _thickness_axis(receiver: Body, entering: Body) -> int:
    """Return which of the receiver's panel axes (0 x, 1 y) the entering panel's thickness lies along."""
    normal, axis = entering.place.normal, receiver.place.x_axis
    return 0 if abs(sum(a * b for a, b in zip(normal, axis, strict=True))) > _HALF else 1


_HALF = 0.5
"""Axes are parallel or square to each other: their product is 1 or 0."""


def _gaps(receiver: Body, recess: Recess, low: float, high: float, axis: int) -> tuple[list[float], list[float]]:
    """Return the gaps between the entering panel and the recess's two sides along `axis`: those with wood beyond, and
    those on the panel's edge."""
    bounds = recess.outline.bounds
    end = receiver.panel.length_mm if axis == 0 else receiver.panel.width_mm
    closed: list[float] = []
    opened: list[float] = []
    (closed if bounds[axis] > DEPTH_MM else opened).append(low - bounds[axis])
    (closed if bounds[axis + 2] < end - DEPTH_MM else opened).append(bounds[axis + 2] - high)
    return closed, opened
