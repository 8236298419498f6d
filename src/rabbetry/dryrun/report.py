"""What a dry run says: one report a program, and all findings of the sheet together."""

from dataclasses import dataclass

from rabbetry.dryrun.model import Event
from rabbetry.findings import Finding


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramReport:
    """One program. Findings about what is left standing on the sheet are in the last program's report."""

    name: str
    findings: tuple[Finding, ...]
    lines: int
    time_s: float
    """Estimated running time, dwells counted, waiting for the operator not."""
    cut_mm: float
    """Length of all motions at a feed."""
    traverse_mm: float
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DryRun:
    """All programs of one sheet, in running order."""

    programs: tuple[ProgramReport, ...]
    findings: tuple[Finding, ...]
    """Those of the programs, in order."""
