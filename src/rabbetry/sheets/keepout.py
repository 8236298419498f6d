"""Where no part may lie because of clamps. Millimetres, blank frame."""

from rabbetry.shop.model import Clamp, Shop

Box = tuple[float, float, float, float]


def keep_outs(shop: Shop, *, thickness_mm: float, spacing_mm: float) -> tuple[Box, ...]:
    """Return a box x0, y0, x1, y1 for each clamp that no part may enter.

    The clamp is grown by its margin and by whichever reaches farther beyond a part while its outline is cut right
    through: the cut itself (the spacing), or the collet nut or dust shoe about the cutter's axis, where the clamp is
    tall enough to meet them.
    """
    return tuple(keep_out(clamp, shop, thickness_mm, spacing_mm) for clamp in shop.machine.clamps)


def keep_out(clamp: Clamp, shop: Shop, thickness_mm: float, spacing_mm: float) -> Box:
    """Return the box of one clamp: see `keep_outs`."""
    machine = shop.machine
    margin = machine.clamp_margin_mm
    depth = thickness_mm + machine.through_mm
    mills = [cutter for cutter in shop.cutters if not cutter.is_drill]
    top = clamp.height_mm + margin
    reach_x = reach_y = spacing_mm
    # The axis runs one cutter radius outside the part; half the spacing is never less.
    if top > min((cutter.stick_out_mm for cutter in mills), default=top) - depth:
        reach_x = reach_y = max(spacing_mm, (spacing_mm + machine.collet_diameter_mm) / 2)
    if machine.dust_shoe_mm != (0.0, 0.0) and top > machine.dust_shoe_height_mm - depth:
        reach_x = max(reach_x, (spacing_mm + machine.dust_shoe_mm[0]) / 2)
        reach_y = max(reach_y, (spacing_mm + machine.dust_shoe_mm[1]) / 2)
    return (
        clamp.x_mm - margin - reach_x,
        clamp.y_mm - margin - reach_y,
        clamp.x_mm + clamp.length_x_mm + margin + reach_x,
        clamp.y_mm + clamp.length_y_mm + margin + reach_y,
    )
