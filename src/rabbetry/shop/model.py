"""Records of the shop: machine, cutters, chip loads, sheet goods. Millimetres, minutes, revolutions; from tables."""

import math
from dataclasses import dataclass
from enum import StrEnum

from rabbetry.shop.hardware import NO_HARDWARE, Hardware
from rabbetry.shop.tuning import Tuning
from rabbetry.tolerances import DEPTH_MM

UP_CUT_MARGIN_MM = 0.2
"""A compression cutter's first pass goes this much deeper than its up-cut tip is high."""


class CutterKind(StrEnum):
    """What a cutter is, as far as the planner and the dry run must know."""

    END_MILL = "end mill"
    COMPRESSION = "compression"
    DOWN_CUT = "down-cut"
    DRILL = "drill"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """One cutter. `measured_diameter_mm` is what the caliper or a coupon says and wins over the nominal diameter."""

    number: int
    name: str
    kind: CutterKind
    diameter_mm: float
    flutes: int
    flute_length_mm: float
    up_cut_length_mm: float = 0.0
    """Compression cutters only: the height of the up-cut tip; the first pass must be deeper."""
    centre_cutting: bool = True
    """Whether it may go straight down without a ramp; a drill always may."""
    measured_diameter_mm: float | None = None
    shank_diameter_mm: float = 6.35
    stick_out_mm: float = 30.0
    """Collet nose to tip."""
    max_pass_mm: float | None = None
    """Deepest single pass; None: one diameter (common practice for hobby machines)."""
    life_m: float | None = None
    """Metres through wood after which its edge is taken as dull; None: not counted against anything."""
    source: str = "common practice"

    @property
    def cut_diameter_mm(self) -> float:
        """The width it really cuts: measured if known, else nominal."""
        return self.measured_diameter_mm or self.diameter_mm

    @property
    def radius_mm(self) -> float:
        return self.cut_diameter_mm / 2

    @property
    def is_drill(self) -> bool:
        return self.kind is CutterKind.DRILL

    @property
    def pass_limit_mm(self) -> float:
        """Deepest pass allowed by the cutter itself; for a drill, its flute length."""
        limit = self.flute_length_mm if self.is_drill else (self.max_pass_mm or self.diameter_mm)
        return min(limit, self.flute_length_mm)

    def first_pass_mm(self, depth_mm: float, pass_mm: float) -> float:
        """Return the depth of the first of ceil(depth / pass) passes: all are equal, but a compression cutter's first
        one goes past its up-cut tip, which else splinters the top face, where a pass of `pass_mm` does."""
        each = depth_mm / max(1, math.ceil((depth_mm - DEPTH_MM) / pass_mm))
        past = self.up_cut_length_mm + UP_CUT_MARGIN_MM
        is_shallow = self.kind is CutterKind.COMPRESSION and each <= self.up_cut_length_mm + DEPTH_MM
        return past if is_shallow and past <= min(depth_mm, pass_mm) + DEPTH_MM else each


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamp:
    """A clamp or fixture as a box, blank frame; `height_mm` is above the blank's top."""

    name: str
    x_mm: float
    y_mm: float
    length_x_mm: float
    length_y_mm: float
    height_mm: float


