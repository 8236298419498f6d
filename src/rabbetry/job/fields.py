"""The kinds of value a job file holds: lengths with bounds, choices, names. Each refuses with a reason and a cure.

Validators read two things from the context: `units`, the unit of bare numbers, and `odd_sizes`, whether sizes that look
like inches in a job in millimetres are accepted.
"""

import re
from collections.abc import Callable, Mapping
from enum import StrEnum
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo, WithJsonSchema

from rabbetry.errors import did_you_mean, shown
from rabbetry.job.model import CabinetKind, Grain, Hold, Nailer, Units
from rabbetry.job.words import BackPlace
from rabbetry.units import Length, LengthError, read_length

MAX_NAME = 60
MAX_PART_NAME = 300
MAX_STOCK_NAME = 30
MAX_QTY = 200
MAX_CABINET_WIDTH_MM = 2400.0
"""The length of a blank cut from the largest usual sheet."""
MAX_CABINET_HEIGHT_MM = 2800.0
MAX_CABINET_DEPTH_MM = 1250.0
MAX_PART_MM = 5000.0

ODD_WIDTH_MM, ODD_HEIGHT_MM, ODD_DEPTH_MM = 100.0, 150.0, 100.0
ODD_PART_MM, ODD_DRAWER_MM, ODD_BLANK_MM = 40.0, 40.0, 100.0
ODD_KICK_MM = 20.0
"""Sizes of a job in millimetres below these are taken for inches until the job says otherwise."""

LENGTH_SCHEMA = {
    "description": 'a number in the job\'s unit, or text with a unit such as "18 mm", "23 1/4 in", "1\' 11 3/4\\""',
    "anyOf": [{"type": "number"}, {"type": "string"}],
}


class Row(BaseModel):
    """A table of the job file: no key but the known ones, no value silently made into another kind."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, arbitrary_types_allowed=True)


def length_reader(
    *,
    above_mm: float | None = None,
    least_mm: float | None = None,
    most_mm: float | None = None,
    odd_below_mm: float = 0.0,
) -> Callable[[object, ValidationInfo], Length]:
    """Return a validator for a length within bounds.

    Bare numbers below `odd_below_mm` in a job in millimetres look like inches and need the job's `accept_odd_sizes`.
    """

    def read(value: object, info: ValidationInfo) -> Length:
        context = info.context or {}
        length = read_length(
            value, str(context.get("units", "mm")), above_mm=above_mm, least_mm=least_mm, most_mm=most_mm
        )
        return not_odd(length, context, odd_below_mm)

    return read


def not_odd(length: Length, context: Mapping[str, object], odd_below_mm: float) -> Length:
    """Return the length. Raises LengthError when it looks like inches and the context does not accept odd sizes."""
    if is_odd(length, str(context.get("units", "mm")), odd_below_mm) and not context.get("odd_sizes"):
        cure = f'write "{length.text} in", or set accept_odd_sizes = true at the top of the file'
        raise LengthError(f"{length.text} mm is very small: inches meant?", cure)
    return length


def is_odd(length: Length, units: str, odd_below_mm: float) -> bool:
    """Tell whether a bare number of a job in millimetres is so small that inches may be meant."""
    return units == "mm" and not length.has_unit and 0 < length.mm < odd_below_mm


def choice(words: type[StrEnum] | tuple[str, ...]) -> tuple[BeforeValidator, WithJsonSchema]:
    """Return the validator and schema of a word out of `words`, to stand in an Annotated type."""
    known = tuple(str(word) for word in words)

    def read(value: object) -> object:
        if not isinstance(value, str) or value not in known:
            raise LengthError(f"{shown(value)} is not one of the choices", did_you_mean(str(value), known))
        return str(value)

    return BeforeValidator(read), WithJsonSchema({"enum": list(known)})


def _read_back(value: object) -> bool | str:
    """A cabinet has a back or not; or the word that says where it stands."""
    if isinstance(value, bool):
        return value
    known = tuple(str(word) for word in BackPlace)
    if not isinstance(value, str) or value not in known:
        cure = did_you_mean(str(value), known) + " (or true, false)"
        raise LengthError(f"{shown(value)} is not one of the choices", cure)
    return value


def _name_reader(most: int) -> Callable[[object], str]:
    def read(value: object) -> str:
        if not isinstance(value, str):
            raise LengthError(f"{shown(value)} is not text in quotes")
        text = value.strip()
        if not text:
            raise LengthError("the name is empty", "give a name that will do on a label")
        if len(text) > most:
            raise LengthError(f"{shown(text)} has {len(text)} signs, more than the {most} allowed", "shorten it")
        if not text.isprintable():
            raise LengthError(f"{shown(text)} has signs that cannot be printed", "remove line breaks and control signs")
        return text

    return read


def _machine_name(value: object) -> str:
    """A machine is named, or is a table of changes with the name of the row it changes."""
    if isinstance(value, dict):
        if "name" not in value:
            raise LengthError("the table has no name", "write name = ... with the row of the machines table to change")
        value = value["name"]
    return _name_reader(MAX_NAME)(value)


_STOCK_NAME = re.compile(r"\w[\w +-]*(?:\.[\w +-]+)*")


def stock_name_fault(name: str) -> str:
    """Say why a stock's name will not do as part of file names, or nothing when it will."""
    if len(name) > MAX_STOCK_NAME:
        return f"{shown(name)} has {len(name)} signs, more than the {MAX_STOCK_NAME} allowed"
    if not _STOCK_NAME.fullmatch(name) or name != name.strip():
        return f"{shown(name)} has signs other than letters, digits, blank, hyphen, plus, underscore and inner points"
    return ""


