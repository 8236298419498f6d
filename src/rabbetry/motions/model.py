"""Motions of the cutter's tip, millimetres, program frame: x and y from the blank's lower left corner, z from the
program's zero (stock top or spoilboard). Values are exact; only the post rounds."""

from dataclasses import dataclass
from typing import Literal

from rabbetry.findings import Finding
from rabbetry.shop.model import Cutter


@dataclass(frozen=True, slots=True)
class Traverse:
    """Rapid move; axes not named stay. Going down it never enters the stock."""

    x: float
    y: float
    z: float


@dataclass(frozen=True, slots=True)
class Feed:
    """Straight cut."""

    x: float
    y: float
    z: float
    feed_mm_per_min: float


@dataclass(frozen=True, slots=True)
class ArcFeed:
    """Circular or helical cut in the XY plane about (cx, cy); `turn` +1 counter-clockwise, -1 clockwise; less than a
    full turn, so the end differs from the start by more than a post's last digit."""

    x: float
    y: float
    z: float
    cx: float
    cy: float
    turn: int
    feed_mm_per_min: float


@dataclass(frozen=True, slots=True)
class DrillHole:
    """One drilled hole at (x, y): traverse to `clear_z` height over it, down to `retract_z`, feed to `z` (in pecks of
    `peck_mm` if > 0), back to `clear_z`. A post turns it into a cycle or into plain moves."""

    x: float
    y: float
    z: float
    retract_z: float
    clear_z: float
    peck_mm: float
    feed_mm_per_min: float


Motion = Traverse | Feed | ArcFeed | DrillHole


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """The motions of one operation; starts and ends at the safe height."""

    name: str
    panel: str
    kind: str
    motions: tuple[Motion, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutterRun:
    """Everything one cutter does between two changes."""

    cutter: Cutter
    rpm: float
    dial: str
    steps: tuple[Step, ...]


PlanKind = Literal["cut", "air run", "hold-down"]
"""What a program does: cut parts; trace the blank with the spindle off; drill for the screws that hold the blank."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """The motions of one sheet, ready for a post. `safe_z` clears all clamps; `stock_top_z` and `spoilboard_z` are
    in the program frame."""

    sheet: str
    job: str
    stock: str
    thickness_mm: float
    thickness_is_measured: bool
    blank_x_mm: float
    blank_y_mm: float
    z_zero: str
    safe_z: float
    stock_top_z: float
    spoilboard_z: float
    spindle_wait_s: float
    park: tuple[float, float] | None
    machine_safe_z: float
    """In machine coordinates: just under the top of the travel."""
    runs: tuple[CutterRun, ...]
    side: int = 0
    """1 or 2 on a blank that is flipped between two set-ups, else 0."""
    flip_at_mm: float = 0.0
    """Where the upright line lies about which it is flipped left to right."""
    kind: PlanKind = "cut"
    air_feed_mm_per_min: float = 0.0
    """How fast an air run goes; else 0."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """The motions of a sheet and what was found while making them."""

    plan: Plan
    findings: tuple[Finding, ...]
