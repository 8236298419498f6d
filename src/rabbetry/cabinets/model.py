"""A cabinet with its sizes settled: openings, shelves, hinges, drawer boxes. Millimetres, cabinet frame.

Cabinet frame: origin at the front left lower corner of the box at floor level, +x right, +y to the back, +z up.
"""

import math
from dataclasses import dataclass

from rabbetry.cabinets.members import (
    LEAST_BETWEEN_HOLES_MM,
    DrawerBox,
    FrameEnds,
    FrameMember,
    Front,
    LoosePart,
    Opening,
    Stocks,
)
from rabbetry.cabinets.plates import plate_y_mm
from rabbetry.findings import Finding
from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point
from rabbetry.job.choices import CutOutOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetKind, Construction, DoorStyle, Faces, Grain, KickStyle, Mount, Nailer, Stock
from rabbetry.job.words import BackPlace, BottomWord, TopWord
from rabbetry.tolerances import POINT_MM

__all__ = [
    "LEAST_BETWEEN_HOLES_MM",
    "Cabinet",
    "CornerCabinet",
    "DrawerBox",
    "FrameEnds",
    "FrameMember",
    "Front",
    "KickPiece",
    "LadderBase",
    "LoosePart",
    "Opening",
    "PlainPart",
    "Resolved",
    "SettledCut",
    "Stand",
    "Stocks",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cabinet:
    """One box to build; `name` is unique in the job (copies are numbered)."""

    name: str
    kind: CabinetKind
    width_mm: float
    height_mm: float
    depth_mm: float
    has_kick: bool
    has_top_panel: bool
    """True: a full top (wall and open cabinets); False: front and rear stretchers."""
    has_back: bool
    nailer: Nailer
    stocks: Stocks
    construction: Construction
    openings: tuple[Opening, ...]
    fronts: tuple[Front, ...]
    cut_fronts: bool
    drawers: tuple[DrawerBox, ...]
    fixed_shelf_z_mm: tuple[float, ...]
    """Height of the under side of each fixed shelf."""
    adjustable_shelves: int
    pin_z_mm: tuple[float, ...]
    """Heights of the shelf-pin rows' holes; empty when there are no adjustable shelves."""
    box_screws_yz_mm: tuple[tuple[float, float], ...] = ()
    """Holes for screws into a neighbouring box: behind the sides' front edge, above the floor."""
    front_density_kg_per_m3: float | None = None
    """Of doors cut from sheet; None: not known."""
    shelf_load_pa: float = 718.2
    """What shelves and bottoms carry, spread evenly."""
    divider_x_mm: tuple[float, ...] = ()
    """Left face of each divider, rising."""
    divider_pins: str = "through"
    """'through' or 'blind' shelf-pin holes in the dividers."""
    columns: tuple["Cabinet", ...] = ()
    """What stands between two uprights, from the left, where each column has a front of its own: a box that lacks all
    but its shelves, drawers and fronts. Then the cabinet itself has none of them but all columns' fronts."""
    column: int = 0
    """Which column of a cabinet it is, from 1; 0: a cabinet."""
    column_ends: tuple[bool, bool] = (False, False)
    """Of a column: whether its left and its right upright is a divider."""

    faces: Faces = Faces.FRAMELESS
    mount: Mount = Mount.OVERLAY
    door_style: DoorStyle = DoorStyle.PLAIN
    frame_ends: FrameEnds | None = None
    """None: an outer stile at both sides, where there is a face frame."""
    frame: tuple[FrameMember, ...] = ()
    """What of a face frame lies before this box; empty when frameless."""

    shelf_pin_z_mm: tuple[float, ...] = ()
    """Pin level on which each adjustable shelf stands as drawn, rising."""
    rail_z_mm: tuple[float, ...] = ()
    """Height of the under side of each rail between two fronts."""
    cut_outs: tuple[CutOutOrder, ...] = ()
    """Holes through back, bottom or top; every centre settled."""
    blind_hand: str = ""
    """The end that stands in a corner, 'left' or 'right'; '' for none."""
    blind_mm: float = 0.0
    """How much of the front is blind, from that end."""
    loose: tuple[LoosePart, ...] = ()
    base_z_mm: float = 0.0
    """Lower end of the box above the floor: 0 unless it stands on another box."""
    joined_above: bool = False
    joined_below: bool = False
    """Whether another box of the same cabinet is screwed to its top, or under its bottom."""

    @property
    def pin_rows_y_mm(self) -> tuple[float, float]:
        """Front and rear row of shelf pins behind the sides' front edge. Inset fronts push the front row back (check
        value 4.1.4); the rear row comes forward until the rows are the asked multiple apart (4.1.5)."""
        c = self.construction
        front, rear = c.pin_front_mm + self.front_intrusion_mm, self.depth_mm - self.back_inset_mm - c.pin_rear_mm
        if c.pin_rows_apart_mm > 0:
            rear = front + math.floor((rear - front) / c.pin_rows_apart_mm + POINT_MM) * c.pin_rows_apart_mm
        return front, rear

    @property
    def plate_y_mm(self) -> float | None:
        """Holes of the hinge plates behind the sides' front edge; None when the plates sit on a face frame."""
        return plate_y_mm(
            self.construction,
            door_back_y_mm=self.front_back_y_mm,
            frame_mm=self.frame_thickness_mm,
            is_inset=self.mount is Mount.INSET,
        )

    @property
    def frame_thickness_mm(self) -> float:
        """Thickness of the face frame; 0 when frameless."""
        return self.construction.frame_thickness_mm if self.faces is Faces.FACE_FRAME else 0.0

    @property
    def frame_overhang_mm(self) -> float:
        """How far the face frame reaches past the case at each side; 0 when frameless."""
        return self.construction.frame_overhang_mm if self.faces is Faces.FACE_FRAME else 0.0

    @property
    def front_thickness_mm(self) -> float:
        """Thickness of doors and drawer fronts: of their sheet, or of those made elsewhere."""
        return self.stocks.front.thickness_mm if self.cut_fronts else self.construction.front_thickness_mm

    @property
    def front_back_y_mm(self) -> float:
        """The fronts' back face behind the case's front edge: negative before it, positive within an opening.

        Overlay: on the case's edges or on the frame's face. Inset: flush in front with the case's edges or the frame.
        """
        inset = self.front_thickness_mm if self.mount is Mount.INSET else 0.0
        return inset - self.frame_thickness_mm

    @property
    def front_intrusion_mm(self) -> float:
        """How far inset fronts reach into the case, so that shelves and drawer boxes must stand back; else 0."""
        return max(0.0, self.front_back_y_mm)

    @property
    def opening_x_mm(self) -> tuple[float, float]:
        """Left and right edge of the opening that is seen from the front: between the sides, or between the stiles."""
        if self.faces is Faces.FRAMELESS:
            side = self.stocks.side.thickness_mm
            return side, self.width_mm - side
        over, stile = self.frame_overhang_mm, self.construction.frame_stile_width_mm
        ends = self.frame_ends or FrameEnds(left_mm=stile, right_mm=stile)
        return ends.left_mm - over, self.width_mm + over - ends.right_mm

    @property
    def blocking_mm(self) -> tuple[float, float]:
        """How far the opening's edges lie inside the two sides: what slides on a side must be blocked out by."""
        if self.faces is Faces.FRAMELESS:
            return 0.0, 0.0
        side = self.stocks.side.thickness_mm
        left, right = self.opening_x_mm
        return max(0.0, left - side), max(0.0, self.width_mm - side - right)

    @property
    def opening_width_mm(self) -> float:
        """Width that a drawer box passes through: the seen opening, or the room between the sides if that is less."""
        left, right = self.blocking_mm
        return self.inside_width_mm - left - right

    @property
    def bottom_z_mm(self) -> float:
        """Under side of the bottom: flush with the sides' lower ends or the kick's upper edge, or raised above that."""
        return self.kick_z_mm + (self.construction.bottom_lift_mm if self.has_raised_bottom else 0.0)

    @property
    def kick_z_mm(self) -> float:
        """Upper edge of the toe kick; 0 without one."""
        return self.construction.kick_height_mm if self.has_kick else 0.0

    @property
    def has_raised_bottom(self) -> bool:
        """As the construction's word says; by kind, boxes with a full top and no kick have it raised."""
        word = self.construction.bottom
        if word is BottomWord.BY_KIND:
            return KINDS[self.kind].has_top_panel and not self.has_kick
        return word is BottomWord.RAISED

    @property
    def floor_z_mm(self) -> float:
        """Upper side of the bottom."""
        return self.bottom_z_mm + self.stocks.carcass.thickness_mm

    @property
    def ceiling_z_mm(self) -> float:
        """Under side of top or flat stretchers; a sink's rails stand on edge and leave the box open to its top."""
        return self.height_mm - (0.0 if self.has_rails_on_edge else self.stocks.carcass.thickness_mm)

    @property
    def has_rails_on_edge(self) -> bool:
        """Whether the stretchers stand on edge, so that a sink can hang between them."""
        word = self.construction.top
        if word is TopWord.BY_KIND or KINDS[self.kind].has_lid:
            return KINDS[self.kind].has_rails_on_edge
        return word is TopWord.ON_EDGE

    @property
    def has_nailer(self) -> bool:
        """Whether a strip is fitted under the top; a rear rail on edge takes the wall screws itself."""
        return self.nailer in (Nailer.TOP, Nailer.BOTH) and not self.has_rails_on_edge

    @property
    def has_lower_nailer(self) -> bool:
        """Whether a strip is fitted on the bottom."""
        return self.nailer in (Nailer.BOTTOM, Nailer.BOTH)

    @property
    def inside_width_mm(self) -> float:
        """Room between the sides, W - 2t; may be negative for an impossible order."""
        return self.width_mm - 2 * self.stocks.side.thickness_mm

    @property
    def blind_pin_depth_mm(self) -> float:
        """Depth of blind shelf-pin holes drilled into both faces of a divider: as set, or what leaves wood between."""
        room = (self.stocks.carcass.thickness_mm - LEAST_BETWEEN_HOLES_MM) / 2
        return min(self.construction.pin_depth_mm, room)

    @property
    def columns_mm(self) -> tuple[tuple[float, float], ...]:
        """Left and right end of the room between two uprights, from the left; one column without dividers."""
        thickness = self.stocks.carcass.thickness_mm
        lefts = (self.stocks.side.thickness_mm, *(x + thickness for x in self.divider_x_mm))
        return tuple(zip(lefts, (*self.divider_x_mm, self.width_mm - self.stocks.side.thickness_mm), strict=True))

    @property
    def divider_front_mm(self) -> float:
        """Where dividers begin behind the sides' front edges: behind inset fronts that pass before them."""
        return 0.0 if self.columns else self.front_intrusion_mm

    @property
    def prefix(self) -> str:
        """What the names of a column's own parts begin with; nothing for a whole cabinet."""
        return f"column {self.column} " if self.column else ""

    @property
    def units(self) -> tuple[tuple[float, "Cabinet"], ...]:
        """Each column with where its own frame begins along x; without columns of their own the cabinet itself."""
        if not self.columns:
            return ((0.0, self),)
        side = self.stocks.side.thickness_mm
        return tuple((left - side, box) for (left, _), box in zip(self.columns_mm, self.columns, strict=True))

    @property
    def inside_depth_mm(self) -> float:
        """From the front edge to the front of the back: D - tb, less what stands behind a back in a groove; D without
        a back."""
        if not self.has_back:
            return self.depth_mm
        return self.depth_mm - self.back_inset_mm - self.stocks.back.thickness_mm

    @property
    def back_rear_mm(self) -> float:
        """Where the back's rear face is, or would be: its edge in the sides, or the sides' own before an applied
        one."""
        if self.has_back_in(BackPlace.APPLIED):
            return self.inside_depth_mm
        return self.depth_mm - self.back_inset_mm

    @property
    def back_inset_mm(self) -> float:
        """Wood behind the back in the sides' rear edges; 0 unless the back stands in a groove."""
        return self.construction.back_inset_mm if self.has_back_in(BackPlace.GROOVE) else 0.0

    def has_back_in(self, place: BackPlace) -> bool:
        """Tell whether the box has a back that stands in this place."""
        return self.has_back and self.construction.back is place

    def is_finished(self, hand: str) -> bool:
        """Tell whether the end of that hand, 'left' or 'right', shows."""
        return self.construction.finished.has(hand)

    def side_depth_mm(self, hand: str) -> float:
        """Width of the side of that hand from its front to its rear edge: D, less a back applied behind it, and with
        the scribe of a finished end."""
        applied = self.stocks.back.thickness_mm if self.has_back_in(BackPlace.APPLIED) else 0.0
        return self.depth_mm - applied + (self.construction.scribe_mm if self.is_finished(hand) else 0.0)

    @property
    def outside_depth_mm(self) -> float:
        """From the front edge to the rearmost edge: D, and the scribe of a finished end."""
        has_scribe = any(self.is_finished(hand) for hand in ("left", "right"))
        return self.depth_mm + (self.construction.scribe_mm if has_scribe else 0.0)

    @property
    def seated_length_mm(self) -> float:
        """Length of a panel seated in both sides, W - 2t + 2d (check value 6.15)."""
        return self.inside_width_mm + 2 * self.construction.dado_depth_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerCabinet:
    """An L-shaped corner cabinet. Its frame: +x along the right wall, +y along the left wall towards the corner, +z up.
    Each leg is a box as long as its wall, of which the outer side and the fronts are made."""

    name: str
    left: Cabinet
    right: Cabinet
    doors: str
    """'bi-fold', 'two' or 'open'."""
    hinge: str

    @property
    def size_mm(self) -> tuple[float, float, float]:
        """Outside along x, y and z."""
        return self.right.width_mm, self.left.width_mm, self.right.height_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderBase:
    """A plinth frame: x along its length, y from its front to its rear, z up from the floor."""

    name: str
    stock: Stock
    construction: Construction
    length_mm: float
    depth_mm: float
    height_mm: float
    joint: str
    """'butt' or 'dado'."""
    rung_x_mm: tuple[float, ...]
    """Left face of each rung, rising."""
    splice_x_mm: tuple[float, ...]
    """Where the pieces of the rails meet, rising; front and rear rail alike."""
    plate_mm: float
    """Length of the plate behind each splice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SettledCut:
    """Something cut into a plain part, in the part's frame."""

    kind: str
    """'hole', 'dado', 'groove', 'rabbet', 'pocket', 'cut-out'."""
    name: str
    depth_mm: float | None
    """None: right through."""
    outline: Contour
    diameter_mm: float = 0.0
    """Of a hole, whose outline is the circle."""
    islands: tuple[Contour, ...] = ()
    relieved_corners: tuple[Point, ...] = ()
    is_rear: bool = False
    """Cut from the other face; x and y as seen through the part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainPart:
    """A part ordered by itself, in a frame with its origin at the lower left of the rectangle round the outline."""

    name: str
    stock: Stock
    length_mm: float
    width_mm: float
    grain: Grain
    note: str
    outline: Contour
    cuts: tuple[SettledCut, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class KickPiece:
    """One piece of a toe kick, seen from the front: x from its left end; heights from its straight top edge down."""

    name: str
    cabinets: tuple[str, ...]
    """Those it runs under, from left to right."""
    stock: Stock
    style: KickStyle
    length_mm: float
    edge: tuple[tuple[float, float], ...]
    """x and height of its lower edge, from end to end; straight between two."""
    face_down: bool
    grain: Grain
    setback_mm: float
    apron_mm: float = 0.0
    """Valance: height between its feet."""
    foot_mm: float = 0.0
    """Valance: width of either foot at the floor."""
    radii_mm: tuple[float, float] = (0.0, 0.0)
    """Valance: corner radius at the left and the right foot."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """One copy of an order: its name, and the boxes it is made of, from the floor up or from the left; none for a
    corner or a ladder base."""

    order: str
    name: str
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolved:
    """Every cabinet and plain part of a job with its sizes settled. A cabinet with an error finding is left out."""

    cabinets: tuple[Cabinet, ...]
    parts: tuple[PlainPart, ...]
    findings: tuple[Finding, ...]
    corners: tuple[CornerCabinet, ...] = ()
    ladders: tuple[LadderBase, ...] = ()
    kicks: tuple[KickPiece, ...] = ()
    stands: tuple[Stand, ...] = ()
