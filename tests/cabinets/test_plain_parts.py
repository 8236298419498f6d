"""Plain parts with outlines and cuts: what they come to, and what is refused with its place and measure."""

from typing import Any

import pytest

from box_kit import job
from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.fit.checks import check_part
from rabbetry.job.model import Corner, CutOrder, Grain, PartOrder
from rabbetry.panels.compile import compile_part
from rabbetry.panels.model import Bore, Panel, Recess


def corners(*points: tuple[float, float]) -> tuple[Corner, ...]:
    return tuple(Corner(x_mm=x, y_mm=y) for x, y in points)


def cut(kind: str, depth_mm: float | None = 6.0, **rest: Any) -> CutOrder:
    return CutOrder(kind=kind, name=f"{kind} 1", depth_mm=depth_mm, **rest)


def order(*cuts: CutOrder, outline: tuple[Corner, ...] = ()) -> PartOrder:
    size = (0.0, 0.0) if outline else (400.0, 200.0)
    return PartOrder(
        name="Gusset",
        qty=1,
        stock="carcass",
        length_mm=size[0],
        width_mm=size[1],
        grain=Grain.ALONG,
        outline=outline,
        cuts=cuts,
    )


def panel_of(wanted: PartOrder) -> Panel:
    resolved = resolve_cabinets(job(parts=(wanted,)))
    assert resolved.findings == ()
    (part,) = resolved.parts
    return compile_part(part)


def complaints(wanted: PartOrder) -> list[str]:
    resolved = resolve_cabinets(job(parts=(wanted,)))
    assert resolved.parts == ()
    return [item.message for item in resolved.findings if item.severity == "error"]


def recesses(panel: Panel) -> list[tuple[float, ...]]:
    return [item.outline.bounds for item in panel.features if isinstance(item, Recess)]


L_SHAPE = corners((100, 50), (500, 50), (500, 150), (200, 150), (200, 350), (100, 350))


def test_an_outline_is_brought_to_the_lower_left_of_its_rectangle_with_its_cuts() -> None:
    panel = panel_of(order(cut("hole", None, x_mm=450.0, y_mm=100.0, diameter_mm=8.0), outline=L_SHAPE))
    assert (panel.length_mm, panel.width_mm) == (400.0, 300.0)
    assert panel.outline.bounds == (0.0, 0.0, 400.0, 300.0)
    assert panel.outline.area == 400 * 100 + 100 * 200
    (hole,) = panel.features
    assert isinstance(hole, Bore)
    assert (hole.centre.x, hole.centre.y, hole.diameter_mm, hole.depth_mm, hole.through) == (350, 50, 8, 17.8, True)


def test_a_dado_ends_where_the_part_ends() -> None:
    """Along y at x = 300 the L is 100 wide, at x = 150 it is 300 wide; the rabbet takes the short upper edge."""
    panel = panel_of(
        order(
            cut("dado", along="y", at_mm=300.0, width_mm=18.0),
            cut("dado", along="y", at_mm=150.0, width_mm=18.0),
            cut("rabbet", edge="upper", width_mm=12.0),
            outline=L_SHAPE,
        )
    )
    assert recesses(panel) == [(200, 0, 218, 100), (50, 0, 68, 300), (0, 288, 100, 300)]


def test_a_dado_across_a_bay_comes_in_two_pieces() -> None:
    bay = corners((0, 0), (300, 0), (300, 200), (200, 200), (200, 100), (100, 100), (100, 200), (0, 200))
    panel = panel_of(order(cut("dado", along="x", at_mm=140.0, width_mm=18.0), outline=bay))
    assert [item.name for item in panel.features] == ["dado 1, piece 1", "dado 1, piece 2"]
    assert recesses(panel) == [(0, 140, 100, 158), (200, 140, 300, 158)]


