"""The front of a cabinet as a small picture: box, kick, doors and drawer fronts with their hinge sides.

Cabinet frame, millimetres: x to the right, z up from the floor. A door's two dashed lines meet at its hinge side, as on
architects' drawings.
"""

from collections.abc import Iterator

from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.geometry.points import Point
from rabbetry.page.svg import escaped, line, number, rect, words
from rabbetry.page.text import fit, plain
from rabbetry.page.wording import full_size, short_length

_UNIT_MM = 700.0
"""A cabinet this high has text unit 1."""


def elevation_svg(cabinet: Cabinet, *, units: str) -> str:
    """Return the front view as SVG; fronts are drawn where they are hung, openings without a front as open boxes."""
    wide, high = cabinet.width_mm, cabinet.height_mm
    unit = max(wide, high) / _UNIT_MM
    margin, below = 70 * unit, 60 * unit
    size = f"{short_length(wide, units)} × {short_length(high, units)} {units}"
    title = f"{cabinet.name}, front view, {size}"
    edge = 12 * unit
    box = " ".join(map(number, (-margin, -high - edge, wide + margin + edge, high + below + edge)))
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="elevation" role="img" aria-label="{escaped(title)}" '
        f'font-size="{number(10 * unit)}" viewBox="{box}">',
        f"<title>{escaped(title)}</title>",
        *_carcass(cabinet),
        *(item for front in cabinet.fronts for item in _front(front, units, unit)),
        *_sizes(cabinet, units, unit),
        "</svg>",
    ]
    return "\n".join(parts)


def _carcass(cabinet: Cabinet) -> Iterator[str]:
    wide, high = cabinet.width_mm, cabinet.height_mm
    side, shelf = cabinet.stocks.side.thickness_mm, cabinet.stocks.carcass.thickness_mm
    kick = cabinet.construction.kick_height_mm if cabinet.has_kick else 0.0
    yield rect("box", 0, kick, wide, high - kick)
    if kick > 0:
        yield rect("kick", 0, 0, wide, kick, title="toe kick")
    for x, unit in cabinet.units:
        for opening in unit.openings:
            high = opening.top_z_mm - opening.floor_z_mm
            yield rect("opening", x + side, opening.floor_z_mm, unit.inside_width_mm, high)
        for z in unit.fixed_shelf_z_mm:
            yield rect("shelf", x + side, z, unit.inside_width_mm, shelf, title="fixed shelf")


def _front(front: Front, units: str, unit: float) -> Iterator[str]:
    x, z, dx, dz = front.x_mm, front.z_mm, front.width_mm, front.height_mm
    yield rect("front", x, z, dx, dz, title=f"{front.name}: {full_size(dx, dz, units)}")
    if front.hinge in ("left", "right"):
        hinge, far = (x, x + dx) if front.hinge == "left" else (x + dx, x)
        for corner in (z, z + dz):
            yield line("swing", Point(far, corner), Point(hinge, z + dz / 2))
    for height in front.hinge_z_mm:
        at = x if front.hinge == "left" else x + dx
        yield rect("hinge", at - 4 * unit, height - 12 * unit, 8 * unit, 24 * unit, title="hinge")
    fitted = fit(plain(front.name), width=0.86 * dx, height=0.8 * dz, largest=24 * unit, smallest=9 * unit)
    for k, text in enumerate(fitted.lines):
        drop = (k - (len(fitted.lines) - 1) / 2) * 1.2 * fitted.size + 0.35 * fitted.size
        yield words("front-name", Point(x + dx / 2, z + dz / 2 - drop), fitted.size, text)


def _sizes(cabinet: Cabinet, units: str, unit: float) -> Iterator[str]:
    wide, high = cabinet.width_mm, cabinet.height_mm
    below, beside = -20 * unit, -20 * unit
    for a, b in ((Point(0, below), Point(wide, below)), (Point(beside, 0), Point(beside, high))):
        yield line("dimension", a, b)
        for end in (a, b):
            slant = 7 * unit
            yield line("dimension", Point(end.x - slant, end.y - slant), Point(end.x + slant, end.y + slant))
    yield words("length", Point(wide / 2, below - 28 * unit), 24 * unit, f"{short_length(wide, units)} {units}")
    yield words(
        "length", Point(beside - 10 * unit, high / 2), 24 * unit, f"{short_length(high, units)} {units}", upright=True
    )
