"""Canned cycles made into single motions (NISTIR 6556, section 3.5.16). Millimetres, program coordinates.

A cycle bores along the axis normal to the plane: Z in the XY plane, Y in XZ, X in YZ. Under G98 the clear level is
where that axis stood when the cycle began, if that is above R; under G99 it is R.
"""

from dataclasses import dataclass

from rabbetry.dryrun.arcs import PLANE_AXES
from rabbetry.dryrun.model import Dwell, Point3
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.state import Direction, State
from rabbetry.dryrun.tolerances import INTEGER_SLACK, MOST_MOTIONS_OF_A_LINE, SAME_POINT_MM
from rabbetry.dryrun.words import AXES, Block

_NEEDS_DWELL = frozenset(("G82", "G86", "G89"))
_NEEDS_PECK = frozenset(("G73", "G83"))
_MOTIONS_OF_A_HOLE = 5
"""Approach, R level, feed, and two for leaving: the most that a hole without pecks takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hole:
    """Levels of a cycle along its axis, and how it goes about boring."""

    word: str
    line: int
    normal: int
    bottom: float
    r_level: float
    clear: float
    feed_mm_per_min: float
    dwell_s: float
    peck: float


def run_cycle(state: State, word: str, block: Block) -> None:
    """Carry out the cycle of a line, once or L times. Raises Refusal when a number is missing or impossible."""
    if state.inverse_time:
        raise Refusal("program-cycle", f"{word} cannot be used with inverse time feed (G93)")
    if state.feed is None:
        raise Refusal("program-feed", f"{word} has no feed: no F word so far")
    if not block.has_axis():
        raise Refusal("program-cycle", f"{word} needs an X, Y or Z word")
    words = _settled_words(state, word, block)
    repeats = _repeats(block)
    first, second, normal = PLANE_AXES[state.plane]
    start = state.program
    step = _step(state, block, (first, second))
    base = start[normal] if state.relative else 0.0
    r_level = base + words["R"]
    bottom = (r_level if state.relative else 0.0) + words[AXES[normal]]
    if bottom > r_level:
        raise Refusal("program-cycle", f"{word}: the R level {r_level:g} mm is below the bottom {bottom:g} mm")
    _check_count(word, repeats, (r_level - bottom) / words["Q"] if word in _NEEDS_PECK else 0)
    clear = r_level if state.retract_to_r else max(start[normal], r_level)
    hole = _Hole(
        word=word,
        line=block.line,
        normal=normal,
        bottom=bottom,
        r_level=r_level,
        clear=clear,
        feed_mm_per_min=state.feed,
        dwell_s=words.get("P", 0.0),
        peck=words.get("Q", 0.0),
    )
    if start[normal] < r_level:
        _quick(state, hole, r_level)
    for _ in range(repeats):
        _bore_one(state, hole, step)


def _settled_words(state: State, word: str, block: Block) -> dict[str, float]:
    """Return R, depth, P and Q (mm, seconds), from the line or kept from the same cycle's line before."""
    deep = AXES[PLANE_AXES[state.plane][2]]
    needed = {deep, "R"} | ({"P"} if word in _NEEDS_DWELL else set()) | ({"Q"} if word in _NEEDS_PECK else set())
    kept = state.cycle_words if state.motion == word else {}
    words: dict[str, float] = {}
    for letter in sorted(needed):
        if letter in block.values:
            words[letter] = block.values[letter] * (1.0 if letter == "P" else state.scale)
        elif letter in kept:
            words[letter] = kept[letter]
        else:
            raise Refusal("program-cycle", f"{word} needs {letter} on its first line")
    if words.get("Q", 1.0) <= 0:
        raise Refusal("program-cycle", f"{word}: the peck Q must be more than zero")
    state.cycle_words = words
    return words


def _repeats(block: Block) -> int:
    value = block.values.get("L", 1.0)
    if value < 1 - INTEGER_SLACK:
        raise Refusal("program-cycle", f"L{value:g}: a cycle is repeated once or more")
    return round(value)


def _check_count(word: str, repeats: int, pecks: float) -> None:
    count = repeats * (_MOTIONS_OF_A_HOLE + 3 * pecks)
    if count > MOST_MOTIONS_OF_A_LINE:
        reason = f"{word} would make about {count:.3g} motions; a line may make {MOST_MOTIONS_OF_A_LINE}"
        raise Refusal("program-size", reason)


def _step(state: State, block: Block, in_plane: tuple[int, int]) -> dict[int, tuple[float, float]]:
    """Return, for each axis of the plane, where the first repeat begins and how far each next one lies."""
    steps: dict[int, tuple[float, float]] = {}
    for axis in in_plane:
        value = block.values.get(AXES[axis])
        if value is None:
            steps[axis] = (state.program[axis], 0.0)
        elif state.relative:
            steps[axis] = (state.program[axis], value * state.scale)
        else:
            steps[axis] = (value * state.scale, 0.0)
    return steps


def _bore_one(state: State, hole: _Hole, step: dict[int, tuple[float, float]]) -> None:
    place = list(state.program)
    for axis, (begin, along) in step.items():
        place[axis] = place[axis] + along if along else begin
    over: Point3 = (place[0], place[1], place[2])
    state.traverse(hole.line, over, cycle=hole.word)
    if abs(over[hole.normal] - hole.r_level) > SAME_POINT_MM:
        _quick(state, hole, hole.r_level)
    if hole.word == "G83":
        _peck(state, hole, hole.r_level if state.dialect.peck_retract == "R" else hole.clear)
    elif hole.word == "G73":
        _break_chips(state, hole)
    _slow(state, hole, hole.bottom)
    if hole.word in _NEEDS_DWELL:
        state.add(Dwell(line=hole.line, seconds=hole.dwell_s * state.dialect.dwell_unit_s))
    _leave(state, hole)


def _leave(state: State, hole: _Hole) -> None:
    if hole.word in {"G85", "G89"}:
        _slow(state, hole, hole.clear)
        return
    turning: Direction = state.spindle
    if hole.word == "G86":
        if turning == "off":
            raise Refusal("program-cycle", "G86 stops and restarts the spindle, but the spindle is not turning")
        state.turn_spindle(hole.line, "off")
    _quick(state, hole, hole.clear)
    if hole.word == "G86":
        state.turn_spindle(hole.line, turning)


def _peck(state: State, hole: _Hole, retract: float) -> None:
    back_in = state.dialect.peck_back_in_mm
    for depth in _peck_depths(hole):
        _slow(state, hole, depth)
        _quick(state, hole, retract)
        _quick(state, hole, min(depth + back_in, retract))


def _break_chips(state: State, hole: _Hole) -> None:
    for depth in _peck_depths(hole):
        _slow(state, hole, depth)
        _quick(state, hole, depth + state.dialect.peck_back_in_mm)


def _peck_depths(hole: _Hole) -> list[float]:
    """Return the depths of all pecks but the last."""
    depths: list[float] = []
    depth = hole.r_level - hole.peck
    while depth > hole.bottom + SAME_POINT_MM:
        depths.append(depth)
        depth = hole.r_level - (len(depths) + 1) * hole.peck
    return depths


def _quick(state: State, hole: _Hole, level: float) -> None:
    state.traverse(hole.line, _at_level(state.program, hole.normal, level), cycle=hole.word)


def _slow(state: State, hole: _Hole, level: float) -> None:
    state.cut(hole.line, _at_level(state.program, hole.normal, level), hole.feed_mm_per_min, cycle=hole.word)


def _at_level(point: Point3, axis: int, level: float) -> Point3:
    moved = list(point)
    moved[axis] = level
    return (moved[0], moved[1], moved[2])
