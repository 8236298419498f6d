"""Totals of the lists, against a count by hand of the one-base-cabinet sample; like parts told from unlike ones."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest
from page_samples import door, panel, side

from rabbetry.console import job_of
from rabbetry.geometry.points import Transform
from rabbetry.page.totals import (
    banding_totals_csv,
    bands,
    grouped_cut_list_csv,
    hardware_totals,
    hardware_totals_csv,
    like_parts,
)
from rabbetry.page.wording import shop_fraction
from rabbetry.panels.model import Box, HardwareLine
from rabbetry.panels.shapes import moved
from rabbetry.pipeline import compile_job, lay_out, with_breakdown

ONE = Path(__file__).parents[2] / "sample_jobs" / "one-base-cabinet.toml"


def rows(text: str) -> list[dict[str, str]]:
    table = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len({len(row) for row in table}) == 1
    return [dict(zip(table[0], row, strict=True)) for row in table[1:]]


# By hand, from width 600, height 876, depth 580; sides 17.8, back 5.8, drawer 11.8 thick; dados and rabbets 6 deep.
PARTS_BY_HAND = """
count stock    length  width  what it is and the sum
1     carcass  876     580    left side
1     carcass  876     580    right side: mirrored, so not like the left one
1     carcass  613     597    door: 876 - 100 - 157 - 2 x 3 high, 600 - 3 wide
1     carcass  576.4   574.2  bottom: 600 - 35.6 + 12, 580 - 5.8
1     carcass  576.4   100    front stretcher, banded
1     carcass  576.4   100    rear stretcher, not banded
1     carcass  562.4   564.2  shelf: 564.4 - 2, 574.2 - 10
1     carcass  157     597    drawer front
2     drawer   550     112.2  drawer sides, alike: 142.2 - 30 high (858.2 - 876 + 3 + 157 = 142.2)
1     drawer   534.4   112.2  drawer's own front: 564.4 - 42 + 12
1     drawer   534.4   112.2  drawer's back, notched
1     thin     576.2   776    back: 564.4 + 12 - 0.2, 876 - 100
1     thin     534.2   538.2  drawer bottom: 522.4 + 12 - 0.2, 550 - 23.6 + 12 - 0.2
"""

HARDWARE_BY_HAND = {
    "cup hinge": 2,  # a door of 613 mm has two
    "hinge mounting plate": 2,
    "undermount slide, pair": 1,
    "shelf pin": 4,
    # bottom 4 holes a side (three gaps in 574.2 - 80), 2 stretchers 2 a side each, drawer sides 2 at each end
    "assembly screw": 2 * 4 + 2 * 2 * 2 + 2 * 2 * 2,
}

BANDED_BY_HAND_MM = [
    *(776, 776),  # sides in front, above the kick: 876 - 100
    *(576.4, 576.4, 562.4),  # bottom, front stretcher, shelf
    *(613, 613, 597, 597),  # door, all round
    *(157, 157, 597, 597),  # drawer front, all round
]


def test_the_grouped_cut_list_is_the_one_counted_by_hand() -> None:
    wanted = [line.split()[:4] for line in PARTS_BY_HAND.strip().splitlines()[1:]]
    found = rows(grouped_cut_list_csv(compile_job(job_of(ONE)).panels))
    counted = [(row["count"], row["stock"], float(row["length mm"]), float(row["width mm"])) for row in found]
    assert sorted(counted) == sorted((count, stock, float(a), float(b)) for count, stock, a, b in wanted)
    assert sum(int(row["count"]) for row in found) == 14
    (twins,) = [row for row in found if row["count"] == "2"]
    assert twins["panels"] == "B1 drawer 1 left side, B1 drawer 1 right side"
    assert (twins["holes"], twins["recesses"]) == ("4", "3")
    sides = {row["panels"]: row["banded edges"] for row in found if row["length mm"] == "876.000"}
    assert sides == {"B1 left side": "upper edge (front)", "B1 right side": "lower edge (front)"}


def test_the_hardware_is_the_one_counted_by_hand() -> None:
    found = hardware_totals(compile_job(job_of(ONE)).boxes)
    assert {item: count for item, _, count, _ in found} == HARDWARE_BY_HAND
    assert {cabinets for *_, cabinets in found} == {("B1",)}


def test_the_edge_banding_is_the_one_counted_by_hand() -> None:
    net = sum(BANDED_BY_HAND_MM)
    assert net == pytest.approx(7195.2)
    (band,) = bands(compile_job(job_of(ONE)).panels, allowance_mm=50, waste_percent=10)
    assert (band.stock, band.edges) == ("carcass", len(BANDED_BY_HAND_MM))
    assert band.net_mm == pytest.approx(net)
    assert band.cut_mm == pytest.approx(net + 13 * 50)
    assert band.buy_mm == pytest.approx((net + 13 * 50) * 1.1)
    (row,) = rows(banding_totals_csv([band]))
    assert (row["edges m"], row["with allowance m"], row["to buy m"]) == ("7.195", "7.845", "8.630")
    assert row["to buy ft"] == "28.313"  # 8.62972 m / 0.3048


def test_the_sheets_to_buy_are_those_counted_by_hand() -> None:
    """Carcass: 2 blanks, and 2 x 1218 + 3.2 is 2439.2 of the sheet's 2440; drawer and thin: one blank each."""
    job = job_of(ONE)
    found = with_breakdown(lay_out(job, compile_job(job).panels), job).breakdowns
    assert [(row.stock, row.needed, len(row.sheets)) for row in found] == [
        ("carcass", 2, 1),
        ("drawer", 1, 1),
        ("thin", 1, 1),
    ]


