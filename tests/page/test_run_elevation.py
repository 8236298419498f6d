"""The front of a run, read back as XML: everything where the run says, and no text over another or outside."""

import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from page_samples import HOSTILE, cabinet, page

from rabbetry.cabinets.model import FrameMember
from rabbetry.page.boxes import Box
from rabbetry.page.html import index_html
from rabbetry.page.model import RunView
from rabbetry.page.run_elevation import counter_stretches, run_svg
from rabbetry.page.run_labels import TEXT_MM
from rabbetry.page.text import width_em
from rabbetry.runs.model import Frame, MeasuredFloor, PlacedBox, PlacedItem, Run

SVG = "{http://www.w3.org/2000/svg}"
Rect = tuple[float, float, float, float]


def item(sort: str, name: str, x: float, width: float, **more: object) -> PlacedItem:
    known = {"use": "", "x_mm": x, "z_mm": 0.0, "width_mm": width, "height_mm": 876.0, **more}
    return PlacedItem(sort=sort, name=name, **known)  # type: ignore[arg-type]


def base(x: float, name: str = "B3") -> PlacedItem:
    """The 600 x 876 cabinet of the samples: kick 100, a drawer front over two doors."""
    return item("cabinet", name, x, 600.0, boxes=(PlacedBox(cabinet=cabinet(name), x_mm=x, z_mm=0.0),))


def run_of(*items: PlacedItem, length: float, **more: object) -> Run:
    known: dict[str, object] = {
        "name": "Sea wall",
        "left": "wall",
        "right": "open",
        "counter_z_mm": 914.0,
        "counter_thickness_mm": 38.0,
        "room_height_mm": None,
        **more,
    }
    return Run(length_mm=length, items=items, **known)  # type: ignore[arg-type]


def rects(svg: str, css: str) -> list[Rect]:
    return [
        (float(r.get("x", "")), float(r.get("y", "")), float(r.get("width", "")), float(r.get("height", "")))
        for r in ET.fromstring(svg).iter(f"{SVG}rect")
        if r.get("class") == css
    ]


def lines(svg: str, css: str) -> list[Rect]:
    return [
        (float(r.get("x1", "")), float(r.get("y1", "")), float(r.get("x2", "")), float(r.get("y2", "")))
        for r in ET.fromstring(svg).iter(f"{SVG}line")
        if r.get("class") == css
    ]


def texts(svg: str) -> list[str]:
    return [text.text or "" for text in ET.fromstring(svg).iter(f"{SVG}text")]


def boxes_of_text(svg: str) -> Iterator[tuple[str, Box]]:
    """The room of each text with y down, by the estimate of text widths: 0.3 em below its base line, 0.8 above."""
    for text in ET.fromstring(svg).iter(f"{SVG}text"):
        size, x, y = (float(text.get(key, "")) for key in ("font-size", "x", "y"))
        wide = width_em(text.text or "") * size
        left = {"start": x, "middle": x - wide / 2, "end": x - wide}[text.get("text-anchor", "")]
        yield text.text or "", Box(left, y - 0.8 * size, left + wide, y + 0.3 * size)


def assert_no_text_meets_another_or_leaves(svg: str) -> None:
    found = list(boxes_of_text(svg))
    left, top, wide, high = map(float, ET.fromstring(svg).get("viewBox", "").split())
    for number, (text, box) in enumerate(found):
        assert left <= box.x0, text
        assert box.x1 <= left + wide, text
        assert top <= box.y0, text
        assert box.y1 <= top + high, text
        for other, room in found[number + 1 :]:
            assert not box.meets(room), f"{text!r} over {other!r}"
        for x0, y0, x1, y1 in lines(svg, "leader"):
            assert x0 != x1 or not box.meets(Box(x0 - 1, min(y0, y1), x0 + 1, max(y0, y1))), f"leader through {text!r}"


def test_boxes_and_fronts_stand_where_the_run_says_with_z_up() -> None:
    """The second cabinet begins at 40 + 600 = 640; boxes stand 100 above the floor; the drawer front hangs 1.5 mm in,
    its upper edge 3 mm under the box's, as in the cabinet's own picture."""
    svg = run_svg(run_of(item("filler", "filler", 0, 40), base(40), base(640, "B4"), length=1240), (), (), units="mm")
    assert rects(svg, "box") == [(40, -876, 600, 776), (640, -876, 600, 776)]
    assert (641.5, -873, 597, 140) in rects(svg, "front")
    assert rects(svg, "strip") == [(0, -876, 40, 876)]
    assert rects(svg, "counter") == [(0, -914, 1240, 38)]


