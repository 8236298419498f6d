"""How far parts keep from clamps: the cut, the collet nut or the dust shoe, whichever reaches farther."""

import pytest
from sheet_cases import job_of

from rabbetry.sheets.keepout import keep_outs
from rabbetry.shop.model import Clamp

# The mill sticks out 60 mm; through 17.8 mm of stock and 0.3 mm more its nut is 41.9 mm above the blank's top.
DEPTH_MM = 17.8 + 0.3


@pytest.mark.parametrize(
    ("height_mm", "machine", "reach_x", "reach_y"),
    [
        pytest.param(25.0, {}, 8.35, 8.35, id="low clamp: only the cut"),
        pytest.param(36.0, {}, 8.35, 8.35, id="margin still below the nut"),
        pytest.param(37.0, {}, (8.35 + 30) / 2, (8.35 + 30) / 2, id="margin reaches the nut"),
        pytest.param(
            25.0, {"dust_shoe_mm": (90.0, 110.0), "dust_shoe_height_mm": 40.0}, 49.175, 59.175, id="low dust shoe"
        ),
        pytest.param(
            25.0, {"dust_shoe_mm": (90.0, 110.0), "dust_shoe_height_mm": 50.0}, 8.35, 8.35, id="shoe above the clamp"
        ),
        pytest.param(25.0, {"dust_shoe_height_mm": 40.0}, 8.35, 8.35, id="no dust shoe"),
    ],
)
def test_parts_keep_as_far_from_a_clamp_as_the_spindle_needs(
    height_mm: float, machine: dict[str, object], reach_x: float, reach_y: float
) -> None:
    clamp = Clamp(name="c", x_mm=100.0, y_mm=200.0, length_x_mm=60.0, length_y_mm=40.0, height_mm=height_mm)
    job = job_of(clamps=(clamp,), clamp_margin_mm=5.0, **machine)  # type: ignore[arg-type]
    (box,) = keep_outs(job.shop, thickness_mm=DEPTH_MM - 0.3, spacing_mm=8.35)
    assert box == pytest.approx((95 - reach_x, 195 - reach_y, 165 + reach_x, 245 + reach_y))
