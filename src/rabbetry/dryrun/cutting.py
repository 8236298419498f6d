"""How the cutters meet the wood: traverses in stock, depth, the spoilboard, plunges, passes, flutes."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from rabbetry.dryrun.evidence import Evidence
from rabbetry.dryrun.index_holes import index_bite_mm
from rabbetry.dryrun.setup import Cutter, Setup
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.tolerances import FLANK, PASS_SLACK_MM, PLUNGE_MM, SAMPLE_EVERY_MM, TEXT_MM
from rabbetry.findings import Finding, finding


def check_depths(strokes: Sequence[Stroke], setup: Setup, name: str) -> Iterator[Finding]:
    """Yield findings of one program's motions that are too deep, or quick where there is wood; in order of lines."""
    top = setup.stock_top_z_mm
    no_cutter_told = False
    for stroke in strokes:
        if stroke.lowest >= top - TEXT_MM:
            continue
        if stroke.cutter is None and not no_cutter_told:
            no_cutter_told = True
            message = "the cutter in the spindle is not known here: no tool change, and the setup names none"
            yield _told("no-cutter", message, stroke, name)
        if _is_quick_in_stock(stroke, setup):
            message = f"a traverse at z {stroke.lowest:.2f} is below the stock's top {top:.2f}"
            yield _told("traverse-in-stock", message, stroke, name)
        bite = setup.spoilboard_z_mm - stroke.lowest
        limit = max(setup.machine.spoilboard_allowance_mm, index_bite_mm(stroke, setup))
        if bite > limit + TEXT_MM:
            message = f"bites {bite:.2f} mm into the spoilboard, limit {limit:g}"
            yield _told("spoilboard-bite", message, stroke, name)
        if stroke.cutter is not None:
            yield from _check_lengths(stroke, stroke.cutter, setup, name)


def _is_quick_in_stock(stroke: Stroke, setup: Setup) -> bool:
    """Tell whether a traverse runs below the stock's top over the blank. Straight up is allowed, and so is a pecking
    cycle's return into its own hole."""
    if not stroke.is_traverse or (stroke.is_vertical and (stroke.to[2] >= stroke.start[2] or stroke.in_cycle)):
        return False
    part = stroke.below(setup.stock_top_z_mm - TEXT_MM)
    if part is None:
        return False
    radius = stroke.cutter.radius_mm if stroke.cutter else 0.0
    (x0, y0), (x1, y1) = stroke.path(*part)
    return (
        max(x0, x1) > -radius
        and min(x0, x1) < setup.blank_x_mm + radius
        and max(y0, y1) > -radius
        and min(y0, y1) < setup.blank_y_mm + radius
    )


def _check_lengths(stroke: Stroke, cutter: Cutter, setup: Setup, name: str) -> Iterator[Finding]:
    # What is below the spoilboard's top has no chips to lift: the flutes need to reach through the stock, not the bite.
    depth = setup.stock_top_z_mm - max(stroke.lowest, setup.spoilboard_z_mm)
    if depth > cutter.flute_length_mm + TEXT_MM:
        flutes = f"the flutes of cutter {cutter.number} are {cutter.flute_length_mm:g} mm long"
        message = f"{depth:.2f} mm deep; {flutes}: its shank rubs"
        yield _told("deeper-than-flutes", message, stroke, name)
    depth = setup.stock_top_z_mm - stroke.lowest
    if depth > cutter.stick_out_mm + TEXT_MM:
        out = f"cutter {cutter.number} sticks out {cutter.stick_out_mm:g} mm"
        message = f"{depth:.2f} mm deep; {out}: the collet meets the stock"
        yield _told("holder-hits-stock", message, stroke, name)


@dataclass(frozen=True, slots=True, kw_only=True)
class Engagement:
    """How much wood each stroke takes at once, by its index in `Sweeps.strokes`. Millimetres; 0 through air."""

    deepest: list[float]
    """At the deepest place, on the cutter's axis or beside it."""
    slot: list[float]
    """Where wood stands before the axis and on both sides: the depth of the least deep of the three."""


