"""What the job's page is made from: records of the stages, and what became of each program."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from rabbetry.cabinets.model import Cabinet
from rabbetry.feeds.model import FeedChoice, Wear
from rabbetry.findings import Finding
from rabbetry.fit.model import Assembly
from rabbetry.page.watch import Watch
from rabbetry.panels.model import Box, Panel
from rabbetry.runs.model import Faced, Run
from rabbetry.sheets.model import Breakdown, Sheet, StockCount
from rabbetry.shop.model import Clamp, Cutter, Machine


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramView:
    """A released program, with the dry run's figures."""

    file: str
    """Relative to the page: `programs/birch-18-01.nc`."""
    fingerprint: str
    """As the program's head says it."""
    cutters: tuple[int, ...]
    """In the order in which the program loads them."""
    lines: int
    time_s: float
    cut_mm: float
    traverse_mm: float
    findings: tuple[Finding, ...] = ()
    kind: str = "cut"
    """`cut`, `air run` or `hold-down`."""
    watch: Watch | None = None
    """What to watch for while it runs; None for one that was not read back."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    """A sheet, its picture and its programs in running order; none when the sheet has an error."""

    sheet: Sheet
    picture: str
    """SVG text made by this package's `sheet_svg`; it goes into the page as it is."""
    programs: tuple[ProgramView, ...] = ()
    program_names: tuple[str, ...] = ()
    """Of the programs that the playback plays, in its order; also of those that are not released."""
    cut_picture: str = ""
    """Where the picture of what the dry run says is left lies, relative to the page; '' when there is none."""
    playback: str = ""
    """Where the playback lies, relative to the page; '' when there is none."""
    screws: tuple[Clamp, ...] = ()
    """Heads of the screws that hold the blank down, in the order in which their holes are drilled."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RunView:
    """A run and its elevation."""

    run: Run
    picture: str
    """SVG text made by this package's `run_svg`; it goes into the page as it is."""
    file: str
    """Where the picture lies by itself, relative to the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PageView:
    """Everything the page shows."""

    job_name: str
    units: str
    """`mm` or `in`."""
    version: str
    post: str
    fingerprint: str
    """Of the job with all that it was built from."""
    machine: Machine
    ready: bool
    """False when anything is an error."""
    findings: tuple[Finding, ...]
    """Of the whole job, those of the programs too; shown once each."""
    checks: int
    """How many checks the virtual assembly made."""
    counts: tuple[StockCount, ...]
    sheets: tuple[SheetView, ...]
    cutters: tuple[Cutter, ...]
    """Those that the programs use."""
    feeds: tuple[FeedChoice, ...]
    cabinets: tuple[Cabinet, ...]
    boxes: tuple[Box, ...]
    panels: tuple[Panel, ...]
    """All, plain parts too."""
    banding_allowance_mm: float = 50.0
    banding_waste_percent: float = 10.0
    assemblies: tuple[Assembly, ...] = ()
    """The boxes to look at, in the order of `boxes`."""
    breakdowns: tuple[Breakdown, ...] = ()
    """How the blanks come from full sheets; empty where the job is cut from offcuts."""
    runs: tuple[RunView, ...] = ()
    wear: tuple[Wear, ...] = ()
    """How far each cutter goes through wood."""
    faced: Faced = field(default_factory=Faced)
    echoes: tuple[str, ...] = ()
    """Lengths as they were read from the job."""
    drawings: Mapping[str, str] = field(default_factory=dict)
    """By panel, where its drawing lies, relative to the page: an SVG, and a DXF of the same name."""
