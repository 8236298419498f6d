"""What to buy and how to saw it: full sheets, their cuts in order, which blank becomes which sheet."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from rabbetry.geometry.points import Point
from rabbetry.page.lists import Cell, csv_text
from rabbetry.page.svg import escaped, line, number, rect, words
from rabbetry.page.text import fit
from rabbetry.page.wording import short_length, short_size
from rabbetry.sheets.model import Breakdown, SawCut, SawnBlank
from rabbetry.units import show_inches_fraction

BUYING_HEADER = (
    "stock", "sheet", "full sheets", "along mm", "across mm", "along in", "across in", "saw kerf mm", "blanks needed",
    "blanks a sheet", "price each", "price",
)  # fmt: skip
BREAKDOWN_HEADER = (
    "stock", "full sheet", "blank", "from left mm", "from below mm", "along mm", "across mm", "along in", "across in",
    "factory edges",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingRow:
    """One stock as the page shows it."""

    stock: str
    title: str
    count: int
    size: str
    each: int
    needed: int
    cost: str
    steps: tuple[str, ...]
    picture: Markup
    letters: tuple[str, ...]
    sheets: tuple[tuple[int, tuple[str, ...]], ...]
    """Number of the full sheet, and what its blanks become, in the order of the letters."""


def buying_csv(rows: Iterable[Breakdown]) -> str:
    """Return the buying list: one row a stock."""
    return csv_text(BUYING_HEADER, (_buying(row) for row in rows))


def breakdown_csv(rows: Iterable[Breakdown]) -> str:
    """Return the break-down: one row a blank, in the frame of its full sheet (lower left corner, x along the grain)."""
    return csv_text(BREAKDOWN_HEADER, (line for row in rows for line in _blanks(row)))


def _buying(row: Breakdown) -> tuple[Cell, ...]:
    sizes = (float(row.along_mm), float(row.across_mm))
    price = ("", "") if row.price_each is None or row.cost is None else (f"{row.price_each:.2f}", f"{row.cost:.2f}")
    count: Cell = len(row.sheets) if row.blanks_each else "too small"
    inches = map(show_inches_fraction, sizes)
    return (row.stock, row.title, count, *sizes, *inches, float(row.kerf_mm), row.needed, row.blanks_each, *price)


def _blanks(row: Breakdown) -> Iterator[tuple[Cell, ...]]:
    for sheet in row.sheets:
        for blank in sheet.blanks:
            sizes = (float(blank.along_mm), float(blank.across_mm))
            place = (float(blank.x_mm), float(blank.y_mm))
            inches = map(show_inches_fraction, sizes)
            yield row.stock, sheet.number, blank.id, *place, *sizes, *inches, ", ".join(blank.factory_edges)


def buying_rows(rows: Iterable[Breakdown], units: str) -> tuple[BuyingRow, ...]:
    """Return the stocks for the page."""
    return tuple(_row(row, units) for row in rows)


def _row(row: Breakdown, units: str) -> BuyingRow:
    most = max((len(sheet.blanks) for sheet in row.sheets), default=0)
    return BuyingRow(
        stock=row.stock,
        title=row.title,
        count=len(row.sheets),
        size=short_size(row.along_mm, row.across_mm, units),
        each=row.blanks_each,
        needed=row.needed,
        cost="" if row.cost is None else f"{row.cost:.2f}",
        steps=tuple(steps(row, units)) if row.sheets else (),
        picture=Markup(picture_svg(row, units)) if row.sheets else Markup(""),
        letters=tuple(letter(k) for k in range(most)),
        sheets=tuple((sheet.number, tuple(blank.id for blank in sheet.blanks)) for sheet in row.sheets),
    )


def letter(index: int) -> str:
    """Return A to Z, then AA and on: how the picture names the places on a full sheet."""
    return chr(65 + index) if index < 26 else letter(index // 26 - 1) + letter(index % 26)


def steps(row: Breakdown, units: str) -> Iterator[str]:
    """Yield the cuts of a full sheet in words, those that go the same way through one piece together."""
    if not row.cuts:
        yield "No cut: the full sheet is the blank."
        return
    k = 0
    while k < len(row.cuts):
        cut, same = row.cuts[k], _run(row.cuts[k:])
        numbers = _listed([str(n) for n in range(k + 1, k + same + 1)])
        places = _listed([short_length(item.at_mm, units) for item in row.cuts[k : k + same]])
        way, edge = ("across", "left end") if cut.across else ("along", "lower edge")
        yield f"Cut {numbers}, {way} {_piece(row, cut, units)}, {places} {units} from the sheet's {edge}."
        k += same
    yield f"Beyond each of these lines lies the kerf of {short_length(row.kerf_mm, units)} {units}."


def _piece(row: Breakdown, cut: SawCut, units: str) -> str:
    whole = row.across_mm if cut.across else row.along_mm
    if cut.to_mm - cut.from_mm >= whole - row.kerf_mm:
        return "the sheet"
    spot = f"{short_length(cut.from_mm, units)} to {short_length(cut.to_mm, units)} {units}"
    return f"the strip {spot} from the sheet's {'lower edge' if cut.across else 'left end'}"


def _listed(parts: Sequence[str]) -> str:
    return " and ".join(filter(None, [", ".join(parts[:-1]), parts[-1]]))


def _run(cuts: Sequence[SawCut]) -> int:
    """Return how many cuts from the first on go the same way through the same piece."""
    first = cuts[0]
    count = 0
    for cut in cuts:
        if (cut.across, cut.from_mm, cut.to_mm) != (first.across, first.from_mm, first.to_mm):
            break
        count += 1
    return count


_NAME_MM = 150.0
_SIZE_MM = 84.0


def picture_svg(row: Breakdown, units: str) -> str:
    """Return the picture of a full sheet with its blanks by letter, the cuts numbered in order."""
    x, y = row.along_mm, row.across_mm
    scale = max(x, y) / 2440
    title = f"{row.stock}: full sheet {short_size(x, y, units)}"
    spots = max(row.sheets, key=lambda sheet: len(sheet.blanks)).blanks
    pad, low = 60 * scale, 150 * scale
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="full-sheet" role="img" aria-label="{escaped(title)}" '
        f'viewBox="{number(-pad)} {number(-y - 150 * scale)} {number(x + 2 * pad)} {number(y + 150 * scale + low)}">',
        f"<title>{escaped(title)}</title>",
        rect("rest", 0, 0, x, y),
        *(part for k, spot in enumerate(spots) for part in _blank(spot, letter(k), units, scale)),
        *(part for k, cut in enumerate(row.cuts, start=1) for part in _cut(cut, k, scale)),
        *_caption(row, units, scale, low),
        "</svg>",
    ]
    return "\n".join(parts)


def _blank(spot: SawnBlank, name: str, units: str, scale: float) -> Iterator[str]:
    yield rect("blank", spot.x_mm, spot.y_mm, spot.along_mm, spot.across_mm, title=f"{name}: {spot.id}")
    middle = Point(spot.x_mm + spot.along_mm / 2, spot.y_mm + spot.across_mm / 2)
    yield words("letter", Point(middle.x, middle.y - 20 * scale), _NAME_MM * scale, name)
    size = fit(
        short_size(spot.along_mm, spot.across_mm, units),
        width=0.9 * spot.along_mm,
        height=0.3 * spot.across_mm,
        largest=_SIZE_MM * scale,
        smallest=30 * scale,
    )
    for k, text in enumerate(size.lines):
        drop = (140 + 1.2 * _SIZE_MM * k) * scale
        yield words("size", Point(middle.x, middle.y - drop), size.size, text)


def _cut(cut: SawCut, order: int, scale: float) -> Iterator[str]:
    """A dashed line with the cut's number in a disc: cuts across at their upper end, cuts along at their right end."""
    a, b = (
        (Point(cut.at_mm, cut.from_mm), Point(cut.at_mm, cut.to_mm))
        if cut.across
        else (Point(cut.from_mm, cut.at_mm), Point(cut.to_mm, cut.at_mm))
    )
    yield line("cut", a, b)
    at = Point(b.x, b.y + 70 * scale) if cut.across else Point(b.x - 90 * scale, b.y)
    yield f'<circle class="cut-number" cx="{number(at.x)}" cy="{number(-at.y)}" r="{number(55 * scale)}"/>'
    yield words("cut-text", Point(at.x, at.y - 28 * scale), 80 * scale, str(order))


def _caption(row: Breakdown, units: str, scale: float, low: float) -> Iterator[str]:
    grain = "grain runs left to right" if row.has_grain else "no grain"
    text = f"full sheet {short_size(row.along_mm, row.across_mm, units)}, {grain}"
    fitted = fit(text, width=row.along_mm, height=1.3 * _SIZE_MM * scale, largest=_SIZE_MM * scale, smallest=20 * scale)
    if fitted.lines:
        yield words("size", Point(0.0, -low + 50 * scale), fitted.size, fitted.lines[0], anchor_at="start")
