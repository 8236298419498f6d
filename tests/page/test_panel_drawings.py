"""Drawings of single panels: one for all that are alike, both faces told apart, both units, safe names."""

import io
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import ezdxf
import pytest
from page_samples import HOSTILE, bracket, disc, door, drawer_back, panel, sheet, side

from rabbetry.drawing import drawn_for, panel_file
from rabbetry.geometry.curves import rectangle
from rabbetry.geometry.points import Point
from rabbetry.page.dxf import panel_dxf
from rabbetry.page.panel_drawing import panel_svg
from rabbetry.page.panel_rows import corner_rows, feature_rows
from rabbetry.panels.model import Bore, CutOut, Panel, Recess
from rabbetry.sheets.model import Placement

SVG = "{http://www.w3.org/2000/svg}"


def two_face() -> Panel:
    """A divider 400 x 250: two blind holes in its left face, one in its right, one right through, a groove each."""

    def hole(name: str, x: float, depth: float, *, through: bool = False) -> Bore:
        return Bore(name=name, purpose="pin", centre=Point(x, 60), diameter_mm=5, depth_mm=depth, through=through)

    plain = panel("L1 divider", 400, 250, front_edge="x0")
    return replace(
        plain,
        face_up="left face",
        features=(
            hole("pin 1", 100, 7),
            hole("pin 2", 132, 7),
            hole("wire", 200, 17.8, through=True),
            CutOut(name="window", outline=rectangle(250, 105, 80, 50)),
        ),
        rear_features=(
            hole("pin 3", 160, 7.5),
            Recess(
                name="groove",
                kind="groove",
                outline=rectangle(0, 200, 400, 6),
                depth_mm=5,
                relieved_corners=(Point(0, 200),),
            ),
        ),
    )


def layers(text: str) -> dict[str, int]:
    found: dict[str, int] = {}
    for entity in ezdxf.read(io.StringIO(text)).modelspace():  # type: ignore[attr-defined]
        found[entity.dxf.layer] = found.get(entity.dxf.layer, 0) + 1
    return found


def texts(picture: str) -> list[str]:
    return [item.text or "" for item in ET.fromstring(picture).iter(f"{SVG}text")]


def test_layers_of_a_panel_cut_in_both_faces_say_which_face() -> None:
    assert layers(panel_dxf(two_face())) == {
        "outline": 1,
        "names": 1,
        "cut through": 1,
        "bore 5.00 through": 1,
        "bore 5.00 x 7.00 deep in left face": 2,
        "bore 5.00 x 7.50 deep in right face seen through": 1,
        "groove 5.00 deep in right face seen through": 1,
        "relieved corners in right face seen through": 1,
    }


def test_the_rear_face_is_drawn_as_seen_through_the_panel() -> None:
    space = ezdxf.read(io.StringIO(panel_dxf(two_face()))).modelspace()  # type: ignore[attr-defined]
    (hole,) = space.query('CIRCLE[layer=="bore 5.00 x 7.50 deep in right face seen through"]')
    assert (hole.dxf.center.x, hole.dxf.center.y) == pytest.approx((160, 60))


def test_a_layer_tells_a_depth_that_hundredths_would_round() -> None:
    pocket = Recess(name="tray", kind="pocket", outline=rectangle(10, 10, 30, 20), depth_mm=3.175)
    assert "pocket 3.175 deep" in layers(panel_dxf(panel("Tray", 100, 80, features=(pocket,))))


def test_the_picture_of_a_two_face_panel_turns_it_over_left_to_right() -> None:
    """Seen from behind the hole at 160 of 400 stands at 240; the hole right through, at 200, and the window count in
    both views."""
    found = texts(panel_svg(two_face(), ["L1 divider"], units="mm"))
    assert "One face: left face up" in found
    assert "Other face, turned over left to right: right face up" in found
    half = found.index("Other face, turned over left to right: right face up")
    assert not any(text.startswith("160 mm") for text in found)
    assert sum(text.startswith("240 mm") for text in found[half:]) == 1
    assert found[:half].count("250 mm (~9 27/32 in)") == 3, "the height, and the left side of the window twice"
    assert [half < k for k, text in enumerate(found) if "right through" in text] == [False, True]
    assert [half < k for k, text in enumerate(found) if text == "cut through"] == [False, True]


