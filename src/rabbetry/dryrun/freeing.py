"""When pieces come loose, and whether a loose piece is cut again. Millimetres, program frame.

A piece (a part, or the waste of an opening) is loose once a closed way through the whole stock lies about it. What
leaves it whole at the spoilboard holds it: a tab, a skin. So does a clamp that stands on it, and a vacuum bed where the
piece is as large as the setup says suction needs. Nothing else is known to hold it; tape is not.

Approximations: only closed ways that sideways strokes make are seen, first those of a single descent of the cutter,
then those of all together at the end, whose moment is the end of the last descent beside them; a piece that is turned
into chips within the descent that frees it is not followed. Whether a later stroke cuts the piece is looked at
where `cutting.places_of` looks: on the cutter's axis and beside it.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.cutting import places_of
from rabbetry.dryrun.evidence import Evidence, somewhere_in
from rabbetry.dryrun.setup import Point2
from rabbetry.dryrun.target import PanelTarget
from rabbetry.dryrun.tolerances import BOUNDARY_MM, PLUNGE_MM, SAME_POINT_MM, TEXT_MM
from rabbetry.findings import Finding, finding

_LOOSE_MM2 = 25.0
"""A smaller piece is a chip."""
_QUAD_SEGMENTS = 4
"""Rough discs, inside the true ones by a fiftieth of the radius: a way is closed or it is not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoosePiece:
    """A piece and the stroke (index in `Sweeps.strokes`) that freed it."""

    shape: Polygon
    freed_by: int


def check_freeing(evidence: Evidence, targets: Sequence[PanelTarget]) -> Iterator[Finding]:
    """Yield a finding for each loose piece that is cut again, at the first motion that does; a note for other waste
    that comes loose between the parts."""
    for piece in loose_pieces(evidence):
        freed = evidence.sweeps.strokes[piece.freed_by]
        panel, what = _named(piece, targets)
        again = _cut_again(evidence, piece)
        if again is not None:
            since = f"line {freed.line}"
            if freed.program != evidence.sweeps.strokes[again].program:
                since += f" of {evidence.programs[freed.program]}"
            message = f"{what} is cut again after {since} cut it loose: no tab, skin, clamp or vacuum holds it"
            yield _told("loose-part-cut", message, evidence, again, panel)
        elif panel is None:
            message = f"{what} comes loose here, no tab holds it: stop there, spindle off, and take it out"
            yield _told("loose-waste", message, evidence, piece.freed_by, None)


def _told(code: str, message: str, evidence: Evidence, index: int, panel: str | None) -> Finding:
    stroke = evidence.sweeps.strokes[index]
    x, y, z = stroke.to
    file = evidence.programs[stroke.program]
    return finding(code, message, file=file, line=stroke.line, panel=panel, x=x, y=y, z=z)


def loose_pieces(evidence: Evidence) -> list[LoosePiece]:
    """Return the pieces that come loose, in order; those under a clamp or held by the vacuum left out."""
    runs = _through_runs(evidence)
    regions = [_region(evidence, run) for run in runs]
    found: list[LoosePiece] = []
    for run, region in zip(runs, regions, strict=True):
        found += [_piece(evidence, run, shape) for shape in _enclosed(region)]
    for shape in _enclosed(shapely.union_all(regions)) if len(runs) > 1 else ():
        spot = shapely.Point(somewhere_in(shape))
        if not any(piece.shape.contains(spot) for piece in found):
            last = np.flatnonzero(shapely.distance(np.array(regions, dtype=object), shape) < SAME_POINT_MM)[-1]
            found.append(LoosePiece(shape=shape, freed_by=runs[last][-1]))
    clamps = [
        shapely.box(clamp.x_mm, clamp.y_mm, clamp.x_mm + clamp.length_x_mm, clamp.y_mm + clamp.length_y_mm)
        for clamp in evidence.setup.clamps
    ]
    suction_mm2 = evidence.setup.machine.vacuum_holds_mm2 or math.inf
    free = [
        piece
        for piece in found
        if piece.shape.area < suction_mm2 and not any(piece.shape.intersects(clamp) for clamp in clamps)
    ]
    return sorted(free, key=lambda piece: (piece.freed_by, piece.shape.bounds))


