"""Where the tabs of all profiles of a sheet stand. Millimetres, blank frame.

Parts lie closer together than two kerfs are wide, so a tab that only one of two neighbours steps over is cut off by
the other. A tab that faces a neighbour is therefore shared: both profiles step over the same place, and part holds
part.

A *way* is one ring of one profile. Ways are served in order; each first counts the tabs its neighbours gave it.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from rabbetry.geometry.curves import Contour, Line
from rabbetry.geometry.offsets import offset_rings
from rabbetry.geometry.points import Point
from rabbetry.geometry.regions import Region, boundary_lines, distance_mm
from rabbetry.motions.tabs import Span, Tabs, most_tabs, stretch_about, stretch_length
from rabbetry.motions.track import Track
from rabbetry.operations.model import Operation, Profile
from rabbetry.tolerances import WIDTH_MM

_LEAST_WEB_MM = 1.0
"""Wood thinner than this between two kerfs holds nothing (common practice)."""

_WEAK_MM = 5.0
"""Wood beside a recess is thin as far as this from it: a tab there tears it when it is broken (common practice)."""

_APART = 1.5
"""Middles of two tabs of one ring are at least this many raised stretches apart, where there is room."""


@dataclass(slots=True, kw_only=True, eq=False)
class Way:
    """One ring of a profile and the stretches where it stays up; filled while the tabs of the sheet are placed."""

    work: Profile
    diameter_mm: float
    track: Track
    lines: Region
    asked: int
    count: int
    rough: Track | None = None
    """The ring that all passes but the finishing one follow; None where there is no allowance, or no such ring."""
    stretches: list[Span] = field(default_factory=list)

    @property
    def allowance_mm(self) -> float:
        return self.work.finish_mm if self.rough else 0.0

    @property
    def tabs(self) -> Tabs | None:
        """The finished tabs, or None where the ring has none."""
        if not self.stretches:
            return None
        return Tabs(stretches=tuple(self.stretches), top_z=self.work.tab_height_mm - self.work.thickness_mm)

    @property
    def rough_tabs(self) -> Tabs | None:
        """The same tabs as places of the rough ring."""
        if self.tabs is None or self.rough is None:
            return self.tabs
        return replace(self.tabs, stretches=tuple(self._beside(self.rough, span) for span in self.stretches))

    def _beside(self, rough: Track, span: Span) -> Span:
        """Return the stretch of the rough ring beside a span; its ends are the nearest points to the span's."""
        low, high = (rough.nearest(self.track.at(end)) for end in span)
        return low, low + (high - low) % rough.length_mm


def ways_of(operation: Operation) -> tuple[Way, ...]:
    """Return the rings that a profile's cutter follows, in its direction, without tabs yet; none when it does not
    fit.

    Climb cutting keeps the part on the right of the travel (clockwise spindle): clockwise outside, counter-clockwise
    inside. Raises GeometryError when the outline is not sound.
    """
    work = operation.work
    assert isinstance(work, Profile)
    diameter = operation.cutter.cut_diameter_mm
    side = -1.0 if work.inside else 1.0
    rings = offset_rings(work.outline, distance_mm=side * diameter / 2)
    wider = offset_rings(work.outline, distance_mm=side * (diameter / 2 + work.finish_mm)) if work.finish_mm else ()
    total = sum(ring.length for ring in rings)
    ways = []
    for ring in rings:
        # offset_rings keeps the grown region on the left: outside, the part then lies on the left too.
        turn = work.inside == work.climb
        path = _from_a_straight(ring if turn else ring.reversed(), operation.entry, diameter)
        # Rings that fall apart, or join, have no partner: there all passes go along the edge.
        rough = wider[0] if len(rings) == len(wider) == 1 else None
        asked = max(1, round(work.tab_count * ring.length / total)) if work.tab_count and work.skin_mm <= 0 else 0
        count = most_tabs(asked, ring.length, stretch_length(work.tab_length_mm, diameter))
        ways.append(
            Way(
                work=work,
                diameter_mm=diameter,
                track=Track(path),
                lines=boundary_lines((path,)),
                asked=asked,
                count=count,
                rough=None if rough is None else Track(rough if turn else rough.reversed()),
            )
        )
    return tuple(ways)


