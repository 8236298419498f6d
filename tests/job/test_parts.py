"""Plain parts in the job file: what the keys become, and what they must agree on."""

import pytest
from job_text import job_text, read

from rabbetry.errors import InputError
from rabbetry.job.model import Corner, PartOrder

PART = '[[part]]\nname = "Gusset"\nstock = "ply"\n'
SIZE = "length = 400\nwidth = 200\n"


def part(lines: str) -> PartOrder:
    (order,) = read(job_text(PART + lines)).parts
    return order


def faults(lines: str) -> list[str]:
    with pytest.raises(InputError) as refused:
        read(job_text(PART + lines))
    return [str(fault) for fault in refused.value.faults]


def test_an_outline_has_corners_radii_and_arcs() -> None:
    order = part('outline = [[0, 0], [400, "1 in", 20], {to = [0, 200], through = [200, 260]}]')
    assert order.outline == (
        Corner(x_mm=0, y_mm=0),
        Corner(x_mm=400, y_mm=25.4, radius_mm=20),
        Corner(x_mm=0, y_mm=200, through_mm=(200, 260)),
    )


def test_a_row_of_holes_is_counted_out() -> None:
    order = part(SIZE + 'holes = [{x = 30, y = 37, diameter = 5, depth = 12, count = 3, pitch = 32, along = "y"}]')
    assert [(cut.name, cut.x_mm, cut.y_mm, cut.depth_mm) for cut in order.cuts] == [
        ("hole 1", 30, 37, 12),
        ("hole 2", 30, 69, 12),
        ("hole 3", 30, 101, 12),
    ]


def test_a_cut_that_fits_a_stock_is_as_wide_as_its_measured_thickness_and_the_clearance() -> None:
    """5.8 mm and a clearance of 0.2: all of it in a dado, half of it in a rabbet, which is open on one side."""
    order = part(
        SIZE
        + 'dados = [{along = "x", at = 50, fits = "thin", depth = 6}]\n'
        + 'rabbets = [{edge = "upper", fits = "thin", depth = 6}]'
    )
    assert [cut.width_mm for cut in order.cuts] == pytest.approx([6.0, 5.9])


FAULTS = [
    pytest.param(
        "width = 200\n",
        'job.toml: part "Gusset", length: is missing; '
        "write `length = ...` (size along x of the part; needed without an outline or drawing)",
        id="neither length nor outline",
    ),
    pytest.param(
        SIZE.replace("width = 200", "outline = [[0, 0], [1, 0], [0, 1]]"),
        'job.toml: part "Gusset", length: stands beside an outline; '
        "the outline says how large the part is; leave it out",
        id="length and outline",
    ),
    pytest.param(
        SIZE + 'dados = [{along = "x", at = 50, depth = 6}]',
        'job.toml: part "Gusset", dados, entry 1: has neither width nor fits; '
        "write width = ..., or fits = the stock that enters",
        id="a dado of no width",
    ),
    pytest.param(
        SIZE + 'rabbets = [{edge = "left", fits = "thinn", depth = 6}]',
        'job.toml: part "Gusset", rabbets, entry 1, fits: there is no stock "thinn"; did you mean thin?',
        id="a stock that is not there",
    ),
    pytest.param(
        SIZE + "pockets = [{x = 50, y = 50, length = 30, depth = 5}]",
        'job.toml: part "Gusset", pockets, entry 1: its shape cannot be told from length, x, y; '
        "give x, y, length and width (and radius), or x, y and diameter, or outline alone",
        id="half a rectangle",
    ),
    pytest.param(
        SIZE + "holes = [{x = 50, y = 50, diameter = 5, count = 4}]",
        'job.toml: part "Gusset", holes, entry 1, pitch: is missing; '
        "say how far it is from one hole of the row to the next",
        id="a row without a pitch",
    ),
    pytest.param(
        "outline = [[0, 0], [100, 0], [50]]",
        'job.toml: part "Gusset", outline, entry 3: a list of 1 is not a corner; '
        "write [x, y], [x, y, radius], or {to = [x, y], through = [x, y]} for an arc",
        id="half a corner",
    ),
]


@pytest.mark.parametrize(("lines", "message"), FAULTS)
def test_what_the_keys_of_a_part_do_not_agree_on_is_told(lines: str, message: str) -> None:
    assert faults(lines) == [message]


def test_small_cuts_are_not_taken_for_inches() -> None:
    assert read(job_text(PART + SIZE + 'grooves = [{along = "x", at = 9, width = 8, depth = 5}]')).notes == ()
