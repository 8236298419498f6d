"""From the checked row of a plain part to its order, and what the keys of a part must agree on."""

from collections.abc import Iterator, Mapping, Sequence

from rabbetry.errors import did_you_mean, shown
from rabbetry.job.drawings import CURVE_MM, JOIN_MM, DrawingOrder, LayerOrder
from rabbetry.job.model import Corner, CutOrder, Grain, PartOrder, Stock
from rabbetry.job.part_rows import AreaRow, Corners, PartRow, RabbetRow, StripRow
from rabbetry.units import Length

Said = Iterator[tuple[str, str, str]]
"""Place, problem, cure."""


def part_order(row: PartRow, *, stocks: Sequence[Stock], clearance_mm: float) -> PartOrder:
    """Return the order of a part. The row's stocks are there."""
    widths = {stock.name: stock.thickness_mm for stock in stocks}
    return PartOrder(
        name=row.name,
        qty=row.qty,
        stock=row.stock,
        length_mm=row.length.mm if row.length else 0.0,
        width_mm=row.width.mm if row.width else 0.0,
        grain=Grain(row.grain),
        note=row.note,
        outline=_corners(row.outline),
        cuts=tuple(_cuts(row, widths, clearance_mm)),
        drawing=_drawing(row),
    )


def _drawing(row: PartRow) -> DrawingOrder | None:
    if row.drawing is None:
        return None
    return DrawingOrder(
        file=row.drawing,
        unit=row.drawing_unit or "",
        join_mm=row.drawing_join.mm if row.drawing_join else JOIN_MM,
        curve_mm=row.drawing_curve.mm if row.drawing_curve else CURVE_MM,
        layers=tuple(LayerOrder(layer=item.layer, cut=item.cut, depth_mm=_mm(item.depth)) for item in row.layers),
    )


def _cuts(row: PartRow, widths: Mapping[str, float], clearance_mm: float) -> Iterator[CutOrder]:
    for kind, strips in (("dado", row.dados), ("groove", row.grooves)):
        for number, strip in enumerate(strips, start=1):
            width = strip.width.mm if strip.width else widths[strip.fits or ""] + clearance_mm
            yield _strip(kind, strip, strip.name or f"{kind} {number}", width, along=strip.along, at_mm=strip.at.mm)
    for number, rabbet in enumerate(row.rabbets, start=1):
        width = rabbet.width.mm if rabbet.width else widths[rabbet.fits or ""] + clearance_mm / 2
        yield _strip("rabbet", rabbet, rabbet.name or f"rabbet {number}", width, edge=rabbet.edge)
    for number, pocket in enumerate(row.pockets, start=1):
        yield _area("pocket", pocket, pocket.name or f"pocket {number}", pocket.depth.mm)
    for number, cutout in enumerate(row.cutouts, start=1):
        yield _area("cut-out", cutout, cutout.name or f"cut-out {number}", None)
    number = 0
    for hole in row.holes:
        step = hole.pitch.mm if hole.pitch else 0.0
        for k in range(hole.count):
            number += 1
            name = hole.name or f"hole {number}"
            yield CutOrder(
                kind="hole",
                name=f"{name} {k + 1}" if hole.name and hole.count > 1 else name,
                depth_mm=hole.depth.mm if hole.depth else None,
                x_mm=hole.x.mm + (k * step if hole.along == "x" else 0.0),
                y_mm=hole.y.mm + (k * step if hole.along == "y" else 0.0),
                diameter_mm=hole.diameter.mm,
            )


def _strip(
    kind: str,
    row: StripRow | RabbetRow,
    name: str,
    width: float,
    *,
    along: str = "",
    at_mm: float = 0.0,
    edge: str = "",
) -> CutOrder:
    return CutOrder(
        kind=kind,
        name=name,
        depth_mm=row.depth.mm,
        along=along,
        at_mm=at_mm,
        edge=edge,
        width_mm=width,
        start_mm=_mm(row.start),
        end_mm=_mm(row.end),
    )


def _area(kind: str, row: AreaRow, name: str, depth_mm: float | None) -> CutOrder:
    x, y = _mm(row.x) or 0.0, _mm(row.y) or 0.0
    corners = _corners(row.outline)
    if row.length and row.width:
        r = row.radius.mm if row.radius else 0.0
        across, up = x + row.length.mm, y + row.width.mm
        corners = tuple(Corner(x_mm=a, y_mm=b, radius_mm=r) for a, b in ((x, y), (across, y), (across, up), (x, up)))
    diameter = row.diameter.mm if row.diameter else 0.0
    return CutOrder(kind=kind, name=name, depth_mm=depth_mm, x_mm=x, y_mm=y, diameter_mm=diameter, corners=corners)


