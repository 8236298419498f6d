"""Where one face frame runs over neighbouring boxes of a run: the stile each box gets at its two ends. Millimetres.

Boxes share a frame when they stand side by side in one run that asks for it, have face frames, and agree in height,
kick, bottom and frame settings. Without middle stiles there is still one where the boxes' fronts differ: a rail cannot
end in the air.
"""

from collections import defaultdict
from itertools import pairwise

from rabbetry.cabinets.heights import stack_of
from rabbetry.cabinets.model import FrameEnds
from rabbetry.findings import Finding, finding
from rabbetry.job.choices import RunItem, RunOrder
from rabbetry.job.kinds import KINDS
from rabbetry.job.model import CabinetOrder, Faces, Job
from rabbetry.job.words import BottomWord


def frame_ends(job: Job) -> dict[str, tuple[FrameEnds | None, ...]]:
    """Return the stiles of each copy of an order that stands in a run with one frame, by the order's name; None where
    a copy has a frame of its own."""
    orders = {order.name: order for order in job.cabinets}
    found: defaultdict[str, list[FrameEnds | None]] = defaultdict(list)
    for run in job.runs:
        for row in (run.items, run.upper):
            for number, item in enumerate(row):
                if item.sort == "cabinet" and item.name in orders:
                    found[item.name].append(_ends(run, row, number, orders))
    return {name: tuple(ends) for name, ends in found.items() if any(ends)}


def _ends(run: RunOrder, row: tuple[RunItem, ...], number: int, orders: dict[str, CabinetOrder]) -> FrameEnds | None:
    own = orders[row[number].name]
    if not run.is_one_frame or own.faces is not Faces.FACE_FRAME:
        return None
    before = _neighbour(row, number - 1, own, row[number].bottom_mm, orders)
    after = _neighbour(row, number + 1, own, row[number].bottom_mm, orders)
    if before is None and after is None:
        return None
    return FrameEnds(
        left_mm=_stile(run, own, before),
        right_mm=_stile(run, own, after),
        left_joined=before is not None,
        right_joined=after is not None,
    )


def _neighbour(
    row: tuple[RunItem, ...], number: int, own: CabinetOrder, bottom_mm: float, orders: dict[str, CabinetOrder]
) -> CabinetOrder | None:
    """Return the order beside `own` when both can share a frame."""
    if not 0 <= number < len(row) or row[number].sort != "cabinet":
        return None
    other = orders.get(row[number].name)
    is_level = row[number].bottom_mm == bottom_mm
    return other if other is not None and is_level and not _differences(own, other) else None


_SHARED = (
    "kick_height_mm",
    "bottom_lift_mm",
    "frame_thickness_mm",
    "frame_top_rail_width_mm",
    "frame_bottom_rail_width_mm",
    "frame_bottom_lip_mm",
    "frame_middle_stile_width_mm",
)
"""Settings that boxes behind one frame have in common."""


def _differences(a: CabinetOrder, b: CabinetOrder) -> list[str]:
    """Return the keys in which two orders differ so that no frame can run over both; empty when one can."""
    found = [name for name in ("faces", "mount", "height_mm", "carcass_stock") if getattr(a, name) != getattr(b, name)]
    found += [name for name in _SHARED if getattr(a.construction, name) != getattr(b.construction, name)]
    if _has_raised_bottom(a) != _has_raised_bottom(b):
        found.append("bottom")
    return [name.removesuffix("_mm") for name in found]


def _has_raised_bottom(order: CabinetOrder) -> bool:
    """As `Cabinet.has_raised_bottom`, before there is a cabinet."""
    kind, word = KINDS[order.kind], order.construction.bottom
    if word is not BottomWord.BY_KIND:
        return word is BottomWord.RAISED
    return kind.has_top_panel and not (kind.has_kick and order.construction.kick_height_mm > 0)


def parted_frames(job: Job) -> tuple[Finding, ...]:
    """Return a note for every two neighbours with face frames that one frame was asked for and cannot run over."""
    orders = {order.name: order for order in job.cabinets}
    found = []
    for run in job.runs:
        for left, right in (pair for row in (run.items, run.upper) for pair in pairwise(row)):
            a, b = (orders.get(item.name) if item.sort == "cabinet" else None for item in (left, right))
            if a is None or b is None or not run.is_one_frame or {a.faces, b.faces} != {Faces.FACE_FRAME}:
                continue
            why = _differences(a, b) + (["height above the floor"] if left.bottom_mm != right.bottom_mm else [])
            if why:
                text = f'run "{run.name}": one face frame cannot run over {a.name} and {b.name}: they differ in '
                found.append(finding("face-frame-parted", text + ", ".join(why)))
    return tuple(found)


def _stile(run: RunOrder, own: CabinetOrder, other: CabinetOrder | None) -> float:
    """Return the width of the stile over this box at one end."""
    if other is None:
        return own.construction.frame_stile_width_mm
    if run.has_middle_stiles or not _same_rails(own, other):
        return own.construction.frame_middle_stile_width_mm / 2
    return 0.0


def _same_rails(a: CabinetOrder, b: CabinetOrder) -> bool:
    """Tell whether two boxes' fronts are divided at the same heights."""
    heights = [[front.height_mm for front in stack_of(order)] for order in (a, b)]
    rails = [order.construction.frame_middle_rail_width_mm for order in (a, b)]
    return heights[0] == heights[1] and rails[0] == rails[1]
