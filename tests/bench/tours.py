"""Drilling tours of TSPLIB against their known optima: the tour search, nearest neighbour, and plain 2-opt, in one run.

    python tests/bench/tours.py [FOLDER]

FOLDER holds `NAME.tsp` files and `optimal.json` (see tests/data/tsplib/README.md, where two of them are). Prints, for
each, how far above the optimum the closed tours are, and CPU seconds of the search.
"""

import json
import math
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import numba
import numpy as np

from rabbetry.geometry.points import Point
from rabbetry.operations.tour import closed_tour

_HERE = Path(__file__).parents[1] / "data" / "tsplib"


def main(folder: Path) -> None:
    optimal = json.loads((folder / "optimal.json").read_text(encoding="utf-8"))
    names = sorted(optimal, key=lambda name: (int("".join(filter(str.isdigit, name))), name))
    ways: dict[str, Callable[[list[Point]], Sequence[int]]] = {
        "search": closed_tour,
        "2-opt": _two_opt,
        "nearest": _nearest,
    }
    closed_tour(_holes(folder / f"{names[0]}.tsp"))  # loads or compiles the inner loops
    print(f"{'':10} {'holes':>5} {'optimum':>8} " + " ".join(f"{way:>9}" for way in ways) + "   CPU s")
    gaps: dict[str, list[float]] = {way: [] for way in ways}
    seconds = []
    for name in names:
        holes = _holes(folder / f"{name}.tsp")
        for way, tour_of in ways.items():
            start = time.process_time()
            tour = tour_of(holes)
            if way == "search":
                seconds.append(time.process_time() - start)
            assert sorted(tour) == list(range(len(holes)))
            gaps[way].append(100 * (_length(holes, tour) / optimal[name] - 1))
        told = " ".join(f"{gaps[way][-1]:7.2f} %" for way in ways)
        print(f"{name:10} {len(holes):5} {optimal[name]:8} {told} {seconds[-1]:7.2f}")
    for label, of in (("mean", lambda found: sum(found) / len(found)), ("worst", max)):
        print(
            f"{label:10} {'':5} {'':8} " + " ".join(f"{of(gaps[way]):7.2f} %" for way in ways) + f" {of(seconds):7.2f}"
        )


def _holes(path: Path) -> list[Point]:
    rows = path.read_text(encoding="utf-8").split("NODE_COORD_SECTION")[1].split("EOF")[0].split("\n")
    return [Point(*map(float, row.split()[1:3])) for row in rows if row.strip()]


def _length(holes: Sequence[Point], tour: Sequence[int]) -> int:
    """Length as the library counts it: each leg rounded to a whole number."""
    legs = zip(tour, (*tour[1:], tour[0]), strict=True)
    return sum(int(math.hypot(holes[a].x - holes[b].x, holes[a].y - holes[b].y) + 0.5) for a, b in legs)


def _nearest(holes: Sequence[Point]) -> list[int]:
    at = np.array([(hole.x, hole.y) for hole in holes])
    left = np.ones(len(at), bool)
    tour = [0]
    left[0] = False
    while left.any():
        away = np.where(left, np.hypot(*(at - at[tour[-1]]).T), np.inf)
        tour.append(int(away.argmin()))
        left[tour[-1]] = False
    return tour


def _two_opt(holes: Sequence[Point]) -> list[int]:
    tour = np.array(_nearest(holes))
    _exchange_all(np.array([(hole.x, hole.y) for hole in holes]), tour)
    return [int(index) for index in tour]


@numba.njit(cache=True)  # type: ignore[untyped-decorator]
def _exchange_all(at: np.ndarray, tour: np.ndarray) -> None:  # type: ignore[type-arg]
    """Exchange any two legs where that shortens the tour, until no two are left."""
    count = len(tour)
    improved = True
    while improved:
        improved = False
        for i in range(count - 1):
            for k in range(i + 2, count if i else count - 1):
                a, b, c, d = at[tour[i]], at[tour[i + 1]], at[tour[k]], at[tour[(k + 1) % count]]
                old = np.hypot(a[0] - b[0], a[1] - b[1]) + np.hypot(c[0] - d[0], c[1] - d[1])
                if np.hypot(a[0] - c[0], a[1] - c[1]) + np.hypot(b[0] - d[0], b[1] - d[1]) < old - 1e-9:
                    tour[i + 1 : k + 1] = tour[i + 1 : k + 1][::-1].copy()
                    improved = True


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else _HERE)
