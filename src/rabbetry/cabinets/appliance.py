"""An open place for an appliance in a cabinet's front: platform, room, vent. Millimetres, cabinet frame.

The platform is a fixed shelf whose upper face stands at the height ordered; another closes the opening where something
is above it. Both are hidden half and half by the fronts beside them, so that a face flush with the fronts may be as
high as its band: the opening and one thickness, less a gap.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rabbetry.cabinets.faces import face_rules
from rabbetry.cabinets.heights import Band, divide_front, front_area, is_inset_frameless, stack_fronts, stack_of
from rabbetry.cabinets.model import Cabinet, Opening
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.choices import CutOutOrder, FrontOrder, OpeningOrder
from rabbetry.job.model import CabinetOrder
from rabbetry.tolerances import FIT_MM

_LEAST_FRONT_MM = 40.0
"""Less room above or below an opening takes no front (common practice, no source)."""

_FRAME_MM = 30.0
"""Wood left of a back all round the opening behind an appliance (common practice, no source)."""

_LOOSE_MM = 10.0
"""More room than this at either side of an appliance is filled with strips (common practice, no source)."""

APPLIANCE = "appliance"


def divide(
    cabinet: Cabinet, order: CabinetOrder, doubled: tuple[bool, bool] = (False, False)
) -> tuple[tuple[Band, ...], tuple[Finding, ...]]:
    """Return the bands of a cabinet's front from the top down, round an appliance's opening if it has one.

    `doubled` tells whether two boxes meet below the opening, and above it: two boards lie there instead of one.
    """
    if order.opening is None:
        return divide_front(cabinet, order)
    return _divide_around(cabinet, order, order.opening, doubled)


def meeting_levels(cabinet: Cabinet, wanted: OpeningOrder) -> tuple[float | None, float | None]:
    """Return where two boxes may meet below and above an opening: the platform is the upper box's bottom, or the lower
    box's top closes the opening. None where the opening has nothing below or above it."""
    board = cabinet.stocks.carcass.thickness_mm
    floor = cabinet.floor_z_mm if wanted.up_mm is None else wanted.up_mm
    top = floor + wanted.height_mm
    below = None if floor <= cabinet.floor_z_mm + FIT_MM else floor - board
    return below, None if top >= cabinet.ceiling_z_mm - FIT_MM else top + board


def _divide_around(
    cabinet: Cabinet, order: CabinetOrder, wanted: OpeningOrder, doubled: tuple[bool, bool]
) -> tuple[tuple[Band, ...], tuple[Finding, ...]]:
    board = cabinet.stocks.carcass.thickness_mm
    half_below, half_above = (board if is_double else board / 2 for is_double in doubled)
    gap_low, gap_high = (_gap(cabinet, 2 * half) for half in (half_below, half_above))
    low, high = front_area(cabinet)
    floor = cabinet.floor_z_mm if wanted.up_mm is None else wanted.up_mm
    top = floor + wanted.height_mm
    is_lowest, is_highest = floor <= cabinet.floor_z_mm + FIT_MM, top >= cabinet.ceiling_z_mm - FIT_MM
    # The bands' edges: half a gap from the middle of the shelf that divides them.
    face_low = low if is_lowest else floor - half_below + gap_low / 2
    face_high = high if is_highest else top + half_above - gap_high / 2
    findings = tuple(_does_not_fit(cabinet, wanted, floor, top, face_low - low - gap_low, high - face_high - gap_high))
    if has_error(findings):
        return (), findings
    above, below = _around(order, has_above=not is_highest, has_below=not is_lowest)
    upper, said_above = _zone(cabinet, above, face_high + gap_high, high, "above") if not is_highest else ((), ())
    lower, said_below = _zone(cabinet, below, low, face_low - gap_low, "below") if not is_lowest else ((), ())
    place = FrontOrder(fill=APPLIANCE, below="shelf", opening=wanted)
    face = Band(order=place, low_z_mm=face_low, high_z_mm=face_high)
    if upper:
        upper = (*upper[:-1], replace(upper[-1], order=replace(upper[-1].order, below="shelf")))
    return (*upper, face, *lower), (*said_above, *said_below)


def _gap(cabinet: Cabinet, boards_mm: float) -> float:
    """Return the gap between two fronts with so much wood behind it: inset fronts leave it in sight."""
    rules = face_rules(cabinet)
    return boards_mm + 2 * rules.edge_mm if is_inset_frameless(cabinet) else rules.gap_mm


def _zone(
    cabinet: Cabinet, stack: Sequence[FrontOrder], low: float, high: float, word: str
) -> tuple[tuple[Band, ...], tuple[Finding, ...]]:
    """Return the bands above or below the appliance, an open rest with a warning; or why they do not fit."""
    gap = face_rules(cabinet).gap_mm
    bands, said = stack_fronts(cabinet, stack, low, high) if stack else ((), ())
    if has_error(said):
        return (), said
    top = bands[-1].low_z_mm - gap if bands else high
    if top - low <= FIT_MM:
        return bands, said
    message = f'cabinet "{cabinet.name}": the fronts leave {top - low:.2f} mm open {word} the appliance'
    rest = Band(order=FrontOrder(fill="open"), low_z_mm=low, high_z_mm=top)
    return (*bands, rest), (*said, finding("front-left-open", message))


