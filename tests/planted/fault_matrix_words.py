"""Faults of single words and lines of a program. Each function yields every place where its fault matters."""

import re
from collections.abc import Callable, Iterator

from fault_matrix_kit import Change, Step, Text

Places = Callable[[Text], Iterator[Change]]


def replaced(pattern: str, new: str, *, span: int = 1, shows: bool = True) -> Places:
    """Return the kind that changes one line that matches from its start."""

    def places(text: Text) -> Iterator[Change]:
        for index in text.where(pattern):
            line = re.sub(pattern, new, text.lines[index])
            if line != text.lines[index]:
                yield Change(lines={index: (line,)}, at=index if shows else -1, span=span)

    return places


def removed(pattern: str, *, which: slice = slice(None), span: int = 0) -> Places:
    """Return the kind that leaves out one line; with `span` the fault shows in the lines that follow."""

    def places(text: Text) -> Iterator[Change]:
        for index in text.where(pattern)[which]:
            yield Change(lines={index: ()}, at=index if span else -1, span=span)

    return places


def inserted(*lines: str, at: int = 0, span: int = 1) -> Places:
    """Return the kind that puts lines before an operation other than the first; `at` is the one that shows it."""

    def places(text: Text) -> Iterator[Change]:
        for operation in text.operations[1:]:
            old = text.lines[operation.begin]
            yield Change(lines={operation.begin: (*lines, old)}, at=operation.begin + at, span=span)

    return places


def cutting(places: Places) -> Places:
    """Return the kind for programs that cut: an air run has no spindle to start or stop, and leaves no wood."""
    return lambda text: iter(()) if text.is_air_run else places(text)


def switched(places: Places) -> Places:
    """Return the kind for programs that cut and switch their spindle."""
    return cutting(lambda text: iter(()) if text.is_hand else places(text))


def with_changes(places: Places) -> Places:
    """Return the kind for programs that call their cutters."""
    return lambda text: places(text) if text.where(r"T[0-9]+ M6") else iter(())


def unit_word(text: Text) -> Iterator[Change]:
    (index,) = text.where(r"G2[01]$")
    yield Change(lines={index: ("G21" if text.inch else "G20",)})


def hole_ends(text: Text) -> Iterator[Step]:
    """Yield the last and deepest plunge of each hole."""
    for operation in text.operations:
        if "hole" in operation.name:
            yield from (step for step in operation.steps if step.to[2] == operation.lowest)


def level_begins(text: Text) -> Iterator[Step]:
    """Yield the plunges back to full depth beside a tab: all cutting up to the next lift depends on them."""
    for operation in text.operations:
        if operation.is_outline:
            for step in operation.steps:
                if step.is_straight_down and step.to[2] == operation.lowest:
                    yield step


def final_moves(text: Text) -> Iterator[Step]:
    """Yield the long straight cuts of outlines at full depth that end at a corner: no other cut goes on from there."""
    for operation in text.operations:
        for step, after in zip(operation.steps, operation.steps[1:], strict=False):
            far = abs(step.to[0] - step.start[0]) + abs(step.to[1] - step.start[1])
            is_last = operation.is_outline and step.is_level and step.to[2] == operation.lowest
            if is_last and far > 60 and step.motion == "G1" and after.motion in ("G2", "G3"):
                yield step


def sign_lost(text: Text) -> Iterator[Change]:
    for step in (*hole_ends(text), *level_begins(text)):
        yield Change(lines={step.index: (text.lines[step.index].replace("Z-", "Z"),)})


def sign_added(text: Text) -> Iterator[Change]:
    for step in text.steps:
        if step.words.get("X", 0.0) * (25.4 if text.inch else 1.0) > 60.0:
            yield Change(lines={step.index: (text.lines[step.index].replace("X", "X-"),)}, at=step.index)


def digit_changed(text: Text) -> Iterator[Change]:
    """The first of two or more digits before the point, of a hole's place or of a last cut's end."""
    for step in (*hole_places(text), *final_moves(text)):
        line = text.lines[step.index]
        match = re.search(r"(?<=[XY])[1-8](?=[0-9])", line)
        if match:
            digit = str(int(match.group()) + 1)
            yield Change(lines={step.index: (line[: match.start()] + digit + line[match.end() :],)})


def point_lost(text: Text) -> Iterator[Change]:
    for step in text.steps:
        line = text.lines[step.index]
        match = re.search(r"(?<=[XY])([0-9]{2,})\.([0-9]{2,})", line)
        if match:
            yield Change(
                lines={step.index: (line.replace(match.group(), match.group(1) + match.group(2)),)}, at=step.index
            )


