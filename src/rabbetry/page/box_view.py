"""A box drawn from its solids: exploded, as a still picture, and as numbers for the script that turns it.

Cabinet frame, millimetres. The picture is seen along parallel lines, from the front, a little from one side and from
above. Panels are painted from far to near. Within a panel its layers follow each other along its thickness, so painting
the farther layer first, its walls before its face, hides exactly what is hidden; between panels the upright boxes about
them say which may hide which.
"""

import json
import math
from collections.abc import Iterable, Iterator, Sequence

from rabbetry.fit.model import Assembly, Layer, Mouth, Solid
from rabbetry.page.svg import escaped, number
from rabbetry.page.text import plain, width_em
from rabbetry.panels.model import Vec3

_TURN_DEG = 32.0
_TILT_DEG = 24.0
_MOUTH_SIDES = 8
_STEPS_PER_MM = 10
Flat = tuple[float, float]
_MOST_LETTERS = 28
_LINE_EM = 1.25
_SIZE_UNITS = 1.5


def box_svg(assembly: Assembly, *, title: str) -> str:
    """Return the exploded view as SVG; each panel is a group with its name as title and as text."""
    eye = _Eye(_TURN_DEG, _TILT_DEG)
    ordered = _far_to_near(assembly, eye)
    drawn = [_draw(solid, assembly.apart[solid.panel], eye) for solid in ordered]
    points = [point for solid in ordered for point in _corners(solid, assembly.apart[solid.panel], eye)]
    low = (min(x for x, _ in points), min(y for _, y in points))
    high = (max(x for x, _ in points), max(y for _, y in points))
    unit = max(high[0] - low[0], high[1] - low[1]) / 60
    sizes = (low[0] - 3 * unit, low[1] - unit, high[0] - low[0] + 6 * unit, high[1] - low[1] + 2 * unit)
    names = _names(assembly, ordered, eye, unit)
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" class="exploded" role="img" aria-label="{escaped(title)}" '
            f'font-size="{number(_SIZE_UNITS * unit)}" stroke-width="{number(unit / 12)}" '
            f'viewBox="{" ".join(f"{value:.0f}" for value in sizes)}">',
            f"<title>{escaped(title)}</title>",
            *drawn,
            *names,
            "</svg>",
        ]
    )


class _Eye:
    """Turns points of the cabinet frame into the picture: x to the right, y down, and how near they are."""

    def __init__(self, turn_deg: float, tilt_deg: float) -> None:
        turn, tilt = math.radians(turn_deg), math.radians(tilt_deg)
        self.right: Vec3 = (math.cos(turn), math.sin(turn), 0.0)
        self.down: Vec3 = (math.sin(turn) * math.sin(tilt), -math.cos(turn) * math.sin(tilt), -math.cos(tilt))
        self.near: Vec3 = (math.sin(turn) * math.cos(tilt), -math.cos(turn) * math.cos(tilt), math.sin(tilt))

    def flat(self, point: Vec3) -> Flat:
        return _dot(self.right, point), _dot(self.down, point)


def _dot(a: Vec3, b: Vec3) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _far_to_near(assembly: Assembly, eye: _Eye) -> list[Solid]:
    """Sort the solids so that each comes after all that it may hide; where two may hide each other, by middles."""
    spans = {
        solid.panel: tuple(
            (solid.low[k] + assembly.apart[solid.panel][k], solid.high[k] + assembly.apart[solid.panel][k])
            for k in range(3)
        )
        for solid in assembly.solids
    }

    def nearness(solid: Solid) -> float:
        return sum(eye.near[k] * sum(spans[solid.panel][k]) for k in range(3))

    def hides(a: Solid, b: Solid) -> bool:
        """Tell whether a may lie before b: nothing shows that b is wholly on the near side of it."""
        for k in range(3):
            (a_low, a_high), (b_low, b_high) = spans[a.panel][k], spans[b.panel][k]
            if (eye.near[k] > 0 and b_low >= a_high) or (eye.near[k] < 0 and b_high <= a_low):
                return False
        return True

    left = sorted(assembly.solids, key=nearness)
    ordered: list[Solid] = []
    while left:
        free = (a for a in left if not any(hides(a, b) for b in left if b is not a))
        first = next(free, left[0])
        left.remove(first)
        ordered.append(first)
    return ordered


