"""Every planted fault is found, and the clean program raises nothing."""

import math
import re
from collections.abc import Callable

import pytest
from planted_kit import CLEAN, Setup, line_of, run, swap, told

Change = Callable[[Setup], None]


def _nothing(setup: Setup) -> None:
    del setup


def _cutter(number: int, **values: object) -> Change:
    def change(setup: Setup) -> None:
        next(cutter for cutter in setup["cutters"] if cutter["number"] == number).update(values)

    return change


def _hold(**values: object) -> Change:
    def change(setup: Setup) -> None:
        setup["target"]["panels"][0]["hold"].update(values)

    return change


def _clamp(**values: object) -> Change:
    def change(setup: Setup) -> None:
        setup["clamps"][0].update(values)

    return change


def _by_hand(setup: Setup) -> None:
    setup["machine"]["spindle_by_hand"] = True


def _one_bore_more(setup: Setup) -> None:
    bores = setup["target"]["panels"][0]["bores"]
    bores.append({**bores[0], "name": "pin 3", "y_mm": 124})


def _island(setup: Setup) -> None:
    corners = ([105, 60], [112, 60], [112, 70], [105, 70])
    island = {"start": corners[0], "segments": [{"to": to} for to in (*corners[1:], corners[0])]}
    setup["target"]["panels"][0]["recesses"][0]["islands"] = [island]


def _stopped(setup: Setup) -> None:
    corners = ([100, 55], [117.9, 55], [117.9, 160], [100, 160])
    outline = {"start": corners[0], "segments": [{"to": to} for to in (*corners[1:], corners[0])]}
    setup["target"]["panels"][0]["recesses"][0]["outline"] = outline


PIN_1 = "G0 X60 Y60\nG0 Z2\nG1 Z-12 F400\nG0 Z40\n"
EXTRA_HOLE = PIN_1.replace("X60 Y60", "X80 Y76")
NO_TABS = CLEAN.replace("G1 Z-14.8 F500\n", "")

