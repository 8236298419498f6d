"""The direction of imports: a stage sees the records of stages above it, never their functions, and nothing below."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SRC = Path(__file__).parent.parent / "src" / "rabbetry"
GROUND = {"errors", "findings", "fingerprint", "units", "tolerances"}
SHELL = {
    "bare_setup",
    "pipeline",
    "build",
    "output",
    "out_folder",
    "hold_downs",
    "drawing",
    "manifest",
    "files",
    "cli",
    "cli_post",
    "cli_again",
    "console",
    "explaining",
    "post_check",
    "post_compare",
    "recut",
    "shelf",
    "thickness",
    "resume",
    "coupon",
    "sheet_files",
    "__init__",
    "__main__",
}
BASE = GROUND | {"geometry", "shop.model", "shop.hardware"}
MAY: dict[str, set[str]] = {
    "findings": set(),
    "fingerprint": set(),
    "units": {"errors"},
    "tolerances": set(),
    "errors": {"findings"},
    "geometry": GROUND,
    "shop": GROUND,
    "job": GROUND | {"shop.model", "shop.hardware"},
    "feeds": GROUND | {"shop.model", "shop.tuning"},
    "drawings": BASE | {"job.model", "job.drawings"},
    "cabinets": BASE | {"job.model", "job.choices", "job.kinds", "job.words"},
    "panels": BASE | {"job.model", "job.choices", "job.words", "cabinets.model"},
    "fit": BASE | {"job.model", "cabinets.model", "panels.model"},
    "sheets": BASE | {"job.model", "panels.model"},
    "operations": BASE | {"job.model", "panels.model", "sheets.model", "feeds.model"},
    "motions": BASE | {"job.model", "sheets.model", "feeds.model", "operations.model"},
    "explain": BASE | {"job.model", "job.choices", "job.settings", "cabinets.model", "panels.model", "runs.model"},
    "runs": BASE | {"job.model", "job.choices", "cabinets.model"},
    "setup": BASE | {"job.model", "panels.model", "sheets.model"},
    "post": GROUND | {"shop.model", "motions.model"},
    "dryrun": {"errors", "findings"},
    "page": BASE
    | {
        f"{part}.model"
        for part in ["job", "cabinets", "panels", "fit", "runs", "sheets", "feeds", "operations", "motions", "dryrun"]
    },
}


def _imported_names(path: Path) -> Iterator[str]:
    """Every import, also those hidden in functions."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: write the import in full"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


@pytest.mark.parametrize("part", sorted(MAY))
def test_a_part_sees_only_what_it_may(part: str) -> None:
    allowed = tuple(f"rabbetry.{name}." for name in MAY[part] | {part})
    bad = [
        f"{path.relative_to(SRC)} imports {name}"
        for path in (*SRC.glob(f"{part}.py"), *SRC.glob(f"{part}/**/*.py"))
        for name in _imported_names(path)
        if f"{name}.".startswith("rabbetry.") and not f"{name}.".startswith(allowed)
    ]
    assert not bad, bad


def test_every_part_is_in_the_table() -> None:
    parts = {path.stem for path in SRC.iterdir() if path.suffix == ".py" or (path / "__init__.py").is_file()}
    assert parts <= set(MAY) | SHELL


def test_one_doorway_to_each_kernel() -> None:
    doorways = {"pyclipper": {"geometry"}, "ezdxf": {"page", "drawings"}, "jinja2": {"post", "page"}}
    for kernel, parts in doorways.items():
        users = {
            path.relative_to(SRC).parts[0]
            for path in SRC.glob("**/*.py")
            if any(name.split(".")[0] == kernel for name in _imported_names(path))
        }
        assert users <= parts, f"{kernel} is used in {users}"
