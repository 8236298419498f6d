"""Face frames and inset fronts: closed-form sizes, frames that tile the face, boxes that fit behind them."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from box_kit import WORKED_EXAMPLE, bores, box_of, cabinet_of, order, panel, resolve
from rabbetry.cabinets.model import Cabinet, FrameMember
from rabbetry.fit.checks import check_fit
from rabbetry.job.model import CabinetKind, CabinetOrder, Construction, Faces, Mount
from rabbetry.panels.compile import compile_cabinet

_FRAMED = replace(
    WORKED_EXAMPLE,
    frame_stile_width_mm=40.0,
    frame_top_rail_width_mm=45.0,
    frame_middle_rail_width_mm=35.0,
    frame_bottom_rail_width_mm=42.0,
    frame_overhang_mm=4.0,
    frame_overlay_mm=11.0,
    frame_thickness_mm=20.0,
    inset_reveal_mm=2.0,
)
"""Every figure another one, so that two swapped ones show."""


def _framed(kind: CabinetKind, mount: Mount = Mount.INSET, **changes: object) -> CabinetOrder:
    return order(kind, faces=Faces.FACE_FRAME, mount=mount, construction=_FRAMED, **changes)


def _by_name(cabinet: Cabinet) -> dict[str, tuple[float, float, float, float]]:
    return {m.name: (m.x_mm, m.z_mm, m.width_mm, m.height_mm) for m in cabinet.frame}


def test_the_members_of_a_base_cabinets_frame() -> None:
    """By arithmetic: 600 ordered is the frame, the case 592; bottom's upper side at 117.8, kick rail 42 below it."""
    cabinet = cabinet_of(_framed(CabinetKind.BASE, doors=2, drawer_front_heights_mm=(150.0,)))
    assert (cabinet.width_mm, cabinet.front_back_y_mm) == (592.0, -2.0)  # fronts 18 thick in a frame of 20
    low, floor, ceiling = 117.8 - 42, 117.8, 876.0 - 45
    drawer_low = ceiling - 154  # a front of 150 and two reveals
    members = _by_name(cabinet)
    assert members["left stile"] == pytest.approx((-4, low, 40, 876 - low))
    assert members["right stile"] == pytest.approx((556, low, 40, 876 - low))
    assert members["top rail"] == pytest.approx((36, ceiling, 520, 45))
    assert members["rail 1"] == pytest.approx((36, drawer_low - 35, 520, 35))
    assert members["bottom rail"] == pytest.approx((36, low, 520, floor - low))


def test_inset_fronts_keep_their_reveal_all_round() -> None:
    cabinet = cabinet_of(_framed(CabinetKind.BASE, doors=2, drawer_front_heights_mm=(150.0,)))
    drawer, left, right = cabinet.fronts
    assert (drawer.x_mm, drawer.width_mm, drawer.height_mm) == (38.0, 516.0, 150.0)
    assert drawer.z_mm + drawer.height_mm == 876 - 45 - 2
    assert left.width_mm == right.width_mm == (520 - 3 * 2) / 2
    assert left.z_mm == pytest.approx(117.8 + 2)
    assert left.z_mm + left.height_mm == pytest.approx(876 - 45 - 154 - 35 - 2)
    assert right.x_mm + right.width_mm == pytest.approx(556 - 2)


def test_overlay_fronts_cover_the_frame_by_the_overlay() -> None:
    cabinet = cabinet_of(_framed(CabinetKind.BASE, Mount.OVERLAY, doors=1, drawer_front_heights_mm=(150.0,)))
    drawer, door = cabinet.fronts
    assert (drawer.x_mm, drawer.width_mm) == (36 - 11, 520 + 2 * 11)
    assert drawer.z_mm + drawer.height_mm == 876 - 45 + 11
    assert drawer.z_mm - (door.z_mm + door.height_mm) == pytest.approx(35 - 2 * 11)
    assert door.z_mm == pytest.approx(117.8 - 11)
    assert cabinet.front_back_y_mm == -20.0


def test_a_frame_without_a_kick_ends_with_the_sides_and_a_lip_lifts_its_rail() -> None:
    wall = _framed(CabinetKind.WALL, doors=1)
    lipped = replace(wall, construction=replace(_FRAMED, frame_bottom_lip_mm=6.0))
    for wanted, height in ((wall, 18 + 17.8), (lipped, 18 + 17.8 + 6)):
        rail = _by_name(cabinet_of(wanted))["bottom rail"]
        assert (rail[1], rail[3]) == pytest.approx((0.0, height))


