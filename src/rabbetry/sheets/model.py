"""Panels placed on blanks. Millimetres, blank frame: origin at the blank's lower left corner, x right, y up."""

from dataclasses import dataclass

from rabbetry.findings import Finding
from rabbetry.geometry.points import Point, Transform
from rabbetry.panels.model import Panel


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """A panel on a blank: (x, y) is the lower left corner of its turned rectangle; turned 0 or 90 degrees."""

    panel: Panel
    x_mm: float
    y_mm: float
    rotation_deg: int

    @property
    def extent_mm(self) -> tuple[float, float]:
        """Size on the blank, x by y."""
        if self.rotation_deg == 90:
            return self.panel.width_mm, self.panel.length_mm
        return self.panel.length_mm, self.panel.width_mm

    @property
    def blank_from_panel(self) -> Transform:
        if self.rotation_deg == 90:
            return Transform.shift(self.x_mm + self.panel.width_mm, self.y_mm) @ Transform.quarter_turns(1)
        return Transform.shift(self.x_mm, self.y_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A free rectangle worth keeping."""

    x_mm: float
    y_mm: float
    length_x_mm: float
    length_y_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Flip:
    """How a blank is turned over between two set-ups: left to right, like a page, about the upright line x = `at_mm`.
    The index holes stand in pairs that this line mirrors into each other, and in no other way."""

    at_mm: float
    index_holes: tuple[Point, ...]
    hole_diameter_mm: float
    hole_depth_mm: float
    """Below the blank's top in the first set-up: into the spoilboard."""

    @property
    def mirror(self) -> Transform:
        """Where a point of the blank lies after the flip, in the same blank frame."""
        return Transform.mirror_x(2 * self.at_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """One blank with its panels; `id` is a safe file name such as `birch-18-01`."""

    id: str
    stock: str
    thickness_mm: float
    thickness_is_measured: bool
    blank_x_mm: float
    blank_y_mm: float
    grain_along_x: bool
    has_grain: bool
    trim_mm: float
    placements: tuple[Placement, ...]
    """In cutting order of rows: sorted by y then x."""
    offcuts: tuple[Offcut, ...]
    flip: Flip | None = None
    """None where every part is cut from one face."""
    offcut: str = ""
    """Name of the shelf's piece that it is cut from; "" for a blank."""
    side: int = 0
    """1 or 2: the view of a flipped sheet in that set-up, as `side_views` makes it; 0: the whole sheet."""

    @property
    def blank_id(self) -> str:
        """The id of the whole sheet, in a view of one of its sides too."""
        return self.id.removesuffix(f"-side{self.side}") if self.side else self.id

    @property
    def utilisation(self) -> float:
        """Share of the blank's area that becomes panels."""
        used = sum(abs(placement.panel.outline.area) for placement in self.placements)
        return used / (self.blank_x_mm * self.blank_y_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCount:
    """Blanks used of one stock beside the least number that could do."""

    stock: str
    sheets: int
    lower_bound: int
    grain_cost: int = 0
    """Blanks more than with every grain lock lifted, as far as the same search finds."""
    offcuts: int = 0
    """How many of the sheets are pieces of the shelf."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SawnBlank:
    """A blank on its full sheet. Frame of the full sheet: lower left corner, x along its grain."""

    id: str
    """The sheet that is cut from it: `birch-18-01`."""
    x_mm: float
    y_mm: float
    along_mm: float
    across_mm: float
    factory_edges: tuple[str, ...]
    """Which of its edges are the full sheet's own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SawCut:
    """A straight cut through a piece, edge to edge: `across` the sheet at an x, or along it at a y; the kerf lies
    beyond. `from_mm` to `to_mm` is its run in the other direction."""

    across: bool
    at_mm: float
    from_mm: float
    to_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FullSheet:
    """One sheet to buy, with the blanks that come from it; the last of a stock may give fewer than the others."""

    number: int
    blanks: tuple[SawnBlank, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Breakdown:
    """How the blanks of one stock come from full sheets."""

    stock: str
    title: str
    along_mm: float
    across_mm: float
    kerf_mm: float
    has_grain: bool
    blanks_each: int
    """Blanks that a full sheet gives; 0 when the blank is larger than the sheet."""
    needed: int
    sheets: tuple[FullSheet, ...]
    cuts: tuple[SawCut, ...]
    """Of a sheet that gives all its blanks, in the order of sawing."""
    price_each: float | None = None

    @property
    def cost(self) -> float | None:
        """Price of all sheets to buy, in the job's own currency; None when the job gives no price."""
        return None if self.price_each is None else self.price_each * len(self.sheets)


@dataclass(frozen=True, slots=True, kw_only=True)
class Nesting:
    """All panels placed: the sheets in order, the count of each stock, and what was found on the way."""

    sheets: tuple[Sheet, ...]
    counts: tuple[StockCount, ...]
    findings: tuple[Finding, ...]
    breakdowns: tuple[Breakdown, ...] = ()
    """How the blanks come from full sheets; empty where they are offcuts."""
