"""The CSV lists, read back."""

import csv
import io

import pytest
from page_samples import HOSTILE, box, disc, door, panel, sheet, side

from rabbetry.page.lists import (
    CUT_LIST_HEADER,
    cut_list_csv,
    edge_banding_csv,
    edge_length_mm,
    hardware_csv,
    natural_order,
)


def rows(text: str) -> list[dict[str, str]]:
    table = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len({len(row) for row in table}) == 1
    return [dict(zip(table[0], row, strict=True)) for row in table[1:]]


def test_the_cut_list_tells_size_place_and_edges_of_every_panel() -> None:
    laid = sheet()
    found = {row["panel"]: row for row in rows(cut_list_csv([item.panel for item in laid.placements], [laid]))}
    assert len(found) == 8
    assert list(found["B3 drawer 1 back"].values()) == [
        *("B3 drawer 1 back", "B3", "drawer 1 back", "birch 18", "17.800", "520.000", "160.000"),
        *("~45/64 in", "~20 15/32 in", "~6 19/64 in", "along", "birch-18-01", "900.000", "12.000", "90"),
        *("inside", "", "", ""),
    ]
    assert found["B3 left side"]["front edge"] == "lower edge (front)"


def test_a_panel_on_no_sheet_is_still_listed() -> None:
    (row,) = rows(cut_list_csv([side()], []))
    assert (row["panel"], row["sheet"], row["x mm"]) == ("B3 left side", "", "")


def test_lists_do_not_depend_on_the_order_of_the_input() -> None:
    parts = [panel(f"B{k} side", 700, 500, cabinet=f"B{k}") for k in (10, 2, 1)]
    text = cut_list_csv(parts, [])
    assert text == cut_list_csv(parts[::-1], [])
    assert [row["cabinet"] for row in rows(text)] == ["B1", "B2", "B10"]


@pytest.mark.parametrize("start", ["=1+1", "+1", "-1", "@x", "\t=1", " =1"])
def test_a_text_that_looks_like_a_formula_is_disarmed(start: str) -> None:
    (row,) = rows(cut_list_csv([panel(start, 700, 500, note=start)], []))
    assert row["panel"].startswith("'")
    assert row["note"].startswith("'")


@pytest.mark.parametrize("name", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_names_make_one_row(name: str) -> None:
    assert len(rows(cut_list_csv([panel(name, 700, 500)], []))) == 1


def test_line_ends_and_quotes_follow_rfc_4180() -> None:
    text = cut_list_csv([panel('say "x", then', 700, 500)], [])
    assert text.startswith(",".join(CUT_LIST_HEADER) + "\r\n")
    assert '\r\n"say ""x"", then",B3,' in text


def test_hardware_lists_items_and_fronts_made_elsewhere() -> None:
    found = rows(hardware_csv([box()]))
    assert [(row["item"], row["count"]) for row in found] == [
        ("hinge", "2"),
        ("shelf pin", "8"),
        ("drawer front 1", "1"),
    ]
    assert (found[2]["width mm"], found[2]["height mm"]) == ("597.000", "140.500")


def test_banding_is_as_long_as_the_wood_on_that_edge() -> None:
    """The kick notch takes 100 of the side's 876 mm front edge and 75 of its 580 mm lower end; 876 - 100 = 776."""
    assert edge_length_mm(side(), "y0") == pytest.approx(776)
    assert edge_length_mm(side(), "x0") == pytest.approx(505)
    assert edge_length_mm(side(), "y1") == pytest.approx(876)
    assert edge_length_mm(disc(), "y0") == 0


def test_edge_banding_has_one_row_an_edge() -> None:
    found = rows(edge_banding_csv([side(), door()], allowance_mm=50))
    assert [(row["panel"], row["edge"], row["length mm"], row["cut mm"]) for row in found] == [
        ("B3 door", "left end", "397.000", "447.000"),
        ("B3 door", "right end", "397.000", "447.000"),
        ("B3 door", "lower edge", "700.000", "750.000"),
        ("B3 door", "upper edge", "700.000", "750.000"),
        ("B3 left side", "lower edge (front)", "776.000", "826.000"),
    ]


def test_numbers_in_names_count() -> None:
    names = ["B10", "B2", "B2 shelf 11", "B2 shelf 2", "A", "²"]
    assert sorted(names, key=natural_order)[:5] == ["A", "B2", "B2 shelf 2", "B2 shelf 11", "B10"]
