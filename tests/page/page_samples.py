"""A small sheet made by hand: a side with a kick notch, a drawer back, a door with cups, stretchers, a disc."""

from rabbetry.cabinets.model import Cabinet, Front, Opening, Stocks
from rabbetry.feeds.model import FeedChoice
from rabbetry.findings import finding
from rabbetry.geometry.curves import Arc, Contour, Line, chain, circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.model import CabinetKind, Construction, Grain, Nailer, Stock
from rabbetry.page.model import PageView, ProgramView, SheetView
from rabbetry.page.pictures import sheet_svg
from rabbetry.panels.model import Bore, Box, CutOut, FrontSize, HardwareLine, Joint, Panel, Recess
from rabbetry.sheets.model import Offcut, Placement, Sheet, StockCount
from rabbetry.shop.model import Clamp, Cutter, CutterKind, Machine

JOB = "East kitchen"

HOSTILE = (
    'Küche-Ost №2 <b>"x"',
    "Sink base (left) ]]> & 'q' </script><script>alert(1)</script>",
    "x" * 300,
    "=HYPERLINK(1)",
    "{{ 7*7 }} {% x %}",
    "a\x00b\x1b[31m\nc\ud800",
    "漢字の部品名 №",
    "%%c ^J %%u",
)
"""Names as people and programs write them: markup, brackets, endless, formulas, template words, control characters."""


def panel(
    name: str,
    length: float,
    width: float,
    *,
    outline: Contour | None = None,
    features: tuple[Bore | Recess | CutOut, ...] = (),
    cabinet: str = "B3",
    role: str = "part",
    front_edge: str = "",
    banded: tuple[str, ...] = (),
    note: str = "",
) -> Panel:
    return Panel(
        id=name,
        cabinet=cabinet,
        role=role,
        stock="birch 18",
        thickness_mm=17.8,
        length_mm=length,
        width_mm=width,
        outline=outline or rectangle(0, 0, length, width),
        features=features,
        grain=Grain.ALONG,
        place=None,
        front_edge=front_edge,
        banded_edges=banded,
        note=note,
    )


def pins(x0: float, count: int, y: float) -> tuple[Bore, ...]:
    return tuple(
        Bore(name=f"pin {k}", purpose="shelf pin", centre=Point(x0 + 32 * k, y), diameter_mm=5, depth_mm=12)
        for k in range(count)
    )


def side() -> Panel:
    """Length up the box from the floor, width from front (y0) to back; the kick is notched out of the lower front."""
    return panel(
        "B3 left side",
        876,
        580,
        role="left side",
        outline=polygon([(100, 0), (876, 0), (876, 580), (0, 580), (0, 75), (100, 75)]),
        features=(
            Recess(name="bottom dado", kind="dado", outline=rectangle(99.9, 0, 18, 574.2), depth_mm=6),
            Recess(name="back rabbet", kind="rabbet", outline=rectangle(0, 574, 876, 6), depth_mm=6),
            Recess(
                name="front stretcher rabbet",
                kind="rabbet",
                outline=rectangle(858.1, 0, 17.9, 100.2),
                depth_mm=6,
                relieved_corners=(Point(858.1, 100.2),),
            ),
            *pins(280, 14, 37),
            *pins(280, 14, 537),
        ),
        front_edge="y0",
        banded=("y0",),
    )


def drawer_back() -> Panel:
    return panel(
        "B3 drawer 1 back",
        520,
        160,
        role="drawer 1 back",
        outline=polygon([(32, 0), (488, 0), (488, 13), (520, 13), (520, 160), (0, 160), (0, 13), (32, 13)]),
        features=(
            Recess(name="left rabbet", kind="rabbet", outline=rectangle(0, 13, 12, 147), depth_mm=6),
            Recess(name="right rabbet", kind="rabbet", outline=rectangle(508, 13, 12, 147), depth_mm=6),
            Recess(name="bottom groove", kind="groove", outline=rectangle(0, 26, 520, 6.2), depth_mm=6),
            Bore(
                name="hook left", purpose="rear hook", centre=Point(39, 24), diameter_mm=6, depth_mm=17.8, through=True
            ),
        ),
    )


def door() -> Panel:
    cups = tuple(
        Bore(name=f"cup {k}", purpose="hinge cup", centre=Point(x, 22.5), diameter_mm=35, depth_mm=12.5)
        for k, x in enumerate((100.0, 600.0))
    )
    window = CutOut(name="window", outline=rectangle(250, 120, 220, 160))
    return panel("B3 door", 700, 397, role="door", features=(*cups, window), banded=("x0", "x1", "y0", "y1"))


