"""What the runs of a job must agree on with its cabinets and stocks. Works on the file as parsed."""

from collections import Counter
from collections.abc import Iterator, Mapping

from rabbetry.errors import did_you_mean, shown
from rabbetry.job.run_rows import leg_at

Said = Iterator[tuple[str, str, str]]
_SORTS = ("cabinet", "corner", "appliance", "filler", "gap")
_HUNG = ("wall", "wall blind corner")


def check_runs(data: Mapping[str, object]) -> Said:
    """Yield place, problem and cure of every item that is not one thing, names what is not there, hangs where it should
    stand, or of which there are too few; and of what fills a wall twice."""
    left = _by_name(data.get("cabinet"))
    used: Counter[str] = Counter()
    corners, legs = _by_name(data.get("corner")), Counter[tuple[str, str]]()
    names: set[str] = set()
    stocks = data.get("stock")
    stocks = list(stocks) if isinstance(stocks, Mapping) else []
    for run in _rows(data.get("run")):
        name = str(run.get("name"))
        if name in names:
            yield f"run {shown(name)}", "has the same name as another run", "give each a name of its own"
        names.add(name)
        for row in ("items", "upper"):
            items = [{"cabinet": item} if isinstance(item, str) else item for item in _list(run.get(row))]
            place = f"run {shown(name)}, {row}"
            yield from _fills(place, items)
            for number, item in enumerate(items, start=1):
                if isinstance(item, Mapping):
                    yield from _item(f"{place}, entry {number}", item, row, left, stocks)
                    if isinstance(item.get("cabinet"), str):
                        used[str(item["cabinet"])] += 1
            yield from _corners(place, items, row, run, corners, legs)
            yield from _bases(place, items, row, _by_name(data.get("ladder_base")))
    for (name, leg), count in legs.items():
        qty = corners[name].get("qty", 1) if name in corners else count
        if isinstance(qty, int) and 0 < qty < count:
            cure = f"each copy has one {leg} leg: set qty = {count}, or mend the runs"
            yield f"corner {shown(name)}", f"stands {count} times with its {leg} leg, and {qty} are ordered", cure
    for name, count in used.items():
        qty = left[name].get("qty", 1) if name in left else count
        if isinstance(qty, int) and 0 < qty < count:
            cure = f"each copy stands in one place: set qty = {count}"
            yield f"cabinet {shown(name)}", f"stands {count} times in runs, and {qty} are ordered", cure


def _item(
    place: str, item: Mapping[str, object], row: str, cabinets: Mapping[str, Mapping[str, object]], stocks: list[str]
) -> Said:
    sorts = [sort for sort in _SORTS if sort in item]
    if len(sorts) != 1:
        problem = f"has {' and '.join(sorts)}" if sorts else "has none of them"
        yield place, problem, f"write exactly one of {', '.join(_SORTS)}"
        return
    name = item.get("cabinet")
    if isinstance(name, str) and name not in cabinets:
        yield place, f"there is no cabinet {shown(name)}", did_you_mean(name, list(cabinets))
    elif isinstance(name, str) and (cabinets[name].get("kind") in _HUNG) != (row == "upper"):
        other = "items" if row == "upper" else "upper"
        what = "stands on the floor" if row == "upper" else "hangs on the wall"
        yield place, f"cabinet {shown(name)} {what}", f"name it in `{other}`"
    if "appliance" in item and "width" not in item:
        yield place, "an appliance has no width", "write width = ... with the room it takes along the wall"
    stock = item.get("stock")
    if isinstance(stock, str) and stock not in stocks:
        yield place, f"there is no stock {shown(stock)}", did_you_mean(stock, stocks)


def _corners(
    place: str,
    items: list[object],
    row: str,
    run: Mapping[str, object],
    corners: Mapping[str, Mapping[str, object]],
    legs: Counter[tuple[str, str]],
) -> Said:
    """Yield what is wrong with the corners of a row, and count their legs."""
    for number, item in enumerate(items):
        name = item.get("corner") if isinstance(item, Mapping) else None
        if not isinstance(name, str):
            continue
        where = f"{place}, entry {number + 1}"
        if name not in corners:
            yield where, f"there is no corner {shown(name)}", did_you_mean(name, list(corners))
            continue
        if (corners[name].get("wall") is True) != (row == "upper"):
            other = "items" if row == "upper" else "upper"
            what = "stands on the floor" if row == "upper" else "hangs on the wall"
            yield where, f"corner {shown(name)} {what}", f"name it in `{other}`"
        if number not in (0, len(items) - 1):
            yield where, f"corner {shown(name)} is neither first nor last", "a corner stands at an end of the wall"
        legs[name, leg_at(number, len(items), str(run.get("left", "wall")))] += 1


def _bases(place: str, items: list[object], row: str, bases: Mapping[str, Mapping[str, object]]) -> Said:
    for number, item in enumerate(items, start=1):
        name = item.get("on") if isinstance(item, Mapping) else None
        if not isinstance(name, str) or not isinstance(item, Mapping):
            continue
        where = f"{place}, entry {number}"
        if name not in bases:
            yield where, f"there is no ladder_base {shown(name)}", did_you_mean(name, list(bases))
        if row == "upper" or "filler" in item or "gap" in item:
            what = "what hangs on the wall" if row == "upper" else "a filler or a gap"
            yield where, f"{what} stands on no ladder base", "leave `on` out"


def _by_name(value: object) -> dict[str, Mapping[str, object]]:
    return {str(row.get("name")): row for row in _rows(value)}


def _fills(place: str, items: list[object]) -> Said:
    fills = [item for item in items if isinstance(item, Mapping) and "fill" in (item.get("filler"), item.get("gap"))]
    if len(fills) > 1:
        yield place, f"{len(fills)} items fill what is left", "let one fill, and give the others a width"


def _rows(value: object) -> list[Mapping[str, object]]:
    return [row for row in _list(value) if isinstance(row, Mapping)]


def _list(value: object) -> list[object]:
    return list(value) if isinstance(value, list) else []
