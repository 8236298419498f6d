"""The air run of a sheet shows the way without touching anything: as built, and with faults planted in its text."""

import json
import re
from functools import cache
from pathlib import Path

import pytest

from rabbetry.build import Built, build_folder
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import Feed, ProgramText, Spindle, Traverse
from rabbetry.files import load_post, load_tables, post_names
from rabbetry.findings import Finding, has_error
from rabbetry.pipeline import PostText, load_job

JOB = """
name = "Net loft"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1]

[[clamp]]
name = "low"
x = 0
y = 300
length_x = 40
length_y = 60
height = 12

[[clamp]]
name = "tall"
x = 560
y = 500
length_x = 50
length_y = 70
height = 25

[stock.birch]
sheet = "birch-18"
thickness = 17.8
blank = [610, 610]

[[part]]
name = "cleat"
stock = "birch"
length = 320
width = 180
"""


def _post(name: str) -> PostText:
    shipped, toml, template = load_post(name, beside=Path())
    return PostText(name=shipped, toml=toml, template=template)


@cache
def _built(post: PostText) -> Built:
    job = load_job(JOB, file="job.toml", tables=load_tables(), own_tables={})
    return build_folder(job, post, workers=1, tell=lambda _: None)


def _air(built: Built) -> tuple[str, str, str]:
    """Return name, text and setup of the only air run."""
    rows = json.loads(built.content["manifest.json"])["programs"]
    (name,) = [row["file"] for row in rows if row["kind"] == "air run"]
    setup = built.content[name.rsplit(".", 1)[0] + ".setup.json"]
    return name, built.content[name].decode(), setup.decode()


def _found(text: str, setup: str) -> tuple[Finding, ...]:
    return dry_run([(ProgramText(name="air.nc", text=text), setup)]).findings


@pytest.mark.parametrize("name", post_names())
def test_every_sheet_has_an_air_run_that_the_dry_run_finds_harmless(name: str) -> None:
    built = _built(_post(name))
    assert not has_error(built.findings), built.findings
    file, text, setup = _air(built)
    (report,) = dry_run([(ProgramText(name=file, text=text), setup)]).programs
    assert report.findings == ()
    turning = [event for event in report.events if isinstance(event, Spindle) and event.direction != "off"]
    assert turning == []
    # 25 mm of clamp and 5 of margin: nothing sideways below that.
    sideways = [e for e in report.events if isinstance(e, Feed | Traverse) and e.start[:2] != e.to[:2]]
    assert min(event.program_to[2] for event in sideways) >= 30 - 0.01
    slow = [event for event in sideways if isinstance(event, Feed)]
    assert len(slow) == len(sideways), "nothing goes over at the machine's own speed"
    assert {round(event.feed_mm_per_min) for event in slow} == {1500}, "a quarter of 6000 mm/min"


def test_it_goes_round_the_blank_each_clamp_and_all_cuts() -> None:
    built = _built(_post("metric-plain"))
    _, text, setup = _air(built)
    (report,) = dry_run([(ProgramText(name="air.nc", text=text), setup)]).programs
    corners = {(round(e.program_to[0], 3), round(e.program_to[1], 3)) for e in report.events if isinstance(e, Feed)}
    assert {(0, 0), (610, 0), (610, 610), (0, 610)} <= corners
    assert {(0, 300), (40, 300), (40, 360), (0, 360)} <= corners
    assert {(560, 500), (610, 500), (610, 570), (560, 570)} <= corners
    # The part, 320 x 180, and half a cutter of 6.35 on each side: the profile's way, from the cuts as written.
    cuts = next(text.decode() for name, text in built.content.items() if name.endswith("01-T1.nc"))
    places = [[float(v) for v in re.findall(rf"{axis}(-?[\d.]+)", cuts[cuts.index("(op 1") :])] for axis in "XY"]
    low = (min(places[0]), min(places[1]))
    assert low in corners
    assert max(places[0]) - min(places[0]) >= 180 + 6.35


PLANTED = [
    pytest.param("G54\n", "G54\nM3 S12000\n", "air-run-spindle", id="spindle started"),
    pytest.param("G1 X610 F", "G1 X610 Z12 F", "air-run-low", id="down among the clamps"),
    pytest.param("G1 Y610\n", "G1 Y610 Z-3\n", "air-run-low", id="into the stock"),
    pytest.param("G1 X610 F1500", "G1 X610 F6000", "air-run-fast", id="as fast as it can"),
    pytest.param("G0 Z30\nG1", "G1", "first-motion", id="no lift"),
]


@pytest.mark.parametrize(("old", "new", "code"), PLANTED)
def test_a_fault_in_an_air_run_is_found(old: str, new: str, code: str) -> None:
    _, text, setup = _air(_built(_post("metric-plain")))
    assert old in text
    assert code in {item.code for item in _found(text.replace(old, new, 1), setup)}


def test_a_clamp_taller_than_the_setup_said_is_met() -> None:
    _, text, setup = _air(_built(_post("metric-plain")))
    data = json.loads(setup)
    data["clamps"][1]["top_z_mm"] = 40.0
    assert {"air-run-low", "cut-into-clamp"} <= {item.code for item in _found(text, json.dumps(data))}


def test_the_page_says_when_to_run_it_and_the_machine_time_leaves_it_out() -> None:
    built = _built(_post("metric-plain"))
    page = built.content["index.html"].decode()
    assert "Run birch-01-air.nc, hand on the stop: with the spindle off" in page
    assert page.index("birch-01-air.nc") < page.index("birch-01-T1.nc")
    assert "in the air first" not in page
    rows = json.loads(built.content["manifest.json"])["programs"]
    assert [row["kind"] for row in rows] == ["air run", "cut"]
    assert any("1 program," in line and "1 air run" in line for line in built.summary)


def test_a_template_that_would_start_the_spindle_gets_no_air_run() -> None:
    shipped = _post("metric-plain")
    plain = shipped.template.replace("{% if not air %}\n", "").replace(
        "{% endif %}\n{% endif %}\n{% for s", "{% endif %}\n{% for s"
    )
    built = _built(PostText(name="mine", toml=shipped.toml, template=plain))
    assert not has_error(built.findings)
    assert not [name for name in built.content if "air" in name]
    assert "in the air first, well above the work" in built.content["index.html"].decode()


def test_a_template_that_asks_and_starts_it_all_the_same_releases_nothing() -> None:
    shipped = _post("metric-plain")
    wrong = shipped.template.replace("{% if not air %}", "{% if air or not air %}")
    built = _built(PostText(name="mine", toml=shipped.toml, template=wrong))
    assert "air-run-spindle" in {item.code for item in built.findings}
    assert not [name for name in built.content if name.startswith("programs/")]
