"""From the orders of toe kicks to pieces with every size settled. Millimetres; x along the run from its left end.

The boxes stand level on the highest spot of the floor. A piece's top edge is straight and lies at their under side, its
lower edge follows the floor as measured less the drop. The strip of a valance between its feet is level all along the
run, so that a floor that falls shows in its feet only; each corner's radius is a share of the clear height at its foot.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from rabbetry.cabinets.kick_checks import check_measurements
from rabbetry.cabinets.model import KickPiece
from rabbetry.findings import Finding, finding
from rabbetry.job.model import Job, KickOrder, KickStyle, Stock
from rabbetry.tolerances import POINT_MM
from rabbetry.units import show_length

LEAST_APRON_MM = 12.0
"""A strip between the feet lower than this breaks (common practice, no source)."""

Edge = tuple[tuple[float, float], ...]
NameCopies = Callable[[str, int], tuple[str, ...]]
"""Gives the names of so many pieces of one order."""


def resolve_kicks(job: Job, names: NameCopies) -> tuple[tuple[KickPiece, ...], tuple[Finding, ...]]:
    """Return the pieces of the job's toe kicks, in the job's order, and every finding. A kick that cannot be made is
    left out. Raises KeyError when an order names a stock the job lacks."""
    pieces: list[KickPiece] = []
    found: list[Finding] = []
    for order in job.kicks:
        stock = job.stock(order.stock)
        made, said = _pieces(order, stock, names, str(job.units))
        pieces.extend(made)
        found += [*said, *check_measurements(order, str(job.units))]
    return tuple(pieces), tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stretch:
    """The part of a run that becomes one piece."""

    first: int
    last: int
    """Spans, both included."""
    start_mm: float
    end_mm: float


def height_at(floor: Edge, x: float) -> float:
    """Return the height at a place along the run; straight between two points, and level past either end."""
    before = floor[0]
    for after in floor:
        if after[0] >= x:
            return before[1] if after[0] <= before[0] else _between(before, after, x)
        before = after
    return before[1]


def _between(a: tuple[float, float], b: tuple[float, float], x: float) -> float:
    return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])


def _pieces(
    order: KickOrder, stock: Stock, names: NameCopies, units: str
) -> tuple[tuple[KickPiece, ...], tuple[Finding, ...]]:
    where = f'kick "{order.name}": '
    room = stock.room_mm(order.grain)[0]
    too_long = next((span for span in order.spans if span.width_mm > room + POINT_MM), None)
    if too_long is not None:
        what = f"{too_long.cabinet} is" if too_long.cabinet else "it is"
        blank = f'the {show_length(room, units)} that a blank of stock "{stock.name}" holds'
        text = f"{what} {show_length(too_long.width_mm, units)} long, more than {blank}"
        return (), (finding("kick-no-room", f"{where}{text}; take longer blanks, or order shorter pieces"),)
    stretches = tuple(_stretches(order, room))
    apron = _apron(order)
    pieces: list[KickPiece] = []
    found = list(_split_told(order, stretches, room, units))
    for name, stretch in zip(names(order.name, len(stretches)), stretches, strict=True):
        piece = _piece(order, stock, stretch, name)
        if order.style is KickStyle.VALANCE:
            piece = _on_feet(piece, order, apron)
            faults = tuple(_feet_faults(piece, order, units))
            found += faults
            if faults:
                continue
        pieces.append(piece)
    return tuple(pieces), tuple(dict.fromkeys(found))


def _stretches(order: KickOrder, room: float) -> Iterator[_Stretch]:
    """Yield the pieces from left to right, each as many whole cabinets as the blank is long."""
    first, start, x = 0, 0.0, 0.0
    for number, span in enumerate(order.spans):
        is_full = x + span.width_mm - start > room + POINT_MM
        if number > first and (is_full or order.a_piece_each):
            yield _Stretch(first=first, last=number - 1, start_mm=start, end_mm=x)
            first, start = number, x
        x += span.width_mm
    yield _Stretch(first=first, last=len(order.spans) - 1, start_mm=start, end_mm=x)


def _split_told(order: KickOrder, stretches: Sequence[_Stretch], room: float, units: str) -> Iterator[Finding]:
    if len(stretches) < 2 or order.a_piece_each:
        return
    joints = [f"{order.spans[item.last].cabinet} and {order.spans[item.last + 1].cabinet}" for item in stretches[:-1]]
    text = (
        f'kick "{order.name}": {show_length(order.length_mm, units)} is more than the {show_length(room, units)} of a '
        f"blank: made in {len(stretches)} pieces, with a joint between {'; between '.join(joints)}"
    )
    yield finding("kick-split", text)


def _piece(order: KickOrder, stock: Stock, stretch: _Stretch, name: str) -> KickPiece:
    """Return the piece as a board, all the way down to the floor."""
    spans = order.spans[stretch.first : stretch.last + 1]
    span = spans[0]
    if len(spans) == 1 and span.left_mm is not None and span.right_mm is not None:
        # A piece of its own keeps what was measured at its own ends, whatever its neighbours say.
        floor: Edge = ((0.0, span.left_mm), (span.width_mm, span.right_mm))
    else:
        start, end = stretch.start_mm, stretch.end_mm
        inner = [(x - start, height) for x, height in order.floor if start + POINT_MM < x < end - POINT_MM]
        floor = ((0.0, height_at(order.floor, start)), *inner, (end - start, height_at(order.floor, end)))
    return KickPiece(
        name=name,
        cabinets=tuple(item.cabinet for item in spans if item.cabinet),
        stock=stock,
        style=order.style,
        length_mm=floor[-1][0],
        edge=tuple((x, height - order.drop_mm) for x, height in floor),
        face_down=order.face_down,
        grain=order.grain,
        setback_mm=order.setback_mm,
    )


def _apron(order: KickOrder) -> float:
    """Return the height of the strip between the feet: the same for all pieces of a run."""
    least = min(height for _, height in order.floor) - order.drop_mm
    if order.apron_mm is not None:
        return order.apron_mm
    return least - (least / 2 if order.rise_mm is None else order.rise_mm)


def _on_feet(piece: KickPiece, order: KickOrder, apron: float) -> KickPiece:
    """Return the piece as a valance. Radius at a foot: the share of the clear height there, or the one asked for."""
    clear = [height_at(piece.edge, x) - apron for x in (order.foot_mm, piece.length_mm - order.foot_mm)]
    left, right = (order.radius_mm if order.radius_mm is not None else order.radius_share * gap for gap in clear)
    return replace(piece, apron_mm=apron, foot_mm=order.foot_mm, radii_mm=(left, right))


def _feet_faults(piece: KickPiece, order: KickOrder, units: str) -> Iterator[Finding]:
    """Yield what does not fit: the strip, the feet, the corners."""

    def told(text: str) -> Finding:
        return finding("kick-no-room", f'kick "{order.name}": {text}', panel=piece.name)

    least = min(height for _, height in piece.edge)
    if piece.apron_mm < LEAST_APRON_MM:
        rise = show_length(least - piece.apron_mm, units)
        most = show_length(least - LEAST_APRON_MM, units)
        yield told(
            f"a rise of {rise} leaves a strip of {show_length(piece.apron_mm, units)}; {most} or less is expected"
        )
        return
    if piece.apron_mm >= least - POINT_MM:
        text = f"an apron of {show_length(piece.apron_mm, units)} reaches down to the floor"
        yield told(f"{text}; less than {show_length(least, units)} is expected")
        return
    opening = piece.length_mm - 2 * piece.foot_mm
    both = sum(piece.radii_mm)
    if opening < both - POINT_MM or opening <= 0:
        need = show_length(2 * piece.foot_mm + both, units)
        left, right = (show_length(radius, units) for radius in piece.radii_mm)
        text = f"two feet of {show_length(piece.foot_mm, units)} and corners of {left} and {right} need {need}"
        long = f"{piece.name} is {show_length(piece.length_mm, units)} long"
        yield told(f"{text}; {long}: make foot or radius less")
        return
    ends = (("left", piece.foot_mm), ("right", piece.length_mm - piece.foot_mm))
    for radius, (end, x) in zip(piece.radii_mm, ends, strict=True):
        clear = height_at(piece.edge, x) - piece.apron_mm
        if radius > clear + POINT_MM:
            text = f"a radius of {show_length(radius, units)} does not fit under the strip at the {end} foot"
            yield told(f"{text}, {show_length(clear, units)} clear; {show_length(clear, units)} or less is expected")
