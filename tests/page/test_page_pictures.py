"""The picture of a sheet, read back as XML."""

import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest
from page_samples import CLAMPS, HOSTILE, bracket, disc, panel, sheet, side

from rabbetry.console import job_of
from rabbetry.geometry.curves import Arc, Contour, rectangle
from rabbetry.geometry.points import Point
from rabbetry.page.panel_picture import draw_panel
from rabbetry.page.pictures import sheet_svg
from rabbetry.page.svg import anchor, number, path_data
from rabbetry.page.text import plain, width_em
from rabbetry.panels.model import Bore, Panel, Recess
from rabbetry.pipeline import compile_job
from rabbetry.sheets.model import Placement, Sheet

SVG = "{http://www.w3.org/2000/svg}"


def drawn(extra: tuple[Placement, ...] = (), units: str = "mm", **more: object) -> ET.Element:
    order = {place.panel.id: k + 1 for k, place in enumerate(sheet(extra).placements)}
    text = sheet_svg(sheet(extra), clamps=CLAMPS, order=order, units=units, title="East kitchen", **more)  # type: ignore[arg-type]
    return ET.fromstring(text)


def groups(root: ET.Element) -> dict[str, ET.Element]:
    return {item.get("id", ""): item for item in root.iter(f"{SVG}g")}


def test_every_panel_is_a_group_with_its_name_size_and_cabinet() -> None:
    group = groups(drawn())["panel-B3_left_side"]
    assert group.findtext(f"{SVG}title") == "B3 left side: 876 × 580 mm (~34 31/64 × ~22 53/64 in), cabinet B3"
    assert len(groups(drawn())) == len(sheet().placements)


def test_without_anchors_no_panel_has_an_id() -> None:
    assert set(groups(drawn(anchors=False))) == {""}


def test_every_feature_is_drawn_with_its_depth() -> None:
    titles = [item.text for item in groups(drawn())["panel-B3_left_side"].iter(f"{SVG}title")][1:]
    assert len(titles) == len(side().features)
    assert "bottom dado: dado, 6.00 mm deep" in titles
    assert titles.count("pin 3: bore 5.00 mm, 12.00 mm deep") == 2


def test_depths_follow_the_units_of_the_job() -> None:
    titles = [item.text for item in groups(drawn(units="in"))["panel-B3_left_side"].iter(f"{SVG}title")]
    assert "bottom dado: dado, 0.236 in deep" in titles


def test_y_runs_up_from_the_lower_left_corner() -> None:
    place = sheet().placements[1]
    data = groups(drawn())["panel-B3_door"].find(f"{SVG}path").get("d")  # type: ignore[union-attr]
    assert data.startswith(f"M{number(place.x_mm)} {number(-place.y_mm)}L{number(place.x_mm + 700)} ")  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("arc", "expected"),
    [
        pytest.param(
            Arc(Point(1, 0), Point(0, 1), Point(0, 0), 1), "M1 0A1 1 0 0 0 0 -1", id="counter-clockwise quarter"
        ),
        pytest.param(Arc(Point(1, 0), Point(0, -1), Point(0, 0), -1), "M1 0A1 1 0 0 1 0 1", id="clockwise quarter"),
        pytest.param(Arc(Point(1, 0), Point(-1, 0), Point(0, 0), 1), "M1 0A1 1 0 0 0 -1 0", id="half"),
        pytest.param(
            Arc(Point(1, 0), Point(math.cos(4), math.sin(4)), Point(0, 0), 1),
            "M1 0A1 1 0 1 0 -0.654 0.757",
            id="more than half is a large arc",
        ),
        pytest.param(
            Arc(Point(1, 0), Point(1, 0), Point(0, 0), 1),
            "M1 0A1 1 0 0 0 -1 0A1 1 0 0 0 1 0Z",
            id="circle in two halves",
        ),
    ],
)
def test_arcs_stay_arcs(arc: Arc, expected: str) -> None:
    assert path_data(Contour((arc,))) == expected


def test_a_disc_and_rounded_corners_are_drawn_with_arcs() -> None:
    found = groups(drawn())
    for name in (disc().id, bracket().id):
        assert found[f"panel-{anchor(name)}"].find(f"{SVG}path").get("d").count("A") == 2  # type: ignore[union-attr]


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_text(name: str) -> None:
    root = drawn((Placement(panel=panel(name, 100, 80, cabinet=name), x_mm=1000, y_mm=700, rotation_deg=0),))
    group = groups(root)[f"panel-{anchor(name)}"]
    assert group.findtext(f"{SVG}title", "").startswith(plain(name) + ": 100 × 80 mm")
    assert {item.tag.removeprefix(SVG) for item in group.iter()} <= {"g", "title", "path", "text", "circle"}
    assert len(list(root.iter(f"{SVG}script"))) == 0


