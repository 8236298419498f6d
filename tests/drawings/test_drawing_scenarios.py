"""Drawings as they come: gaps, doubles, no unit, other units, mirrored arcs, blocks, text and hatches, far away."""

import io
import math

import ezdxf
import pytest
from drawing_kit import INCH, MM, bytes_of, drawing, faults_of, notes_of, part_of, rectangle
from ezdxf.layouts import Modelspace
from ezdxf.math import closed_uniform_bspline

from rabbetry.geometry.curves import Arc
from rabbetry.geometry.points import Point
from rabbetry.page.dxf import panel_dxf
from rabbetry.panels.model import Bore

TINY_MM = 0.0005


def gapped(gap: float) -> bytes:
    """A triangle 300 by 200 whose last line ends `gap` short of its first corner."""

    def draw(space: Modelspace) -> None:
        space.add_line((0, 0), (300, 0))
        space.add_line((300, 0), (0, 200))
        space.add_line((0, 200), (0, gap))

    return drawing(draw)


def test_a_gap_within_the_tolerance_is_joined_and_told() -> None:
    part = part_of(gapped(0.004), "drawing_join = 0.005")
    assert part.outline.area == pytest.approx(30000, abs=0.7)
    assert part.outline.is_closed
    assert notes_of(gapped(0.004))["drawing-joined"] == "joined 1 gaps of at most 0.0040 mm; the limit is 0.005 mm"
    assert "drawing-joined" not in notes_of(gapped(0.0))


def test_a_wider_gap_is_refused_with_both_ends() -> None:
    (fault,) = faults_of(gapped(0.020), "drawing_join = 0.005")
    assert fault == (
        'gusset.dxf: part "Gusset": is open at (0, 0): the next open end, at (0, 0.02), is 0.02 mm away; '
        'ends are joined over 0.005 mm (drawing_join); close it, or say that its layer holds "nothing"'
    )
    assert part_of(gapped(0.020), "drawing_join = 0.02").outline.is_closed


def test_a_line_drawn_twice_and_a_part_of_it_again_is_cut_once() -> None:
    def draw(space: Modelspace) -> None:
        rectangle(space, 0, 0, 400, 200)
        space.add_line((400, 0), (0, 0))
        space.add_line((50, 0), (120, 0))

    part = part_of(drawing(draw))
    assert part.outline.length == pytest.approx(1200)
    assert notes_of(drawing(draw))["drawing-doubled"] == "2 lines or arcs lie on others and are cut once"


def test_an_arc_drawn_twice_and_a_part_of_it_again_is_cut_once() -> None:
    def draw(space: Modelspace) -> None:
        space.add_line((0, 0), (200, 0))
        space.add_arc((100, 0), 100, 0, 180)
        space.add_arc((100, 0), 100, 20, 70)
        space.add_arc((100, 0), 100, 180, 0, dxfattribs={"extrusion": (0, 0, 1), "layer": "other"})

    data = drawing(draw)
    faults = faults_of(data)
    assert any("3 ends meet at (200, 0)" in fault or "3 ends meet at (0, 0)" in fault for fault in faults), faults
    part = part_of(data, 'layers = [{layer = "OTHER", cut = "nothing"}]')
    assert part.outline.area == pytest.approx(math.pi * 100**2 / 2)
    assert notes_of(data, 'layers = [{layer = "other", cut = "nothing"}]')["drawing-doubled"].startswith("1 lines")


NO_HEADER = "0\nSECTION\n2\nENTITIES\n{}0\nENDSEC\n0\nEOF\n"
LINE = "0\nLINE\n8\n0\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n"


def headless(*corners: tuple[float, float]) -> bytes:
    ends = zip(corners, (*corners[1:], corners[0]), strict=True)
    return NO_HEADER.format("".join(LINE.format(*a, *b) for a, b in ends)).encode()


