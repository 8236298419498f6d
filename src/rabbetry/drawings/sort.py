"""Closed chains of a drawing to a part's outline and cuts, by what their layers mean. Millimetres, drawing's axes."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from rabbetry.drawings.layers import FREE, Meaning
from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Arc, Contour, Segment
from rabbetry.geometry.outline import Station, outline_through
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import outside_mm
from rabbetry.job.model import Corner, CutOrder
from rabbetry.tolerances import FIT_MM, POINT_MM

_BOW_MM = 1e-4
"""An arc that bows less is a line: finer than any machine's step."""
_RELIEF_MM = 0.01
"""A point this near to a recess's corner marks it as relieved."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A closed chain, checked: its stations and the contour through them."""

    stations: tuple[Station, ...]
    contour: Contour
    bounds: tuple[float, float, float, float]

    @property
    def circle(self) -> tuple[Point, float] | None:
        """Centre and radius when it is one full circle."""
        arcs = [segment for segment in self.contour.segments if isinstance(segment, Arc)]
        if len(arcs) != len(self.contour.segments):
            return None
        first = arcs[0]
        is_one = all(
            arc.centre.distance(first.centre) <= FIT_MM and abs(arc.radius - first.radius) <= FIT_MM for arc in arcs
        )
        return (first.centre, first.radius) if is_one else None


class Refused(ValueError):
    """The drawing is no part: says what is wrong, and what to do."""

    def __init__(self, problem: str, cure: str = "") -> None:
        super().__init__(problem)
        self.problem, self.cure = problem, cure


def shape_of(chain: Sequence[Segment]) -> Shape:
    """Return the shape of a chain whose ends meet within the join's tolerance: each segment begins where the one before
    it ends. Raises GeometryError where it crosses itself or encloses nothing."""
    stations = tuple(
        Station(after.start, 0.0, _through(before, after.start))
        for before, after in zip((chain[-1], *chain), chain, strict=False)
    )
    if len(stations) == 1:  # an arc whose ends were joined
        stations = (*stations, Station(chain[0].at(0.5), 0.0, chain[0].at(0.25)))
        stations = (replace(stations[0], through=chain[0].at(0.75)), stations[1])
    contour = outline_through(stations)
    return Shape(stations, contour, contour.bounds)


def _through(segment: Segment, end: Point) -> Point | None:
    """Return a point of an arc between its start and where it is to end; None for a line and an arc as good as one."""
    if not isinstance(segment, Arc):
        return None
    middle, chord = segment.at(0.5), end - segment.start
    if chord.length <= POINT_MM:
        return middle
    bow = abs(chord.cross(middle - segment.start)) / chord.length
    return middle if bow > _BOW_MM else None


def outline_and_cuts(
    shapes: Mapping[Meaning, Sequence[Shape]], relieved: Sequence[tuple[Point, bool]], at: Callable[[Point], str]
) -> tuple[Shape, tuple[CutOrder, ...]]:
    """Return the outline and everything cut into it. `at` puts a place in words.

    A shape on a layer of which nothing is said is the outline when it is the largest and no layer is said to be, else a
    hole (a circle) or an opening. Raises Refused when there is not one outline, and where shapes lie in each other that
    would fall out.
    """
    said = [shape for meaning, found in shapes.items() if meaning.cut == "outline" for shape in found]
    free = sorted(shapes.get(FREE, ()), key=lambda shape: -shape.contour.area)
    if not said and not free:
        raise Refused("holds no closed outline", "draw the part's outline closed, or say which layer holds it")
    if len(said) > 1:
        places = " and ".join(_place(shape, at) for shape in said[:2])
        raise Refused(
            f"holds {len(said)} outlines, among them those at {places}", "draw each part in a file of its own"
        )
    outline = said[0] if said else free[0]
    _check_free(outline, free if said else free[1:], at)
    cuts: list[CutOrder] = []
    for meaning, found in sorted(
        shapes.items(), key=lambda item: (item[0].cut, item[0].depth_mm or 0.0, item[0].is_rear)
    ):
        if meaning.cut != "outline":
            cuts.extend(_cuts(meaning, [shape for shape in found if shape is not outline], relieved, at))
    return outline, tuple(_numbered(cuts))


