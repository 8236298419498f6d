"""Lengths as people write them, read exactly; the only place on the planning side that knows how long an inch is.

A length is a bare number in the job's unit, or text: `18 mm`, `1.8 cm`, `23 1/4 in`, `23-1/4"`, `1' 11 3/4"`, `7/8"`,
with typographic fractions and primes too. What could be read in two ways is refused, not guessed: decimal commas,
exponents, fractions of a millimetre, `1 5/4`, `23 - 1/4`. Arithmetic is with exact fractions: 23-1/4 in, 23.25 in and
590.55 mm are one and the same number.
"""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from rabbetry.errors import shown

MM_PER_INCH = 25.4
"""Exact by definition (international inch, 1959)."""

MAX_LENGTH_MM = 100_000.0
"""Lengths beyond 100 m are refused: no shop has any, and a lost decimal point does."""

_EXACT_MM_PER_INCH = Fraction(str(MM_PER_INCH))
_MAX_TEXT = 60
_UNIT_MM: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": _EXACT_MM_PER_INCH,
    "inch": _EXACT_MM_PER_INCH,
    "inches": _EXACT_MM_PER_INCH,
    '"': _EXACT_MM_PER_INCH,
    "ft": _EXACT_MM_PER_INCH * 12,
    "foot": _EXACT_MM_PER_INCH * 12,
    "feet": _EXACT_MM_PER_INCH * 12,
    "'": _EXACT_MM_PER_INCH * 12,
}
_METRIC = frozenset({"mm", "cm", "m"})
_FEET = frozenset({"ft", "foot", "feet", "'"})
_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
    "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_TYPOGRAPHIC = str.maketrans(
    {"′": "'", "’": "'", "‘": "'", "″": '"', "”": '"', "“": '"', "⁄": "/", "−": "-"}
    | {"\u00a0": " ", "\u202f": " ", "\u2009": " "}
)
_NUMBER = (
    r"(?:(?P<whole>[0-9]+)(?: +|-))?(?P<over>[0-9]+)/(?P<under>[0-9]+)"  # 1/4, 23 1/4, 23-1/4
    r"|(?P<decimal>[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
)
_PLAIN = re.compile(rf"(?P<sign>-?)(?:{_NUMBER}) *(?P<unit>[a-z]+|\"|')?", re.ASCII)
_FEET_INCHES = re.compile(
    rf"(?P<sign>-?)(?P<feet>[0-9]+) *(?:'|ft|foot|feet) *-? *(?:{_NUMBER}) *(?P<unit>\"|in|inch|inches)?", re.ASCII
)


