"""Drawer boxes: two sides, front, back, bottom. Millimetres.

Front and back sit in rabbets at the ends of the sides, or butt between them; the bottom floats in a groove round all
four, at the set recess. Everything is cut from the inside faces.

Undermount slides: the back is notched at both lower corners, measured from the inside of each side, for the slides'
tails. Their hook holes go right through from the inside face, or, where they are blind holes from outside, are marked
by guide holes. Side-mount slides sit on the outside faces, which are never machined: small holes right through mark
their line there, at the height of the slides' holes in the carcass, since a line that is measured twice is seldom the
same twice.
"""

from collections.abc import Iterator
from dataclasses import replace

from rabbetry.cabinets.model import Cabinet, DrawerBox
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import Grain, Stock
from rabbetry.panels import places
from rabbetry.panels.model import Bore, Feature, Joint, Panel, Place, Recess
from rabbetry.panels.shapes import Rect, even_row, moved, notched_rectangle, pilots_clear_of
from rabbetry.shop.hardware import SlideMount


def drawer_panels(cabinet: Cabinet, box: DrawerBox) -> tuple[Panel, ...]:
    """Return the five panels of a drawer box, placed in its opening behind its drawer front."""
    return (
        *_sides(cabinet, box),
        _front(cabinet, box),
        _back(cabinet, box),
        _bottom(cabinet, box),
    )


def drawer_joints(cabinet: Cabinet, box: DrawerBox) -> Iterator[Joint]:
    """Yield the joints of a drawer box."""
    own = f"{cabinet.name} {box.name}"
    for hand in ("left", "right"):
        for end in ("front", "back"):
            entering = f"{own} {_END_ROLES[end]}"
            kind, feature = ("rabbet", f"{end} rabbet") if _is_rabbeted(cabinet) else ("butt", "")
            yield Joint(kind=kind, receiver=f"{own} {hand} side", feature=feature, entering=entering)
        yield Joint(kind="groove", receiver=f"{own} {hand} side", feature="bottom groove", entering=f"{own} bottom")
    for end in ("front", "back"):
        receiver = f"{own} {_END_ROLES[end]}"
        yield Joint(kind="groove", receiver=receiver, feature="bottom groove", entering=f"{own} bottom")


_END_ROLES = {"front": "box front", "back": "back"}
"""The box's own front is not the drawer front that shows."""


def _corner(cabinet: Cabinet, box: DrawerBox) -> tuple[float, float]:
    """Return x of the box's left outside and z of its lower edge: in mid-opening, half the height allowance up."""
    x = (cabinet.width_mm - box.outside_width_mm) / 2 + box.shift_x_mm
    return x, box.floor_z_mm + cabinet.construction.drawer_height_allowance_mm / 2


def _sides(cabinet: Cabinet, box: DrawerBox) -> Iterator[Panel]:
    """The left side as it lies inside face up has its front end at x = 0; the right one is its mirror image."""
    c, stock = cabinet.construction, cabinet.stocks.drawer
    size = (box.length_mm, box.height_mm)
    reach = stock.thickness_mm + c.fit_clearance_mm / 2
    ends = (("front", 0.0, reach), ("back", box.length_mm - reach, box.length_mm))
    features: tuple[Feature, ...] = (
        *(_rabbet(cabinet, box, end, low, high) for end, low, high in ends if _is_rabbeted(cabinet)),
        _groove(cabinet, Rect(0.0, 0.0, *size), ()),
        *_pilots(cabinet, box),
        *_slide_marks(cabinet, box),
    )
    x, z = _corner(cabinet, box)
    left = places.drawer_left(x, box.front_y_mm, z, stock.thickness_mm)
    yield _panel(cabinet, box, "left side", stock, size, features, left, front="x0")
    mirror = Transform(-1.0, 0.0, 0.0, 1.0, box.length_mm, 0.0)
    mirrored = tuple(moved(feature, mirror) for feature in features)
    right = places.drawer_right(x + box.outside_width_mm - stock.thickness_mm, box.front_y_mm, z, box.length_mm)
    yield _panel(cabinet, box, "right side", stock, size, mirrored, right, front="x1")


def _is_rabbeted(cabinet: Cabinet) -> bool:
    return cabinet.construction.drawer_rabbet_depth_mm > 0


def _is_side_mount(cabinet: Cabinet) -> bool:
    return cabinet.construction.fittings.slide_mount is SlideMount.SIDE


