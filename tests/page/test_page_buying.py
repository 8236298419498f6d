"""The buying list and the break-down as people read them."""

import csv
import io
import xml.etree.ElementTree as ElementTree

from rabbetry.page.buying import breakdown_csv, buying_csv, buying_rows, letter
from rabbetry.sheets.model import Breakdown, FullSheet, SawCut, SawnBlank

SVG = "{http://www.w3.org/2000/svg}"


def blank(name: str, x: float, *edges: str) -> SawnBlank:
    return SawnBlank(id=name, x_mm=x, y_mm=0, along_mm=1218.4, across_mm=1220, factory_edges=edges)


def breakdown(price: float | None = 60.5) -> Breakdown:
    """Three blanks from two sheets: the second sheet's other half is left over."""
    return Breakdown(
        stock="birch",
        title="Birch plywood 18 mm",
        along_mm=2440,
        across_mm=1220,
        kerf_mm=3.2,
        has_grain=True,
        blanks_each=2,
        needed=3,
        sheets=(
            FullSheet(number=1, blanks=(blank("birch-01", 0, "left end"), blank("birch-02", 1221.6, "right end"))),
            FullSheet(number=2, blanks=(blank("birch-03", 0, "left end"),)),
        ),
        cuts=(SawCut(across=True, at_mm=1218.4, from_mm=0, to_mm=1220),),
        price_each=price,
    )


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_the_buying_list_counts_sheets_and_adds_up_their_price() -> None:
    (row,) = rows(buying_csv([breakdown()]))
    assert (row["full sheets"], row["blanks needed"], row["blanks a sheet"]) == ("2", "3", "2")
    assert (row["price each"], row["price"], row["saw kerf mm"]) == ("60.50", "121.00", "3.200")
    assert rows(buying_csv([breakdown(price=None)]))[0]["price"] == ""


def test_the_break_down_names_every_blank_with_its_place_and_factory_edges() -> None:
    found = rows(breakdown_csv([breakdown()]))
    assert [(row["full sheet"], row["blank"], row["from left mm"], row["factory edges"]) for row in found] == [
        ("1", "birch-01", "0.000", "left end"),
        ("1", "birch-02", "1221.600", "right end"),
        ("2", "birch-03", "0.000", "left end"),
    ]


def test_the_page_tells_the_cuts_and_what_becomes_of_the_pieces() -> None:
    (row,) = buying_rows([breakdown()], "mm")
    assert row.steps == (
        "Cut 1, across the sheet, 1218.4 mm from the sheet's left end.",
        "Beyond each of these lines lies the kerf of 3.2 mm.",
    )
    assert row.letters == ("A", "B")
    assert row.sheets == ((1, ("birch-01", "birch-02")), (2, ("birch-03",)))
    assert (row.count, row.cost) == (2, "121.00")


def test_cuts_through_strips_say_which_strip() -> None:
    cuts = (
        SawCut(across=True, at_mm=800, from_mm=0, to_mm=1220),
        SawCut(across=True, at_mm=1603.2, from_mm=0, to_mm=1220),
        SawCut(across=False, at_mm=600, from_mm=803.2, to_mm=1603.2),
    )
    told = buying_rows([Breakdown(**{**_fields(breakdown()), "cuts": cuts})], "mm")[0].steps
    assert told[:2] == (
        "Cut 1 and 2, across the sheet, 800 and 1603.2 mm from the sheet's left end.",
        "Cut 3, along the strip 803.2 to 1603.2 mm from the sheet's left end, 600 mm from the sheet's lower edge.",
    )


def test_the_picture_shows_a_letter_for_each_blank_and_a_number_for_each_cut() -> None:
    drawing = ElementTree.fromstring(str(buying_rows([breakdown()], "mm")[0].picture))
    texts = [(item.get("class"), item.text) for item in drawing.iter(f"{SVG}text")]
    assert [text for css, text in texts if css == "letter"] == ["A", "B"]
    assert [text for css, text in texts if css == "cut-text"] == ["1"]
    blanks = [item for item in drawing.iter(f"{SVG}rect") if item.get("class") == "blank"]
    assert [float(item.get("x") or "") for item in blanks] == [0, 1221.6]


def test_letters_go_on_after_z() -> None:
    assert [letter(k) for k in (0, 25, 26, 27, 51, 52)] == ["A", "Z", "AA", "AB", "AZ", "BA"]


def _fields(row: Breakdown) -> dict[str, object]:
    return {name: getattr(row, name) for name in Breakdown.__dataclass_fields__}
