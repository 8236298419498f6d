"""Whatever job a careful user writes: no traceback, and never a complaint about programs that we planned ourselves."""

from collections import defaultdict
from pathlib import Path
from random import Random

import shapely
from hypothesis import Phase, event, given, settings
from hypothesis import strategies as st

from rabbetry.build import Built, build_folder
from rabbetry.files import load_post, load_tables
from rabbetry.findings import CODES, Finding
from rabbetry.manifest import Manifest
from rabbetry.pipeline import PostText, compile_job, load_job
from random_jobs import job_text

ROUNDING_MM = 0.002
"""The manifest gives thousandths."""
TRUE_FAULTS = {
    *("part-too-big", "flute-too-short", "no-profile-cutter", "no-place-for-index-holes", "vent-no-room", "vent-panel"),
    *(code for code, row in CODES.items() if row.stage == "cabinets"),
}
"""Errors that a random size may well deserve, told before anything is made; anything else is a fault of ours."""

OF_THE_CUTTER = {"compression-shallow-pass", "tab-too-small"}
"""True of any compression cutter somewhere, over a tab in thin stock if nowhere else; and of a tab below a rabbet that
leaves less wood at the edge than a tab is high."""
FORESEEN = {
    "tooth-rubs": {"chip-load-rubbing"},
    "tooth-overloaded": {"chip-load-high"},
    "end-mill-drills": {"plunged-end-mill"},
}
"""Warnings of the dry run that are the shop's own doing: fair where the planning said the same."""


def _built(text: str) -> Built:
    job = load_job(text, file="job.toml", tables=load_tables(), own_tables={})
    name, toml, template = load_post(job.post, beside=Path())
    return build_folder(job, PostText(name=name, toml=toml, template=template), workers=1, tell=lambda stage: None)


def _check_places(manifest: Manifest) -> None:
    blanks = {sheet.id: shapely.box(0, 0, *sheet.blank_mm).buffer(ROUNDING_MM) for sheet in manifest.sheets}
    placed = defaultdict(list)
    for panel in manifest.panels:
        if not panel.sheet:
            continue
        size = (panel.length_mm, panel.width_mm)
        across, along = size if panel.rotation_deg == 0 else size[::-1]
        box = shapely.box(panel.x_mm, panel.y_mm, panel.x_mm + across, panel.y_mm + along)
        assert blanks[panel.sheet].covers(box), panel.id
        for other in placed[panel.sheet]:
            assert box.distance(other) > 0, panel.id
        placed[panel.sheet].append(box)


def _is_true(item: Finding) -> bool:
    """A plain part's cuts are drawn without regard to each other, so that they may well meet."""
    return item.code in TRUE_FAULTS or (item.code == "fit-bore" and str(item.where.panel).startswith("P"))


@settings(max_examples=40, deadline=None, derandomize=True, database=None, phases=[Phase.generate])
@given(st.integers(0, 10**6))
def test_the_boxes_of_a_random_job_fit_together_or_are_refused_for_a_true_fault(seed: int) -> None:
    text = job_text(Random(seed))
    compiled = compile_job(load_job(text, file="job.toml", tables=load_tables(), own_tables={}))
    errors = [item for item in compiled.findings if item.severity == "error"]
    assert all(_is_true(item) for item in errors), f"{errors}\n{text}"
    assert errors or compiled.panels
    event("refused" if errors else "fits")


@settings(max_examples=5, deadline=None, derandomize=True, database=None, phases=[Phase.generate])
@given(st.integers(0, 10**6))
def test_a_random_job_builds_clean_or_is_refused_for_a_true_fault(seed: int) -> None:
    text = job_text(Random(seed))
    built = _built(text)
    codes = {item.code for item in built.findings}
    for item in built.findings:
        if item.severity == "error":
            assert _is_true(item), f"{item.code}: {item.message}\n{text}"
        is_alarm = item.severity == "warning" and CODES[item.code].stage in ("dry run", "reader")
        if is_alarm and item.code not in OF_THE_CUTTER:
            assert codes & FORESEEN.get(item.code, set()), f"{item.code}: {item.message}\n{text}"
    manifest = Manifest.model_validate_json(built.content["manifest.json"])
    _check_places(manifest)
    for bound in manifest.bounds.values():
        assert bound.sheets >= bound.lower_bound >= 1
    ready = manifest.job.ready
    event("ready" if ready else "refused")
    assert ready == (bool(manifest.programs) and {row.sheet for row in manifest.programs} == {
        sheet.id for sheet in manifest.sheets
    })  # fmt: skip
