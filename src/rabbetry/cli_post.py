"""The commands `rabbetry post ...`: what each controller accepts, and a post of one's own."""

import json
from pathlib import Path

import click

from rabbetry.console import post_text, print_findings, told_plainly
from rabbetry.files import load_post, post_names, save_new_files
from rabbetry.findings import has_error
from rabbetry.post_check import check_post


@click.group()
def post() -> None:
    """Posts: what each controller accepts, and how to start one of your own."""


@post.command("list")
@told_plainly
def post_list() -> None:
    """Name every post and what it accepts.

    \b
    Example:
      rabbetry post list
    """
    for name in post_names():
        click.echo(f"{name:<20} {post_text(name, Path()).read().title}")


@post.command("show")
@click.argument("name")
@told_plainly
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
@told_plainly
def post_copy(name: str, folder: Path) -> None:
    """Start a post of your own from one that ships; then build with `--post FOLDER`.

    \b
    Example:
      rabbetry post copy metric-plain my-post
    """
    _, toml, template = load_post(name, beside=Path())
    save_new_files(folder, {"post.toml": toml, "program.nc.j2": template})
    click.echo(f"wrote {folder / 'post.toml'} and {folder / 'program.nc.j2'}; build with --post {folder}")


@post.command("check")
@click.argument("name", metavar="NAME_OR_FOLDER")
@click.option("--json", "as_json", is_flag=True, help="Print the findings as JSON.")
@told_plainly
def post_check(name: str, as_json: bool) -> int:
    """Prove a post on awkward programs before any job is cut with it.

    Renders plans with hostile names, extreme numbers, all sizes of arcs and changes of cutter, and holds the text
    against post.toml, the dry run and the plan. Exit status 2: the post cannot be used; 1: it cuts wrongly; 0: proven.

    \b
    Example:
      rabbetry post check my-post
    """
    tried = check_post(post_text(name, Path()).read())
    if as_json:
        click.echo(json.dumps([item.as_json() for item in tried.findings], indent=1))
        return int(has_error(tried.findings))
    print_findings(tried.findings)
    for title in tried.trials:
        click.echo(f"  tried: {title}")
    verdict = "NOT SAFE" if has_error(tried.findings) else "no error found"
    click.echo(f"{name}: {tried.programs} programs, {tried.lines} lines, {verdict}")
    return int(has_error(tried.findings))
