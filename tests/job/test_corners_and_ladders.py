"""Corner cabinets and ladder bases in the job file: defaults, settings, names."""

import pytest
from job_text import job_text, read

from rabbetry.errors import InputError
from rabbetry.job.model import Faces, Mount
from rabbetry.job.words import BackPlace, LevelJoint, TopWord


def test_a_corner_has_the_usual_sizes_of_base_and_wall() -> None:
    base, wall = read(job_text('[[corner]]\nname = "N1"\n[[corner]]\nname = "N2"\nwall = true\n')).corners
    sizes = [(leg.width_mm, leg.depth_mm, leg.height_mm) for leg in (base.left, base.right, wall.left, wall.right)]
    assert sizes == [(900, 580, 876), (900, 580, 876), (600, 320, 720), (600, 320, 720)]


def test_each_leg_may_have_its_own_sizes_and_the_corner_its_own_settings() -> None:
    lines = '[[corner]]\nname = "N1"\nleft_width = 850\nright_width = 1000\nright_depth = 400\ndado_depth = 5\n'
    (corner,) = read(job_text(lines)).corners
    assert (corner.left.width_mm, corner.left.depth_mm) == (850, 580)
    assert (corner.right.width_mm, corner.right.depth_mm) == (1000, 400)
    assert corner.left.construction.dado_depth_mm == corner.right.construction.dado_depth_mm == 5


def test_a_corner_follows_the_words_it_can_and_tells_the_others() -> None:
    lines = '[construction]\nbottom_joint = "butt"\nback = "applied"\ntop = "stretchers"\n[[corner]]\nname = "N1"\n'
    (corner,) = read(job_text(lines)).corners
    c = corner.left.construction
    assert (c.bottom_joint, c.back, c.top) == (LevelJoint.BUTT, BackPlace.RABBET, TopWord.STRETCHERS)
    assert corner.unused == ('back = "applied": its two backs stand in rabbets and meet in the corner',)


def test_a_word_of_the_corner_itself_settles_it() -> None:
    lines = '[construction]\nback = "groove"\ntop = "on edge"\n[[corner]]\nname = "N1"\nback = "rabbet"\n'
    (corner,) = read(job_text(f'{lines}top = "full"\nfaces = "face frame"\nmount = "inset"\n')).corners
    assert corner.unused == ()
    assert [(leg.faces, leg.mount) for leg in (corner.left, corner.right)] == [(Faces.FACE_FRAME, Mount.INSET)] * 2


def test_a_corner_has_the_jobs_faces_unless_it_says_otherwise() -> None:
    text = job_text('[[corner]]\nname = "N1"\n[[corner]]\nname = "N2"\nfaces = "frameless"\n')
    first, second = read('faces = "face frame"\nmount = "inset"\n' + text).corners
    assert (first.left.faces, first.left.mount) == (Faces.FACE_FRAME, Mount.INSET)
    assert (second.right.faces, second.right.mount) == (Faces.FRAMELESS, Mount.INSET)


def test_a_ladder_base_is_as_high_as_the_toe_kick_and_of_the_carcass_stock() -> None:
    (ladder,) = read(job_text('[[ladder_base]]\nname = "P1"\nlength = 2400\ndepth = 500\n')).ladders
    assert (ladder.height_mm, ladder.stock, ladder.rung_spacing_mm, ladder.joint) == (100, "ply", 600, "butt")


@pytest.mark.parametrize(
    ("lines", "message"),
    [
        pytest.param(
            '[[corner]]\nname = "B1"\n[[ladder_base]]\nname = "b1"\nlength = 900\ndepth = 500\n',
            'job.toml: ladder_base "b1": has the same name as corner "B1"; give each a name of its own',
            id="one name twice",
        ),
        pytest.param(
            '[[ladder_base]]\nname = "P1"\nlength = 900\ndepth = 500\nstock = "plyy"\n',
            'job.toml: ladder_base "P1", stock: there is no stock "plyy"; did you mean ply?',
            id="a stock that is not there",
        ),
        pytest.param(
            '[[corner]]\nname = "N1"\ndrawers = 2\n',
            'job.toml: corner "N1": "drawers" is not a known key',
            id="what a corner has not",
        ),
    ],
)
def test_what_cannot_be_read_is_told_with_its_place(lines: str, message: str) -> None:
    with pytest.raises(InputError) as refused:
        read(job_text(lines))
    assert [str(fault)[: len(message)] for fault in refused.value.faults] == [message]
