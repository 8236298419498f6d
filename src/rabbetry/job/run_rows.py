"""The job file's words for runs: what stands along a wall from left to right, below and above the counter."""

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, GetJsonSchemaHandler, ValidationInfo, WithJsonSchema
from pydantic_core import CoreSchema

from rabbetry.job.face_rows import FacesWord, MountWord
from rabbetry.job.fields import AS_LENGTH, LENGTH_SCHEMA, Distance, PartSize, Row, Text, choice, length_reader
from rabbetry.units import Length

MAX_RUNS = 50
MAX_ITEMS = 60
MAX_RUN_MM = 30000.0

Fill = Length | Literal["fill"]


def _fill_reader(value: object, info: ValidationInfo) -> Fill:
    """A width, or "fill" for all that the wall has left."""
    if value == "fill":
        return "fill"
    return length_reader(above_mm=0.0, most_mm=5000.0)(value, info)


def _item(value: object) -> object:
    """A name alone is a cabinet."""
    return {"cabinet": value} if isinstance(value, str) else value


class _OrName:
    """Tells the schema that a name alone will do."""

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"anyOf": [{"type": "string"}, handler(schema)]}


FillWidth = Annotated[Fill, BeforeValidator(_fill_reader), WithJsonSchema(LENGTH_SCHEMA)]
RunLength = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=MAX_RUN_MM)), AS_LENGTH]
EndWord = Annotated[str, *choice(("wall", "open", "corner"))]
UseWord = Annotated[str, *choice(("sink", "hob", "oven", "refrigerator", "dishwasher", "other"))]
FrameWord = Annotated[str, *choice(("each box", "one"))]


class RunItemRow(Row):
    """One thing of a run: exactly one of cabinet, corner, appliance, filler, gap. A cabinet may stand by its name
    alone. An L-shaped corner stands at the end of two runs, in each with the leg along its wall."""

    cabinet: Text | None = Field(default=None, description="name of a cabinet; its copies are taken in their order")
    corner: Text | None = Field(
        default=None, description="name of a [[corner]], first or last in its row: its leg along this wall counts"
    )
    appliance: Text | None = Field(default=None, description="name of an appliance that stands free of any cabinet")
    filler: FillWidth | None = Field(
        default=None,
        description='width of a filler, or "fill" for what the wall has left; `scribe` is added beside a wall',
    )
    gap: FillWidth | None = Field(default=None, description='width left empty, or "fill"')
    width: PartSize | None = Field(default=None, description="width an appliance takes")
    height: PartSize | None = Field(default=None, description="height of an appliance; up to the counter")
    use: UseWord | None = Field(
        default=None, description="what it is for, to see to clearances; a sink cabinet is a sink"
    )
    bottom: PartSize | None = Field(
        default=None, description="lower edge above the floor, in the upper row; the run's `upper_bottom`"
    )
    on: Text | None = Field(
        default=None,
        description="name of the [[ladder_base]] it stands on, centred under neighbours that name the same",
    )
    stock: Text | None = Field(
        default=None, description="stock a filler is cut from; without it the filler is listed with the solid parts"
    )


class RunRow(Row):
    """What stands along a wall, seen from the front. Both rows must add up to the wall's length."""

    name: Text = Field(description="stands on the elevation; no two runs alike")
    length: RunLength = Field(description="length of the wall")
    left: EndWord = Field(default="wall", description="what is at the left end")
    right: EndWord = Field(default="wall", description="what is at the right end")
    items: Annotated[list[Annotated[RunItemRow, BeforeValidator(_item), _OrName()]], Field(max_length=MAX_ITEMS)] = (
        Field(default_factory=list, description="what stands on the floor, from left to right")
    )
    upper: Annotated[list[Annotated[RunItemRow, BeforeValidator(_item), _OrName()]], Field(max_length=MAX_ITEMS)] = (
        Field(default_factory=list, description="what hangs above, from left to right")
    )
    faces: FacesWord | None = Field(default=None, description="faces of its cabinets that do not say")
    mount: MountWord | None = Field(default=None, description="how fronts of its cabinets are mounted that do not say")
    face_frame: FrameWord = Field(
        default="each box", description="one lets a face frame run over neighbouring boxes of equal height"
    )
    middle_stiles: bool = Field(
        default=True, description="whether one frame has a stile where two boxes meet; false: only where fronts differ"
    )
    scribe: Distance | None = Field(default=None, description="added to a filler beside a wall; 12 mm or 1/2 in")
    counter_thickness: Distance | None = Field(default=None, description="thickness of the counter; 38 mm or 1 1/2 in")
    counter_height: PartSize | None = Field(
        default=None, description="counter above the floor; the boxes' height and the counter's thickness"
    )
    upper_bottom: PartSize | None = Field(
        default=None, description="lower edge of the upper row above the floor; 1372 mm or 54 in"
    )
    room_height: PartSize | None = Field(default=None, description="floor to ceiling; not checked unless given")
    aisle: PartSize | None = Field(default=None, description="clear floor before the run; not judged unless given")
    cooks: Annotated[int, Field(ge=1, le=4)] = Field(default=1, description="how many people work there at once")


def leg_at(number: int, count: int, left: str) -> str:
    """Return which leg of an L-shaped corner stands along the wall: the right one at the wall's left end, the left one
    at its right end. `number` is its place of `count` in the row, from 0; one that stands alone goes by the run's word
    for its left end."""
    return "right" if number == 0 and (count > 1 or left == "corner") else "left"


def faces_by_cabinet(rows: list[RunRow]) -> dict[str, tuple[str | None, str | None]]:
    """Return what runs say of the faces and the mounts of the cabinets that stand in them."""
    return {
        item.cabinet: (row.faces, row.mount)
        for row in rows
        for item in (*row.items, *row.upper)
        if item.cabinet is not None
    }
