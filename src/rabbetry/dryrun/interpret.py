"""Reads a program's text the way the controller would: RS-274/NGC, line by line, into events (NISTIR 6556).

Knows nothing of wood, stock or cutters. What the dialect does not allow is refused at its line, and reading stops
there: what follows a refused line would be guesswork.
"""

import re

from rabbetry.dryrun.dialects import Dialect
from rabbetry.dryrun.lex import bare_line, split_lines
from rabbetry.dryrun.model import Context, End, Feed, Message, ProgramText, Reading, Traverse
from rabbetry.dryrun.obey import obey
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.state import State
from rabbetry.dryrun.tolerances import MOST_CHARACTERS, MOST_EVENTS
from rabbetry.dryrun.words import block_of, words_of
from rabbetry.findings import finding

_NUMBER = r"[+-]?(?:[0-9]{1,7}+(?:\.[0-9]{0,9}+)?+|\.[0-9]{1,9}+)"
_PLAIN_WORDS = re.compile(rf"[ \t]*+(?:[A-Za-z][ \t]*+{_NUMBER}[ \t]*+)*+")
_ONE_WORD = re.compile(rf"([A-Za-z])[ \t]*+({_NUMBER})")
_PLAIN_MOTION = re.compile(
    r"(?:[Nn][0-9]{1,5}+)?+[ \t]*+(?:[Gg]0?+([01])(?![0-9.])[ \t]*+)?+"
    rf"(?:[Xx]({_NUMBER})[ \t]*+)?+(?:[Yy]({_NUMBER})[ \t]*+)?+(?:[Zz]({_NUMBER})[ \t]*+)?+(?:[Ff]({_NUMBER})[ \t]*+)?+"
)
"""The bulk of any program, read without a detour: G0 or G1 with X Y Z F in this order, plain numbers."""


def read_program(program: ProgramText, dialect: Dialect, context: Context) -> Reading:
    """Return what a program's text does. Never raises for any text: a refused line is an error finding with its line.

    Events come in the order of execution, positions in millimetres and machine coordinates.
    """
    state = State(program.name, dialect, context)
    if len(program.text) > MOST_CHARACTERS:
        message = f"the program has {len(program.text)} characters; more than {MOST_CHARACTERS} are not read"
        state.note("program-size", message, 1)
        return Reading(events=(), findings=tuple(state.findings), lines=max(1, program.text.count("\n")), refused=True)
    lines = split_lines(program.text)
    refused = False
    number = 0
    try:
        opened = _opening_percent(lines, dialect)
        number = opened
        for number in range(opened + 1, len(lines) + 1):
            raw = lines[number - 1]
            if not _read_plain_motion(state, number, raw) and not _is_closing_percent(state, number, raw, opened):
                _read_line(state, number, raw)
            if state.ended:
                _report_rest(state, lines, number, opened)
                break
        else:
            _report_open_end(state, len(lines), opened)
    except Refusal as refusal:
        state.note(refusal.code, refusal.reason, max(number, 1))
        refused = True
    return Reading(events=tuple(state.events), findings=tuple(state.findings), lines=len(lines), refused=refused)


def _opening_percent(lines: list[str], dialect: Dialect) -> int:
    """Return the number of the line that holds the opening per cent sign, or 0."""
    for number, raw in enumerate(lines, start=1):
        text = raw.strip(" \t")
        if text:
            return number if text == "%" and dialect.percent else 0
    return 0


def _is_closing_percent(state: State, line: int, raw: str, opened: int) -> bool:
    if raw.strip(" \t") != "%":
        return False
    if not state.dialect.percent:
        raise Refusal("program-syntax", "a per cent sign is not accepted by this controller")
    if not opened and not state.dialect.stray_percent_ends:
        raise Refusal("program-syntax", "a per cent sign ends a program that did not begin with one")
    state.add(End(line=line))
    state.ended = True
    return True


