"""Writes what should remain of a blank, and all else the dry run needs besides the program's text, as `.setup.json`.

Made from the job, the panels and their places alone. It never sees operations or motions, so a hole that was never
planned is still missed by the dry run. The keys are explained in docs/setup-file.md.
"""

import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

from rabbetry.geometry.curves import Arc, Contour, Segment
from rabbetry.geometry.points import Point
from rabbetry.job.model import Cutting, Hold, Job
from rabbetry.panels.model import Bore, CutOut, Panel, Recess
from rabbetry.setup.two_faces import two_faces_entry
from rabbetry.sheets.model import Placement, Sheet
from rabbetry.shop.model import UP_CUT_MARGIN_MM, ChipLoad, Clamp, Cutter, CutterKind, Machine, ZZero

FORMAT = "rabbetry setup 1"
_DECIMALS = 4
_FEWEST_TABS, _FEWEST_ON_STRIPS = 3, 2
"""Common practice, no source: one tab lets a part swing into the cutter."""
_STRIP = 4.0
"""A part this many times as long as wide is a strip."""
_FEWER, _MORE = 0.75, 1.5
"""How far from the number asked the number of tabs may be."""

Json = dict[str, object]
Kind = TypeVar("Kind", Bore, CutOut, Recess)


@dataclass(frozen=True, slots=True, kw_only=True)
class Controller:
    """What the shell knows of the controller from the post."""

    post: str
    dialect: str
    """A row of the dry run's table of dialects."""
    allowed_words: tuple[str, ...] | None
    """G and M words the controller accepts, such as "G0"; None: all of its dialect."""
    line_limit: int | None
    """Longest line, counting its end; None: the dialect's."""
    work_offset: str
    """The coordinate system the programs call, such as "G54"; empty: they call none, for there is only one."""
    dwell_unit_s: float = 1.0
    """What P of a wait counts, in seconds."""
    spindle_by_hand: bool = False
    """The programs pause for the spindle to be switched by hand, whatever the machine could do."""
    spindle_reversed: bool = False
    """M4 turns the cutter forwards."""
    changes_at_stop: bool = False
    """A T word beside M0 names the cutter that hands fit during the stop."""


def write_setup(
    sheet: Sheet,
    *,
    job: Job,
    program: str,
    programs: tuple[str, ...],
    controller: Controller,
    loaded: tuple[int, ...] = (),
    first_side: tuple[str, ...] = (),
    air_run: bool = False,
) -> str:
    """Return the setup of `program`, one of the sheet's `programs` in running order, as JSON text ending in a line end.

    `loaded` are the cutters the program works with, in order; where its text has no tool word the first one is in the
    spindle from the start. On a flipped blank `programs` are those of both sides and `first_side` those of side 1.
    An air run has neither panels nor a side: it cuts nothing. Millimetres, program frame; numbers rounded to 0.0001.
    The same values give the same bytes.
    """
    machine = job.shop.machine
    top, spoilboard = levels_of(machine, sheet.thickness_mm)
    setup: Json = {
        "format": FORMAT,
        "program": program,
        "sheet": sheet.id,
        "programs": list(programs),
        "loaded": list(loaded),
        "machine": machine_entry(machine, spindle_by_hand=machine.spindle_by_hand or controller.spindle_by_hand),
        "controller": {
            "post": controller.post,
            "dialect": controller.dialect,
            "allowed_words": None if controller.allowed_words is None else sorted(controller.allowed_words),
            "line_limit": controller.line_limit,
            "dwell_unit_s": controller.dwell_unit_s,
            "spindle_reversed": controller.spindle_reversed,
            "changes_at_stop": controller.changes_at_stop,
        },
        "work_offset": {
            "word": controller.work_offset or None,
            "machine_mm": _numbers((*machine.blank_origin_mm, machine.spoilboard_z_mm - spoilboard)),
        },
        "z_zero": str(machine.z_zero),
        "stock_top_z_mm": _number(top),
        "spoilboard_z_mm": _number(spoilboard),
        "blank": {
            "stock": sheet.stock,
            "x_mm": _number(sheet.blank_x_mm),
            "y_mm": _number(sheet.blank_y_mm),
            "thickness_mm": _number(sheet.thickness_mm),
            "thickness_is_measured": sheet.thickness_is_measured,
        },
        "clamps": [clamp_entry(clamp, top) for clamp in machine.clamps],
        "cutters": [_cutter(cutter, _chip_loads(job, sheet.stock)) for cutter in job.shop.cutters],
        "target": {"panels": [_panel(placement, job, uncut=sheet.side == 1) for placement in sheet.placements]},
    }
    if air_run:
        setup["air_run"] = True
        setup["target"] = {"panels": []}
    elif sheet.flip is not None:
        setup["two_faces"] = two_faces_entry(sheet.flip, sheet.side, first_side)
    return json.dumps(setup, indent=1, ensure_ascii=True, allow_nan=False) + "\n"


