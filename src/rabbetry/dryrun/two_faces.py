"""The two sides of a flipped blank judged together. Millimetres; each side in its own program frame.

What side 1 removed is carried through the flip: mirrored about the line that the setups name, it lies below what side 2
removes from above. The holes in the blank and the pins in the spoilboard decide where the blank comes to lie, so both
must be mirror images of themselves about that very line, and be there.
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from rabbetry.dryrun.evidence import Zone, somewhere_in, without_slivers
from rabbetry.dryrun.index_holes import PIN_MM, check_drilled, check_pattern, check_pins
from rabbetry.dryrun.setup import TwoFaces
from rabbetry.dryrun.side import Side
from rabbetry.dryrun.target import PanelTarget, disc
from rabbetry.dryrun.tolerances import BORE_MM, BOUNDARY_MM, DEPTH_LEVEL_MM
from rabbetry.findings import Finding, finding


def check_two_faces(sides: Sequence[Side]) -> Iterator[Finding]:
    """Yield what is wrong with a flipped blank; nothing for one that is cut from one face."""
    by_side = {side.setup.side: side for side in sides}
    first, second = by_side.get(1), by_side.get(2)
    if first is not None and first.setup.two_faces is not None:
        yield from check_pattern(first.setup, first.setup.two_faces, first.evidence.programs[-1])
        if first.is_complete:
            yield from check_drilled(first, first.setup.two_faces)
    if second is None or second.setup.two_faces is None:
        return
    yield from check_pins(second, second.setup.two_faces)
    if first is None or first.setup.two_faces is None or not first.is_complete:
        wanted = ", ".join(second.setup.two_faces.first_side_programs)
        message = f"this is side 2 of a flipped blank: it is proved only together with side 1, {wanted}"
        yield finding("two-faces-alone", message, file=second.evidence.programs[-1])
        return
    yield from _check_flip(first.setup.two_faces, second.setup.two_faces, second.evidence.programs[-1])
    below = {target.panel.id: target for target in first.targets}
    for target in second.targets:
        under = below.pop(target.panel.id, None)
        if under is None:
            yield _told(second, target, "side 1 knows nothing of it")
            continue
        yield from _check_panel(first, second, under, target)
    for target in below.values():
        yield _told(second, target, "side 2 knows nothing of it")


def _check_flip(one: TwoFaces, two: TwoFaces, name: str) -> Iterator[Finding]:
    if (one.line, round(one.at_mm, 3)) != (two.line, round(two.at_mm, 3)):
        message = (
            f"side 1 is to be turned about the line {one.line} = {one.at_mm:.2f}, side 2 was turned about "
            f"{two.line} = {two.at_mm:.2f}"
        )
        yield finding("two-faces-differ", message, file=name)
    for pin in two.index_holes:
        near = (math.dist((pin.x_mm, pin.y_mm), (hole.x_mm, hole.y_mm)) for hole in one.index_holes)
        if min(near, default=math.inf) > PIN_MM:
            message = f"side 2 wants a pin at x {pin.x_mm:.2f} y {pin.y_mm:.2f}, where side 1 makes no hole for it"
            yield finding("index-hole-wrong", message, file=name, x=pin.x_mm, y=pin.y_mm)


def _check_panel(first: Side, second: Side, under: PanelTarget, target: PanelTarget) -> Iterator[Finding]:
    faces = second.setup.two_faces
    assert faces is not None
    turned = _turned(under.outline, faces)
    for part in without_slivers(turned.symmetric_difference(target.outline))[:1]:
        x, y = somewhere_in(part)
        yield _told(second, target, f"its outline is not that of side 1 turned over, at x {x:.2f} y {y:.2f}")
        return
    yield from _check_between(first, second, under, target, faces)
    yield from _check_tabs(first, second, under, target, faces)


def _check_between(
    first: Side, second: Side, under: PanelTarget, target: PanelTarget, faces: TwoFaces
) -> Iterator[Finding]:
    """Yield a finding where the two sides' cuts leave less wood between them than asked: looked for below each floor
    of either side, in what really was removed. Holes and openings right through are left out."""
    thickness, least = second.setup.thickness_mm, faces.least_left_mm
    pairs = [(depth - DEPTH_LEVEL_MM, thickness - least - depth + DEPTH_LEVEL_MM) for depth in _floors(under)]
    pairs += [(thickness - least - depth + DEPTH_LEVEL_MM, depth - DEPTH_LEVEL_MM) for depth in _floors(target)]
    pairs = [(one, two) for one, two in pairs if one > 0.0 and two > 0.0]
    low, high = first.setup.stock_top_z_mm, second.setup.stock_top_z_mm
    below = Zone(first.evidence, under.outline, [low - one for one, _ in pairs])
    above = Zone(second.evidence, target.outline, [high - two for _, two in pairs])
    inner = target.outline.difference(shapely.union_all([*_through(under, target, faces), *target.cutouts]))
    for one, two in pairs:
        thin = _turned(below.removed(low - one), faces).intersection(above.removed(high - two)).intersection(inner)
        for part in without_slivers(thin)[:1]:
            x, y = somewhere_in(part)
            deep = high - second.evidence.floor_at(x, y)[0]
            from_below = low - first.evidence.floor_at(*faces.turned((x, y)))[0]
            left = thickness - deep - from_below
            message = (
                f'panel "{target.panel.id}": {deep:.2f} mm from above and {from_below:.2f} mm from below leave '
                f"{max(left, 0.0):.2f} mm of wood at x {x:.2f} y {y:.2f}; {least:g} mm must stay"
            )
            yield finding("faces-meet", message, file=second.evidence.programs[-1], panel=target.panel.id, x=x, y=y)
            return


def _floors(target: PanelTarget) -> list[float]:
    depths = {recess.depth_mm for recess in target.panel.recesses}
    return sorted(depths | {bore.depth_mm for bore in target.panel.bores if not bore.through})


def _through(under: PanelTarget, target: PanelTarget, faces: TwoFaces) -> Iterator[BaseGeometry]:
    for bore in under.panel.bores:
        if bore.through:
            yield _turned(disc(bore, BORE_MM), faces)
    for bore in target.panel.bores:
        if bore.through:
            yield disc(bore, BORE_MM)


def _check_tabs(
    first: Side, second: Side, under: PanelTarget, target: PanelTarget, faces: TwoFaces
) -> Iterator[Finding]:
    """Yield a finding when so many tabs stand where side 1 has cut from below that too few hold the part."""
    hold = target.panel.hold
    if hold.kind != "tabs" or not second.is_complete:
        return
    low, floor = first.setup.stock_top_z_mm - DEPTH_LEVEL_MM, second.setup.spoilboard_z_mm
    reach = 2 * BOUNDARY_MM
    gone = Zone(first.evidence, under.outline.buffer(reach), [low]).removed(low)
    cut = Zone(second.evidence, target.outline, [floor]).removed(floor)
    ring = target.outline.buffer(reach).boundary.difference(cut)
    held = ring.difference(_turned(gone, faces))
    if ring.length - held.length > hold.length_mm / 2:
        tabs = [part for part in shapely.get_parts(shapely.line_merge(held)) if part.length > hold.length_mm / 2]
        if len(tabs) < hold.at_least:
            message = (
                f'panel "{target.panel.id}": {len(tabs)} tabs stand in wood, {hold.at_least} or more asked: the others '
                "are where side 1 has cut from below"
            )
            yield finding("tabs-missing", message, file=second.evidence.programs[-1], panel=target.panel.id)


def _turned(shape: BaseGeometry, faces: TwoFaces) -> BaseGeometry:
    """Return a region of side 1 as it lies after the blank is turned over."""

    def turned(points: np.ndarray) -> np.ndarray:
        axis = 0 if faces.line == "x" else 1
        moved = points.copy()
        moved[:, axis] = 2 * faces.at_mm - moved[:, axis]
        return moved

    return shapely.transform(shape, turned)


def _told(side: Side, target: PanelTarget, what: str) -> Finding:
    message = f'panel "{target.panel.id}": {what}'
    return finding("two-faces-differ", message, file=side.evidence.programs[-1], panel=target.panel.id)
