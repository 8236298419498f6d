"""Text that must fit: wrapping and shrinking by estimated widths."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.page.text import fit, plain, width_em, wrap

LINE = st.text(min_size=1, max_size=120).map(plain).filter(bool)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("a\nb\tc  d ", "a b c d", id="line ends, tabs and double blanks become one blank"),
        pytest.param("a\x00b\x1bc\x7f", "abc", id="control characters go"),
        pytest.param("a\ud800b\ufffe", "ab", id="half a surrogate pair and a non-character go"),
        pytest.param("Küche-Ost №2", "Küche-Ost №2", id="letters of any script stay"),
    ],
)
def test_plain_text_is_one_line_that_every_file_can_hold(text: str, expected: str) -> None:
    assert plain(text) == expected


@settings(max_examples=100)
@given(LINE, st.floats(2, 40))
def test_wrapping_keeps_every_letter_and_the_width(text: str, line_em: float) -> None:
    lines = wrap(text, line_em)
    assert "".join(lines).replace(" ", "") == text.replace(" ", "")
    assert all(width_em(line) <= line_em for line in lines)


@settings(max_examples=100)
@given(LINE, st.floats(20, 200), st.floats(10, 60))
def test_a_fitted_text_stays_in_its_box(text: str, width: float, height: float) -> None:
    fitted = fit(text, width=width, height=height, largest=12, smallest=3)
    assert fitted.height <= height + 1e-9
    assert fitted.width <= width + 1e-9
    assert 3 <= fitted.size <= 12
    assert fitted.whole == ("".join(fitted.lines).replace(" ", "") == text.replace(" ", ""))


def test_a_text_that_fits_is_set_at_the_largest_size_on_one_line() -> None:
    fitted = fit("B3 left side", width=200, height=20, largest=12, smallest=3)
    assert (fitted.size, fitted.lines, fitted.whole) == (12, ("B3 left side",), True)


def test_words_stay_whole_while_half_the_size_allows_it() -> None:
    fitted = fit("drawer partition", width=70, height=40, largest=12, smallest=3)
    assert fitted.lines == ("drawer", "partition")


def test_a_text_too_long_for_its_box_ends_with_an_ellipsis() -> None:
    fitted = fit("x" * 500, width=50, height=10, largest=12, smallest=3)
    assert not fitted.whole
    assert fitted.lines[-1].endswith("x…")