class LengthError(ValueError):
    """A value is not a length: `problem` says what was read and why not, `cure` what to write instead."""

    def __init__(self, problem: str, cure: str = "") -> None:
        self.problem = problem
        self.cure = cure
        super().__init__(problem + (f"; {cure}" if cure else ""))


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A length and how it was written. Two lengths are equal when they are equally long, however written."""

    mm: float
    text: str
    spelt: bool = False
    """True when it was written with a fraction or a unit, so that a report should echo how it was read."""
    has_unit: bool = False
    """True when it was written with a unit, so that no other can be meant."""
    improper: bool = False
    """True for a fraction above one without whole inches, such as 11/4: perhaps 1 1/4 was meant."""

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Length) and self.mm == other.mm

    def __hash__(self) -> int:
        return hash(self.mm)

    @property
    def echo(self) -> str:
        """How it was read: the text, then decimal inches with the fraction, then millimetres."""
        return f"{self.text} = {show_length(self.mm, 'in')} = {show_length(self.mm, 'mm')}"


def read_length(
    value: object,
    units: str,
    *,
    above_mm: float | None = None,
    least_mm: float | None = None,
    most_mm: float | None = None,
) -> Length:
    """Read a length; bare numbers are in `units` ("mm" or "in").

    `above_mm` is a bound the length must exceed, `least_mm` and `most_mm` bounds it may reach. Raises LengthError with
    the value, the reason and what to write instead.
    """
    if units not in ("mm", "in"):
        raise ValueError(f"units must be 'mm' or 'in', not {units!r}")
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise LengthError(f"{shown(value)} is not a length", 'write a number or text such as "18 mm" or "23 1/4 in"')
    length = _from_text(value, units) if isinstance(value, str) else _from_number(value, units)
    _check_bounds(length, units, above_mm, least_mm, most_mm)
    return length


def mm_from_inches(inches: float) -> float:
    """Return millimetres."""
    return inches * MM_PER_INCH


def inches_from_mm(mm: float) -> float:
    """Return inches."""
    return mm / MM_PER_INCH


def write_length(mm: float, units: str) -> str:
    """Return text that `read_length` reads back within 0.0005 mm: `590.55 mm` or `23.25 in`."""
    return f"{_decimal(mm, 3)} mm" if units == "mm" else f"{_decimal(inches_from_mm(mm), 5)} in"


def show_length(mm: float, units: str) -> str:
    """Return the length for a reader: `590.55 mm`, or decimal inches with the nearest 1/64: `23.25 in (23 1/4)`.

    The fraction is left out when the decimal is a whole number, and marked with `~` when it is not exact.
    """
    if units == "mm":
        return f"{_decimal(mm, 3)} mm"
    decimal = f"{_decimal(inches_from_mm(mm), 4)} in"
    fraction = _sixty_fourths(mm)
    return decimal if "/" not in fraction and not fraction.startswith("~") else f"{decimal} ({fraction})"


def show_inches_fraction(mm: float) -> str:
    """Return inches to the nearest 1/64, as on a tape: `23 1/4 in`; `~23 15/64 in` when that is not exact."""
    return f"{_sixty_fourths(mm)} in"


def _from_number(value: int | float, units: str) -> Length:
    if isinstance(value, float) and not math.isfinite(value):
        raise LengthError(f"{value} is not a length", "write a number")
    if abs(value) > MAX_LENGTH_MM:
        raise LengthError(f"{shown(value)} is longer than any length in a shop", "check the number and its unit")
    # repr gives the shortest decimal that is this float, which is what was written in the file
    exact = Fraction(repr(value)) * _UNIT_MM[units]
    return Length(mm=_float_mm(exact, str(value)), text=str(value))


def _from_text(value: str, units: str) -> Length:
    text = value.strip()
    if not text:
        raise LengthError("the text is empty", 'write a number or text such as "18 mm" or "23 1/4 in"')
    if len(text) > _MAX_TEXT:
        raise LengthError(f"{shown(value)} is too long for a length")
    plain = _plain_characters(text)
    if match := _FEET_INCHES.fullmatch(plain):
        return _feet_and_inches(match, text)
    if not (match := _PLAIN.fullmatch(plain)):
        raise _reason(text, plain)
    unit = match["unit"] or units
    if unit not in _UNIT_MM:
        raise LengthError(f"{shown(text)} has the unknown unit {unit!r}", "use mm, cm, m, in or ft")
    number = _number(match, text, unit)
    exact = number * _UNIT_MM[unit] * (-1 if match["sign"] else 1)
    improper = match["over"] is not None and match["whole"] is None and number > 1
    spelt = match["over"] is not None or _UNIT_MM[unit] != _UNIT_MM[units]
    return Length(
        mm=_float_mm(exact, text), text=text, spelt=spelt, has_unit=match["unit"] is not None, improper=improper
    )


def _plain_characters(text: str) -> str:
    """Return the text in lower case with typographic fractions, primes and spaces made plain."""
    for sign, fraction in _VULGAR.items():
        text = re.sub(rf"(?<=[0-9]) ?{sign}", f" {fraction}", text).replace(sign, fraction)
    return text.translate(_TYPOGRAPHIC).replace("''", '"').lower()


def _number(match: re.Match[str], text: str, unit: str) -> Fraction:
    """Return the number of a match of `_NUMBER`, or refuse a fraction that cannot be meant."""
    if match["decimal"] is not None:
        return Fraction(match["decimal"])
    over, under = int(match["over"]), int(match["under"])
    if under == 0:
        raise LengthError(f"{shown(text)} divides by zero", "write the fraction again, such as 3/4")
    if unit in _METRIC:
        inches = f"{match['whole'] + ' ' if match['whole'] else ''}{match['over']}/{match['under']} in"
        raise LengthError(
            f"{shown(text)} is a fraction of a metric unit", f'write a decimal, or "{inches}" if inches are meant'
        )
    if match["whole"] is None:
        return Fraction(over, under)
    if over >= under:
        raise LengthError(
            f"{shown(text)} adds a fraction of one or more", "write whole inches and a fraction below one"
        )
    return int(match["whole"]) + Fraction(over, under)


def _feet_and_inches(match: re.Match[str], text: str) -> Length:
    if match["unit"] is None:
        raise LengthError(f"{shown(text)} does not say the unit after the feet", "end it with in or an inch mark")
    inches = _number(match, text, "in")
    if inches >= 12:
        raise LengthError(f"{shown(text)} has twelve inches or more after the feet", "carry them into the feet")
    exact = (int(match["feet"]) * 12 + inches) * _EXACT_MM_PER_INCH * (-1 if match["sign"] else 1)
    return Length(mm=_float_mm(exact, text), text=text, spelt=True, has_unit=True)


def _float_mm(exact: Fraction, text: str) -> float:
    if abs(exact) > MAX_LENGTH_MM:
        raise LengthError(f"{shown(text)} is longer than any length in a shop", "check the number and its unit")
    return float(exact)


def _reason(text: str, plain: str) -> LengthError:
    """Say why a text that follows no rule is refused; the first sign that explains it wins."""
    read = shown(text)
    if "," in plain:
        return LengthError(f"{read} has a comma", "write decimals with a point, and no thousands separator")
    if re.fullmatch(r"[+-]?(?:nan|inf|infinity)", plain):
        return LengthError(f"{read} is not a length", "write a number")
    if re.search(r"[0-9.]e[+-]?[0-9]", plain):
        return LengthError(f"{read} has an exponent", "write the number in full")
    if not any(character in "0123456789" for character in plain):
        return LengthError(f"{read} is not a length", 'write a number or text such as "18 mm" or "23 1/4 in"')
    if re.search(r"[0-9] +- *[0-9]|[0-9]- +[0-9]", plain):
        return LengthError(f"{read} could be a subtraction", 'write a mixed number as "23 1/4" or "23-1/4"')
    if len(re.findall(r"[a-z]+|\"|'", plain)) > 1:
        return LengthError(f"{read} has more than one unit", "write one unit, or feet and inches as 1' 11 3/4\"")
    if len(re.findall(r"[0-9]+(?:\.[0-9]+)?(?:/[0-9]+)?", plain)) > 1:
        return LengthError(f"{read} has more than one number", 'write one number, or a mixed one such as "23 1/4"')
    return LengthError(f"{read} is not a length", 'write a number or text such as "18 mm" or "23 1/4 in"')


def _check_bounds(
    length: Length, units: str, above_mm: float | None, least_mm: float | None, most_mm: float | None
) -> None:
    if above_mm is not None and length.mm <= above_mm:
        limit = "0" if above_mm == 0 else show_length(above_mm, units)
        raise LengthError(f"{length.text} is not more than {limit}", _did_you_mean(length, units, above_mm, most_mm))
    if least_mm is not None and length.mm < least_mm:
        limit = "0" if least_mm == 0 else f"the least, {show_length(least_mm, units)}"
        raise LengthError(f"{length.text} is less than {limit}", _did_you_mean(length, units, least_mm, most_mm))
    if most_mm is not None and length.mm > most_mm:
        low = least_mm if least_mm is not None else above_mm
        limit = f"the most, {show_length(most_mm, units)}"
        raise LengthError(f"{length.text} is more than {limit}", _did_you_mean(length, units, low, most_mm))


def _did_you_mean(length: Length, units: str, low_mm: float | None, most_mm: float | None) -> str:
    """Offer the other unit or a moved decimal point when exactly that would be within the bounds."""
    if length.mm <= 0 or most_mm is None:
        return ""

    def is_within(mm: float) -> bool:
        return (low_mm or 0.0) < mm <= most_mm

    if not length.has_unit:
        other, factor = ("in", MM_PER_INCH) if units == "mm" else ("mm", 1 / MM_PER_INCH)
        if is_within(length.mm * factor):
            return f"did you mean {length.text} {other}?"
    if is_within(length.mm / 10):
        return f"did you mean {_decimal(length.mm / 10 / (1.0 if units == 'mm' else MM_PER_INCH), 4)}?"
    return ""


def _sixty_fourths(mm: float) -> str:
    exact = Fraction(repr(float(mm))) / _EXACT_MM_PER_INCH
    count = round(exact * 64)
    is_exact = abs(float(exact) * MM_PER_INCH - count / 64 * MM_PER_INCH) < _SAME_LENGTH_MM
    whole, part = divmod(abs(count), 64)
    fraction = Fraction(part, 64)
    words = [str(whole)] if whole or not part else []
    words += [f"{fraction.numerator}/{fraction.denominator}"] if part else []
    return ("" if is_exact else "~") + ("-" if count < 0 else "") + " ".join(words)


_SAME_LENGTH_MM = 0.0005
"""Half of the last decimal shown: a fraction nearer than this is called exact."""


def _decimal(value: float, places: int) -> str:
    """Return the number with at most so many decimals, no trailing zeros and never a minus zero."""
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


_AREA = re.compile(r"(?P<number>[0-9]+(?:\.[0-9]+)?|\.[0-9]+) *(?P<unit>mm2|mm²|cm2|cm²|in2|in²)?", re.ASCII)
_AREA_UNIT_MM = {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH}


def read_area(value: object, units: str) -> float:
    """Read an area in square millimetres: a number in the square of `units`, or text such as `200 cm2` or `31 in2`.
    Raises LengthError."""
    cure = 'write a number, or text such as "200 cm2" or "31 in2"'
    if isinstance(value, bool) or not isinstance(value, str | int | float):
        raise LengthError(f"{shown(value)} is not an area", cure)
    match = _AREA.fullmatch(str(value).strip()) if len(str(value)) <= _MAX_TEXT else None
    if match is None or float(match["number"]) <= 0:
        raise LengthError(f"{shown(value)} is not an area above 0", cure)
    side = _AREA_UNIT_MM[(match["unit"] or units)[:2]]
    return float(match["number"]) * side * side


def show_area(mm2: float, units: str) -> str:
    """Return an area for a reader: `20106 mm2`, or square inches with two decimals."""
    return f"{mm2:.0f} mm2" if units == "mm" else f"{mm2 / MM_PER_INCH**2:.2f} in2"
