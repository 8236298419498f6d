"""Plan and post in, program text out. What a template emits is looked at once more before it leaves."""

import traceback
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from jinja2 import Template, UndefinedError

from rabbetry.errors import Fault, InputError
from rabbetry.fingerprint import fingerprint
from rabbetry.motions.model import Plan, PlanKind
from rabbetry.post.blocks import ProgramBlock, RunBlock, Spot, programs_of
from rabbetry.post.capabilities import Post
from rabbetry.post.comments import comment_text
from rabbetry.post.numbers import write_number
from rabbetry.post.template import compiled, turn_counter, unknown_at_run_time
from rabbetry.post.words import faults_of_line

_MOST_FAULTS = 20
_MOST_LINE_NUMBER = 99999
"""NISTIR 6556, section 3.3.1: N takes one to five digits; numbers may repeat."""
_SPARE_TURNS = 200_000
_TURNS_A_MOVE = 50
"""A template's loops may turn so often in all, and so often for each move: shipped posts turn once a move."""
_NEAR_LINES = 4
"""How far after the line that the engine tells a literal line is looked for."""
_SPARE_CHARACTERS = 1_000_000
_CHARACTERS_A_MOVE = 1000
"""Likewise the characters emitted, blanks included."""
_LONG_COMMENT = 200
"""Comments of a controller without a line limit are cut here; the report's reader takes 256 characters a line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgramFile:
    """One program: file name, ASCII text with the post's line ends, the cutters it uses, the panels and operations."""

    name: str
    text: str
    fingerprint: str
    """Of all that the text follows from and of nothing else: see `_context`."""
    cutters: tuple[int, ...]
    panels: tuple[str, ...]
    operations: tuple[str, ...]
    kind: PlanKind = "cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Blank:
    x: str
    y: str
    thickness: str
    measured: bool
    thickness_note: str


def render_programs(plan: Plan, post: Post) -> tuple[ProgramFile, ...]:
    """Return the programs of one sheet in running order; none when there is nothing to cut.

    Raises InputError, with template and line, when the template fails, or when a line it emits is too long, holds a
    word or character that the post does not list, or two words that exclude each other.
    """
    template = compiled(post.template, post.template_file)
    programs = programs_of(plan, post)
    contexts = [_context(plan, post, program, number, len(programs)) for number, program in enumerate(programs, 1)]
    return tuple(
        ProgramFile(
            name=program.file,
            text=_text_of(template, context, post),
            fingerprint=context["fingerprint"],
            cutters=tuple(dict.fromkeys(run.number for run in program.runs)),
            panels=tuple(dict.fromkeys(step.panel for run in program.runs for step in run.steps)),
            operations=tuple(step.name for run in program.runs for step in run.steps),
            kind=plan.kind,
        )
        for program, context in zip(programs, contexts, strict=True)
    )


def template_lines(plan: Plan, post: Post) -> tuple[tuple[int, ...], ...]:
    """Return, for each program of `render_programs`, the template's line that each of its lines comes from."""
    template = compiled(post.template, post.template_file)
    programs = programs_of(plan, post)
    return tuple(
        _origins(template, _context(plan, post, program, number, len(programs)), post.template.splitlines())
        for number, program in enumerate(programs, start=1)
    )


def _origins(template: Template, context: Mapping[str, Any], source: list[str]) -> tuple[int, ...]:
    raw = template.render(dict(context)).split("\n")
    places = _template_lines(template, context)
    return tuple(
        _literal(_place(places, raw, number, 0), line, source) for number, line in enumerate(raw) if line.strip()
    )


def _literal(place: int, line: str, source: list[str]) -> int:
    """Return the place of a line that stands in the template as it is: the engine gives that of the block before it."""
    near = range(place, min(place + _NEAR_LINES, len(source) + 1))
    return next((number for number in near if source[number - 1].split() == line.split()), place)


