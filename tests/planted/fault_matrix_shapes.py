"""Faults of whole features of a program: holes, passes, tabs, dados, the order of work. Each function yields every
place where its fault matters."""

import re
from collections.abc import Callable, Iterator

from fault_matrix_kit import Change, Operation, Step, Text
from fault_matrix_words import hole_ends, hole_places

Places = Callable[[Text], Iterator[Change]]


def _hole_lines(text: Text, place: Step) -> range:
    """Return the lines of the hole that a motion goes to: one for a cycle, else up to the motion to the next hole."""
    if place.motion != "G0":
        return range(place.index, place.index + 1)
    steps = text.operations[place.operation].steps
    later = [step.index for step in steps if step.index > place.index and step.start[:2] != step.to[:2]]
    return range(place.index, min([*later, steps[-1].index + 1]))


def hole_dropped(text: Text) -> Iterator[Change]:
    """A hole other than an operation's last: what follows names its place in full."""
    for place in hole_places(text):
        lines = _hole_lines(text, place)
        after = [step for step in hole_places(text) if step.index >= lines.stop and step.operation == place.operation]
        if (place.motion != "G0" or after) and not text.lines[place.index].startswith("G98"):
            yield Change(lines=dict.fromkeys(lines, ()))


def hole_added(text: Text) -> Iterator[Change]:
    """A hole once more, nine millimetres aside towards the panel's middle. Where the next hole names its x again."""
    for place in hole_places(text):
        lines = _hole_lines(text, place)
        after = [step for step in hole_places(text) if step.index >= lines.stop][:1]
        if place.runs_through("X") and (not after or "X" in after[0].words):
            aside = 9.0 if place.to[0] < _middle_x(text, text.operations[place.operation]) else -9.0
            again = [text.put(place, X=place.to[0] + aside), *(text.lines[index] for index in lines[1:])]
            own = [text.lines[index] for index in lines]
            yield Change(lines=_block(lines, (*own, *again)), at=lines.stop, span=len(lines))


def _middle_x(text: Text, operation: Operation) -> float:
    """Return the middle of the panel that an operation works on."""
    name = operation.name.split(": ")[0]
    panel = next(panel for panel in text.setup["target"]["panels"] if panel["id"] == name)
    xs = [segment["to"][0] for segment in panel["outline"]["segments"]]
    return float(min(xs) + max(xs)) / 2


def hole_moved(aside_mm: float) -> Places:
    """One hole moved along x or y. Where the next hole names that word again: else it would move too."""

    def places(text: Text) -> Iterator[Change]:
        for place in hole_places(text):
            lines = _hole_lines(text, place)
            after = [step for step in hole_places(text) if step.index >= lines.stop][:1]
            alone = [letter for letter in "XY" if letter in place.words and (not after or letter in after[0].words)]
            if alone and (place.motion != "G0" or place.runs_through("XY")):
                at = place.to["XY".index(alone[0])] + aside_mm
                line = text.put(place, **{alone[0]: at})
                yield Change(lines={place.index: (line,)}, at=place.index, span=len(lines))

    return places


def hole_depth(deeper_mm: float) -> Places:
    """Blind holes only: a through hole may bite into the spoilboard a little."""

    def places(text: Text) -> Iterator[Change]:
        for step in hole_ends(text):
            if "deep" in text.operations[step.operation].name:
                line = text.put(step, Z=step.to[2] - deeper_mm)
                yield Change(lines={step.index: (line,)}, at=step.index if deeper_mm > 0 else -1)

    return places


def _block(lines: range, new: tuple[str, ...]) -> dict[int, tuple[str, ...]]:
    return {index: new if index == lines.start else () for index in lines}


def _with_z(text: Text, operation: Operation, change: Callable[[float], float]) -> dict[int, tuple[str, ...]]:
    """Return an operation's lines with other depths."""
    return {
        step.index: (text.put(step, Z=change(step.to[2])),)
        for step in operation.steps
        if "Z" in step.words and step.to[2] < 0 and change(step.to[2]) != step.to[2]
    }


def _levels(operation: Operation) -> list[float]:
    """Return the heights at which an operation cuts level all round, from the top down; tabs left out."""
    found: dict[float, float] = {}
    for step in operation.steps:
        if step.is_level:
            far = abs(step.to[0] - step.start[0]) + abs(step.to[1] - step.start[1])
            found[step.to[2]] = found.get(step.to[2], 0.0) + far
    return sorted((z for z, far in found.items() if far > 300), reverse=True)


