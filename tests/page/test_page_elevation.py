"""The front view of a cabinet, read back as XML."""

import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from page_samples import HOSTILE, cabinet

from rabbetry.page.elevation import elevation_svg

SVG = "{http://www.w3.org/2000/svg}"


def rects(css: str, **changes: object) -> list[tuple[float, float, float, float]]:
    root = ET.fromstring(elevation_svg(replace(cabinet(), **changes), units="mm"))  # type: ignore[arg-type]
    return [
        (float(r.get("x", "")), float(r.get("y", "")), float(r.get("width", "")), float(r.get("height", "")))
        for r in root.iter(f"{SVG}rect")
        if r.get("class") == css
    ]


def test_fronts_hang_where_the_cabinet_says_with_z_up() -> None:
    assert rects("front")[0] == (1.5, -873, 597, 140)
    assert rects("front")[1] == (1.5, -729.5, 297, 628)
    assert rects("box") == [(0, -876, 600, 776)]
    assert rects("kick") == [(0, -100, 600, 100)]


def test_a_cabinet_without_a_kick_stands_on_its_box() -> None:
    assert rects("kick", has_kick=False) == []
    assert rects("box", has_kick=False) == [(0, -876, 600, 876)]


def test_the_dashed_lines_of_a_door_meet_at_its_hinges() -> None:
    root = ET.fromstring(elevation_svg(cabinet(), units="mm"))
    ends = [
        (float(s.get("x2", "")), float(s.get("y2", ""))) for s in root.iter(f"{SVG}line") if s.get("class") == "swing"
    ]
    assert ends == [(1.5, -415.5)] * 2 + [(598.5, -415.5)] * 2
    assert len(rects("hinge")) == 4


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_text(name: str) -> None:
    fronts = tuple(replace(front, name=name) for front in cabinet().fronts)
    root = ET.fromstring(elevation_svg(replace(cabinet(name), fronts=fronts), units="in"))
    assert {item.tag.removeprefix(SVG) for item in root.iter()} == {"svg", "title", "rect", "line", "text"}
