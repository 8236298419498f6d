"""Every row of the hardware tables makes boxes that fit, and faults planted in what the hardware asks for are found."""

from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from box_kit import WORKED_EXAMPLE, cabinet_of, order, resolve
from rabbetry.cabinets.model import Cabinet
from rabbetry.files import load_tables
from rabbetry.fit.checks import check_fit
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.hardware import CHOICES, lay_rows
from rabbetry.job.model import CabinetKind, CabinetOrder, Construction, Faces, Mount
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Bore, Box, Feature, Panel
from rabbetry.panels.shapes import Rect, moved, notched_rectangle
from rabbetry.shop.read import read_tables

HARDWARE = read_tables(load_tables()).hardware


def with_rows(construction: Construction = WORKED_EXAMPLE, **names: str) -> Construction:
    """The settings with the named rows of the shipped tables laid over them."""
    return lay_rows(construction, names, HARDWARE)


def _sizes(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: round(value, 2))


_ROWS = st.fixed_dictionaries(
    {}, optional={key: st.sampled_from([row.name for row in rows(HARDWARE)]) for key, rows in CHOICES.items()}
)
_FITTED: st.SearchStrategy[Construction] = st.builds(
    lambda names, join, single: replace(with_rows(**names, join_boxes=join), **single),
    _ROWS,
    st.sampled_from(("none", "left", "right", "both")),
    st.fixed_dictionaries(
        {},
        optional={
            "hinge_pitch_mm": st.just(32.0),
            "pin_end_margin_mm": _sizes(40, 120),
            "drawer_rabbet_depth_mm": st.just(0.0),
            "drawer_hook_depth_mm": st.sampled_from((0.0, 10.0)),
        },
    ),
)


@st.composite
def _orders(draw: st.DrawFn) -> CabinetOrder:
    kind = draw(st.sampled_from((CabinetKind.BASE, CabinetKind.DRAWERS, CabinetKind.WALL)))
    return order(
        kind,
        width_mm=draw(_sizes(250, 900)),
        height_mm=draw(_sizes(500, 2200)),
        depth_mm=draw(_sizes(300, 650)),
        doors=0 if kind is CabinetKind.DRAWERS else draw(st.integers(0, 2)),
        drawer_front_heights_mm=() if kind is CabinetKind.WALL else draw(st.sampled_from(((), (0.0,), (150.0, 0.0)))),
        fixed_shelves=draw(st.integers(0, 1)),
        adjustable_shelves=draw(st.integers(0, 2)),
        construction=draw(_FITTED),
    )


@settings(max_examples=60, deadline=None)
@given(wanted=_orders(), drawer=_sizes(11, 16), drawer_bottom=_sizes(4, 13))
def test_a_box_with_rows_of_the_tables_is_refused_or_fits(wanted: CabinetOrder, **thicknesses: float) -> None:
    resolved = resolve(wanted, **thicknesses)
    errors = [item for item in resolved.findings if item.severity == "error"]
    assert bool(errors) != bool(resolved.cabinets)
    for cabinet in resolved.cabinets:
        report = check_fit(cabinet, compile_cabinet(cabinet))
        assert report.findings == ()


def _features(box: Box, role: str, change: Callable[[Feature], Feature | None]) -> Box:
    def changed(each: Panel) -> Panel:
        kept = (change(item) for item in each.features)
        return replace(each, features=tuple(item for item in kept if item is not None))

    assert any(each.role == role for each in box.panels), role
    return replace(box, panels=tuple(changed(each) if each.role == role else each for each in box.panels))


def _shift(name: str, dx: float, dy: float) -> Callable[[Feature], Feature | None]:
    return lambda item: moved(item, Transform.shift(dx, dy)) if item.name == name else item


def _without(name: str) -> Callable[[Feature], Feature | None]:
    return lambda item: None if item.name == name else item


def _codes(cabinet: Cabinet, box: Box) -> set[str]:
    return {item.code for item in check_fit(cabinet, box).findings}


@pytest.fixture(scope="module")
def under() -> Cabinet:
    """Drawers on undermount slides with guide holes for their hooks, screwed to the box on the right."""
    rows = with_rows(slides="undermount, sides to 16 mm", join_boxes="right")
    return cabinet_of(order(CabinetKind.DRAWERS, construction=rows))


