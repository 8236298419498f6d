"""Face frames as pieces of joinery: over one box, or over several that share one. Millimetres.

What lies before each box is known from its cabinet; here the parts over neighbouring boxes are put together: a rail
that runs on is one rail, the two halves of a stile between boxes are one stile.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet, CornerCabinet, FrameMember
from rabbetry.runs.model import Frame, PlacedBox, Run
from rabbetry.tolerances import FIT_MM


def frames_of(cabinets: Sequence[Cabinet], runs: Sequence[Run]) -> tuple[Frame, ...]:
    """Return every face frame of the job: those of boxes alone, then those over several, run by run."""
    shared = [group for run in runs for group in _groups(run)]
    in_groups = {box.cabinet.name for group in shared for box in group}
    alone = [
        _frame((PlacedBox(cabinet=cabinet, x_mm=0.0, z_mm=0.0),))
        for cabinet in cabinets
        if cabinet.frame and cabinet.name not in in_groups
    ]
    return (*alone, *(_frame(group) for group in shared))


def corner_frames(corners: Sequence[CornerCabinet]) -> tuple[Frame, ...]:
    """Return the two frames of every L-shaped corner that has them. x of each from the left end of its own leg's
    case."""
    return tuple(
        Frame(
            name=f"{corner.name} {hand} face frame",
            cabinets=(corner.name,),
            thickness_mm=leg.frame_thickness_mm,
            tenon_mm=leg.construction.frame_tenon_length_mm,
            rail_tenons=1,
            members=leg.frame,
        )
        for corner in corners
        for hand, leg in (("left", corner.left), ("right", corner.right))
        if leg.frame
    )


def _groups(run: Run) -> Iterator[tuple[PlacedBox, ...]]:
    """Yield the boxes of each frame that runs over more than one."""
    group: list[PlacedBox] = []
    for item in run.items:
        for box in item.boxes:
            ends = box.cabinet.frame_ends
            if ends is None or not (ends.left_joined or ends.right_joined):
                continue
            group.append(box)
            if not ends.right_joined:
                yield tuple(group)
                group = []


def _frame(boxes: Sequence[PlacedBox]) -> Frame:
    first = boxes[0]
    members = [
        replace(member, x_mm=member.x_mm + box.x_mm - first.x_mm) for box in boxes for member in box.cabinet.frame
    ]
    names = tuple(box.cabinet.name for box in boxes)
    return Frame(
        name=f"{names[0]} face frame" if len(names) == 1 else f"{names[0]} to {names[-1]} face frame",
        cabinets=names,
        thickness_mm=first.cabinet.frame_thickness_mm,
        tenon_mm=first.cabinet.construction.frame_tenon_length_mm,
        members=tuple(_named(_joined(members))) if len(boxes) > 1 else tuple(members),
    )


def _joined(members: Sequence[FrameMember]) -> list[FrameMember]:
    """Return the members with those put together that meet end to end (rails) or side by side (halves of a stile)."""
    found: list[FrameMember] = []
    for member in sorted(members, key=lambda item: (item.kind, item.x_mm)):
        for index, other in enumerate(found):
            if _continues(other, member):
                found[index] = replace(other, width_mm=other.width_mm + member.width_mm)
                break
        else:
            found.append(member)
    return found


def _continues(left: FrameMember, right: FrameMember) -> bool:
    return (
        left.kind == right.kind
        and abs(left.x_mm + left.width_mm - right.x_mm) <= FIT_MM
        and abs(left.z_mm - right.z_mm) <= FIT_MM
        and abs(left.height_mm - right.height_mm) <= FIT_MM
    )


def _named(members: Sequence[FrameMember]) -> Iterator[FrameMember]:
    """Yield the members of a frame over several boxes with names of their own, stiles and rails from the left."""
    stiles = [member for member in members if member.kind == "stile"]
    for number, stile in enumerate(stiles):
        is_end = number in (0, len(stiles) - 1)
        name = ("left stile", "right stile")[number > 0] if is_end else f"middle stile {number}"
        yield replace(stile, name=name)
    rails = sorted((member for member in members if member.kind == "rail"), key=lambda item: (-item.z_mm, item.x_mm))
    number = 0
    for rail in rails:
        if rail.name in ("top rail", "bottom rail"):
            yield rail
            continue
        number += 1
        yield replace(rail, name=f"rail {number}")
