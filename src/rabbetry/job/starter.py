"""The small commented job that `rabbetry new` writes."""

from importlib import resources

from rabbetry.job.model import Units


def starter_job(units: str) -> str:
    """Return the text of a job to start from, in millimetres ("mm") or inches ("in"). Raises ValueError for others."""
    name = f"{Units(units).value}.toml"
    return resources.files("rabbetry.job").joinpath("starters").joinpath(name).read_text(encoding="utf-8")
