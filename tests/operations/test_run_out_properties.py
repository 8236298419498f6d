"""Properties of the run-out, on panels with random corner notches and recesses that lie anywhere on them."""

import shapely
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from operations_shop import QUARTER, at, codes, panel, plan, recess
from shapely.geometry.base import BaseGeometry

from rabbetry.geometry.curves import Contour, polygon
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.operations.model import CentreLine, Clearing, Operation

LENGTH, WIDTH = 200, 150
RADIUS = QUARTER.radius_mm


@st.composite
def notched_panels(draw: st.DrawFn) -> BaseGeometry:
    """A rectangle with up to four notches at its corners."""
    shape: BaseGeometry = shapely.box(0, 0, LENGTH, WIDTH)
    for x, y in [(0, 0), (LENGTH, 0), (LENGTH, WIDTH), (0, WIDTH)]:
        if draw(st.booleans()):
            dx, dy = draw(st.integers(10, 60)), draw(st.integers(10, 60))
            shape = shape.difference(shapely.box(x - dx, y - dy, x + dx, y + dy))
    return shape


def _contour(shape: BaseGeometry) -> Contour:
    ring = shapely.geometry.polygon.orient(shape.simplify(0.0)).exterior.coords
    return polygon([Point(x, y) for x, y in list(ring)[:-1]])


def _made(operation: Operation) -> BaseGeometry:
    """What a cutter leaves behind: everything it can reach in the region, or along the path."""
    work = operation.work
    if isinstance(work, CentreLine):
        points = [work.path.start, *(segment.end for segment in work.path.segments)]
        return shapely.LineString([(point.x, point.y) for point in points]).buffer(RADIUS, quad_segs=64)
    assert isinstance(work, Clearing)
    return region_polygon(work.region).buffer(-RADIUS, quad_segs=64).buffer(RADIUS, quad_segs=64)


@settings(max_examples=100, deadline=None)
@given(
    notched_panels(), st.integers(0, LENGTH - 10), st.integers(0, WIDTH - 10), st.integers(7, 90), st.integers(7, 90)
)
def test_a_recess_is_cut_clean_to_its_open_edges_and_the_wood_beside_it_is_left(
    wood: BaseGeometry, x: int, y: int, dx: int, dy: int
) -> None:
    wanted = shapely.box(x, y, min(x + dx, LENGTH), min(y + dy, WIDTH)).intersection(wood)
    assume(wanted.geom_type == "Polygon" and wanted.area > 100)
    # Ways narrower than the cutter are another test's business.
    assume(wanted.buffer(-RADIUS - 0.1).buffer(RADIUS + 0.1).difference(wanted).area < 1e-6)
    assume(wanted.difference(wanted.buffer(-3.6, join_style="mitre").buffer(3.6, join_style="mitre")).area < 1e-6)
    # Nor can a cutter reach into a corner through an opening narrower than itself.
    open_edges = shapely.line_merge(wanted.boundary.intersection(wood.boundary))
    edges = [line for line in getattr(open_edges, "geoms", [open_edges]) if line.length > 0]
    assume(all(line.length > 2 * RADIUS for line in edges))
    part = panel("P1", LENGTH, WIDTH, recess(_contour(wanted)), outline=_contour(wood))
    planned = plan(at(part, 0.0, 0.0))
    event(", ".join(codes(planned)) or "clean")
    assert set(codes(planned)) <= {"run-out-in-part", "notch-too-narrow"}
    assume(not codes(planned))
    made = _made(planned.plan.operations[0])
    assert made.intersection(wood).difference(wanted).area < 0.01
    left = wanted.difference(made)
    # Wood may stay in closed corners only, not a hair of it at an open edge.
    assert left.area < 4 * 0.2147 * RADIUS**2 + 0.05
    assert left.buffer(-0.02).intersection(open_edges.buffer(0.03)).area < 0.01
