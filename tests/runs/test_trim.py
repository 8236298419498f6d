"""Toe kicks, measured floors and end panels of a run stand where the job puts them; sums by hand."""

from rabbetry.files import load_tables
from rabbetry.pipeline import Compiled, compile_job, load_job
from rabbetry.runs.model import Run

HEAD = """
name = "Net loft"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 2, 4, 5, 6, 7, 8]
[stock.birch18]
sheet = "birch-18"
thickness = 17.8
blank = [1220, 1220]
[stock.birch6]
sheet = "birch-6"
thickness = 5.8
blank = [1220, 1220]
[use]
carcass = "birch18"
back = "birch6"
"""


def compiled(text: str) -> Compiled:
    job = load_job(HEAD + text, file="loft.toml", tables=load_tables(), own_tables={})
    return compile_job(job)


def run_of(text: str) -> Run:
    (run,) = compiled(text).faced.runs
    return run


TWO = """
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
length = 1150
items = [{ filler = 50 }, "N1", "N2"]
"""


def test_a_kick_begins_under_its_first_cabinet_and_the_floor_falls_below_level() -> None:
    """Filler 50, so N1 begins at 50 and N2 at 550; kick's edge at 100: 104 down is 4 under level, 98 is 2 over."""
    kick = """
[[kick]]
name = "kick"
covers = ["N1", "N2"]
heights = [[104, 102], [102, 98]]
"""
    run = run_of(TWO + kick)
    (placed,) = run.kicks
    assert (placed.x_mm, placed.top_z_mm) == (50, 100)
    (floor,) = run.floors
    assert floor.points == ((50, -4), (550, -2), (1150, 2))
    assert floor.top_z_mm == 100


def test_a_kick_in_pieces_has_each_where_its_cabinet_is() -> None:
    kick = """
[[kick]]
name = "kick"
covers = ["N1", "N2"]
heights = [[104, 102], [102, 101]]
pieces = "cabinet"
"""
    assert [piece.x_mm for piece in run_of(TWO + kick).kicks] == [50, 550]


def test_a_kick_under_no_cabinet_of_the_run_is_not_drawn() -> None:
    kick = """
[[kick]]
name = "kick"
length = 600
heights = [[104, 102]]
"""
    run = run_of(TWO + kick)
    assert run.kicks == ()
    assert run.floors == ()


def test_an_end_panel_stands_beside_its_cabinet_as_thick_as_its_stock() -> None:
    """N2 ends at 50 + 500 + 600 = 1150; the panel is 17.8 thick and 876 high from the floor."""
    panel = """
[[panel]]
name = "end"
covers = ["N2"]
side = "right"
"""
    (cover,) = run_of(TWO + panel).covers
    assert (cover.x_mm, cover.z_mm, cover.width_mm, cover.height_mm) == (1150, 0, 17.8, 876)
    left = panel.replace('"right"', '"left"').replace('["N2"]', '["N1"]') + "to_floor = false\noverhang_top = 3\n"
    (cover,) = run_of(TWO + left).covers
    assert (round(cover.x_mm, 6), cover.z_mm, cover.height_mm) == (32.2, 100, 779)


def test_a_board_on_top_spans_its_cabinets_with_its_overhangs_and_a_back_does_not_show() -> None:
    """From 50 - 10 to 1150 + 20: 1130 long, lying on 876."""
    panel = """
[[panel]]
name = "board"
covers = ["N1", "N2"]
side = "top"
overhang_left = 10
overhang_right = 20
"""
    (cover,) = run_of(TWO + panel).covers
    assert (cover.x_mm, cover.z_mm, cover.width_mm, cover.height_mm) == (40, 876, 1130, 17.8)
    assert run_of(TWO + panel.replace('"top"', '"back"')).covers == ()
