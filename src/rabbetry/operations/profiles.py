"""Through cuts along an outline: openings, whose waste is held or cleared away, and the parts' own outlines."""

import math
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import region_polygon
from rabbetry.job.model import Cutting
from rabbetry.operations.bench import Bench, Placed, Planned, Step, smallest
from rabbetry.operations.choose import in_order_of_use, is_as_wide
from rabbetry.operations.hold import holding
from rabbetry.operations.model import CentreLine, Clearing, Profile
from rabbetry.operations.reach import narrowest_mm, neck_left_by, notch_closed_to
from rabbetry.operations.slots import centre_path, slot_of
from rabbetry.panels.model import CutOut, Panel, Recess
from rabbetry.shop.model import Cutter
from rabbetry.tolerances import DEPTH_MM

OUTLINE = "outline"
"""Name of the step that cuts a part free: `B3 left side: outline`."""
CLEARED_DIAMETERS = 4.0
"""An opening up to this many cutter diameters wide is turned into dust: its waste would be too small to hold."""
FINISH_SHARE = 1 / 12
"""Of the cutter's radius: a lap that takes no more off the side is hardly pushed aside by it (common practice)."""
LEAST_FINISH_MM = 0.05
"""Less is rubbed rather than cut (common practice)."""


def plan_cut_out(placed: Placed, opening: CutOut, bench: Bench) -> Planned:
    """Return the step that makes an opening: a slot as wide as the cutter on its middle line, else cleared when it is
    small, else a profile inside with its waste held."""
    outline = opening.outline.moved(placed.blank_from_panel)
    cutter = _cutter_for(opening, bench)
    width = narrowest_mm(opening.outline)
    if cutter is None:
        text = (
            f'{placed.panel.id}: opening "{opening.name}", {width:.4g} mm at its widest, is narrower than every loaded '
            f"cutter or has a neck that is ({smallest(bench.mills)})"
        )
        return Planned(findings=(_told("cut-out-too-narrow", text, placed, outline.start),))
    slot = slot_of(outline)
    path = centre_path(slot, cutter.radius_mm, ()) if slot is not None and _is_cut_at_once(opening, cutter) else None
    if path is not None:
        work: CentreLine | Clearing | Profile = CentreLine(path=path, depth_mm=bench.through_depth_mm)
        findings: tuple[Finding, ...] = ()
    elif width <= CLEARED_DIAMETERS * cutter.cut_diameter_mm:
        work = Clearing(region=outline, islands=(), depth_mm=bench.through_depth_mm, climb=bench.climbs)
        findings = ()
    else:
        work, findings = _held(placed, opening.name, outline, inside=True, cutter=cutter, bench=bench)
    operation = bench.operation(placed, opening.name, work, cutter)
    return Planned(steps=(Step(operation=operation, ground=region_polygon(outline), reach_mm=0.0),), findings=findings)


def _cutter_for(opening: CutOut, bench: Bench) -> Cutter | None:
    """Return the first cutter, in the order of use, that goes everywhere; long enough flutes before others."""
    fitting = []
    for cutter in in_order_of_use(bench.mills, profile=bench.profile, depth_mm=bench.through_depth_mm):
        neck = neck_left_by(cutter.radius_mm, opening.outline, wanted=opening.outline)
        if (neck is not None and neck.is_empty) or _is_cut_at_once(opening, cutter):
            fitting.append(cutter)
    long_enough = [cutter for cutter in fitting if cutter.flute_length_mm >= bench.thickness_mm - DEPTH_MM]
    return next(iter(long_enough or fitting), None)


def _is_cut_at_once(opening: CutOut, cutter: Cutter) -> bool:
    """Tell whether the opening is a round-ended slot just as wide as the cutter: one way along its middle makes it."""
    slot = slot_of(opening.outline)
    return slot is not None and slot.round_ends and is_as_wide(cutter, slot.width_mm)


