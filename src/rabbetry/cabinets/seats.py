"""Seats: a lid that counts in the height, and how far a seat spans. Millimetres."""

from dataclasses import replace

from rabbetry.cabinets.model import Cabinet, LoosePart
from rabbetry.findings import Finding, finding
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetKind

_SPAN_PER_MM = 45.0
"""A seat of plywood spans 45 times its thickness, 800 mm at 18 mm (common practice, no source)."""

_LID_OVERHANG_MM = 20.0
"""How far a lid reaches over the fronts, to be lifted (common practice, no source)."""


def with_lid(cabinet: Cabinet) -> Cabinet:
    """Return the cabinet of a kind with a lid, lower by the lid's thickness, with the lid as a loose part."""
    if not KINDS[cabinet.kind].has_lid:
        return cabinet
    stock = cabinet.stocks.front
    lid = LoosePart(
        role="lid",
        stock=stock,
        length_mm=cabinet.width_mm,
        width_mm=cabinet.depth_mm + cabinet.front_thickness_mm + _LID_OVERHANG_MM,
        note=f"lies on the rails, {_LID_OVERHANG_MM:g} mm over the front; fit stays that hold it open",
    )
    return replace(cabinet, height_mm=cabinet.height_mm - stock.thickness_mm, loose=(*cabinet.loose, lid))


def check_span(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Return a note when people would sit on a longer span than its board carries."""
    if cabinet.kind is not CabinetKind.WINDOW_SEAT:
        return ()
    thickness = cabinet.stocks.carcass.thickness_mm
    span = max(right - left for left, right in cabinet.columns_mm)
    limit = _SPAN_PER_MM * thickness
    if span <= limit:
        return ()
    message = (
        f'cabinet "{cabinet.name}": the seat spans {span:.2f} mm; {thickness:g} mm board carries people over '
        f"{limit:.2f} mm (common practice): order dividers, or a seat board on top"
    )
    return (finding("seat-span", message),)
