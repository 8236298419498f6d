"""Whether each part is cut free all round, and still held: tabs and skins.

A ring at the cutter's radius from the outline is where a profile's centre line runs. What is left of that ring at the
spoilboard are the tabs, at their narrowest, which is their length.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.evidence import Zone, reachable, somewhere_in, without_slivers
from rabbetry.dryrun.setup import Hold
from rabbetry.dryrun.target import PanelTarget, skin_levels
from rabbetry.dryrun.tolerances import DEPTH_LEVEL_MM, TAB_LONGER_MM, TAB_SHORTER_MM
from rabbetry.findings import Finding, finding

_BESIDE_MM = 0.2
"""A cut this near to the outline made it."""
_STRIP_MM = 0.5
"""Width of the strip along the edge that is looked at."""
_SPECK_MM = 0.05
"""Shorter remains of the ring come from flattened arcs."""
_LONGEST_TAB = 3.0
"""What is left over more than this many tab lengths is no tab."""
_LOOSE_MM2 = 25.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """An outline or the edge of an opening, with the side on which the cutter runs."""

    what: str
    shape: Polygon
    hold: Hold
    inside: bool


def check_holding(zone: Zone, target: PanelTarget) -> Iterator[Finding]:
    """Yield findings of a panel's outline and openings that are not cut free, or not held as asked."""
    panel = target.panel
    if panel.hold.kind == "uncut":
        return
    outline = _Edge(what="the outline", shape=target.outline, hold=panel.hold, inside=False)
    yield from _check_edge(zone, panel.id, outline)
    for cutout, shape in zip(panel.cutouts, target.cutouts, strict=True):
        edge = _Edge(what=f'opening "{cutout.name}"', shape=shape, hold=cutout.hold, inside=True)
        yield from _check_edge(zone, panel.id, edge)


def _check_edge(zone: Zone, panel: str, edge: _Edge) -> Iterator[Finding]:
    setup = zone.evidence.setup
    # The cutter that cuts the part out goes deepest; one that only clears a recess may run out beside the edge.
    levels = (setup.spoilboard_z_mm + edge.hold.height_mm + DEPTH_LEVEL_MM, setup.stock_top_z_mm)
    radii = (zone.widest_beside(edge.shape.exterior, level, _BESIDE_MM) for level in levels)
    radius = next((radius for radius in radii if radius > 0.0), 0.0)
    if radius == 0.0:
        x, y = edge.shape.exterior.coords[0]
        yield _told(zone, panel, "outline-not-cut", f"{edge.what} is not cut: no cutter went along it", (x, y))
        return
    ring = edge.shape.buffer(-radius if edge.inside else radius).boundary
    if ring.is_empty:
        gone = zone.removed(setup.spoilboard_z_mm)
        for part in without_slivers(edge.shape.difference(gone))[:1]:
            yield _told(zone, panel, "not-cut-free", f"{edge.what} is not cut through", somewhere_in(part))
        return
    if edge.hold.kind == "skin":
        if edge.inside and _is_dust(zone, edge, radius):
            return
        top = skin_levels(edge.hold, setup)[1]
        uncut = _lines(ring.difference(zone.removed(top)))
        if uncut:
            yield _not_free(zone, panel, edge, uncut, ring)
            return
        yield from _check_skin(zone, panel, edge, ring)
        yield from _check_strip(zone, panel, edge, radius, top, [])
        return
    left = _lines(ring.difference(zone.removed(setup.spoilboard_z_mm)))
    uncut = [line for line in left if line.length > edge.hold.length_mm * _LONGEST_TAB + TAB_LONGER_MM]
    if uncut:
        yield _not_free(zone, panel, edge, uncut, ring)
        return
    yield from _check_tabs(zone, panel, edge, left)
    yield from _check_strip(zone, panel, edge, radius, setup.spoilboard_z_mm, left)
    if edge.inside and not left:
        yield from _check_waste(zone, panel, edge)


def _is_dust(zone: Zone, edge: _Edge, radius: float) -> bool:
    """Tell whether the whole of an opening was cut away: nothing is left in it that a skin could hold."""
    inner = edge.shape.buffer(-radius)
    return not without_slivers(inner.difference(zone.removed(zone.evidence.setup.spoilboard_z_mm)))


def _lines(shape: BaseGeometry) -> list[LineString]:
    """Return the connected pieces of what is left of a ring, specks dropped, in order of place."""
    merged = shapely.line_merge(shapely.union_all([part for part in shapely.get_parts(shape) if part.length > 0.0]))
    lines = [part for part in shapely.get_parts(merged) if part.length > _SPECK_MM]
    return sorted(lines, key=lambda line: line.bounds)


def _not_free(zone: Zone, panel: str, edge: _Edge, uncut: list[LineString], ring: BaseGeometry) -> Finding:
    longest = max(uncut, key=lambda line: line.length)
    x, y, left = _height_on(zone, longest)
    length = sum(line.length for line in uncut)
    message = f"{edge.what} is not cut free, {left:.2f} mm left over {length:.0f} of {ring.length:.0f} mm"
    return _told(zone, panel, "not-cut-free", message, (x, y))


def _height_on(zone: Zone, line: LineString) -> tuple[float, float, float]:
    """Return the middle of a piece and how high the wood stands there above the spoilboard."""
    middle = line.interpolate(0.5, normalized=True)
    z, _ = zone.evidence.floor_at(middle.x, middle.y)
    return middle.x, middle.y, z - zone.evidence.setup.spoilboard_z_mm


