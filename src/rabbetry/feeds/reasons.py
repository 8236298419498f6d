"""Why each figure of a choice of feed is what it is, in sentences for people."""

from collections.abc import Iterator

from rabbetry.feeds.load import usable_power_w
from rabbetry.feeds.model import FeedChoice
from rabbetry.shop.model import Cutter, Machine
from rabbetry.shop.tuning import CURES, Tuning, together
from rabbetry.tolerances import DEPTH_MM


def reasons(
    choice: FeedChoice,
    start: FeedChoice,
    cutter: Cutter,
    machine: Machine,
    *,
    depth_share: float,
    usual_rpm: float,
    remarks: tuple[Tuning, ...],
) -> tuple[str, ...]:
    """Return one sentence a figure. `start` is the choice before machine rates and power were heeded, `depth_share`
    the share of the chart's chip load that the pass bears, `remarks` the tuning rows that apply."""
    return (
        *(_remark(item) for item in remarks),
        _speed(choice, start, usual_rpm, machine, together(remarks).speed),
        _chip_load(choice, start, machine, depth_share, together(remarks).chip),
        _feed(choice, cutter, machine),
        _pass(choice, start, cutter),
        _down(choice, cutter, machine),
        _power(choice, machine),
        *(() if cutter.is_drill else (f"the tip gives way {choice.deflection_mm:.3f} mm in a slot",)),
    )


def _remark(item: Tuning) -> str:
    times = f", {item.times} times" if item.times > 1 else ""
    return f'tuning "{item.name}": {item.sign}{times}: {CURES[item.sign].meaning}'


def _speed(choice: FeedChoice, start: FeedChoice, usual_rpm: float, machine: Machine, share: float) -> str:
    mark = f", mark {choice.dial} of the dial" if choice.dial else ""
    asked = f"{usual_rpm:.0f}" + (f" x {share:.3g} by tuning" if share != 1 else "")
    text = f"speed {choice.rpm:.0f}{mark}: wanted {asked}"
    if start.decided_by == "spindle":
        low, high = machine.spindle_min_rpm, machine.spindle_max_rpm
        text += f", but the spindle turns {low:.0f} to {high:.0f}"
    if choice.rpm != start.rpm:
        text += f"; slowed from {start.rpm:.0f} so that the teeth do not rub at the machine's fastest feed"
    return text


def _chip_load(choice: FeedChoice, start: FeedChoice, machine: Machine, depth_share: float, share: float) -> str:
    low, high = start.chart_low_mm_per_tooth, start.chart_high_mm_per_tooth
    shares = f"{(low + high) / 2:.4f} (middle of the chart) x {machine.chip_load_factor:g} (this machine)"
    shares += f" x {depth_share:.3g} (depth of the pass)" if depth_share != 1 else ""
    shares += f" x {share:.3g} (tuning)" if share != 1 else ""
    text = f"chip load {start.chip_load_mm_per_tooth:.4f} mm: {shares}"
    if abs(choice.chip_load_mm_per_tooth - start.chip_load_mm_per_tooth) > 1e-9:
        text += f"; held to {choice.chip_load_mm_per_tooth:.4f} by the {choice.decided_by}"
    return text


def _feed(choice: FeedChoice, cutter: Cutter, machine: Machine) -> str:
    product = f"{choice.chip_load_mm_per_tooth:.4f} x {cutter.flutes} flutes x {choice.rpm:.0f}"
    text = f"feed {choice.feed_mm_per_min:.0f} mm/min: {product}"
    if choice.decided_by == "machine":
        axis = "z" if cutter.is_drill else "x and y"
        limit = machine.max_rate_mm_per_min[2] if cutter.is_drill else min(machine.max_rate_mm_per_min[:2])
        text += f"; {axis} can do {limit:.0f}"
    return text


def _pass(choice: FeedChoice, start: FeedChoice, cutter: Cutter) -> str:
    text = f"pass {choice.pass_mm:.2f} mm"
    if choice.pass_mm < start.pass_mm - DEPTH_MM:
        return f"{text}: lowered from {start.pass_mm:.2f} mm by the spindle's power"
    if cutter.is_drill:
        return f"{text}: the flutes, or the stock and the bite below it"
    limit = "the cutter's max_pass" if cutter.max_pass_mm else "one diameter"
    return f"{text}: at most {limit}, the flutes, and the stock with the bite below it"


def _down(choice: FeedChoice, cutter: Cutter, machine: Machine) -> str:
    z_rate = machine.max_rate_mm_per_min[2]
    if cutter.is_drill:
        return f"down {choice.plunge_mm_per_min:.0f} mm/min: the drill's feed"
    held = f" (z can do {z_rate:.0f})"
    return (
        f"straight down {choice.plunge_mm_per_min:.0f} mm/min: a third of the feed{held}; "
        f"ramps {choice.ramp_mm_per_min:.0f}: half of it"
    )


def _power(choice: FeedChoice, machine: Machine) -> str:
    usable = usable_power_w(machine, choice.rpm) / 1000
    return f"power {choice.power_kw:.3f} kW, torque {choice.torque_nm:.3f} N m, of {usable:.2f} kW usable at this speed"


def lines(choice: FeedChoice) -> Iterator[str]:
    """Yield the reasons under a heading, for the terminal."""
    yield f"T{choice.cutter} in {choice.stock} ({choice.material}):"
    yield from (f"  {reason}" for reason in choice.reasons)
