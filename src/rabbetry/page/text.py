"""Text that must fit: how wide a text is about to be, where to break it, how small to set it.

Widths are estimates on the generous side, in ems (multiples of the font size), of the widest common sans-serif screen
fonts, because the reader's font is not known here (checked in a browser against its widest bold sans-serif).
"""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

_NARROW = frozenset("iljtfrI.,:;'|!()[]{} -\"/\\`")
_WIDE = frozenset("mwMW@%—№…ЖЩЮШЫФМщюшжфы")
_BROAD = frozenset("CDGHNOQU=+~<>±&#")
_LATIN_END = 0x24F
_SHRINK = 0.92
_LEADING = 1.2
"""Line distance in ems."""
_ILLEGAL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")
_SPACES = re.compile(r"\s+")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A text broken into lines at a font size; `whole` is False when letters were left out for want of room."""

    size: float
    lines: tuple[str, ...]
    whole: bool

    @property
    def height(self) -> float:
        return len(self.lines) * self.size * _LEADING

    @property
    def width(self) -> float:
        return max((width_em(line) for line in self.lines), default=0.0) * self.size


def plain(text: str) -> str:
    """Return the text on one line, without characters that XML and drawing files cannot hold."""
    return _SPACES.sub(" ", _ILLEGAL.sub("", text)).strip()


@lru_cache(maxsize=20_000)
def width_em(text: str) -> float:
    """Return the estimated width of a bold line of text, ems."""
    return sum(_letter_em(letter) for letter in text)


@lru_cache(maxsize=4000)
def _letter_em(letter: str) -> float:
    if letter in _NARROW:
        return 0.45
    if letter in _WIDE:
        return 1.15 if ord(letter) <= _LATIN_END else 1.35
    if letter in _BROAD:
        return 0.87
    if unicodedata.combining(letter):
        return 0.0
    if unicodedata.east_asian_width(letter) in "WF" or ord(letter) > 0xFFFF:
        return 1.05
    if ord(letter) > _LATIN_END and letter.isalpha():
        return 0.95
    return 0.8 if letter.isupper() else 0.71


def wrap(text: str, line_em: float) -> tuple[str, ...]:
    """Break a one-line text into lines of at most `line_em` ems, at blanks where it can, inside words where it must.
    A line holds at least one letter, however narrow it is."""
    lines: list[str] = []
    line = ""
    for word in text.split(" "):
        joined = f"{line} {word}" if line else word
        if width_em(joined) <= line_em:
            line = joined
            continue
        if line:
            lines.append(line)
        *full, line = _broken(word, line_em)
        lines.extend(full)
    if line:
        lines.append(line)
    return tuple(lines)


def _broken(word: str, line_em: float) -> list[str]:
    parts = [""]
    for letter in word:
        if parts[-1] and width_em(parts[-1] + letter) > line_em:
            parts.append("")
        parts[-1] += letter
    return parts


def breaks_a_word(text: str, lines: tuple[str, ...]) -> bool:
    """Tell whether `wrap` had to break inside a word."""
    return " ".join(lines) != text


def fit(text: str, *, width: float, height: float, largest: float, smallest: float) -> Fitted:
    """Set a one-line text into a box as large as it goes, from `largest` down to `smallest`; all in one unit.

    Words stay whole while a size above `smallest` allows it, unless breaking them lets the text stay at half the
    largest size. A text too long even at `smallest` ends with an ellipsis.
    """
    size = largest
    while size > smallest:
        lines = wrap(text, width / size)
        may_break = size <= largest / 2
        if len(lines) * size * _LEADING <= height and (may_break or not breaks_a_word(text, lines)):
            return Fitted(size=size, lines=lines, whole=True)
        size = max(smallest, size * _SHRINK)
    lines = wrap(text, width / smallest)
    room = max(1, int(height / (smallest * _LEADING)))
    if len(lines) <= room:
        return Fitted(size=smallest, lines=lines, whole=True)
    last = lines[room - 1]
    while last and width_em(last + "…") > width / smallest:
        last = last[:-1]
    return Fitted(size=smallest, lines=(*lines[: room - 1], last + "…"), whole=False)
