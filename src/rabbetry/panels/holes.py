"""Holes for hardware in a carcass side: shelf pins, hinge plates, slides, screws into the next box. Frame of the side's
definition: x up from the floor, y from the front edge to the back; millimetres."""

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.points import Point
from rabbetry.panels.model import Bore


def side_holes(cabinet: Cabinet, hand: str) -> tuple[Bore, ...]:
    """Return the holes for hardware of the side of that hand ('left' or 'right'); only the hinge plates and the screws
    into a neighbour differ by hand."""
    return (*_pins(cabinet), *_plates(cabinet, hand), *_slides(cabinet), *_box_screws(cabinet, hand))


def _pins(cabinet: Cabinet) -> tuple[Bore, ...]:
    c = cabinet.construction
    rows = zip(("front", "rear"), cabinet.pin_rows_y_mm, strict=True)
    return tuple(
        Bore(
            name=f"{row} pin {number}",
            purpose="shelf pin",
            centre=Point(z, y),
            diameter_mm=c.pin_diameter_mm,
            depth_mm=c.pin_depth_mm,
        )
        for row, y in rows
        for number, z in enumerate(cabinet.pin_z_mm, start=1)
    )


def _plates(cabinet: Cabinet, hand: str) -> tuple[Bore, ...]:
    c, plate_y = cabinet.construction, cabinet.plate_y_mm
    if plate_y is None:
        return ()
    heights = [
        hinge + sign * c.plate_spacing_mm / 2
        for front in cabinet.fronts
        if front.hinge == hand
        for hinge in front.hinge_z_mm
        for sign in (-1, 1)
    ]
    return tuple(
        Bore(
            name=f"plate {number}",
            purpose="hinge plate",
            centre=Point(z, plate_y),
            diameter_mm=c.plate_diameter_mm,
            depth_mm=c.plate_depth_mm,
        )
        for number, z in enumerate(sorted(heights), start=1)
    )


def _slides(cabinet: Cabinet) -> tuple[Bore, ...]:
    c = cabinet.construction
    return tuple(
        Bore(
            name=f"{drawer.name} slide {number}",
            purpose="slide",
            centre=Point(drawer.slide_hole_z_mm, y),
            diameter_mm=c.slide_hole_diameter_mm,
            depth_mm=c.slide_hole_depth_mm,
        )
        for drawer in cabinet.drawers
        if not drawer.on_blocking
        for number, y in enumerate(drawer.slide_hole_y_mm, start=1)
    )


def _box_screws(cabinet: Cabinet, hand: str) -> tuple[Bore, ...]:
    fittings = cabinet.construction.fittings
    if fittings.box_screws is None or hand not in fittings.joined_sides:
        return ()
    return tuple(
        Bore(
            name=f"box screw {number}",
            purpose="box screw",
            centre=Point(z, y),
            diameter_mm=fittings.box_screws.diameter_mm,
            depth_mm=cabinet.stocks.side.thickness_mm,
            through=True,
        )
        for number, (y, z) in enumerate(cabinet.box_screws_yz_mm, start=1)
    )
