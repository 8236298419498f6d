"""Drawings of sheets and panels as DXF R2010, millimetres: the only module that knows ezdxf.

Layers say in plain words what they hold; closed polylines carry arcs as bulges; the same input gives the same
bytes.
"""

import io
import math
import re
from collections.abc import Iterator
from contextlib import contextmanager

from ezdxf import options  # type: ignore[attr-defined]  # public, but not marked as exported
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.units import MM

from rabbetry.geometry.curves import Arc, Contour, Segment, rectangle
from rabbetry.geometry.points import Transform
from rabbetry.page.text import plain
from rabbetry.panels.model import Bore, CutOut, Feature, Panel
from rabbetry.sheets.model import Flip, Sheet

_METRIC = 1
_LONG_ARC = 1.5 * math.pi
"""Arcs longer than this are drawn as two: a bulge grows without bound towards the full circle."""
_NAME_MM = 20.0
_COLOURS = {
    "blank edge": 8,
    "outline": 7,
    "cut through": 1,
    "names": 3,
    "offcut": 9,
    "relieved corners": 6,
    "flip line": 2,
}
_RECESS_COLOUR = 5
_BORE_COLOUR = 30
_FORBIDDEN = re.compile(r'[<>/\\":;?*|=`,]')


def sheet_dxf(sheet: Sheet) -> str:
    """Return a sheet's drawing, blank frame: blank edge, panels with features and names, offcuts."""
    document = _new_document()
    _outline(document, "blank edge", rectangle(0.0, 0.0, sheet.blank_x_mm, sheet.blank_y_mm))
    for offcut in sheet.offcuts:
        _outline(document, "offcut", rectangle(offcut.x_mm, offcut.y_mm, offcut.length_x_mm, offcut.length_y_mm))
    if sheet.flip is not None:
        _draw_flip(document, sheet.flip, sheet.blank_y_mm)
    for placement in sheet.placements:
        _draw_panel(document, placement.panel, placement.blank_from_panel)
        wide, high = placement.extent_mm
        _draw_name(document, placement.panel.id, placement.x_mm, placement.y_mm, wide, high)
    return _text(document)


def _draw_flip(document: Drawing, flip: Flip, height_mm: float) -> None:
    """Draw the index holes, and the line a blank is turned about between its two set-ups."""
    _layer(document, "flip line")
    ends = ((flip.at_mm, 0.0), (flip.at_mm, height_mm))
    document.modelspace().add_line(*ends, dxfattribs={"layer": "flip line"})
    layer = f"index hole {flip.hole_diameter_mm:.2f}"
    _layer(document, layer, _BORE_COLOUR)
    for hole in flip.index_holes:
        document.modelspace().add_circle((hole.x, hole.y), flip.hole_diameter_mm / 2, dxfattribs={"layer": layer})


def panel_dxf(panel: Panel, *, count: int = 1) -> str:
    """Return one panel's drawing, panel frame: machined face up, origin at the lower left of its rectangle. Where both
    faces are cut, the layers say into which face, and the rear one is seen through the panel. `count` is how many
    panels are made after the drawing."""
    document = _new_document()
    _draw_panel(document, panel, Transform.quarter_turns(0), says_face=True)
    name = f"{panel.id} and {count - 1} alike" if count > 1 else panel.id
    _draw_name(document, name, 0.0, 0.0, panel.length_mm, panel.width_mm)
    return _text(document)


def layer_of(feature: Feature, face: str = "") -> str:
    """Return the layer a feature is drawn on: `dado 6.00 deep`, `bore 5.00 x 12.00 deep`, `cut through`; with a face in
    words what does not go through says where it is cut: `dado 6.00 deep in right face seen through`."""
    where = f" in {_FORBIDDEN.sub(' ', plain(face))}" if face else ""
    if isinstance(feature, CutOut):
        return "cut through"
    if isinstance(feature, Bore):
        end = "through" if feature.through else f"x {_figure(feature.depth_mm)} deep{where}"
        return f"bore {_figure(feature.diameter_mm)} {end}"
    return f"{_FORBIDDEN.sub(' ', plain(feature.kind))} {_figure(feature.depth_mm)} deep{where}"


