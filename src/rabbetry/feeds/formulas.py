"""The arithmetic of cutting with a turning edge, as small functions. They know no chart, no machine and no wood.

Symbols of the trade in the docstrings: D cutter diameter, n revolutions a minute, z flutes, F feed, fz feed per tooth,
ap depth of a pass, ae width of cut, vc surface speed. The formulas are standard milling algebra (Machinery's Handbook,
milling; chip thinning after public calculator pages); all exact but the cantilever, which is a model.
"""

import math

from rabbetry.tolerances import DEPTH_MM


def chip_load_mm(feed_mm_per_min: float, rpm: float, flutes: int) -> float:
    """Return the feed per tooth fz = F / (n z)."""
    return feed_mm_per_min / (rpm * flutes)


def feed_mm_per_min(chip_load_mm_per_tooth: float, rpm: float, flutes: int) -> float:
    """Return the feed F = fz z n."""
    return chip_load_mm_per_tooth * flutes * rpm


def surface_speed_m_per_min(diameter_mm: float, rpm: float) -> float:
    """Return vc = pi D n / 1000."""
    return math.pi * diameter_mm * rpm / 1000


def surface_speed_ft_per_min(diameter_in: float, rpm: float) -> float:
    """Return pi D n / 12 with D in inches: surface feet a minute."""
    return math.pi * diameter_in * rpm / 12


def chip_thinning_factor(width_mm: float, diameter_mm: float) -> float:
    """Return thickest chip / fz of a cut `width_mm` (> 0) wide: 2 sqrt(x - x^2) with x = ae/D below 1/2, else 1."""
    share = width_mm / diameter_mm
    return 2 * math.sqrt(share - share**2) if share < 0.5 else 1.0


def chip_thickness_mm(chip_load_mm_per_tooth: float, width_mm: float, diameter_mm: float) -> float:
    """Return the thickest chip of a cut `width_mm` wide (chord model)."""
    return chip_load_mm_per_tooth * chip_thinning_factor(width_mm, diameter_mm)


def chip_load_for_thickness_mm(thickness_mm: float, width_mm: float, diameter_mm: float) -> float:
    """Return the feed per tooth that gives a chip of `thickness_mm`: the inverse of `chip_thickness_mm`."""
    return thickness_mm / chip_thinning_factor(width_mm, diameter_mm)


def engagement_rad(width_mm: float, diameter_mm: float) -> float:
    """Return the angle acos(1 - 2 ae/D) over which an edge is in the wood: pi in a slot. `width_mm` is 0 to D."""
    return math.acos(1 - 2 * width_mm / diameter_mm)


def removal_mm3_per_min(depth_mm: float, width_mm: float, feed: float) -> float:
    """Return Q = ap ae F, `feed` in mm/min."""
    return depth_mm * width_mm * feed


def power_w(force_n_per_mm2: float, removal: float) -> float:
    """Return P = kc Q / 60000 in watts, `removal` in mm3/min (1 N/mm2 = 1 J/cm3)."""
    return force_n_per_mm2 * removal / 60_000


def tangential_force_n(power: float, surface_speed: float) -> float:
    """Return the mean force at the edge P / vc, `power` in watts, `surface_speed` in m/min."""
    return power / (surface_speed / 60)


def passes(total_mm: float, deepest_mm: float) -> tuple[int, float]:
    """Return how many equal passes make `total_mm` with none deeper than `deepest_mm` (> 0), and the depth of each.

    A total that is a whole number of passes but for the last digit of a program takes no extra pass.
    """
    count = max(1, math.ceil((total_mm - DEPTH_MM) / deepest_mm))
    return count, total_mm / count


def ramp_length_mm(depth_mm: float, angle_rad: float) -> float:
    """Return the way along the plane that goes `depth_mm` down at `angle_rad`: d / tan a."""
    return depth_mm / math.tan(angle_rad)


def helix_length_mm(radius_mm: float, pitch_mm: float, turns: float) -> float:
    """Return the length of a helix: sqrt((2 pi r m)^2 + (p m)^2)."""
    return math.hypot(2 * math.pi * radius_mm * turns, pitch_mm * turns)


def cantilever_deflection_mm(force_n: float, length_mm: float, diameter_mm: float, modulus_n_per_mm2: float) -> float:
    """Return the tip's deflection F l^3 / (3 E I), I = pi d^4 / 64, of a round bar held at one end.

    A model: a fluted cutter bends like a bar of about 0.8 of its diameter.
    """
    inertia = math.pi * diameter_mm**4 / 64
    return force_n * length_mm**3 / (3 * modulus_n_per_mm2 * inertia)
