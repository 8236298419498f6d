"""What the planners of single features share: the cutters in use, the stock, and how a step is put together."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shapely.geometry.base import BaseGeometry

from rabbetry.feeds.model import FeedChoice
from rabbetry.findings import Finding
from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Transform
from rabbetry.job.model import Cutting
from rabbetry.operations.model import CentreLine, Clearing, Drilling, Operation, Profile, SpiralBore, Work
from rabbetry.panels.model import Panel
from rabbetry.sheets.model import Placement
from rabbetry.shop.model import Cutter, Machine

KINDS: dict[type[Work], str] = {
    Drilling: "drill",
    SpiralBore: "spiral bore",
    Clearing: "pocket",
    CentreLine: "groove",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A panel where it lies on the blank."""

    panel: Panel
    blank_from_panel: Transform
    outline: Contour
    """Blank frame."""


def placed(placement: Placement) -> Placed:
    """Return the panel of a placement with its outline in the blank frame."""
    transform = placement.blank_from_panel
    outline = placement.panel.outline.moved(transform)
    return Placed(panel=placement.panel, blank_from_panel=transform, outline=outline)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """An operation with the ground it covers, for the checks. Blank frame."""

    operation: Operation
    ground: BaseGeometry
    """What the cut touches, less `reach_mm` all round."""
    reach_mm: float
    run_out: BaseGeometry | None = None
    """Ground beyond the panel's open edges."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """What one planner gives back."""

    steps: tuple[Step, ...] = ()
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """The stock's thickness, the cutters that have a feed, and the settings."""

    machine: Machine
    cutting: Cutting
    feeds: Mapping[int, FeedChoice] = field(repr=False)
    thickness_mm: float
    profile: Cutter | None
    cutters: tuple[Cutter, ...]
    """Only those with a feed, by number."""

    @property
    def drills(self) -> tuple[Cutter, ...]:
        return tuple(cutter for cutter in self.cutters if cutter.is_drill)

    @property
    def mills(self) -> tuple[Cutter, ...]:
        return tuple(cutter for cutter in self.cutters if not cutter.is_drill)

    @property
    def climbs(self) -> bool:
        """Whether the wall stays on the right of the travel (the spindle turns clockwise)."""
        return self.cutting.direction == "climb"

    @property
    def through_depth_mm(self) -> float:
        """Depth of a through cut."""
        return self.thickness_mm + self.machine.through_mm

    def operation(self, placed: Placed, feature: str, work: Work, cutter: Cutter) -> Operation:
        """Return the operation `<panel>: <feature>` with the cutter's feed and pass in this stock."""
        choice = self.feeds[cutter.number]
        return Operation(
            name=f"{placed.panel.id}: {feature}",
            panel=placed.panel.id,
            kind=_kind(work),
            cutter=cutter,
            feed=choice,
            pass_mm=min(choice.pass_mm, cutter.flute_length_mm) if cutter.is_drill else choice.pass_mm,
            work=work,
            ramp_deg=self.cutting.ramp_deg,
            stepover_mm=self.cutting.stepover * cutter.cut_diameter_mm,
        )


def _kind(work: Work) -> str:
    if isinstance(work, Profile):
        return "cut-out" if work.inside else "profile"
    return KINDS[type(work)]


def smallest(cutters: tuple[Cutter, ...]) -> str:
    """Name the smallest cutter for a message."""
    if not cutters:
        return "no cutter for it is loaded"
    cutter = min(cutters, key=lambda item: (item.cut_diameter_mm, item.number))
    return f'the smallest loaded is cutter {cutter.number} "{cutter.name}", {cutter.cut_diameter_mm:.4g} mm'
