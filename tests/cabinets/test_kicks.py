"""Toe kicks: pieces of a run, feet and corners, and what the measurements say."""

from dataclasses import replace
from typing import Any

import pytest

from box_kit import job
from rabbetry.cabinets.kick_checks import swapped
from rabbetry.cabinets.kicks import resolve_kicks
from rabbetry.cabinets.model import KickPiece
from rabbetry.findings import Finding
from rabbetry.job.kick_orders import joined
from rabbetry.job.model import Grain, KickOrder, KickSpan, KickStyle

Pairs = list[tuple[float, float]]


def order(pairs: Pairs, *, width_mm: float = 600.0, kick_mm: float = 0.0, **changes: Any) -> KickOrder:
    """A board under as many cabinets C1, C2... as there are pairs of heights."""
    spans = tuple(
        KickSpan(cabinet=f"C{k}", width_mm=width_mm, kick_height_mm=kick_mm, left_mm=left, right_mm=right)
        for k, (left, right) in enumerate(pairs, start=1)
    )
    plain: dict[str, Any] = {
        "name": "K",
        "stock": "carcass",
        "style": KickStyle.BOARD,
        "spans": spans,
        "floor": joined(spans),
        "drop_mm": 0.0,
        "setback_mm": 57.2,
        "face_down": False,
        "grain": Grain.ALONG,
        "a_piece_each": False,
        "shims_mm": 20.0,
    }
    return KickOrder(**{**plain, **changes})


def valance(pairs: Pairs, **changes: Any) -> KickOrder:
    feet: dict[str, Any] = {"style": KickStyle.VALANCE, "foot_mm": 80.0, "radius_share": 0.75}
    return order(pairs, **{**feet, **changes})


def settled(wanted: KickOrder) -> tuple[tuple[KickPiece, ...], tuple[Finding, ...]]:
    """Resolve one kick over blanks of 1220 x 1220 mm with 5 mm of trim."""
    return resolve_kicks(
        replace(job(), kicks=(wanted,)), lambda name, count: tuple(f"{name}/{k + 1}" for k in range(count))
    )


def told(wanted: KickOrder) -> dict[str, str]:
    return {item.code: item.message for item in settled(wanted)[1]}


def test_one_piece_follows_the_floor_less_the_drop() -> None:
    (piece,), found = settled(order([(110.0, 104.0), (102.0, 100.0)], width_mm=500.0, drop_mm=2.0))
    assert piece.length_mm == 1000.0
    assert piece.edge == ((0.0, 108.0), (500.0, 101.0), (1000.0, 98.0))
    assert piece.cabinets == ("C1", "C2")
    assert [item.code for item in found] == ["kick-floor"]


def test_a_run_longer_than_the_blank_is_split_between_cabinets() -> None:
    pieces, found = settled(order([(110.0, 108.0), (108.0, 106.0), (106.0, 104.0)]))
    assert [(piece.name, piece.cabinets, piece.length_mm) for piece in pieces] == [
        ("K/1", ("C1", "C2"), 1200.0),
        ("K/2", ("C3",), 600.0),
    ]
    assert pieces[0].edge == ((0.0, 110.0), (600.0, 108.0), (1200.0, 106.0))
    assert pieces[1].edge == ((0.0, 106.0), (600.0, 104.0))
    assert [item.message for item in found if item.code == "kick-split"] == [
        'kick "K": 1800 mm is more than the 1210 mm of a blank: made in 2 pieces, with a joint between C2 and C3'
    ]


def test_a_run_measured_at_points_is_split_where_they_do_not_lie() -> None:
    spans = tuple(KickSpan(cabinet=f"C{k}", width_mm=700.0, kick_height_mm=0.0) for k in (1, 2))
    floor = ((0.0, 100.0), (400.0, 104.0), (1000.0, 110.0), (1400.0, 110.0))
    pieces, _ = settled(order([(1, 1)], spans=spans, floor=floor))
    assert [piece.edge for piece in pieces] == [
        ((0.0, 100.0), (400.0, 104.0), (700.0, 107.0)),
        ((0.0, 107.0), (300.0, 110.0), (700.0, 110.0)),
    ]


def test_a_piece_for_each_cabinet_keeps_the_heights_of_its_own_ends() -> None:
    pieces, found = settled(order([(110.0, 108.0), (107.0, 106.0)], a_piece_each=True))
    assert [piece.edge for piece in pieces] == [((0.0, 110.0), (600.0, 108.0)), ((0.0, 107.0), (600.0, 106.0))]
    assert not [item for item in found if item.code == "kick-split"]


def test_a_cabinet_wider_than_the_blank_cannot_have_one_piece() -> None:
    pieces, found = settled(order([(110.0, 108.0)], width_mm=1300.0))
    assert pieces == ()
    assert [item.message for item in found if item.severity == "error"] == [
        'kick "K": C1 is 1300 mm long, more than the 1210 mm that a blank of stock "carcass" holds; take longer '
        "blanks, "
        "or order shorter pieces"
    ]


def test_the_strip_of_a_valance_is_level_and_its_corners_follow_the_height() -> None:
    (piece,), _ = settled(valance([(120.0, 90.0)], width_mm=800.0, rise_mm=40.0, foot_mm=100.0, radius_share=0.5))
    # 90 least less 40 of rise; clear 116.25 - 50 and 93.75 - 50 at the feet's inner edges, half of each
    assert piece.apron_mm == 50.0
    assert piece.radii_mm == (pytest.approx(33.125), pytest.approx(21.875))


