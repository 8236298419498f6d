"""Speed and feed of one cutter in one stock, and the limit that decided."""

from dataclasses import dataclass

from rabbetry.findings import Finding
from rabbetry.shop.model import Cutter


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedChoice:
    """What a cutter runs at in a stock. `decided_by` is 'chart', 'machine', 'spindle' or 'power';
    with a remark of the tuning table, 'chart, tuned' and so on."""

    cutter: int
    stock: str
    material: str
    rpm: float
    dial: str
    """Dial mark for a hand-set spindle, else ''."""
    feed_mm_per_min: float
    plunge_mm_per_min: float
    ramp_mm_per_min: float
    chip_load_mm_per_tooth: float
    chart_low_mm_per_tooth: float
    chart_high_mm_per_tooth: float
    pass_mm: float
    """Depth of one pass."""
    engagement_mm: float
    """Width cut when slotting."""
    power_kw: float
    surface_m_per_min: float
    decided_by: str
    torque_nm: float = 0.0
    deflection_mm: float = 0.0
    """How far the tip gives way in a slot, collet and machine taken as rigid."""
    reasons: tuple[str, ...] = ()
    """Why each figure is what it is, one sentence each."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedAdvice:
    """A choice and what the user must hear about it."""

    choice: FeedChoice
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """One cutter over the whole job."""

    cutter: Cutter
    cut_m: float
    fresh_before: tuple[str, ...] = ()
    """Programs before which a fresh cutter goes in; the first program's own cutter is taken as fresh."""

    @property
    def needed(self) -> int:
        """How many cutters the job takes; one that wears out within a single program is counted once for it."""
        return 1 + len(self.fresh_before)
