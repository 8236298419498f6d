"""Holding tabs: how long and how many, and how a pass steps over them. Millimetres, z = 0 at the stock's top."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from rabbetry.motions.passes import zigzag
from rabbetry.motions.tip import Tip
from rabbetry.motions.track import Track
from rabbetry.tolerances import DEPTH_MM, MOVE_MM

_FULL_DEPTH_SHARE = 0.5
"""At least this share of the way round is cut through on the last pass (common practice)."""


Span = tuple[float, float]
"""Two positions on a ring, or two depths: from and to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tabs:
    """Stretches of a ring, from and to along it, that no pass cuts lower than `top_z`. They may run past the end of
    a lap."""

    stretches: tuple[tuple[float, float], ...]
    top_z: float


def stretch_length(tab_length_mm: float, diameter_mm: float) -> float:
    """Return the travel of the centre above a tab: its length and a diameter (exact on a straight edge)."""
    return tab_length_mm + diameter_mm


def stretch_about(track: Track, middle: float, tab_length_mm: float, diameter_mm: float) -> Span:
    """Return the stretch about `middle` that leaves a tab's length along the ring, also over arcs and corners, where
    the cutter's edge meets the ring sooner than its radius along it."""
    low = high = diameter_mm / 2
    for _ in range(_ROUNDS):
        start, end = middle - tab_length_mm / 2 - low, middle + tab_length_mm / 2 + high
        low, high = _covered(track, start, 1.0, diameter_mm), _covered(track, end, -1.0, diameter_mm)
    return middle - tab_length_mm / 2 - low, middle + tab_length_mm / 2 + high


_ROUNDS = 8
"""What is covered at an end hardly changes with the end: so many rounds settle it to far less than a step."""


def _covered(track: Track, at: float, way: float, diameter_mm: float) -> float:
    """Return how far along the ring, forward or back, a cutter at a place of it has cut."""
    low, high = diameter_mm / 2, min(math.pi * diameter_mm / 2, track.length_mm / 4)
    centre = track.at(at % track.length_mm)
    while high - low > MOVE_MM / 100:
        half = (low + high) / 2
        is_cut = centre.distance(track.at((at + way * half) % track.length_mm)) < diameter_mm / 2
        low, high = (half, high) if is_cut else (low, half)
    return low


def most_tabs(asked: int, ring_mm: float, stretch_mm: float) -> int:
    """Return how many tabs leave half of the ring cut through: never none where one was asked for."""
    fit = math.floor(ring_mm * (1 - _FULL_DEPTH_SHARE) / stretch_mm)
    return max(1, min(asked, fit)) if asked else 0


def cut_over(tip: Tip, track: Track, way: Span, depths: Span, tabs: Tabs | None) -> None:
    """Cut along the ring from one position to another, z going evenly from the first of `depths` to the second,
    stepping over tabs."""
    (start, end), (from_z, to_z) = way, depths
    if tabs is None or min(depths) >= tabs.top_z - DEPTH_MM:
        tip.plunge(from_z)
        tip.follow(track.pieces(start, end), to_z)
        return
    for low, high, on_tab in _intervals(track, way, depths, tabs):
        first, last = (from_z + (to_z - from_z) * (at - start) / (end - start) for at in (low, high))
        if on_tab:
            first, last = max(first, tabs.top_z), max(last, tabs.top_z)
        _step_to(tip, track, low, first, tabs)
        tip.follow(track.pieces(low, high), last)


def _step_to(tip: Tip, track: Track, position: float, z: float, tabs: Tabs) -> None:
    """Go straight up, or down: straight where the cutter may, else by a ramp to and fro before the next tab."""
    if z < tip.z - DEPTH_MM and not tip.operation.cutter.centre_cutting:
        ahead = [(low - position) % track.length_mm for low, _ in tabs.stretches]
        zigzag(tip, track, position, min((gap for gap in ahead if gap > MOVE_MM), default=track.length_mm), z)
    else:
        tip.plunge(z)


def _intervals(track: Track, way: Span, depths: Span, tabs: Tabs) -> Iterator[tuple[float, float, bool]]:
    """Yield the parts of the way as (from, to, whether on a tab), also cut where the way reaches the tabs' height."""
    (start, end), (from_z, to_z), length = way, depths, track.length_mm
    laps = range(math.floor(start / length) - 1, math.floor(end / length) + 2)
    raised = sorted((low + lap * length, high + lap * length) for lap in laps for low, high in tabs.stretches)
    cuts = {start, end, *(edge for pair in raised for edge in pair if start < edge < end)}
    if (from_z - tabs.top_z) * (to_z - tabs.top_z) < 0:
        cuts.add(start + (end - start) * (from_z - tabs.top_z) / (from_z - to_z))
    for low, high in pairwise(sorted(cuts)):
        if high - low > MOVE_MM:
            middle = (low + high) / 2
            yield low, high, any(at < middle < to for at, to in raised)
