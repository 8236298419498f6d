"""What must remain of a panel at each depth, as polygons made from the setup alone. Millimetres, program frame."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.setup import Bore, Contour, Hold, Panel, Point2, Recess, Setup
from rabbetry.dryrun.strokes import chords
from rabbetry.dryrun.tolerances import BORE_MM, BOUNDARY_MM, DEPTH_LEVEL_MM, RELIEF_BITE, RELIEF_REACH
from rabbetry.errors import Fault


@dataclass(frozen=True, slots=True, kw_only=True)
class RecessTarget:
    """A recess with the region whose floor it is."""

    recess: Recess
    region: BaseGeometry


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelTarget:
    """A panel's regions."""

    panel: Panel
    outline: Polygon
    recesses: tuple[RecessTarget, ...]
    cutouts: tuple[Polygon, ...]

    def depths_below(self, thickness_mm: float) -> list[float]:
        """Return the depths at which gouges are looked for: just below the top and just below each floor."""
        floors = {recess.depth_mm for recess in self.panel.recesses}
        floors |= {bore.depth_mm for bore in self.panel.bores if not bore.through}
        return sorted(depth for depth in (DEPTH_LEVEL_MM + floor for floor in {0.0, *floors}) if depth < thickness_mm)

    def levels(self, setup: Setup) -> list[float]:
        """Return all heights at which the panel is looked at."""
        bottom, top = setup.spoilboard_z_mm, setup.stock_top_z_mm
        levels = [bottom, *(top - depth for depth in self.depths_below(setup.thickness_mm))]
        features: list[Recess | Bore] = [*self.panel.recesses, *(bore for bore in self.panel.bores if not bore.through)]
        levels += [top - depth_above(feature) for feature in features]
        for hold in (self.panel.hold, *(cutout.hold for cutout in self.panel.cutouts)):
            if hold.kind == "skin":
                levels += skin_levels(hold, setup)
        return levels

    def solid(self, depth_mm: float, *, with_bores: bool) -> BaseGeometry:
        """Return what must remain at a depth: the outline less cut-outs and all features at least so deep."""
        gone: list[BaseGeometry] = [*self.cutouts]
        gone += [target.region for target in self.recesses if target.recess.depth_mm >= depth_mm]
        if with_bores:
            gone += [disc(bore, BORE_MM) for bore in self.panel.bores if bore.through or bore.depth_mm >= depth_mm]
        return self.outline.difference(shapely.union_all(gone)) if gone else self.outline

    def relief(self, depth_mm: float, radius_of: Callable[[RecessTarget], float]) -> BaseGeometry:
        """Return where the overcuts of relieved corners may reach at a depth; `radius_of` tells the cutter's radius."""
        allowed = []
        for target in self.recesses:
            if target.recess.depth_mm >= depth_mm:
                radius = radius_of(target)
                bite = target.region.buffer(RELIEF_BITE * radius + BOUNDARY_MM)
                for corner in target.recess.relieved_corners:
                    allowed.append(bite.intersection(shapely.Point(corner).buffer(RELIEF_REACH * radius + BOUNDARY_MM)))
        return shapely.union_all(allowed)


def depth_above(feature: Recess | Bore) -> float:
    """Return the depth, just above a feature's floor, to which it must be cleared."""
    return max(feature.depth_mm - DEPTH_LEVEL_MM, feature.depth_mm / 2)


def skin_levels(hold: Hold, setup: Setup) -> tuple[float, float]:
    """Return the heights just below and just above the top of a skin."""
    bottom = setup.spoilboard_z_mm
    return bottom + max(hold.height_mm - DEPTH_LEVEL_MM, 0.0), bottom + hold.height_mm + DEPTH_LEVEL_MM


def panel_target(panel: Panel, *, file: str, faults: list[Fault]) -> PanelTarget:
    """Return a panel's regions; contours that cross themselves are added to `faults`."""

    def polygon(contour: Contour, what: str) -> Polygon:
        shape = Polygon(flattened(contour))
        if not shape.is_valid or shape.area <= 0:
            problem = f"{what} is no simple outline: {shapely.is_valid_reason(shape)}"
            faults.append(Fault(file=file, place=f'target, panel "{panel.id}"', problem=problem))
            return Polygon()
        return shape

    outline = polygon(panel.outline, "outline")
    recesses = []
    for recess in panel.recesses:
        region: BaseGeometry = polygon(recess.outline, f'recess "{recess.name}"')
        for island in recess.islands:
            region = region.difference(polygon(island, f'an island of "{recess.name}"'))
        recesses.append(RecessTarget(recess=recess, region=region))
    cutouts = tuple(polygon(cutout.outline, f'cut-out "{cutout.name}"') for cutout in panel.cutouts)
    return PanelTarget(panel=panel, outline=outline, recesses=tuple(recesses), cutouts=cutouts)


def flattened(contour: Contour) -> list[Point2]:
    """Return points on a contour within the chord error, the first not repeated. The dry run's own way with arcs."""
    points = [contour.start]
    for bend in contour.segments:
        if bend.centre is not None:
            points.extend(_between(points[-1], bend.to, bend.centre, bend.turn))
        points.append(bend.to)
    return points[:-1]


def _between(start: Point2, to: Point2, centre: Point2, turn: int) -> list[Point2]:
    radius = math.dist(start, centre)
    begin = math.atan2(start[1] - centre[1], start[0] - centre[0])
    end = math.atan2(to[1] - centre[1], to[0] - centre[0])
    sweep = (turn * (end - begin)) % (2 * math.pi)
    count = chords(radius, sweep)
    angles = [begin + turn * sweep * k / count for k in range(1, count)]
    return [(centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)) for angle in angles]


@lru_cache(maxsize=4096)
def disc(bore: Bore, larger_mm: float = 0.0) -> Polygon:
    """Return the bore's circle, its radius changed by `larger_mm`."""
    radius = max(bore.diameter_mm / 2 + larger_mm, 0.001)
    return shapely.Point(bore.x_mm, bore.y_mm).buffer(radius, quad_segs=max(4, chords(radius, math.pi / 2)))
