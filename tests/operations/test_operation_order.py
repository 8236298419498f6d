"""The order on a sheet: nothing is cut free before all inner work is done, and each cutter is loaded once."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from operations_shop import DRILL, EIGHTH, HALF, QUARTER, at, bore, codes, panel, plan, recess
from shapely.geometry import LineString

from rabbetry.geometry.curves import rectangle
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.operations.model import CentreLine, Clearing, Drilling, Operation, Profile, SpiralBore
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Recess
from rabbetry.sheets.model import Placement
from rabbetry.shop.model import Cutter

EVERY_CUTTER = (QUARTER, EIGHTH, HALF, DRILL)


def _busy_panel(name: str) -> Panel:
    return panel(
        name,
        400.0,
        300.0,
        bore(50, 40),
        bore(82, 40),
        bore(60, 200, 8.0),
        recess(rectangle(120, 0, 18, 300)),
        recess(rectangle(0, 260, 400, 5.5), name="groove"),
        CutOut(name="opening", outline=rectangle(250, 60, 90, 90)),
    )


def _changes(operations: tuple[Operation, ...]) -> int:
    return sum(a.cutter.number != b.cutter.number for a, b in itertools.pairwise(operations))


def test_holes_and_dados_of_all_parts_come_before_the_first_outline() -> None:
    parts = [at(_busy_panel(f"P{k}"), 20.0 + 410.0 * k, 20.0) for k in range(1, 3)]
    operations = plan(*parts, cutters=EVERY_CUTTER).plan.operations
    kinds = [operation.kind for operation in operations]
    assert kinds[-2:] == ["profile", "profile"]
    assert "profile" not in kinds[:-2]


@pytest.mark.parametrize("cutters", [(QUARTER, EIGHTH), EVERY_CUTTER])
def test_each_cutter_is_loaded_once(cutters: tuple[Cutter, ...]) -> None:
    parts = [at(_busy_panel(f"P{k}"), 20.0, 20.0 + 310.0 * k) for k in range(3)]
    operations = plan(*parts, cutters=cutters).plan.operations
    assert _changes(operations) == len({operation.cutter.number for operation in operations}) - 1


def test_drills_first_then_smaller_cutters_and_the_profile_cutter_last() -> None:
    operations = plan(at(_busy_panel("P1")), cutters=EVERY_CUTTER).plan.operations
    numbers = [number for number, _ in itertools.groupby(operations, key=lambda operation: operation.cutter.number)]
    assert numbers == [5, 2, 1]
    own = [operation.kind for operation in operations if operation.cutter.number == 1]
    assert sorted(own[:2]) == ["pocket", "spiral bore"]
    assert own[2:] == ["cut-out", "profile"]


def test_small_parts_are_cut_free_before_large_ones() -> None:
    large = at(panel("A large", 400.0, 300.0), 20.0, 20.0)
    small = [at(panel(f"tray {k}", 76.2, 38.1), 600.0, 20.0 + 60.0 * k) for k in range(4)]
    names = [operation.name for operation in plan(large, *small).plan.operations]
    assert sorted(names[:4]) == [f"tray {k}: outline" for k in range(4)]
    assert names[4] == "A large: outline"


def test_parts_are_cut_in_a_short_way_round_not_by_name() -> None:
    corners = {"D": (10.0, 10.0), "A": (600.0, 10.0), "C": (600.0, 600.0), "B": (10.0, 600.0)}
    placements = [at(panel(name, 400.0, 300.0), x, y) for name, (x, y) in corners.items()]
    names = [operation.panel for operation in plan(*placements).plan.operations]
    assert names in (["D", "A", "C", "B"], ["D", "B", "C", "A"])


def test_the_order_of_the_placements_does_not_matter() -> None:
    parts = [at(_busy_panel(f"P{k}"), 20.0, 20.0 + 310.0 * k) for k in range(3)]
    assert plan(*parts, cutters=EVERY_CUTTER).plan == plan(*reversed(parts), cutters=EVERY_CUTTER).plan


def test_moving_the_parts_on_the_blank_moves_the_regions_and_nothing_else() -> None:
    here, there = plan(at(_busy_panel("P1"), 20.0, 30.0)), plan(at(_busy_panel("P1"), 120.0, 530.0))
    for a, b in zip(here.plan.operations, there.plan.operations, strict=True):
        assert (a.name, a.kind, a.cutter, a.work.depth_mm) == (b.name, b.kind, b.cutter, b.work.depth_mm)
        if isinstance(a.work, Clearing) and isinstance(b.work, Clearing):
            low, high = a.work.region.bounds, b.work.region.bounds
            assert [t - s for s, t in zip(low, high, strict=True)] == pytest.approx([100.0, 500.0, 100.0, 500.0])


# Features stand in cells of 100 mm, so that they do not touch each other.
CELLS = [(x, y) for x in range(0, 500, 100) for y in range(0, 400, 100)]


@st.composite
def _feature(draw: st.DrawFn, cell: tuple[int, int], number: int) -> Feature:
    x, y = cell
    kind = draw(st.sampled_from(["bore", "dado", "open dado", "opening"]))
    if kind == "bore":
        through = draw(st.booleans())
        return Bore(
            name=f"hole {number}",
            purpose="pin",
            centre=Point(x + draw(st.integers(30, 70)), y + draw(st.integers(30, 70))),
            diameter_mm=draw(st.sampled_from([3.175, 5.0, 6.35, 8.0, 12.0, 35.0])),
            depth_mm=17.8 if through else draw(st.sampled_from([10.0, 12.0])),
            through=through,
        )
    width, length = draw(st.sampled_from([4.0, 6.35, 12.7, 18.0, 30.0])), draw(st.integers(31, 70))
    if kind == "opening":
        return CutOut(name=f"opening {number}", outline=rectangle(x + 15, y + 15, width, length))
    low = -15 if kind == "open dado" and y == 0 else 0
    outline = rectangle(x + 15, y + 15 + low, width, length)
    return Recess(name=f"dado {number}", kind="dado", outline=outline, depth_mm=draw(st.sampled_from([3.0, 6.0, 9.0])))


@st.composite
def _placement(draw: st.DrawFn) -> Placement:
    cells = draw(st.lists(st.sampled_from(CELLS), unique=True, max_size=8))
    features = [draw(_feature(cell, number)) for number, cell in enumerate(cells)]
    rotation = draw(st.sampled_from([0, 90]))
    part = panel("P1", 500.0, 400.0, *features)
    return Placement(
        panel=part,
        x_mm=float(draw(st.integers(20, 200))),
        y_mm=float(draw(st.integers(20, 200))),
        rotation_deg=int(rotation),
    )


def _covers(operation: Operation, feature: Feature, placement: Placement) -> bool:
    """Whether the operation is the one for that feature, by what it cuts."""
    work, move = operation.work, placement.blank_from_panel
    if isinstance(feature, Bore):
        centre = move(feature.centre)
        if isinstance(work, Drilling | SpiralBore):
            return centre in work.centres
        if not isinstance(work, Clearing):
            return False
        low_x, low_y, high_x, high_y = work.region.bounds
        middle = Point((low_x + high_x) / 2, (low_y + high_y) / 2)
        return operation.name.endswith(feature.name) and middle.distance(centre) < 1e-6
    wanted = region_polygon(feature.outline.moved(move))
    if isinstance(work, Clearing):
        made = region_polygon(work.region)
    elif isinstance(work, CentreLine):
        (line,) = work.path.segments
        ends = [(line.start.x, line.start.y), (line.end.x, line.end.y)]
        made = LineString(ends).buffer(operation.cutter.radius_mm, cap_style="square")
    elif isinstance(work, Profile) and work.inside:
        made = region_polygon(work.outline)
    else:
        return False
    return bool(made.buffer(0.02).covers(wanted) and made.area < wanted.area + 32 * 8)


@settings(max_examples=60, deadline=None)
@given(_placement())
def test_every_feature_is_cut_by_exactly_one_operation_before_the_part_is_cut_free(placement: Placement) -> None:
    planned = plan(placement, cutters=EVERY_CUTTER)
    assert [code for code in codes(planned) if code not in ("plunged-end-mill", "flute-too-short")] == []
    operations = planned.plan.operations
    assert operations[-1].kind == "profile"
    assert "profile" not in [operation.kind for operation in operations[:-1]]
    assert len({operation.name for operation in operations}) == len(operations)
    for feature in placement.panel.features:
        assert sum(_covers(operation, feature, placement) for operation in operations[:-1]) == 1, feature


@settings(max_examples=40, deadline=None)
@given(_placement())
def test_no_dado_cuts_its_own_part_beyond_the_features(placement: Placement) -> None:
    planned = plan(placement, cutters=EVERY_CUTTER)
    move = placement.blank_from_panel
    wood = region_polygon(placement.panel.outline.moved(move))
    for feature in placement.panel.features:
        if not isinstance(feature, Bore):
            wood = wood.difference(region_polygon(feature.outline.moved(move)))
    for operation in planned.plan.operations:
        if isinstance(operation.work, Clearing) and "dado" in operation.name:
            assert region_polygon(operation.work.region).intersection(wood).area < 1e-6
