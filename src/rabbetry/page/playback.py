"""The playback of a sheet: a page that moves the cutter along the motions which the dry run read from the text.

The motions go into the page as whole numbers; the script draws them over the panels. Program frame: x and y from
the blank's lower left corner.
"""

import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from rabbetry.dryrun.model import ArcMove, Event, Feed, Point3, ToolChange, Traverse
from rabbetry.geometry.curves import chords_for_arc
from rabbetry.page.policy import script_policy
from rabbetry.page.render import load_text, render
from rabbetry.page.svg import path_data
from rabbetry.page.text import plain
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Cutter, Machine, ZZero

_CHORD_MM = 0.1
"""Arcs are played as chords this near: less than a screen's dot at any usual size."""
_STEPS_PER_MM = 100
_LEAST_MS = 1
_AXES = {"XY": (0, 1), "XZ": (0, 2), "YZ": (1, 2)}


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedProgram:
    """A program's name, the numbers of its cutters in loading order, and the dry run's events."""

    name: str
    cutters: tuple[int, ...]
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Move:
    """A straight step: whether it cuts, where it ends, how long it takes, from which line, with which cutter."""

    cuts: bool
    to: Point3
    seconds: float
    line: int
    diameter_mm: float

    def as_numbers(self) -> tuple[int, ...]:
        return (
            int(self.cuts),
            *(round(value * _STEPS_PER_MM) for value in self.to),
            max(_LEAST_MS, round(self.seconds * 1000)),
            self.line,
            round(self.diameter_mm * _STEPS_PER_MM),
        )


def playback_html(
    sheet: Sheet,
    programs: Sequence[PlayedProgram],
    *,
    machine: Machine,
    cutters: Sequence[Cutter],
    job_name: str,
    units: str,
) -> str:
    """Return the playback of a sheet's programs as one HTML file. Times count feeds and the axes' fastest rates only,
    not acceleration; the dry run's own time is the better one.
    """
    script = load_text("playback.js")
    top = 0.0 if machine.z_zero is ZZero.STOCK_TOP else sheet.thickness_mm
    diameters = {cutter.number: cutter.cut_diameter_mm for cutter in cutters}
    moves = [
        [number for move in _moves(program, machine, diameters) for number in move.as_numbers()] for program in programs
    ]
    return render(
        "playback.html.j2",
        job_name=plain(job_name),
        sheet=sheet,
        units=units,
        programs=[plain(program.name) for program in programs],
        panels=[path_data(place.panel.outline.moved(place.blank_from_panel)) for place in sheet.placements],
        facts={"top": top, "x": sheet.blank_x_mm, "y": sheet.blank_y_mm, "thick": sheet.thickness_mm},
        # Numbers only: nothing in it can end the script block or be read as markup.
        moves=Markup(json.dumps(moves, separators=(",", ":"))),
        script=Markup(script),
        policy=script_policy(script),
    )


def _moves(program: PlayedProgram, machine: Machine, diameters: dict[int, float]) -> Iterator[_Move]:
    cutter = program.cutters[0] if program.cutters else 0
    for event in program.events:
        if isinstance(event, ToolChange):
            cutter = event.number
        elif isinstance(event, Traverse | Feed | ArcMove):
            yield from _steps(event, machine, diameters.get(cutter, 0.0))


def _steps(move: Traverse | Feed | ArcMove, machine: Machine, diameter_mm: float) -> Iterator[_Move]:
    offset = _minus(move.to, move.program_to)
    points = _arc_points(move) if isinstance(move, ArcMove) else (move.to,)
    before = move.start
    for point in points:
        yield _Move(
            cuts=not isinstance(move, Traverse),
            to=_minus(point, offset),
            seconds=_seconds(move, before, point, machine),
            line=move.line,
            diameter_mm=diameter_mm,
        )
        before = point


def _minus(a: Point3, b: Point3) -> Point3:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _seconds(move: Traverse | Feed | ArcMove, before: Point3, after: Point3, machine: Machine) -> float:
    if not isinstance(move, Traverse):
        return math.dist(before, after) / move.feed_mm_per_min * 60
    axes = zip(before, after, machine.max_rate_mm_per_min, strict=True)
    return max(abs(b - a) / rate for a, b, rate in axes) * 60


def _arc_points(move: ArcMove) -> Iterator[Point3]:
    """Yield points along an arc or helix, its exact end last. In every plane the angle runs from the first axis of the
    plane's name to the second, and XZ is turned the other way about because Y points away (RS-274: G18 is ZX)."""
    first, second = _AXES[move.plane]
    third = 3 - first - second
    turn = -move.turns if move.plane == "XZ" else move.turns
    begin = math.atan2(move.start[second] - move.centre[second], move.start[first] - move.centre[first])
    end = math.atan2(move.to[second] - move.centre[second], move.to[first] - move.centre[first])
    sweep = ((end - begin) * turn) % (2 * math.pi)
    if move.full_circles:
        sweep = 2 * math.pi
    radius = math.hypot(move.start[first] - move.centre[first], move.start[second] - move.centre[second])
    count = chords_for_arc(radius, sweep, _CHORD_MM)
    for k in range(1, count):
        angle = begin + turn * sweep * k / count
        point = [0.0, 0.0, 0.0]
        point[first] = move.centre[first] + radius * math.cos(angle)
        point[second] = move.centre[second] + radius * math.sin(angle)
        point[third] = move.start[third] + (move.to[third] - move.start[third]) * k / count
        yield (point[0], point[1], point[2])
    yield move.to
