"""The job file: what it becomes, and every kind of mistake with the sentence the woodworker sees."""

import time
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_text import CABINET_IN, CABINET_MM, STOCKS_MM, TABLES, faults, job_text, read

from rabbetry.errors import InputError
from rabbetry.job.findings import job_findings
from rabbetry.job.model import CabinetKind, Construction, Grain, Hold, Job, Nailer, Units
from rabbetry.job.read import own_tables_name, read_job, read_overrides


def _cabinet(*lines: str, name: str = "B1", kind: str = "base") -> str:
    return "\n".join(["[[cabinet]]", f'name = "{name}"', f'kind = "{kind}"', *lines])


def _codes(job: Job) -> list[str]:
    return [item.code for item in job_findings(job)]


# What a good job becomes


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
    (order,) = read(job_text(_cabinet(f"width = {width}", kind=kind))).cabinets
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
    (order,) = read(job_text(_cabinet("width = 600", lines, kind=kind))).cabinets
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
    (order,) = read(job_text(_cabinet(lines))).cabinets
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
        _cabinet("width = 500"),
        _cabinet("width = 500", "dado_depth = 5", name="B2"),
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


# The scenarios


SPELLINGS = ['"23-1/4"', '"23 1/4"', "23.25", "'23 1/4\"'", '"590.55 mm"']


def test_t01_five_spellings_of_a_width_make_one_job() -> None:
    jobs = [read(job_text(_cabinet(f"width = {spelling}"), units="in")) for spelling in SPELLINGS]
    assert jobs[0].cabinets[0].width_mm == 590.55
    assert len({replace(job, echoes=()) for job in jobs}) == 1


def test_t02_mixed_and_improper_fractions_are_read_and_echoed_and_the_improper_one_is_noted() -> None:
    mixed = read(job_text(_cabinet('width = "13 1/4"'), units="in"))
    improper = read(job_text(_cabinet('width = "53/4"'), units="in"))
    assert (mixed.cabinets[0].width_mm, improper.cabinets[0].width_mm) == (336.55, 336.55)
    assert mixed.echoes == ('cabinet "B1", width: 13 1/4 = 13.25 in (13 1/4) = 336.55 mm',)
    assert improper.echoes == ('cabinet "B1", width: 53/4 = 13.25 in (13 1/4) = 336.55 mm',)
    assert _codes(mixed) == []
    (note,) = job_findings(improper)
    assert (note.severity, note.code) == ("note", "improper-fraction")
    assert note.message == ('cabinet "B1", width: 53/4 = 13.25 in (13 1/4) = 336.55 mm; was a mixed number meant?')


REFUSED = [
    pytest.param('depth = "0,25"', 'depth: "0,25" has a comma; write decimals with a point, and no thousands separator',
                 id="T03 comma decimal"),
    pytest.param("height = -34.5", "height: -34.5 is not more than 0", id="T04 negative"),
    pytest.param("height = 0", "height: 0 is not more than 0", id="T04 zero"),
    pytest.param("height = nan", "height: nan is not a length; write a number", id="T05 nan"),
    pytest.param("depth = inf", "depth: inf is not a length; write a number", id="T05 infinity"),
    pytest.param("qty = -1", "qty: -1 is less than 0", id="T06 negative count"),
    pytest.param("qty = 1.5", "qty: 1.5 is not a whole number", id="T06 broken count"),
    pytest.param("qty = true", "qty: true is not a whole number", id="count that is no number"),
    pytest.param("qty = 201", "qty: 201 is more than 200", id="too many"),
    pytest.param("height = 8760", "height: 8760 is more than the most, 2800 mm; did you mean 876?", id="zero too many"),
    pytest.param('height = "34 1/2"', 'height: "34 1/2" is a fraction of a metric unit; write a decimal, '
                 'or "34 1/2 in" if inches are meant', id="fraction in a job in millimetres"),
    pytest.param('hinge = "rigth"', 'hinge: "rigth" is not one of the choices; did you mean right?', id="misspelt"),
    pytest.param('back = "yes"', 'back: "yes" is not true or false', id="yes is text"),
    pytest.param("doors = 3", "doors: 3 is more than 2", id="three doors"),
    pytest.param('drawers = [157, "x"]', 'drawers: "x" is not a length; write a number or text such as "18 mm" or '
                 '"23 1/4 in"', id="drawer height that is none"),
    pytest.param("drawers = 11", "drawers: 11 drawers are not between 0 and 10", id="eleven drawers"),
    pytest.param("drawers = true", "drawers: true is neither a number of drawers nor a list of front heights",
                 id="drawers yes"),
    pytest.param('stocks = { carcass = "plie" }', 'stocks, carcass: there is no stock "plie"; known: ply, thin',
                 id="stock misspelt"),
    pytest.param("kick_height = 4", 'kick_height: 4 mm is very small: inches meant?; write "4 in", '
                 "or set accept_odd_sizes = true at the top of the file", id="toe kick in inches"),
    pytest.param("drawers = [6, 0]", 'drawers: 6 mm is very small: inches meant?; write "6 in", '
                 "or set accept_odd_sizes = true at the top of the file", id="drawer front in inches"),
    pytest.param("dado_depth = 60", "dado_depth: 60 is more than the most, 20 mm; did you mean 6?", id="deep dado"),
]  # fmt: skip


