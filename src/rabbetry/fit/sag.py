"""Whether shelves and bottoms carry what is stored on them without sagging visibly. Millimetres, newtons.

Each level board is taken as a beam that lies freely on its supports and carries an even load: 5 w L^4 / (384 E I), in
which the depth from front to back cancels (check value 5.5, exact for a slender beam). A dado or a back screwed to it
makes it stiffer than that, so that a board without a warning is safe, and one with a warning may still do. The moduli
are means for a short load: under a load for years a board sags half as much again.
"""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from rabbetry.cabinets.model import Cabinet, CornerCabinet
from rabbetry.findings import Finding, finding
from rabbetry.fit.assemble import Body, assemble
from rabbetry.job.model import CabinetKind, Job, Units
from rabbetry.panels.model import Box
from rabbetry.tolerances import FIT_MM
from rabbetry.units import show_length

_BENDING = 60 / 384
"""5/384 of the load on 12 t^-3: the rectangle's second moment of area put in, its width cancelled."""

_MM2_PER_M2 = 1e6
_PA_PER_LB_FT2 = 47.880259
_PA_PER_KG_M2 = 9.80665


def deflection_mm(load_pa: float, span_mm: float, elasticity_n_per_mm2: float, thickness_mm: float) -> float:
    """Return how far the middle of a freely supported board hangs under an even load."""
    return _BENDING * load_pa / _MM2_PER_M2 * span_mm**4 / (elasticity_n_per_mm2 * thickness_mm**3)


def longest_span_mm(load_pa: float, limit: float, elasticity_n_per_mm2: float, thickness_mm: float) -> float:
    """Return the span at which the board hangs by its span divided by `limit`."""
    cube = elasticity_n_per_mm2 * thickness_mm**3 * _MM2_PER_M2 / (_BENDING * load_pa * limit)
    return float(cube ** (1 / 3))


def check_sag(cabinet: Cabinet, box: Box, job: Job) -> tuple[Finding, ...]:
    """Return a warning for each board of the box that would sag by more than the limit between two supports."""
    bodies = assemble(box)
    return tuple(
        found for body in bodies.values() if _is_loaded(cabinet, body) for found in _sag(cabinet, body, bodies, job)
    )


def sag_not_judged(corner: CornerCabinet, box: Box) -> tuple[Finding, ...]:
    """Return a note that names an L-shaped corner's shelves: they carry on three or more places, as no beam does."""
    shelves = [panel.role for panel in box.panels if "shelf" in panel.role.split()]
    if not shelves:
        return ()
    message = (
        f"{corner.name}: how far {', '.join(shelves)} sag{'s' if len(shelves) == 1 else ''} is not judged: an L is no "
        "beam; load the first one before you fit the doors, and put a strip under its inner corner if it gives"
    )
    return (finding("shelf-not-judged", message),)


def _is_loaded(cabinet: Cabinet, body: Body) -> bool:
    """Tell whether a board carries stored things as a beam: shelves, seats, and bottoms that stand on nothing. A board
    that is no rectangle, such as a corner's, is carried on more than two sides and is not judged."""
    words = body.panel.role.split()
    if body.panel.outline.area < _RECTANGLE * body.panel.length_mm * body.panel.width_mm:
        return False
    if abs(body.place.normal[2]) < 0.5 or "drawer" in words:
        return False
    if words[-1] == "bottom":
        return body.low[2] > FIT_MM or cabinet.kind is CabinetKind.WALL
    return "shelf" in words or words[-1] == "seat"


def _sag(cabinet: Cabinet, board: Body, bodies: dict[str, Body], job: Job) -> Iterator[Finding]:
    stock = job.stock(board.panel.stock)
    elasticity = job.shop.material(stock.material).elasticity_n_per_mm2
    span = max(_spans(board, bodies.values()))
    if elasticity is None:
        return
    thickness, load = board.panel.thickness_mm, cabinet.shelf_load_pa
    sag, allowed = deflection_mm(load, span, elasticity, thickness), span / job.shelf_limit
    if sag <= allowed:
        return
    longest = longest_span_mm(load, job.shelf_limit, elasticity, thickness)
    thicker = thickness * span / longest
    units = job.units

    def told(mm: float) -> str:
        return show_length(round(mm, 1 if units is Units.MM else 2), units)

    message = (
        f"{board.panel.id} spans {told(span)} and would sag {told(sag)} under {_load(load, units)}; the limit is "
        f"{told(allowed)}, 1/{job.shelf_limit:g} of the span. In {stock.material} {told(thickness)} thick the longest "
        f"span is {told(longest)}: divide it, take a board of {told(thicker)} or more, or fix its back edge along its "
        "whole length"
    )
    yield finding("shelf-sags", message, panel=board.panel.id)


def _spans(board: Body, bodies: Iterable[Body]) -> list[float]:
    """Return the clear spans of a level board from left to right, between the upright panels it rests on or in."""
    supports = sorted(
        (max(body.low[0], board.low[0]), min(body.high[0], board.high[0]))
        for body in bodies
        if body is not board and _supports(body, board)
    )
    inner = [(low, high) for low, high in supports if high > low]
    edges = [(board.low[0], board.low[0]), *inner, (board.high[0], board.high[0])]
    return [after[0] - before[1] for before, after in pairwise(edges)]


def _supports(body: Body, board: Body) -> bool:
    """Tell whether an upright panel standing fore and aft reaches up to the board over most of its depth."""
    if abs(body.place.normal[0]) < 0.5:
        return False
    is_below = body.low[2] < board.low[2] - FIT_MM and body.high[2] > board.low[2] - _TOUCH_MM
    overlap = min(body.high[1], board.high[1]) - max(body.low[1], board.low[1])
    return is_below and overlap > _MOST * (board.high[1] - board.low[1])


_RECTANGLE = 0.9
"""A board that fills less of its rectangle than this is none; notches for a frame or a pipe take less."""

_TOUCH_MM = 0.5
"""An upright this near under a board carries it."""

_MOST = 0.7
"""Share of a board's depth over which an upright must run to carry it (common practice, no source)."""


def _load(pa: float, units: Units) -> str:
    return f"{pa / _PA_PER_LB_FT2:.3g} lb/ft2" if units is Units.INCH else f"{pa / _PA_PER_KG_M2:.3g} kg/m2"
