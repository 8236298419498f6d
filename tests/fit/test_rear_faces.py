"""Recesses of a panel's rear face: wood taken out of the body like that of the machined one."""

from dataclasses import replace

import pytest
from test_slabs import board, shared

from rabbetry.fit.assemble import assemble, shared_space
from rabbetry.fit.checks import check_box
from rabbetry.fit.model import Wanted
from rabbetry.geometry.curves import polygon, rectangle
from rabbetry.geometry.points import Point
from rabbetry.panels.model import Box, Joint, Panel, Place, Recess

LOWER = Place(origin=(0.0, 0.0, 0.0), x_axis=(1.0, 0.0, 0.0), y_axis=(0.0, -1.0, 0.0))
"""Level, its machined face down: y runs to the front, so the panel fills y from -300 to 0 and z from 0 to 18."""
UPRIGHT = Place(origin=(200.0, -300.0, 12.0), x_axis=(0.0, 0.0, 1.0), y_axis=(0.0, 1.0, 0.0))
"""Stands on edge from 6 mm below the level one's upper face; its thickness runs from x = 200 to 212."""


def level(depth: float = 6.0, width: float = 12.2) -> Panel:
    """A panel 500 x 300 x 18 with a dado across its rear face, which lies up."""
    low = 206.0 - width / 2
    dado = Recess(
        name="rear dado",
        kind="dado",
        outline=polygon([Point(low, 0), Point(low + width, 0), Point(low + width, 300), Point(low, 300)]),
        depth_mm=depth,
    )
    return replace(board("shelf", rectangle(0, 0, 500, 300), LOWER), rear_features=(dado,))


def upright(outline_slants: bool = False) -> Panel:
    corners = [Point(0, 0), Point(250 if outline_slants else 200, 0), Point(200, 300), Point(0, 300)]
    return board("post", polygon(corners), UPRIGHT, thickness=12.0)


def box(of: Panel) -> Box:
    joint = Joint(kind="dado", receiver="shelf", feature="rear dado", entering="post")
    return Box(cabinet="B1", panels=(of, upright()), joints=(joint,), fronts=(), hardware=())


WANTED = Wanted(name="B1", size_mm=(500.0, 300.0, 212.0), clearance_mm=0.2)


def codes(of: Panel) -> set[str]:
    found = check_box(WANTED, box(of)).findings
    return {item.code for item in found if "stands out" not in item.message}


def test_the_frame_is_where_the_sums_say() -> None:
    bodies = assemble(box(level()))
    assert (bodies["shelf"].low, bodies["shelf"].high) == ((0.0, -300.0, 0.0), (500.0, 0.0, 18.0))
    assert (bodies["post"].low, bodies["post"].high) == ((200.0, -300.0, 12.0), (212.0, 0.0, 212.0))


def test_what_enters_a_dado_of_the_rear_face_fills_no_wood() -> None:
    assert codes(level()) == set()


@pytest.mark.parametrize(
    ("faulty", "found"),
    [
        pytest.param(level(depth=5.0), {"fit-interference", "fit-seat"}, id="1 mm too shallow"),
        pytest.param(level(depth=7.0), {"fit-seat"}, id="1 mm too deep"),
        pytest.param(level(width=13.2), {"fit-joint"}, id="1 mm too wide"),
        pytest.param(level(width=11.2), {"fit-joint", "fit-interference"}, id="too narrow"),
        pytest.param(replace(level(), rear_features=()), {"fit-joint", "fit-interference"}, id="not cut"),
    ],
)
def test_a_fault_in_the_rear_face_is_found(faulty: Panel, found: set[str]) -> None:
    assert found <= codes(faulty)


def test_a_dado_of_the_rear_face_that_nothing_enters_is_found() -> None:
    alone = Box(cabinet="B1", panels=(level(),), joints=(), fronts=(), hardware=())
    messages = [item.message for item in check_box(WANTED, alone).findings]
    assert "shelf has a rear dado that nothing enters" in messages


def test_cells_and_slabs_find_the_same_millimetre() -> None:
    """The floor of the dado is at z = 13, the post's foot at 12: 1 mm over the post's 12 mm and the whole depth."""
    bodies = assemble(box(level(depth=5.0)))
    assert shared_space(bodies["shelf"], bodies["post"]) == ((200.0, -300.0, 12.0), (212.0, 0.0, 13.0))
    by_slabs = shared(level(depth=5.0), upright(outline_slants=True))
    assert by_slabs is not None
    assert by_slabs[0] == pytest.approx((200.0, -300.0, 12.0), abs=0.01)
    assert by_slabs[1] == pytest.approx((212.0, 0.0, 13.0), abs=0.01)
    assert shared(level(), upright(outline_slants=True)) is None
