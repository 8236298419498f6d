"""What a job says about a part's drawing file: which file, its unit, how near ends must meet, what its layers hold."""

from dataclasses import dataclass

JOIN_MM = 0.005
"""Ends of a drawing nearer than this are one point unless the job says otherwise: finer than the machine's step."""
CURVE_MM = 0.01
"""Splines and ellipses become arcs within this unless the job says otherwise: half of a hobby spindle's run-out."""

LAYER_CUTS = ("outline", "cut-out", "hole", "pocket", "dado", "groove", "rabbet", "nothing")
"""What a layer may hold."""
DRAWING_UNITS = ("mm", "cm", "m", "in", "ft")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerOrder:
    """What the shapes on a layer are: a word of `LAYER_CUTS`; `depth_mm` None: right through."""

    layer: str
    cut: str
    depth_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawingOrder:
    """A part's drawing. Lengths in millimetres."""

    file: str
    unit: str = ""
    """One of `DRAWING_UNITS`, or '' to take the file's."""
    join_mm: float = JOIN_MM
    curve_mm: float = CURVE_MM
    layers: tuple[LayerOrder, ...] = ()
