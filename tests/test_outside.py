"""Posted programs of parts drawn at random, looked at from outside; and faults that the look must find."""

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from shapely.affinity import translate

from outside_kit import Sheet, complaints, deepest_entries, directions, left_standing, left_uncut, sheets_of
from rabbetry.files import load_post, load_tables
from rabbetry.findings import has_error
from rabbetry.geometry.curves import Arc, Contour, Line, chain, circle, polygon, rectangle
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import Grain, Hold, Job
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Recess, moved_feature
from rabbetry.pipeline import PostText, load_job, plan_sheet
from rabbetry.sheets.model import Placement
from rabbetry.sheets.model import Sheet as Blank
from shapes import rounded_rectangle

T = 17.8
JOB = """
name = "Net loft, one part"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 2, 4, 5, 7]
[stock.ply]
sheet = "birch-18"
thickness = 17.8
blank = [1220, 1220]
[[part]]
name = "P1"
stock = "ply"
length = 300
width = 200
"""
KINDS = ("bore", "dado", "stopped", "pocket", "island", "star", "opening", "porthole", "rabbet")
CELL = 130.0
"""Features stand in cells of this length, one each, so that they keep apart."""


@cache
def _job() -> Job:
    return load_job(JOB, file="job.toml", tables=load_tables(), own_tables={})


def seen(outline: Contour, features: tuple[Feature, ...], *, mirrored: bool, **cutting) -> Sheet:
    """Return what is seen from outside of one part's programs, the part drawn or mirrored, lying 40 mm into a blank."""
    x0, y0, x1, y1 = outline.bounds
    move = Transform.mirror_x(x1) if mirrored else Transform.shift(0.0, 0.0)
    panel = Panel(
        id="P1", cabinet="", role="part", stock="ply", thickness_mm=T, length_mm=x1, width_mm=y1,
        outline=outline.moved(move), features=tuple(moved_feature(one, move) for one in features),
        grain=Grain.FREE, place=None,
    )  # fmt: skip
    assert (x0, y0) == (0.0, 0.0)
    blank = Blank(
        id="ply-01", stock="ply", thickness_mm=T, thickness_is_measured=True, blank_x_mm=1220.0, blank_y_mm=1220.0,
        grain_along_x=True, has_grain=True, trim_mm=0.0, offcuts=(),
        placements=(Placement(panel=panel, x_mm=40.0, y_mm=40.0, rotation_deg=0),),
    )  # fmt: skip
    job = replace(_job(), cutting=replace(_job().cutting, **cutting))
    name, toml, template = load_post("metric-plain", beside=Path())
    planned = plan_sheet(blank, job, PostText(name=name, toml=toml, template=template))
    assert not has_error(planned.findings), planned.findings
    content = {f"programs/{one.name}": one.text for one in planned.programs}
    content |= {f"programs/{one.name.rsplit('.', 1)[0]}.setup.json": one.setup for one in planned.programs}
    (sheet,) = sheets_of(content).values()
    return sheet


@st.composite
def outlines(draw, length: float, width: float) -> Contour:
    """A board with its upper corners square, notched or rounded; features stay below its upper 60 mm."""
    left, right = (draw(st.sampled_from(("square", "notch", "round"))) for _ in range(2))
    a, b = (draw(st.floats(15, 55)) for _ in range(2))
    segments: list[Line | Arc] = [Line(Point(0, 0), Point(length, 0))]
    here = Point(length, 0)

    def to(x: float, y: float) -> None:
        nonlocal here
        segments.append(Line(here, Point(x, y)))
        here = Point(x, y)

    if right == "round":
        to(length, width - a)
        segments.append(Arc(here, Point(length - a, width), Point(length - a, width - a), 1))
        here = Point(length - a, width)
    elif right == "notch":
        to(length, width - a)
        to(length - b, width - a)
        to(length - b, width)
    else:
        to(length, width)
    if left == "round":
        to(a, width)
        segments.append(Arc(here, Point(0, width - a), Point(a, width - a), 1))
        here = Point(0, width - a)
    elif left == "notch":
        to(b, width)
        to(b, width - a)
        to(0, width - a)
    else:
        to(0, width)
    to(0, 0)
    return chain(segments)


def _corners(outline: Contour) -> tuple[Point, ...]:
    return tuple(segment.start for segment in outline.segments)


