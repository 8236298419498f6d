"""Records of the fit report."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from rabbetry.findings import Finding
from rabbetry.panels.model import Place, Vec3


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What any box must come to, whatever its kind. Millimetres, cabinet frame."""

    name: str
    size_mm: Vec3
    """Outside: along x, y and z, from the frame's origin."""
    clearance_mm: float
    """Play across a joint, total."""
    depth_clearance_mm: float = 0.0
    """What a tongue's dado is deeper than the tongue is long."""
    behind_mm: Mapping[str, float] = field(default_factory=dict)
    """How far each panel's rear edge stands behind the back's: the wood behind a groove, and a scribe; else 0."""
    front_intrusion_mm: float = 0.0
    """How far behind the front edges inset fronts reach: what stands behind them may begin there."""
    band_mm: float = 0.0
    """Thickness of the bands that go on the panels' banded edges; the size counts with them on."""
    outside: frozenset[str] = frozenset()
    """Panels that stand before the box and do not count in its size: doors and drawer fronts."""
    pin_pitch_mm: float = 0.0
    """Distance from shelf pin to shelf pin in a row; 0: any."""
    has_opposites: bool = True
    """Whether each row of holes has its opposite in the panel it faces; in an L it need not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FitReport:
    """What came of putting one box together: how many single things were compared, and every fault found."""

    checks: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """The wood of a panel between two depths below its machined face: one plane region, the same all through.

    `rings` are its boundaries in the panel frame, by the even-odd rule: outsides and the holes in them."""

    start_mm: float
    end_mm: float
    rings: tuple[tuple[tuple[float, float], ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mouth:
    """Where a round hole opens: its centre in the panel frame, how deep below the machined face the wood there begins,
    and whether it opens in the rear face."""

    x_mm: float
    y_mm: float
    depth_mm: float
    diameter_mm: float
    on_rear: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """A panel as the fit sees it, to be drawn: where it stands, its wood in layers, and the mouths of its holes."""

    panel: str
    role: str
    place: Place
    layers: tuple[Layer, ...]
    mouths: tuple[Mouth, ...]
    low: Vec3
    high: Vec3


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step of the assembly: a panel comes on, or a whole that was put together by itself (`group`) goes in.

    `from_side` is the direction from which it comes, a unit vector of the cabinet frame: None for the first panel of
    a whole, and where no straight way in was found (`is_stuck`)."""

    panel: str
    group: tuple[str, ...] = ()
    from_side: Vec3 | None = None
    is_stuck: bool = False
    joins: tuple[tuple[str, str, str], ...] = ()
    """Receiver, its recess ('' for a butt joint) and the panel that enters it, of each joint that this step closes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """A box to look at: its solids in the order of assembly, the steps, and how far each panel moves in the exploded
    view."""

    cabinet: str
    solids: tuple[Solid, ...]
    steps: tuple[Step, ...]
    apart: Mapping[str, Vec3]
