"""Runs laid out along their walls, and the solid parts made elsewhere. Millimetres.

Run frame: x from the wall's left end to the right as seen from the front, z up from the floor.
"""

from dataclasses import dataclass

from rabbetry.cabinets.model import Cabinet, FrameMember, KickPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedBox:
    """A box of a cabinet, with the origin of its cabinet frame in the run."""

    cabinet: Cabinet
    x_mm: float
    z_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedItem:
    """One item of a run where it stands: the room it takes along the wall, and its boxes."""

    sort: str
    """'cabinet', 'corner', 'appliance', 'filler', 'gap'; 'end panel' or 'top panel' of what covers a cabinet; 'ladder
    base'."""
    name: str
    """Unique for a cabinet: the copy's name."""
    use: str
    x_mm: float
    z_mm: float
    width_mm: float
    height_mm: float
    is_upper: bool = False
    boxes: tuple[PlacedBox, ...] = ()
    """Of a corner: its leg along this wall, as long as the wall it stands at."""
    on: str = ""
    """The ladder base it stands on, as ordered."""
    turn_mm: tuple[float, float] = (0.0, 0.0)
    """Of a corner: how much of its left and of its right end the other leg hides."""

    @property
    def right_mm(self) -> float:
        return self.x_mm + self.width_mm

    @property
    def top_mm(self) -> float:
        return self.z_mm + self.height_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedKick:
    """A piece of a toe kick where it stands, its left end at `x_mm`, its top edge at `top_z_mm`."""

    piece: KickPiece
    x_mm: float
    top_z_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredFloor:
    """The floor under a toe kick as measured: x and z, straight between two points, and the kick's top edge."""

    top_z_mm: float
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A run as it stands; `counter_z_mm` is the counter's upper side, None where no lower box carries one."""

    name: str
    length_mm: float
    left: str
    right: str
    items: tuple[PlacedItem, ...]
    """Lower row, then upper row, each from left to right."""
    counter_z_mm: float | None
    counter_thickness_mm: float
    room_height_mm: float | None
    aisle_mm: float | None = None
    cooks: int = 1
    bases: tuple[PlacedItem, ...] = ()
    """Ladder bases under its boxes."""
    covers: tuple[PlacedItem, ...] = ()
    """Panels over ends and tops of its cabinets, as seen from the front: on edge."""
    kicks: tuple[PlacedKick, ...] = ()
    floors: tuple[MeasuredFloor, ...] = ()
    """One for each toe kick."""

    @property
    def lower(self) -> tuple[PlacedItem, ...]:
        return tuple(item for item in self.items if not item.is_upper)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A face frame as one piece: over one box, or over several of a run. x from the left edge of its first box's case,
    z from the floor that box stands on."""

    name: str
    cabinets: tuple[str, ...]
    thickness_mm: float
    tenon_mm: float
    members: tuple[FrameMember, ...]
    rail_tenons: int = 2
    """How many ends of each rail enter a stile: in a corner the inner one is butted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SolidPart:
    """Parts of solid wood, alike, that are made on other machines."""

    of: str
    """What they belong to: a frame's name, a door's, a run's."""
    name: str
    """'left stile', 'top rail', 'panel'..."""
    count: int
    length_mm: float
    """Along the grain."""
    width_mm: float
    thickness_mm: float | None
    """None: as its stock gives; a door's panel is as thick as its groove is wide."""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Faced:
    """What the runs and faces of a job come to."""

    runs: tuple[Run, ...] = ()
    frames: tuple[Frame, ...] = ()
    frame_parts: tuple[SolidPart, ...] = ()
    """Members of the frames, blocking, solid fillers."""
    front_parts: tuple[SolidPart, ...] = ()
    """Doors, drawer fronts made elsewhere."""
