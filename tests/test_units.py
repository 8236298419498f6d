"""Lengths: what is read, what is refused and in which words, and that reading is exact."""

from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from rabbetry.units import (
    MM_PER_INCH,
    Length,
    LengthError,
    inches_from_mm,
    mm_from_inches,
    read_length,
    show_inches_fraction,
    show_length,
    write_length,
)

READ = [
    pytest.param(590.55, "mm", 590.55, id="bare number in the job's unit"),
    pytest.param(23.25, "in", 590.55, id="bare inches"),
    pytest.param(18, "mm", 18.0, id="whole number"),
    pytest.param("18", "mm", 18.0, id="text without unit"),
    pytest.param("18 mm", "in", 18.0, id="millimetres in an inch job"),
    pytest.param("18mm", "in", 18.0, id="no blank before the unit"),
    pytest.param("1.8 cm", "mm", 18.0, id="centimetres"),
    pytest.param("0.6 m", "mm", 600.0, id="metres"),
    pytest.param("23-1/4", "in", 590.55, id="hyphen in a mixed number"),
    pytest.param("23 1/4", "in", 590.55, id="blank in a mixed number"),
    pytest.param('23 1/4"', "mm", 590.55, id="inch mark"),
    pytest.param("23 1/4 in", "mm", 590.55, id="inches named"),
    pytest.param("23 1/4 INCHES", "mm", 590.55, id="capitals"),
    pytest.param("1' 11 1/4\"", "mm", 590.55, id="feet and inches"),
    pytest.param("1 ft 11 1/4 in", "mm", 590.55, id="feet and inches in words"),
    pytest.param("1'-11 1/4\"", "mm", 590.55, id="feet and inches with the draughtsman's hyphen"),
    pytest.param("2'", "mm", 609.6, id="feet alone"),
    pytest.param("23¼", "in", 590.55, id="typographic fraction"),
    pytest.param("23 ¼″", "mm", 590.55, id="typographic fraction and prime"),
    pytest.param("1′ 11 ¼″", "mm", 590.55, id="primes"),
    pytest.param("⅞", "in", 22.225, id="fraction sign alone"),
    pytest.param("15⁄16", "in", 23.8125, id="fraction slash"),
    pytest.param('7/8"', "mm", 22.225, id="proper fraction"),
    pytest.param("11/4", "in", 69.85, id="improper fraction"),
    pytest.param("1 1/4", "in", 31.75, id="mixed number"),
    pytest.param("34-1/2 in", "mm", 876.3, id="scenario T08"),
    pytest.param("1/3 in", "mm", 25.4 / 3, id="fraction that no decimal equals"),
    pytest.param(".5", "in", 12.7, id="no zero before the point"),
    pytest.param("-3 mm", "mm", -3.0, id="negative, where no bound forbids it"),
    pytest.param("−3 mm", "mm", -3.0, id="typographic minus"),
    pytest.param("  18 mm  ", "mm", 18.0, id="outer blanks"),
    pytest.param("23\u00a01/4 in", "mm", 590.55, id="hard blank"),
]


@pytest.mark.parametrize(("value", "units", "mm"), READ)
def test_a_length_is_read(value: str | int | float, units: str, mm: float) -> None:
    assert read_length(value, units).mm == mm


