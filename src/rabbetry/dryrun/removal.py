"""Compares what was removed from a panel with what had to be: gouges, and recesses that are not what they should be.

Everything is compared at levels just above and just below each feature's floor, as polygons. What must stay at a
level and is gone is a gouge; what must go and is still there is left over, unless no round cutter of the width used
can reach it.
"""

from collections.abc import Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.evidence import Zone, reachable, somewhere_in, without_slivers
from rabbetry.dryrun.setup import Panel
from rabbetry.dryrun.target import PanelTarget, RecessTarget, depth_above, disc
from rabbetry.dryrun.tolerances import BORE_MM, BOUNDARY_MM, CORNER_MM, DEPTH_LEVEL_MM, LEFTOVER_MM
from rabbetry.findings import Finding, finding

_MOST_PLACES = 8
"""Gouges told of one panel; each has its place, and a shifted panel would give hundreds."""
_NEARLY_ALL = 0.9


def check_gouges(zone: Zone, target: PanelTarget) -> Iterator[Finding]:
    """Yield a finding for each place of a panel where wood that must stay is gone."""
    setup = zone.evidence.setup
    told: BaseGeometry = shapely.Polygon()
    for depth in target.depths_below(setup.thickness_mm):
        removed = zone.removed(setup.stock_top_z_mm - depth)
        if removed.is_empty:
            break
        bad = removed.intersection(target.solid(depth, with_bores=True))
        if bad.area <= 0.0:
            continue
        bad = bad.difference(target.relief(depth, lambda item: _widest(zone, item))).difference(told)
        parts = without_slivers(bad)
        for part in parts[:_MOST_PLACES]:
            yield _gouge(zone, target, part)
        if parts:
            told = shapely.union_all([told, *(part.buffer(BOUNDARY_MM) for part in parts)])


def _gouge(zone: Zone, target: PanelTarget, part: BaseGeometry) -> Finding:
    evidence, panel = zone.evidence, target.panel
    x, y = somewhere_in(part)
    z, stroke = evidence.floor_at(x, y)
    depth = evidence.setup.stock_top_z_mm - z
    code, message = _named(target, x, y, depth)
    if code == "gouge":
        # The part was narrowed for the slivers' sake: give the area it really has.
        area = part.buffer(BOUNDARY_MM / 2).area
        message = f"{area:.2f} mm2 of wood that must stay is cut away, {depth:.2f} mm deep"
    return finding(
        code,
        f'panel "{panel.id}": {message} at x {x:.2f} y {y:.2f}',
        file=evidence.programs[stroke.program if stroke else -1],
        line=stroke.line if stroke else None,
        panel=panel.id,
        x=x,
        y=y,
        z=z,
    )


def _named(target: PanelTarget, x: float, y: float, depth: float) -> tuple[str, str]:
    """Return the code and what happened, by the feature that the place belongs to."""
    place = shapely.Point(x, y)
    bores = [(bore, disc(bore)) for bore in target.panel.bores]
    within = [bore for bore, shape in bores if shape.contains(place)]
    beside = [bore for bore, shape in bores if shape.distance(place) < bore.diameter_mm / 4]
    for bore in [*within, *beside][:1]:
        asked = f"bore {bore.diameter_mm:.2f} mm wide, {bore.depth_mm:.2f} mm deep"
        if within:
            return "bore-too-deep", f'"{bore.name}", a {asked}, is {depth:.2f} mm deep'
        return "bore-too-wide", f'"{bore.name}", a {asked}, is wider than that'
    for item in target.recesses:
        if item.region.contains(place):
            return (
                "recess-cut-too-deep",
                f'"{item.recess.name}" is {depth:.2f} mm deep, {item.recess.depth_mm:.2f} asked',
            )
    return "gouge", ""


def check_recesses(zone: Zone, target: PanelTarget) -> Iterator[Finding]:
    """Yield findings of recesses that are missing, too shallow, not cleared, or lack a relieved corner."""
    for item in target.recesses:
        yield from _check_recess(zone, target, item)


def _check_recess(zone: Zone, target: PanelTarget, item: RecessTarget) -> Iterator[Finding]:
    evidence, recess, panel = zone.evidence, item.recess, target.panel
    depth = depth_above(recess)
    removed = zone.removed(evidence.setup.stock_top_z_mm - depth)
    radius = _widest(zone, item)
    wanted = item.region.intersection(target.outline).difference(shapely.union_all(target.cutouts))
    if radius > 0.0:
        around = shapely.box(*target.outline.bounds).buffer(4 * radius, join_style="mitre")
        within = wanted.intersection(reachable(around.difference(target.solid(depth, with_bores=False)), radius))
        wanted = within if within.area > 0.0 else wanted
    parts = without_slivers(wanted.difference(removed), LEFTOVER_MM)
    if parts:
        x, y = somewhere_in(parts[0])
        z, _ = evidence.floor_at(x, y)
        got = evidence.setup.stock_top_z_mm - z
        area = sum(part.buffer(LEFTOVER_MM / 2).area for part in parts)
        if area < _NEARLY_ALL * wanted.area:
            code = "leftover"
            message = f"is not cleared: {area:.2f} mm2 left, {recess.depth_mm - got:.2f} mm high"
        elif got < DEPTH_LEVEL_MM:
            code, message = "feature-missing", "is missing: nothing was cut there"
        else:
            code, message = "recess-too-shallow", f"is {got:.2f} mm deep, {recess.depth_mm:.2f} asked"
        yield _told(zone, panel, code, f'"{recess.name}" {message}', x, y, z)
        return
    for x, y in recess.relieved_corners:
        if removed.distance(shapely.Point(x, y)) > CORNER_MM:
            message = f'"{recess.name}": a square corner cannot enter, its corner is not relieved'
            yield _told(zone, panel, "corner-too-tight", message, x, y, None)


def check_bores(zone: Zone, target: PanelTarget) -> Iterator[Finding]:
    """Yield findings of bores that are missing, too shallow or too narrow."""
    setup = zone.evidence.setup
    for bore in target.panel.bores:
        level = setup.spoilboard_z_mm if bore.through else setup.stock_top_z_mm - depth_above(bore)
        removed = zone.removed(level)
        wanted = disc(bore, -min(BORE_MM, bore.diameter_mm / 4))
        if removed.covers(wanted):
            continue
        z, _ = zone.evidence.floor_at(bore.x_mm, bore.y_mm)
        got = setup.stock_top_z_mm - z
        asked = f'"{bore.name}", a bore {bore.diameter_mm:.2f} mm wide, {bore.depth_mm:.2f} mm deep,'
        if got < DEPTH_LEVEL_MM:
            code, message = "bore-missing", f"{asked} is missing"
        elif z > level:
            code, message = "bore-too-shallow", f"{asked} is {got:.2f} mm deep"
        else:
            code, message = "bore-too-narrow", f"{asked} is narrower than that"
        yield _told(zone, target.panel, code, message, bore.x_mm, bore.y_mm, z)


def _widest(zone: Zone, item: RecessTarget) -> float:
    return zone.widest_within(item.region, zone.evidence.setup.stock_top_z_mm - depth_above(item.recess))


def _told(zone: Zone, panel: Panel, code: str, message: str, x: float, y: float, z: float | None) -> Finding:
    return finding(
        code,
        f'panel "{panel.id}": {message} at x {x:.2f} y {y:.2f}',
        file=zone.evidence.programs[-1],
        panel=panel.id,
        x=x,
        y=y,
        z=z,
    )
