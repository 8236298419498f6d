"""The job's parts with the outlines and cuts of their drawing files, and a report of what was made of each file.

A drawing that cannot be used is a fault of the input, told with its place in the drawing's own unit and coordinates;
what was joined, dropped, doubled and scaled is told in notes.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from rabbetry.drawings.join import Joined, join
from rabbetry.drawings.layers import Meaning, meanings
from rabbetry.drawings.model import Chain, Shapes
from rabbetry.drawings.read import open_drawing, shapes_of, unit_of
from rabbetry.drawings.sort import Refused, Shape, checked_shapes, corners_of, outline_and_cuts
from rabbetry.errors import Fault, InputError
from rabbetry.findings import Finding, finding
from rabbetry.geometry.curves import Arc, Line, Segment
from rabbetry.geometry.points import Point
from rabbetry.job.drawings import DrawingOrder
from rabbetry.job.model import Job, PartOrder
from rabbetry.units import mm_from_inches, show_length

MAX_PART_MM = 5000.0
_LEAST_MM = 1.0
_TOLD = 4
"""So many faults of one kind are told of a drawing."""
_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": mm_from_inches(1.0), "ft": mm_from_inches(12.0)}


def with_drawings(job: Job, files: Mapping[str, bytes]) -> Job:
    """Return the job with its drawn parts settled from the files, by name. Raises InputError with the faults of all."""
    if not any(part.drawing for part in job.parts):
        return job
    parts: list[PartOrder] = []
    notes: list[Finding] = []
    faults: list[Fault] = []
    for part in job.parts:
        if part.drawing is None:
            parts.append(part)
            continue
        try:
            taken, told = _take(part, part.drawing, files, job.file)
        except InputError as error:
            faults.extend(error.faults)
            continue
        parts.append(taken)
        notes.extend(told)
    if faults:
        raise InputError(*dict.fromkeys(faults))
    return replace(job, parts=tuple(parts), notes=(*job.notes, *notes))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reading:
    """A part's drawing as it is read: whose it is, its unit, millimetres in one of it, whether the job said so."""

    part: str
    order: DrawingOrder
    unit: str
    said: str
    """The file's own unit; '' when it has none."""

    @property
    def scale(self) -> float:
        return _MM[self.unit]

    def at(self, point: Point) -> str:
        """Return a place in the drawing's own numbers."""
        return f"({_figure(point.x / self.scale)}, {_figure(point.y / self.scale)})"

    def fault(self, problem: str, cure: str = "") -> Fault:
        return Fault(file=self.order.file, place=f'part "{self.part}"', problem=problem, cure=cure)


def _take(
    part: PartOrder, order: DrawingOrder, files: Mapping[str, bytes], job_file: str
) -> tuple[PartOrder, tuple[Finding, ...]]:
    where = f'part "{part.name}", drawing'
    if order.file not in files:
        raise InputError(Fault(file=job_file, place=where, problem=f'"{order.file}" was not read'))
    document, repairs = open_drawing(files[order.file], file=order.file)
    said = unit_of(document)
    unit = order.unit or said
    if unit not in _MM:
        raise InputError(
            _ask_for_unit(order, said, shapes_of(document, tolerance=order.curve_mm, file=order.file), part)
        )
    reading = _Reading(part=part.name, order=order, unit=unit, said=said)
    drawn = shapes_of(document, tolerance=order.curve_mm / reading.scale, file=order.file, repairs=repairs)
    layers = {chain.layer for chain in drawn.chains} | {layer for layer, _ in drawn.points}
    layers |= {layer for _, layer in drawn.dropped}
    meaning, faults = meanings(layers, order.layers, file=order.file, place=f'part "{part.name}", layers')
    if faults:
        raise InputError(*(replace(fault, file=job_file) for fault in faults))
    faces = {(found.face, found.is_rear) for found in meaning.values() if found.face}
    if len({face for face, _ in faces}) > 2 or len({is_rear for _, is_rear in faces}) != len(faces):
        named = ", ".join(sorted({face for face, _ in faces}))
        cure = 'layers of the one that is drawn through the part end in "seen through"'
        raise InputError(reading.fault(f"does not tell its faces apart ({named})", cure))
    joined = {
        found: join(
            [_scaled(chain, reading.scale) for chain in drawn.chains if meaning[chain.layer] == found], order.join_mm
        )
        for found in dict.fromkeys(meaning[chain.layer] for chain in drawn.chains)
        if found.cut not in ("nothing", "relief")
    }
    shapes = _shapes(reading, joined, drawn)
    relieved = [
        (_scaled_point(point, reading.scale), meaning[layer].is_rear)
        for layer, point in drawn.points
        if meaning[layer].cut == "relief"
    ]
    try:
        outline, cuts = outline_and_cuts(shapes, relieved, reading.at)
    except Refused as refused:
        raise InputError(reading.fault(refused.problem + _left_out(drawn.dropped), refused.cure)) from None
    _check_size(reading, outline)
    taken = replace(part, outline=corners_of(outline), cuts=(*cuts, *part.cuts))
    return taken, tuple(_report(reading, drawn, joined, outline, meaning))


