"""The one number writer: every number of a program passes through here, and nothing else rounds."""

import math
from dataclasses import dataclass

from rabbetry.units import MM_PER_INCH


def write_number(value: float, *, decimals: int, trim_zeros: bool = True) -> str:
    """Return `value` as plain digits with a decimal point, rounded to `decimals` (0 or more) places.

    Never an exponent, a blank, a comma or a minus sign before zero. Read back, the text is within half a unit of its
    last place. With `trim_zeros` no zeros stand at the end of the fraction, nor a bare point. Raises ValueError for a
    value that is not finite.
    """
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be written in a program")
    text = f"{value:.{decimals}f}"
    if trim_zeros and "." in text:
        text = text.rstrip("0").rstrip(".")
    if text[0] == "-" and not text.strip("-0."):
        return text[1:]
    return text


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """How one post writes lengths and feeds. Takes millimetres; writes the post's unit."""

    inch: bool
    length_decimals: int
    feed_decimals: int
    trim_zeros: bool

    @property
    def mm_per_unit(self) -> float:
        return MM_PER_INCH if self.inch else 1.0

    @property
    def last_digit_mm(self) -> float:
        """One unit of a length's last decimal place, in millimetres."""
        return self.mm_per_unit * 10.0**-self.length_decimals

    def length(self, value_mm: float) -> str:
        """Return a length or position as the program writes it."""
        return write_number(value_mm / self.mm_per_unit, decimals=self.length_decimals, trim_zeros=self.trim_zeros)

    def feed(self, value_mm_per_min: float) -> str:
        """Return a feed as the program writes it. A feed that would round to zero is written with more places."""
        value = value_mm_per_min / self.mm_per_unit
        text = write_number(value, decimals=self.feed_decimals, trim_zeros=self.trim_zeros)
        if value > 0 and not text.strip("0."):
            return write_number(value, decimals=self.feed_decimals + 6, trim_zeros=True)
        return text

    def shown(self, value_mm: float) -> str:
        """Return a length for people to read in a comment: no finer than 0.001 mm or 0.0001 in."""
        return write_number(value_mm / self.mm_per_unit, decimals=4 if self.inch else 3)

    def read_back(self, text: str) -> float:
        """Return the millimetres that a controller reads from a length written by `length`."""
        return float(text) * self.mm_per_unit
