"""Full sheets sawn to blanks: counts against hand counts, cuts that can be sawn, kerf that is told."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sheet_cases import IN

from rabbetry.files import load_tables
from rabbetry.findings import Finding
from rabbetry.job.model import Job
from rabbetry.job.starter import starter_job
from rabbetry.pipeline import compile_job, lay_out, load_job, with_breakdown
from rabbetry.sheets.breakdown import EDGES, best_blocks, pieces
from rabbetry.sheets.breakdown import _cuts as cuts_of  # the order of the cuts is what is tried here
from rabbetry.sheets.breakdown import _spots as spots_of
from rabbetry.sheets.model import Breakdown

JOB = """
name = "Boat store"
units = "{units}"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1]
[stock.ply]
sheet = "{sheet}"
thickness = "17.8 mm"
{stock}
[[part]]
name = "board"
qty = {qty}
stock = "ply"
length = {length}
width = {width}
"""


def job_text(**changes: object) -> str:
    fields = {"units": "mm", "sheet": "birch-18", "qty": 4, "length": 1100, "width": 1000} | changes
    return JOB.format(**fields)


def broken_down(**changes: object) -> tuple[Breakdown, tuple[Finding, ...], Job]:
    job = load_job(job_text(**changes), file="boat-store.toml", tables=load_tables(), own_tables={})
    nesting = with_breakdown(lay_out(job, compile_job(job).panels), job)
    return nesting.breakdowns[0], nesting.findings, job


@pytest.mark.parametrize(
    ("room", "piece", "kerf", "count"),
    [
        pytest.param(2440, 1220, 0.0, 2, id="halves without a kerf"),
        pytest.param(2440, 1220, 3.2, 1, id="halves lose the kerf"),
        pytest.param(2440, 1218.4, 3.2, 2, id="halves less half a kerf: 2 x 1218.4 + 3.2 = 2440"),
        pytest.param(96 * IN, 47.9375 * IN, 0.125 * IN, 2, id="halves of 96 in less an eighth are 47 15/16"),
        pytest.param(96 * IN, 47.94 * IN, 0.125 * IN, 1, id="and not a hair more"),
        pytest.param(1000, 1001, 3.2, 0, id="too long"),
    ],
)
def test_pieces_of_a_length(room: float, piece: float, kerf: float, count: int) -> None:
    assert pieces(room, piece, kerf) == count


def test_four_boards_a_blank_each_from_two_sheets_with_their_names_and_edges() -> None:
    found, _, _ = broken_down(stock='blank = [1220, 1218]\ngrain_along = "y"\nprice = 60.5')
    assert (found.needed, found.blanks_each, len(found.sheets), found.cost) == (4, 2, 2, 121.0)
    first, second = found.sheets[0].blanks
    # Grain runs up the blank, so its 1218 lies along the sheet; 1218 + 3.2 = 1221.2.
    assert (first.id, first.x_mm, first.y_mm, first.along_mm, first.across_mm) == ("ply-01", 0, 0, 1218, 1220)
    assert (second.id, second.x_mm) == ("ply-02", pytest.approx(1221.2))
    assert first.factory_edges == ("left end", "lower edge", "upper edge")
    assert second.factory_edges == ("lower edge", "upper edge")
    assert [blank.id for blank in found.sheets[1].blanks] == ["ply-03", "ply-04"]
    # 1218, and 0.8 mm that 1218 + 3.2 + 1218 = 2439.2 leave.
    assert [(cut.across, cut.at_mm) for cut in found.cuts] == [(True, 1218), (True, pytest.approx(2439.2))]


def test_the_kerf_that_costs_sheets_is_told_with_its_sum() -> None:
    message = (
        'stock "ply": 2 blanks of 1220 mm and a kerf of 3.2 mm make 2443.2 mm, 3.2 mm more than the 2440 mm of a full '
        "sheet along the grain: it gives 1 blank, not 2; blanks of 1218.4 mm would do"
    )
    blank = 'blank = [1220, 1220]\ngrain_along = "y"'
    found, told, _ = broken_down(stock=blank)
    assert len(found.sheets) == 4
    assert [(item.severity, item.message) for item in told if item.code == "blank-loses-to-kerf"] == [("note", message)]
    _, told, _ = broken_down(stock=blank + "\nfull_sheet = [2440, 1220]")
    assert [(item.severity, item.message) for item in told if item.code == "blank-loses-to-kerf"] == [
        ("warning", message)
    ]


@pytest.mark.parametrize(
    ("stock", "qty"),
    [
        pytest.param("blank = [1220, 1218]\ngrain_along = 'y'", 4, id="blanks that allow for the kerf"),
        pytest.param("blank = [1220, 1220]\ngrain_along = 'y'", 1, id="one blank needs one sheet either way"),
        pytest.param("blank = [1220, 1220]\ngrain_along = 'y'\nfull_sheet = [2500, 1250]", 4, id="oversize sheets"),
        pytest.param("blank = [1220, 1220]\ngrain_along = 'y'\nsaw_kerf = 0", 4, id="a knife"),
    ],
)
def test_where_the_kerf_costs_nothing_nothing_is_said(stock: str, qty: int) -> None:
    _, told, _ = broken_down(stock=stock, qty=qty)
    assert not [item for item in told if item.code == "blank-loses-to-kerf"]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_starter_gets_two_blanks_from_every_full_sheet(units: str) -> None:
    job = load_job(starter_job(units), file="job.toml", tables=load_tables(), own_tables={})
    nesting = with_breakdown(lay_out(job, compile_job(job).panels), job)
    assert {row.blanks_each for row in nesting.breakdowns} == {2}
    assert not [item for item in nesting.findings if item.code == "blank-loses-to-kerf"]


def test_a_blank_larger_than_the_full_sheet_of_the_job_is_warned_of_and_has_no_sheets_to_buy() -> None:
    stock = "blank = [1220, 1220]\nfull_sheet = [1200, 1200]"
    found, _, job = broken_down(stock=stock)
    assert (found.blanks_each, found.sheets) == (0, ())
    told = [item.message for item in compile_job(job).findings if item.code == "blank-exceeds-sheet"]
    assert told == [
        'stock "ply": no blank of this size comes from one sheet of Birch plywood 18 mm, 1200 mm along the grain by '
        "1200 mm"
    ]


def test_in_inches_the_kerf_is_an_eighth() -> None:
    found, _, _ = broken_down(
        units="in", sheet="ply-3/4", stock='blank = [47.9375, 47.9375]\ngrain_along = "y"', length=40, width=40
    )
    assert found.kerf_mm == pytest.approx(3.175)
    assert [len(sheet.blanks) for sheet in found.sheets] == [2, 2]


def test_keeping_a_factory_edge_leaves_out_blanks_from_the_middle() -> None:
    # 5 x 3 pieces of 480 x 400 in 2440 x 1220 (5 x 480 + 4 x 3.2 = 2412.8): three of the middle row touch no edge.
    stock = "blank = [480, 400]\ntrim = 0"
    small = {"length": 400, "width": 300, "qty": 15}
    assert broken_down(stock=stock, **small)[0].blanks_each == 15
    kept = broken_down(stock=stock + "\nkeep_factory_edge = true", **small)[0]
    # 3 x 400 + 2 x 3.2 = 1206.4: the upper row ends 13.6 mm below the upper edge, the last column 27.2 before its end.
    assert kept.blanks_each == 5 + 2
    assert all(blank.factory_edges for sheet in kept.sheets for blank in sheet.blanks)


def test_without_grain_blanks_may_lie_both_ways() -> None:
    # 1300 x 600 lies once lengthwise in two rows; standing it is higher than the sheet.
    blocks = best_blocks(2440, 1220, ((1300, 600), (600, 1300)), 0.0)
    assert sum(block.count for block in blocks) == 2
    # 1000 x 700: two lie side by side, but three stand, 3 x 700 + 2 x 3.2 = 2106.4.
    blocks = best_blocks(2440, 1220, ((1000, 700), (700, 1000)), 3.2)
    assert sum(block.count for block in blocks) == 3
    # 1210 x 600: a column of two lying, then 1226.8 wide is left: two standing (2 x 600 + 3.2, 1210 high).
    blocks = best_blocks(2440, 1220, ((1210, 600), (600, 1210)), 3.2)
    assert sum(block.count for block in blocks) == 4


def sawn(along: float, across: float, kerf: float, cuts: object) -> list[tuple[float, float, float, float]]:
    """Saw a sheet as told: every cut must run from edge to edge of the piece it meets."""
    pieces_left = [(0.0, 0.0, along, across)]
    for cut in cuts:  # type: ignore[attr-defined]
        for x0, y0, x1, y1 in pieces_left:
            low, high, start, end = (x0, x1, y0, y1) if cut.across else (y0, y1, x0, x1)
            meets = low < cut.at_mm < high and start < (cut.from_mm + cut.to_mm) / 2 < end
            if not meets:
                continue
            assert (cut.from_mm, cut.to_mm) == pytest.approx((start, end))
            pieces_left.remove((x0, y0, x1, y1))
            first = (x0, y0, cut.at_mm, y1) if cut.across else (x0, y0, x1, cut.at_mm)
            rest = (cut.at_mm + kerf, y0, x1, y1) if cut.across else (x0, cut.at_mm + kerf, x1, y1)
            pieces_left += [piece for piece in (first, rest) if piece[2] > piece[0] and piece[3] > piece[1]]
            break
        else:
            raise AssertionError(f"{cut} meets no piece")
    return pieces_left


@given(
    st.integers(900, 3000),
    st.integers(900, 1600),
    st.integers(200, 1300),
    st.integers(200, 1300),
    st.sampled_from([0.0, 2.4, 3.2]),
    st.booleans(),
)
def test_sawing_as_told_gives_every_blank(along: int, across: int, a: int, b: int, kerf: float, may_turn: bool) -> None:
    sizes = ((float(a), float(b)), (float(b), float(a))) if may_turn else ((float(a), float(b)),)
    blocks = best_blocks(along, across, sizes, kerf)
    spots = list(spots_of(blocks, along, across, kerf))
    assert len(spots) >= max(pieces(along, w, kerf) * pieces(across, h, kerf) for w, h in sizes)
    assert len(spots) * (a + kerf) * (b + kerf) <= (along + kerf) * (across + kerf) + 1e-6
    left = sawn(along, across, kerf, cuts_of(blocks, along, across, kerf))
    for x, y, w, h, edges in spots:
        found = [piece for piece in left if piece == pytest.approx((x, y, x + w, y + h), abs=1e-6)]
        assert len(found) == 1, (x, y)
        gaps = (x, along - x - w, y, across - y - h)
        assert edges == tuple(name for name, gap in zip(EDGES, gaps, strict=True) if gap < 1e-6)