def _figure(mm: float) -> str:
    """Return millimetres with two decimals, or up to four where the size has them."""
    whole, _, decimals = f"{mm:.4f}".partition(".")
    return f"{whole}.{decimals.rstrip('0').ljust(2, '0')}"


def _new_document() -> Drawing:
    with _fixed_meta_data():
        document = new("R2010", units=MM)
    document.header["$MEASUREMENT"] = _METRIC
    return document


def _draw_panel(document: Drawing, panel: Panel, move: Transform, *, says_face: bool = False) -> None:
    """Draw outline and features; a sheet's drawing shows the face that is up, a panel's both."""
    _outline(document, "outline", panel.outline.moved(move))
    if not (says_face and panel.rear_features):
        _draw_features(document, panel.features, move)
        return
    _draw_features(document, panel.features, move, panel.face_up)
    _draw_features(document, panel.rear_features, move, f"{panel.rear_face} seen through")


def _draw_features(document: Drawing, features: tuple[Feature, ...], move: Transform, face: str = "") -> None:
    for feature in features:
        layer = layer_of(feature, face)
        if isinstance(feature, Bore):
            centre = move(feature.centre)
            _layer(document, layer, _BORE_COLOUR)
            document.modelspace().add_circle((centre.x, centre.y), feature.diameter_mm / 2, dxfattribs={"layer": layer})
            continue
        _outline(document, layer, feature.outline.moved(move))
        if isinstance(feature, CutOut):
            continue
        for island in feature.islands:
            _outline(document, layer, island.moved(move))
        for corner in map(move, feature.relieved_corners):
            layer = f"relieved corners in {_FORBIDDEN.sub(' ', plain(face))}" if face else "relieved corners"
            _layer(document, layer, _COLOURS["relieved corners"])
            document.modelspace().add_point((corner.x, corner.y), dxfattribs={"layer": layer})


def _outline(document: Drawing, layer: str, contour: Contour) -> None:
    _layer(document, layer, _RECESS_COLOUR)
    vertices = [
        (piece.start.x, piece.start.y, _bulge(piece)) for segment in contour.segments for piece in _pieces(segment)
    ]
    closed = contour.is_closed
    if not closed:
        vertices.append((contour.end.x, contour.end.y, 0.0))
    document.modelspace().add_lwpolyline(vertices, format="xyb", close=closed, dxfattribs={"layer": layer})


def _pieces(segment: Segment) -> Iterator[Segment]:
    if isinstance(segment, Arc) and abs(segment.sweep) > _LONG_ARC:
        middle = segment.at(0.5)
        yield Arc(segment.start, middle, segment.centre, segment.turn)
        yield Arc(middle, segment.end, segment.centre, segment.turn)
    else:
        yield segment


def _bulge(segment: Segment) -> float:
    """Return tan(sweep / 4), positive counter-clockwise; 0 for a line (DXF reference, LWPOLYLINE group 42)."""
    return math.tan(segment.sweep / 4) if isinstance(segment, Arc) else 0.0


def _draw_name(document: Drawing, name: str, x: float, y: float, wide: float, high: float) -> None:
    """Write the panel's id along its longer side, in the middle; `%%` and `^` are spread, as they start codes."""
    _layer(document, "names")
    text = plain(name).replace("%%", "% %").replace("^", "^ ")
    along, across = max(wide, high), min(wide, high)
    height = min(_NAME_MM, across / 3, along / max(len(text), 1) / 0.8)
    entity = document.modelspace().add_text(
        text, height=height, rotation=90.0 if high > wide else 0.0, dxfattribs={"layer": "names"}
    )
    entity.set_placement((x + wide / 2, y + high / 2), align=TextEntityAlignment.MIDDLE_CENTER)


def _layer(document: Drawing, name: str, colour: int = 7) -> None:
    if name not in document.layers:
        document.layers.add(name, color=_COLOURS.get(name, colour))


def _text(document: Drawing) -> str:
    stream = io.StringIO(newline="\n")
    # The library lists classes in the order of a set, which is another in each process.
    for name in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(name)
    with _fixed_meta_data():
        document.write(stream)
    return stream.getvalue()


@contextmanager
def _fixed_meta_data() -> Iterator[None]:
    """Let ezdxf put constants in place of time stamps and chance identities while the block runs."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
