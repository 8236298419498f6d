"""An L-shaped corner cabinet: two outer sides, backs along both walls, panels of L shape between. Millimetres, corner
frame (see cabinets.corner).

The outer sides and the doors are those of the legs' boxes, moved. The right back passes behind the left one, which ends
on it; a post in the corner takes both, and carries the rear shelf pins. Under a standing corner two kick boards carry
the bottom: the left one passes, the right one ends on it.
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet, CornerCabinet
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import Grain, Stock
from rabbetry.panels import levels, places
from rabbetry.panels.banding import cut_for_bands
from rabbetry.panels.corner_levels import POST_WIDTH_MM, level_panel, loose_shelf
from rabbetry.panels.fronts import front_panels, front_sizes
from rabbetry.panels.joints import seats
from rabbetry.panels.model import Bore, Box, Feature, HardwareLine, Joint, Panel, Place, Vec3
from rabbetry.panels.shapes import Rect, even_row, moved, notched_rectangle
from rabbetry.panels.sides import side_panel

_KICK_SCREWS_END_MM = 60.0
"""The bottom's first screws into the kick boards stay clear of those from the sides (common practice, no source)."""

_HANDS = ("left", "right")


def corner_box(corner: CornerCabinet) -> Box:
    """Return the box. `corner` must come from `settle_corner`."""
    whole = (
        *(_side(corner, hand) for hand in _HANDS),
        *_levels(corner),
        *_backs(corner),
        _post(corner),
        *_nailers(corner),
        *_kicks(corner),
    )
    fronts = tuple(
        replace(panel, place=_moved(corner, hand, panel.place))
        for hand in _HANDS
        for panel in front_panels(_leg(corner, hand))
        if panel.place is not None
    )
    band = corner.right.construction.band_thickness_mm
    panels, fronts = (tuple(cut_for_bands(panel, band) for panel in group) for group in (whole, fronts))
    return Box(
        cabinet=corner.name,
        panels=(*panels, *fronts),
        joints=tuple(_joints(corner)),
        fronts=tuple(size for hand in _HANDS for size in front_sizes(_leg(corner, hand))),
        hardware=tuple(line for line in _hardware(corner, panels) if line.count),
        kind="corner",
        size_mm=corner.size_mm,
    )


def _leg(corner: CornerCabinet, hand: str) -> Cabinet:
    return corner.left if hand == "left" else corner.right


def _moved(corner: CornerCabinet, hand: str, place: Place) -> Place:
    """Return a place of a leg's own frame (x to the right, y to the back as one faces it) in the corner's frame."""
    if hand == "right":
        x, y, z = place.origin
        return replace(place, origin=(x, y + corner.left.width_mm - corner.right.depth_mm, z))
    x, y, z = place.origin
    return Place(origin=(corner.left.depth_mm - y, x, z), x_axis=_turned(place.x_axis), y_axis=_turned(place.y_axis))


def _turned(axis: Vec3) -> Vec3:
    return (0.0 - axis[1], axis[0], axis[2])


def _side(corner: CornerCabinet, hand: str) -> Panel:
    """The leg's outer side, with pilot holes into the end of the kick board."""
    leg = _leg(corner, hand)
    panel = side_panel(leg, hand)
    holes: tuple[Feature, ...] = ()
    if leg.has_kick and not leg.is_finished(hand):
        c = leg.construction
        y = c.kick_depth_mm + leg.stocks.carcass.thickness_mm / 2
        heights = even_row(0.0, leg.bottom_z_mm, c.pilot_end_mm, c.pilot_spacing_mm)
        holes = tuple(
            _pilot(leg, f"{hand} kick pilot {k}", Point(z, y), panel.thickness_mm)
            for k, z in enumerate(heights, start=1)
        )
        if hand == "left":
            holes = tuple(moved(hole, Transform.mirror_y(leg.depth_mm)) for hole in holes)
    assert panel.place is not None
    return replace(panel, features=(*panel.features, *holes), place=_moved(corner, hand, panel.place))


def _levels(corner: CornerCabinet) -> Iterator[Panel]:
    """Bottom, top or stretchers, and shelves: L-shaped."""
    leg = corner.right
    yield level_panel(corner, levels.bottom_level(leg), pilots=(*_post_pilots(corner), *_kick_pilots(corner)))
    for level in levels.top_levels(leg):
        pilots = () if level.role == "front stretcher" else tuple(_post_pilots(corner))
        yield level_panel(corner, level, pilots=pilots)
    for level in levels.shelf_levels(leg):
        yield level_panel(corner, level, is_notched=True)
    for number, pin_z in enumerate(leg.shelf_pin_z_mm, start=1):
        yield loose_shelf(corner, number, pin_z)


