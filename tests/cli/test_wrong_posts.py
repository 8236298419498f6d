"""A template edited wrongly is caught by every build, not only by `rabbetry post check`: nothing is released."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

BOARD = """
name = "One board"
units = "mm"
machine = "bench-4x4"
post = "mine"
cutters = [1, 5]

[stock.birch]
sheet = "birch-18"
thickness = 17.8
blank = [610, 610]

[[part]]
name = "board"
stock = "birch"
length = 333
width = 211
holes = [{ x = 41, y = 53, diameter = 5, depth = 12 }]
dados = [{ along = "y", at = 100, width = 18, depth = 6 }]
"""

WRONG = [
    pytest.param("metric-plain", "G0 Z{{ safe_z }}\n{{ over }} X", "{{ over }} X", 1, "first-motion", id="no lift"),
    pytest.param("metric-plain", '"G1 X Y Z F"', '"G1 X=y Y=x Z F"', 1, "gouge", id="X and Y swapped"),
    pytest.param("inch-plain", "length_decimals = 5", "length_decimals = 2", 1, "gouge", id="two decimals in inches"),
    pytest.param("metric-plain", "M3 S{{ run.rpm }}\n", "", 1, "spindle-off", id="no spindle line"),
    pytest.param("metric-plain", "G17\n", "G17\nG64\n", 2, "G64", id="T56: a code the controller lacks"),
    pytest.param("metric-plain", "{{ comment(\"sheet\", sheet,", "{{ comment(\"sheet\", sheet_nmae,", 2,
                 'did you mean "sheet"', id="T63: a name that is none"),
    pytest.param("metric-plain", "M5\n", "", 1, "spindle-left-on", id="T65: spindle not stopped"),
    pytest.param("metric-plain", "{{ program_end }}", "", 0, "program-end", id="T65: no end, a warning"),
    pytest.param("metric-plain", "G90\n", "", 1, "distance-not-stated", id="T55: distance mode not stated"),
    pytest.param("metric-plain", 'dwell = "s"', 'dwell = "ms"', 0, "", id="a wait in the unit that was asked for"),
    pytest.param("inch-pause-percent", "M3 S{{ run.rpm }}", "{% if run.is_first %}M3 S{{ run.rpm }}{% endif %}", 1,
                 "spindle-off", id="spindle not started again after the pause"),
    pytest.param("inch-pause-percent", "T{{ run.number }} M0", "{% if run.is_first %}T5 M0{% endif %}", 1, "",
                 id="no pause for the second cutter"),
]  # fmt: skip


@pytest.mark.parametrize(("post", "old", "new", "status", "told"), WRONG)
def test_a_build_with_a_wrong_post_releases_nothing(
    rabbetry: Callable[..., Result], tmp_path: Path, post: str, old: str, new: str, status: int, told: str
) -> None:
    assert rabbetry("post", "copy", post, Path("mine")).exit_code == 0
    files = [tmp_path / "mine" / name for name in ("post.toml", "program.nc.j2")]
    (file,) = [item for item in files if old in item.read_text(encoding="utf-8")]
    file.write_text(file.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    (tmp_path / "job.toml").write_text(BOARD, encoding="utf-8")
    result = rabbetry("build", Path("job.toml"), "--out", Path("out"), "--workers", "1")
    assert result.exit_code == status, result.stderr
    assert told in result.stderr
    programs = tmp_path / "out" / "programs"
    assert programs.is_dir() == (status == 0)
    if status == 2:
        assert "mine/program.nc.j2: line" in result.stderr
