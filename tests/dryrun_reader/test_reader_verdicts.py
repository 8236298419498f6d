"""Lines that a reader of the published language must accept or refuse. Source: NISTIR 6556, the sections named."""

import pytest
from reader_kit import NOWHERE, codes, read, read_well, refusal

from rabbetry.dryrun.model import Context, Feed, Message

ACCEPTED = [
    pytest.param("G1 X5 F100", id="feed on the line itself"),
    pytest.param("G2 X0 Y0 I5 F9", id="full circle by centre, 3.5.3.2"),
    pytest.param("G2 X10 R5 F9", id="semicircle by radius"),
    pytest.param("G3 X20.0019 I10 F9", id="radii differ by 0.0019 mm, 0.002 allowed"),
    pytest.param("G4 P0.5", id="half a second"),
    pytest.param("/G0 X5", id="block delete off, 2.2.2"),
    pytest.param("N99999 G0 X0", id="largest line number, 3.3.1"),
    pytest.param("N00012 G0 X0", id="line number with leading zeros"),
    pytest.param("G0 X5. Y.5 Z+.5", id="numbers without all digits, appendix E"),
    pytest.param("G0 X-0.0 Y007.50", id="negative zero and leading zeros"),
    pytest.param("G0 X1.00000000000000001", id="more digits than are kept"),
    pytest.param("   ", id="blank line, 3.3"),
    pytest.param("S0 T0", id="speed and tool zero, 3.7"),
    pytest.param("M0 M6 M3 M8", id="four M words of four groups"),
    pytest.param("G17 G21 G40 G49 G80 G90 G94 G54 G64 G98", id="one word of many groups"),
    pytest.param("G61.1", id="exact stop"),
    pytest.param("G01.0 X1 F1", id="G number with a point"),
    pytest.param("g0x +0. 12 34y 7", id="blanks anywhere, 3.3"),
    pytest.param("G0 X1 (one) Y2 (two)", id="comments between words"),
]

