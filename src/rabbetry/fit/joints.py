"""Each joint by itself: is the recess as wide as what enters it plus the clearance, and does that reach its floor?"""

from dataclasses import dataclass

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, box_in_panel
from rabbetry.fit.model import Tally
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
    low, high = box_in_panel(receiver.place, entering.low, entering.high)
    recess = _recess(receiver, joint.feature)
    floor = recess.depth_mm if recess is not None else 0.0
    short = floor - high[2]
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
    axis = _thickness_axis(receiver, entering)
    gaps = _closed_gaps(receiver, recess, axis, low[axis], high[axis])
    gap, wanted = sum(gaps), rule.beside * clearance
    is_right = abs(gap - wanted) <= FIT_MM and all(side >= -FIT_MM for side in gaps)
    message = (
        f"{joint.receiver}: {joint.feature} leaves {gap:.3f} mm beside {joint.entering} "
        f"({entering.panel.thickness_mm:.3f} mm thick) where {wanted:.3f} mm is right; "
        f"its sides are {', '.join(f'{side:.3f}' for side in gaps)} mm away"
    )
    tally.check(is_right, finding("fit-joint", message, panel=joint.receiver))


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


def _closed_gaps(receiver: Body, recess: Recess, axis: int, low: float, high: float) -> list[float]:
    """Return the gap at each side of the recess that has wood beyond it. A side on the panel's edge is open."""
    bounds = recess.outline.bounds
    recess_low, recess_high = bounds[axis], bounds[axis + 2]
    end = receiver.panel.length_mm if axis == 0 else receiver.panel.width_mm
    gaps = []
    if recess_low > DEPTH_MM:
        gaps.append(low - recess_low)
    if recess_high < end - DEPTH_MM:
        gaps.append(recess_high - high)
    return gaps
