"""From the rows of a run to a run whose widths and heights are settled: what fills gets what the others leave, a filler
the height of its neighbour. Millimetres."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rabbetry.job.choices import RunItem, RunOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetKind, CabinetOrder, Units
from rabbetry.job.run_rows import RunItemRow, RunRow
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


def run_order(row: RunRow, cabinets: Sequence[CabinetOrder], units: Units) -> RunOrder:
    """Return the run, settled. Cabinets that are left out of the job are left out of the run too."""
    orders = {order.name: order for order in cabinets}
    upper_bottom = _mm(row.upper_bottom, _UPPER[units], units)
    thickness = _mm(row.counter_thickness, _COUNTER[units], units)
    lower_row = [item for item in row.items if item.cabinet is None or item.cabinet in orders]
    upper_row = [item for item in row.upper if item.cabinet is None or item.cabinet in orders]
    bases = [orders[item.cabinet] for item in lower_row if item.cabinet is not None]
    under = max((order.height_mm for order in bases if order.kind in CARRIES_COUNTER), default=0.0)
    given = row.counter_height.mm if row.counter_height else None
    counter = given if given is not None else under + thickness if under else None
    appliance = counter - thickness if counter is not None else _mm(None, _UNDER_COUNTER[units], units)
    lower = [_item(item, orders, 0.0, appliance) for item in lower_row]
    hung = _mm(None, _HUNG_APPLIANCE[units], units)
    upper = [_item(item, orders, upper_bottom, hung) for item in upper_row]
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


def _item(row: RunItemRow, orders: Mapping[str, CabinetOrder], bottom: float, height: float) -> RunItem:
    sort = "cabinet" if row.cabinet else "appliance" if row.appliance else "filler" if row.filler else "gap"
    order = orders.get(row.cabinet or "")
    width = row.filler or row.gap or row.width
    use = row.use or ("sink" if order is not None and order.kind is CabinetKind.SINK else "other")
    height = row.height.mm if row.height else height
    return RunItem(
        sort=sort,
        name=row.cabinet or row.appliance or sort,
        width_mm=order.width_mm if order is not None else width.mm if isinstance(width, Length) else 0.0,
        is_fill=width == "fill",
        height_mm=order.height_mm if order is not None else 0.0 if sort == "gap" else height,
        use=use,
        bottom_mm=row.bottom.mm if row.bottom else bottom,
        stock=row.stock or "",
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
    """Return the filler with the height of the cabinet beside it, the one at its left first, above that one's kick."""
    for other in (*items[max(0, number - 1) : number], *items[number + 1 : number + 2]):
        order = orders.get(other.name) if other.sort == "cabinet" else None
        if order is not None:
            kick = order.construction.kick_height_mm if KINDS[order.kind].has_kick else 0.0
            height, bottom = order.height_mm - kick, other.bottom_mm + kick
            return replace(filler, height_mm=height, bottom_mm=bottom, beside=order.name)
    return filler


def _mm(given: Length | None, default: str, units: Units) -> float:
    return (given or read_length(default, units)).mm
