"""A ladder base: rails, rungs between them, plates behind the rails' splices. Millimetres, ladder frame.

The rails' inner faces are machined: dados for the rungs, or pilot holes alone; and pilot holes into the plates.
"""

from collections.abc import Iterator
from itertools import pairwise

from rabbetry.cabinets.model import LadderBase
from rabbetry.geometry.points import Point
from rabbetry.job.model import Grain
from rabbetry.panels import places
from rabbetry.panels.model import Bore, Box, Feature, HardwareLine, Joint, Panel, Place, Recess
from rabbetry.panels.shapes import Rect, even_row, notched_rectangle

_SPLICE_END_MM = 25.0
"""A splice's screws stay this far from the plate's ends and from the splice (common practice, no source)."""


def ladder_box(ladder: LadderBase) -> Box:
    """Return the ladder base: rails from front to rear, rungs from left to right, plates; its joints and screws."""
    panels = (
        *(panel for side in ("front", "rear") for panel in _rails(ladder, side)),
        *_rungs(ladder),
        *(panel for side in ("front", "rear") for panel in _plates(ladder, side)),
    )
    return Box(
        cabinet=ladder.name,
        panels=panels,
        joints=tuple(_joints(ladder)),
        fronts=(),
        hardware=tuple(_screws(ladder, panels)),
        kind="ladder base",
        size_mm=(ladder.length_mm, ladder.depth_mm, ladder.height_mm),
    )


def _pieces(ladder: LadderBase, side: str) -> list[tuple[str, float, float]]:
    """Return role, left and right end of each piece of a rail."""
    ends = list(pairwise((0.0, *ladder.splice_x_mm, ladder.length_mm)))
    if len(ends) == 1:
        return [(f"{side} rail", *ends[0])]
    return [(f"{side} rail {number}", *span) for number, span in enumerate(ends, start=1)]


def _reach(ladder: LadderBase) -> float:
    """Return how far a rung reaches into a rail."""
    return ladder.construction.dado_depth_mm if ladder.joint == "dado" else 0.0


def _rails(ladder: LadderBase, side: str) -> Iterator[Panel]:
    t, high = ladder.stock.thickness_mm, ladder.height_mm
    for role, left, right in _pieces(ladder, side):
        if side == "front":
            place = places.facing_back(left, 0.0, 0.0, right - left, t)
        else:
            place = places.facing_front(left, ladder.depth_mm - t, 0.0)
        features = tuple(_rail_features(ladder, side, left, right))
        yield _panel(ladder, role, (right - left, high), place, features)


def _rail_features(ladder: LadderBase, side: str, left: float, right: float) -> Iterator[Feature]:
    """Recesses first, then holes. A front rail lies with its right end at panel x = 0."""
    rungs = [(k, x) for k, x in enumerate(ladder.rung_x_mm, start=1) if left <= x < right]
    if ladder.joint == "dado":
        for number, x in rungs:
            yield _recess(ladder, number, *_along(side, left, right, *_recess_span(ladder, number, x)))
    t, c = ladder.stock.thickness_mm, ladder.construction
    heights = even_row(0.0, ladder.height_mm, c.pilot_end_mm, c.pilot_spacing_mm)
    for number, x in rungs:
        low, high = _along(side, left, right, x, x + t)
        for k, z in enumerate(heights, start=1):
            yield _hole(ladder, f"rung {number} pilot {k}", "pilot", (low + high) / 2, z)
    for number, splice in enumerate(ladder.splice_x_mm, start=1):
        for low, high in ((splice - ladder.plate_mm / 2, splice), (splice, splice + ladder.plate_mm / 2)):
            if left <= low and high <= right:
                spots = (low + _SPLICE_END_MM, high - _SPLICE_END_MM)
                for k, spot in enumerate(((x, z) for x in spots for z in heights), start=1):
                    (x, _), z = _along(side, left, right, spot[0], spot[0]), spot[1]
                    yield _hole(ladder, f"splice {number} pilot {k}", "splice", x, z)


