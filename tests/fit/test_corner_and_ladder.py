"""L-shaped corners and ladder bases: sizes by hand, clean at any size, planted faults found."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from box_kit import WORKED_EXAMPLE, job, order, panel, size
from rabbetry.cabinets.model import CornerCabinet, LadderBase, Resolved
from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.fit.checks import check_corner_fit, check_ladder_fit
from rabbetry.geometry.points import Transform
from rabbetry.job.model import CabinetKind, CornerOrder, Faces, LadderOrder, Mount, Nailer
from rabbetry.job.words import BottomWord, FinishedEnd, LevelJoint, TopWord
from rabbetry.page.lists import edge_banding_csv
from rabbetry.page.totals import bands
from rabbetry.panels.compile import compile_corner, compile_ladder
from rabbetry.panels.model import Bore, Box, Panel
from rabbetry.panels.shapes import moved

CONSTRUCTION = replace(WORKED_EXAMPLE, top=TopWord.FULL)


def corner_order(
    left: float = 900.0, right: float = 900.0, deep: tuple[float, float] = (580.0, 580.0), **rest: Any
) -> CornerOrder:
    doors = rest.pop("doors", "bi-fold")
    wall = rest.pop("wall", False)
    hinge = rest.pop("hinge", "right")
    common = {
        "doors": 0 if doors == "open" else 1,
        "adjustable_shelves": 1,
        "construction": CONSTRUCTION,
        "nailer": Nailer.TOP if wall else Nailer.NONE,
        **rest,
    }
    kind = CabinetKind.WALL if wall else CabinetKind.OPEN
    return CornerOrder(
        name="N1",
        qty=1,
        left=order(kind, "N1", width_mm=left, depth_mm=deep[0], hinge="left", **common),
        right=order(kind, "N1", width_mm=right, depth_mm=deep[1], hinge="right", **common),
        doors=doors,
        hinge=hinge,
    )


def ladder_order(length: float, joint: str = "butt", **rest: Any) -> LadderOrder:
    sizes = {"depth_mm": 500.0, "height_mm": 100.0, "rung_spacing_mm": 600.0, **rest}
    return LadderOrder(
        name="P1", qty=1, length_mm=length, joint=joint, stock="carcass", construction=CONSTRUCTION, **sizes
    )


def resolved(*, corners: tuple[CornerOrder, ...] = (), ladders: tuple[LadderOrder, ...] = (), **mm: float) -> Resolved:
    return resolve_cabinets(replace(job(**mm), corners=corners, ladders=ladders))


def corner_of(wanted: CornerOrder) -> CornerCabinet:
    (corner,) = resolved(corners=(wanted,)).corners
    return corner


def ladder_of(wanted: LadderOrder) -> LadderBase:
    (ladder,) = resolved(ladders=(wanted,)).ladders
    return ladder


def test_the_sums_of_a_corner() -> None:
    """900 along both walls, 580 deep, sides 17.8, back 5.8, dados 6, back rabbets 6, clearance 0.2, shelf gap 2.

    Bottom: from the left wall's back (5.8) into the right side's dado (900 - 17.8 + 6). Left back: from 0.1 before the
    floor of its rabbet (17.8 - 6 + 0.1) to the right back (900 - 5.8); the right back from the left wall on. Leaves:
    900 - 580, less the other's thickness 18, a gap of 3 there and half of one outside.
    """
    box = compile_corner(corner_of(corner_order()))
    assert size(panel(box, "bottom")) == pytest.approx((882.4, 882.4))
    assert panel(box, "bottom").outline.area == pytest.approx(882.4**2 - (882.4 - 574.2) ** 2)
    assert size(panel(box, "shelf 1")) == pytest.approx((900 - 17.8 - 1 - 5.8,) * 2)
    assert size(panel(box, "left back")) == pytest.approx((900 - 5.8 - 11.9, 776))
    assert size(panel(box, "right back")) == pytest.approx((900 - 11.9, 776))
    assert size(panel(box, "left leaf")) == pytest.approx((773, 320 - 18 - 4.5))
    assert size(panel(box, "left side")) == (876, 580)
    bought = {line.item: line.count for line in box.hardware}
    assert (bought["cup hinge"], bought["bi-fold hinge"], bought["shelf pin"]) == (2, 2, 5)


def test_only_the_leaf_that_hangs_has_hinge_cups() -> None:
    box = compile_corner(corner_of(corner_order(hinge="left")))
    cups = {item.role: sum(isinstance(hole, Bore) for hole in item.features) for item in box.panels[-2:]}
    assert cups == {"left leaf": 6, "right leaf": 0}


_MM = st.floats(0, 1).map(lambda share: round(share, 2))


@settings(max_examples=80, deadline=None)
@given(
    words=st.fixed_dictionaries(
        {
            "top": st.sampled_from((TopWord.FULL, TopWord.STRETCHERS)),
            "bottom_joint": st.sampled_from([joint for joint in LevelJoint if joint is not LevelJoint.RABBET]),
            "top_joint": st.sampled_from(LevelJoint),
            "shelf_joint": st.sampled_from([joint for joint in LevelJoint if joint is not LevelJoint.RABBET]),
            "bottom": st.sampled_from(BottomWord),
            "finished": st.sampled_from(FinishedEnd),
            "band_thickness_mm": st.sampled_from((0.0, 0.5, 2.0)),
        }
    ),
    face=st.fixed_dictionaries({"mount": st.sampled_from(Mount), "faces": st.sampled_from(Faces)}),
    wide=st.tuples(_MM, _MM),
    deep=st.tuples(_MM, _MM),
    doors=st.sampled_from(("bi-fold", "two", "open")),
    hinge=st.sampled_from(("left", "right")),
    wall=st.booleans(),
    fixed=st.integers(0, 1),
    loose=st.integers(0, 2),
    kick=st.sampled_from((0.0, 100.0)),
    play=st.sampled_from((0.0, 2.0)),
    apart=st.sampled_from((0.0, 32.0)),
    clearance=_MM,
    carcass=_MM,
    back=_MM,
)
def test_a_corner_of_any_size_is_refused_or_fits_together(
    words: dict[str, Any], face: dict[str, Any], wide: tuple[float, float], deep: tuple[float, float], doors: str,
    hinge: str, wall: bool, fixed: int, loose: int, kick: float, play: float, apart: float, clearance: float,
    carcass: float, back: float,
) -> None:  # fmt: skip
    wanted = corner_order(
        *(550 + 750 * share for share in wide),
        (280 + 320 * deep[0], 280 + 320 * deep[1]),
        doors=doors,
        hinge=hinge,
        wall=wall,
        fixed_shelves=fixed,
        adjustable_shelves=loose,
        construction=replace(
            CONSTRUCTION,
            kick_height_mm=kick,
            fit_clearance_mm=clearance / 2,
            shelf_side_gap_mm=play,
            pin_rows_apart_mm=apart,
            **words,
        ),
        **face,
    )
    found = resolved(corners=(wanted,), carcass=15.5 + 4 * carcass, back=4 + 8 * back)
    errors = [item for item in found.findings if item.severity == "error"]
    assert bool(errors) != bool(found.corners)
    for corner in found.corners:
        report = check_corner_fit(corner, compile_corner(corner))
        assert report.findings == ()
        assert report.checks > 80


@settings(max_examples=60, deadline=None)
@given(
    length=st.integers(120, 4900),
    depth=st.integers(100, 700),
    spacing=st.integers(150, 900),
    joint=st.sampled_from(("butt", "dado")),
    carcass=_MM,
)
def test_a_ladder_base_of_any_size_is_refused_or_fits_together(
    length: int, depth: int, spacing: int, joint: str, carcass: float
) -> None:
    wanted = ladder_order(length, joint, depth_mm=float(depth), rung_spacing_mm=float(spacing))
    found = resolved(ladders=(wanted,), carcass=15.5 + 4 * carcass)
    assert bool([item for item in found.findings if item.severity == "error"]) != bool(found.ladders)
    for ladder in found.ladders:
        box = compile_ladder(ladder)
        assert check_ladder_fit(ladder, box).findings == ()
        middles = ladder.rung_x_mm
        assert max(b - a for a, b in pairwise(middles)) <= spacing + 1e-6
        assert all(item.length_mm <= 1220 - 2 * 5 + 0.01 for item in box.panels)


def test_long_rails_are_spliced_once_for_each_blank_more() -> None:
    """2400 mm on blanks of 1220 less 5 at both ends: two pieces, the splice backed by a plate on either rail."""
    box = compile_ladder(ladder_of(ladder_order(2400.0)))
    roles = [item.role for item in box.panels if "rail" in item.role or "plate" in item.role]
    assert roles == [
        "front rail 1", "front rail 2", "rear rail 1", "rear rail 2", "front plate 1", "rear plate 1",
    ]  # fmt: skip


def changed(role: str, change: Callable[[Panel], Panel]) -> Callable[[Box], Box]:
    def plant(box: Box) -> Box:
        assert any(item.role == role for item in box.panels)
        return replace(box, panels=tuple(change(item) if item.role == role else item for item in box.panels))

    return plant


def displaced(role: str, dx: float, dy: float, dz: float) -> Callable[[Box], Box]:
    def change(item: Panel) -> Panel:
        assert item.place is not None
        x, y, z = item.place.origin
        return replace(item, place=replace(item.place, origin=(x + dx, y + dy, z + dz)))

    return changed(role, change)


def features_moved(role: str, starts: str, dx: float, dy: float) -> Callable[[Box], Box]:
    def change(item: Panel) -> Panel:
        assert any(feature.name.startswith(starts) for feature in item.features)
        shift = Transform.shift(dx, dy)
        return replace(
            item,
            features=tuple(moved(each, shift) if each.name.startswith(starts) else each for each in item.features),
        )

    return changed(role, change)


def without(role: str) -> Callable[[Box], Box]:
    return lambda box: replace(box, panels=tuple(item for item in box.panels if item.role != role))


def mirrored(role: str) -> Callable[[Box], Box]:
    """The panel cut for the other hand."""

    def change(item: Panel) -> Panel:
        flip = Transform.mirror_y(item.width_mm)
        return replace(
            item, outline=item.outline.moved(flip), features=tuple(moved(each, flip) for each in item.features)
        )

    return changed(role, change)


CORNER_FAULTS = [
    pytest.param(mirrored("left side"), {"fit-interference", "fit-joint"}, id="a side not mirrored"),
    pytest.param(features_moved("right side", "bottom dado", -1, 0), {"fit-joint"}, id="a dado 1 mm low"),
    pytest.param(features_moved("corner post", "post pin", 1, 0), {"fit-pins"}, id="the post's pins 1 mm high"),
    pytest.param(features_moved("left side", "front pin", 0, 3), {"fit-pins"}, id="a pin row 3 mm off"),
    pytest.param(displaced("left back", 0, 2, 0), {"fit-seat", "fit-interference"}, id="a back into the other back"),
    pytest.param(displaced("right kick", 2, 0, 0), {"fit-seat"}, id="a kick board that misses the other"),
    pytest.param(features_moved("bottom", "left kick pilot", 12, 0), {"fit-bore"}, id="screws beside the kick board"),
    pytest.param(displaced("corner post", 8, 0, 0), {"fit-interference", "fit-bore"}, id="a post off its notch"),
    pytest.param(displaced("shelf 1", 0, 0, 10), {"fit-shelf"}, id="a shelf between two pin levels"),
    pytest.param(features_moved("right leaf", "hinge 1 cup", 4, 0), {"fit-hinge"}, id="a cup 4 mm high"),
    pytest.param(displaced("right leaf", -20, 0, 0), {"fit-outside"}, id="a leaf that hides the other's edge"),
    pytest.param(mirrored("bottom"), {"fit-interference", "fit-bore"}, id="a bottom cut from the wrong face"),
]


@pytest.mark.parametrize(("plant", "codes"), CORNER_FAULTS)
def test_a_fault_planted_in_a_corner_is_found(plant: Callable[[Box], Box], codes: set[str]) -> None:
    corner = corner_of(corner_order(right=950.0, deep=(580.0, 560.0)))
    box = compile_corner(corner)
    assert check_corner_fit(corner, box).findings == ()
    assert {item.code for item in check_corner_fit(corner, plant(box)).findings} >= codes


LADDER_FAULTS = [
    pytest.param(without("rear plate 1"), {"fit-joint", "fit-bore"}, id="a splice without its plate"),
    pytest.param(displaced("front rail 2", 3, 0, 0), {"fit-joint", "fit-outside"}, id="a splice that gapes"),
    pytest.param(displaced("rung 3", 5, 0, 0), {"fit-joint", "fit-interference"}, id="a rung beside its dado"),
    pytest.param(features_moved("front rail 1", "rung 2 pilot", 15, 0), {"fit-bore"}, id="screws beside a rung"),
]


@pytest.mark.parametrize(("plant", "codes"), LADDER_FAULTS)
def test_a_fault_planted_in_a_ladder_base_is_found(plant: Callable[[Box], Box], codes: set[str]) -> None:
    ladder = ladder_of(ladder_order(2400.0, "dado"))
    box = compile_ladder(ladder)
    assert check_ladder_fit(ladder, box).findings == ()
    assert {item.code for item in check_ladder_fit(ladder, plant(box)).findings} >= codes


REFUSED = [
    pytest.param(
        resolved(corners=(corner_order(700.0),)),
        'corner "N1": 120.00 mm are left for the front of the left leg: left_width 700 less right_depth 580; '
        "at least 150 mm is needed",
        id="no room for a front",
    ),
    pytest.param(
        resolved(corners=(corner_order(1300.0),)),
        'corner "N1": its bottom is 1282.40 by 882.40 mm (left_width and right_width 1300 and 900, less 17.8 for a '
        "side and 5.8 for a back, plus 6 into the dado), more than the blank of carcass, 1220 by 1220 less 5 along "
        "each edge; make a leg shorter, or take a larger blank",
        id="a bottom larger than its blank",
    ),
    pytest.param(
        resolved(ladders=(ladder_order(900.0, depth_mm=80.0),)),
        'ladder_base "P1": 44.40 mm are left for the rungs: depth 80 less two rails of 17.8; at least 50 mm is needed',
        id="no room for rungs",
    ),
    pytest.param(
        resolved(ladders=(ladder_order(900.0, height_mm=0.0),)),
        'ladder_base "P1": height 0 (that of the toe kick unless given) is too low for rails; at least 30 mm is '
        "needed: set its height",
        id="no height, as the toe kick has none",
    ),
]


@pytest.mark.parametrize(("found", "message"), REFUSED)
def test_what_cannot_be_made_is_refused_with_its_sum(found: Resolved, message: str) -> None:
    assert [item.message for item in found.findings if item.severity == "error"] == [message]


SLAB = 18.0
"""Thickness of the doors' stock in these boxes."""


