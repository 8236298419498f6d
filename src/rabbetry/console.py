"""What every command does alike: tells a user's mistake plainly, prints findings and progress, loads a job or a post.

Only the commands and this module print.
"""

import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import ParamSpec

import click

from rabbetry.errors import InputError
from rabbetry.files import load_drawing, load_post, load_tables, load_text
from rabbetry.findings import Finding
from rabbetry.job.model import Job
from rabbetry.job.read import drawings_named, floor_files_named, own_tables_name
from rabbetry.job.shelf_file import with_shelf
from rabbetry.out_folder import Changes
from rabbetry.pipeline import PostText, load_job

P = ParamSpec("P")


def told_plainly(command: Callable[P, int | None]) -> Callable[P, None]:
    """Turn an InputError into its messages and exit status 2, and a returned number into the exit status."""

    @wraps(command)
    def run(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            status = command(*args, **kwargs) or 0
        except InputError as error:
            for fault in error.faults:
                click.echo(f"{click.style('error', fg='red', bold=True)}: {fault}", err=True)
            status = error.exit_status
        except BrokenPipeError:
            status = 0
        sys.exit(status)

    return run


def job_of(path: Path) -> Job:
    """Load a job file, with the tables it names beside it. Raises InputError."""
    text = load_text(path)
    own = own_tables_name(text, file=path.name)
    own_tables = {own: load_text(path.parent / own)} if own else {}
    floors = {name: load_text(path.parent / name) for name in floor_files_named(text, file=path.name)}
    drawings = {name: load_drawing(path.parent / name) for name in drawings_named(text, file=path.name)}
    job = load_job(text, file=path.name, tables=load_tables(), own_tables=own_tables, floors=floors, drawings=drawings)
    return with_shelf(job, load_text(path.parent / job.shelf_file)) if job.shelf_file else job


def post_text(name: str, beside: Path) -> PostText:
    """Load a shipped post by its name, or a folder relative to `beside`. Raises InputError."""
    name, toml, template = load_post(name, beside=beside)
    return PostText(name=name, toml=toml, template=template)


def finding_line(item: Finding) -> str:
    """Return a finding as one line: severity, code, place, sentence."""
    colour = {"error": "red", "warning": "yellow", "note": "cyan"}[item.severity]
    where = ":".join(str(part) for part in (item.where.file, item.where.line) if part is not None)
    head = click.style(item.severity, fg=colour, bold=item.severity == "error")
    return f"{head} {item.code}: {where + ': ' if where else ''}{item.message}"


def print_findings(found: Sequence[Finding]) -> None:
    """Print findings, the worst first."""
    for severity in ("error", "warning", "note"):
        for item in found:
            if item.severity == severity:
                click.echo(finding_line(item), err=True)


def change_lines(changes: Changes | None) -> tuple[str, ...]:
    """Return how a build's programs differ from the last build's, a line a kind of difference; none after the first."""
    if changes is None:
        return ()
    kinds = (("new", changes.new), ("changed", changes.changed), ("removed", changes.removed))
    same = f"{len(changes.same)} the same"
    if not any(names for _, names in kinds):
        return (f"  against the last build: all {len(changes.same)} programs the same",)
    lines = [f"  {kind}: {', '.join(name.rpartition('/')[2] for name in names)}" for kind, names in kinds if names]
    return (f"  against the last build: {', '.join(f'{len(names)} {kind}' for kind, names in kinds)}, {same}", *lines)


@contextmanager
def progress() -> Iterator[Callable[[str], None]]:
    """Give a function that tells the stage at work: one line that changes in a terminal, a line a stage elsewhere."""
    live = sys.stderr.isatty()

    def tell(stage: str) -> None:
        if live:
            click.echo(f"\r\x1b[K{stage} ...", nl=False, err=True)
        else:
            click.echo(f"{stage} ...", err=True)

    try:
        yield tell
    finally:
        if live:
            click.echo("\r\x1b[K", nl=False, err=True)