@pytest.mark.parametrize(("line", "words"), REFUSED)
def test_a_wrong_value_is_refused_with_its_place(line: str, words: str) -> None:
    assert faults(job_text(_cabinet("width = 600", line))) == [f'cabinet "B1", {words}']


def test_t05_toml_floats_that_are_no_numbers_are_both_told() -> None:
    assert faults(job_text(_cabinet("width = nan", "depth = -inf"))) == [
        'cabinet "B1", width: nan is not a length; write a number',
        'cabinet "B1", depth: -inf is not a length; write a number',
    ]


def test_t06_a_quantity_of_none_leaves_the_cabinet_out_and_says_so() -> None:
    job = read(job_text(_cabinet("width = 600", "qty = 0"), _cabinet("width = 500", name="B2")))
    assert [order.name for order in job.cabinets] == ["B2"]
    (note,) = job_findings(job)
    assert (note.severity, note.message) == ("note", 'cabinet "B1": qty is 0; left out')


MISSPELT = [
    pytest.param("[construction]\nshelf_pin_dai = 5", '[construction]: "shelf_pin_dai" is not a known key; '
                 "did you mean shelf_pin_diameter?", id="T07 setting"),
    pytest.param("[cutting]\ntab_lenght = 5", '[cutting]: "tab_lenght" is not a known key; did you mean tab_length?',
                 id="cutting"),
    pytest.param("[use]\n", "line 20: Cannot declare ('use',) twice at column 5; the file is not TOML there: "
                 "text needs quotes, and each line one key = value", id="a table twice"),
    pytest.param('[[clamp]]\nx=1\ny=1\nlength_x=9\nlength_y=9\nhight=9\nheight=9',
                 'clamp number 1: "hight" is not a known key; did you mean height?', id="clamp"),
    pytest.param("[[cabinett]]\nname = 'B2'", '"cabinett" is not a known key; did you mean cabinet?', id="table"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), MISSPELT)
def test_t07_a_misspelt_key_is_refused_with_the_nearest_one(text: str, words: str) -> None:
    assert faults(job_text(text, CABINET_MM)) == [words]


def test_t07_a_misspelt_key_of_a_cabinet_may_be_meant_for_a_setting() -> None:
    assert faults(job_text(_cabinet("width = 600", "shelf_pin_dai = 5", "widht = 3"))) == [
        'cabinet "B1": "shelf_pin_dai" is not a known key; did you mean shelf_pin_diameter?',
        'cabinet "B1": "widht" is not a known key; did you mean width?',
    ]


def test_t08_inches_in_a_job_in_millimetres_are_converted_and_echoed() -> None:
    job = read(job_text(_cabinet("width = 600", 'height = "34-1/2 in"', "depth = 590")))
    assert (job.cabinets[0].height_mm, job.cabinets[0].depth_mm) == (876.3, 590.0)
    assert job.echoes == ('cabinet "B1", height: 34-1/2 in = 34.5 in (34 1/2) = 876.3 mm',)


def test_t09_three_bad_widths_give_three_messages_in_one_run() -> None:
    bad = [_cabinet(f'width = "{text}"', name=name) for name, text in (("B1", "3/0"), ("B2", ""), ("B3", "wide"))]
    assert faults(job_text(*bad, units="in")) == [
        'cabinet "B1", width: "3/0" divides by zero; write the fraction again, such as 3/4',
        'cabinet "B2", width: the text is empty; write a number or text such as "18 mm" or "23 1/4 in"',
        'cabinet "B3", width: "wide" is not a length; write a number or text such as "18 mm" or "23 1/4 in"',
    ]


