"""Columns of a cabinet that have fronts of their own: each is settled as a box as wide as the room between its two
uprights and two sides, of which only shelves, drawers and fronts are made. Millimetres.

Its drawers and shelves thus follow the column's opening by the rules of every box; its doors share a divider half and
half with the next column's when they overlay, and lie between the uprights when inset.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from rabbetry.cabinets.model import LEAST_BETWEEN_HOLES_MM, Cabinet
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetOrder, Faces
from rabbetry.job.words import LevelJoint

ResolveColumn = Callable[[CabinetOrder], tuple[Cabinet | None, tuple[Finding, ...]]]


def settle_columns(
    cabinet: Cabinet, order: CabinetOrder, resolve: ResolveColumn, said: Sequence[Finding]
) -> tuple[tuple[Cabinet, ...], tuple[Finding, ...]]:
    """Return the columns from the left, or none and the errors. `cabinet` must have its dividers; what was `said` of it
    already is not said again of its columns."""
    if not order.columns or not cabinet.divider_x_mm:
        return (), ()
    faults = tuple(_not_with(cabinet))
    if faults:
        return (), faults
    side, count = cabinet.stocks.side.thickness_mm, len(order.columns)
    columns: list[Cabinet] = []
    findings: list[Finding] = []
    known = {item.message for item in said}
    for number, ((left, right), fronts) in enumerate(zip(cabinet.columns_mm, order.columns, strict=True), start=1):
        own = replace(
            order,
            width_mm=right - left + 2 * side,
            fronts=fronts,
            columns=(),
            dividers_mm=(),
            cut_outs=(),
            column=number,
            column_ends=(number > 1, number < count),
        )
        box, told = resolve(own)
        findings.extend(_of_column(order.name, number, item) for item in told if item.message not in known)
        if box is not None:
            columns.append(box)
    findings.extend((*_unheld(cabinet, columns), *_back_to_back(cabinet, columns)))
    return (() if has_error(findings) else tuple(columns)), tuple(dict.fromkeys(findings))


def _unheld(cabinet: Cabinet, columns: Sequence[Cabinet]) -> Iterator[Finding]:
    if cabinet.construction.shelf_joint is LevelJoint.BUTT and any(
        column.fixed_shelf_z_mm or column.rail_z_mm for column in columns
    ):
        message = f'cabinet "{cabinet.name}": fixed shelves and rails of columns: a butt joint without screws at the '
        yield finding("end-unheld", message + "dividers; use dowels or another joint")


def _back_to_back(cabinet: Cabinet, columns: Sequence[Cabinet]) -> Iterator[Finding]:
    """Two shelves or rails at one height on both sides of a divider must leave wood between their dados."""
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    if c.shelf_joint is LevelJoint.BUTT:
        return
    depth = c.dado_depth_mm + (c.depth_clearance_mm if c.shelf_joint is LevelJoint.TONGUE else 0.0)
    left = thickness - 2 * depth
    if left >= LEAST_BETWEEN_HOLES_MM:
        return
    for one, other in pairwise(columns):
        heights = [(*column.fixed_shelf_z_mm, *column.rail_z_mm) for column in (one, other)]
        if any(abs(a - b) < thickness + c.fit_clearance_mm for a in heights[0] for b in heights[1]):
            problem = (
                f"shelves or rails of columns {one.column} and {other.column} at one height would leave {left:.2f} mm "
                f"of the divider between two dados {depth:g} mm deep; {LEAST_BETWEEN_HOLES_MM:g} mm is the least: take "
                "other heights, or a smaller dado_depth"
            )
            yield finding("divider-not-possible", f'cabinet "{cabinet.name}": {problem}')


def with_columns(cabinet: Cabinet, columns: tuple[Cabinet, ...]) -> Cabinet:
    """Return the cabinet with its columns, and all their fronts before it."""
    if not columns:
        return cabinet
    whole = replace(cabinet, columns=columns)
    fronts = tuple(replace(front, x_mm=front.x_mm + x) for x, column in whole.units for front in column.fronts)
    return replace(whole, fronts=fronts)


def check_one_box(order: CabinetOrder, pieces: Sequence[object]) -> Iterator[Finding]:
    """Yield an error for a cabinet with columns of their own that would be made of several boxes."""
    if order.columns and len(pieces) > 1:
        problem = f"columns with fronts of their own stand in one box, and it would be made of {len(pieces)}; "
        yield finding("divider-not-possible", f'cabinet "{order.name}": {problem}order a cabinet for each')


def _of_column(name: str, number: int, item: Finding) -> Finding:
    start = f'cabinet "{name}": '
    if not item.message.startswith(start):
        return item
    return replace(item, message=f'cabinet "{name}", column {number}: {item.message.removeprefix(start)}')


def _not_with(cabinet: Cabinet) -> Iterator[Finding]:
    lacks = ""
    if cabinet.faces is Faces.FACE_FRAME:
        lacks = 'a face frame has no stile before a divider: write faces = "frameless"'
    elif KINDS[cabinet.kind].is_blind or KINDS[cabinet.kind].has_lid:
        lacks = f"a {cabinet.kind} cabinet has one front"
    if lacks:
        yield finding("divider-not-possible", f'cabinet "{cabinet.name}": columns are ordered, but {lacks}')
