"""Columns with fronts of their own: clean in every construction, and each fault planted in one is found."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from test_fit_planted import displaced, longer, shifted, with_panel

from box_kit import WORKED_EXAMPLE, cabinet_of, order, resolve
from rabbetry.cabinets.model import Cabinet
from rabbetry.fit.checks import check_fit
from rabbetry.geometry.points import Transform
from rabbetry.job.choices import FrontOrder
from rabbetry.job.model import CabinetKind, Mount, Nailer
from rabbetry.job.words import BackPlace, BottomWord, LevelJoint, TopWord
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Bore, Box, Feature, Panel, Recess
from rabbetry.panels.shapes import moved

_FRONT = st.builds(
    FrontOrder,
    fill=st.sampled_from(("drawer", "door", "open", "false front")),
    height_mm=st.sampled_from((0.0, 0.0, 157.0)),
    doors=st.integers(1, 2),
    hinge=st.sampled_from(("left", "right")),
    below=st.sampled_from(("", "shelf", "rail")),
)
_DOOR = st.builds(
    FrontOrder,
    fill=st.sampled_from(("door", "open")),
    hinge=st.sampled_from(("left", "right")),
    adjustable_shelves=st.integers(0, 2),
    fixed_shelves=st.integers(0, 1),
)
_COLUMN = st.one_of(st.lists(_FRONT, min_size=1, max_size=3).map(tuple), st.tuples(_DOOR), st.tuples(_FRONT, _DOOR))
_JOINTS = [joint for joint in LevelJoint if joint is not LevelJoint.RABBET]


@settings(max_examples=80, deadline=None)
@given(
    fronts=st.lists(_COLUMN, min_size=2, max_size=3),
    words=st.fixed_dictionaries(
        {
            "bottom_joint": st.sampled_from(_JOINTS),
            "shelf_joint": st.sampled_from(_JOINTS),
            "bottom": st.sampled_from(BottomWord),
            "back": st.sampled_from(BackPlace),
            "top": st.sampled_from((TopWord.BY_KIND, TopWord.FULL, TopWord.STRETCHERS)),
            "band_thickness_mm": st.sampled_from((0.0, 1.0)),
            "fit_clearance_mm": st.sampled_from((0.0, 0.2, 0.5)),
            "dado_depth_mm": st.sampled_from((4.0, 6.0, 8.0)),
        }
    ),
    kind=st.sampled_from((CabinetKind.BASE, CabinetKind.WALL, CabinetKind.DRAWERS, CabinetKind.OPEN)),
    mount=st.sampled_from(Mount),
    pins=st.sampled_from(("through", "blind")),
    nailer=st.sampled_from(Nailer),
    width=st.integers(600, 1200),
    carcass=st.integers(160, 190),
    side=st.integers(160, 190),
)
def test_columns_are_refused_before_they_are_built_or_fit_together(
    fronts: list[tuple[FrontOrder, ...]], words: dict[str, object], kind: CabinetKind, mount: Mount, pins: str,
    nailer: Nailer, width: int, carcass: int, side: int,
) -> None:  # fmt: skip
    wanted = order(
        kind, width_mm=float(width), columns=tuple(fronts), dividers_mm=(None,) * (len(fronts) - 1), mount=mount,
        divider_pins=pins, nailer=nailer, side_stock="side", back=words["back"] is not BackPlace.NONE,
        construction=replace(WORKED_EXAMPLE, **words),
    )  # fmt: skip
    found = resolve(wanted, carcass=carcass / 10, side=side / 10)
    assert bool([item for item in found.findings if item.severity == "error"]) != bool(found.cabinets)
    for cabinet in found.cabinets:
        report = check_fit(cabinet, compile_cabinet(cabinet))
        # A hole may meet a dado of the other face: that is an error of its own, told with what to do.
        faults = [item for item in report.findings if item.severity == "error" and "holds nothing" not in item.message]
        assert faults == []


@pytest.fixture(scope="module")
def cabinet() -> Cabinet:
    """Drawers over a door with both sorts of shelves, a column of drawers, and a door hung on the second divider."""
    return cabinet_of(
        order(
            CabinetKind.BASE,
            width_mm=1200.0,
            height_mm=1000.0,
            nailer=Nailer.TOP,
            dividers_mm=(None, None),
            columns=(
                (
                    FrontOrder(fill="drawer", height_mm=157.0),
                    FrontOrder(fill="door", adjustable_shelves=1, fixed_shelves=1),
                ),
                (FrontOrder(fill="drawer"), FrontOrder(fill="drawer"), FrontOrder(fill="drawer")),
                (FrontOrder(fill="door", fixed_shelves=1, adjustable_shelves=1),),
            ),
        )
    )


def of_face(role: str, starts: str, change: Callable[[Feature], Feature], *, rear: bool) -> Callable[[Box], Box]:
    """Features of one face of a panel changed."""

    def changed(each: Panel) -> Panel:
        face = each.rear_features if rear else each.features
        assert any(item.name.startswith(starts) for item in face), [item.name for item in face]
        made = tuple(change(item) if item.name.startswith(starts) else item for item in face)
        return replace(each, rear_features=made) if rear else replace(each, features=made)

    return lambda box: with_panel(box, role, changed)


def deeper(by: float) -> Callable[[Feature], Feature]:
    def change(feature: Feature) -> Feature:
        assert isinstance(feature, Bore | Recess)
        return replace(feature, depth_mm=feature.depth_mm + by)

    return change


def faces_swapped(role: str) -> Callable[[Box], Box]:
    """What belongs to the one face cut into the other."""
    return lambda box: with_panel(
        box, role, lambda each: replace(each, features=each.rear_features, rear_features=each.features)
    )


def turned_end_for_end(role: str) -> Callable[[Box], Box]:
    def change(each: Panel) -> Panel:
        flip = Transform(-1.0, 0.0, 0.0, 1.0, each.length_mm, 0.0)
        return replace(each, features=tuple(moved(item, flip) for item in each.features))

    return lambda box: with_panel(box, role, change)


def without(role: str, starts: str, *, rear: bool) -> Callable[[Box], Box]:
    def change(each: Panel) -> Panel:
        face = each.rear_features if rear else each.features
        kept = tuple(item for item in face if not item.name.startswith(starts))
        assert len(kept) < len(face)
        return replace(each, rear_features=kept) if rear else replace(each, features=kept)

    return lambda box: with_panel(box, role, change)


FAULTS = [
    pytest.param(of_face("divider 1", "column 1 fixed shelf 1 dado", shifted(1.0), rear=False),
                 {"fit-joint", "fit-interference"}, id="a divider's dado 1 mm high"),
    pytest.param(of_face("divider 1", "column 1 fixed shelf 1 dado", deeper(1.0), rear=False), {"fit-seat"},
                 id="a divider's dado 1 mm too deep"),
    pytest.param(of_face("divider 2", "column 3 fixed shelf 1 dado", shifted(-2.0), rear=True),
                 {"fit-joint", "fit-interference"}, id="a dado of the right face 2 mm low"),
    pytest.param(of_face("divider 1", "column 2 drawer 1 slide", shifted(32.0), rear=True), {"fit-slide"},
                 id="slides of the right face 32 mm up"),
    pytest.param(of_face("divider 2", "column 2 drawer 3 slide", shifted(0.0, 5.0), rear=False), {"fit-slide"},
                 id="slides of the left face 5 mm back"),
    pytest.param(of_face("divider 2", "plate", shifted(-3.0), rear=True), {"fit-hinge"}, id="plates 3 mm low"),
    pytest.param(of_face("divider 1", "front pin", shifted(1.0), rear=False), {"fit-pins"}, id="pins 1 mm high"),
    pytest.param(faces_swapped("divider 1"), {"fit-slide", "fit-pins", "fit-interference"}, id="the wrong faces"),
    pytest.param(turned_end_for_end("divider 2"), {"fit-slide"}, id="a divider upside down"),
    pytest.param(without("divider 2", "column 3 fixed shelf 1 dado", rear=True), {"fit-joint", "fit-interference"},
                 id="a dado forgotten in the second set-up"),
    pytest.param(without("divider 1", "column 2 drawer 2", rear=True), {"fit-slide"}, id="slides forgotten"),
    pytest.param(longer("column 1 fixed shelf 1", 1.0), {"fit-seat", "fit-interference"}, id="a shelf 1 mm long"),
    pytest.param(displaced("column 3 fixed shelf 1", 0, 3, 0), {"fit-joint"}, id="a shelf 3 mm back"),
    pytest.param(displaced("column 1 shelf 1", 0, 0, 10), {"fit-shelf"}, id="a shelf between two pin levels"),
    pytest.param(displaced("column 2 drawer 1 right side", 3, 0, 0), {"fit-drawer"}, id="a drawer 3 mm wide"),
    pytest.param(displaced("divider 1", 2, 0, 0), {"fit-joint"}, id="a divider beside its dado"),
    pytest.param(of_face("column 3 door", "hinge 1 cup", shifted(4.0), rear=False), {"fit-hinge"}, id="a cup 4 mm up"),
]  # fmt: skip


@pytest.mark.parametrize(("plant", "codes"), FAULTS)
def test_a_fault_planted_in_a_column_is_found(cabinet: Cabinet, plant: Callable[[Box], Box], codes: set[str]) -> None:
    box = compile_cabinet(cabinet)
    assert [item for item in check_fit(cabinet, box).findings if item.severity == "error"] == []
    assert {item.code for item in check_fit(cabinet, plant(box)).findings} >= codes
