"""The command `rabbetry`: reads the command line, calls the pipeline, prints.

Exit status: 0 all well; 1 the job or program has findings of severity error; 2 the command line or an input is wrong.
"""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from rabbetry import __version__
from rabbetry.bare_setup import run_bare
from rabbetry.build import build_folder, counted, sheets_in_words
from rabbetry.cli_again import coupon, recut, resume
from rabbetry.cli_post import post as post_commands
from rabbetry.console import change_lines, finding_line, job_of, post_text, print_findings, progress, told_plainly
from rabbetry.dryrun.dialects import DIALECTS
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.dryrun.interpret import read_program
from rabbetry.dryrun.model import Context, ProgramText
from rabbetry.dryrun.trace import trace_lines
from rabbetry.explaining import explain
from rabbetry.feeds.reasons import lines
from rabbetry.files import load_program, load_tables, save_new_files
from rabbetry.findings import Finding, has_error
from rabbetry.job.model import Job
from rabbetry.job.starter import starter_job
from rabbetry.out_folder import check_replaceable, save_folder
from rabbetry.pipeline import compile_job, feeds_of, with_breakdown
from rabbetry.sheet_files import sheet_groups
from rabbetry.shelf import place
from rabbetry.shop.model import ZZero


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
@told_plainly
def new(folder: Path, units: str) -> None:
    """Write a small commented job to start from.

    \b
    Example:
      rabbetry new my-kitchen --units in
    """
    job = folder / "job.toml"
    save_new_files(folder, {job.name: starter_job(units)})
    click.echo(f"wrote {job}; now: rabbetry build {job} --out {folder / 'out'}")


@main.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.option("--explain", "questions", multiple=True, metavar="SIZE", help="Show the sum of a size; may be repeated.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings, or the sums, as JSON.")
@told_plainly
def check(job_file: Path, questions: tuple[str, ...], as_json: bool) -> int:
    """Read and validate a job, build its panels, prove the fit and the layout; write nothing.

    With --explain, show instead the sum that a size comes from: one size ("B3 bottom length"), all of a panel
    ("B3 left side") or those of a whole cabinet ("B3").

    \b
    Example:
      rabbetry check my-kitchen/job.toml
      rabbetry check my-kitchen/job.toml --explain "B1 bottom length"
    """
    job = job_of(job_file)
    post_text(job.post, job_file.parent).read()
    compiled = compile_job(job)
    if questions:
        return _explained(job, compiled.findings, questions, as_json)
    compiled, nesting = place(job, compiled)
    nesting = with_breakdown(nesting, job)
    found = (*compiled.findings, *nesting.findings)
    if as_json:
        click.echo(json.dumps([item.as_json() for item in found], indent=1))
        return int(has_error(found))
    for echo in job.echoes:
        click.echo(f"  {echo}")
    print_findings(found)
    sizes = ((len(compiled.boxes), "box"), (len(compiled.panels), "panel"), (compiled.checks, "fit check"))
    click.echo(f"{job.name}: " + ", ".join(counted(count, noun) for count, noun in sizes))
    for count in nesting.counts:
        proven = "proven least" if count.sheets == count.lower_bound else f"at least {count.lower_bound} needed"
        click.echo(f"  {count.stock}: {sheets_in_words(count)} ({proven})")
    for row in nesting.breakdowns:
        click.echo(f"  {row.stock}: buy {counted(len(row.sheets), 'full sheet')}, {row.title}")
    return int(has_error(found))


def _explained(job: Job, found: Sequence[Finding], questions: tuple[str, ...], as_json: bool) -> int:
    """Print the sums; of the findings only the errors, since a cabinet with an error has no sizes."""
    errors = [item for item in found if item.severity == "error"]
    print_findings(errors)
    answers = explain(job, questions)
    if as_json:
        click.echo(json.dumps([item.as_json() for item in answers], indent=1))
    else:
        for item in answers:
            click.echo(item.text)
    return int(bool(errors))


