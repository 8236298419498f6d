"""The fit report while it is being made."""

from dataclasses import dataclass

from rabbetry.findings import Finding


@dataclass(slots=True)
class Tally:
    """Comparisons made so far and the faults found: one call of `check` a comparison."""

    checks: int
    findings: list[Finding]

    def check(self, is_right: bool, fault: Finding) -> None:
        """Count a comparison; keep `fault` when it is not right."""
        self.checks += 1
        if not is_right:
            self.findings.append(fault)
