"""The search: the same compiled or not, better with effort, and parts lying in the notches of others."""

import os
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon, box
from shapely.ops import unary_union
from sheet_cases import nested, panel_of, stock_of

from rabbetry.geometry.curves import polygon
from rabbetry.job.model import Grain
from rabbetry.panels.model import Panel
from rabbetry.sheets.pack import Item
from rabbetry.sheets.search import search
from rabbetry.sheets.shapes import columns

BIN = [(0, 0, 100, 100)]


def items_from(sizes: list[tuple[int, int]]) -> list[Item]:
    return [Item(index, ((0, w, h), (90, h, w)) if w != h else ((0, w, h),)) for index, (w, h) in enumerate(sizes)]


SIZES = [((k * 37) % 61 + 12, (k * 53) % 47 + 9) for k in range(40)]


def layout() -> list[tuple[int, int, int, int, int]]:
    packed = search(items_from(SIZES), free=BIN, bound=0)
    return [(n, spot.item.index, spot.x, spot.y, spot.turn) for n, bin in enumerate(packed) for spot in bin.spots]


def test_the_plain_run_gives_what_the_compiled_one_gives() -> None:
    """The same functions without the compiler, in a process of its own; little work, since that is slow."""
    code = "import rabbetry.sheets.search as s, test_sheets_search as t\ns._WORK = 3000\nprint(t.layout())"
    told = []
    for plain in ("0", "1"):
        env = {**os.environ, "NUMBA_DISABLE_JIT": plain, "PYTHONPATH": os.pathsep.join(sys.path)}
        run = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
        told.append(run.stdout)
    assert told[0] == told[1]
    assert told[0].count("(") == len(SIZES)


@settings(max_examples=25)
@given(st.lists(st.tuples(st.integers(5, 70), st.integers(5, 70)), min_size=1, max_size=30))
def test_more_effort_never_takes_more_bins(sizes: list[tuple[int, int]]) -> None:
    counts = [len(search(items_from(sizes), free=BIN, bound=0, effort=effort)) for effort in (1, 2, 3)]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] >= -(-sum(w * h for w, h in sizes) // 10_000)


def ell(name: str, length: float, width: float, leg: float) -> Panel:
    """An L: a length by width rectangle without its upper right corner."""
    corners = [(0.0, 0.0), (length, 0.0), (length, leg), (leg, leg), (leg, width), (0.0, width)]
    return replace(panel_of(name, length, width), outline=polygon(corners))


def test_a_part_lies_in_the_notch_of_an_l_shaped_one() -> None:
    """A 1000 x 1000 L with legs 300 wide leaves 700 x 700 less the gap: a part 650 square goes there, on one blank."""
    panels = [ell("L", 1000, 1000, 300), panel_of("square", 650, 650)]
    nesting = nested(panels, stock_of(blank_x_mm=1020.0, blank_y_mm=1020.0), spacing_mm=8.0)
    assert [count.sheets for count in nesting.counts] == [1]
    assert nesting.counts[0].lower_bound == 1


def test_a_part_too_big_for_the_notch_takes_a_blank_of_its_own() -> None:
    nesting = nested(
        [ell("L", 1000, 1000, 300), panel_of("square", 695, 695)],
        stock_of(blank_x_mm=1020.0, blank_y_mm=1020.0),
        spacing_mm=8.0,
    )
    assert [count.sheets for count in nesting.counts] == [2]


@settings(max_examples=30)
@given(
    st.lists(st.tuples(st.floats(300, 900), st.floats(300, 900), st.floats(100, 200)), min_size=1, max_size=5),
    st.lists(st.tuples(st.floats(60, 400), st.floats(60, 400)), max_size=8),
    st.sampled_from((0.0, 8.0)),
)
def test_true_shapes_keep_their_distance(
    ells: list[tuple[float, float, float]], plain: list[tuple[float, float]], spacing_mm: float
) -> None:
    panels = [ell(f"L{k}", *sizes) for k, sizes in enumerate(ells)]
    panels += [panel_of(f"P{k}", *sizes) for k, sizes in enumerate(plain)]
    nesting = nested(panels, stock_of(blank_x_mm=1200.0, blank_y_mm=1200.0), spacing_mm=spacing_mm)
    placed = [placement for sheet in nesting.sheets for placement in sheet.placements]
    assert sorted(placement.panel.id for placement in placed) == sorted(panel.id for panel in panels)
    assert all(count.sheets >= count.lower_bound for count in nesting.counts)
    for sheet in nesting.sheets:
        shapes = [
            Polygon([(p.x, p.y) for p in placement.panel.outline.moved(placement.blank_from_panel).flattened(0.01)])
            for placement in sheet.placements
        ]
        for k, shape in enumerate(shapes):
            assert all(shape.distance(other) >= spacing_mm - 1e-5 for other in shapes[k + 1 :])
            assert spacing_mm or all(shape.intersection(other).area < 1e-3 for other in shapes[k + 1 :])


@pytest.mark.parametrize("grain", list(Grain))
def test_an_l_keeps_its_grain(grain: Grain) -> None:
    nesting = nested(
        [replace(ell("L", 900, 500, 200), grain=grain)], stock_of(blank_x_mm=1200.0, blank_y_mm=1200.0), spacing_mm=8.0
    )
    (placement,) = nesting.sheets[0].placements
    assert grain is Grain.FREE or (placement.rotation_deg == 0) == (grain is Grain.ALONG)


def test_columns_cover_the_outline_and_their_cores_lie_in_it() -> None:
    """A U, an L, a slanted piece and a staircase of more steps than are told apart."""
    steps = [(0.0, 0.0), (1000.0, 0.0)]
    for k in range(8):
        steps += [(1000.0 - 100 * k, 100.0 + 80 * k), (1000.0 - 100 * (k + 1), 100.0 + 80 * k)]
    steps = [*steps, (0.0, 740.0)]
    for corners in (
        [(0, 0), (800, 0), (800, 400), (600, 400), (600, 100), (200, 100), (200, 400), (0, 400)],
        [(0.0, 0.0), (600.0, 0.0), (600.0, 100.0), (0.0, 60.0)],
        steps,
    ):  # fmt: skip
        whole = Polygon(corners)
        strips = columns(polygon(corners))
        cover = unary_union([box(c.x0, c.low, c.x1, c.high) for c in strips])
        assert 1 <= len(strips) <= 5
        assert whole.difference(cover.buffer(1e-6)).area < 1e-6
        for column in strips:
            core = box(column.x0, column.inner_low, column.x1, max(column.inner_low, column.inner_high))
            assert core.difference(whole.buffer(1e-6)).area < 1e-6
    assert len(columns(polygon([(0.0, 0.0), (600.0, 0.0), (600.0, 100.0), (0.0, 100.0)]))) == 1
