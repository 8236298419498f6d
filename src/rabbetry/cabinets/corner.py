"""L-shaped corner cabinets settled. Millimetres, corner frame.

Corner frame: +x along the right wall, +y along the left wall towards the corner, +z up, so that the corner of the room
stands at x = 0 and y = the left wall's length. The left leg is a box with its front towards +x, the right leg one with
its front towards -y; each leg is settled as a box as long as its wall, of which only the outer side is made.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet, CornerCabinet, Front
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.model import CabinetOrder, CornerOrder, Stock
from rabbetry.tolerances import FIT_MM

_LEAST_FRONT_MM = 150.0
"""A leg's front narrower than this is no opening (common practice, no source)."""

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
    findings = (*findings, *_too_large(corner))
    if has_error(findings):
        return None, findings
    return replace(corner, left=_with_door(corner, "left"), right=_with_door(corner, "right")), findings


def _leg(order: CornerOrder, hand: str, resolve: ResolveLeg) -> tuple[Cabinet | None, tuple[Finding, ...]]:
    """Settle a leg with a door as wide as what hangs from its hinges, then give it the length of its wall."""
    leg = order.left if hand == "left" else order.right
    fronts = {each: _front_mm(order, each) for each in ("left", "right")}
    hung = sum(fronts.values()) if order.doors == "bi-fold" else fronts[hand]
    cabinet, said = resolve(replace(leg, width_mm=hung))
    return (replace(cabinet, width_mm=leg.width_mm) if cabinet else None), said


def _front_mm(corner: CornerCabinet | CornerOrder, hand: str) -> float:
    """Return the width of a leg's opening: its wall less the other leg's depth."""
    leg, other = (corner.left, corner.right) if hand == "left" else (corner.right, corner.left)
    return leg.width_mm - other.depth_mm


def _with_door(corner: CornerCabinet, hand: str) -> Cabinet:
    """Return the leg with its door or leaf: from its outer end to the other's face, a gap before that."""
    leg = corner.left if hand == "left" else corner.right
    gap, thickness = leg.construction.front_gap_mm, leg.front_thickness_mm
    width = _front_mm(corner, hand) - thickness - 1.5 * gap
    x = gap / 2 if hand == "left" else leg.width_mm - gap / 2 - width
    is_hung = corner.doors == "two" or corner.hinge == hand
    word = "door" if corner.doors == "two" else "leaf"
    return replace(leg, fronts=tuple(_leaf(front, f"{hand} {word}", x, width, is_hung) for front in leg.fronts))


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


def _too_large(corner: CornerCabinet) -> Iterator[Finding]:
    """The L of the bottom is cut in one piece."""
    c, stocks = corner.left.construction, corner.left.stocks
    side, back, stock = stocks.side.thickness_mm, stocks.back.thickness_mm, stocks.carcass
    sums = [(leg.width_mm, leg.width_mm - side + c.dado_depth_mm - back) for leg in (corner.left, corner.right)]
    if _fits(stock, sums[0][1], sums[1][1]):
        return
    told = " by ".join(f"{length:.2f}" for _, length in sums)
    widths = " and ".join(f"{width:g}" for width, _ in sums)
    message = (
        f'corner "{corner.name}": its bottom is {told} mm (left_width and right_width {widths}, less {side:g} for a '
        f"side and {back:g} for a back, plus {c.dado_depth_mm:g} into the dado), more than the blank of {stock.name}, "
        f"{stock.blank_x_mm:g} by {stock.blank_y_mm:g} less {stock.trim_mm:g} along each edge; "
        "make a leg shorter, or take a larger blank"
    )
    yield finding("corner-too-large", message)


def _fits(stock: Stock, a: float, b: float) -> bool:
    room = sorted((stock.blank_x_mm - 2 * stock.trim_mm, stock.blank_y_mm - 2 * stock.trim_mm))
    return all(size <= most + FIT_MM for size, most in zip(sorted((a, b)), room, strict=True))
