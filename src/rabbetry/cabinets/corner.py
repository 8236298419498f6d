"""L-shaped corner cabinets settled. Millimetres, corner frame.

Corner frame: +x along the right wall, +y along the left wall towards the corner, +z up, so that the corner of the room
stands at x = 0 and y = the left wall's length. The left leg is a box with its front towards +x, the right leg one with
its front towards -y; each leg is settled as a box as long as its wall, of which only the outer side is made.

The two fronts meet at the inner corner. With T how far a leg's front face stands before the case (a door's thickness
when it overlays, a face frame's, both, or nothing when inset without a frame) and g the gap, a leaf is as wide as

    its wall - the other leg's depth - T - g - what its outer end keeps from the end of the case

so that either leaf's edge stands g before the other's face. Before a face frame the left rails run through to the inner
corner and the right ones end on their faces; no stile stands there.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from rabbetry.cabinets.faces import face_rules
from rabbetry.cabinets.model import Cabinet, CornerCabinet, FrameMember, Front
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.model import CabinetOrder, CornerOrder, Stock
from rabbetry.job.words import LevelJoint
from rabbetry.tolerances import FIT_MM

_LEAST_FRONT_MM = 150.0
"""A leg's front narrower than this is no opening (common practice, no source)."""

_LEAST_LEAF_MM = 80.0
"""A narrower door has no room for hinge cups and a pull (common practice, no source)."""

ResolveLeg = Callable[[CabinetOrder], tuple[Cabinet | None, tuple[Finding, ...]]]


def settle_corner(order: CornerOrder, resolve: ResolveLeg) -> tuple[CornerCabinet | None, tuple[Finding, ...]]:
    """Return the corner cabinet, or None and the findings that say why it cannot be made."""
    narrow = tuple(_too_narrow(order))
    if narrow:
        return None, narrow
    left, said_left = _leg(order, "left", resolve)
    right, said_right = _leg(order, "right", resolve)
    # Two leaves together may be as wide as they like: they fold.
    findings = tuple(dict.fromkeys(item for item in (*said_left, *said_right) if item.code != "door-wide"))
    if left is None or right is None:
        return None, findings
    # Both legs' pins stay level: those of a leg with hinge plates hold for the other, whether it has a door or not.
    hung = left if order.doors == "two" or order.hinge == "left" else right
    left, right = (replace(leg, pin_z_mm=hung.pin_z_mm, shelf_pin_z_mm=hung.shelf_pin_z_mm) for leg in (left, right))
    corner = CornerCabinet(name=order.name, left=left, right=right, doors=order.doors, hinge=order.hinge)
    findings = (*findings, *_too_large(corner), *_no_opening(corner), *_unused(order))
    if has_error(findings):
        return None, findings
    return replace(corner, left=_finished(corner, "left"), right=_finished(corner, "right")), findings


def _finished(corner: CornerCabinet, hand: str) -> Cabinet:
    """Return the leg with its door or leaf, and its part of the face frame."""
    leg = _with_door(corner, hand)
    return replace(leg, frame=tuple(_frame(corner, hand))) if leg.frame else leg


def _unused(order: CornerOrder) -> Iterator[Finding]:
    for what in order.unused:
        yield finding("corner-word-unused", f'corner "{order.name}": {what}; it changes nothing here')


def _leg(order: CornerOrder, hand: str, resolve: ResolveLeg) -> tuple[Cabinet | None, tuple[Finding, ...]]:
    """Settle a leg with a door as wide as what hangs from its hinges, then give it the length of its wall."""
    leg = order.left if hand == "left" else order.right
    fronts = {each: _front_mm(order, each) for each in ("left", "right")}
    hung = sum(fronts.values()) if order.doors == "bi-fold" else fronts[hand]
    cabinet, said = resolve(replace(leg, width_mm=hung))
    if cabinet is None:
        return None, said
    # The width ordered is to the end of a face frame, which stands past the case at its outer end alone.
    return replace(cabinet, width_mm=leg.width_mm - cabinet.frame_overhang_mm), said


def _front_mm(corner: CornerCabinet | CornerOrder, hand: str) -> float:
    """Return the width of a leg's opening: its wall less the other leg's depth."""
    leg, other = (corner.left, corner.right) if hand == "left" else (corner.right, corner.left)
    return leg.width_mm - other.depth_mm


def _with_door(corner: CornerCabinet, hand: str) -> Cabinet:
    """Return the leg with its door or leaf: from its outer end to a gap before the other's face."""
    leg = corner.left if hand == "left" else corner.right
    low, width = _leaf_span(corner, hand)
    x = low if hand == "left" else leg.width_mm - low - width
    is_hung = corner.doors == "two" or corner.hinge == hand
    word = "door" if corner.doors == "two" else "leaf"
    return replace(leg, fronts=tuple(_leaf(front, f"{hand} {word}", x, width, is_hung) for front in leg.fronts))


