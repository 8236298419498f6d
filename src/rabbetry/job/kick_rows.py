"""The tables of toe kicks and vents as they stand in TOML."""

from collections.abc import Callable
from typing import Annotated

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema

from rabbetry.errors import shown
from rabbetry.job.fields import (
    AS_LENGTH,
    ODD_KICK_MM,
    Distance,
    GrainWord,
    PartName,
    PartSize,
    Row,
    Text,
    choice,
    length_reader,
)
from rabbetry.job.model import KickStyle
from rabbetry.units import Length, LengthError, read_area

MAX_KICKS = 200
MAX_VENTS = 200
MAX_COVERED = 100
MAX_POINTS = 500
MAX_RUN_MM = 30_000.0
MAX_FLOOR_MM = 2000.0
MAX_SLOTS = 400

_read_floor_height = length_reader(above_mm=0.0, most_mm=MAX_FLOOR_MM, odd_below_mm=ODD_KICK_MM)
_read_run_place = length_reader(least_mm=0.0, most_mm=MAX_RUN_MM)

_Reader = Callable[[object, ValidationInfo], Length]


def _pair(value: object, info: ValidationInfo, first: _Reader, second: _Reader, what: str) -> tuple[Length, Length]:
    if not isinstance(value, list) or len(value) != 2:
        raise LengthError(f"{shown(value)} is not a pair", f"write [{what}]")
    return first(value[0], info), second(value[1], info)


def _read_heights(value: object, info: ValidationInfo) -> tuple[tuple[Length, Length], ...]:
    """A list of pairs, or one plain pair."""
    if not isinstance(value, list) or not 0 < len(value) <= MAX_COVERED:
        raise LengthError(f"{shown(value)} is not a list of heights", "write one pair [left, right] for each cabinet")
    rows = value if any(isinstance(item, list) for item in value) else [value]
    return tuple(_pair(row, info, _read_floor_height, _read_floor_height, "left, right") for row in rows)


def _read_points(value: object, info: ValidationInfo) -> tuple[tuple[Length, Length], ...]:
    if not isinstance(value, list) or not 2 <= len(value) <= MAX_POINTS:
        problem = f"{shown(value)} is not a list of 2 to {MAX_POINTS} points"
        raise LengthError(problem, "write one pair [x, height] for each point")
    return tuple(_pair(row, info, _read_run_place, _read_floor_height, "x, height") for row in value)


def _read_area(value: object, info: ValidationInfo) -> float:
    return read_area(value, str((info.context or {}).get("units", "mm")))


_PAIR: dict[str, object] = {
    "type": "array",
    "minItems": 2,
    "maxItems": 2,
    "items": {"anyOf": [{"type": "number"}, {"type": "string"}]},
}
_PAIRS: dict[str, object] = {"type": "array", "items": _PAIR}
_Heights = Annotated[
    tuple[tuple[Length, Length], ...], BeforeValidator(_read_heights), WithJsonSchema({"anyOf": [_PAIRS, _PAIR]})
]
_Points = Annotated[tuple[tuple[Length, Length], ...], BeforeValidator(_read_points), WithJsonSchema(_PAIRS)]
_Drop = Annotated[Length, BeforeValidator(length_reader(least_mm=-100.0, most_mm=200.0)), AS_LENGTH]
_Small = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=1000.0)), AS_LENGTH]
_Spot = Annotated[Length, BeforeValidator(length_reader(least_mm=0.0, most_mm=5000.0)), AS_LENGTH]
_Area = Annotated[
    float, BeforeValidator(_read_area), WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "number"}]})
]


class KickRow(Row):
    """A toe-kick piece, or several in a run, whose lower edge follows the floor as measured. Its top edge is straight
    and lies at the under side of the boxes, which stand level; its ends are square to it. [toe-kicks.md](toe-kicks.md)
    says how to measure and what to mind."""

    name: PartName = Field(description="stands on labels; no two cabinets, parts or kicks alike")
    covers: Annotated[list[Text], Field(min_length=1, max_length=MAX_COVERED)] | None = Field(
        default=None,
        description="names of the cabinets, fillers and ladder bases it runs under, from left to right as seen from "
        'the front; of a corner "N1" its legs, "N1 left" at the end of a run and "N1 right" at the beginning',
    )
    length: PartSize | None = Field(default=None, description="its length, where it covers no cabinets by name")
    style: Annotated[str, *choice(KickStyle)] = Field(
        default="board", description="down to the floor all along, or a strip on a curved foot at either end"
    )
    stock: Text | None = Field(default=None, description="name of a stock; as [use], carcass unless given")
    heights: _Heights | None = Field(
        default=None, description="top edge down to the floor, [left, right] for each cabinet in order"
    )
    points: _Points | None = Field(
        default=None, description="the same at any places along the run: [x, height], x from the left end"
    )
    measurements: Text | None = Field(
        default=None,
        description="CSV file beside the job with the heights instead: columns cabinet,left,right or x,height",
    )
    level_line: Distance | None = Field(
        default=None,
        description="heights were measured from a level line this far above the kick's top edge; 0 unless given",
    )
    drop: _Drop | None = Field(
        default=None,
        description="gap left between lower edge and floor as measured; below 0: surplus to scribe; 0 unless given",
    )
    setback: Distance | None = Field(
        default=None,
        description="the cabinets' front to the kick's face; the toe kick's depth less the piece's thickness",
    )
    face: Annotated[str, *choice(("up", "down"))] = Field(
        default="up", description="show face up or down on the machine; down is cut as the mirror image"
    )
    grain: GrainWord = Field(default="along", description="grain along the length, across it, or free")
    pieces: Annotated[str, *choice(("run", "cabinet"))] = Field(
        default="run", description="pieces as long as the blank allows, or one for each cabinet"
    )
    shims: Distance | None = Field(
        default=None, description="most that feet or shims under a cabinet take up; 20 mm or 3/4 in"
    )
    foot: _Small | None = Field(default=None, description="valance: width of each foot at the floor; 80 mm or 3 in")
    rise: _Small | None = Field(
        default=None,
        description="valance: clear height below it at the floor's highest spot; half the least height unless given",
    )
    apron: _Small | None = Field(
        default=None, description="valance: its own height between the feet, from the top edge; instead of rise"
    )
    radius_share: Annotated[float, Field(ge=0.05, le=1.0, allow_inf_nan=False)] | None = Field(
        default=None, description="valance: corner radius as a share of the clear height at its foot; 0.75"
    )
    radius: _Small | None = Field(
        default=None, description="valance: one radius for all corners, instead of radius_share"
    )


class VentRow(Row):
    """A grille of round-ended slots, cut right through one panel of the job: of a kick, a part or a cabinet."""

    panel: PartName = Field(description='the panel\'s name, such as "B3 back"; the cut list names them all')
    slots: Annotated[int, Field(ge=1, le=MAX_SLOTS)] | None = Field(
        default=None, description="how many; or give free_area"
    )
    free_area: _Area | None = Field(
        default=None,
        description='open area needed: in mm2 or in2 as the job\'s unit, or text such as "200 cm2"; sets the number',
    )
    length: _Small = Field(description="length of a slot over its round ends")
    width: _Small = Field(description="width of a slot")
    spacing: _Small | None = Field(default=None, description="from middle to middle; twice the width unless given")
    run: Annotated[str, *choice(("up", "along"))] = Field(
        default="up", description="slots run up, side by side, or along the panel's length, one above the other"
    )
    at: Annotated[list[_Spot], Field(min_length=2, max_length=2)] | None = Field(
        default=None,
        description="middle of the grille, [x, y] on the panel as it is cut; the panel's middle unless given",
    )
