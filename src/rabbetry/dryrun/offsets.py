"""Offsets and the words that set them: G43 G49, G54 to G59.3, G10 L2, G92 and its kin, and the ways home G28 G30."""

from collections.abc import Callable

from rabbetry.dryrun.model import Point3, WorkOffset
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.state import State
from rabbetry.dryrun.tolerances import INTEGER_SLACK
from rabbetry.dryrun.words import AXES, G_GROUPS, Block

_NONE: Point3 = (0.0, 0.0, 0.0)


def set_length_offset(state: State, block: Block) -> None:
    """Carry out G43 H and G49. Raises Refusal for G43 without H where the dialect wants one."""
    word = block.codes.get("length offset")
    if word is None:
        return
    if word == "G49":
        state.tool_length = 0.0
    else:
        if "H" not in block.values and state.dialect.length_offset_needs_h:
            raise Refusal("program-word", "G43 needs H, the number of the length offset")
        number = round(block.values.get("H", state.loaded))
        state.tool_length = dict(state.context.tool_lengths_mm).get(number, 0.0)
    state.take_offsets()


def set_work_offset(state: State, block: Block) -> None:
    """Carry out G54 to G59.3."""
    word = block.codes.get("coordinate system")
    if word is not None:
        state.work = G_GROUPS["coordinate system"].index(word) + 1
        state.take_offsets()
        state.add(WorkOffset(line=block.line, index=state.work))


def one_shot(state: State, block: Block) -> None:
    """Carry out G10, G28, G30 and the G92 family, if the block has one of them."""
    word = block.codes.get("one-shot")
    if word in _ONE_SHOTS:
        _ONE_SHOTS[word](state, block)


def _store_work_offset(state: State, block: Block) -> None:
    level, number = block.values.get("L"), block.values.get("P")
    if level is None or abs(level - 2) > INTEGER_SLACK:
        raise Refusal("program-word", "G10 is read with L2 only")
    if number is None or abs(number - round(number)) > INTEGER_SLACK or not 1 <= round(number) <= 9:
        raise Refusal("program-word", "G10 L2 needs P, the coordinate system from 1 (G54) to 9 (G59.3)")
    index = round(number) - 1
    if index >= 6 and "G59.1" not in state.dialect.g_words:
        raise Refusal("program-word", f"G10 L2 P{index + 1}: this controller has the coordinate systems 1 to 6")
    state.work_offsets[index] = _named(state, block, state.work_offsets[index])
    state.take_offsets()


def _shift(state: State, block: Block) -> None:
    """G92: from now on the machine stands at the named coordinates."""
    named, here, shift = _named(state, block, state.program), state.program, state.g92
    state.g92 = (shift[0] + here[0] - named[0], shift[1] + here[1] - named[1], shift[2] + here[2] - named[2])
    state.g92_kept = state.g92
    state.take_offsets()


def _unshift(state: State, block: Block) -> None:
    word = block.codes["one-shot"]
    state.g92 = state.g92_kept if word == "G92.3" else _NONE
    if word == "G92.1":
        state.g92_kept = _NONE
    state.take_offsets()


def _go_home(state: State, block: Block) -> None:
    """G28, G30: through the named point, if any, and home."""
    home = state.context.home_mm if block.codes["one-shot"] == "G28" else state.context.second_home_mm
    if block.has_axis():
        here = state.program
        point = _named(state, block, (0.0, 0.0, 0.0) if state.relative else here)
        if state.relative:
            point = (here[0] + point[0], here[1] + point[1], here[2] + point[2])
        state.traverse(block.line, point)
        if state.dialect.home_named_axes_only:
            x, y, z = (home[axis] if AXES[axis] in block.values else state.at[axis] for axis in range(3))
            home = (x, y, z)
    state.traverse_machine(block.line, home)


def _named(state: State, block: Block, otherwise: Point3) -> Point3:
    """Return the point of the axis words in millimetres, with `otherwise` for an axis not named."""
    x, y, z = (
        block.values[letter] * state.scale if letter in block.values else otherwise[axis]
        for axis, letter in enumerate(AXES)
    )
    return (x, y, z)


_ONE_SHOTS: dict[str | None, Callable[[State, Block], None]] = {
    "G10": _store_work_offset,
    "G28": _go_home,
    "G30": _go_home,
    "G92": _shift,
    "G92.1": _unshift,
    "G92.2": _unshift,
    "G92.3": _unshift,
}