REFUSED = [
    pytest.param("G1 X5", "program-feed", "G1 has no feed: no F word so far, or F0", id="no feed"),
    pytest.param("G1 X5 F0", "program-feed", "G1 has no feed: no F word so far, or F0", id="feed zero"),
    pytest.param(
        "X5",
        "program-word",
        "axis words without a motion word: no G0, G1, arc or cycle is in force",
        id="starts in G80",
    ),
    pytest.param("G1 G2 X1 Y1 I1 F9", "program-group", None, id="two motion words"),
    pytest.param(
        "G90 G91",
        "program-group",
        "G90 and G91 in one line: both set the distance mode; put them on two lines",
        id="two distance modes",
    ),
    pytest.param("G0 G80 X1", "program-group", None, id="G0 and G80 share a group, table 4"),
    pytest.param("M7 M8", "program-group", None, id="M7 and M8 share a group, table 4"),
    pytest.param("G0 X1 X2", "program-word", "the letter X stands twice in the line", id="letter twice, 3.3.5"),
    pytest.param("M3 M4", "program-group", None, id="two spindle words"),
    pytest.param("M0 M6 M3 M8 M48", "program-word", "5 M words; a line may hold 4", id="five M words, 3.3.5"),
    pytest.param(
        "G2 X5 Y0 I2.5 R2.5 F9",
        "program-arc",
        "G2 has a radius and a centre; give one of them",
        id="arc by centre and radius at once",
    ),
    pytest.param("G2 I5 F9", "program-arc", "G2 needs an axis word of its plane XY", id="arc without X or Y"),
    pytest.param("G2 X0 Y0 R5 F9", "program-arc", None, id="full circle by radius"),
    pytest.param(
        "G2 X10 R4.99 F9",
        "program-arc",
        "radius 4.99000 mm cannot reach: the end is 10.00000 mm away",
        id="radius too small",
    ),
    pytest.param("G3 X20.0021 I10 F9", "program-arc", None, id="radii differ by 0.0021 mm"),
    pytest.param("G4", "program-word", "G4 needs P, the time to wait", id="dwell without P"),
    pytest.param("G4 P-1", "program-word", "P-1 is negative", id="negative dwell"),
    pytest.param("G53 X0", "program-word", "G53 needs an axis word, and G0 or G1 in force", id="G53 under G80"),
    pytest.param("G53 G0", "program-word", None, id="G53 with nowhere to go"),
    pytest.param("G81 X1 Y1 Z-1 F9", "program-cycle", "G81 needs R on its first line", id="cycle without R"),
    pytest.param(
        "G81 X1 Y1 Z1 R0 F9",
        "program-cycle",
        "G81: the R level 0 mm is below the bottom 1 mm",
        id="R below Z",
    ),
    pytest.param("G83 X1 Y1 Z-1 R1 Q0 F9", "program-cycle", "G83: the peck Q must be more than zero", id="peck zero"),
    pytest.param("G81 R1 Z-1 F9 L2.5 X1", "program-word", "L2.5 is not a whole number", id="L not whole"),
    pytest.param("G81 R1 Z-1 F9 L0 X1", "program-cycle", "L0: a cycle is repeated once or more", id="L zero"),
    pytest.param("G82 R1 Z-1 F9 X1", "program-cycle", "G82 needs P on its first line", id="dwell cycle without P"),
    pytest.param("S-1", "program-word", "S-1 is negative", id="negative speed"),
    pytest.param("T-1", "program-word", "T-1 is negative", id="negative tool"),
    pytest.param("F-1", "program-word", "F-1 is negative", id="negative feed"),
    pytest.param("T1.5", "program-word", "T1.5 is not a whole number", id="tool number not whole"),
    pytest.param("(a (b) c)", "program-syntax", None, id="nested comment, 3.3.4"),
    pytest.param("(open", "program-syntax", "the comment '(open' is not closed on its line", id="open comment"),
    pytest.param("G0 X1 )", "program-syntax", "a comment is closed that was not opened", id="comment never opened"),
    pytest.param(
        "N100000 G0 X0",
        "program-word",
        "line number N100000: one to five digits, no sign and no point",
        id="six digits",
    ),
    pytest.param("N000009 G0 X0", "program-word", None, id="six digits of a small number"),
    pytest.param("N1.5 G0 X0", "program-word", None, id="line number with a point"),
    pytest.param("G0 X1 N5", "program-word", None, id="line number not first"),
    pytest.param("G1 X1e3 F9", "program-word", "the letter E is not in the language", id="exponent"),
    pytest.param("U5", "program-word", "the letter U is not in the language", id="unknown letter"),
    pytest.param("O100", "program-word", "the letter O is not in the language", id="program number"),
    pytest.param(
        "G0 A5", "program-word", "rotary axis A: this dry run knows a router with X, Y and Z", id="rotary axis"
    ),
    pytest.param("G0 X.", "program-syntax", "letter X has no value", id="a point is no number"),
    pytest.param("G0 X-", "program-syntax", "letter X has a sign without a number", id="a sign is no number"),
    pytest.param("G0 X+-3", "program-syntax", None, id="two signs"),
    pytest.param("G0 X--3", "program-syntax", None, id="two minus signs"),
    pytest.param("G0 X", "program-syntax", "letter X has no value", id="letter without number"),
    pytest.param("G0 (x) X(1)2", "program-syntax", None, id="comment inside a word"),
    pytest.param("G0", "program-word", "G0 needs an X, Y or Z word", id="G0 without axis, 3.5.1"),
    pytest.param("G1 F5", "program-word", "G1 needs an X, Y or Z word", id="G1 without axis, 3.5.2"),
    pytest.param(
        "G92 X1 G1 Y1", "program-group", "G92 and G1 in one line: both use the axis words", id="axis words used twice"
    ),
    pytest.param("G92", "program-word", "G92 needs an X, Y or Z word", id="G92 without axis"),
    pytest.param("G80 X1", "program-word", None, id="axis word under G80, 3.5.15"),
    pytest.param("G10 L1 P1 X0", "program-word", "G10 is read with L2 only", id="tool table"),
    pytest.param("G10 L2 X0", "program-word", None, id="G10 without P"),
    pytest.param("G10 L2 P10 X0", "program-word", None, id="tenth coordinate system"),
    pytest.param("G0 X1 Q1", "program-word", "Q needs a pecking cycle on its line", id="stray Q"),
    pytest.param("G0 X1 P1", "program-word", "P needs G4, G10, G82, G86 or G89 on its line", id="stray P"),
    pytest.param("G0 X1 L1", "program-word", "L needs a cycle or G10 on its line", id="stray L"),
    pytest.param("G0 X1 R1", "program-word", "R needs an arc or a cycle on its line", id="stray R"),
    pytest.param("G0 X1 I1", "program-word", "I needs an arc on its line", id="stray I"),
    pytest.param("G0 X1 H1", "program-word", "H needs G43 on its line", id="stray H"),
    pytest.param("G0 X1 D1", "program-word", None, id="stray D"),
    pytest.param("G41", "program-word", None, id="radius compensation is not read"),
    pytest.param("G84 X1 Z-1 R1 F9", "program-word", "G84 is not read: tapping", id="tapping is not read"),
    pytest.param("G100", "program-word", "G100 is not in the language", id="G above 99.9"),
    pytest.param("G1.05 X1 F9", "program-word", "G1.05 is not in the language", id="G finer than a tenth"),
    pytest.param("M3.5", "program-word", "M3.5 is not in the language", id="M not whole"),
    pytest.param("M100", "program-word", "M100 is not in the language", id="M above 99"),
    pytest.param("G0 X1 ; comment", "program-syntax", None, id="semicolon is not in the report"),
    pytest.param("G43", "program-word", "G43 needs H, the number of the length offset", id="G43 without H"),
    pytest.param("G0 X10000000000", "program-word", None, id="number beyond sense"),
    pytest.param("G0 X" + "9" * 240, "program-word", None, id="number of 240 digits"),
    pytest.param("G0 X1 (" + "a" * 260 + ")", "program-size", None, id="line longer than 256"),
    pytest.param("G0 X\u0661", "program-syntax", None, id="digit of another script"),
    pytest.param("\ufeffG21", "program-syntax", None, id="byte order mark"),
    pytest.param("G0 \u212a1", "program-syntax", None, id="a letter that only looks like K"),
    pytest.param("G0 X1\x00", "program-syntax", "the line holds a zero byte", id="zero byte"),
]


