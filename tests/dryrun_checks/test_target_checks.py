"""Recesses, bores, openings, tabs and skins against what the program's text really cuts."""

import math

import pytest
from checks_kit import Json, bench, codes, contour, cut, loop, panel, recess, rectangle

# A square panel 100 x 100 at (50, 50): the cutter of 6 mm runs at 47 and 153.
OUTLINE = rectangle(50, 50, 150, 150)


def _profile(tabs: bool = True, low: float = 47, high: float = 153, z: float = -18.3) -> str:
    """Return moves round the square, a tab of 8 mm on two sides (14 on the centre line)."""
    up = "G1 Z-15\n"
    tab_1 = f"G1 X93\n{up}G1 X107\nG1 Z{z:g}\n" if tabs else ""
    tab_2 = f"G1 X107\n{up}G1 X93\nG1 Z{z:g}\n" if tabs else ""
    start = f"G0 X{low:g} Y{low:g}\nG0 Z1\nG1 Z{z:g} F1000\n"
    return f"{start}{tab_1}G1 X{high:g}\nG1 Y{high:g}\n{tab_2}G1 X{low:g}\nG1 Y{low:g}\nG0 Z40\n"


def _square(**more: object) -> Json:
    return panel("P", OUTLINE, **more)  # type: ignore[arg-type]


def test_a_plain_square_is_clean() -> None:
    assert cut(_profile(), bench(_square())).findings == ()


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        pytest.param(47, 153, set(), id="T42 exact"),
        pytest.param(46.98, 153.02, set(), id="within the tolerance"),
        pytest.param(46.95, 153.05, {"leftover"}, id="part 0.05 too big on each side"),
        pytest.param(47.05, 152.95, {"gouge"}, id="part 0.05 too small on each side"),
    ],
)
def test_the_part_comes_out_at_its_size(low: float, high: float, expected: set[str]) -> None:
    assert codes(cut(_profile(low=low, high=high), bench(_square()))) == expected


CLOSED = rectangle(80, 80, 120, 110)


def _pocket(x0: float, y0: float, x1: float, y1: float, z: float) -> str:
    """Clear a rectangle with the 6 mm cutter: rings from the inside out, a 2.5 mm step."""
    text = ""
    inset = 15.0
    while inset > 3.0:
        text += loop(x0 + inset, y0 + inset, x1 - inset, y1 - inset, z)
        inset -= 2.5
    return text + loop(x0 + 3, y0 + 3, x1 - 3, y1 - 3, z)


def test_a_closed_recess_keeps_the_cutters_radius_in_its_corners() -> None:
    setup = bench(_square(recesses=[recess("pocket", CLOSED, 6)]))
    assert cut(_pocket(80, 80, 120, 110, -6) + _profile(), setup).findings == ()


def test_a_ring_left_out_of_a_pocket_is_found() -> None:
    setup = bench(_square(recesses=[recess("pocket", CLOSED, 6)]))
    (found,) = cut(loop(83, 83, 117, 107, -6) + _profile(), setup).findings
    assert found.code == "leftover"
    assert '"pocket" is not cleared' in found.message
    # 40 - 2 * 6 by 30 - 2 * 6, square inside corners of the outer ring's sweep.
    assert "504.00 mm2 left, 6.00 mm high" in found.message


def _relieved(bite: float) -> str:
    """Pocket with its four corners relieved on the bisector, `bite` further than the ring's corner."""
    text = _pocket(80, 80, 120, 110, -6)
    for x, y, dx, dy in ((83, 83, -1, -1), (117, 83, 1, -1), (117, 107, 1, 1), (83, 107, -1, 1)):
        text += f"G0 X{x} Y{y}\nG0 Z1\nG1 Z-6\nG1 X{x + dx * bite:.4f} Y{y + dy * bite:.4f}\nG1 X{x} Y{y}\nG0 Z40\n"
    return text


@pytest.mark.parametrize(
    ("bite", "expected"),
    [
        # The corner is 3 root two from the centre, the cutter reaches 3: 3 - 3 / root two further on each axis.
        pytest.param(3 - 3 / math.sqrt(2), set(), id="T20 smallest overcut"),
        pytest.param(0.0, {"corner-too-tight"}, id="no relief"),
        pytest.param(0.7, {"corner-too-tight"}, id="too little"),
        pytest.param(1.5, {"gouge"}, id="too much"),
    ],
)
def test_a_relieved_corner_is_open_with_the_smallest_overcut(bite: float, expected: set[str]) -> None:
    corners = [[80, 80], [120, 80], [120, 110], [80, 110]]
    setup = bench(_square(recesses=[recess("pocket", CLOSED, 6, relieved_corners=corners)]))
    assert codes(cut(_relieved(bite) + _profile(), setup)) == expected


