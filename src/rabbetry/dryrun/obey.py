"""Carries out one block in the order the language lays down (NISTIR 6556, table 8), and so brings the state on."""

from collections.abc import Callable
from dataclasses import replace

from rabbetry.dryrun.arcs import (
    PLANE_AXES,
    Plane2,
    Turns,
    centre_by_offsets,
    centre_by_radius,
    is_full_circle,
    length_mm,
)
from rabbetry.dryrun.cycles import run_cycle
from rabbetry.dryrun.model import ArcMove, DistanceMode, Dwell, FeedMode, Plane, PlaneName, Point3, Units
from rabbetry.dryrun.offsets import one_shot, set_length_offset, set_work_offset
from rabbetry.dryrun.refusal import Refusal
from rabbetry.dryrun.state import State
from rabbetry.dryrun.switches import change_tool, select_tool, stop, switch_coolant, switch_spindle, take_speed
from rabbetry.dryrun.tolerances import MM_PER_INCH, MOST_ARC_NOTES
from rabbetry.dryrun.words import ARCS, AXES, AXIS_CODES, CYCLES, OFFSETS, Block, check_letters

_PLANES: dict[str, PlaneName] = {"G17": "XY", "G18": "XZ", "G19": "YZ"}


def obey(state: State, block: Block) -> None:
    """Carry out a block. Raises Refusal; what came before the refused step has happened."""
    motion = motion_of(state, block)
    check_letters(block, motion, state.dialect)
    for step in _STEPS:
        step(state, block)
    if motion is not None:
        _move(state, motion, block)
        state.motion = motion
    elif block.codes.get("motion") == "G80":
        state.motion = None
    stop(state, block)


def motion_of(state: State, block: Block) -> str | None:
    """Return the motion word that the block carries out, its own or the one in force; None if it moves nothing.

    Raises Refusal for axis words that nothing takes or two words take (sections 3.4 and 3.5.15).
    """
    own, special = block.codes.get("motion"), block.codes.get("one-shot")
    axis = block.has_axis()
    takes_axes = special in AXIS_CODES
    if special == "G53":
        _check_g53(state, block, own)
    if own is not None and own != "G80":
        if takes_axes:
            raise Refusal("program-group", f"{special} and {own} in one line: both use the axis words")
        return own
    if not axis or takes_axes:
        if takes_axes and special == "G92" and not axis:
            raise Refusal("program-word", "G92 needs an X, Y or Z word")
        return None
    if own == "G80" or state.motion is None:
        raise Refusal("program-word", "axis words without a motion word: no G0, G1, arc or cycle is in force")
    return state.motion


def _check_g53(state: State, block: Block, own: str | None) -> None:
    motion = own or state.motion
    if motion not in {"G0", "G1"} or not block.has_axis():
        raise Refusal("program-word", "G53 needs an axis word, and G0 or G1 in force")
    distance = block.codes.get("distance mode")
    if distance == "G91" or (state.relative and distance is None):
        raise Refusal("program-word", "G53 cannot be used in relative mode (G91)")


def _set_feed_mode(state: State, block: Block) -> None:
    word = block.codes.get("feed mode")
    if word is None:
        return
    if (word == "G93") != state.inverse_time:
        state.inverse_time = word == "G93"
        state.feed = None
    state.add(FeedMode(line=block.line, inverse_time=state.inverse_time))


def _set_feed(state: State, block: Block) -> None:
    value = block.values.get("F")
    if value is None:
        return
    unit = block.codes.get("length unit")
    changes = unit is not None and (unit == "G20") != state.inch
    inch = unit == "G20" if changes and state.dialect.unit_before_feed else state.inch
    scale = 1.0 if state.inverse_time else MM_PER_INCH if inch else 1.0
    state.feed = value * scale or None
    if changes and not state.inverse_time:
        taken = "inches" if inch else "millimetres"
        state.note(
            "units-and-feed",
            f"F{value:g} stands on the line that changes the unit and is taken in {taken} per minute;"
            " put it on a later line",
            block.line,
        )


def _dwell(state: State, block: Block) -> None:
    if block.codes.get("one-shot") == "G4":
        if "P" not in block.values:
            raise Refusal("program-word", "G4 needs P, the time to wait")
        state.add(Dwell(line=block.line, seconds=block.values["P"] * state.dialect.dwell_unit_s))


def _set_plane(state: State, block: Block) -> None:
    word = block.codes.get("plane")
    if word is not None:
        if _PLANES[word] != state.plane and state.motion in CYCLES:
            state.cycle_words = {}
        state.plane = _PLANES[word]
        state.add(Plane(line=block.line, plane=state.plane))


def _set_unit(state: State, block: Block) -> None:
    word = block.codes.get("length unit")
    if word is None:
        return
    inch = word == "G20"
    if inch != state.inch and (state.has_moved or (state.feed is not None and "F" not in block.values)):
        feed = state.feed
        stays = "no feed is in force"
        if feed is not None and not state.inverse_time:
            stays = f"the feed in force stays {feed:.6g} mm/min ({feed / MM_PER_INCH:.6g} in/min)"
        now, before = ("inches", "millimetres") if inch else ("millimetres", "inches")
        state.note("units-change", f"the unit changes in mid-file, from {before} to {now}; {stays}", block.line)
    state.set_unit(inch=inch)
    state.add(Units(line=block.line, inch=inch))


def _set_distance_mode(state: State, block: Block) -> None:
    word = block.codes.get("distance mode")
    if word is not None:
        state.relative = word == "G91"
        state.add(DistanceMode(line=block.line, relative=state.relative))


