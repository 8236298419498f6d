"""Builds a job's text into a folder, for the tests that look at pages."""

from pathlib import Path

from rabbetry.build import Built, build_folder
from rabbetry.files import load_post, load_tables
from rabbetry.pipeline import PostText, load_job


def built_from(text: str) -> Built:
    """Build a job's text in this process."""
    job = load_job(text, file="job.toml", tables=load_tables(), own_tables={})
    shipped, toml, template = load_post(job.post, beside=Path())
    return build_folder(job, PostText(name=shipped, toml=toml, template=template), workers=1, tell=lambda stage: None)


def written(built: Built, folder: Path) -> Path:
    """Write the files into a folder and return it."""
    for name, data in built.content.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(data)
    return folder
