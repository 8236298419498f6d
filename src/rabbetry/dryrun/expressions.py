"""Values of RS-274/NGC: numbers, # parameters, bracketed expressions, functions (NISTIR 6556, 3.3.2 and 3.3.3).

Works on a bare line (no blanks, small letters). Angles are degrees. Operators of equal rank go from left to right:
first `**`, then `* / mod`, then `+ - and or xor`.
"""

import math
import re
from collections.abc import Callable

from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.tolerances import DEEPEST_NESTING, INTEGER_SLACK, LARGEST_NUMBER, SAME_POINT_MM

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)")
_NAME = re.compile(r"[a-z]+")
_OPERATORS: tuple[tuple[str, ...], ...] = (("+", "-", "and", "or", "xor"), ("*", "/", "mod"), ("**",))
_LARGEST_EXPONENT = math.log(LARGEST_NUMBER)


class Values:
    """Reads values from one bare line. `lookup` gives a parameter's value; `allowed`: whether # [ ] may be used."""

    def __init__(self, text: str, lookup: Callable[[int], float], *, allowed: bool, signed: bool) -> None:
        self.text = text
        self.at = 0
        self._lookup = lookup
        self._allowed = allowed
        self._signed = signed
        self._depth = 0

    def value(self, of: str) -> float:
        """Read the value that begins here; `of` names what needs it. Raises Refusal."""
        match = _NUMBER.match(self.text, self.at)
        if match:
            self.at = match.end()
            return bounded(float(match.group()), "program-word")
        start = self.text[self.at : self.at + 1]
        if not start or not (start in "[#+-" or "a" <= start <= "z"):
            raise Refusal("program-syntax", f"{of} has no value")
        if not self._allowed:
            raise Refusal("program-syntax", f"{of} has no number; this controller knows no parameters or expressions")
        self._depth += 1
        if self._depth > DEEPEST_NESTING:
            raise Refusal("program-expression", f"more than {DEEPEST_NESTING} values inside each other")
        result = self._compound(start, of)
        self._depth -= 1
        return result

    def parameter_number(self) -> int:
        """Read the number after a #, 1 to 5399. Raises Refusal."""
        value = self.value("a # sign")
        number = round(value)
        if abs(value - number) > INTEGER_SLACK or not 1 <= number <= 5399:
            raise Refusal("program-expression", f"there is no parameter #{value:g}; they go from 1 to 5399")
        return number

    def _compound(self, start: str, of: str) -> float:
        if start in "+-":
            if not self._signed:
                raise Refusal("program-syntax", f"{of} has a sign without a number")
            self.at += 1
            value = self.value(of)
            return -value if start == "-" else value
        if start == "#":
            self.at += 1
            return self._lookup(self.parameter_number())
        if start == "[":
            return self._bracket()
        return self._function(of)

    def _bracket(self) -> float:
        if self.text[self.at : self.at + 1] != "[":
            raise Refusal("program-expression", "an opening bracket is missing")
        self.at += 1
        value = self._ranked(0)
        if self.text[self.at : self.at + 1] != "]":
            found = self.text[self.at : self.at + 1]
            what = f"{found!r} stands where an operator or ] should be" if found else "a bracket is not closed"
            raise Refusal("program-expression", what)
        self.at += 1
        return value

    def _ranked(self, rank: int) -> float:
        if rank == len(_OPERATORS):
            return self.value("an operand")
        left = self._ranked(rank + 1)
        while True:
            operator = self._operator(rank)
            if operator is None:
                return left
            self.at += len(operator)
            left = _combined(operator, left, self._ranked(rank + 1))

    def _operator(self, rank: int) -> str | None:
        for operator in _OPERATORS[rank]:
            if self.text.startswith(operator, self.at):
                return None if operator == "*" and self.text.startswith("**", self.at) else operator
        return None

    def _function(self, of: str) -> float:
        match = _NAME.match(self.text, self.at)
        name = match.group() if match else ""
        if not self.text.startswith("[", self.at + len(name)) or name not in {"atan", *_FUNCTIONS}:
            known = name if self.text.startswith("[", self.at + len(name)) else ""
            raise Refusal(
                "program-expression" if known else "program-syntax",
                f"there is no function {known!r}" if known else f"{of} has no value",
            )
        self.at += len(name)
        argument = self._bracket()
        if name != "atan":
            return bounded(_FUNCTIONS[name](argument))
        if self.text[self.at : self.at + 1] != "/":
            raise Refusal("program-expression", "atan needs two values: atan[y]/[x]")
        self.at += 1
        return math.degrees(math.atan2(argument, self._bracket()))


