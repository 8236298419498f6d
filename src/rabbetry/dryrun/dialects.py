"""What each kind of controller accepts, as rows of one table. No code elsewhere asks for a dialect by its name."""

from dataclasses import dataclass
from typing import Literal

from rabbetry.dryrun.tolerances import MM_PER_INCH, PECK_BACK_IN_MM


def _words(letter: str, numbers: str) -> frozenset[str]:
    return frozenset(letter + number for number in numbers.split())


_REPORT_G = _words(
    "G",
    "0 1 2 3 4 10 17 18 19 20 21 28 30 40 43 49 53 54 55 56 57 58 59 59.1 59.2 59.3 61 61.1 64"
    " 80 81 82 83 85 86 89 90 91 92 92.1 92.2 92.3 93 94 98 99",
)
_REPORT_M = _words("M", "0 1 2 3 4 5 6 7 8 9 30 48 49 60")
_SMALL_G = _words("G", "0 1 2 3 4 10 17 18 19 20 21 28 30 40 49 53 54 55 56 57 58 59 61 80 90 91 92 92.1 93 94")
_SMALL_M = _words("M", "0 1 2 3 4 5 7 8 9 30")


@dataclass(frozen=True, slots=True, kw_only=True)
class Dialect:
    """What one kind of controller accepts. Vary one with `dataclasses.replace`, such as its `allowed_words`."""

    name: str
    g_words: frozenset[str]
    m_words: frozenset[str]
    allowed_words: frozenset[str] | None = None
    """G and M words a post narrows the dialect to, such as "G0" or "M3"; None: whatever the dialect has."""
    line_length: int = 256
    """Most characters of a line, line end not counted."""
    m_words_per_line: int = 4
    semicolon_comments: bool = True
    block_delete: bool = True
    """A slash may begin a line."""
    percent: bool = True
    """A per cent sign may stand before and after the program."""
    stray_percent_ends: bool = True
    """A per cent sign that closes what none opened ends the program; False: it is refused."""
    expressions: bool = True
    """Values in brackets, functions and # parameters."""
    signed_values: bool = True
    """A sign may stand before a bracket, function or parameter."""
    peck_retract: Literal["R", "clear"] = "R"
    """Where G83 retracts to between pecks: the R level, or the clear level (under G98 the old Z)."""
    peck_back_in_mm: float = PECK_BACK_IN_MM
    arc_mismatch_mm: float
    """Largest difference of an arc's start and end radius, millimetre programs."""
    arc_mismatch_in: float
    """The same for inch programs, inches."""
    arc_mismatch_relative: float = 0.0
    """A larger difference passes while it is at most this part of the radius ..."""
    arc_mismatch_most_mm: float
    """... and never more than this."""
    arc_needs_plane_word: bool = True
    """A centre arc needs an axis word of its plane; False: `G3 I5 Z-1` is a turn of a helix."""
    motion_word_alone: bool = True
    """G0 and G1 may stand without an axis word and then only set the mode."""
    unit_before_feed: bool = False
    """F on the line of a G20 or G21 is taken in the new unit. The report takes it in the old one."""
    home_named_axes_only: bool = True
    """G28 and G30 with axis words take only those axes home; the report takes all."""
    length_offset_needs_h: bool = False
    """False: G43 without H uses the number of the loaded tool."""
    dwell_unit_s: float = 1.0
    """What P of a wait counts, in seconds; 0.001 where it is milliseconds."""
    changes_at_stop: bool = False
    """There is no tool change, but hands fit the cutter of a T word that stands beside M0."""
    path_tolerance_word: bool = True
    """G64 may carry a P word (ignored here: it changes no end point)."""


STRICT = Dialect(
    name="strict",
    g_words=_REPORT_G,
    m_words=_REPORT_M,
    semicolon_comments=False,
    stray_percent_ends=False,
    signed_values=False,
    peck_retract="clear",
    arc_mismatch_mm=0.002,
    arc_mismatch_in=0.0002,
    arc_mismatch_most_mm=0.00508,
    motion_word_alone=False,
    home_named_axes_only=False,
    length_offset_needs_h=True,
    path_tolerance_word=False,
)
"""The language of the published report NISTIR 6556, but for radius compensation, probing, tapping and rotary axes."""

LENIENT = Dialect(
    name="lenient",
    g_words=_REPORT_G | {"G73"},
    m_words=_REPORT_M,
    m_words_per_line=10,
    arc_mismatch_mm=0.0127,
    arc_mismatch_in=0.0005,
    arc_mismatch_relative=0.001,
    arc_mismatch_most_mm=0.5,
    arc_needs_plane_word=False,
)
"""What later readers of the same language accept. Used for program text of unknown origin."""

SMALL_FIRMWARE = Dialect(
    name="small-firmware",
    g_words=_SMALL_G,
    m_words=_SMALL_M,
    line_length=70,
    m_words_per_line=10,
    block_delete=False,
    percent=False,
    expressions=False,
    signed_values=False,
    arc_mismatch_mm=0.005,
    arc_mismatch_in=0.005 / MM_PER_INCH,
    arc_mismatch_relative=0.001,
    arc_mismatch_most_mm=0.5,
    unit_before_feed=True,
    path_tolerance_word=False,
)
"""A small controller: no canned cycles, tool change, tables or arithmetic. Common practice, no source."""

DIALECTS: dict[str, Dialect] = {row.name: row for row in (STRICT, LENIENT, SMALL_FIRMWARE)}