def point_moved(text: Text) -> Iterator[Change]:
    for step in (*hole_places(text), *final_moves(text)):
        line = text.lines[step.index]
        match = re.search(r"(?<=[XY])([0-9]+)([0-9])\.?(?=[0-9]|\b)", line)
        if match:
            new = f"{match.group(1)}.{match.group(2)}"
            yield Change(lines={step.index: (line[: match.start()] + new + line[match.end() :],)})


def axes_swapped(text: Text) -> Iterator[Change]:
    for step in hole_places(text):
        if step.runs_through("XY") and abs(step.to[0] - step.to[1]) > 10:
            line = text.lines[step.index].translate(str.maketrans("XY", "YX"))
            yield Change(lines={step.index: (line,)})


def hole_places(text: Text) -> Iterator[Step]:
    """Yield the motions that go to a hole, the first left out (it stands before the operation)."""
    for operation in text.operations:
        if "hole" in operation.name:
            for step in operation.steps:
                if step.start[:2] != step.to[:2] and step.index < operation.lowest_at:
                    yield step


def no_lift(text: Text) -> Iterator[Change]:
    """A lift out of the wood before a traverse sideways is missing."""
    for step, after in zip(text.steps, text.steps[1:], strict=False):
        low = step.start[2] < -0.1 and step.motion == "G0" and step.to[:2] == step.start[:2]
        sideways = after.motion == "G0" and after.start[:2] != after.to[:2]
        if low and sideways and "G" in text.lines[after.index]:
            yield Change(lines={step.index: ()}, at=step.index, span=after.index - step.index)


def no_pauses(text: Text) -> Iterator[Change]:
    if text.is_hand and not text.is_air_run:
        first = text.operations[0].begin
        yield Change(lines={index: () for index in text.where(r"M0$") if index < first}, at=first - 2, span=4)


def first_speed_missing(text: Text) -> Iterator[Change]:
    for index in text.where(r"M3 S")[:1]:
        yield Change(lines={index: ("M3",)})


def later_speed_missing(text: Text) -> Iterator[Change]:
    """The speed of a later cutter is missing; the fault shows where that cutter first cuts."""
    for index in text.where(r"M3 S")[1:]:
        yield Change(lines={index: ("M3",)}, at=index, span=6)


def no_feeds(text: Text) -> Iterator[Change]:
    lines = {index: (re.sub(r" F[0-9.]+", "", line),) for index, line in enumerate(text.lines) if " F" in line}
    first = min(index for index in lines if not text.lines[index].startswith("("))
    yield Change(lines={index: line for index, line in lines.items() if index >= first}, at=first)


def plunge_feed_lost(text: Text) -> Iterator[Change]:
    """The plunge goes on at the last cut's feed. Matters where that is more than the z axis can do."""
    limit = text.setup["machine"]["max_rate_mm_per_min"][2]
    for step in text.steps:
        if step.is_straight_down and "F" in step.words and step.feed > limit * 1.01:
            line = re.sub(r" F[0-9.]+", "", text.lines[step.index])
            yield Change(lines={step.index: (line,)}, at=step.index)


def feed_tenfold(text: Text) -> Iterator[Change]:
    limit = text.setup["machine"]["max_rate_mm_per_min"][0]
    for step in text.steps:
        feed = step.words.get("F", 0.0) * (25.4 if text.inch else 1.0)
        if feed * 10 > 1.5 * limit and step.is_level:
            line = re.sub(r" F([0-9.]+)", lambda match: f" F{float(match[1]) * 10:.1f}", text.lines[step.index])
            yield Change(lines={step.index: (line,)}, at=step.index)


def plunge_missing(text: Text) -> Iterator[Change]:
    for step in (*hole_ends(text), *level_begins(text)):
        if step.motion == "G1":
            yield Change(lines={step.index: ()})


def doubled_while_relative(text: Text) -> Iterator[Change]:
    """A blind hole drilled in relative mode, its one plunge written twice."""
    for step in hole_ends(text):
        if step.motion == "G1" and "deep" in text.operations[step.operation].name:
            down = f"G1 Z{text.length(step.to[2] - step.start[2])} F{'40' if text.inch else '1000'}"
            lines = ("G91", down, down, "G90")
            yield Change(lines={step.index: lines}, at=step.index + 2)


def cut_at_traverse_rate(text: Text) -> Iterator[Change]:
    for step in text.steps:
        line = text.lines[step.index]
        if step.motion == "G1" and line.startswith("G1 ") and step.to[2] < -1 and step.to[:2] != step.start[:2]:
            yield Change(lines={step.index: ("G0" + line[2:],)}, at=step.index)


def _corners(text: Text) -> Iterator[Step]:
    """Yield the quarter arcs about the corners of outlines at full depth, where the line names its motion."""
    for operation in text.operations:
        if operation.is_outline:
            named = (step for step in operation.steps if step.motion in ("G2", "G3") and step.to[2] == operation.lowest)
            yield from (step for step in named if text.lines[step.index].startswith(step.motion))