def _shapes(reading: _Reading, joined: Mapping[Meaning, Joined], drawn: Shapes) -> dict[Meaning, list[Shape]]:
    """Return the closed shapes by their meaning. Raises InputError with every open end, knot and crossing."""
    faults: list[Fault] = []
    shapes: dict[Meaning, list[Shape]] = {}
    for meaning, made in joined.items():
        faults.extend(_open_ends(reading, made, _left_out(drawn.dropped)))
        for shape, why in checked_shapes(made.chains, reading.at):
            if shape is None:
                inches = "" if reading.unit == "mm" else " (millimetres)"
                faults.append(reading.fault(why + inches, "draw it without crossings"))
            else:
                shapes.setdefault(meaning, []).append(shape)
    if faults:
        raise InputError(*faults)
    return shapes


def _open_ends(reading: _Reading, made: Joined, left_out: str) -> Iterator[Fault]:
    scale = reading.scale
    limit = f"{_figure(reading.order.join_mm / scale)} {reading.unit}"
    for end, other, gap in made.loose[:_TOLD]:
        far = f"{_figure(gap / scale)} {reading.unit}"
        yield reading.fault(
            f"is open at {reading.at(end)}: the next open end, at {reading.at(other)}, is {far} away{left_out}",
            f'ends are joined over {limit} (drawing_join); close it, or say that its layer holds "nothing"',
        )
    for place, count in made.knots[:_TOLD]:
        yield reading.fault(
            f"{count} ends meet at {reading.at(place)}", "an outline has two ends at each corner; take the others away"
        )


def _check_size(reading: _Reading, outline: Shape) -> None:
    x0, y0, x1, y1 = outline.contour.bounds
    if max(x1 - x0, y1 - y0) > MAX_PART_MM or min(x1 - x0, y1 - y0) < _LEAST_MM:
        size = f"{show_length(x1 - x0, 'mm')} x {show_length(y1 - y0, 'mm')}"
        problem = f"is {size} when it is read in {reading.unit}"
        cure = f"a part is {_LEAST_MM:g} to {MAX_PART_MM:g} mm; write drawing_unit with the unit it is drawn in"
        raise InputError(reading.fault(problem, cure))


def _ask_for_unit(order: DrawingOrder, said: str, drawn: Shapes, part: PartOrder) -> Fault:
    """Return the question for the unit, with the size both ways."""
    problem = f"says {said}, which no part is drawn in" if said else "does not say its unit"
    if drawn.chains:
        segments = [segment for chain in drawn.chains for segment in chain.segments]
        ends = [end for segment in segments for end in (segment.start, segment.end)]
        x, y = (max(axis) - min(axis) for axis in ([end.x for end in ends], [end.y for end in ends]))
        inches = f"{mm_from_inches(x):.0f} x {mm_from_inches(y):.0f} mm"
        problem += f": it is {_figure(x)} x {_figure(y)} in numbers, which is that many mm, or {inches} if inches"
    cure = 'write drawing_unit = "mm", "cm", "m", "in" or "ft"'
    return Fault(file=order.file, place=f'part "{part.name}"', problem=problem, cure=cure)


