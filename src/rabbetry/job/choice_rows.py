"""Tables of the job file for what only some cabinets have: fronts, openings, cut-outs; and panels and fillers."""

from typing import Annotated

from pydantic import BeforeValidator, Field

from rabbetry.job.fields import (
    AS_LENGTH,
    MAX_CABINET_DEPTH_MM,
    MAX_CABINET_HEIGHT_MM,
    MAX_CABINET_WIDTH_MM,
    Distance,
    Few,
    HingeWord,
    PartName,
    Row,
    Text,
    choice,
    length_reader,
)
from rabbetry.units import Length

FillWord = Annotated[str, *choice(("drawer", "door", "open", "false", "appliance"))]
BelowWord = Annotated[str, *choice(("nothing", "shelf", "rail"))]
HoledWord = Annotated[str, *choice(("back", "bottom", "top"))]
CoveredWord = Annotated[str, *choice(("back", "left", "right", "top"))]

Opening = Annotated[
    Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=MAX_CABINET_WIDTH_MM, odd_below_mm=60.0)), AS_LENGTH
]
FrontHeight = Annotated[
    Length, BeforeValidator(length_reader(least_mm=0.0, most_mm=MAX_CABINET_HEIGHT_MM, odd_below_mm=40.0)), AS_LENGTH
]
Up = Annotated[Length, BeforeValidator(length_reader(least_mm=0.0, most_mm=MAX_CABINET_HEIGHT_MM)), AS_LENGTH]
HoleSize = Annotated[Length, BeforeValidator(length_reader(least_mm=10.0, most_mm=1200.0, odd_below_mm=0.0)), AS_LENGTH]
NeighbourDepth = Annotated[
    Length,
    BeforeValidator(length_reader(above_mm=0.0, most_mm=MAX_CABINET_DEPTH_MM, odd_below_mm=100.0)),
    AS_LENGTH,
]
BlindClearance = Annotated[Length, BeforeValidator(length_reader(least_mm=0.0, most_mm=600.0)), AS_LENGTH]
StripWidth = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=600.0, odd_below_mm=8.0)), AS_LENGTH]


class FrontRow(Row):
    """One band of a cabinet's front, listed from the top down in `fronts`."""

    fill: FillWord = Field(description="what it is; false is a fixed front with nothing behind it")
    height: FrontHeight | None = Field(
        default=None, description="height of the front itself; an equal share of what the others leave"
    )
    doors: Annotated[int, Field(ge=1, le=2)] | None = Field(
        default=None, description="doors side by side; 1, or 2 above 600 mm (24 in) of width"
    )
    hinge: HingeWord | None = Field(default=None, description="hinge side of a single door; as the cabinet's")
    shelves: Few = Field(default=0, description="adjustable shelves behind a door or in an open band")
    fixed_shelves: Few = Field(default=0, description="shelves in dados behind a door or in an open band")
    below: BelowWord = Field(
        default="nothing", description="what is behind the gap to the band below: a fixed shelf, a rail at the front"
    )


class ColumnRow(Row):
    """What stands in one column of a cabinet, between two uprights; listed from the left in `columns`:
    `columns = [{ fronts = [{ fill = "drawer" }] }, { fronts = [{ fill = "door", shelves = 2 }] }]`.
    A divider that is then cut in both faces is made in two set-ups; holes that meet there are made less deep, and said.
    """

    fronts: Annotated[list[FrontRow], Field(min_length=1, max_length=12)] = Field(
        description="its front from the top down, as `fronts` of a cabinet; one door unless it says two, hung at the "
        "cabinet's own side in the first and last column"
    )


class OpeningRow(Row):
    """The clear room for an appliance: take it from the maker's sheet."""

    width: Opening = Field(description="clear width needed; a box too narrow is refused")
    height: Opening = Field(description="clear height, from the platform up")
    depth: Opening | None = Field(default=None, description="clear depth needed, from the front edge back")
    up: Up | None = Field(
        default=None, description="upper face of the platform above the floor; on the cabinet's own bottom"
    )
    vent: bool = Field(default=True, description="whether the back is cut out behind it")


class CutOutRow(Row):
    """A hole right through the back, bottom or top, for a duct, pipes or cables."""

    through: HoledWord = Field(description="the panel that is cut")
    diameter: HoleSize | None = Field(default=None, description="of a round hole")
    width: HoleSize | None = Field(default=None, description="of a rectangular hole, along the cabinet's width")
    height: HoleSize | None = Field(default=None, description="of a rectangular hole, the other way")
    x: Up | None = Field(default=None, description="centre from the box's left side; the middle")
    y: Up | None = Field(default=None, description="centre behind the front edge, in bottom or top; the middle")
    z: Up | None = Field(default=None, description="centre above the floor, in a back; the middle")


class PanelRow(Row):
    """A panel that covers the back, an end or the top of cabinets in a row: an island's back, an end panel, a seat
    board. Its size follows theirs."""

    name: PartName = Field(description="stands on labels; no two cabinets or parts alike")
    covers: Annotated[list[Text], Field(min_length=1, max_length=50)] = Field(
        description="names of the cabinets, standing in a row; a second copy is called NAME-2"
    )
    side: CoveredWord = Field(description="which side of them")
    stock: Text | None = Field(default=None, description="name of a stock; the front stock of the first cabinet")
    to_floor: bool = Field(default=True, description="false ends it at the top of the toe kick")
    overhang_left: Distance | None = Field(default=None, description="beyond the boxes, as one faces the panel; 0")
    overhang_right: Distance | None = Field(default=None, description="beyond the boxes, as one faces the panel; 0")
    overhang_bottom: Distance | None = Field(default=None, description="at the lower edge, of a top at the front; 0")
    overhang_top: Distance | None = Field(default=None, description="at the upper edge, of a top at the back; 0")
    note: Annotated[str, Field(max_length=300)] = Field(default="", description="stands in the cut list")


class FillerRow(Row):
    """A strip between a cabinet and a wall, or two cabinets; as high as the cabinet's front."""

    name: PartName = Field(description="stands on labels; no two cabinets or parts alike")
    beside: Text = Field(description="name of the cabinet it stands beside")
    width: StripWidth = Field(description="width of the gap")
    scribe: Distance | None = Field(default=None, description="added to be planed to the wall; 20 mm or 3/4 in")
    stock: Text | None = Field(default=None, description="name of a stock; the cabinet's front stock")
    to_floor: bool = Field(default=False, description="true carries it down to the floor")
    note: Annotated[str, Field(max_length=300)] = Field(default="", description="stands in the cut list")
