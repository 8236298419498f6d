"""The carcass between its sides: bottom, top or stretchers, shelves, back, nailer. Millimetres, cabinet frame.

Sizes are those of design section 5. Outside sizes stay whatever the sheets measure: lengths follow the sides'
thickness. Panels seated in dados or rabbets are W - 2t + 2d long and seat on the floor of the recess.
"""

from collections.abc import Iterator

from rabbetry.cabinets.model import Cabinet
from rabbetry.job.model import Grain, Stock
from rabbetry.panels import places
from rabbetry.panels.model import Panel, Place
from rabbetry.panels.shapes import Rect, notched_rectangle


def carcass_panels(cabinet: Cabinet) -> tuple[Panel, ...]:
    """Return every carcass panel but the sides, placed."""
    return (
        _level(cabinet, "bottom", cabinet.bottom_z_mm, Grain.FREE),
        *_top(cabinet),
        *(
            _level(cabinet, f"fixed shelf {number}", z, Grain.ALONG, front=cabinet.front_intrusion_mm)
            for number, z in enumerate(cabinet.fixed_shelf_z_mm, start=1)
        ),
        *_rails_between(cabinet),
        *_adjustable_shelves(cabinet),
        *_back(cabinet),
        *_nailer(cabinet),
    )


def shelf_levels(cabinet: Cabinet) -> tuple[float, ...]:
    """Return the pin heights on which the adjustable shelves stand as drawn, rising."""
    return cabinet.shelf_pin_z_mm


def _level(cabinet: Cabinet, role: str, z: float, grain: Grain, *, front: float = 0.0) -> Panel:
    """A panel seated in both sides, from the front edge, or `front` behind it, to the back."""
    stock = cabinet.stocks.carcass
    x = _seat_x(cabinet)
    return _panel(
        cabinet,
        role,
        stock,
        (cabinet.seated_length_mm, cabinet.inside_depth_mm - front),
        places.lying(x, front, z, stock.thickness_mm),
        grain=grain,
        face_up="upper face",
        front="y0",
        banded=("y0",),
    )


def _seat_x(cabinet: Cabinet) -> float:
    """Return where the left ends of the panels seated in the sides stand: on the floor of the left side's recess."""
    return cabinet.stocks.side.thickness_mm - cabinet.construction.dado_depth_mm


def _top(cabinet: Cabinet) -> Iterator[Panel]:
    if cabinet.has_top_panel:
        yield _level(cabinet, "top", cabinet.ceiling_z_mm, Grain.ALONG)
    elif cabinet.has_rails_on_edge:
        yield from _rails(cabinet)
    else:
        yield from _stretchers(cabinet)


def _stretchers(cabinet: Cabinet) -> Iterator[Panel]:
    stock, width = cabinet.stocks.carcass, cabinet.construction.stretcher_width_mm
    x = _seat_x(cabinet)
    for role, y in (("front stretcher", 0.0), ("rear stretcher", cabinet.inside_depth_mm - width)):
        yield _panel(
            cabinet,
            role,
            stock,
            (cabinet.seated_length_mm, width),
            places.lying(x, y, cabinet.ceiling_z_mm, stock.thickness_mm),
            face_up="upper face",
            front="y0",
            banded=("y0",) if y == 0.0 else (),
        )


def _rails(cabinet: Cabinet) -> Iterator[Panel]:
    stock, width, length = cabinet.stocks.carcass, cabinet.construction.stretcher_width_mm, cabinet.seated_length_mm
    x, z = _seat_x(cabinet), cabinet.height_mm - width
    front = places.facing_back(x, 0.0, z, length, stock.thickness_mm)
    rear = places.facing_front(x, cabinet.inside_depth_mm - stock.thickness_mm, z)
    yield _panel(cabinet, "front rail", stock, (length, width), front, banded=("y0",))
    yield _panel(cabinet, "rear rail", stock, (length, width), rear)


def _rails_between(cabinet: Cabinet) -> Iterator[Panel]:
    """Flat rails behind the gap between two fronts, flush with the sides' front edges."""
    stock, width = cabinet.stocks.carcass, cabinet.construction.stretcher_width_mm
    for number, z in enumerate(cabinet.rail_z_mm, start=1):
        place = places.lying(_seat_x(cabinet), 0.0, z, stock.thickness_mm)
        size = (cabinet.seated_length_mm, width)
        role = f"middle rail {number}"
        yield _panel(cabinet, role, stock, size, place, face_up="upper face", front="y0", banded=("y0",))


def _adjustable_shelves(cabinet: Cabinet) -> Iterator[Panel]:
    c, stock = cabinet.construction, cabinet.stocks.carcass
    front = c.shelf_setback_mm + cabinet.front_intrusion_mm
    for column, (left, right) in enumerate(cabinet.columns_mm, start=1):
        size = (right - left - c.shelf_side_gap_mm, cabinet.inside_depth_mm - front)
        x = left + c.shelf_side_gap_mm / 2
        for number, pin_z in enumerate(shelf_levels(cabinet), start=1):
            role = f"column {column} shelf {number}" if cabinet.divider_x_mm else f"shelf {number}"
            place = places.lying(x, front, pin_z + c.pin_diameter_mm / 2, stock.thickness_mm)
            yield _panel(cabinet, role, stock, size, place, face_up="upper face", front="y0", banded=("y0",))


def _back(cabinet: Cabinet) -> Iterator[Panel]:
    if not cabinet.has_back:
        return
    c, stock = cabinet.construction, cabinet.stocks.back
    width = cabinet.inside_width_mm + 2 * c.back_rabbet_depth_mm - c.fit_clearance_mm
    x = (cabinet.width_mm - width) / 2
    place = places.facing_front(x, cabinet.inside_depth_mm, cabinet.bottom_z_mm)
    size = (width, cabinet.height_mm - cabinet.bottom_z_mm)
    yield _panel(cabinet, "back", stock, size, place, grain=Grain.FREE)


def _nailer(cabinet: Cabinet) -> Iterator[Panel]:
    if not cabinet.has_nailer:
        return
    stock, width = cabinet.stocks.carcass, cabinet.construction.nailer_width_mm
    y, z = cabinet.inside_depth_mm - stock.thickness_mm, cabinet.ceiling_z_mm - width
    place = places.facing_front(cabinet.stocks.side.thickness_mm, y, z)
    yield _panel(cabinet, "nailer", stock, (cabinet.inside_width_mm, width), place)


def _panel(
    cabinet: Cabinet,
    role: str,
    stock: Stock,
    size: tuple[float, float],
    place: Place,
    *,
    grain: Grain = Grain.ALONG,
    face_up: str = "inside",
    front: str = "",
    banded: tuple[str, ...] = (),
) -> Panel:
    """A plain rectangle, length by width."""
    return Panel(
        id=f"{cabinet.name} {role}",
        cabinet=cabinet.name,
        role=role,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=size[0],
        width_mm=size[1],
        outline=notched_rectangle(Rect(0.0, 0.0, *size)),
        features=(),
        grain=grain,
        place=place,
        face_up=face_up,
        front_edge=front,
        banded_edges=banded,
    )
