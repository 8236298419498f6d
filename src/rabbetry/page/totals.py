"""What the lists add up to: like parts counted together, hardware over the whole job, edge banding to buy."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rabbetry.geometry.curves import Arc, Contour
from rabbetry.page.lists import Cell, band_lengths, csv_text, natural_order, panel_order
from rabbetry.page.wording import bands_in_words, shop_fraction
from rabbetry.panels.model import Bore, Box, CutOut, Feature, Panel, Recess

GROUPED_HEADER = (
    "count", "stock", "thickness mm", "length mm", "width mm", "thickness in", "length in", "width in", "grain",
    "banded edges", "holes", "recesses", "panels",
)  # fmt: skip
HARDWARE_TOTALS_HEADER = ("item", "detail", "count", "cabinets")
BANDING_TOTALS_HEADER = (
    "stock", "band for thickness mm", "edges", "edges m", "with allowance m", "to buy m", "edges ft",
    "with allowance ft", "to buy ft",
)  # fmt: skip

_MM_PER_M = 1000.0
_FT_PER_M = 1 / 0.3048


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Edge banding of one stock: how many edges, their length, with the allowance of each, and with the waste."""

    stock: str
    thickness_mm: float
    edges: int
    net_mm: float
    cut_mm: float
    buy_mm: float


def like_parts(panels: Iterable[Panel]) -> tuple[tuple[Panel, ...], ...]:
    """Return the panels in groups of like ones: same stock, sizes, grain, banding, outline and everything cut into
    them, as they lie. The longest first in each stock."""
    grouped: defaultdict[tuple[object, ...], list[Panel]] = defaultdict(list)
    for panel in sorted(panels, key=panel_order):
        grouped[_likeness(panel)].append(panel)
    return tuple(
        tuple(group)
        for group in sorted(
            grouped.values(),
            key=lambda group: (natural_order(group[0].stock), -_near(group[0].length_mm), -_near(group[0].width_mm)),
        )
    )


def _likeness(panel: Panel) -> tuple[object, ...]:
    sizes = (_near(panel.thickness_mm), _near(panel.length_mm), _near(panel.width_mm))
    bands = (frozenset(panel.banded_edges), panel.inner_bands, panel.grain)
    cut = (frozenset(map(_cut, panel.features)), frozenset(map(_cut, panel.rear_features)))
    return (panel.stock, *sizes, *bands, _ring(panel.outline), *cut)


def _near(mm: float) -> float:
    return round(mm, 3) + 0.0


def _ring(contour: Contour) -> frozenset[tuple[object, ...]]:
    return frozenset(
        (
            *(frozenset({(_near(point.x), _near(point.y)) for point in (segment.start, segment.end)}),),
            (_near(segment.centre.x), _near(segment.centre.y)) if isinstance(segment, Arc) else (),
        )
        for segment in contour.segments
    )


def _cut(feature: Feature) -> tuple[object, ...]:
    if isinstance(feature, Bore):
        place = (_near(feature.centre.x), _near(feature.centre.y))
        return ("bore", place, _near(feature.diameter_mm), _near(feature.depth_mm), feature.through)
    if isinstance(feature, Recess):
        corners = frozenset((_near(point.x), _near(point.y)) for point in feature.relieved_corners)
        return (
            "recess",
            _ring(feature.outline),
            frozenset(map(_ring, feature.islands)),
            _near(feature.depth_mm),
            corners,
        )
    return ("cut through", _ring(feature.outline))


def grouped_cut_list_csv(panels: Iterable[Panel]) -> str:
    """Return the cut list with like parts counted, one row a group."""
    return csv_text(GROUPED_HEADER, (_grouped_row(group) for group in like_parts(panels)))


def _grouped_row(group: Sequence[Panel]) -> tuple[Cell, ...]:
    first = group[0]
    sizes = (float(first.thickness_mm), float(first.length_mm), float(first.width_mm))
    features = (*first.features, *first.rear_features)
    return (
        len(group),
        first.stock,
        *sizes,
        *(f"{shop_fraction(size)} in" for size in sizes),
        first.grain.value,
        banded_edges(first),
        sum(isinstance(feature, Bore) for feature in features),
        sum(isinstance(feature, Recess | CutOut) for feature in features),
        ", ".join(panel.id for panel in group),
    )


def banded_edges(panel: Panel) -> str:
    """Return the edges to band in words, or nothing."""
    return bands_in_words(panel)


def hardware_totals(boxes: Iterable[Box]) -> tuple[tuple[str, str, int, tuple[str, ...]], ...]:
    """Return item, detail, count over the whole job and the cabinets that need it, sorted by item."""
    counts: Counter[tuple[str, str]] = Counter()
    cabinets: defaultdict[tuple[str, str], set[str]] = defaultdict(set)
    for box in boxes:
        for item in box.hardware:
            counts[item.item, item.detail] += item.count
            cabinets[item.item, item.detail].add(item.cabinet)
    return tuple(
        (*key, count, tuple(sorted(cabinets[key], key=lambda name: (natural_order(name), name))))
        for key, count in sorted(counts.items())
    )


def hardware_totals_csv(boxes: Iterable[Box]) -> str:
    """Return what to buy for the whole job, one row an item."""
    rows = ((item, detail, count, ", ".join(names)) for item, detail, count, names in hardware_totals(boxes))
    return csv_text(HARDWARE_TOTALS_HEADER, rows)


def bands(panels: Iterable[Panel], *, allowance_mm: float, waste_percent: float) -> tuple[Band, ...]:
    """Return the edge banding of each stock. `allowance_mm` is cut longer for each edge, both ends together;
    `waste_percent` comes on top of all."""
    lengths: defaultdict[tuple[str, float], list[float]] = defaultdict(list)
    for panel in panels:
        for _, length in band_lengths(panel):
            if length > 0:
                lengths[panel.stock, _near(panel.thickness_mm)].append(length)
    made = []
    for (stock, thickness), found in sorted(lengths.items(), key=lambda item: (natural_order(item[0][0]), item[0])):
        net = sum(sorted(found))
        cut = net + allowance_mm * len(found)
        buy = cut * (1 + waste_percent / 100)
        made.append(Band(stock=stock, thickness_mm=thickness, edges=len(found), net_mm=net, cut_mm=cut, buy_mm=buy))
    return tuple(made)


def banding_totals_csv(rows: Iterable[Band]) -> str:
    """Return the edge banding to buy, one row a stock, in metres and feet."""
    return csv_text(BANDING_TOTALS_HEADER, (_band_row(row) for row in rows))


def _band_row(row: Band) -> tuple[Cell, ...]:
    metres = tuple(float(mm) / _MM_PER_M for mm in (row.net_mm, row.cut_mm, row.buy_mm))
    return (row.stock, float(row.thickness_mm), row.edges, *metres, *(metre * _FT_PER_M for metre in metres))
