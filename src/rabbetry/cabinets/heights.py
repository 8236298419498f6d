"""How the cabinet's front is divided by height, and what lies behind each division. Millimetres, cabinet frame.

How far the front area reaches, and the gaps in it, are the face's rules (`faces`).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rabbetry.cabinets.faces import face_rules
from rabbetry.cabinets.model import Cabinet, Opening
from rabbetry.findings import Finding, finding
from rabbetry.job.choices import FrontOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetOrder, Faces, Mount
from rabbetry.tolerances import FIT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A strip of the front area: what was ordered there, lower and upper edge."""

    order: FrontOrder
    low_z_mm: float
    high_z_mm: float

    @property
    def fill(self) -> str:
        """'drawer', 'false front', 'door', 'open', 'appliance'."""
        return self.order.fill


def stack_of(order: CabinetOrder) -> tuple[FrontOrder, ...]:
    """Return the front from the top down: as listed, else the drawers counted over doors or an open rest."""
    if order.columns:
        return (FrontOrder(fill="open"),)
    if order.fronts:
        return order.fronts
    kind = KINDS[order.kind]
    heights = order.drawer_front_heights_mm or (0.0,) * kind.drawers
    drawers = tuple(FrontOrder(fill=kind.drawer_fill, height_mm=height) for height in heights)
    if not order.doors and drawers:
        return drawers
    return (*drawers, FrontOrder(fill="door" if order.doors else "open", doors=order.doors, hinge=order.hinge))


def divide_front(cabinet: Cabinet, order: CabinetOrder) -> tuple[tuple[Band, ...], tuple[Finding, ...]]:
    """Return the bands from the top down, and a finding when the heights do not fit.

    Heights of 0 share equally what the others leave. What is left when every front has a height is open.
    """
    rules = face_rules(cabinet)
    gap, low, high = rules.gap_mm, rules.low_z_mm, rules.high_z_mm
    bands, said = stack_fronts(cabinet, stack_of(order), low, high)
    left = bands[-1].low_z_mm - low - gap if bands else 0.0
    # In a face frame a strip too low for an opening of its own makes the bottom rail wider.
    is_framed = cabinet.faces is Faces.FACE_FRAME
    if left <= (_LEAST_FRONT_MM - 2 * rules.edge_mm if is_framed else FIT_MM):
        return bands, said
    rest = Band(order=FrontOrder(fill="open"), low_z_mm=low, high_z_mm=bands[-1].low_z_mm - gap)
    is_odd = bool(order.fronts) or KINDS[cabinet.kind].drawers > 0
    return (*bands, rest), (_open_left(cabinet, left),) if is_odd else ()


def stack_fronts(
    cabinet: Cabinet, stack: Sequence[FrontOrder], low: float, high: float
) -> tuple[tuple[Band, ...], tuple[Finding, ...]]:
    """Return the bands of a stack from `high` down, or the finding that it does not fit above `low`."""
    gaps = [gap_below(cabinet, front) for front in stack]
    wanted = [front.height_mm for front in stack]
    left = high - low - sum(gaps[:-1]) - sum(wanted)
    shares = sum(height == 0 for height in wanted)
    if left < -FIT_MM or (shares and left / shares < _LEAST_FRONT_MM):
        return (), (_too_high(cabinet, wanted, gaps[:-1], left, high - low),)
    bands = []
    for front, gap in zip(stack, gaps, strict=True):
        height = front.height_mm or left / shares
        bands.append(Band(order=front, low_z_mm=high - height, high_z_mm=high))
        high -= height + gap
    return tuple(bands), ()


def gap_below(cabinet: Cabinet, front: FrontOrder) -> float:
    """Return the gap between a front and the next below: where inset fronts have a shelf or rail between them, its
    thickness and a reveal either side."""
    rules = face_rules(cabinet)
    if front.below and is_inset_frameless(cabinet):
        return cabinet.stocks.carcass.thickness_mm + 2 * rules.edge_mm
    return rules.gap_mm


def is_inset_frameless(cabinet: Cabinet) -> bool:
    """Tell whether the fronts lie between the carcass's own panels."""
    return cabinet.mount is Mount.INSET and cabinet.faces is Faces.FRAMELESS


def front_area(cabinet: Cabinet) -> tuple[float, float]:
    """Return the lower edge of the lowest front and the upper edge of the highest."""
    rules = face_rules(cabinet)
    return rules.low_z_mm, rules.high_z_mm


