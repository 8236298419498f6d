"""A setup file that is wrong is refused with every fault, each naming file and key; never with a traceback."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from checks_kit import bench, panel, rectangle
from hypothesis import given, settings
from hypothesis import strategies as st

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.dryrun.setup_read import read_setup
from rabbetry.errors import Fault, InputError


def _faults(change: Callable[[dict[str, Any]], None]) -> list[str]:
    data = bench(panel("P", rectangle(40, 40, 240, 160)))
    change(data)
    with pytest.raises(InputError) as caught:
        read_setup(json.dumps(data), file="a.setup.json")
    return [str(fault) for fault in caught.value.faults]


def test_a_good_setup_is_read_as_it_stands() -> None:
    setup = read_setup(json.dumps(bench(panel("P", rectangle(40, 40, 240, 160)))), file="a.setup.json")
    assert setup.thickness_mm == 18.0
    assert setup.work_offset_mm == (50.0, 60.0, -60.0)
    assert setup.panels[0].outline.start == (40.0, 40.0)
    assert setup.panels[0].hold.at_most == 6


@pytest.mark.parametrize(
    ("change", "said"),
    [
        pytest.param(
            lambda data: data.update(sheet=5), "a.setup.json: sheet: 5: a text was expected", id="number for a text"
        ),
        pytest.param(
            lambda data: data.pop("cutters"), "a.setup.json: cutters: missing: a list was expected", id="missing list"
        ),
        pytest.param(
            lambda data: data["cutters"][0].update(diameter_mm="6"),
            'a.setup.json: cutters[0].diameter_mm: "6": a number from 0 to 100000 was expected',
            id="text for a number",
        ),
        pytest.param(
            lambda data: data["machine"].update(max_rate_mm_per_min=[0, 1, 1]),
            "a.setup.json: machine.max_rate_mm_per_min: [0, 1, 1]: a rate of more than 0 on every axis was expected",
            id="rate of zero",
        ),
        pytest.param(
            lambda data: data["controller"].update(dialect="latin"),
            'a.setup.json: controller.dialect: "latin": one of lenient, small-firmware, strict was expected',
            id="unknown dialect",
        ),
        pytest.param(
            lambda data: data["cutters"][1].update(number=1),
            "a.setup.json: cutters: ",
            id="two cutters of one number",
        ),
        pytest.param(
            lambda data: data.update(spoilboard_z_mm=3),
            "a.setup.json: spoilboard_z_mm: 3: less than stock_top_z_mm 0 was expected",
            id="spoilboard above the stock",
        ),
        pytest.param(
            lambda data: data["target"]["panels"][0]["outline"]["segments"].pop(),
            "a.setup.json: target.panels[0].outline.segments: ",
            id="open outline",
        ),
        pytest.param(
            lambda data: data["target"]["panels"][0]["hold"].update(kind="glue"),
            'a.setup.json: target.panels[0].hold.kind: "glue": "tabs", "skin" or "uncut" was expected',
            id="unknown hold",
        ),
        pytest.param(
            lambda data: data.update(format="2"), "a.setup.json: format: '2' is not 'rabbetry setup 1'", id="other"
        ),
    ],
)
def test_a_fault_names_file_and_key(change: Callable[[dict[str, Any]], None], said: str) -> None:
    (fault,) = _faults(change)
    assert fault.startswith(said)


def test_all_faults_come_at_once() -> None:
    def change(data: dict[str, Any]) -> None:
        data["blank"]["x_mm"] = -1
        data["machine"]["name"] = None
        data["clamps"] = 7

    assert len(_faults(change)) == 3


def test_an_outline_that_crosses_itself_is_refused_with_the_place() -> None:
    bow = {"start": [0, 0], "segments": [{"to": [10, 10]}, {"to": [10, 0]}, {"to": [0, 10]}, {"to": [0, 0]}]}
    with pytest.raises(InputError) as caught:
        dry_run([(ProgramText(name="a.nc", text="M30\n"), json.dumps(bench(panel("P", bow))))])
    assert str(caught.value) == (
        'a.setup.json: target, panel "P": outline is no simple outline: Self-intersection[5 5]'
    )


@pytest.mark.parametrize("text", ["", "{", "[]", "7", "null", '{"format": 1e999}', "[" * 100_000])
def test_what_is_no_setup_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_setup(text, file="a.setup.json")


_JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_any_value_in_any_place_is_read_or_refused(data: st.DataObject) -> None:
    setup = bench(panel("P", rectangle(40, 40, 240, 160), bores=[(60, 60, 5, 12)]))
    place: Any = setup
    while True:
        keys = sorted(place) if isinstance(place, dict) else list(range(len(place)))
        key = data.draw(st.sampled_from(keys))
        if isinstance(place[key], dict | list) and place[key] and data.draw(st.booleans()):
            place = place[key]
            continue
        place[key] = data.draw(_JSON)
        break
    told: tuple[Fault, ...] = ()
    try:
        read_setup(json.dumps(setup), file="a.setup.json")
    except InputError as error:
        told = error.faults
    assert all(fault.file == "a.setup.json" and fault.problem for fault in told)
