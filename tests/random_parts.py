"""Random plain parts: rectangles, and outlines with arcs, with every kind of cut in them."""

from random import Random

from random_boxes import mm

Size = tuple[float, float]


def part(rng: Random, name: str, small: bool) -> list[str]:
    """Return one [[part]] with what is cut into it; `small` for a blank of 600 x 900 mm."""
    longest = 560 if small else 1180
    length = rng.choice((rng.uniform(20, 60), rng.uniform(60, 300), rng.uniform(300, longest)))
    width = rng.choice((rng.uniform(20, 60), rng.uniform(60, 300), rng.uniform(300, 560)))
    size = (round(length, rng.choice((0, 2))), round(width, rng.choice((0, 2))))
    stock = rng.choice(("thick", "thin", "mid"))
    lines = ["[[part]]", f'name = "{name}"', f"qty = {rng.choice((1, 1, 2, 5))}", f'stock = "{stock}"']
    lines.append(f'grain = "{rng.choice(("along", "across", "free"))}"')
    lines += rng.choice(([], ['note = "scribe to the wall"']))
    if min(size) < 80 or rng.random() < 0.6:
        lines += [f"length = {mm(size[0])}", f"width = {mm(size[1])}"]
    else:
        lines.append(f"outline = {_outline(rng, size)}")
    if min(size) > 100 and rng.random() < 0.6:
        for make in rng.sample((_hole, _strip, _rabbet, _pocket, _cutout), rng.randint(1, 3)):
            lines += make(rng, size, 3.0 if stock == "thin" else 6.0)
    return lines


def _point(x: float, y: float, *radius: float) -> str:
    return f"[{', '.join(mm(round(value, 2)) for value in (x, y, *radius))}]"


def _outline(rng: Random, size: Size) -> str:
    length, width = size
    r = min(size) * rng.uniform(0.05, 0.3)
    x, y = length * rng.uniform(0.3, 0.6), width * rng.uniform(0.3, 0.6)
    ell = ((0, 0), (length, 0), (length, y), (x, y), (x, width), (0, width))
    bow = f"{{ to = {_point(length, width)}, through = {_point(length - r * 0.4, width / 2)} }}"
    arch = f"{{ to = {_point(0, y)}, through = {_point(length / 2, width)} }}"
    shape = rng.choice(
        (
            [_point(0, 0, r), _point(length, 0, r), _point(length, width, r), _point(0, width, r)],
            [_point(*point) for point in ell],
            [_point(*point, 6.0) for point in ell],
            [_point(0, 0), _point(length, 0), _point(length, y), arch],
            [_point(0, 0), _point(length, 0), bow, _point(0, width)],
            [_point(0, 0), _point(length, 0), _point(length * 0.8, width), _point(length * 0.1, width)],
            [_point(0, 0), _point(0, width), _point(length, 0)],
        )
    )
    return f"[{', '.join(shape)}]"


def _table(kind: str, **keys: str) -> list[str]:
    return [f"[[part.{kind}]]", *(f"{key} = {value}" for key, value in keys.items())]


def _hole(rng: Random, size: Size, deep: float) -> list[str]:
    across = rng.choice((3, 5, 8, 10, 35))
    keys = {"x": mm(round(size[0] * 0.2, 1)), "y": mm(round(size[1] * 0.2, 1)), "diameter": mm(across)}
    if rng.random() < 0.6:
        keys["depth"] = mm(deep)
    if rng.random() < 0.4 and across < 10:
        keys |= {"count": str(rng.choice((2, 3))), "pitch": mm(rng.choice((16, 32))), "along": f'"{rng.choice("xy")}"'}
    return _table("holes", **keys)


def _strip(rng: Random, size: Size, deep: float) -> list[str]:
    along = rng.choice("xy")
    other = size[1] if along == "x" else size[0]
    keys = {"along": f'"{along}"', "at": mm(round(other * rng.uniform(0.4, 0.6), 1)), "depth": mm(deep)}
    keys |= rng.choice(({"fits": '"thin"'}, {"fits": '"mid"'}, {"width": mm(rng.choice((6.35, 7, 20)))}))
    if rng.random() < 0.3:
        keys["start"] = mm(25)
    return _table(rng.choice(("dados", "grooves")), **keys)


def _rabbet(rng: Random, size: Size, deep: float) -> list[str]:
    keys = {"edge": f'"{rng.choice(("left", "right", "lower", "upper"))}"', "depth": mm(deep)}
    keys |= rng.choice(({"fits": '"thin"'}, {"width": mm(rng.choice((6, 9, 15)))}))
    return _table("rabbets", **keys)


def _shape(rng: Random, size: Size) -> dict[str, str]:
    x, y = size[0] * 0.25, size[1] * 0.65
    big = min(size) * 0.15
    keys = {"x": mm(round(x, 1)), "y": mm(round(y, 1))}
    if rng.random() < 0.4:
        return keys | {"diameter": mm(round(big, 1))}
    keys |= {"length": mm(round(big * 1.5, 1)), "width": mm(round(big, 1))}
    if rng.random() < 0.5:
        keys["radius"] = mm(round(big * 0.3, 1))
    return keys


def _pocket(rng: Random, size: Size, deep: float) -> list[str]:
    return _table("pockets", **_shape(rng, size), depth=mm(deep))


def _cutout(rng: Random, size: Size, deep: float) -> list[str]:
    return _table("cutouts", **_shape(rng, size))
