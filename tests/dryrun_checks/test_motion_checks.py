"""Envelope, clamps, head, end and depth: the published scenarios, each small program judged by line."""

import json
import random
from typing import Any

import pytest
from checks_kit import HEAD, TAIL, Json, bench, codes, cut, loop, panel, rectangle, run
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.findings import Finding

INCH = 25.4


def _found(text: str, setup: Json, code: str) -> list[Finding]:
    return [item for item in run(text, setup).findings if item.code == code]


def _inch_bench(**more: object) -> Json:
    """The scenarios' machine: inches from the stock's top, travel 0 to 48, -1 to 3, stock 0.703, bite 0.06, clearance
    1.25."""
    data = bench(**more)
    data["machine"].update(
        travel_min_mm=[0, 0, -1 * INCH],
        travel_max_mm=[48 * INCH, 48 * INCH, 3 * INCH],
        clamp_margin_mm=0.25 * INCH,
        spoilboard_allowance_mm=0.06 * INCH,
    )
    data.update(spoilboard_z_mm=-0.703 * INCH)
    data["work_offset"]["machine_mm"] = [0, 0, 0]
    data["blank"].update(x_mm=48 * INCH, y_mm=48 * INCH, thickness_mm=0.703 * INCH)
    data["cutters"][0].update(diameter_mm=0.25 * INCH)
    return data


INCH_HEAD = "G20 G90 G94 G17 G54\nG0 Z1.25\nT1 M6\nS16000 M3\nG4 P5\n"
INCH_TAIL = "G0 Z1.25\nM5\nM30\n"


def test_t37_a_centre_outside_the_travel_is_found_with_how_far() -> None:
    (found,) = _found(INCH_HEAD + "G0 X-0.125 Y5\nG0 X5\n" + INCH_TAIL, _inch_bench(), "axis-limit")
    assert found.where.line == 6
    assert found.message == "X reaches -3.17 in machine coordinates; the travel is 0 to 1219.2: 3.17 mm too far"


def test_an_arc_that_bulges_out_of_the_travel_is_found_though_its_ends_are_inside() -> None:
    text = INCH_HEAD + "G0 X1 Y5\nG1 Z-0.1 F40\nG3 X1 Y7 I0 J1\nG2 X1 Y5 I0 J-1\nG2 X1 Y8 I0 J1.5\n" + INCH_TAIL
    assert [item.where.line for item in _found(text, _inch_bench(), "axis-limit")] == [10]


def test_t36_t75_a_traverse_through_a_clamp_names_clamp_and_line_and_a_high_one_is_clean() -> None:
    clamp = {
        "name": "C1",
        "x_mm": 20 * INCH,
        "y_mm": 0,
        "length_x_mm": 3 * INCH,
        "length_y_mm": 1.5 * INCH,
        "top_z_mm": INCH,
    }
    setup = _inch_bench(clamps=[clamp])
    low = INCH_HEAD + "G0 X2 Y0.5\nG0 Z0.25\nG0 X40 Y0.5\n" + INCH_TAIL
    (found,) = _found(low, setup, "traverse-through-clamp")
    assert found.where.line == 8
    assert '"C1"' in found.message
    high = INCH_HEAD + "G0 X2 Y0.5\nG0 X40 Y0.5\n" + INCH_TAIL
    assert not run(high, setup).findings
    between = INCH_HEAD + "G0 X2 Y0.5\nG0 Z1.1\nG0 X40 Y0.5\n" + INCH_TAIL
    (near,) = _found(between, setup, "near-clamp")
    assert near.severity == "warning"


@pytest.mark.parametrize(
    ("y", "expected"),
    [
        pytest.param(1.0, "cut-into-clamp", id="in it"),
        pytest.param(1.6, "cut-into-clamp", id="its side by the cutter's radius"),
        pytest.param(1.8, "near-clamp", id="within the margin"),
    ],
)
def test_t36_a_cut_keeps_radius_and_margin_from_a_clamp(y: float, expected: str) -> None:
    clamp = {
        "name": "C1",
        "x_mm": 20 * INCH,
        "y_mm": 0,
        "length_x_mm": 3 * INCH,
        "length_y_mm": 1.5 * INCH,
        "top_z_mm": INCH,
    }
    setup = _inch_bench(clamps=[clamp])
    setup["machine"]["collet_diameter_mm"] = 5
    text = f"{INCH_HEAD}G0 X15 Y{y}\nG1 Z-0.1 F40\nG1 X30\n{INCH_TAIL}"
    assert expected in codes(run(text, setup))
    clear = f"{INCH_HEAD}G0 X15 Y1.9\nG1 Z-0.1 F40\nG1 X30\n{INCH_TAIL}"
    assert codes(run(clear, setup)) == set()


