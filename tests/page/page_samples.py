"""A small sheet made by hand: a side with a kick notch, a drawer back, a door with cups, stretchers, a disc."""

from rabbetry.geometry.curves import Contour, Line, chain, circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.model import Grain
from rabbetry.panels.model import Bore, Box, CutOut, FrontSize, HardwareLine, Joint, Panel, Recess
from rabbetry.sheets.model import Offcut, Placement, Sheet
from rabbetry.shop.model import Clamp

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
    from_ = [Point(0, 0), Point(300, 0), Point(300, 120)]
    outline = chain(
        [
            Line(from_[0], from_[1]),
            Line(from_[1], from_[2]),
            *circle(Point(240, 120), 60).segments[:0],
            Line(Point(300, 120), Point(300, 150)),
            Line(Point(300, 150), Point(0, 150)),
            Line(Point(0, 150), Point(0, 0)),
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
