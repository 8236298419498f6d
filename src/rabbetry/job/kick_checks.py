"""What toe kicks and vents of a job file must agree on with its cabinets and stocks, in the file as parsed."""

from collections.abc import Iterator, Mapping, Sequence

from rabbetry.errors import did_you_mean, shown
from rabbetry.job.fields import MAX_QTY
from rabbetry.job.kinds import KINDS
from rabbetry.job.places import place_of

_HUNG = frozenset(str(kind) for kind, row in KINDS.items() if not row.has_kick)


def rows_of(data: Mapping[str, object], kind: str) -> Sequence[Mapping[str, object]]:
    """Return the tables of a list of tables, passing over what is none."""
    rows = data.get(kind)
    return [row for row in rows if isinstance(row, Mapping)] if isinstance(rows, list) else []


def covered_names(data: Mapping[str, object]) -> tuple[str, ...]:
    """Return the names a toe kick may cover: of cabinets, fillers and ladder bases, copies too (of three B1: B1, B1-2,
    B1-3), and of either leg of a corner that stands on the floor."""
    plain = [name for kind in ("cabinet", "filler", "ladder_base") for row in rows_of(data, kind) for name in _own(row)]
    standing = [row for row in rows_of(data, "corner") if row.get("wall") is not True]
    return (*plain, *(f"{name} {hand}" for row in standing for name in _own(row) for hand in ("left", "right")))


def _own(row: Mapping[str, object]) -> Iterator[str]:
    name, qty = row.get("name"), row.get("qty", 1)
    if isinstance(name, str) and isinstance(qty, int) and 0 < qty <= MAX_QTY:
        yield name.strip()
        yield from (f"{name.strip()}-{k}" for k in range(2, qty + 1))


def _legs_cure(name: str, row: Mapping[str, object]) -> str:
    if row.get("wall") is True:
        return "it hangs on the wall, without a toe kick: leave it out"
    return f"name one leg: {shown(f'{name} left')} ends a run, {shown(f'{name} right')} begins one"


def check_kicks(data: Mapping[str, object]) -> Iterator[tuple[str, str, str]]:
    """Yield place, problem and cure of every cabinet, filler or stock that a toe kick names and the job has not."""
    kicks = rows_of(data, "kick")
    if not kicks:
        return
    known = covered_names(data)
    corners = {name: row for row in rows_of(data, "corner") for name in _own(row)}
    hung = {name: row.get("kind") for row in rows_of(data, "cabinet") if row.get("kind") in _HUNG for name in _own(row)}
    table = data.get("stock")
    stocks = [str(name) for name in table] if isinstance(table, Mapping) else []
    use = data.get("use")
    has_carcass = isinstance(use, Mapping) and "carcass" in use
    for index, row in enumerate(kicks):
        covers = row.get("covers")
        names = [name.strip() for name in covers if isinstance(name, str)] if isinstance(covers, list) else []
        place = place_of(("kick", index, "covers"), data)
        for number, name in enumerate(names):
            if name in corners:
                yield place, f"{shown(name)} is a corner, which has two fronts", _legs_cure(name, corners[name])
            elif name not in known:
                yield place, f"there is no cabinet, filler or ladder base {shown(name)}", did_you_mean(name, known)
            elif name in names[:number]:
                yield place, f"{shown(name)} stands twice", "name each once, from left to right"
            elif name in hung:
                yield (
                    place,
                    f"{shown(name)} is of kind {hung[name]}, which has no toe kick",
                    "name cabinets that have one",
                )
        stock = row.get("stock")
        place = place_of(("kick", index, "stock"), data)
        if isinstance(stock, str) and stock.strip() not in stocks:
            yield place, f"there is no stock {shown(stock)}", did_you_mean(stock, stocks)
        elif stock is None and len(stocks) > 1 and not has_carcass:
            yield place, "is missing", f"name one of the stocks: {', '.join(stocks)}"
