"""Shop tables from TOML text: the package's, then the user's own file, then the job's overrides, key by key.

A later source changes single keys of a row that an earlier one has, or adds a whole row. Each source has its own unit
for bare numbers (`units`, millimetres unless said).
"""

import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from pydantic import ValidationError

from rabbetry.errors import Fault, InputError, did_you_mean, row_faults, shown
from rabbetry.shop.hardware import Hardware
from rabbetry.shop.hardware_rows import HARDWARE_ROWS
from rabbetry.shop.model import Tables
from rabbetry.shop.rows import ChipLoadRow, CutterRow, MachineRow, MaterialRow, Row, SheetRow, TuningRow
from rabbetry.units import LengthError, read_length

_ROWS: dict[str, type[Row]] = {
    "machine": MachineRow,
    "cutter": CutterRow,
    "material": MaterialRow,
    "chip_load": ChipLoadRow,
    "sheet": SheetRow,
    "tuning": TuningRow,
    **HARDWARE_ROWS,
}
_KEYS: dict[str, tuple[str, ...]] = {"cutter": ("number",), "chip_load": ("material", "diameter")}
"""What names a row; where not listed, its `name`."""

MAX_ROWS = 1000
"""More rows than this in one source are no shop's tables."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Source:
    file: str
    units: str
    rows: tuple[tuple[str, Mapping[str, object]], ...]
    """Kind and raw row."""
    faults: tuple[Fault, ...]


@dataclass(slots=True)
class _Merged:
    """A row while it is put together: each key's value with the file and the unit it came from."""

    kind: str
    label: str
    values: dict[str, object] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    units: dict[str, str] = field(default_factory=dict)
    file: str = ""


def read_tables(
    texts: Mapping[str, str],
    *,
    own: Mapping[str, str] | None = None,
    overrides: Mapping[str, object] | None = None,
    file: str = "",
) -> Tables:
    """Return every row of the tables, sorted by name or number.

    `texts` are the package's tables and `own` the user's, file name to TOML text; `overrides` is the parsed job file,
    of which only `units` and the shop's rows are read, and `file` its name. Raises InputError with all faults of all
    sources.
    """
    sources = [_from_text(text, name) for name, text in {**texts, **(own or {})}.items()]
    if overrides:
        sources.append(_from_job(overrides, file))
    faults = [fault for source in sources for fault in source.faults]
    merged: dict[tuple[str, str], _Merged] = {}
    for source in sources:
        faults.extend(_merge(source, merged))
    records: dict[str, list[object]] = {kind: [] for kind in _ROWS}
    for row in merged.values():
        row_faults_found, record = _validate(row, merged)
        faults.extend(row_faults_found)
        if record is not None:
            records[row.kind].append(record)
    faults.extend(_unknown_materials(merged))
    faults.extend(_unknown_cutters(merged))
    if faults:
        raise InputError(*faults)
    return _tables(records)


def _from_text(text: str, file: str) -> _Source:
    try:
        data = tomllib.loads(text.removeprefix("\ufeff"))
    except (ValueError, RecursionError) as error:
        reason = str(error) if not isinstance(error, RecursionError) else "lists or tables are nested too deeply"
        return _Source(
            file=file, units="mm", rows=(), faults=(Fault(file=file, place="", problem=f"not TOML: {reason}"),)
        )
    known = ("units", *_ROWS)
    faults = [
        Fault(file=file, place="", problem=f"{shown(key)} is not a known key", cure=did_you_mean(key, known))
        for key in data
        if key not in known
    ]
    return _source(data, file, faults)


def _from_job(data: Mapping[str, object], file: str) -> _Source:
    machine = data.get("machine")
    kept = {kind: value for kind, value in data.items() if kind in _ROWS or kind == "units"}
    kept.pop("machine", None)
    if isinstance(machine, Mapping):
        # a machine with nothing but its name only chooses one; the job's reader says so when there is none of that name
        changes = set(machine) - {"name"}
        kept |= {"machine": [machine]} if changes else {}
    if kept.get("units") not in ("mm", "in"):
        kept["units"] = "mm"  # the job's reader says what is wrong with it
    return _source(kept, file, [])


def _source(data: Mapping[str, object], file: str, faults: list[Fault]) -> _Source:
    units = data.get("units", "mm")
    if units not in ("mm", "in"):
        faults.append(
            Fault(file=file, place="units", problem=f"{shown(units)} is not a unit", cure='write "mm" or "in"')
        )
        units = "mm"
    rows: list[tuple[str, Mapping[str, object]]] = []
    for kind in _ROWS:
        entries = data.get(kind, [])
        if not isinstance(entries, list) or not all(isinstance(entry, Mapping) for entry in entries):
            cure = f"begin each row with [[{kind}]]"
            faults.append(Fault(file=file, place=kind, problem=f"{shown(entries)} is not a list of tables", cure=cure))
        elif len(entries) > MAX_ROWS:
            problem = f"{len(entries)} rows are more than the {MAX_ROWS} allowed"
            faults.append(Fault(file=file, place=kind, problem=problem))
        else:
            rows.extend((kind, entry) for entry in entries)
    return _Source(file=file, units=str(units), rows=tuple(rows), faults=tuple(faults))


