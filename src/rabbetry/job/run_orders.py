"""From the rows of a run to a run whose widths and heights are settled: what fills gets what the others leave, a filler
the height of its neighbour. Millimetres."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from rabbetry.job.choices import RunItem, RunOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetKind, CabinetOrder, CornerOrder, LadderOrder, Units
from rabbetry.job.run_rows import RunItemRow, RunRow, leg_at
from rabbetry.units import Length, read_length

_SCRIBE = {Units.MM: "12", Units.INCH: "1/2"}
_COUNTER = {Units.MM: "38", Units.INCH: "1 1/2"}
_UPPER = {Units.MM: "1372", Units.INCH: "54"}
"""54 in (check value 5.1.7)."""
_UNDER_COUNTER = {Units.MM: "876", Units.INCH: "34 1/2"}
"""Height of an appliance in a run without base cabinets (check value 5.1.1)."""
_HUNG_APPLIANCE = {Units.MM: "400", Units.INCH: "16"}
"""Height of a hung appliance that says none (common practice, no source)."""
CARRIES_COUNTER = (CabinetKind.BASE, CabinetKind.SINK, CabinetKind.DRAWERS, CabinetKind.BLIND_CORNER)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """What a run may name, by name: cabinets, corners, ladder bases that are made."""

    cabinets: dict[str, CabinetOrder]
    corners: dict[str, CornerOrder]
    ladders: dict[str, LadderOrder]

    def has(self, row: RunItemRow) -> bool:
        """Tell whether a cabinet or corner is made; anything else is there."""
        if row.corner is not None:
            return row.corner in self.corners
        return row.cabinet is None or row.cabinet in self.cabinets


def ordered(
    cabinets: Sequence[CabinetOrder], corners: Sequence[CornerOrder], ladders: Sequence[LadderOrder]
) -> Ordered:
    """Return the orders of a job by their names."""
    return Ordered(
        cabinets={order.name: order for order in cabinets},
        corners={order.name: order for order in corners},
        ladders={order.name: order for order in ladders},
    )


def run_order(row: RunRow, made: Ordered, units: Units) -> RunOrder:
    """Return the run, settled. What is left out of the job is left out of the run too."""
    orders = made.cabinets | {name: corner.left for name, corner in made.corners.items()}
    upper_bottom = _mm(row.upper_bottom, _UPPER[units], units)
    thickness = _mm(row.counter_thickness, _COUNTER[units], units)
    lower_row = [item for item in row.items if made.has(item)]
    upper_row = [item for item in row.upper if made.has(item)]
    under = max((_top_of_base(item, made) for item in lower_row), default=0.0)
    given = row.counter_height.mm if row.counter_height else None
    counter = given if given is not None else under + thickness if under else None
    appliance = counter - thickness if counter is not None else _mm(None, _UNDER_COUNTER[units], units)
    lower = [_item(item, made, 0.0, appliance) for item in lower_row]
    hung = _mm(None, _HUNG_APPLIANCE[units], units)
    upper = [_item(item, made, upper_bottom, hung) for item in upper_row]
    lower, upper = ([_with_leg(k, items, row.left, made) for k in range(len(items))] for items in (lower, upper))
    scribe = _mm(row.scribe, _SCRIBE[units], units)
    return RunOrder(
        name=row.name,
        length_mm=row.length.mm,
        left=row.left,
        right=row.right,
        items=_settled(lower, row, orders, scribe),
        upper=_settled(upper, row, orders, scribe),
        is_one_frame=row.face_frame == "one",
        has_middle_stiles=row.middle_stiles,
        counter_thickness_mm=thickness,
        counter_height_mm=counter,
        upper_bottom_mm=upper_bottom,
        room_height_mm=row.room_height.mm if row.room_height else None,
        aisle_mm=row.aisle.mm if row.aisle else None,
        cooks=row.cooks,
    )


def _top_of_base(row: RunItemRow, made: Ordered) -> float:
    """Return how high a box reaches that carries the counter; 0 for what does not."""
    order = made.cabinets.get(row.cabinet or "")
    if row.corner is not None:
        height = made.corners[row.corner].left.height_mm
    elif order is not None and order.kind in CARRIES_COUNTER:
        height = order.height_mm
    else:
        return 0.0
    return height + _base_mm(row, made)


def _base_mm(row: RunItemRow, made: Ordered) -> float:
    return made.ladders[row.on].height_mm if row.on is not None and row.on in made.ladders else 0.0


def _with_leg(number: int, items: Sequence[RunItem], left: str, made: Ordered) -> RunItem:
    """Return a corner with the leg that stands along this wall, as long as that; anything else as it is."""
    item = items[number]
    if item.sort != "corner":
        return item
    leg = leg_at(number, len(items), left)
    corner = made.corners[item.name]
    order = corner.left if leg == "left" else corner.right
    return replace(item, leg=leg, width_mm=order.width_mm, height_mm=order.height_mm)


def _sort(row: RunItemRow) -> str:
    for sort in ("cabinet", "corner", "appliance", "filler"):
        if getattr(row, sort) is not None:
            return sort
    return "gap"


def _item(row: RunItemRow, made: Ordered, bottom: float, height: float) -> RunItem:
    sort = _sort(row)
    order = made.cabinets.get(row.cabinet or "")
    width = row.filler or row.gap or row.width
    use = row.use or ("sink" if order is not None and order.kind is CabinetKind.SINK else "other")
    height = row.height.mm if row.height else height - _base_mm(row, made)
    return RunItem(
        sort=sort,
        name=row.cabinet or row.corner or row.appliance or sort,
        width_mm=order.width_mm if order is not None else width.mm if isinstance(width, Length) else 0.0,
        is_fill=width == "fill",
        height_mm=order.height_mm if order is not None else 0.0 if sort == "gap" else height,
        use=use,
        bottom_mm=row.bottom.mm if row.bottom else bottom + _base_mm(row, made),
        stock=row.stock or "",
        on=row.on if row.on is not None and row.on in made.ladders else "",
    )


def _settled(
    items: Sequence[RunItem], row: RunRow, orders: Mapping[str, CabinetOrder], scribe: float
) -> tuple[RunItem, ...]:
    left = row.length.mm - sum(item.width_mm for item in items)
    found = []
    for number, item in enumerate(items):
        if item.is_fill:
            item = replace(item, width_mm=left)
        if item.sort == "filler":
            at_wall = (number == 0 and row.left == "wall") or (number == len(items) - 1 and row.right == "wall")
            item = _as_high_as_beside(replace(item, scribe_mm=scribe if at_wall else 0.0), items, number, orders)
        found.append(item)
    return tuple(found)


def _as_high_as_beside(
    filler: RunItem, items: Sequence[RunItem], number: int, orders: Mapping[str, CabinetOrder]
) -> RunItem:
    """Return the filler with the height of the box beside it, the one at its left first, above that one's kick."""
    for other in (*items[max(0, number - 1) : number], *items[number + 1 : number + 2]):
        order = orders.get(other.name) if other.sort in ("cabinet", "corner") else None
        if order is not None:
            kick = order.construction.kick_height_mm if KINDS[order.kind].has_kick else 0.0
            height, bottom = order.height_mm - kick, other.bottom_mm + kick
            return replace(filler, height_mm=height, bottom_mm=bottom, beside=order.name)
    return filler


def _mm(given: Length | None, default: str, units: Units) -> float:
    return (given or read_length(default, units)).mm
