"""A look at posted programs from outside: own reader of the words, own sweep of the cutter, own target.

It knows the text of a program and the `.setup.json` beside it, and shapely. It shares nothing with the planner and
nothing with the dry run. Millimetres, program frame.
"""

import json
import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
import shapely
import shapely.ops
from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

CHORD = 0.0005
ENTERS_MM = 0.011
"""Nothing of a cutter may enter what must remain by more than 0.01 mm; the text's rounding on top."""
LEFT_MM = 0.011
"""Half the width of wood that may be left where the cutter could have gone: as much as a slot cut on its middle line by
a cutter 0.02 narrower leaves, and the chords' error."""
LEVEL = 0.005
SIDE_MM, SIDE_OFF_MM = 0.05, 0.3
"""How far beside the cutter the wood is looked for that tells the direction of a cut: within a part, where an inner
ring may run near a wall that is not its own, and off all parts, past what roughing leaves on an outline."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """A motion that may cut: its centre's way in plan, its heights, the cutter's radius."""

    program: str
    line: int
    way: LineString
    start_z: float
    end_z: float
    radius: float
    drill: bool

    @property
    def is_level(self) -> bool:
        return abs(self.start_z - self.end_z) < 1e-9

    def below(self, z: float) -> BaseGeometry | None:
        """Return the part of the way on which the tip is lower than `z`, or None."""
        if max(self.start_z, self.end_z) < z:
            return self.way
        if min(self.start_z, self.end_z) >= z:
            return None
        share = (z - self.start_z) / (self.end_z - self.start_z)
        low, high = (share, 1.0) if self.end_z < self.start_z else (0.0, share)
        if self.way.length == 0.0:
            return self.way
        return shapely.ops.substring(self.way, low, high, normalized=True)


@dataclass(frozen=True, slots=True)
class Feature:
    """Something that must go: its region, depth, and where a relieved corner may be bitten."""

    kind: str
    name: str
    region: BaseGeometry
    depth: float
    corners: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Part:
    """A panel: what must remain, band by band."""

    id: str
    outline: Polygon
    features: tuple[Feature, ...]
    hold: Mapping[str, object]
    thickness: float
    bands: dict[float, BaseGeometry] = field(default_factory=dict)

    def floors(self) -> list[float]:
        """Return the tops of the bands, as depths: 0 and every floor above the spoilboard."""
        return sorted({0.0, *(one.depth for one in self.features if one.depth < self.thickness - LEVEL)})

    def remains_below(self, depth: float, radius: float) -> BaseGeometry:
        """Return what must remain just below a depth when a cutter of `radius` comes, bites of relieved corners left
        out."""
        gone = [one for one in self.features if one.depth > depth + LEVEL]
        if depth not in self.bands:
            self.bands[depth] = self.outline.difference(shapely.union_all([one.region for one in gone]))
        bites = [bite for one in gone for bite in _bites(one, radius)]
        return self.bands[depth].difference(shapely.union_all(bites)) if bites else self.bands[depth]


def _bites(feature: Feature, radius: float) -> Iterator[BaseGeometry]:
    """Yield the smallest overcuts: a cutter that comes along the corner's bisector until it touches the corner."""
    for corner in feature.corners:
        inward = shapely.Point(corner).buffer(1.0).intersection(feature.region).centroid
        away = math.dist((inward.x, inward.y), (corner.x, corner.y))
        ux, uy = (inward.x - corner.x) / away, (inward.y - corner.y) / away
        # Square corners: the ring turns at root two radii.
        way = LineString([(corner.x + ux * k * radius, corner.y + uy * k * radius) for k in (1.0, math.sqrt(2.0))])
        yield way.buffer(radius + 0.001, quad_segs=64)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What was read of one sheet: strokes of all its programs in order, and its parts."""

    strokes: tuple[Stroke, ...]
    parts: tuple[Part, ...]
    top: float
    thickness: float


def sheets_of(content: Mapping[str, bytes]) -> dict[str, Sheet]:
    """Return every sheet of an output folder's content, by id: of a flipped one each side by itself."""
    groups: dict[str, list[tuple[str, dict, str]]] = {}
    for file in sorted(content):
        if file.endswith(".setup.json"):
            setup = json.loads(content[file])
            if setup.get("air_run"):
                continue  # It cuts nothing.
            text = content[f"programs/{setup['program']}"].decode("ascii")
            side = f" side {setup['two_faces']['side']}" if "two_faces" in setup else ""
            groups.setdefault(setup["sheet"] + side, []).append((setup["program"], setup, text))
    found = {}
    for name, programs in groups.items():
        setup = programs[0][1]
        order = {program: k for k, program in enumerate(setup["programs"])}
        programs.sort(key=lambda one: order[one[0]])
        strokes = [stroke for program, own, text in programs for stroke in read(program, text, own)]
        thickness = setup["blank"]["thickness_mm"]
        parts = tuple(_part(panel, thickness) for panel in setup["target"]["panels"])
        found[name] = Sheet(tuple(strokes), parts, setup["stock_top_z_mm"], thickness)
    return found


