"""Holes through back, bottom or top: where they lie, whether wood is left round them. Millimetres, cabinet frame."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding
from rabbetry.job.choices import CutOutOrder
from rabbetry.tolerances import FIT_MM

_LEAST_RIM_MM = 20.0
"""Least wood round a hole, to the sides, to the panel's ends and to another hole (common practice, no source)."""


def settle_cut_outs(
    cabinet: Cabinet, wanted: Sequence[CutOutOrder]
) -> tuple[tuple[CutOutOrder, ...], tuple[Finding, ...]]:
    """Return the holes with their centres settled, or the errors that say why they cannot be cut."""
    settled = tuple(_centred(cabinet, hole) for hole in wanted)
    found = [item for number, hole in enumerate(settled, start=1) for item in _misplaced(cabinet, hole, number)]
    found += [item for k, hole in enumerate(settled, start=1) for item in _over_dividers(cabinet, hole, k)]
    for (one, a), (two, b) in combinations(enumerate(settled, start=1), 2):
        if a.panel == b.panel and _overlap(a, b):
            message = f'cabinet "{cabinet.name}": cut-outs {one} and {two} of the {a.panel} leave less than '
            found.append(finding("cut-out-misplaced", f"{message}{_LEAST_RIM_MM:g} mm of wood between them"))
    return (() if found else settled), tuple(found)


def _centred(cabinet: Cabinet, hole: CutOutOrder) -> CutOutOrder:
    _, (low, high) = _room(cabinet, hole.panel)
    return replace(
        hole,
        x_mm=cabinet.width_mm / 2 if hole.x_mm is None else hole.x_mm,
        at_mm=(low + high) / 2 if hole.at_mm is None else hole.at_mm,
    )


def _room(cabinet: Cabinet, panel: str) -> tuple[tuple[float, float], tuple[float, float]]:
    """Return the free part of a panel: between the sides; a back between bottom and nailer or top, the others from the
    front edge to the back."""
    side = cabinet.stocks.side.thickness_mm
    across = (side, cabinet.width_mm - side)
    if panel != "back":
        return across, (0.0, cabinet.inside_depth_mm)
    nailer = cabinet.construction.nailer_width_mm if cabinet.has_nailer else 0.0
    return across, (cabinet.floor_z_mm, cabinet.ceiling_z_mm - nailer)


def _misplaced(cabinet: Cabinet, hole: CutOutOrder, number: int) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": cut-out {number}'
    is_there = {"back": cabinet.has_back, "top": cabinet.has_top_panel}.get(hole.panel, True)
    if not is_there:
        yield finding("cut-out-misplaced", f"{where}: the cabinet has no {hole.panel} to cut")
        return
    across, along = _room(cabinet, hole.panel)
    way = "above the floor" if hole.panel == "back" else "behind the front edge"
    for centre, size, (low, high), words in (
        (hole.x_mm, hole.width_mm, across, "from the left"),
        (hole.at_mm, hole.height_mm, along, way),
    ):
        at = centre or 0.0
        first, last = at - size / 2, at + size / 2
        if first < low + _LEAST_RIM_MM - FIT_MM or last > high - _LEAST_RIM_MM + FIT_MM:
            message = (
                f"{where} of the {hole.panel} runs from {first:.2f} to {last:.2f} mm {words}; with {_LEAST_RIM_MM:g} "
                f"mm of wood kept, {low + _LEAST_RIM_MM:.2f} to {high - _LEAST_RIM_MM:.2f} mm is free"
            )
            yield finding("cut-out-misplaced", message)


def _over_dividers(cabinet: Cabinet, hole: CutOutOrder, number: int) -> Iterator[Finding]:
    board, middle = cabinet.stocks.carcass.thickness_mm, hole.x_mm or 0.0
    for left in cabinet.divider_x_mm:
        apart = max(left - middle, middle - left - board) - hole.width_mm / 2
        if apart < _LEAST_RIM_MM - FIT_MM:
            message = (
                f'cabinet "{cabinet.name}": cut-out {number} of the {hole.panel} meets the divider from {left:.2f} to '
                f"{left + board:.2f} mm from the left, or leaves less than {_LEAST_RIM_MM:g} mm of wood beside it"
            )
            yield finding("cut-out-misplaced", message)


def _overlap(a: CutOutOrder, b: CutOutOrder) -> bool:
    """Tell whether the upright rectangles round two holes come nearer than the least rim."""
    across = abs((a.x_mm or 0.0) - (b.x_mm or 0.0)) - (a.width_mm + b.width_mm) / 2
    along = abs((a.at_mm or 0.0) - (b.at_mm or 0.0)) - (a.height_mm + b.height_mm) / 2
    return max(across, along) < _LEAST_RIM_MM - FIT_MM
