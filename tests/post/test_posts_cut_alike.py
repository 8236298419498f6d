"""Whatever the post, the wood is left the same: inch and metric, arcs and lines, cycles and plain moves.

The dry run reads each post's programs and tells how high the wood still stands; the fields are compared point by point.
"""

import json
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from post_cases import NAMES, shipped, texts

from rabbetry.dryrun.dryrun import _read_side
from rabbetry.dryrun.floor import Floors
from rabbetry.dryrun.model import ProgramText
from rabbetry.dryrun.setup_read import read_setup
from rabbetry.files import load_tables
from rabbetry.motions.model import ArcFeed, DrillHole, Feed, Motion, Plan, Step, Traverse
from rabbetry.pipeline import PostText, compile_job, lay_out, load_job, plan_sheet
from rabbetry.post.capabilities import Post
from rabbetry.post.render import render_programs
from rabbetry.post.sample import sample_plan
from rabbetry.post_check import _setup
from rabbetry.tolerances import CHORD_MM

SAME_MM = 0.002
"""Half a last digit of each of two posts, in steep places a little more."""
BESIDE_MM = CHORD_MM + 0.004
"""An edge may lie this far off: a chord's error, and the rounding of two posts."""


def _floors(plan: Plan, post: Post) -> Floors:
    files = render_programs(plan, post)
    both = []
    for file in files:
        setup = json.loads(_setup(plan, post, file, files))
        for cutter in setup["cutters"]:
            run = next(run for run in plan.runs if run.cutter.number == cutter["number"])
            cutter["diameter_mm"] = run.cutter.diameter_mm
        both.append((ProgramText(name=file.name, text=file.text), json.dumps(setup)))
    return _floors_of(both)


def _floors_of(programs: list[tuple[ProgramText, str]]) -> Floors:
    setups = [read_setup(text, file="setup") for _, text in programs]
    side = _read_side(programs, setups, 0, [])
    assert not any(run.reading.refused for run in side.runs)
    return side.evidence.floors


def _assert_alike(one: Floors, other: Floors, points: np.ndarray, beside_mm: float = BESIDE_MM) -> None:
    """Assert that the fields agree at each point, or that an edge runs so near that they agree just beside it."""
    heights, _ = one.at(points)
    moves = [
        (0.0, 0.0),
        *((beside_mm * math.cos(k * math.pi / 4), beside_mm * math.sin(k * math.pi / 4)) for k in range(8)),
    ]
    near = np.stack([other.at(points + np.array(move))[0] for move in moves])
    low, high = near.min(axis=0) - SAME_MM, near.max(axis=0) + SAME_MM
    wrong = (heights < low) | (heights > high)
    assert not wrong.any(), [(*points[k], heights[k], low[k], high[k]) for k in np.flatnonzero(wrong)[:3]]


def _grid(x: float, y: float, step: float) -> np.ndarray:
    return np.array([(a, b) for a in np.arange(step / 3, x, step) for b in np.arange(step / 3, y, step)])


@pytest.mark.parametrize("name", [name for name in NAMES if name != "metric-plain"])
def test_every_post_leaves_the_sample_as_the_plain_one_does(name: str) -> None:
    plan = sample_plan()
    plain, other = _floors(plan, shipped("metric-plain")), _floors(plan, shipped(name))
    points = _grid(plan.blank_x_mm, plan.blank_y_mm, 3.7)
    assert len({round(height, 1) for height in plain.at(points)[0]}) > 5, "the field has depths to compare"
    _assert_alike(plain, other, points)
    _assert_alike(other, plain, points)


def test_a_cut_that_is_a_twentieth_deeper_is_seen() -> None:
    plan = sample_plan()
    steps = plan.runs[1].steps
    deeper = tuple(replace(m, z=m.z - 0.05) if isinstance(m, Feed) else m for m in steps[1].motions)
    other = replace(
        plan, runs=(plan.runs[0], replace(plan.runs[1], steps=(steps[0], replace(steps[1], motions=deeper))))
    )
    with pytest.raises(AssertionError):
        _assert_alike(
            _floors(plan, shipped("metric-plain")), _floors(other, shipped("inch-plain")), _grid(400, 300, 3.7)
        )


@given(
    st.lists(
        st.tuples(
            st.floats(10, 190), st.floats(10, 190), st.floats(-17, -0.5), st.sampled_from(["line", "arc", "hole"])
        ),
        min_size=1,
        max_size=8,
    ),
    st.sampled_from(["inch-plain", "inch-pause-percent", "full-metric", "metric-lines-only", "metric-numbered-radius"]),
)
@settings(max_examples=25, deadline=None)
def test_any_cuts_leave_the_same_wood_in_inches_and_millimetres(
    places: list[tuple[float, float, float, str]], name: str
) -> None:
    motions: list[Motion] = [Traverse(5.0, 5.0, 15.0)]
    for x, y, z, kind in places:
        if kind == "hole":
            motions.append(DrillHole(x, y, z, retract_z=1.0, clear_z=15.0, peck_mm=4.0, feed_mm_per_min=600.0))
            continue
        motions += [Traverse(x, y, 15.0), Feed(x, y, z, 600.0)]
        if kind == "line":
            motions.append(Feed(200 - x, y + 5.0, z, 1500.0))
        else:
            motions.append(ArcFeed(x + 20.0, y, z, x + 10.0, y, 1, 1500.0))
        end = motions[-1]
        motions.append(Traverse(end.x, end.y, 15.0))
    plan = sample_plan()
    step = Step(name="P1: cuts", panel="P1", kind="pocket", motions=tuple(motions))
    plan = replace(plan, runs=(replace(plan.runs[1], steps=(step,)),))
    points = _grid(220, 220, 9.1)
    _assert_alike(_floors(plan, shipped("metric-plain")), _floors(plan, shipped(name)), points)


JOB = """
name = "Net loft"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 2, 5]

[stock.birch]
sheet = "birch-18"
thickness = 17.8
blank = [610, 610]

[[part]]
name = "cleat"
stock = "birch"
outline = [[0, 0, 25], [320, 0, 25], [320, 180], [0, 180, 60]]
holes = [{ x = 40, y = 40, diameter = 5, depth = 12 }, { x = 160, y = 90, diameter = 60 }]
dados = [{ along = "y", at = 100, width = 18, depth = 6 }]
"""


def test_the_programs_of_a_job_leave_the_same_wood_whatever_the_post() -> None:
    job = load_job(JOB, file="job.toml", tables=load_tables(), own_tables={})
    (sheet,) = lay_out(job, compile_job(job).panels).sheets
    fields = {}
    for name in NAMES:
        toml, template = texts(name)
        planned = plan_sheet(sheet, job, PostText(name=name, toml=toml, template=template))
        assert planned.programs, planned.findings
        programs = [
            (ProgramText(name=item.name, text=item.text.decode()), item.setup.decode()) for item in planned.programs
        ]
        fields[name] = _floors_of(programs)
    points = _grid(345, 345, 4.3)
    for name in NAMES:
        _assert_alike(fields["metric-plain"], fields[name], points)
