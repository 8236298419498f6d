"""Panels machined on both faces: what is cut from one must leave wood over what is cut from the other."""

from rabbetry.findings import finding
from rabbetry.fit.assemble import Body
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Bore, CutOut, Feature, Panel
from rabbetry.tolerances import DEPTH_MM

_LEAST_BETWEEN_MM = 1.0
"""Thinner wood between two floors does not stay (common practice, no source)."""


def check_two_faces(body: Body, tally: Tally) -> None:
    """Compare each feature of the rear face with each of the machined face that lies over it."""
    panel = body.panel
    for rear in panel.rear_features:
        is_blind = _depth(panel, rear) < panel.thickness_mm - DEPTH_MM
        message = f"{panel.id}: {rear.name} of the rear face goes through; it belongs to the machined face"
        tally.check(is_blind, finding("fit-two-faces", message, panel=panel.id))
        for face in panel.features:
            left = panel.thickness_mm - _depth(panel, face) - _depth(panel, rear)
            message = f"{panel.id}: {face.name} and {rear.name} of the rear face leave {left:.2f} mm between them; "
            message += f"at least {_LEAST_BETWEEN_MM:g} mm is expected"
            is_sound = left >= _LEAST_BETWEEN_MM or not _overlap(face, rear)
            tally.check(is_sound, finding("fit-two-faces", message, panel=panel.id))


def _depth(panel: Panel, feature: Feature) -> float:
    return panel.thickness_mm if isinstance(feature, CutOut) else feature.depth_mm


def _overlap(a: Feature, b: Feature) -> bool:
    """Tell whether two features meet, seen from above: bores exactly, the others by the rectangles round them."""
    if isinstance(a, Bore) and isinstance(b, Bore):
        return a.centre.distance(b.centre) < (a.diameter_mm + b.diameter_mm) / 2
    ax0, ay0, ax1, ay1 = _bounds(a)
    bx0, by0, bx1, by1 = _bounds(b)
    return min(ax1, bx1) > max(ax0, bx0) and min(ay1, by1) > max(ay0, by0)


def _bounds(feature: Feature) -> tuple[float, float, float, float]:
    if not isinstance(feature, Bore):
        return feature.outline.bounds
    x, y, radius = feature.centre.x, feature.centre.y, feature.diameter_mm / 2
    return x - radius, y - radius, x + radius, y + radius
