"""Shelves under load: the formula against published spans, and which boards of a box it is asked about."""

from dataclasses import replace
from math import floor

import pytest

from rabbetry.files import load_tables
from rabbetry.fit.sag import check_sag, deflection_mm, longest_span_mm
from rabbetry.geometry.curves import polygon, rectangle
from rabbetry.job.loads import read_load
from rabbetry.panels.model import Place
from rabbetry.pipeline import compile_job, load_job
from rabbetry.units import LengthError

PSI_N_PER_MM2 = 6894.757293168 / 1e6
LB_FT2_PA = 4.4482216152605 / 0.3048**2


@pytest.mark.parametrize(
    ("million_psi", "inches", "lb_ft2", "computed", "printed"),
    [
        # AWS (architectural woodwork standards), p. 279, items 4.4.14.10.11 to 13: spans at L/144.
        (0.95, 0.75, 40, 40.026, 40),
        (0.95, 0.75, 50, 37.157, 37),
        (0.95, 1.0, 40, 53.368, 53),
        (0.95, 1.0, 50, 49.542, 49),
        (1.80, 0.75, 40, 49.529, 49),
        (1.80, 0.75, 50, 45.979, 46),
        (1.80, 1.0, 40, 66.039, 66),
        (1.80, 1.0, 50, 61.305, 61),
        (1.82, 0.75, 40, 49.712, 49),
        (1.82, 0.75, 50, 46.148, 46),
        (1.82, 1.0, 40, 66.282, 66),
        (1.82, 1.0, 50, 61.531, 61),
    ],
)
def test_spans_are_those_of_the_published_table(
    million_psi: float, inches: float, lb_ft2: float, computed: float, printed: int
) -> None:
    span = longest_span_mm(lb_ft2 * LB_FT2_PA, 144, million_psi * 1e6 * PSI_N_PER_MM2, inches * 25.4) / 25.4
    assert span == pytest.approx(computed, abs=0.001)
    assert floor(span + 0.03) == printed


@pytest.mark.parametrize(
    ("gpa", "sags", "at_240", "at_144"),
    [
        # 18 mm under 15 lb/ft2, spans 600, 800, 900, 1000: worked out by hand from 5 w L^4 / (384 E I).
        (6.96, (0.3583, 1.1324, 1.8139, 2.7647), 1146.5, 1359.4),
        (3.59, (0.6946, 2.1954, 3.5166, 5.3599), 919.5, 1090.2),
        (2.76, (0.9035, 2.8556, 4.5742, 6.9717), 842.3, 998.7),
        (1.60, (1.5586, 4.9260, 7.8904, 12.0263), 702.3, 832.7),
    ],
)
def test_deflections_in_millimetres(gpa: float, sags: tuple[float, ...], at_240: float, at_144: float) -> None:
    load = 15 * LB_FT2_PA
    for span, sag in zip((600, 800, 900, 1000), sags, strict=True):
        assert deflection_mm(load, span, gpa * 1000, 18) == pytest.approx(sag, abs=1e-4)
    assert longest_span_mm(load, 240, gpa * 1000, 18) == pytest.approx(at_240, abs=0.06)
    assert longest_span_mm(load, 144, gpa * 1000, 18) == pytest.approx(at_144, abs=0.06)


@pytest.mark.parametrize(
    ("text", "pa"),
    [("15 lb/ft2", 718.2), ("40lb/ft²", 1915.2), ("50 psf", 2394.0), ("75 kg/m2", 735.5), ("0.7 kPa", 700.0)],
)
def test_loads_are_read_with_their_units(text: str, pa: float) -> None:
    assert read_load(text).pa == pytest.approx(pa, abs=0.05)


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (15, '15 is a load without its unit; write text such as "15 lb/ft2" or "75 kg/m2"'),
        ("heavy", '"heavy" is not a load; write text such as "15 lb/ft2" or "75 kg/m2"'),
        ("15 kg/m", "\"15 kg/m\" has the unknown unit 'kg/m'; did you mean kg/m2?"),
        ("15 kPa 2", '"15 kPa 2" is not a load; write text such as "15 lb/ft2" or "75 kg/m2"'),
        ("900 kPa", '"900 kPa" is not between 10 and 20000 Pa; check number and unit'),
    ],
)
def test_what_is_no_load_is_refused(value: object, told: str) -> None:
    with pytest.raises(LengthError) as error:
        read_load(value)
    assert str(error.value) == told


JOB = """
name = "Net loft"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 4, 5, 6, 7, 8]
{top}
[stock.ply]
sheet = "birch-18"
thickness = 18
blank = [1220, 1220]
[[cabinet]]
name = "N1"
width = 1036
depth = 300
height = 800
{keys}
"""


