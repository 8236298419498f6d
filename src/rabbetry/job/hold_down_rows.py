"""Words and sizes of the screws that hold a blank down."""

from typing import Annotated

from pydantic import BeforeValidator

from rabbetry.job.basics import Units
from rabbetry.job.fields import AS_LENGTH, choice, length_reader
from rabbetry.units import Length

HoldDownWord = Annotated[str, *choice(("none", "screws"))]
ScrewSize = Annotated[Length, BeforeValidator(length_reader(least_mm=1.0, most_mm=25.0)), AS_LENGTH]

SCREW_HOLE = {Units.MM: "3 mm", Units.INCH: "1/8 in"}
SCREW_HEAD = {Units.MM: "9 mm", Units.INCH: "3/8 in"}
SCREW_HEAD_HEIGHT = {Units.MM: "4 mm", Units.INCH: "3/16 in"}
"""Common practice, no source: a No. 8 or 4 mm wood screw."""
