"""A panel too short, too long or shifted along the recess it enters, in boxes of many constructions: each is found."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from test_construction_planted import ALL, GROOVE, STOPPED
from test_corner_and_ladder import corner_of, corner_order

from box_kit import WORKED_EXAMPLE, cabinet_of, order, panel
from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding
from rabbetry.fit.checks import check_corner_fit, check_fit
from rabbetry.geometry.curves import Contour, polygon
from rabbetry.job.model import CabinetKind, Mount
from rabbetry.panels.compile import compile_cabinet, compile_corner
from rabbetry.panels.model import Box, Panel, Recess
from rabbetry.shop.hardware import SlideMount

OFF = 3.0

INSET = cabinet_of(order(CabinetKind.BASE, doors=2, fixed_shelves=1, height_mm=1200.0, mount=Mount.INSET))
DIVIDED = cabinet_of(order(CabinetKind.WALL, dividers_mm=(None,), width_mm=800.0))
SIDE_MOUNT = replace(WORKED_EXAMPLE, fittings=replace(WORKED_EXAMPLE.fittings, slide_mount=SlideMount.SIDE))
DRAWERS = cabinet_of(order(CabinetKind.DRAWERS, drawer_front_heights_mm=(0.0, 0.0), construction=SIDE_MOUNT))

LEVELS = ("bottom", "front stretcher", "rear stretcher", "top", "fixed shelf 1", "divider 1", "drawer 1 bottom")


def _mapped(contour: Contour, change: Callable[[float], float]) -> Contour:
    return polygon([(point.x, change(point.y)) for point in contour.flattened(0.01)])


def stretched(role: str, low: float, high: float) -> Callable[[Box], Box]:
    """The panel with its edge at y = 0 moved by `low` and its other edge by `high`, and all that ends there."""

    def change(each: Panel) -> Panel:
        if each.role != role:
            return each
        width = each.width_mm

        def there(y: float) -> float:
            return y + low if y < 1e-6 else y + high if y > width - 1e-6 else y

        assert each.place is not None
        moved = tuple(
            replace(item, outline=_mapped(item.outline, lambda y: there(y) - low)) if isinstance(item, Recess) else item
            for item in each.features
        )
        return replace(
            each,
            width_mm=width + high - low,
            outline=_mapped(each.outline, lambda y: there(y) - low),
            features=moved,
            place=replace(each.place, origin=each.place.point(0.0, low, 0.0)),
        )

    return lambda box: replace(box, panels=tuple(change(each) for each in box.panels))


FAULTS = {
    "short in front": (OFF, 0.0),
    "short behind": (0.0, -OFF),
    "long in front": (-OFF, 0.0),
    "long behind": (0.0, OFF),
    "shifted back": (OFF, OFF),
    "shifted forward": (-OFF, -OFF),
}
BOXES = {name: box for name, box in ALL.items() if name != "butt"} | {
    "inset": INSET,
    "divided": DIVIDED,
    "side-mount drawers": DRAWERS,
}


def _ends(found: tuple[Finding, ...], role: str) -> list[str]:
    return [item.message for item in found if item.code == "fit-joint" and f" {role} ends " in item.message]


def _overlaps(found: tuple[Finding, ...], role: str) -> list[str]:
    """What fills another panel's room, as a panel too long behind fills the back's."""
    return [item.message for item in found if item.code == "fit-interference" and f" {role} " in f"{item.message} "]


CASES = [
    pytest.param(cabinet, role, id=f"{name}: {role}")
    for name, cabinet in BOXES.items()
    for role in LEVELS
    if any(each.role == role for each in compile_cabinet(cabinet).panels)
]


@pytest.mark.parametrize(("cabinet", "role"), CASES)
def test_a_panel_off_along_its_joint_is_found(cabinet: Cabinet, role: str) -> None:
    box = compile_cabinet(cabinet)
    assert check_fit(cabinet, box).findings == ()
    missed = []
    for name, (low, high) in FAULTS.items():
        found = check_fit(cabinet, stretched(role, low, high)(box)).findings
        told = _ends(found, role) or (name.startswith("long") and _overlaps(found, role))
        missed += [] if told else [name]
    assert missed == []


@pytest.mark.parametrize("words", [{}, {"mount": Mount.INSET}], ids=["overlay", "inset"])
@pytest.mark.parametrize("role", ["bottom", "top", "fixed shelf 1"])
def test_an_l_off_along_either_side_is_found(role: str, words: dict[str, Any]) -> None:
    corner = corner_of(corner_order(fixed_shelves=1, **words))
    box = compile_corner(corner)
    assert check_corner_fit(corner, box).findings == ()
    for dx, dy, hand in ((OFF, 0.0, "left"), (-OFF, 0.0, "left"), (0.0, OFF, "right"), (0.0, -OFF, "right")):

        def change(each: Panel, by: tuple[float, float] = (dx, dy)) -> Panel:
            if each.role != role or each.place is None:
                return each
            x, y, z = each.place.origin
            return replace(each, place=replace(each.place, origin=(x + by[0], y + by[1], z)))

        broken = replace(box, panels=tuple(change(each) for each in box.panels))
        told = _ends(check_corner_fit(corner, broken).findings, role)
        assert any(f"N1 {hand} side" in message for message in told)


def test_a_tenth_too_short_is_found_and_said_by_how_much() -> None:
    found = check_fit(STOPPED, stretched("bottom", 0.1, 0.0)(compile_cabinet(STOPPED))).findings
    assert [item.message for item in found if item.code == "fit-joint"] == [
        f"B1 bottom ends 0.100 mm from the edge of B1 {hand} side along its bottom dado; it should reach it"
        for hand in ("left", "right")
    ]


def test_wood_behind_a_groove_is_no_gap() -> None:
    """The shelf ends where the back begins: 5.8 of back and 12 of wood before the side's rear edge."""
    box = compile_cabinet(GROOVE)
    shelf = panel(box, "fixed shelf 1")
    assert shelf.width_mm == pytest.approx(580 - 12 - 5.8)
    short = check_fit(GROOVE, stretched("fixed shelf 1", 0.0, -0.5)(box)).findings
    assert _ends(short, "fixed shelf 1")[0] == (
        "B1 fixed shelf 1 ends 18.300 mm from the edge of B1 left side along its fixed shelf 1 dado; 12.000 mm is right"
    )
