"""Faults of runs in the job file: the place, what was read, what to do."""

import pytest
from job_text import job_text, read

from rabbetry.errors import InputError

BOXES = """
[[cabinet]]
name = "N1"
kind = "base"
width = 500
[[cabinet]]
name = "W1"
kind = "wall"
width = 800
[[corner]]
name = "K"
[[corner]]
name = "KW"
wall = true
[[ladder_base]]
name = "plinth"
length = 500
depth = 505
"""


def _run(items: str, more: str = "") -> str:
    return f'{BOXES}\n[[run]]\nname = "Sea wall"\nlength = 3000\nitems = [{items}]\n{more}\n'


def _faults(text: str) -> list[str]:
    with pytest.raises(InputError) as refused:
        read(job_text(text))
    return [str(fault) for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("items", "more", "message"),
    [
        ('{ corner = "L" }, "N1"', "", 'items, entry 1: there is no corner "L"; known: K, KW'),
        (
            '"N1", { corner = "K" }, { gap = 50 }',
            "",
            'items, entry 2: corner "K" is neither first nor last; a corner stands at an end of the wall',
        ),
        ('{ corner = "KW" }, "N1"', "", 'items, entry 1: corner "KW" hangs on the wall; name it in `upper`'),
        (
            '"N1"',
            'upper = ["W1", { corner = "K" }]',
            'upper, entry 2: corner "K" stands on the floor; name it in `items`',
        ),
        (
            '{ cabinet = "N1", on = "plinht" }',
            "",
            'items, entry 1: there is no ladder_base "plinht"; did you mean plinth?',
        ),
        (
            '{ filler = 40, on = "plinth" }, "N1"',
            "",
            "items, entry 1: a filler or a gap stands on no ladder base; leave `on` out",
        ),
        (
            '"N1"',
            'upper = [{ cabinet = "W1", on = "plinth" }]',
            "upper, entry 1: what hangs on the wall stands on no ladder base; leave `on` out",
        ),
        (
            '{ cabinet = "N1", corner = "K" }',
            "",
            "items, entry 1: has cabinet and corner; write exactly one of cabinet, corner, appliance, filler, gap",
        ),
        (
            '"N1", "N1"',
            "",
            'cabinet "N1": stands 2 times in runs, and 1 are ordered; each copy stands in one place: set qty = 2',
        ),
    ],
)
def test_what_does_not_agree_is_told_with_its_place(items: str, more: str, message: str) -> None:
    assert any(message in fault for fault in _faults(_run(items, more))), _faults(_run(items, more))


def test_a_leg_stands_in_one_run_only_and_both_legs_in_two() -> None:
    other = '[[run]]\nname = "Stair wall"\nlength = 2000\nitems = [ITEMS]\n'
    twice = other.replace("ITEMS", '{ corner = "K" }, { gap = "fill" }')
    (fault,) = _faults(_run('{ corner = "K" }, { gap = "fill" }') + twice)
    assert 'corner "K": stands 2 times with its right leg, and 1 are ordered' in fault
    good = other.replace("ITEMS", '{ gap = "fill" }, { corner = "K" }')
    job = read(job_text(_run('{ corner = "K" }, { gap = "fill" }') + good))
    assert [item.leg for run in job.runs for item in run.items] == ["right", "", "", "left"]


@pytest.mark.parametrize(("left", "leg"), [("corner", "right"), ("wall", "left")])
def test_a_corner_alone_goes_by_the_word_for_the_left_end(left: str, leg: str) -> None:
    job = read(job_text(_run('{ corner = "K" }', f'left = "{left}"')))
    assert [item.leg for item in job.runs[0].items] == [leg]


def test_a_corner_left_out_of_the_job_is_left_out_of_its_run() -> None:
    text = _run('{ corner = "K" }, "N1"').replace('name = "K"', 'name = "K"\nqty = 0')
    job = read(job_text(text))
    assert [item.name for item in job.runs[0].items] == ["N1"]