def levels_of(machine: Machine, thickness_mm: float) -> tuple[float, float]:
    """Return the program z of the stock's top and of the spoilboard."""
    if machine.z_zero is ZZero.SPOILBOARD:
        return thickness_mm, 0.0
    return 0.0, -thickness_mm


def machine_entry(machine: Machine, *, spindle_by_hand: bool) -> Json:
    """Return the setup's `machine`."""
    return {
        "name": machine.name,
        "travel_min_mm": _numbers(machine.travel_min_mm),
        "travel_max_mm": _numbers(machine.travel_max_mm),
        "max_rate_mm_per_min": _numbers(machine.max_rate_mm_per_min),
        "acceleration_mm_per_s2": _numbers(machine.acceleration_mm_per_s2),
        "spindle_by_hand": spindle_by_hand,
        "spindle_min_rpm": _number(machine.spindle_min_rpm),
        "spindle_max_rpm": _number(machine.spindle_max_rpm),
        "spindle_wait_s": _number(machine.spindle_wait_s),
        "vacuum_holds_mm2": _number(machine.vacuum_holds_mm2),
        "collet_diameter_mm": _number(machine.collet_diameter_mm),
        "dust_shoe_mm": _numbers(machine.dust_shoe_mm),
        "dust_shoe_height_mm": _number(machine.dust_shoe_height_mm),
        "clamp_margin_mm": _number(machine.clamp_margin_mm),
        "spoilboard_allowance_mm": _number(machine.spoilboard_allowance_mm),
    }


def clamp_entry(clamp: Clamp, top: float) -> Json:
    """Return one of the setup's `clamps`; `top` is the program z of the stock's top."""
    return {
        "name": clamp.name,
        "x_mm": _number(clamp.x_mm),
        "y_mm": _number(clamp.y_mm),
        "length_x_mm": _number(clamp.length_x_mm),
        "length_y_mm": _number(clamp.length_y_mm),
        "top_z_mm": _number(top + clamp.height_mm),
    }


def _chip_loads(job: Job, stock: str) -> list[ChipLoad]:
    """Return the chart's rows for a stock's material, by diameter; none when the chart does not know it."""
    material = next((item.material for item in job.stocks if item.name == stock), None)
    return sorted((row for row in job.shop.chip_loads if row.material == material), key=lambda row: row.diameter_mm)


def _chip_load_high(cutter: Cutter, rows: Sequence[ChipLoad]) -> float | None:
    """Return the chart's highest chip load: straight between its rows, in proportion to the width beyond them."""
    if not rows:
        return None
    wide = cutter.diameter_mm
    for below, above in pairwise(rows):
        if below.diameter_mm < wide <= above.diameter_mm:
            share = (wide - below.diameter_mm) / (above.diameter_mm - below.diameter_mm)
            return _number(below.high_mm_per_tooth + share * (above.high_mm_per_tooth - below.high_mm_per_tooth))
    end = rows[0] if wide <= rows[0].diameter_mm else rows[-1]
    return _number(end.high_mm_per_tooth * wide / end.diameter_mm)


def _cutter(cutter: Cutter, chip_loads: Sequence[ChipLoad]) -> Json:
    return {
        "number": cutter.number,
        "name": cutter.name,
        "kind": str(cutter.kind),
        "diameter_mm": _number(cutter.cut_diameter_mm),
        "flutes": cutter.flutes,
        "flute_length_mm": _number(cutter.flute_length_mm),
        "up_cut_length_mm": _number(cutter.up_cut_length_mm),
        "centre_cutting": cutter.centre_cutting or cutter.is_drill,
        "pass_limit_mm": _number(_pass_limit_mm(cutter)),
        "stick_out_mm": _number(cutter.stick_out_mm),
        "chip_load_high_mm": _chip_load_high(cutter, chip_loads),
    }