_WORD = re.compile(r"([A-Z])\s*([-+]?[0-9]*\.?[0-9]+)")


def read(program: str, text: str, setup: dict) -> Iterator[Stroke]:
    """Yield the feeds of a program of plain words: G0 to G3 with I and J, absolute, in the XY plane."""
    cutters = {cutter["number"]: cutter for cutter in setup["cutters"]}
    tool = setup["loaded"][0] if setup["loaded"] else None
    here, mode, unit = [0.0, 0.0, math.inf], 0, 1.0
    for number, line in enumerate(text.splitlines(), start=1):
        words = _WORD.findall(re.sub(r"\(.*?\)", "", line))
        values = {letter: float(value) for letter, value in words if letter not in "GM"}
        for letter, value in words:
            if letter == "G":
                code = float(value)
                assert code not in (18, 19, 91, 81, 82, 83), f"{program}:{number}: {line}"
                mode = int(code) if code in (0, 1, 2, 3) else mode
                unit = 25.4 if code == 20 else 1.0 if code == 21 else unit
        tool = int(values["T"]) if "T" in values else tool
        if not values.keys() & set("XYZ"):
            continue
        there = [values[axis] * unit if axis in values else here[k] for k, axis in enumerate("XYZ")]
        if mode and math.isfinite(here[2]):
            cutter = cutters[tool]
            way = _way(here, there, mode, values, unit)
            yield Stroke(program, number, way, here[2], there[2], cutter["diameter_mm"] / 2, cutter["kind"] == "drill")
        here = there


def _way(here: list[float], there: list[float], mode: int, values: dict[str, float], unit: float) -> LineString:
    if mode == 1:
        return LineString([here[:2], there[:2]])
    assert "R" not in values, "arcs by radius are not read here"
    centre = here[0] + values.get("I", 0.0) * unit, here[1] + values.get("J", 0.0) * unit
    return LineString(_arc(here[:2], there[:2], centre, 1 if mode == 3 else -1))


def _arc(start, end, centre, turn: int) -> list[tuple[float, float]]:
    radius = math.dist(start, centre)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    sweep = turn * (math.atan2(end[1] - centre[1], end[0] - centre[0]) - first) % (2 * math.pi)
    if math.dist(start, end) < 1e-9:
        sweep = 2 * math.pi
    steps = max(2, math.ceil(sweep / (2 * math.acos(1 - min(0.5, CHORD / radius)))))
    angles = [first + turn * sweep * k / steps for k in range(1, steps)]
    middle = [(centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a)) for a in angles]
    return [tuple(start), *middle, tuple(end)]


def _polygon(contour: dict) -> Polygon:
    points = [tuple(contour["start"])]
    for segment in contour["segments"]:
        if "centre" in segment:
            points += _arc(points[-1], segment["to"], segment["centre"], segment["turn"])[1:]
        else:
            points.append(tuple(segment["to"]))
    return Polygon(points)


