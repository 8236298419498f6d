"""Rows of the shop's tables as they stand in TOML, checked one by one and turned into records.

A length is a bare number in the unit of the table it came from, or text with its own (`"1/4 in"`); rates are lengths
per minute, accelerations lengths per second squared. Keys are the records' field names without `_mm`.
"""

import itertools
from collections.abc import Callable, Mapping
from typing import Annotated

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo, model_validator

from rabbetry.errors import did_you_mean, shown
from rabbetry.shop.model import ChipLoad, Cutter, CutterKind, Machine, Material, SheetGood, ZZero
from rabbetry.shop.tuning import Sign, Tuning
from rabbetry.units import Length, LengthError, read_length, show_length


def length_reader(
    *, above_mm: float | None = None, least_mm: float | None = None, most_mm: float | None = None
) -> Callable[[object, ValidationInfo], object]:
    """Return a validator for a length within bounds; a bare number is in the unit of the table it came from."""

    def read(value: object, info: ValidationInfo) -> object:
        units: Mapping[str, str] = (info.context or {})["units"]
        return read_length(value, units[str(info.field_name)], above_mm=above_mm, least_mm=least_mm, most_mm=most_mm)

    return read


def choice_reader(*words: str) -> Callable[[object], object]:
    """Return a validator for one of the words."""

    def read(value: object) -> object:
        if not isinstance(value, str) or value not in words:
            raise LengthError(f"{shown(value)} is not one of the choices", did_you_mean(str(value), words))
        return value

    return read


Distance = Annotated[Length, BeforeValidator(length_reader(least_mm=0.0, most_mm=5000.0))]
Coordinate = Annotated[Length, BeforeValidator(length_reader(least_mm=-10_000.0, most_mm=10_000.0))]
Size = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=5000.0))]
Diameter = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=80.0))]
Rate = Annotated[Length, BeforeValidator(length_reader(above_mm=0.0, most_mm=90_000.0))]
Share = Annotated[float, Field(gt=0.0, le=1.0, allow_inf_nan=False)]
Positive = Annotated[float, Field(gt=0.0, le=1e6, allow_inf_nan=False)]
Name = Annotated[str, Field(min_length=1, max_length=60)]


