"""Holes: a drill of the hole's diameter, else a spiral with a smaller end mill whose flutes reach, or a pocket where
the hole is wider than two cutters, else an end mill of the hole's own diameter, straight down."""

from collections.abc import Iterable
from typing import NamedTuple

from shapely.geometry import MultiPoint

from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import circle
from rabbetry.geometry.points import Point
from rabbetry.operations.bench import Bench, Placed, Planned, Step, smallest
from rabbetry.operations.choose import in_order_of_use, is_as_wide
from rabbetry.operations.model import Clearing, Drilling, SpiralBore, Work
from rabbetry.panels.model import Bore
from rabbetry.shop.model import Cutter
from rabbetry.tolerances import DEPTH_MM, WIDTH_MM

LEAST_HELIX = 0.1
"""Least radius of a helix as a share of the cutter's diameter (common practice, no source)."""


class _Size(NamedTuple):
    """Holes of one panel that are bored alike."""

    diameter_mm: float
    depth_mm: float
    through: bool


def plan_bores(placed: Placed, bores: Iterable[Bore], bench: Bench) -> Planned:
    """Return one step for all holes of one diameter and depth (one for each where they must be pocketed)."""
    groups: dict[_Size, list[Bore]] = {}
    for bore in bores:
        depth = bench.through_depth_mm if bore.through else bore.depth_mm
        groups.setdefault(_Size(bore.diameter_mm, depth, bore.through), []).append(bore)
    steps: list[Step] = []
    findings: list[Finding] = []
    for size in sorted(groups):
        holes = groups[size]
        if not size.through and size.depth_mm >= bench.thickness_mm - DEPTH_MM:
            depths = f"{size.depth_mm:.4g} mm deep in {bench.thickness_mm:.4g} mm stock"
            text = f"{_named(placed, size, holes)} would be {depths}"
            findings.append(_told("hole-too-deep", text + "; make it through or shallower", placed, holes[0]))
            continue
        cutter = _cutter_for(size, bench)
        if cutter is None:
            text = f"{_named(placed, size, holes)} cannot be bored: {smallest(bench.cutters)}"
            findings.append(_told("hole-too-small", text, placed, holes[0]))
            continue
        if not cutter.is_drill and is_as_wide(cutter, size.diameter_mm):
            text = f"{_named(placed, size, holes)} plunged with end mill {cutter.number} of its own diameter: heat"
            findings.append(_told("plunged-end-mill", text + "; listen, and let it cool", placed, holes[0]))
        steps.extend(_steps(placed, size, holes, cutter, bench))
    return Planned(steps=tuple(steps), findings=tuple(findings))


def _cutter_for(size: _Size, bench: Bench) -> Cutter | None:
    """Return the drill of that diameter, else the best smaller end mill whose flutes reach, else one of that diameter
    that may go straight in and reaches, else whatever is nearest, for the checks to judge."""
    same = [cutter for cutter in bench.drills if is_as_wide(cutter, size.diameter_mm)]
    if same:
        return min(same, key=lambda cutter: (abs(cutter.cut_diameter_mm - size.diameter_mm), cutter.number))
    smaller = [cutter for cutter in bench.mills if cutter.cut_diameter_mm < size.diameter_mm - WIDTH_MM]
    equal = [cutter for cutter in bench.mills if cutter.centre_cutting and is_as_wide(cutter, size.diameter_mm)]
    if able := _reaching(smaller, size) or (not _reaching(equal, size) and smaller):
        wide = size.diameter_mm > 2 * max(cutter.cut_diameter_mm for cutter in able)
        if wide:
            return in_order_of_use(able, profile=bench.profile, depth_mm=size.depth_mm)[0]
        # A helix hardly wider than the cutter is a plunge in disguise: taken only when no other cutter is smaller.
        return max(able, key=lambda cutter: (_turns_freely(cutter, size), cutter.cut_diameter_mm, -cutter.number))
    return next(iter(_reaching(equal, size) or equal), None)


def _reaching(mills: list[Cutter], size: _Size) -> list[Cutter]:
    return [cutter for cutter in mills if cutter.flute_length_mm >= size.depth_mm - DEPTH_MM]


def _turns_freely(cutter: Cutter, size: _Size) -> bool:
    return (size.diameter_mm - cutter.cut_diameter_mm) / 2 >= LEAST_HELIX * cutter.cut_diameter_mm


def _steps(placed: Placed, size: _Size, holes: list[Bore], cutter: Cutter, bench: Bench) -> list[Step]:
    """A spiral leaves a core in a hole wider than two cutters, so such a hole is pocketed."""
    centres = tuple(placed.blank_from_panel(hole.centre) for hole in holes)
    if cutter.is_drill or is_as_wide(cutter, size.diameter_mm):
        drilling = Drilling(centres=centres, depth_mm=size.depth_mm)
        return [_step(placed, _label(size, holes), drilling, size, cutter, bench)]
    if size.diameter_mm <= 2 * cutter.cut_diameter_mm:
        spiral = SpiralBore(centres=centres, diameter_mm=size.diameter_mm, depth_mm=size.depth_mm, climb=bench.climbs)
        return [_step(placed, _label(size, holes), spiral, size, cutter, bench)]
    steps = []
    for hole, centre in zip(holes, centres, strict=True):
        region = circle(centre, size.diameter_mm / 2)
        cleared = Clearing(region=region, islands=(), depth_mm=size.depth_mm, climb=bench.climbs)
        steps.append(_step(placed, hole.name, cleared, size, cutter, bench, centre=centre))
    return steps


def _step(
    placed: Placed, label: str, work: Work, size: _Size, cutter: Cutter, bench: Bench, *, centre: Point | None = None
) -> Step:
    centres = work.centres if isinstance(work, Drilling | SpiralBore) else (centre,)
    return Step(
        operation=bench.operation(placed, label, work, cutter),
        ground=MultiPoint([(point.x, point.y) for point in centres if point]),
        reach_mm=size.diameter_mm / 2,
    )


def _label(size: _Size, holes: list[Bore]) -> str:
    """Name a group: the hole's own name when it is alone, else count, purpose and size."""
    if len(holes) == 1:
        return holes[0].name
    purposes = " and ".join(sorted({hole.purpose for hole in holes}))
    depth = "through" if size.through else f"{size.depth_mm:g} deep"
    return f"{len(holes)} {purposes} holes {size.diameter_mm:g} mm, {depth}"


def _named(placed: Placed, size: _Size, holes: list[Bore]) -> str:
    more = f" and {len(holes) - 1} like it" if len(holes) > 1 else ""
    return f'{placed.panel.id}: hole "{holes[0].name}"{more}, {size.diameter_mm:g} mm,'


def _told(code: str, message: str, placed: Placed, hole: Bore) -> Finding:
    at = placed.blank_from_panel(hole.centre)
    return finding(code, message, panel=placed.panel.id, x=at.x, y=at.y)
