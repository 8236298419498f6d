"""`rabbetry post check` as a user types it."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

Run = Callable[..., Result]


def mine(rabbetry: Run, tmp_path: Path, old: str, new: str) -> Path:
    assert rabbetry("post", "copy", "metric-plain", Path("mine")).exit_code == 0
    template = tmp_path / "mine" / "program.nc.j2"
    text = template.read_text(encoding="utf-8")
    assert old in text
    template.write_text(text.replace(old, new), encoding="utf-8")
    return tmp_path / "mine"


def test_a_shipped_post_is_proven_by_its_name(rabbetry: Run) -> None:
    result = rabbetry("post", "check", "metric-plain")
    assert result.exit_code == 0, result.stderr
    assert "tried: names of 300 letters" in result.stdout
    assert "no error found" in result.stdout


def test_a_post_that_cuts_wrongly_is_status_1_with_template_and_line(rabbetry: Run, tmp_path: Path) -> None:
    folder = mine(rabbetry, tmp_path, "M3 S{{ run.rpm }}\n", "")
    result = rabbetry("post", "check", str(folder))
    assert result.exit_code == 1
    assert "error spindle-off: mine/program.nc.j2:" in result.stderr
    assert "NOT SAFE" in result.stdout
    told = json.loads(rabbetry("post", "check", str(folder), "--json").stdout)
    assert "spindle-off" in {item["code"] for item in told}


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        pytest.param("{{ comment(\"job\", job) }}", "{{ comment(\"job\", jbo) }}", 'did you mean "job"', id="T63"),
        pytest.param("G17\n", "G17\nG64\n", "G64", id="T56"),
    ],
)  # fmt: skip
def test_a_post_that_cannot_be_used_is_status_2(rabbetry: Run, tmp_path: Path, old: str, new: str, said: str) -> None:
    result = rabbetry("post", "check", str(mine(rabbetry, tmp_path, old, new)))
    assert result.exit_code == 2
    assert "program.nc.j2: line" in result.stderr
    assert said in result.stderr


def test_an_unknown_post_is_told_with_the_known_ones(rabbetry: Run) -> None:
    result = rabbetry("post", "check", "metric-plian")
    assert result.exit_code == 2
    assert "metric-plain" in result.stderr