def openings_behind(cabinet: Cabinet, bands: tuple[Band, ...]) -> tuple[Opening, ...]:
    """Return the opening behind each band from the top down: to the middle of the gaps, or to the shelf or rail there,
    and no farther than bottom and top; a drawer passes between a face frame's rails. A false front hides no opening of
    its own: the one below it, else the one above, takes its room, unless that is a drawer's."""
    found: list[Opening] = []
    room_above: float | None = None
    runs_on = False
    for number, band in enumerate(bands):
        low, high = _span(cabinet, bands, number)
        if band.fill == "false front":
            room_above = high if room_above is None else room_above
            if runs_on and band is bands[-1] and found[-1].fill != "drawer":
                found[-1] = replace(found[-1], floor_z_mm=low)
            if band.order.below:
                room_above, runs_on = None, False
            continue
        if room_above is not None and band.fill != "drawer":
            high = room_above
        room_above, runs_on = None, not band.order.below
        found.append(
            Opening(
                fill=band.fill,
                floor_z_mm=low,
                top_z_mm=high,
                adjustable_shelves=band.order.adjustable_shelves,
                fixed_shelves=band.order.fixed_shelves,
                wanted=band.order.opening,
            )
        )
    return tuple(found)


def dividing_levels(cabinet: Cabinet, bands: Sequence[Band]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Return the under sides of the fixed shelves and of the rails between bands, rising: each is hidden half and half
    by the fronts above and below the gap, or seen between two inset ones."""
    board = cabinet.stocks.carcass.thickness_mm
    shelves, rails = (
        tuple(
            sorted(
                band.low_z_mm - (gap_below(cabinet, band.order) + board) / 2
                for band in bands[:-1]
                if band.order.below == what
            )
        )
        for what in ("shelf", "rail")
    )
    return shelves, rails


def _span(cabinet: Cabinet, bands: Sequence[Band], number: int) -> tuple[float, float]:
    """Return floor and top of the room behind one band alone."""
    rules, divider = face_rules(cabinet), cabinet.stocks.carcass.thickness_mm / 2
    band = bands[number]
    above = gap_below(cabinet, bands[number - 1].order) if number else rules.gap_mm
    below = gap_below(cabinet, band.order) if number < len(bands) - 1 else rules.gap_mm
    if cabinet.faces is Faces.FACE_FRAME and band.fill == "drawer":
        low, high = band.low_z_mm - rules.edge_mm, band.high_z_mm + rules.edge_mm
        return max(cabinet.floor_z_mm, low), min(_drawer_ceiling_z(cabinet), high)
    low, high = band.low_z_mm - below / 2, band.high_z_mm + above / 2
    if number and bands[number - 1].order.below:
        high -= divider
    if number < len(bands) - 1 and band.order.below:
        low += divider
    floor = cabinet.floor_z_mm if band is bands[-1] else max(cabinet.floor_z_mm, low)
    if band.fill == "drawer":
        return floor, min(_drawer_ceiling_z(cabinet), high)
    return floor, cabinet.ceiling_z_mm if number == 0 else min(cabinet.ceiling_z_mm, high)


def _drawer_ceiling_z(cabinet: Cabinet) -> float:
    """Return how high a drawer may reach: to the top, or to rails on edge."""
    return (
        cabinet.height_mm - cabinet.construction.stretcher_width_mm
        if cabinet.has_rails_on_edge
        else cabinet.ceiling_z_mm
    )


_LEAST_FRONT_MM = 40.0
"""A lower front is no front: no pull fits (common practice, no source)."""


def _too_high(cabinet: Cabinet, wanted: list[float], gaps: list[float], left: float, room: float) -> Finding:
    shares = wanted.count(0.0)
    named = " + ".join(f"{height:g}" for height in wanted if height) or "none"
    each = " and ".join(f"{gap:g}" for gap in sorted(set(gaps))) or "0"
    problem = f"front heights {named} with {len(gaps)} gaps of {each} mm "
    if left < 0:
        problem += f"are {-left:.2f} mm more than the {room:.2f} mm from the lowest front's edge to the highest's"
    else:
        problem += (
            f"leave {left:.2f} mm of {room:.2f} mm for {shares} more; at least {_LEAST_FRONT_MM:g} mm each is needed"
        )
    return finding("fronts-too-high", f'cabinet "{cabinet.name}": {problem}')


def _open_left(cabinet: Cabinet, left: float) -> Finding:
    return finding("front-left-open", f'cabinet "{cabinet.name}": the fronts leave {left:.2f} mm open below them')
