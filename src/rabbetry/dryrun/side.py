"""The programs of one side of a blank as read, with what they must leave and what they did."""

from dataclasses import dataclass

from rabbetry.dryrun.evidence import Evidence
from rabbetry.dryrun.height_picture import height_svg
from rabbetry.dryrun.model import ProgramText, Reading
from rabbetry.dryrun.setup import Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.target import PanelTarget


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One program as read."""

    program: ProgramText
    setup: Setup
    reading: Reading
    strokes: tuple[Stroke, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """All programs of one side, in running order; of a blank cut from one face, all there are."""

    runs: tuple[Run, ...]
    targets: tuple[PanelTarget, ...]
    evidence: Evidence

    @property
    def setup(self) -> Setup:
        return self.evidence.setup

    @property
    def is_complete(self) -> bool:
        """Whether every program of the side is here and was read to its end."""
        are_read = not any(run.reading.refused for run in self.runs)
        return are_read and len(self.runs) >= len(self.setup.own_programs)

    @property
    def height_picture(self) -> str:
        """The blank from above after the side's last program, as SVG text."""
        return height_svg((stroke for run in self.runs for stroke in run.strokes), self.setup)