def test_the_dust_shoe_over_a_clamp_is_a_warning() -> None:
    clamp = {"name": "C1", "x_mm": 100, "y_mm": 0, "length_x_mm": 20, "length_y_mm": 20, "top_z_mm": 20}
    setup = bench(clamps=[clamp])
    setup["machine"].update(dust_shoe_mm=[80, 60], dust_shoe_height_mm=15)
    text = HEAD + "G0 X110 Y48\nG0 Z1\nG1 Z-2 F1000\nG1 X140\n" + TAIL
    assert {(item.severity, item.code) for item in run(text, setup).findings} == {("warning", "holder-hits-clamp")}


@pytest.mark.parametrize(
    ("z", "code", "said"),
    [
        pytest.param(-0.723, "", "", id="T46 0.02 below"),
        pytest.param(-0.793, "spoilboard-bite", "bites 2.29 mm into the spoilboard, limit 1.524", id="T46 0.09 below"),
        pytest.param(-0.85, "spoilboard-bite", "bites 3.73 mm into the spoilboard, limit 1.524", id="T77 0.147 below"),
        pytest.param(-0.69, "not-cut-free", "0.33 mm left", id="T77 0.013 above"),
    ],
)
def test_t46_t77_the_last_pass(z: float, code: str, said: str) -> None:
    part = panel("P", rectangle(2 * INCH, 2 * INCH, 12 * INCH, 12 * INCH))
    setup = _inch_bench()
    setup["target"]["panels"] = [part]
    body = f"G0 X1.875 Y1.875\nG1 Z{z} F100\nG1 X12.125\nG1 Y12.125\nG1 X1.875\nG1 Y1.875\n"
    result = run(INCH_HEAD + body + INCH_TAIL, setup)
    assert codes(result) == ({code} if code else set())
    assert all(said in item.message for item in result.findings)


def test_t55_t65_head_and_end_as_they_should_be_raise_nothing() -> None:
    assert cut("G0 X10 Y10\n", bench()).findings == ()


def test_t65_an_end_in_the_wood_with_the_spindle_on_and_more_text() -> None:
    text = HEAD + "G0 X10 Y10\nG1 Z-1 F500\nM30\nG0 X0\n"
    assert {"ends-low", "spindle-left-on", "text-after-end"} == codes(run(text, bench()))


def test_t69_a_unit_changed_in_mid_file_is_warned_of_and_goes_nowhere() -> None:
    text = "G20 G90 G94 G17 G54\nG0 Z1.5\nS9000 M3\nG4 P5\nG1 X4 F60\nG21\nX101.6\nG0 Z40\nM5\nM30\n"
    (report,) = run(text, bench()).programs
    assert "units-change" in {item.code for item in report.findings}
    assert report.cut_mm == pytest.approx(101.6 + 0.1234567, abs=0.2)


def test_t70_relative_mode_at_the_first_cut_is_a_warning() -> None:
    text = HEAD.replace("G90", "G91").replace("Z40", "Z60") + "X20\nG1 Z-41 F200\nG0 Z41\nM5\nM30\n"
    assert "relative-at-cut" in codes(run(text, bench()))


@pytest.mark.parametrize("word", ["G53 G0 Z0", "G28", "G28 Z0"])
def test_t71_a_machine_coordinate_that_nothing_declares_cannot_be_verified(word: str) -> None:
    setup = bench(work_offset={"word": "G54", "machine_mm": None})
    found = _found(f"{HEAD}{word}\n{TAIL}", setup, "cannot-verify")
    assert [(item.severity, item.where.line) for item in found] == [("warning", None), ("error", 6)]


def test_t71_a_declared_offset_or_home_can_be_verified() -> None:
    assert not _found(HEAD + "G53 G0 Z0\n" + TAIL, bench(), "cannot-verify")
    assert not _found(HEAD + "G53 G0 Z0\n" + TAIL, bench(), "axis-limit")
    setup = bench()
    setup["machine"]["home_mm"] = [0, 0, 0]
    assert not _found(HEAD + "G28 Z50\n" + TAIL, setup, "cannot-verify")


def test_t72_t73_impossible_arcs_are_refused_at_their_line() -> None:
    text = HEAD + "G0 X10 Y10\nG1 Z-1 F500\nG2 X10 Y10 R1\n" + TAIL
    (found,) = _found(text, bench(), "program-arc")
    assert found.where.line == 8


def test_t74_t50_a_traverse_below_the_stocks_top_is_found_at_its_line() -> None:
    text = HEAD + "G0 X10 Y10\nG0 Z-0.3\n" + TAIL
    (found,) = _found(text, bench(), "traverse-in-stock")
    assert (found.severity, found.where.line) == ("error", 7)
    assert found.message == "a traverse at z -0.30 is below the stock's top 0.00"


def test_straight_up_and_beside_the_blank_a_traverse_may_be_low() -> None:
    assert not _found(HEAD + "G0 X-6 Y10\nG0 Z-3\nG0 Y50\n" + TAIL, bench(), "traverse-in-stock")
    assert not _found(HEAD + "G0 X10 Y10\nG1 Z-3 F500\nG0 Z5\n" + TAIL, bench(), "traverse-in-stock")


