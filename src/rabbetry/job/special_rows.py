"""The job file's words for what is no box between two sides: L-shaped corner cabinets and ladder bases."""

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, create_model

from rabbetry.job.face_rows import DoorStyleWord, FacesWord, MountWord
from rabbetry.job.fields import (
    AS_LENGTH,
    Count,
    Depth,
    Few,
    Height,
    HingeWord,
    PartSize,
    Row,
    Text,
    Width,
    choice,
    length_reader,
)
from rabbetry.job.settings import SETTINGS, WORD_SETTINGS, Setting
from rabbetry.units import Length

MAX_LADDERS = 100

RungSpacing = Annotated[Length, BeforeValidator(length_reader(least_mm=100.0, most_mm=1500.0)), AS_LENGTH]
LadderHeight = Annotated[
    Length, BeforeValidator(length_reader(least_mm=30.0, most_mm=400.0, odd_below_mm=20.0)), AS_LENGTH
]
CornerDoorWord = Annotated[str, *choice(("bi-fold", "two", "open"))]
LadderJointWord = Annotated[str, *choice(("butt", "dado"))]


class CornerBase(Row):
    """An L-shaped corner cabinet: one leg along the left wall, one along the right, as one looks into the corner. Any
    word or length of [construction] may stand here too. Its backs always stand in rabbets; its top is full, or two
    L-shaped stretchers. What cannot be followed is told."""

    name: Text = Field(description="stands on labels; no two cabinets or parts alike")
    qty: Count = Field(default=1, description="how many; 0 leaves it out")
    wall: bool = Field(default=False, description="true: hangs on the walls, without a toe kick, with nailers")
    left_width: Width | None = Field(
        default=None, description="from the corner along the left wall; 900 mm or 36 in, on the wall 600 mm or 24 in"
    )
    right_width: Width | None = Field(
        default=None, description="from the corner along the right wall; as left_width unless given"
    )
    left_depth: Depth | None = Field(
        default=None,
        description="depth of the left leg without doors; 580 mm or 23 1/4 in, on the wall 320 mm or 12 in",
    )
    right_depth: Depth | None = Field(default=None, description="depth of the right leg; as left_depth unless given")
    height: Height | None = Field(
        default=None, description="outside height; 876 mm or 34 1/2 in, on the wall 720 mm or 30 in"
    )
    doors: CornerDoorWord = Field(
        default="bi-fold",
        description="bi-fold: two leaves hinged to each other, hung at one end; two: a door hung at each end; or open",
    )
    hinge: HingeWord = Field(default="right", description="the end that bi-fold leaves hang from")
    fixed_shelves: Few = Field(default=0, description="shelves in dados")
    adjustable_shelves: Few = Field(default=1, description="shelves on pins in both ends and in the corner post")
    slab_doors: bool = Field(default=False, description="true cuts the doors from sheet; false only lists their sizes")
    faces: FacesWord | None = Field(default=None, description="face frame or none; the job's faces unless given")
    mount: MountWord | None = Field(default=None, description="overlay or inset doors; the job's mount unless given")
    door_style: DoorStyleWord | None = Field(
        default=None, description="how doors made elsewhere are built; the job's door_style unless given"
    )


class LadderRow(Row):
    """A ladder base: a plinth of two rails and rungs that stands under one or more boxes. Those boxes get
    kick_height = 0."""

    name: Text = Field(description="stands on labels; no two cabinets or parts alike")
    qty: Count = Field(default=1, description="how many; 0 leaves it out")
    length: PartSize = Field(description="along the run of boxes; rails longer than the blank are spliced")
    depth: Depth = Field(description="from the front of the front rail to the rear of the rear rail")
    height: LadderHeight | None = Field(default=None, description="height; that of the toe kick unless given")
    rung_spacing: RungSpacing | None = Field(
        default=None, description="most from the middle of one rung to that of the next; 600 mm or 24 in"
    )
    joint: LadderJointWord = Field(default="butt", description="how rungs join the rails")
    stock: Text | None = Field(default=None, description="name of a stock; that of carcasses unless given")


def _reader(row: Setting) -> Any:
    def read(value: object, info: ValidationInfo) -> Length:
        return length_reader(least_mm=row.least_mm, most_mm=row.most_mm, odd_below_mm=row.odd_below_mm)(value, info)

    return read


CornerRow: type[CornerBase] = create_model(  # type: ignore[call-overload]
    "CornerRow",
    __base__=CornerBase,
    __doc__=CornerBase.__doc__,
    **{
        row.key: (Annotated[str, *choice(row.words)] | None, Field(default=None, description=row.meaning))
        for row in WORD_SETTINGS
    },
    **{
        row.key: (
            Annotated[Length, BeforeValidator(_reader(row)), AS_LENGTH] | None,
            Field(default=None, description=row.meaning),
        )
        for row in SETTINGS
    },
)