def groups(*panels: object) -> list[int]:
    return [len(group) for group in like_parts(panels)]  # type: ignore[arg-type]


def test_parts_are_alike_only_when_everything_about_their_cutting_is() -> None:
    one = side()
    twin = replace(one, id="B4 left side", cabinet="B4")
    assert groups(one, twin) == [2]
    assert groups(one, replace(twin, banded_edges=())) == [1, 1]
    assert groups(one, replace(twin, stock="ash")) == [1, 1]
    assert groups(one, replace(twin, features=twin.features[1:])) == [1, 1]
    assert groups(one, replace(twin, rear_features=twin.features[:1])) == [1, 1]
    assert groups(one, replace(twin, features=tuple(reversed(twin.features)))) == [2]


def test_the_other_hand_is_not_alike() -> None:
    one = side()
    mirror = Transform.mirror_y(one.width_mm)
    other = replace(
        one,
        id="B3 right side",
        features=tuple(moved(feature, mirror) for feature in one.features),
        outline=one.outline.moved(mirror),
    )
    assert groups(one, other) == [1, 1]


def test_hardware_of_several_cabinets_is_added_up() -> None:
    def box(name: str, pins: int) -> Box:
        line = HardwareLine(cabinet=name, item="shelf pin", count=pins, detail="5 mm")
        return Box(cabinet=name, panels=(), joints=(), fronts=(), hardware=(line,))

    (row,) = rows(hardware_totals_csv([box("B10", 4), box("B2", 8)]))
    assert (row["count"], row["cabinets"]) == ("12", "B2, B10")


def test_a_disc_of_no_straight_edge_takes_no_banding() -> None:
    assert bands([panel("P", 700, 500)], allowance_mm=50, waste_percent=10) == ()
    assert [row.edges for row in bands([door()], allowance_mm=0, waste_percent=0)] == [4]


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        pytest.param(590.55, "23 1/4", id="exact"),
        pytest.param(0.703 * 25.4, "~11/16", id="0.703 is 22.5/32, the nearest 32nd is 22"),
        pytest.param(25.4 / 64, "1/64", id="an exact 64th stays"),
        pytest.param(576.4, "~22 11/16", id="22.693 is 22 and 22.2/32"),
        pytest.param(25.39, "~1", id="next to a whole inch"),
    ],
)
def test_inches_are_told_as_people_read_them(mm: float, text: str) -> None:
    assert shop_fraction(mm) == text
