"""Questions about sizes answered: the size meant is found by its words, its sum is put in words."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from rabbetry.errors import near_names, shown
from rabbetry.explain.sizes import Size
from rabbetry.explain.traced import Sum, Term, ordered, sum_of
from rabbetry.units import show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """One size with its sum."""

    name: str
    mm: float
    sum: Sum
    text: str
    """The whole sentence: `B3 bottom length = 576.4 mm = width 600 - 2 x ...`."""

    def as_json(self) -> dict[str, object]:
        """Return the answer for other programs: factors are exact, as text such as `2` or `1/2`."""
        terms = [
            {
                "factor": str(term.factor),
                "name": term.leaf.name,
                "key": term.leaf.key,
                "mm": float(term.leaf.mm),
                "note": term.leaf.note,
            }
            for term in self.sum.terms
        ]
        constant = round(float(self.sum.constant_mm), 6) + 0.0
        return {
            "name": self.name,
            "mm": round(self.mm, 6),
            "terms": terms,
            "constant_mm": constant,
            "text": self.text,
        }


class NoSuchSize(Exception):
    """A question that names no size, or more than one; `cure` lists what may be meant."""

    def __init__(self, problem: str, cure: str) -> None:
        self.problem, self.cure = problem, cure
        super().__init__(f"{problem}; {cure}")


def answer(question: str, sizes: Sequence[Size], units: str) -> tuple[Answer, ...]:
    """Return the sums asked for: one size by its name or by words that fit it alone; all sizes of a panel by its id;
    lengths, widths and thicknesses of a cabinet's panels by its name. Raises NoSuchSize."""
    return tuple(_answer(size, units) for size in _meant(question, sizes))


def _meant(question: str, sizes: Sequence[Size]) -> Sequence[Size]:
    asked = " ".join(question.casefold().split())
    exact = [size for size in sizes if size.name.casefold() == asked]
    if exact:
        return exact
    own = [size for size in sizes if size.owner.casefold() == asked]
    below = [size for size in sizes if size.owner.casefold().startswith(f"{asked} ") and not size.is_feature]
    if asked and (own or below):
        return [*below, *own] if below else own
    words = set(_words(asked))
    fitting = [size for size in sizes if words and words <= set(_words(f"{size.name} {size.also}".casefold()))]
    if fitting and len({(size.mm, sum_of(size.mm)) for size in fitting}) == 1:
        # The same row of holes on both sides: one sum answers for all.
        return fitting
    if fitting:
        raise NoSuchSize(f"{shown(question)} fits {len(fitting)} sizes", f"say which: {_listed(fitting)}")
    near = near_names(question, [size.name for size in sizes]) or _nearest(words, sizes)
    cure = f"nearest: {', '.join(near)}" if near else f"a size is called {sizes[0].name}, for example" if sizes else ""
    raise NoSuchSize(f"no size is called {shown(question)}", cure)


_MOST_LISTED = 12


def _listed(sizes: Sequence[Size]) -> str:
    shortest = sorted(sizes, key=lambda size: len(_words(size.name)))
    names = ", ".join(size.name for size in shortest[:_MOST_LISTED])
    return names + (f" and {len(sizes) - _MOST_LISTED} more" if len(sizes) > _MOST_LISTED else "")


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text)


def _nearest(words: set[str], sizes: Iterable[Size]) -> list[str]:
    """Return up to three names that share the most words with the question."""
    scored = [(len(words & set(_words(f"{size.name} {size.also}".casefold()))), size.name) for size in sizes]
    best = sorted((item for item in scored if item[0]), key=lambda item: -item[0])[:3]
    return [name for _, name in best]


def _answer(size: Size, units: str) -> Answer:
    found = sum_of(size.mm)
    head = f"{size.name} = {show_length(float(size.mm), units)}"
    return Answer(name=size.name, mm=float(size.mm), sum=found, text=f"{head} = {sum_text(found, units)}")


def sum_text(found: Sum, units: str) -> str:
    """Return a sum in words, in the job's unit: `width 600 - 2 x thickness 17.8 (stock birch, measured)`."""
    if not found.terms:
        return "a fixed value or a row of a table, no sum"
    parts: list[str] = []
    for term in ordered(found.terms):
        sign = "-" if term.factor < 0 else "+"
        parts.append(_term(term, units) if not parts and sign == "+" else f"{sign} {_term(term, units)}")
    constant = float(found.constant_mm)
    if abs(constant) > _NOTHING_MM:
        parts.append(f"{'-' if constant < 0 else '+'} {_number(abs(constant), units)}")
    return " ".join(parts)


_NOTHING_MM = 1e-9


def _term(term: Term, units: str) -> str:
    factor = abs(term.factor)
    leaf = term.leaf
    note = f" ({leaf.note})" if leaf.note else ""
    return (f"{_factor(factor)} x " if factor != 1 else "") + f"{leaf.name} {_number(leaf.mm, units)}{note}"


def _factor(factor: Fraction) -> str:
    return str(factor) if factor.denominator <= _READABLE else f"{float(factor):.6g}"


_READABLE = 1000


def _number(mm: float, units: str) -> str:
    """Return a length as a term shows it: without the unit of a job in millimetres, as inches with their fraction in
    a job in inches."""
    return show_length(mm, units).removesuffix(" mm")
