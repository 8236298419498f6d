"""The job file: text that is no job."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_text import TABLES, cabinet_text, faults, job_text, read

from rabbetry.errors import InputError
from rabbetry.job.read import read_job


def test_text_that_is_not_toml_is_one_fault_with_its_line() -> None:
    assert faults('name = "x"\nunits = mm\n') == [
        "line 2: Invalid value at column 9; the file is not TOML there: "
        "text needs quotes, and each line one key = value"
    ]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        pytest.param("a = " + "[" * 100_000, "lists or tables are nested too deeply; is it the right file?", id="deep"),
        pytest.param(
            "x" * 1_000_001, "1000001 signs are more than the 1000000 allowed; is it the right file?", id="big"
        ),
        pytest.param("a = " + "9" * 5000, "thousands of digits", id="a number of five thousand digits"),
    ],
)
def test_text_made_to_break_a_reader_is_one_fault(text: str, words: str) -> None:
    (fault,) = faults(text)
    assert words in fault


def test_a_byte_mark_and_windows_line_ends_do_not_matter() -> None:
    text = job_text()
    assert read("\ufeff" + text.replace("\n", "\r\n")) == read(text)


def test_more_cabinets_than_a_job_may_have_are_refused() -> None:
    many = [cabinet_text("width = 600", name=f"B{number}") for number in range(501)]
    assert faults(job_text(*many)) == ["cabinet: a list has 501 entries; at most 500 are expected"]


HEAVY = [
    pytest.param("\n".join(f"k{number} = 1" for number in range(50_000)), id="unknown keys"),
    pytest.param("\n".join(f'[stock.s{number}]\nsheet = "x"' for number in range(20_000)), id="stocks"),
    pytest.param('[[cabinet]]\nname = "B"\nstocks = { back = "z" }\n' * 15_000, id="cabinets of one name"),
    pytest.param("cutters = [" + "1, " * 300_000 + "]", id="cutters"),
    pytest.param(f'name = "{"x" * 900_000}"', id="a name"),
    pytest.param(f'[stock."{"x" * 900_000}"]\nsheet = "{"y" * 50_000}"', id="a stock's name"),
]


@pytest.mark.parametrize("text", HEAVY)
def test_a_file_full_of_nonsense_is_refused_in_few_words(text: str) -> None:
    told = faults(text)
    assert told
    assert max(map(len, told)) < 1000


def test_more_copies_than_a_job_may_have_are_refused() -> None:
    many = [cabinet_text("width = 600", "qty = 200", name=f"B{number}") for number in range(11)]
    assert faults(job_text(*many)) == ["2200 cabinets and parts are more than the 2000 one job may have; split the job"]


def test_a_job_without_stocks_says_how_to_begin_one() -> None:
    assert faults(job_text(stocks="")) == ["stock: is missing; begin one with [stock.NAME]"]


@settings(max_examples=60, deadline=None)
@given(at=st.integers(0, 700), width=st.integers(0, 3), sign=st.sampled_from(["", '"', "[", "=", "\n", "0", ".", "\0"]))
def test_a_job_with_a_slip_of_the_keyboard_gives_a_job_or_faults(at: int, width: int, sign: str) -> None:
    text = job_text()
    text = text[:at] + sign + text[at + width :]
    try:
        told: tuple[object, ...] = read_job(text, file="job.toml", tables=TABLES).cabinets
    except InputError as error:
        told = error.faults
    assert told


@settings(max_examples=60, deadline=None)
@given(
    key=st.sampled_from(["width", "qty", "kind", "drawers", "stocks", "name", "back", "dado_depth", "machine"]),
    value=st.sampled_from(
        [
            "0",
            "-1",
            "1e400",
            "nan",
            "true",
            '""',
            '"x"',
            "[]",
            "[[]]",
            "{}",
            "{a = 1}",
            "1979-05-27",
            '"\\u0000"',
            "[nan]",
        ]
    ),
)
def test_any_value_anywhere_gives_a_job_or_faults(key: str, value: str) -> None:
    cabinet = {"name": '"B1"', "kind": '"base"', "width": "600"} | {key: value}
    text = job_text("[[cabinet]]\n" + "\n".join(f"{name} = {item}" for name, item in cabinet.items()))
    try:
        told: tuple[object, ...] = read_job(text, file="job.toml", tables=TABLES).cabinets
    except InputError as error:
        told = error.faults
    assert told
