"""The job file's tables as they stand in TOML: the model that text is checked against, and the reference is made from.

A default of None that the reference explains depends on the job's unit or on the cabinet's kind; `orders` fills it in.
"""

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, create_model

from rabbetry.job.choice_rows import (
    BlindClearance,
    ColumnRow,
    CutOutRow,
    FillerRow,
    FrontRow,
    NeighbourDepth,
    OpeningRow,
    PanelRow,
    Up,
)
from rabbetry.job.cut_words import Allowance, FinishWord, WasteWord
from rabbetry.job.divider_rows import MAX_DIVIDERS, Dividers, IndexDepth, IndexHole, PinsWord, TwoFacesWord
from rabbetry.job.face_rows import DoorStyleWord, FacesWord, MountWord
from rabbetry.job.fields import (
    AS_LENGTH,
    AxisWord,
    BackWord,
    BlankSize,
    ClampSize,
    Count,
    Depth,
    DirectionWord,
    Distance,
    DrawerLength,
    Drawers,
    Few,
    Height,
    HingeWord,
    HoldWord,
    KindWord,
    MachineName,
    NailerWord,
    Place,
    Row,
    Text,
    Thickness,
    UnitsWord,
    Width,
    choice,
    length_reader,
)
from rabbetry.job.hardware import HARDWARE_FIELDS
from rabbetry.job.hold_down_rows import HoldDownWord, ScrewSize
from rabbetry.job.kick_rows import MAX_KICKS, MAX_VENTS, KickRow, VentRow
from rabbetry.job.kind_rows import default_row, defaults_row
from rabbetry.job.loads import ShelfLoad
from rabbetry.job.part_rows import PartRow
from rabbetry.job.run_rows import MAX_RUNS, RunRow
from rabbetry.job.settings import SETTINGS, WORD_SETTINGS, Setting
from rabbetry.job.special_rows import MAX_LADDERS, CornerBase, CornerRow, LadderRow
from rabbetry.units import Length

MAX_CABINETS = 500
MAX_PARTS = 500
MAX_CLAMPS = 50
MAX_STOCKS = 50
MAX_CUTTERS = 50


class ClampRow(Row):
    """A clamp or screw block on the bed, a box from the bed up; x and y are of its lower left corner on the blank."""

    name: Text = Field(default="clamp", description="shown in messages and pictures")
    x: Place = Field(description="left edge, from the blank's left edge; may be negative")
    y: Place = Field(description="lower edge, from the blank's lower edge; may be negative")
    length_x: ClampSize = Field(description="size along x")
    length_y: ClampSize = Field(description="size along y")
    height: ClampSize = Field(description="height above the blank's top")


class StockRow(Row):
    """A pile of blanks. The table's name, `[stock.NAME]`, is what the rest of the job calls it."""

    sheet: Text = Field(description="row of the sheet-goods table")
    thickness: Thickness | None = Field(
        default=None, description="thickness as measured; without it the nominal one is used, with a warning"
    )
    blank: Annotated[list[BlankSize], Field(min_length=2, max_length=2)] = Field(
        description="size of one blank as it lies on the machine, [x, y]"
    )
    trim: Distance | None = Field(default=None, description="kept free along each edge; 10 mm, or 3/8 in")
    full_sheet: Annotated[list[BlankSize], Field(min_length=2, max_length=2)] | None = Field(
        default=None,
        description="size of the full sheets it is sawn from, [along the grain, across]; as the sheet's row",
    )
    saw_kerf: Distance | None = Field(default=None, description="what that saw takes; 3.2 mm, or 1/8 in")
    keep_factory_edge: bool = Field(
        default=False, description="true uses only blanks that keep an edge of the full sheet, to lie against the stops"
    )
    price: Annotated[float, Field(ge=0.0, le=1e6, allow_inf_nan=False)] | None = Field(
        default=None, description="price of a full sheet, in your currency, for the buying list"
    )
    grain_along: AxisWord = Field(default="x", description="the way the grain runs on the blank; ignored without grain")


