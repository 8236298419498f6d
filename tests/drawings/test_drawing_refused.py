"""Drawings that are no part: refused with the file, the place and what to do; nothing given makes a traceback."""

import ezdxf
import pytest
from drawing_kit import MM, bytes_of, drawing, faults_of, job_of, job_text, notes_of, part_of, rectangle
from ezdxf.layouts import Modelspace
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.drawings.read import MAX_ENTITIES, MAX_PIECES
from rabbetry.errors import InputError
from rabbetry.files import MAX_DRAWING_BYTES, load_drawing, load_tables
from rabbetry.pipeline import load_job

HEAD = 'gusset.dxf: part "Gusset": '


def plate(space: Modelspace) -> None:
    rectangle(space, 0, 0, 300, 200)


def test_an_outline_that_crosses_itself_is_refused_with_the_place() -> None:
    """A bow tie: its diagonals cross in the middle."""
    data = drawing(lambda space: space.add_lwpolyline([(0, 0), (300, 200), (300, 0), (0, 200)], close=True))
    (fault,) = faults_of(data)
    assert fault.startswith(f"{HEAD}the shape that starts at (0, 0) is not sound: ")
    assert "crosses or touches itself at (150.0000, 100.0000)" in fault


def test_two_parts_in_one_file_are_refused_with_both_places() -> None:
    def draw(space: Modelspace) -> None:
        plate(space)
        rectangle(space, 400, 0, 100, 100)

    (fault,) = faults_of(drawing(draw))
    assert "holds shapes beside each other, at (150, 100) and (450, 50): a part has one outline" in fault


def test_two_outlines_by_name_are_refused() -> None:
    def draw(space: Modelspace) -> None:
        rectangle(space, 0, 0, 300, 200, "outline")
        rectangle(space, 10, 10, 100, 100, "Outline")

    (fault,) = faults_of(drawing(draw))
    assert fault.startswith(f"{HEAD}holds 2 outlines, among them those at (150, 100) and (60, 60)")


def test_an_opening_within_an_opening_would_fall_out() -> None:
    def draw(space: Modelspace) -> None:
        plate(space)
        rectangle(space, 50, 50, 100, 100)
        space.add_circle((100, 100), 10)

    (fault,) = faults_of(drawing(draw))
    assert "the shape at (100, 100) lies within the opening at (100, 100) and would fall out" in fault


def test_a_layer_the_drawing_lacks_is_named_with_the_nearest() -> None:
    def draw(space: Modelspace) -> None:
        plate(space)
        rectangle(space, 50, 50, 100, 100, "POCKETS")

    assert faults_of(drawing(draw), 'layers = [{layer = "pocket", cut = "pocket", depth = 5}]') == [
        'loft.toml: part "Gusset", layers: gusset.dxf has no layer "pocket"; did you mean POCKETS?'
    ]


def test_a_square_on_a_layer_of_holes_is_refused() -> None:
    def draw(space: Modelspace) -> None:
        plate(space)
        rectangle(space, 50, 50, 10, 10, "PINS")

    (fault,) = faults_of(drawing(draw), 'layers = [{layer = "PINS", cut = "hole"}]')
    assert fault == f"{HEAD}the shape at (55, 55) is on a layer of holes and is no circle"


def test_an_outline_of_nothing_but_text_says_what_is_there() -> None:
    (fault,) = faults_of(drawing(lambda space: space.add_text("gusset")))
    assert fault.startswith(f"{HEAD}holds no closed outline (not used: 1 TEXT); draw the part's outline closed")


def test_an_open_outline_says_what_was_not_used() -> None:
    def draw(space: Modelspace) -> None:
        space.add_lwpolyline([(0, 0), (300, 0), (300, 200)])
        space.add_line((300, 200, 0), (0, 0, 9))

    (fault,) = faults_of(drawing(draw))
    assert "is open at (0, 0): the next open end, at (300, 200)" in fault
    assert "(not used: 1 LINE that is not level)" in fault


def test_hidden_layers_and_paper_space_are_no_part() -> None:
    document = ezdxf.new("R2010", units=MM)  # type: ignore[attr-defined]
    document.layers.add("off").off()
    document.layers.add("frozen").freeze()
    space = document.modelspace()
    plate(space)
    rectangle(space, 400, 0, 100, 100, "off")
    rectangle(space, 600, 0, 100, 100, "frozen")
    rectangle(document.paperspace(), 0, 0, 50, 50)
    data = bytes_of(document)
    assert part_of(data).features == ()
    assert notes_of(data)["drawing-dropped"] == (
        "left out: 1 hidden LWPOLYLINE on layer frozen, 1 hidden LWPOLYLINE on layer off"
    )


def test_a_block_that_is_not_there_is_told() -> None:
    def draw(space: Modelspace) -> None:
        plate(space)
        space.add_blockref("GHOST", (0, 0))

    assert notes_of(drawing(draw))["drawing-repaired"].startswith("1 faults of the file were repaired, the first: ")


def test_blocks_that_hold_each_other_are_refused() -> None:
    document = ezdxf.new("R2010", units=MM)  # type: ignore[attr-defined]
    document.blocks.new("A").add_blockref("B", (0, 0))
    document.blocks.new("B").add_blockref("A", (0, 0))
    plate(document.modelspace())
    document.modelspace().add_blockref("A", (0, 0))
    (fault,) = faults_of(bytes_of(document))
    assert fault.startswith("gusset.dxf: is no sound DXF file: ")