def test_t10_two_cabinets_of_one_name_are_refused() -> None:
    assert faults(job_text(CABINET_MM, CABINET_MM)) == [
        'cabinet "B1": has the same name as cabinet "B1"; give each a name of its own'
    ]


def test_t10_names_that_look_alike_on_a_label_are_refused_too() -> None:
    part = '[[part]]\nname = " b1"\nstock = "ply"\nlength = 300\nwidth = 200'
    assert faults(job_text(CABINET_MM, part)) == [
        'part " b1": has the same name as cabinet "B1"; give each a name of its own'
    ]


def test_t10_two_ways_to_write_an_accent_are_one_name() -> None:
    composed, apart = _cabinet("width = 600", name="Café"), _cabinet("width = 600", name="Cafe\u0301")
    (words,) = faults(job_text(composed, apart))
    assert words.endswith('has the same name as cabinet "Café"; give each a name of its own')


def test_t11_a_narrow_cabinet_is_read_so_that_its_arithmetic_can_be_shown() -> None:
    assert read(job_text(_cabinet("width = 1.3"), units="in")).cabinets[0].width_mm == pytest.approx(33.02)


T12 = _cabinet("height = 34.5", "width = 24", "depth = 23.25")


def test_t12_sizes_that_look_like_inches_need_a_flag_in_a_job_in_millimetres() -> None:
    cure = "or set accept_odd_sizes = true at the top of the file"
    assert faults(job_text(T12)) == [
        f'cabinet "B1", width: 24 mm is very small: inches meant?; write "24 in", {cure}',
        f'cabinet "B1", height: 34.5 mm is very small: inches meant?; write "34.5 in", {cure}',
        f'cabinet "B1", depth: 23.25 mm is very small: inches meant?; write "23.25 in", {cure}',
    ]


def test_t12_with_the_flag_the_job_goes_on_with_warnings() -> None:
    job = read(job_text(T12, top="accept_odd_sizes = true"))
    assert job.cabinets[0].height_mm == 34.5
    assert [item.message for item in job_findings(job)] == [
        'cabinet "B1", width: 24 mm is very small: inches meant?',
        'cabinet "B1", height: 34.5 mm is very small: inches meant?',
        'cabinet "B1", depth: 23.25 mm is very small: inches meant?',
    ]
    assert {item.severity for item in job_findings(job)} == {"warning"}


def test_t12_with_the_flag_small_settings_and_drawers_are_told_too() -> None:
    text = job_text(
        "[construction]\nkick_depth = 3", _cabinet("width = 600", "drawers = [6]"), top="accept_odd_sizes = true"
    )
    assert {item.message for item in job_findings(read(text))} == {
        "[construction], kick_depth: 3 mm is very small: inches meant?",
        'cabinet "B1", drawers, entry 1: 6 mm is very small: inches meant?',
    }


def test_t12_small_sizes_that_say_their_unit_are_meant() -> None:
    job = read(job_text(_cabinet('width = "24 in"', 'depth = "95 mm"')))
    assert (job.cabinets[0].width_mm, job.cabinets[0].depth_mm) == (609.6, 95.0)
    assert _codes(job) == []


def test_t14_a_thickness_not_measured_is_a_warning_and_the_nominal_one_is_used() -> None:
    job = read(job_text(stocks=STOCKS_MM.replace("thickness = 17.8\n", "")))
    assert job.stock("ply").thickness_mm == 18.0
    (warning,) = job_findings(job)
    assert (warning.severity, warning.code) == ("warning", "thickness-not-measured")
    assert warning.message == (
        'stock "ply": thickness not measured: the nominal 18 mm is used; measure a sheet and write thickness = ...'
    )


def test_t14_a_stock_that_nothing_is_cut_from_needs_no_measuring() -> None:
    spare = '[stock.spare]\nsheet = "mdf-18"\nblank = [600, 600]\n'
    assert _codes(read(job_text(stocks=spare + STOCKS_MM))) == []


def test_t38_a_job_with_no_parts_says_so() -> None:
    text = job_text(" ")
    assert faults(text) == ["the job has no cabinets and no parts; add a [[cabinet]] or a [[part]]"]


