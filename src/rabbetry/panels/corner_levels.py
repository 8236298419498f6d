"""The L-shaped panels of a corner cabinet: bottom, top or stretchers, fixed and loose shelves. Millimetres, corner
frame (see cabinets.corner).

Seen from above an L runs from the left side along the left wall into the corner, and along the right wall to the right
side. With `back` the thickness of the backs, each end reaches as far into its side as its joint asks, notched at the
front where the joint is stopped. Stretchers are strips of that L: the front one follows both fronts round the inner
corner, the rear one both backs, on the post. Where edges are banded, the two of the inner corner are cut back by the
band; they are none of the rectangle's edges, so the panel names them by themselves.
"""

from dataclasses import dataclass

from rabbetry.cabinets.model import CornerCabinet
from rabbetry.geometry.curves import polygon
from rabbetry.geometry.points import Transform
from rabbetry.job.model import Grain
from rabbetry.job.words import LevelJoint
from rabbetry.panels import levels, places
from rabbetry.panels.levels import Level
from rabbetry.panels.model import Bore, Feature, InnerBand, Panel, Recess
from rabbetry.panels.shapes import Rect, moved, notched_rectangle

POST_WIDTH_MM = 100.0
"""Width of the corner post along the left back (common practice, no source)."""

_POST_ROOM_MM = 3.0
"""Kept round the post: the notch for it has a round corner, as large as the cutter makes it."""

