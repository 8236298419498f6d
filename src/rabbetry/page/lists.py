"""The lists a shop works from, as CSV (RFC 4180): cut list, hardware, edge banding.

Dots for decimals whatever the system's language; every row as long as the header; sorted the way a person counts (B2
before B10). A text that a spreadsheet would take for a formula gets an apostrophe in front.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence

from rabbetry.geometry.curves import Line
from rabbetry.page.text import plain
from rabbetry.page.wording import bands_in_words, edge_in_words
from rabbetry.panels.model import Box, Panel
from rabbetry.sheets.model import Placement, Sheet
from rabbetry.tolerances import POINT_MM
from rabbetry.units import show_inches_fraction

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")
_DIGITS = re.compile(r"([0-9]+)")
Cell = str | int | float

CUT_LIST_HEADER = (
    "panel", "cabinet", "role", "stock", "thickness mm", "length mm", "width mm", "thickness in", "length in",
    "width in", "grain", "sheet", "x mm", "y mm", "rotation deg", "face up", "front edge", "banded edges", "note",
)  # fmt: skip
HARDWARE_HEADER = ("cabinet", "item", "count", "detail", "width mm", "height mm", "width in", "height in")
EDGE_BANDING_HEADER = (
    "panel", "cabinet", "stock", "edge", "thickness mm", "length mm", "thickness in", "length in", "cut mm", "cut in",
)  # fmt: skip


def natural_order(text: str) -> tuple[tuple[int, int | str], ...]:
    """Return a sort key that takes runs of digits as numbers; texts that differ have keys that differ, up to zeros in
    front (sort by the text itself after it)."""
    return tuple(
        (0, int(part)) if part.isdecimal() and part.isascii() else (1, part) for part in _DIGITS.split(text) if part
    )


def panel_order(panel: Panel) -> tuple[object, ...]:
    """Return the key by which lists of panels are sorted: stock, cabinet, id."""
    return (natural_order(panel.stock), natural_order(panel.cabinet), natural_order(panel.id), panel.id)


def cut_list_csv(panels: Iterable[Panel], sheets: Iterable[Sheet]) -> str:
    """Return the cut list, one row a panel; where it lies on its sheet stays empty for a panel that was not placed."""
    placed = {item.panel.id: (sheet.id, item) for sheet in sheets for item in sheet.placements}
    rows = (_cut_list_row(panel, placed.get(panel.id)) for panel in sorted(panels, key=panel_order))
    return csv_text(CUT_LIST_HEADER, rows)


def _cut_list_row(panel: Panel, place: tuple[str, Placement] | None) -> tuple[Cell, ...]:
    sizes = (float(panel.thickness_mm), float(panel.length_mm), float(panel.width_mm))
    where: tuple[Cell, ...] = ("", "", "", "")
    if place:
        where = (place[0], float(place[1].x_mm), float(place[1].y_mm), place[1].rotation_deg)
    return (
        panel.id,
        panel.cabinet,
        panel.role,
        panel.stock,
        *sizes,
        *map(show_inches_fraction, sizes),
        panel.grain.value,
        *where,
        panel.face_up,
        edge_in_words(panel, panel.front_edge),
        bands_in_words(panel),
        "; ".join(filter(None, (panel.note, *panel.ends))),
    )


def hardware_csv(boxes: Iterable[Box]) -> str:
    """Return what must be bought, one row an item of a cabinet, and the sizes of fronts that are made elsewhere."""
    rows: list[tuple[Cell, ...]] = []
    for box in sorted(boxes, key=lambda item: (natural_order(item.cabinet), item.cabinet)):
        lines = sorted(box.hardware, key=lambda item: (item.item, item.detail, item.count))
        rows.extend((item.cabinet, item.item, item.count, item.detail, "", "", "", "") for item in lines)
        for front in sorted(box.fronts, key=lambda item: (natural_order(item.name), item.name)):
            sizes = (float(front.width_mm), float(front.height_mm))
            rows.append((front.cabinet, front.name, 1, "made elsewhere", *sizes, *map(show_inches_fraction, sizes)))
    return csv_text(HARDWARE_HEADER, rows)


def edge_banding_csv(panels: Iterable[Panel], *, allowance_mm: float) -> str:
    """Return the edges to band, one row an edge, with the length of wood that really lies on that edge, and what to cut
    for it: longer by the allowance, to be trimmed off after gluing."""
    rows = (
        (
            panel.id,
            panel.cabinet,
            panel.stock,
            edge,
            float(panel.thickness_mm),
            length,
            show_inches_fraction(panel.thickness_mm),
            show_inches_fraction(length),
            length + allowance_mm,
            show_inches_fraction(length + allowance_mm),
        )
        for panel in sorted(panels, key=panel_order)
        for edge, length in band_lengths(panel)
    )
    return csv_text(EDGE_BANDING_HEADER, rows)


def band_lengths(panel: Panel) -> tuple[tuple[str, float], ...]:
    """Return each edge to band in words, and how long the wood on it is."""
    outer = ((edge_in_words(panel, edge), edge_length_mm(panel, edge)) for edge in sorted(panel.banded_edges))
    return (*outer, *((band.name, band.length_mm) for band in panel.inner_bands))


def edge_length_mm(panel: Panel, edge: str) -> float:
    """Return how much of the outline lies straight on an edge of the panel's rectangle ('x0', 'x1', 'y0', 'y1'): a
    notch is not banded. 0 when no straight part lies there."""
    at = {"x0": 0.0, "y0": 0.0, "x1": panel.length_mm, "y1": panel.width_mm}[edge]
    axis = edge[0]
    return sum(
        segment.length
        for segment in panel.outline.segments
        if isinstance(segment, Line)
        and all(abs(getattr(point, axis) - at) <= POINT_MM for point in (segment.start, segment.end))
    )


def csv_text(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Return the rows under their header as CSV (RFC 4180)."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([_cell(value) for value in row])
    return stream.getvalue()


def _cell(value: Cell) -> str:
    if isinstance(value, float):
        return f"{round(value, 3) + 0.0:.3f}"
    if isinstance(value, int):
        return str(value)
    text = plain(value)
    return f"'{text}" if text.startswith(_FORMULA_STARTS) else text
