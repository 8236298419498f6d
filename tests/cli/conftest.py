"""Runs the command as a user does, in a folder of its own."""

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from rabbetry.cli import main

SMALL_MM = """
name = "Test bench"
units = "mm"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 2, 5, 6, 7]

[stock.carcass]
sheet = "birch-18"
thickness = 17.8
blank = [1220, 1220]

[stock.back]
sheet = "birch-6"
thickness = 5.8
blank = [1220, 1220]

[use]
carcass = "carcass"
back = "back"

[[cabinet]]
name = "B1"
kind = "base"
width = 600
height = 876
depth = 580
doors = 1
"""


@pytest.fixture
def rabbetry(tmp_path: Path) -> Callable[..., Result]:
    """Return a function that runs `rabbetry ARGS...`; paths are relative to `tmp_path` when given as Path."""

    def run(*args: str | Path) -> Result:
        return CliRunner().invoke(main, [str(tmp_path / arg) if isinstance(arg, Path) else arg for arg in args])

    return run


@pytest.fixture
def job(tmp_path: Path) -> Callable[..., Path]:
    """Return a function that writes the small job with replacements (old, new) and returns its path."""

    def write(*changes: tuple[str, str], name: str = "job.toml", extra: str = "") -> Path:
        text = SMALL_MM
        for old, new in changes:
            assert old in text, old
            text = text.replace(old, new)
        path = tmp_path / name
        path.write_text(text + extra, encoding="utf-8")
        return path

    return write
