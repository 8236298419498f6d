"""The two sides of a carcass, from one definition. Millimetres.

The definition (x up, y from front to back) is the right side as it lies with its inside face up. The left side is its
mirror image across the height axis: same x, y from the other edge. Both lie inside face up.
"""

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.points import Transform
from rabbetry.job.model import Grain
from rabbetry.panels import places
from rabbetry.panels.holes import side_holes
from rabbetry.panels.joints import Seat, kick_notch, seats
from rabbetry.panels.model import Bore, Feature, Panel
from rabbetry.panels.shapes import Rect, moved, notched_rectangle, pilots_clear_of

_ALONG_X = Transform.shift(0.0, 0.0)
_ALONG_Y = Transform.quarter_turns(1)


def side_panel(cabinet: Cabinet, hand: str) -> Panel:
    """Return the side of that hand, 'left' or 'right'."""
    features, depth = _definition(cabinet, hand), cabinet.side_depth_mm(hand)
    outline = notched_rectangle(Rect(0.0, 0.0, cabinet.height_mm, depth), kick_notch(cabinet))
    thickness = cabinet.stocks.side.thickness_mm
    place = places.right_side(cabinet.width_mm, thickness)
    if hand == "left":
        mirror = Transform.mirror_y(depth)
        features = tuple(moved(feature, mirror) for feature in features)
        outline = outline.moved(mirror)
        place = places.left_side(thickness, depth)
    front = "y1" if hand == "left" else "y0"
    return Panel(
        id=f"{cabinet.name} {hand} side",
        cabinet=cabinet.name,
        role=f"{hand} side",
        stock=cabinet.stocks.side.name,
        thickness_mm=thickness,
        length_mm=cabinet.height_mm,
        width_mm=depth,
        outline=outline,
        features=features,
        grain=Grain.ALONG,
        place=place,
        front_edge=front,
        banded_edges=(front,),
        note=_note(cabinet, hand),
    )


def _note(cabinet: Cabinet, hand: str) -> str:
    if not cabinet.is_finished(hand):
        return ""
    scribe = cabinet.construction.scribe_mm
    note = "finished end: its outside shows; no screws through it"
    return note + (f"; {scribe:g} mm of its rear edge are for scribing" if scribe else "")


def _definition(cabinet: Cabinet, hand: str) -> tuple[Feature, ...]:
    """Return the features of a side: recesses first, then blind holes, then pilot holes stepped clear of them."""
    carried = seats(cabinet, hand)
    recesses = tuple(seat.recess for seat in carried if seat.recess is not None)
    # Both hands' holes count, so that the pilot holes of the two sides stay mirror images of each other.
    taken = (*side_holes(cabinet, "left"), *side_holes(cabinet, "right"))
    shows = cabinet.is_finished(hand)
    pilots = () if shows else tuple(pilot for seat in carried for pilot in _clear(seat, taken))
    return (*recesses, *side_holes(cabinet, hand), *pilots)


def _clear(seat: Seat, taken: tuple[Bore, ...]) -> tuple[Bore, ...]:
    xs = {pilot.centre.x for pilot in seat.pilots}
    return pilots_clear_of(seat.pilots, taken, _ALONG_Y if len(xs) == 1 else _ALONG_X)
