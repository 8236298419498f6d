"""Checks of the planned steps against what lies around them: clamps, other parts, cutter lengths, the spoilboard."""

from collections.abc import Iterable, Sequence

import shapely
import shapely.ops

from rabbetry.findings import Finding, finding
from rabbetry.geometry.regions import region_polygon
from rabbetry.operations.bench import Bench, Placed, Step
from rabbetry.operations.choose import stays_in_up_cut
from rabbetry.operations.hold import too_tall
from rabbetry.operations.model import Operation
from rabbetry.shop.model import Clamp, Cutter
from rabbetry.tolerances import DEPTH_MM, FIT_MM, WIDTH_MM


def check_steps(steps: Sequence[Step], parts: Sequence[Placed], bench: Bench) -> tuple[Finding, ...]:
    """Return what is wrong with the steps of one sheet, and what to look after at the machine."""
    operations = [step.operation for step in steps]
    return (
        *_sheet_settings(bench),
        *(told for step in steps for clamp in bench.machine.clamps for told in _in_clamp(step, clamp, bench)),
        *(told for step in steps for told in _run_out_in_part(step, parts)),
        *_outline_in_part(parts, bench),
        *_cutter_lengths(operations),
        *_up_cut_tips(operations),
    )


def _sheet_settings(bench: Bench) -> Iterable[Finding]:
    machine = bench.machine
    if machine.through_mm > machine.spoilboard_allowance_mm + DEPTH_MM:
        yield finding(
            "through-too-deep",
            f"through cuts would bite {machine.through_mm:.4g} mm into the spoilboard; machine {machine.name} allows "
            f"{machine.spoilboard_allowance_mm:.4g} mm",
        )
    fault = too_tall(bench.cutting, bench.thickness_mm)
    if fault:
        yield finding("hold-too-tall", fault)


def _in_clamp(step: Step, clamp: Clamp, bench: Bench) -> Iterable[Finding]:
    """The cut with the machine's clamp margin must stay out of the clamp's box at any depth."""
    box = shapely.box(clamp.x_mm, clamp.y_mm, clamp.x_mm + clamp.length_x_mm, clamp.y_mm + clamp.length_y_mm)
    room_mm = float(step.ground.distance(box)) - step.reach_mm
    if room_mm < bench.machine.clamp_margin_mm - FIT_MM:
        near = shapely.ops.nearest_points(step.ground, box)[1]
        how = "enters" if room_mm <= 0 else f"comes within {room_mm:.4g} mm of"
        yield finding(
            "cut-in-clamp",
            f'{step.operation.name} {how} clamp "{clamp.name}" (margin {bench.machine.clamp_margin_mm:g} mm); '
            "move the clamp or keep that part of the blank free",
            panel=step.operation.panel,
            x=near.x,
            y=near.y,
        )


def _run_out_in_part(step: Step, parts: Sequence[Placed]) -> Iterable[Finding]:
    if step.run_out is None or step.run_out.is_empty:
        return
    for part in parts:
        if part.panel.id == step.operation.panel:
            continue
        low_x, low_y, high_x, high_y = part.outline.bounds
        if not step.run_out.intersects(shapely.box(low_x, low_y, high_x, high_y)):
            continue
        bitten = step.run_out.intersection(region_polygon(part.outline)).buffer(-FIT_MM)
        if not bitten.is_empty:
            place = bitten.representative_point()
            yield finding(
                "run-out-in-part",
                f"{step.operation.name}: running out past the open edge cuts into {part.panel.id}; "
                "put more space between the parts",
                panel=step.operation.panel,
                x=place.x,
                y=place.y,
            )


def _outline_in_part(parts: Sequence[Placed], bench: Bench) -> Iterable[Finding]:
    """The cutter goes round a part at its own width; the next part must be at least that far."""
    if bench.profile is None:
        return
    width_mm = bench.profile.cut_diameter_mm
    shapes = [region_polygon(part.outline) for part in parts]
    for i, part in enumerate(parts):
        for other, shape in zip(parts[i + 1 :], shapes[i + 1 :], strict=True):
            gap_mm = float(shapes[i].distance(shape))
            if gap_mm < width_mm - FIT_MM:
                near = shapely.ops.nearest_points(shapes[i], shape)[0]
                yield finding(
                    "cut-in-part",
                    f"{part.panel.id} and {other.panel.id} lie {gap_mm:.4g} mm apart; profile cutter "
                    f"{bench.profile.number} takes {width_mm:.4g} mm between them",
                    panel=part.panel.id,
                    x=near.x,
                    y=near.y,
                )


def _cutter_lengths(operations: Sequence[Operation]) -> Iterable[Finding]:
    """One finding a cutter: its deepest cut against its flutes, and against what sticks out of the collet."""
    for cutter, own in _by_cutter(operations):
        deepest = max(own, key=lambda operation: (operation.work.depth_mm, operation.name))
        depth = deepest.work.depth_mm
        if depth <= cutter.flute_length_mm + DEPTH_MM:
            continue
        name = f'{deepest.name}: {depth:.4g} mm deep with cutter {cutter.number} "{cutter.name}"'
        if depth > cutter.stick_out_mm:
            text = f"{name}, which sticks out only {cutter.stick_out_mm:g} mm: the collet would hit the stock"
            yield finding("flute-too-short", text, severity="error", panel=deepest.panel)
        elif cutter.shank_diameter_mm > cutter.cut_diameter_mm + WIDTH_MM:
            text = f"{name}, whose flutes are {cutter.flute_length_mm:g} mm long: its thicker shank would hit the stock"
            yield finding("flute-too-short", text, severity="error", panel=deepest.panel)
        else:
            text = f"{name}, whose flutes are {cutter.flute_length_mm:g} mm long: its shank would rub"
            yield finding("flute-too-short", text, panel=deepest.panel)


def _up_cut_tips(operations: Sequence[Operation]) -> Iterable[Finding]:
    """One finding a compression cutter whose first pass stays within the up-cut tip somewhere."""
    for cutter, own in _by_cutter(operations):
        shallow = [operation for operation in own if stays_in_up_cut(cutter, _first_pass_mm(operation))]
        if shallow:
            more = f" and {len(shallow) - 1} more" if len(shallow) > 1 else ""
            yield finding(
                "compression-shallow",
                f"{shallow[0].name}{more}: passes of {_first_pass_mm(shallow[0]):.4g} mm stay within the "
                f'{cutter.up_cut_length_mm:g} mm up-cut tip of compression cutter {cutter.number} "{cutter.name}": '
                "the top face splinters; load a plain or down-cut cutter for it",
                panel=shallow[0].panel,
            )


def _first_pass_mm(operation: Operation) -> float:
    return operation.cutter.first_pass_mm(operation.work.depth_mm, operation.pass_mm)


def _by_cutter(operations: Sequence[Operation]) -> Iterable[tuple[Cutter, list[Operation]]]:
    for number in sorted({operation.cutter.number for operation in operations}):
        own = [operation for operation in operations if operation.cutter.number == number]
        yield own[0].cutter, own