class UseRow(Row):
    """Which stock each group of panels is cut from. What is left out follows `carcass` or `back`."""

    carcass: Text | None = Field(
        default=None, description="bottoms, tops, shelves, sides; the only stock where there is just one"
    )
    side: Text | None = Field(default=None, description="sides, where they are of another stock than the carcass")
    back: Text | None = Field(default=None, description="cabinet backs; as carcass unless given")
    drawer: Text | None = Field(
        default=None, description="sides, front and back of drawer boxes; as carcass unless given"
    )
    drawer_bottom: Text | None = Field(default=None, description="bottoms of drawer boxes; as back unless given")
    front: Text | None = Field(
        default=None, description="doors and drawer fronts cut from sheet; as carcass unless given"
    )


class CuttingRow(Row):
    """How parts are cut."""

    spacing: Distance | None = Field(
        default=None, description="gap between parts; cutter's diameter + web unless given"
    )
    web: Distance | None = Field(default=None, description="wood left between two profile cuts; 2 mm")
    direction: DirectionWord = Field(default="climb", description="way round parts, in recesses and in holes")
    hold: HoldWord = Field(default="tabs", description="what holds a part until its profile is cut")
    tab_length: Distance | None = Field(default=None, description="length of a tab; 8 mm")
    tab_height: Distance | None = Field(default=None, description="height of a tab; 3 mm")
    tab_spacing: Distance | None = Field(default=None, description="about one tab on each of these; 300 mm")
    skin: Distance | None = Field(default=None, description="thickness of the skin left; 0.3 mm")
    finish: FinishWord = Field(
        default="last pass",
        description="which lap makes the finished edge, over its full depth: the last pass, an own pass after all "
        "others, or none; the others, and every way down, stay the allowance off it",
    )
    finish_allowance: Allowance | None = Field(
        default=None, description="what they stay off; 0.25 mm, never more than a twelfth of the cutter's radius"
    )
    loose_waste: WasteWord = Field(
        default="chips",
        description="small pieces of waste that come loose between parts: chips cuts them to chips before any part is "
        "cut free, up to four cutter diameters wide; leave only notes where they come loose",
    )
    ramp_deg: Annotated[float, Field(ge=0.5, le=30.0, allow_inf_nan=False)] = Field(
        default=3.0, description="slope of ramps into the wood, degrees"
    )
    stepover: Annotated[float, Field(ge=0.05, le=0.9, allow_inf_nan=False)] = Field(
        default=0.45, description="share of the cutter's diameter between neighbouring rings of a pocket"
    )
    profile_cutter: Annotated[int, Field(ge=1, le=999)] | None = Field(
        default=None, description="number of the cutter for profiles; chosen unless given"
    )
    two_faces: TwoFacesWord = Field(
        default="flip",
        description="parts with cuts in both faces: flip cuts them in two set-ups on sheets of their own, turned "
        "over on index pins; refuse makes them an error",
    )
    index_hole: IndexHole | None = Field(
        default=None, description="diameter of the index holes, as that of the pins at hand; 6 mm or 1/4 in"
    )
    index_depth: IndexDepth | None = Field(
        default=None, description="how far index holes go into the spoilboard; 6 mm or 1/4 in"
    )
    hold_down: HoldDownWord = Field(
        default="none",
        description="screws drills pilot holes in the waste, clear of every cut, in a program that is run first",
    )
    screw_hole: ScrewSize | None = Field(default=None, description="diameter of those holes; 3 mm or 1/8 in")
    screw_head: ScrewSize | None = Field(
        default=None, description="diameter of a screw's head with its washer; 9 mm or 3/8 in"
    )
    screw_head_height: ScrewSize | None = Field(
        default=None, description="height of the head above the blank; 4 mm or 3/16 in"
    )
    small_part: Distance | None = Field(
        default=None, description="a part with its shorter side below this gets a warning; 90 mm"
    )
    layout_effort: Annotated[int, Field(ge=1, le=9)] = Field(
        default=4, description="work spent on using fewer blanks, 1 to 9; each step takes three times as long"
    )
    offcut_tolerance: Distance | None = Field(
        default=None, description="how far an offcut's thickness may be from its stock's; 0.05 mm"
    )


