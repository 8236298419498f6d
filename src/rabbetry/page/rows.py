"""The rows of the page's tables and lists: grouped, counted, sorted and put in words, ready for the template."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from rabbetry.page.box_rows import BoxPart, box_part
from rabbetry.page.elevation import elevation_svg
from rabbetry.page.lists import natural_order, panel_order
from rabbetry.page.model import PageView
from rabbetry.page.plan import plan_svg
from rabbetry.page.run_labels import both
from rabbetry.page.svg import anchor
from rabbetry.page.text import plain
from rabbetry.page.totals import banded_edges, bands, hardware_totals, like_parts
from rabbetry.page.wording import EDGES, full_size, shop_fraction, short_size
from rabbetry.panels.model import Box, Panel
from rabbetry.units import inches_from_mm, show_length


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelRow:
    """A panel in its cabinet's table."""

    id: str
    anchor: str
    role: str
    size: str
    stock: str
    sheet: str
    bands: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CabinetRow:
    """A cabinet: what it is, how big, its panels and the fronts made elsewhere."""

    name: str
    anchor: str
    kind: str
    size: str
    picture: Markup
    box: BoxPart | None
    panels: tuple[PanelRow, ...]
    fronts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """Like parts, counted."""

    stock: str
    thickness: str
    size: str
    count: int
    bands: str
    panels: str
    drawings: tuple[str, ...]
    """Of these panels, without the ending."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BandRow:
    """Edge banding for one stock: edges, their length, with the allowance, with the waste."""

    stock: str
    thickness: str
    edges: int
    net: str
    cut: str
    buy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareRow:
    """An item to buy, over all cabinets."""

    item: str
    detail: str
    count: int
    cabinets: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RunRow:
    """A run: its picture, and what stands in it as name, sort, from the left end, width, above the floor, height."""

    name: str
    length: str
    picture: Markup
    file: str
    places: tuple[tuple[str, str, str, str, str, str], ...]


def cabinet_rows(view: PageView) -> tuple[CabinetRow, ...]:
    """Return the cabinets as a person counts them, then the plain parts under a name of their own."""
    sheets = {place.panel.id: item.sheet.blank_id for item in view.sheets for place in item.sheet.placements}
    fronts = {box.cabinet: box.fronts for box in view.boxes}
    boxes = {item.cabinet: box_part(item) for item in view.assemblies if item.solids}
    rows = []
    named = {cabinet.name for cabinet in view.cabinets}
    for cabinet in sorted(view.cabinets, key=lambda item: (natural_order(item.name), item.name)):
        sizes = (cabinet.width_mm, cabinet.height_mm, cabinet.depth_mm)
        rows.append(
            CabinetRow(
                name=cabinet.name,
                anchor=anchor(cabinet.name),
                kind=cabinet.kind.value,
                size=" × ".join(show_length(size, view.units) for size in sizes),
                picture=Markup(elevation_svg(cabinet, units=view.units)),
                box=boxes.get(cabinet.name),
                panels=_panel_rows((p for p in view.panels if p.cabinet == cabinet.name), sheets, view.units),
                fronts=tuple(
                    f"{front.name}: {full_size(front.width_mm, front.height_mm, view.units)}"
                    for front in fronts.get(cabinet.name, ())
                ),
            )
        )
    for box in (box for box in view.boxes if box.kind):
        named.add(box.cabinet)
        width, depth, height = box.size_mm
        rows.append(
            CabinetRow(
                name=box.cabinet,
                anchor=anchor(box.cabinet),
                kind=box.kind,
                size=" × ".join(show_length(size, view.units) for size in (width, height, depth)),
                picture=Markup(plan_svg(box, units=view.units)),
                box=boxes.get(box.cabinet),
                panels=_panel_rows((p for p in view.panels if p.cabinet == box.cabinet), sheets, view.units),
                fronts=tuple(
                    f"{front.name}: {full_size(front.width_mm, front.height_mm, view.units)}" for front in box.fronts
                ),
            )
        )
    loose = _panel_rows((panel for panel in view.panels if panel.cabinet not in named), sheets, view.units)
    if loose:
        rows.append(
            CabinetRow(
                name="Other parts", anchor="", kind="", size="", picture=Markup(""), box=None, panels=loose, fronts=()
            )
        )
    return tuple(rows)


def _panel_rows(panels: Iterable[Panel], sheets: Mapping[str, str], units: str) -> tuple[PanelRow, ...]:
    return tuple(
        PanelRow(
            id=panel.id,
            anchor=anchor(panel.id),
            role=panel.role,
            size=full_size(panel.length_mm, panel.width_mm, units),
            stock=panel.stock,
            sheet=sheets.get(panel.id, ""),
            bands=", ".join(
                (*(EDGES.get(edge, edge) for edge in panel.banded_edges), *(band.name for band in panel.inner_bands))
            ),
        )
        for panel in sorted(panels, key=panel_order)
    )


def cut_rows(view: PageView) -> tuple[CutRow, ...]:
    """Return the cut list with like parts counted together, the longest first in each stock."""
    return tuple(
        CutRow(
            stock=group[0].stock,
            thickness=show_length(group[0].thickness_mm, view.units),
            size=_shop_size(group[0], view.units),
            count=len(group),
            bands=banded_edges(group[0]),
            panels=", ".join(panel.id for panel in group),
            drawings=tuple(
                dict.fromkeys(
                    view.drawings[panel.id].removesuffix(".svg") for panel in group if panel.id in view.drawings
                )
            ),
        )
        for group in like_parts(view.panels)
    )


def _shop_size(panel: Panel, units: str) -> str:
    """Return the size both ways, inches as people read them off a tape."""
    metric = short_size(panel.length_mm, panel.width_mm, "mm")
    inches = f"{shop_fraction(panel.length_mm)} × {shop_fraction(panel.width_mm)} in"
    return f"{metric} ({inches})" if units == "mm" else f"{inches} ({metric})"


def band_rows(view: PageView) -> tuple[BandRow, ...]:
    """Return the edge banding to buy."""
    found = bands(view.panels, allowance_mm=view.banding_allowance_mm, waste_percent=view.banding_waste_percent)
    return tuple(
        BandRow(
            stock=row.stock,
            thickness=show_length(row.thickness_mm, view.units),
            edges=row.edges,
            net=_run_of(row.net_mm, view.units),
            cut=_run_of(row.cut_mm, view.units),
            buy=_run_of(row.buy_mm, view.units),
        )
        for row in found
    )


def _run_of(mm: float, units: str) -> str:
    return f"{mm / 1000:.2f} m" if units == "mm" else f"{inches_from_mm(mm) / 12:.1f} ft"


def hardware_rows(boxes: Iterable[Box]) -> tuple[HardwareRow, ...]:
    """Return what to buy, summed over the cabinets."""
    return tuple(
        HardwareRow(item=item, detail=detail, count=count, cabinets=", ".join(cabinets))
        for item, detail, count, cabinets in hardware_totals(boxes)
    )


def run_rows(view: PageView) -> tuple[RunRow, ...]:
    """Return the runs, what stands before what hangs, from left to right."""
    return tuple(
        RunRow(
            name=plain(item.run.name),
            length=_both(item.run.length_mm, view.units),
            picture=Markup(item.picture),
            file=item.file,
            places=tuple(
                (
                    plain(thing.name),
                    thing.sort,
                    _both(thing.x_mm, view.units),
                    _both(thing.width_mm, view.units),
                    _both(thing.z_mm, view.units),
                    _both(thing.height_mm, view.units),
                )
                for thing in (*item.run.items, *item.run.bases, *item.run.covers)
            ),
        )
        for item in view.runs
    )


def _both(mm: float, units: str) -> str:
    first, second = both(mm, units)
    return f"{first} ({second})"