@pytest.mark.parametrize("line", ACCEPTED)
def test_a_line_of_the_language_is_accepted(line: str) -> None:
    assert not read_well(line).refused


@pytest.mark.parametrize(("line", "code", "message"), REFUSED)
def test_a_line_outside_the_language_is_refused(line: str, code: str, message: str | None) -> None:
    reading = read("G21", line, "M2")
    last = refusal(reading)
    assert (last.code, last.where.file, last.where.line) == (code, "p.nc", 2)
    if message is not None:
        assert last.message == message
    assert reading.lines == 3


@pytest.mark.parametrize("line", [row.values[0] for row in REFUSED])
def test_a_line_is_refused_the_same_way_behind_a_line_number(line: object) -> None:
    """The line number sends a line through the full reader, never through the quick one."""
    assert isinstance(line, str)
    if line.startswith(("N", "(open", "\ufeff")) or "N5" in line:
        return
    assert read("G21", f"N7{line}").refused


def test_an_unknown_tool_is_refused() -> None:
    reading = read("T4 M6", context=Context(tools=frozenset((1, 2))))
    assert refusal(reading).message == "there is no tool 4; known: 1, 2"


def test_inch_arcs_may_miss_by_two_ten_thousandths() -> None:
    """NISTIR 6556, 3.5.3.2: 0.0002 in."""
    read_well("G20", "F9", "G3 X2.00019 I1")
    assert refusal(read("G20", "F9", "G3 X2.00021 I1")).code == "program-arc"


def test_all_comments_are_kept_and_none_is_a_word() -> None:
    reading = read_well("G1 (one X9) X1 (MSG, two) F5")
    assert [event.text for event in reading.events if isinstance(event, Message)] == ["one X9", "MSG, two"]
    assert [event.to for event in reading.events if isinstance(event, Feed)] == [(1.0, 0.0, 0.0)]


def test_percent_signs_enclose_a_program() -> None:
    """NISTIR 6556, 3.1."""
    reading = read_well("", "%", "G0 X1", "%")
    assert codes(reading.findings) == []
    assert codes(read_well("%", "G0 X1").findings) == [("program-end", 2)]
    assert refusal(read("G0 X1", "%")).where.line == 2


def test_a_program_without_an_end_is_warned_of() -> None:
    assert codes(read_well("G0 X1").findings) == [("program-end", 1)]
    assert codes(read_well("G0 X1", "M30").findings) == []


def test_an_empty_text_has_no_lines_and_no_end() -> None:
    reading = read_well("", context=NOWHERE)
    assert reading.lines == 1
    assert codes(reading.findings) == [("program-end", 1)]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_any_line_end_counts_one_line(ending: str) -> None:
    reading = read(ending.join(["G21", "G0 X1", "G34"]))
    assert refusal(reading).where.line == 3
