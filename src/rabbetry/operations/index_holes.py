"""The holes that a blank is flipped on: through it and into the spoilboard, beside all parts."""

from dataclasses import replace

from rabbetry.geometry.curves import rectangle
from rabbetry.geometry.points import Transform
from rabbetry.job.model import Grain
from rabbetry.operations.bench import Bench, Placed, Planned
from rabbetry.operations.bores import plan_bores
from rabbetry.panels.model import Bore, Panel
from rabbetry.sheets.model import Flip, Sheet

INDEX_HOLES = "index holes"
"""What the holes belong to, in place of a panel's id."""


def plan_index_holes(flip: Flip, sheet: Sheet, bench: Bench) -> Planned:
    """Return the step that bores the index holes, or the finding that no loaded cutter makes them."""
    blank = rectangle(0.0, 0.0, sheet.blank_x_mm, sheet.blank_y_mm)
    panel = Panel(
        id=INDEX_HOLES,
        cabinet="",
        role=INDEX_HOLES,
        stock=sheet.stock,
        thickness_mm=sheet.thickness_mm,
        length_mm=sheet.blank_x_mm,
        width_mm=sheet.blank_y_mm,
        outline=blank,
        features=(),
        grain=Grain.FREE,
        place=None,
    )
    holes = [
        Bore(
            name=f"index hole {number}",
            purpose="index",
            centre=centre,
            diameter_mm=flip.hole_diameter_mm,
            depth_mm=sheet.thickness_mm,
            through=True,
        )
        for number, centre in enumerate(flip.index_holes, start=1)
    ]
    # Through holes go as deep into the spoilboard as the pins must stand in it, not as a part's through cuts do.
    deep = replace(bench, machine=replace(bench.machine, through_mm=flip.hole_depth_mm - sheet.thickness_mm))
    placed = Placed(panel=panel, blank_from_panel=Transform.shift(0.0, 0.0), outline=blank)
    return plan_bores(placed, holes, deep)
