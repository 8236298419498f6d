"""A bench for motions: operations made by hand, and a second, independent look at what the motions cut.

The look knows only motions and shapely: it shares no path arithmetic with the planner.
"""

import math
from dataclasses import replace

from shapely import unary_union
from shapely.geometry import LineString, Point

from rabbetry.feeds.model import FeedChoice
from rabbetry.motions.model import ArcFeed, DrillHole, Feed, Planned, Traverse
from rabbetry.motions.plan import plan_motions
from rabbetry.operations.model import Operation, SheetPlan
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Clamp, Cutter, CutterKind, Machine

QUARTER = Cutter(number=1, name="1/4 in", kind=CutterKind.END_MILL, diameter_mm=6.35, flutes=2, flute_length_mm=25.4)
BLUNT = replace(QUARTER, number=4, name="1/4 in, not centre cutting", centre_cutting=False)
EIGHTH = Cutter(number=2, name="1/8 in", kind=CutterKind.END_MILL, diameter_mm=3.175, flutes=2, flute_length_mm=16.0)
DRILL = Cutter(number=3, name="5 mm drill", kind=CutterKind.DRILL, diameter_mm=5.0, flutes=2, flute_length_mm=40.0)

MACHINE = Machine(
    name="bench",
    title="bench",
    travel_min_mm=(0.0, 0.0, -100.0),
    travel_max_mm=(1300.0, 1300.0, 0.0),
    blank_origin_mm=(10.0, 20.0),
    spoilboard_z_mm=-90.0,
    bed_mm=(1250.0, 1250.0),
    max_rate_mm_per_min=(5000.0, 4000.0, 2000.0),
    acceleration_mm_per_s2=(400.0, 300.0, 200.0),
    spindle_min_rpm=8000.0,
    spindle_max_rpm=24000.0,
    spindle_power_kw=1.5,
    spindle_by_hand=False,
    clamps=(Clamp(name="left", x_mm=0.0, y_mm=0.0, length_x_mm=40.0, length_y_mm=20.0, height_mm=12.0),),
)
SHEET = Sheet(
    id="birch-18-01",
    stock="birch-18",
    thickness_mm=17.8,
    thickness_is_measured=True,
    blank_x_mm=1220.0,
    blank_y_mm=1210.0,
    grain_along_x=True,
    has_grain=True,
    trim_mm=0.0,
    placements=(),
    offcuts=(),
)


def feed_for(cutter: Cutter) -> FeedChoice:
    return FeedChoice(
        cutter=cutter.number,
        stock="birch-18",
        material="plywood",
        rpm=18000.0,
        dial="",
        feed_mm_per_min=3000.0,
        plunge_mm_per_min=700.0,
        ramp_mm_per_min=1500.0,
        chip_load_mm_per_tooth=0.08,
        chart_low_mm_per_tooth=0.1,
        chart_high_mm_per_tooth=0.2,
        pass_mm=cutter.pass_limit_mm,
        engagement_mm=cutter.diameter_mm,
        power_kw=0.2,
        surface_m_per_min=359.0,
        decided_by="chart",
    )


def operation(
    work, cutter: Cutter = QUARTER, *, pass_mm: float | None = None, kind: str = "pocket", **more
) -> Operation:
    settings = {"name": "A1 side: work", "panel": "A1 side", "ramp_deg": 3.0, "stepover_mm": 0.45 * cutter.diameter_mm}
    return Operation(
        kind=kind,
        cutter=cutter,
        feed=feed_for(cutter),
        pass_mm=pass_mm or cutter.pass_limit_mm,
        work=work,
        **(settings | more),
    )


def planned(*operations: Operation, machine: Machine = MACHINE, sheet: Sheet = SHEET) -> Planned:
    return plan_motions(
        SheetPlan(sheet=sheet.id, operations=operations), sheet=sheet, machine=machine, job_name="bench job"
    )


def motions_of(result: Planned) -> list:
    return [motion for run in result.plan.runs for step in run.steps for motion in step.motions]


def cut_by(work, cutter: Cutter = QUARTER, **settings) -> list:
    """Return the motions of one operation that must give no finding and keep every rule."""
    result = planned(operation(work, cutter, **settings))
    assert result.findings == ()
    check_rules(result)
    return motions_of(result)


