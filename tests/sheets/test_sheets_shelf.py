"""Offcuts of the shelf in place of blanks."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from sheet_cases import IN, job_of, panel_of, stock_of

from rabbetry.job.model import Cutting, Grain, ShelfPiece, Stock
from rabbetry.panels.model import Panel
from rabbetry.sheets.model import Nesting
from rabbetry.sheets.nest import nest
from rabbetry.tolerances import SAME_THICKNESS_MM

GAP = 8.35


def piece(name: str, along: float, across: float, thickness: float = 17.8, sheet: str = "birch") -> ShelfPiece:
    return ShelfPiece(name=name, sheet=sheet, thickness_mm=thickness, along_mm=along, across_mm=across)


def laid(
    panels: Sequence[Panel],
    *shelf: ShelfPiece,
    stock: Stock | None = None,
    tolerance: float = SAME_THICKNESS_MM,
    tied: Sequence[str] = (),
) -> Nesting:
    stock = stock or stock_of()
    job = replace(job_of(stock), shelf=shelf, cutting=Cutting(offcut_tolerance_mm=tolerance, layout_effort=1))
    return nest(panels, job=job, spacing_mm={stock.name: GAP}, tied=frozenset(tied))


def codes(nesting: Nesting) -> list[str]:
    return [item.code for item in nesting.findings]


SMALL = panel_of("A 1", 600, 300)


def test_a_piece_is_used_where_it_saves_a_blank() -> None:
    nesting = laid([SMALL], piece("O7", 700, 400))
    (sheet,) = nesting.sheets
    assert (sheet.offcut, sheet.id) == ("O7", "birch-offcut-01")
    assert (sheet.blank_x_mm, sheet.blank_y_mm) == (700, 400)
    assert (nesting.counts[0].sheets, nesting.counts[0].offcuts) == (1, 1)
    assert codes(nesting) == ["offcut-used"]
    assert "1 panel" in nesting.findings[0].message


def test_a_piece_that_saves_none_stays_on_the_shelf() -> None:
    full = panel_of("A 1", 1199, 1199)
    nesting = laid([full, SMALL, panel_of("A 2", 900, 600)], piece("O7", 700, 400))
    assert [sheet.offcut for sheet in nesting.sheets] == ["", ""]
    assert codes(nesting) == []


def test_the_smallest_piece_that_does_is_used() -> None:
    nesting = laid([SMALL], piece("large", 1200, 900), piece("small", 700, 400))
    assert [sheet.offcut for sheet in nesting.sheets] == ["small"]


def test_trim_is_kept_on_a_piece_too() -> None:
    assert laid([SMALL], piece("O7", 620, 320)).sheets[0].offcut == "O7"
    assert laid([SMALL], piece("O7", 619.9, 320)).sheets[0].offcut == ""


def test_the_grain_of_a_piece_runs_along_its_first_size() -> None:
    along = panel_of("A 1", 600, 300, Grain.ALONG)
    assert laid([along], piece("O7", 700, 400)).sheets[0].offcut == "O7"
    assert laid([along], piece("O7", 400, 700)).sheets[0].offcut == ""
    upright = stock_of(grain_along_x=False)
    (sheet,) = laid([along], piece("O7", 700, 400), stock=upright).sheets
    assert (sheet.offcut, sheet.blank_x_mm, sheet.blank_y_mm) == ("O7", 400, 700)
    assert sheet.placements[0].rotation_deg == 90


@pytest.mark.parametrize(
    ("other", "used"),
    [
        pytest.param(piece("O7", 700, 400, sheet="mdf"), False, id="another sheet good"),
        pytest.param(piece("O7", 700, 400, thickness=17.85), True, id="as thick as a caliper tells"),
        pytest.param(piece("O7", 700, 400, thickness=17.86), False, id="thicker"),
        pytest.param(piece("O7", 1300, 400), False, id="longer than a blank"),
    ],
)
def test_which_pieces_suit(other: ShelfPiece, used: bool) -> None:
    assert [sheet.offcut for sheet in laid([SMALL], other).sheets] == ["O7" if used else ""]


def test_a_leftover_of_another_thickness_waits_for_a_tolerance() -> None:
    """Leftover 30 x 14 of 0.731 in, parts of 0.703 in: not used; with a tolerance of 0.03 in it is."""
    stock = stock_of(measured_mm=0.703 * IN)
    part = replace(panel_of("A 1", 28 * IN, 12 * IN), thickness_mm=0.703 * IN)
    left = piece("O7", 30 * IN, 14 * IN, thickness=0.731 * IN)
    refused = laid([part], left, stock=stock)
    assert refused.sheets[0].offcut == ""
    assert codes(refused) == ["offcut-thickness"]
    assert "0.711 mm" in refused.findings[0].message
    used = laid([part], left, stock=stock, tolerance=0.03 * IN)
    assert (used.sheets[0].offcut, used.sheets[0].thickness_mm) == ("O7", pytest.approx(0.731 * IN))
    tied = laid([part], left, stock=stock, tolerance=0.03 * IN, tied=["A 1"])
    assert tied.sheets[0].offcut == ""


def test_one_piece_serves_one_stock_only() -> None:
    first, second = stock_of("a"), stock_of("b")
    job = replace(job_of(first, second), shelf=(piece("O7", 700, 400),))
    panels = [panel_of("A 1", 600, 300, stock="a"), panel_of("A 2", 600, 300, stock="b")]
    nesting = nest(panels, job=job, spacing_mm={"a": GAP, "b": GAP})
    assert [sheet.offcut for sheet in nesting.sheets] == ["O7", ""]


SIDES = st.integers(60, 700)


@settings(max_examples=25, deadline=None)
@given(
    parts=st.lists(st.tuples(SIDES, SIDES), min_size=1, max_size=14),
    shelf=st.lists(st.tuples(st.integers(100, 1200), st.integers(100, 1200)), max_size=4),
)
def test_whatever_the_shelf_every_part_lies_once_and_apart(
    parts: list[tuple[int, int]], shelf: list[tuple[int, int]]
) -> None:
    panels = [panel_of(f"A {n}", float(max(pair)), float(min(pair))) for n, pair in enumerate(parts)]
    pieces = [piece(f"O{n}", float(a), float(b)) for n, (a, b) in enumerate(shelf)]
    plain, nesting = laid(panels), laid(panels, *pieces)
    ids = [item.panel.id for sheet in nesting.sheets for item in sheet.placements]
    assert sorted(ids) == sorted(panel.id for panel in panels)
    blanks = [sheet for sheet in nesting.sheets if not sheet.offcut]
    names = [sheet.offcut for sheet in nesting.sheets if sheet.offcut]
    assert len(names) == len(set(names))
    assert len(blanks) <= len(plain.sheets)
    assert not names or len(blanks) < len(plain.sheets)
    assert nesting.counts[0].sheets >= nesting.counts[0].lower_bound
    for sheet in nesting.sheets:
        inside = box(10, 10, sheet.blank_x_mm - 10, sheet.blank_y_mm - 10).buffer(1e-6)
        shapes = [box(p.x_mm, p.y_mm, p.x_mm + p.extent_mm[0], p.y_mm + p.extent_mm[1]) for p in sheet.placements]
        assert all(inside.contains(shape) for shape in shapes)
        for k, shape in enumerate(shapes):
            assert all(shape.distance(other) >= GAP - 1e-6 for other in shapes[:k])
