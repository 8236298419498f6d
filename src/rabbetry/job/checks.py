"""What the tables of a job file must agree on among themselves and with the shop's tables.

Works on the file as parsed, not on the checked rows, so that these faults are told in the same run as wrong values.
What has the wrong kind is passed over here: the row model has said so already.
"""

import unicodedata
from collections.abc import Iterator, Mapping

from rabbetry.errors import Fault, did_you_mean, shown
from rabbetry.job.choice_checks import check_choices
from rabbetry.job.fields import stock_name_fault
from rabbetry.job.hardware import unknown_rows
from rabbetry.job.kick_checks import check_kicks, rows_of
from rabbetry.job.kick_rows import MAX_KICKS, MAX_VENTS
from rabbetry.job.part_orders import check_part
from rabbetry.job.places import place_of
from rabbetry.job.rows import MAX_CABINETS, MAX_CLAMPS, MAX_CUTTERS, MAX_PARTS, MAX_STOCKS
from rabbetry.job.run_checks import check_runs
from rabbetry.job.run_rows import MAX_RUNS
from rabbetry.shop.model import Machine, SheetGood, Tables
from rabbetry.units import LengthError, read_length, show_length

THICKNESS_SHARE = 0.3
"""A measured thickness further than this share from the nominal one is another sheet or another unit."""

MAX_ORDERS = 2000
"""Cabinets and parts of one job, copies counted: eighty kitchens."""

_PARTS = ("part", "panel", "filler")
"""Lists of tables that make parts of their own."""

_NAMED = ("cabinet", "corner", "ladder_base", *_PARTS, "kick")
"""Tables whose rows have names and are counted."""

_GROUPS = ("carcass", "side", "back", "drawer", "drawer_bottom", "front")


def check_agreement(data: Mapping[str, object], *, file: str, tables: Tables) -> tuple[Fault, ...]:
    """Return a fault for every name that is not there or stands twice, every stock that does not suit its sheet or the
    machine, and a job that has nothing or too much to make."""
    if _has_too_many(data):
        return ()
    found = [
        *_machine(data, tables),
        *_cutters(data, tables),
        *_stocks(data, tables),
        *_clamps(data, tables),
        *_uses(data),
        *unknown_rows(data, tables.hardware),
        *check_kicks(data),
        *_names(data),
        *check_runs(data),
        *_how_many(data),
        *check_choices(data),
    ]
    return tuple(Fault(file=file, place=place, problem=problem, cure=cure) for place, problem, cure in found)


def _has_too_many(data: Mapping[str, object]) -> bool:
    """Tell whether a list is longer than the row model accepts: it has said so, and comparing all would take long."""
    sizes = {
        "cabinet": MAX_CABINETS,
        "part": MAX_PARTS,
        "kick": MAX_KICKS,
        "vent": MAX_VENTS,
        "run": MAX_RUNS,
        "panel": MAX_PARTS,
        "filler": MAX_PARTS,
        "clamp": MAX_CLAMPS,
        "stock": MAX_STOCKS,
        "cutters": MAX_CUTTERS,
    }
    rows = [(data.get(key), most) for key, most in sizes.items()]
    return any(isinstance(value, list | Mapping) and len(value) > most for value, most in rows)


Said = Iterator[tuple[str, str, str]]
"""Place, problem, cure."""


def machine_name(data: Mapping[str, object]) -> str | None:
    """Return the name of the machine the job asks for, or None when it asks for none."""
    machine = data.get("machine")
    if isinstance(machine, Mapping):
        machine = machine.get("name")
    return machine if isinstance(machine, str) else None


def _machine(data: Mapping[str, object], tables: Tables) -> Said:
    name = machine_name(data)
    known = [machine.name for machine in tables.machines]
    if name is not None and name not in known:
        yield "machine", f"{shown(name)} is not in the machines table", did_you_mean(name, known)


