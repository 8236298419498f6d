"""A fingerprint tells values apart, and is the same on every machine."""

from dataclasses import dataclass
from enum import StrEnum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rabbetry.fingerprint import fingerprint


class Word(StrEnum):
    ONE = "one"


@dataclass(frozen=True)
class Record:
    width: float
    words: frozenset[str]


def test_a_known_value_keeps_its_fingerprint() -> None:
    """The first ten digits of the SHA-256 of `["a",1,["float","0x1.4000000000000p+1"]]`, by another program."""
    assert fingerprint("a", 1, 2.5) == "ab98a153ea"


def test_the_order_of_a_set_and_of_keys_does_not_count() -> None:
    one = fingerprint(Record(1.5, frozenset("abcdefgh")), {"x": 1, "y": 2})
    assert one == fingerprint(Record(1.5, frozenset("hgfedcba")), {"y": 2, "x": 1})


DIFFERENT = [
    pytest.param((1.0,), (1.0000000000000002,), id="the last bit of a number"),
    pytest.param((1,), ("1",), id="a number and its text"),
    pytest.param((Word.ONE,), ("one",), id="a word of a list and a text"),
    pytest.param(("ab", "c"), ("a", "bc"), id="where one text ends"),
    pytest.param(((1, 2), 3), (1, (2, 3)), id="nesting"),
    pytest.param((None,), ("",), id="nothing and the empty text"),
    pytest.param(({"a": 1},), ((("a", 1),),), id="a table and its rows"),
    pytest.param((True,), (1,), id="true and one"),
]


@pytest.mark.parametrize(("one", "other"), DIFFERENT)
def test_what_differs_has_another_fingerprint(one: tuple[object, ...], other: tuple[object, ...]) -> None:
    assert fingerprint(*one) != fingerprint(*other)


@given(st.lists(st.floats(allow_nan=False)), st.text())
def test_it_is_ten_digits_of_base_16(numbers: list[float], text: str) -> None:
    found = fingerprint(numbers, text)
    assert len(found) == 10
    assert not set(found) - set("0123456789abcdef")


def test_what_cannot_be_told_apart_is_refused() -> None:
    with pytest.raises(TypeError, match="no fingerprint of function"):
        fingerprint(lambda: 1)
