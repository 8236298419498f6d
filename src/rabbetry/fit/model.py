"""Records of the fit report."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from rabbetry.findings import Finding
from rabbetry.panels.model import Vec3


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What any box must come to, whatever its kind. Millimetres, cabinet frame."""

    name: str
    size_mm: Vec3
    """Outside: along x, y and z, from the frame's origin."""
    clearance_mm: float
    """Play across a joint, total."""
    depth_clearance_mm: float = 0.0
    """What a tongue's dado is deeper than the tongue is long."""
    behind_mm: Mapping[str, float] = field(default_factory=dict)
    """How far each panel's rear edge stands behind the back's: the wood behind a groove, and a scribe; else 0."""
    band_mm: float = 0.0
    """Thickness of the bands that go on the panels' banded edges; the size counts with them on."""
    outside: frozenset[str] = frozenset()
    """Panels that stand before the box and do not count in its size: doors and drawer fronts."""
    pin_pitch_mm: float = 0.0
    """Distance from shelf pin to shelf pin in a row; 0: any."""
    has_opposites: bool = True
    """Whether each row of holes has its opposite in the panel it faces; in an L it need not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FitReport:
    """What came of putting one box together: how many single things were compared, and every fault found."""

    checks: int
    findings: tuple[Finding, ...]
