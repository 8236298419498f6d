"""Parameters, expressions and functions. Source: NISTIR 6556, sections 3.3.2 and 3.3.3, and its program C.2."""

import pytest
from reader_kit import ends, read, read_well, refusal

from rabbetry.dryrun.dialects import LENIENT
from rabbetry.dryrun.model import Context

PRINTED_TO = 1e-3
"""The arguments that the report prints have four decimals."""


@pytest.mark.parametrize(
    ("expression", "expected"),
    [
        ("[1 --3]", 4),
        ("[2 or 2]", 1),
        ("[2 xor 2]", 0),
        ("[2 and 0]", 0),
        ("[2/5]", 0.4),
        ("[15 MOD 4.0]", 3),
        ("[-15 MOD 4.0]", 1),
        ("[1 + 2 * 3 - 4 / 5]", 6.2),
        ("sin[30]", 0.5),
        ("cos[60]", 0.5),
        ("tan[60.0]", 1.7321),
        ("atan[1.7321]/[1.0]", 60.0),
        ("acos[0.707107]", 45.0),
        ("asin[0.5]", 30.0),
        ("round[-0.499]", 0),
        ("round[-0.5001]", -1),
        ("fix[-0.499]", -1),
        ("fix[9.975]", 9),
        ("fup[-0.5001]", 0),
        ("fup[2.444]", 3),
        ("exp[2.3026]", 10),
        ("ln[10.0]", 2.3026),
        ("abs[-2]", 2),
        ("[2 ** 3.0]", 8),
        ("[2 ** 3 ** 2]", 64),
        ("[-2 ** 2]", 4),
        ("[8 / 4 / 2]", 1),
        ("[8 - 4 - 2]", 2),
        ("sqrt[3**2 + 4**2]", 5),
        ("[2.0 / 3 * 1.5 - 5.5 / 11.0]", 0.5),
        ("[6-[4*3/2]]", 0),
        ("[[[[1]]]]", 1),
        ("#7", 0),
    ],
)
def test_an_expression_of_the_report_has_its_printed_value(expression: str, expected: float) -> None:
    assert ends(read_well(f"G1 F1 X {expression}"))[0][0] == pytest.approx(expected, abs=PRINTED_TO)


def test_a_setting_takes_effect_after_its_line() -> None:
    """NISTIR 6556, 3.3.3: the report's own example, with 15 before."""
    assert [end[0] for end in ends(read_well("#3=15 G1 F1 X1", "#3=5.0 x#3", "x#3"))] == [1, 15, 5]


def test_a_parameter_may_name_a_parameter() -> None:
    assert ends(read_well("#1=2", "#2=7 #[1+2]=8", "G0 X##1 Y#3"))[0][:2] == (7, 8)


def test_offsets_can_be_read_as_parameters_in_the_unit_in_force() -> None:
    offsets = ((25.4, 0.0, 0.0), (0.0, 50.8, 0.0), *[(0.0, 0.0, 0.0)] * 7)
    context = Context(work_offsets_mm=offsets, home_mm=(1.0, 2.0, 3.0))
    reading = read_well("G53 G0 X#5221 Y#5242 Z#5220", "G20", "G53 G0 X#5221 Y#5162", context=context)
    assert ends(reading) == [(25.4, 50.8, 1), (25.4, 2.0, 1)]


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("G1 X asim[0.5]", id="misspelt function, table 10"),
        pytest.param("G0 X[1/0]", id="division by zero"),
        pytest.param("G0 X[1 mod 0]", id="remainder by zero"),
        pytest.param("G0 X[1+2", id="open bracket"),
        pytest.param("G0 X[1+]", id="operand missing"),
        pytest.param("G0 X[]", id="empty bracket"),
        pytest.param("G0 X[1 2 3 q 4]", id="no operator"),
        pytest.param("G0 X[9**9**9]", id="power beyond sense"),
        pytest.param("G0 X[9**9**9**9**9**9]", id="power far beyond sense"),
        pytest.param("G0 Xexp[999999]", id="exponential beyond sense"),
        pytest.param("G0 X[-8 ** 0.5]", id="root of a negative number"),
        pytest.param("G0 X[0 ** -1]", id="zero to a negative power"),
        pytest.param("G0 Xsqrt[-1]", id="square root of a negative number"),
        pytest.param("G0 Xln[0]", id="logarithm of zero"),
        pytest.param("G0 Xacos[2]", id="arc cosine of two"),
        pytest.param("G0 Xtan[90]", id="tangent of a right angle"),
        pytest.param("G0 Xatan[1]", id="arc tangent of one value"),
        pytest.param("G0 X#0", id="parameter zero"),
        pytest.param("G0 X#5400", id="parameter beyond the last"),
        pytest.param("G0 X#1.5", id="parameter not whole"),
        pytest.param("#1", id="parameter that is not set"),
        pytest.param("#5221=4", id="offset set by parameter"),
        pytest.param("G0 X-[1]", id="sign before a bracket"),
        pytest.param("G0 X" + "[" * 100 + "1" + "]" * 100, id="nested without end"),
        pytest.param("G0 X" + "#" * 200 + "1", id="parameters of parameters without end"),
        pytest.param("[1]", id="value without a letter"),
        pytest.param("G0 X1]", id="bracket never opened"),
    ],
)
def test_what_has_no_value_is_refused(text: str) -> None:
    last = refusal(read("G21", text))
    assert last.code in {"program-expression", "program-syntax"}
    assert last.where.line == 2


def test_lenient_readers_take_a_sign_before_a_bracket() -> None:
    assert ends(read_well("#1=2", "G0 X-[1+2] Y-#1 Z+sin[30]", dialect=LENIENT)) == [(-3, -2, 0.5)]
