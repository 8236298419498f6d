"""A cupboard of awkward shapes. Each row: outer contour, islands, and what it has in store. Millimetres."""

import math
from dataclasses import dataclass

from rabbetry.geometry.curves import Arc, Contour, Line, chain, circle, polygon, rectangle
from rabbetry.geometry.points import Point


@dataclass(frozen=True, slots=True)
class Shape:
    """A region: what is inside `outer` and outside every island."""

    outer: Contour
    islands: tuple[Contour, ...] = ()


def slot(length: float, width: float, x: float = 0.0, y: float = 0.0) -> Contour:
    """Return a slot with round ends, `length` between its ends' centres."""
    r = width / 2
    a, b, c, d = Point(x, y - r), Point(x + length, y - r), Point(x + length, y + r), Point(x, y + r)
    return chain([Line(a, b), Arc(b, c, Point(x + length, y), 1), Line(c, d), Arc(d, a, Point(x, y), 1)])


def rounded_rectangle(dx: float, dy: float, r: float) -> Contour:
    """Return the counter-clockwise rectangle from the origin with corners of radius `r`."""
    p = [Point(r, 0), Point(dx - r, 0), Point(dx, r), Point(dx, dy - r),
         Point(dx - r, dy), Point(r, dy), Point(0, dy - r), Point(0, r)]  # fmt: skip
    centres = [Point(dx - r, r), Point(dx - r, dy - r), Point(r, dy - r), Point(r, r)]
    parts: list[Line | Arc] = []
    for k in range(4):
        parts += [Line(p[2 * k], p[2 * k + 1]), Arc(p[2 * k + 1], p[(2 * k + 2) % 8], centres[k], 1)]
    return chain(parts)


def necked(side: float, neck: float, gap: float) -> Contour:
    """Return two squares joined by a neck of the given width and length."""
    low, high = (side - neck) / 2, (side + neck) / 2
    return polygon(
        [
            (0, 0),
            (side, 0),
            (side, low),
            (side + gap, low),
            (side + gap, 0),
            (2 * side + gap, 0),
            (2 * side + gap, side),
            (side + gap, side),
            (side + gap, high),
            (side, high),
            (side, side),
            (0, side),
        ]
    )


def lens(radius: float, half_width: float) -> Contour:
    """Return two arcs that meet at sharp ends, `2 * half_width` apart at the middle."""
    drop = radius - half_width
    half = math.sqrt(radius**2 - drop**2)
    left, right = Point(-half, 0), Point(half, 0)
    return chain([Arc(left, right, Point(0, drop), 1), Arc(right, left, Point(0, -drop), 1)])


def scalloped() -> Contour:
    """Return a board with a round bite in one edge and a round lobe on another, both meeting at sharp corners."""
    return chain(
        [
            Line(Point(0, 0), Point(30, 0)),
            Arc(Point(30, 0), Point(50, 0), Point(40, 0), -1),
            Line(Point(50, 0), Point(80, 0)),
            Line(Point(80, 0), Point(80, 20)),
            Arc(Point(80, 20), Point(80, 40), Point(80, 30), 1),
            Line(Point(80, 40), Point(80, 60)),
            Line(Point(80, 60), Point(0, 60)),
            Line(Point(0, 60), Point(0, 0)),
        ]
    )


