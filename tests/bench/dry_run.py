"""Seconds per blank of the kitchen's dry runs: reading, the regions of the removed wood, and everything together.

    python tests/bench/dry_run.py [sheets]

One process, processor time. Prints, asserts nothing.
"""

import sys
import time

from kitchen_programs import SheetPrograms, planned_sheets

from rabbetry.dryrun.dialects import DIALECTS
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.evidence import Evidence, Zone
from rabbetry.dryrun.floor import Floors
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import NO_POINT, Context
from rabbetry.dryrun.setup_read import OFFSET_WORDS, read_setup
from rabbetry.dryrun.strokes import Stroke, start_mm, strokes_of
from rabbetry.dryrun.sweep import Sweeps
from rabbetry.dryrun.target import panel_target

_BOUND_S = 0.24
"""What a blank may take, processor time: all fifty of the kitchen in six seconds on two processors."""


def main() -> int:
    sheets = planned_sheets(int(sys.argv[1]) if len(sys.argv) > 1 else None)
    regions = [_regions_seconds(sheet) for sheet in sheets]
    whole = []
    for sheet in sheets:
        start = time.process_time()
        dry_run(sheet)
        whole.append(time.process_time() - start)
    print(f"{len(sheets)} blanks, {sum(len(sheet) for sheet in sheets)} programs")
    for what, seconds in (("removed regions of all levels", regions), ("whole dry run", whole)):
        mean = sum(seconds) / len(seconds)
        print(f"{what:30} {mean:7.3f} s a blank, slowest {max(seconds):7.3f} s, all {sum(seconds):7.2f} s")
    print(f"{'bound for the whole':30} {_BOUND_S:7.3f} s a blank")
    return 0


def _regions_seconds(sheet: SheetPrograms) -> float:
    """Return the time for the regions removed from one blank's panels; reading and strokes are not counted."""
    strokes: list[Stroke] = []
    for place, (program, text) in enumerate(sheet):
        setup = read_setup(text, file=program.name)
        offsets = [NO_POINT] * len(OFFSET_WORDS)
        offsets[OFFSET_WORDS.index(setup.work_offset_word)] = setup.work_offset_mm or NO_POINT
        context = Context(work_offsets_mm=tuple(offsets), start_mm=start_mm(setup))
        reading = read_program(program, DIALECTS[setup.dialect], context)
        cutter = setup.cutter(setup.loaded[0]) if setup.loaded else None
        strokes.extend(strokes_of(reading.events, setup, program=place, cutter=cutter))
    targets = [panel_target(panel, file="", faults=[]) for panel in setup.panels]
    start = time.process_time()
    sweeps = Sweeps(strokes, setup.stock_top_z_mm)
    floors = Floors(sweeps, setup.stock_top_z_mm)
    evidence = Evidence(setup=setup, programs=setup.programs, sweeps=sweeps, floors=floors)
    for target in targets:
        Zone(evidence, target.outline, target.levels(setup))
    return time.process_time() - start


if __name__ == "__main__":
    raise SystemExit(main())
