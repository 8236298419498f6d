"""Words and lengths of `[cutting]` that say how an edge is finished."""

from typing import Annotated

from pydantic import BeforeValidator

from rabbetry.job.fields import AS_LENGTH, choice, length_reader
from rabbetry.units import Length

WasteWord = Annotated[str, *choice(("chips", "leave"))]
FinishWord = Annotated[str, *choice(("last pass", "own pass", "none"))]
Allowance = Annotated[Length, BeforeValidator(length_reader(least_mm=0.05, most_mm=0.5)), AS_LENGTH]
