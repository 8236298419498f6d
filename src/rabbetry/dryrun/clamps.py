"""Whether cutter, collet and dust shoe stay clear of the clamps. Millimetres, program frame.

The cutter is a cylinder of its radius from the tip up, the collet a cylinder from `stick_out_mm` above the tip up, the
dust shoe a rectangle about the axis from its height up, a clamp a box. Distances are exact, along arcs too. A traverse
is judged as a straight line, and as the bent path of a machine that lets each axis run at its own rate; what only the
bent path would meet is a warning.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from rabbetry.dryrun.box_distance import Box, bent, distance_to_box
from rabbetry.dryrun.setup import Clamp, Machine, Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.tolerances import TEXT_MM
from rabbetry.findings import Finding, Severity, finding

_TOUCH_MM = 0.01
"""Nearer than this counts as touching only when it is more than rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Touch:
    """What a motion does to a clamp."""

    code: str
    message: str
    severity: Severity = "error"


def check_clamps(strokes: Sequence[Stroke], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield findings of motions of one program that run into a clamp or come nearer than the margin, in order of
    lines."""
    known = [stroke for stroke in strokes if stroke.from_known]
    if not known or not setup.clamps:
        return
    bounds = np.array([stroke.bounds() for stroke in known])
    found: list[tuple[int, Finding]] = []
    reach = _reach(setup)
    for clamp in setup.clamps:
        box = _box(clamp)
        near = (
            (bounds[:, 0] < box[2] + reach)
            & (bounds[:, 2] > box[0] - reach)
            & (bounds[:, 1] < box[3] + reach)
            & (bounds[:, 3] > box[1] - reach)
        )
        for index in np.flatnonzero(near).tolist():
            touch = _check_stroke(known[index], clamp, setup.machine) or _check_bent(known[index], clamp, setup.machine)
            if touch is not None:
                found.append((index, _told(touch, known[index], name)))
    yield from (told for _, told in sorted(found, key=lambda item: item[0]))


def _box(clamp: Clamp) -> Box:
    return (clamp.x_mm, clamp.y_mm, clamp.x_mm + clamp.length_x_mm, clamp.y_mm + clamp.length_y_mm)


def _reach(setup: Setup) -> float:
    machine = setup.machine
    radius = max((cutter.radius_mm for cutter in setup.cutters), default=0.0)
    return max(radius + machine.clamp_margin_mm, machine.collet_diameter_mm / 2, *machine.dust_shoe_mm)


def _check_bent(stroke: Stroke, clamp: Clamp, machine: Machine) -> _Touch | None:
    """Return what a traverse does to a clamp when every axis runs at its own rate, its straight line being clear."""
    if not stroke.is_traverse:
        return None
    pieces = bent(stroke, machine.max_rate_mm_per_min)
    if len(pieces) == 1:
        return None
    for touch in (_check_stroke(piece, clamp, machine) for piece in pieces):
        if touch is not None:
            where = "on a machine that drives each axis at its own rate"
            return _Touch(code=touch.code, message=f"{where}, {touch.message}", severity="warning")
    return None


def _check_stroke(stroke: Stroke, clamp: Clamp, machine: Machine) -> _Touch | None:
    """Return the worst that one motion does to one clamp."""
    box = _box(clamp)
    radius = stroke.cutter.radius_mm if stroke.cutter else 0.0
    margin = machine.clamp_margin_mm
    gap = _gap(stroke, box, clamp.top_z_mm - TEXT_MM)
    doing = "traverse" if stroke.is_traverse else "cut"
    if gap < radius - _TOUCH_MM or gap == 0.0:
        code = "traverse-through-clamp" if stroke.is_traverse else "cut-into-clamp"
        message = f'this {doing} runs into clamp "{clamp.name}", whose top is at z {clamp.top_z_mm:.2f}'
        return _Touch(code=code, message=message)
    stick_out = stroke.cutter.stick_out_mm if stroke.cutter else 0.0
    if stick_out > 0 and _gap(stroke, box, clamp.top_z_mm - stick_out) < machine.collet_diameter_mm / 2 - _TOUCH_MM:
        message = f'the collet runs into clamp "{clamp.name}" in this {doing}'
        return _Touch(code="holder-hits-clamp", message=message)
    nearest = gap if not stroke.is_traverse else _gap(stroke, box, clamp.top_z_mm + margin - TEXT_MM)
    if nearest < radius + margin - _TOUCH_MM:
        away = max(nearest - radius, 0.0)
        message = (
            f'this {doing} passes {away:.2f} mm beside or just above clamp "{clamp.name}"; {margin:g} mm is the margin'
        )
        return _Touch(code="near-clamp", message=message, severity="warning" if stroke.is_traverse else "error")
    shoe_x, shoe_y = machine.dust_shoe_mm
    if shoe_x > 0 and shoe_y > 0:
        x0, y0, x1, y1 = box
        wide = (x0 - shoe_x / 2, y0 - shoe_y / 2, x1 + shoe_x / 2, y1 + shoe_y / 2)
        if _gap(stroke, wide, clamp.top_z_mm - machine.dust_shoe_height_mm) == 0.0:
            message = f'the dust shoe meets clamp "{clamp.name}" in this {doing}'
            return _Touch(code="holder-hits-clamp", message=message, severity="warning")
    return None


def _gap(stroke: Stroke, box: Box, level_z: float) -> float:
    """Return how near the tip's axis comes to a box while the tip is below a height; infinite when it never is."""
    part = stroke.below(level_z)
    return float("inf") if part is None else distance_to_box(stroke, box, *part)


def _told(touch: _Touch, stroke: Stroke, name: str) -> Finding:
    x, y, z = stroke.to
    return finding(touch.code, touch.message, severity=touch.severity, file=name, line=stroke.line, x=x, y=y, z=z)
