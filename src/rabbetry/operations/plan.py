"""Operations of one sheet: every feature of every panel on it becomes one step, or a finding that says why it cannot.

Knows which cutter, what region, how deep and in what order; does not know the paths of the cutter.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.feeds.model import FeedChoice
from rabbetry.findings import Finding, finding
from rabbetry.geometry.regions import region_polygon
from rabbetry.job.model import Cutting
from rabbetry.operations.bench import Bench, Placed, Planned, Step, placed
from rabbetry.operations.bores import plan_bores
from rabbetry.operations.checks import check_steps
from rabbetry.operations.choose import choose_profile_cutter
from rabbetry.operations.index_holes import plan_index_holes
from rabbetry.operations.model import Operation, OperationsPlanned, Profile, SheetPlan
from rabbetry.operations.order import in_order
from rabbetry.operations.profiles import is_small, plan_cut_out, plan_outline
from rabbetry.operations.recesses import plan_recess
from rabbetry.operations.waste import plan_waste, voids
from rabbetry.panels.model import Bore, CutOut, Recess
from rabbetry.sheets.model import Sheet
from rabbetry.shop.model import Shop


def plan_operations(
    sheet: Sheet, *, shop: Shop, cutting: Cutting, feeds: Mapping[int, FeedChoice]
) -> OperationsPlanned:
    """Return the operations of a sheet in cutting order, blank frame, with all findings.

    `feeds` holds the choice for each cutter number in the sheet's stock; a cutter without one is not used. Whatever
    cannot be cut is left out and told as an error, so an error finding means that the plan must not be run.
    """
    bench = Bench(
        machine=shop.machine,
        cutting=cutting,
        feeds=feeds,
        thickness_mm=sheet.thickness_mm,
        profile=choose_profile_cutter(shop, cutting, sheet.thickness_mm),
        cutters=tuple(cutter for cutter in shop.cutters if cutter.number in feeds),
    )
    parts = [placed(placement) for placement in sheet.placements]
    waste = _waste(sheet, parts, bench)
    planned = [result for part in parts for result in _plan_part(part, parts, bench, cuts_out=sheet.side != 1)]
    planned.append(Planned(steps=tuple(waste)))
    if sheet.flip is not None and sheet.side == 1:
        planned.append(plan_index_holes(sheet.flip, sheet, bench))
    steps = [step for result in planned for step in result.steps]
    ordered = in_order(
        (_clear_of(step.operation, voids(waste)) for step in steps),
        blank_mm=(sheet.blank_x_mm, sheet.blank_y_mm),
        small=frozenset(part.panel.id for part in parts if is_small(part.panel, cutting)),
        profile=bench.profile.number if bench.profile else None,
    )
    findings = (
        *_profile_missing(sheet, bench),
        *(told for result in planned for told in result.findings),
        *check_steps(steps, parts, bench),
    )
    return OperationsPlanned(plan=SheetPlan(sheet=sheet.id, operations=ordered), findings=findings)


def _waste(sheet: Sheet, parts: Sequence[Placed], bench: Bench) -> list[Step]:
    if sheet.side == 1 or bench.profile is None or bench.profile.number not in bench.feeds:
        return []
    return plan_waste(parts, bench, bench.profile)


def _clear_of(operation: Operation, void: BaseGeometry | None) -> Operation:
    if void is None or not isinstance(operation.work, Profile) or operation.work.inside:
        return operation
    return replace(operation, work=replace(operation.work, void=void))


def _plan_part(part: Placed, parts: Sequence[Placed], bench: Bench, *, cuts_out: bool) -> list[Planned]:
    features = part.panel.features
    beside = _beside(part, parts, reach_mm=2 * max((cutter.cut_diameter_mm for cutter in bench.mills), default=0.0))
    results = [plan_bores(part, [feature for feature in features if isinstance(feature, Bore)], bench)]
    taken = beside.union(_clamped(part, bench))
    results += [plan_recess(part, feature, bench, taken) for feature in features if isinstance(feature, Recess)]
    results += [plan_cut_out(part, feature, bench) for feature in features if isinstance(feature, CutOut)]
    if cuts_out and bench.profile is not None and bench.profile.number in bench.feeds:
        results.append(plan_outline(part, bench, bench.profile, beside))
    return results


def _beside(part: Placed, parts: Sequence[Placed], reach_mm: float) -> BaseGeometry:
    """Return the wood of the other parts whose rectangles come within reach, blank frame."""
    low_x, low_y, high_x, high_y = part.outline.bounds
    window = shapely.box(low_x - reach_mm, low_y - reach_mm, high_x + reach_mm, high_y + reach_mm)
    others = [other for other in parts if other is not part and window.intersects(shapely.box(*other.outline.bounds))]
    return shapely.union_all([region_polygon(other.outline) for other in others])


def _clamped(part: Placed, bench: Bench) -> BaseGeometry:
    """Return the clamps with their margin, blank frame, less the part itself: no cut runs out into them."""
    margin = bench.machine.clamp_margin_mm
    boxes = [
        shapely.box(
            clamp.x_mm - margin,
            clamp.y_mm - margin,
            clamp.x_mm + clamp.length_x_mm + margin,
            clamp.y_mm + clamp.length_y_mm + margin,
        )
        for clamp in bench.machine.clamps
    ]
    return shapely.union_all(boxes).difference(region_polygon(part.outline))


def _profile_missing(sheet: Sheet, bench: Bench) -> tuple[Finding, ...]:
    if bench.profile is not None and bench.profile.number in bench.feeds:
        return ()
    text = (
        f"sheet {sheet.id}, {sheet.thickness_mm:.4g} mm thick: no loaded cutter cuts the parts free; "
        "load an end mill with flutes as long as the stock is thick"
    )
    return (finding("cutter-missing", text),)