def _post_pilots(corner: CornerCabinet) -> Iterator[Bore]:
    leg = corner.right
    t, x = leg.stocks.carcass.thickness_mm, leg.stocks.back.thickness_mm + leg.stocks.carcass.thickness_mm / 2
    rear = corner.size_mm[1] - leg.stocks.back.thickness_mm
    for number, share in enumerate((0.25, 0.75), start=1):
        yield _pilot(leg, f"post pilot {number}", Point(x, rear - POST_WIDTH_MM * share), t)


def _kick_pilots(corner: CornerCabinet) -> Iterator[Bore]:
    leg = corner.right
    if not leg.has_kick:
        return
    c, t, side = leg.construction, leg.stocks.carcass.thickness_mm, leg.stocks.side.thickness_mm
    x, y = _kick_faces(corner)
    end = max(c.pilot_end_mm, _KICK_SCREWS_END_MM)
    for number, at in enumerate(even_row(side, y, end, c.pilot_spacing_mm), start=1):
        yield _pilot(leg, f"left kick pilot {number}", Point(x - t / 2, at), t)
    for number, at in enumerate(even_row(x, corner.size_mm[0] - side, end, c.pilot_spacing_mm), start=1):
        yield _pilot(leg, f"right kick pilot {number}", Point(at, y + t / 2), t)


def _kick_faces(corner: CornerCabinet) -> tuple[float, float]:
    """Return x of the left kick board's face and y of the right one's."""
    depth = corner.right.construction.kick_depth_mm
    return corner.left.depth_mm - depth, corner.left.width_mm - corner.right.depth_mm + depth


def _pilot(leg: Cabinet, name: str, centre: Point, depth: float) -> Bore:
    diameter = leg.construction.pilot_diameter_mm
    return Bore(name=name, purpose="pilot", centre=centre, diameter_mm=diameter, depth_mm=depth, through=True)


def _backs(corner: CornerCabinet) -> Iterator[Panel]:
    """Either back enters its side's rabbet; the right one runs on to the left wall."""
    c = corner.right.construction
    for hand in _HANDS:
        leg = _leg(corner, hand)
        back, z = leg.stocks.back, leg.bottom_z_mm
        enters = leg.stocks.side.thickness_mm - c.back_rabbet_depth_mm + c.fit_clearance_mm / 2
        low = enters if hand == "left" else 0.0
        high = leg.width_mm - (back.thickness_mm if hand == "left" else enters)
        place = places.facing_front(low, leg.inside_depth_mm, z)
        size = (high - low, leg.height_mm - z)
        yield _strip(corner, hand, f"{hand} back", back, size, place, grain=Grain.FREE)


def _post(corner: CornerCabinet) -> Panel:
    """Stands against both backs in the corner of the room, its machined face away from the left back."""
    leg = corner.right
    c, stock, back = leg.construction, leg.stocks.carcass, leg.stocks.back.thickness_mm
    low, high = leg.floor_z_mm, leg.ceiling_z_mm
    pins = tuple(
        Bore(
            name=f"post pin {number}",
            purpose="shelf pin",
            centre=Point(z - low, POST_WIDTH_MM / 2),
            diameter_mm=c.pin_diameter_mm,
            depth_mm=c.pin_depth_mm,
        )
        for number, z in enumerate(leg.pin_z_mm, start=1)
    )
    origin = (back + stock.thickness_mm, corner.size_mm[1] - back, low)
    place = Place(origin=origin, x_axis=(0.0, 0.0, 1.0), y_axis=(0.0, -1.0, 0.0))
    panel = _strip(corner, "", "corner post", stock, (high - low, POST_WIDTH_MM), place)
    return replace(panel, features=pins, front_edge="y1")


def _nailers(corner: CornerCabinet) -> Iterator[Panel]:
    """From each side to the post."""
    for hand in _HANDS:
        leg = _leg(corner, hand)
        if not leg.has_nailer:
            continue
        stock, width = leg.stocks.carcass, leg.construction.nailer_width_mm
        back, side, t = leg.stocks.back.thickness_mm, leg.stocks.side.thickness_mm, stock.thickness_mm
        low = side if hand == "left" else back + t
        high = leg.width_mm - (back + POST_WIDTH_MM if hand == "left" else side)
        place = places.facing_front(low, leg.inside_depth_mm - t, leg.ceiling_z_mm - width)
        yield _strip(corner, hand, f"{hand} nailer", stock, (high - low, width), place)


