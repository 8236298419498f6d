"""A small shop and hand-made sheets for the tests of operations. Millimetres; made up."""

import dataclasses

from rabbetry.feeds.model import FeedChoice
from rabbetry.geometry.curves import Contour, rectangle
from rabbetry.geometry.points import Point
from rabbetry.job.model import Cutting, Grain
from rabbetry.operations.model import Operation, OperationsPlanned
from rabbetry.operations.plan import plan_operations
from rabbetry.panels.model import Bore, Feature, Panel, Recess
from rabbetry.sheets.model import Placement, Sheet
from rabbetry.shop.model import Cutter, CutterKind, Machine, Shop

INCH = 25.4
THICKNESS = 17.8

QUARTER = Cutter(
    number=1,
    name="quarter inch",
    kind=CutterKind.END_MILL,
    diameter_mm=6.35,
    flutes=2,
    flute_length_mm=25.4,
    stick_out_mm=35.0,
)
EIGHTH = Cutter(
    number=2,
    name="eighth inch",
    kind=CutterKind.END_MILL,
    diameter_mm=3.175,
    flutes=2,
    flute_length_mm=15.0,
    shank_diameter_mm=3.175,
)
HALF = Cutter(number=3, name="half inch", kind=CutterKind.END_MILL, diameter_mm=12.7, flutes=2, flute_length_mm=20.0)
DRILL = Cutter(
    number=5,
    name="5 mm drill",
    kind=CutterKind.DRILL,
    diameter_mm=5.0,
    flutes=2,
    flute_length_mm=30.0,
    shank_diameter_mm=5.0,
)

MACHINE = Machine(
    name="bench",
    title="Bench router",
    travel_min_mm=(0.0, 0.0, -100.0),
    travel_max_mm=(1300.0, 1300.0, 0.0),
    blank_origin_mm=(30.0, 30.0),
    spoilboard_z_mm=-90.0,
    bed_mm=(1230.0, 1240.0),
    max_rate_mm_per_min=(6000.0, 6000.0, 1500.0),
    acceleration_mm_per_s2=(500.0, 500.0, 300.0),
    spindle_min_rpm=8000.0,
    spindle_max_rpm=24000.0,
    spindle_power_kw=2.2,
    spindle_by_hand=False,
)


def feed_of(cutter: Cutter) -> FeedChoice:
    """A plain feed: the tests here are about what is cut, not how fast."""
    return FeedChoice(
        cutter=cutter.number,
        stock="birch 18",
        material="plywood",
        rpm=18000.0,
        dial="",
        feed_mm_per_min=3000.0,
        plunge_mm_per_min=1000.0,
        ramp_mm_per_min=1500.0,
        chip_load_mm_per_tooth=0.08,
        chart_low_mm_per_tooth=0.15,
        chart_high_mm_per_tooth=0.23,
        pass_mm=cutter.pass_limit_mm,
        engagement_mm=cutter.cut_diameter_mm,
        power_kw=0.1,
        surface_m_per_min=359.0,
        decided_by="chart",
    )


def shop_with(*cutters: Cutter, machine: Machine = MACHINE) -> Shop:
    ordered = tuple(sorted(cutters, key=lambda cutter: cutter.number))
    return Shop(machine=machine, cutters=ordered, chip_loads=(), materials=(), sheet_goods=())


def panel(
    name: str = "P1",
    length_mm: float = 400.0,
    width_mm: float = 300.0,
    *features: Feature,
    outline: Contour | None = None,
) -> Panel:
    return Panel(
        id=name,
        cabinet="B1",
        role="side",
        stock="birch 18",
        thickness_mm=THICKNESS,
        length_mm=length_mm,
        width_mm=width_mm,
        outline=outline or rectangle(0.0, 0.0, length_mm, width_mm),
        features=features,
        grain=Grain.ALONG,
        place=None,
    )


def recess(
    outline: Contour, *, name: str = "dado", kind: str = "dado", depth_mm: float = 6.0, **more: object
) -> Recess:
    made = Recess(name=name, kind=kind, outline=outline, depth_mm=depth_mm)
    return dataclasses.replace(made, **more)  # type: ignore[arg-type]


def bore(x: float, y: float, diameter_mm: float = 5.0, depth_mm: float = 12.0, *, through: bool = False) -> Bore:
    return Bore(
        name=f"pin {x:g}/{y:g}",
        purpose="shelf pin",
        centre=Point(x, y),
        diameter_mm=diameter_mm,
        depth_mm=depth_mm,
        through=through,
    )


def sheet_of(*placements: Placement, thickness_mm: float = THICKNESS) -> Sheet:
    return Sheet(
        id="birch-18-01",
        stock="birch 18",
        thickness_mm=thickness_mm,
        thickness_is_measured=True,
        blank_x_mm=1220.0,
        blank_y_mm=1220.0,
        grain_along_x=True,
        has_grain=True,
        trim_mm=10.0,
        placements=placements,
        offcuts=(),
    )


def at(part: Panel, x_mm: float = 50.0, y_mm: float = 60.0, rotation_deg: int = 0) -> Placement:
    return Placement(panel=part, x_mm=x_mm, y_mm=y_mm, rotation_deg=rotation_deg)


def plan(
    *placements: Placement,
    cutters: tuple[Cutter, ...] = (QUARTER,),
    machine: Machine = MACHINE,
    thickness_mm: float = THICKNESS,
    **cutting: object,
) -> OperationsPlanned:
    return plan_operations(
        sheet_of(*placements, thickness_mm=thickness_mm),
        shop=shop_with(*cutters, machine=machine),
        cutting=dataclasses.replace(Cutting(), **cutting),  # type: ignore[arg-type]
        feeds={cutter.number: feed_of(cutter) for cutter in cutters},
    )


def codes(planned: OperationsPlanned) -> list[str]:
    return [item.code for item in planned.findings]


def inner(planned: OperationsPlanned) -> list[Operation]:
    return [operation for operation in planned.plan.operations if operation.kind != "profile"]


def only(planned: OperationsPlanned) -> Operation:
    """The one inner operation of a plan."""
    operations = inner(planned)
    assert len(operations) == 1, [operation.name for operation in operations]
    return operations[0]