def _cutters(data: Mapping[str, object], tables: Tables) -> Said:
    numbers = data.get("cutters")
    if not isinstance(numbers, list):
        return
    own = [row.get("number") for row in rows_of(data, "cutter")]
    known = {*(cutter.number for cutter in tables.cutters), *(number for number in own if isinstance(number, int))}
    for index, number in enumerate(numbers):
        if not isinstance(number, int) or isinstance(number, bool):
            continue
        if number in numbers[:index]:
            yield "cutters", f"{shown(number)} stands twice", "name each cutter once"
        elif number not in known:
            cure = f"known: {', '.join(f'{cutter.number} ({cutter.name})' for cutter in tables.cutters)}"
            yield "cutters", f"there is no cutter {shown(number)}", cure
    cutting = data.get("cutting")
    profile = cutting.get("profile_cutter") if isinstance(cutting, Mapping) else None
    if isinstance(profile, int) and profile not in numbers:
        yield (
            "[cutting], profile_cutter",
            f"cutter {shown(profile)} is not among cutters",
            "add it there, or take another",
        )


def _stocks(data: Mapping[str, object], tables: Tables) -> Said:
    goods = {good.name: good for good in tables.sheet_goods}
    machine = next((row for row in tables.machines if row.name == machine_name(data)), None)
    units = "in" if data.get("units") == "in" else "mm"
    for name, row in _stock_rows(data).items():
        place = f"stock {shown(name)}"
        if fault := stock_name_fault(name):
            yield place, fault, "the name becomes part of file names"
        sheet = row.get("sheet")
        if isinstance(sheet, str) and sheet not in goods:
            yield f"{place}, sheet", f"{shown(sheet)} is not in the sheet-goods table", did_you_mean(sheet, list(goods))
        elif isinstance(sheet, str) and "thickness" in row:
            yield from _thickness(f"{place}, thickness", row["thickness"], units, goods[sheet])
        if machine is not None:
            yield from _blank(f"{place}, blank", row.get("blank"), units, machine)
        yield from _trim(f"{place}, trim", row, units)


def _thickness(place: str, value: object, units: str, good: SheetGood) -> Said:
    measured = _mm(value, units)
    if measured is None or abs(measured - good.nominal_mm) <= good.nominal_mm * THICKNESS_SHARE:
        return
    nominal = show_length(good.nominal_mm, units)
    other = "in" if units == "mm" else "mm"
    in_other = _mm(value, other) if isinstance(value, int | float) else None
    means = in_other is not None and abs(in_other - good.nominal_mm) <= good.nominal_mm * THICKNESS_SHARE
    cure = f'did you mean "{value} {other}"?' if means else "measure again, or name another sheet"
    yield place, f"{shown(value)} is far from the {nominal} of sheet {shown(good.name)}", cure


def _blank(place: str, value: object, units: str, machine: Machine) -> Said:
    if not isinstance(value, list) or len(value) != 2:
        return
    for axis, size, bed_mm in zip("xy", value, machine.bed_mm, strict=True):
        size_mm = _mm(size, units)
        if size_mm is not None and size_mm > bed_mm:
            over = show_length(size_mm - bed_mm, units)
            problem = f"{shown(size)} along {axis} is {over} more than the bed of machine {shown(machine.name)} holds"
            yield place, problem, f"break the sheet down to {show_length(bed_mm, units)} or less"


def _trim(place: str, row: Mapping[str, object], units: str) -> Said:
    """The trim of both edges must leave something of the blank."""
    blank, trim_mm = row.get("blank"), _mm(row.get("trim"), units)
    sizes = (
        [size for size in (_mm(item, units) for item in blank) if size is not None] if isinstance(blank, list) else []
    )
    if trim_mm is not None and sizes and 2 * trim_mm >= min(sizes) > 0:
        problem = f"{shown(row['trim'])} along both edges leaves nothing of {show_length(min(sizes), units)}"
        yield place, problem, f"less than {show_length(min(sizes) / 2, units)} is expected"