@pytest.mark.parametrize(
    ("face", "widths", "left_face"),
    [
        # Left leg 900 less 560, right leg 950 less 580: 340 and 370 in front; a gap of 3, a reveal of 2.4.
        pytest.param({}, (340 - SLAB - 3 - 1.5, 370 - SLAB - 3 - 1.5), 580 + SLAB, id="overlay"),
        # Flush with the sides: a reveal before the other's face, a side of 17.8 and a reveal at the outer end.
        pytest.param(
            {"mount": Mount.INSET}, (340 - 2.4 - 17.8 - 2.4, 370 - 2.4 - 17.8 - 2.4), 580, id="inset",
        ),
        # A frame 19 thick, 3 over the case, stiles 38: the case is 3 narrower, the opening begins 35 in; overlay 12.
        pytest.param(
            {"faces": Faces.FACE_FRAME},
            (337 - 19 - SLAB - 3 - (35 - 12), 367 - 19 - SLAB - 3 - (35 - 12)), 580 + 19 + SLAB, id="on a frame",
        ),
        pytest.param(
            {"faces": Faces.FACE_FRAME, "mount": Mount.INSET},
            (337 - 19 - 2.4 - 35 - 2.4, 367 - 19 - 2.4 - 35 - 2.4), 580 + 19, id="in a frame",
        ),
    ],
)  # fmt: skip
@pytest.mark.parametrize("doors", ["bi-fold", "two"])
def test_the_sums_of_a_corners_doors(
    doors: str, face: dict[str, Any], widths: tuple[float, float], left_face: float
) -> None:
    corner = corner_of(corner_order(right=950.0, deep=(580.0, 560.0), doors=doors, **face))
    box = compile_corner(corner)
    word = "door" if doors == "two" else "leaf"
    left, right = panel(box, f"left {word}"), panel(box, f"right {word}")
    assert (left.width_mm, right.width_mm) == pytest.approx(widths)
    assert left.place is not None
    # A door lies on its back: its face is its thickness below that, towards +x.
    assert left.place.origin[0] + SLAB == pytest.approx(left_face)
    cups = [sum(isinstance(hole, Bore) and hole.purpose == "hinge cup" for hole in each.features)
            for each in (left, right)]  # fmt: skip
    assert cups == ([2, 2] if doors == "two" else [0, 2])
    assert check_corner_fit(corner, box).findings == ()