def _corners(rows: Corners | None) -> tuple[Corner, ...]:
    return tuple(
        Corner(
            x_mm=numbers[0].mm,
            y_mm=numbers[1].mm,
            radius_mm=numbers[2].mm if len(numbers) == 3 else 0.0,
            through_mm=(through[0].mm, through[1].mm) if through else None,
        )
        for numbers, through in rows or ()
    )


def _mm(length: Length | None) -> float | None:
    return length.mm if length else None


def check_part(place: str, row: Mapping[str, object], stocks: Sequence[str]) -> Said:
    """Yield what the keys of a part, as parsed, do not agree on: its size, and the width or shape of each cut."""
    yield from _drawn(place, row)
    for key in ("length", "width"):
        meaning = PartRow.model_fields[key].description
        if "outline" in row and key in row:
            yield f"{place}, {key}", "stands beside an outline", "the outline says how large the part is; leave it out"
        elif "drawing" in row and key in row:
            yield f"{place}, {key}", "stands beside a drawing", "the drawing says how large the part is; leave it out"
        elif "outline" not in row and "drawing" not in row and key not in row:
            yield f"{place}, {key}", "is missing", f"write `{key} = ...` ({meaning})"
    for kind in ("dados", "grooves", "rabbets"):
        for where, cut in _rows(place, row, kind):
            if ("width" in cut) == ("fits" in cut):
                problem = "has both width and fits" if "width" in cut else "has neither width nor fits"
                yield where, problem, "write width = ..., or fits = the stock that enters"
            name = cut.get("fits")
            if isinstance(name, str) and name not in stocks:
                yield f"{where}, fits", f"there is no stock {shown(name)}", did_you_mean(name, list(stocks))
    for kind in ("pockets", "cutouts"):
        for where, cut in _rows(place, row, kind):
            yield from _shape(where, cut)
    for where, hole in _rows(place, row, "holes"):
        count = hole.get("count", 1)
        if isinstance(count, int) and count > 1 and "pitch" not in hole:
            yield f"{where}, pitch", "is missing", "say how far it is from one hole of the row to the next"


_NEEDS_DEPTH = ("pocket", "dado", "groove", "rabbet")
_HAS_NO_DEPTH = ("outline", "cut-out", "nothing")


def _drawn(place: str, row: Mapping[str, object]) -> Said:
    """Yield what the keys of a drawing do not agree on."""
    if "drawing" not in row:
        for key in ("drawing_unit", "drawing_join", "drawing_curve", "layers"):
            if key in row:
                yield f"{place}, {key}", "stands without a drawing", 'write drawing = "NAME.dxf", or leave it out'
    elif "outline" in row:
        yield f"{place}, outline", "stands beside a drawing", "leave one of them out"
    seen: set[str] = set()
    for where, layer in _rows(place, row, "layers"):
        cut, name = layer.get("cut"), str(layer.get("layer")).casefold()
        if cut in _NEEDS_DEPTH and "depth" not in layer:
            yield f"{where}, depth", "is missing", f"say how deep the {cut} is"
        if cut in _HAS_NO_DEPTH and "depth" in layer:
            yield f"{where}, depth", f"stands beside {shown(cut)}, which has none", "leave it out"
        if name in seen:
            yield f"{where}, layer", f"{shown(layer.get('layer'))} stands twice", "keep one of them"
        seen.add(name)


_SHAPES = ({"x", "y", "length", "width"}, {"x", "y", "diameter"}, {"outline"})


def _shape(where: str, cut: Mapping[str, object]) -> Said:
    given = set(cut) & {"x", "y", "length", "width", "diameter", "outline"}
    if given not in _SHAPES or ("radius" in cut and "length" not in cut):
        said = ", ".join(sorted(given)) or "none of these"
        cure = "give x, y, length and width (and radius), or x, y and diameter, or outline alone"
        yield where, f"its shape cannot be told from {said}", cure


def _rows(place: str, row: Mapping[str, object], key: str) -> Iterator[tuple[str, Mapping[str, object]]]:
    rows = row.get(key)
    for index, cut in enumerate(rows if isinstance(rows, list) else []):
        if isinstance(cut, Mapping):
            yield f"{place}, {key}, entry {index + 1}", cut
