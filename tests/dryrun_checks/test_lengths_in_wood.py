"""How far a cutter goes through wood, by hand arithmetic."""

import math

import pytest

from rabbetry.dryrun.in_wood import lengths_in_wood
from rabbetry.dryrun.setup import Cutter
from rabbetry.dryrun.strokes import Stroke

REST = {"centre_cutting": True, "pass_limit_mm": 6.0, "stick_out_mm": 30.0}
MILL = Cutter(number=3, name="mill", kind="end mill", diameter_mm=6.0, flute_length_mm=25.0, **REST)  # type: ignore[arg-type]


def _stroke(start: tuple[float, float, float], to: tuple[float, float, float], **more: object) -> Stroke:
    given: dict[str, object] = {"program": 0, "line": 1, "cutter": MILL, "is_traverse": False, **more}
    return Stroke(start=start, to=to, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("stroke", "expected_mm"),
    [
        pytest.param(_stroke((0, 0, -5), (30, 40, -5)), 50.0, id="a line in the wood"),
        pytest.param(_stroke((0, 0, 5), (30, 40, 5)), 0.0, id="a line above it"),
        pytest.param(_stroke((0, 0, 5), (0, 0, -5)), 5.0, id="straight down: half of it in the wood"),
        pytest.param(_stroke((0, 0, -5), (0, 0, 5)), 0.0, id="straight up does not cut"),
        pytest.param(_stroke((0, 0, 3), (3, 0, -1)), 5.0 / 4, id="a ramp: a quarter of it in the wood"),
        pytest.param(_stroke((0, 0, -5), (30, 0, -5), is_traverse=True), 0.0, id="a traverse"),
        pytest.param(
            _stroke((10, 0, -1), (-10, 0, -1), centre=(0.0, 0.0), sweep_rad=math.pi), 10 * math.pi, id="half a circle"
        ),
        pytest.param(
            _stroke((10, 0, -1), (10, 0, -4), centre=(0.0, 0.0), sweep_rad=-2 * math.pi),
            math.hypot(20 * math.pi, 3),
            id="a turn of a helix: sqrt((2 pi r)^2 + p^2)",
        ),
    ],
)
def test_the_length_in_wood_of_one_stroke(stroke: Stroke, expected_mm: float) -> None:
    found = dict(lengths_in_wood([stroke], 0.0))
    assert found.get(3, 0.0) == pytest.approx(expected_mm, abs=0.02)


def test_cutters_are_added_up_each_by_itself() -> None:
    other = Cutter(number=1, name="drill", kind="drill", diameter_mm=5.0, flute_length_mm=25.0, **REST)  # type: ignore[arg-type]
    line = _stroke((0, 0, -5), (30, 40, -5))
    hole = _stroke((0, 0, 0), (0, 0, -7), cutter=other)
    found = lengths_in_wood([line, hole, line], 0.0)
    assert [number for number, _ in found] == [1, 3]
    assert [mm for _, mm in found] == pytest.approx([7.0, 100.0], abs=0.02)
