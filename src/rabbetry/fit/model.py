"""Records of the fit report."""

from dataclasses import dataclass

from rabbetry.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class FitReport:
    """What came of putting one box together: how many single things were compared, and every fault found."""

    checks: int
    findings: tuple[Finding, ...]


@dataclass(slots=True)
class Tally:
    """The report while it is being made: one call of `check` a comparison."""

    checks: int
    findings: list[Finding]

    def check(self, is_right: bool, fault: Finding) -> None:
        """Count a comparison; keep `fault` when it is not right."""
        self.checks += 1
        if not is_right:
            self.findings.append(fault)
