"""Faults planted in boxes of every construction: each must be found, and the sound box must raise nothing."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from test_fit_planted import deeper, displaced, longer, shifted, thicker, with_feature, with_panel

from box_kit import WORKED_EXAMPLE, cabinet_of, order
from rabbetry.cabinets.model import Cabinet
from rabbetry.fit.checks import check_fit
from rabbetry.geometry.curves import rectangle
from rabbetry.job.model import CabinetKind, Nailer
from rabbetry.job.words import BackPlace, BottomWord, FinishedEnd, LevelJoint, TopWord
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Box, Feature, Panel, Recess

_SHELVES = {"fixed_shelves": 1, "height_mm": 1200.0}
_JOINTS = ("bottom_joint", "top_joint", "shelf_joint")


def _cabinet(kind: CabinetKind = CabinetKind.BASE, **changes: Any) -> Cabinet:
    of_order = changes.pop("of_order", {})
    return cabinet_of(order(kind, **_SHELVES | of_order, construction=replace(WORKED_EXAMPLE, **changes)))


def _all(joint: LevelJoint) -> dict[str, LevelJoint]:
    return dict.fromkeys(_JOINTS, joint)


TONGUE = _cabinet(**_all(LevelJoint.TONGUE))
STOPPED = _cabinet(**_all(LevelJoint.STOPPED_DADO))
BUTT = _cabinet(**_all(LevelJoint.BUTT))
GROOVE = _cabinet(back=BackPlace.GROOVE)
APPLIED = _cabinet(back=BackPlace.APPLIED)
NAILED = _cabinet(CabinetKind.WALL, of_order={"back": False, "nailer": Nailer.BOTH})
SCRIBED = _cabinet(finished=FinishedEnd.BOTH, scribe_mm=25.0, top=TopWord.ON_EDGE)
BANDED = _cabinet(band_thickness_mm=2.0, **_all(LevelJoint.TONGUE), top=TopWord.FULL, bottom=BottomWord.RAISED)
ALL = {
    "tongue": TONGUE,
    "stopped dado": STOPPED,
    "butt": BUTT,
    "groove": GROOVE,
    "applied": APPLIED,
    "nailers": NAILED,
    "scribe": SCRIBED,
    "bands": BANDED,
}


def without(role: str, name: str) -> Callable[[Box], Box]:
    return lambda box: with_feature(box, role, name, lambda _: None)


def cut(role: str, name: str, change: Callable[[Feature], Feature]) -> Callable[[Box], Box]:
    return lambda box: with_feature(box, role, name, change)


def squared_off(role: str) -> Callable[[Box], Box]:
    """The panel without its notches."""
    return lambda box: with_panel(
        box, role, lambda each: replace(each, outline=rectangle(0.0, 0.0, each.length_mm, each.width_mm))
    )


def wider(by: float) -> Callable[[Feature], Feature]:
    """A tongue rabbet as wide as before and `by` more: the shoulder stands off the side."""

    def change(feature: Feature) -> Feature:
        assert isinstance(feature, Recess)
        x0, y0, x1, y1 = feature.outline.bounds
        low, high = (x0, x1 + by) if x0 == 0.0 else (x0 - by, x1)
        return replace(feature, outline=rectangle(low, y0, high - low, y1 - y0))

    return change


def swapped(role: str, other: str) -> Callable[[Box], Box]:
    """One panel cut with another's features."""

    def plant(box: Box) -> Box:
        features = next(each.features for each in box.panels if each.role == other)
        return with_panel(box, role, lambda each: replace(each, features=features))

    return plant


def gone(role: str) -> Callable[[Box], Box]:
    return lambda box: replace(box, panels=tuple(each for each in box.panels if each.role != role))


def less_wide(role: str, by: float) -> Callable[[Box], Box]:
    def change(each: Panel) -> Panel:
        outline = rectangle(0.0, 0.0, each.length_mm, each.width_mm - by)
        return replace(each, width_mm=each.width_mm - by, outline=outline)

    return lambda box: with_panel(box, role, change)


