"""The job after reading: everything settled that the job file says, lengths in millimetres.

`read` makes it from text; later stages see only these records.
"""

from dataclasses import dataclass, field
from enum import StrEnum

from rabbetry.findings import Finding
from rabbetry.job.choices import BlindOrder, CoverOrder, CutOutOrder, FillerOrder, FrontOrder, OpeningOrder, RunOrder
from rabbetry.job.fittings import NO_FITTINGS, Fittings
from rabbetry.job.words import BackPlace, BottomWord, FinishedEnd, LevelJoint, TopWord
from rabbetry.shop.model import Shop


class Units(StrEnum):
    """The unit of a job's bare numbers."""

    MM = "mm"
    INCH = "in"


class Grain(StrEnum):
    """How the sheet's grain must run on a panel: along its length, across it, or any way."""

    ALONG = "along"
    ACROSS = "across"
    FREE = "free"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """One pile of blanks of one sheet good and thickness. Grain runs along blank x if `grain_along_x`, else along y."""

    name: str
    sheet: str
    """Row of the sheet-goods table."""
    material: str
    nominal_mm: float
    measured_mm: float | None
    blank_x_mm: float
    blank_y_mm: float
    has_grain: bool
    grain_along_x: bool
    trim_mm: float
    """Kept free along each edge of the blank."""
    full_sheet_mm: tuple[float, float] | None = None
    """Size of the full sheets it comes from, along the grain and across; None: the sheet table's."""
    saw_kerf_mm: float = 3.2
    """What the saw takes when full sheets are broken down."""
    keep_factory_edge: bool = False
    """Whether every blank must keep an edge of the full sheet."""
    price: float | None = None
    """Of a full sheet, in whatever currency the job means."""

    @property
    def thickness_mm(self) -> float:
        """Measured if known, else nominal (a warning says so)."""
        return self.measured_mm if self.measured_mm is not None else self.nominal_mm

    def room_mm(self, grain: Grain) -> tuple[float, float]:
        """Return the greatest length and width of a part that a blank holds inside its trim, its grain as asked."""
        x, y = self.blank_x_mm - 2 * self.trim_mm, self.blank_y_mm - 2 * self.trim_mm
        if not self.has_grain or grain is Grain.FREE:
            return max(x, y), min(x, y)
        return (x, y) if (grain is Grain.ALONG) == self.grain_along_x else (y, x)