def test_frameless_inset_fronts_stand_between_sides_bottom_and_stretcher() -> None:
    wanted = order(
        CabinetKind.BASE, doors=2, mount=Mount.INSET, fixed_shelves=1, adjustable_shelves=1, drawer_length_mm=400.0
    )
    cabinet = cabinet_of(replace(wanted, drawer_front_heights_mm=(150.0,)))
    drawer, left, right = cabinet.fronts
    reveal = WORKED_EXAMPLE.inset_reveal_mm
    assert drawer.width_mm == pytest.approx(600 - 2 * 17.8 - 2 * reveal)
    assert drawer.z_mm + drawer.height_mm == pytest.approx(876 - 17.8 - reveal)
    assert drawer.z_mm - (left.z_mm + left.height_mm) == pytest.approx(reveal)
    assert left.z_mm == pytest.approx(117.8 + reveal)
    assert left.width_mm + right.width_mm == pytest.approx(600 - 2 * 17.8 - 3 * reveal)
    box = compile_cabinet(cabinet)
    y_of = {p.role: p.place.origin[1] for p in box.panels if p.place is not None}
    # Fronts 18 thick, flush with the box in front: all behind them stands back by that.
    assert (y_of["left door"], y_of["fixed shelf 1"], y_of["drawer 1 left side"]) == (18.0, 18.0, 18.0)
    assert y_of["shelf 1"] == 18.0 + WORKED_EXAMPLE.shelf_setback_mm
    assert panel(box, "fixed shelf 1").width_mm == pytest.approx(580 - 5.8 - 18)


def test_a_drawer_behind_a_frame_passes_between_its_stiles() -> None:
    """Undermount rule (check value 4.3.4): inside width = opening - 42; the opening is the frame's, 520."""
    resolved = resolve(_framed(CabinetKind.DRAWERS, Mount.OVERLAY))
    (cabinet,) = resolved.cabinets
    assert [drawer.inside_width_mm for drawer in cabinet.drawers] == pytest.approx([520.0 - 42.0] * 3)
    assert bores(panel(compile_cabinet(cabinet), "left side"), "slide") == ()
    assert [item.code for item in resolved.findings] == ["face-frame-blocking"]
    assert "stands 18.20 mm inside the left side" in resolved.findings[0].message
    drawer = panel(compile_cabinet(cabinet), "drawer 1 left side")
    assert drawer.place is not None
    assert drawer.place.origin[1] == -20.0


@pytest.mark.parametrize("thickness", [19.05, 20.6375], ids=["3/4 in", "13/16 in"])
def test_the_thickness_of_a_frame_changes_nothing_in_a_side_but_its_hinge_plates(thickness: float) -> None:
    wanted = _framed(CabinetKind.BASE, doors=1, adjustable_shelves=1)
    sides = [
        panel(box_of(replace(wanted, construction=replace(_FRAMED, frame_thickness_mm=mm))), "left side")
        for mm in (19.05, thickness)
    ]
    kept = [
        (side.outline, [item for item in side.features if getattr(item, "purpose", "") != "hinge plate"])
        for side in sides
    ]
    assert kept[0] == kept[1]


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        pytest.param(
            {"frame_overlay_mm": 41.0},
            'cabinet "B1": an overlay of 41 mm is more than the face frame\'s outer stile 40 mm wide',
            id="overlay past the outer stile",
        ),
        pytest.param(
            {"frame_overlay_mm": 18.0},
            'cabinet "B1": an overlay of 18 mm is more than the face frame\'s half of a middle rail 17.5 mm wide',
            id="two fronts meet on a rail",
        ),
        pytest.param(
            {"frame_bottom_rail_width_mm": 120.0},
            'cabinet "B1": the face frame would end 2.20 mm below the floor: its bottom rail is 120 mm wide',
            id="rail below the floor",
        ),
        pytest.param(
            {"frame_stile_width_mm": 200.0, "frame_overhang_mm": 0.0},
            'cabinet "B1": the face frame leaves an opening 0.00 mm wide; 40 mm is the least',
            id="stiles fill the front",
        ),
    ],
)
def test_a_frame_that_cannot_be_is_an_error(changes: dict[str, float], message: str) -> None:
    wanted = _framed(CabinetKind.BASE, Mount.OVERLAY, doors=1, drawer_front_heights_mm=(150.0,), width_mm=400.0)
    resolved = resolve(replace(wanted, construction=replace(_FRAMED, **changes)))
    assert resolved.cabinets == ()
    assert message in [item.message for item in resolved.findings if item.code == "face-frame-impossible"]


def test_unusual_members_and_reveals_are_notes() -> None:
    construction = replace(_FRAMED, frame_stile_width_mm=60.0, inset_reveal_mm=5.0)
    resolved = resolve(replace(_framed(CabinetKind.BASE, doors=1), construction=construction))
    assert [(item.code, item.severity) for item in resolved.findings] == [("face-frame-unusual", "note")] * 2


def test_a_door_over_sixty_inches_made_elsewhere_needs_a_middle_rail() -> None:
    """Check value 5.3.7; a slab has no rails."""
    tall = order(CabinetKind.WALL, height_mm=1700.0, doors=1, slab_doors=False)
    assert "door-tall" in [item.code for item in resolve(tall).findings]
    assert "door-tall" not in [item.code for item in resolve(replace(tall, slab_doors=True)).findings]


