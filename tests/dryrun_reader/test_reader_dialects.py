"""Where dialects differ: each row is read by the ones named and refused by the others."""

from dataclasses import replace

import pytest
from reader_kit import motions, of_kind, read, read_well, refusal

from rabbetry.dryrun.dialects import DIALECTS, LENIENT, SMALL_FIRMWARE, STRICT
from rabbetry.dryrun.model import Feed, Message
from rabbetry.dryrun.words import GROUP_OF

ALL = "strict lenient small-firmware"


@pytest.mark.parametrize(
    ("lines", "readers"),
    [
        pytest.param(["G0 X1 (comment)"], ALL, id="comment in parentheses"),
        pytest.param(["G0 X1 ; comment"], "lenient small-firmware", id="comment after a semicolon"),
        pytest.param(["%", "G0 X1", "%"], "strict lenient", id="per cent signs"),
        pytest.param(["G0 X1", "%"], "lenient", id="closing per cent sign alone"),
        pytest.param(["/G0 X1"], "strict lenient", id="block delete"),
        pytest.param(["G0 X[1+2]"], "strict lenient", id="expression"),
        pytest.param(["#1=2"], "strict lenient", id="parameter"),
        pytest.param(["F9", "G81 X1 Z-1 R1"], "strict lenient", id="canned cycle"),
        pytest.param(["G98"], "strict lenient", id="retract level"),
        pytest.param(["F9", "G73 X1 Z-1 R1 Q1"], "lenient", id="chip breaking cycle"),
        pytest.param(["T1 M6"], "strict lenient", id="tool change"),
        pytest.param(["T1"], ALL, id="tool word alone"),
        pytest.param(["G43 H1"], "strict lenient", id="length offset from a table"),
        pytest.param(["G43"], "lenient", id="length offset of the loaded tool"),
        pytest.param(["G49"], ALL, id="no length offset"),
        pytest.param(["G59"], ALL, id="sixth coordinate system"),
        pytest.param(["G59.1"], "strict lenient", id="seventh coordinate system"),
        pytest.param(["G10 L2 P6 X1"], ALL, id="sixth coordinate system set"),
        pytest.param(["G10 L2 P7 X1"], "strict lenient", id="seventh coordinate system set"),
        pytest.param(["G61"], ALL, id="exact path"),
        pytest.param(["G61.1"], "strict lenient", id="exact stop"),
        pytest.param(["G64"], "strict lenient", id="continuous path"),
        pytest.param(["G64 P0.01"], "lenient", id="continuous path with a tolerance"),
        pytest.param(["M48"], "strict lenient", id="overrides"),
        pytest.param(["M60"], "strict lenient", id="pallet stop"),
        pytest.param(["G40"], ALL, id="no radius compensation"),
        pytest.param(["G41 D1"], "", id="radius compensation"),
        pytest.param(["G38.2 Z-1 F9"], "", id="probing"),
        pytest.param(["F9", "G1"], "lenient small-firmware", id="motion word alone"),
        pytest.param(["G0 X1 (" + "a" * 64 + ")"], "strict lenient", id="line of 72 characters"),
        pytest.param(["G0 X1 (" + "a" * 62 + ")"], ALL, id="line of 70 characters"),
        pytest.param(["G0 X1 (" + "a" * 249 + ")"], "", id="line of 257 characters"),
        pytest.param(["F9", "G3 X20.0021 I10"], "lenient small-firmware", id="arc 0.0021 mm off"),
        pytest.param(["F9", "G3 X20.006 I10"], "lenient small-firmware", id="arc 0.006 mm off, within 0.1 % of 10 mm"),
        pytest.param(["F9", "G3 X20.012 I10"], "lenient", id="arc 0.012 mm off, more than 0.1 %"),
        pytest.param(["F9", "G3 X20.1 I10"], "", id="arc 0.1 mm off"),
        pytest.param(["F9", "G3 X2000.4 I1000"], "lenient small-firmware", id="arc 0.4 mm off, within 0.1 % of 1 m"),
        pytest.param(["F9", "G3 X2000.6 I1000"], "", id="arc 0.6 mm off"),
        pytest.param(["F9", "G3 X2.004 I1"], "lenient small-firmware", id="arc 0.004 mm off on 1 mm"),
        pytest.param(["M0 M6 T1 M3 M8 M48"], "lenient", id="five M words"),
    ],
)
def test_each_dialect_reads_what_it_has(lines: list[str], readers: str) -> None:
    accepted = {name for name, dialect in DIALECTS.items() if not read(*lines, dialect=dialect).refused}
    assert accepted == set(readers.split())


def test_every_word_of_a_dialect_has_a_group() -> None:
    for dialect in DIALECTS.values():
        assert dialect.g_words | dialect.m_words <= GROUP_OF.keys(), dialect.name


@pytest.mark.parametrize("quick", [True, False], ids=["quick reader", "full reader"])
def test_a_post_narrows_the_words(quick: bool) -> None:
    dialect = replace(LENIENT, allowed_words=frozenset(("G0", "G21", "M3")))
    lines = ["G21", "G0 X1", "M3 S1", "G1 X2 F9" if quick else "N5 G1 X2 F9"]
    last = refusal(read(*lines, dialect=dialect))
    assert last.message == "G1 is not among the words this controller's post allows"
    assert last.where.line == 4
    assert refusal(read("G0 X1", "M5", dialect=dialect)).where.line == 2


def test_small_firmware_takes_the_feed_in_the_new_unit() -> None:
    """Common practice, no source; the report takes it in the old one."""
    feeds = {}
    for dialect in (STRICT, SMALL_FIRMWARE):
        reading = read_well("G20 G1 X1 F10", dialect=dialect)
        (feed,) = of_kind(reading, Feed)
        assert isinstance(feed, Feed)
        feeds[dialect.name] = feed.feed_mm_per_min
        assert "units-and-feed" in {item.code for item in reading.findings}
    assert feeds == {"strict": 10.0, "small-firmware": 254.0}


def test_the_limits_of_line_length_are_told() -> None:
    last = refusal(read("G0 X1 (" + "a" * 70 + ")", dialect=SMALL_FIRMWARE))
    assert last.message == "the line has 78 characters; 70 are allowed"


def test_semicolon_comments_are_messages() -> None:
    reading = read_well("G0 X1 ; turn the blank (face up)", dialect=LENIENT)
    assert [event.text for event in reading.events if isinstance(event, Message)] == ["turn the blank (face up)"]
    assert len(motions(reading)) == 1


def test_a_parenthesis_may_hold_a_semicolon() -> None:
    reading = read_well("(a; b) G0 X1", dialect=LENIENT)
    assert [event.text for event in reading.events if isinstance(event, Message)] == ["a; b"]