class CabinetBase(Row):
    """One cabinet, or several alike. Any construction setting may stand here too, and then holds for this cabinet."""

    name: Text = Field(description="stands on labels; no two cabinets or parts alike")
    kind: KindWord = Field(description="what it is: sets the defaults below")
    qty: Count = Field(default=1, description="how many; 0 leaves the cabinet out")
    width: Width = Field(description="outside width")
    height: Height | None = Field(
        default=None,
        description="outside height; that of its kind, below",
    )
    depth: Depth | None = Field(
        default=None,
        description="carcass depth without doors; that of its kind, below",
    )
    doors: Annotated[int, Field(ge=0, le=2)] | None = Field(
        default=None,
        description="doors below the drawers; 1, or 2 above 600 mm (24 in) of width; none for drawers and open",
    )
    hinge: HingeWord | None = Field(
        default=None, description="hinge side of a single door, seen from the front; left, or the end that is not blind"
    )
    drawers: Drawers | None = Field(
        default=None,
        description="a number, or the fronts' heights from the top down, 0 for an equal share of the rest; "
        "a number above doors means fronts of 157 mm or 6 in; 3 for drawers, else 0",
    )
    fronts: Annotated[list[FrontRow], Field(min_length=1, max_length=20)] | None = Field(
        default=None,
        description="the whole front from the top down, in any order, in place of doors, drawers and shelves: "
        '`[{ fill = "drawer", height = 157 }, { fill = "open" }, { fill = "door", shelves = 1 }]`',
    )
    opening: OpeningRow | None = Field(
        default=None,
        description="clear room for an appliance: `{ width = 560, height = 590, up = 850 }`; `fronts` may list what is "
        'above and below as `{ fill = "appliance" }` among others; without it doors',
    )
    cut_outs: Annotated[list[CutOutRow], Field(max_length=20)] = Field(
        default_factory=list,
        description='holes for ducts, pipes and cables: `[{ through = "back", diameter = 150, z = 500 }]`',
    )
    blind: HingeWord | None = Field(
        default=None,
        description="the end that stands in a corner behind its neighbour; left for the blind-corner kinds",
    )
    neighbour_depth: NeighbourDepth | None = Field(
        default=None, description="depth of the carcass that stands before the blind part; as this one's"
    )
    pull_clearance: BlindClearance | None = Field(
        default=None, description="room kept beside the neighbour's fronts for pulls; 60 mm or 2 1/2 in"
    )
    pulled_out: BlindClearance | None = Field(
        default=None, description="how far the blind end is kept from the wall in the corner; 0"
    )
    split: Annotated[list[Up], Field(max_length=6)] = Field(
        default_factory=list,
        description="heights above the floor where a tall cabinet parts into stacked boxes; chosen when needed",
    )
    drawer_length: DrawerLength | None = Field(
        default=None, description="length of slide and drawer box; the longest usual one that fits"
    )
    fixed_shelves: Few = Field(default=0, description="shelves in dados")
    adjustable_shelves: Few | None = Field(default=None, description="shelves on pins; as many as its kind has")
    dividers: Dividers = Field(
        default=(),
        description="upright panels that part it into columns: a number for equal columns, or how far the left face of "
        "each is from the left side's inside face; every column gets the adjustable shelves ordered",
    )
    columns: Annotated[list[ColumnRow], Field(min_length=2, max_length=MAX_DIVIDERS + 1)] | None = Field(
        default=None,
        description="fronts of their own for each column, from the left: doors, drawers, open parts, fixed and "
        "adjustable shelves; instead of fronts, doors, drawers and shelves. Equal columns unless dividers says where",
    )
    divider_pins: PinsWord = Field(
        default="through",
        description="shelf-pin holes of a divider: through serves both columns and is drilled from one face; blind "
        "drills both faces, in two set-ups",
    )
    back: BackWord = Field(
        default=True, description="whether it has a back, or the word that says where; true: as [construction] says"
    )
    nailer: NailerWord | None = Field(
        default=None, description='strips for wall screws; those of its kind, or both where back = "none"'
    )
    slab_doors: bool = Field(
        default=False, description="true cuts doors and drawer fronts from sheet; false only lists their sizes"
    )
    faces: FacesWord | None = Field(
        default=None, description="frameless, or with a face frame of solid wood made elsewhere; as its run or the job"
    )
    mount: MountWord | None = Field(
        default=None,
        description="fronts before box or frame, or inset in their openings; as its run or the job",
    )
    door_style: DoorStyleWord | None = Field(default=None, description="how doors made elsewhere are built; as the job")
    shelf_load: ShelfLoad | None = Field(
        default=None, description="what its shelves and bottom carry; as the job's unless given"
    )
    stocks: UseRow | None = Field(default=None, description="stocks for this cabinet where they differ from [use]")


