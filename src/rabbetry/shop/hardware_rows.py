"""Rows of the hardware tables as they stand in TOML, checked one by one and turned into records."""

from typing import Annotated

from pydantic import BeforeValidator, Field, ValidationInfo, model_validator

from rabbetry.errors import shown
from rabbetry.shop.hardware import BoxScrews, HingeCup, HingePlate, PinSystem, PlateFrom, SlideMount, SlideSeries
from rabbetry.shop.rows import Coordinate, Diameter, Distance, Name, Row, Size, choice_reader, length_reader
from rabbetry.units import Length, LengthError

NO_SOURCE = "common practice, no source"
NOUGHT = Length(mm=0.0, text="0")
HALF_BOTTOM = "half the bottom"
BALANCED = "balanced"
MAX_LENGTHS = 40

Depth = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=60.0))]
Few = Annotated[Length, BeforeValidator(length_reader(least_mm=0.0, most_mm=200.0))]


def _first_hole(value: object, info: ValidationInfo) -> object:
    if value in (BALANCED, HALF_BOTTOM):
        return value
    try:
        return length_reader(above_mm=0.0, most_mm=1000.0)(value, info)
    except LengthError as error:
        if isinstance(value, str) and not any(sign.isdigit() for sign in value):
            cure = f'write "{BALANCED}", "{HALF_BOTTOM}", or a length above the bottom\'s under side'
            raise LengthError(f"{shown(value)} is no rule for the first hole", cure) from None
        raise error


class PinSystemRow(Row):
    """Rows of shelf-pin holes."""

    name: Name
    diameter: Diameter
    depth: Depth
    pitch: Size
    front: Size
    rear: Size
    end_margin: Size | None = None
    first_hole: Annotated[Length | str, BeforeValidator(_first_hole)] = BALANCED
    rows_apart: Few = NOUGHT
    source: str = NO_SOURCE

    @model_validator(mode="after")
    def _leaves_wood(self) -> "PinSystemRow":
        if self.pitch.mm <= self.diameter.mm:
            raise LengthError(f"pitch {self.pitch.text} is not more than the diameter {self.diameter.text}")
        return self

    def record(self) -> PinSystem:
        return PinSystem(
            name=self.name,
            diameter_mm=self.diameter.mm,
            depth_mm=self.depth.mm,
            pitch_mm=self.pitch.mm,
            front_mm=self.front.mm,
            rear_mm=self.rear.mm,
            end_margin_mm=self.end_margin.mm if self.end_margin else None,
            first_mm=self.first_hole.mm if isinstance(self.first_hole, Length) else 0.0,
            half_bottom=self.first_hole == HALF_BOTTOM,
            rows_apart_mm=self.rows_apart.mm,
            source=self.source,
        )


class HingeCupRow(Row):
    """What a cup hinge needs in the door."""

    name: Name
    diameter: Diameter
    depth: Depth
    edge: Few
    edge_least: Few
    edge_most: Few
    fixing_spacing: Few = NOUGHT
    fixing_offset: Few = NOUGHT
    fixing_diameter: Diameter = Length(mm=8.0, text="8")
    fixing_depth: Depth = Length(mm=10.0, text="10")
    source: str = NO_SOURCE

    @model_validator(mode="after")
    def _edge_in_range(self) -> "HingeCupRow":
        if not self.edge_least.mm <= self.edge.mm <= self.edge_most.mm:
            raise LengthError(
                f"edge {self.edge.text} is not between edge_least {self.edge_least.text} and edge_most "
                f"{self.edge_most.text}"
            )
        return self

    def record(self) -> HingeCup:
        return HingeCup(
            name=self.name,
            diameter_mm=self.diameter.mm,
            depth_mm=self.depth.mm,
            edge_mm=self.edge.mm,
            edge_least_mm=self.edge_least.mm,
            edge_most_mm=self.edge_most.mm,
            fixing_spacing_mm=self.fixing_spacing.mm,
            fixing_offset_mm=self.fixing_offset.mm,
            fixing_diameter_mm=self.fixing_diameter.mm,
            fixing_depth_mm=self.fixing_depth.mm,
            source=self.source,
        )


