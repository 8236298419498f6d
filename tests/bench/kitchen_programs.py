"""The sample kitchen's programs and setups, planned here, for the measurements beside this file."""

from pathlib import Path

from rabbetry.dryrun.model import ProgramText
from rabbetry.files import load_post, load_tables
from rabbetry.job.model import Job
from rabbetry.pipeline import PostText, compile_job, lay_out, load_job, plan_sheet

KITCHEN = Path(__file__).parents[2] / "sample_jobs" / "clubhouse-kitchen.toml"

SheetPrograms = list[tuple[ProgramText, str]]
"""All programs of one sheet, each with its setup file's text."""


def kitchen() -> tuple[Job, PostText]:
    """Return the job and the post it names."""
    job = load_job(KITCHEN.read_text(encoding="utf-8"), file=KITCHEN.name, tables=load_tables(), own_tables={})
    name, toml, template = load_post(job.post, beside=KITCHEN.parent)
    return job, PostText(name=name, toml=toml, template=template)


def planned_sheets(most: int | None = None) -> list[SheetPrograms]:
    """Return the programs of the kitchen's sheets, or of the first `most`."""
    job, post = kitchen()
    sheets = lay_out(job, compile_job(job).panels).sheets[:most]
    return [
        [
            (ProgramText(name=program.name, text=program.text.decode("ascii")), program.setup.decode("utf-8"))
            for program in plan_sheet(sheet, job, post).programs
        ]
        for sheet in sheets
    ]
