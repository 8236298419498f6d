"""Dividers: columns, the dados and screws that hold them, and shelf-pin rows level with those of the sides."""

from dataclasses import replace

import pytest

from box_kit import bores, cabinet_of, order, panel, recess, resolve
from rabbetry.fit.checks import check_fit
from rabbetry.geometry.points import Transform
from rabbetry.job.model import CabinetKind, CabinetOrder, Nailer
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Bore, Box, Panel
from rabbetry.panels.shapes import moved

THICK = 17.8
"""Thickness of the carcass's stock in these boxes, and 5.8 of the back's."""


def _box(kind: CabinetKind = CabinetKind.BASE, **changes: object) -> tuple[CabinetOrder, Box]:
    changes = {"width_mm": 900.0, "adjustable_shelves": 2, "dividers_mm": (None,), **changes}
    wanted = order(kind, **changes)
    return wanted, compile_cabinet(cabinet_of(wanted, carcass=THICK, back=5.8))


def _heights(part: Panel) -> list[float]:
    assert part.place is not None
    return sorted(part.place.point(bore.centre.x, bore.centre.y, 0.0)[2] for bore in bores(part, "shelf pin"))


def test_pin_rows_of_sides_and_divider_stand_level_though_their_own_zeros_differ() -> None:
    _, box = _box()
    left, right, divider = (panel(box, role) for role in ("left side", "right side", "divider 1"))
    assert len(_heights(divider)) == len(_heights(left)) > 10
    assert _heights(divider) == pytest.approx(_heights(left))
    assert _heights(divider) == pytest.approx(_heights(right))
    # The divider's zero is the floor of the bottom's dado: kick 100 + thickness 17.8 - depth 6 = 111.8 up the side.
    in_side = min(bore.centre.x for bore in bores(left, "shelf pin"))
    in_divider = min(bore.centre.x for bore in bores(divider, "shelf pin"))
    assert in_side - in_divider == pytest.approx(111.8)


def test_one_divider_halves_the_inside_width_and_the_shelves_follow() -> None:
    _, box = _box()
    # 900 - 3 x 17.8 = 846.6, halved 423.3, less 2 mm of play.
    lengths = [panel(box, f"column {c} shelf {n}").length_mm for c in (1, 2) for n in (1, 2)]
    assert lengths == pytest.approx([421.3] * 4)


def test_a_divider_reaches_from_the_bottoms_dado_to_the_stretchers() -> None:
    _, box = _box()
    divider = panel(box, "divider 1")
    # 876 - 17.8 (stretcher) - 111.8 (dado's floor) = 746.4; depth 580 - 5.8.
    assert (divider.length_mm, divider.width_mm) == pytest.approx((746.4, 574.2))
    x0, y0, x1, y1 = recess(panel(box, "bottom"), "divider 1 dado").outline.bounds
    assert (x1 - x0, y0, y1) == pytest.approx((18.0, 0.0, 574.2))
    assert panel(box, "front stretcher").face_up == "lower face"


def test_a_full_top_gets_its_dado_in_its_lower_face() -> None:
    _, box = _box(CabinetKind.WALL, width_mm=800.0, dividers_mm=(250.0,))
    top, divider = panel(box, "top"), panel(box, "divider 1")
    assert top.face_up == "lower face"
    assert not top.rear_features
    assert top.place is not None
    assert top.place.normal == (0.0, 0.0, -1.0)
    assert top.front_edge == "y1"
    assert top.banded_edges == ("y1",)
    x0, _, x1, _ = recess(top, "divider 1 dado").outline.bounds
    middle = top.place.point((x0 + x1) / 2, 0.0, 0.0)[0]
    assert middle == pytest.approx(THICK + 250.0 + THICK / 2)
    assert divider.place is not None
    assert divider.place.origin[0] == pytest.approx(THICK + 250.0)


def test_a_nailer_is_notched_out_of_the_divider() -> None:
    wanted, box = _box(CabinetKind.WALL, width_mm=800.0, nailer=Nailer.TOP)
    divider = panel(box, "divider 1")
    c = wanted.construction
    notch = (divider.length_mm * divider.width_mm) - abs(divider.outline.area)
    # The nailer and the clearance below and before it, and the part that the top's dado takes.
    high = c.nailer_width_mm + c.fit_clearance_mm + c.dado_depth_mm
    assert notch == pytest.approx(high * (THICK + c.fit_clearance_mm))