def bracket() -> Panel:
    """A board with two rounded corners and a pocket with an island."""
    outline = chain(
        [
            Line(Point(0, 0), Point(300, 0)),
            Line(Point(300, 0), Point(300, 110)),
            Arc(Point(300, 110), Point(260, 150), Point(260, 110), 1),
            Line(Point(260, 150), Point(40, 150)),
            Arc(Point(40, 150), Point(0, 110), Point(40, 110), 1),
            Line(Point(0, 110), Point(0, 0)),
        ]
    )
    pocket = Recess(
        name="tray",
        kind="pocket",
        outline=rectangle(40, 30, 120, 90),
        islands=(circle(Point(100, 75), 20),),
        depth_mm=13.5,
    )
    return panel("Tray bracket", 300, 150, outline=outline, features=(pocket,), cabinet="")


def disc() -> Panel:
    return panel("Turntable", 200, 200, outline=circle(Point(100, 100), 100), cabinet="")


def sheet(extra: tuple[Placement, ...] = ()) -> Sheet:
    placed = (
        Placement(panel=side(), x_mm=12, y_mm=12, rotation_deg=0),
        Placement(panel=door(), x_mm=12, y_mm=602, rotation_deg=0),
        Placement(panel=panel("B3 front stretcher", 564.4, 100), x_mm=12, y_mm=1010, rotation_deg=0),
        Placement(
            panel=panel("B3 rear stretcher with a name that goes on", 564.4, 60), x_mm=12, y_mm=1120, rotation_deg=0
        ),
        Placement(panel=drawer_back(), x_mm=900, y_mm=12, rotation_deg=90),
        Placement(panel=disc(), x_mm=730, y_mm=602, rotation_deg=0),
        Placement(panel=bracket(), x_mm=740, y_mm=830, rotation_deg=0),
        Placement(panel=panel("B3 nailer", 590, 80, features=pins(40, 3, 40)), x_mm=1080, y_mm=20, rotation_deg=90),
    )
    return Sheet(
        id="birch-18-01",
        stock="birch 18",
        thickness_mm=17.8,
        thickness_is_measured=True,
        blank_x_mm=1220,
        blank_y_mm=1220,
        grain_along_x=True,
        has_grain=True,
        trim_mm=10,
        placements=placed + extra,
        offcuts=(Offcut(x_mm=740, y_mm=1000, length_x_mm=460, length_y_mm=200),),
    )


CLAMPS = (
    Clamp(name="left clamp", x_mm=-40, y_mm=560, length_x_mm=50, length_y_mm=80, height_mm=25),
    Clamp(name="right clamp", x_mm=1190, y_mm=640, length_x_mm=70, length_y_mm=50, height_mm=25),
)


def box() -> Box:
    return Box(
        cabinet="B3",
        panels=(side(), drawer_back(), door()),
        joints=(
            Joint(kind="dado", receiver="B3 left side", feature="bottom dado", entering="B3 bottom"),
            Joint(kind="rabbet", receiver="B3 left side", feature="back rabbet", entering="B3 back"),
            Joint(kind="butt", receiver="B3 left side", feature="", entering="B3 nailer"),
        ),
        fronts=(FrontSize(name="drawer front 1", cabinet="B3", width_mm=597, height_mm=140.5),),
        hardware=(
            HardwareLine(cabinet="B3", item="hinge", count=2, detail="35 mm cup, full overlay"),
            HardwareLine(cabinet="B3", item="shelf pin", count=8, detail="5 mm"),
        ),
    )


def stock() -> Stock:
    return Stock(
        name="birch 18",
        sheet="birch-ply-18",
        material="birch plywood",
        nominal_mm=18,
        measured_mm=17.8,
        blank_x_mm=1220,
        blank_y_mm=1220,
        has_grain=True,
        grain_along_x=True,
        trim_mm=10,
    )


def cabinet(name: str = "B3") -> Cabinet:
    return Cabinet(
        name=name,
        kind=CabinetKind.BASE,
        width_mm=600,
        height_mm=876,
        depth_mm=580,
        has_kick=True,
        has_top_panel=False,
        has_back=True,
        nailer=Nailer.NONE,
        stocks=Stocks(carcass=stock(), back=stock(), drawer=stock(), drawer_bottom=stock(), front=stock()),
        construction=Construction(),
        openings=(
            Opening(fill="drawer", floor_z_mm=717, top_z_mm=858),
            Opening(fill="door", floor_z_mm=118, top_z_mm=717),
        ),
        fronts=(
            Front(
                name="drawer front 1", kind="drawer front", x_mm=1.5, z_mm=733, width_mm=597, height_mm=140, hinge=""
            ),
            Front(
                name="left door",
                kind="door",
                x_mm=1.5,
                z_mm=101.5,
                width_mm=297,
                height_mm=628,
                hinge="left",
                hinge_z_mm=(201.5, 629.5),
            ),
            Front(
                name="right door",
                kind="door",
                x_mm=301.5,
                z_mm=101.5,
                width_mm=297,
                height_mm=628,
                hinge="right",
                hinge_z_mm=(201.5, 629.5),
            ),
        ),
        cut_fronts=False,
        drawers=(),
        fixed_shelf_z_mm=(),
        adjustable_shelves=1,
        pin_z_mm=(),
    )