def arc_turned(text: Text) -> Iterator[Change]:
    """An outline's corner the other way round: three quarters of a turn through the part."""
    for step in _corners(text):
        other = "G3" if step.motion == "G2" else "G2"
        yield Change(lines={step.index: (other + text.lines[step.index][2:],)}, at=step.index)


def arc_centre(text: Text) -> Iterator[Change]:
    """The centre a millimetre aside, or on the other side."""
    for step in text.steps:
        if step.motion in ("G2", "G3"):
            letter = "I" if abs(step.words.get("I", 0.0)) > abs(step.words.get("J", 0.0)) else "J"
            value = step.words[letter] * (25.4 if text.inch else 1.0)
            yield Change(lines={step.index: (text.put(step, **{letter: value + 1.0}),)}, at=step.index)
            if step.operation >= 0 and text.operations[step.operation].is_outline:
                yield Change(lines={step.index: (text.put(step, **{letter: -value}),)}, at=step.index)


def other_plane(text: Text) -> Iterator[Change]:
    """Matters where there are arcs, or cycles, which then go along another axis."""
    arcs = [step for step in text.steps if step.motion not in ("G0", "G1")]
    if arcs:
        (index,) = text.where(r"G17$")
        yield Change(lines={index: ("G18",)}, at=arcs[0].index)


def last_lifts_missing(text: Text) -> Iterator[Change]:
    """The lifts before the end (or the park) are missing."""
    lifts = [index for index in text.where(r"G0 Z") if index > text.steps[-1].index - 6]
    cut = max((step.index for step in text.steps if step.to[2] < -1 and step.motion != "G0"), default=len(text.lines))
    lines: dict[int, tuple[str, ...]] = {index: () for index in lifts if index > cut}
    if lines and text.steps[-1].motion == "G0":
        yield Change(lines=lines, at=cut + 1, span=len(text.lines) - cut)


def lifts_before_change_missing(text: Text) -> Iterator[Change]:
    for index in text.where(r"T[0-9]+ M6")[1:]:
        before = [step for step in text.steps if step.index < index]
        if not before[-3].motion.startswith("G8") and before[-3].to[2] < 0:
            yield Change(lines={step.index: () for step in before[-2:]}, at=index - 2)


def comma(text: Text) -> Iterator[Change]:
    for step in text.steps:
        line = text.lines[step.index]
        if re.search(r"[0-9]\.[0-9]", line):
            yield Change(lines={step.index: (line.replace(".", ",", 1),)}, at=step.index)


def letter_for_digit(text: Text) -> Iterator[Change]:
    for step in text.steps:
        if re.search(r"[XYZ]-?[0-9.]*0", text.lines[step.index]):
            line = re.sub(r"([XYZ]-?[0-9.]*?)0", r"\1O", text.lines[step.index], count=1)
            yield Change(lines={step.index: (line,)}, at=step.index)


def word_twice(text: Text) -> Iterator[Change]:
    for step in text.steps:
        if "X" in step.words:
            yield Change(lines={step.index: (text.lines[step.index] + " X1",)}, at=step.index)


def bracket_lost(text: Text) -> Iterator[Change]:
    for operation in text.operations:
        yield Change(lines={operation.begin: (text.lines[operation.begin].rstrip(")"),)}, at=operation.begin)


def truncated(text: Text) -> Iterator[Change]:
    for part in (3, 2):
        kept = len(text.lines) * part // 4
        cut: dict[int, tuple[str, ...]] = dict.fromkeys(range(kept, len(text.lines)), ())
        yield Change(lines=cut, at=kept - 1)


def middle_lost(text: Text) -> Iterator[Change]:
    """An operation's lines are lost, the end is there."""
    for operation in text.operations[1:-1]:
        yield Change(lines=dict.fromkeys(range(operation.begin, operation.end), ()))


def length_of_other_cutter(text: Text) -> Iterator[Change]:
    numbers = [cutter["number"] for cutter in text.setup["cutters"]]
    for index in text.where(r"G43 H"):
        other = next(number for number in numbers if text.lines[index] != f"G43 H{number}")
        yield Change(lines={index: (f"G43 H{other}",)}, at=index, span=9)


def cutter_not_set_up(text: Text) -> Iterator[Change]:
    other = next(item["number"] for item in text.setup["cutters"] if item["number"] not in text.setup["loaded"])
    for index in text.where(r"T[0-9]+ M6"):
        yield Change(lines={index: (f"T{other} M6",)}, at=index)


def other_cutter_called(text: Text) -> Iterator[Change]:
    for index in text.where(r"T[0-9]+ M6"):
        number = int(text.lines[index][1:].split()[0])
        others = [other for other in text.setup["loaded"] if other != number]
        for other in others[:1]:
            yield Change(lines={index: (f"T{other} M6",)})