def test_an_overcut_where_no_relief_is_asked_is_a_gouge() -> None:
    setup = bench(_square(recesses=[recess("pocket", CLOSED, 6)]))
    assert codes(cut(_relieved(3 - 3 / math.sqrt(2)) + _profile(), setup)) == {"gouge"}


@pytest.mark.parametrize("width", [5.98, 6.0, 6.02])
def test_a_groove_of_the_cutters_width_is_cut_on_its_centre_line(width: float) -> None:
    groove = recess("groove", rectangle(100 - width / 2, 50, 100 + width / 2, 150), 6)
    text = "G0 X100 Y46\nG0 Z1\nG1 Z-6 F1000\nG1 Y154\nG0 Z40\n"
    assert cut(text + _profile(), bench(_square(recesses=[groove]))).findings == ()


def test_a_deep_recess_beside_a_shallow_one_may_run_out_into_it() -> None:
    step = [recess("wide", rectangle(50, 50, 150, 74), 4), recess("deep", rectangle(50, 50, 150, 62), 8)]
    text = "".join(
        f"G0 X46 Y{y}\nG0 Z1\nG1 Z{z} F1000\nG1 X154\nG0 Z40\n"
        for y, z in ((48, -4), (53, -4), (58, -4), (63, -4), (68, -4), (71, -4), (48, -8), (53, -8), (58, -8), (59, -8))
    )
    assert cut(text + _profile(), bench(_square(recesses=step))).findings == ()


def _helix(x: float, y: float, radius: float, z: float) -> str:
    turns = [(-z * k / 6) * -1 for k in range(1, 7)]
    text = f"G0 X{x + radius:.4f} Y{y:g}\nG0 Z1\nG1 Z0 F800\n"
    for depth in turns:
        text += f"G3 X{x + radius:.4f} Y{y:g} Z{depth:.4f} I{-radius:.4f} J0\n"
    return text + f"G3 X{x + radius:.4f} Y{y:g} I{-radius:.4f} J0\nG0 Z40\n"


@pytest.mark.parametrize(
    ("wide", "deep", "expected"),
    [
        pytest.param(8.0, 12.0, set(), id="right"),
        pytest.param(8.2, 12.0, {"bore-too-narrow"}, id="too narrow"),
        pytest.param(7.8, 12.0, {"bore-too-wide"}, id="too wide"),
        pytest.param(8.0, 12.5, {"bore-too-shallow"}, id="too shallow"),
        pytest.param(8.0, 11.5, {"bore-too-deep"}, id="too deep"),
        pytest.param(8.0, 18.0, {"bore-too-shallow"}, id="not through"),
    ],
)
def test_a_spiral_bore_has_its_width_and_depth(wide: float, deep: float, expected: set[str]) -> None:
    setup = bench(_square(bores=[(100, 100, wide, deep)]))
    assert codes(cut(_helix(100, 100, 1.0, -12) + _profile(), setup)) == expected


def test_a_drilling_cycle_makes_its_holes() -> None:
    setup = bench(_square(bores=[(70, 70, 5, 12), (70, 102, 5, 12)]))
    drill = "T2 M6\nS9000 M3\nG4 P5\nG98 G83 X70 Y70 Z-12 R2 Q4 F300\nY102\nG80\nG0 Z40\nM5\nT1 M6\nS16000 M3\nG4 P5\n"
    assert cut(drill + _profile(), setup).findings == ()
    assert codes(cut(drill.replace("Y102", "Y103") + _profile(), setup)) == {"bore-too-narrow", "bore-too-wide"}


def _opening(**hold: object) -> Json:
    hold = {"kind": "tabs", "at_least": 0, "at_most": 4, "length_mm": 8, "height_mm": 3, **hold}
    return {"name": "window", "outline": rectangle(80, 80, 120, 120), "hold": hold}


def test_an_opening_is_cut_through_and_its_waste_is_noted() -> None:
    setup = bench(_square(cutouts=[_opening()]))
    (found,) = cut(loop(83, 83, 117, 117, -18.3) + _profile(), setup).findings
    assert (found.severity, found.code) == ("note", "loose-waste")


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        pytest.param("", {"outline-not-cut"}, id="not cut"),
        pytest.param(loop(83, 83, 117, 117, -17), {"not-cut-free"}, id="not through"),
        pytest.param(loop(82, 82, 118, 118, -18.3), {"gouge", "outline-not-cut"}, id="too wide"),
    ],
)
def test_an_opening_that_is_not_right_is_found(body: str, expected: set[str]) -> None:
    assert codes(cut(body + _profile(), bench(_square(cutouts=[_opening()])))) == expected


SKIN = {"kind": "skin", "thickness_mm": 0.4}


