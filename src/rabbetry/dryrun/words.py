"""The words of one line, gathered into a `Block` and held against the rules that need no machine state.

Rules: NISTIR 6556, sections 3.3.5 (how many), 3.4 and table 4 (modal groups), 3.5 to 3.7 (what goes with what).
"""

from collections.abc import Callable

from rabbetry.dryrun.dialects import Dialect
from rabbetry.dryrun.expressions import Values
from rabbetry.dryrun.lex import COMMENT_MARK
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.tolerances import INTEGER_SLACK, LARGEST_NUMBER

G_GROUPS: dict[str, tuple[str, ...]] = {
    "one-shot": ("G4", "G10", "G28", "G30", "G53", "G92", "G92.1", "G92.2", "G92.3"),
    "motion": ("G0", "G1", "G2", "G3", "G38.2", "G73", *(f"G{number}" for number in range(80, 90))),
    "plane": ("G17", "G18", "G19"),
    "distance mode": ("G90", "G91"),
    "feed mode": ("G93", "G94"),
    "length unit": ("G20", "G21"),
    "radius compensation": ("G40", "G41", "G42"),
    "length offset": ("G43", "G49"),
    "retract level": ("G98", "G99"),
    "coordinate system": ("G54", "G55", "G56", "G57", "G58", "G59", "G59.1", "G59.2", "G59.3"),
    "path control": ("G61", "G61.1", "G64"),
}
M_GROUPS: dict[str, tuple[str, ...]] = {
    "stop": ("M0", "M1", "M2", "M30", "M60"),
    "tool change": ("M6",),
    "spindle": ("M3", "M4", "M5"),
    "coolant": ("M7", "M8", "M9"),
    "overrides": ("M48", "M49"),
}
GROUP_OF: dict[str, str] = {
    word: group for table in (G_GROUPS, M_GROUPS) for group, words in table.items() for word in words
}

AXES = ("X", "Y", "Z")
OFFSETS = ("I", "J", "K")
CYCLES = frozenset(("G73", *(f"G{number}" for number in range(81, 90))))
ARCS = frozenset(("G2", "G3"))
AXIS_CODES = frozenset(("G10", "G28", "G30", "G92"))
"""One-shot words that take the axis words for themselves."""

_NUMBER_LETTERS = frozenset("FHIJKLPQRSTXYZ")
_NOT_NEGATIVE = frozenset("FHLPST")
_WHOLE = frozenset("HLT")
_ROTARY = frozenset("ABC")
_NEEDS: dict[str, tuple[frozenset[str], str]] = {
    "H": (frozenset(("G43",)), "G43"),
    "I": (ARCS, "an arc"),
    "J": (ARCS, "an arc"),
    "K": (ARCS, "an arc"),
    "L": (CYCLES | {"G10"}, "a cycle or G10"),
    "P": (frozenset(("G4", "G10", "G82", "G86", "G88", "G89")), "G4, G10, G82, G86 or G89"),
    "Q": (frozenset(("G73", "G83")), "a pecking cycle"),
    "R": (CYCLES | ARCS, "an arc or a cycle"),
}
_NOT_READ: dict[str, str] = {
    "G38.2": "probing; where the probe touches is not known here",
    "G41": "cutter radius compensation; write the path of the cutter's centre",
    "G42": "cutter radius compensation; write the path of the cutter's centre",
    "G84": "tapping",
    "G87": "back boring",
    "G88": "boring with a retract by hand",
}
"""Words of the language that no dialect here carries out."""


class Block:
    """One line's words. `codes` maps a modal group to its word, `values` a letter to its number."""

    __slots__ = ("codes", "line", "values")

    def __init__(self, line: int) -> None:
        self.line = line
        self.codes: dict[str, str] = {}
        self.values: dict[str, float] = {}

    def has_axis(self) -> bool:
        """Tell whether the line has an axis word."""
        values = self.values
        return "X" in values or "Y" in values or "Z" in values


Word = tuple[str, float]
Setting = tuple[int, float]


def words_of(text: str, dialect: Dialect, lookup: Callable[[int], float]) -> tuple[list[Word], list[Setting]]:
    """Return a bare line's words (letters large) and parameter settings, in order. Raises Refusal."""
    values = Values(text, lookup, allowed=dialect.expressions, signed=dialect.signed_values)
    words: list[Word] = []
    settings: list[Setting] = []
    while values.at < len(text):
        letter = text[values.at]
        values.at += 1
        if letter == COMMENT_MARK:
            continue
        if letter == "#" and dialect.expressions:
            number = values.parameter_number()
            if text[values.at : values.at + 1] != "=":
                raise Refusal("program-syntax", f"#{number} stands alone; a setting is written #{number}=value")
            values.at += 1
            settings.append((number, values.value(f"#{number}=")))
        elif "a" <= letter <= "z":
            words.append((letter.upper(), values.value(f"letter {letter.upper()}")))
            _check_line_number(words, text, values.at)
        elif letter == "#":
            raise Refusal("program-syntax", "this controller knows no # parameters")
        else:
            cure = "; write decimals with a point" if letter == "," else ""
            raise Refusal("program-syntax", f"{text[values.at - 1 :][:20]!r} is no word{cure}")
    return words, settings


