"""Where things stand along a wall, and what is said when they do not add up; sums by hand."""

import pytest
from test_trim import HEAD, compiled, run_of

from rabbetry.explaining import explain
from rabbetry.files import load_tables
from rabbetry.findings import Finding
from rabbetry.pipeline import load_job

BOXES = """
[[cabinet]]
name = "N1"
kind = "base"
width = 500
[[cabinet]]
name = "N2"
kind = "base"
width = 600
qty = 2
[[cabinet]]
name = "W1"
kind = "wall"
width = 800
[[cabinet]]
name = "T1"
kind = "tall"
width = 500
height = 1190
"""

CORNER = """
[[corner]]
name = "K"
left_width = 900
right_width = 950
left_depth = 560
right_depth = 580
[[cabinet]]
name = "N1"
kind = "base"
width = 500
[[cabinet]]
name = "N2"
kind = "base"
width = 600
[[run]]
name = "Sea wall"
length = 1450
left = "corner"
items = [{ corner = "K" }, "N1"]
[[run]]
name = "Stair wall"
length = 1500
items = ["N2", { corner = "K" }]
"""

LADDER = """
[[cabinet]]
name = "N1"
kind = "drawers"
width = 500
height = 776
kick_height = 0
[[cabinet]]
name = "N2"
kind = "base"
width = 600
height = 776
kick_height = 0
[[ladder_base]]
name = "plinth"
length = LENGTH
depth = 505
height = 100
[[run]]
name = "Net bench"
length = 1650
right = "open"
items = [{ gap = 50 }, { cabinet = "N1", on = "plinth" }, { cabinet = "N2", on = "plinth" }, { gap = "fill" }]
"""


def said(text: str, *codes: str) -> list[str]:
    found: tuple[Finding, ...] = compiled(text).findings
    return [item.message for item in found if item.code in (codes or ("run-sum",))]


def wall(items: str, *, length: float = 2000, more: str = "") -> str:
    return f'{BOXES}\n[[run]]\nname = "Sea wall"\nlength = {length}\nitems = [{items}]\n{more}'


def test_things_stand_side_by_side_and_copies_in_their_order() -> None:
    run = run_of(wall('{ filler = 30 }, "N2", { appliance = "stove", width = 600 }, "N2", { gap = 170 }'))
    placed = [(item.name, item.x_mm, item.width_mm) for item in run.items]
    assert placed == [("filler", 0, 30), ("N2", 30, 600), ("stove", 630, 600), ("N2-2", 1230, 600), ("gap", 1830, 170)]


def test_a_run_that_is_short_says_by_how_much_and_what_filler_would_do() -> None:
    """500 + 600 = 1100; 1150 - 1100 = 50."""
    assert said(wall('"N1", "N2"', length=1150)) == [
        'run "Sea wall", items: N1 500 mm + N2 600 mm = 1100 mm, 50 mm less than the wall of 1150 mm; add a filler of '
        '50 mm, or { filler = "fill" }'
    ]


def test_a_run_that_is_too_long_says_by_how_much() -> None:
    assert said(wall('"N1", "N2"', length=1090)) == [
        'run "Sea wall", items: N1 500 mm + N2 600 mm = 1100 mm, 10 mm more than the wall of 1090 mm'
    ]


def test_what_fills_takes_the_rest_and_refuses_less_than_nothing() -> None:
    assert said(wall('"N1", { filler = "fill" }, "N2"', length=1140)) == []
    run = run_of(wall('"N1", { filler = "fill" }, "N2"', length=1140))
    assert [item.width_mm for item in run.items] == [500, 40, 600]
    assert said(wall('"N1", { filler = "fill" }, "N2"', length=1090)) == [
        'run "Sea wall", items: N1 500 mm + N2 600 mm = 1100 mm, 10 mm more than the wall of 1090 mm; nothing is left '
        "for the filler"
    ]


def test_a_wall_cabinet_over_a_tall_one_would_fill_its_place() -> None:
    """T1 reaches 1190; W1 hung at 1100 overlaps it by 90 over 500 - 0."""
    more = 'upper = [{ cabinet = "W1", bottom = 1100 }, { gap = "fill" }]\n'
    assert said(wall('"T1", "N1", { gap = "fill" }', more=more), "run-overlap") == [
        'run "Sea wall": T1 and W1 would both fill a place 500 mm wide and 90 mm high'
    ]


END = """
[[panel]]
name = "end"
covers = ["N1"]
side = "right"
"""


