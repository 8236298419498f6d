"""A number that remembers its sum, so that the sum shown for a size is the very computation that made it.

A `Traced` is a float in every respect: same value, same comparisons, same hash. Adding, subtracting, scaling, negating,
rounding keep what was done; `max`, `min` and branches keep the side that was taken. What passes through other functions
(a count, a square root) goes on as a plain number and shows as one.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Self


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """A number that somebody set: `name` in words, `key` as the job file has it, `note` where it comes from."""

    name: str
    mm: float
    key: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Term:
    """So many times a leaf."""

    factor: Fraction
    leaf: Leaf


@dataclass(frozen=True, slots=True)
class Sum:
    """Leaves times factors, in the order in which they came in, and what is left as plain millimetres."""

    terms: tuple[Term, ...]
    constant_mm: Fraction

    @property
    def mm(self) -> float:
        """The sum worked out."""
        return float(sum(term.factor * _fraction(term.leaf.mm) for term in self.terms) + self.constant_mm)


class Traced(float):
    """A float with its sum. Make one with `leaf`; arithmetic makes the others."""

    __slots__ = ("_made",)

    _made: Leaf | tuple[str, float, float]

    @classmethod
    def leaf(cls, leaf: Leaf) -> Self:
        """Return the number of a leaf."""
        return cls._of(leaf.mm, leaf)

    @classmethod
    def _of(cls, value: float, made: Leaf | tuple[str, float, float]) -> Self:
        number = cls(value)
        number._made = made
        return number

    @property
    def made(self) -> Leaf | tuple[str, float, float]:
        """The leaf, or an operation ('+', '-', '*', '/', 'round') and its two numbers."""
        return self._made

    def __add__(self, other: float) -> float:
        return self._joined("+", self, other, float.__add__(self, other))

    def __radd__(self, other: float) -> float:
        return self._joined("+", other, self, float.__radd__(self, other))

    def __sub__(self, other: float) -> float:
        return self._joined("-", self, other, float.__sub__(self, other))

    def __rsub__(self, other: float) -> float:
        return self._joined("-", other, self, float.__rsub__(self, other))

    def __mul__(self, other: float) -> float:
        return self._joined("*", self, other, float.__mul__(self, other))

    def __rmul__(self, other: float) -> float:
        return self._joined("*", other, self, float.__rmul__(self, other))

    def __truediv__(self, other: float) -> float:
        return self._joined("/", self, other, float.__truediv__(self, other))

    def __rtruediv__(self, other: float) -> float:
        return self._joined("/", other, self, float.__rtruediv__(self, other))

    def __neg__(self) -> float:
        return self._of(float.__neg__(self), ("*", -1.0, self))

    def __pos__(self) -> float:
        return self

    def __abs__(self) -> float:
        return -self if self < 0 else self

    def __round__(self, ndigits: int | None = None) -> float:  # type: ignore[override]
        if ndigits is None:
            return float.__round__(self)
        return self._of(float.__round__(self, ndigits), ("round", self, float(ndigits)))

    def __reduce__(self) -> tuple[type, tuple[float]]:
        """Travel as a plain number."""
        return float, (float(self),)

    def _joined(self, sign: str, a: float, b: float, value: float) -> float:
        return value if value is NotImplemented else self._of(value, (sign, a, b))


def sum_of(value: float) -> Sum:
    """Return the sum of a number: its leaves collected, each once. A plain number is a sum without terms."""
    factors, constant = _collected(value)
    return Sum(tuple(Term(factor, leaf) for leaf, factor in factors.items() if factor), constant)


_Collected = tuple[dict[Leaf, Fraction], Fraction]
_ZERO = Fraction(0)


def _collected(value: float) -> _Collected:
    if not isinstance(value, Traced):
        return {}, _fraction(value)
    if isinstance(value.made, Leaf):
        return {value.made: Fraction(1)}, _ZERO
    sign, a, b = value.made
    if sign == "round":
        return _collected(a)
    left, right = _collected(a), _collected(b)
    if sign in "+-":
        return _added(left, right, Fraction(1 if sign == "+" else -1))
    if sign == "*" and not right[0]:
        return _scaled(left, right[1])
    if sign == "*" and not left[0]:
        return _scaled(right, left[1])
    if sign == "/" and not right[0] and right[1]:
        return _scaled(left, 1 / right[1])
    # Two lengths multiplied or divided are no sum: they stand as one number, with both inside.
    words = {"*": "times", "/": "divided by"}[sign]
    name = f"({written(left)} {words} {written(right)})"
    return {Leaf(name=name, mm=float(value)): Fraction(1)}, _ZERO


def _added(left: _Collected, right: _Collected, factor: Fraction) -> _Collected:
    terms = dict(left[0])
    for leaf, count in right[0].items():
        terms[leaf] = terms.get(leaf, _ZERO) + factor * count
    return {leaf: count for leaf, count in terms.items() if count}, left[1] + factor * right[1]


def _scaled(of: _Collected, factor: Fraction) -> _Collected:
    if not factor:
        return {}, _ZERO
    return {leaf: factor * count for leaf, count in of[0].items()}, factor * of[1]


def written(collected: _Collected) -> str:
    """Return names and factors alone, for a product inside a sum."""
    parts = [leaf.name if factor == 1 else f"{factor} x {leaf.name}" for leaf, factor in collected[0].items()]
    return " + ".join([*parts, *([f"{float(collected[1]):g}"] if collected[1] else [])])


_PLAIN_DENOMINATOR = 10_000
_SAME = 1e-12


def _fraction(value: float) -> Fraction:
    """Return a plain number as the fraction that it was meant to be: 0.1 is a tenth, 0.333... a third."""
    exact = Fraction(repr(float(value)))
    near = exact.limit_denominator(_PLAIN_DENOMINATOR)
    return near if abs(near - exact) <= _SAME * max(1.0, abs(float(exact))) else exact


def ordered(terms: tuple[Term, ...]) -> Iterator[Term]:
    """Yield the terms as a person writes a sum: beginning with one that adds."""
    first = next((term for term in terms if term.factor > 0), None)
    if first is not None:
        yield first
    yield from (term for term in terms if term is not first)
