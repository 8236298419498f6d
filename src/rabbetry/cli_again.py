"""The commands for what comes after a build: some panels once more, a program gone on with, a test piece."""

from pathlib import Path

import click

from rabbetry.build import Built, build_folder
from rabbetry.console import job_of, post_text, print_findings, progress, told_plainly
from rabbetry.files import check_replaceable, save_folder
from rabbetry.findings import has_error
from rabbetry.recut import plan_recut

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


def _told(built: Built, out: Path) -> int:
    print_findings(built.findings)
    for line in built.summary:
        click.echo(line)
    click.echo(f"look at {out / 'index.html'}")
    return int(has_error(built.findings))
