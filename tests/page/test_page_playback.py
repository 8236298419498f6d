"""The playback's numbers, read back from its page."""

import json
import math
import re

import pytest
from page_samples import CUTTERS, HOSTILE, machine, sheet

from rabbetry.dryrun.model import ArcMove, Event, Feed, PlaneName, Point3, ToolChange, Traverse
from rabbetry.page.playback import PlayedProgram, playback_html

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
    *programs: tuple[Event, ...], cutters: tuple[int, ...] = (1,), name: str = "a.nc", job: str = "Kitchen"
) -> str:
    played = [PlayedProgram(name=name, cutters=cutters, events=events) for events in programs]
    return playback_html(sheet(), played, machine=machine(), cutters=CUTTERS, job_name=job, units="mm")


def moves(*events: Event, cutters: tuple[int, ...] = (1,)) -> list[list[int]]:
    text = page(events, cutters=cutters)
    (data,) = re.findall(r'<script type="application/json" id="moves">(.*?)</script>', text)
    (numbers,) = json.loads(data)
    return [numbers[k : k + 7] for k in range(0, len(numbers), 7)]


def test_motions_are_told_from_the_blank_and_timed() -> None:
    """60 mm at 8000 mm/min is 0.45 s; 10 mm at 600 mm/min is 1 s."""
    found = moves(traverse((0, 0, 20), (60, 30, 20), 3), feed((60, 30, 20), (60, 30, 10), 4))
    assert found == [[0, 6000, 3000, 2000, 450, 3, 631], [1, 6000, 3000, 1000, 1000, 4, 631]]


def test_a_tool_change_changes_the_width_of_the_cut() -> None:
    found = moves(feed((0, 0, 0), (1, 0, 0)), ToolChange(line=2, number=4), feed((1, 0, 0), (2, 0, 0)), cutters=(1, 4))
    assert [row[6] for row in found] == [631, 500]


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
    text = page((feed((0, 0, 0), (1, 0, 0)),), name=name, job=name)
    assert text.count("<script") == text.count("</script>") == 2
    assert "<b>" not in text


def test_a_sheet_without_programs_says_so() -> None:
    text = page()
    assert "This sheet has no program." in text
    assert "<script" not in text


def test_the_playback_is_always_the_same() -> None:
    assert page((feed((0, 0, 0), (1, 0, 0)),)) == page((feed((0, 0, 0), (1, 0, 0)),))
