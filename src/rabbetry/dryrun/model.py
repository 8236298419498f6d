"""Records of the dry run's reader: what a program's text makes the machine do.

All lengths are millimetres and all positions machine coordinates (work offsets and G92 applied) unless a field says
`program`: there the position is measured from the program zero of the coordinate system in force. Lines count from 1.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from rabbetry.findings import Finding

Point3: TypeAlias = tuple[float, float, float]
"""x, y, z in millimetres."""

PlaneName: TypeAlias = Literal["XY", "XZ", "YZ"]
NO_POINT: Point3 = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramText:
    """A program to read: the name findings give as its file, and its whole text."""

    name: str
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """What the text itself does not say: the machine's stored offsets, its tools and its switches."""

    work_offsets_mm: tuple[Point3, ...] = (NO_POINT,) * 9
    """Program zero of G54, G55 ... G59.3 in machine coordinates."""
    tools: frozenset[int] | None = None
    """Numbers that a tool change may ask for; None: any. Number 0 (empty spindle) is always allowed."""
    tool_lengths_mm: tuple[tuple[int, float], ...] = ()
    """Pairs (H number, length offset); a number not listed has length zero."""
    block_delete: bool = False
    """True: a line that begins with a slash is skipped. False: it is executed."""
    start_mm: Point3 = NO_POINT
    """Where the controlled point is when the program begins."""
    home_mm: Point3 = NO_POINT
    """Where G28 goes, machine coordinates."""
    second_home_mm: Point3 = NO_POINT
    """Where G30 goes, machine coordinates."""

    def __post_init__(self) -> None:
        if len(self.work_offsets_mm) != 9:
            raise ValueError(f"{len(self.work_offsets_mm)} work offsets; the language has nine, G54 to G59.3")


@dataclass(frozen=True, slots=True, kw_only=True)
class Traverse:
    """A motion at the machine's own fastest rate (G0, and the quick motions of cycles, G28 and G30)."""

    line: int
    start: Point3
    to: Point3
    program_to: Point3
    cycle: str | None = None
    """The canned cycle that made this motion, such as "G81"; None outside cycles."""
    in_machine_coordinates: bool = False
    """True for a motion under G53 (and for the way home of G28 and G30)."""
    uses_inverse_time: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Feed:
    """A straight motion at a feed along the path."""

    line: int
    start: Point3
    to: Point3
    program_to: Point3
    feed_mm_per_min: float
    """Under G93 the speed that makes the motion last 1/F minutes."""
    cycle: str | None = None
    in_machine_coordinates: bool = False
    uses_inverse_time: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class ArcMove:
    """A circular or helical motion at a feed along its path."""

    line: int
    start: Point3
    to: Point3
    program_to: Point3
    plane: PlaneName
    centre: Point3
    """Machine coordinates; the component normal to the plane is the start's."""
    turns: Literal[1, -1]
    """+1 counter-clockwise, -1 clockwise, seen from the positive end of the axis normal to the plane."""
    feed_mm_per_min: float
    full_circles: int = 0
    """1 when the end is the start (in the plane) and the arc goes round once; 0 otherwise."""
    cycle: str | None = None
    in_machine_coordinates: bool = False
    uses_inverse_time: bool = False


Motion: TypeAlias = Traverse | Feed | ArcMove


@dataclass(frozen=True, slots=True, kw_only=True)
class Dwell:
    """A pause of some seconds, axes at rest."""

    line: int
    seconds: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Spindle:
    """The spindle starts, changes its speed or stops."""

    line: int
    direction: Literal["cw", "ccw", "off"]
    rpm: float | None
    """The speed in force; None when the program has not given any, or when the spindle goes off."""
    implied: bool = False
    """True for a stop that a tool change or the program's end brings along."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ToolChange:
    """M6: the cutter with this number goes into the spindle."""

    line: int
    number: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Coolant:
    """A coolant or air outlet is switched."""

    line: int
    kind: Literal["mist_on", "flood_on", "mist_off", "flood_off"]
    implied: bool = False
    """True for what the program's end switches off by itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """The program waits for the operator: always (M0, M60), or only if the switch is on (`optional`, M1)."""

    line: int
    optional: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """M2 or M30, or the closing per cent sign."""

    line: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Message:
    """The text of a comment, without its parentheses or semicolon, blanks at the ends removed."""

    line: int
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Units:
    """The program states its length unit (G20 inch, G21 millimetre)."""

    line: int
    inch: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class DistanceMode:
    """The program states its distance mode (G90 absolute, G91 relative)."""

    line: int
    relative: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Plane:
    """The program states its plane (G17, G18, G19)."""

    line: int
    plane: PlaneName


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedMode:
    """The program states how F is meant (G93 inverse time, G94 units per minute)."""

    line: int
    inverse_time: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkOffset:
    """The program states its coordinate system: 1 for G54 ... 6 for G59, 7 to 9 for G59.1 to G59.3."""

    line: int
    index: int


Event: TypeAlias = (
    Traverse
    | Feed
    | ArcMove
    | Dwell
    | Spindle
    | ToolChange
    | Coolant
    | Stop
    | End
    | Message
    | Units
    | DistanceMode
    | Plane
    | FeedMode
    | WorkOffset
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A program as read: its events in the order of execution, the reader's findings, and whether it was refused.

    A refused reading holds what happened before the refused line; its last error finding names that line.
    """

    events: tuple[Event, ...]
    findings: tuple[Finding, ...]
    lines: int
    """Lines in the text."""
    refused: bool
