"""A cabinet with its sizes settled: openings, shelves, hinges, drawer boxes. Millimetres, cabinet frame.

Cabinet frame: origin at the front left lower corner of the box at floor level, +x right, +y to the back, +z up.
"""

from dataclasses import dataclass

from rabbetry.job.model import CabinetKind, Construction, Grain, Nailer, Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class Stocks:
    """The stock each group of panels comes from."""

    carcass: Stock
    back: Stock
    drawer: Stock
    drawer_bottom: Stock
    front: Stock


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A space between the sides, from `floor_z_mm` to `top_z_mm`, filled by a drawer, a door or nothing."""

    fill: str
    """'drawer', 'door', 'open'."""
    floor_z_mm: float
    top_z_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """A door or drawer front: outside size and place on the cabinet's front, cabinet frame."""

    name: str
    """'door', 'left door', 'right door', 'drawer front 1'..."""
    kind: str
    """'door' or 'drawer front'."""
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


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainPart:
    """A rectangular part ordered by itself."""

    name: str
    stock: Stock
    length_mm: float
    width_mm: float
    grain: Grain
    note: str
