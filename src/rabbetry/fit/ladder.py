"""What a ladder base must hold besides what any box must: rungs near enough, splices backed. Ladder frame,
millimetres."""

from itertools import pairwise

from rabbetry.cabinets.model import LadderBase
from rabbetry.findings import finding
from rabbetry.fit.assemble import Body
from rabbetry.fit.holes import holes_at
from rabbetry.fit.model import Wanted
from rabbetry.fit.tally import Tally
from rabbetry.tolerances import FIT_MM


def ladder_wanted(ladder: LadderBase) -> Wanted:
    """Return what the ladder base must come to as any box must."""
    size = (ladder.length_mm, ladder.depth_mm, ladder.height_mm)
    return Wanted(name=ladder.name, size_mm=size, clearance_mm=ladder.construction.fit_clearance_mm)


def check_ladder(ladder: LadderBase, bodies: dict[str, Body], tally: Tally) -> None:
    """Check that the pieces of each rail meet end to end, that a plate lies behind each place where they meet, and that
    every splice screw meets a plate."""
    for side in ("front", "rear"):
        rails = sorted(_of(bodies, f"{side} rail"), key=lambda body: body.low[0])
        plates = _of(bodies, f"{side} plate")
        for a, b in pairwise(rails):
            gap = b.low[0] - a.high[0]
            message = f"{a.panel.id} and {b.panel.id} are {gap:.2f} mm apart at their splice"
            tally.check(abs(gap) <= FIT_MM, finding("fit-joint", message, panel=b.panel.id))
            is_backed = any(plate.low[0] < a.high[0] - FIT_MM and b.low[0] + FIT_MM < plate.high[0] for plate in plates)
            message = f"no plate lies behind the splice of {a.panel.id} and {b.panel.id}"
            tally.check(is_backed, finding("fit-joint", message, panel=a.panel.id))
        for rail in rails:
            for x, _, z in holes_at(rail, "splice"):
                meets = any(
                    plate.low[0] < x < plate.high[0] and plate.low[2] < z < plate.high[2] and _touch(rail, plate)
                    for plate in plates
                )
                message = f"{rail.panel.id}: the splice screw at {x:.2f} mm from the left meets no plate"
                tally.check(meets, finding("fit-bore", message, panel=rail.panel.id))


def _of(bodies: dict[str, Body], role: str) -> list[Body]:
    return [body for body in bodies.values() if body.panel.role == role or body.panel.role.startswith(f"{role} ")]


def _touch(rail: Body, plate: Body) -> bool:
    return abs(rail.high[1] - plate.low[1]) <= FIT_MM or abs(plate.high[1] - rail.low[1]) <= FIT_MM