def place_tabs(ways: Sequence[Way]) -> None:
    """Give every way its tabs: spread evenly, on straights clear of corners, and shared where they face a
    neighbour."""
    for way in ways:
        near = [other for other in ways if other is not way and _are_near(way, other)]
        share = way.track.length_mm / way.count if way.count else 0.0
        wanted = [(k + 0.5) * share for k in range(way.count)]
        for span in way.stretches:
            if wanted:
                wanted.remove(min(wanted, key=lambda place: _round_trip(way, place, sum(span) / 2)))
        for place in wanted:
            span = _best(way, near, place)
            way.stretches.append(span)
            for other in near:
                if _faces(way, other, span):
                    _share(way, other, span)


def _are_near(way: Way, other: Way) -> bool:
    if way.work.inside or other.work.inside or not other.asked:
        return False
    reach = _reach(way, other)
    a, b = way.track.bounds, other.track.bounds
    return all(a[i] - reach < b[i + 2] and b[i] - reach < a[i + 2] for i in (0, 1))


def _reach(way: Way, other: Way) -> float:
    """Return how near two centre lines are when nothing that holds is left between their kerfs."""
    return (way.diameter_mm + other.diameter_mm) / 2 + way.allowance_mm + other.allowance_mm + _LEAST_WEB_MM


def _best(way: Way, near: Sequence[Way], wanted: float) -> Span:
    """Return the stretch nearest to the wanted place that is straight, apart from other tabs, and shared cleanly if
    at all.

    It goes no farther than the next tab's place to find wood of full thickness. Where there is no straight, as on a
    disc, the tab stays at the wanted place and the ring is followed over it.
    """
    half = stretch_length(way.work.tab_length_mm, way.diameter_mm) / 2
    places = sorted(_on_straights(way, wanted), key=lambda place: round(_round_trip(way, place, wanted), 6))
    share = way.track.length_mm / way.count
    easy = _first_easy(way, near, places, wanted)
    if easy is not None:
        return easy
    apart = [(place - half, place + half) for place in places if _is_apart(way, place, half)]
    spans = [span for span in apart if _has_hold(way, span)] or apart
    sound = [span for span in spans if _round_trip(way, sum(span) / 2, wanted) <= share and _is_sound(way, near, span)]
    for among in (sound, spans):
        for is_good in (_is_clean, _is_clear):
            for span in among:
                if all(is_good(way, other, span) for other in near):
                    return span
    return stretch_about(way.track, wanted, way.work.tab_length_mm, way.diameter_mm)


def _first_easy(way: Way, near: Sequence[Way], places: Sequence[float], wanted: float) -> Span | None:
    """Return the first stretch that has everything, the usual case: found without judging those farther out."""
    half = stretch_length(way.work.tab_length_mm, way.diameter_mm) / 2
    share = way.track.length_mm / way.count
    for place in places:
        span = (place - half, place + half)
        if _round_trip(way, sum(span) / 2, wanted) > share or not _is_apart(way, place, half):
            continue
        if _has_hold(way, span) and _is_sound(way, near, span) and all(_is_clean(way, other, span) for other in near):
            return span
    return None


def _on_straights(way: Way, wanted: float) -> Iterator[float]:
    """Yield middles for which the whole stretch, and a cutter's radius more, lies on one straight.

    A diameter more is what a neighbour needs to be beside the whole of it, so those farthest out are offered too.
    """
    stretch = stretch_length(way.work.tab_length_mm, way.diameter_mm)
    for start, end in way.track.straights():
        for beyond in (way.diameter_mm / 2, way.diameter_mm):
            low, high = start + stretch / 2 + beyond, end - stretch / 2 - beyond
            if low <= high:
                nearest = min(max(wanted, low), high)
                steps = range(-math.floor((nearest - low) / stretch), math.floor((high - nearest) / stretch) + 1)
                yield from (nearest + k * stretch for k in steps)


def _round_trip(way: Way, one: float, other: float) -> float:
    """Return the distance between two positions the shorter way round."""
    apart = abs(one - other) % way.track.length_mm
    return min(apart, way.track.length_mm - apart)


def _is_apart(way: Way, middle: float, half: float) -> bool:
    return all(_round_trip(way, middle, sum(span) / 2) >= _APART * 2 * half for span in way.stretches)


