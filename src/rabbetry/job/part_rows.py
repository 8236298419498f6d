"""The job file's words for plain parts: size or outline, and what is cut into them."""

from collections.abc import Mapping
from typing import Annotated

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema

from rabbetry.errors import shown
from rabbetry.job.drawings import DRAWING_UNITS, LAYER_CUTS
from rabbetry.job.fields import (
    AS_LENGTH,
    LENGTH_SCHEMA,
    AxisWord,
    Count,
    GrainWord,
    PartName,
    PartSize,
    Place,
    Row,
    Text,
    choice,
    length_reader,
)
from rabbetry.units import Length, LengthError

MAX_CORNERS = 200
MAX_CUTS = 200
"""Corners of an outline, and entries of each list of cuts."""

CutSize = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=5000.0)), AS_LENGTH]
JoinSize = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=1.0)), AS_LENGTH]
CurveSize = Annotated[Length, BeforeValidator(length_reader(least_mm=0.001, most_mm=1.0)), AS_LENGTH]
CutDepth = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=100.0)), AS_LENGTH]
EdgeWord = Annotated[str, *choice(("left", "right", "lower", "upper"))]

_CORNER_CURE = "write [x, y], [x, y, radius], or {to = [x, y], through = [x, y]} for an arc"


def _read_corner(value: object, info: ValidationInfo) -> tuple[tuple[Length, ...], tuple[Length, ...]]:
    """Return x, y and perhaps the radius; then x and y of the point that the arc to it passes through, or nothing."""
    read = length_reader(least_mm=-5000.0, most_mm=5000.0)
    if isinstance(value, Mapping):
        lists = [value.get("to"), value.get("through")]
        if set(value) != {"to", "through"} or any(not isinstance(item, list) or len(item) != 2 for item in lists):
            raise LengthError("the arc is not {to = [x, y], through = [x, y]}", _CORNER_CURE)
        to, through = ([read(number, info) for number in item] for item in lists if isinstance(item, list))
        return tuple(to), tuple(through)
    if not isinstance(value, list) or len(value) not in (2, 3):
        what = f"a list of {len(value)}" if isinstance(value, list) else shown(value)
        raise LengthError(f"{what} is not a corner", _CORNER_CURE)
    numbers = tuple(read(number, info) for number in value)
    if len(numbers) == 3 and numbers[2].mm < 0:
        raise LengthError(f"the radius {shown(value[2])} is less than 0", _CORNER_CURE)
    return numbers, ()


_Corner = Annotated[
    tuple[tuple[Length, ...], tuple[Length, ...]],
    BeforeValidator(_read_corner),
    WithJsonSchema({"anyOf": [{"type": "array", "items": LENGTH_SCHEMA}, {"type": "object"}]}),
]
Corners = Annotated[list[_Corner], Field(min_length=2, max_length=MAX_CORNERS)]


class HoleRow(Row):
    """A round hole, or a row of them; x and y as in the part's outline, or from a rectangle's lower left corner."""

    x: Place = Field(description="of the centre")
    y: Place = Field(description="of the centre")
    diameter: CutSize = Field(description="diameter of the hole")
    depth: CutDepth | None = Field(default=None, description="depth; right through unless given")
    count: Count = Field(default=1, description="how many in a row, from this one on")
    pitch: CutSize | None = Field(
        default=None, description="distance from one to the next; needed when count is above 1"
    )
    along: AxisWord = Field(default="x", description="the way the row runs")
    name: Text | None = Field(default=None, description="stands in pictures and messages; hole and its number")


class StripRow(Row):
    """A dado or groove: a straight strip along x or y, from edge to edge unless it starts or ends before."""

    along: AxisWord = Field(description="the way it runs")
    at: Place = Field(description="its lower side when it runs along x, its left side when it runs along y")
    width: CutSize | None = Field(default=None, description="width; this or fits")
    fits: Text | None = Field(
        default=None, description="stock that enters: the width is its thickness and the fit clearance"
    )
    depth: CutDepth = Field(description="depth, less than the part is thick")
    start: Place | None = Field(default=None, description="where it starts; at the part's edge unless given")
    end: Place | None = Field(default=None, description="where it ends; at the part's edge unless given")
    name: Text | None = Field(default=None, description="stands in pictures and messages; its kind and number")