@pytest.mark.parametrize(
    ("z", "expected"),
    [
        pytest.param(-17.6, set(), id="as asked"),
        pytest.param(-17.2, {"not-cut-free"}, id="too thick"),
        pytest.param(-17.8, {"skin-missing"}, id="too thin"),
        pytest.param(-18.3, {"skin-missing"}, id="cut through"),
    ],
)
def test_a_skin_is_left_at_its_thickness(z: float, expected: set[str]) -> None:
    assert codes(cut(_profile(tabs=False, z=z), bench(_square(hold=SKIN)))) == expected


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        pytest.param(loop(83, 83, 91, 91, -18.3) + loop(86, 86, 88, 88, -18.3), set(), id="all of it is dust"),
        pytest.param(loop(83, 83, 91, 91, -17.6), set(), id="a skin below a small opening"),
        pytest.param(loop(83, 83, 91, 91, -18.3), {"skin-missing"}, id="a piece of waste and no skin"),
    ],
)
def test_an_opening_with_a_skin_keeps_it_unless_nothing_is_left_in_it(body: str, expected: set[str]) -> None:
    opening = {"name": "slot", "outline": rectangle(80, 80, 94, 94), "hold": SKIN}
    text = body + _profile(tabs=False, z=-17.6)
    assert codes(cut(text, bench(_square(hold=SKIN, cutouts=[opening])))) - {"loose-waste"} == expected


@pytest.mark.parametrize(
    ("raised", "expected"),
    [
        pytest.param(14.0, set(), id="T45 8 mm left"),
        pytest.param(14.4, set(), id="a little longer"),
        pytest.param(16.0, {"tab-too-big"}, id="10 mm left"),
        pytest.param(12.0, {"tab-too-small"}, id="6 mm left"),
        pytest.param(80.0, {"not-cut-free"}, id="side not cut"),
    ],
)
def test_a_tab_is_as_long_as_asked_after_the_cutters_radius(raised: float, expected: set[str]) -> None:
    text = _profile().replace("X93", f"X{100 - raised / 2:g}").replace("X107", f"X{100 + raised / 2:g}")
    assert codes(cut(text, bench(_square()))) == expected


@pytest.mark.parametrize(
    ("thinned", "expected"),
    [
        pytest.param("X93\nG1 Z-17\nG1 X95\nG1 Z-15", {"tab-too-small"}, id="1 mm high over its first 2 mm"),
        pytest.param("X93\nG1 Z-17\nG1 X93.05\nG1 Z-15", set(), id="over a twentieth of a millimetre"),
    ],
)
def test_a_tab_is_as_high_as_asked_over_its_length(thinned: str, expected: set[str]) -> None:
    text = _profile()
    old = "X93\nG1 Z-15"
    assert text.count(old) >= 1
    assert codes(cut(text.replace(old, thinned, 1), bench(_square()))) == expected


def test_a_tab_at_a_corner_follows_the_outline() -> None:
    text = (
        "G0 X47 Y100\nG0 Z1\nG1 Z-18.3 F1000\nG1 Y54\nG1 Z-15\nG1 Y47\nG1 X54\nG1 Z-18.3\n"
        "G1 X153\nG1 Y153\nG1 X47\nG1 Y100\nG0 Z40\n"
    )
    # On the centre line 14 mm round the corner; the ring about a corner is an arc, shorter by (2 - pi / 2) * 3.
    setup = bench(_square(hold={"kind": "tabs", "at_least": 1, "at_most": 1, "length_mm": 6.7, "height_mm": 3}))
    assert cut(text, setup).findings == ()


def test_a_tab_that_a_neighbours_cut_goes_through_holds_nothing() -> None:
    # The neighbour stands 8 mm to the right: its own cut, at x 155, takes all but 2 mm of the kerf.
    right = panel("Q", rectangle(158, 50, 250, 150))
    left = _square(hold={"kind": "tabs", "at_least": 1, "at_most": 4, "length_mm": 8, "height_mm": 3})
    one = (
        "G0 X47 Y47\nG0 Z1\nG1 Z-18.3 F1000\nG1 X153\nG1 Y93\nG1 Z-15\nG1 Y107\nG1 Z-18.3\n"
        "G1 Y153\nG1 X47\nG1 Y47\nG0 Z40\n"
    )
    result = cut(one + loop(155, 47, 253, 153, -18.3), bench(left, right))
    assert codes(result) == {"tab-cut-off", "tabs-missing"}


def test_a_notch_keeps_the_cutters_radius_in_its_inside_corner() -> None:
    notched = contour([(50, 50), (150, 50), (150, 150), (90, 150), (90, 110), (50, 110)])
    text = (
        "G0 X47 Y47\nG0 Z1\nG1 Z-18.3 F1000\nG1 X93\nG1 Z-15\nG1 X107\nG1 Z-18.3\nG1 X153\nG1 Y153\nG1 X87\nG1 Y113\n"
        "G1 X47\nG1 Y47\nG0 Z40\n"
    )
    assert cut(text, bench(panel("P", notched))).findings == ()
