"""Where a panel ends along the recess it enters: neither short of the receiver's edge nor past it.

Looks at joints that run from front to back: the axis of the receiver's front edge. At an end where the recess is open,
or where the panel is notched past its stop, the panel reaches the receiver's edge, bands on; or it stays behind it as
far as the box says (wood behind the back, inset fronts), or another panel fills what is left. At a closed end it stays
within the clearance. Millimetres.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rabbetry.findings import finding
from rabbetry.fit.assemble import Body, box_in_panel, in_panel, is_wood
from rabbetry.fit.model import Wanted
from rabbetry.fit.tally import Tally
from rabbetry.panels.model import Joint, Recess, Vec3
from rabbetry.tolerances import DEPTH_MM, FIT_MM

_PROBE_MM = 1.0
"""How far off the receiver's face the panel is looked at: clear of notches for what enters the recess."""


@dataclass(frozen=True, slots=True)
class _End:
    """One end of the recess: along which axis, at its low or high side, and whether that is the front."""

    axis: int
    is_high: bool
    is_front: bool

    @property
    def name(self) -> str:
        """The receiver's edge there."""
        return f"{'xy'[self.axis]}{int(self.is_high)}"

    def beyond(self, a: float, b: float) -> float:
        """Return how far `a` lies outward of `b`."""
        return a - b if self.is_high else b - a


def check_ends(
    wanted: Wanted, joint: Joint, receiver: Body, entering: Body, recess: Recess, bodies: Iterable[Body], tally: Tally
) -> None:
    """Check both ends, where the recess runs from front to back."""
    axis = "xy".find(receiver.panel.front_edge[:1]) if receiver.panel.front_edge else -1
    if axis < 0 or axis == _thickness_axis(receiver, entering):
        return
    others = [body for body in bodies if body is not receiver and body is not entering]
    seen = _extent(receiver, entering, axis, -_PROBE_MM)
    inside = _extent(receiver, entering, axis, recess.depth_mm / 2)
    for is_high in (False, True):
        end = _End(axis, is_high, receiver.panel.front_edge == f"{'xy'[axis]}{int(is_high)}")
        bounds = recess.outline.bounds
        stop = bounds[axis + 2 * is_high]
        size = (receiver.panel.length_mm, receiver.panel.width_mm)[axis]
        edge = size if is_high else 0.0
        reaches_out = seen is not None and end.beyond(seen[is_high], stop) > FIT_MM
        if abs(stop - edge) > DEPTH_MM and not reaches_out:
            gap = end.beyond(stop, inside[is_high]) if inside is not None else size
            _told(joint, gap, 0.0, wanted.clearance_mm, "closed end of the recess", tally)
            continue
        _check_open(wanted, joint, receiver, entering, end, (edge, seen, inside), others, tally)


def _check_open(
    wanted: Wanted,
    joint: Joint,
    receiver: Body,
    entering: Body,
    end: _End,
    where: tuple[float, tuple[float, float] | None, tuple[float, float] | None],
    others: list[Body],
    tally: Tally,
) -> None:
    edge, seen, inside = where
    extent = seen or inside
    if extent is None:
        _told(joint, edge, 0.0, 0.0, "edge", tally)
        return
    out = wanted.band_mm if end.is_high else -wanted.band_mm
    bare = extent[end.is_high]
    rim = edge + (out if end.name in receiver.panel.banded_edges else 0.0)
    reach = bare + (out if _is_banded(receiver, entering, end) else 0.0)
    gap = end.beyond(rim, reach)
    set_in = wanted.front_intrusion_mm if end.is_front else wanted.behind_mm.get(joint.receiver, 0.0)
    if min(abs(gap), abs(gap - set_in)) <= FIT_MM:
        _told(joint, 0.0, 0.0, 0.0, "edge", tally)
        return
    targets = {rim, rim - set_in if end.is_high else rim + set_in}
    filled = any(
        _fills(wanted, receiver, entering, end, (bare, target), other) for other in others for target in targets
    )
    message = f"{joint.entering} ends {gap:.3f} mm from the edge of {joint.receiver} along its {joint.feature}; "
    right = f"{set_in:.3f} mm is right" if set_in else "it should reach it"
    tally.check(filled, finding("fit-joint", f"{message}{right}", panel=joint.entering))


def _told(joint: Joint, gap: float, least: float, most: float, what: str, tally: Tally) -> None:
    message = f"{joint.entering} ends {gap:.3f} mm before the {what} along {joint.feature} of {joint.receiver}; "
    message += f"{least:g} to {most:.3f} mm is right"
    is_right = least - FIT_MM <= gap <= most + FIT_MM
    tally.check(is_right, finding("fit-joint", message, panel=joint.entering))


def _thickness_axis(receiver: Body, entering: Body) -> int:
    normal, axis = entering.place.normal, receiver.place.x_axis
    return 0 if abs(sum(a * b for a, b in zip(normal, axis, strict=True))) > 1 / 2 else 1


def _extent(receiver: Body, entering: Body, axis: int, depth: float) -> tuple[float, float] | None:
    """Return where the entering panel's outline begins and ends along the receiver's axis, at a depth below the
    receiver's face; None when it is not there."""
    ring = [entering.place.point(x, y, 0.0) for x, y in entering.outline]
    flat = [in_panel(receiver.place, point) for point in ring]
    found = []
    for a, b in zip(flat, flat[1:] + flat[:1], strict=True):
        if (a[2] > depth) != (b[2] > depth):
            found.append(a[axis] + (b[axis] - a[axis]) * (depth - a[2]) / (b[2] - a[2]))
    return (min(found), max(found)) if found else None


def _is_banded(receiver: Body, entering: Body, end: _End) -> bool:
    """Tell whether the entering panel's edge there gets a band: one of its rectangle's, or of an L's inner corner."""
    direction = (receiver.place.x_axis, receiver.place.y_axis)[end.axis]
    sign = 1.0 if end.is_high else -1.0
    for name, axis in (("x", entering.place.x_axis), ("y", entering.place.y_axis)):
        share = sign * sum(a * b for a, b in zip(axis, direction, strict=True))
        if abs(share) > 1 / 2:
            banded = f"{name}{int(share > 0)}" in entering.panel.banded_edges
            return banded or (end.is_front and bool(entering.panel.inner_bands))
    return False


def _fills(wanted: Wanted, receiver: Body, entering: Body, end: _End, span: tuple[float, float], other: Body) -> bool:
    """Tell whether another panel stands between the entering panel's end and where it should reach, with no more than
    the clearance beside it."""
    start, target = span
    low, high = box_in_panel(receiver.place, other.low, other.high)
    outer = high[end.axis] if end.is_high else low[end.axis]
    if abs(end.beyond(target, outer)) > wanted.clearance_mm / 2 + FIT_MM:
        return False
    sign = 1.0 if end.is_high else -1.0
    near = start + sign * (wanted.clearance_mm + 2 * FIT_MM)
    return any(is_wood(other, receiver.place.point(*at)) for at in _probes(receiver, entering, end, near))


def _probes(receiver: Body, entering: Body, end: _End, along: float) -> Iterator[Vec3]:
    """Yield places past the panel's end, in the middle of its thickness: near the receiver's face, and in the middle of
    the panel. Receiver's panel frame."""
    low, high = box_in_panel(receiver.place, entering.low, entering.high)
    across = (low[1 - end.axis] + high[1 - end.axis]) / 2
    for depth in (-_PROBE_MM, (low[2] + high[2]) / 2):
        yield (along, across, depth) if end.axis == 0 else (across, along, depth)
