"""From the job's orders to cabinets with every size settled. Millimetres.

Copies of an order become cabinets of their own, `B1`, `B1-2`, `B1-3`. A cabinet that cannot be made is left out and
said to be: all errors of all cabinets come back together. What a kind brings stands in `job.kinds`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rabbetry.cabinets.appliance import check_rooms, divide, vents
from rabbetry.cabinets.blind import settle_blind
from rabbetry.cabinets.box_screws import place_box_screws
from rabbetry.cabinets.checks import check_practice, check_size, check_through
from rabbetry.cabinets.columns import check_one_box, settle_columns, with_columns
from rabbetry.cabinets.corner import settle_corner
from rabbetry.cabinets.covers import Outside, outside_of, parts_beside
from rabbetry.cabinets.cut_outs import settle_cut_outs
from rabbetry.cabinets.dividers import place_dividers
from rabbetry.cabinets.drawers import make_drawers
from rabbetry.cabinets.faces import check_face
from rabbetry.cabinets.frame_ends import frame_ends, parted_frames
from rabbetry.cabinets.frames import frame_members
from rabbetry.cabinets.fronts import make_fronts
from rabbetry.cabinets.heights import dividing_levels, openings_behind, stack_of
from rabbetry.cabinets.hinges import check_hinges
from rabbetry.cabinets.kicks import resolve_kicks
from rabbetry.cabinets.ladder import settle_ladder
from rabbetry.cabinets.model import Cabinet, CornerCabinet, FrameEnds, LadderBase, PlainPart, Resolved, Stand, Stocks
from rabbetry.cabinets.parts import settle_part
from rabbetry.cabinets.pieces import Piece, must_stack, row_pieces, stack_pieces
from rabbetry.cabinets.pin_rows import confusable_pitches
from rabbetry.cabinets.run_fillers import run_fillers
from rabbetry.cabinets.seats import check_span, with_lid
from rabbetry.cabinets.shelves import assign_shelves, check_dividing, place_fixed_shelves, place_pins
from rabbetry.cabinets.words import check_words, word_notes
from rabbetry.findings import Finding, finding, has_error
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetOrder, Faces, Job
from rabbetry.job.words import TopWord


def resolve_cabinets(job: Job) -> Resolved:
    """Return the job's cabinets and plain parts, in the job's order, copies numbered; and every finding.

    Findings of an order are said once, for its first copy. Raises KeyError when an order names a stock the job lacks.
    """
    taken = {order.name for order in job.cabinets} | {part.name for part in job.parts}
    taken |= {order.name for order in job.corners} | {order.name for order in job.ladders}
    taken |= {kick.name for kick in job.kicks}
    taken |= {cover.name for cover in job.covers} | {filler.name for filler in job.fillers}
    outsides: dict[str, Outside] = {}
    cabinets: list[Cabinet] = []
    findings: list[Finding] = []
    stands: list[Stand] = []
    ends = frame_ends(job)
    findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in parted_frames(job))
    for order in job.cabinets:
        own_ends = ends.get(order.name, ())
        boxes, said = _boxes(job, order, own_ends[0] if own_ends else None)
        findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
        for number, name in enumerate(_copies(order.name, order.qty, taken, [suffix for suffix, _ in boxes])):
            outsides[name] = outside_of(order)
            if number and own_ends:
                boxes, _ = _boxes(job, order, own_ends[number] if number < len(own_ends) else None)
            named = [replace(box, name=f"{name} {suffix}".rstrip()) for suffix, box in boxes]
            cabinets.extend(named)
            stands.append(Stand(order=order.name, name=name, boxes=tuple(box.name for box in named)))
    findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in confusable_pitches(cabinets))
    parts: list[PlainPart] = []
    beside, said = parts_beside(job, outsides)
    findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
    for wanted in (*job.parts, *beside, *run_fillers(job)):
        part, said = settle_part(job, wanted)
        findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
        if part is not None:
            parts.extend(replace(part, name=name) for name in _copies(wanted.name, wanted.qty, taken))
    corners: list[CornerCabinet] = []
    for corner_order in job.corners:
        corner, said = settle_corner(corner_order, lambda leg: _resolve(job, leg))
        findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
        if corner is not None:
            for name in _copies(corner_order.name, corner_order.qty, taken):
                left, right = replace(corner.left, name=name), replace(corner.right, name=name)
                corners.append(replace(corner, name=name, left=left, right=right))
                stands.append(Stand(order=corner_order.name, name=name, boxes=()))
    ladders: list[LadderBase] = []
    for ladder_order in job.ladders:
        ladder, said = settle_ladder(ladder_order, job.stock(ladder_order.stock))
        findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
        if ladder is not None:
            for name in _copies(ladder_order.name, ladder_order.qty, taken):
                ladders.append(replace(ladder, name=name))
                stands.append(Stand(order=ladder_order.name, name=name, boxes=()))
    kicks, said = resolve_kicks(job, lambda name, count: tuple(_copies(name, count, taken)))
    findings.extend(replace(item, where=replace(item.where, file=job.file)) for item in said)
    return Resolved(
        cabinets=tuple(cabinets),
        parts=tuple(parts),
        findings=tuple(findings),
        kicks=kicks,
        corners=tuple(corners),
        ladders=tuple(ladders),
        stands=tuple(stands),
    )


def _boxes(
    job: Job, order: CabinetOrder, ends: FrameEnds | None = None
) -> tuple[tuple[tuple[str, Cabinet], ...], tuple[Finding, ...]]:
    """Return the boxes of an order, each with what follows the cabinet's name; none when one of them has an error."""
    pieces, said = _pieces(job, order)
    findings = list(said)
    boxes: list[tuple[str, Cabinet]] = []
    for piece in pieces:
        box, said = _resolve(job, piece.order, ends)
        findings.extend(said)
        if box is not None:
            joined = replace(
                box, base_z_mm=piece.base_z_mm, joined_above=piece.joined_above, joined_below=piece.joined_below
            )
            boxes.append((piece.suffix, joined))
    return (() if has_error(findings) else tuple(boxes)), tuple(findings)