@pytest.mark.parametrize(
    ("text", "code"),
    [
        pytest.param(HEAD.replace("S16000 M3\n", ""), "spindle-off", id="T76 no start"),
        pytest.param(HEAD.replace("S16000 ", ""), "spindle-no-speed", id="T76 no speed"),
    ],
)
def test_t76_a_spindle_that_does_not_turn_is_found_before_the_first_cut(text: str, code: str) -> None:
    (found,) = _found(text + "G0 X10 Y10\nG1 Z-1 F500\n" + TAIL, bench(), code)
    assert found.where.line == text.count("\n") + 2


def test_a_spindle_stopped_for_a_new_cutter_must_be_started_and_waited_for_again() -> None:
    text = HEAD + "G0 X10 Y10\nG1 Z-1 F500\nG0 Z40\nM5\nT2 M6\nS9000 M3\nG1 X20 Y20\nG1 Z-1\n" + TAIL
    assert [item.where.line for item in _found(text, bench(), "spindle-not-waited")] == [13]


def test_programs_of_one_sheet_add_up_in_running_order() -> None:
    part = panel("P", rectangle(50, 50, 150, 150), bores=[(100, 100, 5, 12)])
    setup = bench(part)
    setup["programs"] = ["a-T2.nc", "a-T1.nc"]
    drill = HEAD.replace("T1 M6\n", "") + "G0 X100 Y100\nG0 Z1\nG1 Z-12 F300\n" + TAIL
    mill = HEAD.replace("T1 M6\n", "") + loop(47, 47, 153, 153, -18.2) + TAIL

    def text(*loaded: int) -> str:
        return json.dumps({**setup, "loaded": list(loaded)})

    both = [(ProgramText(name="a-T2.nc", text=drill), text(2)), (ProgramText(name="a-T1.nc", text=mill), text(1))]
    assert dry_run(both).findings == ()
    alone = dry_run(both[1:])
    assert codes(alone) == {"sheet-incomplete"}
    swapped = [(both[0][0], text(1)), both[1]]
    assert codes(dry_run(swapped)) == {"bore-too-wide"}
    assert [len(report.findings) for report in dry_run(swapped).programs] == [1, 0]


def test_without_tool_change_and_word_a_program_with_two_cutters_cannot_be_judged() -> None:
    assert "no-cutter" in codes(run((HEAD + "G0 X10 Y10\nG1 Z-1 F500\n" + TAIL).replace("T1 M6\n", ""), bench()))


def test_a_long_list_of_one_finding_is_cut_short_and_counted() -> None:
    result = run(HEAD + "G0 X10 Y10\n" + "G0 Z-0.3\nG0 Z1\n" * 40 + TAIL, bench())
    told = [item for item in result.findings if item.code == "traverse-in-stock"]
    assert len(told) == 12
    assert "28 more of traverse-in-stock" in [item.message for item in result.findings]


_G_WORDS = (0, 1, 2, 3, 4, 17, 18, 19, 20, 21, 28, 53, 54, 55, 80, 81, 83, 90, 91, 92, 93, 94, 98)
_WORDS = st.sampled_from(
    [*(f"G{word}" for word in _G_WORDS), "M0", "M3", "M5", "M6", "M30", "T1", "T2", "T9", *"XYZIJKRQPFS();%/-. \n"]
)
_NUMBERS = st.sampled_from(
    ["0", "1", "-3", "50", "1e9", "-0.5", "160", "999999999", "0.000001", "-18.3", "X10 Y10", "\n"]
)


@settings(max_examples=150, deadline=None)
@given(st.lists(_WORDS | _NUMBERS, max_size=60).map(" ".join), st.booleans())
def test_any_text_gives_a_report(body: str, with_head: bool) -> None:
    part = panel("P", rectangle(50, 50, 150, 150), bores=[(100, 100, 5, 12)])
    result = cut(body, bench(part)) if with_head else run(body, bench(part))
    assert len(result.programs) == 1
    assert all(item.where.file == "a.nc" for item in result.findings)


def _shuffled(seed: int) -> str:
    chance = random.Random(seed)
    lines = (HEAD + loop(47, 47, 153, 153, -18.3) + "G2 X60 Y60 I5 J5\nG19 G3 Y40 Z-3 J5 K1\nG17\n" + TAIL).splitlines()
    picked: list[Any] = [chance.choice(lines) for _ in range(40)]
    return "\n".join(picked) + "\n"


@pytest.mark.parametrize("seed", range(25))
def test_lines_of_a_program_in_any_order_give_a_report(seed: int) -> None:
    part = panel("P", rectangle(50, 50, 150, 150), bores=[(100, 100, 5, 12)])
    assert len(run(_shuffled(seed), bench(part)).programs) == 1
