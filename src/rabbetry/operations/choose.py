"""Which cutter does what: the one for the profiles, and the order in which others are tried."""

from collections.abc import Iterable

from rabbetry.job.model import Cutting
from rabbetry.shop.model import Cutter, CutterKind, Shop
from rabbetry.tolerances import DEPTH_MM, WIDTH_MM

PROFILE_DIAMETER_MM = 6.35
"""The profile cutter is the loaded one nearest to this: stiff enough for sheet goods, a narrow kerf, a usual collet."""


def choose_profile_cutter(shop: Shop, cutting: Cutting, thickness_mm: float) -> Cutter | None:
    """Return the cutter for outlines of a stock `thickness_mm` thick, or None when no loaded one can cut it through.

    The job's `profile_cutter` wins; it is None then only if that number is not loaded or is a drill. Otherwise: flutes
    as long as the stock is thick, compression before others (clean edges on both faces), then nearest to 6.35 mm, then
    the lower number.
    """
    mills = [cutter for cutter in shop.cutters if not cutter.is_drill]
    if cutting.profile_cutter is not None:
        return next((cutter for cutter in mills if cutter.number == cutting.profile_cutter), None)
    able = [cutter for cutter in mills if cutter.flute_length_mm >= thickness_mm - DEPTH_MM]
    return min(able, key=_profile_rank, default=None)


def _profile_rank(cutter: Cutter) -> tuple[bool, float, int]:
    is_other = cutter.kind is not CutterKind.COMPRESSION
    return is_other, abs(cutter.cut_diameter_mm - PROFILE_DIAMETER_MM), cutter.number


def in_order_of_use(mills: Iterable[Cutter], *, profile: Cutter | None, depth_mm: float) -> tuple[Cutter, ...]:
    """Return end mills in the order in which to try them for inner work `depth_mm` deep.

    The profile cutter first, because it is in the collet anyway, then the largest first. A compression cutter that
    would stay within its up-cut tip comes last, because it splinters the top face.
    """
    own = None if profile is None else profile.number

    def rank(cutter: Cutter) -> tuple[bool, bool, float, int]:
        return stays_in_up_cut(cutter, depth_mm), cutter.number != own, -cutter.cut_diameter_mm, cutter.number

    return tuple(sorted(mills, key=rank))


def stays_in_up_cut(cutter: Cutter, pass_mm: float) -> bool:
    """Tell whether a first pass `pass_mm` deep stays within a compression cutter's up-cut tip."""
    return cutter.kind is CutterKind.COMPRESSION and pass_mm <= cutter.up_cut_length_mm + DEPTH_MM


def is_as_wide(cutter: Cutter, width_mm: float) -> bool:
    """Tell whether a slot or hole is exactly as wide as the cutter cuts, within WIDTH_MM."""
    return abs(cutter.cut_diameter_mm - width_mm) <= WIDTH_MM
