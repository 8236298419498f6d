"""No box made by the compiler raises a fit finding, whatever its size and settings."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from box_kit import WORKED_EXAMPLE, order, resolve
from rabbetry.cabinets.model import Cabinet
from rabbetry.fit.checks import check_fit
from rabbetry.job.choices import BlindOrder, CutOutOrder, FrontOrder, OpeningOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetKind, CabinetOrder, Construction, Faces, Mount, Nailer
from rabbetry.job.words import BackPlace, BottomWord, FinishedEnd, LevelJoint, TopWord
from rabbetry.panels.compile import compile_cabinet


def _sizes(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: round(value, 2))


_CONSTRUCTIONS: st.SearchStrategy[Construction] = st.builds(
    replace,
    st.just(WORKED_EXAMPLE),
    dado_depth_mm=_sizes(3, 9),
    back_rabbet_depth_mm=_sizes(3, 9),
    fit_clearance_mm=_sizes(0, 0.5),
    kick_height_mm=st.one_of(st.just(0.0), _sizes(60, 150)),
    bottom_lift_mm=st.sampled_from((0.0, 12.0, 18.0)),
    stretcher_width_mm=_sizes(60, 110),
    drawer_groove_depth_mm=_sizes(3, 7),
    drawer_rabbet_depth_mm=_sizes(3, 7),
    hinge_end_mm=_sizes(25, 120),
    pin_end_margin_mm=_sizes(60, 120),
    pin_rows_apart_mm=st.sampled_from((0.0, 32.0)),
    shelf_side_gap_mm=st.sampled_from((0.0, 2.0)),
    bottom_joint=st.sampled_from(LevelJoint),
    top_joint=st.sampled_from(LevelJoint),
    shelf_joint=st.sampled_from(LevelJoint),
    back=st.sampled_from(BackPlace),
    top=st.sampled_from(TopWord),
    bottom=st.sampled_from(BottomWord),
    finished=st.sampled_from(FinishedEnd),
    kick_depth_mm=_sizes(15, 90),
    dado_stop_mm=_sizes(5, 40),
    tongue_thickness_mm=_sizes(4, 14),
    depth_clearance_mm=_sizes(0, 1),
    back_inset_mm=_sizes(3, 30),
    scribe_mm=st.sampled_from((0.0, 0.0, 12.5, 25.0)),
    band_thickness_mm=st.sampled_from((0.0, 0.5, 2.0)),
)


_FRONTS = st.builds(
    FrontOrder,
    fill=st.sampled_from(("drawer", "door", "open", "false front")),
    height_mm=st.sampled_from((0.0, 0.0, 120.0, 157.0)),
    doors=st.integers(1, 2),
    hinge=st.sampled_from(("left", "right")),
    below=st.sampled_from(("", "shelf", "rail")),
)
_STACKS: st.SearchStrategy[tuple[FrontOrder, ...]] = st.one_of(
    st.just(()), st.lists(_FRONTS, min_size=1, max_size=4).map(tuple)
)
_OPENINGS = st.builds(
    OpeningOrder,
    width_mm=_sizes(100, 500),
    height_mm=_sizes(120, 400),
    depth_mm=st.just(0.0),
    up_mm=st.one_of(st.none(), _sizes(120, 1200)),
    vent=st.booleans(),
)
_BLINDS = st.builds(
    BlindOrder,
    hand=st.sampled_from(("left", "right")),
    neighbour_depth_mm=_sizes(200, 600),
    pull_clearance_mm=st.sampled_from((0.0, 60.0)),
    pulled_out_mm=st.sampled_from((0.0, 100.0)),
)
_HOLES = st.builds(
    CutOutOrder,
    panel=st.sampled_from(("back", "bottom", "top")),
    x_mm=st.none(),
    at_mm=st.none(),
    width_mm=st.just(100.0),
    height_mm=st.just(100.0),
    round=st.booleans(),
)


@st.composite
def _orders(draw: st.DrawFn) -> CabinetOrder:
    kind = draw(st.sampled_from(CabinetKind))
    has_drawers = kind in (CabinetKind.BASE, CabinetKind.DRAWERS, CabinetKind.SINK)
    return order(
        kind,
        width_mm=draw(_sizes(150, 1200)),
        height_mm=draw(_sizes(250, 2300)),
        depth_mm=draw(_sizes(280, 700)),
        doors=draw(st.integers(0, 2)) if kind is not CabinetKind.DRAWERS else 0,
        hinge=draw(st.sampled_from(("left", "right"))),
        drawer_front_heights_mm=draw(st.sampled_from(((), (0.0,), (150.0, 0.0)))) if has_drawers else (),
        fixed_shelves=draw(st.integers(0, 2)),
        adjustable_shelves=draw(st.integers(0, 3)),
        back=draw(st.booleans()),
        nailer=draw(st.sampled_from(Nailer)),
        slab_doors=draw(st.booleans()),
        side_stock=draw(st.sampled_from(("", "side"))),
        construction=draw(_CONSTRUCTIONS),
        dividers_mm=draw(st.sampled_from(((), (), (None,), (None, None), (250.0,), (150.0, 420.0)))),
        divider_pins=draw(st.sampled_from(("through", "blind"))),
        mount=draw(st.sampled_from(Mount)),
        faces=draw(st.sampled_from(Faces)) if kind is not CabinetKind.APPLIANCE else Faces.FRAMELESS,
        fronts=draw(_STACKS) if kind is not CabinetKind.APPLIANCE else (),
        opening=draw(_OPENINGS) if kind is CabinetKind.APPLIANCE else None,
        blind=draw(_BLINDS) if KINDS[kind].is_blind else None,
        cut_outs=tuple(draw(st.lists(_HOLES, max_size=1))),
    )


@settings(max_examples=100, deadline=None)
@given(
    wanted=_orders(),
    carcass=_sizes(15.5, 19.5),
    back=_sizes(4, 12.5),
    drawer=_sizes(11, 16),
    drawer_bottom=_sizes(4, 9.5),
    front=_sizes(16, 20),
    side=_sizes(15.5, 19.5),
)
def test_a_box_is_refused_before_it_is_built_or_fits_together(wanted: CabinetOrder, **thicknesses: float) -> None:
    resolved = resolve(wanted, **thicknesses)
    errors = [item for item in resolved.findings if item.severity == "error"]
    assert bool(errors) != bool(resolved.cabinets)
    for cabinet in resolved.cabinets:
        _check_clean(cabinet)


def _check_clean(cabinet: Cabinet) -> None:
    report = check_fit(cabinet, compile_cabinet(cabinet))
    assert report.findings == ()
    assert report.checks > 50