def _reader(row: Setting) -> Callable[[object, ValidationInfo], Length]:
    return length_reader(least_mm=row.least_mm, most_mm=row.most_mm, odd_below_mm=row.odd_below_mm)


def _setting_fields() -> dict[str, object]:
    lengths: dict[str, object] = {
        row.key: (
            Annotated[Length, BeforeValidator(_reader(row)), AS_LENGTH] | None,
            Field(default=None, description=row.meaning),
        )
        for row in SETTINGS
    }
    words: dict[str, object] = {
        row.key: (Annotated[str, *choice(row.words)] | None, Field(default=None, description=row.meaning))
        for row in WORD_SETTINGS
    }
    return words | lengths


ConstructionRow: type[Row] = create_model(  # type: ignore[call-overload]
    "ConstructionRow",
    __base__=Row,
    __doc__="Settings of the joinery for the whole job.",
    **HARDWARE_FIELDS,
    **_setting_fields(),
)
CabinetRow: type[CabinetBase] = create_model(  # type: ignore[call-overload]
    "CabinetRow",
    __base__=CabinetBase,
    __doc__=CabinetBase.__doc__,
    **HARDWARE_FIELDS,
    **{key: field for key, field in _setting_fields().items() if key not in CabinetBase.model_fields},
)
DefaultRow = default_row(CabinetRow)
DefaultsRow = defaults_row(DefaultRow)