def _context(plan: Plan, post: Post, program: ProgramBlock, number: int, count: int) -> dict[str, Any]:
    """Return what the template may use. Fingerprinted are the values, all as they are written, with the post's own
    settings and template: a program whose text would not change keeps its fingerprint whatever else changes."""
    values = _values(plan, post, program, number, count)
    return {
        **turn_counter(_SPARE_TURNS + _TURNS_A_MOVE * _count_moves(program.runs)),
        "comment": _comment_writer(post),
        "number": _number_writer(post),
        **values,
        "fingerprint": fingerprint(replace(post, name="", title="", description=""), values),
    }


def _values(plan: Plan, post: Post, program: ProgramBlock, number: int, count: int) -> dict[str, Any]:
    length = post.numbers.length
    return {
        "work_offset": post.work_offset,
        "program_end": post.program_end,
        "spindle_word": post.spindle_word,
        "air": plan.kind == "air run",
        "over": _over(plan, post),
        "touch_off": _touch_off(plan, post),
        "rapid_feed": post.numbers.feed(post.rapid_feed_mm_per_min or 0.0),
        "units": post.units,
        "program": program.file,
        "file_number": number,
        "file_count": count,
        "job": plan.job,
        "sheet": plan.sheet,
        "stock": plan.stock,
        "blank": _Blank(
            x=post.numbers.shown(plan.blank_x_mm),
            y=post.numbers.shown(plan.blank_y_mm),
            thickness=post.numbers.shown(plan.thickness_mm),
            measured=plan.thickness_is_measured,
            thickness_note="measured" if plan.thickness_is_measured else "thickness not measured",
        ),
        "z_zero": plan.z_zero,
        "safe_z": length(plan.safe_z),
        "machine_safe_z": length(plan.machine_safe_z),
        "stock_top_z": length(plan.stock_top_z),
        "spoilboard_z": length(plan.spoilboard_z),
        "wait": _wait(plan.spindle_wait_s, post),
        "park": Spot(length(plan.park[0]), length(plan.park[1])) if plan.park is not None else None,
        "notes": _notes(plan, post),
        "runs": program.runs,
    }


def _over(plan: Plan, post: Post) -> str:
    """Return the words that a motion over the work begins with: a traverse, or in an air run a slow feed."""
    feed = plan.air_feed_mm_per_min or post.rapid_feed_mm_per_min
    return f"G1 F{post.numbers.feed(feed)}" if feed else "G0"


def _touch_off(plan: Plan, post: Post) -> str:
    how = {"any": "", "paper": " with paper", "plate": " with the plate"}[post.touch_off]
    return f"touch off Z on the {plan.z_zero}{how}"


def _notes(plan: Plan, post: Post) -> tuple[str, ...]:
    """Return what an air run's and a flipped blank's programs say in their heads, in words that fit a comment."""
    if plan.kind == "air run":
        return ("air run: the spindle stays off and nothing is cut", "watch it clear the clamps, hand on the stop")
    axis = f"about x {post.numbers.shown(plan.flip_at_mm)} {post.units}"
    if plan.side == 1:
        return ("side 1 of 2: no part is cut free", "then flip left to right " + axis, "onto pins in the index holes")
    if plan.side == 2:
        turned = f"blank flipped left to right {axis}"
        return ("side 2 of 2: run side 1 first", turned, "pins in the index holes, x and y zero as for side 1")
    return ()


def _wait(seconds: float, post: Post) -> str:
    if post.dwell == "ms":
        return write_number(seconds * 1000, decimals=0)
    return write_number(seconds, decimals=1)


def _comment_writer(post: Post) -> Callable[..., str]:
    longest = post.longest_line or _LONG_COMMENT

    def comment(*parts: object) -> str:
        return comment_text(parts, form=post.comments, forbidden=post.forbidden_in_comments, longest=longest)

    return comment


def _number_writer(post: Post) -> Callable[[float], str]:
    def number(value: float) -> str:
        return write_number(float(value), decimals=post.length_decimals, trim_zeros=post.trim_zeros)

    return number


