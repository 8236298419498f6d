"""The lower bound: never above what is known to be possible, and as good as a published one where it counts."""

import json
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.sheets.bound import _functions, lower_bound
from rabbetry.sheets.pack import RULES, Item, pack
from rabbetry.sheets.search import search

DATA = Path(__file__).parents[1] / "data" / "bin_packing"
INSTANCES = json.loads((DATA / "classes-subset.json").read_text("utf-8"))["instances"]


def oriented(instance: dict) -> int:
    return lower_bound([((w, h),) for w, h in instance["items"]], instance["W"], instance["H"])


@pytest.mark.parametrize("instance", INSTANCES, ids=[instance["id"] for instance in INSTANCES])
def test_the_bound_never_exceeds_the_best_known_packing(instance: dict) -> None:
    free = [((w, h), (h, w)) for w, h in instance["items"]]
    assert oriented(instance) <= instance["best_known"]
    assert lower_bound(free, instance["W"], instance["H"]) <= instance["best_known_rot"]


def test_the_bound_is_as_good_as_a_published_method_of_the_same_kind() -> None:
    ours = sum(oriented(instance) for instance in INSTANCES)
    area = sum(-(-sum(w * h for w, h in i["items"]) // (i["W"] * i["H"])) for i in INSTANCES)
    published = sum(instance["lb_dff"] for instance in INSTANCES)
    assert area < ours
    best_known = sum(instance["best_known"] for instance in INSTANCES)
    assert published <= ours <= best_known


@pytest.mark.parametrize(
    ("items", "width", "height", "bound"),
    [
        pytest.param([], 10, 10, 0, id="nothing"),
        pytest.param([((6, 6),)] * 5, 10, 10, 5, id="more than half each way: one a bin, though the area says two"),
        pytest.param([((5, 5),)] * 8, 10, 10, 2, id="quarters fill bins exactly"),
        pytest.param([((4, 10),)] * 5, 10, 10, 3, id="two a bin by width"),
        pytest.param([((4, 4),)] * 9, 10, 10, 3, id="four a bin by count"),
        pytest.param([((6, 3), (3, 6))] * 4, 10, 10, 1, id="turning lets them interlock"),
        pytest.param([((2, 11), (11, 2))], 11, 5, 1, id="a turn that cannot be used does not count"),
    ],
)
def test_the_bound_by_hand(items: list, width: int, height: int, bound: int) -> None:
    assert lower_bound(items, width, height) == bound


@given(
    st.lists(st.tuples(st.integers(1, 20), st.integers(1, 20), st.booleans()), min_size=1, max_size=30),
    st.integers(20, 40),
    st.integers(20, 40),
)
@settings(max_examples=80, deadline=None)
def test_no_packing_uses_fewer_bins_than_the_bound(parts: list[tuple[int, int, bool]], width: int, height: int) -> None:
    items = [Item(k, ((0, w, h), (90, h, w)) if turns else ((0, w, h),)) for k, (w, h, turns) in enumerate(parts)]
    bound = lower_bound([tuple((w, h) for _, w, h in item.turns) for item in items], width, height)
    for rule in RULES:
        bins = pack(items, free=[(0, 0, width, height)], rule=rule)
        assert bins is not None
        assert len(bins) >= bound
    assert len(search(items, free=[(0, 0, width, height)], bound=bound)) >= bound


@given(st.lists(st.integers(1, 40), min_size=1, max_size=12), st.integers(20, 60), st.randoms(use_true_random=False))
@settings(max_examples=150, deadline=None)
def test_what_fits_side_by_side_never_counts_more_than_the_bin(sizes: list[int], whole: int, chance: Random) -> None:
    """The definition of a dual-feasible function, for the items at hand."""
    sizes = [min(size, whole) for size in sizes]
    functions = _functions([((size,), 1) for size in sizes], whole)
    for _ in range(20):
        row, room = [], whole
        for size in chance.sample(sizes, len(sizes)):
            if size <= room:
                row.append(size)
                room -= size
        for weights in functions:
            assert sum(weights.values[size] for size in row) <= weights.whole


def test_parts_side_by_side_count_with_their_gap() -> None:
    # Check value W55: parts 300 wide, gap 6.35, margin 10, sheet 1220: floor((S - 2m + g) / (p + g)) = 3 a sheet.
    gap, room = 635, (1220 - 20) * 100 + 635
    strip = ((30000 + gap, room),)
    assert room // (30000 + gap) == 3
    assert lower_bound([strip] * 3, room, room) == 1
    assert lower_bound([strip] * 4, room, room) == 2
    assert lower_bound([strip] * 7, room, room) == 3


def test_the_kitchen_needs_as_many_sheets_as_its_published_bound_says() -> None:
    kitchen = json.loads((DATA / "kitchen-like.json").read_text("utf-8"))
    gap = round(kitchen["spacing"] * 100)
    room = (kitchen["sheet"][0] - 2 * kitchen["trim"]) * 100 + gap
    bounds = {}
    for thickness in (18, 12, 6):
        items = []
        for part in kitchen["parts"]:
            if part["thickness"] == thickness:
                w, h = part["w"] * 100 + gap, part["h"] * 100 + gap
                items.append(((w, h), (h, w)) if part["rotate"] else ((w, h),))
        bounds[thickness] = lower_bound(items, room, room)
    assert bounds == {18: 30, 12: 4, 6: 13}
