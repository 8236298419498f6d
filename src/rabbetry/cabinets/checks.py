"""Whether a carcass is possible at all, and whether its joinery keeps to the trade's thresholds. Millimetres."""

from collections.abc import Iterator

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding
from rabbetry.job.words import BackPlace, LevelJoint
from rabbetry.tolerances import DEPTH_MM

_DEEPEST_SHARE = 2 / 3
"""A rabbet or dado takes at most this share of the panel (check values 6.3, 6.4; common practice, no source)."""

_LEAST_LEFT_MM = 3.0
"""Least wood under any recess or blind hole (check values 4.1.11, 6.4; common practice, no source)."""

_LEAST_LIP_MM = 6.0
"""Least wood beyond a dado near a panel's end (common practice, no source)."""


def check_size(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Return the errors that make a carcass impossible: nothing left inside, or recesses through the panel."""
    return (*_room(cabinet), *_through(cabinet))


def check_practice(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Return warnings where a possible carcass leaves less wood than the trade thinks sound (common practice)."""
    return tuple(_thin(cabinet))


def _room(cabinet: Cabinet) -> Iterator[Finding]:
    c, side, back = cabinet.construction, cabinet.stocks.side.thickness_mm, cabinet.stocks.back.thickness_mm
    where = f'cabinet "{cabinet.name}": '
    if cabinet.inside_width_mm <= 0:
        left = cabinet.inside_width_mm
        problem = f"no inside width left ({left:.2f} mm): width {cabinet.width_mm:g} less two sides of {side:g}"
        yield finding("no-inside-width", where + problem)
    depth = cabinet.inside_depth_mm
    strips = _strips_depth(cabinet)
    if depth < strips:
        taken = f" less a back of {back:g}" if cabinet.has_back else ""
        taken += f" and {cabinet.back_inset_mm:g} behind it" if cabinet.back_inset_mm else ""
        above = "the top" if cabinet.has_top_panel else "the stretchers"
        problem = f"no inside depth left ({depth - strips:.2f} mm): depth {cabinet.depth_mm:g}{taken} less {strips:g} "
        problem += f"for {above} and nailer"
        yield finding("no-inside-depth", where + problem)
    height = cabinet.ceiling_z_mm - cabinet.floor_z_mm
    if height <= 0:
        problem = (
            f"no inside height left ({height:.2f} mm): height {cabinet.height_mm:g} less {cabinet.floor_z_mm:g} up to "
            f"the bottom's upper side and {cabinet.height_mm - cabinet.ceiling_z_mm:g} above"
        )
        yield finding("no-inside-height", where + problem)
    strip, width = _highest_strip(cabinet)
    if cabinet.has_lower_nailer:
        strip, width = f"{strip} above a nailer" if width else "nailer", width + c.nailer_width_mm
    if 0 < height < width:
        problem = f"a {strip} {width:g} mm wide does not fit in the {height:.2f} mm between bottom and top"
        yield finding("no-inside-height", where + problem)
    if cabinet.has_kick and c.kick_depth_mm >= cabinet.depth_mm - c.kick_height_mm / 2:
        problem = f"a toe kick {c.kick_depth_mm:g} mm deep leaves no foot under a side {cabinet.depth_mm:g} mm deep"
        yield finding("no-inside-depth", where + problem)


def _highest_strip(cabinet: Cabinet) -> tuple[str, float]:
    """Return what stands on edge below the top, and how far it reaches down."""
    c = cabinet.construction
    if cabinet.has_rails_on_edge:
        return "rail", c.stretcher_width_mm
    return "nailer", c.nailer_width_mm if cabinet.has_nailer else 0.0


def _strips_depth(cabinet: Cabinet) -> float:
    """Least depth that top and nailer need beside each other, measured from front to back."""
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    if cabinet.has_rails_on_edge:
        return 4 * thickness
    nailer = thickness if cabinet.has_nailer or cabinet.has_lower_nailer else 0.0
    return nailer + (thickness if cabinet.has_top_panel else 2 * c.stretcher_width_mm + 2 * c.fit_clearance_mm)


def _recesses(cabinet: Cabinet) -> Iterator[tuple[str, float, float]]:
    """Yield what is cut, its depth, and the thickness of the panel it is cut into."""
    c, s = cabinet.construction, cabinet.stocks
    joints = (c.bottom_joint, c.top_joint, c.shelf_joint)
    deeper = c.depth_clearance_mm if LevelJoint.TONGUE in joints else 0.0
    yield "dado depth", c.dado_depth_mm + deeper, s.side.thickness_mm
    if LevelJoint.TONGUE in joints:
        carcass = s.carcass.thickness_mm
        yield "depth of the tongues' rabbets", max(0.0, carcass - c.tongue_thickness_mm), carcass
    if cabinet.has_back and c.back is not BackPlace.APPLIED:
        yield "back rabbet depth", c.back_rabbet_depth_mm, s.side.thickness_mm
    if cabinet.drawers or any(opening.fill == "drawer" for opening in cabinet.openings):
        yield "drawer rabbet depth", c.drawer_rabbet_depth_mm, s.drawer.thickness_mm
        yield "drawer groove depth", c.drawer_groove_depth_mm, s.drawer.thickness_mm


def _bores(cabinet: Cabinet) -> Iterator[tuple[str, float, float]]:
    c, s = cabinet.construction, cabinet.stocks
    if cabinet.pin_z_mm:
        yield "shelf-pin depth", c.pin_depth_mm, s.side.thickness_mm
    doors = [front for front in cabinet.fronts if front.kind == "door"]
    if doors and cabinet.plate_y_mm is not None:
        yield "hinge-plate hole depth", c.plate_depth_mm, s.side.thickness_mm
    if doors and cabinet.cut_fronts:
        yield "hinge-cup depth", c.hinge_cup_depth_mm, s.front.thickness_mm
        if c.hinge_fixing_spacing_mm > 0:
            yield "cup-fixing depth", c.hinge_fixing_depth_mm, s.front.thickness_mm
    if cabinet.drawers:
        yield "slide-hole depth", c.slide_hole_depth_mm, s.side.thickness_mm


def check_through(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Return an error for each recess or blind hole as deep as its panel is thick, or deeper."""
    return tuple(_through(cabinet))


def _through(cabinet: Cabinet) -> Iterator[Finding]:
    for what, depth, thickness in (*_recesses(cabinet), *_bores(cabinet)):
        if depth >= thickness - DEPTH_MM:
            problem = f"{what} {depth:g} mm goes through a panel of {thickness:g} mm"
            yield finding("recess-through", f'cabinet "{cabinet.name}": {problem}')


def _thin(cabinet: Cabinet) -> Iterator[Finding]:
    where = f'cabinet "{cabinet.name}": '
    for what, depth, thickness in _recesses(cabinet):
        limit = min(_DEEPEST_SHARE * thickness, thickness - _LEAST_LEFT_MM)
        if depth > limit + DEPTH_MM:
            problem = f"{what} {depth:g} mm in a panel of {thickness:g} mm; at most {limit:.2f} mm is sound "
            yield finding("recess-deep", where + problem + "(common practice)")
    for what, depth, thickness in _bores(cabinet):
        if thickness - depth < _LEAST_LEFT_MM - DEPTH_MM:
            problem = f"{what} {depth:g} mm leaves {thickness - depth:.2f} mm of a panel of {thickness:g} mm; "
            yield finding("hole-deep", where + problem + f"at least {_LEAST_LEFT_MM:g} mm is sound (common practice)")
    for what, lip in _lips(cabinet):
        if 0 < lip < _LEAST_LIP_MM:
            problem = f"{what} leaves a lip of {lip:g} mm; {_LEAST_LIP_MM:g} mm or none is sound (common practice)"
            yield finding("recess-deep", where + problem)


def _lips(cabinet: Cabinet) -> Iterator[tuple[str, float]]:
    """Yield the strips of wood left between a recess and a panel's end."""
    c = cabinet.construction
    yield "the bottom's dado", cabinet.bottom_z_mm - cabinet.kick_z_mm
    yield "the back's groove", cabinet.back_inset_mm - c.fit_clearance_mm / 2
    if c.top_joint is LevelJoint.TONGUE and not cabinet.has_rails_on_edge:
        yield "the dado for the top's tongue", cabinet.stocks.carcass.thickness_mm - c.tongue_thickness_mm
