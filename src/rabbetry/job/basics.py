"""What the records of a job are made of: units, grain, stocks, and the settings of the joinery. Millimetres."""

from dataclasses import dataclass
from enum import StrEnum

from rabbetry.job.fittings import NO_FITTINGS, Fittings
from rabbetry.job.words import BackPlace, BottomWord, FinishedEnd, LevelJoint, TopWord


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
class ShelfPiece:
    """An offcut on the shelf, with the size along its grain and across, and its own measured thickness."""

    name: str
    sheet: str
    """Row of the sheet-goods table."""
    thickness_mm: float
    along_mm: float
    across_mm: float
    note: str = ""

    def on_blank_mm(self, grain_along_x: bool) -> tuple[float, float]:
        """Return its size along X and Y, laid as blanks of a stock are."""
        return (self.along_mm, self.across_mm) if grain_along_x else (self.across_mm, self.along_mm)


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
