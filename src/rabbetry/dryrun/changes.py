"""What must be said anew when the cutter is changed: its length and its speed. Reads the text, as the events do not
tell which words a program gave again.
"""

import re
from collections.abc import Iterator, Sequence

from rabbetry.dryrun.lex import split_lines
from rabbetry.dryrun.model import ArcMove, Event, Feed, ProgramText, ToolChange
from rabbetry.findings import Finding, finding

_COMMENT = re.compile(r"\([^)]*\)?|;.*")
_SPEED = re.compile(r"(?<![A-Za-z])[Ss]\s*[0-9.\[#]")
_LENGTH = re.compile(r"(?<![A-Za-z])[Gg]\s*0*(43|49)(?![0-9.])")
_LENGTH_NUMBER = re.compile(r"(?<![A-Za-z])[Hh]\s*([0-9]{1,6})(?![0-9.])")


def check_changes(program: ProgramText, events: Sequence[Event]) -> Iterator[Finding]:
    """Yield findings of first cuts after a change of cutter that are made with the length offset of another one, or
    at its speed."""
    if not any(isinstance(event, ToolChange) for event in events):
        return
    text = [_COMMENT.sub("", line) for line in split_lines(program.text)]
    speeds = {line for line, words in enumerate(text, start=1) if _SPEED.search(words)}
    cut_before, length_of = 0, 0
    change: ToolChange | None = None
    seen = 0
    for event in events:
        if isinstance(event, ToolChange):
            change = event
        elif not isinstance(event, Feed | ArcMove):
            continue
        elif change is not None:
            length_of = _length_in_force(text, seen, event.line, change, length_of)
            seen = event.line
            if length_of not in (0, change.number):
                message = f"cutter {change.number} cuts with the length offset of cutter {length_of}"
                yield finding("wrong-length-offset", message, file=program.name, line=event.line)
            if cut_before and speeds and not any(line in speeds for line in range(cut_before + 1, event.line + 1)):
                message = f"no speed (S) since the change to cutter {change.number}: it turns as fast as the one before"
                yield finding("spindle-kept-speed", message, file=program.name, line=event.line)
            change = None
        if not isinstance(event, ToolChange):
            cut_before = event.line


def _length_in_force(text: Sequence[str], after: int, until: int, change: ToolChange, before: int) -> int:
    """Return the number of the length offset at line `until`; 0 for none. Without H it is the loaded cutter's."""
    number = before
    for line in range(after + 1, until + 1):
        match = _LENGTH.search(text[line - 1])
        if match:
            named = _LENGTH_NUMBER.search(text[line - 1])
            own = change.number if line >= change.line else before
            number = 0 if match.group(1) == "49" else int(named.group(1)) if named else own
    return number
