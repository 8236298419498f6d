"""Records of the fit report."""

from dataclasses import dataclass

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
    outside: frozenset[str] = frozenset()
    """Panels that stand before the box and do not count in its size: doors and drawer fronts."""
    pin_pitch_mm: float = 0.0
    """Distance from shelf pin to shelf pin in a row; 0: any."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FitReport:
    """What came of putting one box together: how many single things were compared, and every fault found."""

    checks: int
    findings: tuple[Finding, ...]
