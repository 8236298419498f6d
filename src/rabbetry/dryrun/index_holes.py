"""Index holes: the one place where a cutter may go into the spoilboard beyond its allowance, and the pins in them."""

import math
from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.evidence import Zone, somewhere_in, without_slivers
from rabbetry.dryrun.setup import IndexHole, Point2, Setup, TwoFaces
from rabbetry.dryrun.side import Side
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.tolerances import BORE_MM, DEPTH_LEVEL_MM
from rabbetry.findings import Finding, finding

PIN_MM = 0.05
"""Two holes this near to each other are one place for a pin: half of what a dowel gives."""


def index_bite_mm(stroke: Stroke, setup: Setup) -> float:
    """Return how far a stroke may bite into the spoilboard because it stays within an index hole; 0 elsewhere."""
    if setup.two_faces is None or setup.side != 1 or stroke.cutter is None:
        return 0.0
    for hole in setup.two_faces.index_holes:
        room = hole.diameter_mm / 2 + BORE_MM - stroke.cutter.radius_mm
        if all(math.dist(point, _centre(hole)) <= room for point in stroke.path()):
            return hole.depth_mm - setup.thickness_mm
    return 0.0


def check_pattern(setup: Setup, faces: TwoFaces, name: str) -> Iterator[Finding]:
    """Yield a finding for each index hole that the turned blank does not bring onto another one."""
    if len(faces.index_holes) < 2:
        yield finding("index-hole-wrong", "fewer than two index holes do not hold the turned blank in place", file=name)
    for hole in faces.index_holes:
        x, y = faces.turned(_centre(hole))
        if not any(math.dist((x, y), _centre(other)) <= PIN_MM for other in faces.index_holes):
            message = (
                f"the index hole at x {hole.x_mm:.2f} y {hole.y_mm:.2f} comes to x {x:.2f} y {y:.2f} when the blank is "
                f"turned about the line {faces.line} = {faces.at_mm:.2f}: no pin stands there"
            )
            yield finding("index-hole-wrong", message, file=name, x=hole.x_mm, y=hole.y_mm)


def check_drilled(side: Side, faces: TwoFaces) -> Iterator[Finding]:
    """Yield findings of index holes that side 1 did not make, and of anything else cut through outside the parts."""
    setup, name = side.setup, side.evidence.programs[-1]
    blank = shapely.box(0.0, 0.0, setup.blank_x_mm, setup.blank_y_mm)
    through = Zone(side.evidence, blank, [setup.spoilboard_z_mm]).removed(setup.spoilboard_z_mm)
    for hole in faces.index_holes:
        if not through.covers(hole_disc(hole, -BORE_MM)):
            message = f"the index hole at x {hole.x_mm:.2f} y {hole.y_mm:.2f} is not there, or too narrow"
            yield finding("index-hole-missing", message, file=name, x=hole.x_mm, y=hole.y_mm)
            continue
        floor = side.evidence.floor_at(hole.x_mm, hole.y_mm)[0]
        wanted = setup.stock_top_z_mm - hole.depth_mm
        if floor > wanted + DEPTH_LEVEL_MM:
            deep, asked = setup.stock_top_z_mm - floor, hole.depth_mm
            message = f"the index hole at x {hole.x_mm:.2f} y {hole.y_mm:.2f} is {deep:.2f} mm deep, {asked:.2f} asked"
            yield finding("index-hole-missing", message, file=name, x=hole.x_mm, y=hole.y_mm)
    parts = [target.outline for target in side.targets]
    # What lies wholly under a fixture was cut before that stood there: the hole of a screw that holds the blank.
    fixtures = [shapely.box(c.x_mm, c.y_mm, c.x_mm + c.length_x_mm, c.y_mm + c.length_y_mm) for c in setup.clamps]
    known = shapely.union_all([*parts, *(hole_disc(hole, BORE_MM) for hole in faces.index_holes), *fixtures])
    for part in without_slivers(through.difference(known))[:4]:
        x, y = somewhere_in(part)
        message = f"the blank is cut through at x {x:.2f} y {y:.2f} before it is turned over; only index holes may be"
        yield finding("cut-through-early", message, file=name, x=x, y=y)


def check_pins(side: Side, faces: TwoFaces) -> Iterator[Finding]:
    """Yield a finding for each pin that side 2 cuts into."""
    setup = side.setup
    level = setup.stock_top_z_mm - DEPTH_LEVEL_MM
    for hole in faces.index_holes:
        pin = hole_disc(hole, 0.0)
        if without_slivers(Zone(side.evidence, pin, [level]).removed(level).intersection(pin)):
            message = f"a cut meets the pin at x {hole.x_mm:.2f} y {hole.y_mm:.2f}"
            yield finding("pin-cut", message, file=side.evidence.programs[-1], x=hole.x_mm, y=hole.y_mm)


def hole_disc(hole: IndexHole, larger_mm: float) -> BaseGeometry:
    """Return a hole's circle, its radius changed by `larger_mm`."""
    return shapely.Point(hole.x_mm, hole.y_mm).buffer(hole.diameter_mm / 2 + larger_mm, quad_segs=32)


def _centre(hole: IndexHole) -> Point2:
    return hole.x_mm, hole.y_mm
