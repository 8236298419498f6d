"""Documents made from the job file's model: a JSON Schema for editors, and a reference for people."""

import json
from collections.abc import Iterator, Mapping

from rabbetry.job.hardware import HARDWARE_FIELDS
from rabbetry.job.kinds import KINDS, Default
from rabbetry.job.model import Construction, Units
from rabbetry.job.rows import CabinetBase, JobRow
from rabbetry.job.settings import SETTINGS, WORD_SETTINGS, default_construction
from rabbetry.job.special_rows import CornerBase
from rabbetry.units import show_length

_TABLES = (
    ("Top of the file", None),
    ("[stock.NAME]", "StockRow"),
    ("[use]", "UseRow"),
    ("[[cabinet]]", "CabinetRow"),
    ("fronts of a [[cabinet]]", "FrontRow"),
    ("columns of a [[cabinet]]", "ColumnRow"),
    ("opening of a [[cabinet]]", "OpeningRow"),
    ("cut_outs of a [[cabinet]]", "CutOutRow"),
    ("[[corner]]", "CornerRow"),
    ("[[ladder_base]]", "LadderRow"),
    ("[[part]]", "PartRow"),
    ("[[part.holes]]", "HoleRow"),
    ("[[part.dados]] and [[part.grooves]]", "StripRow"),
    ("[[part.rabbets]]", "RabbetRow"),
    ("[[part.pockets]]", "PocketRow"),
    ("[[part.cutouts]]", "AreaRow"),
    ("[[panel]]", "PanelRow"),
    ("[[filler]]", "FillerRow"),
    ("[[run]]", "RunRow"),
    ("items and upper of a [[run]]", "RunItemRow"),
    ("[[kick]]", "KickRow"),
    ("[[vent]]", "VentRow"),
    ("[cutting]", "CuttingRow"),
    ("[[clamp]]", "ClampRow"),
)

_INTRODUCTION = """\
# The job file

A job file is TOML. This reference is made from the model that reads it; `docs/job.schema.json` is the same for editors.

A *length* is a number in the job's unit (`units`), or text that may carry its own: `"18 mm"`, `"1.8 cm"`, `"1/4 in"`,
`"23-1/4"`, `"7/8"`, `"1' 11 3/4\\""`. Fractions are for inches only. A decimal comma, an exponent, a fraction of one
or more after whole inches, or two units are refused rather than guessed. Every key that is not in this list is refused
too, with the nearest name.
"""

_SHOP = """\
## Rows of the shop's tables

The package has tables of machines, cutters, materials, chip loads, sheet goods and hardware. A job may change single
keys of a row or add rows: `[machine]` with `name` and the keys to change, `[[cutter]]` by `number`, `[[chip_load]]` by
`material` and `diameter`, all others by `name`: `[[sheet]]`, `[[material]]`, `[[tuning]]`, `[[pin_system]]`,
`[[hinge_cup]]`, `[[hinge_plate]]`, `[[slide]]`, `[[box_screw]]`. A file of your own, named by `tables`, holds the same
rows (machines there as `[[machine]]`), with its own `units` at the top, millimetres unless said. The keys are in
`docs/shop-tables.md`.
"""


_DEFAULTS = """\
## [defaults.KIND]

What all cabinets of a kind share: `[defaults.base]` with `depth = 592` makes every base 592 deep. Any key of a
[[cabinet]] but `name`, `kind` and `qty` may stand there, settings of the joinery too. A cabinet's own key wins over its
kind's default, and both win over [construction].
"""


