"""The command `rabbetry`: reads the command line, calls the pipeline, prints. The only module that prints.

Exit status: 0 all well; 1 the job or program has findings of severity error; 2 the command line or an input is wrong.
"""

import json
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import wraps
from pathlib import Path
from typing import ParamSpec

import click

from rabbetry import __version__
from rabbetry.build import build_folder
from rabbetry.dryrun.dialects import DIALECTS
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import Context, ProgramText
from rabbetry.dryrun.setup_read import read_setup
from rabbetry.dryrun.trace import trace_lines
from rabbetry.errors import InputError
from rabbetry.files import (
    MAX_SETUP_BYTES,
    check_replaceable,
    load_post,
    load_program,
    load_tables,
    load_text,
    post_names,
    save_folder,
    save_new_file,
)
from rabbetry.findings import Finding, has_error
from rabbetry.job.model import Job
from rabbetry.job.read import own_tables_name
from rabbetry.job.starter import starter_job
from rabbetry.pipeline import PostText, compile_job, feeds_of, lay_out, load_job

P = ParamSpec("P")


def _told_plainly(command: Callable[P, int | None]) -> Callable[P, None]:
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


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="rabbetry")
def main() -> None:
    """Turn a job file into proven cut programs for cabinet carcasses.

    \b
    Start with:
      rabbetry new my-kitchen
      rabbetry build my-kitchen/job.toml --out my-kitchen/out
    """


@main.command()
@click.argument("folder", type=click.Path(path_type=Path))
@click.option("--units", type=click.Choice(["mm", "in"]), default="mm", show_default=True, help="Unit of bare numbers.")
@_told_plainly
def new(folder: Path, units: str) -> None:
    """Write a small commented job to start from.

    \b
    Example:
      rabbetry new my-kitchen --units in
    """
    job = folder / "job.toml"
    save_new_file(job, starter_job(units))
    click.echo(f"wrote {job}; now: rabbetry build {job} --out {folder / 'out'}")


@main.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@_told_plainly
def check(job_file: Path, as_json: bool) -> int:
    """Read and validate a job, build its panels, prove the fit and the layout; write nothing.

    \b
    Example:
      rabbetry check my-kitchen/job.toml
    """
    job = _load_job(job_file)
    compiled = compile_job(job)
    nesting = lay_out(job, compiled.panels)
    found = (*compiled.findings, *nesting.findings)
    if as_json:
        click.echo(json.dumps([item.as_json() for item in found], indent=1))
        return int(has_error(found))
    for echo in job.echoes:
        click.echo(f"  {echo}")
    _print_findings(found)
    click.echo(f"{job.name}: {len(compiled.boxes)} boxes, {len(compiled.panels)} panels, {compiled.checks} fit checks")
    for count in nesting.counts:
        proven = "proven least" if count.sheets == count.lower_bound else f"at least {count.lower_bound} needed"
        click.echo(f"  {count.stock}: {count.sheets} blanks ({proven})")
    return int(has_error(found))


@main.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Output folder; replaced in one step.")
@click.option("--post", help="Post to use instead of the job's: a name, or a folder of your own.")
@click.option("--workers", type=click.IntRange(1, 64), help="Processes to share the work; default: one a core.")
@_told_plainly
def build(job_file: Path, out: Path, post: str | None, workers: int | None) -> int:
    """Do everything: panels, sheets, programs, dry runs, the job's page, lists.

    \b
    Example:
      rabbetry build my-kitchen/job.toml --out my-kitchen/out
    """
    check_replaceable(out)
    job = _load_job(job_file)
    post_text = _load_post(post or job.post, Path() if post else job_file.parent)
    with _progress() as tell:
        built = build_folder(job, post_text, workers=workers, tell=tell)
        tell("writing")
        save_folder(out, built.content)
    _print_findings(built.findings)
    for line in built.summary:
        click.echo(line)
    click.echo(f"look at {out / 'index.html'}")
    return int(has_error(built.findings))