class ZZero(StrEnum):
    """Where program z = 0 lies."""

    STOCK_TOP = "stock top"
    SPOILBOARD = "spoilboard"


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """A router: travels and offsets in machine coordinates, rates per axis, spindle, the space around the cutter."""

    name: str
    title: str
    travel_min_mm: tuple[float, float, float]
    travel_max_mm: tuple[float, float, float]
    blank_origin_mm: tuple[float, float]
    """Machine coordinates of the blank's lower left corner: the work offset in x and y."""
    spoilboard_z_mm: float
    """Machine z of the spoilboard's top."""
    bed_mm: tuple[float, float]
    """Largest blank that can lie on the bed, x by y."""
    max_rate_mm_per_min: tuple[float, float, float]
    acceleration_mm_per_s2: tuple[float, float, float]
    spindle_min_rpm: float
    spindle_max_rpm: float
    spindle_power_kw: float
    spindle_by_hand: bool
    """True: speed is a dial on the router and the program cannot switch it."""
    spindle_rated_rpm: float | None = None
    """Speed at which it gives its power; below, it gives its torque and so less power. None: the fastest speed."""
    dial: tuple[tuple[str, float], ...] = ()
    """Dial mark and rpm, rising; only where the speed is set by hand."""
    collet_diameter_mm: float = 30.0
    """Widest part of collet nut near the cutter."""
    dust_shoe_mm: tuple[float, float] = (0.0, 0.0)
    """Dust shoe, x by y about the cutter's axis; 0 when there is none."""
    dust_shoe_height_mm: float = 0.0
    """Height of the shoe's lower edge above the cutter's tip."""
    clearance_mm: float = 10.0
    """Traverse height above the blank's top where no clamp is."""
    clamp_margin_mm: float = 5.0
    """Kept around and above every clamp."""
    spoilboard_allowance_mm: float = 0.5
    """Deepest bite into the spoilboard that is allowed."""
    through_mm: float = 0.3
    """How far a through cut goes past the blank; must not exceed the allowance."""
    z_zero: ZZero = ZZero.STOCK_TOP
    spindle_wait_s: float = 4.0
    park_mm: tuple[float, float] | None = None
    """Where to go at the end, blank frame; None: stay."""
    clamps: tuple[Clamp, ...] = ()
    vacuum_holds_mm2: float = 0.0
    """Least area of a loose piece that a vacuum bed holds against the cutter; 0: there is no vacuum."""
    chip_load_factor: float = 0.5
    """Share of the chart's chip load that this machine's stiffness bears (light ones 1/3 to 2/3, common practice)."""
    source: str = "common practice"

    @property
    def lift_mm(self) -> float:
        """Traverse height above the blank's top that clears every clamp with its margin."""
        tallest = max((clamp.height_mm for clamp in self.clamps), default=0.0)
        return max(self.clearance_mm, tallest + self.clamp_margin_mm if self.clamps else 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ChipLoad:
    """Chart range of feed per tooth for one cutter diameter in one material, at a depth of one diameter."""

    material: str
    diameter_mm: float
    low_mm_per_tooth: float
    high_mm_per_tooth: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """What a sheet is made of, as far as cutting it goes."""

    name: str
    cutting_force_n_per_mm2: float
    """Specific cutting force kc."""
    density_kg_per_m3: float
    source: str
    elasticity_n_per_mm2: float | None = None
    """Modulus of elasticity in bending, mean and short-term; None: shelves of it are not judged."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetGood:
    """A kind of sheet as sold: material, nominal thickness, full sheet size along and across its grain."""

    name: str
    title: str
    material: str
    nominal_mm: float
    sheet_along_mm: float
    sheet_across_mm: float
    has_grain: bool
    source: str
    thinnest_mm: float | None = None
    """Least and largest thickness that the sheet's standard allows, where one is known."""
    thickest_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tables:
    """Every row of the shop's tables after overrides, sorted by name or number; a job chooses from them."""

    machines: tuple[Machine, ...]
    cutters: tuple[Cutter, ...]
    chip_loads: tuple[ChipLoad, ...]
    materials: tuple[Material, ...]
    sheet_goods: tuple[SheetGood, ...]
    hardware: Hardware = NO_HARDWARE
    tunings: tuple[Tuning, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """All tables, after the job's overrides: the machine chosen, cutters by number, and the rest."""

    machine: Machine
    cutters: tuple[Cutter, ...]
    """Those loaded for the job, sorted by number."""
    chip_loads: tuple[ChipLoad, ...]
    materials: tuple[Material, ...]
    sheet_goods: tuple[SheetGood, ...]
    tunings: tuple[Tuning, ...] = ()

    def cutter(self, number: int) -> Cutter:
        """Return the cutter with that number. Raises KeyError."""
        for cutter in self.cutters:
            if cutter.number == number:
                return cutter
        raise KeyError(number)

    def material(self, name: str) -> Material:
        """Return the material of that name. Raises KeyError."""
        for material in self.materials:
            if material.name == name:
                return material
        raise KeyError(name)
