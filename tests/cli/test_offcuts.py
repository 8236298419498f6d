"""Offcuts in a job: used, their joints cut for them, and the shelf as it is afterwards."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result
from test_recut import across, manifest

Run = Callable[..., Result]
Write = Callable[..., Path]

SHELF = '[[offcut]]\nname = "O7"\nsheet = "birch-18"\nthickness = {}\nsize = [700, 610]\n'
SMALL_BLANKS = (
    ("thickness = 17.8\nblank = [1220, 1220]", "thickness = 17.8\nblank = [920, 740]"),
    ('kind = "base"', 'kind = "wall"'),
    ('name = "Test bench"', 'name = "Test bench"\noffcuts = "shelf.toml"'),
)


def _build(rabbetry: Run, job: Write, tmp_path: Path, thickness: float, tolerance: float) -> Result:
    (tmp_path / "shelf.toml").write_text(SHELF.format(thickness), encoding="utf-8")
    path = job(*SMALL_BLANKS, extra=f"adjustable_shelves = 0\n[cutting]\noffcut_tolerance = {tolerance}\n")
    return rabbetry("build", path, "--out", Path("out"), "--workers", "1")


def test_a_bottom_from_a_thicker_offcut_gets_its_dados(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    result = _build(rabbetry, job, tmp_path, 18.5, 1.0)
    assert result.exit_code == 0, result.stderr
    out = tmp_path / "out"
    sheets = {row["id"]: row for row in manifest(out)["sheets"]}
    assert sheets["carcass-offcut-01"]["offcut"] == "O7"
    assert sheets["carcass-offcut-01"]["thickness_mm"] == 18.5
    on_it = {row["id"]: row for row in manifest(out)["panels"] if row["sheet"] == "carcass-offcut-01"}
    assert "B1 bottom" in on_it
    assert on_it["B1 bottom"]["thickness_mm"] == 18.5
    # The dados were made for 17.8 mm with a clearance; they grow by what the offcut is thicker.
    plain = rabbetry("build", job(*SMALL_BLANKS[:2], extra="adjustable_shelves = 0\n"), "--out", Path("plain"))
    assert plain.exit_code == 0
    for side in ("B1 left side", "B1 right side"):
        assert across(out, side, "bottom dado") - across(tmp_path / "plain", side, "bottom dado") == pytest.approx(0.7)
        assert f"{side}: bottom dado is cut for the 18.5 mm of an offcut" in result.stderr


def test_without_a_tolerance_it_stays_on_the_shelf(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    result = _build(rabbetry, job, tmp_path, 18.5, 0.1)
    assert result.exit_code == 0
    assert not any(row["offcut"] for row in manifest(tmp_path / "out")["sheets"])
    assert 'offcut "O7" is 18.5 mm thick, 0.7 mm off the 17.8 mm of stock "carcass"' in result.stderr


def test_the_shelf_afterwards_lacks_what_was_used_and_holds_what_is_left(
    rabbetry: Run, job: Write, tmp_path: Path
) -> None:
    assert _build(rabbetry, job, tmp_path, 17.8, 0.05).exit_code == 0
    text = (tmp_path / "out" / "offcuts.toml").read_text(encoding="utf-8")
    assert '"O7"' not in text
    rests = sum(len(row["offcuts"]) for row in manifest(tmp_path / "out")["sheets"])  # type: ignore[arg-type]
    assert text.count("[[offcut]]") == rests > 0
    (tmp_path / "shelf.toml").write_text(text, encoding="utf-8")
    again = rabbetry("check", tmp_path / "job.toml")
    assert again.exit_code == 0, "what was written is read back"


def test_a_shelf_that_is_not_there_is_told(rabbetry: Run, job: Write) -> None:
    result = rabbetry("check", job(SMALL_BLANKS[2]))
    assert result.exit_code == 2
    assert "shelf.toml: there is no such file" in result.stderr


def test_a_recut_leaves_the_shelf_alone(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    (tmp_path / "shelf.toml").write_text(SHELF.format(17.8), encoding="utf-8")
    result = rabbetry("recut", job(*SMALL_BLANKS), "B1 bottom", "--out", Path("out"), "--workers", "1")
    assert result.exit_code == 0, result.stderr
    assert json.loads((tmp_path / "out" / "manifest.json").read_text())["sheets"][0]["offcut"] == ""
    assert not (tmp_path / "out" / "offcuts.toml").exists()
