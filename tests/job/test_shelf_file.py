"""The shelf's file: what is read, what is refused, and that what is written is read back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from job_text import cabinet_text, job_text, read

from rabbetry.errors import InputError
from rabbetry.job.model import Job, ShelfPiece
from rabbetry.job.shelf_file import shelf_text, with_shelf

PIECE = '[[offcut]]\nname = "O7"\nsheet = "birch-18"\nthickness = 17.8\nsize = [700, 400]\n'


def _job() -> Job:
    return read(job_text(cabinet_text("width = 600"), top='offcuts = "shelf.toml"'))


def _shelf(text: str) -> tuple[ShelfPiece, ...]:
    return with_shelf(_job(), text).shelf


def test_a_piece_is_read_in_the_files_own_unit() -> None:
    (piece,) = _shelf('units = "in"\n' + PIECE.replace("17.8", '"0.731"').replace("700, 400", '30, "14 1/2"'))
    assert piece.thickness_mm == pytest.approx(0.731 * 25.4)
    assert (piece.along_mm, piece.across_mm) == pytest.approx((762.0, 368.3))


def test_an_empty_shelf_is_a_shelf() -> None:
    assert _shelf("") == ()


FAULTS = [
    ("x = ", "shelf.toml: not TOML: Invalid value (at end of document)"),
    ('units = "ft"', 'shelf.toml: units: "ft" is not a unit; write "mm" or "in"'),
    ("[offcut]\nname = 1", "shelf.toml: offcut: a table is not a list of tables; begin each piece with [[offcut]]"),
    ("[[offcuts]]", 'shelf.toml: "offcuts" is not a known key; did you mean offcut?'),
    (PIECE + PIECE, 'shelf.toml: offcut "O7": stands twice; give each piece a name of its own'),
    (
        PIECE.replace("birch-18", "birch-19"),
        'shelf.toml: offcut "O7", sheet: "birch-19" is not in the sheet-goods table; did you mean birch-12',
    ),
    (PIECE.replace("thickness", "thicknes"), 'shelf.toml: offcut "O7": "thicknes" is not a known key'),
    (PIECE.replace("17.8", "-1"), 'shelf.toml: offcut "O7", thickness: -1 is not more than 0'),
    (PIECE.replace("700, 400", "700"), 'shelf.toml: offcut "O7", size'),
]


@pytest.mark.parametrize(("text", "words"), FAULTS)
def test_a_wrong_shelf_is_refused_with_file_place_and_cure(text: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        _shelf(text)
    assert any(str(fault).startswith(words) for fault in caught.value.faults), [str(f) for f in caught.value.faults]


NAMES = st.text(st.characters(categories=("L", "N", "P", "S")), min_size=1, max_size=40)


@settings(max_examples=60, deadline=None)
@given(
    name=NAMES,
    note=st.text(max_size=40),
    sizes=st.tuples(st.floats(100, 2440), st.floats(100, 1220)),
    thickness=st.floats(3, 30),
    units=st.sampled_from(["mm", "in"]),
)
def test_what_is_written_is_read_back(
    name: str, note: str, sizes: tuple[float, float], thickness: float, units: str
) -> None:
    piece = ShelfPiece(
        name=name, sheet="birch-18", thickness_mm=thickness, along_mm=sizes[0], across_mm=sizes[1], note=note
    )
    (back,) = _shelf(shelf_text([piece], units))
    assert (back.name, back.sheet, back.note) == (name, "birch-18", note)
    assert (back.thickness_mm, back.along_mm, back.across_mm) == pytest.approx((thickness, *sizes), abs=6e-4)