def bounded(value: float, code: str = "program-expression") -> float:
    """Return the value. Raises Refusal when it is larger than any program needs, or not a number."""
    if not -LARGEST_NUMBER <= value <= LARGEST_NUMBER:
        raise Refusal(code, f"the value {value:g} is beyond {LARGEST_NUMBER:g}")
    return value


def _combined(operator: str, left: float, right: float) -> float:
    if operator in {"/", "mod"} and right == 0:
        raise Refusal("program-expression", f"division by zero ({operator})")
    if operator == "**":
        return _power(left, right)
    return bounded(_BINARY[operator](left, right))


def _power(base: float, exponent: float) -> float:
    if base == 0 and exponent < 0:
        raise Refusal("program-expression", "zero to a negative power")
    if base < 0 and exponent != round(exponent):
        raise Refusal("program-expression", f"{base:g} to the power {exponent:g} is not a number")
    if base != 0 and math.log(abs(base)) * exponent > _LARGEST_EXPONENT:
        raise Refusal("program-expression", f"{base:g} to the power {exponent:g} is beyond {LARGEST_NUMBER:g}")
    return bounded(float(base**exponent))


def _remainder(left: float, right: float) -> float:
    rest = math.fmod(left, right)
    return rest + abs(right) if rest < 0 else rest


_BINARY: dict[str, Callable[[float, float], float]] = {
    "+": lambda left, right: left + right,
    "-": lambda left, right: left - right,
    "*": lambda left, right: left * right,
    "/": lambda left, right: left / right,
    "mod": _remainder,
    "and": lambda left, right: float(left != 0 and right != 0),
    "or": lambda left, right: float(left != 0 or right != 0),
    "xor": lambda left, right: float((left != 0) != (right != 0)),
}


def _within(value: float, low: float, high: float, name: str) -> float:
    if not low <= value <= high:
        raise Refusal("program-expression", f"{name}[{value:g}] is not a number")
    return value


def _exponential(value: float) -> float:
    return math.exp(_within(value, -math.inf, _LARGEST_EXPONENT, "exp"))


def _tangent(value: float) -> float:
    if abs(math.cos(math.radians(value))) < SAME_POINT_MM:
        raise Refusal("program-expression", f"tan[{value:g}] is not a number")
    return math.tan(math.radians(value))


_FUNCTIONS: dict[str, Callable[[float], float]] = {
    "abs": abs,
    "acos": lambda value: math.degrees(math.acos(_within(value, -1, 1, "acos"))),
    "asin": lambda value: math.degrees(math.asin(_within(value, -1, 1, "asin"))),
    "cos": lambda value: math.cos(math.radians(value)),
    "exp": _exponential,
    "fix": lambda value: float(math.floor(value)),
    "fup": lambda value: float(math.ceil(value)),
    "ln": lambda value: math.log(_within(value, 5e-324, math.inf, "ln")),
    "round": lambda value: math.copysign(math.floor(abs(value) + 0.5), value) + 0.0,
    "sin": lambda value: math.sin(math.radians(value)),
    "sqrt": lambda value: math.sqrt(_within(value, 0, math.inf, "sqrt")),
    "tan": _tangent,
}
