"""Random job files that a careful user could have written: every size within what can be built and laid out."""

from collections.abc import Sequence
from random import Random

MACHINES = ("bench-4x4", "bench-4x4", "bench-600x900", "dial-4x4")
POSTS = {
    "bench-4x4": ("metric-plain", "inch-plain", "full-metric"),
    "bench-600x900": ("metric-plain", "inch-plain", "full-metric"),
    "dial-4x4": ("inch-hand-spindle",),
}
BLANKS = {"bench-4x4": (1220, 1220), "bench-600x900": (600, 900), "dial-4x4": (1217.6, 1217.6)}
KINDS = ("base", "sink", "drawers", "wall", "open")
PART_NOTES = ("", 'note = "scribe to the wall"')


def job_text(rng: Random) -> str:
    """Return a random job: one or two cabinets and up to three plain parts."""
    units = rng.choice(("mm", "mm", "in"))
    machine = rng.choice(MACHINES)
    lines = [
        'name = "Random job"',
        f'units = "{units}"',
        f'post = "{rng.choice(POSTS[machine])}"',
        f"cutters = {_cutters(rng)}",
        "accept_odd_sizes = true",
        *_machine(rng, machine),
        *_stocks(rng, machine),
        *_cutting(rng),
        *_clamps(rng, machine),
        *_construction(rng),
    ]
    small = machine == "bench-600x900"
    cabinets = rng.choice((0, 1, 1, 1, 2))
    for number in range(cabinets):
        lines += _cabinet(rng, f"C{number + 1}", small)
    for number in range(rng.randint(0 if cabinets else 1, 3)):
        lines += _part(rng, f"P{number + 1}", small)
    return "\n".join(lines) + "\n"


def _mm(value: float) -> str:
    return f'"{value:g} mm"'


def _cutters(rng: Random) -> list[int]:
    """At least one mill that goes through the carcass, one narrow enough for any groove, and drills for deep holes."""
    mills = rng.choice(([1, 2], [1, 2, 4], [2, 4], [1, 2, 3], [1, 2, 10], [1, 2, 11], [2, 9, 4], [2, 3]))
    drills = rng.choice(([5, 6, 7, 8], [5, 6, 8]))
    return sorted([*mills, *drills])


def _machine(rng: Random, name: str) -> list[str]:
    lines = ["[machine]", f'name = "{name}"']
    if rng.random() < 0.4:
        lines.append(f'z_zero = "{rng.choice(("stock top", "spoilboard"))}"')
    if rng.random() < 0.2:
        lines += ['dust_shoe = ["80 mm", "80 mm"]', f"dust_shoe_height = {_mm(rng.choice((5, 20, 30)))}"]
    if rng.random() < 0.2:
        lines.append(f"through = {_mm(rng.choice((0.1, 0.2, 0.5)))}")
    if rng.random() < 0.2:
        lines.append(f"clearance = {_mm(rng.choice((3, 6, 20)))}")
    return lines


def _stocks(rng: Random, machine: str) -> list[str]:
    across, along = BLANKS[machine]
    lines: list[str] = []
    names = {
        "thick": ("birch-18", rng.uniform(15, 20)),
        "thin": rng.choice((("birch-6", rng.uniform(5, 7)), ("board-4", rng.uniform(4, 4.5)))),
        "mid": ("birch-12", rng.uniform(10, 13)),
    }
    for name, (sheet, thickness) in names.items():
        decimals = rng.choice((0, 1, 2))
        lines += [
            f"[stock.{name}]",
            f'sheet = "{sheet}"',
            f"thickness = {_mm(round(thickness, decimals))}",
            f"blank = [{_mm(across)}, {_mm(along)}]",
            f'grain_along = "{rng.choice("xy")}"',
        ]
        if rng.random() < 0.5:
            lines.append(f"trim = {_mm(rng.choice((0, 5, 8, 15)))}")
    lines += ["[[sheet]]", 'name = "board-4"', 'title = "Board 4 mm"', 'material = "plywood"', "grain = false"]
    lines += ['nominal = "4 mm"', 'along = "2440 mm"', 'across = "1220 mm"']
    lines += ["[use]", 'carcass = "thick"', f'back = "{rng.choice(("thin", "thin", "mid"))}"']
    lines += ['drawer = "mid"', 'drawer_bottom = "thin"', 'front = "thick"']
    return lines


def _cutting(rng: Random) -> list[str]:
    lines = [
        "[cutting]",
        f'hold = "{rng.choice(("tabs", "skin"))}"',
        f'direction = "{rng.choice(("climb", "conventional"))}"',
    ]
    choices = {
        "tab_length": (4, 6, 12),
        "tab_height": (1, 2, 3.5),
        "tab_spacing": (100, 200, 500),
        "skin": (0.2, 0.5),
        "web": (0, 0.5, 5),
    }
    lines += [f"{key} = {_mm(rng.choice(values))}" for key, values in choices.items() if rng.random() < 0.25]
    if rng.random() < 0.25:
        lines.append(f"ramp_deg = {rng.choice((1.0, 2.0, 8.0))}")
    if rng.random() < 0.25:
        lines.append(f"stepover = {rng.choice((0.2, 0.33, 0.6))}")
    if rng.random() < 0.15:
        lines.append(f"spacing = {_mm(rng.choice((7, 10, 20)))}")
    return lines