REFUSED = [
    pytest.param("0,25", '"0,25" has a comma; write decimals with a point, and no thousands separator', id="comma"),
    pytest.param(
        "1.200,5", '"1.200,5" has a comma; write decimals with a point, and no thousands separator', id="both"
    ),
    pytest.param("3/0", '"3/0" divides by zero; write the fraction again, such as 3/4', id="division by zero"),
    pytest.param("", 'the text is empty; write a number or text such as "18 mm" or "23 1/4 in"', id="empty"),
    pytest.param("wide", '"wide" is not a length; write a number or text such as "18 mm" or "23 1/4 in"', id="word"),
    pytest.param("nan", '"nan" is not a length; write a number', id="nan as text"),
    pytest.param("-inf", '"-inf" is not a length; write a number', id="infinity as text"),
    pytest.param(float("nan"), "nan is not a length; write a number", id="nan"),
    pytest.param(float("inf"), "inf is not a length; write a number", id="infinity"),
    pytest.param("1e3", '"1e3" has an exponent; write the number in full', id="exponent"),
    pytest.param("2.5E-1 in", '"2.5E-1 in" has an exponent; write the number in full', id="exponent and unit"),
    pytest.param(
        "18 mm in",
        '"18 mm in" has more than one unit; write one unit, or feet and inches as 1\' 11 3/4"',
        id="two units",
    ),
    pytest.param(
        "1 1/4 1/2",
        '"1 1/4 1/2" has more than one number; write one number, or a mixed one such as "23 1/4"',
        id="two fractions",
    ),
    pytest.param(
        "1 200", '"1 200" has more than one number; write one number, or a mixed one such as "23 1/4"', id="thousands"
    ),
    pytest.param(
        "23 - 1/4",
        '"23 - 1/4" could be a subtraction; write a mixed number as "23 1/4" or "23-1/4"',
        id="mixed number or subtraction",
    ),
    pytest.param(
        "1 5/4",
        '"1 5/4" adds a fraction of one or more; write whole inches and a fraction below one',
        id="fraction above one after inches",
    ),
    pytest.param(
        "1/2 mm",
        '"1/2 mm" is a fraction of a metric unit; write a decimal, or "1/2 in" if inches are meant',
        id="fraction of a millimetre",
    ),
    pytest.param(
        "1' 11", '"1\' 11" does not say the unit after the feet; end it with in or an inch mark', id="feet and what"
    ),
    pytest.param(
        "1' 13 in",
        '"1\' 13 in" has twelve inches or more after the feet; carry them into the feet',
        id="too many inches after feet",
    ),
    pytest.param(
        "18 parsec", "\"18 parsec\" has the unknown unit 'parsec'; use mm, cm, m, in or ft", id="unknown unit"
    ),
    pytest.param(
        "23.", '"23." is not a length; write a number or text such as "18 mm" or "23 1/4 in"', id="bare point"
    ),
    pytest.param("+3", '"+3" is not a length; write a number or text such as "18 mm" or "23 1/4 in"', id="plus sign"),
    pytest.param(
        "١٢", '"١٢" is not a length; write a number or text such as "18 mm" or "23 1/4 in"', id="other digits"
    ),
    pytest.param(True, 'true is not a length; write a number or text such as "18 mm" or "23 1/4 in"', id="true"),
    pytest.param(None, 'None is not a length; write a number or text such as "18 mm" or "23 1/4 in"', id="nothing"),
    pytest.param(
        10**30,
        "a number of more than 20 digits is longer than any length in a shop; check the number and its unit",
        id="huge number",
    ),
    pytest.param(
        "5000 in",
        '"5000 in" is longer than any length in a shop; check the number and its unit',
        id="longer than a shop",
    ),
    pytest.param("9" * 70, '"' + "9" * 37 + '..." is too long for a length', id="long text"),
]


@pytest.mark.parametrize(("value", "words"), REFUSED)
def test_what_may_mean_two_things_is_refused_with_the_reason(value: object, words: str) -> None:
    with pytest.raises(LengthError) as caught:
        read_length(value, "in")
    assert str(caught.value) == words


BOUNDS = [
    pytest.param(6000, "mm", {"above_mm": 0, "most_mm": 2400}, "6000 is more than the most, 2400 mm; did you mean 600?",
                 id="a zero too many"),
    pytest.param(34.5, "mm", {"least_mm": 150, "most_mm": 2800},
                 "34.5 is less than the least, 150 mm; did you mean 34.5 in?", id="inches in a job in millimetres"),
    pytest.param(600, "in", {"above_mm": 0, "most_mm": 2400},
                 "600 is more than the most, 94.4882 in (~94 31/64); did you mean 600 mm?", id="millimetres in inches"),
    pytest.param(-34.5, "mm", {"above_mm": 0, "most_mm": 2800}, "-34.5 is not more than 0", id="negative"),
    pytest.param(0, "mm", {"above_mm": 0, "most_mm": 2800}, "0 is not more than 0", id="zero"),
    pytest.param(90, "mm", {"least_mm": 100}, "90 is less than the least, 100 mm", id="no bound above, so no guess"),
    pytest.param("6000 mm", "mm", {"most_mm": 100}, "6000 mm is more than the most, 100 mm", id="nothing likely"),
    pytest.param("-1 mm", "in", {"least_mm": 0}, "-1 mm is less than 0", id="negative with a unit"),
]  # fmt: skip


@pytest.mark.parametrize(("value", "units", "bounds", "words"), BOUNDS)
def test_a_length_out_of_bounds_is_refused_with_a_likely_cure(
    value: object, units: str, bounds: dict[str, float], words: str
) -> None:
    with pytest.raises(LengthError) as caught:
        read_length(value, units, **bounds)
    assert str(caught.value) == words


def test_bounds_themselves_are_within() -> None:
    assert read_length(150, "mm", least_mm=150, most_mm=150).mm == 150


