"""Plain parts settled: their outline and what is cut into them, from the job's coordinates to the part's own frame.

The part's frame has its origin at the lower left corner of the rectangle round the outline. What cannot be made is a
finding that names the part, the cut and the place in the job's own coordinates. Millimetres.
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.model import PlainPart, SettledCut
from rabbetry.errors import GeometryError
from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Contour, circle, polygon, rectangle
from rabbetry.geometry.outline import Station, outline_through
from rabbetry.geometry.points import Point, Transform
from rabbetry.geometry.regions import clipped_rings, outside_mm, touches_arcs, touches_rim
from rabbetry.job.model import Corner, CutOrder, Job, PartOrder
from rabbetry.tolerances import DEPTH_MM, FIT_MM

_LEAST_SIDE_MM = 1.0
"""A part less wide than this is a slip of the pen."""


def settle_part(job: Job, order: PartOrder) -> tuple[PlainPart | None, tuple[Finding, ...]]:
    """Return the part, or the findings that say why it cannot be made. Raises KeyError when the job lacks its stock."""
    stock, where = job.stock(order.stock), f'part "{order.name}"'
    try:
        outline = _outline(order.outline) if order.outline else rectangle(0.0, 0.0, order.length_mm, order.width_mm)
    except GeometryError as error:
        return None, (finding("part-outline", f"{where}: outline: {error}"),)
    x0, y0, x1, y1 = outline.bounds
    if min(x1 - x0, y1 - y0) < _LEAST_SIDE_MM:
        return None, (finding("part-outline", f"{where}: outline: only {min(x1 - x0, y1 - y0):.3f} mm wide"),)
    cuts: list[SettledCut] = []
    findings: list[Finding] = []
    for cut in order.cuts:
        depth = cut.depth_mm
        if depth is not None and depth >= stock.thickness_mm - DEPTH_MM:
            cure = "a hole without depth goes through" if cut.kind == "hole" else "what goes through is a cut-out"
            message = f"{where}: {cut.name} {depth:g} mm deep goes through {stock.thickness_mm:g} mm of {stock.name}"
            findings.append(finding("recess-through", f"{message}; make it shallower: {cure}"))
            continue
        try:
            cuts.extend(_cut(outline, cut))
        except GeometryError as error:
            findings.append(finding("part-cut", f"{where}: {cut.name}: {error}"))
    if findings:
        return None, tuple(findings)
    to_part = Transform.shift(-x0, -y0)
    part = PlainPart(
        name=order.name,
        stock=stock,
        length_mm=x1 - x0,
        width_mm=y1 - y0,
        grain=order.grain,
        note=order.note,
        outline=outline.moved(to_part),
        cuts=tuple(_moved(cut, to_part) for cut in cuts),
    )
    return part, ()


def _moved(cut: SettledCut, to_part: Transform) -> SettledCut:
    return replace(
        cut,
        outline=cut.outline.moved(to_part),
        islands=tuple(island.moved(to_part) for island in cut.islands),
        relieved_corners=tuple(to_part(corner) for corner in cut.relieved_corners),
    )


def _outline(corners: tuple[Corner, ...]) -> Contour:
    return outline_through(
        tuple(
            Station(
                Point(corner.x_mm, corner.y_mm),
                corner.radius_mm,
                Point(*corner.through_mm) if corner.through_mm is not None else None,
            )
            for corner in corners
        )
    )


def _cut(outline: Contour, cut: CutOrder) -> Iterator[SettledCut]:
    """Yield what a cut comes to: a dado that a bay of the outline interrupts comes in several pieces."""
    if cut.along or cut.edge:
        pieces = _strip(outline, cut)
        for number, piece in enumerate(pieces, start=1):
            name = cut.name if len(pieces) == 1 else f"{cut.name}, piece {number}"
            yield SettledCut(kind=cut.kind, name=name, depth_mm=cut.depth_mm, outline=piece)
        return
    shape = _outline(cut.corners) if cut.corners else circle(Point(cut.x_mm, cut.y_mm), cut.diameter_mm / 2)
    over = outside_mm(shape, outline)
    if over > FIT_MM:
        raise GeometryError(f"reaches {over:.2f} mm over the edge of the part")
    if cut.kind in ("hole", "cut-out") and touches_rim(shape, outline):
        raise GeometryError("leaves no wood between it and the edge of the part")
    yield SettledCut(
        kind=cut.kind,
        name=cut.name,
        depth_mm=cut.depth_mm,
        outline=shape,
        diameter_mm=cut.diameter_mm,
        islands=tuple(_outline(island) for island in cut.islands),
        relieved_corners=tuple(Point(*corner) for corner in cut.relieved_mm),
        is_rear=cut.is_rear,
    )


def _strip(outline: Contour, cut: CutOrder) -> tuple[Contour, ...]:
    """Return the strip, cut off where the part ends."""
    x0, y0, x1, y1 = outline.bounds
    runs_along_x = cut.along == "x" or cut.edge in ("lower", "upper")
    ends, sides = ((x0, x1), (y0, y1)) if runs_along_x else ((y0, y1), (x0, x1))
    start = ends[0] if cut.start_mm is None else cut.start_mm
    end = ends[1] if cut.end_mm is None else cut.end_mm
    low = {"": cut.at_mm, "left": x0, "lower": y0, "right": x1 - cut.width_mm, "upper": y1 - cut.width_mm}[cut.edge]
    high = low + cut.width_mm
    over = max(ends[0] - start, end - ends[1], sides[0] - low, high - sides[1])
    if over > FIT_MM:
        raise GeometryError(f"reaches {over:.2f} mm over the edge of the part")
    if end - start <= FIT_MM:
        raise GeometryError(f"starts at {start:g} and ends at {end:g}; nothing is left of it")
    corner, size = (start, low), (end - start, high - low)
    strip = rectangle(*corner, *size) if runs_along_x else rectangle(*corner[::-1], *size[::-1])
    rings = clipped_rings(strip, outline)
    if not rings:
        raise GeometryError("lies wholly outside the part")
    if outside_mm(strip, outline) <= FIT_MM:
        return (strip,)
    if touches_arcs(strip, outline):
        raise GeometryError("runs out over a curved edge; give start and end so that it stays on the part")
    return tuple(polygon([Point(x, y) for x, y in ring]) for ring in rings)
