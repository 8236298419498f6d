"""Any text gives a reading: never an exception, never an endless loop, and every finding names a line of the text."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from reader_kit import motion_seconds, motions, read, refusal

from rabbetry.dryrun import interpret, state
from rabbetry.dryrun.dialects import DIALECTS, LENIENT, Dialect
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.lex import split_lines
from rabbetry.dryrun.model import Context, ProgramText, Reading
from rabbetry.dryrun.timing import Rates
from rabbetry.dryrun.trace import trace_lines
from rabbetry.findings import has_error

DATA = Path(__file__).parent.parent / "data" / "rs274"
WALKS = [path.read_text(encoding="ascii") for path in sorted(DATA.glob("walk-*.ngc"))]
LIMITS = Rates(max_rate_mm_per_min=(6000, 6000, 3000), acceleration_mm_per_s2=(500, 500, 200))

dialects = st.sampled_from(list(DIALECTS.values()))
word = st.builds(
    lambda letter, number: f"{letter}{number}",
    st.sampled_from("GMXYZIJKRPQLFSTHNDAEOgmxyz"),
    st.one_of(
        st.integers(min_value=-3, max_value=100).map(str),
        st.floats(min_value=-100, max_value=100, allow_nan=False).map(lambda value: f"{value:.3f}"),
        st.sampled_from(["", ".", "-", "1e9", "99999999999", "[1+2]", "#1", "#5221", "sin[30]", "9**9", "1 2"]),
    ),
)
piece = st.one_of(
    word,
    word,
    word,
    st.sampled_from(["(c)", "(", ")", ";", "%", "/", "#1=2", "#2=[#1*#1]", "[", "]", "G83 X1 Z-1 R1 Q.1 F9", "G93"]),
)
lines = st.lists(piece, max_size=7).map(" ".join)
program_like = st.lists(lines, max_size=12).map("\n".join)


def check(text: str, dialect: Dialect) -> Reading:
    reading = read_program(ProgramText(name="p.nc", text=text), dialect, Context())
    assert reading.lines == len(split_lines(text))
    for item in reading.findings:
        assert item.where.file == "p.nc"
        assert item.where.line is None or 1 <= item.where.line <= max(1, reading.lines)
        assert item.message
    assert reading.refused == has_error(reading.findings)
    assert [event.line for event in reading.events] == sorted(event.line for event in reading.events)
    assert all("-0.0," not in line and "NaN" not in line and "Infinity" not in line for line in trace_lines(reading))
    assert 0 <= motion_seconds(reading.events, LIMITS) < float("inf")
    place = (0.0, 0.0, 0.0)
    for motion in motions(reading):
        assert motion.start == place
        place = motion.to
    return reading


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(max_size=200), dialects)
def test_any_text_gives_a_reading(text: str, dialect: Dialect) -> None:
    check(text, dialect)


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=300), dialects)
def test_any_bytes_give_a_reading(data: bytes, dialect: Dialect) -> None:
    check(data.decode("latin-1"), dialect)


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(program_like, dialects)
def test_any_heap_of_words_gives_a_reading(text: str, dialect: Dialect) -> None:
    check(text, dialect)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(WALKS), st.data())
def test_a_program_with_one_character_changed_gives_a_reading(text: str, data: st.DataObject) -> None:
    place = data.draw(st.integers(min_value=0, max_value=len(text) - 1))
    other = data.draw(st.characters(min_codepoint=9, max_codepoint=126))
    check(text[:place] + other + text[place + 1 :], LENIENT)


def told(reading: Reading) -> tuple[object, ...]:
    return (reading.events, reading.refused)


plain = st.builds(
    lambda code, axes, feed: " ".join([code, *axes, feed]).strip(),
    st.sampled_from(["G0", "G1", "G01", "g1", "", "G0.", "G3"]),
    st.lists(st.sampled_from(["X1", "Y-2.5", "Z.5", "X+3.", "Y0", "Z-0.25", "x7"]), max_size=3),
    st.sampled_from(["", "F100", "F0", "f.5", "F-1", "F1.2.3"]),
)


@settings(max_examples=100, deadline=None)
@given(st.lists(plain, max_size=8), st.sampled_from(["G21", "G20", "G91", "G93", "G54"]))
def test_the_quick_reader_and_the_full_reader_agree(body: list[str], mode: str) -> None:
    """A slash and a line number before each line send it through the full reader."""
    head = [mode, "G1 X0 Y0 F50"]
    quick = read(*head, *body, dialect=LENIENT)
    numbered = read(*head, *(f"/N{place} {line}" for place, line in enumerate(body)), dialect=LENIENT)
    assert told(quick) == told(numbered)


@settings(max_examples=40, deadline=None)
@given(coordinate_shift=st.tuples(*[st.integers(min_value=-500, max_value=500)] * 3), text=st.sampled_from(WALKS))
def test_a_shifted_work_offset_moves_every_motion_and_nothing_else(
    coordinate_shift: tuple[int, int, int], text: str
) -> None:
    x, y, z = (float(value) for value in coordinate_shift)
    if "g10" in text.lower():
        text = "\n".join(line for line in text.splitlines() if "g10" not in line.lower())
    program = ProgramText(name="p", text=text)
    plain_reading = read_program(program, LENIENT, Context())
    moved = read_program(program, LENIENT, Context(work_offsets_mm=((x, y, z),) * 9, start_mm=(x, y, z)))
    assert len(plain_reading.events) == len(moved.events)
    for one, other in zip(motions(plain_reading), motions(moved), strict=True):
        assert other.to == pytest.approx((one.to[0] + x, one.to[1] + y, one.to[2] + z), abs=1e-9)
        assert other.program_to == pytest.approx(one.program_to, abs=1e-9)


def test_a_long_program_keeps_every_motion() -> None:
    count = 20_000
    text = "G21 F600\n" + "".join(f"G1 X{place / 7:.4f} Y{place / 3:.4f}\n" for place in range(count)) + "M2\n"
    reading = read_program(ProgramText(name="p", text=text), LENIENT, Context())
    assert len(motions(reading)) == count


def test_a_text_beyond_the_limit_is_refused_unread(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(interpret, "MOST_CHARACTERS", 10)
    reading = read("G21", "G0 X1", "M2")
    assert (reading.events, reading.lines) == ((), 3)
    assert refusal(reading).message == "the program has 13 characters; more than 10 are not read"


@pytest.mark.parametrize("body", ["G1 X1", "N1 G1 X1", "G91 G81 X1 Z-1 R1"])
def test_a_program_of_too_many_motions_is_refused_where_it_passes_the_limit(
    monkeypatch: pytest.MonkeyPatch, body: str
) -> None:
    monkeypatch.setattr(interpret, "MOST_EVENTS", 12)
    monkeypatch.setattr(state, "MOST_EVENTS", 12)
    reading = read("F9 G1 Y1", *[body] * 20, "M2")
    assert len(reading.events) == 12
    assert refusal(reading).code == "program-size"
    assert refusal(reading).where.line == reading.events[-1].line + (0 if "G81" in body else 1)
