"""From the checked rows of a job file to the job's records: defaults by unit and kind, stocks by name, millimetres."""

from dataclasses import replace
from typing import Any

from rabbetry.job.choice_orders import (
    FAR_HAND,
    blind_order,
    column_orders,
    cover_order,
    cut_out_order,
    doors_for,
    filler_order,
    front_orders,
    mm_or,
    opening_order,
)
from rabbetry.job.fields import Row
from rabbetry.job.hardware import with_hardware
from rabbetry.job.hold_down_rows import SCREW_HEAD, SCREW_HEAD_HEIGHT, SCREW_HOLE
from rabbetry.job.kinds import KINDS, Default, KindRow
from rabbetry.job.loads import DEFAULT_LOAD, read_load
from rabbetry.job.model import (
    CabinetKind,
    CabinetOrder,
    Construction,
    Cutting,
    DoorStyle,
    Faces,
    Hold,
    Job,
    Mount,
    Nailer,
    Stock,
    Units,
)
from rabbetry.job.part_orders import part_order
from rabbetry.job.rows import CabinetBase, ClampRow, CuttingRow, JobBase, StockRow, UseRow
from rabbetry.job.run_orders import ordered, run_order
from rabbetry.job.run_rows import faces_by_cabinet
from rabbetry.job.settings import SETTINGS, WORD_SETTINGS, default_construction
from rabbetry.job.special_orders import corner_order, ladder_order
from rabbetry.job.words import BackPlace
from rabbetry.shop.model import Clamp, Shop, Tables
from rabbetry.units import Length

_TRIM: Default = {Units.MM: 10, Units.INCH: "3/8"}
_KERF: Default = {Units.MM: "3.2 mm", Units.INCH: "1/8"}
"""A full-kerf table-saw blade (check value 3.4.8, common practice)."""
_BANDING: Default = {Units.MM: 50, Units.INCH: "2"}
"""An inch or so over at each end, trimmed off after gluing (common practice)."""
_TOP_DRAWER: Default = {Units.MM: 157, Units.INCH: "6"}
"""Front of a drawer above doors: 5 x 32 - 3 mm in the 32 mm system, or 6 in (common practice)."""
_INDEX_HOLE: Default = {Units.MM: 6, Units.INCH: "1/4"}
"""Dowels of this diameter are sold everywhere; as deep as wide they stand firmly (common practice, no source)."""


def job_from_rows(row: JobBase, *, file: str, tables: Tables) -> Job:
    """Return the job without its echoes and findings. The rows agree with each other and with the tables."""
    units = Units(row.units)
    construction = _settled(default_construction(units), row.construction, tables)
    stocks = tuple(_stock(name, stock, units, tables) for name, stock in row.stock.items())
    cabinets = tuple(
        _faced(
            _cabinet(
                cabinet,
                units=units,
                construction=_settled(construction, cabinet, tables),
                use=row.use,
                stocks=stocks,
            ),
            cabinet,
            row,
        )
        for cabinet in row.cabinet
        if cabinet.qty
    )
    corners = tuple(
        corner_order(
            corner,
            units=units,
            settle=lambda own: _settled(construction, own, tables),
            make=lambda leg, own: _cabinet(leg, units=units, construction=own, use=row.use, stocks=stocks),
            faces=Faces(row.faces),
            mount=Mount(row.mount),
            door_style=DoorStyle(row.door_style),
            shelf_load_pa=(row.shelf_load or read_load(DEFAULT_LOAD)).pa,
        )
        for corner in row.corner
        if corner.qty
    )
    ladders = tuple(
        ladder_order(ladder, units=units, construction=construction, carcass=row.use.carcass or stocks[0].name)
        for ladder in row.ladder_base
        if ladder.qty
    )
    made = ordered(cabinets, corners, ladders)
    return Job(
        name=row.name,
        file=file,
        units=units,
        post=row.post,
        shop=_shop(row, tables),
        stocks=stocks,
        cutting=_cutting(row.cutting, units),
        cabinets=cabinets,
        parts=tuple(
            part_order(part, stocks=stocks, clearance_mm=construction.fit_clearance_mm) for part in row.part if part.qty
        ),
        corners=corners,
        ladders=ladders,
        covers=tuple(cover_order(panel) for panel in row.panel),
        fillers=tuple(filler_order(filler, units) for filler in row.filler),
        runs=tuple(run_order(run, made, units) for run in row.run),
        shelf_limit=float(row.shelf_limit),
        shelf_file=row.offcuts or "",
        banding_allowance_mm=mm_or(row.banding_allowance, _BANDING[units], units),
        banding_waste_percent=float(row.banding_waste),
    )


