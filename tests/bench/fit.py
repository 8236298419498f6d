"""Compiles and proves the sample kitchen's boxes, then 25, 100 and 500 of them, and prints seconds and seconds a box.

    python tests/bench/fit.py

Prints, asserts nothing. Seconds a box that stay level say that the cost is linear in the number of boxes.
"""

import time
from collections.abc import Sequence
from itertools import cycle, islice

from kitchen_programs import KITCHEN, kitchen

from rabbetry.cabinets.model import Cabinet
from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.fit.checks import check_fit
from rabbetry.panels.compile import compile_cabinet
from rabbetry.pipeline import compile_job

_BOUND_S = 2.0
"""What panels and fit of the whole kitchen may take."""

_COUNTS = (25, 100, 500)


def main() -> int:
    job, _ = kitchen()
    start = time.perf_counter()
    compiled = compile_job(job)
    elapsed = time.perf_counter() - start
    print(
        f"{KITCHEN.name}: {len(compiled.boxes)} boxes, {compiled.checks} checks in {elapsed:.2f} s, bound {_BOUND_S:g}"
    )
    cabinets = resolve_cabinets(job).cabinets
    for count in _COUNTS:
        seconds = _prove(tuple(islice(cycle(cabinets), count)))
        print(f"  {count:4} boxes {seconds:8.2f} s {1000 * seconds / count:8.2f} ms a box")
    return 0


def _prove(cabinets: Sequence[Cabinet]) -> float:
    start = time.perf_counter()
    for cabinet in cabinets:
        check_fit(cabinet, compile_cabinet(cabinet))
    return time.perf_counter() - start


if __name__ == "__main__":
    raise SystemExit(main())
