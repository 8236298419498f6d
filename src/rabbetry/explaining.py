"""`rabbetry check --explain`: compiles the job once more on traced numbers and answers questions about its sizes."""

from collections.abc import Sequence

from rabbetry.errors import Fault, InputError
from rabbetry.explain.answer import Answer, NoSuchSize, answer
from rabbetry.explain.leaves import traced_job
from rabbetry.explain.sizes import sizes_of
from rabbetry.job.model import Job
from rabbetry.pipeline import compile_job


def explain(job: Job, questions: Sequence[str]) -> tuple[Answer, ...]:
    """Return the sums asked for, in the order of the questions. Raises InputError with every question that names no
    size, or more than one."""
    compiled = compile_job(traced_job(job))
    sizes = sizes_of(compiled.cabinets, compiled.panels, compiled.faced.runs)
    answers: list[Answer] = []
    faults: list[Fault] = []
    for question in questions:
        try:
            answers.extend(answer(question, sizes, str(job.units)))
        except NoSuchSize as error:
            faults.append(Fault(file=job.file, place="--explain", problem=error.problem, cure=error.cure))
    if faults:
        raise InputError(*faults)
    return tuple(answers)
