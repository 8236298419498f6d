"""The playback of a sheet: a page that moves the cutter along the motions which the dry run read from the text.

The motions go into the page as whole numbers, beside the programs' own text and what the dry run found; the script
draws them over the panels and takes the wood away.
"""

import json
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from rabbetry.dryrun.model import Event
from rabbetry.findings import Finding
from rabbetry.page.playback_moves import move_numbers
from rabbetry.page.policy import script_policy
from rabbetry.page.render import load_text, render
from rabbetry.page.svg import path_data
from rabbetry.page.text import plain
from rabbetry.page.wording import short_length
from rabbetry.sheets.model import Placement, Sheet
from rabbetry.shop.model import Clamp, Cutter, Machine, ZZero


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedProgram:
    """A program's name and text, the numbers of its cutters in loading order, the dry run's events and findings."""

    name: str
    cutters: tuple[int, ...]
    events: tuple[Event, ...]
    text: str = ""
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _FoundRow:
    severity: str
    message: str
    place: str
    link: str
    x: float | None
    y: float | None


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
    moves = [move_numbers(program.events, program.cutters, machine, diameters) for program in programs]
    return render(
        "playback.html.j2",
        job_name=plain(job_name),
        sheet=sheet,
        units=units,
        programs=[plain(program.name) for program in programs],
        panels=[
            (path_data(place.panel.outline.moved(place.blank_from_panel)), plain(place.panel.id), _middle(place))
            for place in sheet.placements
        ],
        clamps=[(clamp, _clamp_words(clamp, units)) for clamp in machine.clamps],
        facts={"top": top, "x": sheet.blank_x_mm, "y": sheet.blank_y_mm, "thick": sheet.thickness_mm},
        found=[row for k, program in enumerate(programs) for row in _found(k, program)],
        moves=_script_data(moves),
        texts=_script_data([program.text for program in programs]),
        script=Markup(script),
        policy=script_policy(script),
    )


def playback_link(program: int, line: int | None) -> str:
    """Return the part of a link behind `#` that opens a playback at a line of its `program`, counted from 0."""
    return f"p{program}-l{line or 1}"


def _found(number: int, program: PlayedProgram) -> list[_FoundRow]:
    return [
        _FoundRow(
            severity=item.severity,
            message=item.message,
            place=f"{plain(program.name)}" + (f", line {item.where.line}" if item.where.line else ""),
            link=playback_link(number, item.where.line),
            x=item.where.x,
            y=item.where.y,
        )
        for item in program.findings
    ]


def _middle(place: Placement) -> tuple[float, float, float, float]:
    """Return the middle of a placed panel's rectangle and its extent along x and y."""
    wide, high = place.extent_mm
    return place.x_mm + wide / 2, place.y_mm + high / 2, wide, high


def _clamp_words(clamp: Clamp, units: str) -> str:
    return f"{plain(clamp.name)}, {short_length(clamp.height_mm, units)} {units} high"


def _script_data(value: object) -> Markup:
    """Return JSON that cannot end its script block or be read as markup: no `<` is left in it."""
    return Markup(json.dumps(value, separators=(",", ":")).replace("<", "\\u003c"))
