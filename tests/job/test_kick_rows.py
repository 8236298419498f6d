"""Toe kicks and vents in a job file: what is read, and what is refused with its place."""

import pytest
from job_text import TABLES, cabinet_text, codes, faults, job_text, read

from rabbetry.errors import InputError
from rabbetry.job.model import Job, KickStyle
from rabbetry.job.read import floor_files_named, read_job

RUN = "\n".join(
    [
        cabinet_text("width = 600", name="B1"),
        cabinet_text("width = 500", name="B2"),
        cabinet_text("width = 400", name="W1", kind="wall"),
    ]
)


def kick(*lines: str, name: str = "K") -> str:
    return "\n".join(["[[kick]]", f'name = "{name}"', *lines])


def _read_with(floor: str, *lines: str) -> Job:
    text = job_text(RUN, kick('covers = ["B1", "B2"]', 'measurements = "floor.csv"', *lines))
    assert floor_files_named(text, file="job.toml") == ("floor.csv",)
    return read_job(text, file="job.toml", tables=TABLES, floors={"floor.csv": floor})


def _floor_faults(floor: str, *lines: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        _read_with(floor, *lines)
    return [str(fault) for fault in caught.value.faults]


def test_one_piece_with_its_own_length_and_two_heights() -> None:
    job = read(job_text(kick("length = 24", 'heights = ["4-1/8", "3 11/16"]'), units="in"))
    (order,) = job.kicks
    assert order.style is KickStyle.BOARD
    assert order.length_mm == pytest.approx(609.6)
    assert order.floor == ((0.0, pytest.approx(104.775)), (pytest.approx(609.6), pytest.approx(93.6625)))
    assert order.stock == "ply"
    assert codes(job) == []
    assert 'kick "K", heights, entry 1, entry 1: 4-1/8 = 4.125 in (4 1/8) = 104.775 mm' in job.echoes


def test_heights_of_a_run_meet_at_the_mean_and_a_level_line_is_taken_off() -> None:
    lines = ('covers = ["B1", "B2"]', "heights = [[310, 304], [302, 300]]", "level_line = 200", "drop = 3")
    (order,) = read(job_text(RUN, kick(*lines))).kicks
    assert order.floor == ((0.0, 110.0), (600.0, 103.0), (1100.0, 100.0))
    assert [(span.left_mm, span.right_mm) for span in order.spans] == [(110.0, 104.0), (102.0, 100.0)]
    assert order.drop_mm == 3.0


def test_points_are_carried_on_to_the_ends() -> None:
    lines = ('covers = ["B1", "B2"]', "points = [[50, 105], [550, 100], [1050, 110]]")
    (order,) = read(job_text(RUN, kick(*lines))).kicks
    assert order.floor == ((0.0, 105.5), (50.0, 105.0), (550.0, 100.0), (1050.0, 110.0), (1100.0, 111.0))


def test_setback_follows_the_toe_kick_s_depth() -> None:
    text = job_text(
        RUN, kick('covers = ["B1"]', "heights = [100, 100]"), kick("length = 500", "heights = [100, 100]", name="L")
    )
    covered, own = read(text).kicks
    assert covered.setback_mm == pytest.approx(75 - 17.8)
    assert own.setback_mm == 0.0


def test_a_run_goes_under_fillers_too() -> None:
    filler = '[[filler]]\nname = "F"\nbeside = "B2"\nwidth = 50'
    lines = ('covers = ["B1", "B2", "F"]', "heights = [[110, 104], [104, 100], [100, 99]]")
    (order,) = read(job_text(RUN, filler, kick(*lines))).kicks
    assert order.floor[-2:] == ((1100.0, 100.0), (1150.0, 99.0))
    assert [span.kick_height_mm for span in order.spans] == [100.0, 100.0, 0.0]


def test_copies_of_an_order_are_covered_by_their_own_names() -> None:
    pair = cabinet_text("width = 600", "qty = 2", name="B1")
    text = job_text(pair, kick('covers = ["B1", "B1-2"]', "heights = [[100, 101], [101, 102]]"))
    assert [span.cabinet for span in read(text).kicks[0].spans] == ["B1", "B1-2"]


REFUSED = [
    pytest.param(['covers = ["B1"]'], ['kick "K": neither heights nor points nor measurements is given; '
                 "give one of heights, points, measurements"], id="no heights"),
    pytest.param(['covers = ["B1"]', "length = 300", "heights = [100, 100]"],
                 ['kick "K": covers and length are given; give one of covers, length'], id="two lengths"),
    pytest.param(['covers = ["B1", "B3"]', "heights = [[100, 100], [100, 100]]"],
                 ['kick "K", covers: there is no cabinet, filler or ladder base "B3"; known: B1, B2, W1'],
                 id="no such cabinet"),
    pytest.param(['covers = ["B1", "B1"]', "heights = [[100, 100], [100, 100]]"],
                 ['kick "K", covers: "B1" stands twice; name each once, from left to right'],
                 id="cabinet twice"),
    pytest.param(['covers = ["W1"]', "heights = [100, 100]"],
                 ['kick "K", covers: "W1" is of kind wall, which has no toe kick; name cabinets that have one'],
                 id="wall cabinet"),
    pytest.param(['covers = ["B1", "B2"]', "heights = [[100, 100]]"],
                 ['kick "K", heights: 1 pair of heights; 2 expected, [left, right] for each cabinet'],
                 id="a pair too few"),
    pytest.param(['covers = ["B1"]', "heights = [-90, 100]"],
                 ['kick "K", heights: -90 is not more than 0'], id="negative height"),
    pytest.param(['covers = ["B1"]', "heights = [3.5, 4]"],
                 ['kick "K", heights: 3.5 mm is very small: inches meant?; write "3.5 in", or set '
                  "accept_odd_sizes = true at the top of the file"], id="inches in a job in millimetres"),
    pytest.param(['covers = ["B1"]', "heights = [100, 60]", "drop = 50"],
                 ['kick "K", heights, entry 1, right: 60 mm less a drop of 50 mm leaves 10 mm; 70 mm or more is '
                  'expected'],
                 id="nothing left above the drop"),
    pytest.param(['covers = ["B1"]', "heights = [190, 330]", "level_line = 200"],
                 ['kick "K", heights, entry 1, left: 190 mm less a level line 200 mm up and a drop of 0 mm leaves '
                  "-10 mm; 220 mm or more is expected"], id="above the level line"),
    pytest.param(['covers = ["B1"]', "heights = [100, 1300]"],
                 ['kick "K", heights, entry 1, right: 1300 mm less a drop of 0 mm is 1300 mm high; a blank of stock '
                  '"ply" '
                  "has room for 1200 mm"], id="higher than the blank"),
    pytest.param(['covers = ["B1"]', "points = [[0, 100], [300, 100], [200, 90], [600, 90]]"],
                 ['kick "K", points, entry 3: x 200 mm is not more than the 300 mm before it; list the points from '
                  'left '
                  "to right"], id="points out of order"),
    pytest.param(['covers = ["B1"]', "points = [[0, 100], [300, 100]]"],
                 ['kick "K", points: x 300 mm is 300 mm short of the right end; the run is 600 mm long: measure at '
                  'both '
                  "ends"], id="points end early"),
    pytest.param(['covers = ["B1"]', "points = [[0, 100], [700, 100]]"],
                 ['kick "K", points: x 700 mm is 100 mm past the right end; the run is 600 mm long: measure at both '
                  'ends'],
                 id="points past the end"),
    pytest.param(['covers = ["B1"]', "heights = [100, 100]", "foot = 60"],
                 ['kick "K", foot: a board has no feet; leave foot out, or set style = "valance"'],
                 id="a foot on a board"),
    pytest.param(['covers = ["B1"]', 'style = "valance"', "heights = [100, 100]", "rise = 40", "apron = 50"],
                 ['kick "K", rise: rise and apron are both given; give one of them'], id="rise and apron"),
    pytest.param(['covers = ["B1"]', "heights = [100, 100]", "setback = 580"],
                 ['kick "K", setback: 580 mm is not less than the 580 mm of depth; measure from the cabinets\' '
                  'front to '
                  "the kick's face"], id="set back through the box"),
    pytest.param(['covers = ["B1"]', "heights = [100, 100]", 'stock = "oak"'],
                 ['kick "K", stock: there is no stock "oak"; known: ply, thin'], id="no such stock"),
    pytest.param(['covers = ["B1"]', "heights = [100, 100]", "hights = 1"],
                 ['kick "K": "hights" is not a known key; did you mean heights?'], id="a slip of the pen"),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "words"), REFUSED)
