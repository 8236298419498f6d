"""Records of the setup file: what the dry run knows besides the text. Millimetres, program frame, unless a name says
more."""

from dataclasses import dataclass
from typing import Literal

from rabbetry.dryrun.model import Point3

Point2 = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bend:
    """One segment of a contour: straight to `to`, or round `centre` (`turn` +1 counter-clockwise, -1 clockwise)."""

    to: Point2
    centre: Point2 | None = None
    turn: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Contour:
    """A closed outline, counter-clockwise."""

    start: Point2
    segments: tuple[Bend, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """The router's limits. Travels in machine coordinates."""

    name: str
    travel_min_mm: Point3
    travel_max_mm: Point3
    max_rate_mm_per_min: Point3
    acceleration_mm_per_s2: Point3
    spindle_by_hand: bool
    spindle_min_rpm: float
    spindle_max_rpm: float
    spindle_wait_s: float
    vacuum_holds_mm2: float
    """Least area of a loose piece that a vacuum bed holds; 0: there is no vacuum."""
    collet_diameter_mm: float
    dust_shoe_mm: Point2
    dust_shoe_height_mm: float
    clamp_margin_mm: float
    spoilboard_allowance_mm: float
    home_mm: Point3 | None
    """Where G28 goes, machine coordinates; None: not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamp:
    """A box from the spoilboard up to `top_z_mm`."""

    name: str
    x_mm: float
    y_mm: float
    length_x_mm: float
    length_y_mm: float
    top_z_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """A cutter as the dry run takes it: a flat-ended cylinder of the width that it really cuts."""

    number: int
    name: str
    kind: str
    diameter_mm: float
    flute_length_mm: float
    centre_cutting: bool
    pass_limit_mm: float
    stick_out_mm: float
    up_cut_length_mm: float = 0.0
    """How long the up-cut tip of a compression cutter is; 0 for others."""
    flutes: int = 0
    """Cutting edges; 0: not known."""
    chip_load_high_mm: float | None = None
    """The most that one tooth should take in this stock, one diameter deep; None: not known."""

    @property
    def radius_mm(self) -> float:
        return self.diameter_mm / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What may be left to hold a part: tabs (how many, how long, how high above the spoilboard) or a skin. Uncut: the
    part stays in its blank, because the other side of a flipped blank is still to be cut."""

    kind: Literal["tabs", "skin", "uncut"]
    at_least: int = 0
    at_most: int = 0
    length_mm: float = 0.0
    height_mm: float = 0.0
    """Height of the tabs, or thickness of the skin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """An opening right through."""

    name: str
    outline: Contour
    hold: Hold


@dataclass(frozen=True, slots=True, kw_only=True)
class Recess:
    """A flat-bottomed region, `depth_mm` under the stock's top."""

    name: str
    outline: Contour
    islands: tuple[Contour, ...]
    depth_mm: float
    relieved_corners: tuple[Point2, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """A round hole."""

    name: str
    x_mm: float
    y_mm: float
    diameter_mm: float
    depth_mm: float
    through: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """What must remain of one part."""

    id: str
    outline: Contour
    hold: Hold
    cutouts: tuple[CutOut, ...]
    recesses: tuple[Recess, ...]
    bores: tuple[Bore, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class IndexHole:
    """A hole through the blank into the spoilboard, for a pin. In side 2 the place of the pin."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoFaces:
    """How a blank is cut from both faces."""

    side: Literal[1, 2]
    first_side_programs: tuple[str, ...]
    line: Literal["x", "y"]
    """The blank is turned about the line x = `at_mm`, or y = `at_mm`."""
    at_mm: float
    least_left_mm: float
    """Wood that must stay between cuts from the two faces."""
    index_holes: tuple[IndexHole, ...]

    def turned(self, point: Point2) -> Point2:
        """Return where a point of the blank lies after the blank is turned over."""
        x, y = point
        return (2 * self.at_mm - x, y) if self.line == "x" else (x, 2 * self.at_mm - y)


@dataclass(frozen=True, slots=True, kw_only=True)
class Setup:
    """One setup file."""

    program: str
    sheet: str
    programs: tuple[str, ...]
    loaded: tuple[int, ...]
    machine: Machine
    dialect: str
    allowed_words: frozenset[str] | None
    line_limit: int | None
    dwell_unit_s: float
    """What P of a wait counts, in seconds."""
    spindle_reversed: bool
    """M4 turns the cutter forwards: the spindle is wired the other way about."""
    changes_at_stop: bool
    """A T word beside M0 names the cutter that hands fit during the stop."""
    work_offset_word: str
    """Empty: the controller has one offset and no word for it."""
    work_offset_mm: Point3 | None
    """Machine coordinates of program zero; None: not known."""
    stock_top_z_mm: float
    spoilboard_z_mm: float
    blank_x_mm: float
    blank_y_mm: float
    clamps: tuple[Clamp, ...]
    cutters: tuple[Cutter, ...]
    panels: tuple[Panel, ...]
    air_run: bool = False
    """The program only shows the way: the spindle stays off and the cutter above all clamps."""
    two_faces: TwoFaces | None = None
    """None: the blank is cut from one face."""

    @property
    def side(self) -> int:
        """Return which side this is: 1 or 2, or 0 on a blank cut from one face."""
        return self.two_faces.side if self.two_faces is not None else 0

    @property
    def own_programs(self) -> tuple[str, ...]:
        """Return the names of the programs of this side."""
        if self.two_faces is None:
            return self.programs
        first = self.two_faces.first_side_programs
        return tuple(name for name in self.programs if (name in first) == (self.side == 1))

    @property
    def thickness_mm(self) -> float:
        return self.stock_top_z_mm - self.spoilboard_z_mm

    def cutter(self, number: int) -> Cutter | None:
        """Return the cutter with that number, or None."""
        return next((cutter for cutter in self.cutters if cutter.number == number), None)