Text = Annotated[str, BeforeValidator(_name_reader(MAX_NAME)), WithJsonSchema({"type": "string"})]
PartName = Annotated[str, BeforeValidator(_name_reader(MAX_PART_NAME)), WithJsonSchema({"type": "string"})]
MachineName = Annotated[
    str, BeforeValidator(_machine_name), WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "object"}]})
]
UnitsWord = Annotated[str, *choice(Units)]
KindWord = Annotated[str, *choice(CabinetKind)]
GrainWord = Annotated[str, *choice(Grain)]
HoldWord = Annotated[str, *choice(Hold)]
NailerWord = Annotated[str, *choice(Nailer)]
BackWord = Annotated[
    bool | str,
    BeforeValidator(_read_back),
    WithJsonSchema({"anyOf": [{"type": "boolean"}, {"enum": [str(word) for word in BackPlace]}]}),
]
HingeWord = Annotated[str, *choice(("left", "right"))]
AxisWord = Annotated[str, *choice(("x", "y"))]
DirectionWord = Annotated[str, *choice(("climb", "conventional"))]
Count = Annotated[int, Field(ge=0, le=MAX_QTY)]
Few = Annotated[int, Field(ge=0, le=20)]

AS_LENGTH = WithJsonSchema(LENGTH_SCHEMA)
Distance = Annotated[Length, BeforeValidator(length_reader(least_mm=0.0, most_mm=1000.0)), AS_LENGTH]
Place = Annotated[Length, BeforeValidator(length_reader(least_mm=-1000.0, most_mm=5000.0)), AS_LENGTH]
ClampSize = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=1500.0)), AS_LENGTH]
Thickness = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=100.0)), AS_LENGTH]
BlankSize = Annotated[
    Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=5000.0, odd_below_mm=ODD_BLANK_MM)), AS_LENGTH
]
Width = Annotated[
    Length,
    BeforeValidator(length_reader(above_mm=0.0, most_mm=MAX_CABINET_WIDTH_MM, odd_below_mm=ODD_WIDTH_MM)),
    AS_LENGTH,
]
Height = Annotated[
    Length,
    BeforeValidator(length_reader(above_mm=0.0, most_mm=MAX_CABINET_HEIGHT_MM, odd_below_mm=ODD_HEIGHT_MM)),
    AS_LENGTH,
]
Depth = Annotated[
    Length,
    BeforeValidator(length_reader(above_mm=0.0, most_mm=MAX_CABINET_DEPTH_MM, odd_below_mm=ODD_DEPTH_MM)),
    AS_LENGTH,
]
PartSize = Annotated[
    Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=MAX_PART_MM, odd_below_mm=ODD_PART_MM)), AS_LENGTH
]
DrawerLength = Annotated[Length, BeforeValidator(length_reader(least_mm=150.0, most_mm=900.0)), AS_LENGTH]


def _read_drawers(value: object, info: ValidationInfo) -> tuple[Length | None, ...]:
    """A number of drawers, or their fronts' heights from the top down; 0 stands for an equal share of the rest."""
    if isinstance(value, int) and not isinstance(value, bool):
        if not 0 <= value <= 10:
            raise LengthError(f"{value} drawers are not between 0 and 10")
        return (None,) * value
    if not isinstance(value, list):
        raise LengthError(f"{shown(value)} is neither a number of drawers nor a list of front heights")
    if len(value) > 10:
        raise LengthError(f"{len(value)} drawers are more than 10")
    read = length_reader(least_mm=0.0, most_mm=MAX_CABINET_HEIGHT_MM, odd_below_mm=ODD_DRAWER_MM)
    heights = [read(item, info) for item in value]
    return tuple(height if height.mm > 0 else None for height in heights)


Drawers = Annotated[
    tuple[Length | None, ...],
    BeforeValidator(_read_drawers),
    WithJsonSchema({"anyOf": [{"type": "integer"}, {"type": "array", "items": LENGTH_SCHEMA}]}),
]
