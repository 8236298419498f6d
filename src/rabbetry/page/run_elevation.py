"""The front of a run, drawn to scale: boxes with their fronts and face frames, appliances, fillers, toe kicks on the
floor as measured, the counter, what hangs above, and the sizes in both units.

Run frame, millimetres: x from the wall's left end, z up from the floor. A door's two dashed lines meet at its hinge
side. The picture is 1:20 at its own size.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from rabbetry.cabinets.model import Front
from rabbetry.geometry.points import Point
from rabbetry.page.boxes import Box
from rabbetry.page.render import load_text
from rabbetry.page.run_labels import PITCH_MM, TEXT_MM, Label, Lettered, Stretch, both, chain, levels
from rabbetry.page.svg import escaped, line, number, rect
from rabbetry.page.text import fit, plain, width_em
from rabbetry.page.wording import full_size
from rabbetry.panels.model import Panel
from rabbetry.runs.model import Frame, PlacedBox, PlacedItem, Run
from rabbetry.tolerances import FIT_MM

_SCALE = 20.0
_EDGE_MM = TEXT_MM
"""Kept free round the picture."""
_NAMED = ("cabinet", "corner", "appliance")
"""Items with a name of the job."""
_LITTLE_MM = 150.0
"""An appliance may end so far below the counter that it stands under; a seat does not (common practice, no source)."""
_LEAST_NAME = 0.7
"""Smallest size of a name on an item, as a share of the text size."""


def run_svg(run: Run, frames: Sequence[Frame], kicks: Sequence[Panel], *, units: str) -> str:
    """Return the run's front elevation as SVG, alone or for a page. `kicks` are the panels of toe kicks, for their true
    outlines."""
    drawn = [*_boxes(run, units), *_frames(run, frames, units), *_fronts(run, units), *_things(run, units)]
    drawn += [*_kicks(run, kicks), *_counter(run, units), *_floor(run)]
    sizes = _sizes(run, units)
    names = tuple(_names(run))
    labels = [*names, *(label for part in sizes for label in part.labels)]
    left, low, right, high = _extent(run, labels)
    title = _heading(run, left, right, high, units)
    high = title.at.y + _EDGE_MM
    told = f"{plain(run.name)}: front elevation"
    view = " ".join(map(number, (left, -high, right - left, high - low)))
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="run-elevation" role="img" aria-label="{escaped(told)}" '
        f'font-size="{number(TEXT_MM)}" width="{number((right - left) / _SCALE)}mm" '
        f'height="{number((high - low) / _SCALE)}mm" viewBox="{view}">',
        f"<title>{escaped(told)}</title>",
        f"<style>{load_text('run.css')}</style>",
        *drawn,
        *(mark for part in sizes for mark in part.marks),
        *(text for label in (*labels, title) for text in label.svg()),
        "</svg>\n",
    ]
    return "\n".join(parts)


def _placed(run: Run) -> Iterator[PlacedBox]:
    for item in run.items:
        yield from item.boxes


def _boxes(run: Run, units: str) -> Iterator[str]:
    """Yield each box: what is behind its fronts, so that open parts show their shelves."""
    for placed in _placed(run):
        cabinet, x, z = placed.cabinet, placed.x_mm, placed.z_mm
        side, shelf = cabinet.stocks.side.thickness_mm, cabinet.stocks.carcass.thickness_mm
        wide = cabinet.width_mm
        size = full_size(cabinet.width_mm, cabinet.height_mm, units)
        yield rect("box", x, z + cabinet.kick_z_mm, wide, cabinet.height_mm - cabinet.kick_z_mm, title=size)
        if cabinet.kick_z_mm > 0:
            yield rect("kick-space", x, z, wide, cabinet.kick_z_mm, title="toe kick")
        for dx, unit in cabinet.units:
            inside = unit.inside_width_mm
            for opening in unit.openings:
                high = opening.top_z_mm - opening.floor_z_mm
                yield rect("open", x + dx + side, z + opening.floor_z_mm, inside, high)
            for level in (*unit.fixed_shelf_z_mm, *unit.shelf_pin_z_mm):
                yield rect("shelf", x + dx + side, z + level, inside, shelf)
        for at in cabinet.divider_x_mm:
            yield rect("shelf", x + at, z + cabinet.floor_z_mm, shelf, cabinet.ceiling_z_mm - cabinet.floor_z_mm)


def _frames(run: Run, frames: Sequence[Frame], units: str) -> Iterator[str]:
    """Yield frames over several boxes in one piece, those of single boxes as they lie before their box."""
    boxes = {placed.cabinet.name: placed for placed in _placed(run)}
    shared = [frame for frame in frames if len(frame.cabinets) > 1 and frame.cabinets[0] in boxes]
    within = {name for frame in shared for name in frame.cabinets}
    drawn = [(boxes[frame.cabinets[0]], frame.members) for frame in shared]
    drawn += [(placed, placed.cabinet.frame) for placed in _placed(run) if placed.cabinet.name not in within]
    for first, members in drawn:
        for member in members:
            size = full_size(member.width_mm, member.height_mm, units)
            x, z = first.x_mm + member.x_mm, first.z_mm + member.z_mm
            yield rect("frame", x, z, member.width_mm, member.height_mm, title=f"{member.name}: {size}")


def _fronts(run: Run, units: str) -> Iterator[str]:
    for placed in _placed(run):
        for front in placed.cabinet.fronts:
            yield from _front(front, placed.x_mm, placed.z_mm, units)


def _front(front: Front, x: float, z: float, units: str) -> Iterator[str]:
    left, low, dx, dz = x + front.x_mm, z + front.z_mm, front.width_mm, front.height_mm
    css = "blind" if front.kind == "blind panel" else "front"
    yield rect(css, left, low, dx, dz, title=f"{front.name}: {full_size(dx, dz, units)}")
    if front.hinge in ("left", "right"):
        hinge, far = (left, left + dx) if front.hinge == "left" else (left + dx, left)
        for corner in (low, low + dz):
            yield line("swing", Point(far, corner), Point(hinge, low + dz / 2))


_WORDS = {
    "appliance": "appliance",
    "filler": "strip",
    "end panel": "strip",
    "top panel": "strip",
    "ladder base": "kick",
}


def _things(run: Run, units: str) -> Iterator[str]:
    for item in (*run.items, *run.covers, *run.bases):
        low, high = item.turn_mm
        for x, wide in ((item.x_mm, low), (item.right_mm - high, high)):
            if wide > 0:
                yield rect("blind", x, item.z_mm, wide, item.height_mm, title=f"{item.name}: the other leg")
        if item.sort in _WORDS and item.width_mm > 0 and item.height_mm > 0:
            size = full_size(item.width_mm, item.height_mm, units)
            title = f"{item.name}: {size}" if item.name != item.sort else f"{item.sort}: {size}"
            yield rect(_WORDS[item.sort], item.x_mm, item.z_mm, item.width_mm, item.height_mm, title=title)


def _kicks(run: Run, kicks: Sequence[Panel]) -> Iterator[str]:
    """Yield the toe kicks, their straight upper edges level with those of the cabinets' toe kicks."""
    panels = {panel.id: panel for panel in kicks}
    for placed in run.kicks:
        panel = panels.get(placed.piece.name)
        if panel is None:
            continue
        turned = placed.piece.face_down
        low = placed.top_z_mm - panel.width_mm
        points = [
            (placed.x_mm + (panel.length_mm - point.x if turned else point.x), low + point.y)
            for point in panel.outline.flattened(0.5)
        ]
        data = " ".join(f"{number(x)},{number(-z)}" for x, z in points)
        yield f'<polygon class="kick" points="{data}"><title>{escaped(panel.id)}</title></polygon>'


