"""Faults in words: near names, values as shown, and where a fault stands."""

import pytest

from rabbetry.errors import Fault, InputError, did_you_mean, near_names, row_faults, shown

NEAR = [
    pytest.param("shelf_pin_dai", ["shelf_pin_depth", "shelf_pin_diameter", "shelf_pin_pitch"], ("shelf_pin_diameter",),
                 id="an abbreviation with two letters swapped"),
    pytest.param("bench-4x5", ["bench-4x4", "bench-600x900"], ("bench-4x4",), id="one letter off"),
    pytest.param("HEIGHT", ["height", "width"], ("height",), id="capitals"),
    pytest.param("bas", ["base", "wall"], ("base",), id="a letter missing"),
    pytest.param("door", ["doors", "door_groove_depth"], ("doors",), id="one letter, not a beginning"),
    pytest.param("slied", ["slide", "slide_front", "sledge"], ("slide",), id="two letters swapped"),
    pytest.param("slides", ["slide", "slide_front"], ("slide",), id="a letter too many"),
    pytest.param("colour", ["width", "height"], (), id="nothing near"),
    pytest.param("x" * 5000, ["x" * 50], (), id="a word too long to be a slip"),
    pytest.param("word", [], (), id="nothing known"),
    pytest.param("tab", ["tab1", "tab2"], ("tab1", "tab2"), id="two equally near, in order of the alphabet"),
]  # fmt: skip


@pytest.mark.parametrize(("word", "known", "near"), NEAR)
def test_near_names_are_the_likely_ones(word: str, known: list[str], near: tuple[str, ...]) -> None:
    assert near_names(word, known) == near
    assert near_names(word, reversed(known)) == near


def test_a_cure_offers_near_names_or_all_when_they_are_few() -> None:
    assert did_you_mean("wal", ["base", "wall"]) == "did you mean wall?"
    assert did_you_mean("colour", ["base", "wall"]) == "known: base, wall"
    assert did_you_mean("colour", [f"name{number}" for number in range(31)]) == ""
    assert did_you_mean("colour", []) == ""


SHOWN = [
    pytest.param("wide", '"wide"', id="text"),
    pytest.param('23"', "'23\"'", id="text with a quote"),
    pytest.param("a\nb\x07", '"a?b?"', id="text that would break the line"),
    pytest.param("x" * 41, '"' + "x" * 37 + '..."', id="long text"),
    pytest.param(True, "true", id="true in the file's own word"),
    pytest.param(1.5, "1.5", id="number"),
    pytest.param(10**20, "a number of more than 20 digits", id="huge number"),
    pytest.param({"a": 1}, "a table", id="table"),
    pytest.param([1], "a list", id="list"),
]


@pytest.mark.parametrize(("value", "words"), SHOWN)
def test_a_value_is_shown_short_and_on_one_line(value: object, words: str) -> None:
    assert shown(value) == words


COMPLAINTS = [
    pytest.param({"loc": ("a",), "type": "missing", "input": {}, "msg": ""}, "f: a: is missing; write `a = ...`",
                 id="missing"),
    pytest.param({"loc": ("a", "hight"), "type": "extra_forbidden", "input": 1, "msg": ""},
                 'f: a: "hight" is not a known key; did you mean height?', id="unknown key"),
    pytest.param({"loc": ("a",), "type": "greater_than", "input": 0, "msg": "", "ctx": {"gt": 0}},
                 "f: a: 0 is not more than 0", id="bound"),
    pytest.param({"loc": ("a",), "type": "string_too_long", "input": "abc", "msg": "", "ctx": {"max_length": 2}},
                 'f: a: "abc" is longer than 2 signs', id="long text"),
    pytest.param({"loc": ("a",), "type": "something_new", "input": 3, "msg": "Some reason"},
                 "f: a: 3: Some reason", id="a complaint without words of ours"),
]  # fmt: skip


@pytest.mark.parametrize(("complaint", "words"), COMPLAINTS)
def test_a_row_validators_complaint_becomes_a_fault(complaint: dict[str, object], words: str) -> None:
    (fault,) = row_faults(
        [complaint], file="f", place=lambda loc: ".".join(map(str, loc)), known=lambda loc: ["height"]
    )
    assert str(fault) == words


def test_an_input_error_tells_all_its_faults_and_exits_with_2() -> None:
    error = InputError(
        Fault(file="a", place="", problem="one"), Fault(file="b", place="line 2", problem="two", cure="cut")
    )
    assert str(error) == "a: one\nb: line 2: two; cut"
    assert error.exit_status == 2
    with pytest.raises(ValueError, match="at least one fault"):
        InputError()
