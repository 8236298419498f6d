"""Speed and feed of a cutter in a stock: the chart's chip load, held back by machine, spindle and power.

Knows the chart and the machine; does not know the panels. The trade figures below are common practice without a source
unless one is named.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rabbetry.feeds import formulas
from rabbetry.feeds.chart import chart_range, depth_factor
from rabbetry.feeds.load import side_force_n, tip_deflection_mm, torque_nm, usable_power_w
from rabbetry.feeds.model import FeedAdvice, FeedChoice
from rabbetry.feeds.reasons import reasons
from rabbetry.findings import Finding, finding
from rabbetry.shop.model import UP_CUT_MARGIN_MM, ChipLoad, Cutter, CutterKind, Machine, Material
from rabbetry.shop.tuning import Tuning, together
from rabbetry.tolerances import DEPTH_MM

PREFERRED_RPM = 18_000.0
"""Usual setting for 6 mm cutters in sheet goods (check range 16000 to 18000)."""
DRILL_RPM = 8_000.0
"""Drills want a slow spindle; most routers cannot go as slow, and their lowest speed is taken then."""
RUBBING_MM_PER_TOOTH = 0.025
"""Below a thousandth of an inch a tooth rubs and burns rather than cuts."""
PLUNGE_SHARE = 1 / 3
RAMP_SHARE = 1 / 2
STEEPEST_RAMP_RAD = math.radians(5)
"""The ramp feed keeps the z axis under its rate up to this angle."""
SHALLOWEST_PASS_MM = 0.5
DEFLECTION_LIMIT_MM = 0.05
"""A tip that gives way further cuts visibly out of place and out of square."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Speed:
    rpm: float
    dial: str
    clamped: bool
    """True when the wanted speed lies outside what the spindle can do."""


def choose_feed(
    cutter: Cutter,
    *,
    stock_name: str,
    material: Material,
    chip_loads: Sequence[ChipLoad],
    machine: Machine,
    thickness_mm: float,
    tunings: Sequence[Tuning] = (),
) -> FeedAdvice:
    """Return speed, feed and pass depth of `cutter` in a stock `thickness_mm` thick, with warnings.

    The chart's middle chip load is lowered by the machine's stiffness and the depth of the pass, changed by what was
    heard and seen (`tunings`), then the feed is lowered by the x and y rates and the spindle's power; `decided_by`
    names the last limit that bit. Raises InputError if `chip_loads` is empty.
    """
    (low, high), known = chart_range(chip_loads, material.name, cutter.diameter_mm)
    findings = [] if known else [_unknown(cutter, material)]
    remarks = tuple(item for item in tunings if item.fits(cutter.number, material.name))
    tuned = together(remarks)
    pass_mm, told = _pass_depth(cutter, machine, thickness_mm, 1.0 if cutter.is_drill else tuned.depth)
    findings.extend(told)
    # A drill cuts with its tip alone, however deep the hole.
    depth_share = 1.0 if cutter.is_drill else depth_factor(pass_mm, cutter.diameter_mm)
    wanted = (low + high) / 2 * machine.chip_load_factor * depth_share * tuned.chip
    usual = DRILL_RPM if cutter.is_drill else PREFERRED_RPM
    speed = _speed(machine, usual * tuned.speed, at_most=tuned.speed < 1)
    start = FeedChoice(
        cutter=cutter.number,
        stock=stock_name,
        material=material.name,
        rpm=speed.rpm,
        dial=speed.dial,
        feed_mm_per_min=formulas.feed_mm_per_min(wanted, speed.rpm, cutter.flutes),
        plunge_mm_per_min=0.0,
        ramp_mm_per_min=0.0,
        chip_load_mm_per_tooth=wanted,
        chart_low_mm_per_tooth=low,
        chart_high_mm_per_tooth=high,
        pass_mm=pass_mm,
        engagement_mm=cutter.cut_diameter_mm,
        power_kw=0.0,
        surface_m_per_min=0.0,
        decided_by="spindle" if speed.clamped else "chart",
    )
    capped = _within_rate(start, cutter, machine, wanted)
    powered = capped if cutter.is_drill else _within_power(capped, cutter, machine, material)
    choice = _finished(powered, cutter, machine, material)
    why = reasons(choice, start, cutter, machine, depth_share=depth_share, usual_rpm=usual, remarks=remarks)
    choice = replace(choice, reasons=why, decided_by=choice.decided_by + (", tuned" if remarks else ""))
    findings.extend(chip_load_findings(choice, cutter))
    findings.extend(_flutes(cutter, thickness_mm))
    findings.extend(_deflection(choice, cutter))
    return FeedAdvice(choice=choice, findings=tuple(findings))