FAULTS: list[tuple[str, Cabinet, Callable[[Box], Box], set[str]]] = [
    (
        "a tongue's dado 1 mm low",
        TONGUE,
        cut("left side", "bottom dado", shifted(-1.0)),
        {"fit-joint", "fit-interference"},
    ),
    (
        "a tongue 0.5 mm too thick",
        TONGUE,
        cut("bottom", "left tongue rabbet", deeper(-0.5)),
        {"fit-joint", "fit-interference"},
    ),
    ("a tongue 0.5 mm too thin", TONGUE, cut("fixed shelf 1", "right tongue rabbet", deeper(0.5)), {"fit-joint"}),
    (
        "a tongue forgotten",
        TONGUE,
        without("fixed shelf 1", "left tongue rabbet"),
        {"fit-joint", "fit-seat", "fit-interference"},
    ),
    ("a shoulder 1 mm off the side", TONGUE, cut("bottom", "left tongue rabbet", wider(1.0)), {"fit-seat"}),
    (
        "a shoulder 1 mm within the side",
        TONGUE,
        cut("bottom", "left tongue rabbet", wider(-1.0)),
        {"fit-seat", "fit-interference"},
    ),
    (
        "a tongue's dado without its depth clearance",
        TONGUE,
        cut("left side", "bottom dado", deeper(-0.4)),
        {"fit-seat"},
    ),
    (
        "the depth clearance used twice: in the dado and in the panel",
        TONGUE,
        longer("fixed shelf 1", -0.4),
        {"fit-seat"},
    ),
    (
        "a tongue's dado forgotten",
        TONGUE,
        without("right side", "fixed shelf 1 dado"),
        {"fit-joint", "fit-interference"},
    ),
    ("a tongued bottom without notches", TONGUE, squared_off("bottom"), {"fit-interference"}),
    ("a tongued stretcher without notches", TONGUE, squared_off("front stretcher"), {"fit-interference"}),
    ("a notch missing at a stopped dado", STOPPED, squared_off("fixed shelf 1"), {"fit-interference"}),
    (
        "a stopped dado 1 mm low",
        STOPPED,
        cut("left side", "fixed shelf 1 dado", shifted(-1.0)),
        {"fit-joint", "fit-interference"},
    ),
    (
        "a stopped dado that ends 20 mm too far back",
        STOPPED,
        cut("right side", "fixed shelf 1 dado", shifted(0.0, 20.0)),
        {"fit-interference"},
    ),
    ("a stopped dado half a millimetre too deep", STOPPED, cut("left side", "bottom dado", deeper(0.5)), {"fit-seat"}),
    ("a butted bottom as long as a seated one", BUTT, longer("bottom", 12.0), {"fit-seat", "fit-interference"}),
    ("a butted shelf 1 mm too short", BUTT, longer("fixed shelf 1", -1.0), {"fit-seat"}),
    (
        "a back's groove 1 mm too far forward",
        GROOVE,
        cut("right side", "back groove", shifted(0.0, -1.0)),
        {"fit-joint", "fit-interference"},
    ),
    ("a back's groove 1 mm too shallow", GROOVE, cut("left side", "back groove", deeper(-1.0)), {"fit-seat"}),
    ("a back 0.5 mm too thick for its groove", GROOVE, thicker("back", 0.5), {"fit-joint", "fit-interference"}),
    ("a back's groove forgotten", GROOVE, without("left side", "back groove"), {"fit-joint", "fit-interference"}),
    ("a bottom that reaches under the back", GROOVE, less_wide("bottom", -5.8), {"fit-interference"}),
    ("an applied back 1 mm thinner than measured", APPLIED, thicker("back", -1.0), {"fit-outside"}),
    ("an applied back 2 mm to the left", APPLIED, displaced("back", -2.0, 0, 0), {"fit-outside"}),
    ("an applied back 1 mm off the box", APPLIED, displaced("back", 0, 1.0, 0), {"fit-outside", "fit-seat"}),
    (
        "an applied back whose screws miss the side",
        APPLIED,
        lambda box: with_feature(box, "back", "left pilot 2", shifted(20.0)),
        {"fit-bore"},
    ),
    (
        "sides as deep as the box, and the back on their rear edges",
        APPLIED,
        less_wide("right side", -5.8),
        {"fit-interference"},
    ),
    ("a lower nailer 1 mm too long", NAILED, longer("lower nailer", 1.0), {"fit-seat", "fit-interference"}),
    ("a lower nailer left out", NAILED, gone("lower nailer"), {"fit-joint"}),
    ("a finished side without its scribe", SCRIBED, less_wide("right side", 25.0), {"fit-joint", "fit-outside"}),
    ("a rear rail in line with the scribe's edge", SCRIBED, displaced("rear rail", 0, 25.0, 0), {"fit-joint"}),
    ("a side cut as if it were not banded", BANDED, swapped("right side", "left side"), {"fit-interference"}),
    ("a panel cut twice for its band", BANDED, less_wide("left side", 2.0), {"fit-outside"}),
    ("a tongue's dado 1 mm low in a banded side", BANDED, cut("right side", "top dado", shifted(-1.0)), {"fit-joint"}),
]


@pytest.mark.parametrize("name", sorted(ALL))
def test_the_sound_box_raises_nothing(name: str) -> None:
    report = check_fit(ALL[name], compile_cabinet(ALL[name]))
    assert report.findings == ()
    assert report.checks > 50


@pytest.mark.parametrize(
    ("cabinet", "plant", "codes"),
    [pytest.param(cabinet, plant, codes, id=name) for name, cabinet, plant, codes in FAULTS],
)
def test_a_fault_planted_in_a_construction_is_found(
    cabinet: Cabinet, plant: Callable[[Box], Box], codes: set[str]
) -> None:
    found = {item.code for item in check_fit(cabinet, plant(compile_cabinet(cabinet))).findings}
    assert found >= codes


def test_a_shoulder_that_is_off_says_by_how_much() -> None:
    box = cut("bottom", "left tongue rabbet", wider(1.0))(compile_cabinet(TONGUE))
    messages = [item.message for item in check_fit(TONGUE, box).findings]
    assert messages == ["B1 bottom: the shoulder of left tongue rabbet stands 1.000 mm off B1 left side's face"]


def test_a_thick_tongue_is_named_with_its_measure() -> None:
    box = cut("bottom", "left tongue rabbet", deeper(-0.5))(compile_cabinet(TONGUE))
    messages = [item.message for item in check_fit(TONGUE, box).findings if item.code == "fit-joint"]
    assert messages == [
        "B1 left side: bottom dado leaves -0.300 mm beside B1 bottom (9.500 mm thick) where 0.200 mm is right; "
        "its sides are 0.100, -0.400 mm away"
    ]
