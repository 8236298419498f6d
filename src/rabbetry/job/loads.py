"""Loads spread over a shelf, as people write them: text with its unit, never a bare number."""

import re
from dataclasses import dataclass
from typing import Annotated

from pydantic import BeforeValidator, WithJsonSchema

from rabbetry.errors import did_you_mean, shown
from rabbetry.units import LengthError

DEFAULT_LOAD = "15 lb/ft2"
"""The load of the cabinet makers' test for shelves and bottoms (ANSI/KCMA A161.1)."""

_PA_PER_LB_FT2 = 4.4482216152605 / 0.3048**2
"""Exact by definition: pound-force in newtons over the square foot (NIST SP 811)."""

_PA_PER_KG_M2 = 9.80665
"""Standard gravity, exact by definition."""

_UNITS = {
    "lb/ft2": _PA_PER_LB_FT2,
    "psf": _PA_PER_LB_FT2,
    "kg/m2": _PA_PER_KG_M2,
    "pa": 1.0,
    "n/m2": 1.0,
    "kpa": 1000.0,
    "kn/m2": 1000.0,
}
_LEAST_PA, _MOST_PA = 10.0, 20_000.0
"""Below lies nothing that is stored; above, no cabinet."""

_LOAD = re.compile(r"([0-9]+(?:\.[0-9]+)?|\.[0-9]+) *([a-z]+(?:/[a-z]+2?)?)", re.ASCII | re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Load:
    """A load in pascals (newtons a square metre), and how it was written."""

    pa: float
    text: str


def read_load(value: object) -> Load:
    """Read a load such as `15 lb/ft2`, `75 kg/m2` or `0.7 kPa`. Raises LengthError with the reason and what to do."""
    if not isinstance(value, str):
        raise LengthError(f"{shown(value)} is a load without its unit", 'write text such as "15 lb/ft2" or "75 kg/m2"')
    match = _LOAD.fullmatch(value.strip().replace("²", "2"))
    if match is None:
        raise LengthError(f"{shown(value)} is not a load", 'write text such as "15 lb/ft2" or "75 kg/m2"')
    unit = match[2].lower()
    if unit not in _UNITS:
        problem = f"{shown(value)} has the unknown unit {match[2]!r}"
        raise LengthError(problem, did_you_mean(unit, ["lb/ft2", "kg/m2", "Pa", "kPa"]))
    pa = float(match[1]) * _UNITS[unit]
    if not _LEAST_PA <= pa <= _MOST_PA:
        raise LengthError(f"{shown(value)} is not between {_LEAST_PA:g} and {_MOST_PA:g} Pa", "check number and unit")
    return Load(pa=pa, text=value.strip())


ShelfLoad = Annotated[
    Load, BeforeValidator(read_load), WithJsonSchema({"type": "string", "examples": ["15 lb/ft2", "75 kg/m2"]})
]