def _settled(construction: Construction, row: Row | None, tables: Tables) -> Construction:
    return with_settings(with_hardware(construction, row, tables.hardware), row)


def with_settings(construction: Construction, row: Row | None) -> Construction:
    """Return the construction with the settings that the row gives."""
    changes: dict[str, Any] = {}
    for setting in SETTINGS:
        value = getattr(row, setting.key, None)
        if isinstance(value, Length):
            changes[setting.field] = value.mm
    for choice in WORD_SETTINGS:
        word = getattr(row, choice.key, None)
        if isinstance(word, str):
            changes[choice.key] = choice.words(word)
    return replace(construction, **changes)


def _stock(name: str, row: StockRow, units: Units, tables: Tables) -> Stock:
    good = next(good for good in tables.sheet_goods if good.name == row.sheet)
    blank_x, blank_y = row.blank
    return Stock(
        name=name,
        sheet=good.name,
        material=good.material,
        nominal_mm=good.nominal_mm,
        measured_mm=row.thickness.mm if row.thickness else None,
        blank_x_mm=blank_x.mm,
        blank_y_mm=blank_y.mm,
        has_grain=good.has_grain,
        grain_along_x=row.grain_along == "x",
        trim_mm=mm_or(row.trim, _TRIM[units], units),
        full_sheet_mm=(row.full_sheet[0].mm, row.full_sheet[1].mm) if row.full_sheet else None,
        saw_kerf_mm=mm_or(row.saw_kerf, _KERF[units], units),
        keep_factory_edge=row.keep_factory_edge,
        price=row.price,
    )


def _shop(row: JobBase, tables: Tables) -> Shop:
    machine = next(machine for machine in tables.machines if machine.name == row.machine)
    return Shop(
        machine=replace(machine, clamps=(*machine.clamps, *(_clamp(clamp) for clamp in row.clamp))),
        cutters=tuple(cutter for cutter in tables.cutters if cutter.number in row.cutters),
        chip_loads=tables.chip_loads,
        materials=tables.materials,
        sheet_goods=tables.sheet_goods,
        tunings=tables.tunings,
    )


def _clamp(row: ClampRow) -> Clamp:
    return Clamp(
        name=row.name,
        x_mm=row.x.mm,
        y_mm=row.y.mm,
        length_x_mm=row.length_x.mm,
        length_y_mm=row.length_y.mm,
        height_mm=row.height.mm,
    )


def _cutting(row: CuttingRow, units: Units) -> Cutting:
    default = Cutting()
    return Cutting(
        spacing_mm=row.spacing.mm if row.spacing else None,
        web_mm=row.web.mm if row.web else default.web_mm,
        direction=row.direction,
        hold=Hold(row.hold),
        tab_length_mm=row.tab_length.mm if row.tab_length else default.tab_length_mm,
        tab_height_mm=row.tab_height.mm if row.tab_height else default.tab_height_mm,
        tab_spacing_mm=row.tab_spacing.mm if row.tab_spacing else default.tab_spacing_mm,
        skin_mm=row.skin.mm if row.skin else default.skin_mm,
        finish=row.finish,
        finish_mm=row.finish_allowance.mm if row.finish_allowance else default.finish_mm,
        loose_waste=row.loose_waste,
        ramp_deg=float(row.ramp_deg),
        stepover=float(row.stepover),
        profile_cutter=row.profile_cutter,
        two_faces=row.two_faces,
        index_hole_mm=mm_or(row.index_hole, _INDEX_HOLE[units], units),
        index_depth_mm=mm_or(row.index_depth, _INDEX_HOLE[units], units),
        hold_down=row.hold_down,
        screw_hole_mm=mm_or(row.screw_hole, SCREW_HOLE[units], units),
        screw_head_mm=mm_or(row.screw_head, SCREW_HEAD[units], units),
        screw_head_height_mm=mm_or(row.screw_head_height, SCREW_HEAD_HEIGHT[units], units),
        small_part_mm=row.small_part.mm if row.small_part else default.small_part_mm,
        layout_effort=row.layout_effort,
        offcut_tolerance_mm=row.offcut_tolerance.mm if row.offcut_tolerance else default.offcut_tolerance_mm,
    )


