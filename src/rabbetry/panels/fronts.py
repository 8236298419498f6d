"""Doors and drawer fronts: slabs cut from sheet with their hinge cups, or sizes for the list. Millimetres.

A slab is machined on its back: panel x runs up, panel y to the right as seen from the front; its grain runs up, on
drawer fronts too, so that a stack of fronts matches.
"""

from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.geometry.points import Point
from rabbetry.job.model import Grain
from rabbetry.panels import places
from rabbetry.panels.model import Bore, FrontSize, Panel
from rabbetry.panels.shapes import Rect, notched_rectangle


def front_panels(cabinet: Cabinet) -> tuple[Panel, ...]:
    """Return the slabs, placed before the box; of fronts made elsewhere only a blind panel, which hardly shows."""
    return tuple(_slab(cabinet, front) for front in cabinet.fronts if _is_cut(cabinet, front))


def _is_cut(cabinet: Cabinet, front: Front) -> bool:
    return cabinet.cut_fronts or front.kind == "blind panel"


def front_sizes(cabinet: Cabinet) -> tuple[FrontSize, ...]:
    """Return the sizes of fronts made elsewhere; empty when they are cut from sheet."""
    return tuple(
        FrontSize(
            name=f"{cabinet.name} {front.name}",
            cabinet=cabinet.name,
            width_mm=front.width_mm,
            height_mm=front.height_mm,
        )
        for front in cabinet.fronts
        if not _is_cut(cabinet, front)
    )


def _slab(cabinet: Cabinet, front: Front) -> Panel:
    stock = cabinet.stocks.front
    return Panel(
        id=f"{cabinet.name} {front.name}",
        cabinet=cabinet.name,
        role=front.name,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=front.height_mm,
        width_mm=front.width_mm,
        outline=notched_rectangle(Rect(0.0, 0.0, front.height_mm, front.width_mm)),
        features=tuple(bore for hinge_z in front.hinge_z_mm for bore in _cup(cabinet, front, hinge_z)),
        grain=Grain.ALONG,
        place=places.door(front.x_mm, cabinet.front_back_y_mm, front.z_mm),
        face_up="back",
        banded_edges=("x0", "x1", "y0", "y1"),
    )


def _cup(cabinet: Cabinet, front: Front, hinge_z: float) -> tuple[Bore, ...]:
    """The cup and its two fixing holes; the cup's centre lies B + half its diameter from the edge (check value W61)."""
    c = cabinet.construction
    x = hinge_z - front.z_mm
    number = front.hinge_z_mm.index(hinge_z) + 1
    centre_in = c.hinge_cup_edge_mm + c.hinge_cup_diameter_mm / 2
    fixing_in = centre_in + c.hinge_fixing_offset_mm
    is_left = front.hinge == "left"
    cup = Bore(
        name=f"hinge {number} cup",
        purpose="hinge cup",
        centre=Point(x, centre_in if is_left else front.width_mm - centre_in),
        diameter_mm=c.hinge_cup_diameter_mm,
        depth_mm=c.hinge_cup_depth_mm,
    )
    if c.hinge_fixing_spacing_mm <= 0:
        return (cup,)
    fixings = (
        Bore(
            name=f"hinge {number} fixing {k}",
            purpose="cup fixing",
            centre=Point(x + step, fixing_in if is_left else front.width_mm - fixing_in),
            diameter_mm=c.hinge_fixing_diameter_mm,
            depth_mm=c.hinge_fixing_depth_mm,
        )
        for k, step in ((1, -c.hinge_fixing_spacing_mm / 2), (2, c.hinge_fixing_spacing_mm / 2))
    )
    return (cup, *fixings)
