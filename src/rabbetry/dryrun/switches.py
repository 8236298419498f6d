"""Spindle, coolant, tool change and stops of one block (NISTIR 6556, sections 3.6 and 3.7)."""

from rabbetry.dryrun.model import Coolant, End, Spindle, Stop, ToolChange
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.state import Direction, State
from rabbetry.dryrun.words import Block
from rabbetry.findings import finding

_DIRECTIONS: dict[str, Direction] = {"M3": "cw", "M4": "ccw", "M5": "off"}


def take_speed(state: State, block: Block) -> None:
    """Take S; a turning spindle follows at once, unless the line switches it anyway."""
    value = block.values.get("S")
    if value is None:
        return
    state.rpm = value
    if state.spindle != "off" and "spindle" not in block.codes and "tool change" not in block.codes:
        state.add(Spindle(line=block.line, direction=state.spindle, rpm=value))


def select_tool(state: State, block: Block) -> None:
    """Take T. Raises Refusal for a number that the context does not know; 0 is an empty spindle."""
    value = block.values.get("T")
    if value is None:
        return
    number, tools = round(value), state.context.tools
    if tools is not None and number != 0 and number not in tools:
        known = ", ".join(str(tool) for tool in sorted(tools)) or "none"
        raise Refusal("program-tool", f"there is no tool {number}; known: {known}")
    state.selected = number
    state.tool_named = True


def change_tool(state: State, block: Block) -> None:
    """Carry out M6: the spindle is stopped afterwards (section 3.6.3)."""
    if "tool change" in block.codes:
        if state.spindle != "off":
            state.turn_spindle(block.line, "off", implied=True)
        state.loaded = state.selected
        if not state.tool_named:
            state.tool_named = True
            message = "M6 changes the tool, but no T word has named one"
            state.findings.append(
                finding("program-tool", message, severity="warning", file=state.name, line=block.line)
            )
        state.add(ToolChange(line=block.line, number=state.loaded))


def switch_spindle(state: State, block: Block) -> None:
    """Carry out M3, M4, M5."""
    word = block.codes.get("spindle")
    if word is not None:
        state.turn_spindle(block.line, _DIRECTIONS[word])


def switch_coolant(state: State, block: Block) -> None:
    """Carry out M7, M8; M9 closes both."""
    word = block.codes.get("coolant")
    if word == "M7":
        state.mist = True
        state.add(Coolant(line=block.line, kind="mist_on"))
    elif word == "M8":
        state.flood = True
        state.add(Coolant(line=block.line, kind="flood_on"))
    elif word == "M9":
        state.mist = state.flood = False
        state.add(Coolant(line=block.line, kind="mist_off"))
        state.add(Coolant(line=block.line, kind="flood_off"))


def stop(state: State, block: Block) -> None:
    """Carry out M0, M1, M60, M2, M30, after everything else of the line."""
    word = block.codes.get("stop")
    if word in {"M0", "M1", "M60"}:
        state.add(Stop(line=block.line, optional=word == "M1"))
        if state.dialect.changes_at_stop and word == "M0" and "T" in block.values:
            _change_by_hand(state, block.line)
    elif word is not None:
        _end(state, block.line)


def _change_by_hand(state: State, line: int) -> None:
    if state.spindle != "off":
        message = "the cutter is changed by hand here, and the spindle still turns"
        state.findings.append(finding("program-tool", message, file=state.name, line=line))
    state.loaded = state.selected
    state.add(ToolChange(line=line, number=state.loaded))


def _end(state: State, line: int) -> None:
    if state.spindle != "off":
        state.turn_spindle(line, "off", implied=True)
    if state.mist:
        state.add(Coolant(line=line, kind="mist_off", implied=True))
    if state.flood:
        state.add(Coolant(line=line, kind="flood_off", implied=True))
    state.add(End(line=line))
    state.ended = True
