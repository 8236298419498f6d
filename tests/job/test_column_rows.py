"""Columns with fronts of their own in a job file: what is read, and what is refused with its place."""

import pytest
from job_text import cabinet_text, faults, job_text, read

_DRAWERS = '{ fronts = [{ fill = "drawer" }, { fill = "drawer" }] }'
TWO = f'columns = [{_DRAWERS}, {{ fronts = [{{ fill = "door", shelves = 2 }}] }}]'


def test_columns_bring_their_dividers_and_hang_doors_outside() -> None:
    (order,) = read(job_text(cabinet_text("width = 900", TWO))).cabinets
    assert order.dividers_mm == (None,)
    assert [[front.fill for front in column] for column in order.columns] == [["drawer", "drawer"], ["door"]]
    assert (order.columns[1][0].hinge, order.columns[1][0].doors) == ("right", 1)
    assert (order.doors, order.drawer_front_heights_mm, order.adjustable_shelves) == (0, (), 0)


def test_dividers_may_say_where() -> None:
    (order,) = read(job_text(cabinet_text("width = 900", "dividers = [300]", TWO, kind="drawers"))).cabinets
    assert order.dividers_mm == (300.0,)
    assert order.drawer_front_heights_mm == ()


@pytest.mark.parametrize(
    ("lines", "wanted"),
    [
        pytest.param(
            ("dividers = 2", TWO),
            'cabinet "B1", columns: 2 dividers part it into 3 columns, and 2 are listed; list one for each column',
            id="too few",
        ),
        pytest.param(
            ("doors = 1", TWO),
            'cabinet "B1", doors: stands beside columns; columns says it all: write doors, drawers and shelves in the '
            "columns' fronts, and leave this out",
            id="doors beside columns",
        ),
        pytest.param(
            (TWO.replace('"drawer" }, {', '"drawer", shelves = 1 }, {'),),
            'cabinet "B1", columns, entry 1, fronts, entry 1: shelves in a drawer; only door and open take shelves',
            id="shelves in a drawer",
        ),
        pytest.param(
            (TWO.replace('"door", shelves = 2', '"appliance"'),),
            'cabinet "B1", columns, entry 2, fronts, entry 1: an appliance in a column; an appliance takes the whole '
            "width: give it its own cabinet",
            id="an appliance",
        ),
        pytest.param(
            ('columns = [{ fronts = [{ fill = "door" }] }, {}]',),
            'cabinet "B1", columns, entry 2, fronts: is missing; write `fronts = ...` (its front from the top down, as '
            "`fronts` of a cabinet; one door unless it says two, hung at the cabinet's own side in the first and last "
            "column)",
            id="a column without fronts",
        ),
    ],
)
def test_what_does_not_agree_is_refused(lines: tuple[str, ...], wanted: str) -> None:
    assert faults(job_text(cabinet_text("width = 900", *lines))) == [wanted]