def machine() -> Machine:
    return Machine(
        name="small-router",
        title="Router with a bed of 4 ft by 4 ft",
        travel_min_mm=(0, 0, -90),
        travel_max_mm=(1250, 1250, 0),
        blank_origin_mm=(10, 10),
        spoilboard_z_mm=-80,
        bed_mm=(1230, 1230),
        max_rate_mm_per_min=(8000, 8000, 3000),
        acceleration_mm_per_s2=(500, 500, 200),
        spindle_min_rpm=10000,
        spindle_max_rpm=30000,
        spindle_power_kw=1.2,
        spindle_by_hand=True,
        dial=(("2", 16000), ("3", 18000)),
        clamps=CLAMPS,
    )


CUTTERS = (
    Cutter(
        number=1,
        name="6.35 compression",
        kind=CutterKind.COMPRESSION,
        diameter_mm=6.35,
        flutes=2,
        flute_length_mm=25,
        measured_diameter_mm=6.31,
    ),
    Cutter(number=4, name="5 mm drill", kind=CutterKind.DRILL, diameter_mm=5, flutes=2, flute_length_mm=30),
)


def feed(cutter: int) -> FeedChoice:
    return FeedChoice(
        cutter=cutter,
        stock="birch 18",
        material="birch plywood",
        rpm=18000,
        dial="3",
        feed_mm_per_min=3600,
        plunge_mm_per_min=900,
        ramp_mm_per_min=1800,
        chip_load_mm_per_tooth=0.1,
        chart_low_mm_per_tooth=0.08,
        chart_high_mm_per_tooth=0.13,
        pass_mm=6.31,
        engagement_mm=6.31,
        power_kw=0.31,
        surface_m_per_min=356,
        decided_by="chart",
    )


def page(*, ready: bool = True, units: str = "mm", extra: tuple[Placement, ...] = ()) -> PageView:
    """A page with two programs on one sheet; not ready: with an error, a warning and a note, and no programs."""
    laid = sheet(extra)
    order = {placement.panel.id: k + 1 for k, placement in enumerate(laid.placements)}
    title = f"{JOB}: {laid.id}"
    picture = sheet_svg(laid, clamps=CLAMPS, order=order, units=units, title=title)
    warning = finding("small-part", "it is 60 mm wide: hold it", panel="B3 rear stretcher with a name that goes on")
    line = finding("text-after-end", "line 90 stands after M30", file="birch-18-01-1.nc", line=90)
    error = finding("recess-too-narrow", 'bottom dado is 5.00 mm wide, no cutter "fits"', panel="B3 left side")
    note = finding("flute-shorter-than-stock", "cutter 4 reaches 15 mm", file="kitchen.toml")
    programs = (
        ProgramView(
            file="programs/birch-18-01-1.nc",
            fingerprint="0123456789",
            cutters=(1,),
            lines=1204,
            time_s=1511.2,
            cut_mm=38420,
            traverse_mm=9120,
        ),
        ProgramView(
            file="programs/birch-18-01-4.nc",
            fingerprint="a1b2c3d4e5",
            cutters=(4,),
            lines=212,
            time_s=92.5,
            cut_mm=744,
            traverse_mm=5210,
            findings=(line,),
        ),
    )
    return PageView(
        job_name=JOB,
        units=units,
        version="0.1.0",
        post="plain-metric",
        fingerprint="fedcba9876",
        machine=machine(),
        ready=ready,
        findings=(warning, line) if ready else (note, warning, error),
        checks=84,
        counts=(StockCount(stock="birch 18", sheets=1, lower_bound=1),),
        sheets=(SheetView(sheet=laid, picture=picture, programs=programs if ready else ()),),
        cutters=CUTTERS,
        feeds=(feed(1), feed(4)),
        cabinets=(cabinet(),),
        boxes=(box(),),
        panels=tuple(placement.panel for placement in laid.placements),
        echoes=('cabinet "B3", width: 23 1/4 in = 590.55 mm',),
    )
