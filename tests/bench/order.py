"""The order of the work on the sample kitchen: traverses against a proven bound, machine time against a floor.

    python tests/bench/order.py

Prints, asserts nothing; measured on the programs' text, as the dry run reads it. The bound relaxes the way of each
cutter on each blank: any order, any start, and each piece of work entered and left anywhere on its own path (a bored
hole at its place). What is left is a shortest way through sets of points, bounded from below by 1-trees with penalties
(Held and Karp, Operations Research 18, 1970, 1138-1162). The floor of the time is the cuts and plunges at their feeds
and the dwells: no traverse, no acceleration. Changes of cutters and waiting for people count on neither side.
"""

import math
import sys
from collections import defaultdict
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from kitchen_programs import KITCHEN, planned_sheets
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.arcs import PLANE_AXES, length_mm, radius_mm
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ArcMove, Dwell, Event, Feed, ToolChange, Traverse

_ROUNDS = 150
_FLAT_MM = 1e-6


def main() -> int:
    made: dict[int, float] = defaultdict(float)
    least: dict[int, float] = defaultdict(float)
    taken = floor = 0.0
    for sheet in planned_sheets():
        for report in dry_run(sheet).programs:
            taken += report.time_s
            floor += sum(map(_floor_s, report.events))
            # A program for one cutter alone does not name it.
            alone = report.in_wood_mm[0][0] if report.in_wood_mm else 0
            for cutter, events in _runs(report.events, alone):
                work = list(_work(events))
                made[cutter] += _traversed(events, work)
                least[cutter] += _bound([shape for _, _, shape in work])
    print(f"{KITCHEN.name}: metres of level traverses between the work of one cutter, and their proven bound")
    for cutter in sorted(made):
        _tell(f"cutter {cutter}", made[cutter], least[cutter])
    _tell("all", sum(made.values()), sum(least.values()))
    print(f"machine time {taken / 60:.0f} min, floor {floor / 60:.0f} min: {taken / floor:.3f}")
    return 0


def _tell(name: str, made: float, least: float) -> None:
    print(f"  {name:10} {made / 1000:8.1f} {least / 1000:8.1f} {made / least if least else math.inf:8.3f}")


def _floor_s(event: Event) -> float:
    if isinstance(event, Dwell):
        return event.seconds
    if isinstance(event, Feed):
        return 60 * math.dist(event.start, event.to) / event.feed_mm_per_min
    return 60 * length_mm(event) / event.feed_mm_per_min if isinstance(event, ArcMove) else 0.0


def _runs(events: Sequence[Event], cutter: int) -> Iterator[tuple[int, list[Event]]]:
    """Yield each cutter with the motions made with it."""
    run: list[Event] = []
    for event in events:
        if isinstance(event, ToolChange):
            if run:
                yield cutter, run
            cutter, run = event.number, []
        elif isinstance(event, Traverse | Feed | ArcMove):
            run.append(event)
    if run:
        yield cutter, run


def _work(events: Sequence[Event]) -> Iterator[tuple[int, int, BaseGeometry]]:
    """Yield each piece of work as its first and last motion, and where it runs in plan; a piece ends where the cutter
    traverses level at its greatest height."""
    top = max(event.to[2] for event in events if isinstance(event, Traverse))
    start: int | None = None
    for index, event in enumerate([*events, None]):
        over = event is None or (isinstance(event, Traverse) and min(event.start[2], event.to[2]) > top - _FLAT_MM)
        if not over and start is None:
            start = index
        elif over and start is not None:
            own = [one for one in events[start:index] if isinstance(one, Feed | ArcMove)]
            if own:
                yield start, index, _plan_of(own)
            start = None


def _plan_of(motions: Sequence[Feed | ArcMove]) -> BaseGeometry:
    points = [motions[0].start[:2]]
    for motion in motions:
        if isinstance(motion, ArcMove):
            points += _on_arc(motion)
        points.append(motion.to[:2])
    flat = list(dict.fromkeys(points))
    return LineString(flat) if len(flat) > 1 else Point(flat[0])


def _on_arc(arc: ArcMove) -> list[tuple[float, float]]:
    """Return the arc's points of the compass, which a chord may miss by its whole height."""
    first, second, _ = PLANE_AXES[arc.plane]
    reach, (x, y) = radius_mm(arc), (arc.centre[first], arc.centre[second])
    return [(x + reach, y), (x, y + reach), (x - reach, y), (x, y - reach)]


def _traversed(events: Sequence[Event], work: Sequence[tuple[int, int, BaseGeometry]]) -> float:
    """Return the level way between the first and the last piece of work."""
    inner = events[work[0][0] : work[-1][1]] if work else []
    return sum(math.dist(event.start[:2], event.to[:2]) for event in inner if isinstance(event, Traverse))


def _bound(shapes: Sequence[BaseGeometry]) -> float:
    """Return the best bound found by 1-trees about a place that is nowhere: no way through all shapes is shorter."""
    count = len(shapes)
    if count < 2:
        return 0.0
    table = np.array(shapes, dtype=object)
    away = np.zeros((count + 1, count + 1))
    away[:count, :count] = shapely.distance(table[:, None], table[None, :])
    penalty = np.zeros(count + 1)
    best, step = 0.0, float(away[:count, :count].max()) / 10
    for _ in range(_ROUNDS):
        length, degree = _one_tree(away + penalty[:, None] + penalty[None, :])
        best = max(best, length - 2 * float(penalty.sum()))
        if (degree == 2).all():
            break
        penalty += step * (degree - 2)
        step *= 0.96
    return best


def _one_tree(cost: np.ndarray) -> tuple[float, np.ndarray]:  # type: ignore[type-arg]
    """Return length and degrees of the shortest tree of all but the last, joined to the last by two more legs."""
    count = len(cost) - 1
    degree = np.zeros(count + 1)
    near, nearest = cost[0, :count].copy(), np.zeros(count, int)
    left = np.ones(count, bool)
    left[0], total = False, 0.0
    for _ in range(count - 1):
        k = int(np.where(left, near, np.inf).argmin())
        total += near[k]
        degree[k] += 1
        degree[nearest[k]] += 1
        left[k] = False
        closer = cost[k, :count] < near
        near[closer], nearest[closer] = cost[k, :count][closer], k
    ends = np.argsort(cost[count, :count], kind="stable")[:2]
    degree[ends] += 1
    degree[count] = 2
    return total + float(cost[count, ends].sum()), degree


if __name__ == "__main__":
    sys.exit(main())
