"""A test piece: slots stepped about the measured thickness, and a square with a round hole.

What fitted says how much play a joint needs, what the square measures says how wide the cutter really cuts. The
arithmetic is in docs/coupon.md.
"""

from dataclasses import dataclass, replace

from rabbetry.errors import Fault, InputError, did_you_mean, shown
from rabbetry.geometry.curves import circle
from rabbetry.geometry.points import Point
from rabbetry.job.model import Grain, Job, Stock, Units
from rabbetry.panels.model import CutOut, Panel, Recess
from rabbetry.panels.shapes import Rect, notched_rectangle
from rabbetry.shop.model import Cutter
from rabbetry.units import MM_PER_INCH, LengthError, read_length, write_length

_STEPS = (-2, -1, 0, 1, 2, 3, 4)
_STEP_MM, _STEP_IN = 0.1, 0.004
_WIDTH_MM, _LAND_MM, _FIRST_LAND_MM = 100.0, 16.0, 40.0
"""Width of the slots' piece, wood between two slots, and the wide end from which slots are counted."""
_SLOT_DEPTH_MM = 6.0
SQUARE_MM, HOLE_MM = 100.0, 50.0
_MOST_OFF_MM = 0.6
"""A cutter off by more than this is another cutter, or the wrong thing was measured."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Coupon:
    """The job to build, its two panels, and the width of each slot in order from the wide end."""

    job: Job
    panels: tuple[Panel, ...]
    widths_mm: tuple[float, ...]


def plan_coupon(job: Job, stock_name: str, cutter_number: int) -> Coupon:
    """Return the coupon of a stock and a cutter. Raises InputError when the job has no such stock or cutter."""
    stock, cutter = _chosen(job, stock_name, cutter_number)
    step = _STEP_MM if job.units is Units.MM else _STEP_IN * MM_PER_INCH
    widths = _widths(stock, cutter, step, job)
    small = replace(
        job,
        name=f"{job.name}: coupon of {stock.name} with cutter {cutter.number}",
        shop=replace(job.shop, cutters=(cutter,)),
        stocks=(stock,),
        cutting=replace(job.cutting, profile_cutter=None),
        cabinets=(),
        parts=(),
        echoes=(),
        notes=(),
    )
    return Coupon(job=small, panels=(_slots(stock, widths, job), _square(stock)), widths_mm=widths)


def _chosen(job: Job, stock_name: str, cutter_number: int) -> tuple[Stock, Cutter]:
    stock = next((row for row in job.stocks if row.name == stock_name), None)
    cutter = next((row for row in job.shop.cutters if row.number == cutter_number), None)
    faults = []
    if stock is None:
        cure = did_you_mean(stock_name, [row.name for row in job.stocks])
        problem = "the job has no such stock"
        faults.append(Fault(file=job.file, place=f"stock {shown(stock_name)}", problem=problem, cure=cure))
    mills = ", ".join(str(row.number) for row in job.shop.cutters if not row.is_drill)
    if cutter is None or cutter.is_drill:
        problem = "is a drill, which cuts no slot" if cutter else "is not loaded for this job"
        faults.append(
            Fault(file=job.file, place=f"cutter {cutter_number}", problem=problem, cure=f"the mills are {mills}")
        )
    if stock is None or cutter is None or faults:
        raise InputError(*faults)
    return stock, cutter


def _widths(stock: Stock, cutter: Cutter, step_mm: float, job: Job) -> tuple[float, ...]:
    """Return the widths that the cutter can cut. Raises InputError when it is wider than all of them."""
    asked = [stock.thickness_mm + k * step_mm for k in _STEPS]
    widths = tuple(width for width in asked if width >= cutter.cut_diameter_mm)
    if not widths:
        units = str(job.units)
        problem = (
            f"cuts {_text(cutter.cut_diameter_mm, units)} wide, more than the widest slot of {_text(asked[-1], units)}"
        )
        cure = "name a narrower cutter"
        raise InputError(Fault(file=job.file, place=f"cutter {cutter.number}", problem=problem, cure=cure))
    return widths


def _slots(stock: Stock, widths_mm: tuple[float, ...], job: Job) -> Panel:
    recesses = []
    x = _FIRST_LAND_MM
    for number, width in enumerate(widths_mm, start=1):
        recesses.append(
            Recess(
                name=f"slot {number}, {write_length(width, str(job.units))}",
                kind="dado",
                outline=notched_rectangle(Rect(x, 0.0, x + width, _WIDTH_MM)),
                depth_mm=min(_SLOT_DEPTH_MM, stock.thickness_mm / 2),
            )
        )
        x += width + _LAND_MM
    return _panel("coupon slots", stock, x, _WIDTH_MM, tuple(recesses))


def _square(stock: Stock) -> Panel:
    middle = Point(SQUARE_MM / 2, SQUARE_MM / 2)
    hole = CutOut(name="round hole", outline=circle(middle, HOLE_MM / 2))
    return _panel("coupon square", stock, SQUARE_MM, SQUARE_MM, (hole,))


def _panel(name: str, stock: Stock, length_mm: float, width_mm: float, features: tuple[Recess | CutOut, ...]) -> Panel:
    return Panel(
        id=name,
        cabinet="",
        role=name,
        stock=stock.name,
        thickness_mm=stock.thickness_mm,
        length_mm=length_mm,
        width_mm=width_mm,
        outline=notched_rectangle(Rect(0.0, 0.0, length_mm, width_mm)),
        features=features,
        grain=Grain.FREE,
        place=None,
        face_up="better face",
    )


def reckon(
    job: Job, stock_name: str, cutter_number: int, *, fitted: str | None, square: str | None
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the sums, line by line, and the lines to put into the job, from what fitted and what was measured.

    `fitted` is the width written beside the slot that fitted, `square` the outside of the square. Raises InputError
    for values that are no lengths or cannot be meant.
    """
    stock, cutter = _chosen(job, stock_name, cutter_number)
    units = str(job.units)
    sums: list[str] = []
    lines: list[str] = []
    more_mm = 0.0
    if square is not None:
        measured = _measured(square, "--square", job, SQUARE_MM)
        more_mm = SQUARE_MM - measured
        sums.append(
            f"cutter {cutter.number} cuts {_text(cutter.cut_diameter_mm, units)} + ({_text(SQUARE_MM, units)} - "
            f"{_text(measured, units)}) = {_text(cutter.cut_diameter_mm + more_mm, units)} wide"
        )
        value = _bare(cutter.cut_diameter_mm + more_mm, units)
        lines += ["[[cutter]]", f"number = {cutter.number}", f"measured_diameter = {value}"]
    if fitted is not None:
        width = _measured(fitted, "--fitted", job, stock.thickness_mm)
        clearance = width + more_mm - stock.thickness_mm
        true = f"{_text(width, units)} + {_text(more_mm, units)}" if more_mm else _text(width, units)
        sums.append(
            f"a joint needs {true} - {_text(stock.thickness_mm, units)} = {_text(clearance, units)} of play in all"
        )
        if clearance < 0:
            problem = f"the play would be {_text(clearance, units)}: the piece would be thicker than its slot"
            cure = f"measure the thickness of {shown(stock.name)} again, where it was tried"
            raise InputError(Fault(file="command line", place="--fitted", problem=problem, cure=cure))
        lines += ["[construction]", f"fit_clearance = {_bare(clearance, units)}"]
    return tuple(sums), tuple(lines)


def _measured(text: str, option: str, job: Job, about_mm: float) -> float:
    try:
        value = read_length(text, str(job.units), above_mm=0.0, most_mm=10 * about_mm).mm
    except LengthError as error:
        raise InputError(Fault(file="command line", place=option, problem=error.problem, cure=error.cure)) from None
    if abs(value - about_mm) > _MOST_OFF_MM:
        units = str(job.units)
        problem = f"{_text(value, units)} is not near {_text(about_mm, units)}"
        cure = "give what is written beside the slot" if option == "--fitted" else "measure across the square's outside"
        raise InputError(Fault(file="command line", place=option, problem=problem, cure=cure))
    return value


def _text(mm: float, units: str) -> str:
    return write_length(mm, units)


def _bare(mm: float, units: str) -> str:
    """Return a length as a bare number of a job in those units."""
    return write_length(mm, units).removesuffix(f" {units}")