def _part(panel: dict, thickness: float) -> Part:
    features = []
    for bore in panel["bores"]:
        disc = Point(bore["x_mm"], bore["y_mm"]).buffer(bore["diameter_mm"] / 2, quad_segs=128)
        features.append(Feature("bore", bore["name"], disc, thickness if bore["through"] else bore["depth_mm"]))
    for cutout in panel["cutouts"]:
        features.append(Feature("cut-out", cutout["name"], _polygon(cutout["outline"]), thickness))
    for recess in panel["recesses"]:
        region = _polygon(recess["outline"]).difference(
            shapely.union_all([_polygon(island) for island in recess["islands"]])
        )
        corners = tuple(Point(xy) for xy in recess["relieved_corners"])
        features.append(Feature("recess", recess["name"], region, recess["depth_mm"], corners))
    return Part(panel["id"], _polygon(panel["outline"]), tuple(features), panel["hold"], thickness)


def deepest_entries(sheet: Sheet) -> list[tuple[float, str]]:
    """Return how far a cutter enters what must remain, where it is more than ENTERS_MM, with the place; worst first."""
    found = []
    tree = shapely.STRtree([stroke.way for stroke in sheet.strokes])
    widest = max((stroke.radius for stroke in sheet.strokes), default=0.0)
    for part in sheet.parts:
        near = sorted(tree.query(part.outline, predicate="dwithin", distance=widest))
        for depth in part.floors():
            solids: dict[float, BaseGeometry] = {}
            for index in near:
                stroke = sheet.strokes[index]
                way = stroke.below(sheet.top - depth - LEVEL)
                if way is None:
                    continue
                if stroke.radius not in solids:
                    solids[stroke.radius] = part.remains_below(depth, stroke.radius)
                    shapely.prepare(solids[stroke.radius])
                solid = solids[stroke.radius]
                if shapely.dwithin(solid, way, stroke.radius - ENTERS_MM):
                    into = stroke.radius - solid.distance(way)
                    where = f"{stroke.program}:{stroke.line} enters {part.id} by {into:.4f} mm below {depth:g}"
                    found.append((into, where))
    return sorted(found, reverse=True)


def left_standing(sheet: Sheet) -> list[str]:
    """Return the places of recesses, holes and openings where a cutter could have gone and did not."""
    found = []
    tree = shapely.STRtree([stroke.way for stroke in sheet.strokes])
    outlines = shapely.STRtree([part.outline for part in sheet.parts])
    for part in sheet.parts:
        for feature in part.features:
            if feature.kind == "cut-out":
                continue
            floor = sheet.top - feature.depth + 1e-3
            near = [sheet.strokes[k] for k in tree.query(feature.region, predicate="dwithin", distance=12.0)]
            deep = [(stroke, way) for stroke in near if (way := stroke.below(floor)) is not None]
            inside = [stroke.radius for stroke, way in deep if feature.region.distance(way) < LEVEL]
            if not inside:
                found.append(f"{part.id}: {feature.name}: no cutter goes down to its floor")
                continue
            radius = min(inside)
            swept = shapely.union_all([way.buffer(stroke.radius, quad_segs=64) for stroke, way in deep])
            window = feature.region.envelope.buffer(3 * radius, join_style="mitre")
            others = [sheet.parts[k] for k in outlines.query(window)]
            wood = shapely.union_all([other.remains_below(feature.depth - 2 * LEVEL, 0.0) for other in others])
            free = window.difference(wood.buffer(radius - 0.001, quad_segs=64)).buffer(radius, quad_segs=64)
            left = feature.region.intersection(free).difference(swept).buffer(-LEFT_MM)
            if not left.is_empty:
                spot = left.representative_point()
                found.append(f"{part.id}: {feature.name}: {left.area:.3f} mm2 left at {spot.x:.2f}, {spot.y:.2f}")
    return found


