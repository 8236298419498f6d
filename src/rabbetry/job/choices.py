"""What a cabinet's order may say besides sizes, counts and settings: its front from the top down, an appliance's
opening, cut-outs, its blind part. Millimetres."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningOrder:
    """The clear room an appliance needs, and what is behind it."""

    width_mm: float
    height_mm: float
    depth_mm: float
    """0: not checked."""
    up_mm: float | None
    """Upper face of the platform above the floor; None: on the cabinet's own bottom."""
    vent: bool
    """Whether the back is cut out behind the opening."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontOrder:
    """One band of a front."""

    fill: str
    """'drawer', 'door', 'open', 'false front', 'appliance'."""
    height_mm: float = 0.0
    """Height of the front itself; 0: an equal share of what the others leave."""
    doors: int = 1
    """1 or 2 doors side by side."""
    hinge: str = "left"
    adjustable_shelves: int = 0
    fixed_shelves: int = 0
    below: str = ""
    """What divides it from the band below: 'shelf', 'rail' or '' for nothing."""
    opening: OpeningOrder | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOutOrder:
    """A hole right through a panel, for a duct, pipes or cables; its centre in the cabinet frame."""

    panel: str
    """Role of the panel: 'back', 'bottom', 'top'."""
    x_mm: float | None
    """None: in the middle of the width."""
    at_mm: float | None
    """Centre behind the front edge, or above the floor in a back; None: in the middle."""
    width_mm: float
    height_mm: float
    round: bool
    """True: a circle of diameter `width_mm`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlindOrder:
    """The blind part of a corner cabinet: which end is in the corner, and what stands before it."""

    hand: str
    """'left' or 'right', seen from the front."""
    neighbour_depth_mm: float
    """Depth of the neighbour's carcass."""
    pull_clearance_mm: float
    """Room kept beyond the neighbour's fronts for pulls: width of the corner filler too."""
    pulled_out_mm: float
    """How far the cabinet's end is kept from the wall in the corner."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverOrder:
    """A panel that covers one side of one or more cabinets standing in a row; its size follows theirs."""

    name: str
    covers: tuple[str, ...]
    side: str
    """'back', 'left', 'right', 'top'."""
    stock: str
    """Empty: the front stock of the first cabinet covered."""
    to_floor: bool
    overhang_mm: tuple[float, float, float, float]
    """Beyond the boxes: at the left, right, lower and upper edge as one faces the panel."""
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FillerOrder:
    """A strip between a cabinet and its neighbour or a wall."""

    name: str
    beside: str
    width_mm: float
    scribe_mm: float
    """Added to the width, to be planed to the wall."""
    stock: str
    """Empty: the cabinet's front stock."""
    to_floor: bool
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RunItem:
    """One thing that stands in a run."""

    sort: str
    """'cabinet', 'corner', 'appliance', 'filler', 'gap'."""
    name: str
    """The cabinet's, corner's or appliance's; else the sort."""
    width_mm: float
    """Along the wall; what fills it has what the others leave, which may be less than nothing."""
    is_fill: bool
    """Whether it takes what the wall has left."""
    height_mm: float
    use: str
    """'sink', 'hob', 'oven', 'refrigerator', 'dishwasher', 'other'."""
    bottom_mm: float
    """Lower edge above the floor; a filler begins where its neighbour's front does."""
    stock: str
    """Of a filler cut from sheet; empty: solid wood."""
    scribe_mm: float = 0.0
    """What a filler is wider than its place, to be fitted to the wall."""
    beside: str = ""
    """The cabinet a filler stands beside."""
    leg: str = ""
    """Of an L-shaped corner: the leg along this wall, 'left' or 'right' as one looks into the corner."""
    on: str = ""
    """The ladder base it stands on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunOrder:
    """What stands along a wall, from left to right as seen from the front."""

    name: str
    length_mm: float
    left: str
    """'wall', 'open', 'corner'."""
    right: str
    items: tuple[RunItem, ...]
    upper: tuple[RunItem, ...]
    is_one_frame: bool
    has_middle_stiles: bool
    counter_thickness_mm: float
    counter_height_mm: float | None
    """The counter's upper side; None where no cabinet carries one."""
    upper_bottom_mm: float
    room_height_mm: float | None
    aisle_mm: float | None
    cooks: int
