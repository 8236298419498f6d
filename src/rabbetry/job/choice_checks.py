"""What a cabinet's front, opening and cut-outs must agree on, and the cabinets that panels and fillers name.

Works on the file as parsed, like `checks`; what has the wrong kind is passed over.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import islice

from rabbetry.errors import did_you_mean, shown
from rabbetry.job.places import place_of

Said = Iterator[tuple[str, str, str]]
"""Place, problem, cure."""


def check_choices(data: Mapping[str, object]) -> Said:
    """Yield what is wrong with fronts, openings, cut-outs, panels and fillers."""
    for index, row in _rows(data, "cabinet"):
        at = ("cabinet", index)
        yield from _fronts(data, at, row)
        yield from _opening(data, at, row)
        yield from _cut_outs(data, at, row)
        yield from _columns(data, at, row)
    yield from _named(data)


def _rows(data: Mapping[str, object], kind: str) -> Iterator[tuple[int, Mapping[str, object]]]:
    rows = data.get(kind)
    if isinstance(rows, list):
        yield from ((index, row) for index, row in enumerate(rows) if isinstance(row, Mapping))


def _tables(value: object) -> Sequence[Mapping[str, object]]:
    return [row for row in value if isinstance(row, Mapping)] if isinstance(value, list) else []


def _fronts(data: Mapping[str, object], at: tuple[str, int], row: Mapping[str, object]) -> Said:
    if "fronts" not in row:
        return
    for key in ("doors", "drawers", "adjustable_shelves", "fixed_shelves"):
        if key in row:
            cure = "fronts says it all: write doors and shelves in its entries, and leave this out"
            yield place_of((*at, key), data), "stands beside fronts", cure
    fronts = _tables(row["fronts"])
    for number, front in enumerate(fronts):
        place = place_of((*at, "fronts", number), data)
        if front.get("fill") not in ("door", "open") and (front.get("shelves") or front.get("fixed_shelves")):
            yield place, f"shelves in a {front.get('fill')}", "only door and open take shelves"
    appliances = sum(front.get("fill") == "appliance" for front in fronts)
    if appliances > 1 or (appliances == 0 and "opening" in row):
        problem = f"lists {appliances} appliances, and the cabinet has one opening"
        yield place_of((*at, "fronts"), data), problem, 'write one { fill = "appliance" }'


def _columns(data: Mapping[str, object], at: tuple[str, int], row: Mapping[str, object]) -> Said:
    if "columns" not in row:
        return
    for key in ("fronts", "doors", "drawers", "hinge", "adjustable_shelves", "fixed_shelves", "opening"):
        if key in row:
            cure = "columns says it all: write doors, drawers and shelves in the columns' fronts, and leave this out"
            yield place_of((*at, key), data), "stands beside columns", cure
    columns, dividers = _tables(row["columns"]), row.get("dividers", 0)
    count = len(dividers) if isinstance(dividers, list) else dividers
    if isinstance(count, int) and count and count != len(columns) - 1:
        problem = f"{count} {'divider parts' if count == 1 else 'dividers part'} it into {count + 1} columns, and "
        yield place_of((*at, "columns"), data), f"{problem}{len(columns)} are listed", "list one for each column"
    for number, column in enumerate(columns):
        for index, front in enumerate(_tables(column.get("fronts"))):
            place = place_of((*at, "columns", number, "fronts", index), data)
            if front.get("fill") == "appliance":
                yield place, "an appliance in a column", "an appliance takes the whole width: give it its own cabinet"
            elif front.get("fill") not in ("door", "open") and (front.get("shelves") or front.get("fixed_shelves")):
                yield place, f"shelves in a {front.get('fill')}", "only door and open take shelves"


def _opening(data: Mapping[str, object], at: tuple[str, int], row: Mapping[str, object]) -> Said:
    has_place = any(front.get("fill") == "appliance" for front in _tables(row.get("fronts")))
    if "opening" not in row and (row.get("kind") == "appliance" or has_place):
        cure = "write opening = { width = ..., height = ..., up = ... } from the appliance's sheet"
        yield place_of((*at, "opening"), data), "is missing", cure
    if "opening" in row and row.get("kind") in ("sink", "drawers", "lidded seat"):
        cure = 'take kind = "appliance", or base, wall, open or tall'
        yield place_of((*at, "opening"), data), f"does not go with kind {shown(row.get('kind'))}", cure


def _cut_outs(data: Mapping[str, object], at: tuple[str, int], row: Mapping[str, object]) -> Said:
    for number, hole in enumerate(_tables(row.get("cut_outs"))):
        place = place_of((*at, "cut_outs", number), data)
        sizes = {key for key in ("diameter", "width", "height") if key in hole}
        if sizes not in ({"diameter"}, {"width", "height"}):
            yield place, "has no clear size", "give either diameter, or both width and height"
        unused = "y" if hole.get("through") == "back" else "z"
        if unused in hole:
            cure = "a back's hole has x and z, a bottom's or top's x and y"
            yield f"{place}, {unused}", f"says nothing of a {hole.get('through')}", cure


def _named(data: Mapping[str, object]) -> Said:
    """Panels and fillers name cabinets, copies by their number."""
    taken = {str(row.get("name")).strip() for kind in ("cabinet", "part") for _, row in _rows(data, kind)}
    known = [name for _, row in _rows(data, "cabinet") for name in _copies(row, taken)]
    for index, row in _rows(data, "panel"):
        names = row.get("covers")
        for name in names if isinstance(names, list) else []:
            if isinstance(name, str) and name.strip() not in known:
                place = place_of(("panel", index, "covers"), data)
                yield place, f"there is no cabinet {shown(name)}", did_you_mean(name, known)
    for index, row in _rows(data, "filler"):
        name = row.get("beside")
        if isinstance(name, str) and name.strip() not in known:
            place = place_of(("filler", index, "beside"), data)
            yield place, f"there is no cabinet {shown(name)}", did_you_mean(name, known)


def _copies(row: Mapping[str, object], taken: set[str]) -> Iterator[str]:
    """Yield the names of a cabinet and its copies, numbered past the names that others have."""
    name, count = row.get("name"), row.get("qty", 1)
    if not isinstance(name, str) or not isinstance(count, int) or count < 1:
        return
    yield name.strip()
    numbers = (f"{name.strip()}-{number}" for number in range(2, _MOST_COPIES))
    yield from islice((copy for copy in numbers if copy not in taken), count - 1)


_MOST_COPIES = 500
"""Numbers tried: more than the copies a row may ask for and the names that could be in their way."""