class Row(BaseModel):
    """A row of a table: no key but the known ones, no value silently made into another kind."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, arbitrary_types_allowed=True)


class MachineRow(Row):
    """One router."""

    name: Name
    title: Annotated[str, Field(max_length=200)]
    travel_min: Annotated[list[Coordinate], Field(min_length=3, max_length=3)]
    travel_max: Annotated[list[Coordinate], Field(min_length=3, max_length=3)]
    blank_origin: Annotated[list[Coordinate], Field(min_length=2, max_length=2)]
    spoilboard_z: Coordinate
    bed: Annotated[list[Size], Field(min_length=2, max_length=2)]
    max_rate: Annotated[list[Rate], Field(min_length=3, max_length=3)]
    acceleration: Annotated[list[Rate], Field(min_length=3, max_length=3)]
    spindle_min_rpm: Positive
    spindle_max_rpm: Positive
    spindle_power_kw: Positive
    spindle_rated_rpm: Positive | None = None
    spindle_by_hand: bool = False
    dial: Annotated[list["DialRow"], Field(max_length=50)] = Field(default_factory=list)
    collet_diameter: Diameter = Length(mm=30.0, text="30")
    dust_shoe: Annotated[list[Distance], Field(min_length=2, max_length=2)] | None = None
    dust_shoe_height: Distance = Length(mm=0.0, text="0")
    clearance: Size = Length(mm=10.0, text="10")
    clamp_margin: Distance = Length(mm=5.0, text="5")
    spoilboard_allowance: Distance = Length(mm=0.5, text="0.5")
    through: Distance = Length(mm=0.3, text="0.3")
    z_zero: Annotated[str, BeforeValidator(choice_reader(*ZZero))] = "stock top"
    spindle_wait_s: Annotated[float, Field(ge=0.0, le=60.0, allow_inf_nan=False)] = 4.0
    park: Annotated[list[Coordinate], Field(min_length=2, max_length=2)] | None = None
    vacuum_holds_mm2: Annotated[float, Field(ge=0.0, le=1e7, allow_inf_nan=False)] = 0.0
    chip_load_factor: Share = 0.5
    source: str = "common practice, no source"

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> "MachineRow":
        for axis, low, high in zip("xyz", self.travel_min, self.travel_max, strict=True):
            if low.mm >= high.mm:
                raise LengthError(f"travel_min {axis} {low.text} is not below travel_max {axis} {high.text}")
        if self.spindle_min_rpm > self.spindle_max_rpm:
            raise LengthError(f"spindle_min_rpm {self.spindle_min_rpm:g} is above spindle_max_rpm")
        if self.through.mm > self.spoilboard_allowance.mm:
            raise LengthError(
                f"through {show_length(self.through.mm, 'mm')} is more than the spoilboard_allowance "
                f"{show_length(self.spoilboard_allowance.mm, 'mm')}",
                "cut less deep past the blank, or allow a deeper bite",
            )
        lowest = self.spoilboard_z.mm - self.through.mm
        if not self.travel_min[2].mm <= lowest < self.travel_max[2].mm:
            raise LengthError(f"spoilboard_z {self.spoilboard_z.text} with through is outside the z travel")
        if self.spindle_by_hand and not self.dial:
            raise LengthError("spindle_by_hand needs a dial", 'write dial = [{ mark = "1", rpm = 10000 }, ...]')
        speeds = [row.rpm for row in self.dial]
        if any(first >= second for first, second in itertools.pairwise(speeds)):
            raise LengthError("the dial's speeds do not rise")
        return self

    def record(self) -> Machine:
        return Machine(
            name=self.name,
            title=self.title,
            travel_min_mm=_three(self.travel_min),
            travel_max_mm=_three(self.travel_max),
            blank_origin_mm=_two(self.blank_origin),
            spoilboard_z_mm=self.spoilboard_z.mm,
            bed_mm=_two(self.bed),
            max_rate_mm_per_min=_three(self.max_rate),
            acceleration_mm_per_s2=_three(self.acceleration),
            spindle_min_rpm=float(self.spindle_min_rpm),
            spindle_max_rpm=float(self.spindle_max_rpm),
            spindle_power_kw=float(self.spindle_power_kw),
            spindle_rated_rpm=None if self.spindle_rated_rpm is None else float(self.spindle_rated_rpm),
            spindle_by_hand=self.spindle_by_hand,
            dial=tuple((row.mark, float(row.rpm)) for row in self.dial),
            collet_diameter_mm=self.collet_diameter.mm,
            dust_shoe_mm=_two(self.dust_shoe) if self.dust_shoe else (0.0, 0.0),
            dust_shoe_height_mm=self.dust_shoe_height.mm,
            clearance_mm=self.clearance.mm,
            clamp_margin_mm=self.clamp_margin.mm,
            spoilboard_allowance_mm=self.spoilboard_allowance.mm,
            through_mm=self.through.mm,
            z_zero=ZZero(self.z_zero),
            spindle_wait_s=float(self.spindle_wait_s),
            vacuum_holds_mm2=float(self.vacuum_holds_mm2),
            park_mm=_two(self.park) if self.park else None,
            chip_load_factor=float(self.chip_load_factor),
            source=self.source,
        )


class DialRow(Row):
    """One mark on a hand-set spindle's dial."""

    mark: Annotated[str, Field(min_length=1, max_length=10)]
    rpm: Positive


