"""The shop's tables: what the package ships, how a job or a file of one's own changes it, and what is refused."""

from importlib import resources

import pytest

from rabbetry.errors import InputError
from rabbetry.shop.model import CutterKind, Tables, ZZero
from rabbetry.shop.read import read_tables

PACKAGE = {
    item.name: item.read_text(encoding="utf-8")
    for item in resources.files("rabbetry.shop").joinpath("tables").iterdir()
    if item.name.endswith(".toml")
}


@pytest.fixture(scope="module")
def tables() -> Tables:
    return read_tables(PACKAGE)


def _faults(**reading: object) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_tables(PACKAGE, **reading)  # type: ignore[arg-type]
    return [str(fault) for fault in caught.value.faults]


def test_every_shipped_row_names_its_source(tables: Tables) -> None:
    rows = (*tables.machines, *tables.cutters, *tables.chip_loads, *tables.materials, *tables.sheet_goods)
    assert len(rows) > 40
    assert all(row.source for row in rows)


def test_rows_are_sorted_whatever_the_order_of_the_texts(tables: Tables) -> None:
    assert read_tables(dict(reversed(list(PACKAGE.items())))) == tables
    assert [cutter.number for cutter in tables.cutters] == sorted(cutter.number for cutter in tables.cutters)


def test_three_machines_of_three_habits_ship(tables: Tables) -> None:
    facts = {machine.name: (machine.spindle_by_hand, machine.z_zero, machine.clamps) for machine in tables.machines}
    assert facts == {
        "bench-4x4": (False, ZZero.STOCK_TOP, ()),
        "bench-600x900": (False, ZZero.STOCK_TOP, ()),
        "dial-4x4": (True, ZZero.SPOILBOARD, ()),
    }


def test_each_shipped_machine_reaches_around_its_largest_blank_and_above_thick_stock(tables: Tables) -> None:
    widest_mm = max(cutter.diameter_mm for cutter in tables.cutters)
    for machine in tables.machines:
        for axis in (0, 1):
            first = machine.blank_origin_mm[axis] - widest_mm
            last = machine.blank_origin_mm[axis] + machine.bed_mm[axis] + widest_mm
            assert machine.travel_min_mm[axis] <= first, machine.name
            assert last <= machine.travel_max_mm[axis], machine.name
        clamp_on_thick_stock_mm = 19.05 + 38.0 + machine.clamp_margin_mm
        assert machine.spoilboard_z_mm + clamp_on_thick_stock_mm <= machine.travel_max_mm[2], machine.name
        assert machine.travel_min_mm[2] <= machine.spoilboard_z_mm - machine.through_mm, machine.name


def test_the_shipped_cutters_do_what_a_carcass_needs(tables: Tables) -> None:
    by_number = {cutter.number: cutter for cutter in tables.cutters}
    assert by_number[1].diameter_mm == 6.35
    assert by_number[1].flute_length_mm >= 22
    assert {cutter.diameter_mm for cutter in tables.cutters if cutter.is_drill} == {3.0, 5.0, 6.0, 6.35, 8.0}
    quarter = next(cutter for cutter in tables.cutters if cutter.is_drill and cutter.diameter_mm == 6.35)
    assert quarter.flute_length_mm > 25.4, "through 1 in sheet goods"
    assert any(not cutter.centre_cutting for cutter in tables.cutters)
    compression = next(cutter for cutter in tables.cutters if cutter.kind is CutterKind.COMPRESSION)
    assert 0 < compression.up_cut_length_mm < compression.pass_limit_mm


CHART = [
    ("plywood", 6.35, 0.006, 0.009),
    ("plywood", 3.175, 0.003, 0.005),
    ("mdf", 6.35, 0.012, 0.015),
    ("particleboard", 12.7, 0.020, 0.025),
    ("hardwood", 9.525, 0.013, 0.015),
    ("softwood", 12.7, 0.019, 0.021),
]