@pytest.fixture(scope="module")
def beside() -> Cabinet:
    """Drawers on side-mount slides."""
    return cabinet_of(order(CabinetKind.DRAWERS, construction=with_rows(slides="side-mount, 25.4 mm")))


@pytest.mark.parametrize(
    ("role", "change", "code"),
    [
        pytest.param("drawer 1 left side", _shift("slide mark 1", 0.0, 1.0), "fit-slide", id="mark 1 mm high"),
        pytest.param("drawer 2 right side", _shift("slide mark 2", 1.0, 0.0), "fit-slide", id="mark 1 mm forward"),
        pytest.param("right side", _shift("drawer 3 slide 1", 1.0, 0.0), "fit-slide", id="carcass hole 1 mm high"),
    ],
)
def test_a_side_mount_slide_out_of_line_is_found(
    beside: Cabinet, role: str, change: Callable[[Feature], Feature | None], code: str
) -> None:
    box = compile_cabinet(beside)
    assert _codes(beside, box) == set()
    assert code in _codes(beside, _features(box, role, change))


@pytest.mark.parametrize(
    ("role", "change", "code"),
    [
        pytest.param("drawer 1 back", _shift("hook guide 1", 1.0, 0.0), "fit-slide", id="hook 1 mm in"),
        pytest.param("drawer 1 back", _shift("hook guide 2", 0.0, 1.0), "fit-slide", id="hook 1 mm up"),
        pytest.param("drawer 1 back", _without("hook guide 2"), "fit-slide", id="one hook of two"),
        pytest.param("right side", _without("box screw 1"), "fit-bore", id="a box screw missing"),
        pytest.param("right side", _shift("box screw 2", 0.0, 1.0), "fit-bore", id="a box screw 1 mm off"),
    ],
)
def test_a_hole_for_hardware_off_its_place_is_found(
    under: Cabinet, role: str, change: Callable[[Feature], Feature | None], code: str
) -> None:
    box = compile_cabinet(under)
    assert _codes(under, box) == set()
    assert code in _codes(under, _features(box, role, change))


def test_a_box_screw_in_a_side_that_joins_nothing_is_found(under: Cabinet) -> None:
    box = compile_cabinet(under)
    extra = Bore(
        name="box screw 1", purpose="box screw", centre=Point(200.0, 300.0), diameter_mm=5, depth_mm=17.8, through=True
    )
    panels = tuple(
        replace(each, features=(*each.features, extra)) if each.role == "left side" else each for each in box.panels
    )
    assert _codes(under, replace(box, panels=panels)) == {"fit-bore"}


@pytest.mark.parametrize(("width", "height"), [(33.0, 13.0), (32.0, 12.0)], ids=["1 mm wide", "1 mm low"])
def test_a_notch_of_another_size_is_found(under: Cabinet, width: float, height: float) -> None:
    """The slides' tails want 32 x 13 mm from the inside of each side; 6 mm more sit in the rabbet."""
    box = compile_cabinet(under)

    def changed(each: Panel) -> Panel:
        ends = (Rect(0.0, 0.0, width + 6.0, height), Rect(each.length_mm - width - 6.0, 0.0, each.length_mm, height))
        return replace(each, outline=notched_rectangle(Rect(0.0, 0.0, each.length_mm, each.width_mm), ends))

    panels = tuple(changed(each) if each.role == "drawer 2 back" else each for each in box.panels)
    assert "fit-slide" in _codes(under, replace(box, panels=panels))


def test_plates_of_another_door_thickness_are_found() -> None:
    """An inset door of 18 mm wants its plates 37 + 18 mm behind the edge; those for one of 19 mm are 1 mm too far."""
    wanted = order(CabinetKind.WALL, doors=1, mount=Mount.INSET, faces=Faces.FRAMELESS, construction=with_rows())
    cabinet = cabinet_of(wanted, front=18.0)
    assert cabinet.plate_y_mm == pytest.approx(55.0)
    box = compile_cabinet(cabinet)
    assert _codes(cabinet, box) == set()
    thicker = compile_cabinet(cabinet_of(wanted, front=19.0))
    side = next(each for each in thicker.panels if each.role == "left side")
    panels = tuple(side if each.role == "left side" else each for each in box.panels)
    assert "fit-hinge" in _codes(cabinet, replace(box, panels=panels))
