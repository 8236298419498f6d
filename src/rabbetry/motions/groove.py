"""Slots of the cutter's own width: one path, followed once a pass. Millimetres, z = 0 at the stock's top."""

from rabbetry.findings import Finding
from rabbetry.motions.passes import cut_to_and_fro, pass_floors
from rabbetry.motions.tip import Tip
from rabbetry.motions.track import Track
from rabbetry.operations.model import CentreLine


def plan_groove(tip: Tip, work: CentreLine) -> tuple[Finding, ...]:
    """Follow the path from end to end, the next pass back again; each pass ramps down where it starts."""
    forth, back = Track(work.path), Track(work.path.reversed())
    tip.enter(work.path.start)
    for index, floor in enumerate(pass_floors(work.depth_mm, tip.operation)):
        cut_to_and_fro(tip, back if index % 2 and not forth.is_closed else forth, floor)
    tip.lift()
    return ()