def test_t38_a_job_whose_quantities_are_all_none_says_so() -> None:
    assert faults(job_text(CABINET_MM + "qty = 0")) == [
        "every cabinet and part has qty 0, so nothing is left to make; set a qty of 1 or more"
    ]


def test_t39_the_same_text_gives_the_same_job() -> None:
    text = job_text(CABINET_MM, _cabinet('width = "23 1/4 in"', name="B2"))
    assert read(text) == read(text)
    assert repr(read(text)) == repr(read(text))


# What must agree


AGREEMENT = [
    pytest.param(('machine = "bench-4x4"', 'machine = "bench-4x5"'),
                 ['machine: "bench-4x5" is not in the machines table; did you mean bench-4x4?'], id="machine"),
    pytest.param(("cutters = [1, 5, 6]", "cutters = [1, 5, 5]"), ["cutters: 5 stands twice; name each cutter once"],
                 id="a cutter twice"),
    pytest.param(('sheet = "birch-18"', 'sheet = "brich-18"'),
                 ['stock "ply", sheet: "brich-18" is not in the sheet-goods table; did you mean birch-18?'],
                 id="sheet"),
    pytest.param(('back = "thin"', 'back = "thn"'), ['[use], back: there is no stock "thn"; did you mean thin?'],
                 id="stock in use"),
    pytest.param(('carcass = "ply"', ""), ["[use], carcass: is missing; name the stock for carcasses: ply, thin"],
                 id="no carcass stock"),
    pytest.param(("thickness = 17.8", "thickness = 0.703"),
                 ['stock "ply", thickness: 0.703 is far from the 18 mm of sheet "birch-18"; did you mean "0.703 in"?'],
                 id="thickness in the other unit"),
    pytest.param(("thickness = 17.8", "thickness = 5.8"),
                 ['stock "ply", thickness: 5.8 is far from the 18 mm of sheet "birch-18"; measure again, or name '
                  "another sheet"], id="thickness of another sheet"),
    pytest.param(("blank = [1220, 1220]", "blank = [1220, 1244.6]"),
                 ['stock "ply", blank: 1244.6 along y is 4.6 mm more than the bed of machine "bench-4x4" holds; '
                  "break the sheet down to 1240 mm or less"], id="an oversize half sheet on a 4 ft bed"),
    pytest.param(("blank = [1220, 1220]", "blank = [1220]"),
                 ['stock "ply", blank: a list has 1 entries; at least 2 are expected'], id="half a blank"),
    pytest.param(("blank = [1220, 1220]", "blank = [48, 1220]"),
                 ['stock "ply", blank, entry 1: 48 mm is very small: inches meant?; write "48 in", or set '
                  "accept_odd_sizes = true at the top of the file"], id="blank in inches"),
    pytest.param(("[stock.ply]", '[stock."../ply"]'),
                 ['stock "../ply": "../ply" has signs other than letters, digits, blank, hyphen, plus, underscore and '
                  "inner points; the name becomes part of file names",
                  '[use], carcass: there is no stock "ply"; did you mean ../ply?'], id="a stock's name is no path"),
    pytest.param(('units = "mm"', 'units = "cm"'), ['units: "cm" is not one of the choices; known: mm, in'],
                 id="units"),
    pytest.param(('post = "metric-plain"', ""), ["post: is missing; write `post = ...` (post-processor: a name from "
                  "`rabbetry post list`, or a folder beside the job)"], id="no post"),
    pytest.param(('name = "Test job"', 'name = "  "'), ["name: the name is empty; give a name that will do on a label"],
                 id="empty name"),
    pytest.param(('name = "Test job"', f'name = "{"x" * 61}"'),
                 [f'name: "{"x" * 37}..." has 61 signs, more than the 60 allowed; shorten it'], id="long name"),
    pytest.param(('name = "Test job"', 'name = "a\\u0007b"'),
                 ['name: "a?b" has signs that cannot be printed; remove line breaks and control signs'], id="bell"),
    pytest.param(('name = "Test job"', 'name = "a\\u202eb"'),
                 ['name: "a?b" has signs that cannot be printed; remove line breaks and control signs'],
                 id="sign that turns the writing round"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "words"), AGREEMENT)
def test_what_does_not_agree_is_refused_with_a_cure(change: tuple[str, str], words: list[str]) -> None:
    assert faults(job_text().replace(*change, 1)) == words


