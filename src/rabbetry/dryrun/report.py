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
    time_low_s: float
    """The same at full feed and rate from end to end: it cannot run shorter."""
    time_high_s: float
    """The same with a stop between all motions, and allowances for changes of cutter and pauses (docs/time-model.md).
    """
    pauses: int
    """How often the program waits for the operator (M0, M60); a change of cutter is not counted here."""
    cut_mm: float
    """Length of all motions at a feed."""
    traverse_mm: float
    events: tuple[Event, ...]
    in_wood_mm: tuple[tuple[int, float], ...] = ()
    """Number of each cutter, and how far it goes through wood."""

    @property
    def time_text(self) -> str:
        """Return the estimate, its band and how often the operator is waited for, in minutes, for people."""
        low, high = self.time_low_s / 60, self.time_high_s / 60
        pauses = f", {self.pauses} pause{'s' if self.pauses > 1 else ''}" if self.pauses else ""
        return f"{self.time_s / 60:.1f} min ({low:.1f} to {high:.1f}){pauses}"


@dataclass(frozen=True, slots=True, kw_only=True)
class DryRun:
    """All programs of one sheet, in running order."""

    programs: tuple[ProgramReport, ...]
    findings: tuple[Finding, ...]
    """Those of the programs, in order."""
    height_picture: str = ""
    """The finished blank from above as SVG text; "" when there was nothing to read, or too much to draw."""
    first_face_picture: str = ""
    """On a flipped blank the same of side 1, as it lies before the flip."""