def test_the_frame_of_a_corner_meets_in_its_inner_corner() -> None:
    """Before the left leg, 900 - 3 over - 560 = 337 in front, the rails run from the stile (38 less 3) to the inner
    corner, 302; before the right, 950 - 3 - 580 = 367, they end on the left ones, 19 thick: 367 - 19 - 35 = 313."""
    corner = corner_of(corner_order(right=950.0, deep=(580.0, 560.0), faces=Faces.FACE_FRAME))
    left, right = ({member.name: member for member in leg.frame} for leg in (corner.left, corner.right))
    assert set(left) == {"left stile", "left top rail", "left bottom rail"}
    assert (left["left top rail"].x_mm, left["left top rail"].width_mm) == pytest.approx((35, 302))
    assert (right["right top rail"].x_mm, right["right top rail"].width_mm) == pytest.approx((580 + 19, 313))
    assert (right["right stile"].x_mm, right["right stile"].width_mm) == pytest.approx((947 + 3 - 38, 38))


def test_the_sums_of_a_corners_stretchers() -> None:
    """Strips 100 wide in rabbets 6 deep (11.8 from the outside): the front one from 480 behind the left wall to 888.2,
    480 to 888.2 from the front; the rear one from the back, 5.8, to 888.2, 11.8 to 894.2."""
    box = compile_corner(corner_of(corner_order(construction=replace(CONSTRUCTION, top=TopWord.STRETCHERS))))
    front, rear = panel(box, "front stretcher"), panel(box, "rear stretcher")
    assert size(front) == pytest.approx((888.2 - 480, 420 - 11.8))
    assert front.outline.area == pytest.approx(408.2**2 - 308.2**2)
    assert size(rear) == pytest.approx((882.4, 882.4))
    assert rear.outline.area == pytest.approx(882.4**2 - 782.4**2)
    joints = {(joint.receiver, joint.feature) for joint in box.joints if joint.entering.endswith("stretcher")}
    assert joints == {(f"N1 {hand} side", f"{end} stretcher rabbet") for hand in ("left", "right")
                      for end in ("front", "rear")}  # fmt: skip