def _sizes(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high).map(lambda value: round(value, 2))


_CONSTRUCTIONS: st.SearchStrategy[Construction] = st.builds(
    replace,
    st.just(WORKED_EXAMPLE),
    kick_height_mm=st.one_of(st.just(0.0), _sizes(80, 150)),
    frame_stile_width_mm=_sizes(20, 80),
    frame_top_rail_width_mm=_sizes(20, 80),
    frame_middle_rail_width_mm=_sizes(30, 80),
    frame_bottom_rail_width_mm=_sizes(20, 90),
    frame_bottom_lip_mm=st.one_of(st.just(0.0), _sizes(0, 12)),
    frame_overhang_mm=_sizes(0, 10),
    frame_overlay_mm=_sizes(5, 20),
    frame_thickness_mm=_sizes(15, 25),
    inset_reveal_mm=_sizes(1, 4),
)


@st.composite
def _orders(draw: st.DrawFn) -> CabinetOrder:
    kind = draw(st.sampled_from((CabinetKind.BASE, CabinetKind.SINK, CabinetKind.DRAWERS, CabinetKind.WALL)))
    return order(
        kind,
        width_mm=draw(_sizes(250, 1000)),
        height_mm=draw(_sizes(600, 1000)),
        depth_mm=draw(_sizes(320, 650)),
        doors=draw(st.integers(1, 2)) if kind is not CabinetKind.DRAWERS else 0,
        drawer_front_heights_mm=draw(st.sampled_from(((), (160.0,), (150.0, 155.0)))) if kind.value != "wall" else (),
        fixed_shelves=draw(st.integers(0, 1)),
        adjustable_shelves=draw(st.integers(0, 1)),
        faces=draw(st.sampled_from(Faces)),
        mount=draw(st.sampled_from(Mount)),
        construction=draw(_CONSTRUCTIONS),
    )


@settings(max_examples=30, deadline=None)
@given(wanted=_orders(), front=_sizes(15, 22))
def test_whatever_the_face_a_box_is_refused_or_fits_and_its_frame_tiles(wanted: CabinetOrder, front: float) -> None:
    resolved = resolve(wanted, front=front)
    assert bool([item for item in resolved.findings if item.severity == "error"]) != bool(resolved.cabinets)
    for cabinet in resolved.cabinets:
        assert check_fit(cabinet, compile_cabinet(cabinet)).findings == ()
        if cabinet.faces is Faces.FACE_FRAME:
            _check_tiling(cabinet)
        for upper in cabinet.fronts:
            _check_apart(upper, cabinet)


def _check_tiling(cabinet: Cabinet) -> None:
    """Members lie side by side within the face, and what they leave is one opening between every two rails."""
    stiles = [m for m in cabinet.frame if m.kind == "stile"]
    rails = sorted((m for m in cabinet.frame if m.kind == "rail"), key=lambda m: m.z_mm)
    over = cabinet.construction.frame_overhang_mm
    low = min(m.z_mm for m in cabinet.frame)
    inner = cabinet.width_mm + 2 * over - sum(stile.width_mm for stile in stiles)
    gaps = [above.z_mm - (below.z_mm + below.height_mm) for below, above in pairwise(rails)]
    assert all(gap > 0 for gap in gaps)
    assert all(rail.width_mm == pytest.approx(inner) for rail in rails)
    area = sum(m.width_mm * m.height_mm for m in cabinet.frame) + inner * sum(gaps)
    assert area == pytest.approx((cabinet.width_mm + 2 * over) * (cabinet.height_mm - low))


def _check_apart(front: object, cabinet: Cabinet) -> None:
    for other in cabinet.fronts:
        if other is not front:
            assert not _meet(_box(front), _box(other))
    if cabinet.mount is Mount.INSET:
        assert not any(_meet(_box(front), _box(member)) for member in cabinet.frame)


def _box(item: object) -> tuple[float, float, float, float]:
    x, z = float(getattr(item, "x_mm")), float(getattr(item, "z_mm"))  # noqa: B009
    return x, z, x + float(getattr(item, "width_mm")), z + float(getattr(item, "height_mm"))  # noqa: B009


def _meet(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return min(a[2], b[2]) - max(a[0], b[0]) > 1e-6 and min(a[3], b[3]) - max(a[1], b[1]) > 1e-6


def test_a_member_is_a_record_with_its_place() -> None:
    (rail,) = [m for m in cabinet_of(_framed(CabinetKind.WALL, doors=1)).frame if m.name == "top rail"]
    assert rail == FrameMember(name="top rail", kind="rail", x_mm=36.0, z_mm=831.0, width_mm=520.0, height_mm=45.0)