@pytest.mark.parametrize(
    ("length", "width", "rotation"),
    [(900, 60, 0), (900, 60, 90), (120, 110, 0), (600, 400, 90), (60, 40, 0), (300, 25, 90)],
)
@pytest.mark.parametrize("name", ["B3 left side", "North wall cabinet 12 left side of dra", "Küche-Ost №2 Regalboden"])
def test_names_stay_inside_their_panels(name: str, length: float, width: float, rotation: int) -> None:
    place = Placement(panel=panel(name, length, width), x_mm=200, y_mm=150, rotation_deg=rotation)
    wide, high = place.extent_mm
    texts = list(groups(drawn((place,)))[f"panel-{anchor(name)}"].iter(f"{SVG}text"))
    assert [item for item in texts if item.get("class") == "name halo"]
    for item in texts:
        size = float(item.get("font-size", "0"))
        x, y = float(item.get("x", "0")), -float(item.get("y", "0"))
        half = width_em(item.text or "") * size / 2
        dx, dy = (0.0, half) if item.get("transform") else (half, 0.0)
        assert x - dx >= 200, item.text
        assert x + dx <= 200 + wide, item.text
        assert y - dy >= 150, item.text
        assert y + dy <= 150 + high, item.text


def test_names_keep_off_the_features() -> None:
    group = groups(drawn())["panel-B3_door"]
    name = next(item for item in group.iter(f"{SVG}text") if item.text == "B3 door")
    x, y = float(name.get("x", "")), -float(name.get("y", ""))
    inside_window = 12 + 250 < x < 12 + 470 and 602 + 120 < y < 602 + 280
    assert not inside_window


def test_a_depth_is_written_clear_of_the_pilot_holes_in_a_dado() -> None:
    pilots = tuple(
        Bore(name=f"pilot {k}", purpose="pilot", centre=Point(x, 50), diameter_mm=3, depth_mm=17.8, through=True)
        for k, x in enumerate((40.0, 250.0, 460.0))
    )
    dado = Recess(name="dado", kind="dado", outline=rectangle(0, 41, 500, 18), depth_mm=6)
    part = panel("drilled", 500, 100, features=(dado, *pilots))
    root = drawn((Placement(panel=part, x_mm=0, y_mm=0, rotation_deg=0),))
    (note,) = (item for item in groups(root)["panel-drilled"].iter(f"{SVG}text") if item.text == "6.00 mm deep")
    middle, half = float(note.get("x", "")), width_em("6.00 mm deep") * float(note.get("font-size", "")) / 2
    assert not [bore for bore in pilots if abs(bore.centre.x - middle) < half + 1.5]


def test_clamps_offcuts_origin_and_the_order_of_cuts_are_shown() -> None:
    root = drawn()
    text = " ".join(item.text or "" for item in root.iter(f"{SVG}text"))
    titles = [item.text for item in root.iter(f"{SVG}title")]
    assert "left clamp, 25 mm high" in titles
    assert "offcut 460 × 200 mm" in text
    assert "x0 y0: lower left corner" in text
    counts = [item.text for item in root.iter(f"{SVG}text") if item.get("class") == "count"]
    assert counts == [str(k + 1) for k in range(len(sheet().placements))]


def test_the_frame_holds_clamps_that_stand_out_of_the_blank() -> None:
    left, top, wide, high = map(float, drawn().get("viewBox", "").split())
    assert left < -40
    assert left + wide > 1260
    assert top < -1220
    assert top + high > 0


def test_a_picture_asks_nothing_of_the_network_and_is_always_the_same() -> None:
    text = sheet_svg(sheet(), clamps=CLAMPS, units="mm", title="t")
    assert set(re.findall(r"https?://[^\"]*", text)) == {"http://www.w3.org/2000/svg"}
    assert "href" not in text
    assert text == sheet_svg(sheet(), clamps=CLAMPS, units="mm", title="t")


def test_different_names_have_different_anchors() -> None:
    names = ["a b", "a_b", "a.20.b", "a-b", "A b", "ä b", "a  b", ".", "..", *HOSTILE]
    assert len({anchor(name) for name in names}) == len(names)
    assert all(re.fullmatch(r"[A-Za-z0-9._-]+", anchor(name)) for name in names)