def _corners(solid: Solid, apart: Vec3, eye: _Eye) -> Iterator[Flat]:
    for x in (solid.low[0], solid.high[0]):
        for y in (solid.low[1], solid.high[1]):
            for z in (solid.low[2], solid.high[2]):
                yield eye.flat((x + apart[0], y + apart[1], z + apart[2]))


def _draw(solid: Solid, apart: Vec3, eye: _Eye) -> str:
    """Return the panel's group: for each layer from far to near its walls, then its face, then the holes in that."""
    normal = solid.place.normal
    face_shows = _dot(normal, eye.near) > 0
    layers = list(reversed(solid.layers)) if face_shows else list(solid.layers)
    parts = [f"<g><title>{escaped(solid.panel)}</title>"]
    for layer in layers:
        depth = layer.start_mm if face_shows else layer.end_mm
        parts.extend(_walls(solid, layer, apart, eye))
        cap = "".join(_path([_at(solid, x, y, depth, apart, eye) for x, y in ring]) for ring in layer.rings)
        outward = normal if face_shows else _times(normal, -1.0)
        parts.append(f'<path class="{_tone(outward)}" fill-rule="evenodd" d="{cap}"/>')
        mouths = [
            mouth
            for mouth in solid.mouths
            if mouth.on_rear != face_shows and abs(mouth.depth_mm - depth) < _STEPS_PER_MM**-1
        ]
        holes = "".join(_path(_ring(solid, mouth, apart, eye)) for mouth in mouths)
        if holes:
            parts.append(f'<path class="mouth" d="{holes}"/>')
    return "".join(parts) + "</g>"


def _walls(solid: Solid, layer: Layer, apart: Vec3, eye: _Eye) -> Iterator[str]:
    """Yield the walls of a layer that face the eye, the farthest first."""
    found: list[tuple[float, str]] = []
    for ring in layer.rings:
        sign = _wood_side(ring, layer.rings)
        for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
            length = math.hypot(bx - ax, by - ay)
            out = (sign * (by - ay) / length, sign * (ax - bx) / length)
            outward = _sum(_times(solid.place.x_axis, out[0]), _times(solid.place.y_axis, out[1]))
            if _dot(outward, eye.near) <= 0:
                continue
            corners = [
                (ax, ay, layer.start_mm),
                (bx, by, layer.start_mm),
                (bx, by, layer.end_mm),
                (ax, ay, layer.end_mm),
            ]
            points = [_at(solid, x, y, depth, apart, eye) for x, y, depth in corners]
            middle = _dot(solid.place.point((ax + bx) / 2, (ay + by) / 2, 0.0), eye.near)
            found.append((middle, f'<path class="{_tone(outward)}" d="{_path(points)}"/>'))
    return (text for _, text in sorted(found))


def _wood_side(ring: Sequence[Flat], rings: Sequence[Sequence[Flat]]) -> float:
    """Return 1 where wood lies on the left of the ring's edges, else -1."""
    area = sum(ax * by - bx * ay for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True))
    within = sum(_is_inside(ring[0], other) for other in rings if other is not ring)
    return (1.0 if area > 0 else -1.0) * (1.0 if within % 2 == 0 else -1.0)


def _is_inside(point: Flat, ring: Sequence[Flat]) -> bool:
    inside = False
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (ay > point[1]) != (by > point[1]) and point[0] < ax + (point[1] - ay) / (by - ay) * (bx - ax):
            inside = not inside
    return inside


def _ring(solid: Solid, mouth: Mouth, apart: Vec3, eye: _Eye) -> list[Flat]:
    r = mouth.diameter_mm / 2
    angles = (2 * math.pi * k / _MOUTH_SIDES for k in range(_MOUTH_SIDES))
    return [
        _at(solid, mouth.x_mm + r * math.cos(a), mouth.y_mm + r * math.sin(a), mouth.depth_mm, apart, eye)
        for a in angles
    ]


def _at(solid: Solid, x: float, y: float, depth: float, apart: Vec3, eye: _Eye) -> Flat:
    return eye.flat(_sum(solid.place.point(x, y, depth), apart))


def _path(points: Sequence[Flat]) -> str:
    return "M" + "L".join(f"{x:.0f} {y:.0f}" for x, y in points) + "Z"


def _tone(outward: Vec3) -> str:
    """Return the class of a face by the way it looks: up or down, to front or back, to a side."""
    x, y, z = map(abs, outward)
    return "tone-up" if z >= max(x, y) else "tone-front" if y >= x else "tone-side"


