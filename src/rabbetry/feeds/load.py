"""What a cut asks of spindle and cutter: power, torque, and how far the tip gives way. Knows no chart."""

import math

from rabbetry.feeds import formulas
from rabbetry.shop.model import Cutter, Machine

USABLE_POWER = 0.75
"""Share of the spindle's power that is planned with (common practice, no source)."""
CARBIDE_N_PER_MM2 = 600_000.0
"""Modulus of elasticity of solid carbide: handbook range 550 to 650 kN/mm2 (value from memory)."""
FLUTED_SHARE = 0.8
"""A fluted length bends like a bar of this share of its diameter (common practice, no source)."""


def usable_power_w(machine: Machine, rpm: float) -> float:
    """Return the power planned with at `rpm`: below its rated speed a spindle gives its torque, so power falls."""
    rated = machine.spindle_rated_rpm or machine.spindle_max_rpm
    return machine.spindle_power_kw * 1000 * USABLE_POWER * min(1.0, rpm / rated)


def torque_nm(power_w: float, rpm: float) -> float:
    """Return the torque P / (2 pi n), n in turns a second."""
    return power_w / (2 * math.pi * rpm / 60)


def side_force_n(cutting_force_n_per_mm2: float, depth_mm: float, chip_load_mm: float, flutes: int) -> float:
    """Return the largest force across the cutter in a slot: kc times depth times thickest chip, of every edge that is
    in the wood at once (half of them, at least one)."""
    return cutting_force_n_per_mm2 * depth_mm * chip_load_mm * max(1.0, flutes / 2)


def tip_deflection_mm(cutter: Cutter, force_n: float) -> float:
    """Return how far `force_n` at the tip bends the cutter out of its collet: a round bar in two steps.

    F / (3 E) (a^3 / I1 + (l^3 - a^3) / I2) with a the flutes' length, l the stick-out, I = pi d^4 / 64: the cantilever
    of `formulas.cantilever_deflection_mm` integrated over both diameters. Collet and machine give way besides.
    """
    flutes_mm = min(cutter.flute_length_mm, cutter.stick_out_mm)
    thin, thick = FLUTED_SHARE * cutter.cut_diameter_mm, cutter.shank_diameter_mm
    tip = formulas.cantilever_deflection_mm(force_n, flutes_mm, thin, CARBIDE_N_PER_MM2)
    whole = formulas.cantilever_deflection_mm(force_n, cutter.stick_out_mm, thick, CARBIDE_N_PER_MM2)
    missing = formulas.cantilever_deflection_mm(force_n, flutes_mm, thick, CARBIDE_N_PER_MM2)
    return tip + whole - missing
