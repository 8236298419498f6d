"""The playback's numbers, read back from its page."""

import html
import json
import math
import re

import pytest
from page_samples import CUTTERS, HOSTILE, machine, sheet

from rabbetry.dryrun.model import (
    ArcMove,
    Coolant,
    Dwell,
    End,
    Event,
    Feed,
    PlaneName,
    Point3,
    Spindle,
    ToolChange,
    Traverse,
)
from rabbetry.findings import Finding, finding
from rabbetry.page.playback import PlayedProgram, playback_html
from rabbetry.page.text import plain

OFFSET: Point3 = (10.0, 10.0, -62.0)
"""Machine coordinates of the program zero in these programs."""


def machine_point(program: Point3) -> Point3:
    return (program[0] + OFFSET[0], program[1] + OFFSET[1], program[2] + OFFSET[2])


def traverse(start: Point3, to: Point3, line: int = 1) -> Traverse:
    return Traverse(line=line, start=machine_point(start), to=machine_point(to), program_to=to)


def feed(start: Point3, to: Point3, line: int = 1) -> Feed:
    return Feed(line=line, start=machine_point(start), to=machine_point(to), program_to=to, feed_mm_per_min=600)


def arc(start: Point3, to: Point3, centre: Point3, plane: PlaneName = "XY", full: int = 0, turns: int = 1) -> ArcMove:
    return ArcMove(
        line=7,
        start=machine_point(start),
        to=machine_point(to),
        program_to=to,
        plane=plane,
        centre=machine_point(centre),
        turns=1 if turns > 0 else -1,
        feed_mm_per_min=600,
        full_circles=full,
    )


def page(
    *programs: tuple[Event, ...],
    cutters: tuple[int, ...] = (1,),
    name: str = "a.nc",
    job: str = "Kitchen",
    text: str = "G0 X1\n",
    findings: tuple[Finding, ...] = (),
) -> str:
    played = [
        PlayedProgram(name=name, cutters=cutters, events=events, text=text, findings=findings) for events in programs
    ]
    return playback_html(sheet(), played, machine=machine(), cutters=CUTTERS, job_name=job, units="mm")


def moves(*events: Event, cutters: tuple[int, ...] = (1,)) -> list[list[int]]:
    text = page(events, cutters=cutters)
    (data,) = re.findall(r'<script type="application/json" id="moves">(.*?)</script>', text)
    (numbers,) = json.loads(data)
    return [numbers[k : k + 8] for k in range(0, len(numbers), 8)]


def test_motions_are_told_from_the_blank_and_timed() -> None:
    """60 mm at 8000 mm/min is 0.45 s; 10 mm at 600 mm/min is 1 s."""
    found = moves(traverse((0, 0, 20), (60, 30, 20), 3), feed((60, 30, 20), (60, 30, 10), 4))
    assert found == [[0, 6000, 3000, 2000, 450, 3, 631, 0], [1, 6000, 3000, 1000, 1000, 4, 631, 600]]


def test_a_tool_change_changes_the_width_of_the_cut() -> None:
    found = moves(feed((0, 0, 0), (1, 0, 0)), ToolChange(line=2, number=4), feed((1, 0, 0), (2, 0, 0)), cutters=(1, 4))
    assert [(row[0], row[6]) for row in found] == [(1, 631), (2, 500), (1, 500)]


def test_a_cutter_that_no_table_knows_is_drawn_without_width() -> None:
    assert moves(feed((0, 0, 0), (1, 0, 0)), cutters=())[0][6] == 0


def test_a_helix_is_a_chain_of_near_chords_with_its_exact_end() -> None:
    found = moves(arc((110, 50, 0), (90, 50, -4), (100, 50, 0)))
    assert found[-1][1:4] == [9000, 5000, -400]
    assert len(found) > 8
    assert all(math.hypot(row[1] - 10000, row[2] - 5000) == pytest.approx(1000, abs=1) for row in found)
    assert all(row[2] >= 5000 for row in found), "counter-clockwise from the right goes over the top"
    assert [row[3] for row in found] == sorted((row[3] for row in found), reverse=True)
    assert sum(row[4] for row in found) == pytest.approx(math.hypot(10 * math.pi, 4) / 600 * 60_000, rel=0.01)


def test_a_full_circle_comes_all_the_way_round() -> None:
    found = moves(arc((110, 50, 0), (110, 50, 0), (100, 50, 0), full=1))
    assert min(row[1] for row in found) == pytest.approx(9000, abs=10)
    assert found[-1][1:3] == [11000, 5000]


def test_counter_clockwise_in_the_xz_plane_is_seen_from_positive_y() -> None:
    """Seen from +y, with x to the left and z up, counter-clockwise from +x goes down: z falls first."""
    found = moves(arc((10, 0, 0), (-10, 0, 0), (0, 0, 0), plane="XZ"))
    assert all(row[3] <= 0 for row in found)
    found = moves(arc((10, 0, 0), (-10, 0, 0), (0, 0, 0), plane="XZ", turns=-1))
    assert all(row[3] >= 0 for row in found)


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_stay_text(name: str) -> None:
    told = finding("axis-limit", name, file=name, line=1)
    text = page((feed((0, 0, 0), (1, 0, 0)),), name=name, job=name, text=f"({name})\n", findings=(told,))
    (data,) = re.findall(r'<script type="application/json" id="texts">(.*?)</script>', text)
    assert json.loads(data) == [f"({name})\n"]
    assert text.count("<script") == text.count("</script>") == 3
    assert text.count("<b>") == 1, "the finding's severity"
    assert plain(name) in html.unescape(text)


def test_every_line_that_does_something_is_a_step() -> None:
    """A dwell of 2 s lasts 2000 ms; two switches in one line are one step; the end is one even in the same line."""
    events: tuple[Event, ...] = (
        Spindle(line=2, direction="cw", rpm=18000),
        Coolant(line=2, kind="mist_on"),
        Dwell(line=3, seconds=2.0),
        feed((5, 6, 0), (7, 6, 0), 4),
        End(line=4),
    )
    assert [(row[0], row[1], row[4], row[5]) for row in moves(*events)] == [
        (2, 500, 0, 2),
        (2, 500, 2000, 3),
        (1, 700, 200, 4),
        (2, 700, 0, 4),
    ]


def test_a_program_without_a_motion_has_no_moves() -> None:
    assert moves(Spindle(line=1, direction="cw", rpm=18000), End(line=2)) == []


def test_findings_link_to_their_line_and_carry_their_place() -> None:
    told = finding("axis-limit", "over the edge", file="a.nc", line=7, x=12.5, y=3.0)
    text = page((feed((0, 0, 0), (1, 0, 0)),), findings=(told,))
    assert re.search(r'<b>Error:</b> over the edge <a href="#p0-l7" data-x="12.5" data-y="3.0">a.nc, line 7</a>', text)


def test_a_sheet_without_programs_says_so() -> None:
    text = page()
    assert "This sheet has no program." in text
    assert "<script" not in text


def test_the_playback_is_always_the_same() -> None:
    assert page((feed((0, 0, 0), (1, 0, 0)),)) == page((feed((0, 0, 0), (1, 0, 0)),))