def _around(
    order: CabinetOrder, *, has_above: bool, has_below: bool
) -> tuple[tuple[FrontOrder, ...], tuple[FrontOrder, ...]]:
    """Return what stands above and below: as listed, else a door above and the counted drawers or doors below."""
    stack = stack_of(order)
    fills = [front.fill for front in stack]
    if APPLIANCE in fills:
        at = fills.index(APPLIANCE)
        return stack[:at], stack[at + 1 :]
    door = (FrontOrder(fill="door" if order.doors else "open", doors=order.doors, hinge=order.hinge),)
    drawers = tuple(front for front in stack if front.fill == "drawer")
    return (door if has_above else ()), ((drawers or door) if has_below else ())


def _does_not_fit(
    cabinet: Cabinet, wanted: OpeningOrder, floor: float, top: float, below: float, above: float
) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": an opening {wanted.height_mm:g} mm high from {floor:g} to {top:g} mm above the '
    if floor < cabinet.floor_z_mm - FIT_MM:
        yield finding("opening-too-low", f"{where}floor begins below the bottom's upper side at {cabinet.floor_z_mm:g}")
    elif top > cabinet.ceiling_z_mm + FIT_MM:
        over = top - cabinet.ceiling_z_mm
        message = f"{where}floor ends {over:.2f} mm above the top's under side at {cabinet.ceiling_z_mm:g}"
        yield finding("opening-too-low", message)
    else:
        for word, room, is_there in (
            ("below", below, floor > cabinet.floor_z_mm + FIT_MM),
            ("above", above, top < cabinet.ceiling_z_mm - FIT_MM),
        ):
            if is_there and room < _LEAST_FRONT_MM:
                message = (
                    f"{where}floor leaves {room:.2f} mm for a front {word} it; at least {_LEAST_FRONT_MM:g} mm, or "
                )
                yield finding("opening-too-low", message + "none: move the opening, or change its height")


def check_rooms(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Return errors where an appliance does not fit its opening, with the sum; a note where strips are needed."""
    return tuple(
        item for opening in cabinet.openings if opening.wanted for item in _room(cabinet, opening, opening.wanted)
    )


def _room(cabinet: Cabinet, opening: Opening, wanted: OpeningOrder) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": '
    wide, side = cabinet.inside_width_mm, cabinet.stocks.side.thickness_mm
    if wide < wanted.width_mm - FIT_MM:
        message = (
            f"{where}an opening {wanted.width_mm:g} mm wide needs {wanted.width_mm - wide:.2f} mm more: width "
            f"{cabinet.width_mm:g} less two sides of {side:g} leaves {wide:.2f} mm"
        )
        yield finding("opening-too-narrow", message)
    elif (each := (wide - wanted.width_mm) / 2) > _LOOSE_MM:
        message = (
            f"{where}the appliance has {each:.2f} mm at either side of its {wanted.width_mm:g} mm: fill with strips"
        )
        yield finding("opening-loose", message)
    high = opening.top_z_mm - opening.floor_z_mm
    if high < wanted.height_mm - FIT_MM:
        message = f"{where}an opening {wanted.height_mm:g} mm high is ordered; its shelves leave {high:.2f} mm"
        yield finding("opening-too-low", message)
    deep = cabinet.depth_mm if wanted.vent else cabinet.inside_depth_mm
    if deep < wanted.depth_mm - FIT_MM:
        taken = "" if wanted.vent or not cabinet.has_back else f" less a back of {cabinet.stocks.back.thickness_mm:g}"
        message = (
            f"{where}an opening {wanted.depth_mm:g} mm deep needs {wanted.depth_mm - deep:.2f} mm more: depth "
            f"{cabinet.depth_mm:g}{taken}"
        )
        yield finding("opening-too-shallow", message)


def vents(cabinet: Cabinet) -> tuple[CutOutOrder, ...]:
    """Return the openings of the back behind appliances, for warm air, cable and plug."""
    if not cabinet.has_back:
        return ()
    return tuple(
        _vent(cabinet, opening) for opening in cabinet.openings if opening.wanted is not None and opening.wanted.vent
    )


def _vent(cabinet: Cabinet, opening: Opening) -> CutOutOrder:
    nailer = cabinet.construction.nailer_width_mm if cabinet.has_nailer else 0.0
    low, high = opening.floor_z_mm, min(opening.top_z_mm, cabinet.ceiling_z_mm - nailer)
    return CutOutOrder(
        panel="back",
        x_mm=cabinet.width_mm / 2,
        at_mm=(low + high) / 2,
        width_mm=cabinet.inside_width_mm - 2 * _FRAME_MM,
        height_mm=high - low - 2 * _FRAME_MM,
        round=False,
    )