def test_an_impossible_kick_is_refused_with_its_place(lines: list[str], words: list[str]) -> None:
    assert faults(job_text(RUN, kick(*lines))) == words


def test_a_kick_has_a_name_of_its_own() -> None:
    text = job_text(RUN, kick('covers = ["B1"]', "heights = [100, 100]", name="b1"))
    assert faults(text) == ['kick "b1": has the same name as cabinet "B1"; give each a name of its own']


def test_a_file_gives_the_heights_by_cabinet() -> None:
    (order,) = _read_with("cabinet,left,right\nB2,102,100 mm\n\nB1,110,104\n").kicks
    assert order.floor == ((0.0, 110.0), (600.0, 103.0), (1100.0, 100.0))


def test_a_file_gives_the_heights_by_place_and_may_have_semicolons() -> None:
    (order,) = _read_with('x;height\n0;110\n"40 in";"4 1/8 in"\n1100;100\n').kicks
    assert order.floor == ((0.0, 110.0), (1016.0, pytest.approx(104.775)), (1100.0, 100.0))


BAD_LINES = [
    pytest.param("", ["floor.csv: line 1: the file is empty; begin with a line cabinet,left,right or x,height"],
                 id="empty"),
    pytest.param("cab,l,r\nB1,1,2\n", ['floor.csv: line 1: the columns are "cab, l, r"; begin with a line '
                 "cabinet,left,right or x,height"], id="other columns"),
    pytest.param("cabinet,left,right\n", ["floor.csv: no measurements stand below the columns' names",
                 ], id="header alone"),
    pytest.param("cabinet,left,right\nB1,110,104\nB2,102\n",
                 ['floor.csv: line 3: "B2, 102" has not 3 values; each line has cabinet, left, right; a decimal '
                  'comma is '
                  "not read"], id="a value missing"),
    pytest.param("cabinet,left,right\nB1,110,104\nB9,102,100\nB2,0,1o1\n",
                 ['floor.csv: line 3: the job has no cabinet, filler or ladder base "B9"; known: B1, B2, W1',
                  "floor.csv: line 4, left: 0 is not more than 0",
                  'floor.csv: line 4, right: "1o1" has more than one number; write one number, or a mixed one such as '
                  '"23 1/4"'], id="a wrong name and wrong values"),
    pytest.param("cabinet,left,right\nB1,110,104\nB1,110,104\nB2,100,100\n",
                 ['floor.csv: line 3: "B1" stands already in line 2; keep one of them'], id="twice"),
    pytest.param("cabinet,left,right\nB1,4.5,4.25\nB2,100,100\n",
                 ['floor.csv: line 2, left: 4.5 mm is very small: inches meant?; write "4.5 in", or set '
                  "accept_odd_sizes = true at the top of the file",
                  'floor.csv: line 2, right: 4.25 mm is very small: inches meant?; write "4.25 in", or set '
                  "accept_odd_sizes = true at the top of the file"], id="inches"),
    pytest.param("x,height\n0,100\n500,100\n400,100\n1100,100\n",
                 ["floor.csv: line 4: x 400 is not more than the 500 before it; list the points from left to right"],
                 id="places out of order"),
    pytest.param("cabinet,left,right\nB1,110,104\n",
                 ['job.toml: kick "K", measurements: "floor.csv" has no line for "B2"; measure there and add a line'],
                 id="a cabinet not measured"),
    pytest.param("cabinet,left,right\nB1,110,104\nB2,100,2\"\n",
                 ['job.toml: kick "K", measurements, "B2", right: 50.8 mm less a drop of 40 mm leaves 10.8 mm; 60 '
                  'mm or '
                  "more is expected"], id="too low for the drop"),
]  # fmt: skip


