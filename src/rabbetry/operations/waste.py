"""Waste between parts that the kerfs cut loose: small pieces are cut to chips before any part is cut free.

A piece that lies wholly between kerfs would be thrown about by the cutter. What joins the rim of the blank stays where
it is, and a piece too wide to be worth the chips is left for the tabs. Millimetres, blank frame.
"""

from collections.abc import Iterable, Sequence

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from rabbetry.geometry.curves import Contour, polygon, rectangle
from rabbetry.geometry.regions import region_polygon
from rabbetry.job.model import Hold
from rabbetry.operations.bench import Bench, Placed, Step
from rabbetry.operations.model import Clearing
from rabbetry.shop.model import Cutter
from rabbetry.tolerances import CHORD_MM

LEAST_MM2 = 20.0
"""Less than this is a chip by itself (common practice)."""
WIDEST_DIAMETERS = 4.0
"""A piece up to this many cutter diameters wide is cut to chips, as the waste of openings is."""
_OFF_MM = 0.5
"""Chips are made this far from every part at least, so that no finished edge is touched."""
_BEYOND_MM = 1.0
"""... and this far beyond the piece, into the kerfs about it: no sliver stays at its rim or in its corners."""
_SIMPLER_MM = 0.2


def plan_waste(parts: Sequence[Placed], bench: Bench, cutter: Cutter) -> list[Step]:
    """Return the steps that cut loose waste to chips, in order of place; none unless the job says so, and none where a
    skin holds everything."""
    if bench.cutting.loose_waste != "chips" or bench.cutting.hold is Hold.SKIN:
        return []
    shapes = [region_polygon(part.outline) for part in parts]
    steps = []
    for piece in _loose(shapes, cutter.cut_diameter_mm):
        region = _region(piece, shapes, cutter)
        if region is None or _is_clamped(region, bench):
            continue
        # Told with the part it lies beside, which is cut free after it.
        beside = min(range(len(parts)), key=lambda i: (round(shapes[i].distance(piece), 3), parts[i].panel.id))
        x0, y0, x1, y1 = piece.bounds
        name = f"waste {x1 - x0:.0f} x {y1 - y0:.0f} mm at {x0:.0f}, {y0:.0f}"
        work = Clearing(region=region, islands=(), depth_mm=bench.through_depth_mm, climb=bench.climbs)
        operation = bench.operation(parts[beside], name, work, cutter)
        steps.append(Step(operation=operation, ground=region_polygon(region), reach_mm=0.0))
    return steps


def _loose(shapes: Iterable[Polygon], diameter_mm: float) -> list[Polygon]:
    """Return what the kerfs of all parts enclose, from the left, then from below."""
    cut = shapely.union_all([shape.buffer(diameter_mm) for shape in shapes])
    holes = [Polygon(ring) for part in shapely.get_parts(cut) for ring in part.interiors]
    return sorted((hole for hole in holes if hole.area >= LEAST_MM2), key=lambda hole: hole.bounds)


def _region(piece: Polygon, shapes: Iterable[Polygon], cutter: Cutter) -> Contour | None:
    """Return what to clear so that nothing is left of the piece: the upright rectangle about it where that keeps off
    the parts, else its own shape grown into the kerfs; None for a piece too wide."""
    diameter = cutter.cut_diameter_mm
    if 2 * shapely.maximum_inscribed_circle(piece, CHORD_MM).length > WIDEST_DIAMETERS * diameter:
        return None
    x0, y0, x1, y1 = piece.bounds
    beyond = max(_BEYOND_MM, (diameter + 2 * _OFF_MM - min(x1 - x0, y1 - y0)) / 2)
    about = shapely.box(x0 - beyond, y0 - beyond, x1 + beyond, y1 + beyond)
    near = shapely.union_all(list(shapes))
    if about.distance(near) >= _OFF_MM:
        return rectangle(x0 - beyond, y0 - beyond, x1 - x0 + 2 * beyond, y1 - y0 + 2 * beyond)
    own = piece.buffer(cutter.radius_mm + _OFF_MM).simplify(_SIMPLER_MM)
    return polygon([(x, y) for x, y in list(own.exterior.coords)[:-1]])


def _is_clamped(region: Contour, bench: Bench) -> bool:
    """Tell whether a clamp holds the piece, or stands in the way."""
    x0, y0, x1, y1 = region.bounds
    reach = bench.machine.clamp_margin_mm + _OFF_MM
    return any(
        clamp.x_mm - reach < x1
        and x0 < clamp.x_mm + clamp.length_x_mm + reach
        and clamp.y_mm - reach < y1
        and y0 < clamp.y_mm + clamp.length_y_mm + reach
        for clamp in bench.machine.clamps
    )


def voids(steps: Iterable[Step]) -> BaseGeometry | None:
    """Return the ground that is chips before the parts are cut free; None where there is none."""
    grounds = [step.ground for step in steps]
    return shapely.union_all(grounds) if grounds else None
