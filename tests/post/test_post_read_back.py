"""Programs read back by the dry run's reader, which shares nothing with the posts: same cuts, no complaint."""

import math
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from post_cases import NAMES, changed, plan_of, shipped

from rabbetry.dryrun.dialects import DIALECTS
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import ArcMove, Context, End, ProgramText, Reading, Spindle, Stop, Traverse
from rabbetry.dryrun.model import Feed as FeedEvent
from rabbetry.motions.model import ArcFeed, DrillHole, Feed, Motion, Plan
from rabbetry.motions.model import Traverse as TraverseMotion
from rabbetry.post.capabilities import Post
from rabbetry.post.render import render_programs
from rabbetry.post.sample import sample_plan

_SAFE = 15.0
"""The sample plan's safe height."""
Point3 = tuple[float, float, float]


def read_all(plan: Plan, post: Post) -> list[Reading]:
    dialect = replace(
        DIALECTS[post.dialect],
        allowed_words=frozenset(post.allowed_words),
        dwell_unit_s=post.dwell_unit_s,
        changes_at_stop=post.tool_change == "pause",
    )
    if post.longest_line is not None:
        dialect = replace(dialect, line_length=post.longest_line)
    # The controlled point begins at the bottom of everything, off the blank: the head must bring it up first.
    context = Context(start_mm=(-5.0, -7.0, -30.0))
    return [
        read_program(ProgramText(name=program.name, text=program.text), dialect, context)
        for program in render_programs(plan, post)
    ]


def cuts(readings: list[Reading]) -> list[Point3]:
    return [
        event.program_to for reading in readings for event in reading.events if isinstance(event, FeedEvent | ArcMove)
    ]


def wanted(plan: Plan) -> Iterator[tuple[Motion, Point3]]:
    for run in plan.runs:
        for step in run.steps:
            for motion in step.motions:
                if isinstance(motion, Feed | ArcFeed | DrillHole):
                    yield motion, (motion.x, motion.y, motion.z)


def assert_cut_in_order(plan: Plan, readings: list[Reading], within_mm: float) -> None:
    reached = iter(cuts(readings))
    for motion, point in wanted(plan):
        assert any(math.dist(there, point) <= within_mm for there in reached), (
            f"{motion} is not cut, or not in its turn"
        )


@pytest.mark.parametrize("name", NAMES)
def test_a_program_reads_back_without_a_complaint_and_cuts_what_was_planned(name: str) -> None:
    post, plan = shipped(name), sample_plan()
    readings = read_all(plan, post)
    for reading in readings:
        assert not reading.refused
        assert reading.findings == ()
        assert isinstance(reading.events[-1], End)
    assert_cut_in_order(plan, readings, post.numbers.last_digit_mm)


@pytest.mark.parametrize("name", NAMES)
def test_the_spindle_turns_before_the_first_cut_and_stands_after_the_last(name: str) -> None:
    post = shipped(name)
    for reading in read_all(sample_plan(), post):
        kinds = Stop if post.spindle == "hand" else Spindle
        switches = [k for k, event in enumerate(reading.events) if isinstance(event, kinds)]
        moves = [(k, event) for k, event in enumerate(reading.events) if isinstance(event, FeedEvent | ArcMove)]
        cutting = [k for k, event in moves if min(event.start[2], event.to[2]) < 0 and event.to[2] < _SAFE]
        assert switches[0] < cutting[0]
        assert switches[-1] > cutting[-1]


@pytest.mark.parametrize("name", NAMES)
def test_traverses_go_straight_up_or_down_or_level_and_never_below_the_stock_top(name: str) -> None:
    plan = replace(sample_plan(), machine_safe_z=40.0)  # Machine and program zero are one here.
    for reading in read_all(plan, shipped(name)):
        for event in reading.events:
            if not isinstance(event, Traverse):
                continue
            level = event.start[2] == event.to[2]
            assert level or event.start[:2] == event.to[:2]
            # Only a controller's own cycle comes back into the hole it has just left.
            assert event.to[2] >= 0 or event.cycle == "G83"


def test_plain_moves_and_cycles_drill_the_same_holes() -> None:
    plan = replace(sample_plan(), runs=sample_plan().runs[:1])
    plain = {tuple(round(value, 3) for value in point) for point in cuts(read_all(plan, shipped("metric-plain")))}
    cycles = {tuple(round(value, 3) for value in point) for point in cuts(read_all(plan, shipped("full-metric")))}
    assert plain == cycles
    assert len(plain) == 3 + 4


