"""What to remove, with which cutter, in which order. Millimetres, blank frame; depth positive down from the blank's
top."""

import math
from dataclasses import dataclass

from rabbetry.feeds.model import FeedChoice
from rabbetry.findings import Finding
from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import Region
from rabbetry.shop.model import Cutter
from rabbetry.tolerances import DEPTH_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilling:
    """Drill holes straight down with a drill of the holes' diameter, in the given order."""

    centres: tuple[Point, ...]
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SpiralBore:
    """Holes wider than the cutter: helix down at radius (diameter - cutter)/2, then a floor circle."""

    centres: tuple[Point, ...]
    diameter_mm: float
    depth_mm: float
    climb: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearing:
    """Remove `region` less `islands` to `depth_mm` by rings. `region` is what must be gone; where its boundary lies on
    an open edge, `run_out` says how far the cutter may go past (region already extended over the open edges)."""

    region: Contour
    islands: tuple[Contour, ...]
    depth_mm: float
    relieved_corners: tuple[Point, ...] = ()
    climb: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class CentreLine:
    """A slot as wide as the cutter: follow `path` (open) once a pass; run-outs are already part of the path."""

    path: Contour
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """Cut along an outline: outside it (`inside` False) or inside (a cut-out). Tabs or a skin hold the part."""

    outline: Contour
    """Counter-clockwise."""
    inside: bool
    depth_mm: float
    """Full depth, past the blank's lower face."""
    thickness_mm: float
    climb: bool
    tab_count: int
    tab_length_mm: float
    """Length of wood left, after the cutter's radius on both sides."""
    tab_height_mm: float
    """Above the blank's lower face."""
    skin_mm: float
    """Left on the spoilboard side when > 0; tabs are then not used."""
    finish_mm: float = 0.0
    """Allowance: every pass but the finishing one, and every way down, keeps this much farther from the edge; 0: all go
    along the edge itself."""
    weak: Region | None = None
    """Ground where the part is thinner: a tab beside it would tear the edge. None: nowhere."""
    void: Region | None = None
    """Waste that is cut to chips before: no tab holds on to it. None: none."""
    own_finish: bool = False
    """Whether the finishing lap comes after all passes, taking nothing but the allowance; else it is the last pass."""


Work = Drilling | SpiralBore | Clearing | CentreLine | Profile


@dataclass(frozen=True, slots=True, kw_only=True)
class Operation:
    """One step of a program. `pass_mm` is the deepest pass; the planner divides the depth evenly into
    ceil(depth / pass) passes."""

    name: str
    """`B3 left side: bottom dado`."""
    panel: str
    kind: str
    """'drill', 'spiral bore', 'pocket', 'groove', 'cut-out', 'profile'."""
    cutter: Cutter
    feed: FeedChoice
    pass_mm: float
    work: Work
    ramp_deg: float
    stepover_mm: float
    entry: Point | None = None
    """Where the cutter should go in, as near as its path allows; set for outlines and pockets with the order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlan:
    """All operations of one sheet in order: inner work of the whole sheet first, profiles last; grouped by cutter so
    that each cutter is loaded once per group."""

    sheet: str
    operations: tuple[Operation, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OperationsPlanned:
    """The plan of one sheet and what the user must hear about it. What no cutter can make is not in the plan: an error
    finding names it."""

    plan: SheetPlan
    findings: tuple[Finding, ...]


def pass_count(depth_mm: float, pass_mm: float) -> int:
    """Return in how many equal passes a depth is cut: ceil(depth / pass), at least one."""
    return max(1, math.ceil((depth_mm - DEPTH_MM) / pass_mm))