def test_dashed_lines_of_doors_meet_at_their_hinges() -> None:
    """Left door from 1.5 to 298.5, right one to 598.5; both from 101.5 up 628, so that their middle is at 415.5."""
    svg = run_svg(run_of(base(100), length=700), (), (), units="mm")
    ends = [(x, z) for _, _, x, z in lines(svg, "swing")]
    assert ends == [(101.5, -415.5)] * 2 + [(698.5, -415.5)] * 2


def test_a_wall_cabinet_hangs_at_its_height_and_an_appliance_stands_on_the_floor() -> None:
    hung = item("cabinet", "W1", 0, 600, z_mm=1372.0, height_mm=720.0, is_upper=True)
    hung = replace(hung, boxes=(PlacedBox(cabinet=replace(cabinet("W1"), has_kick=False), x_mm=0, z_mm=1372.0),))
    cooker = item("appliance", "cooker", 600, 500, use="hob", height_mm=900.0)
    svg = run_svg(run_of(base(0), cooker, hung, length=1100), (), (), units="mm")
    assert (0, -1372 - 876, 600, 876) in rects(svg, "box")
    assert rects(svg, "appliance") == [(600, -900, 500, 900)]


def test_a_frame_over_two_boxes_is_drawn_in_one_piece_from_the_first_and_one_of_its_own_where_its_box_is() -> None:
    stile = FrameMember(name="left stile", kind="stile", x_mm=-1.5, z_mm=100, width_mm=38, height_mm=776)
    rail = FrameMember(name="top rail", kind="rail", x_mm=36.5, z_mm=838, width_mm=1127, height_mm=38)
    frame = Frame(name="B3 to B4", cabinets=("B3", "B4"), thickness_mm=19.0, tenon_mm=0.0, members=(stile, rail))
    alone = base(1400, "B5")
    (placed,) = alone.boxes
    alone = replace(alone, boxes=(replace(placed, cabinet=replace(placed.cabinet, frame=(stile,))),))
    run = run_of(base(200), base(800, "B4"), alone, length=2000)
    svg = run_svg(run, (frame,), (), units="mm")
    assert rects(svg, "frame") == [(198.5, -876, 38, 776), (236.5, -876, 1127, 38), (1398.5, -876, 38, 776)]


def test_a_corner_shows_its_leg_and_where_the_other_one_hides_it_and_a_ladder_base_lies_under_its_boxes() -> None:
    leg = PlacedBox(cabinet=cabinet("K"), x_mm=0.0, z_mm=100.0)
    corner = item("corner", "K", 0, 600, z_mm=100.0, height_mm=776.0, boxes=(leg,), turn_mm=(250.0, 0.0))
    plinth = item("ladder base", "plinth", 20, 560, height_mm=100.0)
    svg = run_svg(run_of(corner, length=600, bases=(plinth,)), (), (), units="mm")
    assert rects(svg, "blind") == [(0, -876, 250, 776)]
    assert rects(svg, "kick") == [(20, -100, 560, 100)]


def test_the_measured_floor_falls_where_heights_are_more_than_the_kick() -> None:
    """Kick's edge at 100; 104 down at the left end is 4 mm below level floor, 97 at the right end 3 above."""
    floor = MeasuredFloor(top_z_mm=100.0, points=((0.0, -4.0), (600.0, 3.0)))
    svg = run_svg(run_of(base(0), length=600, floors=(floor,)), (), (), units="mm")
    assert lines(svg, "measured") == [(0, 4, 600, -3)]
    assert {"kick 104 mm", "kick 97 mm"} <= set(texts(svg))


def test_sizes_stand_in_both_units_the_jobs_first() -> None:
    """609.6 mm are 24 in, 914.4 mm 36 in."""
    run = run_of(item("appliance", "cooker", 0, 609.6), length=609.6, counter_z_mm=914.4)
    assert {"609.6 mm", "24 in"} <= set(texts(run_svg(run, (), (), units="mm")))
    said = texts(run_svg(run, (), (), units="in"))
    assert said.index("24 in") < said.index("609.6 mm")
    assert any("36 in (914.4 mm)" in text for text in said)


