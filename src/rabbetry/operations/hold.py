"""What holds a part, or the waste of an opening, to the end of its profile cut. Figures: common practice, no source."""

import math
from dataclasses import dataclass

from rabbetry.geometry.curves import Contour
from rabbetry.geometry.regions import grown, region_polygon
from rabbetry.job.model import Cutting, Hold
from rabbetry.shop.model import Cutter

STRIP = 4.0
"""A part at least this many times as long as wide is a strip."""
LEAST_TABS, LEAST_TABS_STRIP = 3, 2
TABBED_SHARE = 0.5
"""At most this share of the way round may stay raised in the last pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Holding:
    """Tabs (count, length, height) or a skin; what is not used is 0. `asked` is the count before it was lowered."""

    tab_count: int
    tab_length_mm: float
    tab_height_mm: float
    skin_mm: float
    asked: int


def holding(outline: Contour, *, inside: bool, cutter: Cutter, cutting: Cutting) -> Holding:
    """Return what holds the wood within `outline` while `cutter` goes round it, outside or `inside`.

    Over a tab the cutter stays up for the tab's length and its own diameter, so tabs are left out until half the way
    round reaches full depth; one always stays.
    """
    if cutting.hold is Hold.SKIN:
        return Holding(tab_count=0, tab_length_mm=0.0, tab_height_mm=0.0, skin_mm=cutting.skin_mm, asked=0)
    asked = tabs_asked(outline, cutting.tab_spacing_mm)
    way_mm = grown(region_polygon(outline), -cutter.radius_mm if inside else cutter.radius_mm).length
    most = math.floor(way_mm * TABBED_SHARE / (cutting.tab_length_mm + cutter.cut_diameter_mm))
    return Holding(
        tab_count=max(1, min(asked, most)),
        tab_length_mm=cutting.tab_length_mm,
        tab_height_mm=cutting.tab_height_mm,
        skin_mm=0.0,
        asked=asked,
    )


def tabs_asked(outline: Contour, spacing_mm: float) -> int:
    """Return one tab per `spacing_mm` of edge, halves rounded up, at least three, or two on a strip."""
    low_x, low_y, high_x, high_y = outline.bounds
    shorter, longer = sorted((high_x - low_x, high_y - low_y))
    least = LEAST_TABS_STRIP if longer >= STRIP * shorter else LEAST_TABS
    return max(least, math.floor(outline.length / spacing_mm + 0.5))


def too_tall(cutting: Cutting, thickness_mm: float) -> str:
    """Return what is wrong with the height of tabs or skin in stock of this thickness, or ''."""
    if cutting.hold is Hold.SKIN:
        kind, height = "a skin", cutting.skin_mm
    else:
        kind, height = "tabs", cutting.tab_height_mm
    if height < thickness_mm:
        return ""
    return f"{kind} of {height:.4g} mm in {thickness_mm:.4g} mm stock would leave the parts uncut; make them lower"