PLANTED = [
    pytest.param(swap("G21", "G20"), _nothing, "axis-limit", id="inches for millimetres"),
    pytest.param(swap("G54", "G54\nG92 X5 Y0 Z40"), _nothing, "gouge", id="origin shifted"),
    pytest.param(swap("S16000 M3", "S16000"), _nothing, "spindle-off", id="spindle off"),
    pytest.param(swap("S9000 M3", "M3").replace("S16000 M3", "M3"), _nothing, "spindle-no-speed", id="no speed"),
    pytest.param(swap("G4 P4\n", "", times=2), _nothing, "spindle-not-waited", id="spindle not waited for"),
    pytest.param(swap("G4 P4\n", "G4 P1\n"), _nothing, "spindle-not-waited", id="spindle not waited for long enough"),
    pytest.param(swap("S16000 M3", "S16000 M4"), _nothing, "spindle-backwards", id="spindle backwards"),
    pytest.param(swap("S16000", "S30000"), _nothing, "spindle-range", id="spindle too fast"),
    pytest.param(swap("G1 Y164 F2000", "G0 Y164"), _nothing, "traverse-in-stock", id="traverse in stock"),
    pytest.param(swap("G1 Z-6 F500", "G0 Z-6\nF500"), _nothing, "traverse-in-stock", id="traverse down into stock"),
    pytest.param(swap("G1 Z-6 F500", "G1 Z6 F500"), _nothing, "feature-missing", id="lost minus sign"),
    pytest.param(swap("G1 X107.5", "G1 X-107.5"), _nothing, "axis-limit", id="minus sign too many"),
    pytest.param(swap("T1 M6", "T3 M6"), _nothing, "wrong-cutter", id="other cutter called"),
    pytest.param(swap("T1 M6", "T4 M6"), _nothing, "cutter-unknown", id="cutter that is not there"),
    pytest.param(CLEAN, _cutter(1, diameter_mm=5.8), "leftover", id="worn cutter: the dado keeps ridges"),
    pytest.param(CLEAN, _cutter(1, diameter_mm=6.35), "gouge", id="thicker cutter: everything too wide"),
    pytest.param(CLEAN, _cutter(2, diameter_mm=4.5), "bore-too-narrow", id="thin drill"),
    pytest.param(CLEAN, _cutter(2, diameter_mm=6.0), "bore-too-wide", id="thick drill"),
    pytest.param(CLEAN, _clamp(x_mm=130, y_mm=30), "cut-into-clamp", id="clamp moved into the cut"),
    pytest.param(CLEAN, _clamp(x_mm=13), "near-clamp", id="clamp within the margin"),
    pytest.param(
        CLEAN, _clamp(x_mm=20, y_mm=10, length_y_mm=10, top_z_mm=45), "traverse-through-clamp", id="tall clamp"
    ),
    pytest.param(CLEAN, _clamp(x_mm=4, top_z_mm=30), "holder-hits-clamp", id="collet meets the clamp"),
    pytest.param(swap("G1 Z-18.1", "G1 Z-21.53", times=5), _nothing, "spoilboard-bite", id="through cut too deep"),
    pytest.param(
        swap("G1 Z-6 F500", "G1 Z-6.5 F500"), _nothing, "recess-cut-too-deep", id="dado half a millimetre deeper"
    ),
    pytest.param(
        swap("G1 Z-6 F500", "G1 Z-5.5 F500"), _nothing, "recess-too-shallow", id="dado half a millimetre shallower"
    ),
    pytest.param(
        swap("G1 Y164 F2000", "G1 Y150 F2000").replace("G1 Y164\n", "G1 Y150\n"),
        _nothing,
        "leftover",
        id="dado not full length",
    ),
    pytest.param(swap(PIN_1, ""), _nothing, "bore-missing", id="missing hole"),
    pytest.param(CLEAN, _one_bore_more, "bore-missing", id="hole nobody planned to cut"),
    pytest.param(swap(PIN_1, PIN_1 + EXTRA_HOLE), _nothing, "gouge", id="hole nobody asked for"),
    pytest.param(swap("Z-12 F400", "Z-11 F400"), _nothing, "bore-too-shallow", id="shallow hole"),
    pytest.param(swap("Z-12 F400", "Z-12.5 F400"), _nothing, "bore-too-deep", id="deep hole"),
    pytest.param(swap("X60 Y60", "X60 Y60.3"), _nothing, "bore-too-wide", id="hole three tenths aside"),
    pytest.param(NO_TABS, _nothing, "tabs-missing", id="no tabs"),
    pytest.param(CLEAN, _hold(at_least=5), "tabs-missing", id="fewer tabs than asked"),
    pytest.param(CLEAN, _hold(at_most=3), "tabs-too-many", id="more tabs than asked"),
    pytest.param(CLEAN, _hold(length_mm=5), "tab-too-big", id="tabs too long"),
    pytest.param(CLEAN, _hold(height_mm=2), "tab-too-big", id="tabs too high"),
    pytest.param(CLEAN, _hold(length_mm=9), "tab-too-small", id="tabs too short"),
    pytest.param(CLEAN, _hold(height_mm=4), "tab-too-small", id="tabs too low"),
    pytest.param(CLEAN.replace("Z-18.1", "Z-17.47"), _nothing, "not-cut-free", id="not cut free"),
    pytest.param(CLEAN.split("(profile")[0] + "M5\nM30\n", _nothing, "outline-not-cut", id="no profile"),
    pytest.param(
        swap("G1 X240 F2000", "G1 X239 F2000", times=3), _nothing, "program-arc", id="arc that misses its end"
    ),
    pytest.param(
        CLEAN.replace(" F2000", "").replace(" F500", "").replace(" F400", ""), _nothing, "program-feed", id="no feed"
    ),
    pytest.param(CLEAN.replace("M30\n", ""), _nothing, "program-end", id="no end"),
    pytest.param(CLEAN.replace("G0 Z40\nM5\nG0 X0", "M5\nG0 X0"), _nothing, "ends-low", id="ends in the wood"),
    pytest.param(CLEAN.replace("M5\nG0 X0", "G0 X0"), _nothing, "spindle-left-on", id="spindle left on"),
    pytest.param(swap("G0 Z40\nM5\n(cutter 1", "M5\n(cutter 1"), _nothing, "tool-change-low", id="cutter changed low"),
    pytest.param(swap("G0 X60 Y60", "G91\nG0 X60 Y60"), _nothing, "relative-at-cut", id="relative mode left on"),
    pytest.param(swap("G1 Z-12 F500", "G1 Z-6 F500"), _nothing, "pass-too-deep", id="pass skipped"),
    pytest.param(CLEAN, _cutter(1, pass_limit_mm=4.5), "pass-too-deep", id="weak cutter"),
    pytest.param(CLEAN, _cutter(1, centre_cutting=False), "plunge-in-stock", id="plunge without centre cutting"),
    pytest.param(CLEAN, _cutter(1, flute_length_mm=15), "deeper-than-flutes", id="short flutes"),
    pytest.param(CLEAN, _cutter(1, stick_out_mm=16), "holder-hits-stock", id="short cutter"),
    pytest.param(swap("G21 G90 G94 G17 G54", "G90 G17 G54"), _nothing, "units-not-stated", id="unit not stated"),
    pytest.param(swap("G21 G90 G94 G17 G54", "G21 G17 G54"), _nothing, "distance-not-stated", id="absolute not stated"),
    pytest.param(swap("G17 G54", "G54"), _nothing, "plane-not-stated", id="plane not stated"),
    pytest.param(swap(" G54", ""), _nothing, "offset-not-stated", id="work offset not stated"),
    pytest.param(swap("G54", "G55"), _nothing, "wrong-work-offset", id="other work offset"),
    pytest.param(swap("G0 Z40\n", "G0 X10\n"), _nothing, "first-motion", id="sideways first"),
    pytest.param(swap("G0 Z40\n", "G0 Z5\n"), _nothing, "first-motion", id="not lifted over the clamp"),
    pytest.param(swap("F2000", "F9000"), _nothing, "feed-over-limit", id="feed no axis can do"),
    pytest.param(swap("G1 Y164 F2000", "G1 Y164 F2000\nG20"), _nothing, "units-change", id="unit changed in mid-file"),
    pytest.param(swap("G0 X103 Y36", "G37.9\nG0 X103 Y36"), _nothing, "program-word", id="unknown word"),
    pytest.param(CLEAN.replace(" M3", ""), _by_hand, "spindle-off", id="hand spindle, no pause"),
    pytest.param(CLEAN, _island, "gouge", id="island cut away"),
    pytest.param(CLEAN, _stopped, "gouge", id="stopped dado cut through to the edge"),
]