class CutterRow(Row):
    """One cutter."""

    number: Annotated[int, Field(ge=1, le=999)]
    name: Name
    kind: Annotated[str, BeforeValidator(choice_reader(*CutterKind))]
    diameter: Diameter
    flutes: Annotated[int, Field(ge=1, le=8)]
    flute_length: Size
    up_cut_length: Distance = Length(mm=0.0, text="0")
    centre_cutting: bool = True
    measured_diameter: Diameter | None = None
    shank_diameter: Diameter = Length(mm=6.35, text="6.35")
    stick_out: Size = Length(mm=30.0, text="30")
    max_pass: Size | None = None
    life_m: Positive | None = None
    source: str = "common practice, no source"

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> "CutterRow":
        if self.measured_diameter and abs(self.measured_diameter.mm / self.diameter.mm - 1) > MEASURED_SHARE:
            raise LengthError(
                f"measured_diameter {self.measured_diameter.text} is more than a tenth off "
                f"the diameter {self.diameter.text}",
                "measure again, or change the diameter",
            )
        if self.up_cut_length.mm >= self.flute_length.mm:
            raise LengthError(f"up_cut_length {self.up_cut_length.text} is not below the flute_length")
        if self.stick_out.mm < self.flute_length.mm:
            raise LengthError(f"stick_out {self.stick_out.text} is less than the flute_length {self.flute_length.text}")
        return self

    def record(self) -> Cutter:
        return Cutter(
            number=self.number,
            name=self.name,
            kind=CutterKind(self.kind),
            diameter_mm=self.diameter.mm,
            flutes=self.flutes,
            flute_length_mm=self.flute_length.mm,
            up_cut_length_mm=self.up_cut_length.mm,
            centre_cutting=self.centre_cutting,
            measured_diameter_mm=self.measured_diameter.mm if self.measured_diameter else None,
            shank_diameter_mm=self.shank_diameter.mm,
            stick_out_mm=self.stick_out.mm,
            max_pass_mm=self.max_pass.mm if self.max_pass else None,
            life_m=None if self.life_m is None else float(self.life_m),
            source=self.source,
        )


class ChipLoadRow(Row):
    """Range of feed per tooth for one diameter in one material."""

    material: Name
    diameter: Diameter
    low: Size
    high: Size
    source: str = "common practice, no source"

    @model_validator(mode="after")
    def _agrees_with_itself(self) -> "ChipLoadRow":
        if self.low.mm > self.high.mm:
            raise LengthError(f"low {self.low.text} is above high {self.high.text}")
        return self

    def record(self) -> ChipLoad:
        return ChipLoad(
            material=self.material,
            diameter_mm=self.diameter.mm,
            low_mm_per_tooth=self.low.mm,
            high_mm_per_tooth=self.high.mm,
            source=self.source,
        )


class TuningRow(Row):
    """What was heard and seen at the last cut."""

    name: Name
    sign: Annotated[str, BeforeValidator(choice_reader(*Sign))]
    cutter: Annotated[int, Field(ge=1, le=999)] | None = None
    material: Name | None = None
    times: Annotated[int, Field(ge=1, le=5)] = 1

    def record(self) -> Tuning:
        return Tuning(
            name=self.name, sign=Sign(self.sign), cutter=self.cutter, material=self.material, times=self.times
        )


class MaterialRow(Row):
    """What sheets are made of."""

    name: Name
    cutting_force_n_per_mm2: Positive
    density_kg_per_m3: Positive
    elasticity_n_per_mm2: Positive | None = None
    source: str = "common practice, no source"

    def record(self) -> Material:
        return Material(
            name=self.name,
            cutting_force_n_per_mm2=float(self.cutting_force_n_per_mm2),
            density_kg_per_m3=float(self.density_kg_per_m3),
            elasticity_n_per_mm2=None if self.elasticity_n_per_mm2 is None else float(self.elasticity_n_per_mm2),
            source=self.source,
        )


class SheetRow(Row):
    """A kind of sheet as sold; `thinnest` and `thickest` are what its standard allows."""

    name: Name
    title: Annotated[str, Field(max_length=200)]
    material: Name
    nominal: Size
    along: Size
    across: Size
    grain: bool
    thinnest: Size | None = None
    thickest: Size | None = None
    source: str = "common practice, no source"

    def record(self) -> SheetGood:
        return SheetGood(
            name=self.name,
            title=self.title,
            material=self.material,
            nominal_mm=self.nominal.mm,
            sheet_along_mm=self.along.mm,
            sheet_across_mm=self.across.mm,
            has_grain=self.grain,
            thinnest_mm=self.thinnest.mm if self.thinnest else None,
            thickest_mm=self.thickest.mm if self.thickest else None,
            source=self.source,
        )


MEASURED_SHARE = 0.1
"""A measured diameter further than this share from the nominal one is a slip of the pen, not wear."""


def _two(lengths: list[Length]) -> tuple[float, float]:
    first, second = lengths
    return (first.mm, second.mm)


def _three(lengths: list[Length]) -> tuple[float, float, float]:
    first, second, third = lengths
    return (first.mm, second.mm, third.mm)
