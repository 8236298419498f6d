"""How sizes, features and edges are put in words, the same on pictures, labels, lists, drawings and the page."""

from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Recess
from rabbetry.units import inches_from_mm, mm_from_inches, show_inches_fraction, show_length

EDGES = {"x0": "left end", "x1": "right end", "y0": "lower edge", "y1": "upper edge"}
"""Edges of a panel seen on its machined face, length left to right."""


def shop_fraction(mm: float) -> str:
    """Return inches as people read them off a tape, without the unit: exact where it is a whole number of 64ths, else
    the nearest 1/32 with `~` before it."""
    exact = show_inches_fraction(mm).removesuffix(" in")
    if not exact.startswith("~"):
        return exact
    nearest = round(inches_from_mm(mm) * 32) / 32
    return "~" + show_inches_fraction(mm_from_inches(nearest)).removesuffix(" in")


def short_length(mm: float, units: str) -> str:
    """Return a length without its unit: millimetres, or inches to 1/64 (`~` before it when that is not exact)."""
    return (show_length(mm, "mm") if units == "mm" else show_inches_fraction(mm)).rpartition(" ")[0]


def short_size(length_mm: float, width_mm: float, units: str) -> str:
    """Return `876 × 580 mm` or `34 1/2 × ~22 53/64 in`."""
    return f"{short_length(length_mm, units)} × {short_length(width_mm, units)} {units}"


def full_size(length_mm: float, width_mm: float, units: str) -> str:
    """Return a size both ways, the job's own unit first."""
    other = "in" if units == "mm" else "mm"
    return f"{short_size(length_mm, width_mm, units)} ({short_size(length_mm, width_mm, other)})"


def fine_length(mm: float, units: str) -> str:
    """Return a depth or diameter with two decimals of a millimetre, or three of an inch, with its unit."""
    return f"{mm:.2f} mm" if units == "mm" else f"{inches_from_mm(mm):.3f} in"


def describe(feature: Feature, units: str) -> str:
    """Return what a feature is and how deep: `dado, 6.00 mm deep`, `bore 5.00 mm, 12.00 mm deep`, `cut through`."""
    if isinstance(feature, Bore):
        depth = "through" if feature.through else f"{fine_length(feature.depth_mm, units)} deep"
        return f"bore {fine_length(feature.diameter_mm, units)}, {depth}"
    if isinstance(feature, Recess):
        return f"{feature.kind}, {fine_length(feature.depth_mm, units)} deep"
    return "cut through"


def depth_of(feature: Feature, panel: Panel) -> float:
    """Return a feature's depth; the panel's thickness for anything that goes through."""
    if isinstance(feature, CutOut) or (isinstance(feature, Bore) and feature.through):
        return panel.thickness_mm
    return feature.depth_mm


def edge_in_words(panel: Panel, edge: str) -> str:
    """Return an edge's name, with `front` where it is the front: `lower edge (front)`. Nothing for no edge."""
    name = EDGES.get(edge, edge)
    return f"{name} (front)" if edge and edge == panel.front_edge else name


def bands_in_words(panel: Panel) -> str:
    """Return the edges to band, or nothing."""
    edges = [edge_in_words(panel, edge) for edge in sorted(panel.banded_edges)]
    return ", ".join((*edges, *(band.name for band in panel.inner_bands)))
