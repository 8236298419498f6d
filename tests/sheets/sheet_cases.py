"""Jobs, stocks and panels for the tests of this folder."""

from rabbetry.geometry.curves import rectangle
from rabbetry.job.model import Cutting, Grain, Job, Stock, Units
from rabbetry.panels.model import Panel
from rabbetry.sheets.model import Nesting
from rabbetry.sheets.nest import nest
from rabbetry.shop.model import Clamp, Cutter, CutterKind, Machine, Shop

IN = 25.4
MILL = Cutter(
    number=1,
    name="1/4 in",
    kind=CutterKind.END_MILL,
    diameter_mm=6.35,
    flutes=2,
    flute_length_mm=25.4,
    stick_out_mm=60.0,
)


def stock_of(name: str = "birch", **changes: object) -> Stock:
    fields: dict[str, object] = {
        "name": name,
        "sheet": "birch",
        "material": "plywood",
        "nominal_mm": 18.0,
        "measured_mm": 17.8,
        "blank_x_mm": 1219.0,
        "blank_y_mm": 1219.0,
        "has_grain": True,
        "grain_along_x": True,
        "trim_mm": 10.0,
    }
    return Stock(**(fields | changes))  # type: ignore[arg-type]


def panel_of(name: str, length_mm: float, width_mm: float, grain: Grain = Grain.FREE, stock: str = "birch") -> Panel:
    return Panel(
        id=name,
        cabinet=name.split(maxsplit=1)[0],
        role="part",
        stock=stock,
        thickness_mm=17.8,
        length_mm=length_mm,
        width_mm=width_mm,
        outline=rectangle(0, 0, length_mm, width_mm),
        features=(),
        grain=grain,
        place=None,
    )


def job_of(*stocks: Stock, units: Units = Units.MM, clamps: tuple[Clamp, ...] = (), **machine: object) -> Job:
    fields: dict[str, object] = {
        "name": "test",
        "title": "test",
        "travel_min_mm": (0.0, 0.0, -80.0),
        "travel_max_mm": (1300.0, 1300.0, 0.0),
        "blank_origin_mm": (10.0, 10.0),
        "spoilboard_z_mm": -70.0,
        "bed_mm": (1250.0, 1250.0),
        "max_rate_mm_per_min": (5000.0, 5000.0, 1500.0),
        "acceleration_mm_per_s2": (300.0, 300.0, 200.0),
        "spindle_min_rpm": 8000.0,
        "spindle_max_rpm": 24000.0,
        "spindle_power_kw": 1.0,
        "spindle_by_hand": False,
        "clamps": clamps,
    }
    shop = Shop(
        machine=Machine(**(fields | machine)),  # type: ignore[arg-type]
        cutters=(MILL,),
        chip_loads=(),
        materials=(),
        sheet_goods=(),
    )
    return Job(
        name="test",
        file="test.toml",
        units=units,
        post="metric-plain",
        shop=shop,
        stocks=stocks or (stock_of(),),
        cutting=Cutting(),
        cabinets=(),
        parts=(),
    )


def nested(panels: list[Panel], *stocks: Stock, spacing_mm: float = 8.35, **job: object) -> Nesting:
    stocks = stocks or (stock_of(),)
    made = job_of(*stocks, **job)  # type: ignore[arg-type]
    return nest(panels, job=made, spacing_mm={stock.name: spacing_mm for stock in stocks})
