"""Where fronts lie on the four kinds of face: overlay or inset, before a frameless box or a face frame. Millimetres,
cabinet frame.

A *span* is what the fronts of one cabinet share in width: the whole box (frameless, overlay), the room between its
sides (frameless, inset), or the opening between two stiles. A front's edge lies `edge` inside its opening's edge, or so
far outside it when it is negative: an overlay.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding
from rabbetry.job.model import Faces, Mount
from rabbetry.tolerances import FIT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceRules:
    """Edges of the fronts' area and the gaps between fronts."""

    low_z_mm: float
    """Lower edge of the lowest front."""
    high_z_mm: float
    """Upper edge of the highest."""
    gap_mm: float
    """From a front up to the next."""
    edge_mm: float
    """A front's edge inside its opening's edge, above and below; negative: overlay."""
    span_x_mm: tuple[float, float]
    edges_x_mm: tuple[float, float]
    """What fronts leave of the span at its left and right end; negative: overlay."""
    between_mm: float
    """Gap between two doors side by side."""


def face_rules(cabinet: Cabinet) -> FaceRules:
    """Return the rules of the cabinet's face."""
    if cabinet.faces is Faces.FACE_FRAME:
        return _framed(cabinet)
    return _inset(cabinet) if cabinet.mount is Mount.INSET else _overlay(cabinet)


def _overlay(cabinet: Cabinet) -> FaceRules:
    """From the bottom's under side over a kick, else from the sides' lower ends, to the top; half a gap at the outer
    edges (check values W66, W67). A blind corner has fronts on what is not blind; fronts of two columns share the
    divider between them half and half."""
    gap = cabinet.construction.front_gap_mm
    start = cabinet.blind_mm if cabinet.blind_hand == "left" else 0.0
    half_divider = cabinet.stocks.side.thickness_mm - cabinet.stocks.carcass.thickness_mm / 2
    left, right = (half_divider if is_divider else 0.0 for is_divider in cabinet.column_ends)
    half = gap / 2
    return FaceRules(
        low_z_mm=cabinet.kick_z_mm + half,
        high_z_mm=cabinet.height_mm - half,
        gap_mm=gap,
        edge_mm=half,
        span_x_mm=(start + left, start + (cabinet.width_mm - cabinet.blind_mm) - right),
        edges_x_mm=(half, half),
        between_mm=gap,
    )


def _inset(cabinet: Cabinet) -> FaceRules:
    """Within sides, bottom and top, or under a sink's front rail, which stays in sight: one reveal everywhere."""
    reveal = cabinet.construction.inset_reveal_mm
    rail = cabinet.construction.stretcher_width_mm if cabinet.has_rails_on_edge else 0.0
    return FaceRules(
        low_z_mm=cabinet.floor_z_mm + reveal,
        high_z_mm=cabinet.ceiling_z_mm - rail - reveal,
        gap_mm=reveal,
        edge_mm=reveal,
        span_x_mm=cabinet.opening_x_mm,
        edges_x_mm=(reveal, reveal),
        between_mm=reveal,
    )


def _framed(cabinet: Cabinet) -> FaceRules:
    """Within each opening of the face frame, or over its edges (check value W65). Where a frame runs on over the next
    box without a stile, the two boxes' fronts share one gap."""
    c = cabinet.construction
    is_inset = cabinet.mount is Mount.INSET
    edge = c.inset_reveal_mm if is_inset else -c.frame_overlay_mm
    between = c.inset_reveal_mm if is_inset else c.front_gap_mm
    ends = cabinet.frame_ends
    left = between / 2 if ends is not None and not ends.left_mm else edge
    right = between / 2 if ends is not None and not ends.right_mm else edge
    return FaceRules(
        low_z_mm=frame_floor_z(cabinet) + edge,
        high_z_mm=cabinet.height_mm - c.frame_top_rail_width_mm - edge,
        gap_mm=c.frame_middle_rail_width_mm + 2 * edge,
        edge_mm=edge,
        span_x_mm=cabinet.opening_x_mm,
        edges_x_mm=(left, right),
        between_mm=between,
    )


def frame_floor_z(cabinet: Cabinet) -> float:
    """Return the upper edge of a face frame's bottom rail: level with the bottom's upper side, or a lip above it."""
    return cabinet.floor_z_mm + cabinet.construction.frame_bottom_lip_mm


def frame_low_z(cabinet: Cabinet) -> float:
    """Return the frame's lower edge: the bottom rail's width under its upper edge over a kick, else the sides' ends."""
    if not cabinet.has_kick:
        return 0.0
    return frame_floor_z(cabinet) - cabinet.construction.frame_bottom_rail_width_mm


def check_face(cabinet: Cabinet, fills: Sequence[str]) -> tuple[Finding, ...]:
    """Return an error for every face that cannot be made, and notes where its sizes are unusual. `fills` are
    the bands' fills from the top down."""
    findings = [*_around_appliance(cabinet, fills), *_reaching_in(cabinet)]
    if cabinet.faces is Faces.FACE_FRAME:
        findings += [*_impossible(cabinet, len(fills)), *_unusual_members(cabinet)]
    findings += _unusual_reveal(cabinet)
    return tuple(findings)


