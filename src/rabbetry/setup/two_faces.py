"""What a setup file says of a blank that is flipped: the line it is turned about, its index holes, which side it is."""

from rabbetry.sheets.model import Flip

LEAST_LEFT_MM = 2.0
"""Wood that must stay between cuts from the two faces (common practice, no source)."""
_DECIMALS = 4


def two_faces_entry(flip: Flip, side: int, first_side: tuple[str, ...]) -> dict[str, object]:
    """Return the setup's `two_faces`; `first_side` names the programs of side 1. Millimetres, program frame."""
    return {
        "side": side,
        "first_side_programs": list(first_side),
        "turned_about": {"line": "x", "at_mm": _number(flip.at_mm)},
        "least_left_mm": LEAST_LEFT_MM,
        "index_holes": [
            {
                "x_mm": _number(hole.x),
                "y_mm": _number(hole.y),
                "diameter_mm": _number(flip.hole_diameter_mm),
                "depth_mm": _number(flip.hole_depth_mm),
            }
            for hole in flip.index_holes
        ],
    }


def _number(value: float) -> float:
    return round(value, _DECIMALS) + 0.0
