"""Text into lines, and a line into its bare characters and its comments. Knows no word and no value."""

import re
from dataclasses import dataclass

from rabbetry.dryrun.dialects import Dialect
from rabbetry.dryrun.refusal import Refusal

COMMENT_MARK = "\x00"
"""Stands in a bare line where a comment was, so that a comment cannot glue two halves of a word together."""

_BLANK_IN_NUMBER = re.compile(r"[0-9.][ \t]+[0-9.]|[A-Za-z][ \t]*[+-][ \t]+[0-9.]")
_BLANKS = str.maketrans("", "", " \t")


@dataclass(frozen=True, slots=True, kw_only=True)
class BareLine:
    """A line without blanks and comments, small letters; its comments in order; whether a slash led it."""

    text: str
    comments: tuple[str, ...]
    slashed: bool
    blank_in_number: bool


def split_lines(text: str) -> list[str]:
    """Return the lines of a text; CR, LF and CR LF end a line, nothing else. No line after the last line end."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if lines and not lines[-1]:
        lines.pop()
    return lines


def bare_line(raw: str, dialect: Dialect) -> BareLine:
    """Return a line's bare characters (NISTIR 6556, 3.3). Raises Refusal for a broken comment or strange character."""
    code, comments = _without_comments(raw, dialect)
    stripped = code.lstrip(" \t")
    slashed = stripped.startswith("/")
    if slashed and not dialect.block_delete:
        raise Refusal("program-syntax", "a line that begins with a slash is not accepted by this controller")
    body = stripped[1:] if slashed else stripped
    for character in body:
        if character != COMMENT_MARK and not (character == "\t" or " " <= character <= "~"):
            raise Refusal("program-syntax", f"character {character!a} has no meaning here")
    return BareLine(
        text=body.translate(_BLANKS).lower(),
        comments=comments,
        slashed=slashed,
        blank_in_number=_BLANK_IN_NUMBER.search(body) is not None,
    )


def _without_comments(raw: str, dialect: Dialect) -> tuple[str, tuple[str, ...]]:
    """Return the line with each comment replaced by a mark, and the comments' texts."""
    if COMMENT_MARK in raw:
        raise Refusal("program-syntax", "the line holds a zero byte")
    kept: list[str] = []
    comments: list[str] = []
    at = 0
    while at < len(raw):
        character = raw[at]
        if character == ";" and dialect.semicolon_comments:
            comments.append(raw[at + 1 :].strip())
            break
        if character == ")":
            raise Refusal("program-syntax", "a comment is closed that was not opened")
        if character != "(":
            kept.append(character)
            at += 1
            continue
        end = raw.find(")", at)
        if end < 0:
            raise Refusal("program-syntax", f"the comment {raw[at:].strip()!r} is not closed on its line")
        inside = raw[at + 1 : end]
        if "(" in inside:
            raise Refusal("program-syntax", f"the comment {raw[at : end + 1]!r} holds another opening parenthesis")
        comments.append(inside.strip())
        kept.append(COMMENT_MARK)
        at = end + 1
    return "".join(kept), tuple(comments)