def _leaf_span(corner: CornerCabinet, hand: str) -> tuple[float, float]:
    """Return how far the leaf stays from the case's outer end, and its width."""
    leg = corner.left if hand == "left" else corner.right
    rules = face_rules(leg)
    ends = (rules.span_x_mm[0] + rules.edges_x_mm[0], leg.width_mm - rules.span_x_mm[1] + rules.edges_x_mm[1])
    outer = ends[0] if hand == "left" else ends[1]
    before = leg.front_thickness_mm - leg.front_back_y_mm
    return outer, _front_mm(corner, hand) - before - rules.between_mm - outer


def _frame(corner: CornerCabinet, hand: str) -> Iterator[FrameMember]:
    """Yield the outer stile, the top and the bottom rail before a leg."""
    leg = corner.left if hand == "left" else corner.right
    stile = next(member for member in leg.frame if member.name == f"{hand} stile")
    rails = [member for member in leg.frame if member.name in ("top rail", "bottom rail")]
    over, turn = leg.frame_overhang_mm, _front_mm(corner, hand)
    if hand == "right":
        turn -= leg.frame_thickness_mm
    inner = stile.width_mm - over
    yield replace(stile, x_mm=-over if hand == "left" else leg.width_mm - inner)
    for rail in rails:
        x = inner if hand == "left" else leg.width_mm - turn
        yield replace(rail, name=f"{hand} {rail.name}", x_mm=x, width_mm=turn - inner)


def _leaf(front: Front, name: str, x: float, width: float, is_hung: bool) -> Front:
    leaf = replace(front, name=name, x_mm=x, width_mm=width)
    return leaf if is_hung else replace(leaf, hinge="", hinge_z_mm=())


def _too_narrow(corner: CornerOrder) -> Iterator[Finding]:
    for hand, other in (("left", "right"), ("right", "left")):
        width = _front_mm(corner, hand)
        if width < _LEAST_FRONT_MM:
            leg = corner.left if hand == "left" else corner.right
            message = (
                f'corner "{corner.name}": {width:.2f} mm are left for the front of the {hand} leg: {hand}_width '
                f"{leg.width_mm:g} less {other}_depth {leg.width_mm - width:g}; at least {_LEAST_FRONT_MM:g} mm is "
                "needed"
            )
            yield finding("corner-too-narrow", message)


def _no_opening(corner: CornerCabinet) -> Iterator[Finding]:
    """A leaf narrower than this is none."""
    if corner.doors == "open":
        return
    for hand in ("left", "right"):
        outer, width = _leaf_span(corner, hand)
        if width < _LEAST_LEAF_MM:
            room = _front_mm(corner, hand)
            message = (
                f'corner "{corner.name}": the {hand} door would be {width:.2f} mm wide, of {room:.2f} mm between the '
                f"other leg and the end of the case; {outer:.2f} mm are kept at its outer end, and at least "
                f"{_LEAST_LEAF_MM:g} mm is needed"
            )
            yield finding("corner-too-narrow", message)


def _too_large(corner: CornerCabinet) -> Iterator[Finding]:
    """The L of the bottom is cut in one piece."""
    c, stocks = corner.left.construction, corner.left.stocks
    side, back, stock = stocks.side.thickness_mm, stocks.back.thickness_mm, stocks.carcass
    reach = 0.0 if c.bottom_joint is c.top_joint is LevelJoint.BUTT else c.dado_depth_mm
    sums = [(leg.width_mm, leg.width_mm - side + reach - back) for leg in (corner.left, corner.right)]
    if _fits(stock, sums[0][1], sums[1][1]):
        return
    told = " by ".join(f"{length:.2f}" for _, length in sums)
    widths = " and ".join(f"{width:g}" for width, _ in sums)
    message = (
        f'corner "{corner.name}": its bottom is {told} mm (left_width and right_width {widths}, less {side:g} for a '
        f"side and {back:g} for a back, plus {reach:g} into the dado), more than the blank of {stock.name}, "
        f"{stock.blank_x_mm:g} by {stock.blank_y_mm:g} less {stock.trim_mm:g} along each edge; "
        "make a leg shorter, or take a larger blank"
    )
    yield finding("corner-too-large", message)


def _fits(stock: Stock, a: float, b: float) -> bool:
    room = sorted((stock.blank_x_mm - 2 * stock.trim_mm, stock.blank_y_mm - 2 * stock.trim_mm))
    return all(size <= most + FIT_MM for size, most in zip(sorted((a, b)), room, strict=True))
