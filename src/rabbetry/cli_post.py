"""The commands `rabbetry post ...`: what each controller accepts, and a post of one's own."""

from pathlib import Path

import click

from rabbetry.console import post_text, told_plainly
from rabbetry.files import load_post, post_names, save_new_file


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
    save_new_file(folder / "post.toml", toml)
    save_new_file(folder / "program.nc.j2", template)
    click.echo(f"wrote {folder / 'post.toml'} and {folder / 'program.nc.j2'}; build with --post {folder}")
