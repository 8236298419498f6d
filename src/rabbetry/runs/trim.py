"""What is fitted about the boxes of a run: toe kicks on the floor as it was measured, panels over ends and tops.
Millimetres, run frame."""

from collections.abc import Iterator, Mapping, Sequence

from rabbetry.cabinets.model import KickPiece
from rabbetry.job.choices import CoverOrder
from rabbetry.job.model import Job, KickOrder, KickSpan
from rabbetry.runs.model import MeasuredFloor, PlacedItem, PlacedKick


def place_kicks(
    job: Job, pieces: Sequence[KickPiece], lower: Sequence[PlacedItem]
) -> tuple[tuple[PlacedKick, ...], tuple[MeasuredFloor, ...]]:
    """Return the toe kicks that run under cabinets of a run, and the floor under each; heights are measured from the
    kicks' top edge, which is level with that of the first cabinet's toe kick."""
    placed: list[PlacedKick] = []
    floors: list[MeasuredFloor] = []
    starts = {item.name: item for item in lower if item.sort == "cabinet"}
    for order in job.kicks:
        start = _start(order.spans, starts)
        if start is None:
            continue
        x, top = start
        points = tuple((x + along, top - height) for along, height in order.floor)
        floors.append(MeasuredFloor(top_z_mm=top, points=points))
        for piece in _pieces_of(order, pieces):
            own = _start([span for span in order.spans if span.cabinet in piece.cabinets], starts)
            if own is not None:
                placed.append(PlacedKick(piece=piece, x_mm=own[0], top_z_mm=own[1]))
    return tuple(placed), tuple(floors)


def place_covers(job: Job, items: Sequence[PlacedItem]) -> tuple[PlacedItem, ...]:
    """Return the panels over ends and tops of a run's cabinets as they show from the front. One over a back does
    not."""
    boxes = {item.name: item for item in items if item.sort == "cabinet" and item.boxes}
    return tuple(placed for cover in job.covers for placed in _cover(cover, job, boxes))


def _start(spans: Sequence[KickSpan], starts: Mapping[str, PlacedItem]) -> tuple[float, float] | None:
    """Return where the first of the spans begins and how high its top edge is; None when none of them is in the run."""
    before = 0.0
    for span in spans:
        if span.cabinet in starts:
            item = starts[span.cabinet]
            return item.x_mm - before, item.z_mm + span.kick_height_mm
        before += span.width_mm
    return None


def _pieces_of(order: KickOrder, pieces: Sequence[KickPiece]) -> Iterator[KickPiece]:
    """Yield the pieces of an order: those whose cabinets are some of its own, in its style and stock."""
    names = [span.cabinet for span in order.spans if span.cabinet]
    for piece in pieces:
        alike = (piece.stock.name, piece.style) == (order.stock, order.style)
        if alike and piece.cabinets and set(piece.cabinets) <= set(names):
            yield piece


def _cover(cover: CoverOrder, job: Job, boxes: Mapping[str, PlacedItem]) -> Iterator[PlacedItem]:
    covered = [boxes[name] for name in cover.covers if name in boxes]
    if not covered or cover.side == "back":
        return
    left, right, low, high = cover.overhang_mm
    thickness = job.stock(cover.stock or covered[0].boxes[0].cabinet.stocks.front.name).thickness_mm
    first, last = covered[0], covered[-1]
    top = max(item.top_mm for item in covered)
    if cover.side == "top":
        x, z = first.x_mm - left, top
        width, height = last.right_mm + right - x, thickness
    else:
        kick = 0.0 if cover.to_floor else max(item.boxes[0].cabinet.kick_z_mm for item in covered)
        x = first.x_mm - thickness if cover.side == "left" else last.right_mm
        z = first.z_mm + kick - low
        width, height = thickness, top + high - z
    sort = "top panel" if cover.side == "top" else "end panel"
    yield PlacedItem(
        sort=sort, name=cover.name, use="", x_mm=x, z_mm=z, width_mm=width, height_mm=height, is_upper=first.is_upper
    )