def _report(
    reading: _Reading,
    drawn: Shapes,
    joined: Mapping[Meaning, Joined],
    outline: Shape,
    meaning: Mapping[str, Meaning],
) -> Iterator[Finding]:
    part, order = f'part "{reading.part}": ', reading.order
    x0, y0, x1, y1 = outline.contour.bounds
    metric = f"{show_length(x1 - x0, 'mm')} x {show_length(y1 - y0, 'mm')}"
    inches = f"{show_length(x1 - x0, 'in')} x {show_length(y1 - y0, 'in')}"
    unit = f"read in {reading.unit}" + (", as it says" if reading.said == reading.unit else ", as the job says")
    if reading.said not in ("", reading.unit):
        unit += f"; the file says {reading.said}"
    unit += f", times {reading.scale:g}" if reading.scale != 1 else ""
    yield finding("drawing-read", f"{part}{metric} ({inches}), {unit}; {_counted(drawn.used)}", file=order.file)
    gaps = [gap for made in joined.values() for gap in made.gaps]
    if gaps:
        told = f"joined {len(gaps)} gaps of at most {max(gaps):.4f} mm; the limit is {order.join_mm:g} mm"
        yield finding("drawing-joined", f"{part}{told}", file=order.file)
    doubles = sum(made.doubles for made in joined.values())
    if doubles:
        told = f"{doubles} lines or arcs lie on others and are cut once"
        yield finding("drawing-doubled", f"{part}{told}", file=order.file)
    dropped = Counter(
        {
            f"{kind} on layer {layer}": count
            for (kind, layer), count in drawn.dropped.items()
            if _is_told(layer, meaning)
        }
    )
    crumbs = sum(made.crumbs for made in joined.values())
    if crumbs:
        dropped[f"lines shorter than {order.join_mm:g} mm"] = crumbs
    if dropped:
        yield finding("drawing-dropped", f"{part}left out: {_counted(dropped)}", file=order.file)
    if drawn.repairs:
        told = f"{len(drawn.repairs)} faults of the file were repaired, the first: {drawn.repairs[0]}"
        yield finding("drawing-repaired", f"{part}{told}", file=order.file)
    if drawn.curve_pieces:
        told = f"curves became {drawn.curve_pieces} lines and arcs, within {order.curve_mm:g} mm of them"
        yield finding("drawing-curve", f"{part}{told}", file=order.file)


def _is_told(layer: str, meaning: Mapping[str, Meaning]) -> bool:
    return meaning[layer].cut != "nothing"


def _left_out(dropped: Counter[tuple[str, str]]) -> str:
    """Return what was not used, for a message: it may be what is missed."""
    kinds: Counter[str] = Counter()
    for (kind, _), count in dropped.items():
        kinds[kind] += count
    return f" (not used: {_counted(kinds)})" if kinds else ""


def _counted(counts: Counter[str]) -> str:
    return ", ".join(f"{count} {kind}" for kind, count in sorted(counts.items()))


def _figure(value: float) -> str:
    """Return a number with at most five decimals."""
    text = f"{value:.5f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _scaled(chain: Chain, scale: float) -> tuple[Segment, ...]:
    return tuple(
        Arc(
            _scaled_point(segment.start, scale),
            _scaled_point(segment.end, scale),
            _scaled_point(segment.centre, scale),
            segment.turn,
        )
        if isinstance(segment, Arc)
        else Line(_scaled_point(segment.start, scale), _scaled_point(segment.end, scale))
        for segment in chain.segments
    )


def _scaled_point(point: Point, scale: float) -> Point:
    return Point(point.x * scale, point.y * scale)