def _text_of(template: Template, context: Mapping[str, Any], post: Post) -> str:
    try:
        raw = _rendered(template, context, post).split("\n")
    except InputError:
        raise
    except Exception as error:
        # Whatever a template raises is the template's fault: it calls no code of ours but the filters.
        raise InputError(_failure(error, post)) from error
    lines = [" ".join(line.split()) for line in raw]
    lines = _numbered(lines, post.line_numbers)
    faults = _faults(raw, lines, template, context, post)
    if faults:
        raise InputError(*faults)
    end = post.line_end_text
    return "".join(line + end for line in lines if line)


def _rendered(template: Template, context: Mapping[str, Any], post: Post) -> str:
    """Return the raw text. Raises InputError when it grows beyond what any program needs."""
    most = _SPARE_CHARACTERS + _CHARACTERS_A_MOVE * _count_moves(context["runs"])
    pieces, size = [], 0
    for piece in template.generate(context):
        pieces.append(piece)
        size += len(piece)
        if size > most:
            problem = f"the template emits more than {most} characters, far more than there are moves"
            raise InputError(Fault(file=post.template_file, place="", problem=problem, cure="shorten its loops"))
    return "".join(pieces)


def _count_moves(runs: Iterable[RunBlock]) -> int:
    return sum(len(step.moves) for run in runs for step in run.steps)


def _numbered(lines: list[str], step: int) -> list[str]:
    if not step:
        return lines
    numbered = []
    number = 0
    for line in lines:
        if not line or line[0] in "(;%":
            numbered.append(line)
            continue
        number = number + step if number + step <= _MOST_LINE_NUMBER else step
        numbered.append(f"N{number} {line}")
    return numbered


def _failure(error: Exception, post: Post) -> Fault:
    file = post.template_file
    line = next(
        (frame.lineno for frame in reversed(traceback.extract_tb(error.__traceback__)) if frame.filename == file), 0
    )
    if isinstance(error, UndefinedError):
        return unknown_at_run_time(error.message or "", line or 0, file)
    return Fault(file=file, place=f"line {line}", problem=f"the template fails: {error}")


def _faults(
    raw: list[str], lines: list[str], template: Template, context: Mapping[str, Any], post: Post
) -> list[Fault]:
    allowed = frozenset((*post.allowed_words, *post.letters, *("N" if post.line_numbers else "")))
    longest = post.longest_line
    found: list[tuple[int, int, str]] = []
    for number, line in enumerate(lines):
        if longest is not None and len(line) > longest:
            found.append((number, len(raw[number]), f"the line is {len(line)} characters long, {longest} are allowed"))
        if not line.isascii():
            at = next(k for k, character in enumerate(raw[number]) if not character.isascii())
            found.append((number, at, f"the character {raw[number][at]!r} is not plain ASCII"))
        elif line and line[0] not in "(;" and not (line == "%" and post.percent_lines):
            found.extend((number, at, what) for what, at in faults_of_line(raw[number], allowed))
        if len(found) >= _MOST_FAULTS:
            break
    if not found:
        return []
    places = _template_lines(template, context)
    faults = [
        Fault(
            file=post.template_file,
            place=f"line {_place(places, raw, number, at)}",
            problem=f"emits {lines[number]!r}: {what}",
        )
        for number, at, what in found
    ]
    return list(dict.fromkeys(faults))


def _place(places: list[int], raw: list[str], number: int, at: int) -> int:
    index = sum(len(line) + 1 for line in raw[:number]) + at
    return places[min(index, len(places) - 1)]


def _template_lines(template: Template, context: Mapping[str, Any]) -> list[int]:
    """Return the template's line for each character it emits, found by rendering once more, piece by piece."""
    places: list[int] = []
    for line, text in _pieces(template, context):
        for character in text:
            places.append(line)
            if character == "\n":
                line += 1
    return places


def _pieces(template: Template, context: Mapping[str, Any]) -> Iterator[tuple[int, str]]:
    pieces = template.root_render_func(template.new_context(dict(context)))
    for text in pieces:
        frame = getattr(pieces, "gi_frame", None)
        yield (template.get_corresponding_lineno(frame.f_lineno) if frame is not None else 0), text