@pytest.mark.parametrize(("floor", "words"), BAD_LINES)
def test_a_bad_line_of_the_file_is_named(floor: str, words: list[str]) -> None:
    assert _floor_faults(floor, *(["drop = 40"] if '2"' in floor else [])) == words


def vent(*lines: str) -> str:
    return "\n".join(["[[vent]]", 'panel = "B1 back"', *lines])


def test_a_vent_is_read_with_its_free_area() -> None:
    (order,) = read(job_text(RUN, vent('free_area = "150 cm2"', "length = 60", "width = 10"))).vents
    assert (order.free_area_mm2, order.slots, order.spacing_mm, order.up) == (15000.0, None, 20.0, True)


BAD_VENTS = [
    pytest.param(["length = 60", "width = 10"], 'vent "B1 back": slots and free_area are both missing; give one of '
                  'them',
                 id="no number"),
    pytest.param(["slots = 4", "length = 10", "width = 10"],
                 'vent "B1 back", length: 10 is not more than the width 10; slots are long holes', id="round"),
    pytest.param(["slots = 4", "length = 60", "width = 10", "spacing = 14"],
                 'vent "B1 back", spacing: the slots would have 4 mm of wood between them; 16 mm or more from '
                 'middle to '
                 "middle is expected", id="web too thin"),
    pytest.param(['free_area = "20 m2"', "length = 60", "width = 10"],
                 'vent "B1 back", free_area: "20 m2" is not an area above 0; write a number, or text such as "200 '
                 'cm2" or '
                 '"31 in2"', id="unit of area"),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "words"), BAD_VENTS)
def test_a_vent_that_cannot_be_is_refused(lines: list[str], words: str) -> None:
    assert faults(job_text(RUN, vent(*lines))) == [words]
