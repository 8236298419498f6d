"""Rectangles of the picture that must keep off each other. Blank frame, millimetres, y up."""

from dataclasses import dataclass

from rabbetry.geometry.points import Point
from rabbetry.panels.model import Bore, Feature
from rabbetry.sheets.model import Placement


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle with its sides along x and y."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def middle(self) -> Point:
        return Point((self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2)

    def meets(self, other: "Box") -> bool:
        return self.x0 < other.x1 and other.x0 < self.x1 and self.y0 < other.y1 and other.y0 < self.y1

    def grown(self, by: float) -> "Box":
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)


def box_about(middle: Point, half_x: float, half_y: float) -> Box:
    """Return the rectangle that reaches as far on both sides of a point."""
    return Box(middle.x - half_x, middle.y - half_y, middle.x + half_x, middle.y + half_y)


def box_of(feature: Feature, placement: Placement) -> Box:
    """Return the rectangle a feature takes up on its blank."""
    if isinstance(feature, Bore):
        r = feature.diameter_mm / 2
        return box_about(placement.blank_from_panel(feature.centre), r, r)
    return Box(*feature.outline.moved(placement.blank_from_panel).bounds)