def counter_stretches(run: Run) -> tuple[tuple[float, float], ...]:
    """Return where the counter lies, from x to x: over whatever ends at its under side or little below, end panels and
    gaps between two such too; anything else breaks it."""
    if run.counter_z_mm is None:
        return ()
    under = run.counter_z_mm - run.counter_thickness_mm
    ends = [cover for cover in run.covers if cover.sort == "end panel" and not cover.is_upper]
    found: list[tuple[float, float]] = []
    is_broken = True
    for item in sorted((*run.lower, *ends), key=lambda item: item.x_mm):
        if item.sort == "gap" or item.width_mm <= 0:
            continue
        if not under - _LITTLE_MM <= item.top_mm <= under + FIT_MM:
            is_broken = True
            continue
        start = item.x_mm if is_broken else found.pop()[0]
        found.append((start, item.right_mm))
        is_broken = False
    return tuple(found)


def _counter(run: Run, units: str) -> Iterator[str]:
    for low, high in counter_stretches(run):
        assert run.counter_z_mm is not None
        under = run.counter_z_mm - run.counter_thickness_mm
        title = f"counter: {full_size(high - low, run.counter_thickness_mm, units)}"
        yield rect("counter", low, under, high - low, run.counter_thickness_mm, title=title)


def _floor(run: Run) -> Iterator[str]:
    """Yield the level floor and what ends the wall, then the floor as measured."""
    top = run.room_height_mm or max((item.top_mm for item in run.items), default=0.0) + 2 * TEXT_MM
    yield line("ground", Point(-TEXT_MM, 0.0), Point(run.length_mm + TEXT_MM, 0.0))
    for word, x in ((run.left, 0.0), (run.right, run.length_mm)):
        if word != "open":
            yield line("wall", Point(x, 0.0), Point(x, top))
    if run.room_height_mm:
        yield line("wall", Point(0.0, top), Point(run.length_mm, top))
    for floor in run.floors:
        yield from (line("measured", Point(*a), Point(*b)) for a, b in pairwise(floor.points))


