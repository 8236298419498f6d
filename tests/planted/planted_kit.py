"""The clean program and its setup, and ways to spoil them."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.model import ProgramText
from rabbetry.dryrun.report import DryRun
from rabbetry.findings import Finding

HERE = Path(__file__).parent
CLEAN = (HERE / "clean.nc").read_text(encoding="ascii")
SETUP = (HERE / "clean.setup.json").read_text(encoding="ascii")

Setup = dict[str, Any]


def run(text: str = CLEAN, setup: Callable[[Setup], None] = lambda setup: None) -> DryRun:
    """Dry-run one program as `clean.nc`, its setup changed in place by `setup`."""
    data: Setup = json.loads(SETUP)
    setup(data)
    return dry_run([(ProgramText(name="clean.nc", text=text), json.dumps(data))])


def told(result: DryRun, code: str) -> list[Finding]:
    """Return the findings of a code."""
    return [item for item in result.findings if item.code == code]


def swap(old: str, new: str, *, times: int = 1, text: str = CLEAN) -> str:
    """Return the program with `old` replaced; it must stand there at least `times` times, and that many are
    replaced."""
    assert text.count(old) >= times, f"{old!r} stands there {text.count(old)} times"
    return text.replace(old, new, times)


def line_of(text: str, part: str) -> int:
    """Return the number of the first line that holds `part`."""
    return next(number for number, line in enumerate(text.splitlines(), start=1) if part in line)
