"""The setup is made from job, panels and places alone, and the dry run reads it back as it was meant."""

import dataclasses
import json

import pytest

from rabbetry.dryrun.setup_read import read_setup
from rabbetry.dryrun.target import panel_target
from rabbetry.geometry.curves import Contour, circle, polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.model import Cutting, Grain, Hold, Job, Stock, Units
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Recess
from rabbetry.setup.write import Controller, write_setup
from rabbetry.sheets.model import Placement, Sheet
from rabbetry.shop.model import ChipLoad, Clamp, Cutter, CutterKind, Machine, Shop, ZZero

MACHINE = Machine(
    name="bench",
    title="Bench",
    travel_min_mm=(0, 0, -90),
    travel_max_mm=(1280, 1290, 0),
    blank_origin_mm=(20, 30),
    spoilboard_z_mm=-80,
    bed_mm=(1240, 1250),
    max_rate_mm_per_min=(6000, 5000, 2000),
    acceleration_mm_per_s2=(400, 300, 200),
    spindle_min_rpm=8000,
    spindle_max_rpm=24000,
    spindle_power_kw=1.5,
    spindle_by_hand=False,
    clamps=(Clamp(name="C1", x_mm=1, y_mm=2, length_x_mm=30, length_y_mm=40, height_mm=25),),
)
CUTTER = Cutter(
    number=1,
    name="quarter inch",
    kind=CutterKind.END_MILL,
    diameter_mm=6.35,
    measured_diameter_mm=6.33,
    flutes=2,
    flute_length_mm=25.4,
)
STOCK = Stock(
    name="birch-18",
    sheet="birch ply 18",
    material="birch ply",
    nominal_mm=18,
    measured_mm=17.8,
    blank_x_mm=1220,
    blank_y_mm=1221,
    has_grain=True,
    grain_along_x=False,
    trim_mm=10,
)
CONTROLLER = Controller(
    post="plain", dialect="small-firmware", allowed_words=("G1", "G0"), line_limit=70, work_offset="G55"
)
FEATURES: tuple[Feature, ...] = (
    Bore(name="pin 1", purpose="shelf pin", centre=Point(30, 40), diameter_mm=5, depth_mm=12),
    Bore(name="pilot", purpose="pilot", centre=Point(50, 60), diameter_mm=3, depth_mm=17.8, through=True),
    Recess(
        name="dado",
        kind="dado",
        outline=rectangle(100, 0, 18, 200),
        depth_mm=6,
        islands=(rectangle(105, 50, 5, 5),),
        relieved_corners=(Point(100, 200),),
    ),
    CutOut(name="window", outline=circle(Point(250, 100), 30)),
)


def _sheet(rotation: int = 0, outline: Contour | None = None) -> Sheet:
    part = Panel(
        id="B1 left side",
        cabinet="B1",
        role="left side",
        stock="birch-18",
        thickness_mm=17.8,
        length_mm=300,
        width_mm=200,
        outline=outline or rectangle(0, 0, 300, 200),
        features=FEATURES,
        grain=Grain.ALONG,
        place=None,
    )
    return Sheet(
        id="birch-18-01",
        stock="birch-18",
        thickness_mm=17.8,
        thickness_is_measured=True,
        blank_x_mm=1220,
        blank_y_mm=1221,
        grain_along_x=False,
        has_grain=True,
        trim_mm=10,
        placements=(Placement(panel=part, x_mm=11, y_mm=12, rotation_deg=rotation),),
        offcuts=(),
    )


def _write(
    sheet: Sheet, machine: Machine = MACHINE, *, chip_loads: tuple[ChipLoad, ...] = (), **cutting: object
) -> str:
    job = Job(
        name="kitchen",
        file="kitchen.toml",
        units=Units.MM,
        post="plain",
        shop=Shop(machine=machine, cutters=(CUTTER,), chip_loads=chip_loads, materials=(), sheet_goods=()),
        stocks=(STOCK,),
        cutting=dataclasses.replace(Cutting(), **cutting),  # type: ignore[arg-type]
        cabinets=(),
        parts=(),
    )
    names = ("birch-18-01-T2.nc", "birch-18-01-T1.nc")
    return write_setup(sheet, job=job, program=names[1], programs=names, controller=CONTROLLER, loaded=(1,))


def test_what_is_written_is_what_is_read() -> None:
    setup = read_setup(_write(_sheet()), file="a.setup.json")
    assert (setup.program, setup.sheet) == ("birch-18-01-T1.nc", "birch-18-01")
    assert setup.programs == ("birch-18-01-T2.nc", "birch-18-01-T1.nc")
    assert setup.loaded == (1,)
    assert (setup.dialect, setup.line_limit, setup.work_offset_word) == ("small-firmware", 70, "G55")
    assert setup.allowed_words == frozenset(("G0", "G1"))
    assert setup.machine.travel_max_mm == (1280, 1290, 0)
    assert (setup.blank_x_mm, setup.blank_y_mm) == (1220, 1221)
    assert setup.cutters[0].diameter_mm == 6.33
    assert setup.clamps[0].top_z_mm == 25
    (part,) = setup.panels
    assert (part.recesses[0].depth_mm, part.recesses[0].relieved_corners) == (6, ((111, 212),))
    assert [(bore.x_mm, bore.y_mm, bore.through) for bore in part.bores] == [(41, 52, False), (61, 72, True)]


