"""`rabbetry coupon`: a test piece, and the sums from what was found on it."""

import json
import re
import tomllib
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import pytest
from click.testing import Result

Run = Callable[..., Result]
Write = Callable[..., Path]

DOC = (Path(__file__).parents[2] / "docs" / "coupon.md").read_text(encoding="utf-8")


def made_job(job: Write, *, units: str = "mm") -> Path:
    path = job(("cutters = [1, 2, 5, 6, 7]", "cutters = [1, 2, 5]\n[[cutter]]\nnumber = 1\nmeasured_diameter = 6.33\n"))
    text = path.read_text(encoding="utf-8")
    rows = re.search(r"\[\[cutter\]\].*?\n\n", text, re.S)
    assert rows is not None
    path.write_text(text.replace(rows[0], "\n") + "\n" + rows[0], encoding="utf-8")
    return path


def test_the_coupon_has_seven_slots_about_the_thickness_and_a_square_with_a_hole(
    rabbetry: Run, job: Write, tmp_path: Path
) -> None:
    result = rabbetry("coupon", made_job(job), "carcass", "1", "--out", Path("out"))
    assert result.exit_code == 0, result.output
    out = tmp_path / "out"
    setup = json.loads(next((out / "programs").glob("*.setup.json")).read_text(encoding="utf-8"))
    panels = {panel["id"]: panel for panel in setup["target"]["panels"]}
    widths = []
    for number, recess in enumerate(panels["coupon slots"]["recesses"], start=1):
        corners = [segment["to"] for segment in recess["outline"]["segments"]]
        sizes = sorted(max(c[axis] for c in corners) - min(c[axis] for c in corners) for axis in (0, 1))
        assert sizes[1] == pytest.approx(100, abs=2e-4), "slots run right across"
        widths.append(sizes[0])
        said = re.fullmatch(rf"slot {number}, ([\d.]+) mm", recess["name"])
        assert said is not None
        assert float(said[1]) == pytest.approx(sizes[0], abs=6e-4)
    assert widths == pytest.approx([17.6, 17.7, 17.8, 17.9, 18.0, 18.1, 18.2], abs=2e-4)
    assert [cutout["name"] for cutout in panels["coupon square"]["cutouts"]] == ["round hole"]
    manifest = json.loads((out / "manifest.json").read_text(encoding="utf-8"))
    assert manifest["job"]["ready"] is True
    cuts = [program["cutters"] for program in manifest["programs"] if "-air" not in program["file"]]
    assert cuts == [[1]], "the cutter asked for does it all"
    assert "slot 4, 17.9 mm" in (out / "index.html").read_text(encoding="utf-8") + next(
        (out / "programs").glob("*.nc")
    ).read_text(encoding="ascii")


def test_the_sums_are_those_of_the_document(rabbetry: Run, job: Write) -> None:
    result = rabbetry("coupon", made_job(job), "carcass", "1", "--fitted", "17.9", "--square", "100.05")
    assert result.exit_code == 0, result.output
    lines = re.search(r"```toml\n(.*?)```", DOC, re.S)
    assert lines is not None
    assert lines[1] in result.stdout
    assert tomllib.loads(lines[1]) == {
        "cutter": [{"number": 1, "measured_diameter": 6.28}],
        "construction": {"fit_clearance": 0.05},
    }
    assert "6.33 mm + (100 mm - 100.05 mm) = 6.28 mm" in result.stdout


def test_each_sum_stands_alone(rabbetry: Run, job: Write) -> None:
    fitted = rabbetry("coupon", made_job(job), "carcass", "1", "--fitted", "18").stdout
    assert "fit_clearance = 0.2\n" in fitted
    assert "measured_diameter" not in fitted
    square = rabbetry("coupon", made_job(job), "carcass", "1", "--square", "99.9").stdout
    assert "measured_diameter = 6.43\n" in square
    assert "fit_clearance" not in square


@pytest.mark.parametrize(
    ("args", "said"),
    [
        pytest.param(("carcas", "1", "--out", "x"), "did you mean carcass?", id="stock"),
        pytest.param(("carcass", "9", "--out", "x"), "the mills are 1, 2", id="cutter not loaded"),
        pytest.param(("carcass", "5", "--out", "x"), "is a drill", id="a drill"),
        pytest.param(("back", "1", "--out", "x"), "more than the widest slot of 6.2 mm", id="cutter too wide"),
        pytest.param(("carcass", "1"), "name a folder with --out", id="nothing to do"),
        pytest.param(("carcass", "1", "--square", "40"), "is not near 100 mm", id="not the square"),
        pytest.param(("carcass", "1", "--square", "wide"), "--square", id="no length"),
        pytest.param(("carcass", "1", "--fitted", "17.7"), "the play would be -0.1 mm", id="tighter than the sheet"),
    ],
)
def test_a_wrong_command_line_is_told_plainly(rabbetry: Run, job: Write, args: tuple[str, ...], said: str) -> None:
    result = rabbetry("coupon", made_job(job), *args)
    assert result.exit_code == 2
    assert said in result.stderr
    assert "Traceback" not in result.output


def test_a_cutter_too_short_for_the_stock_is_a_finding(rabbetry: Run, job: Write, tmp_path: Path) -> None:
    path = made_job(job)
    path.write_text(path.read_text() + "\n[[cutter]]\nnumber = 2\nflute_length = 6\n", encoding="utf-8")
    result = rabbetry("coupon", path, "carcass", "2", "--out", Path("out"))
    assert result.exit_code == 1
    assert "no-profile-cutter" in result.stderr
    assert not (tmp_path / "out" / "programs").exists()


def test_an_inch_job_has_inch_steps(rabbetry: Run, tmp_path: Path) -> None:
    assert rabbetry("new", Path("k"), "--units", "in").exit_code == 0
    stock = re.search(r"\[stock\.(\w+)\]", (tmp_path / "k" / "job.toml").read_text(encoding="utf-8"))
    assert stock is not None
    result = rabbetry("coupon", Path("k/job.toml"), stock[1], "1", "--out", Path("out"))
    assert result.exit_code == 0, result.output
    widths = [float(width) for width in re.findall(r"slot \d from the wide end: ([\d.]+) in", result.stdout)]
    assert len(widths) == 7
    assert all(b - a == pytest.approx(0.004, abs=2e-5) for a, b in pairwise(widths))


def test_slots_narrower_than_the_cutter_are_left_out(rabbetry: Run, job: Write) -> None:
    """A sheet of 6.3 mm asks for slots from 6.1 mm on; a cutter of 6.33 mm can cut those of 6.4 mm and more."""
    path = made_job(job)
    path.write_text(path.read_text().replace("thickness = 5.8", "thickness = 6.3"), encoding="utf-8")
    result = rabbetry("coupon", path, "back", "1", "--out", Path("out"))
    assert result.exit_code == 0, result.output
    widths = re.findall(r"slot \d from the wide end: ([\d.]+) mm", result.stdout)
    assert widths == ["6.4", "6.5", "6.6", "6.7"]
