"""The kinds of cabinet: one row each with what the kind brings where the order is silent.

A kind is this row. What a kind has of its own beyond it (a blind part, an appliance's opening, stacked boxes) is a
choice of the order that any kind may be given; the row says whether the kind always has it.
"""

from dataclasses import dataclass

from rabbetry.job.model import CabinetKind, Nailer, Units

Default = dict[Units, str | int]
"""A length in each unit, as one would write it in the job file."""

_COUNTER: Default = {Units.MM: 876, Units.INCH: "34 1/2"}
_DEEP: Default = {Units.MM: 580, Units.INCH: "23 1/4"}
_HUNG_HIGH: Default = {Units.MM: 720, Units.INCH: "30"}
_HUNG_DEEP: Default = {Units.MM: 320, Units.INCH: "12"}
_TALL: Default = {Units.MM: 2100, Units.INCH: "84"}
_SEAT: Default = {Units.MM: 450, Units.INCH: "18"}


@dataclass(frozen=True, slots=True, kw_only=True)
class KindRow:
    """What a kind of cabinet brings."""

    kind: CabinetKind
    meaning: str
    """For the reference of the job file."""
    height: Default
    depth: Default
    has_kick: bool = True
    """Whether it stands on a toe kick, of the height set."""
    has_top_panel: bool = False
    """True: a full top; False: stretchers."""
    has_rails_on_edge: bool = False
    """Whether the stretchers stand on edge and leave the box open at its top."""
    doors: bool = True
    """Whether it has doors unless the order says otherwise."""
    drawers: int = 0
    """Drawers, sharing the height, unless the order says otherwise."""
    drawer_fill: str = "drawer"
    """What a drawer ordered by number is: 'drawer' or 'false front'."""
    takes_shelves: bool = True
    shelves: int = 0
    """Adjustable shelves unless the order says otherwise."""
    nailer: Nailer = Nailer.NONE
    is_blind: bool = False
    """Whether one end stands in a corner behind its neighbour."""
    has_opening: bool = False
    """Whether it is for an appliance, whose opening must be given."""
    stacks: bool = False
    """Whether it is split into stacked boxes when its sides are longer than the blank."""
    rows_up: bool = False
    """Whether it is split into boxes side by side when its bottom is longer than the blank."""
    has_lid: bool = False


_ROWS = (
    KindRow(
        kind=CabinetKind.BASE,
        meaning="stands on a toe kick, two stretchers on top; drawers over doors",
        height=_COUNTER, depth=_DEEP, shelves=1,
    ),
    KindRow(
        kind=CabinetKind.SINK,
        meaning="as base, with stretchers on edge and no shelves; its drawers are false fronts",
        height=_COUNTER, depth=_DEEP, has_rails_on_edge=True, drawer_fill="false front", takes_shelves=False,
    ),
    KindRow(
        kind=CabinetKind.DRAWERS,
        meaning="as base, with drawers from top to bottom",
        height=_COUNTER, depth=_DEEP, doors=False, drawers=3,
    ),
    KindRow(
        kind=CabinetKind.WALL,
        meaning="full top and bottom, no kick, a nailer under the top",
        height=_HUNG_HIGH, depth=_HUNG_DEEP, has_kick=False, has_top_panel=True, shelves=2, nailer=Nailer.TOP,
    ),
    KindRow(
        kind=CabinetKind.OPEN,
        meaning="full top, no doors; stands on a kick unless kick_height = 0",
        height=_HUNG_HIGH, depth=_HUNG_DEEP, has_top_panel=True, doors=False, shelves=2,
    ),
    KindRow(
        kind=CabinetKind.TALL,
        meaning="as base with a full top, high; made of stacked boxes when a side is longer than the blank",
        height=_TALL, depth=_DEEP, has_top_panel=True, shelves=4, nailer=Nailer.TOP, stacks=True,
    ),
    KindRow(
        kind=CabinetKind.BLIND_CORNER,
        meaning="as base, one end in a corner behind its neighbour: a blind panel there, a door on the rest",
        height=_COUNTER, depth=_DEEP, shelves=1, is_blind=True,
    ),
    KindRow(
        kind=CabinetKind.WALL_BLIND_CORNER,
        meaning="as wall, one end in a corner behind its neighbour",
        height=_HUNG_HIGH, depth=_HUNG_DEEP, has_kick=False, has_top_panel=True, shelves=2, nailer=Nailer.TOP,
        is_blind=True,
    ),
    KindRow(
        kind=CabinetKind.APPLIANCE,
        meaning="full top, an open place for an oven or the like at `opening`, with doors or drawers below and above; "
        "made of stacked boxes when a side is longer than the blank",
        height=_COUNTER, depth=_DEEP, has_top_panel=True, has_opening=True, stacks=True,
    ),
    KindRow(
        kind=CabinetKind.WINDOW_SEAT,
        meaning="low, with a full top to sit on; made of boxes side by side when longer than the blank",
        height=_SEAT, depth=_SEAT, has_top_panel=True, rows_up=True,
    ),
    KindRow(
        kind=CabinetKind.LIDDED_SEAT,
        meaning="low, open at its top between rails on edge, under a loose lid that counts in the height; one false "
        "front",
        height=_SEAT, depth=_SEAT, has_rails_on_edge=True, doors=False, drawers=1, drawer_fill="false front",
        takes_shelves=False, rows_up=True, has_lid=True,
    ),
)  # fmt: skip

KINDS: dict[CabinetKind, KindRow] = {row.kind: row for row in _ROWS}
