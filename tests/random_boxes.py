"""Random cabinets, corners, ladder bases, covers, fillers, toe kicks and vents, as a careful user could order them."""

from random import Random

KINDS = (
    *("base", "base", "sink", "drawers", "wall", "open", "tall"),
    *("blind corner", "wall blind corner", "appliance", "window seat", "lidded seat"),
)
HUNG = ("wall", "open", "wall blind corner")
SEATS = ("window seat", "lidded seat")
LEVEL_JOINTS = ("dado", "stopped dado", "tongue", "rabbet", "butt")
WORDS = {
    "bottom_joint": LEVEL_JOINTS,
    "top_joint": LEVEL_JOINTS,
    "shelf_joint": LEVEL_JOINTS,
    "back": ("rabbet", "groove", "applied", "none"),
    "top": ("by kind", "stretchers", "on edge", "full"),
    "bottom": ("by kind", "flush", "raised"),
    "finished": ("none", "left", "right", "both"),
    "join_boxes": ("none", "left", "right", "both"),
    "shelf_pins": ("5 mm on 32", "5 mm on 32, rows by 32", "5 mm on 32, first at 37", "1/4 in on 1 in", "5 mm on 2 in"),
    "hinge_cups": ("35 mm, 45/9.5 pressed in", "35 mm, 48/6 screwed", "35 mm, 52/5.5 pressed in"),
    "slides": ("undermount, sides to 16 mm", "undermount, sides to 19 mm", "side-mount, 25.4 mm"),
    "box_screws": ("pairs, 5 mm", "front line only, 5 mm"),
}
LENGTHS = {
    "dado_depth": (4, 6, 6.35, 7.5),
    "back_rabbet_depth": (4, 6.35, 8),
    "fit_clearance": (0, 0.1, 0.25, 0.5),
    "kick_height": (0, 60, 80, 120),
    "kick_depth": (0, 30, 50, 90),
    "dado_stop": (5, 20, 60),
    "tongue_thickness": (5, 7, 9),
    "depth_clearance": (0, 1),
    "back_inset": (6, 20),
    "scribe": (0, 12, 25),
    "band_thickness": (0.5, 2),
    "stretcher_width": (60, 80, 120),
    "nailer_width": (60, 120),
    "shelf_side_gap": (0, 4),
    "shelf_setback": (0, 25),
    "shelf_pin_pitch": (25, 32, 40),
    "shelf_pin_diameter": (5, 6, 6.35, 8),
    "shelf_pin_front": (30, 50),
    "shelf_pin_end_margin": (50, 150),
    "front_gap": (2, 4),
    "hinge_cup_diameter": (26, 40),
    "hinge_end": (60, 120),
    "hinge_pitch": (32,),
    "drawer_groove_depth": (4, 5),
    "drawer_rabbet_depth": (0, 4, 5),
    "bottom_lift": (0, 30),
    "pilot_spacing": (100, 300),
    "frame_overhang": (0, 6),
    "frame_stile_width": (30, 50),
    "frame_overlay": (8, 16),
    "inset_reveal": (2, 3),
}
CUT_OUTS = (
    '{ through = "back", diameter = "100 mm" }',
    '{ through = "back", width = "150 mm", height = "100 mm" }',
    '{ through = "bottom", diameter = "60 mm" }',
    '{ through = "top", width = "200 mm", height = "120 mm" }',
)


def mm(value: float) -> str:
    return f'"{value:g} mm"'


def construction(rng: Random, share: float) -> list[str]:
    """Return settings of the joinery: each length with that share, each word with twice it."""
    lines = [f"{key} = {mm(rng.choice(values))}" for key, values in LENGTHS.items() if rng.random() < share]
    lines += [f'{key} = "{rng.choice(words)}"' for key, words in WORDS.items() if rng.random() < 2 * share]
    return lines


