"""A job whose lengths know their names: what `Traced` sums are made of.

Every length of every order, setting and stock becomes a leaf, also in records that this module has never heard of: a
field that ends in `_mm`, alone, in a tuple or in a record within a record. Counts stay counts. A length of nought stays
plain, since it adds nothing.
"""

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import TypeVar

from rabbetry.explain.traced import Leaf, Traced
from rabbetry.job.choices import RunItem
from rabbetry.job.model import Construction, Job, Stock
from rabbetry.job.settings import SETTINGS

_UNTOUCHED = frozenset({"shop", "cutting", "stocks", "echoes", "notes"})
"""Fields of the job that give no panel its size, and the stocks, which have names of their own."""

_WORDS = {"drawer_front_heights_mm": "drawer front"}
"""Fields whose name is not what a person would say."""

_OWN_KEYS = {"drawer front": "drawers"}
"""Keys of the job file that differ from the words."""

_KEYS = {row.field: row.key for row in SETTINGS}
_Record = TypeVar("_Record")
_Maker = Callable[[str, float], Leaf]


def traced_job(job: Job) -> Job:
    """Return the same job with every length of it traced."""
    changes: dict[str, object] = {
        field.name: _traced(getattr(job, field.name), "", _plain_leaf)
        for field in fields(job)
        if field.name not in _UNTOUCHED
    }
    changes["stocks"] = tuple(_traced_stock(stock) for stock in job.stocks)
    return replace(job, **changes)  # type: ignore[arg-type]


def _traced_stock(stock: Stock) -> Stock:
    known = "measured" if stock.measured_mm is not None else "nominal, not measured"

    def leaf(mm: float) -> float:
        return Traced.leaf(Leaf(name="thickness", mm=mm, key="thickness", note=f"stock {stock.name}, {known}"))

    measured = None if stock.measured_mm is None else leaf(stock.measured_mm)
    return replace(stock, nominal_mm=leaf(stock.nominal_mm), measured_mm=measured)


def _plain_leaf(words: str, mm: float) -> Leaf:
    plain = words.partition(" no. ")[0]
    return Leaf(name=words, mm=mm, key=_OWN_KEYS.get(plain, plain.replace(" ", "_")))


def _setting_leaf(words: str, mm: float) -> Leaf:
    key = _KEYS.get(words.replace(" ", "_") + "_mm", words.replace(" ", "_"))
    return Leaf(name=key.replace("_", " "), mm=mm, key=key)


def _item_leaf(item: RunItem) -> Leaf:
    return Leaf(name=item.name, mm=item.width_mm, key="width" if item.sort != item.name else item.sort)


def _traced(value: object, words: str, make: _Maker) -> object:
    if isinstance(value, float):
        return Traced.leaf(make(words, value)) if value and words else value
    if isinstance(value, tuple):
        return tuple(
            _traced(item, f"{words} no. {number}" if words else "", make) for number, item in enumerate(value, start=1)
        )
    if isinstance(value, Construction):
        return _with_fields(value, "", _setting_leaf)
    if isinstance(value, RunItem):
        # Widths along a wall go by what stands there.
        return replace(_with_fields(value, "", make), width_mm=Traced.leaf(_item_leaf(value)))
    if is_dataclass(value) and not isinstance(value, type):
        # An order's own lengths go by their keys alone; those of a record inside it by the record's words too.
        return _with_fields(value, "" if getattr(value, "name", None) else words, make)
    return value


def _with_fields(record: _Record, words: str, make: _Maker) -> _Record:
    changes: dict[str, object] = {}
    for field in fields(record):  # type: ignore[arg-type]
        value = getattr(record, field.name)
        if not field.init or isinstance(value, str | int) or value is None:
            continue
        if isinstance(value, float) and not field.name.endswith("_mm"):
            continue
        own = _WORDS.get(field.name, field.name.removesuffix("_mm").replace("_", " "))
        changes[field.name] = _traced(value, f"{words} {own}".strip(), make)
    return replace(record, **changes)  # type: ignore[type-var]