def _check_tabs(zone: Zone, panel: str, edge: _Edge, tabs: list[LineString]) -> Iterator[Finding]:
    hold = edge.hold
    if len(tabs) < hold.at_least:
        held = f"{len(tabs)} tabs hold it" if tabs else "no tab holds it"
        place = (tabs[0] if tabs else edge.shape.exterior).coords[0]
        message = f"{edge.what}: {held}, {hold.at_least} or more asked"
        yield _told(zone, panel, "tabs-missing", message, (place[0], place[1]))
    if len(tabs) > hold.at_most:
        message = f"{edge.what}: {len(tabs)} tabs, at most {hold.at_most} asked"
        yield _told(zone, panel, "tabs-too-many", message, tabs[0].coords[0][:2])
    for tab in tabs:
        x, y, height = _height_on(zone, tab)
        size = f"a tab {tab.length:.2f} mm long and {height:.2f} mm high"
        asked = f"{hold.length_mm:.2f} by {hold.height_mm:.2f} asked"
        if tab.length > hold.length_mm + TAB_LONGER_MM or height > hold.height_mm + DEPTH_LEVEL_MM:
            yield _told(zone, panel, "tab-too-big", f"{edge.what}: {size}, {asked}", (x, y))
        elif tab.length < hold.length_mm - TAB_SHORTER_MM or height < hold.height_mm - DEPTH_LEVEL_MM:
            yield _told(zone, panel, "tab-too-small", f"{edge.what}: {size}, {asked}", (x, y))
        else:
            yield from _check_tab_ends(zone, panel, edge, tab)


def _check_tab_ends(zone: Zone, panel: str, edge: _Edge, tab: LineString) -> Iterator[Finding]:
    """Yield a finding where a tab that is long enough is thinned at an end: only wood of full height counts."""
    hold, setup = edge.hold, zone.evidence.setup
    spare = tab.length - (hold.length_mm - TAB_SHORTER_MM)
    for place in (tab.interpolate(spare), tab.interpolate(tab.length - spare)):
        height = zone.evidence.floor_at(place.x, place.y)[0] - setup.spoilboard_z_mm
        if height < hold.height_mm - DEPTH_LEVEL_MM:
            size = f"a tab {tab.length:.2f} mm long is only {height:.2f} mm high at an end"
            asked = f"{hold.height_mm:.2f} over {hold.length_mm:.2f} asked"
            yield _told(zone, panel, "tab-too-small", f"{edge.what}: {size}, {asked}", (place.x, place.y))
            return


def _check_skin(zone: Zone, panel: str, edge: _Edge, ring: BaseGeometry) -> Iterator[Finding]:
    bottom, _ = skin_levels(edge.hold, zone.evidence.setup)
    cut = _lines(ring.intersection(zone.removed(bottom)))
    if cut:
        x, y, height = _height_on(zone, cut[0])
        message = (
            f"{edge.what}: the skin that holds it is {max(height, 0.0):.2f} mm thick, {edge.hold.height_mm:.2f} asked"
        )
        yield _told(zone, panel, "skin-missing", message, (x, y))


def _check_strip(
    zone: Zone, panel: str, edge: _Edge, radius: float, level_z: float, tabs: list[LineString]
) -> Iterator[Finding]:
    """Yield a finding where wood is left against the edge although the ring is cut: a path too far away, a part too
    big."""
    shape, width = edge.shape, min(_STRIP_MM, radius)
    if edge.inside:
        strip, free = shape.difference(shape.buffer(-width)), shape
    else:
        around = shapely.box(*shape.bounds).buffer(4 * radius, join_style="mitre")
        strip, free = shape.buffer(width).difference(shape), around.difference(shape)
    wanted = strip.intersection(reachable(free, radius))
    held = [tab.buffer(1.5 * radius + width) for tab in tabs]
    left = wanted.difference(zone.removed(level_z)).difference(shapely.union_all(held))
    for part in without_slivers(left):
        x, y = somewhere_in(part)
        height = zone.evidence.floor_at(x, y)[0] - zone.evidence.setup.spoilboard_z_mm
        if edge.hold.kind == "tabs" and height <= edge.hold.height_mm + DEPTH_LEVEL_MM:
            message = f"{edge.what}: a tab {height:.2f} mm high holds nothing, another cut has gone through it"
            yield _told(zone, panel, "tab-cut-off", message, (x, y))
        else:
            message = f"{edge.what}: wood is left against the edge, {part.area:.2f} mm2, {height:.2f} mm high"
            yield _told(zone, panel, "leftover", message, (x, y))


def _check_waste(zone: Zone, panel: str, edge: _Edge) -> Iterator[Finding]:
    waste = edge.shape.difference(zone.removed(zone.evidence.setup.spoilboard_z_mm))
    for part in without_slivers(waste)[:1]:
        if part.area > _LOOSE_MM2:
            message = f"{edge.what}: the piece inside comes loose, no tab holds it"
            yield _told(zone, panel, "loose-waste", message, somewhere_in(part))


def _told(zone: Zone, panel: str, code: str, message: str, place: tuple[float, float]) -> Finding:
    x, y = place[0], place[1]
    return finding(
        code,
        f'panel "{panel}": {message} at x {x:.2f} y {y:.2f}',
        file=zone.evidence.programs[-1],
        panel=panel,
        x=x,
        y=y,
        z=zone.evidence.setup.spoilboard_z_mm,
    )
