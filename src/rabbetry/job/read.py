"""The job file: TOML text to a `Job`, or every fault of the file at once."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace

from pydantic import ValidationError

from rabbetry.errors import Fault, InputError, row_faults, shown
from rabbetry.findings import Finding, finding
from rabbetry.job.checks import check_agreement
from rabbetry.job.choice_rows import ColumnRow, CutOutRow, FillerRow, FrontRow, OpeningRow, PanelRow
from rabbetry.job.fields import (
    ODD_BLANK_MM,
    ODD_DEPTH_MM,
    ODD_DRAWER_MM,
    ODD_HEIGHT_MM,
    ODD_KICK_MM,
    ODD_PART_MM,
    ODD_WIDTH_MM,
    Row,
    is_odd,
)
from rabbetry.job.floor_file import FloorFile, floor_file_names, read_floor
from rabbetry.job.kick_checks import covered_names
from rabbetry.job.kick_orders import with_kicks
from rabbetry.job.kick_rows import KickRow, VentRow
from rabbetry.job.kind_rows import is_from_defaults, with_defaults
from rabbetry.job.model import CabinetKind, Job
from rabbetry.job.orders import job_from_rows
from rabbetry.job.part_rows import AreaRow, HoleRow, LayerRow, PartRow, PocketRow, RabbetRow, StripRow
from rabbetry.job.places import Location, lengths_in, place_of
from rabbetry.job.rows import (
    CabinetRow,
    ClampRow,
    ConstructionRow,
    CuttingRow,
    DefaultRow,
    DefaultsRow,
    JobBase,
    JobRow,
    StockRow,
    UseRow,
)
from rabbetry.job.run_rows import RunItemRow, RunRow
from rabbetry.job.settings import SETTINGS
from rabbetry.job.special_rows import CornerRow, LadderRow
from rabbetry.job.toml_fault import toml_fault
from rabbetry.shop.model import Tables
from rabbetry.units import Length

MAX_JOB_SIGNS = 1_000_000
"""A job of 500 cabinets with every key written out is a tenth of this."""

_TABLES: dict[str, type[Row]] = {
    "stock": StockRow,
    "use": UseRow,
    "construction": ConstructionRow,
    "cutting": CuttingRow,
    "cabinet": CabinetRow,
    "part": PartRow,
    "corner": CornerRow,
    "ladder_base": LadderRow,
    "holes": HoleRow,
    "dados": StripRow,
    "grooves": StripRow,
    "rabbets": RabbetRow,
    "pockets": PocketRow,
    "cutouts": AreaRow,
    "layers": LayerRow,
    "clamp": ClampRow,
    "kick": KickRow,
    "vent": VentRow,
    "stocks": UseRow,
    "fronts": FrontRow,
    "columns": ColumnRow,
    "opening": OpeningRow,
    "cut_outs": CutOutRow,
    "panel": PanelRow,
    "filler": FillerRow,
    "run": RunRow,
    "items": RunItemRow,
    "upper": RunItemRow,
    "defaults": DefaultsRow,
    **{kind.value: DefaultRow for kind in CabinetKind},
}
_ODD_MM = {
    ("cabinet", "width"): ODD_WIDTH_MM,
    ("cabinet", "height"): ODD_HEIGHT_MM,
    ("cabinet", "depth"): ODD_DEPTH_MM,
    ("cabinet", "drawers"): ODD_DRAWER_MM,
    ("part", "length"): ODD_PART_MM,
    ("part", "width"): ODD_PART_MM,
    ("stock", "blank"): ODD_BLANK_MM,
    ("kick", "length"): ODD_PART_MM,
    ("kick", "heights"): ODD_KICK_MM,
    **{(table, row.key): row.odd_below_mm for row in SETTINGS for table in ("cabinet", "construction")},
}
_ODD_MM |= {("defaults", key): least for (table, key), least in _ODD_MM.items() if table == "cabinet"}
"""Bounds by table and key; construction settings may stand in two tables."""


def read_overrides(text: str, *, file: str) -> Mapping[str, object]:
    """Return the parsed job file, for `read_tables` to take the shop's rows from. Raises InputError if not TOML."""
    return _parse(text, file)


def own_tables_name(text: str, *, file: str) -> str:
    """Return the file of shop tables that the job names, or "" when it names none. Raises InputError if not TOML."""
    name = _parse(text, file).get("tables", "")
    return name.strip() if isinstance(name, str) else ""


def floor_files_named(text: str, *, file: str) -> tuple[str, ...]:
    """Return the measurement files that the job's toe kicks name. Raises InputError if not TOML."""
    return floor_file_names(_parse(text, file))


def drawings_named(text: str, *, file: str) -> tuple[str, ...]:
    """Return the drawing files that the job's parts name. Raises InputError if not TOML."""
    rows = _parse(text, file).get("part")
    names = [row.get("drawing") for row in rows if isinstance(row, Mapping)] if isinstance(rows, list) else []
    return tuple(dict.fromkeys(name.strip() for name in names if isinstance(name, str) and name.strip()))