def test_five_spellings_of_one_length_are_one_number() -> None:
    spellings: list[tuple[object, str]] = [
        ("23-1/4", "in"), ("23 1/4", "in"), (23.25, "in"), ('23 1/4"', "in"), ("590.55 mm", "in")
    ]  # fmt: skip
    assert {read_length(value, units).mm for value, units in spellings} == {590.55}


def test_an_improper_fraction_is_marked_and_a_mixed_number_is_not() -> None:
    improper, mixed, one = read_length("11/4", "in"), read_length("1 1/4", "in"), read_length("4/4", "in")
    assert (improper.improper, mixed.improper, one.improper) == (True, False, False)
    assert improper.echo == "11/4 = 2.75 in (2 3/4) = 69.85 mm"
    assert mixed.echo == "1 1/4 = 1.25 in (1 1/4) = 31.75 mm"


def test_only_lengths_with_a_fraction_or_another_unit_ask_for_an_echo() -> None:
    cases: list[tuple[object, str]] = [
        (23.25, "in"),
        ("23 in", "in"),
        ("23 1/4", "in"),
        ("18 mm", "in"),
        ("18 mm", "mm"),
    ]
    assert [read_length(value, units).spelt for value, units in cases] == [False, False, True, True, False]


SHOWN = [
    pytest.param(590.55, "590.55 mm", "23.25 in (23 1/4)", "23 1/4 in", id="quarter"),
    pytest.param(590.0, "590 mm", "23.2283 in (~23 15/64)", "~23 15/64 in", id="not exact"),
    pytest.param(609.6, "609.6 mm", "24 in", "24 in", id="whole"),
    pytest.param(12.7, "12.7 mm", "0.5 in (1/2)", "1/2 in", id="below one"),
    pytest.param(-3.175, "-3.175 mm", "-0.125 in (-1/8)", "-1/8 in", id="negative"),
    pytest.param(0.0, "0 mm", "0 in", "0 in", id="zero"),
    pytest.param(-0.0000001, "0 mm", "0 in", "0 in", id="no minus zero"),
    pytest.param(600.0, "600 mm", "23.622 in (~23 5/8)", "~23 5/8 in", id="nearest sixty-fourth is an eighth"),
]


@pytest.mark.parametrize(("mm", "metric", "inch", "tape"), SHOWN)
def test_a_length_is_shown_in_both_units(mm: float, metric: str, inch: str, tape: str) -> None:
    assert (show_length(mm, "mm"), show_length(mm, "in"), show_inches_fraction(mm)) == (metric, inch, tape)


def test_an_inch_is_25_4_millimetres_both_ways() -> None:
    assert MM_PER_INCH == 25.4
    assert mm_from_inches(2) == 50.8
    assert inches_from_mm(127.0) == 5.0


def test_units_other_than_the_two_are_our_own_fault() -> None:
    with pytest.raises(ValueError, match="units must be"):
        read_length(1, "cm")


@settings(max_examples=100, deadline=None)
@given(count=st.integers(min_value=0, max_value=64 * 200))
def test_every_sixty_fourth_on_a_tape_is_read_back_exactly(count: int) -> None:
    mm = float(Fraction(count, 64) * Fraction("25.4"))
    text = show_inches_fraction(mm)
    assert not text.startswith("~")
    assert read_length(text, "mm").mm == mm


@settings(max_examples=100, deadline=None)
@given(mm=st.floats(min_value=-5000, max_value=5000), units=st.sampled_from(["mm", "in"]))
def test_a_length_written_is_read_back(mm: float, units: str) -> None:
    assert abs(read_length(write_length(mm, units), "mm").mm - mm) <= 0.000501


@settings(max_examples=100, deadline=None)
@given(whole=st.integers(0, 99), over=st.integers(1, 63), units=st.sampled_from(["mm", "in"]))
def test_fraction_and_decimal_of_the_same_inches_are_the_same_number(whole: int, over: int, units: str) -> None:
    decimal = f"{whole + over / 64:.6f} in"
    assert read_length(f"{whole} {over}/64 in", units) == read_length(decimal, units)


_SIGNS = st.text(alphabet="0123456789./-'\" ,eEinmfct¼½″′+x\u00a0", max_size=14) | st.text(max_size=20)


@settings(max_examples=150, deadline=None)
@given(text=_SIGNS)
@example("1" * 61)
@example("0/0")
@example("'\"")
def test_any_text_gives_a_length_or_a_reason(text: str) -> None:
    try:
        length: Length | None = read_length(text, "in")
        reason = ""
    except LengthError as error:
        length, reason = None, error.problem
    assert reason or (length is not None and abs(length.mm) <= 100_000)