def test_a_drawing_without_a_unit_is_asked_for_it_with_its_size_both_ways() -> None:
    data = headless((0, 0), (600, 0), (600, 300), (0, 300))
    (fault,) = faults_of(data)
    assert fault == (
        'gusset.dxf: part "Gusset": does not say its unit: it is 600 x 300 in numbers, which is that many mm, or '
        '15240 x 7620 mm if inches; write drawing_unit = "mm", "cm", "m", "in" or "ft"'
    )
    part = part_of(data, 'drawing_unit = "mm"')
    assert (part.length_mm, part.width_mm) == pytest.approx((600, 300), abs=TINY_MM)
    assert notes_of(data, 'drawing_unit = "mm"')["drawing-read"] == (
        "600 mm x 300 mm (23.622 in (~23 5/8) x 11.811 in (~11 13/16)), read in mm, as the job says; 4 LINE"
    )


def test_a_unit_that_no_part_is_drawn_in_is_asked_for_too() -> None:
    (fault,) = faults_of(drawing(lambda space: rectangle(space, 0, 0, 600, 300), units=3))
    assert "says unit code 3, which no part is drawn in: it is 600 x 300 in numbers" in fault


def test_a_drawing_in_millimetres_in_a_job_in_inches() -> None:
    part = part_of(drawing(lambda space: rectangle(space, 0, 0, 600, 300)), units="in")
    assert (part.length_mm / 25.4, part.width_mm / 25.4) == pytest.approx((23.622, 11.811), abs=TINY_MM)


@pytest.mark.parametrize(
    ("code", "word", "mm"),
    [(INCH, "in", 25.4), (2, "ft", 304.8), (MM, "mm", 1.0), (5, "cm", 10.0), (6, "m", 1000.0)],
)
def test_units_are_scaled_and_the_scale_is_told(code: int, word: str, mm: float) -> None:
    data = drawing(lambda space: rectangle(space, 1 / mm, 2 / mm, 400 / mm, 250 / mm), units=code)
    part = part_of(data)
    assert (part.length_mm, part.width_mm) == pytest.approx((400, 250), abs=TINY_MM)
    note = notes_of(data)["drawing-read"]
    assert f"read in {word}, as it says" in note
    assert (f", times {mm:g};" in note) is (mm != 1)


def test_the_unit_of_the_job_wins_over_the_file_and_is_told() -> None:
    data = drawing(lambda space: rectangle(space, 0, 0, 400, 250), units=INCH)
    assert part_of(data, 'drawing_unit = "mm"').length_mm == pytest.approx(400)
    assert "read in mm, as the job says; the file says in" in notes_of(data, 'drawing_unit = "mm"')["drawing-read"]
    (fault,) = faults_of(data)
    assert "is 10160 mm x 6350 mm when it is read in in" in fault


def test_an_arc_seen_from_below_lies_on_the_other_side() -> None:
    """Centre (10, 5), radius 3, 0 to 90 degrees, seen from below: centre (-10, 5), from (-13, 5) to (-10, 8)."""

    def draw(space: Modelspace) -> None:
        space.add_arc((10, 5), 3, 0, 90, dxfattribs={"extrusion": (0, 0, -1)})
        space.add_line((-13, 5), (-13, -20))
        space.add_line((-13, -20), (-10, -20))
        space.add_line((-10, -20), (-10, 8))

    part = part_of(drawing(draw))
    (arc,) = [item for item in part.outline.segments if isinstance(item, Arc)]
    shift = Point(-13, -20)
    assert (arc.centre.x + shift.x, arc.centre.y + shift.y) == pytest.approx((-10, 5))
    assert arc.radius == pytest.approx(3)
    assert part.outline.area == pytest.approx(3 * 25 + math.pi * 9 / 4)


def test_a_polyline_and_a_circle_seen_from_below_are_mirrored() -> None:
    def draw(space: Modelspace) -> None:
        corners = [(0, 0, 0), (-300, 0, 0), (-300, 100, 1), (-300, 200, 0), (0, 200, 0)]
        space.add_lwpolyline(corners, format="xyb", close=True, dxfattribs={"extrusion": (0, 0, -1)})
        space.add_circle((-30, 40), 4, dxfattribs={"extrusion": (0, 0, -1)})

    part = part_of(drawing(draw))
    assert (part.length_mm, part.width_mm) == pytest.approx((300, 200))
    assert part.outline.area == pytest.approx(300 * 200 - math.pi * 50**2 / 2)
    (hole,) = part.features
    assert isinstance(hole, Bore)
    assert (hole.centre.x, hole.centre.y, hole.diameter_mm) == pytest.approx((30, 40, 8))


