"""Records of the fit report."""

from dataclasses import dataclass

from rabbetry.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class FitReport:
    """What came of putting one box together: how many single things were compared, and every fault found."""

    checks: int
    findings: tuple[Finding, ...]
