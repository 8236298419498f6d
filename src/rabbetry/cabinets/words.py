"""Whether a cabinet can be built as its construction's words ask, and what the user should know of it. Millimetres."""

from collections.abc import Iterator

from rabbetry.cabinets.model import Cabinet
from rabbetry.findings import Finding, finding
from rabbetry.job.words import BackPlace, LevelJoint
from rabbetry.shop.model import ZZero
from rabbetry.tolerances import POINT_MM

_LEAST_SHOULDER_MM = 2.0
"""A lower shoulder does not seat (common practice, no source)."""

_LEAST_SEATED_MM = 20.0
"""Least length of a tongue, or of an end in a stopped dado, from front to back (common practice, no source)."""

_NOTCH_CORNER_MM = 6.5
"""As `panels.levels.NOTCH_CORNER_MM`, which a cabinet may not see."""

_STOPS = (LevelJoint.STOPPED_DADO, LevelJoint.TONGUE)


def check_words(cabinet: Cabinet) -> tuple[Finding, ...]:
    """Return an error for each joint and end that cannot be made. `cabinet` must have fixed shelves, dividers."""
    return tuple(
        finding("joint-impossible", f'cabinet "{cabinet.name}": {problem}')
        for problem in (*_rabbets(cabinet), *_tongues(cabinet), *_stops(cabinet), *_ends(cabinet))
    )


def word_notes(cabinet: Cabinet, z_zero: ZZero) -> tuple[Finding, ...]:
    """Return what seats where it is not a dado's floor, and what else the words bring with them."""
    return (*_seats(cabinet, z_zero), *_unheld(cabinet), *_rails(cabinet), *_back_shows(cabinet))


def _level_joints(cabinet: Cabinet) -> Iterator[tuple[str, LevelJoint, float]]:
    """Yield what lies level, its joint and its width from front to back."""
    c = cabinet.construction
    yield "the bottom", c.bottom_joint, cabinet.inside_depth_mm
    if cabinet.has_top_panel:
        yield "the top", c.top_joint, cabinet.inside_depth_mm
    elif not cabinet.has_rails_on_edge:
        yield "the front stretcher", c.top_joint, c.stretcher_width_mm
    if cabinet.fixed_shelf_z_mm:
        yield "a fixed shelf", c.shelf_joint, cabinet.inside_depth_mm - cabinet.front_intrusion_mm
    if cabinet.rail_z_mm:
        yield "a middle rail", c.shelf_joint, c.stretcher_width_mm


def _rabbets(cabinet: Cabinet) -> Iterator[str]:
    c, where = cabinet.construction, "a rabbet takes a panel at the sides' very ends only; "
    if c.bottom_joint is LevelJoint.RABBET and cabinet.bottom_z_mm > POINT_MM:
        cure = 'bottom_joint = "dado"' if cabinet.has_kick else 'bottom_joint = "dado" or bottom = "flush"'
        yield f"{where}the bottom lies {cabinet.bottom_z_mm:g} mm above them: write {cure}"
    if c.shelf_joint is LevelJoint.RABBET and (cabinet.fixed_shelf_z_mm or cabinet.rail_z_mm):
        yield f'{where}write shelf_joint = "dado"'


def _tongues(cabinet: Cabinet) -> Iterator[str]:
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    for what, joint, _ in _level_joints(cabinet):
        if joint is LevelJoint.TONGUE and c.tongue_thickness_mm > thickness - _LEAST_SHOULDER_MM:
            problem = f"{what}, {thickness:g} mm thick, has no shoulder over a tongue of {c.tongue_thickness_mm:g} mm; "
            yield problem + f"at least {_LEAST_SHOULDER_MM:g} mm are needed"
    if c.top_joint is LevelJoint.TONGUE and cabinet.divider_x_mm and not cabinet.has_rails_on_edge:
        yield 'what lies on dividers would be machined on both faces for its tongues: write top_joint = "rabbet"'


def _stops(cabinet: Cabinet) -> Iterator[str]:
    c, thickness = cabinet.construction, cabinet.stocks.carcass.thickness_mm
    for what, joint, width in _level_joints(cabinet):
        stop = c.dado_stop_mm
        if what == "the bottom" and cabinet.has_kick:
            stop = max(stop, c.kick_depth_mm)
        left = width - stop - thickness - c.fit_clearance_mm - _NOTCH_CORNER_MM
        if joint in _STOPS and left < _LEAST_SEATED_MM:
            problem = f"{what}, {width:.2f} mm from front to back, keeps {left:.2f} mm in a dado that ends {stop:g} mm "
            yield problem + f"behind the front edge; at least {_LEAST_SEATED_MM:g} mm are needed"


def _ends(cabinet: Cabinet) -> Iterator[str]:
    c = cabinet.construction
    if c.scribe_mm > 0 and cabinet.has_back_in(BackPlace.APPLIED) and any(map(cabinet.is_finished, ("left", "right"))):
        yield 'a finished end with a scribe cannot stand behind an applied back: write back = "rabbet" or scribe = 0'


def _seats(cabinet: Cabinet, z_zero: ZZero) -> Iterator[Finding]:
    c = cabinet.construction
    tongued = [what for what, joint, _ in _level_joints(cabinet) if joint is LevelJoint.TONGUE]
    if not tongued:
        return
    message = (
        f'cabinet "{cabinet.name}": {", ".join(tongued)}: the shoulders seat on the sides\' faces; the dados are '
        f"{c.depth_clearance_mm:g} mm deeper than the tongues are long, and no length of a panel holds that clearance"
    )
    if z_zero is not ZZero.SPOILBOARD:
        message += "; with zero on the stock's top a tongue is as much off its thickness as the sheet is off its own"
    yield finding("shoulder-seats", message)


def _unheld(cabinet: Cabinet) -> Iterator[Finding]:
    butted = [what for what, joint, _ in _level_joints(cabinet) if joint is LevelJoint.BUTT]
    for hand in ("left", "right"):
        if butted and cabinet.is_finished(hand):
            message = f'cabinet "{cabinet.name}": {", ".join(butted)}: a butt joint without screws on the {hand} end, '
            yield finding("end-unheld", message + "which is finished; use dowels or another joint")


def _rails(cabinet: Cabinet) -> Iterator[Finding]:
    joint = cabinet.construction.top_joint
    if cabinet.has_rails_on_edge and joint in _STOPS:
        message = f'cabinet "{cabinet.name}": rails on edge stand in rabbets; top_joint = "{joint}" is for a top or '
        yield finding("joint-other", message + "flat stretchers")


def _back_shows(cabinet: Cabinet) -> Iterator[Finding]:
    for hand in ("left", "right"):
        if cabinet.has_back_in(BackPlace.APPLIED) and cabinet.is_finished(hand):
            message = (
                f'cabinet "{cabinet.name}": the edge of the applied back shows on the {hand} end, which is finished'
            )
            yield finding("back-shows", message)