def chip_load_findings(choice: FeedChoice, cutter: Cutter) -> tuple[Finding, ...]:
    """Warn of a tooth that rubs (under 0.025 mm) or that bites more than the chart's high value."""
    chip = choice.chip_load_mm_per_tooth
    text = f'cutter {cutter.number} "{cutter.name}" in {choice.stock}: {chip:.4f} mm ({chip / 25.4:.4f} in) per tooth'
    if chip < RUBBING_MM_PER_TOOTH:
        cure = "lower the speed or use fewer flutes"
        return (finding("chip-load-rubbing", f"{text} rubs and burns (under {RUBBING_MM_PER_TOOTH} mm); {cure}"),)
    if chip > choice.chart_high_mm_per_tooth:
        cure = "lower the machine's chip load factor"
        chart = f"{choice.chart_high_mm_per_tooth:.4f} mm"
        return (finding("chip-load-high", f"{text} is over the chart's {chart}; {cure}"),)
    return ()


def _unknown(cutter: Cutter, material: Material) -> Finding:
    return finding(
        "chip-load-unknown",
        f'cutter {cutter.number} "{cutter.name}": the chip-load table has no row for {material.name}; '
        "the lowest of the other materials is used",
    )


def _pass_depth(cutter: Cutter, machine: Machine, thickness_mm: float, share: float) -> tuple[float, list[Finding]]:
    """Return the deepest pass, `share` of what it would be; a compression cutter's is raised over its up-cut tip where
    one diameter allows it."""
    total = thickness_mm + machine.through_mm
    limit = min(cutter.pass_limit_mm * share, total)
    up_cut = cutter.up_cut_length_mm
    each = cutter.first_pass_mm(total, limit)
    if cutter.kind is not CutterKind.COMPRESSION or each > up_cut + DEPTH_MM:
        return limit, []
    name = f'cutter {cutter.number} "{cutter.name}", passes of {each:.2f} mm in {thickness_mm:g} mm'
    count = math.floor(total / (up_cut + UP_CUT_MARGIN_MM))
    ceiling = min(cutter.flute_length_mm, max(limit, cutter.cut_diameter_mm))
    if count >= 1 and total / count <= ceiling + DEPTH_MM:
        text = f"{name} do not get past its {up_cut:g} mm of up-cut; raised to {total / count:.2f} mm"
        return total / count, [finding("compression-pass-raised", text)]
    past = up_cut + UP_CUT_MARGIN_MM
    if past <= min(ceiling, total) + DEPTH_MM:
        text = f"{name} do not get past its {up_cut:g} mm of up-cut; the first is made {past:.2f} mm deep"
        return past, [finding("compression-pass-raised", text)]
    text = f"{name} do not get past its {up_cut:g} mm of up-cut and may go no deeper: the top face will splinter"
    return limit, [finding("compression-pass-shallow", text)]


def _speed(machine: Machine, wanted_rpm: float, *, at_most: bool = False) -> _Speed:
    """Return what the spindle can do nearest to `wanted_rpm`; with `at_most`, nearest from below where there is one."""
    low, high = machine.spindle_min_rpm, machine.spindle_max_rpm
    marks = [(mark, rpm) for mark, rpm in machine.dial if low <= rpm <= high] if machine.spindle_by_hand else []
    if not marks:
        return _Speed(rpm=min(max(wanted_rpm, low), high), dial="", clamped=not low <= wanted_rpm <= high)
    below = [item for item in marks if item[1] <= wanted_rpm]
    nearest = sorted(below if at_most and below else marks, key=lambda item: (abs(item[1] - wanted_rpm), item[1]))
    speeds = [rpm for _, rpm in marks]
    return _Speed(rpm=nearest[0][1], dial=nearest[0][0], clamped=not min(speeds) <= wanted_rpm <= max(speeds))