SAMPLE = Path(__file__).parents[2] / "sample_jobs" / "one-base-cabinet.toml"


def handed(hand: str) -> Panel:
    """A side as `panels` makes it: from one definition, the left one mirrored across its height axis."""
    made = {panel.role: panel for panel in compile_job(job_of(SAMPLE)).panels}
    return made[f"{hand} side"]


def drawn_alone(panel: Panel, rotation: int = 0) -> ET.Element:
    placed = Placement(panel=panel, x_mm=100, y_mm=200, rotation_deg=rotation)
    return ET.fromstring(f"<svg>{draw_panel(placed, order=3, units='mm', unit=1, anchors=False)}</svg>")


def corners(item: ET.Element) -> list[tuple[float, float]]:
    """Corners of a polygon, y up."""
    pairs = (pair.split(",") for pair in (item.get("points") or "").split())
    return [(float(x), -float(y)) for x, y in pairs]


def of_class(drawing: ET.Element, css: str) -> list[ET.Element]:
    return [item for item in drawing.iter() if item.get("class") == css]


@pytest.mark.parametrize(
    ("hand", "rotation", "front", "top"),
    [
        # 876 x 580 at (100, 200). Head to the right: top is x 976. The left side's front is its upper edge, y 780.
        ("left", 0, ("y", 780), (973, 490)),
        ("right", 0, ("y", 200), (973, 490)),
        # A quarter turn left: 580 x 876, heads up to y 1076; the left side's front comes to lie on the left, x 100.
        ("left", 90, ("x", 100), (390, 1073)),
        ("right", 90, ("x", 680), (390, 1073)),
    ],
)
def test_front_and_top_are_marked_where_they_lie(
    hand: str, rotation: int, front: tuple[str, float], top: tuple[float, float]
) -> None:
    drawing = drawn_alone(handed(hand), rotation)
    (line,) = of_class(drawing, "front-edge")
    sign = -1 if front[0] == "y" else 1
    assert [float(line.get(f"{front[0]}{k}") or "nan") * sign for k in (1, 2)] == pytest.approx([front[1]] * 2)
    # The kick's notch, 100 of 876, carries no front edge.
    along = "x" if front[0] == "y" else "y"
    assert abs(float(line.get(f"{along}1") or 0) - float(line.get(f"{along}2") or 0)) == pytest.approx(776)
    (mark,) = of_class(drawing, "top-edge")
    assert corners(mark)[0] == pytest.approx(top)


def test_the_two_hands_have_marks_of_different_shape() -> None:
    left, right = drawn_alone(handed("left")), drawn_alone(handed("right"))
    ((tip, *back),) = map(corners, of_class(left, "left-hand"))
    assert tip[0] < min(x for x, _ in back)
    ((tip, *back),) = map(corners, of_class(right, "right-hand"))
    assert tip[0] > max(x for x, _ in back)
    assert not of_class(left, "right-hand")
    assert not of_class(right, "left-hand")


def test_a_right_side_is_the_left_one_mirrored_not_turned_round() -> None:
    """Both lie inside face up with their heads the same way; the back rabbets come to lie on opposite edges."""
    left, right = handed("left"), handed("right")
    assert (left.face_up, right.face_up) == ("inside", "inside")
    rabbets = [
        next(item for item in panel.features if item.name == "back rabbet").outline.bounds for panel in (left, right)
    ]
    assert rabbets[0] == pytest.approx((0, 0, 876, 6))
    assert rabbets[1] == pytest.approx((0, 574, 876, 580))
    pins = [
        sorted((f.centre.x, f.centre.y) for f in panel.features if isinstance(f, Bore) and f.purpose == "shelf pin")
        for panel in (left, right)
    ]
    assert sorted((x, 580 - y) for x, y in pins[0]) == [pytest.approx(pin) for pin in pins[1]]


def test_the_legend_explains_the_marks_that_occur() -> None:
    picture = sheet_svg(handed_sheet(), units="mm", title="one side")
    texts = [item.text for item in ET.fromstring(picture).iter(f"{SVG}text")]
    assert {"front edge", "top edge", "left-hand panel"} <= set(texts)
    assert "right-hand panel" not in texts


def handed_sheet() -> Sheet:
    placed = Placement(panel=handed("left"), x_mm=20, y_mm=20, rotation_deg=0)
    return replace(sheet(), placements=(placed,), offcuts=())