def test_blocks_within_blocks_turned_scaled_and_mirrored() -> None:
    """A circle at (1, 0) of radius 0.5, doubled, turned 90 degrees to (0, 2), moved to (10, 2), mirrored to (-10, 2),
    moved to (90, 102): radius 1."""
    document = ezdxf.new("R2010", units=MM)  # type: ignore[attr-defined]
    document.blocks.new("A").add_circle((1, 0), 0.5)
    document.blocks.new("B").add_blockref("A", (10, 0), dxfattribs={"xscale": 2, "yscale": 2, "rotation": 90})
    space = document.modelspace()
    space.add_blockref("B", (100, 100), dxfattribs={"xscale": -1, "yscale": 1})
    rectangle(space, 0, 0, 200, 150)
    (hole,) = part_of(bytes_of(document)).features
    assert isinstance(hole, Bore)
    assert (hole.centre.x, hole.centre.y, hole.diameter_mm) == pytest.approx((90, 102, 2))


def test_a_block_drawn_out_of_proportion_makes_ellipses_of_its_arcs() -> None:
    document = ezdxf.new("R2010", units=MM)  # type: ignore[attr-defined]
    document.blocks.new("A").add_circle((0, 0), 50)
    document.modelspace().add_blockref("A", (0, 0), dxfattribs={"xscale": 3, "yscale": 2})
    part = part_of(bytes_of(document))
    assert (part.length_mm, part.width_mm) == pytest.approx((300, 200), abs=0.02)
    assert part.outline.area == pytest.approx(math.pi * 150 * 100, abs=0.01 * part.outline.length)


def test_layer_0_of_a_block_is_the_layer_of_its_insert() -> None:
    document = ezdxf.new("R2010", units=MM)  # type: ignore[attr-defined]
    block = document.blocks.new("A")
    block.add_circle((30, 30), 4)
    rectangle(block, 60, 60, 40, 40, "DEEP")  # type: ignore[arg-type]
    space = document.modelspace()
    space.add_blockref("A", (0, 0), dxfattribs={"layer": "PINS"})
    rectangle(space, 0, 0, 200, 150)
    layers = 'layers = [{layer = "PINS", cut = "hole", depth = 12}, {layer = "DEEP", cut = "pocket", depth = 5}]'
    depths = {item.name: item.depth_mm for item in part_of(bytes_of(document), layers).features}  # type: ignore[union-attr]
    assert depths == {"drawn hole 1": 12, "drawn pocket 1": 5}


def test_text_hatches_and_what_is_not_level_are_left_out_and_listed() -> None:
    def draw(space: Modelspace) -> None:
        rectangle(space, 0, 0, 300, 200, "PLATE")
        on_plate = {"layer": "PLATE"}
        space.add_text("gusset", dxfattribs=on_plate)
        space.add_text("two off", dxfattribs=on_plate)
        space.add_hatch(dxfattribs=on_plate).paths.add_polyline_path([(0, 0), (300, 0), (300, 200)])
        space.add_polyline3d([(10, 10, 0), (50, 10, 5), (50, 50, 0)], dxfattribs=on_plate)
        space.add_line((0, 0, 0), (5, 5, 5), dxfattribs=on_plate)
        space.add_circle((90, 90), 5, dxfattribs={**on_plate, "extrusion": (1, 0, 0)})
        space.add_3dface([(0, 0, 0), (9, 0, 0), (9, 9, 5)], dxfattribs={"layer": "SOLID"})
        space.add_polyline3d([(100, 100, 7), (150, 100, 7), (150, 150, 7)], close=True, dxfattribs=on_plate)

    data = drawing(draw)
    part = part_of(data)
    assert part.outline.area == pytest.approx(60000)
    assert len(part.features) == 1, "the level polyline is an opening"
    notes = notes_of(data)
    assert notes["drawing-dropped"] == (
        "left out: 1 3D POLYLINE that is not level on layer PLATE, 1 3DFACE on layer SOLID, "
        "1 CIRCLE that is not level on layer PLATE, "
        "1 HATCH on layer PLATE, 1 LINE that is not level on layer PLATE, 2 TEXT on layer PLATE"
    )
    assert notes["drawing-read"].endswith("1 LWPOLYLINE, 1 level 3D POLYLINE")


