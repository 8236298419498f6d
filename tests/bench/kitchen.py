"""Builds the sample kitchen's whole output folder in memory and prints seconds per stage and peak memory.

    python tests/bench/kitchen.py [workers]

Prints, asserts nothing. Stages that the workers share are told as the sum over all workers.
"""

import json
import sys
import time

from kitchen_programs import KITCHEN, kitchen

from rabbetry.build import build_folder

_BOUND_S = 30.0
"""What the whole kitchen may take on two idle processors of a small computer."""


def main() -> int:
    workers = int(sys.argv[1]) if len(sys.argv) > 1 else None
    job, post = kitchen()
    start = time.perf_counter()
    built = build_folder(job, post, workers=workers, tell=lambda _: None)
    elapsed = time.perf_counter() - start
    print(f"{KITCHEN.name}, {'one worker a processor' if workers is None else f'{workers} workers'}")
    told = json.loads(built.content["timings.json"])
    for stage, seconds in told["seconds"].items():
        print(f"  {stage:40} {seconds:8.2f} s")
    for process, size in told.get("peak_memory_bytes", {}).items():
        print(f"  peak memory, {process:27} {size / 2**20:8.0f} MiB")
    print(f"  {'all':40} {elapsed:8.2f} s, bound {_BOUND_S:g} s")
    print("\n".join(built.summary))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
