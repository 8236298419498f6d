"""Random job files that a careful user could have written: every size within what can be built and laid out."""

from random import Random

from random_boxes import HUNG, KINDS, beside, cabinet, construction, corner, ladder, mm
from random_parts import part

MACHINES = ("bench-4x4", "bench-4x4", "bench-600x900", "dial-4x4")
POSTS = {
    "bench-4x4": ("metric-plain", "inch-plain", "full-metric"),
    "bench-600x900": ("metric-plain", "inch-plain", "full-metric"),
    "dial-4x4": ("inch-hand-spindle",),
}
BLANKS = {"bench-4x4": (1220, 1220), "bench-600x900": (600, 900), "dial-4x4": (1217.6, 1217.6)}


def job_text(rng: Random) -> str:
    """Return a random job: up to three cabinets of any kind, a corner, a ladder base, what goes with them, parts."""
    units = rng.choice(("mm", "mm", "in"))
    machine = rng.choice(MACHINES)
    lines = [
        'name = "Random job"',
        f'units = "{units}"',
        f'post = "{rng.choice(POSTS[machine])}"',
        f"cutters = {_cutters(rng)}",
        "accept_odd_sizes = true",
        *_faces(rng),
        *_machine(rng, machine),
        *_stocks(rng, machine),
        *_cutting(rng),
        *_clamps(rng, machine),
        "[construction]",
        *construction(rng, 0.06),
    ]
    return "\n".join(lines + _things(rng, machine == "bench-600x900")) + "\n"


def _things(rng: Random, small: bool) -> list[str]:
    """Return what the job makes; at least one thing."""
    lines: list[str] = []
    names = [f"C{number + 1}" for number in range(rng.choice((0, 1, 1, 1, 2, 3)))]
    kinds = {name: rng.choice(KINDS) for name in names}
    for name, kind in kinds.items():
        lines += cabinet(rng, name, kind, small)
    standing = [name for name, kind in kinds.items() if kind not in HUNG]
    if standing:
        lines += beside(rng, standing)
    if not small and rng.random() < 0.15:
        lines += corner(rng, "L1")
    if rng.random() < 0.1:
        lines += ladder(rng, "Plinth")
    for number in range(rng.randint(0 if lines else 1, 3)):
        lines += part(rng, f"P{number + 1}", small)
    return lines


def _faces(rng: Random) -> list[str]:
    lines = [f'faces = "{rng.choice(("frameless", "face frame"))}"'] if rng.random() < 0.3 else []
    return lines + ([f'mount = "{rng.choice(("overlay", "inset"))}"'] if rng.random() < 0.3 else [])


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
        lines += ['dust_shoe = ["80 mm", "80 mm"]', f"dust_shoe_height = {mm(rng.choice((5, 20, 30)))}"]
    if rng.random() < 0.2:
        lines.append(f"through = {mm(rng.choice((0.1, 0.2, 0.5)))}")
    if rng.random() < 0.2:
        lines.append(f"clearance = {mm(rng.choice((3, 6, 20)))}")
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
            f"thickness = {mm(round(thickness, decimals))}",
            f"blank = [{mm(across)}, {mm(along)}]",
            f'grain_along = "{rng.choice("xy")}"',
        ]
        if rng.random() < 0.5:
            lines.append(f"trim = {mm(rng.choice((0, 5, 8, 15)))}")
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
    lines += [f"{key} = {mm(rng.choice(values))}" for key, values in choices.items() if rng.random() < 0.25]
    if rng.random() < 0.25:
        lines.append(f"ramp_deg = {rng.choice((1.0, 2.0, 8.0))}")
    if rng.random() < 0.25:
        lines.append(f"stepover = {rng.choice((0.2, 0.33, 0.6))}")
    if rng.random() < 0.15:
        lines.append(f"spacing = {mm(rng.choice((7, 10, 20)))}")
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
            f"x = {mm(round(x, 1))}",
            f"y = {mm(round(y, 1))}",
            f"length_x = {mm(size)}",
            f"length_y = {mm(size)}",
            f"height = {mm(rng.choice((5, 12, 20)))}",
        ]
    return lines
