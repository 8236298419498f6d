"""The job file: what a good one becomes, and what is found about its stocks."""

from dataclasses import replace

import pytest
from job_text import CABINET_IN, STOCKS_MM, cabinet_text, codes, job_text, read

from rabbetry.job.findings import job_findings
from rabbetry.job.model import CabinetKind, Construction, Grain, Hold, Nailer, Units
from rabbetry.job.read import own_tables_name, read_overrides


def test_a_small_job_becomes_records_in_millimetres() -> None:
    job = read(job_text())
    assert (job.name, job.units, job.post, job.shop.machine.name) == ("Test job", Units.MM, "metric-plain", "bench-4x4")
    assert [cutter.number for cutter in job.shop.cutters] == [1, 5, 6]
    stock = job.stock("ply")
    assert (stock.thickness_mm, stock.nominal_mm, stock.blank_x_mm, stock.trim_mm) == (17.8, 18.0, 1220.0, 10.0)
    (order,) = job.cabinets
    assert (order.width_mm, order.height_mm, order.depth_mm) == (600.0, 876.0, 580.0)
    assert (order.carcass_stock, order.back_stock, order.drawer_stock) == ("ply", "thin", "ply")
    assert (order.drawer_bottom_stock, order.front_stock) == ("thin", "ply")
    assert order.construction == Construction()
    assert job.echoes == ()
    assert job_findings(job) == ()


KINDS = [
    # kind, width, doors, drawers, adjustable shelves, nailer, height
    ("base", 600, 1, (), 1, Nailer.NONE, 876),
    ("base", 601, 2, (), 1, Nailer.NONE, 876),
    ("sink", 900, 2, (), 0, Nailer.NONE, 876),
    ("drawers", 600, 0, (0.0, 0.0, 0.0), 0, Nailer.NONE, 876),
    ("wall", 400, 1, (), 2, Nailer.TOP, 720),
    ("open", 400, 0, (), 2, Nailer.NONE, 720),
]


@pytest.mark.parametrize(("kind", "width", "doors", "drawers", "shelves", "nailer", "height"), KINDS)
def test_each_kind_has_its_usual_defaults(
    kind: str, width: int, doors: int, drawers: tuple[float, ...], shelves: int, nailer: Nailer, height: float
) -> None:
    (order,) = read(job_text(cabinet_text(f"width = {width}", kind=kind))).cabinets
    assert order.kind is CabinetKind(kind)
    assert (order.doors, order.drawer_front_heights_mm, order.adjustable_shelves) == (doors, drawers, shelves)
    assert (order.nailer, order.height_mm) == (nailer, height)


DRAWERS = [
    pytest.param("drawers", "drawers = 3", (0.0, 0.0, 0.0), id="a number shares the front equally"),
    pytest.param("drawers", "drawers = [157, 0, 317]", (157.0, 0.0, 317.0), id="0 shares what the others leave"),
    pytest.param("base", "drawers = 1", (157.0,), id="a number above a door gets the usual height"),
    pytest.param("base", 'drawers = ["6 in"]\ndoors = 2', (152.4,), id="a height in inches"),
    pytest.param("base", "drawers = 2\ndoors = 0", (0.0, 0.0), id="no doors below"),
]


@pytest.mark.parametrize(("kind", "lines", "heights"), DRAWERS)
def test_drawers_are_a_number_or_heights(kind: str, lines: str, heights: tuple[float, ...]) -> None:
    (order,) = read(job_text(cabinet_text("width = 600", lines, kind=kind))).cabinets
    assert order.drawer_front_heights_mm == pytest.approx(heights)


def test_every_key_of_a_cabinet_is_heard() -> None:
    lines = """
    qty = 4
    width = 610
    height = 890
    depth = 570
    doors = 2
    hinge = "right"
    drawers = [150]
    drawer_length = 450
    fixed_shelves = 3
    adjustable_shelves = 5
    back = false
    nailer = "top"
    slab_doors = true
    stocks = { carcass = "thin", back = "ply", drawer = "thin", drawer_bottom = "ply", front = "thin" }
    dado_depth = 7
    shelf_pin_pitch = 25
    """
    (order,) = read(job_text(cabinet_text(lines))).cabinets
    assert (order.qty, order.width_mm, order.height_mm, order.depth_mm) == (4, 610, 890, 570)
    assert (order.doors, order.hinge, order.drawer_front_heights_mm, order.drawer_length_mm) == (
        2,
        "right",
        (150,),
        450,
    )
    assert (order.fixed_shelves, order.adjustable_shelves) == (3, 5)
    assert (order.back, order.nailer, order.slab_doors) == (False, Nailer.TOP, True)
    assert (order.carcass_stock, order.back_stock, order.drawer_stock) == ("thin", "ply", "thin")
    assert (order.drawer_bottom_stock, order.front_stock) == ("ply", "thin")
    assert order.construction == replace(Construction(), dado_depth_mm=7, pin_pitch_mm=25)


def test_construction_holds_for_the_job_and_a_cabinet_has_the_last_word() -> None:
    text = job_text(
        "[construction]\ndado_depth = 8\nkick_height = 90",
        cabinet_text("width = 500"),
        cabinet_text("width = 500", "dado_depth = 5", name="B2"),
    )
    first, second = read(text).cabinets
    assert (first.construction.dado_depth_mm, first.construction.kick_height_mm) == (8, 90)
    assert (second.construction.dado_depth_mm, second.construction.kick_height_mm) == (5, 90)


