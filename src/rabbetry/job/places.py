"""Where something stands in a job file, in the user's words; and every length of a file with its place."""

from collections.abc import Iterator, Mapping

from pydantic import BaseModel

from rabbetry.errors import shown
from rabbetry.units import Length

Location = tuple[str | int, ...]

_LISTS = ("cabinet", "corner", "ladder_base", "part", "clamp", "panel", "filler", "kick", "vent", "run")
"""Keys of the file that hold tables with names."""


def place_of(location: Location, data: Mapping[str, object]) -> str:
    """Return words such as `cabinet "B3", width` or `[construction], dado_depth` for a location in the parsed file."""
    if not location:
        return ""
    head, rest = location[0], location[1:]
    if head in _LISTS and rest and isinstance(rest[0], int):
        words = [f"{head} {_row_name(data, str(head), rest[0])}"]
        rest = rest[1:]
    elif head == "stock" and rest:
        words = [f"stock {shown(str(rest[0]))}"]
        rest = rest[1:]
    elif head == "defaults" and rest:
        words = [f"[defaults.{rest[0]}]"]
        rest = rest[1:]
    else:
        is_table = isinstance(data.get(str(head)), Mapping)
        words = [f"[{head}]" if is_table else str(head)]
    return ", ".join([*words, *(f"entry {part + 1}" if isinstance(part, int) else str(part) for part in rest)])


def _row_name(data: Mapping[str, object], kind: str, index: int) -> str:
    """Return the row's name in quotes, or its number in the file when it has none."""
    rows = data.get(kind)
    row = rows[index] if isinstance(rows, list) and index < len(rows) else None
    name = row.get("panel" if kind == "vent" else "name") if isinstance(row, Mapping) else None
    return shown(name) if isinstance(name, str) and name.strip() else f"number {index + 1}"


def lengths_in(row: BaseModel, location: Location = ()) -> Iterator[tuple[Location, Length]]:
    """Yield every length of a checked row and of the rows within, with its location, in the order of the model."""
    for name in type(row).model_fields:
        yield from _lengths(getattr(row, name), (*location, name))


def _lengths(value: object, location: Location) -> Iterator[tuple[Location, Length]]:
    if isinstance(value, Length):
        yield location, value
    elif isinstance(value, BaseModel):
        yield from lengths_in(value, location)
    elif isinstance(value, Mapping):
        for name, item in value.items():
            yield from _lengths(item, (*location, str(name)))
    elif isinstance(value, list | tuple):
        for index, item in enumerate(value):
            yield from _lengths(item, (*location, index))