def test_a_corners_tongues_and_stopped_dados() -> None:
    """The tongue, 9 of 17.8, enters 6; its dado, 6.4 deep, stops 10 behind the front: open below over the kick, so in a
    quarter round of 9 + 0.1; the end is notched 10 + 9.1 + 6.5 = 25.6."""
    words = {"bottom_joint": LevelJoint.TONGUE, "depth_clearance_mm": 0.4, "top_joint": LevelJoint.STOPPED_DADO}
    box = compile_corner(corner_of(corner_order(construction=replace(CONSTRUCTION, **words))))
    bottom, side = panel(box, "bottom"), panel(box, "left side")
    depths = [(item.name, round(item.depth_mm, 3)) for item in bottom.features if not isinstance(item, Bore)]
    assert depths == [("left tongue rabbet", 8.8), ("right tongue rabbet", 8.8)]
    assert {item.depth_mm for item in side.features if item.name == "bottom dado"} == {6.4}
    corners = {(round(at.x, 3), round(at.y, 3)) for at in bottom.outline.flattened(0.1)}
    # Corner frame (580 - 25.6, 11.8 + 6), the panel's origin at (5.8, 11.8).
    assert (round(580 - 25.6 - 5.8, 3), 6.0) in corners


def test_banded_edges_of_the_inner_corner_are_cut_back_and_listed() -> None:
    """With bands of 2: the bottom's fronts stand at 578 and 322; from its left end (11.8) to 322, from 578 to 888.2."""
    wanted = corner_order(construction=replace(CONSTRUCTION, band_thickness_mm=2.0))
    box = compile_corner(corner_of(wanted))
    bottom = panel(box, "bottom")
    assert [band.length_mm for band in bottom.inner_bands] == pytest.approx([322 - 11.8, 888.2 - 578])
    assert panel(box, "left side").width_mm == pytest.approx(578)
    net = [(row.edges, row.net_mm) for row in bands([bottom], allowance_mm=0, waste_percent=0)]
    assert net == [(2, pytest.approx(620.4))]
    assert "inner corner, left front" in edge_banding_csv([bottom], allowance_mm=50)