def strokes(motions):
    """Yield (motion, start point, end point) with three coordinates each, after the first motion."""
    here = None
    for motion in motions:
        there = (motion.x, motion.y, motion.clear_z if isinstance(motion, DrillHole) else motion.z)
        if here is not None:
            yield motion, here, there
        here = there


def plan_path(motion, start) -> LineString:
    """Return the motion's path in plan, arcs in chords within 0.0005 mm."""
    if not isinstance(motion, ArcFeed):
        return LineString([start[:2], (motion.x, motion.y)])
    first = math.atan2(start[1] - motion.cy, start[0] - motion.cx)
    radius = math.hypot(start[0] - motion.cx, start[1] - motion.cy)
    sweep = (math.atan2(motion.y - motion.cy, motion.x - motion.cx) - first) * motion.turn % (2 * math.pi)
    steps = max(2, math.ceil(sweep / (2 * math.acos(1 - min(0.5, 0.0005 / radius)))))
    angles = [first + motion.turn * sweep * k / steps for k in range(steps + 1)]
    return LineString([(motion.cx + radius * math.cos(a), motion.cy + radius * math.sin(a)) for a in angles])


def swept_below(motions, cutter: Cutter, z: float):
    """Return the area the cutter covers while its tip is at or below `z` throughout a motion, or at a drilled hole's
    end."""
    areas = [
        plan_path(motion, start).buffer(cutter.radius_mm, quad_segs=64)
        for motion, start, end in strokes(motions)
        if isinstance(motion, Feed | ArcFeed) and max(start[2], end[2]) <= z + 1e-9
    ]
    holes = [motion for motion in motions if isinstance(motion, DrillHole) and motion.z <= z + 1e-9]
    return unary_union(areas + [Point(hole.x, hole.y).buffer(cutter.radius_mm, quad_segs=64) for hole in holes])


def touched(motions, cutter: Cutter, z: float = -1e-9):
    """Return the area the cutter covers with its tip below `z` at any moment of a motion."""
    areas = [
        plan_path(motion, start).buffer(cutter.radius_mm, quad_segs=64)
        for motion, start, end in strokes(motions)
        if isinstance(motion, Feed | ArcFeed) and min(start[2], end[2]) < z
    ]
    return unary_union(areas)


def check_rules(result: Planned) -> None:
    """Hold every step against the rules that hold for all motions."""
    plan = result.plan
    for run in plan.runs:
        for step in run.steps:
            first, last = step.motions[0], step.motions[-1]
            assert isinstance(first, Traverse | DrillHole)
            assert (first.clear_z if isinstance(first, DrillHole) else first.z) == plan.safe_z
            assert (last.clear_z if isinstance(last, DrillHole) else last.z) == plan.safe_z
            for motion, start, end in strokes(step.motions):
                _check_one(motion, start, end, plan, run.cutter)


def _check_one(motion, start, end, plan, cutter) -> None:
    level = math.dist(start[:2], end[:2])
    down = start[2] - end[2]
    if isinstance(motion, DrillHole):
        return
    assert math.dist(start, end) > 1e-4, "a motion without length"
    if isinstance(motion, Traverse):
        assert end[2] > plan.stock_top_z, "a traverse ends in the stock"
        assert level < 1e-9 or start[2] > plan.stock_top_z, "a traverse through the stock"
        return
    if isinstance(motion, ArcFeed):
        radii = [math.dist(point[:2], (motion.cx, motion.cy)) for point in (start, end)]
        assert abs(radii[0] - radii[1]) < 0.001
        assert plan_path(motion, start).length <= math.pi * max(radii) + 1e-6
    if down > 1e-6:
        feed = feed_for(cutter)
        if level < 1e-6:
            assert motion.feed_mm_per_min == feed.plunge_mm_per_min
            assert cutter.centre_cutting or end[2] >= plan.stock_top_z - 1e-9, (
                "straight down with a cutter that may not"
            )
        else:
            travel = plan_path(motion, start).length
            assert motion.feed_mm_per_min == feed.ramp_mm_per_min
            assert down <= travel * math.tan(math.radians(3.0)) * 1.02 + 2e-3, "a ramp that is too steep"
