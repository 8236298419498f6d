"""Points, vectors and rigid transforms of the plane. Millimetres.

A point is not a vector: point - point is a vector, point + vector is a point, point + point does not exist.
"""

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Vector:
    """A displacement in the plane, millimetres."""

    dx: float
    dy: float

    def __add__(self, other: "Vector") -> "Vector":
        return Vector(self.dx + other.dx, self.dy + other.dy)

    def __sub__(self, other: "Vector") -> "Vector":
        return Vector(self.dx - other.dx, self.dy - other.dy)

    def __mul__(self, factor: float) -> "Vector":
        return Vector(self.dx * factor, self.dy * factor)

    def __neg__(self) -> "Vector":
        return Vector(-self.dx, -self.dy)

    @property
    def length(self) -> float:
        return math.hypot(self.dx, self.dy)

    @property
    def angle(self) -> float:
        """Direction in radians, -pi to pi, counter-clockwise from +x."""
        return math.atan2(self.dy, self.dx)

    def unit(self) -> "Vector":
        """Return the vector of length 1 in the same direction. Raises ZeroDivisionError for the null vector."""
        return self * (1.0 / self.length)

    def left(self) -> "Vector":
        """Return the vector turned a quarter counter-clockwise."""
        return Vector(-self.dy, self.dx)

    def cross(self, other: "Vector") -> float:
        """Return the z component of the cross product: positive when `other` lies to the left."""
        return self.dx * other.dy - self.dy * other.dx

    def dot(self, other: "Vector") -> float:
        return self.dx * other.dx + self.dy * other.dy


@dataclass(frozen=True, slots=True)
class Point:
    """A place in the plane, millimetres."""

    x: float
    y: float

    def __add__(self, step: Vector) -> "Point":
        return Point(self.x + step.dx, self.y + step.dy)

    def __sub__(self, other: "Point") -> Vector:
        return Vector(self.x - other.x, self.y - other.y)

    def distance(self, other: "Point") -> float:
        return math.hypot(self.x - other.x, self.y - other.y)


@dataclass(frozen=True, slots=True)
class Transform:
    """A rigid motion of the plane, mirrored or not: x' = a x + b y + tx, y' = c x + d y + ty.

    Name it by its frames, target first: `blank_from_panel`. `f @ g` applies g first, so that names meet:
    `machine_from_blank @ blank_from_panel`.
    """

    a: float
    b: float
    c: float
    d: float
    tx: float
    ty: float

    def __call__(self, point: Point) -> Point:
        return Point(self.a * point.x + self.b * point.y + self.tx, self.c * point.x + self.d * point.y + self.ty)

    def __matmul__(self, inner: "Transform") -> "Transform":
        moved = self(Point(inner.tx, inner.ty))
        return Transform(
            self.a * inner.a + self.b * inner.c,
            self.a * inner.b + self.b * inner.d,
            self.c * inner.a + self.d * inner.c,
            self.c * inner.b + self.d * inner.d,
            moved.x,
            moved.y,
        )

    @property
    def is_mirror(self) -> bool:
        return self.a * self.d - self.b * self.c < 0

    @staticmethod
    def shift(dx: float, dy: float) -> "Transform":
        return Transform(1.0, 0.0, 0.0, 1.0, dx, dy)

    @staticmethod
    def quarter_turns(count: int) -> "Transform":
        """Return the turn about the origin by `count` quarter turns counter-clockwise, exact."""
        cos, sin = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[count % 4]
        return Transform(cos, -sin, sin, cos, 0.0, 0.0)

    @staticmethod
    def mirror_x(width: float) -> "Transform":
        """Return the mirror x -> width - x, which keeps y: a blank turned over like a page."""
        return Transform(-1.0, 0.0, 0.0, 1.0, width, 0.0)

    @staticmethod
    def mirror_y(height: float) -> "Transform":
        """Return the mirror y -> height - y, which keeps x: a side of the other hand."""
        return Transform(1.0, 0.0, 0.0, -1.0, 0.0, height)
