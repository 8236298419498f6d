"""Text for comments and file names: plain ASCII, nothing a controller could take for a command."""

import re
import unicodedata
from collections.abc import Iterable
from typing import Literal

CommentForm = Literal["brackets", "semicolon", "none"]

_SPELT_OUT = {"ß": "ss", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "þ": "th"}
_SPELT_OUT |= {"–": "-", "—": "-", "’": "'", "‘": "'", "“": "'", "”": "'", "×": "x", "″": " in", "′": "'", "ı": "i"}
_BRACKETS = str.maketrans(dict.fromkeys("()[]{}<>", " "))
_LONGEST_NAME = 80


def plain_ascii(text: str) -> str:
    """Return `text` in printable ASCII: accents dropped, a few letters spelt out, anything else an underscore."""
    spelt = "".join(_SPELT_OUT.get(letter, letter) for letter in text)
    plain = "".join(letter for letter in unicodedata.normalize("NFKD", spelt) if not unicodedata.combining(letter))
    return "".join(letter if " " <= letter <= "~" else (" " if letter.isspace() else "_") for letter in plain)


def comment_text(parts: Iterable[object], *, form: CommentForm, forbidden: str, longest: int) -> str:
    """Return one comment of at most `longest` characters with its marks, or '' when the controller takes none.

    The parts are joined by blanks. Brackets become blanks (a bracket inside a bracket comment is an error of the
    language), forbidden characters become underscores (some controllers act on them wherever they stand), and what is
    too long is cut.
    """
    if form == "none":
        return ""
    plain = plain_ascii(" ".join(str(part) for part in parts)).translate(_BRACKETS)
    kept = "".join("_" if letter in forbidden else letter for letter in plain)
    marks = 2
    body = " ".join(kept.split())[: max(0, longest - marks)].rstrip()
    return f"({body})" if form == "brackets" else f"; {body}"


def safe_name(text: str) -> str:
    """Return a file name (without its ending) of letters, digits, dots, underscores and hyphens, never empty, never
    starting with a dot or hyphen."""
    name = re.sub(r"[^A-Za-z0-9._-]+", "-", plain_ascii(text)).strip("-.")
    return name[:_LONGEST_NAME].rstrip("-.") or "sheet"
