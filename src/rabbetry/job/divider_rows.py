"""The job file's words for dividers and two-face work: how many or where, which holes, how sheets are flipped."""

from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from rabbetry.errors import shown
from rabbetry.job.fields import AS_LENGTH, LENGTH_SCHEMA, MAX_CABINET_WIDTH_MM, choice, length_reader
from rabbetry.units import Length, LengthError

MAX_DIVIDERS = 6
"""More would not leave a useful column in the widest cabinet."""


def _read_dividers(value: object, info: ValidationInfo) -> tuple[Length | None, ...]:
    """A number of dividers, or the distances of their left faces from the left side's inside face."""
    if isinstance(value, int) and not isinstance(value, bool):
        if not 0 <= value <= MAX_DIVIDERS:
            raise LengthError(f"{value} dividers are not between 0 and {MAX_DIVIDERS}")
        return (None,) * value
    if not isinstance(value, list):
        raise LengthError(
            f"{shown(value)} is neither a number of dividers nor a list of distances from the left side's inside face",
            "write dividers = 1, or dividers = [400] for a first column 400 wide",
        )
    if len(value) > MAX_DIVIDERS:
        raise LengthError(f"{len(value)} dividers are more than {MAX_DIVIDERS}")
    read = length_reader(above_mm=0.0, most_mm=MAX_CABINET_WIDTH_MM, odd_below_mm=20.0)
    return tuple(read(item, info) for item in value)


Dividers = Annotated[
    tuple[Length | None, ...],
    BeforeValidator(_read_dividers),
    WithJsonSchema({"anyOf": [{"type": "integer"}, {"type": "array", "items": LENGTH_SCHEMA}]}),
]
PinsWord = Annotated[str, *choice(("through", "blind"))]
TwoFacesWord = Annotated[str, *choice(("flip", "refuse"))]
IndexHole = Annotated[Length, BeforeValidator(length_reader(least_mm=2.0, most_mm=20.0)), AS_LENGTH]
IndexDepth = Annotated[Length, BeforeValidator(length_reader(least_mm=1.0, most_mm=20.0)), AS_LENGTH]
