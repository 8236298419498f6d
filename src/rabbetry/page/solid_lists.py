"""Parts of solid wood that are made elsewhere, as lists: members of face frames, fillers, blocking behind frames,
doors and drawer fronts; and what they add up to. CSV as the other lists."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from rabbetry.page.lists import Cell, csv_text, natural_order
from rabbetry.page.run_labels import both
from rabbetry.page.text import plain
from rabbetry.page.wording import shop_fraction, short_size
from rabbetry.runs.model import Faced, SolidPart
from rabbetry.units import inches_from_mm, show_inches_fraction

SOLID_HEADER = (
    "belongs to", "part", "count", "length mm", "width mm", "thickness mm", "length in", "width in", "thickness in",
    "note",
)  # fmt: skip
SOLID_TOTALS_HEADER = (
    "list", "thickness mm", "width mm", "thickness in", "width in", "pieces", "length m", "length ft", "area m2",
    "area ft2",
)  # fmt: skip
FRAMES, FRONTS = "face frames, fillers, blocking", "doors and drawer fronts"
_MM_PER_M = 1000.0
_INCHES_PER_FT = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class SolidTotal:
    """Parts of one list, thickness and width: how many, and their length end to end."""

    of: str
    thickness_mm: float | None
    width_mm: float
    pieces: int
    length_mm: float


def solid_parts_csv(parts: Sequence[SolidPart]) -> str:
    """Return a list of parts, one row for like parts of one frame or front, in the order a person counts; length along
    the grain. An empty thickness is that of the stock, or of the groove that a panel lies in."""
    return csv_text(SOLID_HEADER, (_row(part) for part in _sorted(parts)))


def solid_totals_csv(faced: Faced) -> str:
    """Return what the parts of both lists add up to, by thickness and width: to choose boards by."""
    return csv_text(SOLID_TOTALS_HEADER, (_total_row(total) for total in solid_totals(faced)))


def solid_totals(faced: Faced) -> tuple[SolidTotal, ...]:
    """Return the totals, face frames first, thick before thin and wide before narrow; parts without a thickness of
    their own last."""
    grouped: defaultdict[tuple[str, float | None, float], list[SolidPart]] = defaultdict(list)
    for name, parts in ((FRAMES, faced.frame_parts), (FRONTS, faced.front_parts)):
        for part in parts:
            thickness = None if part.thickness_mm is None else round(part.thickness_mm, 3)
            grouped[name, thickness, round(part.width_mm, 3)].append(part)
    order = {FRAMES: 0, FRONTS: 1}
    keys = sorted(grouped, key=lambda key: (order[key[0]], -(key[1] or 0.0), -key[2]))
    return tuple(
        SolidTotal(
            of=of,
            thickness_mm=thickness,
            width_mm=width,
            pieces=sum(part.count for part in grouped[of, thickness, width]),
            length_mm=sum(part.count * part.length_mm for part in grouped[of, thickness, width]),
        )
        for of, thickness, width in keys
    )


def _sorted(parts: Sequence[SolidPart]) -> list[SolidPart]:
    return sorted(parts, key=lambda part: (natural_order(part.of), part.of))


def _row(part: SolidPart) -> tuple[Cell, ...]:
    length, width, thickness = float(part.length_mm), float(part.width_mm), part.thickness_mm
    return (
        part.of,
        part.name,
        part.count,
        length,
        width,
        *_or_empty(thickness),
        show_inches_fraction(length),
        show_inches_fraction(width),
        "" if thickness is None else show_inches_fraction(thickness),
        part.note,
    )


def _or_empty(mm: float | None) -> tuple[Cell]:
    return ("" if mm is None else float(mm),)


def _total_row(total: SolidTotal) -> tuple[Cell, ...]:
    feet = inches_from_mm(total.length_mm) / _INCHES_PER_FT
    return (
        total.of,
        *_or_empty(total.thickness_mm),
        total.width_mm,
        "" if total.thickness_mm is None else show_inches_fraction(total.thickness_mm),
        show_inches_fraction(total.width_mm),
        total.pieces,
        total.length_mm / _MM_PER_M,
        feet,
        total.length_mm * total.width_mm / _MM_PER_M**2,
        feet * inches_from_mm(total.width_mm) / _INCHES_PER_FT,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class SolidView:
    """Both lists and their totals in words, for the page."""

    lists: tuple[tuple[str, str, int, tuple[tuple[str, ...], ...]], ...]
    """Name, file, how many pieces, rows: belongs to, part, count, size, thickness, note."""
    totals: tuple[tuple[str, ...], ...]
    """List, thickness, width, pieces, length."""


def solid_view(faced: Faced, units: str) -> SolidView:
    """Return what the page shows of the parts made elsewhere."""
    files = ((FRAMES, "frame-parts.csv", faced.frame_parts), (FRONTS, "front-parts.csv", faced.front_parts))
    lists = tuple(
        (name, file, sum(part.count for part in parts), tuple(_words(part, units) for part in _sorted(parts)))
        for name, file, parts in files
        if parts
    )
    totals = tuple(
        (
            total.of,
            _thickness(total.thickness_mm, units),
            both(total.width_mm, units)[0],
            str(total.pieces),
            f"{total.length_mm / _MM_PER_M:.2f} m"
            if units == "mm"
            else f"{inches_from_mm(total.length_mm) / _INCHES_PER_FT:.1f} ft",
        )
        for total in solid_totals(faced)
    )
    return SolidView(lists=lists, totals=totals)


def _words(part: SolidPart, units: str) -> tuple[str, ...]:
    metric = short_size(part.length_mm, part.width_mm, "mm")
    inches = f"{shop_fraction(part.length_mm)} × {shop_fraction(part.width_mm)} in"
    size = f"{metric} ({inches})" if units == "mm" else f"{inches} ({metric})"
    thickness = _thickness(part.thickness_mm, units)
    return (plain(part.of), part.name, str(part.count), size, thickness, plain(part.note))


def _thickness(mm: float | None, units: str) -> str:
    return "" if mm is None else both(mm, units)[0]
