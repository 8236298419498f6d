"""Each joint by itself: is the recess as wide as what enters it plus the clearance, and does that reach its floor?"""

from dataclasses import dataclass

from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, box_in_panel, turned_over
from rabbetry.fit.ends import check_ends
from rabbetry.fit.model import Wanted
from rabbetry.fit.shoulders import check_shoulder, section
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Box, Joint, Recess
from rabbetry.tolerances import DEPTH_MM, FIT_MM


@dataclass(frozen=True, slots=True)
class JointRule:
    """Shares of the fit clearance that a kind of joint leaves: beside what enters on each side where wood stands, and
    before the recess's floor. A shouldered joint seats on its shoulder, with the depth clearance before the floor."""

    beside: float
    below: float
    shouldered: bool = False


RULES = {
    "dado": JointRule(beside=0.5, below=0.0),
    "rabbet": JointRule(beside=0.5, below=0.0),
    "tongue": JointRule(beside=0.5, below=0.0, shouldered=True),
    "back rabbet": JointRule(beside=1.0, below=0.5),
    "groove": JointRule(beside=0.5, below=0.5),
    "butt": JointRule(beside=0.0, below=0.0),
}
"""Seats reach the floor and hold the outside size; a back and a drawer bottom float by half the clearance each end."""


def check_joints(wanted: Wanted, box: Box, bodies: dict[str, Body], tally: Tally) -> None:
    """Check every joint of the box."""
    for joint in box.joints:
        receiver, entering = bodies.get(joint.receiver), bodies.get(joint.entering)
        missing = joint.receiver if receiver is None else joint.entering
        fault = finding("fit-joint", f"{joint.receiver}: {missing} is not in the box", panel=joint.receiver)
        tally.check(receiver is not None and entering is not None, fault)
        if receiver is not None and entering is not None:
            _check_joint(wanted, joint, bodies, tally)


def _check_joint(wanted: Wanted, joint: Joint, bodies: dict[str, Body], tally: Tally) -> None:
    entering, rule = bodies[joint.entering], RULES[joint.kind]
    receiver = _seen_on(joint.feature, bodies[joint.receiver], entering)
    reach = box_in_panel(receiver.place, entering.low, entering.high)[1][2]
    recess = _recess(receiver, joint.feature)
    floor = recess.depth_mm if recess is not None else 0.0
    short = floor - reach
    before = rule.below * wanted.clearance_mm + (wanted.depth_clearance_mm if rule.shouldered else 0.0)
    message = (
        f"{joint.entering} ends {short:.3f} mm before the floor of {joint.receiver}'s {joint.feature or 'face'} "
        f"({floor:.3f} mm deep); {before:.3f} mm is right"
    )
    tally.check(abs(short - before) <= FIT_MM, finding("fit-seat", message, panel=joint.receiver))
    if joint.kind == "butt":
        return
    if recess is None:
        message = f"{joint.receiver} has no {joint.feature} for {joint.entering}"
        tally.check(False, finding("fit-joint", message, panel=joint.receiver))
        return
    _check_recess_stays_in(receiver, recess, tally)
    check_ends(wanted, joint, receiver, entering, recess, bodies.values(), tally)
    axis = _thickness_axis(receiver, entering)
    low, high = box_in_panel(receiver.place, entering.low, entering.high)
    thin, thick = low[axis], high[axis]
    if rule.shouldered:
        check_shoulder(joint, receiver, entering, recess, tally)
        thin, thick = section(receiver, entering, recess)
    closed, opened = _gaps(receiver, recess, thin, thick, axis, wanted.band_mm)
    _check_closed(joint, thick - thin, closed, rule.beside * wanted.clearance_mm * len(closed), tally)
    _check_open(joint, receiver, bodies, opened, axis, wanted.behind_mm.get(joint.receiver, 0.0), tally)


def _seen_on(name: str, receiver: Body, entering: Body) -> Body:
    """Return the receiver with the face up that has the recess of that name, or that the entering panel stands on."""
    is_rear = any(isinstance(item, Recess) and item.name == name for item in receiver.panel.rear_features)
    if not name:
        is_rear = (
            box_in_panel(receiver.place, entering.low, entering.high)[0][2] >= receiver.panel.thickness_mm - FIT_MM
        )
    return turned_over(receiver) if is_rear else receiver


