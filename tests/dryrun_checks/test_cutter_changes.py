"""What must be said anew after a change of cutter: its length and its speed."""

import pytest

from rabbetry.dryrun.changes import check_changes
from rabbetry.dryrun.dialects import LENIENT
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import Context, ProgramText

FIRST = "G21 G90 G94 G17 G54\nT1 M6\nG43 H1\nG0 Z10\nS8000 M3\nG1 Z-1 F500\nG0 Z10\nM5\n"
LAST_CUT = "G1 Z-1 F500\nG0 Z10\nM5\nM30\n"


@pytest.mark.parametrize(
    ("change", "codes"),
    [
        pytest.param("T2 M6\nG43 H2\nG0 Z10\nS9000 M3\n", [], id="both said"),
        pytest.param("T2 M6\nG43\nG0 Z10\nS9000 M3\n", [], id="without H the loaded cutter's length"),
        pytest.param("T2 M6\nG49\nG0 Z10\nS9000 M3\n", [], id="no length"),
        pytest.param("S9000\nT2 M6\nG43 H2\nG0 Z10\nM3\n", [], id="speed before the change"),
        pytest.param("T2 M6\nG0 Z10\nS9000 M3\n", ["wrong-length-offset"], id="length of the first stays"),
        pytest.param("T2 M6\nG43 H1\nG0 Z10\nS9000 M3\n", ["wrong-length-offset"], id="length of the first called"),
        pytest.param("T2 M6\nG43 H2\nG0 Z10\nM3\n", ["spindle-kept-speed"], id="speed of the first stays"),
        pytest.param("T2 M6\nG43 H2\n(S9000)\nG0 Z10\nM3\n", ["spindle-kept-speed"], id="speed in a comment only"),
    ],
)
def test_the_first_cut_after_a_change_of_cutter(change: str, codes: list[str]) -> None:
    program = ProgramText(name="a.nc", text=FIRST + change + LAST_CUT)
    found = list(check_changes(program, read_program(program, LENIENT, Context()).events))
    assert [item.code for item in found] == codes
    assert all(item.where.line == (FIRST + change).count("\n") + 1 for item in found)


def test_a_program_without_length_offsets_or_speeds_is_not_told_of_them() -> None:
    text = "G21 G90 G94 G17 G54\nT1 M6\nG0 Z10\nM3\nG1 Z-1 F500\nG0 Z10\nT2 M6\nG1 Z-1\nM30\n"
    program = ProgramText(name="a.nc", text=text)
    assert list(check_changes(program, read_program(program, LENIENT, Context()).events)) == []