def test_a_dado_runs_out_over_a_slanted_edge() -> None:
    """Under the line from (0, 200) to (400, 100) the dado between x = 100 and 120 is 175 to 170 high."""
    wedge = corners((0, 0), (400, 0), (400, 100), (0, 200))
    (recess,) = [
        item
        for item in panel_of(order(cut("dado", along="y", at_mm=100.0, width_mm=20.0), outline=wedge)).features
        if isinstance(item, Recess)
    ]
    assert recess.outline.area == pytest.approx(20 * 172.5)


REFUSED = [
    pytest.param(
        order(cut("dado", 17.8, along="x", at_mm=50.0, width_mm=18.0)),
        'part "Gusset": dado 1 17.8 mm deep goes through 17.8 mm of carcass; make it shallower: '
        "what goes through is a cut-out",
        id="a dado right through",
    ),
    pytest.param(
        order(outline=corners((0, 0), (200, 200), (200, 0), (0, 200))),
        'part "Gusset": outline: an outline crosses or touches itself at (100.0000, 100.0000)',
        id="an outline that crosses itself",
    ),
    pytest.param(
        order(cut("hole", x_mm=398.0, y_mm=100.0, diameter_mm=8.0)),
        'part "Gusset": hole 1: reaches 2.00 mm over the edge of the part',
        id="a hole over the edge",
    ),
    pytest.param(
        order(cut("cut-out", None, corners=corners((0, 50), (100, 50), (100, 100), (0, 100)))),
        'part "Gusset": cut-out 1: leaves no wood between it and the edge of the part',
        id="an opening that touches the edge",
    ),
    pytest.param(
        order(cut("pocket", corners=corners((300, 50), (425, 50), (425, 100), (300, 100)))),
        'part "Gusset": pocket 1: reaches 25.00 mm over the edge of the part',
        id="a pocket over the edge",
    ),
    pytest.param(
        order(cut("groove", along="x", at_mm=50.0, width_mm=6.0, start_mm=300.0, end_mm=100.0)),
        'part "Gusset": groove 1: starts at 300 and ends at 100; nothing is left of it',
        id="a groove that ends before it starts",
    ),
    pytest.param(
        order(
            cut("dado", along="x", at_mm=120.0, width_mm=18.0),
            outline=(
                *corners((0, 0), (400, 0)),
                Corner(x_mm=400.0, y_mm=200.0, radius_mm=90.0),
                *corners((0, 200)),
            ),
        ),
        'part "Gusset": dado 1: runs out over a curved edge; give start and end so that it stays on the part',
        id="a dado over a rounded corner",
    ),
]


@pytest.mark.parametrize(("wanted", "message"), REFUSED)
def test_what_cannot_be_cut_is_refused(wanted: PartOrder, message: str) -> None:
    assert complaints(wanted) == [message]


def test_all_faults_of_a_part_are_told_at_once() -> None:
    wanted = order(
        cut("dado", 20.0, along="x", at_mm=50.0, width_mm=18.0),
        cut("hole", x_mm=-10.0, y_mm=100.0, diameter_mm=8.0),
    )
    assert len(complaints(wanted)) == 2


def test_holes_that_meet_each_other_or_the_edge_of_a_pocket_are_found() -> None:
    panel = panel_of(
        order(
            CutOrder(kind="hole", name="first", depth_mm=8.0, x_mm=50.0, y_mm=50.0, diameter_mm=10.0),
            CutOrder(kind="hole", name="second", depth_mm=8.0, x_mm=58.0, y_mm=50.0, diameter_mm=10.0),
            CutOrder(kind="hole", name="third", depth_mm=8.0, x_mm=200.0, y_mm=100.0, diameter_mm=10.0),
            cut("pocket", corners=corners((200, 80), (260, 80), (260, 120), (200, 120))),
        )
    )
    assert [item.message for item in check_part(panel).findings] == [
        "Gusset: third meets the edge of pocket 1",
        "Gusset: first cuts into second",
    ]
