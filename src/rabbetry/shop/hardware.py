"""Records of the hardware tables: shelf pins, hinge cups and plates, drawer slides, screws between boxes. Millimetres.

A row is a set of drilling figures that go together. Makers differ, and the maker's sheet always wins.
"""

from dataclasses import dataclass
from enum import StrEnum


class PlateFrom(StrEnum):
    """What the plate holes of a hinge are measured from: the side's front edge; the door's back, wherever the door
    stands; the side's front edge plus the frame's thickness, for a frame that stands between the sides; or nothing,
    since the plate sits on the frame and the side gets no holes."""

    EDGE = "front edge"
    DOOR = "back of the door"
    FRAME = "front edge plus the frame"
    ON_FRAME = "on the frame"


class SlideMount(StrEnum):
    """Where a drawer slide sits: under the box, or beside it."""

    UNDER = "under"
    SIDE = "side"


@dataclass(frozen=True, slots=True, kw_only=True)
class PinSystem:
    """Rows of shelf-pin holes."""

    name: str
    diameter_mm: float
    depth_mm: float
    pitch_mm: float
    front_mm: float
    """Front row behind the side's front edge."""
    rear_mm: float
    """Rear row before the side's rear edge."""
    end_margin_mm: float | None
    """Least distance of the first and last hole from the ends of the opening; None: as the job has it."""
    first_mm: float
    """First hole above the under side of the cabinet's bottom; 0: balanced rows."""
    half_bottom: bool
    """The first hole is at half the bottom's thickness, whatever that is; only the pitch goes on from there."""
    rows_apart_mm: float
    """The rows are a multiple of this apart; 0: as front and rear say."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HingeCup:
    """What a cup hinge needs in the door."""

    name: str
    diameter_mm: float
    depth_mm: float
    edge_mm: float
    """Edge of the cup from the door's edge, B."""
    edge_least_mm: float
    edge_most_mm: float
    fixing_spacing_mm: float
    """Between the two fixing holes; 0: none are bored, the hinge is screwed on by hand."""
    fixing_offset_mm: float
    fixing_diameter_mm: float
    fixing_depth_mm: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HingePlate:
    """What a hinge's mounting plate needs in the side."""

    name: str
    diameter_mm: float
    depth_mm: float
    front_mm: float
    spacing_mm: float
    measured_from: PlateFrom
    overlay_mm: float | None
    """The hinge's own overlay at B = 0 on a plate of no height; None: not known."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SlideSeries:
    """A pair of drawer slides and what they ask of the drawer box."""

    name: str
    mount: SlideMount
    width_allowance_mm: float
    """Opening's width less the box's inside width (under) or its outside width (side)."""
    side_most_mm: float | None
    """Thickest drawer side; None: any."""
    height_allowance_mm: float
    bottom_recess_mm: float
    notch_width_mm: float
    notch_height_mm: float
    hook_diameter_mm: float
    hook_in_mm: float
    hook_up_mm: float
    hook_depth_mm: float
    """Depth of the hook holes from the back's outside; 0: right through."""
    front_mm: float
    spacing_mm: float
    height_mm: float
    """Slide holes above the floor of the drawer's opening."""
    hole_diameter_mm: float
    hole_depth_mm: float
    rear_clearance_mm: float
    lengths_mm: tuple[float, ...]
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxScrews:
    """Holes through a side for the screws that hold two boxes together."""

    name: str
    diameter_mm: float
    front_mm: float
    """Front pair behind the side's front edge."""
    rear_mm: float
    """Rear pair before the side's rear edge; 0: none."""
    end_mm: float
    """First and last pair from the floor and the ceiling of the box."""
    spacing_mm: float
    """Largest distance from pair to pair, upward."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """The rows of the hardware tables, sorted by name."""

    pin_systems: tuple[PinSystem, ...] = ()
    hinge_cups: tuple[HingeCup, ...] = ()
    hinge_plates: tuple[HingePlate, ...] = ()
    slides: tuple[SlideSeries, ...] = ()
    box_screws: tuple[BoxScrews, ...] = ()


NO_HARDWARE = Hardware()
