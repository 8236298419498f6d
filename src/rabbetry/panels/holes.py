"""Blind holes in a carcass side: shelf pins, hinge plates, slides. Frame of the side's definition: x up from the floor,
y from the front edge to the back; millimetres."""

from rabbetry.cabinets.model import Cabinet
from rabbetry.geometry.points import Point
from rabbetry.panels.model import Bore


def side_holes(cabinet: Cabinet, hand: str) -> tuple[Bore, ...]:
    """Return the blind holes of the side of that hand ('left' or 'right'); only the hinge plates differ by hand."""
    return (*_pins(cabinet), *_plates(cabinet, hand), *_slides(cabinet))


def _pins(cabinet: Cabinet) -> tuple[Bore, ...]:
    c = cabinet.construction
    rows = (("front", c.pin_front_mm), ("rear", cabinet.depth_mm - c.pin_rear_mm))
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
    c = cabinet.construction
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
            centre=Point(z, c.plate_front_mm),
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
        for number, y in enumerate(drawer.slide_hole_y_mm, start=1)
    )