def _merge(source: _Source, merged: dict[tuple[str, str], _Merged]) -> Iterator[Fault]:
    """Lay the source's rows over what is there. Yields a fault for a row without its key, or twice in one source."""
    seen: set[tuple[str, str]] = set()
    for kind, raw in source.rows:
        names = _KEYS.get(kind, ("name",))
        missing = [name for name in names if name not in raw]
        if missing:
            cure = f"write `{missing[0]} = ...`, which tells the row from the others"
            yield Fault(file=source.file, place=f"[[{kind}]]", problem=f"a row has no {missing[0]}", cure=cure)
            continue
        key = (kind, " ".join(_key_text(raw[name], source.units, name) for name in names))
        label = f"{kind.replace('_', ' ')} {' '.join(shown(raw[name]) for name in names)}"
        if key in seen:
            yield Fault(file=source.file, place=label, problem="stands twice", cure="keep one of the two rows")
            continue
        seen.add(key)
        row = merged.setdefault(key, _Merged(kind=kind, label=label))
        row.file = source.file
        for name, value in raw.items():
            row.values[name] = value
            row.files[name] = source.file
            row.units[name] = source.units


def _key_text(value: object, units: str, name: str) -> str:
    if name != "diameter":
        return shown(value)
    try:
        return f"{read_length(value, units).mm:.3f}"
    except LengthError:
        return shown(value)


def _validate(row: _Merged, merged: Mapping[tuple[str, str], _Merged]) -> tuple[tuple[Fault, ...], object]:
    model = _ROWS[row.kind]
    lacking = [name for name, info in model.model_fields.items() if info.is_required() and name not in row.values]
    if lacking and len(set(row.files.values())) == 1:
        same_kind = sorted(str(other.values["name"]) for other in merged.values() if _is_whole(other, row.kind))
        problem = f"is a new row and lacks {', '.join(lacking)}"
        cure = "give them, or correct what names the row"
        if row.kind not in _KEYS:
            cure = did_you_mean(str(row.values["name"]), same_kind)
        return (Fault(file=row.file, place=row.label, problem=problem, cure=cure),), None
    try:
        return (), model.model_validate(row.values, context={"units": row.units}).record()  # type: ignore[attr-defined]
    except ValidationError as error:
        found: list[Fault] = []
        for complaint in error.errors(include_url=False):
            first = str(complaint["loc"][0]) if complaint["loc"] else ""
            file = row.files.get(first, row.file)
            found.extend(row_faults([dict(complaint)], file=file, place=_placer(row.label), known=_known_keys(model)))
        return tuple(found), None


def _is_whole(row: _Merged, kind: str) -> bool:
    return row.kind == kind and "name" in row.values and "source" in row.values


def _placer(label: str) -> Callable[[tuple[str | int, ...]], str]:
    def place(location: tuple[str | int, ...]) -> str:
        words = [f"entry {part + 1}" if isinstance(part, int) else part for part in location]
        return ", ".join([label, *words])

    return place


def _known_keys(model: type[Row]) -> Callable[[tuple[str | int, ...]], Sequence[str]]:
    def known(location: tuple[str | int, ...]) -> Sequence[str]:
        return ("mark", "rpm") if location and location[0] == "dial" else tuple(model.model_fields)

    return known


def _unknown_materials(merged: Mapping[tuple[str, str], _Merged]) -> Iterator[Fault]:
    known = sorted(str(row.values["name"]) for row in merged.values() if row.kind == "material")
    for row in merged.values():
        material = row.values.get("material")
        if row.kind in ("chip_load", "sheet", "tuning") and isinstance(material, str) and material not in known:
            place = f"{row.label}, material"
            problem = f"{shown(material)} is not in the materials table"
            yield Fault(file=row.files["material"], place=place, problem=problem, cure=did_you_mean(material, known))


def _unknown_cutters(merged: Mapping[tuple[str, str], _Merged]) -> Iterator[Fault]:
    known = {row.values["number"] for row in merged.values() if row.kind == "cutter"}
    for row in merged.values():
        number = row.values.get("cutter")
        if row.kind == "tuning" and isinstance(number, int) and number not in known:
            numbers = ", ".join(sorted((str(item) for item in known), key=lambda text: (len(text), text)))
            problem = f"there is no cutter {number} in the tables"
            cure = f"write one of {numbers}"
            yield Fault(file=row.files["cutter"], place=f"{row.label}, cutter", problem=problem, cure=cure)


def _tables(records: Mapping[str, list[object]]) -> Tables:
    def sort(kind: str, *names: str) -> tuple[object, ...]:
        return tuple(sorted(records[kind], key=lambda row: tuple(getattr(row, name) for name in names)))

    return Tables(
        machines=sort("machine", "name"),  # type: ignore[arg-type]
        cutters=sort("cutter", "number"),  # type: ignore[arg-type]
        chip_loads=sort("chip_load", "material", "diameter_mm"),  # type: ignore[arg-type]
        materials=sort("material", "name"),  # type: ignore[arg-type]
        sheet_goods=sort("sheet", "name"),  # type: ignore[arg-type]
        tunings=sort("tuning", "name"),  # type: ignore[arg-type]
        hardware=Hardware(
            pin_systems=sort("pin_system", "name"),  # type: ignore[arg-type]
            hinge_cups=sort("hinge_cup", "name"),  # type: ignore[arg-type]
            hinge_plates=sort("hinge_plate", "name"),  # type: ignore[arg-type]
            slides=sort("slide", "name"),  # type: ignore[arg-type]
            box_screws=sort("box_screw", "name"),  # type: ignore[arg-type]
        ),
    )
