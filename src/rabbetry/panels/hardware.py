"""What must be bought for a box: counted from what its panels carry.

Drilling patterns differ from maker to maker, so the lines of hinges, plates and slides send the reader to the maker's
sheet, and say what the box was drilled for.
"""

from collections.abc import Iterable, Iterator, Sequence

from rabbetry.cabinets.model import Cabinet, Front
from rabbetry.job.model import Faces, Mount
from rabbetry.panels.model import Bore, HardwareLine, Panel
from rabbetry.shop.hardware import SlideMount
from rabbetry.tolerances import FIT_MM

_PINS_A_SHELF = 4

_SCREW_SHORT_MM = 3.0
"""A screw through two sides ends this far before the second one's inside (common practice, no source)."""

_SHEET = "check the maker's sheet"


def hardware_lines(cabinet: Cabinet, panels: Iterable[Panel]) -> tuple[HardwareLine, ...]:
    """Return the lines whose count is not nought: hinges, plates, slide pairs by length, shelf pins, screws."""
    return tuple(line for line in _lines(cabinet, tuple(panels)) if line.count)


def _lines(cabinet: Cabinet, panels: Sequence[Panel]) -> Iterator[HardwareLine]:
    c = cabinet.construction
    hinges = sum(len(front.hinge_z_mm) for front in cabinet.fronts)
    yield _line(cabinet, "cup hinge", hinges, _hinge_detail(cabinet))
    yield _line(cabinet, "hinge mounting plate", hinges, _plate_detail(cabinet))
    sort = "side-mount" if c.fittings.slide_mount is SlideMount.SIDE else "undermount"
    drawers = [drawer for _, unit in cabinet.units for drawer in unit.drawers]
    for length in sorted({drawer.length_mm for drawer in drawers}):
        count = sum(drawer.length_mm == length for drawer in drawers)
        yield _line(cabinet, f"{sort} slide, pair", count, f"{length:g} mm; {_SHEET}")
    pins = _PINS_A_SHELF * sum(unit.adjustable_shelves * len(unit.columns_mm) for _, unit in cabinet.units)
    yield _line(cabinet, "shelf pin", pins, f"{c.pin_diameter_mm:g} mm")
    yield _line(cabinet, "assembly screw", _bores(panels, "pilot"), f"through {c.pilot_diameter_mm:g} mm pilot holes")
    longest = 2 * cabinet.stocks.side.thickness_mm - _SCREW_SHORT_MM
    detail = f"into the next box, of equal sides: up to {longest:.0f} mm long"
    yield _line(cabinet, "box screw", _bores(panels, "box screw"), detail)


def _bores(panels: Sequence[Panel], purpose: str) -> int:
    features = (feature for panel in panels for feature in panel.features)
    return sum(isinstance(feature, Bore) and feature.purpose == purpose for feature in features)


def _hinge_detail(cabinet: Cabinet) -> str:
    """Say the cup, how the door lies, and which doors are wider than their hinges are apart (check value 4.2.11)."""
    c = cabinet.construction
    frame = "face frame " if cabinet.faces is Faces.FACE_FRAME else ""
    words = [f"{c.hinge_cup_diameter_mm:g} mm cup, {frame}{cabinet.mount}; {_SHEET}"]
    half = [front.name for _, unit in cabinet.units for front in unit.fronts if _hangs_on_divider(unit, front)]
    if half:
        words.append(f"{', '.join(half)}: on a divider that the next door shares, for half overlay")
    wide = [front.name for front in cabinet.fronts if front.hinge_z_mm and _is_wide(front)]
    if wide:
        words.append(f"{', '.join(wide)}: wider than the hinges are apart (rule of thumb)")
    return "; ".join(words)


def _hangs_on_divider(unit: Cabinet, front: Front) -> bool:
    return unit.mount is Mount.OVERLAY and front.hinge in _HANDS and unit.column_ends[_HANDS.index(front.hinge)]


_HANDS = ("left", "right")


def _is_wide(front: Front) -> bool:
    return max(front.hinge_z_mm) - min(front.hinge_z_mm) <= front.width_mm


def _plate_detail(cabinet: Cabinet) -> str:
    """Say the plate's holes, or where it sits without; its height where the hinge's own overlay is known (check value
    4.2.5: overlay = fixed distance + B - height); and how far a frame's stile makes it stand out from the side."""
    c = cabinet.construction
    if cabinet.plate_y_mm is None:
        return f"on the face frame, no holes in the side; {_SHEET}"
    words = [f"two holes {c.plate_spacing_mm:g} mm apart"]
    is_plain = cabinet.faces is Faces.FRAMELESS and cabinet.mount is Mount.OVERLAY
    if is_plain and c.fittings.hinge_overlay_mm is not None:
        overlay = cabinet.stocks.side.thickness_mm - c.front_gap_mm / 2
        height = c.fittings.hinge_overlay_mm + c.hinge_cup_edge_mm - overlay
        sums = f"{c.fittings.hinge_overlay_mm:g} + {c.hinge_cup_edge_mm:g} - overlay {overlay:.2f}"
        words.append(f"{height:.2f} mm high ({sums})")
    left, right = cabinet.opening_x_mm
    side = cabinet.stocks.side.thickness_mm
    proud = max(left - side, cabinet.width_mm - side - right)
    if cabinet.faces is Faces.FACE_FRAME and proud > FIT_MM:
        words.append(f"packed out {proud:.2f} mm, flush with the stile")
    return "; ".join([*words, _SHEET])


def _line(cabinet: Cabinet, item: str, count: int, detail: str) -> HardwareLine:
    return HardwareLine(cabinet=cabinet.name, item=item, count=count, detail=detail)