def _check_free(outline: Shape, others: Sequence[Shape], at: Callable[[Point], str]) -> None:
    """Refuse shapes of which nothing is said outside the outline, and within each other. The largest come first."""
    for k, shape in enumerate(others):
        if not _is_within(shape, outline):
            where = f"{_place(outline, at)} and {_place(shape, at)}"
            raise Refused(
                f"holds shapes beside each other, at {where}: a part has one outline",
                'draw each part in a file of its own, or say that a layer holds "nothing"',
            )
        for outer in others[:k]:
            if _is_within(shape, outer):
                where = f"{_place(shape, at)} lies within the opening at {_place(outer, at)}"
                raise Refused(f"the shape at {where} and would fall out", "leave one of them out, or say its layer")


def _is_within(inner: Shape, outer: Shape) -> bool:
    a, b = inner.bounds, outer.bounds
    if a[0] < b[0] - FIT_MM or a[1] < b[1] - FIT_MM or a[2] > b[2] + FIT_MM or a[3] > b[3] + FIT_MM:
        return False
    return outside_mm(inner.contour, outer.contour) <= FIT_MM


def _cuts(
    meaning: Meaning, found: Sequence[Shape], relieved: Sequence[tuple[Point, bool]], at: Callable[[Point], str]
) -> Iterator[CutOrder]:
    if meaning.cut in ("pocket", "dado", "groove", "rabbet"):
        yield from _recesses(meaning, found, relieved)
        return
    for shape in found:
        circle = shape.circle
        if circle is not None and meaning.cut in ("hole", "free"):
            yield CutOrder(
                kind="hole",
                name="hole",
                depth_mm=meaning.depth_mm,
                x_mm=circle[0].x,
                y_mm=circle[0].y,
                diameter_mm=2 * circle[1],
                is_rear=meaning.is_rear,
            )
        elif meaning.cut == "hole":
            raise Refused(f"the shape at {_place(shape, at)} is on a layer of holes and is no circle")
        else:
            yield CutOrder(kind="cut-out", name="cut-out", depth_mm=None, corners=corners_of(shape))


def _recesses(meaning: Meaning, found: Sequence[Shape], relieved: Sequence[tuple[Point, bool]]) -> Iterator[CutOrder]:
    """Yield recesses; a shape within another of the same layer is an island that stays."""
    ordered = sorted(found, key=lambda shape: -shape.contour.area)
    islands: dict[int, list[Shape]] = {}
    outer: list[int] = []
    for k, shape in enumerate(ordered):
        home = next((n for n in reversed(outer) if _is_within(shape, ordered[n])), None)
        if home is None:
            outer.append(k)
        else:
            islands.setdefault(home, []).append(shape)
    for k in outer:
        shape = ordered[k]
        corners = [station.at for station in shape.stations]
        yield CutOrder(
            kind=meaning.cut,
            name=meaning.cut,
            depth_mm=meaning.depth_mm,
            corners=corners_of(shape),
            islands=tuple(corners_of(island) for island in islands.get(k, ())),
            relieved_mm=tuple(
                (point.x, point.y)
                for point, is_rear in relieved
                if is_rear is meaning.is_rear and any(point.distance(c) <= _RELIEF_MM for c in corners)
            ),
            is_rear=meaning.is_rear,
        )


def corners_of(shape: Shape) -> tuple[Corner, ...]:
    """Return a shape as the corners of an order."""
    return tuple(
        Corner(
            x_mm=station.at.x,
            y_mm=station.at.y,
            through_mm=(station.through.x, station.through.y) if station.through else None,
        )
        for station in shape.stations
    )


def _numbered(cuts: Sequence[CutOrder]) -> Iterator[CutOrder]:
    """Yield the cuts with their kind and number as name, from the left, then from below."""

    def place(cut: CutOrder) -> tuple[float, float]:
        xs, ys = [corner.x_mm for corner in cut.corners], [corner.y_mm for corner in cut.corners]
        return (min(xs), min(ys)) if xs else (cut.x_mm, cut.y_mm)

    counts: dict[str, int] = {}
    for cut in sorted(cuts, key=place):
        counts[cut.kind] = counts.get(cut.kind, 0) + 1
        yield replace(cut, name=f"drawn {cut.name} {counts[cut.kind]}")


def _place(shape: Shape, at: Callable[[Point], str]) -> str:
    x0, y0, x1, y1 = shape.bounds
    return at(Point((x0 + x1) / 2, (y0 + y1) / 2))


def checked_shapes(
    chains: Sequence[Sequence[Segment]], at: Callable[[Point], str]
) -> Iterator[tuple[Shape | None, str]]:
    """Yield each chain's shape, or None and why it is none."""
    for chain in chains:
        try:
            yield shape_of(chain), ""
        except GeometryError as error:
            yield None, f"the shape that starts at {at(chain[0].start)} is not sound: {error}"
