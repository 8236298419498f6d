"""What a job takes: wood and its waste, money, hours, metres of each cutter. For the page."""

from collections.abc import Iterable
from dataclasses import dataclass

from rabbetry.page.model import PageView

_MM2_PER_M2 = 1e6
_MM_PER_FT = 304.8


@dataclass(frozen=True, slots=True, kw_only=True)
class StockTake:
    """One stock as the page shows it."""

    stock: str
    blanks: int
    panels: str
    wood: str
    kept: str
    waste: str
    price: str
    grain: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CutterTake:
    """One cutter as the page shows it."""

    number: int
    name: str
    cut: str
    life: str
    needed: int
    fresh_before: tuple[str, ...]


def stock_takes(view: PageView) -> tuple[StockTake, ...]:
    """Return each stock with blanks: areas of panels, blanks and offcuts worth keeping, what is waste of the blanks,
    price of the full sheets, and what keeping the grain costs."""
    prices = {row.stock: row.cost for row in view.breakdowns}
    takes = []
    for count in view.counts:
        sheets = [item.sheet for item in view.sheets if item.sheet.stock == count.stock and item.sheet.side != 1]
        if not sheets:
            continue
        wood = sum(sheet.blank_x_mm * sheet.blank_y_mm for sheet in sheets)
        panels = sum(sheet.utilisation * sheet.blank_x_mm * sheet.blank_y_mm for sheet in sheets)
        kept = sum(offcut.length_x_mm * offcut.length_y_mm for sheet in sheets for offcut in sheet.offcuts)
        price = prices.get(count.stock)
        takes.append(
            StockTake(
                stock=count.stock,
                blanks=count.sheets,
                panels=_area(panels, view.units),
                wood=_area(wood, view.units),
                kept=_area(kept, view.units),
                waste=f"{(1 - (panels + kept) / wood) * 100:.0f} %",
                price="" if price is None else f"{price:.2f}",
                grain=_grain(count.grain_cost),
            )
        )
    return tuple(takes)


def _grain(cost: int) -> str:
    return f"free grain would save {cost} {'blank' if cost == 1 else 'blanks'}" if cost > 0 else "costs no blank"


def cutter_takes(view: PageView) -> tuple[CutterTake, ...]:
    """Return each cutter that cuts, with its length in wood and what it is set to last."""
    return tuple(
        CutterTake(
            number=item.cutter.number,
            name=item.cutter.name,
            cut=_run(item.cut_m, view.units),
            life="not set" if item.cutter.life_m is None else _run(item.cutter.life_m, view.units),
            needed=item.needed,
            fresh_before=item.fresh_before,
        )
        for item in view.wear
    )


def price_of_all(costs: Iterable[float | None]) -> str:
    """Return the price of all sheets, or nothing when a stock has none."""
    known = list(costs)
    return f"{sum(cost or 0.0 for cost in known):.2f}" if known and None not in known else ""


def _area(mm2: float, units: str) -> str:
    return f"{mm2 / _MM2_PER_M2:.2f} m\u00b2" if units == "mm" else f"{mm2 / _MM_PER_FT**2:.1f} ft\u00b2"


def _run(metres: float, units: str) -> str:
    value, unit = (metres, "m") if units == "mm" else (metres * 1000 / _MM_PER_FT, "ft")
    return f"{value:.0f} {unit}" if value >= 10 else f"{value:.1f} {unit}"
