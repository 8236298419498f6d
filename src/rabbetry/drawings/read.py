"""DXF files read: the only module besides `page.dxf` that knows ezdxf. Takes lines, arcs, circles, polylines, ellipses
and splines of the model space, those of blocks too, to lines and arcs of the plane; counts all else by kind and layer.

Whatever lies level counts, at any height; a shape that is tilted or climbs is dropped by name.
"""

import io
import math
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.insert import Insert
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.spline import Spline
from ezdxf.lldxf.const import DXFError
from ezdxf.math import OCS, Vec3

from rabbetry.drawings.biarcs import arcs_along
from rabbetry.drawings.model import Chain, Shapes
from rabbetry.errors import Fault, InputError
from rabbetry.geometry.curves import Arc, Line, Segment
from rabbetry.geometry.points import Point, Vector

MAX_ENTITIES = 20_000
"""Entities of one drawing with those of its blocks, each time one is inserted: a part has a hundredth of that."""
MAX_PIECES = 5_000
"""Lines and arcs that are used of one drawing."""
_MAX_NESTING = 16
_LEVEL = 1e-6
"""Heights and tilts below this, in the drawing's unit, are rounding."""
_ROUND = 1e-9
"""An ellipse whose axes differ by less, relatively, is a circle."""
_UNITS = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m"}
"""Unit codes of the header variable INSUNITS (DXF reference) that a drawing of furniture may have."""
_LIBRARY_FAULTS = (
    DXFError,
    *(ValueError, LookupError, TypeError, AttributeError, ArithmeticError, RecursionError, AssertionError),
)
"""What the library raises at files that are no drawings: its own errors, and those of a reader led astray."""


def open_drawing(data: bytes, *, file: str) -> tuple[Drawing, tuple[str, ...]]:
    """Return the document, and what was repaired in it. Raises InputError when the bytes are no whole text DXF file."""
    cure = "save it as a DXF text file, of any release"
    if b"\0" in data[:1000]:
        raise InputError(Fault(file=file, place="", problem="is not text", cure=cure))
    if not data.rstrip().endswith(b"EOF"):
        raise InputError(Fault(file=file, place="", problem="ends before its last line, EOF", cure=cure))
    try:
        document, auditor = recover.read(io.BytesIO(data))
        document.modelspace()
    except _LIBRARY_FAULTS as error:
        raise InputError(Fault(file=file, place="", problem=f"is no sound DXF file: {error}", cure=cure)) from None
    if auditor.has_errors:
        problem = f"is no sound DXF file: {auditor.errors[0].message}"
        raise InputError(Fault(file=file, place="", problem=problem, cure=cure))
    return document, tuple(fix.message for fix in auditor.fixes)


def unit_of(document: Drawing) -> str:
    """Return the unit that the file says ('mm', 'cm', 'm', 'in', 'ft'), '' when it says none."""
    code = document.header.get("$INSUNITS", 0) if "$INSUNITS" in document.header else 0
    return _UNITS.get(code, "" if code == 0 else f"unit code {code}")


def shapes_of(document: Drawing, *, tolerance: float, file: str, repairs: tuple[str, ...] = ()) -> Shapes:
    """Return what the model space holds, curves within `tolerance`. Raises InputError over the limits."""
    found = _Found(document=document, tolerance=tolerance, file=file)
    try:
        found.add(document.modelspace(), "", 0)
    except _LIBRARY_FAULTS as error:
        raise InputError(Fault(file=file, place="", problem=f"is no sound DXF file: {error}")) from None
    return Shapes(
        chains=tuple(found.chains),
        points=tuple(found.points),
        used=found.used,
        dropped=found.dropped,
        curve_pieces=found.curve_pieces,
        repairs=repairs,
    )


