"""Words of a program line, as far as a post must know them: which there are, and which exclude each other.

A second look at text just made, for the sake of whoever edits a template. The dry run reads the program again with a
reader of its own; nothing is shared with it on purpose.
"""

import re
from collections.abc import Iterator

_CODE = re.compile(r"[GM](0|[1-9]\d?)(\.[1-9])?")
_WORD = re.compile(r"([A-Z])\s*([+-]?(?:\d+\.?\d*|\.\d+)|)")
_COMMENT = re.compile(r"\([^()]*\)|;.*")

_GROUPS = (
    "G0 G1 G2 G3 G38.2 G80 G81 G82 G83 G84 G85 G86 G87 G88 G89",
    "G17 G18 G19",
    "G90 G91",
    "G93 G94",
    "G20 G21",
    "G40 G41 G42",
    "G43 G49",
    "G98 G99",
    "G54 G55 G56 G57 G58 G59 G59.1 G59.2 G59.3",
    "G61 G61.1 G64",
    "G4 G10 G28 G30 G53 G92 G92.1 G92.2 G92.3",
    "M0 M1 M2 M30 M60",
    "M3 M4 M5",
    "M7 M8 M9",
)
GROUP_OF = {word: number for number, row in enumerate(_GROUPS) for word in row.split()}
"""Modal groups: two words of one group may not stand in one line (NISTIR 6556, table 4 and section 3.3.5)."""


def is_code_word(text: str) -> bool:
    """Tell whether `text` is a G or M word in the form of `allowed_words`: no blank, no leading zero."""
    return _CODE.fullmatch(text) is not None


def words_of(text: str) -> Iterator[tuple[str, int]]:
    """Yield the words of a line with the index where each starts: `G1` with its number, other letters alone.

    Comments are passed over. A character that starts no word comes out as itself.
    """
    bare = _COMMENT.sub(lambda found: " " * len(found[0]), text.upper())
    at = 0
    while at < len(bare):
        if bare[at].isspace():
            at += 1
            continue
        found = _WORD.match(bare, at)
        if found is None:
            yield bare[at], at
            at += 1
            continue
        yield _name(found[1], found[2]), at
        at = found.end()


def _name(letter: str, number: str) -> str:
    if letter not in "GM" or not number:
        return letter
    whole, _, tenths = number.lstrip("+").partition(".")
    tenths = tenths.rstrip("0")
    return letter + (whole.lstrip("0") or "0") + (f".{tenths}" if tenths else "")


def faults_of_line(text: str, allowed: frozenset[str]) -> Iterator[tuple[str, int]]:
    """Yield what is wrong with a line's words, with the word's index: not allowed, or two that exclude each other."""
    seen: dict[object, str] = {}
    for word, at in words_of(text):
        if word not in allowed:
            what = f'the word "{word}"' if word.isalnum() else f'the character "{word}"'
            yield f"{what} is not in the post's list of words", at
            continue
        key = GROUP_OF.get(word, word if word[0] != "M" else None)
        if key is not None and key in seen:
            other = seen[key]
            both = (
                f"{other} and {word} in one line exclude each other"
                if other != word
                else f"{word} stands twice in one line"
            )
            yield both, at
        if key is not None:
            seen[key] = word