SOUND: dict[str, Shape] = {
    "rectangle": Shape(rectangle(0, 0, 60, 40)),
    "rectangle far from the origin": Shape(rectangle(5000.25, -6000.5, 60, 40)),
    "clockwise rectangle": Shape(rectangle(0, 0, 60, 40).reversed()),
    "triangle with a sharp corner": Shape(polygon([(0, 0), (90, 0), (90, 22)])),
    "sliver": Shape(polygon([(0, 0), (200, 0), (200, 0.5)])),
    "repeated point": Shape(polygon([(0, 0), (50, 0), (50, 0), (50, 40), (0, 40)])),
    "collinear run": Shape(polygon([(0, 0), (10, 0), (20, 0), (50, 0), (50, 40), (25, 40), (0, 40), (0, 7)])),
    "circle": Shape(circle(Point(10, 10), 17.5)),
    "circle in one arc": Shape(Contour((Arc(Point(30, 10), Point(30, 10), Point(10, 10), 1),))),
    "slot of exactly one cutter": Shape(slot(50, 6.35)),
    "slot a hair wider than the cutter": Shape(slot(50, 6.36)),
    "rectangle of exactly one cutter": Shape(rectangle(0, 0, 80, 6.35)),
    "rounded rectangle": Shape(rounded_rectangle(80, 50, 8)),
    "corners of the cutter's own radius": Shape(rounded_rectangle(80, 50, 3.175)),
    "corners smaller than the cutter": Shape(rounded_rectangle(80, 50, 2)),
    "two squares and a neck": Shape(necked(38.1, 5.08, 12)),
    "two squares and a wide neck": Shape(necked(38.1, 9, 12)),
    "notch": Shape(polygon([(0, 0), (100, 0), (100, 60), (60, 60), (60, 30), (0, 30)])),
    "narrow notch": Shape(polygon([(0, 0), (48, 0), (48, 30), (52, 30), (52, 0), (100, 0), (100, 60), (0, 60)])),
    "cavity behind a narrow mouth": Shape(
        polygon(
            [
                (0, 0),
                (48, 0),
                (48, 10),
                (35, 10),
                (35, 40),
                (65, 40),
                (65, 10),
                (52, 10),
                (52, 0),
                (100, 0),
                (100, 60),
                (0, 60),
            ]
        )
    ),
    "lens": Shape(lens(60, 12)),
    "bite and lobe": Shape(scalloped()),
    "ring": Shape(circle(Point(0, 0), 30), (circle(Point(0, 0), 12),)),
    "square island, off centre": Shape(rectangle(0, 0, 100, 70), (rectangle(15, 20, 25, 25),)),
    "island wound the same way, two of them": Shape(
        rectangle(0, 0, 120, 70), (rectangle(15, 20, 25, 25), circle(Point(80, 35), 14).reversed())
    ),
    "island near the edge": Shape(rectangle(0, 0, 100, 70), (rectangle(4, 20, 25, 25),)),
    "hole touching the edge in a point": Shape(rectangle(0, 0, 60, 40), (polygon([(0, 20), (10, 15), (10, 25)]),)),
    "comb": Shape(
        polygon(
            [
                (0, 0),
                (90, 0),
                (90, 50),
                (80, 50),
                (80, 15),
                (60, 15),
                (60, 50),
                (50, 50),
                (50, 15),
                (30, 15),
                (30, 50),
                (20, 50),
                (20, 15),
                (0, 15),
            ]
        )
    ),
}

UNSOUND: dict[str, tuple[Shape, str]] = {
    "bow tie": (Shape(polygon([(0, 0), (10, 10), (10, 0), (0, 10)])), "(5.0000, 5.0000)"),
    "arc through the other side": (
        Shape(
            chain(
                [
                    Line(Point(0, 0), Point(20, 0)),
                    Line(Point(20, 0), Point(20, 5)),
                    Arc(Point(20, 5), Point(0, 5), Point(10, 5), -1),
                    Line(Point(0, 5), Point(0, 0)),
                ]
            )
        ),
        "",
    ),
    "open": (
        Shape(Contour((Line(Point(0, 0), Point(10, 0)), Line(Point(10, 0), Point(10, 10))))),
        "(10.0000, 10.0000)",
    ),
    "flat": (Shape(polygon([(0, 0), (10, 0), (20, 0)])), ""),
    "island outside": (Shape(rectangle(0, 0, 10, 10), (rectangle(20, 20, 3, 3),)), ""),
}
