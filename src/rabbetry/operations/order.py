"""The order of the operations of a sheet, and nothing else about them.

Nothing is cut free before all inner work of the sheet is done, because a part that moves spoils what is still to be cut
in it. Within that, each cutter is loaded once: drills, then end mills from the smallest up, the profile cutter last, so
that it goes straight on to the profiles.
"""

from collections.abc import Iterable, Mapping

from rabbetry.geometry.points import Point
from rabbetry.operations.model import Operation, Profile
from rabbetry.operations.tour import short_tour


def in_order(
    operations: Iterable[Operation], *, places: Mapping[str, Point], small: frozenset[str], profile: int | None
) -> tuple[Operation, ...]:
    """Return the operations in cutting order.

    `places` are the panels' middles on the blank, `small` the panels to cut free before the others, `profile` the
    number of the profile cutter. Openings come after all other work of their cutter. Panels follow a short tour; ties
    by name.
    """
    names = sorted(places)
    tour = {names[i]: rank for rank, i in enumerate(short_tour([places[name] for name in names]))}

    def rank(operation: Operation) -> tuple[bool, bool, tuple[bool, bool, float, int], bool, int, str]:
        frees = _frees_a_part(operation)
        return (
            frees,
            frees and operation.panel not in small,
            _cutter_rank(operation, profile),
            isinstance(operation.work, Profile),
            tour[operation.panel],
            operation.name,
        )

    return tuple(sorted(operations, key=rank))


def _frees_a_part(operation: Operation) -> bool:
    return isinstance(operation.work, Profile) and not operation.work.inside


def _cutter_rank(operation: Operation, profile: int | None) -> tuple[bool, bool, float, int]:
    cutter = operation.cutter
    return cutter.number == profile, not cutter.is_drill, cutter.cut_diameter_mm, cutter.number
