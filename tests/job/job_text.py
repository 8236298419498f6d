"""A small good job as text, and how to read a changed one; shared by the tests of the job file."""

from importlib import resources

import pytest

from rabbetry.errors import InputError
from rabbetry.job.findings import job_findings
from rabbetry.job.model import Job
from rabbetry.job.read import read_job, read_overrides
from rabbetry.shop.read import read_tables

PACKAGE_TABLES = {
    item.name: item.read_text(encoding="utf-8")
    for item in resources.files("rabbetry.shop").joinpath("tables").iterdir()
    if item.name.endswith(".toml")
}
TABLES = read_tables(PACKAGE_TABLES)

HEAD = """
name = "Test job"
units = "{units}"
machine = "bench-4x4"
post = "metric-plain"
cutters = [1, 5, 6]
{top}
"""
STOCKS_MM = """
[stock.ply]
sheet = "birch-18"
thickness = 17.8
blank = [1220, 1220]
[stock.thin]
sheet = "birch-6"
thickness = 5.8
blank = [1220, 1220]
[use]
carcass = "ply"
back = "thin"
"""
STOCKS_IN = """
[stock.ply]
sheet = "ply-3/4"
thickness = 0.703
blank = [48, 48]
[stock.thin]
sheet = "ply-1/4"
thickness = 0.2
blank = [48, 48]
[use]
carcass = "ply"
back = "thin"
"""
CABINET_MM = '[[cabinet]]\nname = "B1"\nkind = "base"\nwidth = 600\n'
CABINET_IN = '[[cabinet]]\nname = "B1"\nkind = "base"\nwidth = 24\n'


def job_text(*orders: str, units: str = "mm", top: str = "", stocks: str | None = None) -> str:
    """Return a job file: the head with more top-level lines, stocks, then orders (one base cabinet when none)."""
    body = STOCKS_MM if units == "mm" else STOCKS_IN
    cabinet = CABINET_MM if units == "mm" else CABINET_IN
    return HEAD.format(units=units, top=top) + (body if stocks is None else stocks) + "\n".join(orders or (cabinet,))


def read(text: str) -> Job:
    """Read a job over the package's tables with the job's own rows."""
    tables = read_tables(PACKAGE_TABLES, overrides=read_overrides(text, file="job.toml"), file="job.toml")
    return read_job(text, file="job.toml", tables=tables)


def faults(text: str) -> list[str]:
    """Return every fault of a job that must be refused, as the user sees it."""
    with pytest.raises(InputError) as caught:
        read_job(text, file="job.toml", tables=TABLES)
    return [str(fault).removeprefix("job.toml: ") for fault in caught.value.faults]


def cabinet_text(*lines: str, name: str = "B1", kind: str = "base") -> str:
    """Return the text of one [[cabinet]] table."""
    return "\n".join(["[[cabinet]]", f'name = "{name}"', f'kind = "{kind}"', *lines])


def codes(job: Job) -> list[str]:
    """Return the codes of a job's findings."""
    return [item.code for item in job_findings(job)]
