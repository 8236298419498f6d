"""A panel's solid to be looked at: the very body that the fit compared, as layers of wood. Panel frame, millimetres."""

from collections.abc import Iterator
from itertools import pairwise

from rabbetry.fit.assemble import Body, is_wood
from rabbetry.fit.model import Layer, Mouth, Solid
from rabbetry.geometry.slices import rings_of, slice_of
from rabbetry.panels.model import Bore
from rabbetry.tolerances import FIT_MM

_DRAWN_MM = 0.1
"""Arcs are drawn as chords this near: less than a screen's dot at any usual size."""


def shape_of(body: Body) -> Solid:
    """Return the panel's solid. Between two neighbouring depths of its recesses the wood is one plane region."""
    levels = sorted({0.0, body.panel.thickness_mm, *(depth for cut in body.cuts for depth in (cut.start, cut.end))})
    layers = tuple(_layer(body, start, end) for start, end in pairwise(levels) if end - start > FIT_MM)
    return Solid(
        panel=body.panel.id,
        role=body.panel.role,
        place=body.place,
        layers=layers,
        mouths=tuple(_mouths(body)),
        low=body.low,
        high=body.high,
    )


def _layer(body: Body, start: float, end: float) -> Layer:
    middle = (start + end) / 2
    cuts = [(cut.outline, cut.islands) for cut in body.cuts if cut.start < middle < cut.end]
    region = slice_of(body.outline, cuts, 0.0)
    return Layer(start_mm=start, end_mm=end, rings=rings_of(region, _DRAWN_MM))


def _mouths(body: Body) -> Iterator[Mouth]:
    for on_rear, features in ((False, body.panel.features), (True, body.panel.rear_features)):
        for feature in features:
            if not isinstance(feature, Bore):
                continue
            sides = (False, True) if feature.through else (on_rear,)
            for side in sides:
                depth = _wood_begins(body, feature.centre.x, feature.centre.y, from_rear=side)
                if depth is not None:
                    yield Mouth(
                        x_mm=feature.centre.x,
                        y_mm=feature.centre.y,
                        depth_mm=depth,
                        diameter_mm=feature.diameter_mm,
                        on_rear=side,
                    )


def _wood_begins(body: Body, x: float, y: float, *, from_rear: bool) -> float | None:
    """Return the depth below the machined face at which wood begins, seen from that face or from the rear."""
    thickness = body.panel.thickness_mm
    levels = sorted({0.0, thickness, *(depth for cut in body.cuts for depth in (cut.start, cut.end))})
    spans = [(a, b) for a, b in pairwise(levels) if b - a > FIT_MM]
    for start, end in reversed(spans) if from_rear else spans:
        if is_wood(body, body.place.point(x, y, (start + end) / 2)):
            return end if from_rear else start
    return None
