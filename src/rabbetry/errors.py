"""The one exception a user's mistake raises, and our own geometry complaint.

A wrong input (job, table, post, drawing, program, command line) raises `InputError`: exit status 2, nothing written.
A fault of a readable job or program is not an exception but a `Finding`: exit status 1. Anything else is our own bug and
shows a traceback.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One fault of one input: where it is, what was read, what was expected and what to do about it."""

    file: str
    place: str
    """Where in the file, in the user's words: `cabinet "B3", width` or `line 12`."""
    problem: str
    """What was read and why it is wrong; holds the offending value."""
    cure: str = ""
    """What to do; may be empty when `problem` says it."""

    def __str__(self) -> str:
        where = f"{self.file}: {self.place}: " if self.place else f"{self.file}: "
        return where + self.problem + (f"; {self.cure}" if self.cure else "")


class InputError(Exception):
    """An input is wrong. Carries every fault found in it, in order; the shell prints them all and exits with 2."""

    exit_status = 2

    def __init__(self, *faults: Fault) -> None:
        if not faults:
            raise ValueError("an InputError needs at least one fault")
        self.faults = faults
        super().__init__("\n".join(str(fault) for fault in faults))


class GeometryError(ValueError):
    """A shape that a geometry function cannot handle, such as an outline that crosses itself; says where."""
