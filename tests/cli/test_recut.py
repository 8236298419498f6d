"""`rabbetry recut`: some panels once more, on an offcut, in another thickness."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

Run = Callable[..., Result]
Write = Callable[..., Path]


def manifest(out: Path) -> dict[str, list[dict[str, object]]]:
    return dict(json.loads((out / "manifest.json").read_text(encoding="utf-8")))


def targets(out: Path) -> dict[str, dict[str, object]]:
    setups = sorted((out / "programs").glob("*.setup.json"))
    return {panel["id"]: panel for path in setups for panel in json.loads(path.read_text())["target"]["panels"]}


def across(out: Path, panel: str, recess: str) -> float:
    found = next(item for item in targets(out)[panel]["recesses"] if item["name"] == recess)  # type: ignore[attr-defined]
    corners = [segment["to"] for segment in found["outline"]["segments"]]
    return float(min(max(c[axis] for c in corners) - min(c[axis] for c in corners) for axis in (0, 1)))


def test_a_recut_is_a_whole_output_folder_with_those_panels_alone(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    result = rabbetry("recut", job(), "B1 left side", "B1 bottom", "--out", Path("out"), "--workers", "1")
    assert result.exit_code == 0, result.stderr
    made = manifest(tmp_path / "out")
    assert [panel["id"] for panel in made["panels"]] == ["B1 left side", "B1 bottom"]
    assert made["job"]["ready"] is True  # type: ignore[call-overload]
    assert (tmp_path / "out" / "hardware.csv").read_text().count("\n") == 1, "nothing is to be bought twice"
    for name in ("index.html", "labels.html", "cut-list.csv", "edge-banding.csv", "timings.json"):
        assert (tmp_path / "out" / name).is_file()
    programs = [tmp_path / "out" / str(row["file"]) for row in made["programs"]]
    assert rabbetry("dryrun", *map(str, programs)).exit_code == 0


@pytest.mark.parametrize("blank", ["700,620", "700x620", '"27.56 in" x 62 cm', "700 mm, 620 mm"])
def test_the_blank_named_is_the_one_used(rabbetry: Run, job: Write, tmp_path: Path, blank: str) -> None:
    result = rabbetry("recut", job(), "B1 bottom", "--out", Path("out"), "--blank", blank.replace('"', ""))
    assert result.exit_code == 0, result.stderr
    (sheet,) = manifest(tmp_path / "out")["sheets"]
    assert sheet["blank_mm"] == pytest.approx([700, 620], abs=0.03)


def test_a_panel_that_is_too_big_for_the_offcut_is_told_by_how_much(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    result = rabbetry("recut", job(), "B1 left side", "--out", Path("out"), "--blank", "600,800")
    assert result.exit_code == 1
    assert "part-too-big: B1 left side" in result.stderr
    assert "876 x 580" in result.stderr
    assert "too long" in result.stderr
    assert not (tmp_path / "out").exists()


def test_panels_that_need_a_second_offcut_are_refused(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    args = ("--out", Path("out"), "--blank", "900,620")
    result = rabbetry("recut", job(), "B1 left side", "B1 right side", *args)
    assert result.exit_code == 1
    assert "offcut-too-small" in result.stderr
    assert "B1 right side" in result.stderr
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("args", "said"),
    [
        pytest.param(("B1 left sid",), "did you mean B1 left side?", id="panel"),
        pytest.param(("B1 bottom", "--blank", "600"), "is not the size of a blank", id="one size"),
        pytest.param(("B1 bottom", "--blank", "x"), '--blank: "x" is not the size of a blank', id="no size at all"),
        pytest.param(("B1 bottom", "--blank", "600,4OO"), "--blank", id="no length"),
        pytest.param(("B1 bottom", "--blank", "600,9000"), "is more than the most", id="larger than the bed"),
        pytest.param(("B1 bottom", "--thickness", "0"), "--thickness", id="no thickness"),
        pytest.param(("B1 bottom", "B1 back", "--blank", "600,400"), "of 2 stocks: back, carcass", id="two stocks"),
    ],
)
def test_a_wrong_command_line_is_told_plainly(
    rabbetry: Run, job: Write, tmp_path: Path, args: tuple[str, ...], said: str
) -> None:
    result = rabbetry("recut", job(), *args, "--out", Path("out"))
    assert result.exit_code == 2
    assert said in result.stderr
    assert "Traceback" not in result.output
    assert not (tmp_path / "out").exists()


def test_a_dado_follows_the_new_thickness_where_the_panel_that_enters_is_recut_too(
    rabbetry: Run, job: Write, tmp_path: Path
) -> None:
    """Thickness 17.6 mm and 0.2 mm of play make a dado of 17.8 mm."""
    args = ("--out", Path("out"), "--thickness", "17.6", "--workers", "1")
    result = rabbetry("recut", job(), "B1 left side", "B1 bottom", *args)
    assert result.exit_code == 0, result.stderr
    assert "B1 left side: bottom dado is 17.8 mm wide, was 18 mm" in result.stdout
    assert across(tmp_path / "out", "B1 left side", "bottom dado") == pytest.approx(17.8, abs=2e-4)
    assert "enters the bottom dado of B1 right side, which is cut for 17.8 mm: 0.2 mm looser" in result.stderr
    assert {row["thickness_mm"] for row in manifest(tmp_path / "out")["panels"]} == {17.6}


def test_a_dado_stays_where_the_panel_that_enters_is_cut_already(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    args = ("--out", Path("out"), "--thickness", "17.6", "--workers", "1")
    result = rabbetry("recut", job(), "B1 left side", *args)
    assert result.exit_code == 0, result.stderr
    assert across(tmp_path / "out", "B1 left side", "bottom dado") == pytest.approx(18.0, abs=2e-4)
    assert "recut-seat" not in result.stderr


def test_a_thicker_panel_says_that_its_joint_gets_tighter(rabbetry: Run, job: Write) -> None:
    result = rabbetry("recut", job(), "B1 bottom", "--out", Path("out"), "--thickness", "18.1", "--workers", "1")
    assert result.exit_code == 0, result.stderr
    assert result.stderr.count("recut-seat") == 2, "once for each side"
    assert "0.3 mm tighter than meant" in result.stderr