class HingePlateRow(Row):
    """What a hinge's mounting plate needs in the side."""

    name: Name
    diameter: Diameter
    depth: Depth
    front: Size
    spacing: Size
    measured_from: Annotated[str, BeforeValidator(choice_reader(*PlateFrom))] = "front edge"
    overlay: Coordinate | None = None
    source: str = NO_SOURCE

    def record(self) -> HingePlate:
        return HingePlate(
            name=self.name,
            diameter_mm=self.diameter.mm,
            depth_mm=self.depth.mm,
            front_mm=self.front.mm,
            spacing_mm=self.spacing.mm,
            measured_from=PlateFrom(self.measured_from),
            overlay_mm=self.overlay.mm if self.overlay else None,
            source=self.source,
        )


class SlideRow(Row):
    """A pair of drawer slides and what they ask of the drawer box."""

    name: Name
    mount: Annotated[str, BeforeValidator(choice_reader(*SlideMount))]
    width_allowance: Few
    side_most: Size | None = None
    height_allowance: Few
    bottom_recess: Few
    notch_width: Few = NOUGHT
    notch_height: Few = NOUGHT
    hook_diameter: Few = NOUGHT
    hook_in: Few = NOUGHT
    hook_up: Few = NOUGHT
    hook_depth: Few = NOUGHT
    front: Size
    spacing: Size
    height: Size
    hole_diameter: Diameter
    hole_depth: Depth
    rear_clearance: Distance
    lengths: Annotated[list[Size], Field(min_length=1, max_length=MAX_LENGTHS)]
    source: str = NO_SOURCE

    @model_validator(mode="after")
    def _is_whole(self) -> "SlideRow":
        lengths = [length.mm for length in self.lengths]
        if sorted(set(lengths)) != lengths:
            raise LengthError("lengths do not rise", "write them from the shortest to the longest, each once")
        if self.mount == SlideMount.UNDER and not (self.notch_width.mm and self.notch_height.mm):
            raise LengthError("an undermount slide has no notch", "give notch_width and notch_height")
        if self.mount == SlideMount.UNDER and not (self.hook_diameter.mm and self.hook_in.mm and self.hook_up.mm):
            raise LengthError("an undermount slide has no hooks", "give hook_diameter, hook_in and hook_up")
        return self

    def record(self) -> SlideSeries:
        return SlideSeries(
            name=self.name,
            mount=SlideMount(self.mount),
            width_allowance_mm=self.width_allowance.mm,
            side_most_mm=self.side_most.mm if self.side_most else None,
            height_allowance_mm=self.height_allowance.mm,
            bottom_recess_mm=self.bottom_recess.mm,
            notch_width_mm=self.notch_width.mm,
            notch_height_mm=self.notch_height.mm,
            hook_diameter_mm=self.hook_diameter.mm,
            hook_in_mm=self.hook_in.mm,
            hook_up_mm=self.hook_up.mm,
            hook_depth_mm=self.hook_depth.mm,
            front_mm=self.front.mm,
            spacing_mm=self.spacing.mm,
            height_mm=self.height.mm,
            hole_diameter_mm=self.hole_diameter.mm,
            hole_depth_mm=self.hole_depth.mm,
            rear_clearance_mm=self.rear_clearance.mm,
            lengths_mm=tuple(length.mm for length in self.lengths),
            source=self.source,
        )


class BoxScrewRow(Row):
    """Holes through a side for the screws that hold two boxes together."""

    name: Name
    diameter: Diameter
    front: Size
    rear: Distance = NOUGHT
    end: Size
    spacing: Size
    source: str = NO_SOURCE

    def record(self) -> BoxScrews:
        return BoxScrews(
            name=self.name,
            diameter_mm=self.diameter.mm,
            front_mm=self.front.mm,
            rear_mm=self.rear.mm,
            end_mm=self.end.mm,
            spacing_mm=self.spacing.mm,
            source=self.source,
        )


HARDWARE_ROWS: dict[str, type[Row]] = {
    "pin_system": PinSystemRow,
    "hinge_cup": HingeCupRow,
    "hinge_plate": HingePlateRow,
    "slide": SlideRow,
    "box_screw": BoxScrewRow,
}
"""Kind of row by its key in TOML."""
