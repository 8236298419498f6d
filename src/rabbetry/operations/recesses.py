"""Dados, rabbets, grooves and pockets: which cutter, which way, and how far past the open edges. Works in the panel
frame and hands over in the blank frame."""

from collections.abc import Iterable
from dataclasses import dataclass

import shapely
import shapely.affinity
from shapely.geometry.base import BaseGeometry

from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point, Transform
from rabbetry.geometry.regions import boundary_lines, grown, region_polygon
from rabbetry.operations.bench import Bench, Placed, Planned, Step, smallest
from rabbetry.operations.choose import in_order_of_use, is_as_wide
from rabbetry.operations.model import CentreLine, Clearing
from rabbetry.operations.reach import narrowest_mm, neck_left_by
from rabbetry.operations.run_out import RunOut, run_out, squared
from rabbetry.operations.slots import centre_path, slot_of
from rabbetry.panels.model import CutOut, Recess
from rabbetry.shop.model import Cutter
from rabbetry.tolerances import DEPTH_MM, FIT_MM, WIDTH_MM

AROUND_MM = 1000.0
"""The cutter may go anywhere outside the panel that holds no other part, as far as this; clamps are checked on the
blank."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """One way to cut a recess, panel frame."""

    cutter: Cutter
    work: CentreLine | Clearing
    past: RunOut
    neck: BaseGeometry
    """What stays because it is too narrow; empty when all goes."""


def plan_recess(placed: Placed, recess: Recess, bench: Bench, beside: BaseGeometry) -> Planned:
    """Return the step that cuts a recess, or the finding that says why none can.

    `beside` is the wood of the parts around, blank frame: the cutter runs out only as far as there is room before it.
    """
    panel = placed.panel
    name = f'{panel.id}: {recess.kind} "{recess.name}"'
    if recess.depth_mm >= bench.thickness_mm - DEPTH_MM:
        text = f"{name} would be {recess.depth_mm:.4g} mm deep in {bench.thickness_mm:.4g} mm stock"
        return _refused("recess-too-deep", text + "; make it shallower, or a cut-out", placed, recess)
    around = _around(placed, recess, beside)
    ways = [way for cutter in bench.mills if (way := _way(recess, cutter, around)) is not None]
    if not ways:
        width = narrowest_mm(recess.outline, recess.islands)
        text = f"{name} is {width:.4g} mm wide, too narrow for every loaded cutter ({smallest(bench.mills)})"
        return _refused("recess-too-narrow", text + "; load a smaller one or make it wider", placed, recess)
    way = _best(ways, bench, recess.depth_mm)
    findings = _remarks(placed, recess, way, name, is_alone=beside.is_empty)
    return Planned(steps=(_step(placed, recess, way, bench),), findings=tuple(findings))


def _around(placed: Placed, recess: Recess, beside: BaseGeometry) -> tuple[BaseGeometry, BaseGeometry]:
    """Return the ground without wood, off all panels and in openings, and the other recesses at least as deep."""
    panel = placed.panel
    whole = region_polygon(panel.outline)
    low_x, low_y, high_x, high_y = whole.bounds
    off = shapely.box(low_x - AROUND_MM, low_y - AROUND_MM, high_x + AROUND_MM, high_y + AROUND_MM).difference(whole)
    off = off.difference(shapely.affinity.affine_transform(beside, _matrix_back(placed.blank_from_panel)))
    lower: BaseGeometry = shapely.Polygon()
    for other in panel.features:
        if isinstance(other, CutOut):
            off = off.union(region_polygon(other.outline))
        elif isinstance(other, Recess) and other is not recess and other.depth_mm >= recess.depth_mm - DEPTH_MM:
            lower = lower.union(region_polygon(other.outline, other.islands))
    return off, lower


def _way(recess: Recess, cutter: Cutter, around: tuple[BaseGeometry, BaseGeometry]) -> _Way | None:
    """Return how `cutter` cuts the recess, or None when it does not go in."""
    past = _run_out(recess, cutter, around)
    slot = None if recess.islands else slot_of(past.outline)
    relieved = _inside_corners(recess.relieved_corners, past.outline)
    nothing = shapely.Polygon()
    if slot is not None and is_as_wide(cutter, slot.width_mm):
        path = centre_path(slot, cutter.radius_mm, relieved)
        if path is None:
            return None
        return _Way(cutter=cutter, work=CentreLine(path=path, depth_mm=recess.depth_mm), past=past, neck=nothing)
    clearing = Clearing(
        region=past.outline, islands=recess.islands, depth_mm=recess.depth_mm, relieved_corners=relieved
    )
    if slot is not None and not slot.round_ends:
        fits = slot.width_mm > cutter.cut_diameter_mm + WIDTH_MM
        return _Way(cutter=cutter, work=clearing, past=past, neck=nothing) if fits else None
    neck = neck_left_by(cutter.radius_mm, past.outline, recess.islands, wanted=recess.outline)
    return None if neck is None else _Way(cutter=cutter, work=clearing, past=past, neck=neck)


def _run_out(recess: Recess, cutter: Cutter, around: tuple[BaseGeometry, BaseGeometry]) -> RunOut:
    """Return the run-out over whole open segments when that leaves a plain slot, else over every open stretch.

    A groove that passes a notch is open along a part of its wall there; cut as a plain slot it needs no widening.
    """
    off, lower = around
    diameter_mm = cutter.cut_diameter_mm
    if not recess.islands:
        plain = run_out(squared(recess.outline, off), off=off, lower=lower, diameter_mm=diameter_mm, whole_only=True)
        if slot_of(plain.outline) is not None and not plain.cramped:
            return plain
    past = run_out(recess.outline, off=off, lower=lower, diameter_mm=diameter_mm, islands=recess.islands)
    if past.blocked is not None and _is_cut_without(recess, cutter.radius_mm, off):
        return RunOut(outline=recess.outline, beyond=shapely.Polygon(), blocked=None, cramped=False)
    return past


def _is_cut_without(recess: Recess, radius_mm: float, off: BaseGeometry) -> bool:
    """Tell whether a cutter that stays within the recess leaves no wood at its open edges, as where the edge runs
    through an opening too small to run out in."""
    region = region_polygon(recess.outline, recess.islands)
    left = region.difference(grown(grown(region, -radius_mm), radius_mm + FIT_MM)).difference(off)
    return all(piece.distance(off) > FIT_MM for piece in getattr(left, "geoms", [left]) if not piece.is_empty)


def _inside_corners(relieved: Iterable[Point], outline: Contour) -> tuple[Point, ...]:
    """Return the relieved corners that are still corners after the run-out."""
    corners = [segment.start for segment in outline.segments]
    return tuple(point for point in relieved if any(point.distance(corner) <= FIT_MM for corner in corners))


def _best(ways: list[_Way], bench: Bench, depth_mm: float) -> _Way:
    """Prefer a cutter as wide as the slot, then one that reaches everywhere, in the order of use; else the smallest."""
    by_number = {way.cutter.number: way for way in ways if way.past.blocked is None}
    by_number = by_number or {way.cutter.number: way for way in ways}
    order = in_order_of_use((way.cutter for way in by_number.values()), profile=bench.profile, depth_mm=depth_mm)
    ranked = [by_number[cutter.number] for cutter in order]
    whole = [way for way in ranked if way.neck.is_empty]
    slots = [way for way in whole if isinstance(way.work, CentreLine)]
    if slots or whole:
        return (slots or whole)[0]
    return min(ranked, key=lambda way: (way.cutter.cut_diameter_mm, way.cutter.number))


def _remarks(placed: Placed, recess: Recess, way: _Way, name: str, *, is_alone: bool) -> list[Finding]:
    findings = []
    if way.past.blocked is not None:
        at = placed.blank_from_panel(way.past.blocked)
        text = f"{name} is open at the panel's edge, but cutter {way.cutter.number} cannot run out there"
        text += "" if is_alone else "; put more space between the parts, or to the clamp, or load a narrower cutter"
        findings.append(finding("run-out-in-part", text, panel=placed.panel.id, x=at.x, y=at.y))
    if not way.neck.is_empty:
        place = way.neck.representative_point()
        at = placed.blank_from_panel(Point(place.x, place.y))
        text = f"{name}: {way.neck.area:.0f} mm2 are too narrow for cutter {way.cutter.number} and stay"
        findings.append(finding("recess-neck", text, panel=placed.panel.id, x=at.x, y=at.y))
    return findings


def _step(placed: Placed, recess: Recess, way: _Way, bench: Bench) -> Step:
    move = placed.blank_from_panel
    if isinstance(way.work, CentreLine):
        path = way.work.path.moved(move)
        work: CentreLine | Clearing = CentreLine(path=path, depth_mm=recess.depth_mm)
        ground, reach_mm = boundary_lines((path,)), way.cutter.radius_mm
    else:
        region = way.work.region.moved(move)
        islands = tuple(island.moved(move) for island in way.work.islands)
        corners = tuple(move(corner) for corner in way.work.relieved_corners)
        work = Clearing(
            region=region,
            islands=islands,
            depth_mm=recess.depth_mm,
            relieved_corners=corners,
            climb=bench.climbs,
        )
        # A relief bites (1 - 1/sqrt 2) of the radius past the corner's walls.
        ground, reach_mm = region_polygon(region, islands), 0.3 * way.cutter.radius_mm if corners else 0.0
    return Step(
        operation=bench.operation(placed, recess.name, work, way.cutter),
        ground=ground,
        reach_mm=reach_mm,
        run_out=shapely.affinity.affine_transform(way.past.beyond, _matrix(move)),
    )


def _matrix(move: Transform) -> list[float]:
    return [move.a, move.b, move.c, move.d, move.tx, move.ty]


def _matrix_back(move: Transform) -> list[float]:
    """Return the matrix of the way back; a move that only turns and shifts is undone by its transpose."""
    turn_back = [move.a, move.c, move.b, move.d]
    return [*turn_back, -(move.a * move.tx + move.c * move.ty), -(move.b * move.tx + move.d * move.ty)]


def _refused(code: str, message: str, placed: Placed, recess: Recess) -> Planned:
    at = placed.blank_from_panel(recess.outline.start)
    return Planned(findings=(finding(code, message, panel=placed.panel.id, x=at.x, y=at.y),))