def _pass_limit_mm(cutter: Cutter) -> float:
    """Return the deepest pass of a cutter; one that would stay within a compression cutter's up-cut tip may be as deep
    as the cutter is wide, to get past it."""
    if cutter.kind is CutterKind.COMPRESSION and cutter.pass_limit_mm <= cutter.up_cut_length_mm + UP_CUT_MARGIN_MM:
        return max(cutter.pass_limit_mm, min(cutter.cut_diameter_mm, cutter.flute_length_mm))
    return cutter.pass_limit_mm


def _panel(placement: Placement, job: Job, *, uncut: bool) -> Json:
    panel = placement.panel
    widest = max((cutter.cut_diameter_mm for cutter in job.shop.cutters), default=0.0)
    return {
        "id": panel.id,
        "outline": _contour(panel.outline.moved(placement.blank_from_panel)),
        "hold": {"kind": "uncut"} if uncut else _hold(panel.outline, job.cutting, widest),
        "cutouts": [_cutout(feature, placement, job.cutting, widest) for feature in _of(panel, CutOut)],
        "recesses": [_recess(feature, placement) for feature in _of(panel, Recess)],
        "bores": [_bore(feature, placement) for feature in _of(panel, Bore)],
    }


def _of(panel: Panel, kind: type[Kind]) -> list[Kind]:
    return [feature for feature in panel.features if isinstance(feature, kind)]


def _cutout(cutout: CutOut, placement: Placement, cutting: Cutting, widest_mm: float) -> Json:
    hold = _hold(cutout.outline, cutting, widest_mm)
    if hold["kind"] == "tabs":
        hold["at_least"] = 0  # What falls out of an opening is waste: it may also be cut to dust, or held less.
    return {
        "name": cutout.name,
        "outline": _contour(cutout.outline.moved(placement.blank_from_panel)),
        "hold": hold,
    }


def _recess(recess: Recess, placement: Placement) -> Json:
    move = placement.blank_from_panel
    return {
        "name": recess.name,
        "outline": _contour(recess.outline.moved(move)),
        "islands": [_contour(island.moved(move)) for island in recess.islands],
        "depth_mm": _number(recess.depth_mm),
        "relieved_corners": [_point(move(corner)) for corner in recess.relieved_corners],
    }


def _bore(bore: Bore, placement: Placement) -> Json:
    centre = placement.blank_from_panel(bore.centre)
    return {
        "name": bore.name,
        "x_mm": _number(centre.x),
        "y_mm": _number(centre.y),
        "diameter_mm": _number(bore.diameter_mm),
        "depth_mm": _number(bore.depth_mm),
        "through": bore.through,
    }


def _hold(outline: Contour, cutting: Cutting, widest_mm: float) -> Json:
    """Return what may hold the part: a skin, or tabs, "about one for each `tab_spacing_mm`, at least three (two on
    strips)".

    From three quarters of that many to half as many again: where each goes is the planner's business, that the part is
    held and can be freed by hand is the dry run's. A very small outline takes fewer: each needs its length and a
    cutter's width, and half the way round must be free of them.
    """
    if cutting.hold is Hold.SKIN:
        return {"kind": "skin", "thickness_mm": _number(cutting.skin_mm)}
    x0, y0, x1, y1 = outline.bounds
    is_strip = max(x1 - x0, y1 - y0) >= _STRIP * min(x1 - x0, y1 - y0)
    asked = max(_FEWEST_ON_STRIPS if is_strip else _FEWEST_TABS, outline.length / cutting.tab_spacing_mm)
    room = max(1, int(outline.length / 2 / (cutting.tab_length_mm + widest_mm)))
    return {
        "kind": "tabs",
        "at_least": min(room, max(_FEWEST_ON_STRIPS, math.floor(asked * _FEWER))),
        "at_most": math.ceil(asked * _MORE),
        "length_mm": _number(cutting.tab_length_mm),
        "height_mm": _number(cutting.tab_height_mm),
    }


def _contour(contour: Contour) -> Json:
    return {"start": _point(contour.start), "segments": [_segment(segment) for segment in contour.segments]}


def _segment(segment: Segment) -> Json:
    if isinstance(segment, Arc):
        return {"to": _point(segment.end), "centre": _point(segment.centre), "turn": segment.turn}
    return {"to": _point(segment.end)}


def _point(point: Point) -> list[float]:
    return _numbers((point.x, point.y))


def _numbers(values: Sequence[float]) -> list[float]:
    return [_number(value) for value in values]


def _number(value: float) -> float:
    return round(value, _DECIMALS) + 0.0