@dataclass(frozen=True, slots=True, kw_only=True)
class Construction:
    """Settings of the joinery; every one may be set for the job and overridden per cabinet. Millimetres."""

    bottom_joint: LevelJoint = LevelJoint.DADO
    top_joint: LevelJoint = LevelJoint.RABBET
    """Of a full top or of stretchers; rails on edge know rabbets and butt joints only."""
    shelf_joint: LevelJoint = LevelJoint.DADO
    """Of the fixed shelves."""
    back: BackPlace = BackPlace.RABBET
    top: TopWord = TopWord.BY_KIND
    bottom: BottomWord = BottomWord.BY_KIND
    finished: FinishedEnd = FinishedEnd.NONE
    dado_stop_mm: float = 10.0
    """Where stopped dados and tongues end, behind the side's front edge."""
    tongue_thickness_mm: float = 9.0
    depth_clearance_mm: float = 0.4
    """What a tongue's dado is deeper than the tongue is long; the panel's length holds none of it."""
    back_inset_mm: float = 12.0
    """Wood behind the back in its groove."""
    scribe_mm: float = 0.0
    """How much deeper a finished end is than the box, to be planed to the wall."""
    band_thickness_mm: float = 0.0
    """What a panel is cut smaller by on each banded edge."""
    dado_depth_mm: float = 6.0
    back_rabbet_depth_mm: float = 6.0
    fit_clearance_mm: float = 0.2
    kick_height_mm: float = 100.0
    kick_depth_mm: float = 75.0
    bottom_lift_mm: float = 18.0
    """How far a raised bottom's under side lies above the sides' lower ends, or above the toe kick."""
    stretcher_width_mm: float = 100.0
    nailer_width_mm: float = 100.0
    shelf_side_gap_mm: float = 2.0
    """Total, both ends together."""
    shelf_setback_mm: float = 10.0
    pin_diameter_mm: float = 5.0
    pin_depth_mm: float = 12.0
    pin_pitch_mm: float = 32.0
    pin_front_mm: float = 37.0
    pin_rear_mm: float = 37.0
    pin_end_margin_mm: float = 100.0
    """Least distance of the first and last pin from the floor and the top of the opening."""
    pin_first_mm: float = 0.0
    """First pin above the under side of the bottom, whole pitches from there; 0: balanced rows."""
    pin_rows_apart_mm: float = 0.0
    """The rear row comes forward until the rows are a multiple of this apart; 0: as set."""
    pilot_diameter_mm: float = 3.0
    pilot_spacing_mm: float = 200.0
    pilot_end_mm: float = 40.0
    hinge_end_mm: float = 100.0
    """Hinge centre from the door's end."""
    hinge_pitch_mm: float = 0.0
    """Hinges of a door are a multiple of this apart; 0: any distance."""
    hinge_cup_diameter_mm: float = 35.0
    hinge_cup_depth_mm: float = 12.5
    hinge_cup_edge_mm: float = 5.0
    """Cup edge to door edge (B); the cup's centre is B + half the cup's diameter in."""
    hinge_fixing_diameter_mm: float = 8.0
    hinge_fixing_depth_mm: float = 10.0
    hinge_fixing_spacing_mm: float = 45.0
    hinge_fixing_offset_mm: float = 9.5
    plate_diameter_mm: float = 5.0
    plate_depth_mm: float = 12.0
    plate_front_mm: float = 37.0
    plate_spacing_mm: float = 32.0
    front_gap_mm: float = 3.0
    """Between two fronts; each outer edge keeps half of it."""
    slide_hole_diameter_mm: float = 5.0
    slide_hole_depth_mm: float = 12.0
    slide_front_mm: float = 37.0
    slide_spacing_mm: float = 224.0
    slide_height_mm: float = 37.0
    """Slide holes above the floor of the drawer's opening."""
    drawer_width_allowance_mm: float = 42.0
    """Opening width less the drawer box's inside width (undermount slides)."""
    drawer_side_allowance_mm: float = 25.4
    """Opening width less the drawer box's outside width (side-mount slides)."""
    drawer_height_allowance_mm: float = 30.0
    """Opening height less the drawer box's height."""
    drawer_bottom_recess_mm: float = 13.0
    drawer_groove_depth_mm: float = 6.0
    drawer_rabbet_depth_mm: float = 6.0
    drawer_notch_width_mm: float = 32.0
    drawer_notch_height_mm: float = 13.0
    drawer_hook_diameter_mm: float = 6.0
    drawer_hook_in_mm: float = 7.0
    drawer_hook_up_mm: float = 11.0
    drawer_hook_depth_mm: float = 0.0
    """Depth of the hook holes from the back's outside, drilled by hand; 0: right through, by the machine."""
    drawer_rear_clearance_mm: float = 19.0
    """Least room behind the drawer box."""
    frame_thickness_mm: float = 19.0
    frame_stile_width_mm: float = 38.0
    frame_middle_stile_width_mm: float = 38.0
    """Where two boxes meet under one face frame."""
    frame_top_rail_width_mm: float = 38.0
    frame_middle_rail_width_mm: float = 38.0
    frame_bottom_rail_width_mm: float = 38.0
    """Over a kick; without one the rail reaches from the sides' lower ends to the bottom's upper side."""
    frame_bottom_lip_mm: float = 0.0
    """Bottom rail's upper edge above the bottom's upper side."""
    frame_overhang_mm: float = 3.0
    """Face frame past the case at each side, for scribing; the case is that much narrower than the order."""
    frame_overlay_mm: float = 12.0
    """How far overlay fronts cover the face frame on every side of an opening."""
    frame_tenon_length_mm: float = 0.0
    """What a rail or middle stile is longer at each end than the space it fills; 0: butted."""
    inset_reveal_mm: float = 2.4
    front_thickness_mm: float = 19.0
    """Of doors and drawer fronts made elsewhere."""
    door_stile_width_mm: float = 50.0
    door_rail_width_mm: float = 50.0
    door_groove_depth_mm: float = 10.0
    door_panel_play_mm: float = 3.0
    """Panel smaller than the space between the grooves' floors, total in each direction."""
    fittings: Fittings = NO_FITTINGS
    """Rows of the hardware tables chosen."""


class CabinetKind(StrEnum):
    """The kinds of cabinet a job may ask for."""

    BASE = "base"
    SINK = "sink"
    DRAWERS = "drawers"
    WALL = "wall"
    OPEN = "open"
    TALL = "tall"
    BLIND_CORNER = "blind corner"
    WALL_BLIND_CORNER = "wall blind corner"
    APPLIANCE = "appliance"
    WINDOW_SEAT = "window seat"
    LIDDED_SEAT = "lidded seat"


class Faces(StrEnum):
    """What stands before the edges of the carcass."""

    FRAMELESS = "frameless"
    FACE_FRAME = "face frame"


class Mount(StrEnum):
    """Whether doors and drawer fronts lie before the box or its frame, or within their openings."""

    OVERLAY = "overlay"
    INSET = "inset"


class DoorStyle(StrEnum):
    """How doors that are made elsewhere are built."""

    PLAIN = "plain"
    FRAME_AND_PANEL = "frame and panel"


class Nailer(StrEnum):
    """Where strips for wall screws are fitted inside the back: under the top, on the bottom."""

    NONE = "none"
    TOP = "top"
    BOTTOM = "bottom"
    BOTH = "both"


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


class KickStyle(StrEnum):
    """A toe-kick piece down to the floor all along, or a strip that stands on a curved foot at either end."""

    BOARD = "board"
    VALANCE = "valance"


@dataclass(frozen=True, slots=True, kw_only=True)
class KickSpan:
    """What a toe kick runs under: one cabinet or filler, or the whole of a piece with a length of its own."""

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
    small_part_mm: float = 90.0
    """A part with its shorter side under this gets a warning about holding."""
    layout_effort: int = 4
    """Work spent on using fewer blanks; each step is three times as much."""


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

    def stock(self, name: str) -> Stock:
        """Return the stock of that name. Raises KeyError."""
        for stock in self.stocks:
            if stock.name == name:
                return stock
        raise KeyError(name)