def test_the_picture_is_one_to_twenty_at_its_own_size() -> None:
    root = ET.fromstring(run_svg(run_of(base(0), length=600), (), (), units="mm"))
    wide, high = map(float, root.get("viewBox", "").split()[2:])
    assert float(root.get("width", "").removesuffix("mm")) == pytest.approx(wide / 20, abs=0.001)
    assert float(root.get("height", "").removesuffix("mm")) == pytest.approx(high / 20, abs=0.001)


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        pytest.param(
            (("cabinet", 0, 600, 876), ("gap", 600, 600, 0), ("cabinet", 1200, 600, 876)), [(0, 1800)], id="gap"
        ),
        pytest.param((("gap", 0, 300, 0), ("cabinet", 300, 600, 876), ("gap", 900, 300, 0)), [(300, 900)], id="ends"),
        pytest.param(
            (("cabinet", 0, 600, 876), ("appliance", 600, 600, 1800), ("cabinet", 1200, 600, 876)),
            [(0, 600), (1200, 1800)],
            id="refrigerator",
        ),
        pytest.param((("cabinet", 0, 600, 2100),), [], id="tall"),
        pytest.param((("appliance", 0, 600, 820), ("cabinet", 600, 600, 876)), [(0, 1200)], id="dishwasher"),
        pytest.param((("cabinet", 0, 900, 450), ("cabinet", 900, 600, 876)), [(900, 1500)], id="seat"),
    ],
)
def test_the_counter_breaks_at_what_is_higher(row: Sequence[tuple[str, float, float, float]], expected: object) -> None:
    items = tuple(item(sort, f"{sort} {x:g}", x, wide, height_mm=high) for sort, x, wide, high in row)
    assert list(counter_stretches(run_of(*items, length=items[-1].right_mm))) == expected


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_text_within_the_picture(name: str) -> None:
    items = (item("filler", name, 0, 20), base(20, name), item("appliance", name, 620, 500))
    svg = run_svg(run_of(*items, length=1120, name=name), (), (), units="in")
    tags = {element.tag.removeprefix(SVG) for element in ET.fromstring(svg).iter()}
    assert tags == {"svg", "title", "style", "rect", "line", "text"}
    assert_no_text_meets_another_or_leaves(svg)


def test_the_page_shows_each_wall_with_what_stands_there_in_figures() -> None:
    """600 mm are 23 5/8 in, 23.622: nearest 32nd 23 5/8."""
    run = run_of(item("filler", HOSTILE[1], 0, 40), base(40), length=640)
    view = RunView(run=run, picture=run_svg(run, (), (), units="mm"), file="runs/run-1.svg")
    text = index_html(replace(page(), runs=(view,)))
    assert view.picture in text
    assert 'href="runs/run-1.svg"' in text
    assert '<td class="n">600 mm (~23 5/8 in)</td>' in text
    assert HOSTILE[1] not in text
    assert 'id="runs"' not in index_html(page())


WIDTHS = st.lists(
    st.tuples(st.sampled_from(("filler", "gap", "appliance")), st.floats(3.0, 1500.0)), min_size=1, max_size=14
)


@settings(max_examples=60, deadline=None)
@given(below=WIDTHS, above=WIDTHS, floor=st.lists(st.floats(-20.0, 20.0), min_size=2, max_size=6), inch=st.booleans())
def test_no_text_ever_meets_another_or_leaves_the_picture(
    below: list[tuple[str, float]], above: list[tuple[str, float]], floor: list[float], inch: bool
) -> None:
    items, ends = [], [0.0, 0.0]
    for upper, row in enumerate((below, above)):
        for number, (sort, width) in enumerate(row):
            high = 0.0 if sort == "gap" else 700.0 + 9 * number
            more = {"z_mm": 1372.0 * upper, "is_upper": bool(upper), "height_mm": high}
            items.append(item(sort, f"{sort} number {number}", ends[upper], width, **more))
            ends[upper] += width
    points = tuple((max(ends) * k / (len(floor) - 1), z) for k, z in enumerate(floor))
    run = run_of(*items, length=max(ends), floors=(MeasuredFloor(top_z_mm=100.0, points=points),))
    svg = run_svg(run, (), (), units="in" if inch else "mm")
    assert_no_text_meets_another_or_leaves(svg)
    sizes = {float(text.get("font-size", "")) for text in ET.fromstring(svg).iter(f"{SVG}text")}
    assert min(sizes) >= 0.7 * TEXT_MM - 1e-6


def test_names_of_things_in_one_place_do_not_meet() -> None:
    hung = item("appliance", "hood over it", 100, 600, z_mm=50.0, height_mm=876.0, is_upper=True)
    svg = run_svg(run_of(item("appliance", "cooker here", 50, 600), hung, length=800), (), (), units="mm")
    assert "cooker here" in texts(svg)
    assert "hood over it" not in texts(svg)
    assert_no_text_meets_another_or_leaves(svg)