@main.command()
@click.argument("programs", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--setup", type=click.Path(path_type=Path), help="Setup file; default: the one beside the program.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@_told_plainly
def dryrun(programs: tuple[Path, ...], setup: Path | None, as_json: bool) -> int:
    """Dry-run program text, ours or anyone's, against its setup file.

    A sheet cut by several programs is judged as a whole: the others named in the setup are read from the same folder.

    \b
    Example:
      rabbetry dryrun out/programs/*.nc
    """
    found: list[Finding] = []
    for group in _sheet_groups(programs, setup):
        run = dry_run(group)
        found.extend(run.findings)
        if not as_json:
            _print_findings(run.findings)
            for report in run.programs:
                verdict = "NOT SAFE" if has_error(report.findings) else "no error found"
                click.echo(f"{report.name}: {report.lines} lines, {report.time_s / 60:.1f} min, {verdict}")
    if as_json:
        click.echo(json.dumps([item.as_json() for item in found], indent=1))
    return int(has_error(found))


@main.command()
@click.argument("program", type=click.Path(path_type=Path))
@click.option("--dialect", type=click.Choice(sorted(DIALECTS)), default="lenient", show_default=True)
@_told_plainly
def trace(program: Path, dialect: str) -> int:
    """Print the canonical motions of a program, one JSON object a line.

    \b
    Example:
      rabbetry trace out/programs/birch-18-01.nc
    """
    text = ProgramText(name=program.name, text=load_program(program))
    reading = read_program(text, DIALECTS[dialect], Context())
    for line in trace_lines(reading):
        click.echo(line)
    for item in reading.findings:
        click.echo(_finding_line(item), err=True)
    return int(has_error(reading.findings))


@main.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="Print the rows as JSON.")
@_told_plainly
def feeds(job_file: Path, as_json: bool) -> int:
    """Show speed, feed, plunge, chip load and power of each cutter in each stock, and the limit that decided.

    \b
    Example:
      rabbetry feeds my-kitchen/job.toml
    """
    job = _load_job(job_file)
    rows = [row for stock in job.stocks for row in feeds_of(job, stock)]
    if as_json:
        listed = [
            {name: getattr(row.choice, name) for name in type(row.choice).__dataclass_fields__}
            | {"findings": [item.as_json() for item in row.findings]}
            for row in rows
        ]
        click.echo(json.dumps(listed, indent=1))
        return 0
    click.echo(
        f"{'stock':<16} {'cutter':<6} {'rpm':>6} {'dial':>4} {'feed':>7} {'plunge':>7} {'chip load':>9} {'chart':>13} "
        f"{'pass':>5} {'wide':>5} {'power':>6}  decided by"
    )
    click.echo(
        f"{'':<16} {'':<6} {'':>6} {'':>4} {'mm/min':>7} {'mm/min':>7} {'mm/tooth':>9} {'mm/tooth':>13} "
        f"{'mm':>5} {'mm':>5} {'kW':>6}"
    )
    for row in rows:
        c = row.choice
        chart = f"{c.chart_low_mm_per_tooth:.3f}-{c.chart_high_mm_per_tooth:.3f}"
        click.echo(
            f"{c.stock[:16]:<16} {f'T{c.cutter}':<6} {c.rpm:>6.0f} {c.dial:>4} {c.feed_mm_per_min:>7.0f} "
            f"{c.plunge_mm_per_min:>7.0f} {c.chip_load_mm_per_tooth:>9.4f} {chart:>13} {c.pass_mm:>5.2f} "
            f"{c.engagement_mm:>5.2f} {c.power_kw:>6.3f}  {c.decided_by}"
        )
    _print_findings(tuple(dict.fromkeys(item for row in rows for item in row.findings)))
    return 0


@main.group()
def post() -> None:
    """Posts: what each controller accepts, and how to start one of your own."""


@post.command("list")
@_told_plainly
def post_list() -> None:
    """Name every post and what it accepts.

    \b
    Example:
      rabbetry post list
    """
    for name in post_names():
        click.echo(f"{name:<20} {_load_post(name, Path()).read().title}")


@post.command("show")
@click.argument("name")
@_told_plainly
def post_show(name: str) -> None:
    """Print a post's settings and its template.

    \b
    Example:
      rabbetry post show metric-plain
    """
    _, toml, template = load_post(name, beside=Path())
    click.echo(toml.rstrip("\n"))
    click.echo("\n# ---- program.nc.j2 ----")
    click.echo(template.rstrip("\n"))


@post.command("copy")
@click.argument("name")
@click.argument("folder", type=click.Path(path_type=Path))
@_told_plainly
def post_copy(name: str, folder: Path) -> None:
    """Start a post of your own from one that ships; then build with `--post FOLDER`.

    \b
    Example:
      rabbetry post copy metric-plain my-post
    """
    _, toml, template = load_post(name, beside=Path())
    save_new_file(folder / "post.toml", toml)
    save_new_file(folder / "program.nc.j2", template)
    click.echo(f"wrote {folder / 'post.toml'} and {folder / 'program.nc.j2'}; build with --post {folder}")


def _load_job(path: Path) -> Job:
    text = load_text(path)
    own = own_tables_name(text, file=path.name)
    own_tables = {own: load_text(path.parent / own)} if own else {}
    return load_job(text, file=path.name, tables=load_tables(), own_tables=own_tables)


def _load_post(name: str, beside: Path) -> PostText:
    name, toml, template = load_post(name, beside=beside)
    return PostText(name=name, toml=toml, template=template)


def _sheet_groups(programs: Sequence[Path], setup: Path | None) -> Iterator[list[tuple[ProgramText, str]]]:
    """Yield the programs of each sheet in running order, each with its setup text; siblings come from its folder."""
    done: set[Path] = set()
    for path in programs:
        if path.resolve() in done:
            continue
        group = {path.name: _with_setup(path, setup or _setup_beside(path))}
        if setup is None:
            beside = read_setup(group[path.name][1], file=_setup_beside(path).name).programs
            siblings = {name: path.with_name(name) for name in beside if name == Path(name).name}
            group |= {
                name: _with_setup(sibling, _setup_beside(sibling))
                for name, sibling in siblings.items()
                if sibling != path and sibling.is_file() and _setup_beside(sibling).is_file()
            }
            done |= {sibling.resolve() for sibling in siblings.values()}
            group = {name: group[name] for name in (*beside, path.name) if name in group}
        yield list(group.values())


def _setup_beside(program: Path) -> Path:
    return program.with_name(program.stem + ".setup.json")


def _with_setup(program: Path, setup: Path) -> tuple[ProgramText, str]:
    return ProgramText(name=program.name, text=load_program(program)), load_text(setup, limit_bytes=MAX_SETUP_BYTES)


def _finding_line(item: Finding) -> str:
    colour = {"error": "red", "warning": "yellow", "note": "cyan"}[item.severity]
    where = ":".join(str(part) for part in (item.where.file, item.where.line) if part is not None)
    head = click.style(item.severity, fg=colour, bold=item.severity == "error")
    return f"{head} {item.code}: {where + ': ' if where else ''}{item.message}"


def _print_findings(found: Sequence[Finding]) -> None:
    for severity in ("error", "warning", "note"):
        for item in found:
            if item.severity == severity:
                click.echo(_finding_line(item), err=True)


@contextmanager
def _progress() -> Iterator[Callable[[str], None]]:
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
