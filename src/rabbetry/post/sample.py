"""A small plan that holds every kind of motion, to try a post on before any job."""

from rabbetry.motions.model import ArcFeed, CutterRun, DrillHole, Feed, Plan, Step, Traverse
from rabbetry.shop.model import Cutter, CutterKind

_SAFE = 15.0
_MILL = Cutter(
    number=1,
    name="compression 1/4 in",
    kind=CutterKind.COMPRESSION,
    diameter_mm=6.35,
    flutes=2,
    flute_length_mm=25.4,
    up_cut_length_mm=5.0,
)
_DRILL = Cutter(
    number=2, name="brad point 5 mm", kind=CutterKind.DRILL, diameter_mm=5.0, flutes=2, flute_length_mm=30.0
)


def sample_plan() -> Plan:
    """Return a plan for one panel of 300 x 200 mm: pin holes, a pecked hole, a spiral bore, a dado, a profile."""
    drilling = CutterRun(cutter=_DRILL, rpm=12000.0, dial="2", steps=(_pins(), _pecked()))
    milling = CutterRun(cutter=_MILL, rpm=18000.0, dial="3", steps=(_spiral(), _dado(), _profile()))
    return Plan(
        sheet="sample-18-01",
        job="Sample (all motions)",
        stock="sample-18",
        thickness_mm=17.8,
        thickness_is_measured=True,
        blank_x_mm=400.0,
        blank_y_mm=300.0,
        z_zero="stock top",
        safe_z=_SAFE,
        stock_top_z=0.0,
        spoilboard_z=-17.8,
        spindle_wait_s=4.0,
        park=(0.0, 300.0),
        machine_safe_z=-2.0,
        runs=(drilling, milling),
    )


def _hole(x: float, y: float, z: float, peck_mm: float) -> DrillHole:
    return DrillHole(x, y, z, retract_z=2.0, clear_z=_SAFE, peck_mm=peck_mm, feed_mm_per_min=600.0)


def _pins() -> Step:
    holes = tuple(_hole(87.0, 110.0 + 32.0 * k, -12.0, 0.0) for k in range(3))
    return _step("shelf pins", "drill", (Traverse(87.0, 110.0, _SAFE), *holes))


def _pecked() -> Step:
    return _step("pilot hole", "drill", (Traverse(200.0, 60.0, _SAFE), _hole(200.0, 60.0, -18.1, 6.0)))


def _spiral() -> Step:
    x, y, radius = 250.0, 180.0, 14.325
    turns = []
    for k in range(4):
        turns.append(ArcFeed(x - radius, y, -3.2 * k - 1.6, x, y, 1, 900.0))
        turns.append(ArcFeed(x + radius, y, -3.2 * (k + 1), x, y, 1, 900.0))
    floor = (
        ArcFeed(x - radius, y, -12.8, x, y, 1, 1500.0),
        ArcFeed(x + radius, y, -12.8, x, y, 1, 1500.0),
        Feed(x, y, -12.8, 1500.0),
    )
    down = (Traverse(x + radius, y, _SAFE), Traverse(x + radius, y, 1.0), Feed(x + radius, y, 0.0, 600.0))
    return _step("hinge cup", "spiral bore", (*down, *turns, *floor, Traverse(x, y, _SAFE)))


def _dado() -> Step:
    # Straight ramp down, back along the floor; the ends are not round numbers in any unit.
    x0, x1, y = 46.0 + 1.0 / 3.0, 353.0 + 2.0 / 3.0, 100.1
    moves = (
        Traverse(x0, y, _SAFE),
        Traverse(x0, y, 1.0),
        Feed(x0, y, 0.0, 600.0),
        Feed(x1, y, -6.0, 1200.0),
        Feed(x0, y, -6.0, 2400.0),
        Traverse(x0, y, _SAFE),
    )
    return _step("bottom dado", "groove", moves)


def _profile() -> Step:
    left, low, right, high = 50.0 - 3.175, 50.0 - 3.175, 350.0 + 3.175, 250.0 + 3.175
    radius = 12.0 + 3.175
    top, bottom, feed = 0.0, -18.1, 1800.0
    moves = (
        Traverse(left, 150.0, _SAFE),
        Traverse(left, 150.0, 1.0),
        Feed(left, 150.0, top, 600.0),
        Feed(left, high - radius, bottom, 900.0),
        ArcFeed(left + radius, high, bottom, left + radius, high - radius, -1, feed),
        Feed(right - radius, high, bottom, feed),
        ArcFeed(right, high - radius, bottom, right - radius, high - radius, -1, feed),
        Feed(right, low + radius, bottom, feed),
        ArcFeed(right - radius, low, bottom, right - radius, low + radius, -1, feed),
        Feed(left + radius, low, bottom, feed),
        ArcFeed(left, low + radius, bottom, left + radius, low + radius, -1, feed),
        Feed(left, 190.0, bottom, feed),
        Traverse(left, 190.0, _SAFE),
    )
    return _step("profile", "profile", moves)


def _step(name: str, kind: str, motions: tuple[Traverse | Feed | ArcFeed | DrillHole, ...]) -> Step:
    return Step(name=f"S1 left side: {name}", panel="S1 left side", kind=kind, motions=motions)