def _kicks(corner: CornerCabinet) -> Iterator[Panel]:
    leg = corner.right
    if not leg.has_kick:
        return
    c, stock, side = leg.construction, leg.stocks.carcass, leg.stocks.side.thickness_mm
    x, y = _kick_faces(corner)
    t, high = stock.thickness_mm, leg.bottom_z_mm
    heights = even_row(0.0, high, c.pilot_end_mm, c.pilot_spacing_mm)
    left = _strip(
        corner, "left", "left kick", stock, (y + t - side, high), places.facing_front(side, c.kick_depth_mm, 0.0)
    )
    holes = (
        _pilot(leg, f"right kick pilot {k}", Point(y + t / 2 - side, z), t) for k, z in enumerate(heights, start=1)
    )
    yield replace(left, features=tuple(holes))
    size = (corner.size_mm[0] - side - x, high)
    yield _strip(corner, "right", "right kick", stock, size, places.facing_front(x, c.kick_depth_mm, 0.0))


def _strip(
    corner: CornerCabinet,
    hand: str,
    role: str,
    stock: Stock,
    size: tuple[float, float],
    place: Place,
    *,
    grain: Grain = Grain.ALONG,
) -> Panel:
    """A plain rectangle, placed in the frame of the leg of that hand, or in the corner's with none."""
    return Panel(
        id=f"{corner.name} {role}",
        cabinet=corner.name,
        role=role,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=size[0],
        width_mm=size[1],
        outline=notched_rectangle(Rect(0.0, 0.0, *size)),
        features=(),
        grain=grain,
        place=_moved(corner, hand, place) if hand else place,
    )


def _joints(corner: CornerCabinet) -> Iterator[Joint]:
    own = corner.name
    for hand in _HANDS:
        for seat in seats(_leg(corner, hand)):
            role = f"{hand} {seat.role}" if seat.role in ("back", "nailer") else seat.role
            feature = seat.recess.name if seat.recess is not None else ""
            yield Joint(kind=seat.kind, receiver=f"{own} {hand} side", feature=feature, entering=f"{own} {role}")
        if corner.right.has_kick:
            yield Joint(kind="butt", receiver=f"{own} {hand} side", feature="", entering=f"{own} {hand} kick")
    yield Joint(kind="butt", receiver=f"{own} right back", feature="", entering=f"{own} left back")
    yield Joint(kind="butt", receiver=f"{own} bottom", feature="", entering=f"{own} corner post")
    if corner.right.has_kick:
        yield Joint(kind="butt", receiver=f"{own} left kick", feature="", entering=f"{own} right kick")
    if corner.right.has_nailer:
        yield Joint(kind="butt", receiver=f"{own} corner post", feature="", entering=f"{own} right nailer")


_PINS_A_SHELF = 5
"""Two in each side, one in the post."""


def _hardware(corner: CornerCabinet, panels: tuple[Panel, ...]) -> Iterator[HardwareLine]:
    c, name = corner.right.construction, corner.name
    hinges = sum(len(front.hinge_z_mm) for hand in _HANDS for front in _leg(corner, hand).fronts)
    yield HardwareLine(cabinet=name, item="cup hinge", count=hinges, detail=f"{c.hinge_cup_diameter_mm:g} mm cup")
    has_holes = corner.right.plate_y_mm is not None
    plates = f"two holes {c.plate_spacing_mm:g} mm apart" if has_holes else "on the face frame, no holes in the side"
    yield HardwareLine(cabinet=name, item="hinge mounting plate", count=hinges, detail=plates)
    folded = hinges if corner.doors == "bi-fold" else 0
    yield HardwareLine(cabinet=name, item="bi-fold hinge", count=folded, detail="between the two leaves")
    pins = _PINS_A_SHELF * len(corner.right.shelf_pin_z_mm)
    yield HardwareLine(cabinet=name, item="shelf pin", count=pins, detail=f"{c.pin_diameter_mm:g} mm")
    bores = [item.purpose for panel in panels for item in panel.features if isinstance(item, Bore)]
    detail = f"through {c.pilot_diameter_mm:g} mm pilot holes"
    yield HardwareLine(cabinet=name, item="assembly screw", count=bores.count("pilot"), detail=detail)
    yield HardwareLine(cabinet=name, item="box screw", count=bores.count("box screw"), detail="into the next box")