@main.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.option("--out", required=True, type=click.Path(path_type=Path), help="Output folder; replaced in one step.")
@click.option("--post", help="Post to use instead of the job's: a name, or a folder of your own.")
@click.option("--workers", type=click.IntRange(1, 64), help="Processes to share the work; default: one a core.")
@told_plainly
def build(job_file: Path, out: Path, post: str | None, workers: int | None) -> int:
    """Do everything: panels, sheets, programs, dry runs, the job's page, lists.

    \b
    Example:
      rabbetry build my-kitchen/job.toml --out my-kitchen/out
    """
    check_replaceable(out)
    job = job_of(job_file)
    controller = post_text(post or job.post, Path() if post else job_file.parent)
    with progress() as tell:
        built = build_folder(job, controller, workers=workers, tell=tell)
        tell("writing")
        changes = save_folder(out, built.content)
    print_findings(built.findings)
    for line in (*built.summary, *change_lines(changes)):
        click.echo(line)
    click.echo(f"look at {out / 'index.html'}")
    return int(has_error(built.findings))


@main.command()
@click.argument("programs", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--setup", type=click.Path(path_type=Path), help="Setup file; default: the one beside the program.")
@click.option("--machine", help="Without a setup file: a row of the machine table.")
@click.option("--blank", help="Without a setup file: x, y and thickness, such as 1220x1220x17.8 or 48x48x0.703in.")
@click.option("--blank-at", help="Machine coordinates of the blank's lower left corner, such as 25x25.")
@click.option("--cutter", help="Diameter of the cutter, such as 6.35 or 0.25in.")
@click.option("--clamp", "clamps", multiple=True, help="A clamp: x, y, size in x and y, height above the blank's top.")
@click.option("--z-zero", type=click.Choice([str(zero) for zero in ZZero]), help="Default: the machine's.")
@click.option("--dialect", type=click.Choice(sorted(DIALECTS)), default="lenient", show_default=True)
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@told_plainly
def dryrun(programs: tuple[Path, ...], setup: Path | None, as_json: bool, **bare: Any) -> int:
    """Dry-run program text, ours or anyone's, against its setup file, or against a machine and a blank.

    A sheet cut by several programs is judged as a whole: the others named in the setup are read from the same folder.
    With --machine and --blank no setup file is read; what could not be judged then is said.

    \b
    Examples:
      rabbetry dryrun out/programs/*.nc
      rabbetry dryrun theirs.nc --machine bench-4x4 --blank 1220x1220x17.8 --cutter 6.35
    """
    found: list[Finding] = []
    if bare["machine"] or bare["blank"]:
        runs = run_bare(programs, setup, load_tables(), **bare)
    else:
        runs = ((run, run.findings, ()) for run in map(dry_run, sheet_groups(programs, setup)))
    for run, findings, unknown in runs:
        found.extend(findings)
        if not as_json:
            print_findings(findings)
            for report in run.programs:
                verdict = "NOT SAFE" if has_error(report.findings) else "no error found"
                more = f"; not checked: {'; '.join(unknown)}" if unknown else ""
                click.echo(f"{report.name}: {report.lines} lines, {report.time_text}, {verdict}{more}")
    if as_json:
        click.echo(json.dumps([item.as_json() for item in found], indent=1))
    return int(has_error(found))


@main.command()
@click.argument("program", type=click.Path(path_type=Path))
@click.option("--dialect", type=click.Choice(sorted(DIALECTS)), default="lenient", show_default=True)
@told_plainly
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
        click.echo(finding_line(item), err=True)
    return int(has_error(reading.findings))


@main.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.option("--why", is_flag=True, help="Also print the reason for each figure.")
@click.option("--json", "as_json", is_flag=True, help="Print the rows as JSON.")
@told_plainly
def feeds(job_file: Path, as_json: bool, why: bool) -> int:
    """Show speed, feed, plunge, chip load and power of each cutter in each stock, and the limit that decided.

    All are starting points: listen, look at chips and edges, and write what you find as [[tuning]] rows.

    \b
    Examples:
      rabbetry feeds my-kitchen/job.toml
      rabbetry feeds my-kitchen/job.toml --why
    """
    job = job_of(job_file)
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
    if why:
        for row in rows:
            click.echo("\n".join(lines(row.choice)))
    print_findings(tuple(dict.fromkeys(item for row in rows for item in row.findings)))
    return 0


main.add_command(coupon)
main.add_command(recut)
main.add_command(resume)
main.add_command(post_commands)