def _report_rest(state: State, lines: list[str], end: int, opened: int) -> None:
    """Warn of text after the program's end; the controller never looks at it."""
    rest = [number for number in range(end + 1, len(lines) + 1) if lines[number - 1].strip(" \t")]
    if rest and lines[rest[0] - 1].strip(" \t") == "%" and (opened or state.dialect.stray_percent_ends):
        rest.pop(0)
    if rest:
        some = "this line is" if len(rest) == 1 else f"this line and {len(rest) - 1} more are"
        state.note("text-after-end", f"the program ended at line {end}; {some} not carried out", rest[0])


def _report_open_end(state: State, lines: int, opened: int) -> None:
    what = "the closing per cent sign is missing, and " if opened else ""
    where = lines or None
    state.findings.append(
        finding("program-end", f"{what}there is no M2 or M30: the program does not end", file=state.name, line=where)
    )


def _read_line(state: State, line: int, raw: str) -> None:
    """Read and carry out any line."""
    dialect = state.dialect
    if len(raw) > dialect.line_length:
        raise Refusal("program-size", f"the line has {len(raw)} characters; {dialect.line_length} are allowed")
    if _PLAIN_WORDS.fullmatch(raw):
        words = [(letter.upper(), float(value)) for letter, value in _ONE_WORD.findall(raw)]
        if not any(word[0] == "N" for word in words):
            if words:
                obey(state, block_of(words, line, dialect))
            return
    bare = bare_line(raw, dialect)
    if bare.slashed:
        _report_slash(state, line)
        if state.context.block_delete:
            return
    if bare.blank_in_number:
        state.note("blank-in-number", "a blank inside a number is skipped: the number goes on after it", line)
    words, settings = words_of(bare.text, dialect, state.parameter)
    for text in bare.comments:
        state.add(Message(line=line, text=text))
    for parameter, value in settings:
        if parameter >= 5161:
            raise Refusal("program-expression", f"#{parameter} holds offsets; set them with G10 or G92")
        state.parameters[parameter] = value
    if words:
        obey(state, block_of(words, line, dialect))


def _report_slash(state: State, line: int) -> None:
    if any(item.code == "block-delete" for item in state.findings):
        return
    done = "skipped (block delete is on)" if state.context.block_delete else "carried out (block delete is off)"
    state.note("block-delete", f"lines that begin with a slash are {done}", line)


def _read_plain_motion(state: State, line: int, raw: str) -> bool:
    """Carry out a plain G0 or G1 line and return True; return False for any line that needs the full reader.

    Decides nothing itself: it takes only lines on which the full reader would do exactly this.
    """
    match = _PLAIN_MOTION.fullmatch(raw)
    if match is None or len(raw) > state.dialect.line_length or state.relative or state.inverse_time:
        return False
    word, x, y, z, feed = match.groups()
    motion = state.motion if word is None else ("G1" if word == "1" else "G0")
    if motion is None or (motion != "G0" and motion != "G1") or (x is None and y is None and z is None):
        return False
    if (feed is not None and float(feed) <= 0) or len(state.events) >= MOST_EVENTS or not state.first_cut_seen:
        return False
    allowed = state.dialect.allowed_words
    if word is not None and allowed is not None and motion not in allowed:
        return False
    scale, at, offset = state.scale, state.program, state.offset
    to = (
        at[0] if x is None else float(x) * scale,
        at[1] if y is None else float(y) * scale,
        at[2] if z is None else float(z) * scale,
    )
    speed = state.feed if feed is None else float(feed) * scale
    machine = (to[0] + offset[0], to[1] + offset[1], to[2] + offset[2])
    if motion == "G0":
        state.events.append(Traverse(line=line, start=state.at, to=machine, program_to=to))
    elif speed is not None:
        state.events.append(Feed(line=line, start=state.at, to=machine, program_to=to, feed_mm_per_min=speed))
    else:
        return False
    state.motion = motion
    state.feed = speed
    state.program = to
    state.at = machine
    return True