@dataclass(slots=True, kw_only=True)
class _Found:
    """Gathers what the entities come to."""

    document: Drawing
    tolerance: float
    file: str
    chains: list[Chain] = field(default_factory=list)
    pieces: int = 0
    points: list[tuple[str, Point]] = field(default_factory=list)
    used: Counter[str] = field(default_factory=Counter)
    dropped: Counter[tuple[str, str]] = field(default_factory=Counter)
    curve_pieces: int = 0
    seen: int = 0

    def add(self, entities: Iterable[DXFEntity], inherited: str, depth: int) -> None:
        """Take entities; those on layer 0 of a block are on the layer of its insert, `inherited`."""
        for entity in entities:
            self.seen += 1
            if self.seen > MAX_ENTITIES:
                self._refuse(f"holds more than {MAX_ENTITIES} entities", "draw the part by itself in one file")
            layer = str(entity.dxf.get("layer", "0"))
            layer = inherited if inherited and layer == "0" else layer
            kind = entity.dxftype()
            if not isinstance(entity, DXFGraphic) or self._is_hidden(entity, layer):
                self.dropped[f"hidden {kind}", layer] += 1
            elif isinstance(entity, Insert):
                self._insert(entity, layer, depth)
            elif kind == "POINT":
                self.points.append((layer, _flat(entity.dxf.location)))
            else:
                self._shape(entity, kind, layer)

    def _shape(self, entity: DXFGraphic, kind: str, layer: str) -> None:
        segments, said = _segments(entity, kind, self.tolerance)
        if segments is None:
            self.dropped[said, layer] += 1
            return
        self.used[said] += 1
        if kind in ("SPLINE", "ELLIPSE"):
            self.curve_pieces += len(segments)
        if segments:
            self.chains.append(Chain(layer, segments))
        self.pieces += len(segments)
        if self.pieces > MAX_PIECES:
            self._refuse(f"comes to more than {MAX_PIECES} lines and arcs", "draw the part by itself in one file")

    def _insert(self, insert: Insert, layer: str, depth: int) -> None:
        block = insert.block()
        if depth >= _MAX_NESTING or block is None or block.block is None:
            self.dropped["INSERT of a block that is not there" if block is None else "INSERT", layer] += 1
            return
        if block.block.is_xref or block.block.is_xref_overlay:
            self.dropped["INSERT of another file", layer] += 1
            return
        if insert.mcount > MAX_ENTITIES:
            self._refuse(f"holds more than {MAX_ENTITIES} entities", "draw the part by itself in one file")
        self.used["INSERT"] += 1
        for single in insert.multi_insert() if insert.mcount > 1 else (insert,):

            def told(entity: DXFGraphic, reason: str) -> None:
                del reason
                self.dropped[entity.dxftype(), layer] += 1

            self.add(single.virtual_entities(skipped_entity_callback=told), layer, depth + 1)

    def _is_hidden(self, entity: DXFGraphic, layer: str) -> bool:
        if entity.dxf.get("invisible", 0):
            return True
        if layer not in self.document.layers:
            return False
        row = self.document.layers.get(layer)
        return bool(row.is_off() or row.is_frozen())

    def _refuse(self, problem: str, cure: str) -> None:
        raise InputError(Fault(file=self.file, place="", problem=problem, cure=cure))


def _segments(entity: DXFGraphic, kind: str, tolerance: float) -> tuple[tuple[Segment, ...] | None, str]:
    """Return the lines and arcs of an entity and its kind in words; None for what is dropped."""
    dxf = entity.dxf
    if isinstance(entity, Polyline) and not (entity.is_2d_polyline or entity.is_3d_polyline):
        return None, "mesh"
    if kind == "LINE":
        is_level = abs(dxf.start.z - dxf.end.z) <= _LEVEL
        return ((Line(_flat(dxf.start), _flat(dxf.end)),), kind) if is_level else (None, "LINE that is not level")
    if isinstance(entity, Polyline) and entity.is_3d_polyline:
        corners = [vertex.dxf.location for vertex in entity.vertices if not vertex.dxf.flags & _FRAME]
        if not _is_level(corners):
            return None, "3D POLYLINE that is not level"
        return tuple(_chain([(_flat(at), 0.0) for at in corners], entity.is_closed)), "level 3D POLYLINE"
    if isinstance(entity, Spline):
        return _spline(entity, tolerance)
    if kind not in ("ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE"):
        return None, kind
    normal = Vec3(dxf.get("extrusion", (0, 0, 1))).normalize()
    if abs(normal.z) < 1 - _LEVEL:
        return None, f"{kind} that is not level"
    if kind == "ELLIPSE":
        return _ellipse(Vec3(dxf.center), Vec3(dxf.major_axis), normal, dxf, tolerance), kind
    system = OCS(normal)
    if kind in ("ARC", "CIRCLE"):
        full = kind == "CIRCLE"
        start, end = (0.0, 360.0) if full else (float(dxf.start_angle), float(dxf.end_angle))
        return _arcs(system, Vec3(dxf.center), float(dxf.radius), start, end), kind
    corners2 = [(system.to_wcs(Vec3(x, y, 0)), bulge) for x, y, bulge in _vertices(entity)]
    turn = 1.0 if normal.z > 0 else -1.0
    return tuple(_chain([(_flat(at), turn * bulge) for at, bulge in corners2], entity.is_closed)), kind  # type: ignore[attr-defined]


