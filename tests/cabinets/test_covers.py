"""Panels over cabinets and fillers beside them follow the cabinets' sizes."""

from dataclasses import replace

import pytest

from box_kit import job, order
from rabbetry.cabinets.model import PlainPart, Resolved
from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.job.choices import CoverOrder, FillerOrder
from rabbetry.job.model import CabinetKind, CabinetOrder

_BACK = CoverOrder(
    name="island back",
    covers=("I1", "I1-2"),
    side="back",
    stock="",
    to_floor=True,
    overhang_mm=(18.0, 25.0, 0.0, 5.0),
    note="",
)
_FILLER = FillerOrder(
    name="filler", beside="I1", width_mm=45.0, scribe_mm=20.0, stock="carcass", to_floor=False, note=""
)


def _resolved(wanted: CabinetOrder, *covers: CoverOrder, fillers: tuple[FillerOrder, ...] = ()) -> Resolved:
    return resolve_cabinets(replace(job(wanted), covers=covers, fillers=fillers))


def _part(wanted: CabinetOrder, cover: CoverOrder) -> PlainPart:
    (part,) = _resolved(wanted, cover).parts
    return part


_ISLAND = order(CabinetKind.BASE, name="I1", qty=2)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        pytest.param({}, (881.0, 1243.0), id="876 + 5 high, 2 x 600 + 18 + 25 across"),
        pytest.param({"to_floor": False}, (781.0, 1243.0), id="without the kick's 100"),
        pytest.param({"side": "left", "covers": ("I1",)}, (881.0, 623.0), id="an end: 580 deep + 18 + 25"),
        pytest.param({"side": "top"}, (1243.0, 585.0), id="a top: along the row, 580 + 5 deep"),
    ],
)
def test_a_panel_has_the_size_of_what_it_covers(changes: dict[str, object], expected: tuple[float, float]) -> None:
    part = _part(_ISLAND, replace(_BACK, **changes))  # type: ignore[arg-type]
    assert (part.length_mm, part.width_mm) == expected
    assert part.stock.name == "front"


def test_a_panel_follows_when_the_boxes_change() -> None:
    wide = _part(replace(_ISLAND, width_mm=650.0, height_mm=820.0), _BACK)
    assert (wide.length_mm, wide.width_mm) == (825.0, 1343.0)


def test_a_panel_covers_a_tall_cabinet_whole_though_it_is_two_boxes() -> None:
    tall = order(CabinetKind.TALL, name="I1", qty=2, height_mm=1900.0)
    part = _part(tall, replace(_BACK, side="right", covers=("I1",)))
    assert part.length_mm == 1905.0


def test_cabinets_of_unlike_height_are_said() -> None:
    found = resolve_cabinets(
        replace(
            job(order(CabinetKind.BASE, name="I1"), order(CabinetKind.BASE, name="I1-2", height_mm=820.0)),
            covers=(_BACK,),
        )
    ).findings
    assert [item.message for item in found] == [
        'panel "island back": its cabinets are 820 to 876 mm high; it follows the highest'
    ]


def test_a_filler_is_as_high_as_the_front_and_has_wood_to_scribe() -> None:
    (part,) = _resolved(_ISLAND, fillers=(_FILLER,)).parts
    assert (part.length_mm, part.width_mm, part.stock.name) == (776.0, 65.0, "carcass")
    assert part.note == "beside I1; 20 mm of its width to scribe"
    (down,) = _resolved(_ISLAND, fillers=(replace(_FILLER, to_floor=True),)).parts
    assert down.length_mm == 876.0