def _check_line_number(words: list[Word], text: str, end: int) -> None:
    """Raise Refusal for an N word that is not first, or not of one to five bare digits (section 3.3.1)."""
    if words[-1][0] != "N":
        return
    digits = text[1:end]
    if len(words) > 1 or text[0] != "n":
        raise Refusal("program-word", "the line number must stand first in the line, and once")
    if not (digits.isdigit() and len(digits) <= 5):
        raise Refusal("program-word", f"line number N{digits}: one to five digits, no sign and no point")


def block_of(words: list[Word], line: int, dialect: Dialect) -> Block:
    """Return the block of a line's words. Raises Refusal for a word unknown, twice, out of range or clashing."""
    block = Block(line)
    values = block.values
    m_words = 0
    for letter, value in words:
        if letter == "G":
            _take_code(block, _g_word(value), dialect.g_words, dialect)
        elif letter == "M":
            m_words += 1
            _take_code(block, _m_word(value), dialect.m_words, dialect)
        elif letter in values:
            raise Refusal("program-word", f"the letter {letter} stands twice in the line")
        elif letter in _NUMBER_LETTERS:
            if not -LARGEST_NUMBER <= value <= LARGEST_NUMBER:
                raise Refusal("program-word", f"{letter}{value:g} is beyond {LARGEST_NUMBER:g}")
            values[letter] = value
        elif letter != "N":
            raise Refusal("program-word", _unknown_letter(letter))
    if m_words > dialect.m_words_per_line:
        raise Refusal("program-word", f"{m_words} M words; a line may hold {dialect.m_words_per_line}")
    for letter, value in values.items():
        if letter in _NOT_NEGATIVE and value < 0:
            raise Refusal("program-word", f"{letter}{value:g} is negative")
        if letter in _WHOLE and abs(value - round(value)) > INTEGER_SLACK:
            raise Refusal("program-word", f"{letter}{value:g} is not a whole number")
    return block


def check_letters(block: Block, motion: str | None, dialect: Dialect) -> None:
    """Raise Refusal for a letter that nothing on the line uses. `motion`: the word the line carries out, if any."""
    in_use = {*block.codes.values(), motion}
    for letter in block.values:
        if letter not in _NEEDS:
            continue
        users, said = _NEEDS[letter]
        if in_use & users or (letter == "P" and dialect.path_tolerance_word and "G64" in in_use):
            continue
        raise Refusal("program-word", f"{letter} needs {said} on its line")


def _unknown_letter(letter: str) -> str:
    if letter in _ROTARY:
        return f"rotary axis {letter}: this dry run knows a router with X, Y and Z"
    if letter == "D":
        return "D goes with cutter radius compensation, which is not read here"
    return f"the letter {letter} is not in the language"


def _g_word(value: float) -> str:
    tenths = round(value * 10)
    if abs(value * 10 - tenths) > INTEGER_SLACK or not 0 <= tenths <= 999:
        raise Refusal("program-word", f"G{value:g} is not in the language")
    return f"G{tenths // 10}" if tenths % 10 == 0 else f"G{tenths // 10}.{tenths % 10}"


def _m_word(value: float) -> str:
    number = round(value)
    if abs(value - number) > INTEGER_SLACK or not 0 <= number <= 99:
        raise Refusal("program-word", f"M{value:g} is not in the language")
    return f"M{number}"


def _take_code(block: Block, word: str, known: frozenset[str], dialect: Dialect) -> None:
    if word in _NOT_READ:
        raise Refusal("program-word", f"{word} is not read: {_NOT_READ[word]}")
    if word not in known:
        raise Refusal("program-word", f"{word} is not accepted by the {dialect.name} dialect")
    if dialect.allowed_words is not None and word not in dialect.allowed_words:
        raise Refusal("program-word", f"{word} is not among the words this controller's post allows")
    group = GROUP_OF[word]
    other = block.codes.get(group)
    if other is not None:
        raise Refusal("program-group", f"{other} and {word} in one line: both set the {group}; put them on two lines")
    block.codes[group] = word
