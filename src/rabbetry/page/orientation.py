"""Which way round a panel goes: its hand, its top and front edges, where it stands in its box; for labels and pictures.

All of it follows from the panel's place in the box, so that it holds for every kind of panel; a part without a place
has none of it.
"""

from rabbetry.page.wording import EDGES, short_length
from rabbetry.panels.model import Panel, Vec3

_ALONG = 0.99
"""An axis within about eight degrees of a direction counts as running that way."""

_FACING = (
    ((1.0, 0.0, 0.0), "upright", "to the right"),
    ((-1.0, 0.0, 0.0), "upright", "to the left"),
    ((0.0, -1.0, 0.0), "upright", "to the front"),
    ((0.0, 1.0, 0.0), "upright", "to the back"),
    ((0.0, 0.0, 1.0), "flat", "up"),
    ((0.0, 0.0, -1.0), "flat", "down"),
)


def hand_of(panel: Panel) -> str:
    """Return 'left' or 'right' for one of a handed pair, by its role; '' for any other panel."""
    words = panel.role.split()
    return next((hand for hand in ("left", "right") if hand in words), "")


def edge_towards(panel: Panel, direction: Vec3) -> str:
    """Return the edge ('x0', 'x1', 'y0', 'y1') that looks in a direction of the cabinet frame, or ''."""
    if panel.place is None:
        return ""
    for axis, name in ((panel.place.x_axis, "x"), (panel.place.y_axis, "y")):
        share = sum(a * b for a, b in zip(axis, direction, strict=True))
        if abs(share) >= _ALONG:
            return f"{name}{1 if share > 0 else 0}"
    return ""


def top_edge(panel: Panel) -> str:
    """Return the edge that is uppermost when the panel stands in its box; '' for one that lies flat."""
    return edge_towards(panel, (0.0, 0.0, 1.0))


def edges_told(panel: Panel) -> str:
    """Return where front and top are, for the panel as it lies machined face up: `front is the lower edge; top is the
    right end`."""
    told = [(word, edge) for word, edge in (("front", panel.front_edge), ("top", top_edge(panel))) if edge in EDGES]
    return "; ".join(f"{word} is the {EDGES[edge]}" for word, edge in told)


def goes(panel: Panel, units: str) -> str:
    """Return where the panel goes: upright or flat, which way its machined face looks, how far up the box its lowest
    point stands; the cabinet too, where the panel's name does not begin with it."""
    named = panel.id.startswith(f"{panel.cabinet} ")
    parts = [f"cabinet {panel.cabinet}" if panel.cabinet and (not named or panel.place is None) else ""]
    place = panel.place
    if place is not None:
        normal = place.normal
        for direction, stands, looks in _FACING:
            if sum(a * b for a, b in zip(normal, direction, strict=True)) >= _ALONG:
                parts.append(f"{stands}, {panel.face_up} {looks}")
        low = min(
            place.point(x, y, depth)[2]
            for x in (0.0, panel.length_mm)
            for y in (0.0, panel.width_mm)
            for depth in (0.0, panel.thickness_mm)
        )
        parts.append(f"{short_length(max(low, 0.0), units)} {units} up" if low > _AT_FOOT_MM else "at the foot")
    return ", ".join(filter(None, parts)) or "in no cabinet"


_AT_FOOT_MM = 0.05
"""A panel this near the box's lower end begins there."""