def _rabbet(cabinet: Cabinet, box: DrawerBox, end: str, low: float, high: float) -> Recess:
    return Recess(
        name=f"{end} rabbet",
        kind="rabbet",
        outline=notched_rectangle(Rect(low, 0.0, high, box.height_mm)),
        depth_mm=cabinet.construction.drawer_rabbet_depth_mm,
    )


def _groove(cabinet: Cabinet, panel: Rect, notches: tuple[Rect, ...]) -> Recess:
    """The bottom's groove, the panel's whole length: open at its ends, which other panels cover."""
    c = cabinet.construction
    low = max(0.0, c.drawer_bottom_recess_mm - c.fit_clearance_mm / 2)
    high = c.drawer_bottom_recess_mm + cabinet.stocks.drawer_bottom.thickness_mm + c.fit_clearance_mm / 2
    return Recess(
        name="bottom groove",
        kind="groove",
        outline=notched_rectangle(Rect(panel.x0, low, panel.x1, high), notches),
        depth_mm=c.drawer_groove_depth_mm,
    )


_HOOK_WEB_MM = 1.0
"""Least wood between a screw in a drawer's back and its hook hole (common practice, no source)."""


def _pilots(cabinet: Cabinet, box: DrawerBox) -> Iterator[Bore]:
    """Through the middle of both end rabbets, above the bottom's groove; those into the back clear of its hook holes,
    which stand across their way."""
    c, thickness = cabinet.construction, cabinet.stocks.drawer.thickness_mm
    low = c.drawer_bottom_recess_mm + cabinet.stocks.drawer_bottom.thickness_mm
    heights = even_row(low, box.height_mm, c.pilot_end_mm, c.pilot_spacing_mm)
    # In a low box the row would run into the back's hook holes: it then begins above them.
    hook_y, reach = (
        c.drawer_notch_height_mm + c.drawer_hook_up_mm,
        (c.drawer_hook_diameter_mm + c.pilot_diameter_mm) / 2,
    )
    if any(abs(y - hook_y) < reach + _HOOK_WEB_MM for y in heights):
        heights = even_row(hook_y + reach, box.height_mm, c.pilot_end_mm, c.pilot_spacing_mm)
    for end, x in (("front", thickness / 2), ("back", box.length_mm - thickness / 2)):
        row = tuple(
            _through(cabinet, f"{end} pilot {number}", "pilot", Point(x, y), c.pilot_diameter_mm)
            for number, y in enumerate(heights, start=1)
        )
        hooks = tuple(replace(hook, centre=Point(x, hook.centre.y)) for hook in _hooks(cabinet, box.length_mm)[0])
        room, up = (low, box.height_mm), Transform.quarter_turns(1)
        yield from row if end == "front" else pilots_clear_of(row, hooks, up, within=room)


def _slide_marks(cabinet: Cabinet, box: DrawerBox) -> Iterator[Bore]:
    """Where a side-mount slide is screwed to the side, in line with the slide's holes in the carcass."""
    if not _is_side_mount(cabinet):
        return
    y = box.slide_hole_z_mm - _corner(cabinet, box)[1]
    for number, x in enumerate(box.slide_hole_y_mm, start=1):
        mark = Point(x - box.front_y_mm, y)
        yield _through(cabinet, f"slide mark {number}", "slide mark", mark, cabinet.construction.pilot_diameter_mm)


def _through(cabinet: Cabinet, name: str, purpose: str, centre: Point, diameter: float) -> Bore:
    depth = cabinet.stocks.drawer.thickness_mm
    return Bore(name=name, purpose=purpose, centre=centre, diameter_mm=diameter, depth_mm=depth, through=True)


def _end_length(cabinet: Cabinet, box: DrawerBox) -> float:
    """Front and back reach to the floors of both rabbets."""
    return box.inside_width_mm + 2 * cabinet.construction.drawer_rabbet_depth_mm


def _front(cabinet: Cabinet, box: DrawerBox) -> Panel:
    stock, length = cabinet.stocks.drawer, _end_length(cabinet, box)
    x, z = (cabinet.width_mm - length) / 2 + box.shift_x_mm, _corner(cabinet, box)[1]
    size = (length, box.height_mm)
    place = places.facing_back(x, box.front_y_mm, z, length, stock.thickness_mm)
    features = (_groove(cabinet, Rect(0.0, 0.0, *size), ()),)
    return _panel(cabinet, box, _END_ROLES["front"], stock, size, features, place)


