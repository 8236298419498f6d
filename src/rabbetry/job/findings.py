"""What the user should hear about a job that can be read: stocks not measured or unusual, doubtful sizes."""

from collections.abc import Iterator

from rabbetry.findings import Finding, finding
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import Job, Stock, Units
from rabbetry.shop.model import SheetGood
from rabbetry.tolerances import FIT_MM
from rabbetry.units import show_length


def job_findings(job: Job) -> tuple[Finding, ...]:
    """Return the findings of the job file: those made while reading, then one or more for each doubtful stock."""
    used = {order.stock for order in job.parts}
    used |= {panel.stock for panel in job.covers} | {filler.stock for filler in job.fillers}
    used |= {order.stock for order in job.kicks}
    used |= {ladder.stock for ladder in job.ladders}
    legs = [leg for corner in job.corners for leg in (corner.left, corner.right)]
    for order in (*job.cabinets, *legs):
        used |= {order.carcass_stock, order.front_stock} if order.slab_doors else {order.carcass_stock}
        used |= {order.back_stock} if order.back else set()
        used |= {order.side_stock}
        fronts = (*order.fronts, *(front for column in order.columns for front in column))
        has_drawers = order.drawer_front_heights_mm or any(front.fill == "drawer" for front in fronts)
        used |= {order.front_stock} if order.blind or KINDS[order.kind].has_lid else set()
        used |= {order.drawer_stock, order.drawer_bottom_stock} if has_drawers else set()
    found = list(job.notes)
    for stock in job.stocks:
        good = next(good for good in job.shop.sheet_goods if good.name == stock.sheet)
        if stock.name in used:
            found.extend(_stock(stock, good, job.units))
    return tuple(found)


def _stock(stock: Stock, good: SheetGood, units: Units) -> Iterator[Finding]:
    where = f'stock "{stock.name}"'
    thinnest, thickest = good.thinnest_mm, good.thickest_mm
    if stock.measured_mm is None:
        nominal = show_length(stock.nominal_mm, units)
        told = f"thickness not measured: the nominal {nominal} is used; measure a sheet and write thickness = ..."
        yield finding("thickness-not-measured", f"{where}: {told}")
    elif (
        thinnest is not None
        and thickest is not None
        and not thinnest - FIT_MM <= stock.measured_mm <= thickest + FIT_MM
    ):
        limits = f"{show_length(thinnest, units)} to {show_length(thickest, units)}"
        told = f"the measured {show_length(stock.measured_mm, units)} is outside the {limits} of {good.title}"
        yield finding("thickness-unusual", f"{where}: {told}; measure again")
    along, across = stock.blank_x_mm, stock.blank_y_mm
    if good.has_grain and not stock.grain_along_x:
        along, across = across, along
    full_along, full_across = stock.full_sheet_mm or (good.sheet_along_mm, good.sheet_across_mm)
    fits = along <= full_along and across <= full_across
    turned = not good.has_grain and along <= full_across and across <= full_along
    if not fits and not turned:
        sheet = f"{show_length(full_along, units)} along the grain by {show_length(full_across, units)}"
        told = f"no blank of this size comes from one sheet of {good.title}, {sheet}"
        yield finding("blank-exceeds-sheet", f"{where}: {told}")
