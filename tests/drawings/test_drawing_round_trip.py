"""A panel's drawing, as the build writes it, read back as a part: the same panel again."""

from dataclasses import replace
from pathlib import Path

import pytest
from drawing_kit import MM, drawing, faults_of, job_text, notes_of, part_of, rectangle
from ezdxf.layouts import Modelspace
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.console import job_of
from rabbetry.files import load_tables
from rabbetry.geometry.curves import Arc, Contour
from rabbetry.geometry.curves import rectangle as rectangle_outline
from rabbetry.geometry.points import Point
from rabbetry.page.dxf import panel_dxf
from rabbetry.panels.model import Bore, Feature, Panel, Recess
from rabbetry.pipeline import compile_job, load_job

SAMPLE = Path(__file__).parent.parent.parent / "sample_jobs" / "one-base-cabinet.toml"
SAME_MM = 0.001
DIVIDED = """
name = "Net loft wall"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 5, 6, 8]
[stock.carcass]
sheet = "birch-18"
thickness = 17.8
blank = [1000, 700]
[[cabinet]]
name = "L1"
kind = "open"
width = 700
height = 500
depth = 300
adjustable_shelves = 1
dividers = 1
divider_pins = "blind"
"""

Figures = tuple[float, ...]


def ring(contour: Contour) -> list[Figures]:
    """Every segment as figures, either way round, in an order of their own."""
    found = []
    for item in contour.segments:
        ends = sorted([(round(item.start.x, 3), round(item.start.y, 3)), (round(item.end.x, 3), round(item.end.y, 3))])
        centre = (item.centre.x, item.centre.y, item.radius) if isinstance(item, Arc) else ()
        found.append((*ends[0], *ends[1], *(round(value, 3) for value in centre)))
    return sorted(found)


def figures(feature: Feature) -> tuple[str, list[Figures]]:
    if isinstance(feature, Bore):
        end = -1.0 if feature.through else feature.depth_mm
        return "bore", [(feature.centre.x, feature.centre.y, feature.diameter_mm, end)]
    if isinstance(feature, Recess):
        relieved = sorted((corner.x, corner.y) for corner in feature.relieved_corners)
        islands = [row for island in feature.islands for row in ring(island)]
        return feature.kind, [*ring(feature.outline), (feature.depth_mm,), *relieved, *islands]
    return "cut through", ring(feature.outline)


def assert_equal(first: Panel, again: Panel) -> None:
    """Equal seen from the face that is drawn, and from behind it."""
    _assert_same_face(first, again)
    if first.rear_features or again.rear_features:
        behind = [replace(item, features=item.rear_features, rear_features=()) for item in (first, again)]
        _assert_same_face(*behind)


def _assert_same_face(first: Panel, again: Panel) -> None:
    assert (again.length_mm, again.width_mm) == pytest.approx((first.length_mm, first.width_mm), abs=SAME_MM)
    assert again.outline.area == pytest.approx(first.outline.area, abs=0.01 * first.outline.length)
    pairs = [(ring(first.outline), ring(again.outline))]
    ours, theirs = (sorted(map(figures, panel.features)) for panel in (first, again))
    assert [kind for kind, _ in ours] == [kind for kind, _ in theirs]
    pairs += [(a, b) for (_, a), (_, b) in zip(ours, theirs, strict=True)]
    for a, b in pairs:
        assert len(a) == len(b)
        for one, other in zip(a, b, strict=True):
            assert one == pytest.approx(other, abs=2 * SAME_MM)


def test_the_panels_of_a_cabinet_read_back_as_equal_parts() -> None:
    panels = compile_job(job_of(SAMPLE)).panels
    assert len(panels) >= 10
    for panel in panels:
        assert_equal(panel, part_of(panel_dxf(panel).encode()))


def test_a_panel_cut_in_both_faces_reads_back_with_both() -> None:
    """A divider with pin holes in each face, and a groove behind that is not in the middle."""
    panels = compile_job(load_job(DIVIDED, file="loft.toml", tables=load_tables(), own_tables={})).panels
    (divider,) = [panel for panel in panels if panel.rear_features]
    groove = Recess(
        name="lip",
        kind="groove",
        outline=rectangle_outline(20, 120, 200, 6),
        depth_mm=4,
        relieved_corners=(Point(20, 120),),
    )
    divider = replace(divider, rear_features=(*divider.rear_features[1:], groove))
    again = part_of(panel_dxf(divider).encode())
    assert len(again.rear_features) == len(divider.rear_features) >= 2
    assert_equal(divider, again)


