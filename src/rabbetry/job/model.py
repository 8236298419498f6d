"""The job after reading: everything settled that the job file says, lengths in millimetres.

`read` makes it from text; later stages see only these records.
"""

from dataclasses import dataclass, field
from enum import StrEnum

from rabbetry.findings import Finding
from rabbetry.job.basics import (
    CabinetKind,
    Construction,
    DoorStyle,
    Faces,
    Grain,
    Mount,
    Nailer,
    ShelfPiece,
    Stock,
    Units,
)
from rabbetry.job.choices import BlindOrder, CoverOrder, CutOutOrder, FillerOrder, FrontOrder, OpeningOrder, RunOrder
from rabbetry.job.drawings import DrawingOrder
from rabbetry.shop.model import Shop
from rabbetry.tolerances import SAME_THICKNESS_MM

__all__ = [
    "LEAST_VENT_WEB_MM",
    "CabinetKind",
    "CabinetOrder",
    "Construction",
    "Corner",
    "CornerOrder",
    "CutOrder",
    "Cutting",
    "DoorStyle",
    "Faces",
    "Grain",
    "Hold",
    "Job",
    "KickOrder",
    "KickSpan",
    "KickStyle",
    "LadderOrder",
    "Mount",
    "Nailer",
    "PartOrder",
    "ShelfPiece",
    "Stock",
    "Units",
    "VentOrder",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class CabinetOrder:
    """One cabinet as the job orders it, defaults filled in; `stock` names are rows of `Job.stocks`."""

    name: str
    kind: CabinetKind
    qty: int
    width_mm: float
    height_mm: float
    depth_mm: float
    doors: int
    """0, 1 or 2 doors below the drawers."""
    hinge: str
    """'left' or 'right': the hinge side of a single door, seen from the front."""
    drawer_front_heights_mm: tuple[float, ...]
    """Heights of the drawer fronts from the top down; empty for none. 0 means an equal share of what is left."""
    drawer_length_mm: float | None
    """Length of slide and box, front to back; None: the longest usual length that fits."""
    fixed_shelves: int
    adjustable_shelves: int
    back: bool
    nailer: Nailer
    slab_doors: bool
    """Cut doors and drawer fronts from sheet (with cup bores); False: made elsewhere, only their sizes are listed."""
    carcass_stock: str
    back_stock: str
    drawer_stock: str
    drawer_bottom_stock: str
    front_stock: str
    construction: Construction
    shelf_load_pa: float = 718.2
    """What shelves and bottoms carry, spread evenly: 15 lb/ft2 (ANSI/KCMA A161.1's load for shelves)."""
    side_stock: str = ""
    """Stock of the two sides where it differs from the carcass's; empty: the same."""
    dividers_mm: tuple[float | None, ...] = ()
    """Left face of each divider from the left side's inside face, rising; None for equal columns."""
    divider_pins: str = "through"
    """'through': one row of holes serves both columns; 'blind': a row in each face."""
    columns: tuple[tuple[FrontOrder, ...], ...] = ()
    """What stands in each column, from the left: its front from the top down. Empty: one front before all columns."""
    column: int = 0
    """Which column of a cabinet the order stands for, from 1; 0: a cabinet."""
    column_ends: tuple[bool, bool] = (False, False)
    """Of a column: whether its left and its right upright is a divider."""
    faces: Faces = Faces.FRAMELESS
    mount: Mount = Mount.OVERLAY
    door_style: DoorStyle = DoorStyle.PLAIN
    fronts: tuple[FrontOrder, ...] = ()
    """The front from the top down; empty: drawers over doors, as counted above."""
    opening: OpeningOrder | None = None
    cut_outs: tuple[CutOutOrder, ...] = ()
    blind: BlindOrder | None = None
    split_mm: tuple[float, ...] = ()
    """Heights above the floor where stacked boxes meet; empty: chosen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Corner:
    """A corner of an outline as ordered. `through_mm`: a point on the arc that leads to it; None: a straight edge."""

    x_mm: float
    y_mm: float
    radius_mm: float = 0.0
    through_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOrder:
    """Something cut into a plain part, in the coordinates of the part's outline."""

    kind: str
    """'hole', 'dado', 'groove', 'rabbet', 'pocket', 'cut-out'."""
    name: str
    depth_mm: float | None
    """None: right through."""
    corners: tuple[Corner, ...] = ()
    """Of a pocket or cut-out that is no circle."""
    x_mm: float = 0.0
    y_mm: float = 0.0
    diameter_mm: float = 0.0
    """Of a hole, or of a round pocket or cut-out, about x and y."""
    islands: tuple[tuple[Corner, ...], ...] = ()
    """Of a drawn pocket: what stays within it."""
    relieved_mm: tuple[tuple[float, float], ...] = ()
    """Corners of a drawn recess that a square corner must enter."""
    is_rear: bool = False
    """Cut from the other face; x and y as seen through the part."""
    along: str = ""
    """'x' or 'y' for a dado or groove, whose lower or left side is at `at_mm`."""
    at_mm: float = 0.0
    edge: str = ""
    """'left', 'right', 'lower' or 'upper' for a rabbet."""
    width_mm: float = 0.0
    start_mm: float | None = None
    end_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PartOrder:
    """A part by itself, besides the cabinets: filler, end panel, shelf, or any outline."""

    name: str
    qty: int
    stock: str
    length_mm: float
    """0 with an outline, which says the size."""
    width_mm: float
    grain: Grain
    note: str = ""
    outline: tuple[Corner, ...] = ()
    """Empty: a rectangle from (0, 0)."""
    cuts: tuple[CutOrder, ...] = ()
    drawing: DrawingOrder | None = None
    """The file its outline comes from, and cuts; `drawings` fills in what it holds."""


class KickStyle(StrEnum):
    """A toe-kick piece down to the floor all along, or a strip that stands on a curved foot at either end."""

    BOARD = "board"
    VALANCE = "valance"


@dataclass(frozen=True, slots=True, kw_only=True)
class KickSpan:
    """What a toe kick runs under: one cabinet, filler, ladder base or leg of a corner; or the whole of a piece with a
    length of its own."""

    cabinet: str
    """Its name, or a filler's; empty for a piece with a length of its own."""
    width_mm: float
    kick_height_mm: float
    """The cabinet's toe-kick height; 0 when it has none."""
    left_mm: float | None = None
    right_mm: float | None = None
    """Heights as measured at the two ends, kick's top edge to the floor; None where points were measured instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KickOrder:
    """A toe kick cut to the floor. Millimetres; x from its left end as seen from the front."""

    name: str
    stock: str
    style: KickStyle
    spans: tuple[KickSpan, ...]
    """From left to right."""
    floor: tuple[tuple[float, float], ...]
    """x and height as measured, top edge down to the floor, from end to end; straight between two."""
    drop_mm: float
    """Its lower edge stays so far above the floor as measured; below 0: so much is left to scribe."""
    setback_mm: float
    """The cabinets' front to the kick's face."""
    face_down: bool
    grain: Grain
    a_piece_each: bool
    """One piece for each span, instead of pieces as long as the blank allows."""
    shims_mm: float
    """Most that feet or shims under a cabinet take up."""
    foot_mm: float = 0.0
    """The last five are for valances."""
    rise_mm: float | None = None
    apron_mm: float | None = None
    radius_mm: float | None = None
    radius_share: float = 0.0

    @property
    def length_mm(self) -> float:
        return sum(span.width_mm for span in self.spans)


LEAST_VENT_WEB_MM = 6.0
"""Least wood between two slots of a vent, and from a slot to an edge or another cut (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class VentOrder:
    """A grille of round-ended slots in one panel. Millimetres; `spacing_mm` from middle to middle."""

    panel: str
    slots: int | None
    free_area_mm2: float | None
    """Either this or `slots` is given."""
    length_mm: float
    width_mm: float
    spacing_mm: float
    up: bool
    """Slots run up (panel y) and stand side by side; else along the panel, one above the other."""
    at_mm: tuple[float, float] | None
    """Middle of the grille, panel frame; None: in the middle of the panel."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerOrder:
    """An L-shaped corner cabinet: each leg is ordered as a box as long as its wall, from the corner to its end."""

    name: str
    qty: int
    left: CabinetOrder
    right: CabinetOrder
    doors: str
    """'bi-fold', 'two' or 'open'."""
    hinge: str
    """The end that bi-fold leaves hang from."""
    unused: tuple[str, ...] = ()
    """Each word or length given for it that it cannot follow, with the reason."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderOrder:
    """A plinth frame under one or more boxes."""

    name: str
    qty: int
    length_mm: float
    depth_mm: float
    height_mm: float
    rung_spacing_mm: float
    joint: str
    """'butt' or 'dado'."""
    stock: str
    construction: Construction


class Hold(StrEnum):
    """What holds a part until the end of its profile cut."""

    TABS = "tabs"
    SKIN = "skin"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """How parts are cut. Millimetres."""

    spacing_mm: float | None = None
    """Gap between parts; None: profile cutter's diameter + `web_mm`."""
    web_mm: float = 2.0
    direction: str = "climb"
    """'climb' or 'conventional'."""
    hold: Hold = Hold.TABS
    tab_length_mm: float = 8.0
    tab_height_mm: float = 3.0
    tab_spacing_mm: float = 300.0
    """About one tab per this much of edge, at least three (two on strips)."""
    skin_mm: float = 0.3
    finish: str = "last pass"
    """Which lap makes the finished edge at full depth: 'last pass', 'own pass' after all others, or 'none'."""
    finish_mm: float = 0.25
    """Allowance that all other passes leave on the edge."""
    loose_waste: str = "chips"
    """'chips': small waste that comes loose is cut to chips first; 'leave': a note says where it comes loose."""
    ramp_deg: float = 3.0
    stepover: float = 0.45
    """Share of the cutter's diameter between neighbouring rings of a pocket."""
    profile_cutter: int | None = None
    """Cutter number for profiles; None: chosen."""
    two_faces: str = "flip"
    """'flip': parts with cuts in both faces are cut in two set-ups; 'refuse': they are an error."""
    index_hole_mm: float = 6.0
    """Diameter of the index holes on sheets that are flipped: that of the pins at hand."""
    index_depth_mm: float = 6.0
    """How far index holes go into the spoilboard, so that pins stand in it."""
    hold_down: str = "none"
    """'none', or 'screws': a program drills pilot holes in the waste for screws that hold the blank down."""
    screw_hole_mm: float = 3.0
    screw_head_mm: float = 9.0
    """Widest of a screw's head, its washer included."""
    screw_head_height_mm: float = 4.0
    small_part_mm: float = 90.0
    """A part with its shorter side under this gets a warning about holding."""
    layout_effort: int = 4
    """Work spent on using fewer blanks; each step is three times as much."""
    offcut_tolerance_mm: float = SAME_THICKNESS_MM
    """How far a shelf piece's thickness may be from its stock's."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole job. `file` is the name shown in messages (never opened again)."""

    name: str
    file: str
    units: Units
    post: str
    shop: Shop
    stocks: tuple[Stock, ...]
    cutting: Cutting
    cabinets: tuple[CabinetOrder, ...]
    parts: tuple[PartOrder, ...]
    covers: tuple[CoverOrder, ...] = ()
    fillers: tuple[FillerOrder, ...] = ()
    runs: tuple[RunOrder, ...] = ()
    shelf_limit: float = 240.0
    """A shelf may sag by its span divided by this."""
    banding_allowance_mm: float = 50.0
    """What each strip of edge banding is cut longer than its edge, both ends together."""
    banding_waste_percent: float = 10.0
    """Edge banding to buy beyond what is cut."""
    corners: tuple[CornerOrder, ...] = ()
    ladders: tuple[LadderOrder, ...] = ()
    echoes: tuple[str, ...] = field(default=())
    """Lengths as read, shown as decimal and fraction, for the report."""
    notes: tuple[Finding, ...] = field(default=())
    """Findings made while reading: orders left out, doubtful fractions and sizes. `job_findings` gives all."""
    kicks: tuple[KickOrder, ...] = field(default=())
    vents: tuple[VentOrder, ...] = field(default=())
    shelf_file: str = ""
    """Name of the file of offcuts; "" when the job names none."""
    shelf: tuple[ShelfPiece, ...] = field(default=())

    def stock(self, name: str) -> Stock:
        """Return the stock of that name. Raises KeyError."""
        for stock in self.stocks:
            if stock.name == name:
                return stock
        raise KeyError(name)
