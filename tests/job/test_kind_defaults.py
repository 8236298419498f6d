"""[defaults.KIND] tables and settings that are words: what wins, and how a mistake in them is told."""

import pytest
from job_text import cabinet_text, faults, job_text, read

from rabbetry.job.model import Nailer
from rabbetry.job.settings import WORD_SETTINGS
from rabbetry.job.words import BackPlace, LevelJoint


def _job(*orders: str, defaults: str = "", construction: str = "") -> str:
    return job_text(f"[construction]\n{construction}\n", defaults, *orders)


def test_one_change_makes_all_bases_deeper_and_a_cabinets_own_depth_wins() -> None:
    orders = (
        cabinet_text("width = 600", name="B1"),
        cabinet_text("width = 450", "depth = 400", name="B2"),
        cabinet_text("width = 450", name="W1", kind="wall"),
    )
    before = read(_job(*orders)).cabinets
    after = read(_job(*orders, defaults="[defaults.base]\ndepth = 592\n")).cabinets
    assert [order.depth_mm for order in before] == [580.0, 400.0, 320.0]
    assert [order.depth_mm for order in after] == [592.0, 400.0, 320.0]


def test_a_kinds_width_spares_each_cabinet_its_own() -> None:
    (order,) = read(_job(cabinet_text(), defaults="[defaults.base]\nwidth = 600\nadjustable_shelves = 2")).cabinets
    assert (order.width_mm, order.adjustable_shelves) == (600.0, 2)


def test_a_setting_is_taken_from_the_cabinet_then_its_kind_then_the_whole_job() -> None:
    orders = (
        cabinet_text("width = 600", 'bottom_joint = "butt"', "dado_depth = 4", name="B1"),
        cabinet_text("width = 600", name="B2"),
        cabinet_text("width = 600", name="W1", kind="wall"),
    )
    job = read(
        _job(
            *orders,
            construction='bottom_joint = "stopped dado"\ndado_depth = 7',
            defaults='[defaults.base]\nbottom_joint = "tongue"\ndado_depth = 5',
        )
    )
    made = [(order.construction.bottom_joint, order.construction.dado_depth_mm) for order in job.cabinets]
    assert made == [(LevelJoint.BUTT, 4.0), (LevelJoint.TONGUE, 5.0), (LevelJoint.STOPPED_DADO, 7.0)]


def test_a_mistake_in_a_default_is_told_once_and_where_it_stands() -> None:
    orders = [cabinet_text(name=name) for name in ("B1", "B2")]
    defaults = '[defaults.base]\nwidth = -5\nbottom_joint = "dadoo"\ndept = 5\n[defaults.bas]\ndepth = 5\n'
    told = faults(_job(*orders, defaults=defaults))
    assert sorted(told) == [
        '[defaults.base], bottom_joint: "dadoo" is not one of the choices; did you mean dado?',
        "[defaults.base], width: -5 is not more than 0",
        '[defaults.base]: "dept" is not a known key; did you mean depth?',
        '[defaults]: "bas" is not a known key; did you mean base?',
    ]


def test_a_cabinet_that_lacks_its_width_is_still_told() -> None:
    (fault,) = faults(_job(cabinet_text(), defaults="[defaults.wall]\nwidth = 600"))
    assert fault.startswith('cabinet "B1", width: is missing')


def test_a_length_of_the_defaults_is_echoed_once() -> None:
    orders = [cabinet_text(name=name) for name in ("B1", "B2", "B3")]
    job = read(_job(*orders, defaults='[defaults.base]\nwidth = "60 cm"'))
    assert [echo for echo in job.echoes if "width" in echo] == [
        "[defaults.base], width: 60 cm = 23.622 in (~23 5/8) = 600 mm"
    ]


@pytest.mark.parametrize(
    ("construction", "own", "back", "place", "nailer"),
    [
        ("", "", True, BackPlace.RABBET, Nailer.NONE),
        ("", "back = false", False, BackPlace.RABBET, Nailer.NONE),
        ("", 'back = "groove"', True, BackPlace.GROOVE, Nailer.NONE),
        ("", 'back = "none"', False, BackPlace.NONE, Nailer.BOTH),
        ("", 'back = "none"\nnailer = "top"', False, BackPlace.NONE, Nailer.TOP),
        ('back = "applied"', "", True, BackPlace.APPLIED, Nailer.NONE),
        ('back = "applied"', "back = true", True, BackPlace.APPLIED, Nailer.NONE),
        ('back = "applied"', "back = false", False, BackPlace.APPLIED, Nailer.NONE),
        ('back = "none"', "", False, BackPlace.NONE, Nailer.BOTH),
        ('back = "none"', 'back = "rabbet"', True, BackPlace.RABBET, Nailer.NONE),
    ],
)
def test_a_back_is_a_word_or_yes_or_no(
    construction: str, own: str, back: bool, place: BackPlace, nailer: Nailer
) -> None:
    (order,) = read(_job(cabinet_text("width = 600", own), construction=construction)).cabinets
    assert (order.back, order.construction.back, order.nailer) == (back, place, nailer)


@pytest.mark.parametrize("row", WORD_SETTINGS, ids=lambda row: row.key)
def test_every_word_reaches_its_own_field_from_either_table(row: object) -> None:
    for word in row.words:  # type: ignore[attr-defined]
        line = f'{row.key} = "{word}"'  # type: ignore[attr-defined]
        for text in (_job(cabinet_text("width = 600", line)), _job(cabinet_text("width = 600"), construction=line)):
            assert getattr(read(text).cabinets[0].construction, row.key) == word  # type: ignore[attr-defined]
