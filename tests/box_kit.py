"""Jobs made by hand for the tests of cabinets, panels and fit: one order, its stocks, all else at default."""

from dataclasses import replace
from typing import Any

from rabbetry.cabinets.model import Cabinet, Resolved
from rabbetry.cabinets.resolve import resolve_cabinets
from rabbetry.job.model import (
    CabinetKind,
    CabinetOrder,
    Construction,
    Cutting,
    Job,
    Nailer,
    PartOrder,
    Stock,
    Units,
)
from rabbetry.panels.compile import compile_cabinet
from rabbetry.panels.model import Bore, Box, Panel, Recess
from rabbetry.shop.model import Machine, Shop

MACHINE = Machine(
    name="table",
    title="Table",
    travel_min_mm=(0.0, 0.0, -100.0),
    travel_max_mm=(1300.0, 1300.0, 0.0),
    blank_origin_mm=(10.0, 10.0),
    spoilboard_z_mm=-90.0,
    bed_mm=(1250.0, 1250.0),
    max_rate_mm_per_min=(8000.0, 8000.0, 2000.0),
    acceleration_mm_per_s2=(400.0, 400.0, 200.0),
    spindle_min_rpm=8000.0,
    spindle_max_rpm=24000.0,
    spindle_power_kw=1.5,
    spindle_by_hand=False,
)
SHOP = Shop(machine=MACHINE, cutters=(), chip_loads=(), materials=(), sheet_goods=())

WORKED_EXAMPLE = Construction(
    dado_depth_mm=6.0, back_rabbet_depth_mm=6.0, fit_clearance_mm=0.2, kick_height_mm=100.0, stretcher_width_mm=100.0
)
"""The settings of the worked example of the carcass arithmetic; its sizes are `EXAMPLE_SIZE`."""
EXAMPLE_SIZE = {"width_mm": 600.0, "depth_mm": 580.0, "height_mm": 876.0}


def stock(name: str, thickness_mm: float) -> Stock:
    return Stock(
        name=name,
        sheet=name,
        material="plywood",
        nominal_mm=round(thickness_mm),
        measured_mm=thickness_mm,
        blank_x_mm=1220.0,
        blank_y_mm=1220.0,
        has_grain=True,
        grain_along_x=True,
        trim_mm=5.0,
    )


def order(kind: CabinetKind, name: str = "B1", **changes: Any) -> CabinetOrder:
    """An order of that kind with every choice at its plainest."""
    plain = CabinetOrder(
        name=name,
        kind=kind,
        qty=1,
        **EXAMPLE_SIZE,
        doors=0,
        hinge="left",
        drawer_front_heights_mm=(),
        drawer_length_mm=None,
        fixed_shelves=0,
        adjustable_shelves=0,
        back=True,
        nailer=Nailer.NONE,
        slab_doors=True,
        carcass_stock="carcass",
        back_stock="back",
        drawer_stock="drawer",
        drawer_bottom_stock="drawer bottom",
        front_stock="front",
        construction=WORKED_EXAMPLE,
    )
    return replace(plain, **changes)


def job(
    *orders: CabinetOrder,
    parts: tuple[PartOrder, ...] = (),
    units: Units = Units.MM,
    **thicknesses: float,
) -> Job:
    """A job of those orders; thicknesses by stock name (blanks as underscores), else 17.8, 5.8, 12, 6 and 18 mm."""
    sizes = {"carcass": 17.8, "back": 5.8, "drawer": 12.0, "drawer_bottom": 6.0, "front": 18.0, **thicknesses}
    return Job(
        name="kitchen",
        file="kitchen.toml",
        units=units,
        post="plain",
        shop=SHOP,
        stocks=tuple(stock(name.replace("_", " "), mm) for name, mm in sizes.items()),
        cutting=Cutting(),
        cabinets=orders,
        parts=parts,
    )


def resolve(*orders: CabinetOrder, **options: Any) -> Resolved:
    return resolve_cabinets(job(*orders, **options))


def cabinet_of(wanted: CabinetOrder, **options: Any) -> Cabinet:
    """The one cabinet of a job that must resolve without an error."""
    resolved = resolve(wanted, **options)
    assert len(resolved.cabinets) == 1, resolved.findings
    return resolved.cabinets[0]


def box_of(wanted: CabinetOrder, **options: Any) -> Box:
    return compile_cabinet(cabinet_of(wanted, **options))


def panel(box: Box, role: str) -> Panel:
    (found,) = [panel for panel in box.panels if panel.role == role]
    return found


def recess(of: Panel, name: str) -> Recess:
    (found,) = [feature for feature in of.features if isinstance(feature, Recess) and feature.name == name]
    return found


def bores(of: Panel, purpose: str) -> tuple[Bore, ...]:
    return tuple(feature for feature in of.features if isinstance(feature, Bore) and feature.purpose == purpose)


def size(of: Panel) -> tuple[float, float]:
    return of.length_mm, of.width_mm
