"""Whether the work on a part is done before it is cut out, and whether a compression cutter enters deep enough.
Millimetres, program frame."""

from collections.abc import Iterator, Sequence

import shapely
from shapely import LineString

from rabbetry.dryrun.evidence import Evidence
from rabbetry.dryrun.strokes import Stroke
from rabbetry.dryrun.target import PanelTarget
from rabbetry.dryrun.tolerances import BESIDE_MM, BOUNDARY_MM, PASS_SLACK_MM, PLUNGE_MM, TEXT_MM
from rabbetry.findings import Finding, finding

_CUT_OUT = 0.75
"""A part counts as cut out once last passes as long as this part of its outline have run along it: tabs and the
kerfs of neighbours make the rest."""


def check_sequence(evidence: Evidence, target: PanelTarget, depths: Sequence[float]) -> Iterator[Finding]:
    """Yield a finding for the first motion that takes wood from a part which is already cut out and hangs on its tabs
    or skin; `depths` from `engagement`."""
    near = [int(index) for index in evidence.sweeps.near(target.outline.buffer(BOUNDARY_MM))]
    strokes = evidence.sweeps.strokes
    done = _cut_out_by(evidence, target, near) if target.panel.hold.kind != "uncut" else None
    if done is None:
        return
    inner = target.outline.difference(shapely.union_all(target.cutouts)).buffer(-BESIDE_MM)
    for index in near:
        stroke = strokes[index]
        if index <= done or depths[index] <= PLUNGE_MM or stroke.cutter is None:
            continue
        if _path(stroke).distance(inner) < stroke.cutter.radius_mm:
            message = f"is worked on after line {strokes[done].line} cut it out: only tabs or skin hold it"
            yield _told("cut-after-outline", f'panel "{target.panel.id}" {message}', stroke, evidence, target.panel.id)
            return


def _cut_out_by(evidence: Evidence, target: PanelTarget, near: Sequence[int]) -> int | None:
    """Return the index of the stroke with which a part's outline is cut nearly all round; None when it never is."""
    hold, edge = target.panel.hold, target.outline.exterior
    level = evidence.setup.spoilboard_z_mm + TEXT_MM + (hold.height_mm if hold.kind == "skin" else 0.0)
    seen: set[tuple[float, ...]] = set()
    length = 0.0
    for index in near:
        stroke = evidence.sweeps.strokes[index]
        if stroke.lowest > level or stroke.is_vertical or stroke.cutter is None:
            continue
        path = _path(stroke)
        key = tuple(round(value, 2) for value in sorted((stroke.start, stroke.to))[0] + max(stroke.start, stroke.to))
        if key not in seen and abs(path.distance(edge) - stroke.cutter.radius_mm) <= BESIDE_MM:
            seen.add(key)
            length += float(path.length)
            if length >= _CUT_OUT * edge.length:
                return index
    return None


def _path(stroke: Stroke) -> LineString:
    return LineString(stroke.path()) if not stroke.is_vertical else LineString([stroke.to[:2], stroke.to[:2]])


def check_compression(evidence: Evidence, depths: Sequence[float]) -> Iterator[Finding]:
    """Yield a finding for the first level cut of each compression cutter in each program that goes less deep below
    the untouched top than its up-cut tip is long; `depths` from `engagement`."""
    top = evidence.setup.stock_top_z_mm
    told: set[tuple[int, int]] = set()
    for stroke, taken in zip(evidence.sweeps.strokes, depths, strict=True):
        cutter = stroke.cutter
        if cutter is None or cutter.up_cut_length_mm <= 0.0 or stroke.start[2] != stroke.to[2]:
            continue
        depth = top - stroke.lowest
        is_first = taken > PLUNGE_MM and abs(taken - depth) < PASS_SLACK_MM
        if is_first and depth < cutter.up_cut_length_mm - TEXT_MM and (stroke.program, cutter.number) not in told:
            told.add((stroke.program, cutter.number))
            tip = f"the up-cut tip of cutter {cutter.number} is {cutter.up_cut_length_mm:g} mm long"
            message = f"the first pass is {depth:.2f} mm deep; {tip}: the top face splinters"
            yield _told("compression-shallow-pass", message, stroke, evidence, None)


def _told(code: str, message: str, stroke: Stroke, evidence: Evidence, panel: str | None) -> Finding:
    x, y, z = stroke.to
    name = evidence.programs[stroke.program]
    return finding(code, message, file=name, line=stroke.line, panel=panel, x=x, y=y, z=z)