@pytest.mark.parametrize(("material", "diameter_mm", "low_in", "high_in"), CHART)
def test_chip_loads_are_those_of_a_tool_sellers_public_chart(
    tables: Tables, material: str, diameter_mm: float, low_in: float, high_in: float
) -> None:
    row = next(row for row in tables.chip_loads if (row.material, row.diameter_mm) == (material, diameter_mm))
    assert row.low_mm_per_tooth == pytest.approx(low_in * 25.4)
    assert row.high_mm_per_tooth == pytest.approx(high_in * 25.4)


SHEETS = [
    pytest.param("birch-18", 18.0, 17.06, 18.74, id="EN 315 sanded, 18 mm"),
    pytest.param("birch-12", 12.0, 11.24, 12.56, id="EN 315 sanded, 12 mm"),
    pytest.param("ply-3/4", 19.05, 17.4625, 19.84375, id="PS 1 categories 23/32 and 3/4"),
    pytest.param("ply-1/2", 12.7, 11.1125, 13.49375, id="PS 1 categories 15/32 and 1/2"),
]


@pytest.mark.parametrize(("name", "nominal_mm", "thinnest_mm", "thickest_mm"), SHEETS)
def test_sheet_thickness_limits_are_the_standards(
    tables: Tables, name: str, nominal_mm: float, thinnest_mm: float, thickest_mm: float
) -> None:
    row = next(row for row in tables.sheet_goods if row.name == name)
    assert row.nominal_mm == nominal_mm
    assert (row.thinnest_mm, row.thickest_mm) == pytest.approx((thinnest_mm, thickest_mm), abs=0.005)


def test_kc_of_particleboard_is_the_published_mean(tables: Tables) -> None:
    """B. Palubicki, Materials 2021, 14, 2208: 37.6 N/mm2."""
    row = next(row for row in tables.materials if row.name == "particleboard")
    assert row.cutting_force_n_per_mm2 == 37.6


def test_a_job_changes_single_keys_of_a_row_in_its_own_unit(tables: Tables) -> None:
    changed = read_tables(
        PACKAGE,
        overrides={
            "units": "in",
            "machine": {"name": "bench-4x4", "clearance": 0.5, "travel_max": ["50 1/4 in", 50.5, 0]},
            "cutter": [{"number": 1, "measured_diameter": 0.247}],
        },
        file="job.toml",
    )
    before, after = tables.machines[0], changed.machines[0]
    assert after.clearance_mm == pytest.approx(12.7)
    assert after.travel_max_mm == pytest.approx((1276.35, 1282.7, 0.0))
    assert after.travel_min_mm == before.travel_min_mm
    assert changed.cutters[0].cut_diameter_mm == pytest.approx(6.2738)
    assert changed.cutters[0].diameter_mm == 6.35
    assert changed.cutters[1:] == tables.cutters[1:]


def test_a_file_of_ones_own_adds_rows_and_the_job_has_the_last_word() -> None:
    own = """
    units = "in"
    [[cutter]]
    number = 40
    name = "3/16 in end mill"
    kind = "end mill"
    diameter = "3/16"
    flutes = 2
    flute_length = 0.75
    [[cutter]]
    number = 1
    stick_out = 1.5
    [[sheet]]
    name = "shop ply"
    title = "Plywood from the yard"
    material = "plywood"
    nominal = "5/8"
    along = 96
    across = 48
    grain = true
    """
    tables = read_tables(
        PACKAGE, own={"shop.toml": own}, overrides={"units": "mm", "cutter": [{"number": 1, "stick_out": 40}]}
    )
    assert tables.cutters[-1].number == 40
    assert tables.cutters[-1].diameter_mm == pytest.approx(4.7625)
    assert tables.cutters[0].stick_out_mm == 40
    assert next(row for row in tables.sheet_goods if row.name == "shop ply").nominal_mm == pytest.approx(15.875)


def test_a_machine_that_is_only_named_changes_nothing(tables: Tables) -> None:
    assert read_tables(PACKAGE, overrides={"units": "mm", "machine": "bench-4x4"}) == tables
    assert read_tables(PACKAGE, overrides={"units": "mm", "machine": {"name": "no such"}}) == tables


