"""The cutter's tip while one operation is planned: where it is and the motions so far. Millimetres, z = 0 at the
stock's top.

The only place that makes motions (drilled holes apart), so the rules that hold for every motion are kept here:
traverses below the safe height are vertical and end above the stock, arcs turn at most half a circle, and no motion
is without length.
"""

import math
from collections.abc import Iterable

from rabbetry.geometry.curves import Arc, Segment
from rabbetry.geometry.points import Point
from rabbetry.motions.model import ArcFeed, DrillHole, Feed, Motion, Traverse
from rabbetry.operations.model import Operation
from rabbetry.tolerances import DEPTH_MM, MOVE_MM

APPROACH_MM = 1.0
"""A traverse down stops this far above the stock's top and feeds from there: boards are not flat (common
practice)."""


class Tip:
    """Collects the motions of one operation. It starts nowhere: the first move must be `enter`, `go_over` or
    `drill`."""

    def __init__(self, operation: Operation, safe_z: float) -> None:
        self.operation = operation
        self.safe_z = safe_z
        self.place: Point | None = None
        self.z = safe_z
        self.motions: list[Motion] = []

    def lift(self) -> None:
        """Traverse straight up to the safe height."""
        if self.place is not None and self.z < self.safe_z:
            self._traverse(self.place, self.safe_z)

    def go_over(self, place: Point) -> None:
        """Traverse at the safe height to a place."""
        self.lift()
        if self.place is None or self.place.distance(place) > MOVE_MM:
            self._traverse(place, self.safe_z)

    def enter(self, place: Point, z: float = 0.0) -> None:
        """Go over a place and down to `z` <= 0, which must be open already where it is below the stock's top.

        A cutter that may not go straight down stops at the top; its ramp does the rest.
        """
        self.go_over(place)
        self._traverse(place, APPROACH_MM)
        self.plunge(z if self.operation.cutter.centre_cutting else 0.0)

    def shift(self, place: Point) -> None:
        """Rise just above the stock and traverse to a place over the same opening."""
        assert self.place is not None
        self._traverse(self.place, APPROACH_MM)
        self._traverse(place, APPROACH_MM)

    def plunge(self, z: float) -> None:
        """Feed straight down at the plunge feed, or straight up at the cutting feed."""
        assert self.place is not None
        feed = self.operation.feed
        self._feed(self.place, z, feed.plunge_mm_per_min if z < self.z else feed.feed_mm_per_min)

    def feed_to(self, place: Point) -> None:
        """Feed straight to a place at the present depth."""
        self._feed(place, self.z, self.operation.feed.feed_mm_per_min)

    def follow(self, pieces: Iterable[Segment], z: float | None = None) -> None:
        """Cut along connected segments from where the tip is, descending or rising evenly to `z`.

        Descending goes at the ramp feed, all else at the cutting feed.
        """
        path = tuple(pieces)
        total = sum(piece.length for piece in path)
        start_z, end_z = self.z, self.z if z is None else z
        feed = self.operation.feed
        rate = feed.ramp_mm_per_min if end_z < start_z - DEPTH_MM else feed.feed_mm_per_min
        done = 0.0
        for index, piece in enumerate(path):
            done += piece.length
            piece_z = end_z if index == len(path) - 1 else start_z + (end_z - start_z) * done / total
            if isinstance(piece, Arc):
                self._arc(piece, piece_z, rate)
            else:
                self._feed(piece.end, piece_z, rate)

    def drill(self, place: Point, z: float, peck_mm: float) -> None:
        """Drill one hole and end over it at the safe height."""
        self.lift()
        rate = self.operation.feed.plunge_mm_per_min
        self.motions.append(DrillHole(place.x, place.y, z, APPROACH_MM, self.safe_z, peck_mm, rate))
        self.place, self.z = place, self.safe_z

    def _traverse(self, place: Point, z: float) -> None:
        self.motions.append(Traverse(place.x, place.y, z))
        self.place, self.z = place, z

    def _feed(self, place: Point, z: float, rate: float) -> None:
        assert self.place is not None
        if self.place.distance(place) <= MOVE_MM and abs(z - self.z) <= DEPTH_MM:
            return
        self.motions.append(Feed(place.x, place.y, z, rate))
        self.place, self.z = place, z

    def _arc(self, arc: Arc, z: float, rate: float) -> None:
        halves = math.ceil(abs(arc.sweep) / math.pi - 1e-9)
        if arc.length <= 2 * MOVE_MM:
            self._feed(arc.end, z, rate)
            return
        start_z = self.z
        for k in range(1, halves + 1):
            end = arc.at(k / halves)
            end_z = start_z + (z - start_z) * k / halves
            self.motions.append(ArcFeed(end.x, end.y, end_z, arc.centre.x, arc.centre.y, arc.turn, rate))
            self.place, self.z = end, end_z
