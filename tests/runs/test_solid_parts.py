"""Face frames, fillers, doors and drawer fronts as parts of solid wood: every size worked by hand.

Two boxes, 500 and 600 wide ordered, 876 high over a kick of 100, under one frame of 38 mm members, 19 thick. The bottom
is 17.8 thick, so that the bottom rail's upper edge is at 117.8 and the frame's lower end at 117.8 - 38 = 79.8.
"""

import csv
import io
from dataclasses import replace

import pytest
from test_trim import compiled

from rabbetry.job.model import DoorStyle
from rabbetry.page.solid_lists import FRAMES, FRONTS, solid_parts_csv, solid_totals, solid_totals_csv, solid_view
from rabbetry.runs.model import Faced, SolidPart
from rabbetry.runs.solid import front_parts

FRAMED = """
[[cabinet]]
name = "N1"
kind = "open"
faces = "face frame"
width = 500
height = 876
[[cabinet]]
name = "N2"
kind = "base"
faces = "face frame"
width = 600
doors = 1
door_style = "frame and panel"
drawers = [140]
[[run]]
name = "Net bench"
length = 1150
right = "open"
face_frame = "one"
items = [{ filler = 50 }, "N1", "N2"]
"""


def faced(text: str = FRAMED) -> Faced:
    return compiled(text).faced


def sizes(parts: tuple[SolidPart, ...]) -> dict[str, tuple[int, float, float]]:
    return {
        f"{part.of}, {part.name}": (part.count, round(part.length_mm, 6), round(part.width_mm, 6)) for part in parts
    }


def test_one_frame_over_two_boxes_has_long_rails_and_one_stile_between_them() -> None:
    """Stiles 876 - 79.8 = 796.2; rails 1100 - 2 x 38 = 1024; the middle stile 796.2 - 2 x 38 = 720.2. The rail under
    the drawer: from the middle stile, 600 - 38 - 19 = 543. Filler: 876 - 100 high, 50 and 12 of scribe wide. The right
    stile reaches 38 - 1.5 - 17.8 = 18.7 past the side's inside face: blocking for a 550 slide, 100 wide. The middle
    stile, half of it 19, does not."""
    found = sizes(faced().frame_parts)
    of = "N1 to N2 face frame"
    assert found[f"{of}, left stile"] == found[f"{of}, right stile"] == (1, 796.2, 38)
    assert found[f"{of}, top rail"] == found[f"{of}, bottom rail"] == (1, 1024, 38)
    assert found[f"{of}, middle stile 1"] == (1, 720.2, 38)
    assert found[f"{of}, rail 1"] == (1, 543, 38)
    assert found["Net bench, filler 1"] == (1, 776, 62)
    assert found["N2 drawer 1, right blocking"] == (1, 550, 100)
    assert len(found) == 8


def test_tenons_lengthen_rails_and_middle_stiles_at_both_ends() -> None:
    head = "\n[construction]\nframe_tenon_length = 20\n"
    found = sizes(faced(head + FRAMED).frame_parts)
    of = "N1 to N2 face frame"
    assert found[f"{of}, left stile"] == (1, 796.2, 38)
    assert found[f"{of}, top rail"] == (1, 1064, 38)
    assert found[f"{of}, middle stile 1"] == (1, 760.2, 38)


def test_frames_of_single_boxes_stay_single_without_the_word_one() -> None:
    """Each box its own: rails 500 - 76 = 424 and 600 - 76 = 524."""
    found = sizes(faced(FRAMED.replace('face_frame = "one"\n', "")).frame_parts)
    assert found["N1 face frame, top rail"] == (1, 424, 38)
    assert found["N2 face frame, top rail"] == (1, 524, 38)


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        (("height = 876", "height = 880"), "height"),
        (('kind = "open"', 'kind = "open"\nkick_height = 90'), "kick_height"),
        (('kind = "open"', 'kind = "open"\nbottom = "raised"'), "bottom"),
        (('kind = "open"', 'kind = "open"\nframe_top_rail_width = 45'), "frame_top_rail_width"),
    ],
)
def test_boxes_that_differ_get_frames_of_their_own_and_a_note_says_why(changed: tuple[str, str], why: str) -> None:
    found = compiled(FRAMED.replace(*changed, 1))
    assert [frame.cabinets for frame in found.faced.frames] == [("N1",), ("N2",)]
    (note,) = [item.message for item in found.findings if item.code == "face-frame-parted"]
    assert note == f'run "Net bench": one face frame cannot run over N1 and N2: they differ in {why}'


def test_boxes_that_agree_raise_no_such_note() -> None:
    assert not [item for item in compiled(FRAMED).findings if item.code == "face-frame-parted"]


def test_doors_of_stiles_and_rails_and_plain_drawer_fronts() -> None:
    """The openings are 543 wide and overlaid by 12 on each side: fronts are 567 wide. The drawer front is 140 high, its
    opening 116; the door's opening 720.2 - 116 - 38 = 566.2 high, the door 590.2. Door rails: 567 - 2 x 50 + 2 x 10;
    panel: 590.2 - 100 + 20 - 3 by 567 - 100 + 20 - 3."""
    found = sizes(faced().front_parts)
    assert found == {
        "N2 drawer front 1, drawer front": (1, 567, 140),
        "N2 door, stile": (2, 590.2, 50),
        "N2 door, rail": (2, 487, 50),
        "N2 door, panel": (1, 507.2, 484),
    }


