"""What the runs of a job must agree on with its cabinets and stocks. Works on the file as parsed."""

from collections import Counter
from collections.abc import Iterator, Mapping

from rabbetry.errors import did_you_mean, shown

Said = Iterator[tuple[str, str, str]]
_SORTS = ("cabinet", "appliance", "filler", "gap")
_HUNG = ("wall", "wall blind corner")


def check_runs(data: Mapping[str, object]) -> Said:
    """Yield place, problem and cure of every item that is not one thing, names what is not there, hangs where it should
    stand, or of which there are too few; and of what fills a wall twice."""
    left = {str(row.get("name")): row for row in _rows(data.get("cabinet"))}
    used: Counter[str] = Counter()
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
    for name, count in used.items():
        qty = left[name].get("qty", 1) if name in left else count
        if isinstance(qty, int) and count > qty:
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


def _fills(place: str, items: list[object]) -> Said:
    fills = [item for item in items if isinstance(item, Mapping) and "fill" in (item.get("filler"), item.get("gap"))]
    if len(fills) > 1:
        yield place, f"{len(fills)} items fill what is left", "let one fill, and give the others a width"


def _rows(value: object) -> list[Mapping[str, object]]:
    return [row for row in _list(value) if isinstance(row, Mapping)]


def _list(value: object) -> list[object]:
    return list(value) if isinstance(value, list) else []
