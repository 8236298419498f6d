"""What was found in a drawing file, before anything is joined. In the drawing's own unit and coordinates."""

from collections import Counter
from dataclasses import dataclass

from rabbetry.geometry.curves import Segment
from rabbetry.geometry.points import Point


@dataclass(frozen=True, slots=True)
class Chain:
    """The lines and arcs of one entity, each beginning where the one before it ends, and its layer."""

    layer: str
    segments: tuple[Segment, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shapes:
    """All that a drawing holds in its model space, blocks resolved."""

    chains: tuple[Chain, ...]
    points: tuple[tuple[str, Point], ...]
    """Single points, each with its layer."""
    used: Counter[str]
    """How many entities of each kind the chains came from."""
    dropped: Counter[tuple[str, str]]
    """What is not used: kind in words and layer."""
    curve_pieces: int
    """So many of the lines and arcs stand for splines and ellipses."""
    repairs: tuple[str, ...]
    """What was wrong with the file and repaired while it was read."""
