"""Ladder bases settled: where the rungs stand, and where rails longer than the blank are spliced. Millimetres.

Frame: x along the length, y from the front to the rear, z up from the floor. A rung stands flush at each end, the
others evenly between. A splice lies in the middle of the room between two rungs, so that the plate behind it clears
both.
"""

import math
from itertools import pairwise

from rabbetry.cabinets.model import LadderBase
from rabbetry.findings import Finding, finding
from rabbetry.job.model import LadderOrder, Stock
from rabbetry.tolerances import FIT_MM, POINT_MM

_PLATE_MM = 300.0
"""Length of a splice's plate, where there is room for it (common practice, no source)."""

_LEAST_PLATE_MM = 120.0
"""A shorter plate has no room for two screws on either side of the splice (common practice, no source)."""

_PLATE_GAP_MM = 2.0
"""Kept between a plate and the rungs beside it."""

_LEAST_RUNG_MM = 50.0
"""Shorter rungs are no frame: a block does as well (common practice, no source)."""

_LEAST_HEIGHT_MM = 30.0
"""Lower rails hold no screws (common practice, no source)."""


def settle_ladder(order: LadderOrder, stock: Stock) -> tuple[LadderBase | None, tuple[Finding, ...]]:
    """Return the ladder base, or None and the finding that says why it cannot be made."""
    where, thickness = f'ladder_base "{order.name}"', stock.thickness_mm
    inside = order.depth_mm - 2 * thickness
    if inside < _LEAST_RUNG_MM:
        message = f"{where}: {inside:.2f} mm are left for the rungs: depth {order.depth_mm:g} less two rails of "
        message += f"{thickness:g}; at least {_LEAST_RUNG_MM:g} mm is needed"
        return None, (finding("ladder-not-possible", message),)
    if order.height_mm < _LEAST_HEIGHT_MM:
        message = f"{where}: height {order.height_mm:g} (that of the toe kick unless given) is too low for rails; at "
        message += f"least {_LEAST_HEIGHT_MM:g} mm is needed: set its height"
        return None, (finding("ladder-not-possible", message),)
    if order.length_mm < 3 * thickness:
        message = f"{where}: length {order.length_mm:g} leaves no room between two rungs of {thickness:g}"
        return None, (finding("ladder-not-possible", message),)
    longest = max(stock.blank_x_mm, stock.blank_y_mm) - 2 * stock.trim_mm
    rungs, splices = _fewest_pieces(order, thickness, longest)
    room = min((b - a - thickness for a, b in pairwise(rungs)), default=order.length_mm)
    plate = min(_PLATE_MM, room - 2 * _PLATE_GAP_MM)
    if splices is None:
        message = f"{where}: rails of {order.length_mm:g} mm are longer than a blank of {stock.name} allows, "
        message += f"{longest:g} mm, and the {room:.2f} mm between two rungs leave no room for a splice; "
        message += f"set rung_spacing to {_LEAST_PLATE_MM + thickness + 2 * _PLATE_GAP_MM:.0f} mm or more"
        return None, (finding("ladder-not-possible", message),)
    ladder = LadderBase(
        name=order.name,
        stock=stock,
        construction=order.construction,
        length_mm=order.length_mm,
        depth_mm=order.depth_mm,
        height_mm=order.height_mm,
        joint=order.joint,
        rung_x_mm=rungs,
        splice_x_mm=splices,
        plate_mm=plate,
    )
    return ladder, _said(order, splices, longest, stock)


_MORE_BAYS = 3
"""So many rungs are added at most to save a splice."""


def _fewest_pieces(
    order: LadderOrder, thickness: float, longest: float
) -> tuple[tuple[float, ...], tuple[float, ...] | None]:
    """Return rungs and splices: with the fewest splices, then with the fewest rungs; splices None when none will do."""
    run = order.length_mm - thickness
    least = max(1, math.ceil(run / order.rung_spacing_mm - POINT_MM))
    tried = []
    for bays in range(least, least + _MORE_BAYS + 1):
        rungs = tuple(run * k / bays for k in range(bays + 1))
        splices = _splices(order, rungs, thickness, longest)
        has_room = run / bays - thickness - 2 * _PLATE_GAP_MM >= _LEAST_PLATE_MM
        if splices is not None and (has_room or not splices):
            tried.append((len(splices), bays, rungs, splices))
    if not tried:
        return tuple(run * k / least for k in range(least + 1)), None
    _, _, rungs, best = min(tried)
    return rungs, best


def _splices(
    order: LadderOrder, rungs: tuple[float, ...], thickness: float, longest: float
) -> tuple[float, ...] | None:
    """Return the fewest splices that keep each piece within `longest`, each in the middle of a bay; None when a bay is
    longer than that."""
    middles = [(a + thickness + b) / 2 for a, b in pairwise(rungs)]
    found: list[float] = []
    start = 0.0
    while order.length_mm - start > longest + FIT_MM:
        within = [middle for middle in middles if start < middle <= start + longest + FIT_MM]
        if not within:
            return None
        start = within[-1]
        found.append(start)
    return tuple(found)


def _said(order: LadderOrder, splices: tuple[float, ...], longest: float, stock: Stock) -> tuple[Finding, ...]:
    if not splices:
        return ()
    at = ", ".join(f"{x:.1f}" for x in splices)
    message = f'ladder_base "{order.name}": each rail of {order.length_mm:g} mm is made in {len(splices) + 1} pieces, '
    message += f"spliced with a plate at {at} mm from the left, since a blank of {stock.name} gives {longest:g} mm"
    return (finding("ladder-spliced", message),)
