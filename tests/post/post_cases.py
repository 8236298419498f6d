"""Posts and plans for the tests of this folder."""

from dataclasses import replace
from pathlib import Path

from rabbetry.motions.model import Plan, Step
from rabbetry.post.capabilities import Post, read_post
from rabbetry.post.sample import sample_plan

POSTS = Path(__file__).parents[2] / "posts"
NAMES = tuple(sorted(path.parent.name for path in POSTS.glob("*/post.toml")))


def texts(name: str) -> tuple[str, str]:
    folder = POSTS / name
    return (folder / "post.toml").read_text("utf-8"), (folder / "program.nc.j2").read_text("utf-8")


def shipped(name: str) -> Post:
    return read_post(name, *texts(name))


def changed(name: str, *, toml: tuple[tuple[str, str], ...] = (), template: tuple[tuple[str, str], ...] = ()) -> Post:
    """Return a shipped post with text replaced in its files; each old text must be there."""
    both = list(texts(name))
    for k, pairs in enumerate((toml, template)):
        for old, new in pairs:
            assert old in both[k], old
            both[k] = both[k].replace(old, new)
    return read_post(name, *both)


def plan_of(*motions: object, **changes: object) -> Plan:
    """Return the sample plan with one run of the mill and one step of `motions`."""
    plan = sample_plan()
    step = Step(name="P1: test", panel="P1", kind="profile", motions=motions)  # type: ignore[arg-type]
    return replace(plan, runs=(replace(plan.runs[1], steps=(step,)),), **changes)  # type: ignore[arg-type]


def code_lines(text: str) -> list[str]:
    return [line for line in text.splitlines() if not line.startswith(("(", ";"))]