def test_the_clean_program_raises_nothing() -> None:
    assert run().findings == ()


@pytest.mark.parametrize(("text", "setup", "code"), PLANTED)
def test_a_planted_fault_is_found(text: str, setup: Change, code: str) -> None:
    found = told(run(text, setup), code)
    assert found, [(item.code, item.message) for item in run(text, setup).findings]
    assert all(item.where.file == "clean.nc" for item in found)


def test_the_clean_report_has_lines_time_and_lengths() -> None:
    (report,) = run().programs
    assert report.name == "clean.nc"
    assert report.lines == CLEAN.count("\n")
    # By hand: two holes 28; dado 8 + 4 * 128 + 11.9; rabbet 6 + 4 + 4 * 208 + 3 * 5; three laps of 640 with four
    # quarter arcs each, their plunges 8 + 6 + 6.1, and the four tabs' ups and downs of 3.3.
    straight = 28 + 8 + 4 * 128 + 11.9 + 6 + 4 + 4 * 208 + 3 * 5 + 3 * 640 + 8 + 6 + 6.1 + 4 * 2 * 3.3
    assert report.cut_mm == pytest.approx(straight + 3 * 2 * math.pi * 3, abs=0.01)
    assert report.time_s > report.cut_mm / 2000 * 60 + 8


