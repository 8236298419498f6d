"""The order of the operations of a sheet, and where the cutter goes into each.

Nothing is cut free before all inner work of the sheet is done, because a part that moves spoils what is still to be cut
in it. Within that, each cutter is loaded once: drills, then end mills from the smallest up, the profile cutter last, so
that it goes straight on to the profiles. Openings come after all other work of their cutter, small parts before the
others. What is left to choose is a short way (`tour`); the holes of a part may be drilled in two goes.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from rabbetry.geometry.points import Point
from rabbetry.operations.doors import stop_of, visited
from rabbetry.operations.model import Operation, Profile
from rabbetry.operations.tour import START, Stop, Visit, short_tour, way_length

_LONGER = 1.1
"""A way that leaves what lies at the blank's edges for the end may be this much longer."""


def in_order(
    operations: Iterable[Operation], *, blank_mm: tuple[float, float], small: frozenset[str], profile: int | None
) -> tuple[Operation, ...]:
    """Return the operations in cutting order.

    `small` are the panels to cut free before the others, `profile` the number of the profile cutter. Ties by name.
    """

    def rank(operation: Operation) -> tuple[bool, bool, tuple[bool, bool, float, int], bool]:
        frees = _frees_a_part(operation)
        return (
            frees,
            frees and operation.panel not in small,
            _cutter_rank(operation, profile),
            isinstance(operation.work, Profile),
        )

    ordered: list[Operation] = []
    here = START
    for _, group in groupby(sorted(operations, key=lambda one: (rank(one), one.name)), key=rank):
        alike = tuple(group)
        stops = tuple(stop_of(operation) for operation in alike)
        visits = short_tour(stops, start=here)
        if _frees_a_part(alike[0]):
            inward = [_from_edges(operation, blank_mm) for operation in alike]
            visits = _steadier(visits, stops, here, inward)
        here = visits[-1].points[-1]
        ordered += _as_visited(alike, visits)
    return tuple(ordered)


def _frees_a_part(operation: Operation) -> bool:
    return isinstance(operation.work, Profile) and not operation.work.inside


def _cutter_rank(operation: Operation, profile: int | None) -> tuple[bool, bool, float, int]:
    cutter = operation.cutter
    return cutter.number == profile, not cutter.is_drill, cutter.cut_diameter_mm, cutter.number


def _steadier(
    visits: tuple[Visit, ...], stops: tuple[Stop, ...], start: Point, inward: Sequence[float]
) -> tuple[Visit, ...]:
    """Return the way or the way turned round: that which leaves the parts at the blank's edges for later, because the
    frame about them holds the rest; unless it is much the longer. `inward` is each part's distance from the edges."""
    turned = visits[::-1]
    if way_length(turned, stops, start) > _LONGER * way_length(visits, stops, start):
        return visits
    return min((visits, turned), key=lambda way: sum(rank * inward[visit.stop] for rank, visit in enumerate(way)))


def _from_edges(operation: Operation, blank_mm: tuple[float, float]) -> float:
    """Return how far the middle of a part is from the blank's nearest edge."""
    assert isinstance(operation.work, Profile)
    low_x, low_y, high_x, high_y = operation.work.outline.bounds
    x, y = (low_x + high_x) / 2, (low_y + high_y) / 2
    return min(x, y, blank_mm[0] - x, blank_mm[1] - y)


def _as_visited(operations: tuple[Operation, ...], visits: tuple[Visit, ...]) -> Iterator[Operation]:
    """Yield the operations as visited; those visited in several goes say which of how many each is."""
    goes = Counter(visit.stop for visit in visits)
    gone: Counter[int] = Counter()
    for visit in visits:
        operation = visited(operations[visit.stop], visit.points)
        gone[visit.stop] += 1
        if goes[visit.stop] > 1:
            operation = replace(operation, name=f"{operation.name} ({gone[visit.stop]} of {goes[visit.stop]})")
        yield operation