def cabinet(rng: Random, name: str, kind: str, small: bool) -> list[str]:
    """Return one [[cabinet]]; `small` for a machine whose blank is 600 x 900 mm."""
    places = rng.choice((0, 1, 3))
    width, height, depth = (round(value, places) for value in _size(rng, kind, small))
    lines = ["[[cabinet]]", f'name = "{name}"', f'kind = "{kind}"', f"qty = {rng.choice((1, 1, 1, 2))}"]
    lines += [f"width = {mm(width)}", f"height = {mm(height)}", f"depth = {mm(depth)}"]
    if kind == "appliance":
        lines += _opening(rng, width, height, depth)
    elif kind != "lidded seat" and rng.random() < 0.25:
        lines.append(f"fronts = [{_fronts(rng, height)}]")
    else:
        lines += _plain_front(rng, kind)
    if "blind" in kind:
        lines += _blind(rng)
    if not any(line.startswith("fronts") for line in lines):
        lines += _shelves(rng, kind)
    if width > 480 and not any("fixed_shelves" in line for line in lines) and rng.random() < 0.3:
        lines.append(f"dividers = {rng.choice((1, 2, f'[{mm(round(width / 3))}]'))}")
        lines.append(f'divider_pins = "{rng.choice(("through", "blind"))}"')
    settings = construction(rng, 0.04)
    if rng.random() < 0.2 and not any(line.startswith("back =") for line in settings):
        lines.append("back = " + rng.choice(("false", "true", '"groove"', '"applied"', '"none"')))
    if rng.random() < 0.25:
        lines.append(f'nailer = "{rng.choice(("none", "top", "bottom", "both"))}"')
    if rng.random() < 0.15:
        lines.append(f"cut_outs = [{rng.choice(CUT_OUTS)}]")
    if "blind" in kind:
        lines += ['faces = "frameless"', 'mount = "overlay"']
        return lines + settings
    if rng.random() < 0.2:
        lines.append(f'faces = "{rng.choice(("frameless", "face frame"))}"')
    if rng.random() < 0.2:
        lines.append(f'mount = "{rng.choice(("overlay", "inset"))}"')
    if rng.random() < 0.1:
        lines.append('door_style = "frame and panel"')
    lines.append(f"slab_doors = {rng.choice(('true', 'false'))}")
    return lines + settings


def _size(rng: Random, kind: str, small: bool) -> tuple[float, float, float]:
    width = rng.uniform(280, 560) if small else rng.uniform(250, 1000)
    if "blind" in kind:
        width = rng.uniform(540, 580) if small else rng.uniform(800, 1200)
    if kind == "window seat" and not small:
        width = rng.uniform(500, 2000)
    if kind in ("tall", "appliance"):
        height = rng.uniform(600, 850) if small else rng.uniform(900, 2300)
    elif kind in SEATS:
        height = rng.uniform(350, 500)
    else:
        height = rng.uniform(400, 800 if small else 1000)
    depth = rng.uniform(200, 380) if kind in HUNG else rng.uniform(380, 540 if small else 620)
    return width, height, depth


def _plain_front(rng: Random, kind: str) -> list[str]:
    lines = [f'hinge = "{rng.choice(("left", "right"))}"'] if "blind" not in kind else []
    if kind == "base" and rng.random() < 0.5:
        lines.append('drawers = ["140 mm"]')
    elif kind == "sink" and rng.random() < 0.3:
        lines.append("drawers = 1")
    elif kind == "drawers":
        lines.append(f"drawers = {rng.choice((2, 3))}")
    if kind in ("base", "wall", "tall", "window seat") and rng.random() < 0.3:
        lines.append(f"doors = {rng.choice((0, 1, 2))}")
    return lines


def _shelves(rng: Random, kind: str) -> list[str]:
    lines = []
    if kind not in ("drawers", "sink", *SEATS) and rng.random() < 0.7:
        lines.append(f"adjustable_shelves = {rng.choice((0, 1, 1, 2))}")
        if rng.random() < 0.3:
            lines.append("fixed_shelves = 1")
    return lines


def _fronts(rng: Random, height: float) -> str:
    count = rng.randint(1, 4 if height > 600 else 2)
    rows = []
    for number in range(count):
        fill = rng.choice(("drawer", "door", "open", "false"))
        row = [f'fill = "{fill}"']
        if number < count - 1 and rng.random() < 0.6:
            row.append(f"height = {mm(rng.choice((120, 157, 220)))}")
        if fill in ("door", "open") and rng.random() < 0.4:
            row.append("shelves = 1")
        if fill in ("door", "open") and rng.random() < 0.15:
            row.append("fixed_shelves = 1")
        if fill == "door" and rng.random() < 0.3:
            row.append(f"doors = {rng.choice((1, 2))}")
        if number < count - 1 and rng.random() < 0.4:
            row.append(f'below = "{rng.choice(("shelf", "rail", "nothing"))}"')
        rows.append("{ " + ", ".join(row) + " }")
    return ", ".join(rows)


def _opening(rng: Random, width: float, height: float, depth: float) -> list[str]:
    room = {
        "width": width - rng.uniform(40, 70),
        "height": min(590.0, height - 250) * rng.uniform(0.5, 1),
        "depth": depth - rng.uniform(40, 100),
    }
    if rng.random() < 0.7:
        room["up"] = 110 + rng.uniform(0.3, 0.9) * max(0.0, height - room["height"] - 150)
    row = [f"{key} = {mm(round(max(value, 60), 1))}" for key, value in room.items()]
    row += rng.choice(([], ["vent = false"]))
    lines = [f"opening = {{ {', '.join(row)} }}"]
    if rng.random() < 0.3:
        below = rng.choice(("drawer", "door", "false"))
        lines.append(f'fronts = [{{ fill = "door" }}, {{ fill = "appliance" }}, {{ fill = "{below}" }}]')
    return lines