_FRAME = 16
"""Flag of a polyline's vertex that only frames a spline (DXF reference, VERTEX group 70)."""


def _vertices(entity: DXFGraphic) -> Iterator[tuple[float, float, float]]:
    if isinstance(entity, LWPolyline):
        for x, y, bulge in entity.get_points("xyb"):
            yield float(x), float(y), float(bulge)
    elif isinstance(entity, Polyline):
        for vertex in entity.vertices:
            if not vertex.dxf.flags & _FRAME:
                yield vertex.dxf.location.x, vertex.dxf.location.y, vertex.dxf.get("bulge", 0.0)


def _chain(corners: list[tuple[Point, float]], closed: bool) -> Iterator[Segment]:
    """Yield the edges of a polyline. A bulge is tan(sweep / 4), positive counter-clockwise (DXF reference)."""
    ends = [*corners[1:], *(corners[:1] if closed else [])]
    for (start, bulge), (end, _) in zip(corners, ends, strict=False):
        if start == end:
            continue
        if abs(bulge) < _LEVEL:
            yield Line(start, end)
            continue
        middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
        centre = middle + (end - start).left() * ((1 - bulge * bulge) / (4 * bulge))
        yield Arc(start, end, centre, 1 if bulge > 0 else -1)


def _arcs(system: OCS, centre: Vec3, radius: float, start: float, end: float) -> tuple[Segment, ...]:
    """Return an arc given counter-clockwise in its own system, degrees; a full circle as two halves."""
    sweep = (end - start) % 360.0 or 360.0
    stops = (start, start + sweep) if sweep < 359.999999 else (start, start + 180.0, start + 360.0)
    turn = 1 if system.uz.z > 0 else -1
    middle = _flat(system.to_wcs(centre))
    places = [
        _flat(system.to_wcs(centre + Vec3(math.cos(math.radians(angle)), math.sin(math.radians(angle))) * radius))
        for angle in stops
    ]
    if len(places) == 3:
        places[-1] = places[0]
    return tuple(Arc(a, b, middle, turn) for a, b in pairwise(places) if a != b)


def _ellipse(centre: Vec3, major: Vec3, normal: Vec3, dxf: object, tolerance: float) -> tuple[Segment, ...]:
    ratio = float(dxf.ratio)  # type: ignore[attr-defined]
    start, end = float(dxf.start_param), float(dxf.end_param)  # type: ignore[attr-defined]
    sweep = (end - start) % (2 * math.pi) or 2 * math.pi
    minor = normal.cross(major) * ratio
    if abs(abs(ratio) - 1) <= _ROUND:
        turn = 1 if normal.z > 0 else -1
        count = 2 if sweep > math.pi else 1
        stops = [start + sweep * k / count for k in range(count + 1)]
        places = [_flat(centre + major * math.cos(t) + minor * math.sin(t)) for t in stops]
        return tuple(Arc(a, b, _flat(centre), turn) for a, b in pairwise(places))

    def curve(t: float) -> tuple[Point, Vector]:
        along = minor * math.cos(t) - major * math.sin(t)
        return _flat(centre + major * math.cos(t) + minor * math.sin(t)), Vector(along.x, along.y)

    quarter = math.pi / 2
    inner = [k * quarter for k in range(math.floor(start / quarter), math.ceil((start + sweep) / quarter) + 1)]
    stops = [start, *(t for t in inner if start < t < start + sweep), start + sweep]
    return arcs_along(curve, stops, tolerance)


def _spline(entity: Spline, tolerance: float) -> tuple[tuple[Segment, ...] | None, str]:
    tool = entity.construction_tool()
    if not _is_level(list(tool.control_points)):
        return None, "SPLINE that is not level"
    knots, degree = list(tool.knots()), tool.degree
    low, high = knots[degree], knots[len(tool.control_points)]

    def curve(t: float) -> tuple[Point, Vector]:
        at, along = tool.derivative(t, 1)[:2]
        return _flat(at), Vector(along.x, along.y)

    stops = sorted({low, high, *(knot for knot in knots if low < knot < high)})
    return arcs_along(curve, stops, tolerance), "SPLINE"


def _is_level(corners: list[Vec3]) -> bool:
    heights = [corner.z for corner in corners]
    return not heights or max(heights) - min(heights) <= _LEVEL


def _flat(at: Vec3) -> Point:
    return Point(float(at.x), float(at.y))