def _around_appliance(cabinet: Cabinet, fills: Sequence[str]) -> Iterator[Finding]:
    if "appliance" in fills and cabinet.faces is Faces.FACE_FRAME:
        problem = (
            'a face frame narrows an appliance\'s opening below the size it needs: write faces = "frameless" in it'
        )
        yield finding("face-frame-impossible", f'cabinet "{cabinet.name}": {problem}')


def _reaching_in(cabinet: Cabinet) -> Iterator[Finding]:
    """Inset fronts thicker than their face frame reach into the case: nothing of it may stand there."""
    reach = cabinet.front_intrusion_mm
    if cabinet.faces is Faces.FRAMELESS or cabinet.mount is Mount.OVERLAY or reach <= FIT_MM:
        return
    c, side = cabinet.construction, cabinet.stocks.side.thickness_mm
    left, right = cabinet.opening_x_mm
    above = c.stretcher_width_mm if cabinet.has_rails_on_edge else cabinet.height_mm - cabinet.ceiling_z_mm
    meets = [
        name
        for name, is_met in (
            ("the sides", left < side - FIT_MM or right > cabinet.width_mm - side + FIT_MM),
            ("what is under the top", c.frame_top_rail_width_mm < above - FIT_MM),
        )
        if is_met
    ]
    if meets:
        problem = (
            f"inset fronts reach {reach:.2f} mm behind the face frame, into {' and '.join(meets)}: take fronts no "
        )
        yield finding("face-frame-impossible", f'cabinet "{cabinet.name}": {problem}thicker than the frame')


_LEAST_OPENING_MM = 40.0
"""A narrower opening is of no use (common practice, no source)."""


def _impossible(cabinet: Cabinet, front_count: int) -> Iterator[Finding]:
    c = cabinet.construction
    where = f'cabinet "{cabinet.name}": '
    left, right = cabinet.opening_x_mm
    if right - left < _LEAST_OPENING_MM:
        problem = f"the face frame leaves an opening {right - left:.2f} mm wide; {_LEAST_OPENING_MM:g} mm is the least"
        yield finding("face-frame-impossible", where + problem)
    if frame_low_z(cabinet) < -FIT_MM:
        problem = f"the face frame would end {-frame_low_z(cabinet):.2f} mm below the floor: its bottom rail is "
        yield finding("face-frame-impossible", where + f"{problem}{c.frame_bottom_rail_width_mm:g} mm wide")
    if cabinet.mount is Mount.OVERLAY:
        yield from _overlay_beyond(cabinet, front_count)


def _overlay_beyond(cabinet: Cabinet, front_count: int) -> Iterator[Finding]:
    """An overlay wider than its member, or than half of one that two fronts share, has nothing to lie on."""
    c, overlay = cabinet.construction, cabinet.construction.frame_overlay_mm
    ends = cabinet.frame_ends
    members = [("top rail", c.frame_top_rail_width_mm)]
    if front_count > 1:
        members.append(("half of a middle rail", c.frame_middle_rail_width_mm / 2))
    if ends is None:
        members.append(("outer stile", c.frame_stile_width_mm))
    else:
        members += [("stile, or its half over this box,", width) for width in (ends.left_mm, ends.right_mm) if width]
    for name, width in members:
        if overlay > width + FIT_MM:
            problem = f"an overlay of {overlay:g} mm is more than the face frame's {name} {width:g} mm wide"
            yield finding("face-frame-impossible", f'cabinet "{cabinet.name}": {problem}')


_LEAST_MEMBER_MM, _MOST_MEMBER_MM = 31.75, 57.15
"""1-1/4 to 2-1/4 in (check value 5.3.3)."""
_MOST_MIDDLE_STILE_MM = 76.2
"""3 in, a stile between two doors (check value 5.3.4)."""


def _unusual_members(cabinet: Cabinet) -> Iterator[Finding]:
    c = cabinet.construction
    for name, width, most in (
        ("outer stiles", c.frame_stile_width_mm, _MOST_MEMBER_MM),
        ("top rail", c.frame_top_rail_width_mm, _MOST_MEMBER_MM),
        ("bottom rail", frame_floor_z(cabinet) - frame_low_z(cabinet), _MOST_MEMBER_MM),
    ):
        if not _LEAST_MEMBER_MM - FIT_MM <= width <= most + FIT_MM:
            problem = f"the face frame's {name}: {width:.2f} mm wide; {_LEAST_MEMBER_MM:g} to {most:g} mm is usual"
            yield finding("face-frame-unusual", f'cabinet "{cabinet.name}": {problem}')


_LEAST_REVEAL_MM, _MOST_REVEAL_MM = 1.5875, 3.175
"""1/16 to 1/8 in (check value 5.3.2)."""


def _unusual_reveal(cabinet: Cabinet) -> list[Finding]:
    reveal = cabinet.construction.inset_reveal_mm
    if cabinet.mount is not Mount.INSET or _LEAST_REVEAL_MM - FIT_MM <= reveal <= _MOST_REVEAL_MM + FIT_MM:
        return []
    problem = f"a reveal of {reveal:g} mm round inset fronts; {_LEAST_REVEAL_MM:.1f} to {_MOST_REVEAL_MM:.1f} mm is "
    return [finding("face-frame-unusual", f'cabinet "{cabinet.name}": {problem}usual (1/16 to 1/8 in)')]
