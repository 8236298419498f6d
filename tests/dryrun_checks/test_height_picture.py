"""The picture of the finished blank: well-formed, the deepest on top, through cuts hatched, names made harmless."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from checks_kit import Json, bench, cut, loop, panel, rectangle

SVG = "{http://www.w3.org/2000/svg}"


def _picture(body: str, setup: Json | None = None) -> ET.Element:
    return ET.fromstring(cut(body, setup or bench()).height_picture)


def _cuts(picture: ET.Element) -> list[ET.Element]:
    group = picture.find(f".//{SVG}g[@clip-path]")
    assert group is not None
    return list(group)


def _words(picture: ET.Element) -> list[str]:
    return [text.text or "" for text in picture.iter(f"{SVG}text")]


def test_the_title_and_the_depths_stand_in_the_picture() -> None:
    picture = _picture(loop(20, 20, 80, 80, -6) + loop(100, 20, 160, 80, -12.34) + loop(200, 20, 260, 80, -18.1))
    assert _words(picture) == [
        "a: what the dry run says is left",
        "6.0 mm deep",
        "12.3 mm deep",
        "through",
    ]


def test_deeper_cuts_are_drawn_later_and_darker_and_through_cuts_hatched() -> None:
    cuts = _cuts(_picture(loop(200, 20, 260, 80, -18.1) + loop(100, 20, 160, 80, -12) + loop(20, 20, 80, 80, -6)))
    colours = [item.get("stroke", "") for item in cuts]
    assert colours[-1] == "url(#through)"
    shades = [int(colour[1:3], 16) for colour in colours[:-1]]
    assert len(shades) == 2
    assert all(deeper < shallower for shallower, deeper in pairwise(shades))


def test_a_cut_is_as_wide_as_its_cutter_and_runs_where_it_ran() -> None:
    (item,) = _cuts(_picture("G0 X20 Y30\nG1 Z-6 F900\nG1 X80\nG3 X90 Y40 I0 J10\nG0 Z40\n"))
    assert item.get("stroke-width") == "6"
    path = item.get("d", "")
    assert "M20 30L80 30A10 10 0 0 1 87.071 32.929A10 10 0 0 1 90 40" in path


def test_only_the_deepest_of_many_laps_is_drawn() -> None:
    (item,) = _cuts(_picture("".join(loop(20, 20, 80, 80, z) for z in (-6, -18.1, -12))))
    assert item.get("stroke") == "url(#through)"


def test_both_halves_of_a_circle_are_drawn() -> None:
    """Same ends, same centre, same sweep: they are two ways all the same."""
    cuts = _cuts(_picture("G0 X20 Y50\nG1 Z-6 F900\nG2 X60 Y50 I20 J0\nG2 X20 Y50 I-20 J0\nG0 Z40\n"))
    assert len(re.findall("A20 20", cuts[-1].get("d", ""))) == 4
    again = _cuts(_picture("G0 X20 Y50\nG1 Z-6 F900\nG2 X60 Y50 I20 J0\nG3 X20 Y50 I-20 J0\nG0 Z40\n"))
    assert len(re.findall("A20 20", again[-1].get("d", ""))) == 2


def test_traverses_over_the_blank_leave_no_trace() -> None:
    assert _cuts(_picture("G0 X20 Y30\nG0 X200 Y100\n")) == []


def test_a_name_cannot_break_the_picture() -> None:
    setup = bench(panel("P</svg>", rectangle(20, 20, 80, 80)), sheet='<script>&"\x07\ud800')
    assert _words(_picture(loop(17, 17, 83, 83, -6), setup))[0].startswith('<script>&"')


@pytest.mark.parametrize("body", ["G0 X10 Y10\nG1 Z-5 F900\nG0 Z40\n", "G0 X10 Y10\nG1 Z-5 F900\nG1 X20 Z-9\nG0 Z40\n"])
def test_a_hole_and_a_ramp_are_drawn(body: str) -> None:
    assert "5.0 mm deep" in _words(_picture(body))


def test_a_refused_program_is_drawn_as_far_as_it_was_read() -> None:
    assert len(_cuts(_picture("G0 X10 Y10\nG1 Z-5 F900\nG1 X50\nG99 G97\n"))) == 1
