"""The documents made from the job file's model, the starters, the settings' table and the sample jobs."""

import json
import tomllib
from dataclasses import fields
from pathlib import Path

import pytest
from job_text import read

from rabbetry.job.findings import job_findings
from rabbetry.job.model import CabinetKind, Construction, Units
from rabbetry.job.rows import CabinetRow, ClampRow, ConstructionRow, CuttingRow, JobRow, PartRow, StockRow, UseRow
from rabbetry.job.schema import job_reference_md, job_schema_json
from rabbetry.job.settings import SETTINGS, WORD_SETTINGS, default_construction
from rabbetry.job.starter import starter_job

ROOT = Path(__file__).parent.parent.parent
SAMPLES = sorted((ROOT / "sample_jobs").glob("*.toml"))


@pytest.mark.parametrize(
    ("name", "text"), [("job.schema.json", job_schema_json()), ("job-file.md", job_reference_md())]
)
def test_the_documents_say_what_the_model_says(name: str, text: str, request: pytest.FixtureRequest) -> None:
    path = ROOT / "docs" / name
    if request.config.getoption("--rewrite-golden"):
        path.write_text(text, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    "table", [JobRow, StockRow, UseRow, CabinetRow, PartRow, CuttingRow, ClampRow, ConstructionRow]
)
def test_every_key_is_in_the_reference_with_a_meaning(table: type) -> None:
    reference = job_reference_md()
    for key, info in table.model_fields.items():  # type: ignore[attr-defined]
        assert f"| `{key}` |" in reference
        assert info.description, key


def test_the_schema_names_the_choices_and_what_is_required() -> None:
    schema = json.loads(job_schema_json())
    cabinet = schema["$defs"]["CabinetRow"]
    assert cabinet["properties"]["kind"]["enum"] == [kind.value for kind in CabinetKind]
    assert cabinet["required"] == ["name", "kind", "width"]
    assert cabinet["additionalProperties"] is False
    assert schema["required"] == ["name", "units", "machine", "post", "cutters", "stock"]


def test_every_construction_setting_has_a_row_and_a_default_within_its_bounds() -> None:
    known = [row.field for row in SETTINGS] + [row.key for row in WORD_SETTINGS]
    assert sorted(known) == sorted({item.name for item in fields(Construction)} - {"fittings"})
    keys = {row.key for row in SETTINGS} | {row.key for row in WORD_SETTINGS}
    assert len(keys) == len(SETTINGS) + len(WORD_SETTINGS)
    assert all(isinstance(getattr(Construction(), row.key), row.words) for row in WORD_SETTINGS)
    for units in Units:
        made = default_construction(units)
        for row in SETTINGS:
            assert row.least_mm <= getattr(made, row.field) <= row.most_mm, row.key


def test_millimetre_jobs_begin_with_the_records_own_defaults() -> None:
    assert default_construction(Units.MM) == Construction()


@pytest.mark.parametrize("row", SETTINGS, ids=lambda row: row.key)
def test_each_setting_of_the_file_reaches_its_own_field(row: object) -> None:
    """A value of its own for each key, so that two swapped ones would show."""
    value = (row.least_mm + 2 * row.most_mm) / 3  # type: ignore[attr-defined]
    text = starter_job("mm").replace("[construction]\n", f"[construction]\n{row.key} = {value!r}\n")  # type: ignore[attr-defined]
    text = text.replace("kick_height = 100\n", "").replace("dado_depth = 6\n", "")
    made = read(text).cabinets[0].construction
    changed = {item.name for item in fields(made) if getattr(made, item.name) != getattr(Construction(), item.name)}
    assert changed == {row.field}  # type: ignore[attr-defined]
    assert getattr(made, row.field) == value  # type: ignore[attr-defined]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_starter_is_read_without_a_finding(units: str) -> None:
    text = starter_job(units)
    job = read(text)
    assert job.units == units
    assert [(order.kind, order.doors, len(order.drawer_front_heights_mm)) for order in job.cabinets] == [
        (CabinetKind.BASE, 1, 0),
        (CabinetKind.BASE, 1, 1),
        (CabinetKind.WALL, 2, 0),
    ]
    assert job_findings(job) == ()
    assert text.count("#") > 8, "a starter explains itself"


def test_there_is_no_starter_in_other_units() -> None:
    with pytest.raises(ValueError, match="ft"):
        starter_job("ft")


def test_there_are_sample_jobs_for_learning_for_a_whole_kitchen_and_in_inches() -> None:
    assert {"boatyard-canteen", "clubhouse-kitchen", "one-base-cabinet"} <= {path.stem for path in SAMPLES}


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_job_is_read_without_a_finding(path: Path) -> None:
    assert job_findings(read(path.read_text(encoding="utf-8"))) == ()


def test_the_clubhouse_kitchen_has_every_kind_of_a_plain_kitchen() -> None:
    job = read((ROOT / "sample_jobs" / "clubhouse-kitchen.toml").read_text(encoding="utf-8"))
    assert sum(order.qty for order in job.cabinets) >= 24
    plain = {CabinetKind.BASE, CabinetKind.SINK, CabinetKind.DRAWERS, CabinetKind.WALL, CabinetKind.OPEN}
    assert {order.kind for order in job.cabinets} == plain
    assert any(order.slab_doors for order in job.cabinets)
    assert {(stock.nominal_mm, stock.measured_mm) for stock in job.stocks} == {(18.0, 17.8), (12.0, 11.8), (6.0, 5.8)}


def test_the_canteen_spells_lengths_in_many_ways() -> None:
    text = (ROOT / "sample_jobs" / "boatyard-canteen.toml").read_text(encoding="utf-8")
    job = read(text)
    assert len(job.echoes) > 15
    assert job.shop.machine.spindle_by_hand
    depths = {order.depth_mm for order in job.cabinets if order.name in ("C1 coffee", "C2 sink", "C3 bread")}
    assert depths == {590.55}
    assert tomllib.loads(text)["units"] == "in"
