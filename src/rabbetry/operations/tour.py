"""A short way through places on the blank: nearest neighbour, then stretches turned round while that shortens it."""

from collections.abc import Sequence

from rabbetry.geometry.points import Point
from rabbetry.tolerances import POINT_MM

START = Point(0.0, 0.0)
"""Tours begin near the blank's lower left corner."""
MOST_ROUNDS = 20


def short_tour(places: Sequence[Point]) -> tuple[int, ...]:
    """Return the indexes of `places` in the order of a short open tour from the origin; ties by y, x, then index."""
    left = sorted(range(len(places)), key=lambda i: (places[i].y, places[i].x, i))
    tour: list[int] = []
    here = START
    while left:
        nearest = min(left, key=lambda i: here.distance(places[i]))
        left.remove(nearest)
        tour.append(nearest)
        here = places[nearest]
    for _ in range(MOST_ROUNDS):
        if not _improve(tour, places):
            break
    return tuple(tour)


def _improve(tour: list[int], places: Sequence[Point]) -> bool:
    """Turn round every stretch whose turning shortens the tour (2-opt, open end); tell whether any was."""
    improved = False
    for i in range(len(tour) - 1):
        before = places[tour[i - 1]] if i else START
        for k in range(i + 1, len(tour)):
            first, last = places[tour[i]], places[tour[k]]
            old, new = before.distance(first), before.distance(last)
            if k + 1 < len(tour):
                after = places[tour[k + 1]]
                old, new = old + last.distance(after), new + first.distance(after)
            if new < old - POINT_MM:
                tour[i : k + 1] = reversed(tour[i : k + 1])
                improved = True
    return improved
