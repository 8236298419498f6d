"""From the rows that only some cabinets have to their records: fronts, opening, cut-outs, blind part; panels."""

from rabbetry.job.choice_rows import CutOutRow, FillerRow, FrontRow, OpeningRow, PanelRow
from rabbetry.job.choices import BlindOrder, CoverOrder, CutOutOrder, FillerOrder, FrontOrder, OpeningOrder
from rabbetry.job.kinds import Default, KindRow
from rabbetry.job.model import Units
from rabbetry.job.rows import CabinetBase
from rabbetry.units import Length, read_length

FAR_HAND = {"left": "right", "right": "left"}
"""The other end of a cabinet."""

_ONE_DOOR: Default = {Units.MM: 600, Units.INCH: "24"}
"""Widest cabinet with a single door (common practice)."""
_PULL_CLEARANCE: Default = {Units.MM: 60, Units.INCH: "2 1/2"}
"""A pull stands out about 40 mm; the rest is play (common practice, no source; within the 1 to 3 in of a filler, check
value 5.3.10)."""
_SCRIBE: Default = {Units.MM: 20, Units.INCH: "3/4"}
"""Common practice, no source; at most 38 mm (check value 5.3.8)."""


def mm_or(given: Length | None, default: str | int, units: Units) -> float:
    """Return the length given, or the default as it would be written in the job's unit; millimetres."""
    return (given or read_length(default, units)).mm


def doors_for(row: CabinetBase, units: Units) -> int:
    """Return the doors usual for the cabinet's width."""
    return 1 if row.width.mm <= mm_or(None, _ONE_DOOR[units], units) else 2


def front_orders(row: CabinetBase, hinge: str, doors: int) -> tuple[FrontOrder, ...]:
    """Return the front from the top down; empty when the order counts drawers and doors instead."""
    return tuple(_front(front, hinge, doors) for front in row.fronts or ())


def column_orders(row: CabinetBase) -> tuple[tuple[FrontOrder, ...], ...]:
    """Return the front of each column from the left; empty without columns. Doors hang at the cabinet's own sides in
    the first and the last column, else at the left."""
    columns = row.columns or []
    hands = ["right" if number and number == len(columns) - 1 else "left" for number in range(len(columns))]
    return tuple(
        tuple(_front(front, hand, 1) for front in column.fronts) for column, hand in zip(columns, hands, strict=True)
    )


def _front(row: FrontRow, hinge: str, doors: int) -> FrontOrder:
    return FrontOrder(
        fill="false front" if row.fill == "false" else row.fill,
        height_mm=row.height.mm if row.height else 0.0,
        doors=row.doors or doors,
        hinge=row.hinge or hinge,
        adjustable_shelves=row.shelves,
        fixed_shelves=row.fixed_shelves,
        below="" if row.below == "nothing" else row.below,
    )


def opening_order(row: OpeningRow | None) -> OpeningOrder | None:
    """Return the appliance's opening, if any."""
    if row is None:
        return None
    return OpeningOrder(
        width_mm=row.width.mm,
        height_mm=row.height.mm,
        depth_mm=row.depth.mm if row.depth else 0.0,
        up_mm=row.up.mm if row.up else None,
        vent=row.vent,
    )


def cut_out_order(row: CutOutRow) -> CutOutOrder:
    """Return a hole; the row has either a diameter or both width and height."""
    across = row.diameter or row.width
    along = row.diameter or row.height
    at = row.z if row.through == "back" else row.y
    return CutOutOrder(
        panel=row.through,
        x_mm=row.x.mm if row.x else None,
        at_mm=at.mm if at else None,
        width_mm=across.mm if across else 0.0,
        height_mm=along.mm if along else 0.0,
        round=row.diameter is not None,
    )


def blind_order(row: CabinetBase, kind: KindRow, units: Units) -> BlindOrder | None:
    """Return the blind part of a corner cabinet; None for a cabinet without one."""
    if not kind.is_blind and row.blind is None:
        return None
    return BlindOrder(
        hand=row.blind or "left",
        neighbour_depth_mm=mm_or(row.neighbour_depth or row.depth, kind.depth[units], units),
        pull_clearance_mm=mm_or(row.pull_clearance, _PULL_CLEARANCE[units], units),
        pulled_out_mm=row.pulled_out.mm if row.pulled_out else 0.0,
    )


def cover_order(row: PanelRow) -> CoverOrder:
    """Return a panel over one side of cabinets."""
    edges = (row.overhang_left, row.overhang_right, row.overhang_bottom, row.overhang_top)
    left, right, low, high = (edge.mm if edge else 0.0 for edge in edges)
    return CoverOrder(
        name=row.name,
        covers=tuple(row.covers),
        side=row.side,
        stock=row.stock or "",
        to_floor=row.to_floor,
        overhang_mm=(left, right, low, high),
        note=row.note,
    )


def filler_order(row: FillerRow, units: Units) -> FillerOrder:
    """Return a strip beside a cabinet."""
    return FillerOrder(
        name=row.name,
        beside=row.beside,
        width_mm=row.width.mm,
        scribe_mm=mm_or(row.scribe, _SCRIBE[units], units),
        stock=row.stock or "",
        to_floor=row.to_floor,
        note=row.note,
    )