def left_uncut(sheet: Sheet) -> list[str]:
    """Return the outlines and openings that are not cut free, but for as many tabs as the setup allows."""
    found = []
    tree = shapely.STRtree([stroke.way for stroke in sheet.strokes])
    wood = shapely.union_all([part.outline for part in sheet.parts])
    for part in sheet.parts:
        if part.hold["kind"] == "uncut":
            continue
        skin = part.hold["thickness_mm"] if part.hold["kind"] == "skin" else 0.0
        level = sheet.top - sheet.thickness + skin + 1e-3
        near = [sheet.strokes[k] for k in tree.query(part.outline.exterior, predicate="dwithin", distance=13.0)]
        deep = [(stroke, way) for stroke in near if (way := stroke.below(level)) is not None]
        beside = [stroke for stroke, way in deep if way.distance(part.outline.exterior) < stroke.radius + 0.02]
        if not beside:
            found.append(f"{part.id}: no cutter goes round it")
            continue
        radius = max(stroke.radius for stroke in beside)
        swept = shapely.union_all([way.buffer(stroke.radius, quad_segs=64) for stroke, way in deep])
        strip = part.outline.buffer(0.4).difference(wood)
        around = part.outline.envelope.buffer(20.0, join_style="mitre").difference(part.outline)
        free = around.difference(part.outline.buffer(radius, quad_segs=64)).buffer(radius, quad_segs=64)
        over = strip.intersection(free).difference(swept).buffer(-LEFT_MM)
        left = [piece for piece in shapely.get_parts(over) if not piece.is_empty]
        most = 0 if skin else part.hold["at_most"]
        longest = 0.0 if skin else part.hold["length_mm"] + 2 * radius
        if len(left) > most or any(_span(piece) > longest + 0.5 for piece in left):
            sizes = ", ".join(f"{_span(piece):.1f}" for piece in left)
            found.append(f"{part.id}: left uncut along {sizes} mm of the outline")
    return found


def _span(piece: BaseGeometry) -> float:
    x0, y0, x1, y1 = piece.bounds
    return math.hypot(x1 - x0, y1 - y0)


def directions(sheet: Sheet) -> dict[str, list[str]]:
    """Return 'climb' and 'conventional', each with the places of level cuts that go along a wall that way.

    Spindle clockwise: wood that stays on the right of the travel is climb cut, on the left conventional (the edge moves
    against or with the feed). Cuts with wood on both sides or on neither do not tell.
    """
    told: dict[str, list[str]] = {"climb": [], "conventional": []}
    tree = shapely.STRtree([part.outline for part in sheet.parts])
    for stroke in sheet.strokes:
        if stroke.drill or not stroke.is_level or stroke.way.length < 0.5 or stroke.start_z >= sheet.top:
            continue
        depth = sheet.top - stroke.start_z
        middle = stroke.way.interpolate(0.5, normalized=True)
        ahead = stroke.way.interpolate(0.5 + 0.1 / stroke.way.length, normalized=True)
        here = np.array([middle.x, middle.y])
        along = np.array([ahead.x, ahead.y]) - here
        along /= np.hypot(*along)
        within = tree.query(middle, predicate="within").size
        right = np.array([along[1], -along[0]]) * (stroke.radius + (SIDE_MM if within else SIDE_OFF_MM))
        is_wood = [_is_wood(sheet, tree, Point(*place), depth) for place in (here + right, here - right)]
        if is_wood[0] is not is_wood[1]:
            told["climb" if is_wood[0] else "conventional"].append(f"{stroke.program}:{stroke.line}")
    return told


def _is_wood(sheet: Sheet, tree: shapely.STRtree, place: Point, depth: float) -> bool:
    parts = [sheet.parts[k] for k in tree.query(place, predicate="within")]
    depth = min(depth, sheet.thickness) - 2 * LEVEL
    return any(part.remains_below(depth, 0.0).contains(place) for part in parts)


def complaints(sheet: Sheet, direction: str) -> list[str]:
    """Return all that is wrong with a sheet: wood entered, wood left, and cuts that go along a wall the wrong way."""
    entered = [where for _, where in deepest_entries(sheet)]
    wrong = {"climb": "conventional", "conventional": "climb"}[direction]
    against = [f"{place} is {wrong} cut" for place in directions(sheet)[wrong]]
    return [*entered, *left_standing(sheet), *left_uncut(sheet), *against]
