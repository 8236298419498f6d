"""Wood, money, hours and metres of each cutter on the page, against hand arithmetic."""

import dataclasses

import pytest
from page_samples import page

from rabbetry.feeds.model import Wear
from rabbetry.page.economics import cutter_takes, price_of_all, stock_takes
from rabbetry.page.html import index_html


def test_areas_and_waste_of_a_stock_add_up() -> None:
    view = page()
    (take,) = stock_takes(view)
    sheet = view.sheets[0].sheet
    blank_m2 = sheet.blank_x_mm * sheet.blank_y_mm / 1e6
    panels_m2 = sum(abs(place.panel.outline.area) for place in sheet.placements) / 1e6
    kept_m2 = sum(item.length_x_mm * item.length_y_mm for item in sheet.offcuts) / 1e6
    assert take.wood == f"{blank_m2:.2f} m\u00b2"
    assert take.panels == f"{panels_m2:.2f} m\u00b2"
    assert take.kept == f"{kept_m2:.2f} m\u00b2"
    assert take.waste == f"{(blank_m2 - panels_m2 - kept_m2) / blank_m2 * 100:.0f} %"


@pytest.mark.parametrize(
    ("cost", "words"),
    [(0, "costs no blank"), (1, "free grain would save 1 blank"), (2, "free grain would save 2 blanks")],
)
def test_what_a_grain_lock_costs_is_said(cost: int, words: str) -> None:
    view = page()
    counts = tuple(dataclasses.replace(count, grain_cost=cost) for count in view.counts)
    assert stock_takes(dataclasses.replace(view, counts=counts))[0].grain == words


def test_a_cutters_metres_stand_beside_its_limit() -> None:
    view = page()
    cutter = dataclasses.replace(view.cutters[0], life_m=100.0)
    worn = Wear(cutter=cutter, cut_m=250.4, fresh_before=("a.nc", "b.nc"))
    view = dataclasses.replace(view, wear=(worn,))
    (take,) = cutter_takes(view)
    assert (take.cut, take.life, take.needed) == ("250 m", "100 m", 3)
    text = index_html(view)
    assert "<td>a.nc, b.nc</td>" in text
    inches = dataclasses.replace(view, units="in")
    assert cutter_takes(inches)[0].cut == f"{250.4 / 0.3048:.0f} ft"


def test_prices_are_added_only_when_every_stock_has_one() -> None:
    assert price_of_all([10.0, 2.5]) == "12.50"
    assert price_of_all([10.0, None]) == ""
    assert price_of_all([]) == ""