def _clamps(data: Mapping[str, object], tables: Tables) -> Said:
    """A traverse above a clamp must stay within the z travel, on the thickest stock of the job."""
    machine = next((row for row in tables.machines if row.name == machine_name(data)), None)
    sheets = [row.get("sheet") for row in _stock_rows(data).values()]
    thickest = max((good.nominal_mm for good in tables.sheet_goods if good.name in sheets), default=0.0)
    units = "in" if data.get("units") == "in" else "mm"
    if machine is None:
        return
    room_mm = machine.travel_max_mm[2] - machine.spoilboard_z_mm - thickest - machine.clamp_margin_mm
    for index, row in enumerate(rows_of(data, "clamp")):
        height_mm = _mm(row.get("height"), units)
        if height_mm is not None and height_mm > room_mm:
            room = show_length(max(room_mm, 0.0), units)
            problem = f"{shown(row['height'])} is more than the {room} that machine {shown(machine.name)} can lift over"
            yield place_of(("clamp", index, "height"), data), problem, "use a lower clamp"


def _uses(data: Mapping[str, object]) -> Said:
    stocks = list(_stock_rows(data))
    use = data.get("use")
    places: list[tuple[str, object]] = [("[use]", use)]
    places += [
        (f"{place_of(('cabinet', index), data)}, stocks", row.get("stocks"))
        for index, row in enumerate(rows_of(data, "cabinet"))
    ]
    for place, table in places:
        for group in _GROUPS:
            name = table.get(group) if isinstance(table, Mapping) else None
            if isinstance(name, str) and name not in stocks:
                yield f"{place}, {group}", f"there is no stock {shown(name)}", did_you_mean(name, stocks)
    for index, row in enumerate(rows_of(data, "part")):
        yield from check_part(place_of(("part", index), data), row, stocks)
    parts = [(kind, index, row) for kind in _PARTS for index, row in enumerate(rows_of(data, kind))]
    for kind, index, row in parts:
        name = row.get("stock")
        if isinstance(name, str) and name not in stocks:
            place = place_of((kind, index, "stock"), data)
            yield place, f"there is no stock {shown(name)}", did_you_mean(name, stocks)
    has_carcass = isinstance(use, Mapping) and "carcass" in use
    for index, row in enumerate(rows_of(data, "ladder_base")):
        name = row.get("stock")
        if isinstance(name, str) and name not in stocks:
            place = place_of(("ladder_base", index, "stock"), data)
            yield place, f"there is no stock {shown(name)}", did_you_mean(name, stocks)
    if len(stocks) > 1 and not has_carcass and any(rows_of(data, kind) for kind in ("cabinet", "corner")):
        yield "[use], carcass", "is missing", f"name the stock for carcasses: {', '.join(stocks)}"


def _names(data: Mapping[str, object]) -> Said:
    """Labels must tell parts apart at a glance: names that differ in capitals or blanks alone count as alike."""
    first: dict[str, str] = {}
    for kind in _NAMED:
        for row in rows_of(data, kind):
            name = row.get("name")
            if not isinstance(name, str):
                continue
            key = " ".join(unicodedata.normalize("NFKC", name).casefold().split())
            if key in first:
                yield f"{kind} {shown(name)}", f"has the same name as {first[key]}", "give each a name of its own"
            first.setdefault(key, f"{kind} {shown(name)}")


def _how_many(data: Mapping[str, object]) -> Said:
    kinds = [data.get(kind, []) for kind in _NAMED]
    if any(not isinstance(rows, list) for rows in kinds):
        return
    orders = [row for rows in kinds if isinstance(rows, list) for row in rows]
    if not orders:
        yield "", "the job has no cabinets and no parts", "add a [[cabinet]] or a [[part]]"
        return
    counts = [row.get("qty", 1) if isinstance(row, Mapping) else 1 for row in orders]
    total = sum(count for count in counts if isinstance(count, int) and not isinstance(count, bool) and count > 0)
    if total > MAX_ORDERS:
        problem = f"{total} cabinets and parts are more than the {MAX_ORDERS} one job may have"
        yield "", problem, "split the job"
    elif all(count == 0 for count in counts):
        yield "", "every cabinet and part has qty 0, so nothing is left to make", "set a qty of 1 or more"


def _stock_rows(data: Mapping[str, object]) -> Mapping[str, Mapping[str, object]]:
    stocks = data.get("stock")
    if not isinstance(stocks, Mapping):
        return {}
    return {str(name): row for name, row in stocks.items() if isinstance(row, Mapping)}


def _mm(value: object, units: str) -> float | None:
    try:
        return read_length(value, units).mm
    except LengthError:
        return None
