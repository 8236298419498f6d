"""A box drawn from its solids: what the picture and the script's numbers hold, and that a missing dado shows."""

import json
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from page_samples import HOSTILE

from box_kit import cabinet_of, order
from rabbetry.fit.assemble import assemble
from rabbetry.fit.model import Assembly, Layer, Mouth, Solid, Step
from rabbetry.fit.sequence import assembly_of
from rabbetry.job.model import CabinetKind
from rabbetry.page.box_rows import box_part
from rabbetry.page.box_view import box_svg, solids_json
from rabbetry.page.text import plain
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Box, Place, Vec3


def square(x0: float, y0: float, x1: float, y1: float) -> tuple[tuple[float, float], ...]:
    return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))


def plate(name: str, origin: Vec3, *, dado: bool = False, role: str = "plate") -> Solid:
    """200 x 100 x 18 mm, lying level with its machined face up; a dado 20 mm wide and 6 deep across it at x 50."""
    whole = (square(0, 0, 200, 100),)
    cut = (square(0, 0, 50, 100), square(70, 0, 200, 100)) if dado else whole
    layers = (Layer(start_mm=0, end_mm=6, rings=cut), Layer(start_mm=6, end_mm=18, rings=whole))
    return Solid(
        panel=name,
        role=role,
        place=Place(origin=origin, x_axis=(1, 0, 0), y_axis=(0, 1, 0)),
        layers=layers,
        mouths=(Mouth(x_mm=150, y_mm=50, depth_mm=0, diameter_mm=5, on_rear=False),),
        low=(origin[0], origin[1], origin[2] - 18),
        high=(origin[0] + 200, origin[1] + 100, origin[2]),
    )


def put_together(*solids: Solid, apart: Vec3 = (0.0, 0.0, 0.0)) -> Assembly:
    steps = tuple(Step(panel=solid.panel, from_side=(0.0, 0.0, 1.0)) for solid in solids)
    return Assembly(cabinet="B1", solids=solids, steps=steps, apart={solid.panel: apart for solid in solids})


def base(*, without: str = "") -> Box:
    box = compile_cabinet(cabinet_of(order(CabinetKind.BASE)))
    if not without:
        return box
    panels = tuple(
        replace(panel, features=tuple(item for item in panel.features if item.name != without)) for panel in box.panels
    )
    assert panels != box.panels
    return replace(box, panels=panels)


def test_the_numbers_are_tenths_of_a_millimetre() -> None:
    (row,) = json.loads(solids_json(put_together(plate("a", (10.0, 20.0, 300.0), dado=True), apart=(1.0, 2.0, -3.0))))
    origin, x_axis, y_axis, apart, layers, mouths = row
    assert (origin, x_axis, y_axis, apart) == ([100, 200, 3000], 1, 2, [10, 20, -30])
    assert layers[0] == [0, 60, [0, 0, 500, 0, 500, 1000, 0, 1000], [700, 0, 2000, 0, 2000, 1000, 700, 1000]]
    assert layers[1] == [60, 180, [0, 0, 2000, 0, 2000, 1000, 0, 1000]]
    assert mouths == [[1500, 500, 0, 50, 0]]


def test_a_missing_dado_is_another_picture_of_that_side_only() -> None:
    right, wrong = (assembly_of(box, assemble(box)) for box in (base(), base(without="bottom dado")))
    sound, faulty = (
        {solid.role: row for solid, row in zip(item.solids, json.loads(solids_json(item)), strict=True)}
        for item in (right, wrong)
    )
    assert {role for role in sound if sound[role][4] != faulty[role][4]} == {"left side", "right side"}
    groups = [
        dict(re.findall(r"<g><title>(.*?)</title>(.*?)</g>", box_svg(item, title="B1"))) for item in (right, wrong)
    ]
    faces = [group["B1 left side"].count("tone-up") for group in groups]
    assert faces[0] == faces[1] + 1, "the ledge of the dado, which looks up, is gone"


def test_what_is_nearer_is_painted_later() -> None:
    """Seen from the front and above: the plate before the other hides it, and so does the one on top."""
    back, front, top = plate("back", (0, 500, 0)), plate("front", (0, 0, 0)), plate("top", (0, 500, 200))
    for solids in ((back, front, top), (top, front, back), (front, top, back)):
        names = re.findall(r"<g><title>(.*?)</title>", box_svg(put_together(*solids), title="B1"))
        assert names.index("back") < names.index("front")
        assert names.index("back") < names.index("top")


def test_a_hole_is_drawn_on_the_face_that_shows() -> None:
    up = plate("a", (0, 0, 0))
    down = replace(up, mouths=(replace(up.mouths[0], on_rear=True, depth_mm=18),))
    assert "mouth" in box_svg(put_together(up), title="B1")
    assert "mouth" not in box_svg(put_together(down), title="B1")


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_text(name: str) -> None:
    solid = plate(name, (0, 0, 0), role=name)
    text = box_svg(put_together(solid), title=name)
    root = ET.fromstring(text)
    tags = {item.tag.rpartition("}")[2] for item in root.iter()}
    assert tags == {"svg", "title", "g", "path", "text"}
    titles = [item.text for item in root.iter() if item.tag.endswith("title")]
    assert titles == [plain(name), plain(name)]
    assert not re.search("[^][0-9,-]", solids_json(put_together(solid)))


def test_the_steps_say_from_where_and_into_what() -> None:
    box = base()
    words = {row.name: row.words for row in box_part(assembly_of(box, assemble(box))).steps}
    assert words["left side"] == "begin with it"
    assert words["bottom"] == "from the right, into left side (bottom dado)"
    assert words["right side"].startswith("from the right, over bottom (bottom dado)")
    assert words["back"] == "from behind, into left side (back rabbet) and right side (back rabbet)"


def test_a_panel_without_a_way_in_is_told() -> None:
    solid = plate("a", (0, 0, 0))
    item = replace(put_together(solid), steps=(Step(panel="a", is_stuck=True),))
    assert box_part(item).steps[0].words == "no straight way in was found: try it dry first"


def test_an_empty_box_has_no_picture_to_make() -> None:
    empty = replace(base(), panels=(), joints=())
    assert assembly_of(empty, assemble(empty)).solids == ()
