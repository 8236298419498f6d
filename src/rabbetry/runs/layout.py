"""Runs laid out along their walls: where each item stands, and whether all fits. Millimetres, run frame."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations, product

from rabbetry.cabinets.model import Cabinet, CornerCabinet, Resolved, Stand
from rabbetry.findings import Finding, finding
from rabbetry.job.choices import RunItem, RunOrder
from rabbetry.job.model import Job
from rabbetry.runs.bases import check_bases, place_bases
from rabbetry.runs.model import PlacedBox, PlacedItem, Run
from rabbetry.runs.trim import place_covers, place_kicks
from rabbetry.tolerances import FIT_MM
from rabbetry.units import show_length


def lay_out_runs(job: Job, resolved: Resolved) -> tuple[tuple[Run, ...], tuple[Finding, ...]]:
    """Return the runs as they stand, copies of a cabinet taken in their order, and every sum that does not come out,
    every overlap, and every height that is impossible."""
    waiting: defaultdict[str, list[Stand]] = defaultdict(list)
    for stand in resolved.stands:
        waiting[stand.order].append(stand)
        for leg in ("left", "right"):
            waiting[f"{stand.order} {leg} leg"].append(stand)
    boxes = {cabinet.name: cabinet for cabinet in resolved.cabinets}
    corners = {corner.name: corner for corner in resolved.corners}
    runs: list[Run] = []
    findings: list[Finding] = []
    units = job.units.value
    for order in job.runs:
        lower = _with_corners(_row(order.items, waiting, boxes, is_upper=False), order.items, waiting, corners)
        upper = _with_corners(_row(order.upper, waiting, boxes, is_upper=True), order.upper, waiting, corners)
        bases = place_bases(lower, resolved, waiting)
        kicks, floors = place_kicks(job, resolved.kicks, lower)
        run = Run(
            name=order.name,
            length_mm=order.length_mm,
            left=order.left,
            right=order.right,
            items=(*lower, *upper),
            counter_z_mm=order.counter_height_mm,
            counter_thickness_mm=order.counter_thickness_mm,
            room_height_mm=order.room_height_mm,
            aisle_mm=order.aisle_mm,
            cooks=order.cooks,
            bases=bases,
            covers=place_covers(job, (*lower, *upper)),
            kicks=kicks,
            floors=floors,
        )
        runs.append(run)
        findings += [*_sums(order, units), *_overlaps(run, units), *_too_high(run, units)]
        findings += check_bases(run, resolved, units)
    return tuple(runs), tuple(findings)


def _row(
    items: Sequence[RunItem],
    waiting: Mapping[str, list[Stand]],
    boxes: Mapping[str, Cabinet],
    *,
    is_upper: bool,
) -> list[PlacedItem]:
    placed = []
    x = 0.0
    for item in items:
        stand = waiting[item.name].pop(0) if item.sort == "cabinet" and waiting[item.name] else None
        own = [boxes[name] for name in stand.boxes if name in boxes] if stand else []
        placed.append(
            PlacedItem(
                sort=item.sort,
                name=stand.name if stand else item.name,
                use=item.use,
                x_mm=x,
                z_mm=item.bottom_mm,
                width_mm=item.width_mm,
                height_mm=item.height_mm,
                is_upper=is_upper,
                on=item.on,
                boxes=tuple(_placed_boxes(own, x, item.bottom_mm)),
            )
        )
        x += item.width_mm
    return placed


def _with_corners(
    placed: Sequence[PlacedItem],
    items: Sequence[RunItem],
    waiting: Mapping[str, list[Stand]],
    corners: Mapping[str, CornerCabinet],
) -> list[PlacedItem]:
    """Return the row with the legs of its corners in place. The width ordered begins at a face frame's outer edge."""
    found = []
    for place, item in zip(placed, items, strict=True):
        stands = waiting[f"{item.name} {item.leg} leg"]
        if item.sort != "corner" or not stands:
            found.append(place)
            continue
        corner = corners[stands.pop(0).name]
        leg, other = (corner.left, corner.right) if item.leg == "left" else (corner.right, corner.left)
        x = place.x_mm + (leg.frame_overhang_mm if item.leg == "left" else 0.0)
        turn = (0.0, other.depth_mm) if item.leg == "left" else (other.depth_mm, 0.0)
        box = PlacedBox(cabinet=leg, x_mm=x, z_mm=item.bottom_mm)
        found.append(replace(place, name=corner.name, boxes=(box,), turn_mm=turn))
    return found


