"""The commands for what comes after a build: some panels once more, a program gone on with, a test piece."""

from pathlib import Path

import click

from rabbetry.build import Built, build_folder
from rabbetry.console import job_of, post_text, print_findings, progress, told_plainly
from rabbetry.coupon import plan_coupon, reckon
from rabbetry.dryrun.dryrun import dry_run
from rabbetry.errors import Fault, InputError
from rabbetry.files import check_new, save_new_files
from rabbetry.findings import has_error
from rabbetry.out_folder import check_replaceable, save_folder
from rabbetry.recut import plan_recut
from rabbetry.resume import resume_program
from rabbetry.sheet_files import setup_beside, sheet_groups, with_setup
from rabbetry.units import write_length

_OUT = click.option(
    "--out", required=True, type=click.Path(path_type=Path), help="Output folder; replaced in one step."
)
_POST = click.option("--post", help="Post to use instead of the job's: a name, or a folder of your own.")
_WORKERS = click.option(
    "--workers", type=click.IntRange(1, 64), help="Processes to share the work; default: one a core."
)


@click.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.argument("panels", metavar="PANEL...", nargs=-1, required=True)
@_OUT
@click.option("--blank", metavar="L,W", help="Size along X and Y of the one blank or offcut to cut from.")
@click.option("--thickness", metavar="LENGTH", help="What the caliper says about this blank.")
@_POST
@_WORKERS
@told_plainly
def recut(
    job_file: Path,
    panels: tuple[str, ...],
    out: Path,
    blank: str | None,
    thickness: str | None,
    post: str | None,
    workers: int | None,
) -> int:
    """Cut some panels of a job once more, on an offcut or on blanks of their stock.

    Panels go by their names in the cut list. Nothing is written when they do not fit.

    \b
    Examples:
      rabbetry recut my-kitchen/job.toml "B1 left side" --out recut
      rabbetry recut my-kitchen/job.toml "B1 shelf 1" --out recut --blank 600,400 --thickness 17.6
    """
    check_replaceable(out)
    job = job_of(job_file)
    controller = post_text(post or job.post, Path() if post else job_file.parent)
    wanted = plan_recut(job, panels, blank=blank, thickness=thickness)
    for note in wanted.notes:
        click.echo(f"  {note}")
    print_findings(wanted.findings)
    if has_error(wanted.findings):
        return 1
    with progress() as tell:
        built = build_folder(wanted.job, controller, workers=workers, tell=tell, panels=wanted.panels)
        tell("writing")
        save_folder(out, built.content)
    return _told(built, out)


@click.command()
@click.argument("program", type=click.Path(path_type=Path))
@click.option("--from", "operation", required=True, metavar="OPERATION", help="Number or name, or a panel's name.")
@click.option("--out", required=True, type=click.Path(path_type=Path), help="File to write; it must not exist.")
@click.option("--setup", type=click.Path(path_type=Path), help="Setup file; default: the one beside the program.")
@told_plainly
def resume(program: Path, operation: str, out: Path, setup: Path | None) -> int:
    """Go on with a program that was stopped, at the start of one of its operations.

    The new program states everything anew, lifts, starts the spindle, goes to the operation's start and cuts the rest.
    What lies before the operation is taken as cut. Written only when the dry run of both together finds no error.

    \b
    Examples:
      rabbetry resume out/programs/birch-18-01-T1.nc --from 7 --out resumed.nc
      rabbetry resume out/programs/birch-18-01-T1.nc --from "B3 left side: bottom dado" --out resumed.nc
    """
    beside = setup_beside(out)
    check_new(out, beside)
    text, setup_text = with_setup(program, setup or setup_beside(program))
    resumed = resume_program(text, setup_text, operation=operation, name=out.name)
    group = [
        pair
        for found, found_setup in next(sheet_groups([program], setup))
        for pair in (
            [(resumed.before, resumed.before_setup), (resumed.program, resumed.setup)]
            if found.name == program.name
            else [(found, found_setup)]
        )
    ]
    run = dry_run(group)
    past = {resumed.before.name}
    told = [item for item in run.findings if item.where.file not in past]
    print_findings(told)
    if has_error(told):
        click.echo(f"{out.name}: NOT SAFE; nothing was written", err=True)
        return 1
    save_new_files(out.parent, {out.name: resumed.program.text, beside.name: resumed.setup})
    report = next(report for report in run.programs if report.name == out.name)
    click.echo(f"goes on from {resumed.step.label}; {resumed.skipped} operations before it are taken as cut")
    click.echo(f"wrote {out} and {beside.name}: {report.lines} lines, {report.time_s / 60:.1f} min, no error found")
    return 0


@click.command()
@click.argument("job_file", metavar="JOB", type=click.Path(path_type=Path))
@click.argument("stock")
@click.argument("cutter", type=int)
@click.option("--out", type=click.Path(path_type=Path), help="Output folder; replaced in one step.")
@_POST
@click.option("--fitted", metavar="WIDTH", help="After cutting: the width written beside the slot that fitted.")
@click.option("--square", metavar="LENGTH", help="After cutting: what the square measures across its outside.")
@told_plainly
def coupon(
    job_file: Path,
    stock: str,
    cutter: int,
    out: Path | None,
    post: str | None,
    fitted: str | None,
    square: str | None,
) -> int:
    """Cut a test piece that tells a joint's play and the cutter's true width; docs/coupon.md says how.

    With --out it writes the programs; with --fitted or --square it reckons, from what was found, the lines to put into
    the job.

    \b
    Examples:
      rabbetry coupon my-kitchen/job.toml carcass 1 --out coupon
      rabbetry coupon my-kitchen/job.toml carcass 1 --fitted 17.9 --square 100.05
    """
    job = job_of(job_file)
    if fitted is not None or square is not None:
        sums, lines = reckon(job, stock, cutter, fitted=fitted, square=square)
        click.echo("\n".join(sums))
        click.echo(f"put into {job_file.name} (into its table of that name, if it has one):\n")
        click.echo("\n".join(lines))
        return 0
    if out is None:
        problem = "nothing to do: there is neither --out nor --fitted nor --square"
        raise InputError(Fault(file="command line", place="coupon", problem=problem, cure="name a folder with --out"))
    check_replaceable(out)
    piece = plan_coupon(job, stock, cutter)
    controller = post_text(post or job.post, Path() if post else job_file.parent)
    with progress() as tell:
        built = build_folder(piece.job, controller, workers=1, tell=tell, panels=piece.panels)
        tell("writing")
        save_folder(out, built.content)
    for number, width in enumerate(piece.widths_mm, start=1):
        click.echo(f"  slot {number} from the wide end: {write_length(width, str(job.units))}")
    return _told(built, out)


def _told(built: Built, out: Path) -> int:
    print_findings(built.findings)
    for line in built.summary:
        click.echo(line)
    click.echo(f"look at {out / 'index.html'}")
    return int(has_error(built.findings))
