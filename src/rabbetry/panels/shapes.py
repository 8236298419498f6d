"""Rectangles with notched corners, rows of holes, and panels moved to the other hand. Panel frame, millimetres."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rabbetry.errors import GeometryError
from rabbetry.geometry.curves import Contour, polygon
from rabbetry.geometry.points import Point, Transform
from rabbetry.panels.model import Bore, Feature, moved_feature
from rabbetry.tolerances import POINT_MM


@dataclass(frozen=True, slots=True)
class Rect:
    """An upright rectangle, low corner to high corner."""

    x0: float
    y0: float
    x1: float
    y1: float


def notched_rectangle(rect: Rect, notches: Sequence[Rect] = ()) -> Contour:
    """Return `rect` less the notches, counter-clockwise. A notch takes a corner, or a whole end, of the rectangle; one
    that only touches it takes nothing. Raises GeometryError when nothing is left, or when a notch lies in mid-edge."""
    for notch in notches:
        rect = _without_end(rect, notch)
    if rect.x1 - rect.x0 <= POINT_MM or rect.y1 - rect.y0 <= POINT_MM:
        raise GeometryError(f"nothing is left of a rectangle at ({rect.x0:.4f}, {rect.y0:.4f})")
    for notch in notches:
        if _overlaps(rect, notch) and not any(
            _holds(notch, x, y) for x in (rect.x0, rect.x1) for y in (rect.y0, rect.y1)
        ):
            raise GeometryError(f"a notch at ({notch.x0:.4f}, {notch.y0:.4f}) lies in mid-edge")
    corners: list[tuple[float, float]] = []
    for x, y, turned in (
        (rect.x0, rect.y0, False),
        (rect.x1, rect.y0, True),
        (rect.x1, rect.y1, False),
        (rect.x0, rect.y1, True),
    ):
        corners.extend(_corner(rect, x, y, turned, notches))
    return polygon(corners)


def _corner(rect: Rect, x: float, y: float, turned: bool, notches: Sequence[Rect]) -> list[tuple[float, float]]:
    """Return the corner (x, y), or the three corners that a notch over it leaves. `turned` tells that the way round
    arrives along y there, which sets the order."""
    for notch in notches:
        if not (_overlaps(rect, notch) and _holds(notch, x, y)):
            continue
        inner_x = notch.x1 if x == rect.x0 else notch.x0
        inner_y = notch.y1 if y == rect.y0 else notch.y0
        along_x, along_y = (inner_x, y), (x, inner_y)
        return [along_x, (inner_x, inner_y), along_y] if turned else [along_y, (inner_x, inner_y), along_x]
    return [(x, y)]


def _overlaps(a: Rect, b: Rect) -> bool:
    wide = min(a.x1, b.x1) - max(a.x0, b.x0)
    high = min(a.y1, b.y1) - max(a.y0, b.y0)
    return wide > POINT_MM and high > POINT_MM


def _holds(rect: Rect, x: float, y: float) -> bool:
    inside_x = rect.x0 - POINT_MM <= x <= rect.x1 + POINT_MM
    return inside_x and rect.y0 - POINT_MM <= y <= rect.y1 + POINT_MM


def _without_end(rect: Rect, notch: Rect) -> Rect:
    """Return the rectangle less a notch that takes one of its ends from side to side; else the rectangle itself."""
    if not _overlaps(rect, notch):
        return rect
    if notch.y0 <= rect.y0 + POINT_MM and notch.y1 >= rect.y1 - POINT_MM:
        if notch.x0 <= rect.x0 + POINT_MM:
            return Rect(notch.x1, rect.y0, rect.x1, rect.y1)
        return Rect(rect.x0, rect.y0, notch.x0, rect.y1)
    if notch.x0 <= rect.x0 + POINT_MM and notch.x1 >= rect.x1 - POINT_MM:
        if notch.y0 <= rect.y0 + POINT_MM:
            return Rect(rect.x0, notch.y1, rect.x1, rect.y1)
        return Rect(rect.x0, rect.y0, rect.x1, notch.y0)
    return rect


def even_row(low: float, high: float, end: float, spacing: float) -> tuple[float, ...]:
    """Return at least two evenly spaced places between `low` and `high`, no farther apart than `spacing`, `end` from
    both ends (a quarter of the room where it is short)."""
    end = min(end, (high - low) / 4)
    gaps = max(1, math.ceil((high - low - 2 * end) / spacing - POINT_MM))
    step = (high - low - 2 * end) / gaps
    return tuple(low + end + step * k for k in range(gaps + 1))


def moved(feature: Feature, transform: Transform) -> Feature:
    """Return the feature in another frame; contours stay counter-clockwise when the transform mirrors."""
    return moved_feature(feature, transform)


_STEPS_MM = (0.0, 8.0, -8.0, 16.0, -16.0, 24.0, -24.0)
"""How far a pilot hole may step along its row to get clear of another hole: half pitches of 16 mm and less."""

_WEB_MM = 5.0
"""Least wood between a pilot hole and another hole (common practice, no source)."""


_ANYWHERE = (-math.inf, math.inf)


def pilots_clear_of(
    pilots: Iterable[Bore], taken: Sequence[Bore], along: Transform, *, within: tuple[float, float] = _ANYWHERE
) -> tuple[Bore, ...]:
    """Return the pilot holes, each stepped along its row by the least that clears every hole of `taken` and the others
    of its row, or left out when no step does. `along` turns the row's direction to x: the identity for a row along x, a
    quarter turn for one along y. A hole that steps stays `within` these ends of the row's room."""
    row = tuple(pilots)
    kept: list[Bore] = []
    for number, pilot in enumerate(row, start=1):
        others = (*taken, *kept, *row[number:])
        start = _unturned(pilot.centre, along)
        low, high = (end + sign * (pilot.diameter_mm / 2 + _WEB_MM) for end, sign in zip(within, (1, -1), strict=True))
        for step in _STEPS_MM:
            moved_pilot = replace(pilot, centre=(along @ Transform.shift(step, 0.0))(start))
            has_room = step == 0.0 or low <= start.x + step <= high
            if has_room and all(_is_clear(moved_pilot, hole) for hole in others):
                kept.append(moved_pilot)
                break
    return tuple(kept)


def _unturned(point: Point, turn: Transform) -> Point:
    """Return the point turned back by a pure turn (its matrix transposed)."""
    return Transform(turn.a, turn.c, turn.b, turn.d, 0.0, 0.0)(point)


def _is_clear(a: Bore, b: Bore) -> bool:
    return a.centre.distance(b.centre) >= (a.diameter_mm + b.diameter_mm) / 2 + _WEB_MM