def sagging(*, top: str = "", keys: str) -> list[str]:
    job = load_job(JOB.format(top=top, keys=keys), file="net-loft.toml", tables=load_tables(), own_tables={})
    return [item.message for item in compile_job(job).findings if item.code == "shelf-sags"]


def test_a_thousand_millimetres_of_18_mm_plywood_carry_the_usual_load() -> None:
    # 1000 mm between the sides: 2.76 mm of 4.17 mm allowed.
    assert sagging(keys='kind = "open"\nfixed_shelves = 1\nadjustable_shelves = 0') == []


def test_under_books_the_same_shelf_sags_and_the_message_says_what_helps() -> None:
    found = sagging(keys='kind = "open"\nfixed_shelves = 1\nadjustable_shelves = 0\nshelf_load = "40 lb/ft2"')
    # 2.7647 x 40/15 = 7.37 mm; 1000/240 = 4.17; 1146.5 x (15/40)^(1/3) = 826.8; 18 x 1000/826.8 = 21.8
    assert found == [
        "N1 bottom spans 1000 mm and would sag 7.4 mm under 195 kg/m2; the limit is 4.2 mm, 1/240 of the span. In "
        "plywood 18 mm thick the longest span is 826.8 mm: divide it, take a board of 21.8 mm or more, or fix its back "
        "edge along its whole length",
        "N1 fixed shelf 1 spans 1000 mm and would sag 7.4 mm under 195 kg/m2; the limit is 4.2 mm, 1/240 of the span. "
        "In plywood 18 mm thick the longest span is 826.8 mm: divide it, take a board of 21.8 mm or more, or fix its "
        "back edge along its whole length",
    ]


def test_the_limit_and_the_load_of_the_whole_job_hold() -> None:
    cabinet = 'kind = "open"\nadjustable_shelves = 1'
    # Books and 1/144: 981 mm is the longest span; the bottom spans 1000, the loose shelf is 998 long.
    assert len(sagging(top='shelf_load = "40 lb/ft2"\nshelf_limit = 144', keys=cabinet)) == 2
    # 30 lb/ft2 and 1/144: 1359.4 x (15/30)^(1/3) = 1078.9.
    assert sagging(top='shelf_load = "30 lb/ft2"\nshelf_limit = 144', keys=cabinet) == []
    own = cabinet + '\nshelf_load = "15 lb/ft2"'
    assert sagging(top='shelf_load = "40 lb/ft2"', keys=own) == []


def test_a_bottom_that_stands_on_the_floor_is_not_judged_and_a_hung_one_is() -> None:
    heavy = 'adjustable_shelves = 0\nshelf_load = "50 lb/ft2"\nkick_height = 0\nbottom_lift = 0'
    assert sagging(keys=f'kind = "open"\n{heavy}') == []
    assert [text.split(" spans")[0] for text in sagging(keys=f'kind = "wall"\n{heavy}')] == ["N1 bottom"]


def test_drawer_bottoms_are_carried_all_round_and_not_judged() -> None:
    cabinet = 'kind = "drawers"\nshelf_load = "15 lb/ft2"'
    assert sagging(keys=cabinet.replace("depth = 300", "")) == []


def test_a_divider_halves_the_span_and_a_board_that_is_no_rectangle_is_not_judged() -> None:
    heavy = 'kind = "open"\nadjustable_shelves = 0\nfixed_shelves = 0\nshelf_load = "40 lb/ft2"'
    assert len(sagging(keys=heavy)) == 1
    job = load_job(JOB.format(top="", keys=heavy), file="x", tables=load_tables(), own_tables={})
    compiled = compile_job(job)
    (cabinet,), (box,) = compiled.cabinets, compiled.boxes
    bottom = next(panel for panel in box.panels if panel.role == "bottom")
    # An upright 18 mm thick under the middle, as deep as the box, leaves two spans of 491 mm.
    post = replace(
        next(panel for panel in box.panels if panel.role == "left side"),
        id="N1 post",
        role="post",
        length_mm=100.0,
        outline=rectangle(0, 0, 100, 300),
        features=(),
        place=Place(origin=(527.0, 300.0, 0.0), x_axis=(0.0, 0.0, 1.0), y_axis=(0.0, -1.0, 0.0)),
    )
    assert check_sag(cabinet, replace(box, panels=(*box.panels, post)), job) == ()
    corner = polygon([(0, 0), (1012, 0), (1012, 282), (500, 282), (500, 141), (0, 141)])
    cut = replace(bottom, outline=corner)
    others = tuple(panel for panel in box.panels if panel is not bottom)
    assert check_sag(cabinet, replace(box, panels=(*others, cut)), job) == ()