def _blind(rng: Random) -> list[str]:
    lines = [f'blind = "{rng.choice(("left", "right"))}"']
    if rng.random() < 0.5:
        lines.append(f"neighbour_depth = {mm(rng.choice((250, 320)))}")
    if rng.random() < 0.3:
        lines.append(f"pull_clearance = {mm(rng.choice((0, 40)))}")
    if rng.random() < 0.3:
        lines.append(f"pulled_out = {mm(rng.choice((20, 80)))}")
    return lines


def corner(rng: Random, name: str) -> list[str]:
    wall = rng.random() < 0.5
    deep, wide = ((250, 380), (520, 700)) if wall else ((380, 600), (750, 1000))
    lines = ["[[corner]]", f'name = "{name}"', f"wall = {str(wall).lower()}"]
    lines += [f"{key} = {mm(round(rng.uniform(*wide), 1))}" for key in ("left_width", "right_width")]
    lines += [f"{key} = {mm(round(rng.uniform(*deep), 1))}" for key in ("left_depth", "right_depth")]
    if rng.random() < 0.5:
        lines.append(f"height = {mm(round(rng.uniform(500, 1000)))}")
    lines.append(f'doors = "{rng.choice(("bi-fold", "two", "open"))}"')
    lines.append(f'hinge = "{rng.choice(("left", "right"))}"')
    lines.append(f"fixed_shelves = {rng.choice((0, 0, 1))}")
    lines.append(f"adjustable_shelves = {rng.choice((0, 1, 2))}")
    lines.append(f"slab_doors = {rng.choice(('true', 'false'))}")
    lines += [f"{key} = {mm(rng.choice(values))}" for key, values in LENGTHS.items() if rng.random() < 0.04]
    return lines


def ladder(rng: Random, name: str) -> list[str]:
    lines = ["[[ladder_base]]", f'name = "{name}"', f"length = {mm(round(rng.uniform(300, 3000), 1))}"]
    lines += [f"depth = {mm(round(rng.uniform(250, 600), 1))}", f'joint = "{rng.choice(("butt", "dado"))}"']
    if rng.random() < 0.6:
        lines.append(f"height = {mm(round(rng.uniform(60, 150), 1))}")
    if rng.random() < 0.5:
        lines.append(f"rung_spacing = {mm(rng.choice((300, 450, 800)))}")
    return lines


def beside(rng: Random, names: list[str]) -> list[str]:
    """Return what goes with cabinets of those names: a cover, a filler, a toe kick, a vent."""
    lines: list[str] = []
    told = ", ".join(f'"{name}"' for name in names)
    if rng.random() < 0.2:
        lines += ["[[panel]]", 'name = "Cover"', f"covers = [{told}]"]
        lines += [f'side = "{rng.choice(("back", "left", "right", "top"))}"']
        lines += [f"overhang_{side} = {mm(rng.choice((0, 20)))}" for side in ("left", "right", "top")]
        lines.append(f"to_floor = {rng.choice(('true', 'false'))}")
    if rng.random() < 0.2:
        lines += ["[[filler]]", 'name = "Fill"', f'beside = "{names[0]}"', f"width = {mm(rng.choice((30, 60, 110)))}"]
        lines.append(f"to_floor = {rng.choice(('true', 'false'))}")
    if rng.random() < 0.4:
        lines += _kick(rng, names)
    if rng.random() < 0.2:
        slots = rng.choice(("slots = 4", 'free_area = "40 cm2"'))
        lines += ["[[vent]]", f'panel = "{names[0]} bottom"', slots, 'length = "60 mm"', 'width = "8 mm"']
        lines.append(f'run = "{rng.choice(("up", "along"))}"')
    return lines


def _kick(rng: Random, names: list[str]) -> list[str]:
    style = rng.choice(("board", "valance"))
    lines = ["[[kick]]", 'name = "Kick"', f'style = "{style}"', f'face = "{rng.choice(("up", "down"))}"']
    level = rng.uniform(85, 115)
    if rng.random() < 0.5:
        told = ", ".join(f'"{name}"' for name in names)
        pairs = [[level + rng.uniform(-8, 8), level + rng.uniform(-8, 8)] for _ in names]
        lines.append(f"covers = [{told}]")
        lines.append(f"heights = [{', '.join(f'[{mm(round(a, 1))}, {mm(round(b, 1))}]' for a, b in pairs)}]")
    else:
        length = round(rng.uniform(300, 2500))
        places = [0, *sorted(rng.sample(range(50, length - 50), rng.randint(0, 3))), length]
        points = ", ".join(f"[{mm(x)}, {mm(round(level + rng.uniform(-8, 8), 1))}]" for x in places)
        lines += [f"length = {mm(length)}", f"points = [{points}]"]
    if rng.random() < 0.3:
        lines.append(f"drop = {mm(rng.choice((3, -5)))}")
    if rng.random() < 0.3:
        lines.append('pieces = "cabinet"')
    if style == "valance" and rng.random() < 0.5:
        lines.append(rng.choice(('rise = "40 mm"', 'apron = "50 mm"', 'radius = "15 mm"', 'foot = "60 mm"')))
    return lines