def _within_rate(choice: FeedChoice, cutter: Cutter, machine: Machine, wanted: float) -> FeedChoice:
    """Cap the feed at the slower of x and y (z for a drill); where a tooth then rubs, slow the spindle if it can."""
    limit = machine.max_rate_mm_per_min[2] if cutter.is_drill else min(machine.max_rate_mm_per_min[:2])
    if choice.feed_mm_per_min <= limit:
        return choice
    chip = formulas.chip_load_mm(limit, choice.rpm, cutter.flutes)
    capped = replace(choice, feed_mm_per_min=limit, chip_load_mm_per_tooth=chip, decided_by="machine")
    if chip >= RUBBING_MM_PER_TOOTH:
        return capped
    slower = _speed(machine, limit / (wanted * cutter.flutes), at_most=True)
    feed = min(limit, formulas.feed_mm_per_min(wanted, slower.rpm, cutter.flutes))
    chip = formulas.chip_load_mm(feed, slower.rpm, cutter.flutes)
    return replace(capped, rpm=slower.rpm, dial=slower.dial, feed_mm_per_min=feed, chip_load_mm_per_tooth=chip)


def _within_power(choice: FeedChoice, cutter: Cutter, machine: Machine, material: Material) -> FeedChoice:
    """Lower the feed until a slot takes no more than the usable power; once a tooth would rub, lower the pass."""
    usable_w = usable_power_w(machine, choice.rpm)
    need_w = _slot_power_w(choice, material)
    if need_w <= usable_w:
        return choice
    feed = choice.feed_mm_per_min * usable_w / need_w
    least = formulas.feed_mm_per_min(RUBBING_MM_PER_TOOTH, choice.rpm, cutter.flutes)
    feed = min(choice.feed_mm_per_min, max(feed, least))
    chip = formulas.chip_load_mm(feed, choice.rpm, cutter.flutes)
    slower = replace(choice, feed_mm_per_min=feed, chip_load_mm_per_tooth=chip, decided_by="power")
    need_w = _slot_power_w(slower, material)
    if need_w <= usable_w:
        return slower
    return replace(slower, pass_mm=max(SHALLOWEST_PASS_MM, slower.pass_mm * usable_w / need_w))


def _slot_power_w(choice: FeedChoice, material: Material) -> float:
    removal = formulas.removal_mm3_per_min(choice.pass_mm, choice.engagement_mm, choice.feed_mm_per_min)
    return formulas.power_w(material.cutting_force_n_per_mm2, removal)


def _finished(choice: FeedChoice, cutter: Cutter, machine: Machine, material: Material) -> FeedChoice:
    """Add plunge, ramp, power, torque, the tip's giving way and surface speed."""
    feed, z_rate = choice.feed_mm_per_min, machine.max_rate_mm_per_min[2]
    if cutter.is_drill:
        removal = math.pi * cutter.radius_mm**2 * feed
        plunge = ramp = feed
        power, force = formulas.power_w(material.cutting_force_n_per_mm2, removal), 0.0
    else:
        plunge = min(feed * PLUNGE_SHARE, z_rate)
        ramp = min(feed * RAMP_SHARE, z_rate / math.sin(STEEPEST_RAMP_RAD))
        power = _slot_power_w(choice, material)
        kc, chip = material.cutting_force_n_per_mm2, choice.chip_load_mm_per_tooth
        force = side_force_n(kc, choice.pass_mm, chip, cutter.flutes)
    return replace(
        choice,
        plunge_mm_per_min=plunge,
        ramp_mm_per_min=ramp,
        power_kw=power / 1000,
        torque_nm=torque_nm(power, choice.rpm),
        deflection_mm=tip_deflection_mm(cutter, force),
        surface_m_per_min=formulas.surface_speed_m_per_min(cutter.cut_diameter_mm, choice.rpm),
    )


def _flutes(cutter: Cutter, thickness_mm: float) -> tuple[Finding, ...]:
    if cutter.flute_length_mm >= thickness_mm:
        return ()
    text = (
        f'cutter {cutter.number} "{cutter.name}" has {cutter.flute_length_mm:g} mm of flute: '
        f"too short to cut {thickness_mm:g} mm through"
    )
    return (finding("flute-shorter-than-stock", text),)


def _deflection(choice: FeedChoice, cutter: Cutter) -> tuple[Finding, ...]:
    if choice.deflection_mm <= DEFLECTION_LIMIT_MM:
        return ()
    text = (
        f'cutter {cutter.number} "{cutter.name}" in {choice.stock}: its tip gives way {choice.deflection_mm:.2f} mm '
        f"(over {DEFLECTION_LIMIT_MM:g} mm) at passes of {choice.pass_mm:.2f} mm; lower its max_pass, let it stick out "
        "less, or take a thicker cutter"
    )
    return (finding("cutter-bends", text),)
