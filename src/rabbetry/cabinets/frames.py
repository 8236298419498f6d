"""The stiles and rails of a face frame as they lie before one box, and the openings they leave. Millimetres, cabinet
frame: x to the right, z up.

Outer stiles run from end to end, rails between them. Where the frame runs on over the next box, top and bottom rails
run on too, and the stile between the boxes stands between them, half of it over each box.
"""

from collections.abc import Sequence
from itertools import pairwise

from rabbetry.cabinets.faces import face_rules, frame_low_z
from rabbetry.cabinets.heights import Band
from rabbetry.cabinets.model import Cabinet, FrameEnds, FrameMember
from rabbetry.tolerances import FIT_MM


def frame_members(cabinet: Cabinet, bands: Sequence[Band]) -> tuple[FrameMember, ...]:
    """Return the members, or their parts, over this box: stiles from the left, then rails from the top down."""
    c = cabinet.construction
    ends = cabinet.frame_ends or FrameEnds(left_mm=c.frame_stile_width_mm, right_mm=c.frame_stile_width_mm)
    over = cabinet.frame_overhang_mm
    left, right = -over, cabinet.width_mm + over
    openings = frame_openings(cabinet, bands)
    low, floor = frame_low_z(cabinet), openings[-1].z_mm
    high, ceiling = cabinet.height_mm, openings[0].z_mm + openings[0].height_mm
    members = []
    for hand, x, width, is_joined in (
        ("left", left, ends.left_mm, ends.left_joined),
        ("right", right - ends.right_mm, ends.right_mm, ends.right_joined),
    ):
        if width:
            z0, z1 = (floor, ceiling) if is_joined else (low, high)
            members.append(_member(f"{hand} stile", "stile", (x, x + width), (z0, z1)))
    run = (
        left if ends.left_joined else left + ends.left_mm,
        right if ends.right_joined else right - ends.right_mm,
    )
    members.append(_member("top rail", "rail", run, (ceiling, high)))
    for number, (above, below) in enumerate(pairwise(openings), start=1):
        between = (below.z_mm + below.height_mm, above.z_mm)
        members.append(_member(f"rail {number}", "rail", cabinet.opening_x_mm, between))
    members.append(_member("bottom rail", "rail", run, (low, floor)))
    return tuple(members)


def frame_openings(cabinet: Cabinet, bands: Sequence[Band]) -> tuple[FrameMember, ...]:
    """Return the openings of the frame from the top down, one behind each band."""
    edge = face_rules(cabinet).edge_mm
    return tuple(
        _member("opening", "opening", cabinet.opening_x_mm, (band.low_z_mm - edge, band.high_z_mm + edge))
        for band in bands
    )


def is_wider_below(cabinet: Cabinet, bands: Sequence[Band]) -> bool:
    """Tell whether the bottom rail is wider than set, because front heights leave a strip above it."""
    return bands[-1].low_z_mm - face_rules(cabinet).low_z_mm > FIT_MM


def _member(name: str, kind: str, x: tuple[float, float], z: tuple[float, float]) -> FrameMember:
    return FrameMember(name=name, kind=kind, x_mm=x[0], z_mm=z[0], width_mm=x[1] - x[0], height_mm=z[1] - z[0])