WORDED_FAULTS = [
    pytest.param(displaced("front stretcher", 0, 0, 1), {"fit-joint"}, id="a stretcher 1 mm high"),
    pytest.param(displaced("rear stretcher", 3, -3, 0), {"fit-seat"}, id="a rear stretcher off both backs"),
    pytest.param(displaced("left door", 3, 0, 0), {"fit-outside"}, id="an inset door that stands out"),
    pytest.param(displaced("right door", 5, 0, 0), {"fit-outside"}, id="an inset door against its side"),
    pytest.param(features_moved("left side", "plate", 0, 4), {"fit-hinge"}, id="plates 4 mm nearer the front"),
    pytest.param(displaced("bottom", 0, 0, 0.5), {"fit-joint", "fit-seat"}, id="a tongue half a millimetre high"),
    pytest.param(features_moved("bottom", "left tongue", 0, 1), {"fit-seat"}, id="a shoulder that does not seat"),
]


@pytest.mark.parametrize(("plant", "codes"), WORDED_FAULTS)
def test_a_fault_planted_in_a_corner_of_other_words_is_found(plant: Callable[[Box], Box], codes: set[str]) -> None:
    words = {"top": TopWord.STRETCHERS, "bottom_joint": LevelJoint.TONGUE, "band_thickness_mm": 1.0}
    construction = replace(CONSTRUCTION, **words)
    corner = corner_of(corner_order(deep=(560.0, 540.0), doors="two", mount=Mount.INSET, construction=construction))
    box = compile_corner(corner)
    assert check_corner_fit(corner, box).findings == ()
    assert {item.code for item in check_corner_fit(corner, plant(box)).findings} >= codes