@pytest.mark.parametrize("tolerance", [0.01, 0.1])
def test_a_closed_spline_becomes_few_arcs_within_the_tolerance(tolerance: float) -> None:
    """Measured against 4000 points of the curve by the library that drew it."""
    tool = closed_uniform_bspline([(0, 0), (200, 0), (250, 120), (100, 180), (-20, 90)])

    def draw(space: Modelspace) -> None:
        spline = space.add_spline()
        spline.apply_construction_tool(tool)
        spline.closed = True

    data = drawing(draw)
    part = part_of(data, f"drawing_curve = {tolerance}")
    assert part.outline.is_closed
    assert 8 <= len(part.outline.segments) <= 90
    knots, degree = list(tool.knots()), tool.degree
    low, high = knots[degree], knots[len(tool.control_points)]
    points = [tool.point(low + (high - low) * k / 4000) for k in range(4000)]
    x0, y0 = min(at.x for at in points), min(at.y for at in points)
    flat = part.outline.flattened(0.0005)
    far = max(_distance(Point(at.x - x0, at.y - y0), flat) for at in points[::10])
    assert far <= 2 * tolerance + 0.001, "the tolerance, and as much for the shift of the lower left corner"
    area = sum(a.x * b.y - b.x * a.y for a, b in zip(points, [*points[1:], points[0]], strict=True)) / 2
    assert part.outline.area == pytest.approx(abs(area), abs=tolerance * part.outline.length)
    assert "within" in notes_of(data)["drawing-curve"]


def _distance(point: Point, ring: tuple[Point, ...]) -> float:
    best = math.inf
    for a, b in zip(ring, [*ring[1:], ring[0]], strict=True):
        step = b - a
        part = min(1.0, max(0.0, (point - a).dot(step) / step.dot(step)))
        best = min(best, point.distance(a + step * part))
    return best


def test_a_drawing_of_a_job_in_inches_reads_back_the_same() -> None:
    def draw(space: Modelspace) -> None:
        corners = [(0, 0, 0), (23.25, 0, 0), (23.25, 9.5, 0.41421356237), (21.25, 11.5, 0), (0, 11.5, 0)]
        space.add_lwpolyline(corners, format="xyb", close=True)

    first = part_of(drawing(draw, units=INCH), units="in")
    text = panel_dxf(first)
    assert ezdxf.read(io.StringIO(text)).header["$INSUNITS"] == MM  # type: ignore[attr-defined]
    again = part_of(text.encode(), units="in")
    assert (again.length_mm, again.width_mm) == pytest.approx((23.25 * 25.4, 11.5 * 25.4), abs=TINY_MM)
    assert again.outline.area == pytest.approx(first.outline.area, abs=TINY_MM)


def test_a_part_drawn_far_from_zero_has_its_exact_size() -> None:
    x, y = 5_000_000.25, 6_000_000.5

    def draw(space: Modelspace) -> None:
        space.add_lwpolyline(
            [
                (x, y, 0),
                (x + 300, y, 0),
                (x + 300, y + 160, 0.41421356237309503),
                (x + 260, y + 200, 0),
                (x, y + 200, 0),
            ],
            format="xyb",
            close=True,
        )
        space.add_circle((x + 40, y + 50), 2.5)

    part = part_of(drawing(draw))
    assert (part.length_mm, part.width_mm) == pytest.approx((300, 200), abs=TINY_MM)
    assert part.outline.bounds == pytest.approx((0, 0, 300, 200), abs=TINY_MM)
    assert part.outline.area == pytest.approx(300 * 200 - 40**2 * (1 - math.pi / 4), abs=TINY_MM * 1000)
    (hole,) = part.features
    assert isinstance(hole, Bore)
    assert (hole.centre.x, hole.centre.y, hole.diameter_mm) == pytest.approx((40, 50, 5), abs=TINY_MM)