def test_like_panels_share_a_drawing_and_others_do_not() -> None:
    one, like = panel("B1 shelf", 500, 300, cabinet="B1"), panel("B2 shelf", 500, 300, cabinet="B2")
    longer = panel("B3 shelf", 500.01, 300)
    other_front = panel("B4 shelf", 500, 300, front_edge="y1")
    placed = tuple(
        Placement(panel=item, x_mm=12, y_mm=12 + 310 * k, rotation_deg=0)
        for k, item in enumerate((like, one, longer, other_front))
    )
    sheets = (replace(sheet(), placements=placed[:2]), replace(sheet(), placements=placed[2:]))
    assert drawn_for(sheets) == {
        "B3 shelf": ("B3 shelf",),
        "B1 shelf": ("B1 shelf", "B2 shelf"),
        "B4 shelf": ("B4 shelf",),
    }


def test_names_of_files_are_safe_and_never_meet() -> None:
    ids = ["B1 side", "b1 side", "B1-side", "B1 Side", "a/../b", "con", *HOSTILE, "x" * 299, "№", "№№", ""]
    names = [panel_file(name) for name in ids]
    assert len({name.casefold() for name in names}) == len(ids)
    assert all(re.fullmatch(r"panels/[a-z0-9]+(-[a-z0-9]+)*-[0-9a-f]{8}\.dxf", name) for name in names), names
    assert max(map(len, names)) < 90


def test_a_row_of_holes_is_told_once_with_its_pitch_and_stray_ones_by_themselves() -> None:
    stray = Bore(name="stray", purpose="pin", centre=Point(750, 37), diameter_mm=5, depth_mm=12)
    rows = feature_rows((*side().features, stray), "mm")
    told = [(row.what, row.at.x, row.at.y, row.detail) for row in rows if "hole" in row.what]
    assert told == [
        ("14 × 5.00 mm (0.197 in) hole, 12.00 mm (0.472 in) deep", 280, 37, "every 32 mm (~1 17/64 in) to the right"),
        ("14 × 5.00 mm (0.197 in) hole, 12.00 mm (0.472 in) deep", 280, 537, "every 32 mm (~1 17/64 in) to the right"),
        ("5.00 mm (0.197 in) hole, 12.00 mm (0.472 in) deep", 750, 37, ""),
    ]


def test_a_row_up_the_panel_is_told_too_and_holes_of_other_depths_are_kept_apart() -> None:
    def hole(x: float, y: float, depth: float) -> Bore:
        return Bore(name="hole", purpose="pin", centre=Point(x, y), diameter_mm=5, depth_mm=depth)

    up = [hole(50, 40 + 25.4 * k, 12) for k in range(4)]
    rows = feature_rows((*up, hole(50, 141.6, 9)), "in")
    assert [(row.what, row.at.y, row.detail) for row in rows] == [
        ("0.197 in (5.00 mm) hole, 0.354 in (9.00 mm) deep", 141.6, ""),
        ("4 × 0.197 in (5.00 mm) hole, 0.472 in (12.00 mm) deep", 40, "every 1 in (25.4 mm) upwards"),
    ]


@pytest.mark.parametrize("part", [side(), door(), disc(), bracket(), drawer_back(), two_face()], ids=lambda p: p.id)
def test_every_feature_stands_in_the_table_once_a_face_and_the_sizes_in_both_units(part: Panel) -> None:
    rows = [*feature_rows(part.features, "mm"), *feature_rows(part.rear_features, "mm")]
    counts = [int(row.what.split(" × ")[0]) if " × " in row.what else 1 for row in rows]
    assert sum(counts) == len(part.features) + len(part.rear_features)
    found = texts(panel_svg(part, [part.id], units="mm"))
    for size in (part.length_mm, part.width_mm):
        assert any(text.startswith(f"{size:g} mm") for text in found), size
    assert sum("mm (" in text for text in found) > len(rows)


def test_the_corners_of_an_outline_are_listed_arcs_with_their_radius_and_a_rectangle_has_none() -> None:
    assert corner_rows(panel("Shelf", 500, 300).outline, "mm") == ()
    corners = corner_rows(bracket().outline, "mm")
    assert len(corners) == 6
    assert corners[2] == "300 mm (~11 13/16 in), 110 mm (~4 21/64 in), then an arc of radius 40 mm (~1 37/64 in)"


def test_a_panel_drawing_names_all_panels_made_after_it() -> None:
    assert "2 panels: B1 shelf, B2 shelf" in texts(
        panel_svg(panel("B1 shelf", 500, 300), ["B1 shelf", "B2 shelf"], units="mm")
    )


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_are_text_in_the_picture(name: str) -> None:
    root = ET.fromstring(panel_svg(panel(name, 300, 200), [name], units="in"))
    assert {item.tag.removeprefix(SVG) for item in root.iter()} <= {
        *("svg", "title", "style", "g", "path", "line", "text", "circle")
    }