@pytest.mark.parametrize(("high", "rails"), [(1500, 2), (1550, 3)])
def test_a_door_over_60_in_has_a_middle_rail_and_two_panels(high: int, rails: int) -> None:
    """Check value 5.3.7; 60 in are 1524 mm. Two panels: (1550 - 3 x 50) / 2 + 2 x 10 - 3 = 717 high."""
    parts = _framed_door(high)
    assert parts["rail"].count == rails
    assert parts["panel"].count == rails - 1
    assert parts["panel"].length_mm == (1417 if rails == 2 else 717)


def _framed_door(high: float) -> dict[str, SolidPart]:
    (cabinet,) = compiled(FRAMED.partition('[[cabinet]]\nname = "N2"')[0].replace("open", "base")).cabinets
    door = replace(cabinet.fronts[0], kind="door", height_mm=high)
    cabinet = replace(cabinet, fronts=(door,), door_style=DoorStyle.FRAME_AND_PANEL)
    return {part.name: part for part in front_parts((cabinet,), "mm")}


def test_doors_of_an_l_shaped_corner_are_listed_too() -> None:
    """Leaves: 900 - 580 = 320, less the thickness 19 of the other and 1.5 gaps of 3: 296.5 wide, 776 - 3 high."""
    corner = """
[[corner]]
name = "K"
"""
    found = sizes(faced(corner).front_parts)
    assert found == {"K left leaf, door": (1, 773, 296.5), "K right leaf, door": (1, 773, 296.5)}


def test_notes_are_in_the_jobs_unit() -> None:
    """12 mm of scribe in a job in millimetres; a groove of 10 at each end of 467 between."""
    notes = {part.name: part.note for part in (*faced().frame_parts, *faced().front_parts)}
    assert notes["filler 1"] == "beside N1; 12 mm of its width to scribe to the wall"
    assert notes["rail"] == "467 mm between the stiles, 10 mm in the groove at each end"
    (cabinet,) = compiled(FRAMED.partition('[[cabinet]]\nname = "N2"')[0].replace("open", "base")).cabinets
    door = replace(cabinet.fronts[0], kind="door", width_mm=355.6)
    cabinet = replace(cabinet, fronts=(door,), door_style=DoorStyle.FRAME_AND_PANEL)
    parts = {part.name: part for part in front_parts((cabinet,), "in")}
    assert parts["rail"].note.startswith("10.063 in (~10 1/16) between the stiles")  # 355.6 - 2 x 50 = 255.6


def test_a_blind_panel_is_cut_from_sheet_and_not_listed_here() -> None:
    blind = """
[[cabinet]]
name = "N5"
kind = "blind corner"
width = 1000
"""
    assert [part.name for part in faced(blind).front_parts] == ["door"]


def test_totals_add_up_to_the_hand_count() -> None:
    """38 wide: 2 x 796.2 + 720.2 + 2 x 1024 + 543 = 4903.6 in 6 pieces. Door members 50 wide: 2 x 590.2 + 2 x 487 =
    2154.4 in 4."""
    found = {(total.of, total.width_mm): (total.pieces, round(total.length_mm, 6)) for total in solid_totals(faced())}
    assert found == {
        (FRAMES, 100): (1, 550),
        (FRAMES, 62): (1, 776),
        (FRAMES, 38): (6, 4903.6),
        (FRONTS, 140): (1, 567),
        (FRONTS, 50): (4, 2154.4),
        (FRONTS, 484): (1, 507.2),
    }
    rows = list(csv.DictReader(io.StringIO(solid_totals_csv(faced()))))
    (rails,) = [row for row in rows if row["width mm"] == "38.000"]
    assert rails["pieces"] == "6"
    assert rails["length m"] == "4.904"
    assert rails["length ft"] == "16.088"  # 4903.6 / 304.8
    assert rails["area m2"] == "0.186"  # 4.9036 x 0.038
    assert rails["area ft2"] == "2.006"  # 0.1863368 / 0.09290304


def test_lists_are_csv_with_harmless_cells_and_as_many_columns_everywhere() -> None:
    part = SolidPart(
        of="=1+1", name="left stile", count=1, length_mm=609.6, width_mm=38.1, thickness_mm=None, note="@x"
    )
    rows = list(csv.reader(io.StringIO(solid_parts_csv((part,)))))
    assert rows[1] == ["'=1+1", "left stile", "1", "609.600", "38.100", "", "24 in", "1 1/2 in", "", "'@x"]
    assert len({len(row) for row in rows}) == 1
    for start in ("+", "-", "@", "="):
        (row,) = list(csv.reader(io.StringIO(solid_parts_csv((replace(part, of=f"{start}x"),)))))[1:]
        assert row[0] == f"'{start}x"


def test_the_page_lists_both_and_nothing_where_there_is_none() -> None:
    view = solid_view(faced(), "mm")
    assert [(name, file, pieces) for name, file, pieces, _ in view.lists] == [
        (FRAMES, "frame-parts.csv", 8),
        (FRONTS, "front-parts.csv", 6),
    ]
    assert solid_view(Faced(), "in").lists == ()
    inches = solid_view(faced(), "in")
    assert (FRAMES, "~3/4 in", "~1 1/2 in", "6", "16.1 ft") in inches.totals
