"""From a settled cabinet to its panels: the one place that says which panels a box has, and in which order."""

from collections.abc import Iterator

from rabbetry.cabinets.model import Cabinet, CornerCabinet, LadderBase, PlainPart
from rabbetry.panels.applied import applied_joints
from rabbetry.panels.banding import cut_for_bands
from rabbetry.panels.carcass import carcass_panels
from rabbetry.panels.columns import column_joints, column_panels, side_of
from rabbetry.panels.corner import corner_box
from rabbetry.panels.divider import divider_joints, with_dividers
from rabbetry.panels.drawer import drawer_joints, drawer_panels
from rabbetry.panels.extras import loose_panels, with_holes
from rabbetry.panels.fronts import front_panels, front_sizes
from rabbetry.panels.hardware import hardware_lines
from rabbetry.panels.joints import seats
from rabbetry.panels.ladder import ladder_box
from rabbetry.panels.model import Box, Joint, Panel
from rabbetry.panels.part import part_panel


def compile_cabinet(cabinet: Cabinet) -> Box:
    """Return the box: sides, carcass, drawer boxes, slab fronts, each placed; its joints, fronts to make, hardware.

    A panel is machined on one face unless it has rear features. `cabinet` must come from
    `resolve_cabinets` without an error.
    """
    whole = (
        side_of(cabinet, "left"),
        side_of(cabinet, "right"),
        *with_holes(cabinet, with_dividers(cabinet, carcass_panels(cabinet))),
        *(panel for drawer in cabinet.drawers for panel in drawer_panels(cabinet, drawer)),
        *(column_panels(cabinet) if cabinet.columns else front_panels(cabinet)),
        *loose_panels(cabinet),
    )
    panels = tuple(cut_for_bands(panel, cabinet.construction.band_thickness_mm) for panel in whole)
    return Box(
        cabinet=cabinet.name,
        panels=panels,
        joints=tuple(_joints(cabinet)),
        fronts=front_sizes(cabinet),
        hardware=hardware_lines(cabinet, panels),
    )


def compile_corner(corner: CornerCabinet) -> Box:
    """Return the box of an L-shaped corner cabinet."""
    return corner_box(corner)


def compile_ladder(ladder: LadderBase) -> Box:
    """Return the box of a ladder base."""
    return ladder_box(ladder)


def compile_part(part: PlainPart) -> Panel:
    """Return the panel of a part ordered by itself."""
    return part_panel(part)


def _joints(cabinet: Cabinet) -> Iterator[Joint]:
    for hand in ("left", "right"):
        for seat in seats(cabinet):
            yield Joint(
                kind=seat.kind,
                receiver=f"{cabinet.name} {hand} side",
                feature=seat.recess.name if seat.recess is not None else "",
                entering=f"{cabinet.name} {seat.role}",
            )
    yield from applied_joints(cabinet)
    yield from divider_joints(cabinet)
    yield from column_joints(cabinet)
    for drawer in cabinet.drawers:
        yield from drawer_joints(cabinet, drawer)