Ring = list[tuple[float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shape:
    """What an L is drawn from: its outer ends, how much of them enters the sides, where its fronts are."""

    end_mm: float
    reach_mm: float
    notch_mm: float
    """How far behind its front an end is cut back by what enters the side; 0: not at all."""
    setback_mm: float
    """Its front edges behind those of the sides."""
    strip_mm: float = 0.0
    """Width of a stretcher; 0: the whole L."""
    is_rear: bool = False
    """Of stretchers: along the backs, not along the fronts."""
    is_notched: bool = False
    """Whether the corner post passes."""


def level_panel(
    corner: CornerCabinet, level: Level, *, pilots: tuple[Bore, ...] = (), is_notched: bool = False
) -> Panel:
    """Return a panel joined to both sides. `pilots` in the corner frame."""
    leg = corner.right
    reach = levels.reach_mm(leg, level)
    is_strip = level.role.endswith("stretcher")
    shape = _Shape(
        end_mm=leg.stocks.side.thickness_mm - reach,
        reach_mm=reach,
        notch_mm=levels.front_notch_mm(leg, level),
        setback_mm=level.front_mm if level.is_front else 0.0,
        strip_mm=leg.construction.stretcher_width_mm if is_strip else 0.0,
        is_rear=not level.is_front,
        is_notched=is_notched,
    )
    return _panel(corner, level.role, level.z_mm, shape, pilots, _tongues(corner, level, shape))


def loose_shelf(corner: CornerCabinet, number: int, pin_z: float) -> Panel:
    """Return a shelf on pins."""
    leg = corner.right
    c = leg.construction
    shape = _Shape(
        end_mm=leg.stocks.side.thickness_mm + c.shelf_side_gap_mm / 2,
        reach_mm=0.0,
        notch_mm=0.0,
        setback_mm=c.shelf_setback_mm + leg.front_intrusion_mm,
        is_notched=True,
    )
    return _panel(corner, f"shelf {number}", pin_z + c.pin_diameter_mm / 2, shape, (), ())


def _panel(
    corner: CornerCabinet,
    role: str,
    z: float,
    shape: _Shape,
    pilots: tuple[Bore, ...],
    rabbets: tuple[Recess, ...],
) -> Panel:
    ring, inner = _ring(corner, shape)
    low_x, low_y = (min(point[k] for point in ring) for k in (0, 1))
    high_x, high_y = (max(point[k] for point in ring) for k in (0, 1))
    stock = corner.right.stocks.carcass
    to_panel = Transform.shift(-low_x, -low_y)
    cuts: tuple[Feature, ...] = (*rabbets, *pilots)
    return Panel(
        id=f"{corner.name} {role}",
        cabinet=corner.name,
        role=role,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=high_x - low_x,
        width_mm=high_y - low_y,
        outline=polygon([(x - low_x, y - low_y) for x, y in ring]),
        features=tuple(moved(item, to_panel) for item in cuts),
        grain=Grain.FREE,
        place=places.lying(low_x, low_y, z, stock.thickness_mm),
        face_up="upper face",
        inner_bands=inner,
        note="band the two edges of the inner corner" if inner else "no edge of it is banded",
    )


def _ring(corner: CornerCabinet, shape: _Shape) -> tuple[Ring, tuple[InnerBand, ...]]:
    """Return the corners, counter-clockwise from the lower left, and the edges to band."""
    wide, deep, _ = corner.size_mm
    leg = corner.right
    back, band = leg.stocks.back.thickness_mm, leg.construction.band_thickness_mm
    low, right, rear = shape.end_mm, wide - shape.end_mm, deep - back
    if shape.is_rear:
        x, y = back + shape.strip_mm, rear - shape.strip_mm
        return [(back, low), (x, low), (x, y), (right, y), (right, rear), (back, rear)], ()
    front_x = corner.left.depth_mm - shape.setback_mm
    front_y = deep - corner.right.depth_mm + shape.setback_mm
    x, y, cut, reach = front_x - band, front_y + band, shape.notch_mm, shape.reach_mm if shape.notch_mm else 0.0
    start = front_x - shape.strip_mm if shape.strip_mm else back
    ring = [(start, low), (front_x - cut, low), (front_x - cut, low + reach), (x, low + reach)]
    ring += [(x, y), (right - reach, y), (right - reach, front_y + cut), (right, front_y + cut)]
    if shape.strip_mm:
        ring += [(right, front_y + shape.strip_mm), (start, front_y + shape.strip_mm)]
    else:
        ring += _corner_of_the_room(corner, shape, right, rear)
    if not cut:
        ring = [(start, low), (x, low), (x, y), (right, y), *ring[8:]]
    bands = (
        InnerBand(name="inner corner, left front", length_mm=y - low - reach),
        InnerBand(name="inner corner, right front", length_mm=right - reach - x),
    )
    return ring, bands


def _corner_of_the_room(corner: CornerCabinet, shape: _Shape, right: float, rear: float) -> Ring:
    back, t = corner.right.stocks.back.thickness_mm, corner.right.stocks.carcass.thickness_mm
    if not shape.is_notched:
        return [(right, rear), (back, rear)]
    inner_x, inner_y = back + t + _POST_ROOM_MM, rear - POST_WIDTH_MM - _POST_ROOM_MM
    return [(right, rear), (inner_x, rear), (inner_x, inner_y), (back, inner_y)]


def _tongues(corner: CornerCabinet, level: Level, shape: _Shape) -> tuple[Recess, ...]:
    """Return the rabbets in the upper face that leave a tongue at either end."""
    if level.joint is not LevelJoint.TONGUE:
        return ()
    wide, deep, _ = corner.size_mm
    leg = corner.right
    back = leg.stocks.back.thickness_mm
    low, right, rear = shape.end_mm, wide - shape.end_mm, deep - back
    front_x, front_y = corner.left.depth_mm - shape.setback_mm, deep - corner.right.depth_mm + shape.setback_mm
    ends_x, ends_y = (back, front_x - shape.notch_mm), (front_y + shape.notch_mm, rear)
    if shape.strip_mm:
        ends_x = (back, back + shape.strip_mm) if shape.is_rear else (front_x - shape.strip_mm, ends_x[1])
        ends_y = (rear - shape.strip_mm, rear) if shape.is_rear else (ends_y[0], front_y + shape.strip_mm)
    depth = leg.stocks.carcass.thickness_mm - levels.entering_thickness_mm(leg, level)
    areas = {
        "left": Rect(ends_x[0], low, ends_x[1], low + shape.reach_mm),
        "right": Rect(right - shape.reach_mm, ends_y[0], right, ends_y[1]),
    }
    return tuple(
        Recess(name=f"{hand} tongue rabbet", kind="rabbet", outline=notched_rectangle(area), depth_mm=depth)
        for hand, area in areas.items()
    )