def test_the_strip_is_the_same_for_all_pieces_of_a_run() -> None:
    pieces, _ = settled(valance([(110.0, 108.0), (108.0, 106.0), (106.0, 100.0)]))
    assert [piece.apron_mm for piece in pieces] == [50.0, 50.0]


def test_a_radius_asked_for_holds_for_both_corners() -> None:
    (piece,), found = settled(valance([(110.0, 100.0)], apron_mm=40.0, radius_mm=30.0))
    assert piece.radii_mm == (30.0, 30.0)
    assert [item.code for item in found] == ["kick-floor"]


NO_ROOM = [
    pytest.param({"rise_mm": 95.0}, 'kick "K": a rise of 95 mm leaves a strip of 5 mm; 88 mm or less is expected',
                 id="rise"),
    pytest.param({"apron_mm": 100.0}, 'kick "K": an apron of 100 mm reaches down to the floor; less than 100 mm is '
                 "expected", id="apron"),
    pytest.param({"foot_mm": 280.0}, 'kick "K": two feet of 280 mm and corners of 37.5 mm and 37.5 mm need 635 mm; '
                  'K/1 is '
                 "600 mm long: make foot or radius less", id="feet"),
    pytest.param({"apron_mm": 40.0, "radius_mm": 70.0}, 'kick "K": a radius of 70 mm does not fit under the strip '
                  'at the '
                 "left foot, 60 mm clear; 60 mm or less is expected", id="radius"),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "words"), NO_ROOM)
def test_feet_and_corners_that_do_not_fit_are_refused(changes: dict[str, Any], words: str) -> None:
    pieces, found = settled(valance([(100.0, 100.0)], **changes))
    assert pieces == ()
    assert next((item.severity, item.message) for item in found) == ("error", words)


def test_the_highest_and_the_lowest_spot_are_told() -> None:
    assert told(order([(110.0, 104.0), (104.0, 109.0)]))["kick-floor"] == (
        'kick "K": the floor is highest under C1, 600 mm from the left end (104 mm below the boxes) and 6 mm lower '
        "under "
        "C1, 0 mm from the left end; set the boxes level on the highest spot"
    )


def test_a_level_floor_is_not_spoken_of() -> None:
    assert told(order([(100.0, 100.2), (100.2, 100.1)], kick_mm=100.0)) == {}


def test_sides_higher_than_the_room_below_the_box_are_warned_of() -> None:
    assert told(order([(110.0, 97.0)], kick_mm=100.0))["kick-height"] == (
        'kick "K": the floor is only 97 mm below C1, which stands 100 mm high below its box; measure again, or make '
        "it that or less"
    )
    assert "kick-height" not in told(order([(110.0, 99.5)], kick_mm=100.0))


def test_a_floor_that_falls_more_than_shims_take_up_is_noted() -> None:
    assert told(order([(100.0, 124.0)], kick_mm=100.0))["kick-shims"] == (
        'kick "K": C1 with its toe kick of 100 mm needs 24 mm of packing, more than the 20 mm that shims take up'
    )
    assert "kick-shims" not in told(order([(100.0, 120.0)], kick_mm=100.0))


SWAPS = [
    pytest.param([(100, 104), (104, 108), (108, 112)], (), id="a floor that falls evenly"),
    pytest.param([(100, 104), (108, 104), (108, 112)], (1,), id="the one in the middle"),
    pytest.param([(104, 100), (104, 108), (108, 112)], (0,), id="the one on the left"),
    pytest.param([(100, 104), (104, 108), (112, 108)], (2,), id="the one on the right"),
    pytest.param([(104, 100), (104, 108)], (0,), id="the left of two"),
    pytest.param([(100, 110), (100, 110)], (0, 1), id="either of two"),
    pytest.param([(100, 100.8), (100.2, 101), (100.4, 101)], (), id="readings not exact"),
    pytest.param([(100, 104), (112, 110), (110, 108)], (), id="a step that no swap closes"),
    pytest.param([(100, 104)], (), id="alone"),
]


@pytest.mark.parametrize(("pairs", "wanted"), SWAPS)
def test_a_cabinet_with_left_and_right_swapped_is_named(pairs: Pairs, wanted: tuple[int, ...]) -> None:
    assert swapped(order(pairs).spans) == wanted


def test_the_swap_is_told_in_words_and_its_joints_are_not_told_again() -> None:
    found = told(order([(100, 104), (108, 104), (108, 112)]))
    assert found["kick-swapped"] == (
        'kick "K": left and right of C2 look swapped: it meets its neighbours better so; measure again'
    )
    assert "kick-step" not in found
    assert told(order([(100, 110), (100, 110)]))["kick-swapped"] == (
        'kick "K": left and right of C1 or of C2 look swapped: the joint between them fits better so; measure again'
    )


def test_a_step_at_a_joint_is_told() -> None:
    assert told(order([(100, 104), (112, 110), (110, 108)]))["kick-step"] == (
        'kick "K": 104 mm right of C1 and 112 mm left of C2 should be one height, but differ by 8 mm; the mean is '
        "taken: "
        "measure again"
    )