@st.composite
def features(draw, number: int, width: float) -> Feature:
    """Something cut in one cell of the board."""
    x, low, high = number * CELL + 15.0, 15.0, width - 75.0
    name, depth = f"f{number}", draw(st.sampled_from((3.0, 6.0, 9.5)))
    kind = draw(
        st.sampled_from(("bore", "dado", "stopped", "pocket", "island", "star", "opening", "porthole", "rabbet"))
    )
    if kind == "bore":
        size = draw(st.sampled_from((5.0, 7.0, 8.0, 10.0, 20.0, 35.0)))
        place = Point(x + 50, draw(st.floats(low + 20, high - 20)))
        through = draw(st.booleans())
        return Bore(name=name, purpose="pilot", centre=place, diameter_mm=size, depth_mm=T if through else depth,
                    through=through)  # fmt: skip
    if kind == "dado":
        outline = rectangle(x + 30, 0.0, draw(st.sampled_from((6.35, 6.37, 6.6, 12.0, 18.0))), width - 70)
        return Recess(name=name, kind="dado", outline=outline, depth_mm=depth)
    if kind == "rabbet":
        outline = rectangle(x, 0.0, draw(st.floats(20, 100)), draw(st.sampled_from((6.0, 8.0, 15.0))))
        return Recess(name=name, kind="rabbet", outline=outline, depth_mm=depth)
    if kind == "stopped":
        outline = rectangle(x + 30, low, draw(st.floats(6.6, 25.0)), draw(st.floats(40, high - low)))
        return Recess(name=name, kind="dado", outline=outline, depth_mm=depth, relieved_corners=_corners(outline))
    w, h = draw(st.floats(30, 100)), draw(st.floats(30, high - low))
    round_box = rounded_rectangle(w, h, draw(st.floats(1.0, 14.9))).moved(Transform.shift(x, low))
    if kind == "pocket":
        return Recess(name=name, kind="pocket", outline=round_box, depth_mm=depth)
    if kind == "island":
        size = draw(st.floats(2.0, min(w, h) / 2 - 9.0))
        middle = Point(x + w / 2, low + h / 2)
        island = circle(middle, size) if draw(st.booleans()) else rectangle(
            middle.x - size / 2, middle.y - size / 2, size, size)  # fmt: skip
        return Recess(name=name, kind="pocket", outline=round_box, depth_mm=depth, islands=(island,))
    if kind == "star":
        reach = [draw(st.floats(8.0, 48.0)) for _ in range(draw(st.integers(3, 8)))]
        points = [
            (x + 50 + r * math.cos(2 * math.pi * k / len(reach)), low + 50 + r * math.sin(2 * math.pi * k / len(reach)))
            for k, r in enumerate(reach)
        ]
        return Recess(name=name, kind="pocket", outline=polygon(points), depth_mm=depth)
    outline = circle(Point(x + 50, low + 50), draw(st.floats(10, 48))) if kind == "porthole" else round_box
    return CutOut(name=name, outline=outline)


@settings(max_examples=12, deadline=None, phases=[Phase.generate])
@given(st.data())
def test_a_part_drawn_at_random_keeps_all_its_wood_and_loses_all_that_can_go(data: st.DataObject) -> None:
    count = data.draw(st.integers(1, 4))
    length, width = count * CELL + 30.0, data.draw(st.floats(220, 400))
    outline = data.draw(outlines(length, width))
    drawn = tuple(data.draw(features(number, width)) for number in range(count))
    direction = data.draw(st.sampled_from(("climb", "conventional")))
    hold = data.draw(st.sampled_from((Hold.TABS, Hold.SKIN)))
    sheet = seen(outline, drawn, mirrored=data.draw(st.booleans()), direction=direction, hold=hold)
    assert complaints(sheet, direction) == []


BOARD = rectangle(0.0, 0.0, 300.0, 200.0)
DADO = Recess(name="dado", kind="dado", outline=rectangle(100.0, 0.0, 18.0, 200.0), depth_mm=6.0)


@cache
def _plain() -> Sheet:
    return seen(BOARD, (DADO,), mirrored=False)


def _moved(sheet: Sheet, dx: float) -> Sheet:
    return replace(sheet, strokes=tuple(replace(one, way=translate(one.way, dx)) for one in sheet.strokes))


def test_a_clean_part_gives_no_complaint() -> None:
    assert complaints(_plain(), "climb") == []


@pytest.mark.parametrize("dx", [0.02, -0.02])
def test_a_program_that_lies_a_fiftieth_of_a_millimetre_aside_is_found(dx: float) -> None:
    (worst, place), *_ = deepest_entries(_moved(_plain(), dx))
    assert worst == pytest.approx(0.02, abs=0.002)
    assert "enters P1" in place


def test_a_cut_a_tenth_too_deep_is_found() -> None:
    sheet = _plain()
    low = [replace(one, start_z=one.start_z - 0.1, end_z=one.end_z - 0.1) if -6.2 < one.end_z < -5.9 else one
           for one in sheet.strokes]  # fmt: skip
    assert deepest_entries(replace(sheet, strokes=tuple(low)))


def test_a_stroke_left_out_is_found() -> None:
    sheet = _plain()
    floor = [k for k, one in enumerate(sheet.strokes) if one.is_level and one.start_z == -6.0 and one.way.length > 100]
    assert left_standing(replace(sheet, strokes=tuple(one for k, one in enumerate(sheet.strokes) if k != floor[-1])))
    around = [k for k, one in enumerate(sheet.strokes) if one.end_z < -T and one.way.length > 60]
    without = tuple(one for k, one in enumerate(sheet.strokes) if k not in around[-2:])
    assert left_uncut(replace(sheet, strokes=without))


def test_a_cut_the_other_way_round_is_found() -> None:
    sheet = _plain()
    turned = tuple(replace(one, way=one.way.reverse(), start_z=one.end_z, end_z=one.start_z) for one in sheet.strokes)
    assert directions(sheet)["conventional"] == []
    assert directions(replace(sheet, strokes=turned))["climb"] == []
    assert len(directions(replace(sheet, strokes=turned))["conventional"]) >= 8