@pytest.mark.parametrize(
    ("diameters", "high"),
    [
        pytest.param((), None, id="no row for the material"),
        pytest.param((6.35,), 0.2, id="its own row"),
        pytest.param((12.7,), 0.1, id="narrower than all: in proportion"),
        pytest.param((3.175,), 0.4, id="wider than all: in proportion"),
        pytest.param((9.525, 3.175), 0.2, id="between two rows of one value"),
    ],
)
def test_the_chip_load_is_the_charts_for_the_stock(diameters: tuple[float, ...], high: float | None) -> None:
    """The cutter is 6.35 wide; each row says 0.2 mm, and rows of another material say nothing."""
    rows = [
        ChipLoad(material="birch ply", diameter_mm=wide, low_mm_per_tooth=0.1, high_mm_per_tooth=0.2, source="test")
        for wide in diameters
    ]
    rows.append(ChipLoad(material="mdf", diameter_mm=6.35, low_mm_per_tooth=0.5, high_mm_per_tooth=0.9, source="test"))
    cutter = read_setup(_write(_sheet(), chip_loads=tuple(rows)), file="a.setup.json").cutters[0]
    assert cutter.chip_load_high_mm == (None if high is None else pytest.approx(high))
    assert cutter.flutes == 2


@pytest.mark.parametrize(
    ("z_zero", "top", "spoilboard", "machine_z"),
    [
        pytest.param(ZZero.STOCK_TOP, 0.0, -17.8, -62.2, id="T47 stock top"),
        pytest.param(ZZero.SPOILBOARD, 17.8, 0.0, -80.0, id="T47 spoilboard"),
    ],
)
def test_z_zero_moves_every_height_and_the_work_offset_against_it(
    z_zero: ZZero, top: float, spoilboard: float, machine_z: float
) -> None:
    setup = read_setup(_write(_sheet(), dataclasses.replace(MACHINE, z_zero=z_zero)), file="a.setup.json")
    assert (setup.stock_top_z_mm, setup.spoilboard_z_mm) == (top, spoilboard)
    assert setup.work_offset_mm == (20, 30, machine_z)
    assert setup.clamps[0].top_z_mm == pytest.approx(top + 25)


def test_a_turned_panels_target_is_turned_with_it() -> None:
    (part,) = read_setup(_write(_sheet(rotation=90)), file="a.setup.json").panels
    # A quarter turn counter-clockwise: panel (x, y) stands at blank (11 + 200 - y, 12 + x).
    assert [(bore.x_mm, bore.y_mm) for bore in part.bores] == [(171, 42), (151, 62)]
    target = panel_target(part, file="a.setup.json", faults=[])
    assert target.outline.bounds == (11, 12, 211, 312)
    assert target.recesses[0].region.bounds == (11, 112, 211, 130)
    assert target.recesses[0].region.area == pytest.approx(18 * 200 - 25)
    assert target.cutouts[0].centroid.x == pytest.approx(111)
    assert target.cutouts[0].area == pytest.approx(900 * 3.14159265, rel=3e-4)
    assert target.outline.exterior.is_ccw


@pytest.mark.parametrize(
    ("outline", "at_least", "at_most"),
    [
        pytest.param(rectangle(0, 0, 300, 200), 2, 5, id="1000 mm round"),
        pytest.param(rectangle(0, 0, 900, 600), 7, 15, id="3000 mm round"),
        pytest.param(rectangle(0, 0, 900, 100), 5, 10, id="a strip 2000 mm round"),
        pytest.param(rectangle(0, 0, 300, 50), 2, 4, id="a strip 700 mm round"),
        pytest.param(circle(Point(25, 25), 25.4), 2, 5, id="T44 disc of 2 in"),
        pytest.param(rectangle(0, 0, 20, 10), 2, 5, id="60 mm round"),
        pytest.param(polygon([(0, 0), (15, 0), (0, 15)]), 1, 5, id="51 mm round: room for one"),
    ],
)
def test_the_number_of_tabs_goes_with_the_perimeter(outline: Contour, at_least: int, at_most: int) -> None:
    (part,) = read_setup(_write(_sheet(outline=outline)), file="a.setup.json").panels
    assert (part.hold.kind, part.hold.at_least, part.hold.at_most) == ("tabs", at_least, at_most)
    assert (part.hold.length_mm, part.hold.height_mm) == (8, 3)


def test_an_openings_waste_needs_no_tabs_and_a_skin_is_for_all() -> None:
    (part,) = read_setup(_write(_sheet()), file="a.setup.json").panels
    assert part.cutouts[0].hold.at_least == 0
    (part,) = read_setup(_write(_sheet(), hold=Hold.SKIN, skin_mm=0.4), file="a.setup.json").panels
    assert (part.hold.kind, part.hold.height_mm) == ("skin", 0.4)
    assert part.cutouts[0].hold.kind == "skin"


def test_the_same_job_gives_the_same_bytes_in_ascii() -> None:
    text = _write(_sheet())
    assert text == _write(_sheet())
    assert text.isascii()
    assert list(json.loads(text))[:4] == ["format", "program", "sheet", "programs"]


def test_a_post_that_leaves_the_spindle_to_the_hand_says_so() -> None:
    controller = dataclasses.replace(CONTROLLER, spindle_by_hand=True)
    job = Job(
        name="kitchen",
        file="kitchen.toml",
        units=Units.MM,
        post="plain",
        shop=Shop(machine=MACHINE, cutters=(CUTTER,), chip_loads=(), materials=(), sheet_goods=()),
        stocks=(STOCK,),
        cutting=Cutting(),
        cabinets=(),
        parts=(),
    )
    text = write_setup(_sheet(), job=job, program="a.nc", programs=("a.nc",), controller=controller)
    assert read_setup(text, file="a.setup.json").machine.spindle_by_hand
