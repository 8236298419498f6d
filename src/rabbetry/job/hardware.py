"""Choosing rows of the hardware tables: the job's keys for it, and the settings that a chosen row brings.

`[construction]` chooses for the whole job, and a cabinet may choose again. A row lays its lengths over the settings;
single settings of the same table lie over the row.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from typing import Annotated, Any

from pydantic import Field

from rabbetry.errors import did_you_mean, shown
from rabbetry.job.fields import Row, Text, choice
from rabbetry.job.model import Construction
from rabbetry.job.places import place_of
from rabbetry.shop.hardware import BoxScrews, Hardware, HingeCup, HingePlate, PinSystem, SlideMount, SlideSeries

USUAL_SCREWS = "pairs, 5 mm"
"""The row for screws between boxes where none is named."""

_Join = Annotated[str, *choice(("none", "left", "right", "both"))]

HARDWARE_FIELDS: dict[str, object] = {
    "shelf_pins": (Text | None, Field(default=None, description="row of the shelf-pin systems, `[[pin_system]]`")),
    "hinge_cups": (Text | None, Field(default=None, description="row of the hinge cups, `[[hinge_cup]]`")),
    "hinge_plates": (
        Text | None,
        Field(default=None, description="row of the hinge plates, `[[hinge_plate]]`; as the doors stand unless given"),
    ),
    "slides": (Text | None, Field(default=None, description="row of the drawer slides, `[[slide]]`")),
    "join_boxes": (
        _Join | None,
        Field(default=None, description="which sides get holes for screws into the neighbouring box; none"),
    ),
    "box_screws": (
        Text | None,
        Field(default=None, description=f'row of the screws between boxes, `[[box_screw]]`; "{USUAL_SCREWS}"'),
    ),
}
"""Keys of `[construction]` and of a cabinet, besides the lengths."""

CHOICES: dict[str, Callable[[Hardware], tuple[PinSystem | HingeCup | HingePlate | SlideSeries | BoxScrews, ...]]] = {
    "shelf_pins": lambda hardware: hardware.pin_systems,
    "hinge_cups": lambda hardware: hardware.hinge_cups,
    "hinge_plates": lambda hardware: hardware.hinge_plates,
    "slides": lambda hardware: hardware.slides,
    "box_screws": lambda hardware: hardware.box_screws,
}


def unknown_rows(data: Mapping[str, object], hardware: Hardware) -> Iterator[tuple[str, str, str]]:
    """Yield place, problem and cure for every row named in the parsed file that the tables do not have."""
    tables: list[tuple[str, object]] = [("[construction]", data.get("construction"))]
    cabinets = data.get("cabinet")
    for index, row in enumerate(cabinets if isinstance(cabinets, list) else ()):
        tables.append((place_of(("cabinet", index), data), row))
    for place, table in tables:
        if not isinstance(table, Mapping):
            continue
        for key, rows in CHOICES.items():
            name, known = table.get(key), [row.name for row in rows(hardware)]
            if isinstance(name, str) and name.strip() not in known:
                problem = f"{shown(name)} is not in the tables"
                yield f"{place}, {key}", problem, did_you_mean(name, known)


def with_hardware(construction: Construction, row: Row | None, hardware: Hardware) -> Construction:
    """Return the construction with what the rows of the tables say that `row` names. The names are in the tables."""
    named = {key: getattr(row, key, None) for key in HARDWARE_FIELDS}
    construction = lay_rows(construction, {key: name for key, name in named.items() if name is not None}, hardware)
    if getattr(row, "shelf_pin_first", None) is not None:
        fittings = replace(construction.fittings, pins_from_half_bottom=False)
        construction = replace(construction, fittings=fittings)
    return construction


def lay_rows(construction: Construction, names: Mapping[str, str], hardware: Hardware) -> Construction:
    """Return the construction with the rows laid over it that `names` gives by the job's keys, and with holes for
    screws in the sides that `join_boxes` says. Raises KeyError when the tables have no such row."""
    for key, lay in _LAYERS.items():
        if key in names:
            rows = {item.name: item for item in CHOICES[key](hardware)}
            construction = lay(construction, rows[names[key]])
    if "join_boxes" not in names:
        return construction
    sides = _JOINED[names["join_boxes"]]
    screws = construction.fittings.box_screws
    if screws is None and sides:
        screws = {item.name: item for item in hardware.box_screws}[USUAL_SCREWS]
    return replace(construction, fittings=replace(construction.fittings, joined_sides=sides, box_screws=screws))


_JOINED = {"none": (), "left": ("left",), "right": ("right",), "both": ("left", "right")}


def _pins(construction: Construction, system: PinSystem) -> Construction:
    margin = construction.pin_end_margin_mm if system.end_margin_mm is None else system.end_margin_mm
    return replace(
        construction,
        pin_diameter_mm=system.diameter_mm,
        pin_depth_mm=system.depth_mm,
        pin_pitch_mm=system.pitch_mm,
        pin_front_mm=system.front_mm,
        pin_rear_mm=system.rear_mm,
        pin_end_margin_mm=margin,
        pin_first_mm=system.first_mm,
        pin_rows_apart_mm=system.rows_apart_mm,
        fittings=replace(construction.fittings, shelf_pins=system.name, pins_from_half_bottom=system.half_bottom),
    )


def _cups(construction: Construction, cup: HingeCup) -> Construction:
    return replace(
        construction,
        hinge_cup_diameter_mm=cup.diameter_mm,
        hinge_cup_depth_mm=cup.depth_mm,
        hinge_cup_edge_mm=cup.edge_mm,
        hinge_fixing_spacing_mm=cup.fixing_spacing_mm,
        hinge_fixing_offset_mm=cup.fixing_offset_mm,
        hinge_fixing_diameter_mm=cup.fixing_diameter_mm,
        hinge_fixing_depth_mm=cup.fixing_depth_mm,
        fittings=replace(
            construction.fittings,
            hinge_cups=cup.name,
            cup_edge_least_mm=cup.edge_least_mm,
            cup_edge_most_mm=cup.edge_most_mm,
        ),
    )


def _plates(construction: Construction, plate: HingePlate) -> Construction:
    return replace(
        construction,
        plate_diameter_mm=plate.diameter_mm,
        plate_depth_mm=plate.depth_mm,
        plate_front_mm=plate.front_mm,
        plate_spacing_mm=plate.spacing_mm,
        fittings=replace(
            construction.fittings,
            hinge_plates=plate.name,
            plate_from=plate.measured_from,
            hinge_overlay_mm=plate.overlay_mm,
        ),
    )


def _slides(construction: Construction, series: SlideSeries) -> Construction:
    is_side = series.mount is SlideMount.SIDE
    allowance: dict[str, Any] = {
        "drawer_side_allowance_mm" if is_side else "drawer_width_allowance_mm": series.width_allowance_mm
    }
    return replace(
        construction,
        **allowance,
        drawer_height_allowance_mm=series.height_allowance_mm,
        drawer_bottom_recess_mm=series.bottom_recess_mm,
        drawer_notch_width_mm=series.notch_width_mm,
        drawer_notch_height_mm=series.notch_height_mm,
        drawer_hook_diameter_mm=series.hook_diameter_mm,
        drawer_hook_in_mm=series.hook_in_mm,
        drawer_hook_up_mm=series.hook_up_mm,
        drawer_hook_depth_mm=series.hook_depth_mm,
        drawer_rear_clearance_mm=series.rear_clearance_mm,
        slide_front_mm=series.front_mm,
        slide_spacing_mm=series.spacing_mm,
        slide_height_mm=series.height_mm,
        slide_hole_diameter_mm=series.hole_diameter_mm,
        slide_hole_depth_mm=series.hole_depth_mm,
        fittings=replace(
            construction.fittings,
            slides=series.name,
            slide_mount=series.mount,
            slide_lengths_mm=series.lengths_mm,
            drawer_side_most_mm=series.side_most_mm,
        ),
    )


def _screws(construction: Construction, screws: BoxScrews) -> Construction:
    return replace(construction, fittings=replace(construction.fittings, box_screws=screws))


_LAYERS: dict[str, Callable[..., Construction]] = {
    "shelf_pins": _pins,
    "hinge_cups": _cups,
    "hinge_plates": _plates,
    "slides": _slides,
    "box_screws": _screws,
}
"""What lays a row over the settings, by the key that names the row."""
