"""Whether cutter, collet and dust shoe stay clear of the clamps. Millimetres, program frame."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import Polygon

from rabbetry.dryrun.setup import Clamp, Machine, Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.tolerances import TEXT_MM
from rabbetry.findings import Finding, Severity, finding

_TOUCH_MM = 0.01
"""Nearer than this counts as touching only when it is more than rounding."""


def check_clamps(strokes: Sequence[Stroke], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield findings of motions of one program that run into a clamp or come nearer than the margin, in order of
    lines."""
    known = [stroke for stroke in strokes if stroke.from_known]
    if not known or not setup.clamps:
        return
    bounds = np.array([stroke.bounds() for stroke in known])
    found: list[tuple[int, Finding]] = []
    for clamp in setup.clamps:
        box = shapely.box(clamp.x_mm, clamp.y_mm, clamp.x_mm + clamp.length_x_mm, clamp.y_mm + clamp.length_y_mm)
        reach = _reach(setup)
        near = (
            (bounds[:, 0] < box.bounds[2] + reach)
            & (bounds[:, 2] > box.bounds[0] - reach)
            & (bounds[:, 1] < box.bounds[3] + reach)
            & (bounds[:, 3] > box.bounds[1] - reach)
        )
        for index in np.flatnonzero(near):
            told = _check_stroke(known[index], clamp, box, setup.machine, name)
            if told is not None:
                found.append((int(index), told))
    yield from (told for _, told in sorted(found, key=lambda item: item[0]))


def _reach(setup: Setup) -> float:
    machine = setup.machine
    radius = max((cutter.radius_mm for cutter in setup.cutters), default=0.0)
    return max(radius + machine.clamp_margin_mm, machine.collet_diameter_mm / 2, *machine.dust_shoe_mm)


def _check_stroke(stroke: Stroke, clamp: Clamp, box: Polygon, machine: Machine, name: str) -> Finding | None:
    """Return the worst that one motion does to one clamp."""
    radius = stroke.cutter.radius_mm if stroke.cutter else 0.0
    margin = machine.clamp_margin_mm
    gap = _gap(stroke, box, clamp.top_z_mm - TEXT_MM)
    doing = "traverse" if stroke.is_traverse else "cut"
    if gap < radius - _TOUCH_MM or gap == 0.0:
        code = "traverse-through-clamp" if stroke.is_traverse else "cut-into-clamp"
        message = f'this {doing} runs into clamp "{clamp.name}", whose top is at z {clamp.top_z_mm:.2f}'
        return _told(code, message, stroke, name)
    stick_out = stroke.cutter.stick_out_mm if stroke.cutter else 0.0
    if stick_out > 0 and _gap(stroke, box, clamp.top_z_mm - stick_out) < machine.collet_diameter_mm / 2 - _TOUCH_MM:
        message = f'the collet runs into clamp "{clamp.name}" in this {doing}'
        return _told("holder-hits-clamp", message, stroke, name)
    nearest = gap if not stroke.is_traverse else _gap(stroke, box, clamp.top_z_mm + margin - TEXT_MM)
    if nearest < radius + margin - _TOUCH_MM:
        away = max(nearest - radius, 0.0)
        message = (
            f'this {doing} passes {away:.2f} mm beside or just above clamp "{clamp.name}"; {margin:g} mm is the margin'
        )
        return _told("near-clamp", message, stroke, name, severity="warning" if stroke.is_traverse else "error")
    shoe_x, shoe_y = machine.dust_shoe_mm
    if shoe_x > 0 and shoe_y > 0:
        x0, y0, x1, y1 = box.bounds
        wide = shapely.box(x0 - shoe_x / 2, y0 - shoe_y / 2, x1 + shoe_x / 2, y1 + shoe_y / 2)
        if _gap(stroke, wide, clamp.top_z_mm - machine.dust_shoe_height_mm) == 0.0:
            message = f'the dust shoe meets clamp "{clamp.name}" in this {doing}'
            return _told("holder-hits-clamp", message, stroke, name, severity="warning")
    return None


def _gap(stroke: Stroke, box: Polygon, level_z: float) -> float:
    """Return how near the tip's axis comes to a box while the tip is below a height; infinite when it never is."""
    part = stroke.below(level_z)
    return float("inf") if part is None else float(shapely.LineString(stroke.path(*part)).distance(box))


def _told(code: str, message: str, stroke: Stroke, name: str, severity: Severity = "error") -> Finding:
    x, y, z = stroke.to
    return finding(code, message, severity=severity, file=name, line=stroke.line, x=x, y=y, z=z)