def _clamps(rng: Random, machine: str) -> list[str]:
    across, along = BLANKS[machine]
    lines: list[str] = []
    for number in range(rng.choice((0, 0, 0, 1, 2))):
        size = rng.choice((20, 40))
        x, y = rng.choice(
            (
                (-size / 2, rng.uniform(0, along - size)),
                (rng.uniform(0, across - size), -size / 2),
                (across - size / 2, rng.uniform(0, along - size)),
                (rng.uniform(0, across - size), along - size / 2),
            )
        )
        lines += [
            "[[clamp]]",
            f'name = "clamp {number + 1}"',
            f"x = {_mm(round(x, 1))}",
            f"y = {_mm(round(y, 1))}",
            f"length_x = {_mm(size)}",
            f"length_y = {_mm(size)}",
            f"height = {_mm(rng.choice((5, 12, 20)))}",
        ]
    return lines


def _construction(rng: Random) -> list[str]:
    choices: dict[str, Sequence[float]] = {
        "dado_depth": (4, 6, 6.35, 7.5),
        "back_rabbet_depth": (4, 6.35, 8),
        "fit_clearance": (0, 0.1, 0.25, 0.5),
        "kick_height": (60, 80, 120),
        "kick_depth": (30, 50, 90),
        "stretcher_width": (60, 80, 120),
        "shelf_pin_pitch": (25, 32, 40),
        "shelf_pin_diameter": (5, 6, 6.35, 8),
        "front_gap": (2, 4),
        "hinge_cup_diameter": (26, 40),
        "drawer_groove_depth": (4, 5),
        "drawer_rabbet_depth": (4, 5),
        "bottom_lift": (0, 30),
    }
    lines = ["[construction]"]
    lines += [f"{key} = {_mm(rng.choice(values))}" for key, values in choices.items() if rng.random() < 0.15]
    return lines


def _cabinet(rng: Random, name: str, small: bool) -> list[str]:
    kind = rng.choice(KINDS)
    hung = kind in ("wall", "open")
    low, high = (280, 560) if small else (250, 1000)
    width = rng.uniform(low, high)
    height = rng.uniform(400, 800 if small else 1000)
    depth = rng.uniform(200, 350) if hung else rng.uniform(400, 540 if small else 620)
    decimals = rng.choice((0, 1, 3))
    lines = ["[[cabinet]]", f'name = "{name}"', f'kind = "{kind}"']
    lines += [f"width = {_mm(round(width, decimals))}", f"height = {_mm(round(height, decimals))}"]
    lines += [f"depth = {_mm(round(depth, decimals))}", f"qty = {rng.choice((1, 1, 1, 2))}"]
    if kind == "base" and rng.random() < 0.5:
        lines.append('drawers = ["140 mm"]')
    if kind == "drawers":
        lines.append(f"drawers = {rng.choice((2, 3))}")
    if kind in ("base", "wall", "open"):
        lines.append(f"adjustable_shelves = {rng.choice((0, 1, 2))}")
        lines.append(f"fixed_shelves = {rng.choice((0, 0, 1))}")
    if kind in ("base", "wall") and rng.random() < 0.3:
        lines.append(f"doors = {rng.choice((0, 1, 2))}")
    if kind == "open":
        lines.append(rng.choice(("kick_height = 0", "")))
    if rng.random() < 0.2:
        lines.append("back = false")
    if kind != "sink" and rng.random() < 0.3:
        lines.append('nailer = "top"')
    lines.append(f"slab_doors = {rng.choice(('true', 'false'))}")
    lines.append(f'hinge = "{rng.choice(("left", "right"))}"')
    return lines


def _part(rng: Random, name: str, small: bool) -> list[str]:
    longest = 560 if small else 1180
    length = rng.choice((rng.uniform(20, 60), rng.uniform(60, 300), rng.uniform(300, longest)))
    width = rng.choice((rng.uniform(20, 60), rng.uniform(60, 300), rng.uniform(300, 560)))
    return [
        "[[part]]",
        f'name = "{name}"',
        f"qty = {rng.choice((1, 2, 5))}",
        f'stock = "{rng.choice(("thick", "thin", "mid"))}"',
        f"length = {_mm(round(length, rng.choice((0, 2))))}",
        f"width = {_mm(round(width, rng.choice((0, 2))))}",
        f'grain = "{rng.choice(("along", "across", "free"))}"',
        rng.choice(PART_NOTES),
    ]
