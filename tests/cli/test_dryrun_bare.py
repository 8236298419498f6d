"""The dry run of any program without a setup file: scenarios T66 to T78 as a user types them."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result

Run = Callable[..., Result]
Dry = Callable[..., list[dict[str, Any]]]

HEAD = "G17 G20 G90 G94 G54\nG0 Z1.25\nS16000 M3\nG4 P5\n"
"""Four lines; the scenarios are in inches."""
TAIL = "G0 Z1.25\nM5\nM30\n"


@pytest.fixture
def dry(rabbetry: Run, tmp_path: Path) -> Dry:
    """Return a function that dry-runs a text on a blank of 48 x 48 x 0.703 in and returns its findings."""

    def run(text: str, *options: str) -> list[dict[str, Any]]:
        (tmp_path / "theirs.nc").write_text(text, encoding="utf-8")
        bare = ("--machine", "bench-4x4", "--blank", "48x48x0.703in", "--cutter", "0.25in", *options)
        result = rabbetry("dryrun", Path("theirs.nc"), *bare, "--json")
        found: list[dict[str, Any]] = json.loads(result.stdout)
        assert result.exit_code == any(item["severity"] == "error" for item in found), result.stderr
        return found

    return run


def _lines(found: list[dict[str, Any]], code: str) -> list[int | None]:
    return [item["where"].get("line") for item in found if item["code"] == code]


def test_a_sound_program_has_no_error_and_says_what_was_not_checked(dry: Dry) -> None:
    found = dry(HEAD + "G0 X2 Y2\nG1 Z-0.1 F20\nG1 X5 F60\n" + TAIL)
    assert {item["code"] for item in found} == {"cannot-verify", "not-checked"}
    assert {item["severity"] for item in found} == {"warning", "note"}


@pytest.mark.parametrize(
    ("body", "code", "line"),
    [
        pytest.param("n10g0z1.25\nN20 g1 x 1 0 . 5 f60\nG1Y.5\n", "blank-in-number", 6, id="T66"),
        pytest.param("G0 X2 Y2\n/G1 Z-0.5 F20\n", "block-delete", 6, id="T67"),
        pytest.param("G0 Z0.2\nG1 X5\n", "program-feed", 6, id="T68"),
        pytest.param("G1 X4 F60\nG21 X101.6\n", "units-change", 6, id="T69"),
        pytest.param("G91 G0 Z1\nX2\nG1 Z-1.5 F20\n", "relative-at-cut", 7, id="T70"),
        pytest.param("G53 G0 Z0\n", "cannot-verify", 5, id="T71"),
        pytest.param("G0 X0 Y0\nG1 Z-.1 F20\nG2 X0 Y0 I1 J0\nG2 X0 Y0 R1\n", "program-arc", 8, id="T73"),
        pytest.param("G0 X10 Y10\nG0 Z-0.3\n", "traverse-in-stock", 6, id="T74"),
        pytest.param("G0 X2 Y2\nG1 Z-0.690 F20\nG1 X5 F60\n", "nearly-through", 6, id="T77 shallow"),
        pytest.param("G0 X2 Y2\nG1 Z-0.850 F20\nG1 X5 F60\n", "spoilboard-bite", 6, id="T77 deep"),
        pytest.param("G0 X51 Y2\nG1 Z-0.1 F20\n", "cut-off-blank", 6, id="cut beside the blank"),
        pytest.param("G37.9\n", "program-word", 5, id="T78 unknown word"),
        pytest.param("(bottom panel\n", "program-syntax", 5, id="T78 open comment"),
        pytest.param("G1 X1 X2 F60\n", "program-word", 5, id="T78 word twice"),
        pytest.param("G1 G2 X1 F60\n", "program-group", 5, id="T78 two motions"),
    ],
)
def test_a_scenario_is_told_at_its_line(dry: Dry, body: str, code: str, line: int) -> None:
    found = dry(HEAD + body + TAIL)
    assert line in _lines(found, code), found


@pytest.mark.parametrize("dialect", ["strict", "lenient", "small-firmware"])
def test_t72_an_arc_that_misses_its_end_is_refused_with_both_radii(dry: Dry, dialect: str) -> None:
    body = "G0 X10.104 Y4.078\nG1 Z-.1 F20\nG3 X9.938 Y4.108 I-.1 J-.075 F40\n"
    (found,) = [item for item in dry(HEAD + body + TAIL, "--dialect", dialect) if item["code"] == "program-arc"]
    assert found["severity"] == "error"
    assert found["where"]["line"] == 7
    assert "3.175" in found["message"]  # 0.125 in at the start; the end lies 3.149 mm from the centre.
    assert "3.14" in found["message"] or "3.15" in found["message"]


@pytest.mark.parametrize(("lift", "is_hit"), [("0.25", True), ("1.25", False)])
def test_t75_a_clamp_and_the_line_that_meets_it_are_named(dry: Dry, lift: str, is_hit: bool) -> None:
    body = f"G0 X2 Y0.5\nG0 Z{lift}\nG0 X40 Y0.5\n"
    found = dry(HEAD + body + TAIL, "--clamp", "20x0x3x1.5x1in")
    assert _lines(found, "traverse-through-clamp") == ([7] if is_hit else [])
    assert all("clamp 1" in item["message"] for item in found if item["code"] == "traverse-through-clamp")


@pytest.mark.parametrize(
    ("switch", "code"), [("", "spindle-off"), ("M3", "spindle-no-speed")], ids=["no start", "no speed"]
)
def test_t76_a_spindle_not_ready_is_told_before_the_first_cut(dry: Dry, switch: str, code: str) -> None:
    text = HEAD.replace("S16000 M3", switch) + "G0 X2 Y2\nG1 Z-0.1 F20\n" + TAIL
    assert _lines(dry(text), code) == [6]


def test_t78_text_after_the_end_is_told(dry: Dry) -> None:
    assert _lines(dry("%\n" + HEAD + TAIL.replace("M30", "%") + "G1 X1\n"), "text-after-end") == [9]


def test_a_program_with_zero_at_the_spoilboard_is_judged_from_there(dry: Dry) -> None:
    text = HEAD + "G0 X2 Y2\nG1 Z-0.1 F20\n" + TAIL
    assert _lines(dry(text), "spoilboard-bite") == []
    assert _lines(dry(text, "--z-zero", "spoilboard"), "spoilboard-bite")[:1] == [6]


def test_a_declared_place_of_the_blank_lets_travels_be_judged(dry: Dry) -> None:
    text = HEAD + "G0 X50 Y2\n" + TAIL
    assert _lines(dry(text), "axis-limit") == []
    assert _lines(dry(text, "--blank-at", "25x25"), "axis-limit")[:1] == [5]


def test_the_verdict_never_says_safe_and_names_what_was_not_checked(rabbetry: Run, tmp_path: Path) -> None:
    (tmp_path / "a.nc").write_text(HEAD + "G0 X2 Y2\nG1 Z-0.1 F20\n" + TAIL, encoding="utf-8")
    result = rabbetry("dryrun", Path("a.nc"), "--machine", "bench-4x4", "--blank", "48x48x0.703in")
    assert result.exit_code == 0
    assert "no error found; not checked: what must remain is not known" in result.stdout
    assert "only its axis was looked at" in result.stdout
    assert "safe" not in result.stdout.lower()


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--machine", "bench-4x4"), "--blank is missing"),
        (("--machine", "bench-4x5", "--blank", "48x48x0.7in"), "did you mean bench-4x4"),
        (("--machine", "bench-4x4", "--blank", "48x0.7in"), "2 of 3 lengths"),
        (("--machine", "bench-4x4", "--blank", "48x48xthin"), "--blank"),
        (("--machine", "bench-4x4", "--blank", "48x48x0"), "not more than 0"),
        (("--machine", "bench-4x4", "--blank", "48x48x0.7in", "--setup", "a.setup.json"), "and a bare machine"),
    ],
)
def test_wrong_options_are_told_with_exit_status_two(
    rabbetry: Run, tmp_path: Path, options: tuple[str, ...], words: str
) -> None:
    (tmp_path / "a.nc").write_text(HEAD + TAIL, encoding="utf-8")
    result = rabbetry("dryrun", Path("a.nc"), *options)
    assert result.exit_code == 2
    assert words in result.stderr
