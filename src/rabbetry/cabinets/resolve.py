"""From the job's orders to cabinets with every size settled. Millimetres.

Copies of an order become cabinets of their own, `B1`, `B1-2`, `B1-3`. A cabinet that cannot be made is left out and
said to be: all errors of all cabinets come back together. What a kind brings stands in `job.kinds`.
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.box_screws import place_box_screws
from rabbetry.cabinets.checks import check_practice, check_size, check_through
from rabbetry.cabinets.dividers import place_dividers
from rabbetry.cabinets.drawers import make_drawers
from rabbetry.cabinets.fronts import make_fronts
from rabbetry.cabinets.heights import Band, divide_front, dividing_levels, openings_behind
from rabbetry.cabinets.hinges import check_hinges
from rabbetry.cabinets.kicks import resolve_kicks
from rabbetry.cabinets.model import Cabinet, PlainPart, Resolved, Stocks
from rabbetry.cabinets.parts import settle_part
from rabbetry.cabinets.pin_rows import confusable_pitches
from rabbetry.cabinets.shelves import assign_shelves, place_fixed_shelves, place_pins
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetOrder, Faces, Job


def resolve_cabinets(job: Job) -> Resolved:
    """Return the job's cabinets and plain parts, in the job's order, copies numbered; and every finding.

    Findings of an order are said once, for its first copy. Raises KeyError when an order names a stock the job lacks.
    """
    taken = {order.name for order in job.cabinets} | {part.name for part in job.parts}
    taken |= {kick.name for kick in job.kicks}
    cabinets: list[Cabinet] = []
    findings: list[Finding] = []
    for order in job.cabinets:
        cabinet, said = _resolve(job, order)
        findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
        if cabinet is not None:
            cabinets.extend(replace(cabinet, name=name) for name in _copies(order.name, order.qty, taken))
    findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in confusable_pitches(cabinets))
    parts: list[PlainPart] = []
    for wanted in job.parts:
        part, said = settle_part(job, wanted)
        findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
        if part is not None:
            parts.extend(replace(part, name=name) for name in _copies(wanted.name, wanted.qty, taken))
    kicks, said = resolve_kicks(job, lambda name, count: tuple(_copies(name, count, taken)))
    findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
    return Resolved(cabinets=tuple(cabinets), parts=tuple(parts), findings=tuple(findings), kicks=kicks)


def _resolve(job: Job, order: CabinetOrder) -> tuple[Cabinet | None, tuple[Finding, ...]]:
    order, said = _without_what_the_kind_lacks(order)
    cabinet = _shell(job, order)
    findings = [*said, *check_size(cabinet)]
    if has_error(findings):
        return None, tuple(findings)
    bands, said = _divide(cabinet, order)
    findings.extend(said)
    if has_error(said):
        return None, tuple(findings)
    openings, said = assign_shelves(cabinet, order, openings_behind(cabinet, bands))
    findings.extend(said)
    shelves, rails = dividing_levels(cabinet, bands)
    cabinet = replace(cabinet, openings=openings, fixed_shelf_z_mm=shelves, rail_z_mm=rails)
    cabinet = replace(cabinet, adjustable_shelves=sum(opening.adjustable_shelves for opening in openings))
    dividers, said = place_dividers(cabinet, order)
    findings.extend(said)
    cabinet = replace(cabinet, divider_x_mm=dividers, divider_pins=order.divider_pins)
    # Shelves first: hinges keep clear of their dados; then pins: they keep clear of the hinges' plates.
    fixed, said = place_fixed_shelves(cabinet)
    findings.extend(said)
    cabinet = replace(cabinet, fixed_shelf_z_mm=tuple(sorted((*shelves, *fixed))))
    fronts, said = make_fronts(cabinet, bands)
    findings.extend(said)
    pins, levels, said = place_pins(cabinet, fronts)
    findings.extend(said)
    drawers, said = make_drawers(cabinet, order, cabinet.openings, job.units)
    findings.extend(said)
    cabinet = replace(cabinet, fronts=fronts, pin_z_mm=pins, shelf_pin_z_mm=levels, drawers=drawers)
    screws, said = place_box_screws(cabinet)
    findings.extend((*said, *check_hinges(cabinet)))
    cabinet = replace(cabinet, box_screws_yz_mm=screws)
    through = check_through(cabinet)
    findings.extend((*through, *(() if through else check_practice(cabinet))))
    return (None if has_error(findings) else cabinet), tuple(findings)


def _divide(cabinet: Cabinet, order: CabinetOrder) -> tuple[tuple[Band, ...], tuple[Finding, ...]]:
    return divide_front(cabinet, order)


def _without_what_the_kind_lacks(order: CabinetOrder) -> tuple[CabinetOrder, tuple[Finding, ...]]:
    if KINDS[order.kind].takes_shelves or not (order.adjustable_shelves or order.fixed_shelves):
        return order, ()
    problem = f"a {order.kind} cabinet gets no shelves; those ordered are left out"
    said = finding("shelves-left-out", f'cabinet "{order.name}": {problem}')
    return replace(order, adjustable_shelves=0, fixed_shelves=0), (said,)


def _shell(job: Job, order: CabinetOrder) -> Cabinet:
    """Return the carcass alone."""
    kind = KINDS[order.kind]
    return Cabinet(
        name=order.name,
        kind=order.kind,
        width_mm=order.width_mm - 2 * _overhang(order),
        height_mm=order.height_mm,
        depth_mm=order.depth_mm,
        has_kick=kind.has_kick and order.construction.kick_height_mm > 0,
        has_top_panel=kind.has_top_panel,
        has_back=order.back,
        nailer=order.nailer,
        stocks=Stocks(
            carcass=job.stock(order.carcass_stock),
            back=job.stock(order.back_stock),
            drawer=job.stock(order.drawer_stock),
            drawer_bottom=job.stock(order.drawer_bottom_stock),
            front=job.stock(order.front_stock),
            own_side=job.stock(order.side_stock) if order.side_stock else None,
        ),
        construction=order.construction,
        openings=(),
        fronts=(),
        cut_fronts=order.slab_doors,
        drawers=(),
        fixed_shelf_z_mm=(),
        adjustable_shelves=0,
        pin_z_mm=(),
        front_density_kg_per_m3=_front_density(job, order),
        faces=order.faces,
        mount=order.mount,
        door_style=order.door_style,
        shelf_load_pa=order.shelf_load_pa,
    )


def _overhang(order: CabinetOrder) -> float:
    """Return how far a face frame stands past the case at each side: the width ordered is the frame's."""
    return order.construction.frame_overhang_mm if order.faces is Faces.FACE_FRAME else 0.0


def _front_density(job: Job, order: CabinetOrder) -> float | None:
    """Return the density of fronts cut from sheet; what others make may be of anything."""
    material = job.stock(order.front_stock).material
    rows = [row.density_kg_per_m3 for row in job.shop.materials if row.name == material]
    return rows[0] if rows and order.slab_doors else None


def _copies(name: str, qty: int, taken: set[str]) -> Iterator[str]:
    """Yield `qty` names: the name itself, then `name-2` and on, passing over names in `taken`; adds them to it."""
    if qty > 0:
        yield name
    number = 2
    for _ in range(qty - 1):
        while f"{name}-{number}" in taken:
            number += 1
        taken.add(f"{name}-{number}")
        yield f"{name}-{number}"