def engagement(evidence: Evidence) -> Engagement:
    """Return the depth of wood that each stroke takes, over all programs in running order.

    The depth of a pass is taken at places along each motion, on the cutter's axis and beside it: how high the wood
    still stood there, less the tip's height. A deep spot between two places may be missed; none is invented.
    """
    strokes = evidence.sweeps.strokes
    points: list[tuple[float, float, float]] = []
    owners: list[int] = []
    for index, stroke in enumerate(strokes):
        looked_at = places_of(stroke)
        points.extend(looked_at)
        owners.extend([index] * len(looked_at))
    if not points:
        return Engagement(deepest=[0.0] * len(strokes), slot=[0.0] * len(strokes))
    sampled, owner = np.array(points), np.array(owners)
    heights, _ = evidence.floors.at(sampled[:, :2], owner)
    engaged = heights - sampled[:, 2]
    setup = evidence.setup
    outside = (sampled[:, 0] < 0) | (sampled[:, 0] > setup.blank_x_mm)
    outside |= (sampled[:, 1] < 0) | (sampled[:, 1] > setup.blank_y_mm)
    engaged[outside] = 0.0
    # Below the spoilboard's top there is no stock: the bite is judged by itself.
    engaged = np.minimum(engaged, heights - setup.spoilboard_z_mm)
    deepest, slot = np.zeros(len(strokes)), np.zeros(len(strokes))
    np.maximum.at(deepest, owner, engaged)
    # Places come in groups that begin on the axis: three beside each other, or five about a vertical stroke.
    vertical = np.array([stroke.is_vertical for stroke in strokes])[owner]
    for group, wanted in ((5, vertical), (3, ~vertical)):
        least = engaged[wanted].reshape(-1, group).min(axis=1)
        np.maximum.at(slot, owner[wanted][::group], least)
    return Engagement(deepest=deepest.tolist(), slot=slot.tolist())


def check_passes(evidence: Evidence, depths: Sequence[float]) -> Iterator[Finding]:
    """Yield findings of plunges and passes deeper than the cutter allows; `depths` from `engagement`."""
    for stroke, depth in zip(evidence.sweeps.strokes, depths, strict=True):
        if depth > PLUNGE_MM:
            yield from _check_pass(stroke, depth, evidence.programs)


def places_of(stroke: Stroke) -> list[tuple[float, float, float]]:
    """Return the points (x, y of the wood, z of the tip) at which one motion is looked at."""
    flank = FLANK * stroke.cutter.radius_mm if stroke.cutter else 0.0
    if stroke.is_vertical:
        x, y, z = stroke.to
        return [(x, y, z), (x + flank, y, z), (x - flank, y, z), (x, y + flank, z), (x, y - flank, z)]
    length = math.dist(stroke.start, stroke.to) if stroke.centre is None else abs(stroke.sweep_rad) * stroke.radius_mm
    count = max(2, min(64, math.ceil(length / SAMPLE_EVERY_MM)))
    places = []
    for k in range(1, count + 1):
        x, y, z = stroke.at(k / count)
        ahead_x, ahead_y = stroke.heading(k / count)
        places += [
            (x, y, z),
            (x - ahead_y * flank, y + ahead_x * flank, z),
            (x + ahead_y * flank, y - ahead_x * flank, z),
        ]
    return places


def _check_pass(stroke: Stroke, engaged: float, programs: Sequence[str]) -> Iterator[Finding]:
    cutter = stroke.cutter
    if cutter is None:
        return
    if stroke.is_vertical and stroke.to[2] < stroke.start[2] and not cutter.centre_cutting:
        message = f"goes straight down {engaged:.2f} mm into wood; cutter {cutter.number} does not cut at its centre"
        yield _told("plunge-in-stock", message, stroke, programs[stroke.program])
    if engaged > cutter.pass_limit_mm + PASS_SLACK_MM:
        message = f"takes {engaged:.2f} mm at once; cutter {cutter.number} may take {cutter.pass_limit_mm:g}"
        yield _told("pass-too-deep", message, stroke, programs[stroke.program])


def _told(code: str, message: str, stroke: Stroke, name: str) -> Finding:
    x, y, z = stroke.to
    return finding(code, message, file=name, line=stroke.line, x=x, y=y, z=z)