def test_millimetres_and_inches_cut_the_same() -> None:
    metric, inch = (cuts(read_all(sample_plan(), shipped(name))) for name in ("metric-plain", "inch-plain"))
    assert len(metric) == len(inch)
    assert all(math.dist(a, b) < 0.0004 for a, b in zip(metric, inch, strict=True))


def test_the_datum_moves_every_height_and_nothing_else() -> None:
    top = sample_plan()
    up = 17.8
    raised = replace(
        top,
        z_zero="spoilboard",
        safe_z=top.safe_z + up,
        stock_top_z=up,
        spoilboard_z=0.0,
        runs=tuple(
            replace(run, steps=tuple(replace(s, motions=tuple(_up(m, up) for m in s.motions)) for s in run.steps))
            for run in top.runs
        ),
    )
    for name in NAMES:
        before, after = (cuts(read_all(plan, shipped(name))) for plan in (top, raised))
        assert len(before) == len(after)
        for a, b in zip(before, after, strict=True):
            assert math.dist((a[0], a[1], a[2] + up), b) < 0.0004


def _up(motion: Motion, up: float) -> Motion:
    if isinstance(motion, DrillHole):
        return replace(motion, z=motion.z + up, retract_z=motion.retract_z + up, clear_z=motion.clear_z + up)
    return replace(motion, z=motion.z + up)


@given(
    st.lists(
        st.tuples(st.floats(0, 1200), st.floats(0, 1200), st.floats(-20, 0), st.floats(50, 6000)),
        min_size=1,
        max_size=20,
    ),
    st.sampled_from(NAMES),
    st.booleans(),
)
@settings(max_examples=60, deadline=None)
def test_any_cuts_read_back_within_the_last_digit(
    points: list[tuple[float, float, float, float]], name: str, with_arcs: bool
) -> None:
    motions: list[Motion] = [TraverseMotion(0.0, 0.0, 15.0)]
    at = (0.0, 0.0)
    for k, (x, y, z, feed) in enumerate(points):
        if with_arcs and k % 2 and math.dist(at, (x, y)) > 1:
            # Half a circle from where the cutter is to the new point.
            motions.append(ArcFeed(x, y, z, (at[0] + x) / 2, (at[1] + y) / 2, 1 if k % 4 == 1 else -1, feed))
        else:
            motions.append(Feed(x, y, z, feed))
        at = (x, y)
    plan = plan_of(*motions)
    post = shipped(name)
    readings = read_all(plan, post)
    assert not any(reading.refused or reading.findings for reading in readings)
    expected = [(0.0, 0.0, 15.0)]
    for _, point in wanted(plan):
        if math.dist(expected[-1], point) > 4 * post.numbers.last_digit_mm:
            expected.append(point)
    reached = iter(cuts(readings))
    for point in expected[1:]:
        assert any(math.dist(there, point) <= 5 * post.numbers.last_digit_mm for there in reached)


@pytest.mark.parametrize("arcs", ["centre", "radius", "none"])
@pytest.mark.parametrize("decimals", [2, 3, 4])
def test_every_arc_form_reads_back_on_the_circle(arcs: str, decimals: int) -> None:
    post = changed(
        "metric-plain",
        toml=(
            ('arcs = "centre"', f'arcs = "{arcs}"'),
            ("length_decimals = 4", f"length_decimals = {decimals}"),
            ("F I J P", "F I J P R"),
        ),
        template=(("I J F", "I J R F"),),
    )
    post = replace(post, dialect="strict")
    motions: list[Motion] = [TraverseMotion(40.0, 0.0, 15.0), Feed(40.0, 0.0, -1.0, 500.0)]
    for k in range(1, 40):
        angle, radius = 0.61 * k, 40.0
        motions.append(ArcFeed(radius * math.cos(angle), radius * math.sin(angle), -1.0, 0.0, 0.0, 1, 900.0))
    readings = read_all(plan_of(*motions), post)
    assert not any(reading.refused or reading.findings for reading in readings)
    for event in readings[0].events:
        if isinstance(event, ArcMove):
            assert math.dist(event.centre[:2], (0.0, 0.0)) < 20 * 10.0**-decimals
        if isinstance(event, FeedEvent | ArcMove) and event.to[2] == -1.0 and event.start[2] == -1.0:
            assert abs(math.hypot(*event.to[:2]) - 40.0) < 10.0**-decimals