def _away(way: Way, other: Way, low: float, high: float) -> list[float]:
    """Return how far five places from `low` to `high` are from the other ring."""
    places = (low, (3 * low + high) / 4, (low + high) / 2, (low + 3 * high) / 4, high)
    return [distance_mm(other.lines, way.track.at(place % way.track.length_mm)) for place in places]


def _faces(way: Way, other: Way, span: Span) -> bool:
    """Tell whether the other's kerf leaves nothing that holds beside the tab itself."""
    low, high = span[0] + way.diameter_mm / 2, span[1] - way.diameter_mm / 2
    return min(_away(way, other, low, high)) < _reach(way, other)


def _has_hold(way: Way, span: Span) -> bool:
    """Tell whether the wood beside the whole tab is still there when it is cut."""
    low, high = span[0] + way.diameter_mm / 2, span[1] - way.diameter_mm / 2
    places = [way.track.at(place % way.track.length_mm) for place in (low, (low + high) / 2, high)]
    void = way.work.void
    return void is None or min(distance_mm(void, place) for place in places) > way.diameter_mm / 2 + _LEAST_WEB_MM


def _is_sound(way: Way, near: Sequence[Way], span: Span) -> bool:
    """Tell whether the tab stands where its own part, and one that it is shared with, has its full thickness."""
    low, high = span[0] + way.diameter_mm / 2, span[1] - way.diameter_mm / 2
    places = [way.track.at(place % way.track.length_mm) for place in (low, (low + high) / 2, high)]
    beside = [(way.work.weak, way.diameter_mm / 2)]
    beside += [(other.work.weak, way.diameter_mm) for other in near if other.work.weak is not None]
    return all(
        weak is None or min(distance_mm(weak, place) for place in places) >= away + _WEAK_MM for weak, away in beside
    )


def _is_clean(way: Way, other: Way, span: Span) -> bool:
    """Tell whether the other ring is out of reach, or runs beside the stretch and a diameter more at one distance."""
    away = _away(way, other, span[0] - way.diameter_mm, span[1] + way.diameter_mm)
    return min(away) >= _reach(way, other) or max(away) - min(away) <= WIDTH_MM


def _is_clear(way: Way, other: Way, span: Span) -> bool:
    """Tell whether the tab is clean, or at least its own wood is out of the other's reach."""
    return not _faces(way, other, span) or _is_clean(way, other, span)


def _share(way: Way, other: Way, span: Span) -> None:
    """Make the other ring stay up beside the stretch too."""
    ends = sorted(other.track.nearest(way.track.at(place % way.track.length_mm)) for place in span)
    low, high = ends if ends[1] - ends[0] <= other.track.length_mm / 2 else (ends[1], ends[0] + other.track.length_mm)
    middle, half = (low + high) / 2, max(high - low, span[1] - span[0]) / 2
    other.stretches.append((middle - half, middle + half))


def _from_a_straight(ring: Contour, entry: Point | None, diameter: float) -> Contour:
    """Start the ring on a straight as near to `entry` as it may be a diameter from both ends, so that the way in marks
    no corner; in the middle of its longest straight (the lowest, then leftmost of several) when no entry is given or no
    straight is so long; a ring without one starts where it does, or nearest to the entry."""
    lines = [(i, part) for i, part in enumerate(ring.segments) if isinstance(part, Line)]
    roomy = [(i, line) for i, line in lines if entry is not None and line.length >= 2 * diameter]
    if entry is not None and roomy:
        starts = [(i, _clear_of_ends(line, entry, diameter)) for i, line in roomy]
        index, start = min(starts, key=lambda one: (round(one[1].distance(entry), 6), one[0]))
    elif lines:
        index = min((-round(one.length, 6), round(one.start.y, 6), round(one.start.x, 6), i) for i, one in lines)[3]
        start = ring.segments[index].at(0.5)
    elif entry is not None:
        track = Track(ring)
        place = track.nearest(entry)
        return Contour(track.pieces(place, place + track.length_mm))
    else:
        return ring
    cut = ring.segments[index]
    around = (*ring.segments[index + 1 :], *ring.segments[:index])
    return Contour((Line(start, cut.end), *around, Line(cut.start, start)))


def _clear_of_ends(line: Line, entry: Point, clear: float) -> Point:
    """Return the point of a line nearest to `entry` that is at least `clear` from its ends."""
    along = (entry - line.start).dot(line.heading(0.0))
    return line.at(min(max(along, clear), line.length - clear) / line.length)