def _along(side: str, left: float, right: float, low: float, high: float) -> tuple[float, float]:
    return (right - high, right - low) if side == "front" else (low - left, high - left)


def _recess_span(ladder: LadderBase, number: int, x: float) -> tuple[float, float]:
    """All of the clearance about a rung within the rail, half of it about one flush with the rail's end."""
    t, half = ladder.stock.thickness_mm, ladder.construction.fit_clearance_mm / 2
    low = x if number == 1 else x - half
    high = x + t if number == len(ladder.rung_x_mm) else x + t + half
    return low, high


def _kind(ladder: LadderBase, number: int) -> str:
    return "rabbet" if number in (1, len(ladder.rung_x_mm)) else "dado"


def _recess(ladder: LadderBase, number: int, low: float, high: float) -> Recess:
    kind = _kind(ladder, number)
    return Recess(
        name=f"rung {number} {kind}",
        kind=kind,
        outline=notched_rectangle(Rect(low, 0.0, high, ladder.height_mm)),
        depth_mm=ladder.construction.dado_depth_mm,
    )


def _hole(ladder: LadderBase, name: str, purpose: str, x: float, y: float) -> Bore:
    diameter, depth = ladder.construction.pilot_diameter_mm, ladder.stock.thickness_mm
    return Bore(name=name, purpose=purpose, centre=Point(x, y), diameter_mm=diameter, depth_mm=depth, through=True)


def _rungs(ladder: LadderBase) -> Iterator[Panel]:
    t, reach = ladder.stock.thickness_mm, _reach(ladder)
    length = ladder.depth_mm - 2 * t + 2 * reach
    for number, x in enumerate(ladder.rung_x_mm, start=1):
        place = places.drawer_left(x, t - reach, 0.0, t)
        yield _panel(ladder, f"rung {number}", (length, ladder.height_mm), place, ())


def _plates(ladder: LadderBase, side: str) -> Iterator[Panel]:
    t, length = ladder.stock.thickness_mm, ladder.plate_mm
    for number, splice in enumerate(ladder.splice_x_mm, start=1):
        left = splice - length / 2
        if side == "front":
            place = places.facing_back(left, t, 0.0, length, t)
        else:
            place = places.facing_front(left, ladder.depth_mm - 2 * t, 0.0)
        yield _panel(ladder, f"{side} plate {number}", (length, ladder.height_mm), place, ())


def _joints(ladder: LadderBase) -> Iterator[Joint]:
    for side in ("front", "rear"):
        for role, left, right in _pieces(ladder, side):
            for number, x in enumerate(ladder.rung_x_mm, start=1):
                if left <= x < right:
                    kind = _kind(ladder, number) if ladder.joint == "dado" else "butt"
                    feature = f"rung {number} {kind}" if ladder.joint == "dado" else ""
                    receiver, entering = f"{ladder.name} {role}", f"{ladder.name} rung {number}"
                    yield Joint(kind=kind, receiver=receiver, feature=feature, entering=entering)


def _screws(ladder: LadderBase, panels: tuple[Panel, ...]) -> Iterator[HardwareLine]:
    holes = sum(isinstance(item, Bore) for panel in panels for item in panel.features)
    detail = f"through {ladder.construction.pilot_diameter_mm:g} mm pilot holes"
    yield HardwareLine(cabinet=ladder.name, item="assembly screw", count=holes, detail=detail)


def _panel(
    ladder: LadderBase, role: str, size: tuple[float, float], place: Place, features: tuple[Feature, ...]
) -> Panel:
    return Panel(
        id=f"{ladder.name} {role}",
        cabinet=ladder.name,
        role=role,
        stock=ladder.stock.name,
        thickness_mm=ladder.stock.thickness_mm,
        length_mm=size[0],
        width_mm=size[1],
        outline=notched_rectangle(Rect(0.0, 0.0, *size)),
        features=features,
        grain=Grain.ALONG,
        place=place,
    )