def _back(cabinet: Cabinet, box: DrawerBox) -> Panel:
    c, stock, length = cabinet.construction, cabinet.stocks.drawer, _end_length(cabinet, box)
    x, z = (cabinet.width_mm - length) / 2 + box.shift_x_mm, _corner(cabinet, box)[1]
    size = (length, box.height_mm)
    place = places.facing_front(x, box.front_y_mm + box.length_mm - stock.thickness_mm, z)
    if _is_side_mount(cabinet):
        return _panel(cabinet, box, "back", stock, size, (_groove(cabinet, Rect(0.0, 0.0, *size), ()),), place)
    # The notch is measured from the inside of the drawer's side, and takes the end that sits in the rabbet with it.
    notch_x = c.drawer_rabbet_depth_mm + c.drawer_notch_width_mm
    notch_y = c.drawer_notch_height_mm
    notches = (Rect(0.0, 0.0, notch_x, notch_y), Rect(length - notch_x, 0.0, length, notch_y))
    groove = _groove(cabinet, Rect(0.0, 0.0, *size), notches)
    hooks, note = _hooks(cabinet, length)
    panel = _panel(cabinet, box, "back", stock, size, (groove, *hooks), place)
    return replace(panel, outline=notched_rectangle(Rect(0.0, 0.0, *size), notches), note=note)


def _hooks(cabinet: Cabinet, length: float) -> tuple[tuple[Bore, ...], str]:
    """Return the hook holes, or the guide holes for them, and what the panel's note says of them. No guide hole is made
    where the bottom's groove is."""
    c = cabinet.construction
    x, y = c.drawer_rabbet_depth_mm + c.drawer_hook_in_mm, c.drawer_notch_height_mm + c.drawer_hook_up_mm
    centres = (Point(x, y), Point(length - x, y))
    if c.drawer_hook_depth_mm <= 0:
        hooks = (
            _through(cabinet, f"hook {number}", "rear hook", centre, c.drawer_hook_diameter_mm)
            for number, centre in enumerate(centres, start=1)
        )
        return tuple(hooks), "hook holes are drilled right through from the inside face"
    holes = f"hook holes {c.drawer_hook_diameter_mm:g} mm, {c.drawer_hook_depth_mm:g} mm deep, from the outside"
    groove_top = c.drawer_bottom_recess_mm + cabinet.stocks.drawer_bottom.thickness_mm + c.fit_clearance_mm / 2
    if groove_top > y - c.pilot_diameter_mm / 2:
        return (), f"{holes}: {c.drawer_hook_in_mm:g} mm in from the sides, {y:g} mm above their lower edge"
    guides = (
        _through(cabinet, f"hook guide {number}", "hook guide", centre, c.pilot_diameter_mm)
        for number, centre in enumerate(centres, start=1)
    )
    return tuple(guides), f"{holes}, on the guide holes"


def _bottom(cabinet: Cabinet, box: DrawerBox) -> Panel:
    c, stock = cabinet.construction, cabinet.stocks.drawer_bottom
    grooves = 2 * c.drawer_groove_depth_mm - c.fit_clearance_mm
    width = box.inside_width_mm + grooves
    depth = box.length_mm - 2 * cabinet.stocks.drawer.thickness_mm + grooves
    x, y = (cabinet.width_mm - width) / 2 + box.shift_x_mm, (box.length_mm - depth) / 2 + box.front_y_mm
    z = _corner(cabinet, box)[1] + c.drawer_bottom_recess_mm
    place = places.lying(x, y, z, stock.thickness_mm)
    panel = _panel(cabinet, box, "bottom", stock, (width, depth), (), place, front="y0")
    return replace(panel, grain=Grain.FREE, face_up="upper face")


def _panel(
    cabinet: Cabinet,
    box: DrawerBox,
    role: str,
    stock: Stock,
    size: tuple[float, float],
    features: tuple[Feature, ...],
    place: Place,
    *,
    front: str = "",
) -> Panel:
    return Panel(
        id=f"{cabinet.name} {box.name} {role}",
        cabinet=cabinet.name,
        role=f"{box.name} {role}",
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=size[0],
        width_mm=size[1],
        outline=notched_rectangle(Rect(0.0, 0.0, *size)),
        features=features,
        grain=Grain.ALONG,
        place=place,
        front_edge=front,
    )
