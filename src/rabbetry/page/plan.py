"""A box from above, for what no front view tells: an L-shaped corner, a ladder base. Millimetres, the box's own frame:
x to the right, y to the back."""

from rabbetry.geometry.curves import polygon
from rabbetry.page.svg import escaped, number, path_data
from rabbetry.page.wording import short_length
from rabbetry.panels.model import Box, Panel, Place
from rabbetry.tolerances import CHORD_MM

_MARGIN = 0.06
"""Kept free round the picture, as a share of the longer side."""

_TEXT = 0.012
"""Unit of the strokes, as a share of the longer side."""

_HALF = 0.5
"""Axes are parallel or square to each other: their product is 1 or 0."""


def plan_svg(box: Box, *, units: str) -> str:
    """Return the view from above as SVG with its top off: panels that lie first, then those that stand."""
    wide, deep, _ = box.size_mm
    longer = max(wide, deep)
    title = f"{box.cabinet}, from above, {short_length(wide, units)} × {short_length(deep, units)} {units}"
    margin = _MARGIN * longer
    view = " ".join(map(number, (-margin, -deep - margin, wide + 2 * margin, deep + 2 * margin)))
    shown = [(panel, panel.place) for panel in box.panels if panel.place is not None and panel.role != "top"]
    lying = [item for item in shown if abs(item[1].normal[2]) > _HALF]
    standing = [item for item in shown if abs(item[1].normal[2]) <= _HALF]
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" class="elevation" role="img" aria-label="{escaped(title)}" '
        f'font-size="{number(_TEXT * longer)}" viewBox="{view}">',
        f"<title>{escaped(title)}</title>",
        *(_drawn("shelf", panel, place) for panel, place in sorted(lying, key=lambda item: item[1].origin[2])),
        *(_drawn("front", panel, place) for panel, place in standing),
        "</svg>",
    ]
    return "\n".join(parts)


def _drawn(css: str, panel: Panel, place: Place) -> str:
    """Return the panel's outline where it lies, or the rectangle it stands on."""
    if css == "shelf":
        points = [place.point(corner.x, corner.y, 0.0) for corner in panel.outline.flattened(CHORD_MM)]
        ring = [(x, y) for x, y, _ in points]
    else:
        corners = [
            place.point(x, y, depth)
            for x in (0.0, panel.length_mm)
            for y in (0.0, panel.width_mm)
            for depth in (0.0, panel.thickness_mm)
        ]
        xs, ys = [point[0] for point in corners], [point[1] for point in corners]
        ring = [(min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys))]
    return f'<path class="{css}" d="{path_data(polygon(ring))}"><title>{escaped(panel.role)}</title></path>'