def plan_outline(placed: Placed, bench: Bench, cutter: Cutter, beside: BaseGeometry) -> Planned:
    """Return the step that cuts a part free, with remarks on small parts, few tabs and notches that stay closed.

    `beside` is the wood of the parts around, blank frame.
    """
    work, told = _held(placed, OUTLINE, placed.outline, inside=False, cutter=cutter, bench=bench)
    room_mm = _room_mm(placed, bench, cutter, beside)
    work = replace(work, finish_mm=_allowance(cutter, bench, room_mm), weak=_weak(placed))
    findings = list(told)
    panel = placed.panel
    ground = region_polygon(placed.outline)
    if is_small(panel, bench.cutting):
        text = (
            f"{panel.id} is only {min(panel.length_mm, panel.width_mm):.4g} mm wide "
            f"(under {bench.cutting.small_part_mm:g} mm): hold it well; it is cut before the larger parts"
        )
        findings.append(_told("small-part", text, placed, placed.outline.start))
    notch = notch_closed_to(cutter.radius_mm, placed.outline)
    if not notch.is_empty:
        place = notch.representative_point()
        text = (
            f"{panel.id}: a notch in the outline is narrower than profile cutter {cutter.number} "
            f"({cutter.cut_diameter_mm:.4g} mm) and would stay closed"
        )
        findings.append(_told("notch-too-narrow", text, placed, Point(place.x, place.y)))
    operation = bench.operation(placed, OUTLINE, work, cutter)
    step = Step(operation=operation, ground=ground, reach_mm=cutter.cut_diameter_mm + work.finish_mm)
    return Planned(steps=(step,), findings=tuple(findings))


def _weak(placed: Placed) -> BaseGeometry | None:
    """Return the dados, rabbets and pockets of a part, blank frame."""
    move = placed.blank_from_panel
    recesses = [feature.outline.moved(move) for feature in placed.panel.features if isinstance(feature, Recess)]
    return shapely.union_all([region_polygon(outline) for outline in recesses]) if recesses else None


def _allowance(cutter: Cutter, bench: Bench, room_mm: float = math.inf) -> float:
    """Return what roughing leaves on the edge: what is asked, as far as a lap that takes it off is no pass of its own
    and the kerf, wider by it, keeps off the next part; 0 where the flutes do not reach."""
    if bench.cutting.finish == "none" or cutter.flute_length_mm < bench.through_depth_mm - DEPTH_MM:
        return 0.0
    most = min(bench.cutting.finish_mm, cutter.radius_mm * FINISH_SHARE, room_mm)
    return most if most >= LEAST_FINISH_MM else 0.0


def _room_mm(placed: Placed, bench: Bench, cutter: Cutter, beside: BaseGeometry) -> float:
    """Return how much wider a part's kerf could be before it reached the next part, a clamp's margin or the end of an
    axis; may be negative."""
    machine, shape = bench.machine, region_polygon(placed.outline)
    rooms = [] if beside.is_empty else [float(shape.distance(beside)) - cutter.cut_diameter_mm]
    for clamp in machine.clamps:
        box = shapely.box(clamp.x_mm, clamp.y_mm, clamp.x_mm + clamp.length_x_mm, clamp.y_mm + clamp.length_y_mm)
        rooms.append(float(shape.distance(box)) - cutter.cut_diameter_mm - machine.clamp_margin_mm)
    bounds = placed.outline.bounds
    for axis in (0, 1):
        low, high = (
            limit[axis] - machine.blank_origin_mm[axis] for limit in (machine.travel_min_mm, machine.travel_max_mm)
        )
        rooms += [bounds[axis] - cutter.radius_mm - low, high - bounds[axis + 2] - cutter.radius_mm]
    return min(rooms)


def is_small(panel: Panel, cutting: Cutting) -> bool:
    """Tell whether a part's shorter side is under the setting for small parts."""
    return min(panel.length_mm, panel.width_mm) < cutting.small_part_mm


def _held(
    placed: Placed, name: str, outline: Contour, *, inside: bool, cutter: Cutter, bench: Bench
) -> tuple[Profile, tuple[Finding, ...]]:
    """Return the profile cut with its tabs or skin, and a warning when there are fewer tabs than asked."""
    hold = holding(outline, inside=inside, cutter=cutter, cutting=bench.cutting)
    profile = Profile(
        outline=outline,
        inside=inside,
        depth_mm=bench.through_depth_mm,
        thickness_mm=bench.thickness_mm,
        climb=bench.climbs,
        tab_count=hold.tab_count,
        tab_length_mm=hold.tab_length_mm,
        tab_height_mm=hold.tab_height_mm,
        skin_mm=hold.skin_mm,
        finish_mm=_allowance(cutter, bench),
        own_finish=bench.cutting.finish == "own pass",
    )
    if hold.tab_count >= hold.asked:
        return profile, ()
    text = (
        f"{placed.panel.id}: {name} has {hold.tab_count} of the {hold.asked} tabs asked, "
        "so that the last pass reaches full depth on half the way round"
    )
    return profile, (_told("tabs-fewer", text, placed, outline.start),)


def _told(code: str, message: str, placed: Placed, at: Point) -> Finding:
    return finding(code, message, panel=placed.panel.id, x=at.x, y=at.y)
