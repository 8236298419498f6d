"""Fronts, openings, cut-outs, blind parts, panels and fillers as the job file says them."""

import pytest
from job_text import cabinet_text, faults, job_text, read

from rabbetry.job.choices import BlindOrder, CutOutOrder, FrontOrder, OpeningOrder

_PANEL = '[[panel]]\nname = "Back"\ncovers = ["{}"]\nside = "back"\n'


def test_fronts_are_read_from_the_top_down() -> None:
    text = cabinet_text(
        "width = 700",
        'fronts = [{ fill = "drawer", height = 157, below = "rail" }, { fill = "false" },',
        '  { fill = "door", shelves = 2 }]',
    )
    (order,) = read(job_text(text)).cabinets
    assert order.fronts == (
        FrontOrder(fill="drawer", height_mm=157.0, doors=2, below="rail"),
        FrontOrder(fill="false front", doors=2),
        FrontOrder(fill="door", doors=2, adjustable_shelves=2),
    )
    assert (order.adjustable_shelves, order.drawer_front_heights_mm) == (0, ())


def test_an_opening_and_cut_outs_are_read_in_the_jobs_unit() -> None:
    text = cabinet_text(
        "width = 24",
        "height = 48",
        'opening = { width = 22, height = "15 1/2", up = 30 }',
        'cut_outs = [{ through = "top", diameter = 6, y = 4 }, { through = "back", width = 4, height = 2, z = 10 }]',
        kind="appliance",
    )
    (order,) = read(job_text(text, units="in")).cabinets
    inch = 25.4
    top, back = order.cut_outs
    assert order.opening == OpeningOrder(
        width_mm=22 * inch, height_mm=15.5 * inch, depth_mm=0.0, up_mm=30 * inch, vent=True
    )
    assert top == CutOutOrder(panel="top", x_mm=None, at_mm=101.6, width_mm=152.4, height_mm=152.4, round=True)
    assert back == CutOutOrder(panel="back", x_mm=None, at_mm=254.0, width_mm=101.6, height_mm=50.8, round=False)


def test_a_blind_corner_is_filled_in_from_the_cabinet() -> None:
    (order,) = read(job_text(cabinet_text("width = 1000", "depth = 560", kind="blind corner"))).cabinets
    assert order.blind == BlindOrder(hand="left", neighbour_depth_mm=560.0, pull_clearance_mm=60.0, pulled_out_mm=0.0)
    assert (order.doors, order.hinge) == (1, "right")


def test_defaults_of_a_tall_cabinet_and_of_seats() -> None:
    text = job_text(
        *(cabinet_text("width = 500", name=kind, kind=kind) for kind in ("tall", "window seat", "lidded seat"))
    )
    sizes = [(order.height_mm, order.depth_mm, order.doors) for order in read(text).cabinets]
    assert sizes == [(2100.0, 580.0, 1), (450.0, 450.0, 1), (450.0, 450.0, 0)]


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        pytest.param(
            ("drawers = 1", 'fronts = [{ fill = "door" }]'),
            'cabinet "B1", drawers: stands beside fronts; fronts says it all: write doors and shelves in its entries, '
            "and leave this out",
            id="two ways of saying it",
        ),
        pytest.param(
            ('fronts = [{ fill = "drawer", shelves = 1 }]',),
            'cabinet "B1", fronts, entry 1: shelves in a drawer; only door and open take shelves',
            id="shelves in a drawer",
        ),
        pytest.param(
            ('fronts = [{ fill = "dor" }]',),
            'cabinet "B1", fronts, entry 1, fill: "dor" is not one of the choices; did you mean door?',
            id="a slip of the pen",
        ),
        pytest.param(
            ('fronts = [{ fill = "appliance" }]',),
            'cabinet "B1", opening: is missing; write opening = { width = ..., height = ..., up = ... } from the '
            "appliance's sheet",
            id="an appliance without its sizes",
        ),
        pytest.param(
            ('fronts = [{ fill = "door" }]', "opening = { width = 500, height = 300 }"),
            'cabinet "B1", fronts: lists 0 appliances, and the cabinet has one opening; write one '
            '{ fill = "appliance" }',
            id="an opening without its place",
        ),
        pytest.param(
            ('cut_outs = [{ through = "back", diameter = 100, width = 50 }]',),
            'cabinet "B1", cut_outs, entry 1: has no clear size; give either diameter, or both width and height',
            id="round and not round",
        ),
        pytest.param(
            ('cut_outs = [{ through = "back", diameter = 100, y = 50 }]',),
            "cabinet \"B1\", cut_outs, entry 1, y: says nothing of a back; a back's hole has x and z, a bottom's or "
            "top's x and y",
            id="a way that the panel has not",
        ),
    ],
)
def test_what_does_not_agree_is_told_with_its_cure(lines: tuple[str, ...], expected: str) -> None:
    assert faults(job_text(cabinet_text("width = 600", *lines))) == [expected]


def test_a_panel_over_an_unknown_cabinet_is_refused_with_near_names() -> None:
    text = job_text(cabinet_text("width = 600", "qty = 2", name="I1"), _PANEL.format("I1-3"))
    assert faults(text) == ['panel "Back", covers: there is no cabinet "I1-3"; did you mean I1-2?']
    assert read(job_text(cabinet_text("width = 600", "qty = 2", name="I1"), _PANEL.format("I1-2"))).covers


def test_a_panel_may_not_have_a_cabinets_name() -> None:
    text = job_text(cabinet_text("width = 600", name="Back"), _PANEL.format("Back"))
    assert faults(text) == ['panel "Back": has the same name as cabinet "Back"; give each a name of its own']
