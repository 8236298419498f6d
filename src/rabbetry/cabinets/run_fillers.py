"""Fillers of runs that are cut from sheet, as plain parts. Millimetres."""

from rabbetry.job.model import Grain, Job, PartOrder
from rabbetry.units import show_length


def run_fillers(job: Job) -> tuple[PartOrder, ...]:
    """Return a strip for every filler that names a stock: as high as its neighbour's front, and wider by the scribe.
    One without room is left out: the run's sum says so."""
    found = []
    for run in job.runs:
        fillers = [item for item in (*run.items, *run.upper) if item.sort == "filler"]
        for number, item in enumerate(fillers, start=1):
            if not item.stock or item.width_mm <= 0:
                continue
            scribed = show_length(item.scribe_mm, job.units.value)
            scribe = f"; {scribed} of its width to scribe to the wall" if item.scribe_mm else ""
            found.append(
                PartOrder(
                    name=f"{run.name} filler {number}",
                    qty=1,
                    stock=item.stock,
                    length_mm=item.height_mm,
                    width_mm=item.width_mm + item.scribe_mm,
                    grain=Grain.ALONG,
                    note=(f"beside {item.beside}" if item.beside else "stands alone") + scribe,
                )
            )
    return tuple(found)
