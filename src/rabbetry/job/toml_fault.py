"""What is wrong with a file that is not TOML, in words that say what to do."""

import re

from rabbetry.errors import Fault

_WORDS = (
    (r"Cannot overwrite a value", "a key stands twice in its table", "keep one of the two"),
    (r"Cannot declare \('(.*)',\) twice", "the table [{0}] stands twice", "put the keys of both into one"),
    (r"Exceeds the limit.*", "a number has thousands of digits", "check what was pasted there"),
)
"""What the standard library's reader says, and what is wrong and to be done in the file's own words."""


def toml_fault(reason: str, file: str) -> Fault:
    """Return the fault of a text that `tomllib` refuses; `reason` is what it says, with or without a place."""
    match = re.fullmatch(r"(.*) \(at (line \d+), (column \d+)\)", reason, re.DOTALL)
    said, place = (match[1], match[2]) if match else (reason, "")
    for pattern, problem, cure in _WORDS:
        if found := re.fullmatch(pattern, said, re.DOTALL):
            return Fault(file=file, place=place, problem=problem.format(*found.groups()), cure=cure)
    problem = f"{said} at {match[3]}" if match else said
    cure = "the file is not TOML there: text needs quotes, and each line one key = value"
    return Fault(file=file, place=place, problem=problem, cure=cure)
