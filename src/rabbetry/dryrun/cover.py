"""Which pieces of a sweep add anything to those that are there already: most passes run where an earlier one ran.

Nothing is measured here, only recognised: capsules on one line parallel to an axis are one capsule as far as they
touch, and a disc is part of a capsule of the same width that runs through its centre. So what is left out covers
nothing that the rest does not cover.
"""

from collections.abc import Iterable

from rabbetry.dryrun.setup import Point2

Key = tuple[float, ...]
"""A piece: (radius, x, y) disc, (radius, x0, y0, x1, y1) capsule with its lesser end first, (radius, cx, cy, path
radius, begin, sweep) sector."""

_Line = tuple[float, int, float]
"""Radius; 0 for a line along x, 1 along y; its y or x."""


class Cover:
    """The pieces so far; grows only."""

    def __init__(self) -> None:
        self._seen: set[Key] = set()
        self._ends: set[Key] = set()
        """Discs that slanting capsules hold at their ends."""
        self._runs: dict[_Line, list[Point2]] = {}
        """Stretches of each line that capsules lie along, apart from each other, in order."""

    def add(self, keys: Iterable[Key]) -> list[Key]:
        """Take pieces in and return the pieces, some of them joined, that cover what was not covered before."""
        fresh: list[Key] = []
        discs: list[Key] = []
        lines: dict[_Line, list[Point2]] = {}
        for key in keys:
            if key in self._seen:
                continue
            self._seen.add(key)
            if len(key) == 3:
                discs.append(key)
            elif len(key) == 5 and (key[2] == key[4] or key[1] == key[3]):
                radius, x0, y0, x1, y1 = key
                line, stretch = ((radius, 0, y0), (x0, x1)) if y0 == y1 else ((radius, 1, x0), (y0, y1))
                lines.setdefault(line, []).append(stretch)
            else:
                if len(key) == 5:
                    self._ends.update((key[:3], (key[0], *key[3:])))
                fresh.append(key)
        for line, stretches in lines.items():
            fresh.extend(_capsule(line, stretch) for stretch in self._lengthen(line, stretches))
        fresh.extend(disc for disc in discs if not self._holds(disc))
        return fresh

    def _lengthen(self, line: _Line, stretches: list[Point2]) -> list[Point2]:
        """Join stretches to a line's runs and return the runs that are new or longer than before."""
        before = self._runs.get(line, [])
        runs: list[Point2] = []
        for begin, end in sorted(before + stretches):
            if runs and begin <= runs[-1][1]:
                runs[-1] = (runs[-1][0], max(runs[-1][1], end))
            else:
                runs.append((begin, end))
        self._runs[line] = runs
        return [run for run in runs if run not in before]

    def _holds(self, disc: Key) -> bool:
        radius, x, y = disc
        if disc in self._ends:
            return True
        along_x, along_y = self._runs.get((radius, 0, y), ()), self._runs.get((radius, 1, x), ())
        return any(begin <= x <= end for begin, end in along_x) or any(begin <= y <= end for begin, end in along_y)


def _capsule(line: _Line, stretch: Point2) -> Key:
    radius, axis, place = line
    begin, end = stretch
    return (radius, begin, place, end, place) if axis == 0 else (radius, place, begin, place, end)
