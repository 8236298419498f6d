"""The pilot holes of screws that hold a blank down: through it, where `sheets.hold_down` found room in its waste."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rabbetry.feeds.model import FeedChoice
from rabbetry.geometry.curves import rectangle
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import Cutting, Grain
from rabbetry.operations.bench import Bench, Placed
from rabbetry.operations.bores import plan_bores
from rabbetry.operations.model import OperationsPlanned, SheetPlan
from rabbetry.panels.model import Bore, Panel
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Clamp, Shop

SCREW_HOLES = "screw holes"
"""What the holes belong to, in place of a panel's id."""


def plan_screw_holes(
    sheet: Sheet, heads: Sequence[Clamp], *, shop: Shop, cutting: Cutting, feeds: Mapping[int, FeedChoice]
) -> OperationsPlanned:
    """Return the step that drills a hole under the middle of each head, or the finding that no loaded cutter does."""
    bench = Bench(
        machine=shop.machine,
        cutting=cutting,
        feeds=feeds,
        thickness_mm=sheet.thickness_mm,
        profile=None,
        cutters=tuple(cutter for cutter in shop.cutters if cutter.number in feeds),
    )
    blank = rectangle(0.0, 0.0, sheet.blank_x_mm, sheet.blank_y_mm)
    panel = Panel(
        id=SCREW_HOLES,
        cabinet="",
        role=SCREW_HOLES,
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
            name=head.name,
            purpose="pilot",
            centre=Point(head.x_mm + head.length_x_mm / 2, head.y_mm + head.length_y_mm / 2),
            diameter_mm=cutting.screw_hole_mm,
            depth_mm=sheet.thickness_mm,
            through=True,
        )
        for head in heads
    ]
    placed = Placed(panel=panel, blank_from_panel=Transform.shift(0.0, 0.0), outline=blank)
    planned = plan_bores(placed, holes, bench)
    operations = tuple(
        replace(step.operation, name=f"{SCREW_HOLES}: {len(heads)} of {cutting.screw_hole_mm:g} mm")
        for step in planned.steps
    )
    return OperationsPlanned(plan=SheetPlan(sheet=sheet.id, operations=operations), findings=planned.findings)
