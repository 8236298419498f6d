"""[defaults.KIND]: what all cabinets of one kind have unless their own table says otherwise.

One change there changes every cabinet of the kind. The keys are those of [[cabinet]], but for name, kind and qty.
The file's tables are merged as parsed, so that a required key may stand in either; each fault is told once, where it
stands.
"""

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field, create_model
from pydantic.fields import FieldInfo

from rabbetry.job.fields import Row
from rabbetry.job.model import CabinetKind
from rabbetry.job.places import Location

_OWN = ("name", "kind", "qty")
"""Keys that only a cabinet itself can have."""


def default_row(cabinet: type[Row]) -> type[Row]:
    """Return the model of one [defaults.KIND] table: the keys of `cabinet` that a kind may share, none required."""
    fields: dict[str, Any] = {
        key: (_may_be_missing(info), Field(default=None, description=info.description))
        for key, info in cabinet.model_fields.items()
        if key not in _OWN
    }
    meaning = "What the cabinets of one kind have where their own table does not say otherwise."
    return create_model("DefaultRow", __base__=Row, __doc__=meaning, **fields)


def defaults_row(default: type[Row]) -> type[Row]:
    """Return the model of [defaults]: one table for each kind."""
    fields: dict[str, Any] = {
        kind.value: (default | None, Field(default=None, description=f"for every cabinet of kind {kind}"))
        for kind in CabinetKind
    }
    meaning = "What all cabinets of a kind have in common, one [defaults.KIND] each."
    return create_model("DefaultsRow", __base__=Row, __doc__=meaning, **fields)


def with_defaults(data: Mapping[str, object]) -> Mapping[str, object]:
    """Return the parsed file with each cabinet's missing keys taken from its kind's defaults."""
    cabinets = data.get("cabinet")
    if not isinstance(cabinets, list) or not isinstance(data.get("defaults"), Mapping):
        return data
    return {**data, "cabinet": [{**_shared(data, row), **row} if isinstance(row, Mapping) else row for row in cabinets]}


def is_from_defaults(location: Location, data: Mapping[str, object]) -> bool:
    """Tell whether what stands at a location of the merged file is its kind's default, not the cabinet's own."""
    cabinets = data.get("cabinet")
    if len(location) < 3 or location[0] != "cabinet" or not isinstance(cabinets, list):
        return False
    row = cabinets[int(location[1])]
    return isinstance(row, Mapping) and location[2] not in row and location[2] in _shared(data, row)


def _shared(data: Mapping[str, object], row: Mapping[str, object]) -> Mapping[str, object]:
    defaults = data.get("defaults")
    shared = defaults.get(row.get("kind")) if isinstance(defaults, Mapping) else None
    return {key: value for key, value in shared.items() if key not in _OWN} if isinstance(shared, Mapping) else {}


def _may_be_missing(info: FieldInfo) -> Any:
    kind: Any = info.annotation
    if info.metadata:
        kind = Annotated[(kind, *info.metadata)]
    return kind | None
