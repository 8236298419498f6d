"""A cabinet whose one end stands in a corner, behind the cabinets of the other wall. Millimetres, cabinet frame.

Seen from above, the neighbours' carcasses stand along the other wall and reach `neighbour_depth` out from it; their
fronts add their own thickness, and pulls on both runs need `pull_clearance` beyond that, so that doors and drawers pass
each other. What of this cabinet's front lies behind that line is blind:

    blind = neighbour_depth + thickness of the fronts + pull_clearance - pulled_out

with `pulled_out` the distance of the cabinet's end from the wall in the corner. The blind panel covers it; doors hang
on the far side. The neighbour stands `pull_clearance` off this cabinet's fronts: the corner filler closes that.
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.heights import front_area
from rabbetry.cabinets.model import Cabinet, Front, LoosePart
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.choices import BlindOrder, FrontOrder
from rabbetry.job.model import Faces, Mount

_LEAST_DOOR_MM = 150.0
"""A narrower door lets nobody in (common practice, no source)."""


def settle_blind(
    cabinet: Cabinet, wanted: BlindOrder | None, stack: tuple[FrontOrder, ...]
) -> tuple[Cabinet, tuple[Finding, ...]]:
    """Return the cabinet with its blind part and corner filler, or the errors that say why it cannot have one."""
    if wanted is None:
        return cabinet, ()
    length = wanted.neighbour_depth_mm + _front_mm(cabinet) + wanted.pull_clearance_mm - wanted.pulled_out_mm
    findings = (*_impossible(cabinet, wanted, length), *_wrong_fronts(cabinet, wanted, stack))
    if has_error(findings):
        return cabinet, findings
    low, high = front_area(cabinet)
    gap = cabinet.construction.front_gap_mm
    filler = LoosePart(
        role="corner filler",
        stock=cabinet.stocks.front,
        length_mm=high - low + gap,
        width_mm=wanted.pull_clearance_mm,
        note=f"between the {wanted.hand} end's blind panel and the neighbour's side, flush with its fronts",
    )
    loose = (*cabinet.loose, *((filler,) if wanted.pull_clearance_mm > 0 else ()))
    return replace(cabinet, blind_hand=wanted.hand, blind_mm=length, loose=loose), findings


def blind_panel(cabinet: Cabinet) -> Front:
    """Return the fixed panel over the blind part: half a gap at the cabinet's end, half a gap beside the door."""
    low, high = front_area(cabinet)
    gap = cabinet.construction.front_gap_mm
    left = gap / 2 if cabinet.blind_hand == "left" else cabinet.width_mm - cabinet.blind_mm + gap / 2
    return Front(
        name="blind panel",
        kind="blind panel",
        x_mm=left,
        z_mm=low,
        width_mm=cabinet.blind_mm - gap,
        height_mm=high - low,
        hinge="",
    )


def _front_mm(cabinet: Cabinet) -> float:
    return cabinet.front_thickness_mm


def _impossible(cabinet: Cabinet, wanted: BlindOrder, length: float) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": '
    total = (
        f"neighbour {wanted.neighbour_depth_mm:g} + fronts {_front_mm(cabinet):g} + pulls {wanted.pull_clearance_mm:g}"
        f" - pulled out {wanted.pulled_out_mm:g} = {length:.2f} mm blind"
    )
    if cabinet.faces is not Faces.FRAMELESS or cabinet.mount is not Mount.OVERLAY:
        yield finding("blind-not-possible", f"{where}a blind part is made for overlay fronts without a face frame only")
    if length < _LEAST_DOOR_MM:
        yield finding("blind-not-possible", f"{where}{total}: nothing stands before it; order a plain cabinet")
    elif cabinet.width_mm - length < _LEAST_DOOR_MM:
        left = cabinet.width_mm - length
        message = f"{where}{total}, which leaves {left:.2f} mm of width {cabinet.width_mm:g} for the door; at least "
        yield finding("blind-not-possible", f"{message}{_LEAST_DOOR_MM:g} mm: make it wider, or pull it out")


def _wrong_fronts(cabinet: Cabinet, wanted: BlindOrder, stack: tuple[FrontOrder, ...]) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": '
    if any(front.fill in ("drawer", "appliance") for front in stack):
        yield finding("blind-not-possible", f"{where}a drawer or appliance behind a blind panel could not come out")
    doors = [front for front in stack if front.fill == "door"]
    if any(front.doors > 1 for front in doors):
        yield finding("blind-not-possible", f"{where}beside a blind part there is one door: the other has no side")
    elif any(front.hinge == wanted.hand for front in doors):
        far = {"left": "right", "right": "left"}[wanted.hand]
        message = f"{where}a door hinged {wanted.hand} has no side to hang on at the blind end; hinge it {far}"
        yield finding("blind-not-possible", message)