def pass_skipped(text: Text) -> Iterator[Change]:
    """The first pass runs at the depth of the second: too deep at once for the cutter."""
    for operation in text.operations:
        levels = _levels(operation)
        if operation.is_outline and len(levels) > 1 and -levels[1] > 6.5:
            first, second = levels[:2]
            lines = _with_z(text, operation, lambda z, a=first, b=second: b if abs(z - a) < 0.01 else z)  # type: ignore[misc]
            yield Change(lines=lines, at=operation.begin, span=operation.end - operation.begin)


def last_pass_skipped(text: Text) -> Iterator[Change]:
    for operation in text.operations:
        levels = _levels(operation)
        if operation.is_outline and len(levels) > 1:
            last, before = levels[-1], levels[-2]
            lines = _with_z(text, operation, lambda z, a=last, b=before: b if z < a + 0.01 else z)  # type: ignore[misc]
            yield Change(lines=lines)


def outline_depth(deeper_mm: float) -> Places:
    def places(text: Text) -> Iterator[Change]:
        for operation in text.operations:
            if operation.is_outline:
                low = operation.lowest
                lines = _with_z(text, operation, lambda z, a=low: z - deeper_mm if z < a + 0.01 else z)  # type: ignore[misc]
                at = min(lines) if deeper_mm > 0 else -1
                yield Change(lines=lines, at=at, span=1)

    return places


def _tab_rises(text: Text, operation: Operation) -> list[Step]:
    """Return the lifts onto the tabs of an outline."""
    thickness = text.setup["blank"]["thickness_mm"]
    top = 3.0 - thickness
    return [step for step in operation.steps if step.start[:2] == step.to[:2] and abs(step.to[2] - top) < 0.01]


def _hold(text: Text, operation: Operation) -> dict[str, int]:
    name = operation.name.removesuffix(": outline")
    panels = text.setup["target"]["panels"]
    return dict(next(panel["hold"] for panel in panels if panel["id"] == name))


def _without(text: Text, rises: list[Step]) -> dict[int, tuple[str, ...]]:
    return {step.index: () for step in rises}


def tabs_dropped(text: Text) -> Iterator[Change]:
    """So many tabs that fewer are left than the setup's least: one less than planned may still be within its range."""
    for operation in text.operations:
        rises = _tab_rises(text, operation) if operation.is_outline else []
        places = sorted({step.to[:2] for step in rises})
        least = _hold(text, operation)["at_least"] if operation.is_outline else 0
        if least and len(places) >= least:
            gone = places[: len(places) - least + 1]
            yield Change(lines=_without(text, [step for step in rises if step.to[:2] in gone]))


def no_tabs(text: Text) -> Iterator[Change]:
    for operation in text.operations:
        if operation.is_outline:
            yield Change(lines=_without(text, _tab_rises(text, operation)))


def tab_length(longer_mm: float) -> Places:
    """The motion over a tab goes farther."""

    def places(text: Text) -> Iterator[Change]:
        for operation in text.operations:
            rises = {step.index for step in (_tab_rises(text, operation) if operation.is_outline else ())}
            for step in operation.steps:
                if step.index - 1 in rises and len(step.words) == 1 and step.is_level:
                    axis, letter = (0, "X") if "X" in step.words else (1, "Y")
                    sign = 1 if step.to[axis] > step.start[axis] else -1
                    yield Change(lines={step.index: (text.put(step, **{letter: step.to[axis] + sign * longer_mm}),)})

    return places


def tab_height(higher_mm: float) -> Places:
    """All tabs of a part: one is passed several times, and the lowest visit counts."""

    def places(text: Text) -> Iterator[Change]:
        for operation in text.operations:
            if operation.is_outline:
                rises = _tab_rises(text, operation)
                yield Change(lines={step.index: (text.put(step, Z=step.to[2] + higher_mm),) for step in rises})

    return places


def recess_depth(deeper_mm: float) -> Places:
    def places(text: Text) -> Iterator[Change]:
        for operation in _recesses(text):
            lines = _with_z(text, operation, lambda z, a=operation.lowest: z - deeper_mm if z < a + 0.01 else z)  # type: ignore[misc]
            at = operation.begin if deeper_mm > 0 else -1
            yield Change(lines=lines, at=at, span=operation.end - operation.begin)

    return places


