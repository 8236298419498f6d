"""Depths of passes, and the ways down to the next one: round a ring, or to and fro on an open path. Millimetres."""

import math

from rabbetry.motions.tip import Tip
from rabbetry.motions.track import Track
from rabbetry.operations.model import Operation, pass_count


def pass_floors(depth_mm: float, operation: Operation) -> tuple[float, ...]:
    """Return z of each pass's floor, rising in depth: ceil(depth / pass) equal passes, the last exactly at the depth.
    A compression cutter's first pass may be deeper than the others (`Cutter.first_pass_mm`)."""
    count = pass_count(depth_mm, operation.pass_mm)
    first = operation.cutter.first_pass_mm(depth_mm, operation.pass_mm)
    if first <= depth_mm / count:
        return (*(-depth_mm * k / count for k in range(1, count)), -depth_mm)
    left = depth_mm - first
    count = pass_count(left, operation.pass_mm)
    return (*(-first - left * k / count for k in range(count)), -depth_mm)


def ramp_length(drop_mm: float, operation: Operation) -> float:
    """Return the travel in plan that a ramp needs to go down by `drop_mm`: drop / tan(ramp angle)."""
    return drop_mm / math.tan(math.radians(operation.ramp_deg))


def cut_ring(tip: Tip, track: Track, position: float, floor_z: float) -> float:
    """Ramp down along a closed track from where the tip is, `position` on it, then cut one full lap at the floor.

    The lap starts where the ramp ends, so it also takes what the ramp left. Returns the position where it ends.
    """
    deep = position + ramp_length(tip.z - floor_z, tip.operation)
    tip.follow(track.pieces(position, deep), floor_z)
    tip.plunge(floor_z)
    tip.follow(track.pieces(deep, deep + track.length_mm))
    return deep % track.length_mm


def cut_to_and_fro(tip: Tip, track: Track, floor_z: float) -> None:
    """Ramp down from an open track's start, forth and back so as to return to it at the floor, then cut to its
    end."""
    zigzag(tip, track, 0.0, track.length_mm, floor_z)
    tip.follow(track.pieces(0.0, track.length_mm))


def zigzag(tip: Tip, track: Track, position: float, room_mm: float, floor_z: float) -> None:
    """Ramp down from `position`, never more than `room_mm` ahead of it, and end there at the floor."""
    travel = ramp_length(tip.z - floor_z, tip.operation)
    legs = 2 * math.ceil(travel / (2 * room_mm))
    start_z = tip.z
    for leg in range(legs):
        ahead = position + travel / legs
        start, end = (ahead, position) if leg % 2 else (position, ahead)
        tip.follow(track.pieces(start, end), start_z + (floor_z - start_z) * (leg + 1) / legs)
    tip.plunge(floor_z)
