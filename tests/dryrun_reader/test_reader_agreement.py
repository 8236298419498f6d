"""The reader against another interpreter of the same language: tests/data/rs274, see the README there."""

import json
from pathlib import Path

import pytest

from rabbetry.dryrun.dialects import LENIENT
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import Context, ProgramText, Reading
from rabbetry.dryrun.trace import trace_lines

DATA = Path(__file__).parent.parent / "data" / "rs274"
WALKS = sorted(path.stem for path in DATA.glob("walk-*.ngc"))
BAD = sorted(path.stem for path in DATA.glob("bad-*.ngc"))
TOOLS = Context(tools=frozenset(range(1, 10)))
MM_TOLERANCE = 0.001
INCH_TOLERANCE = 0.005


def read_file(name: str) -> Reading:
    text = (DATA / f"{name}.ngc").read_text(encoding="ascii")
    return read_program(ProgramText(name=f"{name}.ngc", text=text), LENIENT, TOOLS)


def without_line(line: str) -> dict[str, object]:
    return {key: value for key, value in json.loads(line).items() if key != "line"}


def is_spindle_stop(event: dict[str, object]) -> bool:
    return event["op"] == "spindle" and event["dir"] == "off"


def same(got: object, expected: object, tolerance: float) -> bool:
    if isinstance(expected, list) and isinstance(got, list):
        return len(got) == len(expected) and all(same(a, b, tolerance) for a, b in zip(got, expected, strict=True))
    if isinstance(expected, float) and isinstance(got, float):
        return abs(got - expected) <= tolerance
    return got == expected


def test_the_data_are_complete() -> None:
    assert (len(WALKS), len(BAD)) == (40, 30)


@pytest.mark.parametrize("name", WALKS)
def test_motions_agree_with_another_interpreter(name: str) -> None:
    reading = read_file(name)
    assert not reading.refused, reading.findings
    got = [event for event in map(without_line, trace_lines(reading)) if not is_spindle_stop(event)]
    expected = json.loads((DATA / f"{name}.json").read_text(encoding="ascii"))["events"]
    tolerance = INCH_TOLERANCE if "g20" in (DATA / f"{name}.ngc").read_text(encoding="ascii").lower() else MM_TOLERANCE
    assert len(got) == len(expected)
    for place, (ours, theirs) in enumerate(zip(got, expected, strict=True)):
        assert ours.keys() == theirs.keys()
        different = [key for key in theirs if not same(ours[key], theirs[key], tolerance)]
        assert not different, (place, ours, theirs)


@pytest.mark.parametrize(
    ("name", "line", "code"),
    [
        ("bad-arc-no-centre", 3, "program-arc"),
        ("bad-arc-r-same-point", 3, "program-arc"),
        ("bad-arc-r-too-small", 3, "program-arc"),
        ("bad-arc-radius-mismatch", 3, "program-arc"),
        ("bad-arc-zero-radius", 3, "program-arc"),
        ("bad-bad-char", 2, "program-syntax"),
        ("bad-comma-decimal", 2, "program-syntax"),
        ("bad-cycle-no-z", 3, "program-cycle"),
        ("bad-cycle-q-negative", 3, "program-cycle"),
        ("bad-cycle-r-below-z", 3, "program-cycle"),
        ("bad-div-zero", 2, "program-expression"),
        ("bad-double-word", 2, "program-word"),
        ("bad-dwell-no-p", 1, "program-word"),
        ("bad-exponent", 2, "program-word"),
        ("bad-g53-incremental", 2, "program-word"),
        ("bad-ij-in-wrong-plane", 3, "program-arc"),
        ("bad-letter-no-number", 2, "program-syntax"),
        ("bad-negative-feed", 2, "program-word"),
        ("bad-negative-n", 1, "program-word"),
        ("bad-negative-spindle", 1, "program-word"),
        ("bad-negative-tool", 1, "program-word"),
        ("bad-nested-comment", 2, "program-syntax"),
        ("bad-no-feed", 2, "program-feed"),
        ("bad-two-decimal-points", 2, "program-syntax"),
        ("bad-two-motion-words", 2, "program-group"),
        ("bad-two-units", 1, "program-group"),
        ("bad-unclosed-bracket", 2, "program-expression"),
        ("bad-unclosed-comment", 2, "program-syntax"),
        ("bad-unknown-g", 2, "program-word"),
        ("bad-unknown-m", 2, "program-word"),
    ],
)
def test_what_another_interpreter_refuses_is_refused_at_its_line(name: str, line: int, code: str) -> None:
    reading = read_file(name)
    assert reading.refused
    last = reading.findings[-1]
    assert (last.severity, last.code, last.where.file, last.where.line) == ("error", code, f"{name}.ngc", line)
    assert last.message


def test_every_bad_program_is_in_the_table_above() -> None:
    assert all(read_file(name).refused for name in BAD)
