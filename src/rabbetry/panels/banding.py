"""Edge-banding allowances: a panel with banded edges is cut smaller, so that it has its size with the bands on.

A band of thickness b takes b off each banded edge. What is open at that edge ends at the new one; nothing else moves in
the box. Millimetres; the panel frame's origin stays the lower left corner of what is cut.
"""

from collections.abc import Callable
from dataclasses import replace

from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Contour, Line, Segment
from rabbetry.geometry.points import Point, Transform
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Place, Recess
from rabbetry.panels.shapes import moved
from rabbetry.tolerances import DEPTH_MM


def cut_for_bands(panel: Panel, band_mm: float) -> Panel:
    """Return the panel as it is cut for bands `band_mm` thick; the panel itself when nothing is banded or the band has
    no thickness. Raises GeometryError when a cut that is not open at a banded edge reaches into the band."""
    if not panel.banded_edges or band_mm <= 0.0:
        return panel
    size = (panel.length_mm, panel.width_mm)
    low = tuple(band_mm if f"{axis}0" in panel.banded_edges else 0.0 for axis in "xy")
    high = tuple(size[k] - (band_mm if f"{axis}1" in panel.banded_edges else 0.0) for k, axis in enumerate("xy"))
    shift = Transform.shift(-low[0], -low[1])

    def cut(contour: Contour) -> Contour:
        return _within(panel, contour, (low[0], low[1]), (high[0], high[1])).moved(shift)

    return replace(
        panel,
        length_mm=high[0] - low[0],
        width_mm=high[1] - low[1],
        outline=cut(panel.outline),
        features=tuple(_cut(feature, cut, shift) for feature in panel.features),
        rear_features=tuple(_cut(feature, cut, shift) for feature in panel.rear_features),
        place=_shifted(panel.place, low[0], low[1]),
        note="; ".join(filter(None, (panel.note, f"cut {band_mm:g} mm smaller on each banded edge"))),
    )


def _within(panel: Panel, contour: Contour, low: tuple[float, float], high: tuple[float, float]) -> Contour:
    """Return the contour with what lies on the panel's edges moved to `low` and `high`."""

    def snapped(point: Point) -> Point:
        return Point(
            _snapped(panel, point.x, 0.0, low[0], panel.length_mm, high[0]),
            _snapped(panel, point.y, 0.0, low[1], panel.width_mm, high[1]),
        )

    made: list[Segment] = []
    for segment in contour.segments:
        start, end = snapped(segment.start), snapped(segment.end)
        if isinstance(segment, Line):
            made.append(Line(start, end))
        elif start == segment.start and end == segment.end:
            made.append(segment)
        else:
            raise GeometryError(f"{panel.id}: a round cut ends at a banded edge")
    return Contour(tuple(made))


def _snapped(panel: Panel, value: float, edge0: float, low: float, edge1: float, high: float) -> float:
    if value <= edge0 + DEPTH_MM:
        return low if low > edge0 else value
    if value >= edge1 - DEPTH_MM:
        return high if high < edge1 else value
    if not low - DEPTH_MM <= value <= high + DEPTH_MM:
        raise GeometryError(f"{panel.id}: a cut ends within the band, {value:.4f} mm along")
    return value


def _cut(feature: Feature, cut: Callable[[Contour], Contour], shift: Transform) -> Feature:
    if isinstance(feature, Bore):
        return moved(feature, shift)
    outline = cut(feature.outline)
    there = moved(feature, shift)
    assert isinstance(there, Recess | CutOut)
    return replace(there, outline=outline)


def _shifted(place: Place | None, x: float, y: float) -> Place | None:
    return None if place is None else replace(place, origin=place.point(x, y, 0.0))