def test_a_gouge_names_panel_line_and_place() -> None:
    text = swap(PIN_1, PIN_1 + EXTRA_HOLE)
    (found,) = told(run(text), "gouge")
    assert found.severity == "error"
    assert found.where.panel == "B1 left side"
    assert found.where.line == line_of(text, "X80 Y76") + 2
    assert found.where.x == pytest.approx(80, abs=2.5)
    assert found.where.y == pytest.approx(76, abs=2.5)
    assert found.where.z == -12.0
    assert found.message.startswith('panel "B1 left side": 19.59 mm2 of wood that must stay is cut away, 12.00 mm deep')


def test_a_dado_too_deep_says_by_how_much() -> None:
    (found,) = told(run(swap("G1 Z-6 F500", "G1 Z-6.5 F500")), "recess-cut-too-deep")
    assert '"dado" is 6.50 mm deep, 6.00 asked' in found.message


@pytest.mark.parametrize(
    ("depth", "code", "words"),
    [
        pytest.param("-17.47", "not-cut-free", "the outline is not cut free, 0.33 mm left over", id="T77 shallow"),
        pytest.param("-21.53", "spoilboard-bite", "bites 3.73 mm into the spoilboard, limit 0.5", id="T77 deep"),
    ],
)
def test_the_last_pass_at_the_wrong_depth_says_how_wrong(depth: str, code: str, words: str) -> None:
    found = told(run(CLEAN.replace("Z-18.1", f"Z{depth}")), code)
    assert found
    assert words in found[0].message


def test_a_hand_spindle_with_a_pause_is_clean() -> None:
    text = CLEAN.replace("S9000 M3\n", "M0\n").replace("S16000 M3\n", "M0\n")
    assert run(text, _by_hand).findings == ()


def _spoilboard_zero(setup: Setup) -> None:
    setup.update(z_zero="spoilboard", stock_top_z_mm=17.8, spoilboard_z_mm=0)
    setup["work_offset"]["machine_mm"][2] -= 17.8
    setup["clamps"][0]["top_z_mm"] += 17.8


def _raised(text: str) -> str:
    return re.sub(r"Z(-?[0-9.]+)", lambda match: f"Z{float(match.group(1)) + 17.8:.4f}", text)


def test_t47_the_same_cuts_with_zero_at_the_spoilboard_are_clean_and_their_faults_found() -> None:
    assert run(_raised(CLEAN), _spoilboard_zero).findings == ()
    assert told(run(_raised(NO_TABS), _spoilboard_zero), "tabs-missing")
    assert told(run(CLEAN, _spoilboard_zero), "spoilboard-bite")


def _in_inches(text: str) -> str:
    def inches(match: re.Match[str]) -> str:
        decimals = 5 if match.group(1) in "IJ" else 4
        return f"{match.group(1)}{float(match.group(2)) / 25.4:.{decimals}f}"

    return re.sub(r"([XYZIJF])(-?[0-9.]+)", inches, text).replace("G21", "G20")


def test_the_same_cuts_written_in_inches_are_clean() -> None:
    assert run(_in_inches(CLEAN)).findings == ()
    assert told(run(_in_inches(CLEAN).replace("G20", "G21")), "feature-missing")


def test_the_order_of_findings_and_their_words_are_the_same_every_time() -> None:
    text = swap(PIN_1, EXTRA_HOLE).replace("Z-18.1", "Z-17.47")
    assert run(text) == run(text)


def test_a_deviation_within_tolerance_raises_nothing_and_one_beyond_is_found() -> None:
    assert run(CLEAN, _cutter(1, diameter_mm=5.96)).findings == ()
    assert told(run(CLEAN, _cutter(1, diameter_mm=5.9)), "leftover")
    assert told(run(CLEAN, _cutter(1, diameter_mm=6.1)), "gouge")