class RabbetRow(Row):
    """A rabbet: a strip along one edge of the part's rectangle."""

    edge: EdgeWord = Field(description="the edge it runs along")
    width: CutSize | None = Field(default=None, description="width from the edge; this or fits")
    fits: Text | None = Field(
        default=None, description="stock that enters: the width is its thickness and half the fit clearance"
    )
    depth: CutDepth = Field(description="depth, less than the part is thick")
    start: Place | None = Field(default=None, description="where it starts; at the part's edge unless given")
    end: Place | None = Field(default=None, description="where it ends; at the part's edge unless given")
    name: Text | None = Field(default=None, description="stands in pictures and messages; rabbet and its number")


class AreaRow(Row):
    """An opening right through: a rectangle by its lower left corner, a circle by its centre, or any outline."""

    x: Place | None = Field(default=None, description="left side, or the circle's centre")
    y: Place | None = Field(default=None, description="lower side, or the circle's centre")
    length: CutSize | None = Field(default=None, description="of a rectangle, along x")
    width: CutSize | None = Field(default=None, description="of a rectangle, along y")
    radius: CutSize | None = Field(default=None, description="of a rectangle's corners; square unless given")
    diameter: CutSize | None = Field(default=None, description="of a circle")
    outline: Corners | None = Field(default=None, description="corners, as the part's")
    name: Text | None = Field(default=None, description="stands in pictures and messages; its kind and number")


class PocketRow(AreaRow):
    """A flat-bottomed pocket: a rectangle by its lower left corner, a circle by its centre, or any outline."""

    depth: CutDepth = Field(description="depth, less than the part is thick")


class LayerRow(Row):
    """What the shapes on a layer of a part's drawing are."""

    layer: Annotated[str, Field(min_length=1, max_length=255)] = Field(description="its name in the drawing")
    cut: Annotated[str, *choice(LAYER_CUTS)] = Field(description="what its shapes are; nothing leaves them out")
    depth: CutDepth | None = Field(
        default=None,
        description="depth of holes, needed for pockets, dados, grooves and rabbets; right through without",
    )


class PartRow(Row):
    """A part by itself: filler, end panel, loose shelf, or any outline with whatever is cut into it."""

    name: PartName = Field(description="stands on labels; no two cabinets or parts alike")
    qty: Count = Field(default=1, description="how many; 0 leaves the part out")
    stock: Text = Field(description="name of a stock")
    length: PartSize | None = Field(
        default=None, description="size along x of the part; needed without an outline or drawing"
    )
    width: PartSize | None = Field(default=None, description="size across; needed without an outline or drawing")
    outline: Corners | None = Field(
        default=None,
        description="corners either way round: [x, y], [x, y, radius] for a rounded one, or "
        "{to = [x, y], through = [x, y]} for an arc from the corner before",
    )
    drawing: Text | None = Field(
        default=None, description="a DXF file beside the job that has the part's outline, and perhaps cuts"
    )
    drawing_unit: Annotated[str | None, *choice(DRAWING_UNITS)] = Field(
        default=None, description="unit the drawing is drawn in; the file's own unless given"
    )
    drawing_join: JoinSize | None = Field(
        default=None, description="ends of the drawing no farther apart than this are joined; 0.005 mm unless given"
    )
    drawing_curve: CurveSize | None = Field(
        default=None,
        description="splines and ellipses of the drawing become arcs and lines within this; 0.01 mm unless given",
    )
    layers: Annotated[list[LayerRow], Field(max_length=MAX_CUTS)] = Field(
        default_factory=list, description="what the drawing's layers hold, [[part.layers]]"
    )
    holes: Annotated[list[HoleRow], Field(max_length=MAX_CUTS)] = Field(
        default_factory=list, description="round holes, [[part.holes]]"
    )
    dados: Annotated[list[StripRow], Field(max_length=MAX_CUTS)] = Field(
        default_factory=list, description="dados, [[part.dados]]"
    )
    grooves: Annotated[list[StripRow], Field(max_length=MAX_CUTS)] = Field(
        default_factory=list, description="grooves, [[part.grooves]]"
    )
    rabbets: Annotated[list[RabbetRow], Field(max_length=MAX_CUTS)] = Field(
        default_factory=list, description="rabbets, [[part.rabbets]]"
    )
    pockets: Annotated[list[PocketRow], Field(max_length=MAX_CUTS)] = Field(
        default_factory=list, description="pockets, [[part.pockets]]"
    )
    cutouts: Annotated[list[AreaRow], Field(max_length=MAX_CUTS)] = Field(
        default_factory=list, description="openings right through, [[part.cutouts]]"
    )
    grain: GrainWord = Field(default="along", description="grain along the length, across it, or free")
    note: Annotated[str, Field(max_length=300)] = Field(default="", description="stands in the cut list")
