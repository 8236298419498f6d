"""Toe kicks under ladder bases and before the legs of a corner: lengths by hand, and what is refused."""

import pytest
from job_text import cabinet_text, codes, faults, job_text, read

from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.panels.kick import kick_panel

CORNER = '[[corner]]\nname = "N1"\nleft_width = 900\nright_width = 950\nleft_depth = 580\nright_depth = 560\n'
LADDER = '[[ladder_base]]\nname = "P1"\nqty = 2\nlength = 1100\ndepth = 500\nheight = 95\n'
B1 = cabinet_text("width = 150", name="B1")


def kick(covers: str, heights: str, *lines: str) -> str:
    return "\n".join(["[[kick]]", 'name = "K"', f"covers = {covers}", f"heights = {heights}", *lines])


def test_a_ladder_base_is_covered_along_its_length() -> None:
    job = read(job_text(LADDER, kick('["P1-2"]', "[110, 100]")))
    (order,) = job.kicks
    assert [(span.cabinet, span.width_mm, span.kick_height_mm) for span in order.spans] == [("P1-2", 1100, 95)]
    (piece,) = resolve_cabinets(job).kicks
    panel = kick_panel(piece, "mm")
    assert (panel.length_mm, panel.width_mm) == (1100, 110)
    assert panel.outline.area == pytest.approx(1100 * (110 + 100) / 2)


def test_the_legs_of_a_corner_are_covered_up_to_each_other() -> None:
    """Kick 75 deep, board 17.8: before the left leg 900 - 560 + 75 = 415, before the right one 950 - 580 + 75 - 17.8 =
    427.2, so that the right board ends on the left one's face."""
    left = read(job_text(B1, CORNER, kick('["B1", "N1 left"]', "[[100, 101], [101, 103]]"))).kicks[0]
    right = read(job_text(B1, CORNER, kick('["N1 right", "B1"]', "[[103, 101], [101, 100]]"))).kicks[0]
    assert [span.width_mm for span in left.spans] == pytest.approx([150, 415])
    assert [span.width_mm for span in right.spans] == pytest.approx([427.2, 150])
    assert left.setback_mm == right.setback_mm == pytest.approx(75 - 17.8)
    assert left.floor == ((0, 100), (150, 101), (565, 103))


def test_a_corner_alone_has_the_setback_of_its_own_kick() -> None:
    (order,) = read(job_text(CORNER, "kick_depth = 60\n", kick('["N1 right"]', "[100, 100]"))).kicks
    assert order.setback_mm == pytest.approx(60 - 17.8)
    assert order.spans[0].width_mm == pytest.approx(950 - 580 + 60 - 17.8)


def test_a_ladder_base_higher_than_the_room_below_is_told() -> None:
    job = read(job_text(LADDER, kick('["P1"]', "[93, 90]")))
    told = [item.message for item in resolve_cabinets(job).findings if item.code == "kick-height"]
    assert told == [
        'kick "K": the floor is only 90 mm below P1, which stands 95 mm high below its box; measure again, or make it '
        "that or less"
    ]


def test_left_and_right_swapped_at_a_corners_leg_is_told() -> None:
    job = read(job_text(B1, CORNER, LADDER, kick('["P1", "B1", "N1 left"]', "[[110, 104], [98, 104], [98, 95]]")))
    told = [item.message for item in resolve_cabinets(job).findings if item.code == "kick-swapped"]
    assert told == ['kick "K": left and right of B1 look swapped: it meets its neighbours better so; measure again']


@pytest.mark.parametrize(
    ("tables", "covers", "wanted"),
    [
        pytest.param(
            (CORNER,), '["N1"]',
            'kick "K", covers: "N1" is a corner, which has two fronts; name one leg: "N1 left" ends a run, "N1 right" '
            "begins one",
            id="a corner by its name",
        ),
        pytest.param(
            (CORNER + "wall = true\n",), '["N1"]',
            'kick "K", covers: "N1" is a corner, which has two fronts; it hangs on the wall, without a toe kick: leave '
            "it out",
            id="a corner on the wall",
        ),
        pytest.param(
            (CORNER + "wall = true\n", B1), '["N1 left"]',
            'kick "K", covers: there is no cabinet, filler or ladder base "N1 left"; known: B1',
            id="a leg that hangs",
        ),
        pytest.param(
            (LADDER,), '["P2"]',
            'kick "K", covers: there is no cabinet, filler or ladder base "P2"; did you mean P1-2?',
            id="a ladder base that is not there",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_covered_is_refused(tables: tuple[str, ...], covers: str, wanted: str) -> None:
    assert faults(job_text(*tables, kick(covers, "[100, 100]"))) == [wanted]


def test_a_clean_kick_before_a_ladder_base_says_nothing() -> None:
    assert codes(read(job_text(LADDER, kick('["P1"]', "[95, 95]")))) == []
