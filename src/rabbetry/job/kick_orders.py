"""From the checked rows of toe kicks and vents to their records, and what is wrong with their heights."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from rabbetry.errors import Fault, shown
from rabbetry.job.floor_file import FloorFile
from rabbetry.job.kick_rows import KickRow, VentRow
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import (
    LEAST_VENT_WEB_MM,
    CabinetOrder,
    CornerOrder,
    Grain,
    Job,
    KickOrder,
    KickSpan,
    KickStyle,
    Stock,
    Units,
    VentOrder,
)
from rabbetry.units import Length, read_length, show_length

LEAST_HEIGHT_MM = 20.0
"""A toe kick lower than this anywhere cannot be held while it is cut (common practice, no source)."""
REACH_MM = 100.0
"""Heights are carried on straight past the last point measured, as far as this."""
_SHIMS: dict[Units, str | int] = {Units.MM: 20, Units.INCH: "3/4"}
_FOOT: dict[Units, str | int] = {Units.MM: 80, Units.INCH: "3"}
RADIUS_SHARE = 0.75

Pair = tuple[Length, Length]


def with_kicks(
    job: Job, kicks: Sequence[KickRow], vents: Sequence[VentRow], floors: Mapping[str, FloorFile], carcass: str
) -> tuple[Job, tuple[Fault, ...]]:
    """Return the job with its toe kicks and vents, and every fault of their sizes. `floors` are the measurement files
    that were read, by name; `carcass` is the stock of a kick that names none. The rows agree with the rest of the
    job."""
    cabinets = covered_cabinets(job.cabinets)
    made = [_Maker(job=job, row=row, cabinets=cabinets, floors=floors, carcass=carcass, faults=[]) for row in kicks]
    orders = [order for maker in made if (order := maker.order()) is not None]
    faults = [fault for maker in made for fault in maker.faults]
    faults += [fault for row in vents for fault in _vent_faults(row, job)]
    return replace(job, kicks=tuple(orders), vents=tuple(map(_vent, vents))), tuple(faults)


def covered_cabinets(orders: Sequence[CabinetOrder]) -> dict[str, CabinetOrder]:
    """Return the cabinets by the names a toe kick may cover: of an order of several, B1, B1-2, B1-3."""
    names = {order.name: order for order in orders}
    return {name: order for order in orders for name in copy_names(order.name, order.qty)} | names


def copy_names(name: str, qty: int) -> tuple[str, ...]:
    """Return the names of an order's copies: of three P1: P1, P1-2, P1-3."""
    return (name, *(f"{name}-{k}" for k in range(2, qty + 1)))