def test_blocks_that_multiply_stop_at_the_limit() -> None:
    """Five levels of ten: a hundred thousand circles from sixty lines."""
    document = ezdxf.new("R2010", units=MM)  # type: ignore[attr-defined]
    document.blocks.new("L0").add_text("x")
    for level in range(1, 6):
        block = document.blocks.new(f"L{level}")
        for k in range(10):
            block.add_blockref(f"L{level - 1}", (k, 0))
    document.modelspace().add_blockref("L5", (0, 0))
    (fault,) = faults_of(bytes_of(document))
    assert fault == f"gusset.dxf: holds more than {MAX_ENTITIES} entities; draw the part by itself in one file"


def test_more_lines_than_any_part_has_are_refused() -> None:
    def draw(space: Modelspace) -> None:
        for k in range(MAX_PIECES + 1):
            space.add_line((k, 0), (k + 1, 0))

    (fault,) = faults_of(drawing(draw))
    assert f"comes to more than {MAX_PIECES} lines and arcs" in fault


def test_a_file_over_the_limit_of_bytes_is_not_read(tmp_path: object) -> None:
    path = tmp_path / "big.dxf"  # type: ignore[operator]
    with path.open("wb") as file:
        file.truncate(MAX_DRAWING_BYTES + 1)
    with pytest.raises(InputError) as refused:
        load_drawing(path)
    assert f"{MAX_DRAWING_BYTES + 1} bytes, over the {MAX_DRAWING_BYTES} allowed" in str(refused.value)


def test_faces_that_cannot_be_told_apart_are_refused() -> None:
    def draw(space: Modelspace) -> None:
        rectangle(space, 0, 0, 300, 200, "outline")
        rectangle(space, 0, 50, 300, 6, "groove 5.00 deep in right face")
        rectangle(space, 0, 90, 300, 6, "groove 5.00 deep in left face")

    (fault,) = faults_of(drawing(draw))
    assert fault == (
        f"{HEAD}does not tell its faces apart (left face, right face); "
        'layers of the one that is drawn through the part end in "seen through"'
    )


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        ("length = 300", "length: stands beside a drawing; the drawing says how large the part is; leave it out"),
        ("outline = [[0, 0], [9, 0], [0, 9]]", "outline: stands beside a drawing; leave one of them out"),
        (
            'layers = [{layer = "A", cut = "pocket"}]',
            "layers, entry 1, depth: is missing; say how deep the pocket is",
        ),
        (
            'layers = [{layer = "A", cut = "outline", depth = 3}]',
            'layers, entry 1, depth: stands beside "outline", which has none; leave it out',
        ),
        (
            'layers = [{layer = "A", cut = "hole"}, {layer = "a", cut = "nothing"}]',
            'layers, entry 2, layer: "a" stands twice; keep one of them',
        ),
        ('drawing_unit = "yd"', 'drawing_unit: "yd" is not one of the choices; known: mm, cm, m, in, ft'),
        ("drawing_join = 5", "drawing_join: "),
    ],
)
def test_keys_that_do_not_agree_are_told(lines: str, message: str) -> None:
    faults = faults_of(drawing(plate), lines)
    assert any(f'loft.toml: part "Gusset", {message}' in fault for fault in faults), faults


def test_keys_of_a_drawing_need_one() -> None:
    text = job_text('length = 300\nwidth = 200\ndrawing_unit = "mm"').replace('drawing = "gusset.dxf"\n', "")
    with pytest.raises(InputError) as refused:
        load_job(text, file="loft.toml", tables=load_tables(), own_tables={})
    assert [str(fault) for fault in refused.value.faults] == [
        'loft.toml: part "Gusset", drawing_unit: stands without a drawing; write drawing = "NAME.dxf", or leave it out'
    ]


def test_a_drawing_that_was_not_read_is_named() -> None:
    with pytest.raises(InputError, match=r'part "Gusset", drawing: "gusset.dxf" was not read'):
        load_job(job_text(""), file="loft.toml", tables=load_tables(), own_tables={})


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "ends before its last line, EOF"),
        (b"hello\nEOF", "is no sound DXF file"),
        (b"AC1024\x00\x00\x00EOF", "is not text"),
        (drawing(plate)[:-2000], "ends before its last line, EOF"),
    ],
    ids=["empty", "words", "binary", "cut short"],
)
def test_files_that_are_no_drawings_are_refused(data: bytes, message: str) -> None:
    (fault,) = faults_of(data)
    assert fault.startswith("gusset.dxf: ")
    assert message in fault


def _mixed(space: Modelspace) -> None:
    plate(space)
    block = space.doc.blocks.new("PIN")
    block.add_circle((0, 0), 4)
    space.add_blockref("PIN", (40, 40), dxfattribs={"rotation": 30})
    space.add_lwpolyline([(80, 80, 0.5), (120, 80, 0), (120, 120, 0)], format="xyb", close=True)
    space.add_ellipse((200, 100), (40, 0), 0.5)
    space.add_arc((40, 150), 9, 0, 180)
    space.add_line((31, 150), (49, 150))


_LINES = drawing(_mixed, release="R2000").split(b"\n")
_FIRST = _LINES.index(b"BLOCKS")


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(_FIRST, len(_LINES) - 3),
            st.sampled_from([b"0", b"-1", b"9" * 30, b"nan", b"inf", b"INSERT", b"SPLINE", b"\xff\xfe", b"", b"1e400"]),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_a_spoilt_file_gives_a_job_or_a_refusal(changes: list[tuple[int, bytes]]) -> None:
    lines = list(_LINES)
    for at, word in changes:
        lines[at] = word
    try:
        job = job_of(b"\n".join(lines), 'drawing_unit = "mm"')
    except InputError as refused:
        told = str(refused)
    else:
        told = job.notes[0].message
    assert "Gusset" in told or "gusset.dxf" in told
