"""Arcs by centre and radius, in three planes. Source: NISTIR 6556, section 3.5.3; lengths by closed form."""

import math

import pytest
from reader_kit import ends, motions, of_kind, read, read_well, refusal

from rabbetry.dryrun.arcs import length_mm, point_on, radius_mm, sweep_rad
from rabbetry.dryrun.dialects import LENIENT
from rabbetry.dryrun.model import ArcMove, Context, Point3, Reading

EXACT = 1e-6


def one_arc(*lines: str, start: Point3 = (0.0, 0.0, 0.0)) -> ArcMove:
    (arc,) = of_kind(read_well("F100", *lines, context=Context(start_mm=start)), ArcMove)
    assert isinstance(arc, ArcMove)
    return arc


def test_the_reports_centre_example() -> None:
    """Section 3.5.3.2: from (7, 7) to (10, 16) about (10, 11)."""
    arc = one_arc("G17 G2 X10 Y16 I3 J4", start=(7, 7, 0))
    assert arc.centre == (10, 11, 0)
    assert (radius_mm(arc), arc.turns) == (5, -1)
    assert math.degrees(sweep_rad(arc)) == pytest.approx(143.130102, abs=EXACT)
    assert length_mm(arc) == pytest.approx(12.490458, abs=EXACT)


def test_the_reports_radius_example_is_a_helix() -> None:
    """Table 10: from (3, 1), X0 R7.01 Z0.5, printed centre (1.5, 7.8476)."""
    arc = one_arc("G2 X0 R7.01 Z0.5", start=(3, 1, 0))
    assert arc.centre[:2] == pytest.approx((1.5, 7.847635), abs=EXACT)
    assert math.degrees(sweep_rad(arc)) == pytest.approx(24.711389, abs=EXACT)
    assert length_mm(arc) == pytest.approx(3.064444, abs=EXACT)


def test_end_equal_to_start_is_a_full_circle() -> None:
    """Section 3.5.3.2."""
    arc = one_arc("G2 X0 Y0 I5")
    assert (arc.full_circles, arc.to) == (1, (0, 0, 0))
    assert length_mm(arc) == pytest.approx(31.415927, abs=EXACT)


def test_one_turn_of_a_helix() -> None:
    arc = one_arc("G3 X0 Y0 Z-3 I4")
    assert length_mm(arc) == pytest.approx(25.311157, abs=EXACT)


def test_a_full_circle_stays_one_under_any_offset() -> None:
    offsets = ((0.1, 0.2, 0.3), *[(0.0, 0.0, 0.0)] * 8)
    reading = read_well("F9", "G0 X0.7 Y0.1", "G2 X0.7 Y0.1 I5", context=Context(work_offsets_mm=offsets))
    (arc,) = of_kind(reading, ArcMove)
    assert isinstance(arc, ArcMove)
    assert arc.full_circles == 1


@pytest.mark.parametrize(
    ("line", "centre", "sweep_deg"),
    [
        pytest.param("G2 X10 Y0 R10", (5, -8.660254), 60, id="clockwise, the short way"),
        pytest.param("G2 X10 Y0 R-10", (5, 8.660254), 300, id="clockwise, the long way"),
        pytest.param("G3 X10 Y0 R10", (5, 8.660254), 60, id="counter-clockwise, the short way"),
        pytest.param("G3 X10 Y0 R-10", (5, -8.660254), 300, id="counter-clockwise, the long way"),
        pytest.param("G3 X10 Y0 R5", (5, 0), 180, id="half a circle"),
    ],
)
def test_the_sign_of_the_radius_chooses_the_way(line: str, centre: tuple[float, float], sweep_deg: float) -> None:
    """Section 3.5.3.1."""
    arc = one_arc(line)
    assert arc.centre[:2] == pytest.approx(centre, abs=EXACT)
    assert math.degrees(sweep_rad(arc)) == pytest.approx(sweep_deg, abs=EXACT)