def test_an_inch_job_starts_from_the_inch_trades_settings() -> None:
    (order,) = read(job_text(units="in")).cabinets
    assert (order.height_mm, order.depth_mm) == (876.3, 590.55)
    made = order.construction
    assert (made.kick_height_mm, made.kick_depth_mm, made.dado_depth_mm, made.stretcher_width_mm) == (
        101.6, 76.2, 6.35, 101.6,
    )  # fmt: skip
    assert (made.pin_diameter_mm, made.pin_pitch_mm) == (5.0, 32.0)


def test_cutting_clamps_parts_and_machine_changes_are_heard() -> None:
    text = (
        job_text(
            '[[clamp]]\nname = "left"\nx = -20\ny = 100\nlength_x = 60\nlength_y = 40\nheight = 30',
            '[cutting]\nhold = "skin"\nskin = 0.4\nspacing = 12\nweb = 3\ndirection = "conventional"\ntab_length = 9',
            "tab_height = 2\ntab_spacing = 250\nramp_deg = 5\nstepover = 0.4\nprofile_cutter = 1\nsmall_part = 70",
            '[[part]]\nname = "Filler"\nqty = 2\nstock = "ply"\nlength = 776\nwidth = 60\ngrain = "across"\nnote = "x"',
        ).replace('machine = "bench-4x4"\n', "")
        + '\n[machine]\nname = "bench-4x4"\nclearance = 15\n'
    )
    job = read(text)
    assert job.shop.machine.clearance_mm == 15
    (clamp,) = job.shop.machine.clamps
    assert (clamp.x_mm, clamp.y_mm, clamp.length_x_mm, clamp.length_y_mm, clamp.height_mm) == (-20, 100, 60, 40, 30)
    cutting = job.cutting
    assert (cutting.hold, cutting.skin_mm, cutting.spacing_mm, cutting.web_mm) == (Hold.SKIN, 0.4, 12, 3)
    assert (cutting.direction, cutting.tab_length_mm, cutting.tab_height_mm) == ("conventional", 9, 2)
    assert (cutting.tab_spacing_mm, cutting.ramp_deg, cutting.stepover) == (250, 5, 0.4)
    assert (cutting.profile_cutter, cutting.small_part_mm) == (1, 70)
    (part,) = job.parts
    assert (part.name, part.qty, part.stock, part.length_mm, part.width_mm) == ("Filler", 2, "ply", 776, 60)
    assert (part.grain, part.note) == (Grain.ACROSS, "x")


def test_grain_and_trim_of_a_stock_are_heard() -> None:
    stocks = STOCKS_MM.replace("blank = [1220, 1220]", 'blank = [1220, 1000]\ntrim = 6\ngrain_along = "y"', 1)
    stock = read(job_text(stocks=stocks)).stock("ply")
    assert (stock.trim_mm, stock.grain_along_x, stock.has_grain) == (6, False, True)
    assert (stock.blank_x_mm, stock.blank_y_mm) == (1220, 1000)


def test_a_job_with_one_stock_needs_no_use() -> None:
    stocks = '[stock.ply]\nsheet = "birch-18"\nthickness = 17.8\nblank = [1220, 1220]\n'
    (order,) = read(job_text(stocks=stocks)).cabinets
    assert {order.carcass_stock, order.back_stock, order.drawer_bottom_stock, order.front_stock} == {"ply"}


def test_long_part_names_and_letters_of_all_languages_are_kept() -> None:
    long = "x" * 300
    parts = [f'[[part]]\nname = "{name}"\nstock = "ply"\nlength = 300\nwidth = 200' for name in (long, "Küche-Ost №2")]
    assert [part.name for part in read(job_text(*parts)).parts] == [long, "Küche-Ost №2"]


def test_the_jobs_own_tables_are_named_but_never_opened_here() -> None:
    assert own_tables_name('tables = "shop.toml"', file="job.toml") == "shop.toml"
    assert own_tables_name("units = 3", file="job.toml") == ""
    assert own_tables_name("tables = 3", file="job.toml") == ""
    assert read_overrides('units = "in"', file="job.toml") == {"units": "in"}


def test_a_measured_thickness_outside_the_standard_is_a_warning() -> None:
    job = read(job_text(stocks=STOCKS_MM.replace("17.8", "16.9")))
    (warning,) = job_findings(job)
    assert (warning.severity, warning.code) == ("warning", "thickness-unusual")
    assert warning.message == (
        'stock "ply": the measured 16.9 mm is outside the 17.06 mm to 18.74 mm of Birch plywood 18 mm; measure again'
    )


BLANKS = [
    pytest.param("[1220, 1220]", "x", [], id="half a sheet"),
    pytest.param("[1000, 1230]", "x", ["blank-exceeds-sheet"], id="wider across the grain than the sheet"),
    pytest.param("[1230, 1000]", "x", [], id="that wide along the grain"),
    pytest.param("[1230, 1000]", "y", ["blank-exceeds-sheet"], id="the grain turned"),
]


@pytest.mark.parametrize(("blank", "along", "expected"), BLANKS)
def test_a_blank_that_no_sheet_gives_is_a_warning(blank: str, along: str, expected: list[str]) -> None:
    stocks = STOCKS_MM.replace("blank = [1220, 1220]", f'blank = {blank}\ngrain_along = "{along}"', 1)
    assert codes(read(job_text(stocks=stocks))) == expected


def test_an_inch_job_shows_its_findings_in_inches() -> None:
    text = job_text(CABINET_IN, units="in").replace("thickness = 0.703\n", "")
    (warning,) = job_findings(read(text))
    assert "the nominal 0.75 in (3/4) is used" in warning.message
