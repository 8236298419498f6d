"""Every derived size of a job by name: panels, their recesses and holes, drawer boxes, fronts, openings, runs."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields, is_dataclass

from rabbetry.cabinets.model import Cabinet, Stocks
from rabbetry.geometry.curves import Contour
from rabbetry.job.model import Construction
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Recess
from rabbetry.runs.model import Run


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A derived length: what it is called, whose it is, its value (traced when the job is), other words for it."""

    name: str
    owner: str
    """The panel's id, or the cabinet's name."""
    mm: float
    also: str = ""
    is_feature: bool = False


def sizes_of(cabinets: Iterable[Cabinet], panels: Iterable[Panel], runs: Iterable[Run] = ()) -> tuple[Size, ...]:
    """Return every size, panels first, then cabinets, then runs, in the order of the job; a name stands once."""
    found: dict[str, Size] = {}
    for panel in panels:
        for size in _panel(panel):
            found.setdefault(size.name.casefold(), size)
    for cabinet in cabinets:
        for words, mm in _lengths(cabinet, ""):
            size = Size(name=f"{cabinet.name} {words}", owner=cabinet.name, mm=mm)
            found.setdefault(size.name.casefold(), size)
    for run in runs:
        for size in _run(run):
            found.setdefault(size.name.casefold(), size)
    return tuple(found.values())


def _run(run: Run) -> Iterator[Size]:
    """Yield what the wall has left beside its two rows, 0 where they add up, and where each thing begins."""
    upper = tuple(item for item in run.items if item.is_upper)
    for words, row in (("left over", run.lower), ("upper left over", upper)):
        if not row:
            continue
        left = run.length_mm
        for item in row:
            left = left - item.width_mm
        yield Size(name=f"{run.name} {words}", owner=run.name, mm=left)
        for item in row:
            if item.name != item.sort:
                yield Size(name=f"{run.name} {item.name} from the left", owner=run.name, mm=item.x_mm)


def _panel(panel: Panel) -> Iterator[Size]:
    for word, mm in (("length", panel.length_mm), ("width", panel.width_mm), ("thickness", panel.thickness_mm)):
        yield Size(name=f"{panel.id} {word}", owner=panel.id, mm=mm)
    for feature in panel.features:
        also = feature.purpose if isinstance(feature, Bore) else feature.kind if isinstance(feature, Recess) else ""
        for word, mm in _feature(feature, panel):
            name = f"{panel.id} {feature.name} {word}"
            yield Size(name=name, owner=panel.id, mm=mm, also=also, is_feature=True)


def _feature(feature: Feature, panel: Panel) -> Iterator[tuple[str, float]]:
    """x and y are in the panel's own frame, machined face up; height is above the floor of the assembled box."""
    if isinstance(feature, Bore):
        yield "x", feature.centre.x
        yield "y", feature.centre.y
        if panel.place is not None:
            yield "height", panel.place.point(feature.centre.x, feature.centre.y, 0.0)[2]
        yield "diameter", feature.diameter_mm
        yield "depth", feature.depth_mm
        return
    x0, y0, x1, y1 = feature.outline.bounds
    narrow, long = sorted((x1 - x0, y1 - y0))
    yield "width", narrow
    yield "length", long
    yield "x", x0
    yield "y", y0
    if panel.place is not None:
        yield "height", min(panel.place.point(x, y, 0.0)[2] for x in (x0, x1) for y in (y0, y1))
    if not isinstance(feature, CutOut):
        yield "depth", feature.depth_mm


_SKIPPED = (Construction, Stocks, Contour)


def _lengths(record: object, words: str) -> Iterator[tuple[str, float]]:
    """Yield the lengths of a settled record in words: its fields and properties that end in `_mm`, and those of the
    records in its tuples, by their own names or counted."""
    for name in _length_names(type(record)):
        value = getattr(record, name)
        own = f"{words} {_spoken(name)}".strip()
        if isinstance(value, float):
            yield own, value
        elif isinstance(value, tuple):
            yield from ((f"{own} {k}", item) for k, item in enumerate(value, start=1) if isinstance(item, float))
    for field in fields(record):  # type: ignore[arg-type]
        items = getattr(record, field.name)
        for k, item in enumerate(items if isinstance(items, tuple) else (), start=1):
            if is_dataclass(item) and not isinstance(item, (*_SKIPPED, type)):
                called = getattr(item, "name", "") or f"{field.name.removesuffix('s')} {k}"
                yield from _lengths(item, called)


def _length_names(kind: type) -> list[str]:
    named = [field.name for field in fields(kind)]
    named += [name for name, value in vars(kind).items() if isinstance(value, property)]
    return [name for name in named if name.endswith("_mm")]


def _spoken(name: str) -> str:
    return name.removesuffix("_mm").replace("_z", " height").replace("_y", " from front").replace("_", " ")