def _through_runs(evidence: Evidence) -> list[list[int]]:
    """Return the strokes that go sideways right through the stock, a list for each descent that has any."""
    strokes = evidence.sweeps.strokes
    runs: list[list[int]] = []
    for index, stroke in enumerate(strokes):
        goes_on = index > 0 and strokes[index - 1].to == stroke.start and strokes[index - 1].program == stroke.program
        if not goes_on or not runs:
            runs.append([])
        if stroke.lowest <= evidence.setup.spoilboard_z_mm + TEXT_MM and not stroke.is_vertical:
            runs[-1].append(index)
    return [run for run in runs if run]


def _region(evidence: Evidence, run: Iterable[int]) -> BaseGeometry:
    """Return what strokes cut right through: their centre lines made as wide as the cutters, ends roughly round."""
    level = evidence.setup.spoilboard_z_mm + TEXT_MM
    lines: dict[float, dict[tuple[Point2, ...], None]] = {}
    for index in run:
        stroke = evidence.sweeps.strokes[index]
        part = stroke.below(level)
        if part is not None and stroke.cutter is not None:
            path = tuple(stroke.path(*part))
            lines.setdefault(stroke.cutter.radius_mm, {})[min(path, path[::-1])] = None
    # Joined end to end, each way once: a buffer of many short lines takes time with their square.
    wide = [
        shapely.line_merge(shapely.MultiLineString(list(paths))).buffer(radius, quad_segs=_QUAD_SEGMENTS)
        for radius, paths in lines.items()
    ]
    return wide[0] if len(wide) == 1 else shapely.union_all(wide)


def _enclosed(region: BaseGeometry) -> list[Polygon]:
    """Return what a region goes all round."""
    holes = [Polygon(ring) for part in shapely.get_parts(region) for ring in part.interiors]
    return [hole for hole in holes if hole.buffer(-BOUNDARY_MM).area > _LOOSE_MM2]


def _piece(evidence: Evidence, run: Sequence[int], shape: Polygon) -> LoosePiece:
    """Return a piece with the first stroke of `run` after which the way about it is closed (by bisection)."""
    spot = shapely.Point(somewhere_in(shape))
    low, high = 1, len(run)
    while low < high:
        middle = (low + high) // 2
        if any(hole.contains(spot) for hole in _enclosed(_region(evidence, run[:middle]))):
            high = middle
        else:
            low = middle + 1
    return LoosePiece(shape=shape, freed_by=run[low - 1])


def _cut_again(evidence: Evidence, piece: LoosePiece) -> int | None:
    """Return the first stroke after the piece came loose that takes wood from it; None when none does."""
    strokes = evidence.sweeps.strokes
    later = [index for index in evidence.sweeps.near(piece.shape) if index > piece.freed_by]
    points = [(x, y, z, index) for index in later for x, y, z in places_of(strokes[index])]
    if not points:
        return None
    table = np.array(points)
    inner = piece.shape.buffer(-BOUNDARY_MM)
    table = table[shapely.contains_xy(inner, table[:, 0], table[:, 1])]
    if not len(table):
        return None
    heights, _ = evidence.floors.at(table[:, :2], table[:, 3].astype(int))
    stock = np.maximum(table[:, 2], evidence.setup.spoilboard_z_mm)
    cutting = table[heights - stock > PLUNGE_MM]
    return int(cutting[:, 3].min()) if len(cutting) else None


def _named(piece: LoosePiece, targets: Sequence[PanelTarget]) -> tuple[str | None, str]:
    """Return the panel that a piece belongs to, and what it is called."""
    spot = shapely.Point(somewhere_in(piece.shape))
    for target in targets:
        if not target.outline.contains(spot):
            continue
        for cutout, shape in zip(target.panel.cutouts, target.cutouts, strict=True):
            if shape.contains(spot):
                return target.panel.id, f'panel "{target.panel.id}": the waste of opening "{cutout.name}"'
        if piece.shape.buffer(SAME_POINT_MM).area > target.outline.area / 2:
            return target.panel.id, f'panel "{target.panel.id}"'
        return target.panel.id, f'panel "{target.panel.id}": a piece of it'
    x0, y0, x1, y1 = piece.shape.bounds
    return None, f"a piece of waste, {x1 - x0:.0f} x {y1 - y0:.0f} mm,"