CLAMP = '[[clamp]]\nname = "left"\nx = 0\ny = 0\nlength_x = 50\nlength_y = 50\nheight = '


def test_a_clamp_that_the_machine_cannot_lift_over_is_refused() -> None:
    """Travel 110 above the spoilboard, less 18 of stock and 5 of margin, leaves 87."""
    assert read(job_text(CABINET_MM, CLAMP + "87")).shop.machine.lift_mm == 92
    assert faults(job_text(CABINET_MM, CLAMP + "87.5")) == [
        'clamp "left", height: 87.5 is more than the 87 mm that machine "bench-4x4" can lift over; use a lower clamp'
    ]


def test_an_unknown_cutter_is_answered_with_those_there_are() -> None:
    (words,) = faults(job_text().replace("[1, 5, 6]", "[1, 77]"))
    assert words.startswith("cutters: there is no cutter 77; known: 1 (1/4 in up-cut end mill), 2 (")


def test_a_profile_cutter_must_be_at_hand() -> None:
    assert faults(job_text("[cutting]\nprofile_cutter = 3", CABINET_MM)) == [
        "[cutting], profile_cutter: cutter 3 is not among cutters; add it there, or take another"
    ]


def test_a_cutter_of_the_jobs_own_is_known() -> None:
    own = (
        '[[cutter]]\nnumber = 60\nname = "4 mm end mill"\nkind = "end mill"\ndiameter = 4\nflutes = 2\n'
        "flute_length = 15"
    )
    job = read(job_text(CABINET_MM, own).replace("[1, 5, 6]", "[60, 1]"))
    assert [cutter.number for cutter in job.shop.cutters] == [1, 60]


def test_faults_of_every_kind_come_in_one_run() -> None:
    text = job_text(
        _cabinet("width = 6000", "widht = 3"),
        _cabinet("qty = -1", name="b1", kind="bas"),
        '[[part]]\nname = "P"\nstock = "nope"\nlength = 300\nwidth = 200\ngrain = 5',
    ).replace("bench-4x4", "bench-5x5")
    assert faults(text) == [
        'part "P", grain: 5 is not one of the choices; known: along, across, free',
        'cabinet "B1", width: 6000 is more than the most, 2400 mm; did you mean 600?',
        'cabinet "B1": "widht" is not a known key; did you mean width?',
        'cabinet "b1", kind: "bas" is not one of the choices; did you mean base?',
        'cabinet "b1", qty: -1 is less than 0',
        'cabinet "b1", width: is missing; write `width = ...` (outside width)',
        'machine: "bench-5x5" is not in the machines table; did you mean bench-4x4?',
        'part "P", stock: there is no stock "nope"; known: ply, thin',
        'cabinet "b1": has the same name as cabinet "B1"; give each a name of its own',
    ]


def test_tables_of_the_wrong_kind_are_told_and_nothing_breaks() -> None:
    text = 'stock = 3\ncabinet = "x"\npart = [1]\nuse = []\nconstruction = 1\ncutters = 3\nname = 3\nmachine = [1]\n'
    assert faults(text + 'units = "mm"\npost = 1\nclamp = { x = 1 }\ntables = 2') == [
        "name: 3 is not text in quotes",
        "machine: a list is not text in quotes",
        "post: 1 is not text in quotes",
        "cutters: 3 is not a list in brackets",
        "tables: 2 is not text in quotes",
        "[clamp]: a table is not a list in brackets",
        "stock: 3 is not a table",
        "use: a list is not a table",
        "part number 1: 1 is not a table",
        "construction: 1 is not a table",
        'cabinet: "x" is not a list in brackets',
    ]


# Text that is no job


def test_text_that_is_not_toml_is_one_fault_with_its_line() -> None:
    assert faults('name = "x"\nunits = mm\n') == [
        "line 2: Invalid value at column 9; the file is not TOML there: "
        "text needs quotes, and each line one key = value"
    ]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        pytest.param("a = " + "[" * 100_000, "lists or tables are nested too deeply; is it the right file?", id="deep"),
        pytest.param(
            "x" * 1_000_001, "1000001 signs are more than the 1000000 allowed; is it the right file?", id="big"
        ),
        pytest.param("a = " + "9" * 5000, "Exceeds the limit", id="a number of five thousand digits"),
    ],
)
def test_text_made_to_break_a_reader_is_one_fault(text: str, words: str) -> None:
    (fault,) = faults(text)
    assert words in fault


