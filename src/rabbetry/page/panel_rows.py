"""What is cut into one face of a panel, as the rows of a table: rows of holes told once, with their pitch.

Positions are from the left end and the lower edge of the face as it is seen; both units, the job's first.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.geometry.curves import Arc, Contour
from rabbetry.geometry.points import Point
from rabbetry.page.wording import fine_length, short_length
from rabbetry.panels.model import Bore, CutOut, Feature, Recess

_LEAST_ROW = 3
"""So many holes at one pitch make a row."""
_SAME_MM = 0.001
_MOST_CORNERS = 24
"""Corners of an outline that are listed; the drawing for machines has all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeatureRow:
    """One feature, or a row of like holes."""

    what: str
    at: Point
    """The first hole's centre, or the lower left corner of the rectangle round the feature."""
    detail: str
    """Its size, or how the row runs."""
    marked: Point
    """Where the picture has the row's number."""


def both(mm: float, units: str) -> str:
    """Return a length both ways: `100 mm (~3 15/16 in)` or the other way round."""
    other = "in" if units == "mm" else "mm"
    return f"{short_length(mm, units)} {units} ({short_length(mm, other)} {other})"


def feature_rows(features: Sequence[Feature], units: str) -> tuple[FeatureRow, ...]:
    """Return the rows, recesses and openings first, each kind from the left."""
    areas = [item for item in features if not isinstance(item, Bore)]
    rows = [_area_row(item, units) for item in sorted(areas, key=lambda item: item.outline.bounds[:2])]
    alike: defaultdict[tuple[float, float, bool], list[Point]] = defaultdict(list)
    for item in features:
        if isinstance(item, Bore):
            alike[round(item.diameter_mm, 3), round(item.depth_mm, 3), item.through].append(item.centre)
    for (diameter, depth, through), centres in sorted(alike.items()):
        what = f"{_fine(diameter, units)} hole, " + ("right through" if through else f"{_fine(depth, units)} deep")
        rows.extend(_hole_rows(what, centres, units))
    return tuple(rows)


def _fine(mm: float, units: str) -> str:
    return f"{fine_length(mm, units)} ({fine_length(mm, 'in' if units == 'mm' else 'mm')})"


def _area_row(feature: Recess | CutOut, units: str) -> FeatureRow:
    x0, y0, x1, y1 = feature.outline.bounds
    what = f"{feature.kind}, {_fine(feature.depth_mm, units)} deep" if isinstance(feature, Recess) else "cut through"
    if isinstance(feature, Recess) and feature.relieved_corners:
        what += ", corners relieved"
    return FeatureRow(
        what=what,
        at=Point(x0, y0),
        detail=f"{both(x1 - x0, units)} × {both(y1 - y0, units)}",
        marked=Point((x0 + x1) / 2, (y0 + y1) / 2),
    )


def _hole_rows(what: str, centres: Sequence[Point], units: str) -> Iterator[FeatureRow]:
    """Yield rows of holes along x, then along y, then what is left one by one."""
    left = list(centres)
    for axis, across in (("x", "y"), ("y", "x")):
        lines: defaultdict[float, list[Point]] = defaultdict(list)
        for point in left:
            lines[round(getattr(point, across), 3)].append(point)
        for line in (lines[key] for key in sorted(lines)):
            for row, pitch in _even_rows(line, axis):
                left = [point for point in left if point not in row]
                way = "to the right" if axis == "x" else "upwards"
                detail = f"every {both(pitch, units)} {way}"
                yield FeatureRow(what=f"{len(row)} × {what}", at=row[0], detail=detail, marked=row[0])
    for point in sorted(left, key=lambda point: (point.x, point.y)):
        yield FeatureRow(what=what, at=point, detail="", marked=point)


def _even_rows(line: Sequence[Point], axis: str) -> Iterator[tuple[list[Point], float]]:
    """Yield the runs of three holes or more that stand at one pitch, each with its pitch."""
    ordered = sorted(line, key=lambda point: float(getattr(point, axis)))
    start = 0
    while start + _LEAST_ROW <= len(ordered):
        pitch = getattr(ordered[start + 1], axis) - getattr(ordered[start], axis)
        end = start + 1
        while end < len(ordered) and abs(ordered[end - 1].distance(ordered[end]) - pitch) <= _SAME_MM:
            end += 1
        if end - start >= _LEAST_ROW and pitch > _SAME_MM:
            yield ordered[start:end], pitch
            start = end
        else:
            start += 1


def corner_rows(outline: Contour, units: str) -> tuple[str, ...]:
    """Return the corners of an outline that is no plain rectangle, in order, arcs with their radius."""
    x0, y0, x1, y1 = outline.bounds
    if abs(outline.area - (x1 - x0) * (y1 - y0)) <= _SAME_MM * outline.length:
        return ()
    rows = []
    for segment in outline.segments:
        at = f"{both(segment.start.x, units)}, {both(segment.start.y, units)}"
        arc = f", then an arc of radius {both(segment.radius, units)}" if isinstance(segment, Arc) else ""
        rows.append(at + arc)
    if len(rows) > _MOST_CORNERS:
        rows = [*rows[:_MOST_CORNERS], f"and {len(rows) - _MOST_CORNERS} more"]
    return tuple(rows)
