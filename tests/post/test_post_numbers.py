"""The number writer: T59, T60."""

import locale
import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.post.numbers import Numbers, write_number

INCH = Numbers(inch=True, length_decimals=5, feed_decimals=2, trim_zeros=True)


@pytest.mark.parametrize(
    ("value", "decimals", "trim", "text"),
    [
        pytest.param(0.0000002, 4, False, "0.0000", id="tiny number without an exponent"),
        pytest.param(-0.00004, 4, False, "0.0000", id="no minus before zero"),
        pytest.param(-0.00004, 4, True, "0", id="no minus before a trimmed zero"),
        pytest.param(-0.0, 0, True, "0", id="negative zero"),
        pytest.param(-0.00005001, 4, True, "-0.0001", id="just far enough from zero"),
        pytest.param(123456.789, 4, True, "123456.789", id="no digits dropped"),
        pytest.param(100.0, 0, True, "100", id="zeros before the point stay"),
        pytest.param(1e22, 2, True, "10000000000000000000000", id="huge number without an exponent"),
        pytest.param(10.5, 4, False, "10.5000", id="zeros kept when asked"),
    ],
)
def test_a_number_is_plain_digits(value: float, decimals: int, trim: bool, text: str) -> None:
    assert write_number(value, decimals=decimals, trim_zeros=trim) == text


@given(st.floats(-1e6, 1e6), st.integers(0, 6), st.booleans())
@settings(max_examples=200)
def test_a_number_reads_back_within_half_a_unit_of_its_last_place(value: float, decimals: int, trim: bool) -> None:
    text = write_number(value, decimals=decimals, trim_zeros=trim)
    assert re.fullmatch(r"-?\d+(\.\d+)?", text)
    assert not re.fullmatch(r"-0*\.?0*", text)
    assert abs(float(text) - value) <= 0.5 * 10.0**-decimals + 1e-9


@given(st.floats(-5000, 5000))
def test_writing_what_was_read_back_gives_the_same_text(value: float) -> None:
    text = INCH.length(value)
    assert INCH.length(INCH.read_back(text)) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_none_is_our_own_fault(value: float) -> None:
    with pytest.raises(ValueError, match="cannot be written"):
        write_number(value, decimals=3)


def test_a_feed_never_becomes_zero() -> None:
    assert float(INCH.feed(0.01)) > 0


def test_the_system_language_does_not_change_a_number() -> None:
    before = locale.setlocale(locale.LC_ALL)
    names = [name for name in ("de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8", "C") if _can_set(name)]
    try:
        assert names
        assert {write_number(12345.678, decimals=3) for name in names if _can_set(name)} == {"12345.678"}
    finally:
        locale.setlocale(locale.LC_ALL, before)


def _can_set(name: str) -> bool:
    try:
        locale.setlocale(locale.LC_ALL, name)
    except locale.Error:
        return False
    return True
