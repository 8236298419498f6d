"""What a settled cabinet is made of: stocks, openings, fronts, drawer boxes, face-frame members. Millimetres, cabinet
frame."""

from dataclasses import dataclass

from rabbetry.job.choices import OpeningOrder
from rabbetry.job.model import Stock

LEAST_BETWEEN_HOLES_MM = 3.0
"""Least wood between the floors of two blind holes drilled from both faces (check values 4.1.11, 6.4; common practice,
no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stocks:
    """The stock each group of panels comes from."""

    carcass: Stock
    back: Stock
    drawer: Stock
    drawer_bottom: Stock
    front: Stock
    own_side: Stock | None = None
    """The two sides' stock where it is not the carcass's."""

    @property
    def side(self) -> Stock:
        """What the two sides are cut from."""
        return self.own_side or self.carcass


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A space between the sides, from `floor_z_mm` to `top_z_mm`, filled by a drawer, a door or nothing."""

    fill: str
    """'drawer', 'door', 'open', 'appliance'."""
    floor_z_mm: float
    top_z_mm: float
    adjustable_shelves: int = 0
    fixed_shelves: int = 0
    wanted: OpeningOrder | None = None
    """What the appliance in it needs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """A door or drawer front: outside size and place on the cabinet's front, cabinet frame."""

    name: str
    """'door', 'left door', 'right door', 'drawer front 1'..."""
    kind: str
    """'door', 'drawer front', 'false front' (no box behind it), or 'blind panel' (fixed, behind a neighbour)."""
    x_mm: float
    z_mm: float
    width_mm: float
    height_mm: float
    hinge: str
    """'left', 'right' or '' for a drawer front."""
    hinge_z_mm: tuple[float, ...] = ()
    """Heights of hinge centres above the floor, cabinet frame."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerBox:
    """Outside sizes of a drawer box and where its slides sit."""

    name: str
    outside_width_mm: float
    inside_width_mm: float
    height_mm: float
    length_mm: float
    """Front to back."""
    floor_z_mm: float
    """Floor of its opening, cabinet frame."""
    slide_hole_z_mm: float
    slide_hole_y_mm: tuple[float, ...]
    """Slide holes behind the cabinet's front edge."""
    on_blocking: bool = False
    """Whether the slides go on blocking behind a face frame, and the sides get no holes for them."""
    front_y_mm: float = 0.0
    """Front of the box behind the cabinet's front edge: where the back of its drawer front is."""
    shift_x_mm: float = 0.0
    """Middle of the box right of the cabinet's middle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameMember:
    """A stile or rail of a face frame as it shows on the cabinet's front, cabinet frame; tenons are not counted."""

    name: str
    """'left stile', 'top rail', 'rail 1'..."""
    kind: str
    """'stile' or 'rail'."""
    x_mm: float
    z_mm: float
    width_mm: float
    """Along x."""
    height_mm: float
    """Along z."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameEnds:
    """How wide the face frame's stile is at each side of a box, from the frame's edge inward; 0: no stile there,
    because one frame runs on over the next box."""

    left_mm: float
    right_mm: float
    left_joined: bool = False
    """Whether the frame runs on over the box to the left; a stile there stands between the rails, half over each."""
    right_joined: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LoosePart:
    """A part that belongs to a cabinet and is fitted on site: a lid, a corner filler."""

    role: str
    stock: Stock
    length_mm: float
    width_mm: float
    note: str