def test_all_faults_of_all_rows_are_told_at_once_with_their_place() -> None:
    overrides = {
        "units": "in",
        "machine": {"name": "dial-4x4", "spoilbord_z": 3, "through": 0.1},
        "cutter": [
            {"number": 3, "flutes": 2.5, "kind": "compresion"},
            {"number": 55, "name": "x"},
            {"name": "no number"},
            {"number": 2, "diameter": "0,125"},
        ],
        "sheet": [{"name": "birch18", "nominal": 3}, {"name": "birch-12", "material": "plywod"}],
        "material": "oak",
    }
    assert _faults(overrides=overrides, file="job.toml") == [
        'job.toml: material: "oak" is not a list of tables; begin each row with [[material]]',
        "job.toml: [[cutter]]: a row has no number; write `number = ...`, which tells the row from the others",
        'job.toml: cutter 2, diameter: "0,125" has a comma; write decimals with a point, and no thousands separator',
        'job.toml: cutter 3, kind: "compresion" is not one of the choices; did you mean compression?',
        "job.toml: cutter 3, flutes: 2.5 is not a whole number",
        'job.toml: machine "dial-4x4": "spoilbord_z" is not a known key; did you mean spoilboard_z?',
        "job.toml: cutter 55: is a new row and lacks kind, diameter, flutes, flute_length; "
        "give them, or correct what names the row",
        'job.toml: sheet "birch18": is a new row and lacks title, material, along, across, grain; '
        "did you mean birch-18?",
        'job.toml: sheet "birch-12", material: "plywod" is not in the materials table; did you mean plywood?',
    ]


CONTRADICTIONS = [
    pytest.param({"machine": {"name": "bench-4x4", "through": 0.9}},
                 'j: machine "bench-4x4": through 0.9 mm is more than the spoilboard_allowance 0.5 mm; '
                 "cut less deep past the blank, or allow a deeper bite", id="through cut below the allowance (T46)"),
    pytest.param({"machine": {"name": "bench-4x4", "travel_max": [1280, -5, 0]}},
                 'j: machine "bench-4x4": travel_min y 0 is not below travel_max y -5', id="travel turned round"),
    pytest.param({"machine": {"name": "bench-4x4", "spoilboard_z": -124.9}},
                 'j: machine "bench-4x4": spoilboard_z -124.9 with through is outside the z travel', id="out of reach"),
    pytest.param({"machine": {"name": "bench-4x4", "spindle_by_hand": True}},
                 'j: machine "bench-4x4": spindle_by_hand needs a dial; '
                 'write dial = [{ mark = "1", rpm = 10000 }, ...]',
                 id="hand-set speed without a dial"),
    pytest.param({"machine": {"name": "dial-4x4", "dial": [{"mark": "1", "rpm": 9000}, {"mark": "2", "rpm": 9000}]}},
                 'j: machine "dial-4x4": the dial\'s speeds do not rise', id="dial that does not rise"),
    pytest.param({"machine": {"name": "bench-4x4", "spindle_min_rpm": 30000}},
                 'j: machine "bench-4x4": spindle_min_rpm 30000 is above spindle_max_rpm', id="speeds turned round"),
    pytest.param({"cutter": [{"number": 1, "measured_diameter": 0.248}]},
                 "j: cutter 1: measured_diameter 0.248 is more than a tenth off the diameter 1/4 in; "
                 "measure again, or change the diameter", id="inches measured in a job in millimetres"),
    pytest.param({"cutter": [{"number": 1, "stick_out": 20}]},
                 "j: cutter 1: stick_out 20 is less than the flute_length 1 in", id="flutes inside the collet"),
    pytest.param({"cutter": [{"number": 3, "up_cut_length": 30}]},
                 "j: cutter 3: up_cut_length 30 is not below the flute_length", id="tip longer than the flutes"),
    pytest.param({"cutter": [{"number": 1, "flutes": 2}, {"number": 1, "flutes": 3}]},
                 "j: cutter 1: stands twice; keep one of the two rows", id="one row twice in one file"),
    pytest.param({"chip_load": [{"material": "mdf", "diameter": "1/4 in", "low": 1}]},
                 'j: chip load "mdf" "1/4 in": low 1 is above high 0.015 in', id="range turned round"),
    pytest.param({"chip_load": [{"material": "teak", "diameter": 6, "low": 0.1, "high": 0.2}]},
                 'j: chip load "teak" 6, material: "teak" is not in the materials table; '
                 "known: hardwood, mdf, particleboard, plywood, softwood", id="material without a row"),
    pytest.param({"tuning": [{"name": "last", "sign": "burnt"}]},
                 'j: tuning "last", sign: "burnt" is not one of the choices; did you mean burned?', id="unknown sign"),
    pytest.param({"tuning": [{"name": "last", "sign": "burned", "cutter": 77}]},
                 'j: tuning "last", cutter: there is no cutter 77 in the tables; write one of 1, 2, 3, 4, 5, 6, 7, 8, '
                 "9, 10, 11, 12", id="remark about no cutter"),
    pytest.param({"tuning": [{"name": "last", "sign": "burned", "material": "plywod"}]},
                 'j: tuning "last", material: "plywod" is not in the materials table; did you mean plywood?',
                 id="remark about no material"),
]  # fmt: skip


