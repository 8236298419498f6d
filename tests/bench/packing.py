"""Rectangles into bins: the 500 classic instances, no rotation, against their best known counts and proven bounds.

    python tests/bench/packing.py DATA [EFFORT]

DATA is `classes-2bp.json.gz` (see tests/data/bin_packing/README.md for what it is; ten of a kind are there) or the
subset in tests/data. Prints bins in all, the best known and the bound of the same instances, and CPU seconds.
"""

import gzip
import json
import sys
import time
from pathlib import Path

from rabbetry.sheets.bound import lower_bound
from rabbetry.sheets.pack import Item
from rabbetry.sheets.search import search


def main(path: Path, effort: int) -> None:
    raw = gzip.decompress(path.read_bytes()) if path.suffix == ".gz" else path.read_bytes()
    instances = json.loads(raw)["instances"]
    warm = [Item(k, ((0, 3, 4),)) for k in range(5)]
    search(warm, free=[(0, 0, 7, 7)], bound=0)  # loads or compiles the inner loops
    bins = bounds = known = 0
    longest = 0.0
    start = time.process_time()
    for instance in instances:
        began = time.process_time()
        width, height = instance["W"], instance["H"]
        bound = lower_bound((((w, h),) for w, h in instance["items"]), width, height)
        items = [Item(k, ((0, w, h),)) for k, (w, h) in enumerate(instance["items"])]
        bins += len(search(items, free=[(0, 0, width, height)], bound=bound, effort=effort))
        bounds += bound
        known += instance["best_known"]
        longest = max(longest, time.process_time() - began)
    seconds = time.process_time() - start
    print(f"effort {effort}: {bins} bins for {len(instances)} instances; best known {known}; proven bound {bounds}")
    print(f"{seconds:.1f} s of CPU, mean {seconds / len(instances):.3f} s, longest {longest:.1f} s")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 6)