def recess_shifted(aside_mm: float) -> Places:
    """A dado, groove or cup some way aside, in x and in y: one of them is across it."""

    def places(text: Text) -> Iterator[Change]:
        for operation in _recesses(text):
            lines = {
                step.index: (text.put(step, **{a: step.to["XY".index(a)] + aside_mm for a in "XY" if a in step.words}),)
                for step in operation.steps
            }
            # Of the way to it and the cuts: what follows the last cut is the way to the park.
            words = {letter for step in operation.steps if step.index <= operation.lowest_at for letter in step.words}
            if operation is not text.operations[0] and "rabbet" not in operation.name and {"X", "Y"} <= words:
                yield Change(lines=lines, at=operation.begin, span=operation.end - operation.begin)

    return places


def groove_shorter(text: Text) -> Iterator[Change]:
    """The one cut along a groove ends 20 mm early."""
    for operation in _recesses(text):
        last = operation.steps[-2]
        if "groove" in operation.name and last.is_level and "X" in last.words:
            sign = 1 if last.to[0] > last.start[0] else -1
            yield Change(lines={last.index: (text.put(last, X=last.to[0] - sign * 20.0),)})


def relief_missing(text: Text) -> Iterator[Change]:
    """The bite into a square inside corner is left out."""
    corners = [
        corner
        for panel in text.setup["target"]["panels"]
        for recess in panel["recesses"]
        for corner in recess["relieved_corners"]
    ]
    for operation in _recesses(text):
        for step in operation.steps:
            reach = min((abs(step.to[0] - x) ** 2 + abs(step.to[1] - y) ** 2 for x, y in corners), default=1e9) ** 0.5
            if abs(reach - 6.33 / 2) < 0.01 and step.is_level:
                yield Change(lines={step.index: ()})


def recess_missing(text: Text) -> Iterator[Change]:
    for operation in _recesses(text):
        if operation is not text.operations[0] and text.operations.index(operation) + 1 < len(text.operations):
            yield Change(lines=dict.fromkeys(range(operation.begin, operation.end), ()))


def _recesses(text: Text) -> list[Operation]:
    names = ("dado", "groove", "rabbet", "cup)", "cup")
    return [operation for operation in text.operations if operation.name.endswith(names)]


def outline_shifted(aside_mm: float) -> Places:
    def places(text: Text) -> Iterator[Change]:
        for operation in text.operations[1:]:
            if operation.is_outline:
                lines = {
                    step.index: (text.put(step, X=step.to[0] + aside_mm),)
                    for step in operation.steps
                    if "X" in step.words
                }
                yield Change(lines=lines, at=operation.begin, span=operation.end - operation.begin)

    return places


def outline_first(text: Text) -> Iterator[Change]:
    """A part is cut out before its recess, or before its holes where one program cuts both."""
    for place, operation in enumerate(text.operations):
        panel = operation.name.split(": ")[0]
        later = [item for item in text.operations[place + 1 :] if item.name == f"{panel}: outline"]
        if place == 0 or not later or operation.steps[0].motion not in ("G0", "G81", "G83"):
            continue
        same = [item for item in text.operations if item.begin < later[0].begin and item.begin >= operation.begin]
        if any(_cutter_line(text, item) != _cutter_line(text, later[0]) for item in same):
            continue
        outline = [*_entered(text, later[0])]
        old = range(later[0].begin, later[0].end - _tail(text, later[0]))
        lines: dict[int, tuple[str, ...]] = dict.fromkeys(old, ())
        lines[operation.begin] = (*outline, text.lines[operation.begin], _entry(text, operation))
        yield Change(lines=lines, at=operation.begin + len(outline), span=operation.end - operation.begin + 2)


def _cutter_line(text: Text, operation: Operation) -> int:
    return max([index for index in text.where(r"T[0-9]+ M6") if index < operation.begin], default=-1)


def _tail(text: Text, operation: Operation) -> int:
    """Return how many lines of an operation belong to the program's end or the change of cutter."""
    return (
        operation.end - 1 - operation.steps[-1].index
        if operation is not text.operations[-1]
        else operation.end
        - next(index for index in range(operation.begin, operation.end) if re.match(r"M5|\(stop|M0", text.lines[index]))
    )


def _entry(text: Text, operation: Operation) -> str:
    """Return the traverse to where an operation begins: its own first line may name only one axis."""
    first = next(step for step in operation.steps if step.motion != "G0" or step.start[:2] == step.to[:2])
    return f"G0 X{text.length(first.start[0])} Y{text.length(first.start[1])}"


def _entered(text: Text, operation: Operation) -> Iterator[str]:
    yield text.lines[operation.begin]
    yield _entry(text, operation)
    yield from text.lines[operation.begin + 1 : operation.end - _tail(text, operation)]
