"""The job file: what its parts must agree on."""

import pytest
from job_text import CABINET_MM, TABLES, cabinet_text, faults, job_text, read

from rabbetry.job.read import read_job

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
    pytest.param(("blank = [1220, 1220]", "blank = [1220, 600]\ntrim = 300"),
                 ['stock "ply", trim: 300 along both edges leaves nothing of 600 mm; less than 300 mm is expected'],
                 id="a trim that takes the whole blank"),
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
        cabinet_text("width = 6000", "widht = 3"),
        cabinet_text("qty = -1", name="b1", kind="bas"),
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
        "[clamp]: a table is not a list in brackets; write a list of tables with [[two brackets]], one for each",
        "stock: 3 is not a table",
        "use: a list is not a table; write a table with [single brackets]",
        "part number 1: 1 is not a table",
        "construction: 1 is not a table",
        'cabinet: "x" is not a list in brackets',
    ]


@pytest.mark.parametrize("number", ["{ a = 1 }", "[1]", '"one"', "1.5"])
def test_a_cutter_row_whose_number_is_none_is_left_to_the_tables_and_stops_nothing_else(number: str) -> None:
    text = job_text() + f"\n[[cutter]]\nnumber = {number}\n"
    assert [cutter.number for cutter in read_job(text, file="job.toml", tables=TABLES).shop.cutters] == [1, 5, 6]
