"""Neutral parts: an outline and features cut from one face, and the panel's place in the assembled box. Millimetres.

Panel frame: machined face up, origin at the lower left of the panel's rectangle, x along its length, y along its width;
depth is positive downward from the machined face. Features lie in that frame. Every closed contour runs
counter-clockwise, islands too. A recess that is open at an edge has its boundary on the panel's outline there (it is
never drawn past it; the planner runs the cutter out).
"""

from dataclasses import dataclass, replace

from rabbetry.geometry.curves import Contour
from rabbetry.geometry.points import Point, Transform
from rabbetry.job.model import Grain


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """A round hole. `through` holes have the panel's thickness as depth."""

    name: str
    purpose: str
    """'shelf pin', 'hinge plate', 'hinge cup', 'cup fixing', 'slide', 'pilot', 'rear hook',
    'hook guide', 'slide mark', 'box screw'."""
    centre: Point
    diameter_mm: float
    depth_mm: float
    through: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Recess:
    """A flat-bottomed region: dado, rabbet, groove or pocket."""

    name: str
    kind: str
    """'dado', 'rabbet', 'groove', 'pocket'."""
    outline: Contour
    depth_mm: float
    islands: tuple[Contour, ...] = ()
    relieved_corners: tuple[Point, ...] = ()
    """Inside corners that a square corner must enter: the cutter overcuts there by the smallest amount."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """An opening right through, inside the outline."""

    name: str
    outline: Contour


Feature = Bore | Recess | CutOut


def moved_feature(feature: Feature, transform: Transform) -> Feature:
    """Return the feature in another frame; contours stay counter-clockwise when the transform mirrors."""
    if isinstance(feature, Bore):
        return replace(feature, centre=transform(feature.centre))
    if isinstance(feature, CutOut):
        return replace(feature, outline=feature.outline.moved(transform))
    return replace(
        feature,
        outline=feature.outline.moved(transform),
        islands=tuple(island.moved(transform) for island in feature.islands),
        relieved_corners=tuple(transform(corner) for corner in feature.relieved_corners),
    )


Vec3 = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where the panel stands in the assembled box: cabinet-frame position of the panel frame's origin on the machined
    face, and unit directions of panel x and y. The outward normal of the machined face is x_axis cross y_axis; the
    panel's body lies on the other side of it."""

    origin: Vec3
    x_axis: Vec3
    y_axis: Vec3

    @property
    def normal(self) -> Vec3:
        (a, b, c), (d, e, f) = self.x_axis, self.y_axis
        return (b * f - c * e, c * d - a * f, a * e - b * d)

    def point(self, x: float, y: float, depth: float) -> Vec3:
        """Return the cabinet-frame position of a panel point `depth` below the machined face."""
        n = self.normal
        return (
            self.origin[0] + self.x_axis[0] * x + self.y_axis[0] * y - n[0] * depth,
            self.origin[1] + self.x_axis[1] * x + self.y_axis[1] * y - n[1] * depth,
            self.origin[2] + self.x_axis[2] * x + self.y_axis[2] * y - n[2] * depth,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class InnerBand:
    """A banded edge that is none of the panel's rectangle's, as in the inner corner of an L: in words, and how long."""

    name: str
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One part to cut, seen on its machined face."""

    id: str
    """Unique in the job: `B3 left side`."""
    cabinet: str
    role: str
    """'left side', 'bottom', 'drawer 1 back' ..."""
    stock: str
    thickness_mm: float
    length_mm: float
    width_mm: float
    outline: Contour
    """Within 0..length x 0..width, touching all four."""
    features: tuple[Feature, ...]
    grain: Grain
    place: Place | None
    """None for a plain part."""
    face_up: str = "inside"
    """Which face is machined, in words for the label."""
    rear_features: tuple[Feature, ...] = ()
    """What is cut from the other face: x and y in this same frame, as if seen through the panel; depth positive from
    the rear face. Empty for a panel machined on one face. A through feature stands in `features` alone."""
    front_edge: str = ""
    """Which edge of the panel frame is the front: 'x0', 'x1', 'y0', 'y1' or ''."""
    banded_edges: tuple[str, ...] = ()
    inner_bands: tuple[InnerBand, ...] = ()
    note: str = ""
    ends: tuple[str, str] = ("", "")
    """What its left-hand and its right-hand end are as it lies, in words for the label."""

    @property
    def rear_face(self) -> str:
        """The other face in words."""
        return _OTHER_FACE.get(self.face_up, f"rear of the {self.face_up}")

    @property
    def faces_in_order(self) -> tuple[str, ...]:
        """The faces that are cut, in words, in the order in which they are."""
        if not self.rear_features:
            return (self.face_up,)
        first = self.first_up
        return first.face_up, first.rear_face

    @property
    def first_up(self) -> "Panel":
        """The panel with that face up that is cut first. A face with recesses comes last where the other has none: a
        part is cut out with its last face up, and no tab shall stand over a rabbet cut from below."""
        if not self.rear_features or not _has_recess(self.features) or _has_recess(self.rear_features):
            return self
        mirror = Transform.mirror_y(self.width_mm)
        swapped = {"y0": "y1", "y1": "y0"}
        through = [item for item in self.features if _is_through(item)]
        blind = [item for item in self.features if not _is_through(item)]
        return replace(
            self,
            outline=self.outline.moved(mirror),
            features=tuple(moved_feature(item, mirror) for item in (*self.rear_features, *through)),
            rear_features=tuple(moved_feature(item, mirror) for item in blind),
            face_up=self.rear_face,
            front_edge=swapped.get(self.front_edge, self.front_edge),
            banded_edges=tuple(swapped.get(edge, edge) for edge in self.banded_edges),
        )


_OTHER_FACE = {
    "left face": "right face",
    "right face": "left face",
    "upper face": "lower face",
    "lower face": "upper face",
    "inside": "outside",
}


def _has_recess(features: tuple[Feature, ...]) -> bool:
    return any(isinstance(feature, Recess) for feature in features)


def _is_through(feature: Feature) -> bool:
    return isinstance(feature, CutOut) or (isinstance(feature, Bore) and feature.through)


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A mating: `entering` panel's edge sits in `receiver`'s recess `feature` (empty for a butt joint)."""

    kind: str
    receiver: str
    feature: str
    entering: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontSize:
    """A front made elsewhere (solid wood), for the lists only."""

    name: str
    cabinet: str
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HardwareLine:
    """One line of the hardware list."""

    cabinet: str
    item: str
    count: int
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    """A compiled cabinet: its panels, their joints, and what must be bought or made elsewhere."""

    cabinet: str
    panels: tuple[Panel, ...]
    joints: tuple[Joint, ...]
    fronts: tuple[FrontSize, ...]
    hardware: tuple[HardwareLine, ...]
    kind: str = ""
    """What it is, where it is no cabinet of the job's kinds: 'corner', 'ladder base'."""
    size_mm: Vec3 = (0.0, 0.0, 0.0)
    """Outside along x, y and z, where it is no cabinet of the job's kinds."""
