"""From the checked rows of corner cabinets and ladder bases to their orders."""

from collections.abc import Callable
from dataclasses import replace

from rabbetry.job.corner_words import corner_construction, unused_sizes
from rabbetry.job.fields import Row
from rabbetry.job.kinds import Default
from rabbetry.job.model import (
    CabinetKind,
    CabinetOrder,
    Construction,
    CornerOrder,
    DoorStyle,
    Faces,
    LadderOrder,
    Mount,
    Units,
)
from rabbetry.job.rows import CabinetBase, CabinetRow
from rabbetry.job.special_rows import CornerBase, LadderRow
from rabbetry.units import Length, read_length

_CORNER_WIDTH: Default = {Units.MM: 900, Units.INCH: "36"}
_CORNER_WALL_WIDTH: Default = {Units.MM: 600, Units.INCH: "24"}
"""The usual corner sizes, base and wall (common practice)."""
_RUNGS: Default = {Units.MM: 600, Units.INCH: "24"}
"""A rung under each box and none farther apart (common practice)."""

MakeOrder = Callable[[CabinetBase, Construction], CabinetOrder]


def corner_order(
    row: CornerBase,
    *,
    units: Units,
    settle: Callable[[Row], Construction],
    make: MakeOrder,
    faces: Faces,
    mount: Mount,
    door_style: DoorStyle,
    shelf_load_pa: float,
) -> CornerOrder:
    """Return the order of a corner: each leg as an order of its own, as long as its wall. `settle` gives the
    construction with the row's settings, `make` a cabinet's order from its row; the rest is what the job says where
    the row does not."""
    usual = read_length((_CORNER_WALL_WIDTH if row.wall else _CORNER_WIDTH)[units], units)
    left = row.left_width or usual
    construction, unmade = corner_construction(settle(row))
    faces, mount = Faces(row.faces or faces), Mount(row.mount or mount)
    door_style = DoorStyle(row.door_style or door_style)
    # A leg is a box with a full top: an open one on a toe kick, or one on the wall.
    kind = CabinetKind.WALL if row.wall else CabinetKind.OPEN
    height = row.height or (None if row.wall else read_length(_COUNTER[units], units))
    left_depth = row.left_depth or (None if row.wall else read_length(_DEEP[units], units))
    legs = (("left", left, left_depth), ("right", row.right_width or left, row.right_depth or left_depth))
    orders = {
        hand: replace(
            make(_leg(row, kind, hand, width, height, depth), construction),
            faces=faces,
            mount=mount,
            door_style=door_style,
            shelf_load_pa=shelf_load_pa,
        )
        for hand, width, depth in legs
    }
    return CornerOrder(
        name=row.name,
        qty=row.qty,
        left=orders["left"],
        right=orders["right"],
        doors=row.doors,
        hinge=row.hinge,
        unused=(*unmade, *unused_sizes(row, construction, faces=faces, mount=mount, door_style=door_style)),
    )


_COUNTER: Default = {Units.MM: 876, Units.INCH: "34 1/2"}
_DEEP: Default = {Units.MM: 580, Units.INCH: "23 1/4"}


def _leg(
    row: CornerBase, kind: CabinetKind, hand: str, width: Length, height: Length | None, depth: Length | None
) -> CabinetBase:
    return CabinetRow.model_construct(
        name=row.name,
        kind=kind.value,
        qty=1,
        width=width,
        height=height,
        depth=depth,
        doors=0 if row.doors == "open" else 1,
        hinge=hand,
        fixed_shelves=row.fixed_shelves,
        adjustable_shelves=row.adjustable_shelves,
        slab_doors=row.slab_doors,
    )


def ladder_order(row: LadderRow, *, units: Units, construction: Construction, carcass: str) -> LadderOrder:
    """Return the order of a ladder base; `carcass` is the stock of one that names none."""
    return LadderOrder(
        name=row.name,
        qty=row.qty,
        length_mm=row.length.mm,
        depth_mm=row.depth.mm,
        height_mm=row.height.mm if row.height else construction.kick_height_mm,
        rung_spacing_mm=(row.rung_spacing or read_length(_RUNGS[units], units)).mm,
        joint=row.joint,
        stock=row.stock or carcass,
        construction=construction,
    )