def test_near_half_a_circle_a_thousandth_moves_the_centre_a_tenth() -> None:
    """The danger that section 3.5.3.1 names: chords 20 and 19.999 on R 10."""
    assert one_arc("G3 X20 R10").centre[1] == 0
    assert one_arc("G3 X19.999 R10").centre[1] == pytest.approx(0.099999, abs=EXACT)


@pytest.mark.parametrize(
    ("lines", "plane", "quarter"),
    [
        pytest.param("G17 G3 X-5 Y5 I-5", "XY", (-5 + 5 * math.sqrt(0.5), 5 * math.sqrt(0.5), 0), id="XY: from X to Y"),
        pytest.param("G18 G3 Z-5 X5 K-5", "XZ", (5 * math.sqrt(0.5), 0, -5 + 5 * math.sqrt(0.5)), id="XZ: from Z to X"),
        pytest.param("G19 G3 Y-5 Z5 J-5", "YZ", (0, -5 + 5 * math.sqrt(0.5), 5 * math.sqrt(0.5)), id="YZ: from Y to Z"),
    ],
)
def test_counter_clockwise_is_seen_from_the_planes_plus_side(lines: str, plane: str, quarter: Point3) -> None:
    """Section 4.3: the ordered pairs are XY, ZX, YZ. Half of a quarter turn, by closed form."""
    arc = one_arc(lines)
    assert arc.plane == plane
    assert math.degrees(sweep_rad(arc)) == pytest.approx(90, abs=EXACT)
    assert point_on(arc, 0.5) == pytest.approx(quarter, abs=EXACT)


def test_a_helix_rises_along_the_planes_normal() -> None:
    """Section 4.3: in XZ, clockwise goes from +X over +Z to -X and on to -Z."""
    arc = one_arc("G18 G2 X10 Z0 Y4 I5")
    assert arc.centre == (5, 0, 0)
    assert point_on(arc, 0.5) == pytest.approx((5, 2, -5), abs=EXACT)
    assert point_on(arc, 1.0) == pytest.approx(arc.to, abs=EXACT)


def test_centres_are_relative_in_absolute_and_relative_mode() -> None:
    """Section 3.5.17."""
    reading = read_well("F9 G0 X10", "G2 X20 I5", "G91 G2 X10 I5")
    assert [arc.centre for arc in reading.events if isinstance(arc, ArcMove)] == [(15, 0, 0), (25, 0, 0)]


@pytest.mark.parametrize(
    "line",
    ["G17 G2 X5 Y5 K5", "G18 G2 X5 Z5 J5", "G19 G2 Y5 Z5 I5", "G18 G2 Y5 I5", "G19 G2 X5 J5", "G2 Z5 R5", "G2 X5 R0"],
)
def test_words_that_do_not_belong_to_the_plane_are_refused(line: str) -> None:
    assert refusal(read("F9", line)).code == "program-arc"


def test_a_helix_without_plane_words_turns_once_where_the_dialect_allows() -> None:
    reading = read_well("F9", "G3 Z-2 I5", dialect=LENIENT)
    (arc,) = of_kind(reading, ArcMove)
    assert isinstance(arc, ArcMove)
    assert (arc.full_circles, arc.to) == (1, (0, 0, -2))
    assert read("F9", "G3 Z-2 I5").refused


def small_misses(count: int) -> Reading:
    lines = [line for _ in range(count) for line in ("G90 G0 X0 Y0", "G91 G3 X0.2008 I0.1")]
    return read_well("F9 G0 X1", *lines, "M2")


def test_a_small_miss_is_noted_but_not_without_end() -> None:
    reading = small_misses(60)
    notes = [item for item in reading.findings if item.code == "arc-mismatch"]
    assert len(notes) == 21
    assert notes[0].message == (
        "the arc barely misses its end: the start lies 0.10000 mm from the centre, the end 0.10080 mm"
    )
    assert notes[-1].message.endswith("; further arcs like it are not listed")
    assert notes[0].severity == "note"


def test_an_arc_ends_where_the_program_says_and_not_on_the_circle() -> None:
    assert ends(read_well("F9", "G3 X20.0019 I10")) == [(20.0019, 0, 0)]
    assert len(motions(read_well("F9", "G3 X20.0019 I10"))) == 1