def _placed_boxes(boxes: Sequence[Cabinet], x: float, z: float) -> Iterator[PlacedBox]:
    """Yield the boxes of a cabinet: above each other where they say so, else side by side. The width ordered begins
    at a face frame's edge, the box at its case."""
    is_stacked = any(box.base_z_mm for box in boxes)
    for box in boxes:
        over = box.frame_overhang_mm
        yield PlacedBox(cabinet=box, x_mm=x + over, z_mm=z + box.base_z_mm)
        x += 0.0 if is_stacked else box.width_mm + 2 * over


def _sums(order: RunOrder, units: str) -> Iterator[Finding]:
    for row, items in (("items", order.items), ("upper", order.upper)):
        if not items:
            continue
        widths = [item.width_mm for item in items]
        fill = next((item for item in items if item.is_fill), None)
        fixed = [item for item in items if not item.is_fill]
        taken = sum(item.width_mm for item in fixed)
        words = " + ".join(f"{item.name} {show_length(item.width_mm, units)}" for item in fixed)
        wall = f"the wall of {show_length(order.length_mm, units)}"
        place = f'run "{order.name}", {row}: {words} = {show_length(taken, units)}'
        if fill is not None and fill.width_mm < -FIT_MM:
            over = show_length(-fill.width_mm, units)
            yield finding("run-sum", f"{place}, {over} more than {wall}; nothing is left for the {fill.name}")
        elif fill is None and abs(sum(widths) - order.length_mm) > FIT_MM:
            off = order.length_mm - taken
            word = "less" if off > 0 else "more"
            cure = f'; add a filler of {show_length(off, units)}, or {{ filler = "fill" }}' if off > 0 else ""
            yield finding("run-sum", f"{place}, {show_length(abs(off), units)} {word} than {wall}{cure}")


def _overlaps(run: Run, units: str) -> Iterator[Finding]:
    """Yield what hangs where something stands, and panels over ends and tops that have no gap left for them."""
    solid = [item for item in run.items if item.sort != "gap" and item.width_mm > 0]
    pairs = [(a, b) for a, b in combinations(solid, 2) if a.is_upper != b.is_upper]
    for a, b in (*pairs, *product(run.covers, solid)):
        wide = min(a.right_mm, b.right_mm) - max(a.x_mm, b.x_mm)
        high = min(a.top_mm, b.top_mm) - max(a.z_mm, b.z_mm)
        if wide > FIT_MM and high > FIT_MM:
            size = f"{show_length(wide, units)} wide and {show_length(high, units)} high"
            yield finding("run-overlap", f'run "{run.name}": {a.name} and {b.name} would both fill a place {size}')
    for cover in run.covers:
        for word, over in ((run.left, -cover.x_mm), (run.right, cover.right_mm - run.length_mm)):
            if word != "open" and over > FIT_MM:
                text = (
                    f"{cover.name} would reach {show_length(over, units)} into what ends the wall; leave a gap for it"
                )
                yield finding("run-overlap", f'run "{run.name}": {text}')


def _too_high(run: Run, units: str) -> Iterator[Finding]:
    if run.room_height_mm is None:
        return
    for item in run.items:
        if item.top_mm > run.room_height_mm + FIT_MM:
            sums = f"{show_length(item.z_mm, units)} + {show_length(item.height_mm, units)}"
            room = f"the room is {show_length(run.room_height_mm, units)} high"
            message = f'run "{run.name}": {item.name} would reach {show_length(item.top_mm, units)} ({sums}); {room}'
            yield finding("run-too-high", message)
