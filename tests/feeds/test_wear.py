"""How far each cutter goes through wood in a job, and when a fresh one goes in."""

import dataclasses

import pytest

from rabbetry.feeds.wear import CutProgram, wear, wear_findings
from rabbetry.shop.model import Cutter, CutterKind

MILL = Cutter(number=1, name="mill", kind=CutterKind.END_MILL, diameter_mm=6.0, flutes=2, flute_length_mm=25.0)
DRILL = Cutter(number=5, name="drill", kind=CutterKind.DRILL, diameter_mm=5.0, flutes=2, flute_length_mm=30.0)


def _programs(*metres: float) -> list[CutProgram]:
    return [(f"{place}.nc", ((1, m * 1000.0), (5, 100.0))) for place, m in enumerate(metres, start=1)]


@pytest.mark.parametrize(
    ("metres", "life_m", "total_m", "fresh_before"),
    [
        pytest.param([30, 30, 30], None, 90, (), id="no limit set"),
        pytest.param([30, 30, 30], 90, 90, (), id="just enough"),
        pytest.param([30, 30, 30], 60, 90, ("3.nc",), id="one change"),
        pytest.param([30, 31, 30], 60, 91, ("2.nc", "3.nc"), id="changed before the limit is passed"),
        pytest.param([100], 60, 100, (), id="never in the middle of a program"),
        pytest.param([10, 100, 10], 60, 120, ("2.nc", "3.nc"), id="a long program takes a fresh one to itself"),
    ],
)
def test_a_cutter_is_changed_between_programs_before_its_limit(
    metres: list[float], life_m: float | None, total_m: float, fresh_before: tuple[str, ...]
) -> None:
    mill = dataclasses.replace(MILL, life_m=life_m)
    first, second = wear(_programs(*metres), [DRILL, mill])
    assert (first.cutter.number, second.cutter.number) == (1, 5)
    assert first.cut_m == pytest.approx(total_m)
    assert first.fresh_before == fresh_before
    assert first.needed == 1 + len(fresh_before)
    assert second.cut_m == pytest.approx(0.1 * len(metres))


def test_a_cutter_that_the_job_wears_out_is_told_with_the_places_for_fresh_ones() -> None:
    (told,) = wear_findings(wear(_programs(30, 31, 30), [dataclasses.replace(MILL, life_m=60.0), DRILL]))
    assert (told.severity, told.code) == ("note", "cutter-worn")
    assert told.message == (
        'cutter 1 "mill" goes 91 m through wood in this job; it is set to last 60 m (life_m): have 3 at hand, and put '
        "in a fresh one before 2.nc, 3.nc"
    )


def test_a_cutter_that_lasts_is_not_told() -> None:
    assert not list(wear_findings(wear(_programs(30, 30), [dataclasses.replace(MILL, life_m=60.0), DRILL])))


def test_a_cutter_that_cuts_nothing_is_left_out() -> None:
    assert [item.cutter.number for item in wear([("1.nc", ((5, 10.0),))], [MILL, DRILL])] == [5]