def _check_recess_stays_in(receiver: Body, recess: Recess, tally: Tally) -> None:
    x0, y0, x1, y1 = recess.outline.bounds
    over = max(-x0, -y0, x1 - receiver.panel.length_mm, y1 - receiver.panel.width_mm)
    message = f"{receiver.panel.id}: {recess.name} reaches {over:.3f} mm beyond the panel"
    tally.check(over <= FIT_MM, finding("fit-joint", message, panel=receiver.panel.id))


def _check_closed(joint: Joint, thickness: float, closed: list[float], wanted: float, tally: Tally) -> None:
    """Compare the room beside the thickness that enters, where wood stands, with the clearance."""
    gap = sum(closed)
    is_right = abs(gap - wanted) <= FIT_MM and all(side >= -FIT_MM for side in closed)
    message = (
        f"{joint.receiver}: {joint.feature} leaves {gap:.3f} mm beside {joint.entering} "
        f"({thickness:.3f} mm thick) where {wanted:.3f} mm is right; "
        f"its sides are {', '.join(f'{side:.3f}' for side in closed)} mm away"
    )
    tally.check(is_right, finding("fit-joint", message, panel=joint.receiver))


def _check_open(
    joint: Joint,
    receiver: Body,
    bodies: dict[str, Body],
    opened: list[tuple[float, bool]],
    axis: int,
    behind: float,
    tally: Tally,
) -> None:
    """Where the recess is open at the receiver's edge the entering panel is flush with it, or with another panel that
    covers it there: a rear rail on edge ends at the back, and the back at the side's edge or `behind` before it."""
    entering = bodies[joint.entering]
    for side, is_rear in opened:
        set_in = behind if is_rear else 0.0
        flush = (
            set_in if abs(side - set_in) <= FIT_MM else set_in + _cover(receiver, entering, side - set_in, axis, bodies)
        )
        message = f"{joint.entering} ends {side:.3f} mm from the edge of {joint.receiver}; {flush:.3f} mm is right"
        tally.check(abs(side - flush) <= FIT_MM, finding("fit-joint", message, panel=joint.receiver))


def _cover(receiver: Body, entering: Body, side: float, axis: int, bodies: dict[str, Body]) -> float:
    """Return the thickness of a panel against the entering one, on its far side along `axis`; 0 when there is none
    that fills the room."""
    low, high = box_in_panel(receiver.place, entering.low, entering.high)
    for other in bodies.values():
        if other is receiver or other is entering:
            continue
        start, end = box_in_panel(receiver.place, other.low, other.high)
        touches = abs(start[axis] - high[axis]) <= FIT_MM or abs(end[axis] - low[axis]) <= FIT_MM
        across = all(min(high[k], end[k]) - max(low[k], start[k]) > FIT_MM for k in range(3) if k != axis)
        if touches and across and abs(end[axis] - start[axis] - side) <= FIT_MM:
            return end[axis] - start[axis]
    return 0.0


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


def _gaps(
    receiver: Body, recess: Recess, low: float, high: float, axis: int, band: float
) -> tuple[list[float], list[tuple[float, bool]]]:
    """Return the gaps between the entering panel and the recess's two sides along `axis`: those with wood beyond, and
    those on the panel's edge, with the band on it, each with whether that is the rear edge."""
    below, above = (band if f"{'xy'[axis]}{end}" in receiver.panel.banded_edges else 0.0 for end in "01")
    bounds = recess.outline.bounds
    end = receiver.panel.length_mm if axis == 0 else receiver.panel.width_mm
    closed: list[float] = []
    opened: list[tuple[float, bool]] = []
    to_rear = (receiver.place.x_axis, receiver.place.y_axis)[axis][1]
    if bounds[axis] > DEPTH_MM:
        closed.append(low - bounds[axis])
    else:
        opened.append((low - bounds[axis] + below, to_rear < 0))
    if bounds[axis + 2] < end - DEPTH_MM:
        closed.append(bounds[axis + 2] - high)
    else:
        opened.append((bounds[axis + 2] + above - high, to_rear > 0))
    return closed, opened
