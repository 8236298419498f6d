"""The job file: mistakes that people make, with the sentence the woodworker sees."""

from dataclasses import replace

import pytest
from job_text import CABINET_MM, STOCKS_MM, cabinet_text, codes, faults, job_text, read

from rabbetry.job.findings import job_findings

SPELLINGS = ['"23-1/4"', '"23 1/4"', "23.25", "'23 1/4\"'", '"590.55 mm"']


def test_t01_five_spellings_of_a_width_make_one_job() -> None:
    jobs = [read(job_text(cabinet_text(f"width = {spelling}"), units="in")) for spelling in SPELLINGS]
    assert jobs[0].cabinets[0].width_mm == 590.55
    assert len({replace(job, echoes=()) for job in jobs}) == 1


def test_t02_mixed_and_improper_fractions_are_read_and_echoed_and_the_improper_one_is_noted() -> None:
    mixed = read(job_text(cabinet_text('width = "13 1/4"'), units="in"))
    improper = read(job_text(cabinet_text('width = "53/4"'), units="in"))
    assert (mixed.cabinets[0].width_mm, improper.cabinets[0].width_mm) == (336.55, 336.55)
    assert mixed.echoes == ('cabinet "B1", width: 13 1/4 = 13.25 in (13 1/4) = 336.55 mm',)
    assert improper.echoes == ('cabinet "B1", width: 53/4 = 13.25 in (13 1/4) = 336.55 mm',)
    assert codes(mixed) == []
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
    pytest.param(
        'back = "yes"',
        'back: "yes" is not one of the choices; known: rabbet, groove, applied, none (or true, false)',
        id="yes is text",
    ),
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
    assert faults(job_text(cabinet_text("width = 600", line))) == [f'cabinet "B1", {words}']


def test_t05_toml_floats_that_are_no_numbers_are_both_told() -> None:
    assert faults(job_text(cabinet_text("width = nan", "depth = -inf"))) == [
        'cabinet "B1", width: nan is not a length; write a number',
        'cabinet "B1", depth: -inf is not a length; write a number',
    ]


def test_t06_a_quantity_of_none_leaves_the_cabinet_out_and_says_so() -> None:
    job = read(job_text(cabinet_text("width = 600", "qty = 0"), cabinet_text("width = 500", name="B2")))
    assert [order.name for order in job.cabinets] == ["B2"]
    (note,) = job_findings(job)
    assert (note.severity, note.message) == ("note", 'cabinet "B1": qty is 0; left out')


MISSPELT = [
    pytest.param("[construction]\nshelf_pin_dai = 5", '[construction]: "shelf_pin_dai" is not a known key; '
                 "did you mean shelf_pin_diameter?", id="T07 setting"),
    pytest.param("[cutting]\ntab_lenght = 5", '[cutting]: "tab_lenght" is not a known key; did you mean tab_length?',
                 id="cutting"),
    pytest.param("[use]\n", "line 20: the table [use] stands twice; put the keys of both into one", id="a table twice"),
    pytest.param('[cutting]\nweb = 3\nweb = 4', "line 22: a key stands twice in its table; keep one of the two",
                 id="a key twice"),
    pytest.param("[cutting]\nweb = " + "9" * 5000, "a number has thousands of digits; check what was pasted there",
                 id="a number too long to be read"),
    pytest.param("[[cutting]]\nweb = 3", "cutting: a list is not a table; write a table with [single brackets]",
                 id="a list for a table"),
    pytest.param("[clamp]\nx = 3", "[clamp]: a table is not a list in brackets; write a list of tables with "
                 "[[two brackets]], one for each", id="a table for a list"),
    pytest.param('[[clamp]]\nx=1\ny=1\nlength_x=9\nlength_y=9\nhight=9\nheight=9',
                 'clamp number 1: "hight" is not a known key; did you mean height?', id="clamp"),
    pytest.param("[[cabinett]]\nname = 'B2'", '"cabinett" is not a known key; did you mean cabinet?', id="table"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words"), MISSPELT)
def test_t07_a_misspelt_key_is_refused_with_the_nearest_one(text: str, words: str) -> None:
    assert faults(job_text(text, CABINET_MM)) == [words]


def test_t07_a_misspelt_key_of_a_cabinet_may_be_meant_for_a_setting() -> None:
    assert faults(job_text(cabinet_text("width = 600", "shelf_pin_dai = 5", "widht = 3"))) == [
        'cabinet "B1": "shelf_pin_dai" is not a known key; did you mean shelf_pin_diameter?',
        'cabinet "B1": "widht" is not a known key; did you mean width?',
    ]


def test_t08_inches_in_a_job_in_millimetres_are_converted_and_echoed() -> None:
    job = read(job_text(cabinet_text("width = 600", 'height = "34-1/2 in"', "depth = 590")))
    assert (job.cabinets[0].height_mm, job.cabinets[0].depth_mm) == (876.3, 590.0)
    assert job.echoes == ('cabinet "B1", height: 34-1/2 in = 34.5 in (34 1/2) = 876.3 mm',)


def test_t09_three_bad_widths_give_three_messages_in_one_run() -> None:
    bad = [cabinet_text(f'width = "{text}"', name=name) for name, text in (("B1", "3/0"), ("B2", ""), ("B3", "wide"))]
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
    composed, apart = cabinet_text("width = 600", name="Café"), cabinet_text("width = 600", name="Cafe\u0301")
    (words,) = faults(job_text(composed, apart))
    assert words.endswith('has the same name as cabinet "Café"; give each a name of its own')


def test_t11_a_narrow_cabinet_is_read_so_that_its_arithmetic_can_be_shown() -> None:
    assert read(job_text(cabinet_text("width = 1.3"), units="in")).cabinets[0].width_mm == pytest.approx(33.02)


T12 = cabinet_text("height = 34.5", "width = 24", "depth = 23.25")


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
        "[construction]\nkick_depth = 3", cabinet_text("width = 600", "drawers = [6]"), top="accept_odd_sizes = true"
    )
    assert {item.message for item in job_findings(read(text))} == {
        "[construction], kick_depth: 3 mm is very small: inches meant?",
        'cabinet "B1", drawers, entry 1: 6 mm is very small: inches meant?',
    }


def test_t12_small_sizes_that_say_their_unit_are_meant() -> None:
    job = read(job_text(cabinet_text('width = "24 in"', 'depth = "95 mm"')))
    assert (job.cabinets[0].width_mm, job.cabinets[0].depth_mm) == (609.6, 95.0)
    assert codes(job) == []


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
    assert codes(read(job_text(stocks=spare + STOCKS_MM))) == []


def test_t38_a_job_with_no_parts_says_so() -> None:
    text = job_text(" ")
    assert faults(text) == ["the job has no cabinets and no parts; add a [[cabinet]] or a [[part]]"]


def test_t38_a_job_whose_quantities_are_all_none_says_so() -> None:
    assert faults(job_text(CABINET_MM + "qty = 0")) == [
        "every cabinet and part has qty 0, so nothing is left to make; set a qty of 1 or more"
    ]


def test_t39_the_same_text_gives_the_same_job() -> None:
    text = job_text(CABINET_MM, cabinet_text('width = "23 1/4 in"', name="B2"))
    assert read(text) == read(text)
    assert repr(read(text)) == repr(read(text))
