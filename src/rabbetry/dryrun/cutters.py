"""Which cutter is in the spindle, from tool words, tool changes and the setup."""

import re
from collections.abc import Iterator, Sequence

from rabbetry.dryrun.lex import split_lines
from rabbetry.dryrun.model import Event, ProgramText, ToolChange
from rabbetry.dryrun.setup import Cutter, Setup
from rabbetry.findings import Finding, finding

_COMMENT = re.compile(r"\([^)]*\)?|;.*")
_TOOL_WORD = re.compile(r"(?<![A-Za-z])[Tt]\s*([0-9]{1,6})(?![0-9.])")


def first_cutter(program: ProgramText, events: Sequence[Event], setup: Setup) -> Cutter | None:
    """Return the cutter in the spindle when the program begins; None when a tool change must bring it or nothing
    tells.

    The setup's word comes first (`loaded`), then a T word in a program without tool change, then the only cutter
    there is.
    """
    if any(isinstance(event, ToolChange) for event in events):
        return None
    words = [number for _, number in _tool_words(program.text)]
    named = setup.loaded or tuple(words[:1]) or tuple(cutter.number for cutter in setup.cutters)
    return setup.cutter(named[0]) if setup.loaded or words or len(named) == 1 else None


def check_cutters(program: ProgramText, events: Sequence[Event], setup: Setup) -> Iterator[Finding]:
    """Yield findings of cutters called that the setup does not have, or has not loaded for this program."""
    changes = [(event.line, event.number) for event in events if isinstance(event, ToolChange)]
    for line, number in changes or _tool_words(program.text):
        if number == 0:
            continue
        if setup.cutter(number) is None:
            numbers = ", ".join(str(cutter.number) for cutter in setup.cutters)
            message = f"cutter {number} is not in the setup; it has {numbers or 'none'}"
            yield finding("cutter-unknown", message, file=program.name, line=line)
        elif setup.loaded and number not in setup.loaded:
            loaded = ", ".join(str(item) for item in setup.loaded)
            message = f"cutter {number} is called; this program is set up for cutter {loaded}"
            yield finding("wrong-cutter", message, file=program.name, line=line)


def _tool_words(text: str) -> list[tuple[int, int]]:
    """Return line and number of each T word outside comments."""
    found = []
    for line, raw in enumerate(split_lines(text), start=1):
        if "T" in raw or "t" in raw:
            found += [(line, int(match.group(1))) for match in _TOOL_WORD.finditer(_COMMENT.sub("", raw))]
    return found
