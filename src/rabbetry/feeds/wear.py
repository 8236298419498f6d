"""Wear: how far each cutter cuts over a job, what it is set to last, before which programs a fresh one goes in."""

from collections.abc import Iterable, Iterator, Sequence

from rabbetry.feeds.model import Wear
from rabbetry.findings import Finding, finding
from rabbetry.shop.model import Cutter

_MM_PER_M = 1000.0

CutProgram = tuple[str, tuple[tuple[int, float], ...]]
"""Name of a program, and the number of each of its cutters with its millimetres in wood; programs in running order."""


def wear(programs: Sequence[CutProgram], cutters: Iterable[Cutter]) -> tuple[Wear, ...]:
    """Return each cutter that cuts, by number. A cutter is changed between programs only, before its limit is passed
    where it can be."""
    found = []
    for cutter in sorted(cutters, key=lambda item: item.number):
        cuts = [
            (name, mm / _MM_PER_M) for name, lengths in programs for number, mm in lengths if number == cutter.number
        ]
        if cuts:
            total_m = sum(metres for _, metres in cuts)
            found.append(Wear(cutter=cutter, cut_m=total_m, fresh_before=tuple(_changes(cuts, cutter.life_m))))
    return tuple(found)


def _changes(cuts: Sequence[tuple[str, float]], life_m: float | None) -> Iterator[str]:
    gone_m = 0.0
    for name, metres in cuts:
        if life_m is not None and gone_m and gone_m + metres > life_m:
            yield name
            gone_m = 0.0
        gone_m += metres


def wear_findings(worn: Iterable[Wear]) -> Iterator[Finding]:
    """Yield a note for each cutter that the job wears out."""
    for item in worn:
        life_m = item.cutter.life_m
        if life_m is None or item.cut_m <= life_m:
            continue
        text = (
            f'cutter {item.cutter.number} "{item.cutter.name}" goes {item.cut_m:.0f} m through wood in this job; it is '
            f"set to last {life_m:g} m (life_m)"
        )
        if item.fresh_before:
            text += f": have {item.needed} at hand, and put in a fresh one before {', '.join(item.fresh_before)}"
        else:
            text += ", all of it in one program: look at its edge before the next job"
        yield finding("cutter-worn", text)
