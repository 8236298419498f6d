"""The one exception a user's mistake raises, and our own geometry complaint.

A wrong input (job, table, post, drawing, program, command line) raises `InputError`: exit status 2, nothing written.
A fault of a readable job or program is not an exception but a `Finding`: exit status 1. Anything else is our own bug
and shows a traceback.
"""

import difflib
from collections.abc import Callable, Iterable, Mapping, Sequence
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


_MAX_NEAR = 60
"""Longer names are no slips of the pen, and comparing them takes long."""

MAX_FAULTS = 500
"""More faults of one file are counted, not told: it is the wrong file."""


def near_names(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return up to three known names that `word` may stand for, nearest first; abbreviations count as near."""
    if len(word) > _MAX_NEAR:
        return ()

    def likeness(name: str) -> float:
        plain, candidate = word.casefold(), name.casefold()
        if _is_one_slip(plain, candidate):
            return 1.0
        whole = difflib.SequenceMatcher(None, plain, candidate).ratio()
        head = difflib.SequenceMatcher(None, plain, candidate[: len(plain)]).ratio() if len(plain) > 3 else 0.0
        return max(whole, 0.95 * head)

    scored = sorted(
        ((likeness(name), name) for name in set(known) if len(name) <= _MAX_NEAR), key=lambda item: (-item[0], item[1])
    )
    best = scored[0][0] if scored else 0.0
    return tuple(name for score, name in scored[:3] if score >= 0.65 and score > best - 0.05)


def _is_one_slip(word: str, name: str) -> bool:
    """Tell whether one letter was left out, added or mistaken, or two neighbours were swapped."""
    same = next((k for k, pair in enumerate(zip(word, name, strict=False)) if len(set(pair)) > 1), None)
    at = min(len(word), len(name)) if same is None else same
    one, other = word[at:], name[at:]
    return len(word) > 2 and (
        one[1:] == other or other[1:] == one or one[1:] == other[1:] or one[1::-1] + one[2:] == other != one
    )


def did_you_mean(word: str, known: Sequence[str]) -> str:
    """Return `did you mean a or b?`, or the list of known names when none is near (all of them up to 30)."""
    if near := near_names(word, known):
        return f"did you mean {' or '.join(near)}?"
    return f"known: {', '.join(known)}" if 0 < len(known) <= 30 else ""


def shown(value: object) -> str:
    """Return a value read from a file as a message shows it: short, on one line, in the file's own words."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        text = value if len(value) <= 40 else value[:37] + "..."
        quote = "'" if '"' in text else '"'
        return quote + "".join(sign if sign.isprintable() else "?" for sign in text) + quote
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, int) and abs(value) >= 10**20:
        return "a number of more than 20 digits"
    return str(value)


def row_faults(
    complaints: Iterable[Mapping[str, object]],
    *,
    file: str,
    place: Callable[[tuple[str | int, ...]], str],
    known: Callable[[tuple[str | int, ...]], Sequence[str]],
    wanted: Callable[[tuple[str | int, ...]], str] = lambda location: f"write `{location[-1]} = ...`",
) -> tuple[Fault, ...]:
    """Turn a row validator's complaints (`ValidationError.errors()`) into faults, in their order.

    `place` names a location in the user's words; `known` gives the keys that the table at a location accepts; `wanted`
    says what to write where something is missing.
    """
    told = list(complaints)
    found = [_row_fault(complaint, file, place, known, wanted) for complaint in told[:MAX_FAULTS]]
    if len(told) > MAX_FAULTS:
        found.append(Fault(file=file, place="", problem=f"and {len(told) - MAX_FAULTS} more faults of this kind"))
    return tuple(found)


_EXPECTED = {
    "int_type": "is not a whole number",
    "int_from_float": "is not a whole number",
    "float_type": "is not a number",
    "finite_number": "is not a number",
    "bool_type": "is not true or false",
    "string_type": "is not text in quotes",
    "list_type": "is not a list in brackets",
    "dict_type": "is not a table",
    "model_type": "is not a table",
    "model_attributes_type": "is not a table",
}
_CURES = {
    ("list_type", "a table"): "write a list of tables with [[two brackets]], one for each",
    ("dict_type", "a list"): "write a table with [single brackets]",
    ("model_type", "a list"): "write a table with [single brackets]",
    ("model_attributes_type", "a list"): "write a table with [single brackets]",
}
"""What to do where a table stands for a list of them, or the other way round."""
_BOUNDED = ("greater_than", "greater_than_equal", "less_than", "less_than_equal")
_BOUNDS = {"gt": "not more than", "ge": "less than", "lt": "not less than", "le": "more than"}


def _row_fault(
    complaint: Mapping[str, object],
    file: str,
    place: Callable[[tuple[str | int, ...]], str],
    known: Callable[[tuple[str | int, ...]], Sequence[str]],
    wanted: Callable[[tuple[str | int, ...]], str],
) -> Fault:
    location, kind = complaint["loc"], str(complaint["type"])
    context, value = complaint.get("ctx"), complaint.get("input")
    assert isinstance(location, tuple)
    reason = context.get("error") if isinstance(context, Mapping) else None
    if kind == "value_error" and reason is not None:
        problem = getattr(reason, "problem", str(reason))
        return Fault(file=file, place=place(location), problem=problem, cure=getattr(reason, "cure", ""))
    if kind == "missing":
        return Fault(file=file, place=place(location), problem="is missing", cure=wanted(location))
    if kind == "extra_forbidden":
        cure = did_you_mean(str(location[-1]), known(location[:-1]))
        return Fault(
            file=file, place=place(location[:-1]), problem=f"{shown(str(location[-1]))} is not a known key", cure=cure
        )
    problem = _problem(kind, value, context, str(complaint["msg"]))
    return Fault(file=file, place=place(location), problem=problem, cure=_CURES.get((kind, shown(value)), ""))


def _problem(kind: str, value: object, context: object, message: str) -> str:
    if kind in _EXPECTED:
        return f"{shown(value)} {_EXPECTED[kind]}"
    if isinstance(context, Mapping):
        for bound, words in _BOUNDS.items():
            if kind in _BOUNDED and bound in context:
                return f"{shown(value)} is {words} {context[bound]}"
        if kind in ("too_short", "too_long"):
            bound = context.get("min_length", context.get("max_length"))
            wanted = "at least" if "min_length" in context else "at most"
            return f"{shown(value)} has {context['actual_length']} entries; {wanted} {bound} are expected"
        if kind in ("string_too_short", "string_too_long"):
            bound = context.get("min_length", context.get("max_length"))
            return f"{shown(value)} is {'shorter' if 'min_length' in context else 'longer'} than {bound} signs"
    return f"{shown(value)}: {message}"