def test_a_byte_mark_and_windows_line_ends_do_not_matter() -> None:
    text = job_text()
    assert read("\ufeff" + text.replace("\n", "\r\n")) == read(text)


def test_more_cabinets_than_a_job_may_have_are_refused() -> None:
    many = [_cabinet("width = 600", name=f"B{number}") for number in range(501)]
    assert faults(job_text(*many)) == ["cabinet: a list has 501 entries; at most 500 are expected"]


HEAVY = [
    pytest.param("\n".join(f"k{number} = 1" for number in range(50_000)), id="unknown keys"),
    pytest.param("\n".join(f'[stock.s{number}]\nsheet = "x"' for number in range(20_000)), id="stocks"),
    pytest.param('[[cabinet]]\nname = "B"\nstocks = { back = "z" }\n' * 15_000, id="cabinets of one name"),
    pytest.param("cutters = [" + "1, " * 300_000 + "]", id="cutters"),
    pytest.param(f'name = "{"x" * 900_000}"', id="a name"),
    pytest.param(f'[stock."{"x" * 900_000}"]\nsheet = "{"y" * 50_000}"', id="a stock's name"),
]


@pytest.mark.parametrize("text", HEAVY)
def test_a_file_full_of_nonsense_is_refused_quickly(text: str) -> None:
    began = time.process_time()
    told = faults(text)
    assert time.process_time() - began < 15.0
    assert told
    assert max(map(len, told)) < 1000


def test_more_copies_than_a_job_may_have_are_refused() -> None:
    many = [_cabinet("width = 600", "qty = 200", name=f"B{number}") for number in range(11)]
    assert faults(job_text(*many)) == ["2200 cabinets and parts are more than the 2000 one job may have; split the job"]


def test_a_job_without_stocks_says_how_to_begin_one() -> None:
    assert faults(job_text(stocks="")) == ["stock: is missing; begin one with [stock.NAME]"]


@settings(max_examples=60, deadline=None)
@given(at=st.integers(0, 700), width=st.integers(0, 3), sign=st.sampled_from(["", '"', "[", "=", "\n", "0", ".", "\0"]))
def test_a_job_with_a_slip_of_the_keyboard_gives_a_job_or_faults(at: int, width: int, sign: str) -> None:
    text = job_text()
    text = text[:at] + sign + text[at + width :]
    try:
        told: tuple[object, ...] = read_job(text, file="job.toml", tables=TABLES).cabinets
    except InputError as error:
        told = error.faults
    assert told


@settings(max_examples=60, deadline=None)
@given(
    key=st.sampled_from(["width", "qty", "kind", "drawers", "stocks", "name", "back", "dado_depth", "machine"]),
    value=st.sampled_from(
        [
            "0",
            "-1",
            "1e400",
            "nan",
            "true",
            '""',
            '"x"',
            "[]",
            "[[]]",
            "{}",
            "{a = 1}",
            "1979-05-27",
            '"\\u0000"',
            "[nan]",
        ]
    ),
)
def test_any_value_anywhere_gives_a_job_or_faults(key: str, value: str) -> None:
    cabinet = {"name": '"B1"', "kind": '"base"', "width": "600"} | {key: value}
    text = job_text("[[cabinet]]\n" + "\n".join(f"{name} = {item}" for name, item in cabinet.items()))
    try:
        told: tuple[object, ...] = read_job(text, file="job.toml", tables=TABLES).cabinets
    except InputError as error:
        told = error.faults
    assert told


# Findings on stocks


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


@pytest.mark.parametrize(("blank", "along", "codes"), BLANKS)
def test_a_blank_that_no_sheet_gives_is_a_warning(blank: str, along: str, codes: list[str]) -> None:
    stocks = STOCKS_MM.replace("blank = [1220, 1220]", f'blank = {blank}\ngrain_along = "{along}"', 1)
    assert _codes(read(job_text(stocks=stocks))) == codes


def test_an_inch_job_shows_its_findings_in_inches() -> None:
    text = job_text(CABINET_IN, units="in").replace("thickness = 0.703\n", "")
    (warning,) = job_findings(read(text))
    assert "the nominal 0.75 in (3/4) is used" in warning.message