@pytest.mark.parametrize(
    ("items", "more", "expected"),
    [
        ('"N1", { gap = 17.8 }, "N2"', "", []),
        (
            '"N1", "N2", { gap = 17.8 }',
            "",
            ['run "Sea wall": end and N2 would both fill a place 17.8 mm wide and 876 mm high'],
        ),
        ('{ gap = 617.8 }, "N1"', 'right = "open"', []),
        (
            '{ gap = 617.8 }, "N1"',
            "",
            ['run "Sea wall": end would reach 17.8 mm into what ends the wall; leave a gap for it'],
        ),
    ],
)
def test_an_end_panel_needs_a_gap_as_wide_as_it_is_thick(items: str, more: str, expected: list[str]) -> None:
    """500 + 600 + 17.8 = 1117.8."""
    assert said(wall(items, length=1117.8, more=more) + END, "run-overlap", "run-sum") == expected


def test_a_run_higher_than_its_room_is_refused() -> None:
    """1372 + 720 = 2092."""
    more = 'upper = ["W1", { gap = "fill" }]\nroom_height = HIGH\n'
    assert said(wall('"N1", { gap = "fill" }', more=more.replace("HIGH", "2092")), "run-too-high") == []
    (message,) = said(wall('"N1", { gap = "fill" }', more=more.replace("HIGH", "2090")), "run-too-high")
    assert "W1 would reach 2092 mm (1372 mm + 720 mm); the room is 2090 mm high" in message


def test_a_corner_takes_its_two_legs_from_two_runs() -> None:
    """Right leg 950 at the sea wall's left end, left leg 900 at the stair wall's right end: 600 + 900 = 1500."""
    assert said(CORNER) == []
    sea, stair = compiled(CORNER).faced.runs
    assert [(item.name, item.x_mm, item.width_mm) for item in sea.items] == [("K", 0, 950), ("N1", 950, 500)]
    assert [(item.name, item.x_mm, item.width_mm) for item in stair.items] == [("N2", 0, 600), ("K", 600, 900)]
    assert (sea.items[0].turn_mm, stair.items[1].turn_mm) == ((560, 0), (0, 580))
    assert sea.counter_z_mm == 914


def test_a_corner_counts_in_the_sum_that_is_told_and_explained() -> None:
    text = CORNER.replace("length = 1500", "length = 1512")
    assert said(text) == [
        'run "Stair wall", items: N2 600 mm + K 900 mm = 1500 mm, 12 mm less than the wall of 1512 mm; add a filler of '
        '12 mm, or { filler = "fill" }'
    ]
    assert _explained(text, "Stair wall left over") == "Stair wall left over = 12 mm = length 1512 - N2 600 - K 900"
    assert _explained(text, "Sea wall N1 from the left") == "Sea wall N1 from the left = 950 mm = K 950"


def _explained(text: str, question: str) -> str:
    job = load_job(HEAD + text, file="loft.toml", tables=load_tables(), own_tables={})
    (answer,) = explain(job, [question])
    return answer.text


def test_boxes_stand_on_a_ladder_base_that_lies_in_the_middle_under_them() -> None:
    """50 + (500 + 600) / 2 = 600, less half of 1000: 100. Boxes from 100 up: top at 876, so the counter is at 914."""
    text = LADDER.replace("LENGTH", "1000")
    run = run_of(text)
    (base,) = run.bases
    assert (base.name, base.x_mm, base.z_mm, base.width_mm, base.height_mm) == ("plinth", 100, 0, 1000, 100)
    assert [(item.z_mm, item.top_mm) for item in run.lower if item.on] == [(100, 876)] * 2
    assert run.counter_z_mm == 914
    assert said(text, "run-sum", "run-base", "run-kick") == []


@pytest.mark.parametrize(
    ("length", "expected"),
    [
        ("1100", []),
        (
            "1130",
            [
                'run "Net bench": ladder base "plinth" is 1130 mm long, 30 mm more than what stands on it: '
                "N1 500 mm + N2 600 mm = 1100 mm"
            ],
        ),
        (
            "940",
            [
                'run "Net bench": ladder base "plinth" is 940 mm long, 160 mm less than what stands on it: '
                "N1 500 mm + N2 600 mm = 1100 mm; 76.2 mm at either end is usual (common practice)"
            ],
        ),
    ],
)
def test_a_ladder_base_as_long_as_its_boxes_or_somewhat_shorter(length: str, expected: list[str]) -> None:
    assert said(LADDER.replace("LENGTH", length), "run-sum", "run-base") == expected


def test_a_box_on_a_ladder_base_with_a_toe_kick_of_its_own_is_refused() -> None:
    text = LADDER.replace("LENGTH", "1100").replace("kick_height = 0", "kick_height = 80", 1)
    assert said(text, "run-kick") == [
        'run "Net bench": ladder base "plinth": N1 on it has a toe kick of its own, 80 mm high; give it kick_height = 0'
    ]


def test_a_ladder_base_deeper_than_a_box_is_noted() -> None:
    text = LADDER.replace("LENGTH", "1100").replace("depth = 505", "depth = 590")
    assert said(text, "run-base") == [
        f'run "Net bench": ladder base "plinth" is 590 mm deep, {name} on it 580 mm: it would stand out in front'
        for name in ("N1", "N2")
    ]