def test_a_reading_of_our_own_drawing_has_nothing_to_tell_but_its_size() -> None:
    panel = next(item for item in compile_job(job_of(SAMPLE)).panels if item.role == "left side")
    assert set(notes_of(panel_dxf(panel).encode())) == {"drawing-read"}


def test_a_pocket_keeps_its_island() -> None:
    def draw(space: Modelspace) -> None:
        rectangle(space, 0, 0, 300, 200, "outline")
        rectangle(space, 20, 20, 200, 100, "pocket 6.00 deep")
        space.add_circle((100, 70), 20, dxfattribs={"layer": "pocket 6.00 deep"})
        rectangle(space, 240, 20, 40, 100, "pocket 6.00 deep")

    part = part_of(drawing(draw))
    islands = [len(item.islands) for item in part.features if isinstance(item, Recess)]
    assert islands == [1, 0]
    assert_equal(part, part_of(panel_dxf(part).encode()))


size = st.integers(80, 600).map(float)
depth = st.sampled_from([3.0, 6.35, 3.175, 9.05, 12.0])


@st.composite
def parts(draw: st.DrawFn) -> str:
    """Keys of a part: a rounded or arched outline and cuts that keep off each other and the edge."""
    length, width = draw(size), draw(size)
    radius = draw(st.sampled_from([0, 5, 12.7, 30]))
    arch = draw(st.booleans())
    top = f"{{to = [0, {width}], through = [{length / 2}, {width + 25}]}}" if arch else f"[0, {width}, {radius}]"
    corner = "" if arch else f", {radius}"
    lines = [
        f"outline = [[0, 0, {0 if arch else radius}], [{length}, 0, {radius}], [{length}, {width}{corner}], {top}]"
    ]
    if draw(st.booleans()):
        lines.append(
            f"dados = [{{along = 'y', at = {length * 0.4}, width = 18, depth = {draw(depth)}, end = {width / 2}}}]"
        )
    if draw(st.booleans()):
        lines.append(f"cutouts = [{{x = {length * 0.8}, y = {width * 0.6}, diameter = {min(length, width) * 0.2}}}]")
    if draw(st.booleans()):
        lines.append(
            f"pockets = [{{x = {length * 0.08}, y = {width * 0.6}, length = {length * 0.25}, width = {width * 0.2}, "
            f"radius = 3, depth = {draw(depth)}}}]"
        )
    if draw(st.booleans()):
        deep = draw(st.sampled_from(["", ", depth = 12", ", depth = 3.175"]))
        lines.append(f"holes = [{{x = {length * 0.7}, y = {width * 0.2}, diameter = 5{deep}}}]")
    return "\n".join(lines)


@settings(max_examples=25, deadline=None)
@given(parts())
def test_any_part_drawn_by_us_reads_back_equal(lines: str) -> None:
    text = job_text(lines).replace('drawing = "gusset.dxf"\n', "")
    compiled = compile_job(load_job(text, file="loft.toml", tables=load_tables(), own_tables={}))
    assert not [item for item in compiled.findings if item.severity == "error"], compiled.findings
    (first,) = compiled.panels
    assert_equal(first, part_of(panel_dxf(first).encode()))


def test_cuts_by_key_stand_beside_those_of_the_drawing_in_its_own_coordinates() -> None:
    def draw(space: Modelspace) -> None:
        rectangle(space, 100, 50, 300, 200)
        space.add_circle((130, 80), 4)

    data = drawing(draw, units=MM)
    part = part_of(
        data, "holes = [{x = 360, y = 210, diameter = 6}]\nrabbets = [{edge = 'upper', width = 9, depth = 6}]"
    )
    holes = sorted((item.centre.x, item.centre.y, item.diameter_mm) for item in part.features if isinstance(item, Bore))
    assert holes == [pytest.approx((30, 30, 8)), pytest.approx((260, 160, 6))]
    assert len(part.features) == 3
    assert faults_of(data, "width = 300")
