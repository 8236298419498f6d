"""A part ordered by itself: its outline and cuts as they were settled. Panel frame, millimetres."""

from rabbetry.cabinets.model import PlainPart, SettledCut
from rabbetry.geometry.points import Point
from rabbetry.panels.model import Bore, CutOut, Feature, Panel, Recess


def part_panel(part: PlainPart) -> Panel:
    """Return the panel, without a place in any box."""
    return Panel(
        id=part.name,
        cabinet="",
        role=part.name,
        stock=part.stock.name,
        thickness_mm=part.stock.thickness_mm,
        length_mm=part.length_mm,
        width_mm=part.width_mm,
        outline=part.outline,
        features=tuple(_feature(part, cut) for cut in part.cuts if not cut.is_rear),
        rear_features=tuple(_feature(part, cut) for cut in part.cuts if cut.is_rear),
        grain=part.grain,
        place=None,
        face_up=_face_up(part),
        note=part.note,
    )


def _face_up(part: PlainPart) -> str:
    if any(cut.is_rear for cut in part.cuts):
        return "upper face"
    return "the face with the cuts" if part.cuts else "either"


def _feature(part: PlainPart, cut: SettledCut) -> Feature:
    thickness = part.stock.thickness_mm
    if cut.kind == "hole":
        x0, y0, x1, y1 = cut.outline.bounds
        return Bore(
            name=cut.name,
            purpose="hole",
            centre=Point((x0 + x1) / 2, (y0 + y1) / 2),
            diameter_mm=cut.diameter_mm,
            depth_mm=thickness if cut.depth_mm is None else cut.depth_mm,
            through=cut.depth_mm is None,
        )
    if cut.depth_mm is None:
        return CutOut(name=cut.name, outline=cut.outline)
    return Recess(
        name=cut.name,
        kind=cut.kind,
        outline=cut.outline,
        depth_mm=cut.depth_mm,
        islands=cut.islands,
        relieved_corners=cut.relieved_corners,
    )
