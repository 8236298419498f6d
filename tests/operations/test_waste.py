"""Waste that the kerfs cut loose between parts: cut to chips before any part is free."""

import dataclasses

import pytest
from operations_shop import at, panel, plan
from shapely import box

from rabbetry.geometry.curves import polygon
from rabbetry.geometry.regions import region_polygon
from rabbetry.job.model import Hold
from rabbetry.operations.model import Clearing, OperationsPlanned, Profile
from rabbetry.panels.model import Panel

D = 6.35


def chips(planned: OperationsPlanned) -> list[Clearing]:
    return [one.work for one in planned.plan.operations if ": waste " in one.name and isinstance(one.work, Clearing)]


def notched(deep_mm: float, wide_mm: float) -> Panel:
    """A part 400 x 300 with a notch in the middle of its right edge."""
    x, low, high = 400.0 - deep_mm, 150.0 - wide_mm / 2, 150.0 + wide_mm / 2
    corners = [(0, 0), (400, 0), (400, low), (x, low), (x, high), (400, high), (400, 300), (0, 300)]
    return dataclasses.replace(panel("P1"), outline=polygon(corners))


def beside(deep_mm: float, wide_mm: float, **cutting: object) -> OperationsPlanned:
    """The notched part, and a plain one closing its notch 8.35 mm away."""
    return plan(at(notched(deep_mm, wide_mm), 50.0, 60.0), at(panel("P2"), 458.35, 60.0), **cutting)


def test_a_strip_in_a_notch_beside_the_next_part_is_cut_to_chips() -> None:
    # Notch 22 x 46.7: less a kerf of 6.35 on three sides, and the next part's reaches 2 mm short of the edge's line.
    (work,) = chips(beside(22.0, 46.7))
    waste = box(434.35, 60 + 126.65 + D, 452.0, 60 + 173.35 - D)
    region = region_polygon(work.region)
    # Shrunk by the cutter's radius it is where the centre goes; grown again, what is taken.
    assert region.buffer(-D / 2).buffer(D / 2).covers(waste)
    parts = region_polygon(notched(22.0, 46.7).outline.moved(at(panel(), 50.0, 60.0).blank_from_panel))
    assert region.distance(parts) >= 0.5
    assert region.bounds[2] <= 458.35 - 0.5
    assert work.depth_mm == pytest.approx(18.1)


def test_chips_are_made_before_any_part_is_cut_free() -> None:
    operations = beside(22.0, 46.7).plan.operations
    outlines = [k for k, one in enumerate(operations) if isinstance(one.work, Profile)]
    assert [k for k, one in enumerate(operations) if ": waste " in one.name] == [min(outlines) - 1]


@pytest.mark.parametrize(
    ("deep_mm", "wide_mm", "cutting"),
    [
        pytest.param(22.0, 46.7, {"loose_waste": "leave"}, id="the job leaves it"),
        pytest.param(22.0, 46.7, {"hold": Hold.SKIN}, id="the skin holds it"),
        pytest.param(60.0, 70.0, {}, id="wider than four cutters"),
        pytest.param(22.0, 13.0, {}, id="a sliver of chips"),
    ],
)
def test_other_waste_is_left_alone(deep_mm: float, wide_mm: float, cutting: dict[str, object]) -> None:
    assert chips(beside(deep_mm, wide_mm, **cutting)) == []


def test_waste_that_hangs_on_the_rim_of_the_blank_is_left_alone() -> None:
    assert chips(plan(at(notched(22.0, 46.7), 50.0, 60.0))) == []


def test_tabs_know_where_the_chips_are() -> None:
    planned = beside(22.0, 46.7)
    (work,) = chips(planned)
    profiles = [one.work for one in planned.plan.operations if isinstance(one.work, Profile)]
    assert len(profiles) == 2
    for profile in profiles:
        assert profile.void is not None
        assert profile.void.equals(region_polygon(work.region))