def _leg_span(corner: CornerOrder, name: str, stock: Stock) -> KickSpan:
    """Return what lies before a leg of an L-shaped corner: on the corner's own kick boards the left piece runs through
    to the right board, and the right one ends on the left piece."""
    left, right = corner.left, corner.right
    depth = left.construction.kick_depth_mm
    if name.endswith(" left"):
        width = left.width_mm - right.depth_mm + depth
    else:
        width = right.width_mm - left.depth_mm + depth - stock.thickness_mm
    return KickSpan(cabinet=name, width_mm=width, kick_height_mm=left.construction.kick_height_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Maker:
    """Makes one order; adds what is wrong to `faults`."""

    job: Job
    row: KickRow
    cabinets: Mapping[str, CabinetOrder]
    floors: Mapping[str, FloorFile]
    carcass: str
    faults: list[Fault]

    def order(self) -> KickOrder | None:
        row, units = self.row, self.job.units
        spans, floor = self._measured()
        if self.faults or not floor:
            return None
        stock = self.job.stock(row.stock or self.carcass)
        setback_mm = max(0.0, self._kick_depth(spans) - stock.thickness_mm)
        is_valance = row.style == "valance"
        share = RADIUS_SHARE if row.radius_share is None else row.radius_share
        order = KickOrder(
            name=row.name,
            stock=stock.name,
            style=KickStyle(row.style),
            spans=spans,
            floor=floor,
            drop_mm=_mm(row.drop),
            setback_mm=row.setback.mm if row.setback else setback_mm,
            face_down=row.face == "down",
            grain=Grain(row.grain),
            a_piece_each=row.pieces == "cabinet",
            shims_mm=(row.shims or read_length(_SHIMS[units], units)).mm,
            foot_mm=(row.foot or read_length(_FOOT[units], units)).mm if is_valance else 0.0,
            rise_mm=row.rise.mm if row.rise else None,
            apron_mm=row.apron.mm if row.apron else None,
            radius_mm=row.radius.mm if row.radius else None,
            radius_share=share if is_valance and row.radius is None else 0.0,
        )
        self._check_style()
        self._check_heights(order, stock)
        return None if self.faults else order

    def _measured(self) -> tuple[tuple[KickSpan, ...], tuple[tuple[float, float], ...]]:
        """Return the spans and the floor, heights from the top edge; empty after a fault."""
        row = self.row
        if not self._one_of(covers=row.covers, length=row.length):
            return (), ()
        if not self._one_of(heights=row.heights, points=row.points, measurements=row.measurements):
            return (), ()
        spans = tuple(self._span(name) for name in row.covers or ("",))
        pairs, points = row.heights, row.points
        if row.measurements is not None:
            floor_file = self.floors.get(row.measurements)
            if floor_file is None:
                return (), ()  # told with the file
            points = floor_file.points or None
            pairs = None if points else self._pairs_of(floor_file)
        if points is not None:
            return spans, self._along(points, sum(span.width_mm for span in spans))
        if pairs is None:
            return (), ()
        if len(pairs) != len(spans):
            wanted = f"{len(spans)} expected, [left, right] for {'each cabinet' if row.covers else 'the two ends'}"
            self._tell("heights", f"{len(pairs)} {'pair' if len(pairs) == 1 else 'pairs'} of heights", wanted)
            return (), ()
        below = _mm(row.level_line)
        spans = tuple(
            replace(span, left_mm=left.mm - below, right_mm=right.mm - below)
            for span, (left, right) in zip(spans, pairs, strict=True)
        )
        return spans, joined(spans)

    def _span(self, name: str) -> KickSpan:
        if not name:
            assert self.row.length is not None
            return KickSpan(cabinet="", width_mm=self.row.length.mm, kick_height_mm=0.0)
        for filler in self.job.fillers:
            if filler.name == name:
                return KickSpan(cabinet=name, width_mm=filler.width_mm, kick_height_mm=0.0)
        for ladder in self.job.ladders:
            if name in copy_names(ladder.name, ladder.qty):
                return KickSpan(cabinet=name, width_mm=ladder.length_mm, kick_height_mm=ladder.height_mm)
        for corner in self.job.corners:
            for own in copy_names(corner.name, corner.qty):
                if name in (f"{own} left", f"{own} right"):
                    return _leg_span(corner, name, self.job.stock(self.row.stock or self.carcass))
        cabinet = self.cabinets[name]
        kick_mm = cabinet.construction.kick_height_mm if KINDS[cabinet.kind].has_kick else 0.0
        return KickSpan(cabinet=name, width_mm=cabinet.width_mm, kick_height_mm=kick_mm)

    def _kick_depth(self, spans: Sequence[KickSpan]) -> float:
        """Return the depth of the toe kick of the first box with one: a cabinet, or a corner's leg."""
        legs = {own: corner.left for corner in self.job.corners for own in copy_names(corner.name, corner.qty)}
        for span in spans:
            found = self.cabinets.get(span.cabinet) or legs.get(span.cabinet.rpartition(" ")[0])
            if found is not None:
                return found.construction.kick_depth_mm
        return 0.0

    def _covered(self, spans: Sequence[KickSpan]) -> list[CabinetOrder]:
        return [self.cabinets[span.cabinet] for span in spans if span.cabinet in self.cabinets]

    def _pairs_of(self, floor: FloorFile) -> tuple[Pair, ...] | None:
        if self.row.covers is None:
            cure = "write the columns x,height, or name the cabinets it covers"
            self._tell("measurements", f"{shown(self.row.measurements)} has heights of cabinets", cure)
            return None
        missing = [name for name in self.row.covers if name not in floor.by_cabinet]
        if missing:
            problem = f"{shown(self.row.measurements)} has no line for {', '.join(map(shown, missing))}"
            self._tell("measurements", problem, "measure there and add a line")
            return None
        return tuple(floor.by_cabinet[name][:2] for name in self.row.covers)

    def _along(self, points: Sequence[Pair], length_mm: float) -> tuple[tuple[float, float], ...]:
        """Return the floor from end to end, carried on straight to ends that were not measured themselves."""
        place, units, below = (
            ("points" if self.row.points else "measurements"),
            self.job.units,
            _mm(self.row.level_line),
        )
        found = [(x.mm, height.mm - below) for x, height in points]
        for number, ((before, _), (x, _)) in enumerate(pairwise(found), start=2):
            if x <= before:
                problem = f"x {show_length(x, units)} is not more than the {show_length(before, units)} before it"
                self._tell(f"{place}, entry {number}", problem, "list the points from left to right")
                return ()
        if len(found) < 2:
            self._tell(place, "one point is not enough", "measure at both ends at least")
            return ()
        for x, far, end in ((found[0][0], found[0][0], "left"), (found[-1][0], length_mm - found[-1][0], "right")):
            if far > REACH_MM or far < -0.5:
                past = "short of" if far > 0 else "past"
                problem = f"x {show_length(x, units)} is {show_length(abs(far), units)} {past} the {end} end"
                cure = f"the run is {show_length(length_mm, units)} long: measure at both ends"
                self._tell(place, problem, cure)
                return ()
        return _to_the_ends(found, length_mm)

    def _check_style(self) -> None:
        row = self.row
        given = {
            key: getattr(row, key)
            for key in ("foot", "rise", "apron", "radius", "radius_share")
            if getattr(row, key) is not None
        }
        if row.style == "board" and given:
            key = next(iter(given))
            self._tell(key, "a board has no feet", f'leave {key} out, or set style = "valance"')
        for one, other in (("rise", "apron"), ("radius", "radius_share")):
            if one in given and other in given:
                self._tell(one, f"{one} and {other} are both given", "give one of them")

    def _check_heights(self, order: KickOrder, stock: Stock) -> None:
        """Every height must leave a piece that can be held, and that a blank is large enough for."""
        units, most = self.job.units, stock.room_mm(order.grain)[1]
        below = _mm(self.row.level_line)
        less = f"a level line {show_length(below, units)} up and " if below else ""
        less += f"a drop of {show_length(order.drop_mm, units)}"
        for place, height in self._places(order):
            net = height - order.drop_mm
            measured = show_length(height + below, units)
            if net < LEAST_HEIGHT_MM:
                least = show_length(LEAST_HEIGHT_MM + order.drop_mm + below, units)
                self._tell(
                    place, f"{measured} less {less} leaves {show_length(net, units)}", f"{least} or more is expected"
                )
            elif net > most:
                cure = f"a blank of stock {shown(stock.name)} has room for {show_length(most, units)}"
                self._tell(place, f"{measured} less {less} is {show_length(net, units)} high", cure)
        deepest = min((cabinet.depth_mm for cabinet in self._covered(order.spans)), default=None)
        if deepest is not None and order.setback_mm >= deepest:
            problem = (
                f"{show_length(order.setback_mm, units)} is not less than the {show_length(deepest, units)} of depth"
            )
            self._tell("setback", problem, "measure from the cabinets' front to the kick's face")

    def _places(self, order: KickOrder) -> Iterator[tuple[str, float]]:
        """Yield each height with its place in the user's words."""
        if order.spans[0].left_mm is None:
            kind = "points" if self.row.points else "measurements"
            yield from ((f"{kind}, x {show_length(x, self.job.units)}", height) for x, height in order.floor)
            return
        for number, span in enumerate(order.spans, start=1):
            where = f"heights, entry {number}" if self.row.heights else f"measurements, {shown(span.cabinet)}"
            for end, height in (("left", span.left_mm), ("right", span.right_mm)):
                assert height is not None
                yield f"{where}, {end}", height

    def _one_of(self, **given: object) -> bool:
        names = [name for name, value in given.items() if value is not None]
        if len(names) == 1:
            return True
        told = f"{' and '.join(names)} are given" if names else f"neither {' nor '.join(given)} is given"
        self._tell("", told, f"give one of {', '.join(given)}")
        return False

    def _tell(self, key: str, problem: str, cure: str) -> None:
        place = f"kick {shown(self.row.name)}" + (f", {key}" if key else "")
        self.faults.append(Fault(file=self.job.file, place=place, problem=problem, cure=cure))


def joined(spans: Sequence[KickSpan]) -> tuple[tuple[float, float], ...]:
    """Return the floor along spans with heights of their own; where two meet, the mean of what was measured there."""
    floor: list[tuple[float, float]] = []
    x, before = 0.0, None
    for span in spans:
        assert span.left_mm is not None
        floor.append((x, span.left_mm if before is None else (before + span.left_mm) / 2))
        x, before = x + span.width_mm, span.right_mm
    assert before is not None
    return (*floor, (x, before))


def _to_the_ends(points: Sequence[tuple[float, float]], length_mm: float) -> tuple[tuple[float, float], ...]:
    (x0, h0), (x1, h1), (x2, h2), (x3, h3) = points[0], points[1], points[-2], points[-1]
    first = h0 + (h0 - h1) * x0 / (x1 - x0)
    last = h3 + (h3 - h2) * (length_mm - x3) / (x3 - x2)
    inner = [(x, height) for x, height in points if 0.0 < x < length_mm]
    return ((0.0, first), *inner, (length_mm, last))


def _mm(length: Length | None) -> float:
    return length.mm if length is not None else 0.0


def _vent(row: VentRow) -> VentOrder:
    return VentOrder(
        panel=row.panel,
        slots=row.slots,
        free_area_mm2=row.free_area,
        length_mm=row.length.mm,
        width_mm=row.width.mm,
        spacing_mm=row.spacing.mm if row.spacing else 2 * row.width.mm,
        up=row.run == "up",
        at_mm=(row.at[0].mm, row.at[1].mm) if row.at else None,
    )


def _vent_faults(row: VentRow, job: Job) -> Iterator[Fault]:
    def told(key: str, problem: str, cure: str) -> Fault:
        place = f"vent {shown(row.panel)}" + (f", {key}" if key else "")
        return Fault(file=job.file, place=place, problem=problem, cure=cure)

    if (row.slots is None) == (row.free_area is None):
        how = "both given" if row.slots is not None else "both missing"
        yield told("", f"slots and free_area are {how}", "give one of them")
    if row.length.mm <= row.width.mm:
        yield told("length", f"{row.length.text} is not more than the width {row.width.text}", "slots are long holes")
    web = (row.spacing.mm if row.spacing else 2 * row.width.mm) - row.width.mm
    if web < LEAST_VENT_WEB_MM:
        units = job.units
        problem = f"the slots would have {show_length(web, units)} of wood between them"
        least = show_length(row.width.mm + LEAST_VENT_WEB_MM, units)
        yield told("spacing", problem, f"{least} or more from middle to middle is expected")