def read_job(text: str, *, file: str, tables: Tables, floors: Mapping[str, str] | None = None) -> Job:
    """Return the job that the text describes, lengths in millimetres. Raises InputError with all faults of the file.

    `floors` are the texts of the measurement files that toe kicks name, by name.
    """
    data = _parse(text, file)
    units = "in" if data.get("units") == "in" else "mm"
    odd = data.get("accept_odd_sizes") is True
    faults: list[Fault] = []
    row: JobBase | None = None
    merged = with_defaults(data)
    try:
        row = JobRow.model_validate(merged, context={"units": units, "odd_sizes": odd})
    except ValidationError as error:
        complaints = [
            dict(complaint)
            for complaint in error.errors(include_url=False)
            if not is_from_defaults(complaint["loc"], data)
        ]
        faults += row_faults(
            complaints, file=file, place=lambda location: place_of(location, data), known=_known_keys, wanted=_wanted
        )
    faults += check_agreement(merged, file=file, tables=tables)
    measured, wrong = _floors(data, floors or {}, file, {"units": units, "odd_sizes": odd})
    faults += wrong
    if row is None or faults:
        raise InputError(*faults)
    job = job_from_rows(row, file=file, tables=tables)
    carcass = row.use.carcass or job.stocks[0].name
    job, wrong = with_kicks(job, row.kick, row.vent, measured, carcass)
    if wrong:
        raise InputError(*wrong)
    lengths = [
        (place_of(location, data), location, length)
        for location, length in lengths_in(row)
        if not is_from_defaults(location, data)
    ]
    echoes = tuple(f"{place}: {length.echo}" for place, _, length in lengths if length.spelt)
    return replace(job, echoes=echoes, notes=(*_left_out(row), *_doubtful(lengths, units, file)))


def _parse(text: str, file: str) -> Mapping[str, object]:
    if len(text) > MAX_JOB_SIGNS:
        problem = f"{len(text)} signs are more than the {MAX_JOB_SIGNS} allowed"
        raise InputError(Fault(file=file, place="", problem=problem, cure="is it the right file?"))
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except RecursionError:
        fault = Fault(
            file=file, place="", problem="lists or tables are nested too deeply", cure="is it the right file?"
        )
    except ValueError as error:
        fault = toml_fault(str(error), file)
    raise InputError(fault)


def _floors(
    data: Mapping[str, object], texts: Mapping[str, str], file: str, context: Mapping[str, object]
) -> tuple[dict[str, FloorFile], tuple[Fault, ...]]:
    """Read every measurement file that the job names, and return the faults of all."""
    read: dict[str, FloorFile] = {}
    faults: list[Fault] = []
    cabinets = covered_names(data)
    for name in floor_file_names(data):
        if name in texts:
            read[name], wrong = read_floor(texts[name], file=name, context=context, cabinets=cabinets)
            faults += wrong
        else:
            faults.append(Fault(file=file, place="kick, measurements", problem=f"{shown(name)} was not read"))
    return read, tuple(faults)


def _known_keys(location: Location) -> Sequence[str]:
    return tuple(_table_at(location).model_fields)


def _table_at(location: Location) -> type[Row]:
    """Return the model of the table at a location: the innermost name on the way that is a table's."""
    for part in reversed(location):
        if isinstance(part, str) and part in _TABLES:
            return _TABLES[part]
    return JobRow


def _wanted(location: Location) -> str:
    """Say what to write where a key is missing, and what it means."""
    key = str(location[-1])
    if key == "stock":
        return "begin one with [stock.NAME]"
    meaning = _table_at(location[:-1]).model_fields[key].description
    return f"write `{key} = ...` ({meaning})"


def _left_out(row: JobBase) -> list[Finding]:
    orders = [("cabinet", order.name) for order in row.cabinet if order.qty == 0]
    orders += [("part", order.name) for order in row.part if order.qty == 0]
    orders += [("corner", order.name) for order in row.corner if order.qty == 0]
    orders += [("ladder_base", order.name) for order in row.ladder_base if order.qty == 0]
    return [finding("quantity-zero", f'{kind} "{name}": qty is 0; left out') for kind, name in orders]


def _doubtful(lengths: Sequence[tuple[str, Location, Length]], units: str, file: str) -> list[Finding]:
    """Say which lengths were read as written although something else may have been meant."""
    found: list[Finding] = []
    for place, location, length in lengths:
        if length.improper:
            whole = f"{length.echo}; was a mixed number meant?"
            found.append(finding("improper-fraction", f"{place}: {whole}", file=file))
        inner = [part for part in location if part in ("fronts", "opening", "cut_outs")]
        table = str(inner[0] if inner and location[0] == "cabinet" else location[0])
        if is_odd(length, units, _odd_below_mm(table, location)):
            found.append(finding("odd-size", f"{place}: {length.text} mm is very small: inches meant?", file=file))
    return found


def _odd_below_mm(table: str, location: Location) -> float:
    """Return the size below which a length there looks like inches. What is cut into a part may be as small as it
    likes: its tables stand within the part's."""
    words = [part for part in location if isinstance(part, str)]
    return 0.0 if table == "part" and len(words) > 2 else _ODD_MM.get((table, words[-1]), 0.0)