def job_schema_json() -> str:
    """Return the JSON Schema of the job file, as text."""
    schema = JobRow.model_json_schema()
    return json.dumps({"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}, indent=1) + "\n"


def job_reference_md() -> str:
    """Return the reference of the job file in Markdown: every key with its value, default and meaning."""
    return "\n".join([_INTRODUCTION, *_sections(), _SHOP])


def _sections() -> Iterator[str]:
    schema = JobRow.model_json_schema()
    for title, name in _TABLES:
        table = schema if name is None else schema["$defs"][name]
        yield f"## {title}\n"
        yield f"{table['description'] if name else 'These keys stand before the first table.'}\n"
        own = {"CabinetRow": CabinetBase.model_fields, "CornerRow": CornerBase.model_fields}.get(name or "")
        yield from _table(table, only=set(own) if own else None)
        if name == "CabinetRow":
            yield from _kinds()
            yield _DEFAULTS
    yield from _settings()


def _table(table: Mapping[str, object], only: set[str] | None) -> Iterator[str]:
    properties, required = table["properties"], table.get("required", [])
    assert isinstance(properties, dict)
    assert isinstance(required, list)
    yield "| key | value | default | meaning |"
    yield "| --- | --- | --- | --- |"
    for key, entry in properties.items():
        if only is None or key in only:
            default = "required" if key in required else _default(entry)
            yield f"| `{key}` | {_value(entry)} | {default} | {entry.get('description', '')} |"
    yield ""


def _default(entry: Mapping[str, object]) -> str:
    value = entry.get("default")
    return "" if value is None or value == "" else f"`{json.dumps(value)}`"


def _value(entry: Mapping[str, object]) -> str:
    """Say in a word or two what a key takes."""
    if "$ref" in entry:
        return "table"
    if "enum" in entry:
        words = entry["enum"]
        assert isinstance(words, list)
        return ", ".join(f"`{word}`" for word in words)
    options = entry.get("anyOf")
    if isinstance(options, list):
        kinds = [option.get("type") for option in options]
        if kinds == ["number", "string"]:
            return "length"
        return " or ".join(dict.fromkeys(_value(option) for option in options if option.get("type") != "null"))
    if entry.get("type") == "array":
        items = entry["items"]
        assert isinstance(items, dict)
        if items.get("type") == "array":
            return "list of pairs"
        return "tables" if "$ref" in items else f"list of {_value(items)}s"
    words_by_type = {"string": "text", "integer": "whole number", "number": "number", "boolean": "true or false"}
    return words_by_type.get(str(entry.get("type")), "table" if entry.get("type") == "object" else "tables")


def _kinds() -> Iterator[str]:
    yield "| kind | what it is | height | depth | shelves | nailer |"
    yield "| --- | --- | --- | --- | --- | --- |"
    for row in KINDS.values():
        sizes = " | ".join(_either(size) for size in (row.height, row.depth))
        yield f"| `{row.kind}` | {row.meaning} | {sizes} | {row.shelves} | `{row.nailer}` |"
    yield ""


def _either(size: Default) -> str:
    return f"{size[Units.MM]} mm or {size[Units.INCH]} in"


def _settings() -> Iterator[str]:
    metric, inch = default_construction(Units.MM), default_construction(Units.INCH)
    yield "## [construction]\n"
    yield "Settings of the joinery for the whole job; any of them may stand in a [[cabinet]] too.\n"
    yield "Choices of words; what each does, with its arithmetic, is in [construction.md](construction.md):\n"
    yield "| key | words | default | meaning |"
    yield "| --- | --- | --- | --- |"
    for choice in WORD_SETTINGS:
        words = ", ".join(f"`{word}`" for word in choice.words)
        yield f"| `{choice.key}` | {words} | `{getattr(metric, choice.key)}` | {choice.meaning} |"
    yield "\nLengths:\n"
    yield "| key | default in mm jobs | default in inch jobs | from | to | meaning |"
    yield "| --- | --- | --- | --- | --- | --- |"
    for row in SETTINGS:
        bounds = f"{show_length(row.least_mm, 'mm')} | {show_length(row.most_mm, 'mm')}"
        in_inches = show_length(_of(inch, row.field), "in" if row.inches is not None else "mm")
        yield f"| `{row.key}` | {show_length(_of(metric, row.field), 'mm')} | {in_inches} | {bounds} | {row.meaning} |"
    yield ""
    yield "### Hardware\n"
    yield (
        "These keys, in `[construction]` or in a [[cabinet]], name rows of the hardware tables (docs/shop-tables.md). "
        "A row lays its lengths over the settings above; a length that stands beside the key lies over the row.\n"
    )
    yield from _table(JobRow.model_json_schema()["$defs"]["CabinetRow"], only=set(HARDWARE_FIELDS))


def _of(construction: Construction, field: str) -> float:
    return float(getattr(construction, field))
