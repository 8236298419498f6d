"""Notes of clearances in a run: each said where a run keeps less than the guideline, and not at the guideline itself.

Guideline figures in inches, exact: 24 and 18 beside a sink, 15 and 12 beside a hob, 15 beside a refrigerator, 3 from a
hob to an end wall, at most 36 from dishwasher to sink, 36 of counter for preparation, aisles of 42 and 48.
"""

import pytest

from rabbetry.runs.clearances import check_clearances, check_heights
from rabbetry.runs.model import PlacedItem, Run

INCH = 25.4


def _run(*row: tuple[str, float], left: str = "open", aisle: float | None = None, cooks: int = 1) -> Run:
    """A lower row of (use, width in inches); 'base' is a cabinet that carries counter."""
    items, x = [], 0.0
    for number, (use, inches) in enumerate(row):
        items.append(
            PlacedItem(
                sort="cabinet" if use in ("base", "sink") else "appliance",
                name=f"{use} {number}",
                use="" if use == "base" else use,
                x_mm=x,
                z_mm=0.0,
                width_mm=inches * INCH,
                height_mm=1800.0 if use == "refrigerator" else 876.3,
            )
        )
        x += inches * INCH
    return Run(
        name="galley",
        length_mm=x,
        left=left,
        right="open",
        items=tuple(items),
        counter_z_mm=914.4,
        counter_thickness_mm=38.1,
        room_height_mm=None,
        aisle_mm=None if aisle is None else aisle * INCH,
        cooks=cooks,
    )


def _notes(run: Run) -> list[str]:
    return [found.message for found in check_clearances(run, "mm")]


@pytest.mark.parametrize(
    ("kept", "short", "said"),
    [
        (_run(("base", 36), ("sink", 30), ("base", 18)), _run(("base", 36), ("sink", 30), ("base", 17)), "narrower"),
        (_run(("base", 15), ("hob", 30), ("base", 12)), _run(("base", 14), ("hob", 30), ("base", 12)), "wider"),
        (_run(("base", 15), ("hob", 30), ("base", 12)), _run(("base", 15), ("hob", 30), ("base", 11)), "narrower"),
        (_run(("refrigerator", 30), ("base", 15)), _run(("refrigerator", 30), ("base", 14)), "wider"),
        (_run(("base", 20), aisle=42), _run(("base", 20), aisle=41), "aisle is 1041.4 mm"),
        (_run(("base", 20), aisle=48, cooks=2), _run(("base", 20), aisle=47, cooks=2), "2 cooks"),
    ],
)
def test_one_note_where_the_run_keeps_less_and_none_at_the_guideline(kept: Run, short: Run, said: str) -> None:
    assert _notes(kept) == []
    (note,) = _notes(short)
    assert said in note


def test_preparation_asks_for_36_inches_unbroken() -> None:
    (note,) = _notes(_run(("base", 35), ("sink", 30), ("base", 18)))
    assert "889 mm" in note
    assert "914.4 mm" in note


def test_dishwasher_may_stand_36_inches_from_the_sink_and_no_more() -> None:
    kept = _run(("dishwasher", 24), ("base", 36), ("sink", 30), ("base", 18))
    far = _run(("dishwasher", 24), ("base", 37), ("sink", 30), ("base", 18))
    assert _notes(kept) == []
    (note,) = _notes(far)
    assert "939.8 mm from the edge of the dishwasher" in note


def test_hob_needs_3_inches_to_an_end_wall() -> None:
    row = (("hob", 30.0), ("base", 15.0))
    at_wall = [note for note in _notes(_run(*row, left="wall")) if "end wall" in note]
    in_open = [note for note in _notes(_run(*row)) if "end wall" in note]
    assert len(at_wall) == 1
    assert "0 mm from an end wall" in at_wall[0]
    assert in_open == []


def test_counter_at_36_inches_is_usual() -> None:
    assert check_heights(_run(("base", 24)), "mm") == ()