@pytest.mark.parametrize(("overrides", "words"), CONTRADICTIONS)
def test_a_row_that_contradicts_itself_is_refused(overrides: dict[str, object], words: str) -> None:
    assert _faults(overrides={"units": "mm", **overrides}, file="j") == [words]


TEXTS = [
    pytest.param("x = ", "own.toml: not TOML: Invalid value (at end of document)", id="not TOML"),
    pytest.param("a = " + "[" * 100_000, "own.toml: not TOML: lists or tables are nested too deeply", id="deep"),
    pytest.param('units = "ft"', 'own.toml: units: "ft" is not a unit; write "mm" or "in"', id="unknown unit"),
    pytest.param("[[cuter]]\nnumber = 1", 'own.toml: "cuter" is not a known key; did you mean cutter?', id="misspelt"),
    pytest.param("[cutter]\nnumber = 1", "own.toml: cutter: a table is not a list of tables; "
                 "begin each row with [[cutter]]", id="single brackets"),
    pytest.param("cutter = [1]", "own.toml: cutter: a list is not a list of tables; begin each row with [[cutter]]",
                 id="list of numbers"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), TEXTS)
def test_a_file_of_tables_that_cannot_be_read_says_why(text: str, words: str) -> None:
    assert _faults(own={"own.toml": text}) == [words]


def test_a_fault_names_the_file_that_the_value_came_from() -> None:
    own = "[[cutter]]\nnumber = 1\nflutes = 0\n"
    found = _faults(
        own={"own.toml": own}, overrides={"units": "mm", "cutter": [{"number": 1, "name": ""}]}, file="job.toml"
    )
    assert found == [
        'job.toml: cutter 1, name: "" is shorter than 1 signs',
        "own.toml: cutter 1, flutes: 0 is less than 1",
    ]


def test_more_rows_than_a_shop_has_are_refused() -> None:
    rows = "[[material]]\nname = 'x'\n" * 1001
    assert _faults(own={"own.toml": rows}) == ["own.toml: material: 1001 rows are more than the 1000 allowed"]


def test_a_chip_load_for_the_same_diameter_in_another_spelling_is_the_same_row() -> None:
    overrides = {"units": "mm", "chip_load": [{"material": "plywood", "diameter": 6.35, "high": 0.2}]}
    rows = [row for row in read_tables(PACKAGE, overrides=overrides).chip_loads if row.material == "plywood"]
    assert len(rows) == 4
    assert next(row for row in rows if row.diameter_mm == 6.35).high_mm_per_tooth == 0.2


def test_a_row_with_a_diameter_that_is_none_is_refused_once() -> None:
    overrides = {"units": "mm", "chip_load": [{"material": "mdf", "diameter": "thick", "low": 0.1, "high": 0.2}]}
    assert _faults(overrides=overrides, file="j") == [
        'j: chip load "mdf" "thick", diameter: "thick" is not a length; '
        'write a number or text such as "18 mm" or "23 1/4 in"'
    ]