def _pieces(job: Job, order: CabinetOrder) -> tuple[tuple[Piece, ...], tuple[Finding, ...]]:
    shell = _shell(job, order)
    if not must_stack(shell, order):
        pieces, said = row_pieces(shell, order)
        return pieces, (*said, *check_one_box(order, pieces))
    faults = check_size(shell)
    if has_error(faults):
        return (), faults
    pieces, said = stack_pieces(shell, order)
    return pieces, (*said, *check_one_box(order, pieces))


def _resolve(
    job: Job, order: CabinetOrder, ends: FrameEnds | None = None
) -> tuple[Cabinet | None, tuple[Finding, ...]]:
    order, said = _without_what_the_kind_lacks(order)
    cabinet = replace(with_lid(_shell(job, order)), frame_ends=ends)
    findings = [*said, *check_size(cabinet)]
    if has_error(findings):
        return None, tuple(findings)
    cabinet, said = settle_blind(cabinet, order.blind, stack_of(order))
    findings.extend(said)
    if has_error(said):
        return None, tuple(findings)
    bands, said = divide(cabinet, order)
    findings.extend(said)
    if has_error(said):
        return None, tuple(findings)
    findings.extend(check_face(cabinet, [band.fill for band in bands]))
    if has_error(findings):
        return None, tuple(findings)
    openings, said = assign_shelves(cabinet, order, openings_behind(cabinet, bands))
    findings.extend(said)
    shelves, rails = dividing_levels(cabinet, bands)
    cabinet = replace(cabinet, openings=openings, fixed_shelf_z_mm=shelves, rail_z_mm=rails)
    cabinet = replace(cabinet, adjustable_shelves=sum(opening.adjustable_shelves for opening in openings))
    findings.extend(check_dividing(cabinet))
    if cabinet.faces is Faces.FACE_FRAME:
        cabinet = replace(cabinet, frame=frame_members(cabinet, bands))
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
    columns, said = settle_columns(cabinet, order, lambda own: _resolve(job, own), findings)
    findings.extend(said)
    cabinet = with_columns(cabinet, columns)
    holes, said = settle_cut_outs(cabinet, (*order.cut_outs, *vents(cabinet)))
    findings.extend((*said, *check_rooms(cabinet), *check_span(cabinet)))
    cabinet = replace(cabinet, cut_outs=holes)
    impossible = (*check_words(cabinet), *check_through(cabinet))
    z_zero = job.shop.machine.z_zero
    findings.extend(impossible or (*check_practice(cabinet), *word_notes(cabinet, z_zero)))
    return (None if has_error(findings) else cabinet), tuple(findings)


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
        has_top_panel=_has_top_panel(order),
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
        column=order.column,
        column_ends=order.column_ends,
    )


def _has_top_panel(order: CabinetOrder) -> bool:
    kind, word = KINDS[order.kind], order.construction.top
    return kind.has_top_panel if word is TopWord.BY_KIND or kind.has_lid else word is TopWord.FULL


def _overhang(order: CabinetOrder) -> float:
    """Return how far a face frame stands past the case at each side: the width ordered is the frame's."""
    return order.construction.frame_overhang_mm if order.faces is Faces.FACE_FRAME else 0.0


def _front_density(job: Job, order: CabinetOrder) -> float | None:
    """Return the density of fronts cut from sheet; what others make may be of anything."""
    material = job.stock(order.front_stock).material
    rows = [row.density_kg_per_m3 for row in job.shop.materials if row.name == material]
    return rows[0] if rows and order.slab_doors else None


def _copies(name: str, qty: int, taken: set[str], suffixes: Sequence[str] = ("",)) -> Iterator[str]:
    """Yield `qty` names: the name itself, then `name-2` and on, passing over names in `taken`; adds them to it. Names
    whose boxes, called after them with a suffix, have a name that is taken are passed over too."""
    number = 1
    for _ in range(qty):
        while True:
            copy = name if number == 1 else f"{name}-{number}"
            boxes = {f"{copy} {suffix}" for suffix in suffixes if suffix}
            number += 1
            if not boxes & taken and (copy == name or copy not in taken):
                break
        taken |= {copy, *boxes}
        yield copy