def _cabinet(
    row: CabinetBase,
    *,
    units: Units,
    construction: Construction,
    use: UseRow,
    stocks: tuple[Stock, ...],
) -> CabinetOrder:
    kind = CabinetKind(row.kind)
    own_kind = KINDS[kind]
    own = row.stocks or UseRow()
    # A cabinet's own carcass stock is for its carcass alone: what follows carcass in [use] goes on following [use].
    carcass = use.carcass or stocks[0].name
    back = use.back or carcass
    doors = _doors(row, own_kind, units)
    blind = blind_order(row, own_kind, units)
    hinge = row.hinge or (FAR_HAND[blind.hand] if blind else "left")
    return CabinetOrder(
        name=row.name,
        kind=kind,
        qty=row.qty,
        width_mm=row.width.mm,
        height_mm=mm_or(row.height, own_kind.height[units], units),
        depth_mm=mm_or(row.depth, own_kind.depth[units], units),
        doors=doors,
        hinge=hinge,
        drawer_front_heights_mm=_front_heights(row, own_kind, units, 0 if row.opening else doors),
        drawer_length_mm=row.drawer_length.mm if row.drawer_length else None,
        fixed_shelves=row.fixed_shelves,
        adjustable_shelves=_shelves(row, own_kind),
        back=row.back is not False and construction.back is not BackPlace.NONE,
        nailer=_nailer(row, own_kind, construction),
        slab_doors=row.slab_doors,
        carcass_stock=own.carcass or carcass,
        back_stock=own.back or back,
        drawer_stock=own.drawer or use.drawer or carcass,
        drawer_bottom_stock=own.drawer_bottom or use.drawer_bottom or back,
        front_stock=own.front or use.front or carcass,
        side_stock=own.side or use.side or "",
        construction=construction,
        dividers_mm=_dividers(row),
        divider_pins=row.divider_pins,
        columns=column_orders(row),
        fronts=front_orders(row, hinge, doors_for(row, units)),
        opening=opening_order(row.opening),
        cut_outs=tuple(cut_out_order(hole) for hole in row.cut_outs),
        blind=blind,
        split_mm=tuple(height.mm for height in row.split),
    )


def _dividers(row: CabinetBase) -> tuple[float | None, ...]:
    if row.columns and not row.dividers:
        return (None,) * (len(row.columns) - 1)
    return tuple(place.mm if place is not None else None for place in row.dividers)


def _faced(order: CabinetOrder, row: CabinetBase, job: JobBase) -> CabinetOrder:
    """Return the order with its face and what its shelves carry: its own words, else its run's, else the job's."""
    faces, mount = faces_by_cabinet(job.run).get(row.name, (None, None))
    return replace(
        order,
        shelf_load_pa=(row.shelf_load or job.shelf_load or read_load(DEFAULT_LOAD)).pa,
        faces=Faces(row.faces or faces or job.faces),
        mount=Mount(row.mount or mount or job.mount),
        door_style=DoorStyle(row.door_style or job.door_style),
    )


def _nailer(row: CabinetBase, kind: KindRow, construction: Construction) -> Nailer:
    if row.nailer is not None:
        return Nailer(row.nailer)
    if row.back is not False and construction.back is BackPlace.NONE:
        return Nailer.BOTH
    return kind.nailer


def _doors(row: CabinetBase, kind: KindRow, units: Units) -> int:
    if row.columns is not None:
        return 0
    if row.doors is not None:
        return row.doors
    if not kind.doors:
        return 0
    return 1 if kind.is_blind else doors_for(row, units)


def _shelves(row: CabinetBase, kind: KindRow) -> int:
    if row.adjustable_shelves is not None:
        return row.adjustable_shelves
    return kind.shelves if row.fronts is None and row.columns is None else 0


def _front_heights(row: CabinetBase, kind: KindRow, units: Units, doors: int) -> tuple[float, ...]:
    """Return the drawer fronts' heights; 0 is an equal share of what is left, and above doors that would be all."""
    if row.drawers is None:
        return (0.0,) * kind.drawers if row.fronts is None and row.columns is None else ()
    share = mm_or(None, _TOP_DRAWER[units], units) if doors else 0.0
    return tuple(share if height is None else height.mm for height in row.drawers)