class JobBase(Row):
    """The whole file."""

    name: Text = Field(description="the job's name, shown everywhere")
    units: UnitsWord = Field(description="unit of bare numbers in this file")
    machine: MachineName = Field(
        description="row of the machines table; or a [machine] table with name and the keys to change"
    )
    post: Text = Field(description="post-processor: a name from `rabbetry post list`, or a folder beside the job")
    cutters: Annotated[list[int], Field(min_length=1, max_length=MAX_CUTTERS)] = Field(
        description="numbers of the cutters at hand, rows of the cutters table"
    )
    tables: Text | None = Field(default=None, description="your own file of shop tables, beside the job")
    offcuts: Text | None = Field(default=None, description="your file of offcuts on the shelf, beside the job")
    faces: FacesWord = Field(default="frameless", description="faces of cabinets that do not say")
    mount: MountWord = Field(default="overlay", description="how fronts of cabinets that do not say are mounted")
    door_style: DoorStyleWord = Field(
        default="plain",
        description="how doors made elsewhere are built: a plain board, or stiles and rails about a panel",
    )
    accept_odd_sizes: bool = Field(
        default=False, description="true accepts sizes that look like inches in a job in millimetres, with a warning"
    )
    shelf_load: ShelfLoad | None = Field(
        default=None,
        description='what shelves and bottoms carry, "15 lb/ft2" unless given; "40 lb/ft2" for books, "50 lb/ft2" in a '
        'library or school; "75 kg/m2" and "0.7 kPa" do as well',
    )
    banding_allowance: Distance | None = Field(
        default=None,
        description="what each strip of edge banding is cut longer than its edge, both ends together; 50 mm, or 2 in",
    )
    banding_waste: Annotated[float, Field(ge=0.0, le=100.0, allow_inf_nan=False)] = Field(
        default=10.0, description="edge banding to buy beyond what is cut, percent"
    )
    shelf_limit: Annotated[int, Field(ge=100, le=1000)] = Field(
        default=240, description="a shelf may sag by its span divided by this; 144 is common for shop-built shelves"
    )
    clamp: Annotated[list[ClampRow], Field(max_length=MAX_CLAMPS)] = Field(
        default_factory=list, description="clamps, one [[clamp]] each"
    )
    stock: Annotated[dict[str, StockRow], Field(max_length=MAX_STOCKS)] = Field(
        description="stocks, one [stock.NAME] each"
    )
    use: UseRow = Field(default_factory=UseRow, description="which stock is for what")
    cutting: CuttingRow = Field(default_factory=CuttingRow, description="how parts are cut")
    corner: list[CornerBase] = Field(default_factory=list, description="L-shaped corner cabinets, one [[corner]] each")
    ladder_base: Annotated[list[LadderRow], Field(max_length=MAX_LADDERS)] = Field(
        default_factory=list, description="plinths under boxes, one [[ladder_base]] each"
    )
    part: Annotated[list[PartRow], Field(max_length=MAX_PARTS)] = Field(
        default_factory=list, description="plain parts, one [[part]] each"
    )
    panel: Annotated[list[PanelRow], Field(max_length=MAX_PARTS)] = Field(
        default_factory=list, description="panels that cover sides of cabinets, one [[panel]] each"
    )
    filler: Annotated[list[FillerRow], Field(max_length=MAX_PARTS)] = Field(
        default_factory=list, description="fillers beside cabinets, one [[filler]] each"
    )
    kick: Annotated[list[KickRow], Field(max_length=MAX_KICKS)] = Field(
        default_factory=list, description="toe-kick pieces cut to the floor, one [[kick]] each"
    )
    run: Annotated[list[RunRow], Field(max_length=MAX_RUNS)] = Field(
        default_factory=list, description="what stands along a wall, one [[run]] each"
    )
    vent: Annotated[list[VentRow], Field(max_length=MAX_VENTS)] = Field(
        default_factory=list, description="slotted grilles in panels, one [[vent]] each"
    )
    cutter: object = Field(default=None, description="[[cutter]] rows: number and the keys to change or add")
    chip_load: object = Field(default=None, description="[[chip_load]] rows to change or add")
    tuning: object = Field(default=None, description="[[tuning]] rows: what was heard and seen at the last cut")
    material: object = Field(default=None, description="[[material]] rows to change or add")
    sheet: object = Field(default=None, description="[[sheet]] rows to change or add")
    pin_system: object = Field(default=None, description="[[pin_system]] rows to change or add")
    hinge_cup: object = Field(default=None, description="[[hinge_cup]] rows to change or add")
    hinge_plate: object = Field(default=None, description="[[hinge_plate]] rows to change or add")
    slide: object = Field(default=None, description="[[slide]] rows to change or add")
    box_screw: object = Field(default=None, description="[[box_screw]] rows to change or add")
    construction: Row | None = Field(default=None, description="settings of the joinery for the whole job")
    defaults: Row | None = Field(default=None, description="what cabinets of a kind share, one [defaults.KIND] each")
    cabinet: list[CabinetBase] = Field(default_factory=list, description="cabinets, one [[cabinet]] each")


def _widened(name: str, field: type[Row]) -> Any:
    """Return a field of the file whose tables have the settings' keys besides those written out here."""
    info = JobBase.model_fields[name]
    kind = field | None if name not in ("cabinet", "corner") else Annotated[list[field], Field(max_length=MAX_CABINETS)]  # type: ignore[valid-type]
    return kind, info


JobRow: type[JobBase] = create_model(
    "JobRow",
    __base__=JobBase,
    __doc__=JobBase.__doc__,
    construction=_widened("construction", ConstructionRow),
    defaults=_widened("defaults", DefaultsRow),
    cabinet=_widened("cabinet", CabinetRow),
    corner=_widened("corner", CornerRow),
)
