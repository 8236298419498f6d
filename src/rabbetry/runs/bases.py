"""Ladder bases under the boxes of a run: where each lies, and whether boxes and base go together. Millimetres, run
frame."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from rabbetry.cabinets.model import Resolved, Stand
from rabbetry.findings import Finding, finding
from rabbetry.runs.model import PlacedItem, Run
from rabbetry.tolerances import FIT_MM
from rabbetry.units import show_length

_MOST_OVERHANG_MM = 152.4
"""3 in at either end, as deep as a toe kick (check value 5.1.5): boxes may reach so far past their base."""


def place_bases(
    lower: Sequence[PlacedItem], resolved: Resolved, waiting: Mapping[str, list[Stand]]
) -> tuple[PlacedItem, ...]:
    """Return the ladder bases that neighbours stand on, each in the middle under them; copies in their order."""
    ladders = {ladder.name: ladder for ladder in resolved.ladders}
    found = []
    for name, group in _stretches(lower):
        if not waiting[name]:
            continue
        ladder = ladders[waiting[name].pop(0).name]
        middle = (group[0].x_mm + group[-1].right_mm) / 2
        found.append(
            PlacedItem(
                sort="ladder base",
                name=ladder.name,
                use="",
                x_mm=middle - ladder.length_mm / 2,
                z_mm=0.0,
                width_mm=ladder.length_mm,
                height_mm=ladder.height_mm,
                on=name,
            )
        )
    return tuple(found)


def check_bases(run: Run, resolved: Resolved, units: str) -> Iterator[Finding]:
    """Yield a base longer than its boxes or far shorter, deeper than one of them, or missing; and boxes on a base that
    have a toe kick of their own."""
    ladders = {ladder.name: ladder for ladder in resolved.ladders}
    bases = list(run.bases)
    for name, group in _stretches(run.lower):
        where = f'run "{run.name}": ladder base "{name}"'
        words = " + ".join(f"{item.name} {show_length(item.width_mm, units)}" for item in group)
        total = sum(item.width_mm for item in group)
        sums = f"{words} = {show_length(total, units)}"
        yield from _kicked(where, group, units)
        if not bases or bases[0].on != name:
            if any(order.name == name for order in resolved.ladders):
                yield finding("run-sum", f"{where} has no copy left for {words}; set its qty higher")
            continue
        base = bases.pop(0)
        more = base.width_mm - total
        long = f"{where} is {show_length(base.width_mm, units)} long"
        if more > FIT_MM:
            yield finding("run-sum", f"{long}, {show_length(more, units)} more than what stands on it: {sums}")
        elif -more > _MOST_OVERHANG_MM + FIT_MM:
            most = show_length(_MOST_OVERHANG_MM / 2, units)
            text = f"{long}, {show_length(-more, units)} less than what stands on it: {sums}"
            yield finding("run-base", f"{text}; {most} at either end is usual (common practice)")
        depth = ladders[base.name].depth_mm
        for box in (box for item in group for box in item.boxes if box.cabinet.depth_mm < depth - FIT_MM):
            own = show_length(box.cabinet.depth_mm, units)
            text = f"{where} is {show_length(depth, units)} deep, {box.cabinet.name} on it {own}"
            yield finding("run-base", f"{text}: it would stand out in front")


def _kicked(where: str, group: Sequence[PlacedItem], units: str) -> Iterator[Finding]:
    for item in group:
        kick = max((box.cabinet.kick_z_mm for box in item.boxes), default=0.0)
        if kick > 0:
            own = f"{item.name} on it has a toe kick of its own, {show_length(kick, units)} high"
            yield finding("run-kick", f"{where}: {own}; give it kick_height = 0")


def _stretches(lower: Sequence[PlacedItem]) -> Iterator[tuple[str, list[PlacedItem]]]:
    """Yield each base's name with the neighbours that stand on it, from left to right."""
    for name, group in groupby(lower, key=lambda item: item.on):
        if name:
            yield name, list(group)