def _names(run: Run) -> Iterator[Label]:
    """Yield the names of cabinets and appliances on them, where there is room; the sizes name what is too narrow. Of
    things in one place, which is an error, the first is named."""
    taken: list[Box] = []
    for item in run.items:
        if item.sort not in _NAMED:
            continue
        low, high = item.turn_mm
        shown = item.width_mm - low - high
        wide, high = 0.9 * shown, 0.5 * item.height_mm
        least = _LEAST_NAME * TEXT_MM
        if wide < 3 * least or high < least * 1.25:
            continue
        fitted = fit(plain(item.name), width=wide, height=high, largest=1.2 * TEXT_MM, smallest=least)
        if max(map(width_em, fitted.lines), default=0.0) * fitted.size > wide:
            continue
        middle = item.z_mm + item.height_mm / 2
        top = middle + len(fitted.lines) * 1.25 * fitted.size / 2
        at = Point(item.x_mm + low + shown / 2, top)
        label = Label(lines=fitted.lines, at=at, anchor_at="middle", size_mm=fitted.size, css="name")
        if not any(label.box.meets(other) for other in taken):
            taken.append(label.box)
            yield label


def _sizes(run: Run, units: str) -> tuple[Lettered, ...]:
    """Return the chains of sizes below and above, and the levels at the left."""
    lowest = min([0.0, *(z for floor in run.floors for _, z in floor.points)])
    found = []
    y = lowest - TEXT_MM
    if run.floors:
        marks = chain(_heights(run, units), y)
        found.append(marks)
        y = _low(marks, y) - TEXT_MM
    widths = chain(_widths(run.lower, units), y)
    found.append(widths)
    y = _low(widths, y) - TEXT_MM
    found.append(chain((_whole(run, units),), y))
    marks = levels(_levels(run), run.length_mm, units)
    found.append(marks)
    upper = [item for item in run.items if item.is_upper]
    if upper:
        top = max([run.room_height_mm or 0.0, *(item.top_mm for item in run.items)])
        top = max([top, *(label.box.y1 for label in marks.labels)])
        found.append(chain(_widths(upper, units), top + TEXT_MM, up=True))
    return tuple(found)


def _low(part: Lettered, y: float) -> float:
    return min([y, *(label.box.y0 for label in part.labels)])


def _widths(items: Sequence[PlacedItem], units: str) -> list[Stretch]:
    return [
        Stretch(low=item.x_mm, high=item.right_mm, name=item.name, lines=both(item.width_mm, units))
        for item in items
        if item.width_mm > 0
    ]


def _whole(run: Run, units: str) -> Stretch:
    return Stretch(low=0.0, high=run.length_mm, name="wall", lines=both(run.length_mm, units))


def _heights(run: Run, units: str) -> list[Stretch]:
    """Return the heights measured under toe kicks, each at its place."""
    found: dict[float, Stretch] = {}
    for floor in run.floors:
        for x, z in floor.points:
            lines = both(floor.top_z_mm - z, units)
            found.setdefault(round(x, 3), Stretch(low=x, high=x, name="kick", lines=lines))
    return [found[x] for x in sorted(found)]


def _levels(run: Run) -> list[tuple[float, str]]:
    """Return the heights worth a mark, each once, with what they are."""
    named: dict[float, str] = {}

    def add(z: float, name: str) -> None:
        if z > FIT_MM and not any(abs(z - other) <= FIT_MM for other in named):
            named[z] = name

    if run.counter_z_mm is not None and counter_stretches(run):
        add(run.counter_z_mm, "counter")
    if run.room_height_mm is not None:
        add(run.room_height_mm, "ceiling")
    for item in run.items:
        if item.sort in _NAMED:
            add(item.top_mm, f"top of {item.name}")
            add(item.z_mm, f"under {item.name}")
    for placed in _placed(run):
        if placed.cabinet.kick_z_mm > 0:
            add(placed.z_mm + placed.cabinet.kick_z_mm, "toe kick")
    return list(named.items())


def _extent(run: Run, labels: Sequence[Label]) -> tuple[float, float, float, float]:
    """Return left, low, right and high of everything but the heading."""
    boxes = [label.box for label in labels]
    boxes += [Box(item.x_mm, item.z_mm, item.right_mm, item.top_mm) for item in (*run.items, *run.covers)]
    boxes.append(Box(-TEXT_MM, -TEXT_MM, run.length_mm + TEXT_MM, (run.room_height_mm or 0.0) + TEXT_MM))
    return (
        min(box.x0 for box in boxes) - _EDGE_MM,
        min(box.y0 for box in boxes) - _EDGE_MM,
        max(box.x1 for box in boxes) + _EDGE_MM,
        max(box.y1 for box in boxes) + _EDGE_MM,
    )


def _heading(run: Run, left: float, right: float, high: float, units: str) -> Label:
    """Return the heading, just above everything else."""
    first, second = both(run.length_mm, units)
    text = f"{plain(run.name)}: front elevation of {first} ({second}), 1:{_SCALE:g} at its own size"
    room = right - left - 2 * _EDGE_MM
    fitted = fit(text, width=room, height=6 * PITCH_MM, largest=1.2 * TEXT_MM, smallest=TEXT_MM)
    tall = len(fitted.lines) * 1.25 * fitted.size
    at = Point(left + _EDGE_MM, high + tall)
    return Label(lines=fitted.lines, at=at, anchor_at="start", size_mm=fitted.size, css="heading")