def test_through_pins_need_one_face_and_blind_ones_two() -> None:
    _, box = _box()
    divider = panel(box, "divider 1")
    assert not divider.rear_features
    assert all(bore.through for bore in bores(divider, "shelf pin"))
    _, box = _box(divider_pins="blind")
    divider = panel(box, "divider 1")
    pins = [feature for feature in divider.rear_features if isinstance(feature, Bore)]
    assert [pin.centre for pin in pins] == [bore.centre for bore in bores(divider, "shelf pin")]
    # 17.8 less 3 mm of wood between the floors, halved.
    assert [pin.depth_mm for pin in pins] == pytest.approx([7.4] * len(pins))


@pytest.mark.parametrize("pins", ["through", "blind"])
@pytest.mark.parametrize("kind", [CabinetKind.BASE, CabinetKind.WALL, CabinetKind.OPEN])
def test_a_divided_box_fits_together(kind: CabinetKind, pins: str) -> None:
    wanted, box = _box(kind, divider_pins=pins, nailer=Nailer.TOP, doors=0)
    report = check_fit(cabinet_of(wanted, carcass=THICK, back=5.8), box)
    assert report.findings == ()


def test_a_divider_with_its_pins_moved_is_found() -> None:
    wanted, box = _box()
    shifted = Transform.shift(1.0, 0.0)
    for role, code in (("divider 1", "fit-pins"), ("column 2 shelf 1", "fit-shelf")):

        def change(each: Panel, role: str = role) -> Panel:
            if each.role != role:
                return each
            if role == "divider 1":
                return replace(each, features=tuple(moved(item, shifted) for item in each.features))
            assert each.place is not None
            x, y, z = each.place.origin
            return replace(each, place=replace(each.place, origin=(x - 450.0, y, z)))

        broken = replace(box, panels=tuple(change(each) for each in box.panels))
        codes = {item.code for item in check_fit(cabinet_of(wanted, carcass=THICK, back=5.8), broken).findings}
        assert code in codes


def test_blind_holes_that_meet_are_found() -> None:
    wanted, box = _box(divider_pins="blind")
    deep = tuple(
        replace(each, rear_features=tuple(replace(item, depth_mm=11.0) for item in each.rear_features))  # type: ignore[call-arg]
        for each in box.panels
    )
    report = check_fit(cabinet_of(wanted, carcass=THICK, back=5.8), replace(box, panels=deep))
    assert {item.code for item in report.findings} == {"fit-two-faces"}


@pytest.mark.parametrize(
    ("kind", "changes", "words"),
    [
        pytest.param(CabinetKind.SINK, {"adjustable_shelves": 0}, "rails on edge", id="a sink's rails"),
        pytest.param(CabinetKind.BASE, {"drawer_front_heights_mm": (150.0,)}, "drawers run across", id="drawers"),
        pytest.param(CabinetKind.BASE, {"fixed_shelves": 1}, "fixed shelves run across", id="fixed shelves"),
        pytest.param(CabinetKind.BASE, {"dividers_mm": (50.0,)}, "column 1 would be 50.00 mm wide", id="narrow"),
        pytest.param(CabinetKind.BASE, {"dividers_mm": (500.0, 200.0)}, "column 2 would be", id="wrong order"),
        pytest.param(CabinetKind.BASE, {"dividers_mm": (860.0,)}, "column 2 would be", id="outside"),
    ],
)
def test_dividers_that_cannot_stand_are_refused(kind: CabinetKind, changes: dict[str, object], words: str) -> None:
    wanted = order(kind, **{"width_mm": 900.0, "adjustable_shelves": 1, "dividers_mm": (None,), **changes})
    resolved = resolve(wanted, carcass=THICK, back=5.8)
    errors = [item for item in resolved.findings if item.severity == "error"]
    assert {item.code for item in errors} == {"divider-not-possible"}
    assert any(words in item.message for item in errors)