def _names(assembly: Assembly, ordered: Sequence[Solid], eye: _Eye, unit: float) -> Iterator[str]:
    """Yield each panel's number in the order of assembly and its role, where nothing nearer hides the panel and no
    other name stands; over its middle, or below what stands there, when there is no such place."""
    size = _SIZE_UNITS * unit
    sheets = [_sheet(solid, assembly.apart[solid.panel], eye) for solid in ordered]
    steps = {solid.panel: k for k, solid in enumerate(assembly.solids, 1)}
    taken: list[tuple[float, float, float]] = []
    for k, solid in enumerate(ordered):
        text = plain(f"{steps[solid.panel]} {solid.role}")
        short = text if len(text) <= _MOST_LETTERS else text[: _MOST_LETTERS - 1] + "…"
        half = width_em(short) * size / 2
        x, y = _place_of_name(solid, assembly.apart[solid.panel], eye, half, size, sheets[k + 1 :], taken)
        taken.append((x, y, half))
        yield f'<text x="{x:.0f}" y="{y + size / 3:.0f}" text-anchor="middle">{escaped(short)}</text>'


_SHARES = tuple(
    sorted(((i / 8, j / 8) for i in range(1, 8) for j in range(1, 8)), key=lambda p: math.dist(p, (0.5, 0.5)))
)


def _place_of_name(
    solid: Solid,
    apart: Vec3,
    eye: _Eye,
    half: float,
    size: float,
    nearer: Sequence[Sequence[Flat]],
    taken: Sequence[tuple[float, float, float]],
) -> Flat:
    def is_free(x: float, y: float) -> bool:
        return not any(abs(x - ox) < half + other and abs(y - oy) < _LINE_EM * size for ox, oy, other in taken)

    wide, high = _length_and_width(solid)
    for share in (0.8, 0.0):
        for across, along in _SHARES:
            x, y = _at(solid, across * wide, along * high, 0.0, apart, eye)
            spots = [(x - share * half, y), (x, y), (x + share * half, y)]
            if is_free(x, y) and not any(_is_inside(spot, sheet) for spot in spots for sheet in nearer):
                return x, y
    x, y = _at(solid, wide / 2, high / 2, 0.0, apart, eye)
    while not is_free(x, y):
        y += size / 4
    return x, y


def _length_and_width(solid: Solid) -> Flat:
    corners = [corner for layer in solid.layers for ring in layer.rings for corner in ring]
    return max((x for x, _ in corners), default=0.0), max((y for _, y in corners), default=0.0)


def _sheet(solid: Solid, apart: Vec3, eye: _Eye) -> list[Flat]:
    """Return the panel's rectangle in the picture."""
    wide, high = _length_and_width(solid)
    return [_at(solid, x, y, 0.0, apart, eye) for x, y in ((0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high))]


def solids_json(assembly: Assembly) -> str:
    """Return the solids as numbers for the script, in the order of assembly; all lengths in tenths of a millimetre.

    Each is `[origin, x axis, y axis, apart, layers, mouths]`: an axis is 1, 2, 3 for x, y, z, negative the other way;
    a layer is `[start, end, ring, ...]` with rings as x, y, x, y ...; a mouth `[x, y, depth, diameter, rear]`."""
    rows = [
        [
            _tenths(solid.place.origin),
            _axis(solid.place.x_axis),
            _axis(solid.place.y_axis),
            _tenths(assembly.apart[solid.panel]),
            [
                [
                    *_tenths((layer.start_mm, layer.end_mm)),
                    *(_tenths(v for xy in ring for v in xy) for ring in layer.rings),
                ]
                for layer in solid.layers
            ],
            [[*_tenths((m.x_mm, m.y_mm, m.depth_mm, m.diameter_mm)), int(m.on_rear)] for m in solid.mouths],
        ]
        for solid in assembly.solids
    ]
    return json.dumps(rows, separators=(",", ":"))


def _tenths(values: Iterable[float]) -> list[int]:
    return [round(value * _STEPS_PER_MM) for value in values]


def _axis(way: Vec3) -> int:
    k = max(range(3), key=lambda each: abs(way[each]))
    return k + 1 if way[k] > 0 else -k - 1


def _sum(a: Vec3, b: Vec3) -> Vec3:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def _times(a: Vec3, by: float) -> Vec3:
    return (a[0] * by, a[1] * by, a[2] * by)
