"""Programs and setup files of a sheet, found beside each other."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from rabbetry.dryrun.model import ProgramText
from rabbetry.dryrun.setup_read import read_setup
from rabbetry.files import MAX_SETUP_BYTES, load_program, load_text


def sheet_groups(programs: Sequence[Path], setup: Path | None) -> Iterator[list[tuple[ProgramText, str]]]:
    """Yield the programs of each sheet in running order, each with its setup text; siblings come from its folder."""
    done: set[Path] = set()
    for path in programs:
        if path.resolve() in done:
            continue
        group = {path.name: with_setup(path, setup or setup_beside(path))}
        if setup is None:
            beside = read_setup(group[path.name][1], file=setup_beside(path).name).programs
            siblings = {name: path.with_name(name) for name in beside if name == Path(name).name}
            group |= {
                name: with_setup(sibling, setup_beside(sibling))
                for name, sibling in siblings.items()
                if sibling != path and sibling.is_file() and setup_beside(sibling).is_file()
            }
            done |= {sibling.resolve() for sibling in siblings.values()}
            group = {name: group[name] for name in (*beside, path.name) if name in group}
        yield list(group.values())


def setup_beside(program: Path) -> Path:
    """Return where a program's setup file lies."""
    return program.with_name(program.stem + ".setup.json")


def with_setup(program: Path, setup: Path) -> tuple[ProgramText, str]:
    """Load a program and its setup. Raises InputError."""
    return ProgramText(name=program.name, text=load_program(program)), load_text(setup, limit_bytes=MAX_SETUP_BYTES)