def _set_retract(state: State, block: Block) -> None:
    word = block.codes.get("retract level")
    if word is not None:
        state.retract_to_r = word == "G99"


_STEPS: tuple[Callable[[State, Block], None], ...] = (
    _set_feed_mode,
    _set_feed,
    take_speed,
    select_tool,
    change_tool,
    switch_spindle,
    switch_coolant,
    _dwell,
    _set_plane,
    _set_unit,
    set_length_offset,
    set_work_offset,
    _set_distance_mode,
    _set_retract,
    one_shot,
)
"""Steps 2 to 19 of table 8. Overrides, path control and G40 are left out: they change no end point."""


def target(state: State, block: Block) -> Point3:
    """Return the program point that the axis words name, in the distance mode in force; an axis not named stays."""
    values, scale, here = block.values, state.scale, state.program
    base = here if state.relative else (0.0, 0.0, 0.0)
    return (
        base[0] + values["X"] * scale if "X" in values else here[0],
        base[1] + values["Y"] * scale if "Y" in values else here[1],
        base[2] + values["Z"] * scale if "Z" in values else here[2],
    )


def _move(state: State, motion: str, block: Block) -> None:
    if motion in CYCLES:
        run_cycle(state, motion, block)
        return
    if motion in ARCS:
        _arc(state, motion, block)
        return
    if not block.has_axis():
        if not state.dialect.motion_word_alone:
            raise Refusal("program-word", f"{motion} needs an X, Y or Z word")
        return
    machine = block.codes.get("one-shot") == "G53"
    if motion == "G0":
        if machine:
            state.traverse_machine(block.line, _machine_target(state, block))
        else:
            state.traverse(block.line, target(state, block))
        return
    to = target(state, block)
    if machine:
        spot, offset = _machine_target(state, block), state.offset
        to = (spot[0] - offset[0], spot[1] - offset[1], spot[2] - offset[2])
    here = state.program
    length = ((to[0] - here[0]) ** 2 + (to[1] - here[1]) ** 2 + (to[2] - here[2]) ** 2) ** 0.5
    state.cut(block.line, to, feed_for(state, motion, block, length), machine=machine)


def _machine_target(state: State, block: Block) -> Point3:
    x, y, z = (
        block.values[letter] * state.scale if letter in block.values else state.at[axis]
        for axis, letter in enumerate(AXES)
    )
    return (x, y, z)


def feed_for(state: State, motion: str, block: Block, length: float) -> float:
    """Return the speed of a motion of this length, mm/min. Raises Refusal when no feed is in force."""
    if state.inverse_time and "F" not in block.values:
        raise Refusal("program-feed", f"{motion} under inverse time (G93) needs F on its own line")
    if state.feed is None:
        raise Refusal("program-feed", f"{motion} has no feed: no F word so far, or F0")
    return state.feed * length if state.inverse_time else state.feed


def _arc(state: State, motion: str, block: Block) -> None:
    first, second, _ = PLANE_AXES[state.plane]
    _check_arc_words(state, motion, block)
    to, here = target(state, block), state.program
    turns: Turns = -1 if motion == "G2" else 1
    start: Plane2 = (here[first], here[second])
    end: Plane2 = (to[first], to[second])
    circles = 0
    if "R" in block.values:
        centre = centre_by_radius(start, end, block.values["R"] * state.scale, turns)
    else:
        i, j = (block.values.get(OFFSETS[axis], 0.0) * state.scale for axis in (first, second))
        centre, remark = centre_by_offsets(start, end, (i, j), state.dialect, inch=state.inch)
        circles = int(is_full_circle(start, end))
        _note_arc(state, remark, block.line)
    middle = list(here)
    middle[first], middle[second] = centre
    machine = state.machine(to)
    arc = ArcMove(
        line=block.line,
        start=state.at,
        to=machine,
        program_to=to,
        plane=state.plane,
        centre=state.machine((middle[0], middle[1], middle[2])),
        turns=turns,
        feed_mm_per_min=state.feed or 0.0,
        full_circles=circles,
        uses_inverse_time=state.inverse_time,
    )
    feed = feed_for(state, motion, block, length_mm(arc) if state.inverse_time else 0.0)
    state.see_cut(block.line)
    state.add(replace(arc, feed_mm_per_min=feed) if state.inverse_time else arc)
    state.arrive(to, machine)


def _check_arc_words(state: State, motion: str, block: Block) -> None:
    first, second, normal = PLANE_AXES[state.plane]
    values = block.values
    if OFFSETS[normal] in values:
        raise Refusal("program-arc", f"{OFFSETS[normal]} does not belong to an arc in the {state.plane} plane")
    has_offset = OFFSETS[first] in values or OFFSETS[second] in values
    if "R" in values and has_offset:
        raise Refusal("program-arc", f"{motion} has a radius and a centre; give one of them")
    if "R" not in values and not has_offset:
        raise Refusal("program-arc", f"{motion} has neither a centre ({OFFSETS[first]}, {OFFSETS[second]}) nor R")
    in_plane = AXES[first] in values or AXES[second] in values
    if not in_plane and ("R" in values or state.dialect.arc_needs_plane_word):
        raise Refusal("program-arc", f"{motion} needs an axis word of its plane {state.plane}")


def _note_arc(state: State, remark: str, line: int) -> None:
    if not remark or state.arc_notes > MOST_ARC_NOTES:
        return
    state.arc_notes += 1
    more = "" if state.arc_notes <= MOST_ARC_NOTES else "; further arcs like it are not listed"
    state.note("arc-mismatch", remark + more, line)
