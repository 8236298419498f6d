"""How the cabinet's front is divided by height, and what lies behind each division. Millimetres, cabinet frame.

Fronts overlay the box: the front area runs from the bottom's under side over a kick (else from the sides' lower ends)
to the top; each outer edge keeps half a gap, neighbours a whole one (check values W66, W67).
"""

from dataclasses import dataclass

from rabbetry.cabinets.model import Cabinet, Opening
from rabbetry.findings import Finding, finding
from rabbetry.job.model import CabinetKind, CabinetOrder
from rabbetry.tolerances import FIT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A strip of the front area: its fill ('drawer', 'false front', 'door', 'open'), lower and upper edge."""

    fill: str
    low_z_mm: float
    high_z_mm: float


def divide_front(cabinet: Cabinet, order: CabinetOrder) -> tuple[tuple[Band, ...], tuple[Finding, ...]]:
    """Return the bands from the top down, and a finding when the heights do not fit.

    Heights of 0 share equally what the others leave; doors below the drawers take one share, or all that is left when
    every drawer front has a height. A drawer cabinet without heights gets three equal fronts.
    """
    gap = cabinet.construction.front_gap_mm
    low, high = front_area(cabinet)
    drawers = order.drawer_front_heights_mm
    if cabinet.kind is CabinetKind.DRAWERS and not drawers:
        drawers = (0.0, 0.0, 0.0)
    rest_fill = "door" if order.doors else "open"
    wanted = [*drawers, 0.0] if order.doors or not drawers else list(drawers)
    left = high - low - gap * (len(wanted) - 1) - sum(wanted)
    shares = sum(height == 0 for height in wanted)
    if left < -FIT_MM or (shares and left / shares < _LEAST_FRONT_MM):
        return (), (_too_high(cabinet, wanted, left, high - low),)
    heights = [height or left / shares for height in wanted]
    fills = [_drawer_fill(cabinet)] * len(drawers) + [rest_fill] * (len(wanted) - len(drawers))
    bands = list(_stack(heights, fills, high, gap))
    if not shares and left > gap + FIT_MM:
        bands.append(Band(fill="open", low_z_mm=low, high_z_mm=bands[-1].low_z_mm - gap))
        return tuple(bands), _open_left(cabinet, left - gap)
    return tuple(bands), ()


def front_area(cabinet: Cabinet) -> tuple[float, float]:
    """Return the lower edge of the lowest front and the upper edge of the highest."""
    half = cabinet.construction.front_gap_mm / 2
    return (cabinet.bottom_z_mm if cabinet.has_kick else 0.0) + half, cabinet.height_mm - half


def openings_behind(cabinet: Cabinet, bands: tuple[Band, ...]) -> tuple[Opening, ...]:
    """Return the opening behind each band from the top down: to the middle of the gaps, and no farther than bottom and
    top. A false front hides no opening of its own: the one below it reaches to the top."""
    half = cabinet.construction.front_gap_mm / 2
    found: list[Opening] = []
    top = cabinet.ceiling_z_mm
    for band in bands:
        if band.fill == "false front":
            continue
        high = min(top, band.high_z_mm + half) if found or bands[0].fill != "false front" else top
        low = cabinet.floor_z_mm if band is bands[-1] else max(cabinet.floor_z_mm, band.low_z_mm - half)
        found.append(Opening(fill=band.fill, floor_z_mm=low, top_z_mm=high))
    return tuple(found)


_LEAST_FRONT_MM = 40.0
"""A lower front is no front: no pull fits (common practice, no source)."""


def _too_high(cabinet: Cabinet, wanted: list[float], left: float, room: float) -> Finding:
    gap, shares = cabinet.construction.front_gap_mm, wanted.count(0.0)
    named = " + ".join(f"{height:g}" for height in wanted if height) or "none"
    problem = f"front heights {named} with {len(wanted) - 1} gaps of {gap:g} mm "
    if left < 0:
        problem += f"are {-left:.2f} mm more than the {room:.2f} mm from the lowest front's edge to the highest's"
    else:
        problem += (
            f"leave {left:.2f} mm of {room:.2f} mm for {shares} more; at least {_LEAST_FRONT_MM:g} mm each is needed"
        )
    return finding("fronts-too-high", f'cabinet "{cabinet.name}": {problem}')


def _drawer_fill(cabinet: Cabinet) -> str:
    return "false front" if cabinet.kind is CabinetKind.SINK else "drawer"


def _stack(heights: list[float], fills: list[str], high: float, gap: float) -> list[Band]:
    bands = []
    for height, fill in zip(heights, fills, strict=True):
        bands.append(Band(fill=fill, low_z_mm=high - height, high_z_mm=high))
        high -= height + gap
    return bands


def _open_left(cabinet: Cabinet, left: float) -> tuple[Finding, ...]:
    if cabinet.kind is not CabinetKind.DRAWERS:
        return ()
    message = f'cabinet "{cabinet.name}": the drawer fronts leave {left:.2f} mm open below them'
    return (finding("front-left-open", message),)
