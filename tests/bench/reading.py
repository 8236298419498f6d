"""Lines per second of the dry run's reader, beside a general-purpose reader of the same language, in one run.

    python -m pip install pygcode
    python tests/bench/reading.py [sheets]

Both get the same programs, line by line: ours makes its events, the other its blocks, processed by its virtual machine.
What neither is asked for: wood, stock, findings. Prints the ratio and asserts nothing.
"""

import importlib
import sys
import time
from collections.abc import Callable, Sequence
from typing import Any

from kitchen_programs import planned_sheets

from rabbetry.dryrun.dialects import DIALECTS
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import Context, ProgramText

try:
    pygcode: Any = importlib.import_module("pygcode")
except ImportError:
    pygcode = None

_ROUNDS = 3
_DIALECT = "strict"


def main() -> int:
    if pygcode is None:
        print("the other reader is not installed: python -m pip install pygcode", file=sys.stderr)
        return 2
    most = int(sys.argv[1]) if len(sys.argv) > 1 else 6
    programs = [program for sheet in planned_sheets(most) for program, _ in sheet]
    lines = sum(program.text.count("\n") for program in programs)
    print(f"{len(programs)} programs, {lines} lines")
    ours = lines / _best_seconds(_read_ours, programs)
    print(f"this reader:  {ours:10.0f} lines a second")
    other = lines / _best_seconds(_read_other, programs)
    print(f"the other:    {other:10.0f} lines a second")
    print(f"ratio:        {ours / other:10.1f}")
    return 0


def _best_seconds(read: Callable[[ProgramText], None], programs: Sequence[ProgramText]) -> float:
    """Return the processor time of the quickest of some rounds: the least disturbed one."""
    seconds = []
    for _ in range(_ROUNDS):
        start = time.process_time()
        for program in programs:
            read(program)
        seconds.append(time.process_time() - start)
    return min(seconds)


def _read_ours(program: ProgramText) -> None:
    reading = read_program(program, DIALECTS[_DIALECT], Context())
    if reading.refused:
        raise SystemExit(f"{program.name} was refused: {reading.findings[-1].message}")


def _read_other(program: ProgramText) -> None:
    machine = pygcode.Machine()
    for text in program.text.splitlines():
        machine.process_block(pygcode.Line(text).block)


if __name__ == "__main__":
    raise SystemExit(main())
